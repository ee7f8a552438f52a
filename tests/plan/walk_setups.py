"""An order walked through on its own: what waits for what, what stands on each machine, what changes take.

Nothing of the search is used here but the shape of what it takes and gives.
"""

from __future__ import annotations

from itertools import pairwise

from shopfloor.plan.setups import Order, Setting, Work


def walk(work: Work, order: Order) -> tuple[int, int, int]:
    """Changes, cutters put in, and seconds; every fault fails here."""
    operations = {each.key: each for each in work.operations}
    machines = {each.key: each for each in work.machines}
    stands: dict[str, Setting | None] = {each.key: each.mounted for each in work.machines}
    left = {key for each in order.left for key in each.operations}
    wanted = set(operations) - left - work.begun.done
    done = set(work.begun.done)
    changes = cutters = seconds = 0
    for run in order.runs:
        assert run.operations
        stood, takes = stands[run.machine], 0
        assert run.changed == (stood != run.setting)
        if run.changed:
            same = stood is not None and stood.cutter == run.setting.cutter
            machine = machines[run.machine]
            takes = machine.change
            if same and machine.same_cutter is not None:
                takes = min(takes, machine.same_cutter)
            changes, cutters = changes + 1, cutters + (not same)
            assert run.cutter_changed == (not same)
            stands[run.machine] = run.setting
        tests = [
            each.test
            for each in operations.values()
            if (each.machine, each.setting) == (run.machine, run.setting)
            and each.key in wanted
            and each.test is not None
        ]
        # A test piece comes before the first real cut of what was just set, and only there.
        assert run.test <= run.changed
        assert run.test or not run.changed or all(operations[key].test is None for key in run.operations)
        if run.changed and run.seconds != takes:
            assert run.test and run.seconds - takes in tests
        seconds += run.seconds
        for key in run.operations:
            each = operations[key]
            assert (each.machine, each.setting) == (run.machine, run.setting)
            assert key not in done, f"{key} twice"
            assert set(each.after) <= done, f"{key} too early"
            done.add(key)
    assert done == wanted | work.begun.done
    assert (changes, cutters, seconds) == (order.count.changes, order.count.cutters, order.count.seconds)
    assert all(a.machine != b.machine or a.setting != b.setting for a, b in pairwise(order.runs) if not b.changed)
    return changes, cutters, seconds
