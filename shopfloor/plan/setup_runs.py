"""From a list of changes to the runs of a day, what they cost, and the two orders that need no thought."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .setup_case import NONE, Case, bits, in_turn
from .setups import Count, Machine, Operation, Run, Seconds, Setting, Wishes

__all__ = ["counted", "part_by_part", "runs_of", "stack_by_stack", "wish_of"]


def runs_of(
    case: Case, operations: Sequence[Operation], steps: Sequence[int], *, part: bool = False
) -> tuple[Run, ...]:
    """The runs of these changes: after each all that can be done, machine by machine.  Operations in one run keep
    their parts together as far as they come together in `operations`.  With `part` they need not do all."""
    net = case.whole
    tested = {(each.machine, each.setting) for each in operations if each.test is not None}
    stands = list(case.mounted)
    done, ready = 0, net.first
    runs: list[Run] = []

    def work(spot: int, change: tuple[bool, bool, bool, Seconds]) -> None:
        nonlocal done, ready
        before = done
        done, ready = net.done(done, ready, net.at[spot])
        machine, setting = case.settings[spot]
        # Classes rise with what they wait for, so an operation never comes before one that it waits for.
        own = [operations[n].key for one in bits(done & ~before) for n in case.members[one]]
        runs.append(Run(machine, setting, tuple(own), *change))

    def others() -> None:
        while True:
            waits = [spot for spot in stands if spot != NONE and ready & net.at[spot]]
            if not waits:
                return
            work(max(waits, key=lambda spot: (ready & net.at[spot]).bit_count()), (False, False, False, 0))

    others()
    for spot in steps:
        at = case.spots[spot]
        if stands[at.machine] == spot or not ready & net.at[spot]:
            continue
        stood = stands[at.machine]
        cutter = stood == NONE or case.spots[stood].cutter != at.cutter
        stands[at.machine] = spot
        work(spot, (True, cutter, case.settings[spot] in tested, case.cost(stood, spot)))
        others()
    assert part or done == net.all, "an order of changes leaves work undone"
    return tuple(runs)


def counted(runs: Iterable[Run]) -> Count:
    changed = [run for run in runs if run.changed]
    return Count(len(changed), sum(run.cutter_changed for run in changed), sum(run.seconds for run in changed))


def wish_of(runs: Sequence[Run], by_key: dict[str, Operation], wishes: Wishes) -> int:
    """How little the wishes are met: seconds for cutters put in, and a share of when each stack is finished."""
    now = cutters = 0
    finished: dict[str, int] = {}
    for run in runs:
        now += run.seconds
        cutters += run.cutter_changed
        for key in run.operations:
            now += by_key[key].seconds
            finished[by_key[key].stack] = now
    return wishes.cutter * cutters + wishes.early * sum(finished.values()) // 100


def part_by_part(machines: Sequence[Machine], operations: Sequence[Operation]) -> Count:
    """Each part from first to last, as they come; what it waits for in another part is done on the way."""
    place: dict[str, int] = {}
    for each in operations:
        place.setdefault(each.part, len(place))
    return _walked(machines, operations, in_turn(sorted(operations, key=lambda each: place[each.part])))


def stack_by_stack(machines: Sequence[Machine], operations: Sequence[Operation]) -> Count:
    """Each stack by itself, what shares a setting together: always the setting next at which most can be done."""
    by_key = {each.key: each for each in operations}
    stacks: dict[str, list[str]] = {}
    for each in operations:
        stacks.setdefault(each.stack, []).append(each.key)
    done: set[str] = set()
    order: list[Operation] = []
    for own in stacks.values():
        todo: set[str] = set()
        reach = [key for key in own if key not in done]
        while reach:
            key = reach.pop()
            if key not in todo:
                todo.add(key)
                reach += [before for before in by_key[key].after if before not in done]
        waits = {key: sum(before in todo for before in by_key[key].after) for key in todo}
        following: dict[str, list[str]] = {}
        for key in todo:
            for before in by_key[key].after:
                following.setdefault(before, []).append(key)
        ready: dict[tuple[str, Setting], list[str]] = {}
        for key in sorted(todo):
            if not waits[key]:
                ready.setdefault((by_key[key].machine, by_key[key].setting), []).append(key)
        while ready:
            spot = max(ready, key=lambda spot: len(ready[spot]))
            queue = ready.pop(spot)
            for key in queue:
                order.append(by_key[key])
                for other in following.get(key, ()):
                    waits[other] -= 1
                    if not waits[other]:
                        at = (by_key[other].machine, by_key[other].setting)
                        (queue if at == spot else ready.setdefault(at, [])).append(other)
        done |= todo
    return _walked(machines, operations, order)


def _walked(machines: Sequence[Machine], operations: Sequence[Operation], order: Iterable[Operation]) -> Count:
    by_key = {machine.key: machine for machine in machines}
    stands: dict[str, Setting | None] = {machine.key: machine.mounted for machine in machines}
    tests: dict[tuple[str, Setting], Seconds] = {}
    for each in operations:
        spot = (each.machine, each.setting)
        tests[spot] = max(tests.get(spot, 0), each.test or 0)
    changes = cutters = seconds = 0
    for each in order:
        stood, machine = stands[each.machine], by_key[each.machine]
        if stood == each.setting:
            continue
        same = stood is not None and stood.cutter == each.setting.cutter
        slight = machine.change if machine.same_cutter is None else min(machine.change, machine.same_cutter)
        changes += 1
        cutters += not same
        seconds += (slight if same else machine.change) + tests[each.machine, each.setting]
        stands[each.machine] = each.setting
    return Count(changes, cutters, seconds)
