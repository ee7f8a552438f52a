"""Patterns of boards, and the linear programme over them: which boards, cut how, give all that is wanted for the
least area?

A column is a board and what is cut from it.  Rows: every lot as often as it is wanted, every board at most once.  A
unit that no column gives can be bought at a price far above its wood; where the programme buys some, the rack does
not suffice.

The bound is proven in whole numbers: whatever a unit is said to be worth, no plan costs less than all units are
worth, less what each board gives above its own cost at the very most.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd

import numpy as np

from .boards import Area
from .case import Case, Whole
from .cutting import Lay
from .exact import Witness
from .first import part_worth
from .master import Master
from .ripping import Ripping, counted

__all__ = ["COST", "Column", "Pool"]

COST = 10**9
"""The largest board costs about this much: areas in whole numbers small enough to be summed in 64 bits."""
DEAR = 6
"""A unit that is bought costs so many times its own wood, and ten times more where that is too cheap."""
SMOOTH = 0.4


@dataclass(frozen=True, eq=False)
class Column:
    """One way to cut one board."""

    board: int
    counts: Whole
    lay: Lay


class Pool:
    """All columns made so far, and what is proven."""

    def __init__(self, case: Case, pricing: Ripping, loose: Ripping | None = None) -> None:
        self.case, self.pricing, self.loose = case, pricing, loose
        areas = [plot.plank.area for plot in case.plots]
        # Where areas have a large common measure, as on an exact grid, costs are multiples of it, and lose nothing.
        self.measure, largest = gcd(*areas) if areas else 1, max(areas, default=1)
        times = COST * self.measure // largest
        self.unit = Fraction(self.measure, times) if times else Fraction(max(largest // COST, 1))
        self.cost: Whole = np.array([int(area / self.unit) for area in areas], dtype=np.int64)
        self.demand = case.demand
        self.columns: list[Column] = []
        self.seen: set[tuple[int, bytes]] = set()
        self.least = 0
        self.bought = 0.0
        self.witnesses: list[Witness] = []
        lots, plots = len(case.lots), len(case.plots)
        self.master = Master(
            [*((float(many), float("inf")) for many in self.demand), *((float("-inf"), 1.0) for _ in range(plots))]
        )
        density = max(
            (int(c) / max(plot.plank.area, 1) for c, plot in zip(self.cost, case.plots, strict=True)), default=1
        )
        kerf = case.saw.kerf
        self.dear = [
            DEAR * density * min(((s.length + kerf) * (s.width + kerf) for s in lot.shapes), default=1) / COST
            for lot in case.lots
        ]
        for n in range(lots):
            self.master.add(self.dear[n], {n: 1.0})
        self.first = lots
        self.worth: Whole = part_worth(case)

    def add(self, board: int, lay: Lay) -> bool:
        """A column more, unless it is there."""
        counts = counted(lay, len(self.case.lots))
        key = (board, counts.tobytes())
        if key in self.seen or not counts.any():
            return False
        self.seen.add(key)
        self.columns.append(Column(board, counts, lay))
        entries: dict[int, float] = {int(n): float(counts[n]) for n in np.flatnonzero(counts)}
        entries[len(self.case.lots) + board] = 1.0
        self.master.add(int(self.cost[board]) / COST, entries)
        return True

    def area(self, cost: int) -> Area:
        """The area that costs so much, or the least that costs more."""
        return ceil(cost * self.unit / self.measure) * self.measure

    def keep(self, laid: Mapping[int, Lay]) -> None:
        for board, lay in laid.items():
            self.add(board, lay)

    def proven(self, worth: Whole, most: Whole) -> int:
        """What everything costs at least if units are worth this much, and boards give this much at most."""
        return int(worth @ self.demand) + int(np.minimum(self.cost - most, 0).sum())

    def begin_anew(self, pricing: Ripping, loose: Ripping | None) -> None:
        """Go on with another rule: the columns stay, what was proven does not."""
        self.pricing, self.loose, self.least, self.witnesses = pricing, loose, 0, []

    def relax(self, stop: Callable[[], bool]) -> bool:
        """Make columns until none pays.  `least` is what is proven, `worth` what units are worth by it; False if it was
        stopped before."""
        lots, centre, weight = len(self.case.lots), self.worth, 0.0
        best = 0
        while True:
            value = self.master.solve()
            here = np.floor(np.maximum(self.master.duals[:lots], 0.0) * COST).astype(np.int64)
            boards = self.master.duals[lots:] * COST
            worth = (weight * centre + (1 - weight) * here).astype(np.int64)
            self.pricing.fill(worth, self.demand)
            most = self.pricing.price()
            least = self.proven(worth, most)
            if least > best:
                best, centre = least, worth
                self.worth = worth
            if self.loose is None:
                self.least = max(self.least, best)
                self.witnesses.append(Witness(worth, int(worth @ self.demand), most))
            if stop():
                return False
            if best >= value * COST * (1 - 1e-6) - 1:
                break
            added = False
            for n in np.flatnonzero(most > 0):
                lay = self.pricing.lay(int(n))
                counts = counted(lay, lots)
                if int(counts @ here) > self.cost[n] - boards[n] + COST * 1e-7:
                    added |= self.add(int(n), lay)
            if added:
                weight = SMOOTH
            elif weight:
                weight = 0.0
            else:
                break
        self.bought = float(self.master.values[:lots].sum())
        if self.loose is not None:
            self.loose.fill(self.worth, self.demand)
            self.least = max(self.least, self.proven(self.worth, self.loose.price()))
        return True

    def rules_out(self, boards: list[int], stop: Callable[[], bool]) -> Witness | None:
        """A proof that these boards cannot give everything, if the linear programme has one."""
        lots = len(self.case.lots)
        others = [n for n in range(len(self.case.plots)) if n not in boards]
        for n in others:
            self.master.require(lots + n, float("-inf"), 0.0)
        try:
            while not stop():
                self.master.solve()
                worth = np.floor(np.maximum(self.master.duals[:lots], 0.0) * COST).astype(np.int64)
                closed = self.master.duals[lots:] * COST
                self.pricing.fill(worth, self.demand)
                most = self.pricing.price()
                witness = Witness(worth, int(worth @ self.demand), most)
                self.witnesses.append(witness)
                if witness.slack(boards) < 0:
                    return witness
                added = False
                for n in boards:
                    lay = self.pricing.lay(n)
                    counts = counted(lay, lots)
                    if int(counts @ worth) > self.cost[n] - closed[n] + COST * 1e-7:
                        added |= self.add(n, lay)
                if not added:
                    return None
            return None
        finally:
            for n in others:
                self.master.require(lots + n, float("-inf"), 1.0)
