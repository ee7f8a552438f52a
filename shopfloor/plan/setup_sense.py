"""What of the operations can be put into an order at all, and a sentence for what cannot."""

from __future__ import annotations

from collections.abc import Sequence

from .setups import LeftOut, NoWork, Operation, Work

__all__ = ["sensible"]

NAMED = 8
"""So many operations of a circle are named; of a longer one, how many there are."""


def sensible(work: Work) -> tuple[tuple[Operation, ...], tuple[LeftOut, ...]]:
    """The operations still to do, none waiting for what is done, and what is left out.  Raises NoWork."""
    machines = {machine.key for machine in work.machines}
    if len(machines) < len(work.machines):
        raise NoWork("two machines have one key", do="Give each machine a key of its own.")
    for machine in work.machines:
        if machine.change < 0 or (machine.same_cutter or 0) < 0:
            raise NoWork("a change takes less than no time", where=machine.key, do="Say 0 or more.")
    by_key: dict[str, Operation] = {}
    for each in work.operations:
        if each.key in by_key:
            raise NoWork("two operations have this key", where=each.key, do="Give each operation a key of its own.")
        if each.machine not in machines:
            raise NoWork(f"there is no machine {each.machine}", where=each.key, do="Name a machine of the shop.")
        if each.seconds < 0 or (each.test or 0) < 0:
            raise NoWork("it takes less than no time", where=each.key, do="Say 0 or more.")
        by_key[each.key] = each
    done = work.begun.done
    todo = {
        key: tuple(dict.fromkeys(before for before in each.after if before not in done))
        for key, each in by_key.items()
        if key not in done
    }
    left: list[LeftOut] = []
    for key, after in todo.items():
        for before in after:
            if before not in todo:
                left.append(LeftOut((key,), f"{key} waits for {before}, which is not there."))
                break
    for circle in _circles(todo):
        names = [*circle[:NAMED], f"... ({len(circle)} in all)"] if len(circle) > NAMED else circle
        text = " waits for ".join([*names, circle[0]])
        left.append(LeftOut(tuple(circle), f"These wait for each other, so none can be first: {text}."))
    out = {key for each in left for key in each.operations}
    waiting: dict[str, list[str]] = {}
    for key, after in todo.items():
        for before in after:
            waiting.setdefault(before, []).append(key)
    behind, reach = [], list(out)
    while reach:
        for key in waiting.get(reach.pop(), ()):
            if key not in out:
                out.add(key)
                behind.append(key)
                reach.append(key)
    if behind:
        left.append(LeftOut(tuple(sorted(behind)), "These wait for operations that cannot be planned."))
    kept = tuple(
        Operation(o.key, o.machine, o.setting, todo[o.key], o.seconds, o.part, o.stack, o.test)
        for o in by_key.values()
        if o.key in todo and o.key not in out
    )
    return kept, tuple(left)


def _circles(after: dict[str, tuple[str, ...]]) -> list[Sequence[str]]:
    """A circle of each knot of operations that wait for each other, in the order of waiting."""
    state: dict[str, int] = {}
    found: list[Sequence[str]] = []
    caught: set[str] = set()
    for root in after:
        path: list[str] = []
        stack = [(root, 0)]
        while stack:
            key, n = stack.pop()
            if n == 0:
                if state.get(key):
                    continue
                state[key] = 1
                path.append(key)
            following = after[key]
            if n < len(following):
                stack.append((key, n + 1))
                each = following[n]
                if state.get(each) == 1:
                    circle = path[path.index(each) :]
                    if not caught & set(circle):
                        found.append(circle)
                    caught |= set(circle)
                elif each in after and not state.get(each):
                    stack.append((each, 0))
            else:
                state[key] = 2
                path.pop()
    return found
