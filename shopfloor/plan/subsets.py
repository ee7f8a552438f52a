"""Which boards are opened?  Sets of boards that cannot hold everything are ruled out, the smallest first.

Whatever a unit is said to be worth, a set of boards holds no more than the sum of what each can give at most.  Every
worth that the linear programme went through says so about every set at once.  The smallest set that none of them
rules out is a bound; if a set is then proven to hold nothing better either, it is struck off, and the next one is.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .case import Whole

__all__ = ["MOST", "Subsets"]

MOST = 20
"""With more boards than this there are too many sets to list."""


class Subsets:
    """Sets of boards by what they cost, those between `least` and `most`, rising."""

    def __init__(self, cost: Whole, least: int, most: int) -> None:
        boards = len(cost)
        codes = np.arange(1 << boards, dtype=np.int64)
        total = np.zeros(1 << boards, dtype=np.int64)
        for n in range(boards):
            total += np.where(codes >> n & 1, cost[n], 0)
        kept = np.flatnonzero((total >= least) & (total <= most))
        kept = kept[np.argsort(total[kept], kind="stable")]
        self.codes, self.total = codes[kept], total[kept]
        self.boards = boards
        self.opened: NDArray[np.bool_] = (self.codes[:, None] >> np.arange(boards) & 1).astype(bool)

    def rule_out(self, needed: int, gives: Whole) -> int:
        """Strike off the sets whose boards give less than is needed; how many went."""
        holds = np.zeros(len(self.codes), dtype=np.int64)
        for n in range(self.boards):
            holds += np.where(self.opened[:, n], gives[n], 0)
        return self._keep(holds >= needed)

    def strike(self, nth: int) -> None:
        """This set holds no better plan."""
        kept = np.ones(len(self.codes), dtype=bool)
        kept[nth] = False
        self._keep(kept)

    def cap(self, most: int) -> None:
        """Plans that cost more than this are of no interest."""
        self._keep(self.total <= most)

    def _keep(self, kept: NDArray[np.bool_]) -> int:
        gone = int((~kept).sum())
        if gone:
            self.codes, self.total, self.opened = self.codes[kept], self.total[kept], self.opened[kept]
        return gone

    def __len__(self) -> int:
        return len(self.codes)

    def of(self, nth: int) -> list[int]:
        """The boards of a set."""
        return [n for n in range(self.boards) if self.opened[nth, n]]
