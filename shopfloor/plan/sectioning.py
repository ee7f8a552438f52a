"""Crosscut first: what is the most that each board can give if it is cut into sections, and each of them ripped?

A section is a board of its own, as long as it was cut.  What the strips of a section are worth is known for every
length at once (strips.py), so a knapsack of strips over the width answers for sections of every length, and a
knapsack of sections over the length for the board.  A board that is not crosscut first is one section.

Boards with defects are ripped first or, between what is cut around, cut into clear sections; the bound lets go of
spots.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from .case import Case, Whole
from .cutting import Lay, SectionLay
from .plots import Plot
from .ripping import Bed, Ripping, counted

__all__ = ["Sectioning"]


class Sectioning(Ripping):
    """The pricing for boards that may be crosscut into sections first."""

    def __init__(self, case: Case, plots: Sequence[Plot], *, loose: bool = False) -> None:
        super().__init__(case, plots, loose=loose)
        saw = case.saw
        shortest = max(saw.least_section, saw.least_strip) + saw.kerf
        self.shortest = max(case.along.part_at_least(shortest) if loose else case.along.part(shortest), 1)
        self.rows = [(case.across.room_at_most if loose else case.across.room)(plot.width + saw.kerf) for plot in plots]
        self._sections: dict[str, Whole] = {}
        self._along: dict[tuple[str, int], tuple[Whole, Whole, Whole]] = {}
        self._ripped: Whole = np.zeros(len(plots), dtype=np.int64)
        self.clear = [[(a, b) for a, b in _between(plot, not loose)] if plot.end > plot.start else [] for plot in plots]

    def fill(self, worth: Whole, demand: Whole, only: str | None = None) -> None:
        super().fill(worth, demand, only)
        self._sections, self._along = {}, {}

    def price(self, among: Collection[int] | None = None) -> Whole:
        """The most that each board can give, ripped first or cut into sections first."""
        among = range(len(self.plots)) if among is None else among
        ripped = super().price(among)
        self._ripped = ripped
        found = ripped.copy()
        for n in among:
            total = sum(int(self._lengthwise(n)[0][self._cells(b - a)]) for a, b in self.clear[n])
            found[n] = max(found[n], total)
        return found

    def _across(self, family: str) -> Whole:
        """What a section is worth: a row for each width in cells, a column for each length in cells."""
        if family not in self._sections:
            strips, _ = self.families[family]
            rows = max((self.rows[n] for n in range(len(self.plots)) if self.family[n] == family), default=0)
            tops = strips.tops
            table = np.zeros((rows + 1, self.room + 1), dtype=np.int64)
            for y in range(1, rows + 1):
                fits = int(np.searchsorted(strips.cells, y, side="right"))
                table[y] = table[y - 1]
                if fits:
                    np.maximum(table[y], (table[y - strips.cells[:fits]] + tops[:fits]).max(axis=0), out=table[y])
            self._sections[family] = table
        return self._sections[family]

    def _lengthwise(self, n: int) -> tuple[Whole, Whole, Whole]:
        """The best value of sections that are no longer together than x; the lengths at which a section gains."""
        key = (self.family[n], self.rows[n])
        if key not in self._along:
            worth = self._across(key[0])[key[1]].copy()
            shortest = self.shortest if not self.loose else 1
            worth[:shortest] = 0
            gains = np.flatnonzero(np.diff(worth) > 0) + 1
            own = worth[gains]
            table = np.zeros(self.room + 1, dtype=np.int64)
            for size, gain in zip(gains.tolist(), own.tolist(), strict=True):
                # Shorter sections together may give as much already; else this one is taken once, twice, as often as
                # it gains.
                better = gain > table[size]
                while better:
                    reached = table[:-size] + gain
                    better = bool((reached > table[size:]).any())
                    np.maximum(table[size:], reached, out=table[size:])
            self._along[key] = (table, gains, own)
        return self._along[key]

    def _lengths(self, n: int) -> list[tuple[int, int]]:
        """The sections that give what `price` said: where each begins, in nanometres, and its length in cells."""
        table, gains, own = self._lengthwise(n)
        found = []
        step = self.case.along.step
        for a, b in self.clear[n]:
            x, lengths = self._cells(b - a), []
            while x > 0 and table[x] > 0:
                if table[x] == table[x - 1]:
                    x -= 1
                    continue
                fits = gains <= x
                nth = int(np.flatnonzero(fits & (table[np.maximum(x - gains, 0)] + own == table[x]))[0])
                lengths.append(int(gains[nth]))
                x -= lengths[-1]
            at = a
            for cells in sorted(lengths, reverse=True):
                found.append((at, cells))
                at += cells * step
        return found

    def lay(self, n: int) -> Lay:
        """How the board n is cut for what `price` said."""
        whole = super().lay(n) if self._ripped[n] else Lay(())
        value = sum(int(self._lengthwise(n)[0][self._cells(b - a)]) for a, b in self.clear[n])
        if value <= self._ripped[n]:
            return whole
        sections: list[SectionLay] = []
        plenty = np.full(len(self.case.lots), np.iinfo(np.int64).max)
        for start, cells in self._lengths(n):
            sections += self._section(n, start, cells, plenty)
        return Lay(tuple(sections))

    def _section(self, n: int, start: int, cells: int, left: Whole) -> tuple[SectionLay, ...]:
        """A section ripped for the best, with what is still wanted; `left` is counted down."""
        strips, _ = self.families[self.family[n]]
        table, tops = self._across(self.family[n])[:, cells], strips.tops[:, cells]
        end = start + cells * self.case.along.step - self.case.saw.kerf
        bed = self._clear_bed(n, start, end)
        y, todo = self.rows[n], []
        while y > 0 and table[y] > 0:
            if table[y] == table[y - 1]:
                y -= 1
                continue
            fits = strips.cells <= y
            level = int(np.flatnonzero(fits & (table[np.maximum(y - strips.cells, 0)] + tops == table[y]))[0])
            todo.append((0, level, 0))
            y -= int(strips.cells[level])
        return self._laid(bed, iter(sorted(todo, key=lambda each: -each[1])), left).sections

    def proper(self, n: int, worth: Whole, demand: Whole) -> Lay:
        """Section by section, with what is wanted held over the whole board; or ripped first, if that is worth more."""
        ripped = super().proper(n, worth, demand)
        left, sections = demand.copy(), list[SectionLay]()
        for a, b in self.clear[n]:
            at = a
            while at < b:
                self.fill(worth, left)
                lengths = self._first_length(n, b - at)
                if not lengths:
                    break
                end = at + lengths * self.case.along.step - self.case.saw.kerf
                laid = self._ripped_section(n, at, end, worth, left)
                if not laid:
                    break
                sections += laid
                left = left - counted(Lay(tuple(laid)), len(left))
                at = laid[-1].end + self.case.saw.kerf
        crosscut = Lay(tuple(sections))
        values = [int(worth @ counted(each, len(demand))) for each in (ripped, crosscut)]
        return crosscut if values[1] > values[0] else ripped

    def _clear_bed(self, n: int, start: int, end: int) -> Bed:
        """A section without a defect; show parts in it still keep away from those beyond its ends."""
        plot = self.plots[n]
        near = frozenset(range(2 * len(plot.spots)))
        return Bed(plot, start, end, self.rows[n], [plot.stretches(near, start, end)], None)

    def _first_length(self, n: int, room: int) -> int:
        """The section worth most for its length, of those that make the best of this room; 0 if there is none."""
        table, gains, own = self._lengthwise(n)
        x, best = self._cells(room), (0.0, 0)
        while x > 0 and table[x] > 0:
            if table[x] == table[x - 1]:
                x -= 1
                continue
            nth = int(np.flatnonzero((gains <= x) & (table[np.maximum(x - gains, 0)] + own == table[x]))[0])
            best = max(best, (float(own[nth]) / float(gains[nth]), int(gains[nth])))
            x -= int(gains[nth])
        return best[1]

    def _ripped_section(self, n: int, start: int, end: int, worth: Whole, left: Whole) -> list[SectionLay]:
        """One section, ripped strip by strip with what is wanted held."""
        kept = self.beds[n]
        self.beds[n] = self._clear_bed(n, start, end)
        try:
            return list(super().proper(n, worth, left).sections)
        finally:
            self.beds[n] = kept


def _between(plot: Plot, careful: bool) -> list[tuple[int, int]]:
    """The stretches of the board without any defect over them; spots count only where the plan is to be cut."""
    met = frozenset(range(len(plot.spots))) if careful else frozenset[int]()
    return [(stretch.start, stretch.end) for stretch in plot.stretches(met)]
