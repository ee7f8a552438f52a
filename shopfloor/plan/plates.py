"""What is the most that one plate can give?  Strips along its length, then pieces; a strip's pieces may be trimmed to
width.

Pieces have a worth, and each may be cut so many times.  Strips are made as they pay (column generation), which bounds
the worth from above.  Then all strips that any better plan could have are listed, by what they fall short of the
bound, and the best choice of them is proven (HiGHS, branch and bound).  A strip is listed as full as it can be: what
it gives beyond what is wanted counts nothing.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import highspy
import numpy as np

from .case import Whole
from .master import Master

__all__ = ["PlatePlan", "Wish", "best_plate"]

SCALE = 10**7
FEW_SECONDS = 2.0
TASTE = (0.3, 1.0, 1.0)
"""How much of the gap the strips listed may span, stage by stage: a taste of the best ones finds a good plan, all
prove it."""

Counts = tuple[tuple[int, int], ...]


class Wish(NamedTuple):
    """A piece: its size, how many are wanted at most, what one is worth."""

    length: int
    width: int
    most: int
    worth: int


@dataclass(frozen=True)
class PlatePlan:
    """Strips as (width, how often each wish lies in it), from the edge on; `most` is what no plan exceeds."""

    strips: tuple[tuple[int, Counts], ...]
    worth: int
    most: int


def best_plate(
    length: int, width: int, wishes: Sequence[Wish], *, kerf: int = 0, seconds: float = 10.0,
    clock: Callable[[], float] = time.monotonic, stop: Callable[[], bool] = lambda: False,
) -> PlatePlan:  # fmt: skip
    """The plan of the greatest worth; all sizes whole numbers of any unit, nothing is turned."""
    begun = clock()
    found = _Plate(length + kerf, width + kerf, wishes, kerf, lambda: seconds - (clock() - begun), stop)
    found.relax()
    found.prove()
    return found.plan()


class _Plate:
    def __init__(
        self, length: int, width: int, wishes: Sequence[Wish], kerf: int, left: Callable[[], float],
        stop: Callable[[], bool],
    ) -> None:  # fmt: skip
        self.length, self.width, self.left, self.stop = length, width, left, stop
        fits = [n for n, w in enumerate(wishes) if w.length + kerf <= length and w.width + kerf <= width and w.most > 0]
        self.number = sorted(fits, key=lambda n: (wishes[n].width, wishes[n].length))
        own = [wishes[n] for n in self.number]
        self.kerf = kerf
        self.sizes = [w.length + kerf for w in own]
        self.widths = [w.width + kerf for w in own]
        self.worth = [w.worth for w in own]
        self.wanted = [
            min(w.most, (length // size) * (width // wide))
            for w, size, wide in zip(own, self.sizes, self.widths, strict=True)
        ]
        self.levels = {wide: max(n for n, each in enumerate(self.widths) if each <= wide) for wide in self.widths}
        self.bound = math.inf
        self.value = 0
        self.most = sum(n * w for n, w in zip(self.wanted, self.worth, strict=True))
        self.chosen: list[tuple[int, Counts]] = []
        self.known: dict[tuple[int, Counts], None] = {}

    def relax(self) -> None:
        """The bound, and the strips that make it."""
        many = len(self.sizes)
        if not many:
            self.most = 0
            return
        self.master = Master([*((0.0, math.inf) for _ in range(many)), (-math.inf, float(self.width))])
        for n in range(many):
            self.master.add(-float(self.worth[n]), {n: -1.0}, 0.0, float(self.wanted[n]))
            self._add(self.widths[n], ((n, min(self.wanted[n], self.length // self.sizes[n])),))
        while not self.stop() and self.left() > 0:
            self.bound = -self.master.solve()
            duals = np.clip(self.master.duals[:many], 0, np.array(self.worth, dtype=float))
            self.price = [int(each) for each in np.floor(duals * SCALE)]
            self.toll = max(-float(self.master.duals[many]), 0.0)
            self._fill()
            paid = False
            for wide, last in self.levels.items():
                if self.table[self.ends[last + 1]][self.length] > (self.toll * wide + 1e-6) * SCALE:
                    counts = self._trace(self.ends[last + 1])
                    paid |= self._add(max(self.widths[n] for n, _ in counts), counts)
            if not paid:
                break
        self.most = min(self.most, self._proven())

    def _proven(self) -> int:
        """The bound in whole numbers: what is wanted at its worth less its price, and the width at the best price of
        any strip."""
        least = max(
            (-(-int(self.table[self.ends[last + 1]][self.length]) // wide) for wide, last in self.levels.items()),
            default=0,
        )
        wanted = sum(n * (w * SCALE - p) for n, w, p in zip(self.wanted, self.worth, self.price, strict=True))
        return (wanted + self.width * least) // SCALE

    def _add(self, wide: int, counts: Counts) -> bool:
        if (wide, counts) in self.known:
            return False
        self.known[wide, counts] = None
        self.master.add(0.0, {**{n: float(many) for n, many in counts}, len(self.sizes): float(wide)})
        return True

    def _fill(self) -> None:
        """The most that a strip of each length takes in at these prices, wish by wish, the narrow ones first."""
        self.table: list[Whole] = [np.zeros(self.length + 1, dtype=np.int64)]
        self.ends, self.items = [0], list[tuple[int, int]]()
        for n, size in enumerate(self.sizes):
            most, portion = min(self.wanted[n], self.length // size) if self.price[n] > 0 else 0, 1
            while most > 0:
                many = min(portion, most)
                row = self.table[-1].copy()
                np.maximum(
                    row[many * size :], self.table[-1][: -many * size] + many * self.price[n], out=row[many * size :]
                )
                self.table.append(row)
                self.items.append((n, many))
                most -= many
                portion *= 2
            self.ends.append(len(self.items))

    def _trace(self, row: int) -> Counts:
        room, counts = self.length, dict[int, int]()
        while row:
            if self.table[row][room] != self.table[row - 1][room]:
                n, many = self.items[row - 1]
                counts[n] = counts.get(n, 0) + many
                room -= many * self.sizes[n]
            row -= 1
        return tuple(sorted(counts.items()))

    def prove(self) -> None:
        """The best choice of strips, first of those at hand, then of all that could make a better plan."""
        if not self.sizes:
            return
        self._choose(list(self.known), FEW_SECONDS)
        for share in TASTE:
            if self.value >= self.most or self.stop() or self.left() <= 0:
                return
            goal = max(self.value + 1, math.ceil(self.bound - share * (self.bound - self.value)))
            listed = self._listed(goal)
            whole = share == 1.0 and goal == self.value + 1
            solved, most = self._choose(listed, self.left() if whole else min(FEW_SECONDS, self.left()))
            # Whatever is not listed cannot reach the goal.
            self.most = min(self.most, max(self.value, goal - 1, self.value if solved else most))
            if whole:
                return

    def _listed(self, goal: int) -> list[tuple[int, Counts]]:
        """All full strips that a plan worth `goal` could have: those that fall short of the bound by no more than it
        does."""
        short = (self.bound - goal) * SCALE + SCALE // 10**5
        found: list[tuple[int, Counts]] = []
        for wide, last in self.levels.items():
            first = self.widths.index(wide)
            counts = [0] * len(self.sizes)
            least = self.toll * wide * SCALE - short

            def go(n: int, room: int, value: int, own: bool) -> None:
                if (n < first and not own) or value + int(self.table[self.ends[n + 1]][room]) < least:  # noqa: B023
                    return
                if n < 0:
                    more = (k for k in range(last + 1) if self.sizes[k] <= room and counts[k] < self.wanted[k])  # noqa: B023
                    if next(more, None) is None:
                        found.append((wide, tuple((k, many) for k, many in enumerate(counts) if many)))  # noqa: B023
                    return
                size = self.sizes[n]
                for many in range(min(self.wanted[n], room // size), -1, -1):
                    counts[n] = many  # noqa: B023
                    go(n - 1, room - many * size, value + many * self.price[n], own or (many > 0 and n >= first))  # noqa: B023
                counts[n] = 0  # noqa: B023

            go(last, self.length, 0, False)
        return found

    def _choose(self, strips: list[tuple[int, Counts]], seconds: float) -> tuple[bool, int]:
        """The best choice of these strips becomes the plan, if it is better; whether it is proven, and what none
        exceeds."""
        if not strips:
            return True, 0
        many = len(self.sizes)
        solver = highspy.Highs()  # type: ignore[no-untyped-call]
        for option, value in (
            ("output_flag", False), ("time_limit", max(seconds, 0.1)), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.99),
        ):  # fmt: skip
            solver.setOptionValue(option, value)
        nothing = np.zeros(0, dtype=np.int32)
        for _ in range(many):
            solver.addRow(0.0, highspy.kHighsInf, 0, nothing, np.zeros(0))
        solver.addRow(-highspy.kHighsInf, float(self.width), 0, nothing, np.zeros(0))
        for n in range(many):
            solver.addCol(
                -float(self.worth[n]), 0.0, float(self.wanted[n]), 1, np.array([n], dtype=np.int32), np.array([-1.0])
            )
        for wide, counts in strips:
            index = np.array([*(n for n, _ in counts), many], dtype=np.int32)
            solver.addCol(
                0.0, 0.0, float(self.width // wide), len(index), index,
                np.array([*(float(each) for _, each in counts), float(wide)]),
            )  # fmt: skip
        columns = many + len(strips)
        kinds = np.array([highspy.HighsVarType.kInteger] * columns)
        solver.changeColsIntegrality(columns, np.arange(columns, dtype=np.int32), kinds)
        solver.run()
        solved = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        info = solver.getInfo()
        if info.primal_solution_status == 2:
            values = solver.getSolution().col_value[many:]
            self._take([strip for strip, times in zip(strips, values, strict=True) for _ in range(round(times))])
        most = math.floor(-info.mip_dual_bound + 1e-6) if math.isfinite(info.mip_dual_bound) else self.most
        return solved, most

    def _take(self, strips: list[tuple[int, Counts]]) -> None:
        """These strips as the plan, if they fit and are worth more: counted anew, whatever the solver said."""
        left, kept, worth = list(self.wanted), [], 0
        if sum(wide for wide, _ in strips) > self.width:
            return
        for wide, counts in strips:
            own = []
            for n, many in counts:
                taken = min(many, left[n])
                left[n] -= taken
                worth += taken * self.worth[n]
                if taken:
                    own.append((n, taken))
            kept.append((wide, tuple(own)))
        if worth > self.value:
            self.value, self.chosen = worth, kept

    def plan(self) -> PlatePlan:
        strips = tuple(
            (wide - self.kerf, tuple((self.number[n], many) for n, many in counts))
            for wide, counts in self.chosen
            if counts
        )
        return PlatePlan(strips, self.value, max(self.most, self.value))
