"""Orders of changes step by step, the best few of each number of steps kept.

A step changes one machine to a setting at which something waits to be done, and does all that can be done then.  What
is kept is ranked by what was spent and what is sure to come: a change for each spot that has work left and does not
stand.  Spots that are `single` must not be left before all their work is done: that narrows the search to orders that
a bound thinks possible.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from heapq import nsmallest

from .setup_case import NONE, Case, Net
from .setups import Seconds

__all__ = ["Beam", "State", "replayed", "start"]

Over = Callable[[], bool]


@dataclass(slots=True)
class State:
    """What is done (set of classes), what could be done, what stands on each machine, what was spent, and how it came
    about."""

    done: int
    ready: int
    stands: tuple[int, ...]
    spent: Seconds
    step: int = NONE
    before: State | None = None

    def steps(self) -> list[int]:
        """The spots changed to, from the first on."""
        found = []
        state: State | None = self
        while state is not None and state.step != NONE:
            found.append(state.step)
            state = state.before
        return found[::-1]


def start(case: Case, net: Net) -> State:
    """Before any change: what can be done at what stands is done."""
    stand = 0
    for spot in case.mounted:
        if spot != NONE:
            stand |= net.at[spot]
    return State(*net.done(0, net.first, stand), case.mounted, 0)


def changed(case: Case, net: Net, state: State, spot: int) -> State:
    """After a change to a spot."""
    machine = case.spots[spot].machine
    stood = state.stands[machine]
    stands = (*state.stands[:machine], spot, *state.stands[machine + 1 :])
    stand = 0
    for each in stands:
        if each != NONE:
            stand |= net.at[each]
    done, ready = net.done(state.done, state.ready, stand)
    return State(done, ready, stands, state.spent + case.cost(stood, spot), spot, state)


def replayed(case: Case, net: Net, steps: Sequence[int]) -> State:
    """After these changes, those left out at which nothing waits to be done, or which stand already."""
    state = start(case, net)
    for spot in steps:
        if state.ready & net.at[spot]:
            state = changed(case, net, state, spot)
    return state


class Beam:
    """A search of one width.  `best` is the state at its end, None where `single` or `most` left no way."""

    def __init__(
        self, case: Case, net: Net, width: int, *, single: Sequence[int] = (), most: Seconds | None = None,
        over: Over = lambda: False,
    ) -> None:  # fmt: skip
        self.case, self.net, self.width, self.most = case, net, width, most
        self.single = frozenset(single)
        self.over = over
        self.unit = max((spot.slight for spot in case.spots), default=1) or 1
        self.whole = True
        """Whether nothing was thrown away for want of width: then no better order exists under `single` and `most`."""
        self.best = self._search(start(case, net))

    def _search(self, first: State) -> State | None:
        net = self.net
        everything = net.all
        level = [first]
        found: State | None = None
        while level:
            children: dict[tuple[int, tuple[int, ...]], tuple[float, State]] = {}
            for state in level:
                if state.done == everything:
                    if found is None or state.spent < found.spent:
                        found = state
                    continue
                if self.over():
                    self.whole = False
                    return found
                self._expand(state, children, found)
            if len(children) > self.width:
                self.whole = False
                level = [state for _, state in nsmallest(self.width, children.values(), key=lambda pair: pair[0])]
            else:
                level = [state for _, state in children.values()]
        return found

    def _expand(
        self, state: State, children: dict[tuple[int, tuple[int, ...]], tuple[float, State]], found: State | None
    ) -> None:
        case, net, spots = self.case, self.net, self.case.spots
        rest = net.all & ~state.done
        locked = 0
        for machine, spot in enumerate(state.stands):
            if spot in self.single and rest & net.at[spot]:
                locked |= 1 << machine
        # The work of a spot is done only while it stands, so that a change leaves the others' work as it is but for
        # what stands elsewhere.
        open_ = [spot for spot, at in enumerate(net.at) if at & rest]
        for spot in open_:
            if not state.ready & net.at[spot] or locked >> spots[spot].machine & 1:
                continue
            child = changed(case, net, state, spot)
            left = net.all & ~child.done
            stands = child.stands
            bound = child.spent
            for each in open_:
                if left & net.at[each]:
                    machine = spots[each].machine
                    if stands[machine] != each:
                        bound += spots[each].slight
            if (self.most is not None and bound > self.most) or (found is not None and bound >= found.spent):
                continue
            key = (child.done, stands)
            known = children.get(key)
            if known is not None and known[1].spent <= child.spent:
                continue
            children[key] = (bound + self.unit * 1e-4 * left.bit_count(), child)
