"""Operations as the search of the setup order sees them: classes of operations that are always done together.

Doing whatever can be done at the settings that stand costs no change and is never worse.  So two operations that want
the same setting after the same classes are done together, and are one class.  An operation that can be done no later
than another one that stays, and that nothing waits for, needs no thought at all: `Case.small` leaves it away, `whole`
has all.  Sets of classes are whole numbers, a bit each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .setups import Machine, Operation, Seconds, Setting

__all__ = ["Case", "Net", "Spot", "bits", "case_of", "without"]

NONE = -1
"""Nothing stands on a machine."""


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits that are set, rising.

    >>> list(bits(0b10110))
    [1, 2, 4]
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


@dataclass(frozen=True)
class Spot:
    """A setting of a machine: what a change to it costs where another cutter was in, and where its own was."""

    machine: int
    cutter: int
    full: Seconds
    slight: Seconds


@dataclass(frozen=True)
class Net:
    """Classes in an order in which each comes after those that it waits for."""

    spot: tuple[int, ...]
    before: tuple[int, ...]
    """For each class, the set of those it waits for."""
    after: tuple[tuple[int, ...], ...]
    """For each class, those that wait for it."""
    at: tuple[int, ...]
    """For each spot, the set of its classes."""
    first: int
    """Those that wait for nothing."""

    @property
    def all(self) -> int:
        return (1 << len(self.spot)) - 1

    def done(self, done: int, ready: int, stand: int) -> tuple[int, int]:
        """All done that can be done where the classes in `stand` have their setting: what is done, what could be."""
        before, after = self.before, self.after
        todo = ready & stand
        while todo:
            done |= todo
            ready ^= todo
            while todo:
                low = todo & -todo
                todo ^= low
                for each in after[low.bit_length() - 1]:
                    if not before[each] & ~done:
                        ready |= 1 << each
            todo = ready & stand
        return done, ready


@dataclass(frozen=True)
class Case:
    machines: int
    spots: tuple[Spot, ...]
    settings: tuple[tuple[str, Setting], ...]
    """What each spot is called."""
    mounted: tuple[int, ...]
    """For each machine, the spot that stands, or NONE."""
    whole: Net
    members: tuple[tuple[int, ...], ...]
    """For each class of `whole`, its operations by number."""
    small: Net

    def cost(self, stands: int, spot: int) -> Seconds:
        """Of a change from what stands (or NONE) to a spot of the same machine."""
        to = self.spots[spot]
        if stands == spot:
            return 0
        return to.slight if stands != NONE and self.spots[stands].cutter == to.cutter else to.full


def case_of(machines: Sequence[Machine], operations: Sequence[Operation]) -> Case:
    """The case of operations that wait for nothing but each other, in no circle."""
    number = {machine.key: n for n, machine in enumerate(machines)}
    cutters: dict[tuple[str, str], int] = {}
    spots: dict[tuple[str, Setting], int] = {}
    tests: dict[int, Seconds] = {}
    for machine in machines:
        if machine.mounted is not None:
            spots.setdefault((machine.key, machine.mounted), len(spots))
    for each in operations:
        spot = spots.setdefault((each.machine, each.setting), len(spots))
        tests[spot] = max(tests.get(spot, 0), each.test or 0)
    made = []
    for (key, setting), spot in spots.items():
        machine = machines[number[key]]
        slight = machine.change if machine.same_cutter is None else min(machine.change, machine.same_cutter)
        cutter = cutters.setdefault((key, setting.cutter), len(cutters))
        test = tests.get(spot, 0)
        made.append(Spot(number[key], cutter, machine.change + test, slight + test))
    whole, members = _classes(operations, spots)
    mounted = tuple(NONE if m.mounted is None else spots[m.key, m.mounted] for m in machines)
    return Case(len(machines), tuple(made), tuple(spots), mounted, whole, members, _small(whole, len(spots)))


def _classes(
    operations: Sequence[Operation], spots: dict[tuple[str, Setting], int]
) -> tuple[Net, tuple[tuple[int, ...], ...]]:
    of: dict[str, int] = {}
    classes: dict[tuple[int, int], int] = {}
    members: list[list[int]] = []
    by_key = {each.key: (n, each) for n, each in enumerate(operations)}
    for each in in_turn(operations):
        before = 0
        for key in each.after:
            before |= 1 << of[key]
        kind = (spots[each.machine, each.setting], before)
        one = classes.setdefault(kind, len(classes))
        of[each.key] = one
        if one == len(members):
            members.append([])
        members[one].append(by_key[each.key][0])
    return _net(list(classes), len(spots)), tuple(tuple(sorted(each)) for each in members)


def in_turn(operations: Sequence[Operation]) -> Iterator[Operation]:
    """Each after all that it waits for, otherwise as they come."""
    by_key = {each.key: each for each in operations}
    seen: set[str] = set()
    for root in operations:
        stack = [root]
        while stack:
            top = stack[-1]
            waits = [key for key in top.after if key not in seen]
            if waits and top.key not in seen:
                stack.append(by_key[waits[0]])
                continue
            stack.pop()
            if top.key not in seen:
                seen.add(top.key)
                yield top


def _net(kinds: Sequence[tuple[int, int]], spots: int) -> Net:
    after: list[list[int]] = [[] for _ in kinds]
    at = [0] * spots
    first = 0
    for n, (spot, before) in enumerate(kinds):
        at[spot] |= 1 << n
        first |= 0 if before else 1 << n
        for each in bits(before):
            after[each].append(n)
    return Net(
        tuple(spot for spot, _ in kinds),
        tuple(before for _, before in kinds),
        tuple(map(tuple, after)),
        tuple(at),
        first,
    )


def without(net: Net, spots: int) -> Net:
    """The net of the classes at `spots` (a set) alone, where all others are done as soon as they can be.

    What waits for one of the others waits for what that waits for; classes that are then alike become one.
    """
    kinds: dict[tuple[int, int], int] = {}
    above: list[int] = []
    """For each new class, all the new ones before it."""
    least: list[int] = []
    up = [0] * len(net.spot)
    """For each old class, the new ones that are done when it is."""
    for n, spot in enumerate(net.spot):
        before = 0
        for each in bits(net.before[n]):
            before |= up[each]
        up[n] = before
        if spots >> spot & 1:
            one = kinds.setdefault((spot, before), len(kinds))
            if one == len(above):
                above.append(before)
                least.append(before)
                for each in bits(before):
                    least[one] &= ~above[each]
            up[n] = before | 1 << one
    return _net([(spot, least[n]) for n, (spot, _) in enumerate(kinds)], len(net.at))


def _small(net: Net, spots: int) -> Net:
    """Without what is done no later than something that stays, whatever the order.

    Class a is done no later than b where both want the same setting and each that a waits for is done no later than
    some class that b waits for, or b itself.  (By induction along the order: when b is done the setting stands, and
    all that a waits for is done.)  What goes must have nothing staying that waits for it.
    """
    count = len(net.spot)
    above, no_later = [0] * count, [0] * count
    for n in range(count):
        above[n] = 1 << n
        for each in bits(net.before[n]):
            above[n] |= above[each]
    for a in range(count):
        waits = [no_later[each] for each in bits(net.before[a])]
        # The order of the classes is one of waiting, but b may come before a in it where a is no part of what b needs.
        no_later[a] = sum(1 << b for b in bits(net.at[net.spot[a]]) if all(up & above[b] for up in waits))
    stays = net.all
    for n in reversed(range(count)):
        if any(stays >> each & 1 for each in net.after[n]):
            continue
        if no_later[n] & stays & ~(1 << n):
            stays ^= 1 << n
    place = {old: new for new, old in enumerate(bits(stays))}
    kinds = [(net.spot[old], sum(1 << place[each] for each in bits(net.before[old]))) for old in place]
    return _net(kinds, spots)
