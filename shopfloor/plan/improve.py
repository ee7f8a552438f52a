"""Better and better: some boards are emptied, and what they gave is laid anew on them and on the boards still closed.

The boards that are filled worst are emptied most often.  What a unit is worth while it is laid anew is what the bound
says, a little shaken, so that each try comes out differently.  A try that costs no more is kept, and now and then one
that does.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence

import numpy as np

from .case import Case, Whole
from .cutting import Lay
from .first import filled
from .pool import Pool
from .ripping import Ripping, counted

__all__ = ["Improving"]

MANY = (2, 3, 3, 4, 4, 5, 6, 8)
SHAKES = (0.03, 0.06, 0.1, 0.2)
WARM = 0.0008
"""How much dearer a plan may get in one step, as a share, to be kept once in e times.  Source: measured,
tests/bench."""
ASTRAY = 0.01
SECTIONED = 0.3
MISSING = 4
"""A unit that is left over counts so many times its worth."""


class Improving:
    """A plan that is being improved; `best` is the best so far, `cost` what it costs in the pool's unit."""

    def __init__(self, case: Case, ways: Sequence[Ripping], pool: Pool, laid: dict[int, Lay], seed: int) -> None:
        self.case, self.ways, self.pool = case, ways, pool
        self.random = random.Random(seed)
        self.lots = len(case.lots)
        self._begin(laid)
        self.best, self.cost, self.missing = dict(self.laid), self.now, int(self.left.sum())

    def _begin(self, laid: dict[int, Lay]) -> None:
        self.laid = dict(laid)
        self.counts = {n: counted(lay, self.lots) for n, lay in laid.items()}
        self.left: Whole = self.case.demand - sum(self.counts.values(), np.zeros(self.lots, dtype=np.int64))
        self.now = self._cost(self.laid) + self._missed(self.left)

    def _cost(self, laid: dict[int, Lay]) -> int:
        return sum(int(self.pool.cost[n]) for n in laid)

    def _missed(self, left: Whole) -> int:
        dear = np.array(self.pool.dear) * MISSING
        return int(np.maximum(left, 0) @ (dear * 10**9).astype(np.int64))

    def offer(self, laid: dict[int, Lay]) -> None:
        """Take up another plan if it is better than the best."""
        kept = self.laid
        self._begin(laid)
        if not self._note():
            self._begin(kept)

    def shaken(self, shake: float) -> Whole:
        """What units are worth by the bound, each a little more or less."""
        worth = self.pool.worth * np.array([1 + self.random.gauss(0, shake) for _ in range(self.lots)])
        found: Whole = np.maximum(worth.astype(np.int64), 1)
        return found

    def _note(self) -> bool:
        if self.now < self.cost:
            self.best, self.cost, self.missing = dict(self.laid), self.now, int(self.left.sum())
            return True
        return False

    def round(self, stop: Callable[[], bool]) -> bool:
        """One try; True if the best plan got better."""
        rnd, pool = self.random, self.pool
        if self.now > self.cost * (1 + ASTRAY):
            self._begin(self.best)
        used = sorted(self.laid)
        if not used:
            return False
        full = {n: float(pool.worth @ self.counts[n]) / float(pool.cost[n] or 1) for n in used}
        rank = {n: full[n] + rnd.gauss(0, 0.05) for n in used}
        taken = sorted(used, key=lambda n: rank[n])[: rnd.choice(MANY)]
        wanted = self.left + sum((self.counts[n] for n in taken), np.zeros(self.lots, dtype=np.int64))
        free = taken + [n for n in range(len(self.case.plots)) if n not in self.laid]
        shake = rnd.choice(SHAKES)
        worth = self.shaken(shake)
        # Sections take long to work out: mostly boards are ripped first, which is allowed under both rules.
        way = self.ways[-1] if rnd.random() < SECTIONED else self.ways[0]
        laid = filled(self.case, way, worth, wanted, free, stop=stop)
        given = sum((counted(lay, self.lots) for lay in laid.values()), np.zeros(self.lots, dtype=np.int64))
        before = sum(int(pool.cost[n]) for n in taken) + self._missed(self.left)
        after = self._cost(laid) + self._missed(wanted - given)
        if after > before and rnd.random() >= math.exp((before - after) / (WARM * max(self.cost, 1))):
            return False
        for n in taken:
            del self.laid[n], self.counts[n]
        for n, lay in laid.items():
            self.laid[n], self.counts[n] = lay, counted(lay, self.lots)
        self.left = wanted - given
        self.now += after - before
        return self._note()
