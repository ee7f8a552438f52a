"""A better order out of a good one: visits are moved, and what came too early or is not needed any more falls away.

An order is its list of spots.  Where nothing waits at a spot when its turn comes it is passed over; where work is left
at the end it is appended.  So any list gives an order.  One spot's work done in two visits of like size is further from
one visit than ninety and ten of a hundred: that is how orders of the same cost are told apart (`_worth`).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp
from random import Random

from .setup_beam import State, changed, start
from .setup_case import NONE, Case
from .setups import Seconds

__all__ = ["Improving"]

HOT, COLD = 0.12, 0.02
"""In changes: how much worse an order may be to be taken up with fair odds, at the beginning and at the end."""


class Improving:
    """Orders around one.  `best` is the best list so far, `spent` what it takes."""

    def __init__(self, case: Case, steps: Sequence[int], random: Random) -> None:
        self.case, self.net, self.random = case, case.small, random
        self.unit = max((spot.slight for spot in case.spots), default=1) or 1
        self.path = self._walk([start(case, self.net)], steps)
        self.best = self.path[-1].steps()
        self.spent: Seconds = self.path[-1].spent
        self.worth = self._worth(self.path)

    def _walk(self, path: list[State], steps: Sequence[int]) -> list[State]:
        case, net = self.case, self.net
        state, path = path[-1], list(path)
        for spot in steps:
            if state.ready & net.at[spot]:
                state = changed(case, net, state, spot)
                path.append(state)
        while state.done != net.all:
            waits = [spot for spot, at in enumerate(net.at) if at & state.ready]
            whole = [spot for spot in waits if not net.at[spot] & ~state.done & ~state.ready]
            state = changed(case, net, state, self.random.choice(whole or waits))
            path.append(state)
        return path

    def _worth(self, path: Sequence[State]) -> float:
        """In changes; less is better."""
        at = self.net.at
        stood: dict[int, int] = {spot: 0 for spot in self.case.mounted if spot != NONE}
        shares = 0.0
        visits = dict.fromkeys(stood, 0)
        # The work of a visit is what is done at the spot from this change to the next one to it.
        for state in path[1:]:
            spot = state.step
            assert state.before is not None
            done = (state.before.done & at[spot]).bit_count()
            if spot in stood:
                shares += ((done - stood[spot]) / at[spot].bit_count()) ** 2
            stood[spot] = done
            visits[spot] = visits.get(spot, 0) + 1
        for spot, done in stood.items():
            if at[spot]:
                shares += ((at[spot].bit_count() - done) / at[spot].bit_count()) ** 2
        return path[-1].spent / self.unit - 0.5 * shares

    def round(self, warmth: float) -> bool:
        """Try one change of the order; whether it is the best so far.  `warmth` goes from 1 to 0."""
        random = self.random
        steps = self.path[-1].steps()
        if len(steps) < 2:
            return False
        how = random.random()
        twice = [n for n, spot in enumerate(steps) if steps.count(spot) > 1]
        if how < 0.5 and twice:
            n = random.choice(twice)
        else:
            n = random.randrange(len(steps))
        spot = steps.pop(n)
        if how < 0.15:
            low = n
        else:
            reach = len(steps) if how > 0.7 else 12
            to = max(0, min(len(steps), n + random.randint(-reach, reach)))
            steps.insert(to, spot)
            low = min(n, to)
        path = self._walk(self.path[: low + 1], steps[low:])
        worth = self._worth(path)
        heat = COLD + (HOT - COLD) * warmth
        if worth <= self.worth or random.random() < exp((self.worth - worth) / heat):
            self.path, self.worth = path, worth
        if path[-1].spent < self.spent:
            self.spent, self.best = path[-1].spent, path[-1].steps()
            return True
        return False
