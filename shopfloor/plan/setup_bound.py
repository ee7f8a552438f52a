"""What every order must spend at least on changes.

Each spot that has work must be visited once, and each cutter put in once.  That is the beginning.  Then: a set of spots
of which none is left before all its work is done may be at odds with itself, whatever is done about the others
(`possible`).  So of each such conflict one spot at least is visited again.  The least that can be spent to hit all
conflicts found so far is a bound; an answer that hits them all and is at odds still gives new conflicts.

All is whole numbers, and each conflict is proven by a search that has come to its end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

from .setup_beam import start
from .setup_case import NONE, Case, Net, bits, without
from .setups import Seconds

__all__ = ["Bounding", "hit", "possible"]

Over = Callable[[], bool]
GROUP = 4
"""Conflicts are sought among so few machines first, where it is quick."""
NODES = 200
"""Of one search whether a set of spots is possible: where it takes more, nothing is concluded."""


def possible(case: Case, single: int, nodes: int = NODES, net: Net | None = None) -> bool | None:
    """Whether there is an order in which no spot of `single` (a set) is left before all its work is done, the work of
    all other spots being done as soon as it can.  None where the search was given up.

    What is done follows from which spots were opened, so that a set of opened spots is tried once.  A spot that is
    finished at once when it is opened is opened before all others: its machine is as free as before.  A `net` that has
    the work of `single` at least spares making it out of the whole.
    """
    net = without(net or case.small, single)
    everything = net.all
    of = [0] * case.machines
    """For each machine, its spots in `single`."""
    for spot in bits(single):
        of[case.spots[spot].machine] |= 1 << spot
    mounted = sum(1 << spot for spot in case.mounted if spot != NONE and single >> spot & 1)
    work = [0] * case.machines
    for machine, spots in enumerate(of):
        for spot in bits(spots):
            work[machine] |= net.at[spot]

    def hopeless(done: int, ready: int, opened: int) -> bool:
        """Whether a spot that stands unfinished waits for work that cannot be done before it is left."""
        stand = everything
        shut: dict[int, int] = {}
        for machine, spots in enumerate(of):
            for spot in bits(spots & opened):
                if net.at[spot] & ~done:
                    shut[machine] = net.at[spot]
                    stand &= ~(work[machine] & ~net.at[spot])
        while shut:
            done, ready = net.done(done, ready, stand)
            finished = [machine for machine, at in shut.items() if not at & ~done]
            if not finished:
                return True
            for machine in finished:
                del shut[machine]
                stand |= work[machine]
        return False

    tried: set[int] = set()
    stand = 0
    for spot in bits(mounted):
        stand |= net.at[spot]
    stack = [(*net.done(0, net.first, stand), mounted, stand)]
    if hopeless(*stack[0][:3]):
        return False
    while stack:
        done, ready, opened, stand = stack.pop()
        if opened in tried:
            continue
        children: list[tuple[int, int, int, int]] = []
        again = True
        while again:
            if done == everything:
                return True
            again = False
            children = []
            for spots in of:
                if any(net.at[spot] & ~done for spot in bits(spots & opened)):
                    continue
                for spot in bits(spots & ~opened):
                    at = net.at[spot]
                    if not at & ready:
                        continue
                    child = (*net.done(done, ready, stand | at), opened | 1 << spot, stand | at)
                    if not at & ~child[0]:
                        done, ready, opened, stand = child
                        again = True
                        break
                    children.append(child)
                if again:
                    break
        if opened in tried:
            continue
        tried.add(opened)
        if len(tried) > nodes:
            return None
        good = [child for child in children if child[2] not in tried and not hopeless(*child[:3])]
        good.sort(key=lambda child: child[0].bit_count())
        stack.extend(good)
    return False


def hit(conflicts: Sequence[int], price: Sequence[Seconds], most: Seconds, over: Over = lambda: False) -> int | None:
    """A set that has something in common with every conflict and costs at most so much; None where there is none, or
    where time was up."""
    seen: set[tuple[int, int]] = set()

    def search(left: list[int], barred: int, most: Seconds, taken: int) -> int | None:
        """What is barred is not to be taken any more: it was tried."""
        if over():
            return None
        left = sorted((each & ~barred for each in left), key=int.bit_count)
        used, least = 0, 0
        for each in left:
            if not each:
                return None
            if not each & used:
                used |= each
                least += min(price[spot] for spot in bits(each))
                if least > most:
                    return None
        if not left:
            return taken
        key = (taken, barred)
        if key in seen:
            return None
        seen.add(key)
        inside = sorted(bits(left[0]), key=lambda spot: -sum(each >> spot & 1 for each in left) / (price[spot] or 0.1))
        for spot in inside:
            if price[spot] <= most:
                rest = [each for each in left if not each >> spot & 1]
                found = search(rest, barred, most - price[spot], taken | 1 << spot)
                if found is not None:
                    return found
            barred |= 1 << spot
        return None

    minimal = [each for each in set(conflicts) if not any(o != each and o & each == o for o in set(conflicts))]
    return search(minimal, 0, most, 0)


class Bounding:
    """The bound, better with each `round`.  `least` is what is proven, `again` the spots that the last answer visits
    again; with those free the others may be single (`open` says that nothing was given up)."""

    def __init__(self, case: Case) -> None:
        self.case = case
        begun = start(case, case.small)
        rest = case.small.all & ~begun.done
        spots = case.spots
        alone = [sum(o.cutter == spot.cutter for o in spots) == 1 for spot in spots]
        self.price = [spot.full if lone else spot.slight for spot, lone in zip(spots, alone, strict=True)]
        """What another visit takes at least: where no other spot has its cutter, the cutter is put in anew."""
        base, put_in = 0, {spots[each].cutter for each in case.mounted if each != NONE}
        self.single = 0
        for n, spot in enumerate(spots):
            if not case.small.at[n] & rest:
                continue
            if self.price[n]:
                self.single |= 1 << n
            if n not in case.mounted:
                base += spot.slight
                if spot.cutter not in put_in:
                    put_in.add(spot.cutter)
                    base += spot.full - spot.slight
        self.base = self.least = base
        self.of = [
            sum(1 << spot for spot in bits(self.single) if spots[spot].machine == machine)
            for machine in range(case.machines)
        ]
        self.conflicts: list[int] = []
        self.known: dict[int, bool | None] = {}
        """What was found to be possible, or not."""
        self.again = 0
        self.finished = False
        """Whether no more is to be got."""

    def round(self, over: Over, most: Seconds) -> None:
        """Hit all conflicts at the least cost, and look for those that are not hit.  `most` is what an order is known
        to take: the bound needs to go no further."""
        steps = sorted({self.price[spot] for spot in bits(self.single)})
        while True:
            if self.least >= most:
                self.finished = True
                return
            found = hit(self.conflicts, self.price, self.least - self.base, over)
            if over():
                return
            if found is not None:
                break
            self.least = self._next(steps)
        single, self.again, news = self.single & ~found, found, 0
        for size in (*range(1, GROUP + 1), self.case.machines):
            for group in combinations(self.of, min(size, self.case.machines)):
                while not over():
                    conflict = self._conflict(single & sum(group), over)
                    if conflict is None:
                        break
                    self.conflicts.append(conflict)
                    news += 1
                    single &= ~conflict
                    self.again |= conflict
            if news:
                return
        self.finished = not over()

    def _next(self, steps: list[Seconds]) -> Seconds:
        """The next sum of prices beyond what is proven not to do."""
        spare = self.least - self.base
        sums = 1
        for step in steps:
            width = step
            while width <= spare + steps[-1]:
                sums |= (sums << width) & ((1 << spare + steps[-1] + 1) - 1)
                width *= 2
        above = sums >> (spare + 1)
        return self.least + (above & -above).bit_length()

    def _conflict(self, single: int, over: Over) -> int | None:
        """A set of spots at odds, none of which can be spared; None where none was found."""
        net = without(self.case.small, single) if single not in self.known else self.case.small
        if single not in self.known:
            self.known[single] = possible(self.case, single, net=net)
        if self.known[single] is not False:
            return None
        spots = list(bits(single))
        chunk = max(1, len(spots) // 4)
        while True:
            n = 0
            while n < len(spots):
                fewer = spots[:n] + spots[n + chunk :]
                if fewer and possible(self.case, sum(1 << spot for spot in fewer), net=net) is False:
                    spots = fewer
                else:
                    n += chunk
                if over():
                    return sum(1 << spot for spot in spots)
            if chunk == 1:
                return sum(1 << spot for spot in spots)
            chunk = max(1, min(chunk // 2, len(spots) // 2))
