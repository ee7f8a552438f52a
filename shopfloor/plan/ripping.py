"""Rip first: what is the most that each board can give, and how is it ripped for that?

A board is a knapsack of strips, and a strip's worth is known for every width (strips.py).  Where no spot has to be cut
around, a strip is worth the same wherever it lies, and all boards are worked out together.  A board with spots is
worked out from its reference edge on, strip by strip, since there it matters which spots a strip meets.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .case import Case, Whole
from .cutting import Lay, Run, SectionLay, StripLay
from .lots import Shape
from .plots import Plot, Stretch
from .strips import Strips

__all__ = ["Bed", "Ripping", "counted"]


def counted(lay: Lay, lots: int) -> Whole:
    """How many units of each lot lie there."""
    found = np.zeros(lots, dtype=np.int64)
    for shape in lay.shapes():
        found[shape.lot] += 1
    return found


@dataclass
class Bed:
    """A board, or a part of its length, and its strips: which spots a strip meets that begins in cell y, by width."""

    plot: Plot
    start: int
    end: int
    rows: int
    kinds: list[tuple[Stretch, ...]]
    met: Whole | None


class Ripping:
    """The pricing for boards that are ripped first, over their whole usable length.

    `loose`: for a bound; sizes are rounded the other way, and spots and clear faces are let go.
    """

    def __init__(self, case: Case, plots: Sequence[Plot], *, loose: bool = False) -> None:
        self.case, self.plots, self.loose = case, plots, loose
        kerf = case.saw.kerf
        size = case.along.room_at_most if loose else case.along.room
        self.room = max((size(max(plot.end - plot.start, 0) + kerf) for plot in plots), default=0)
        self.families: dict[str, tuple[Strips, Strips | None]] = {}
        for plot in plots:
            family = case.family(plot)
            if family not in self.families:
                shapes = case.shapes_for(plot)
                plain = [shape for shape in shapes if not case.lots[shape.lot].show]
                careful = not loose and len(plain) < len(shapes)
                self.families[family] = (self._strips(shapes), self._strips(plain) if careful else None)
        self.family = [case.family(plot) for plot in plots]
        self.beds = [self._bed(plot, plot.start, plot.end) for plot in plots]
        self._worths: list[Whole] = [np.zeros(1, dtype=np.int64)] * len(plots)

    def _strips(self, shapes: Sequence[Shape]) -> Strips:
        case = self.case
        return Strips(shapes, case.along, case.across, case.saw.kerf, self.room, loose=self.loose)

    def _bed(self, plot: Plot, start: int, end: int) -> Bed:
        across, kerf = self.case.across, self.case.saw.kerf
        rows = (across.room_at_most if self.loose else across.room)(plot.width + kerf)
        if max(end - start, 0) < self.case.saw.least_strip or end <= start:
            return Bed(plot, start, end, 0, [()], None)
        if self.loose or not plot.spots:
            return Bed(plot, start, end, rows, [plot.stretches(start=start, end=end)], None)
        strips = self.families[self.case.family(plot)][0]
        seen: dict[frozenset[int], int] = {}
        met = np.zeros((rows + 1, len(strips.widths)), dtype=np.int64)
        for y in range(rows + 1):
            for level, width in enumerate(strips.widths):
                met[y, level] = seen.setdefault(plot.meets(y * across.step, y * across.step + width), len(seen))
        return Bed(plot, start, end, rows, [plot.stretches(each, start, end) for each in seen], met)

    def fill(self, worth: Whole, demand: Whole, only: str | None = None) -> None:
        """Take up what units are worth and how many are wanted; for one family of boards only, if one is named."""
        for name, (strips, plain) in self.families.items():
            if only is None or name == only:
                strips.fill(worth, demand)
                if plain:
                    plain.fill(worth, demand)

    def _worth(self, family: str, kinds: list[tuple[Stretch, ...]]) -> Whole:
        """What a strip is worth: a row for each of these, a column for each width."""
        strips, plain = self.families[family]
        found = np.zeros((len(kinds), len(strips.widths)), dtype=np.int64)
        for row, stretches in enumerate(kinds):
            for stretch in stretches:
                found[row] += self._stretch_worth(strips, plain, stretch)
        return found

    def _cells(self, length: int) -> int:
        case = self.case
        size = case.along.room_at_most if self.loose else case.along.room
        return max(size(length + case.saw.kerf), 0) if length > 0 else 0

    def _stretch_worth(self, strips: Strips, plain: Strips | None, stretch: Stretch) -> Whole:
        whole = self._cells(stretch.end - stretch.start)
        if plain is None or (stretch.show_start, stretch.show_end) == (stretch.start, stretch.end):
            best: Whole = strips.best([whole])[0]
            return best
        return np.array([self._split(strips, plain, stretch, level)[0] for level in range(len(strips.widths))])

    def _split(self, strips: Strips, plain: Strips, stretch: Stretch, level: int) -> tuple[int, int, int, int]:
        """The best of a stretch where show parts keep away from the ends: its worth, the cells for others at its start,
        where the rest begins, and the cells of that rest (0: there is none, the first has it all)."""
        own = self._plain_level(plain, strips.widths[level])
        whole, step = self._cells(stretch.end - stretch.start), self.case.along.step
        first = plain.tops[own] if own is not None else np.zeros(whole + 1, dtype=np.int64)
        best = (int(first[whole]), whole, stretch.start, 0)
        if stretch.show_end > stretch.show_start:
            rest = strips.tops[level]
            for cells in sorted({0, *np.flatnonzero(np.diff(first[: whole + 1])).tolist()}):
                cells = cells + 1 if cells else 0
                begin = max(stretch.show_start, stretch.start + cells * step)
                room = self._cells(stretch.show_end - begin)
                if room <= 0:
                    break
                best = max(best, (int(first[cells] + rest[room]), cells, begin, room), key=lambda each: each[0])
        return best

    @staticmethod
    def _plain_level(plain: Strips, width: int) -> int | None:
        """The widest strip of the others that is no wider than this one."""
        own = int(np.searchsorted(np.array(plain.widths), width, side="right")) - 1
        return own if own >= 0 else None

    def price(self, among: Collection[int] | None = None) -> Whole:
        """The most that each board can give, as if what is wanted held in each strip by itself; 0 for boards that are
        not `among` those asked for."""
        among = range(len(self.plots)) if among is None else among
        found = np.zeros(len(self.plots), dtype=np.int64)
        for family, (strips, _) in self.families.items():
            own = [n for n in among if self.family[n] == family and self.beds[n].rows and self.beds[n].met is None]
            if own and len(strips.widths):
                worth = np.concatenate([self._worth(family, self.beds[n].kinds) for n in own])
                table = _fill_up(worth, strips.cells, max(self.beds[n].rows for n in own))
                for row, n in enumerate(own):
                    self._worths[n] = table[row]
                    found[n] = table[row, self.beds[n].rows]
        for n in among:
            bed, (strips, _) = self.beds[n], self.families[self.family[n]]
            if bed.rows and bed.met is not None and len(strips.widths):
                self._worths[n] = _from_edge(self._worth(self.family[n], bed.kinds), bed.met, strips.cells, bed.rows)
                found[n] = self._worths[n][0]
        return found

    def table(self, n: int) -> Whole:
        """The most that strips give that are together no wider than y, for each y in cells.  After `price`."""
        return self._worths[n]

    def lay(self, n: int) -> Lay:
        """How the board n is ripped for what `price` said: one strip may give again what another gives.  After
        `price`."""
        plenty = np.full(len(self.case.lots), np.iinfo(np.int64).max)
        return self._laid(self.beds[n], self._strips_of(n, self._worths[n]), plenty)

    def proper(self, n: int, worth: Whole, demand: Whole) -> Lay:
        """The same, with what is wanted held over the whole board: where a strip would give too much, the rest of the
        board is worked out anew.  The tables are another family's or another demand's after this."""
        bed, family = self.beds[n], self.family[n]
        strips, _ = self.families[family]
        left, laid, room, at = demand.copy(), list[StripLay](), bed.rows, 0
        while room > 0 and len(strips.widths):
            self.fill(worth, left, family)
            part = Bed(bed.plot, bed.start, bed.end, room, bed.kinds, bed.met)
            values = self._worth(family, bed.kinds)
            if bed.met is None:
                table = _fill_up(values, strips.cells, room)[0]
            else:
                table = _from_edge(values, bed.met, strips.cells, bed.rows)
            todo = self._chosen(part, strips, table, values, at)
            if not todo:
                break
            for nth, (y, level, kind) in enumerate(todo):
                runs = self._runs(family, level, bed.kinds[kind])
                need = Counter(shape.lot for run in runs for shape in run.shapes)
                if nth and any(many > left[lot] for lot, many in need.items()):
                    break
                strip = self._strip(bed, y, strips.widths[level], runs, left)
                laid += [strip] if strip.runs else []
                room -= int(strips.cells[level])
                at = y + int(strips.cells[level])
            if bed.met is not None:
                room = bed.rows - at
        return self._put(bed, laid)

    def _strips_of(self, n: int, table: Whole) -> Iterator[tuple[int, int, int]]:
        bed, (strips, _) = self.beds[n], self.families[self.family[n]]
        if bed.rows and len(strips.widths):
            yield from self._chosen(bed, strips, table, self._worth(self.family[n], bed.kinds), 0)

    def _chosen(self, bed: Bed, strips: Strips, table: Whole, values: Whole, at: int) -> list[tuple[int, int, int]]:
        """The strips that give what the table says: the cell where each begins, its width's number, what it meets."""
        found = []
        if bed.met is None:
            y = bed.rows
            while y > 0 and table[y] > 0:
                if table[y] == table[y - 1]:
                    y -= 1
                    continue
                fits = strips.cells <= y
                same = np.flatnonzero(fits & (table[np.maximum(y - strips.cells, 0)] + values[0] == table[y]))
                level = int(same[0])
                found.append((level, int(strips.cells[level])))
                y -= found[-1][1]
            found.sort(reverse=True)
            placed = []
            for level, cells in found:
                placed.append((at, level, 0))
                at += cells
            return placed
        total = len(table) - 1
        spots = []
        while at < total and table[at] > 0:
            if table[at] == table[at + 1]:
                at += 1
                continue
            ends = at + strips.cells
            fits = ends <= total
            own = values[bed.met[at], np.arange(len(strips.cells))]
            level = int(np.flatnonzero(fits & (table[np.minimum(ends, total)] + own == table[at]))[0])
            spots.append((at, level, int(bed.met[at, level])))
            at += int(strips.cells[level])
        return spots

    def _laid(self, bed: Bed, todo: Iterator[tuple[int, int, int]], left: Whole) -> Lay:
        strips, _ = self.families[self.case.family(bed.plot)]
        laid = []
        for y, level, kind in todo:
            runs = self._runs(self.case.family(bed.plot), level, bed.kinds[kind])
            laid.append(self._strip(bed, y, strips.widths[level], runs, left))
        return self._put(bed, [strip for strip in laid if strip.runs])

    def _runs(self, family: str, level: int, stretches: tuple[Stretch, ...]) -> list[Run]:
        strips, plain = self.families[family]
        runs = []
        for stretch in stretches:
            whole = self._cells(stretch.end - stretch.start)
            if plain is None or (stretch.show_start, stretch.show_end) == (stretch.start, stretch.end):
                runs.append(Run(stretch.start, tuple(strips.take(level, whole))))
                continue
            _, first, begin, rest = self._split(strips, plain, stretch, level)
            own = self._plain_level(plain, strips.widths[level])
            if own is not None and first:
                runs.append(Run(stretch.start, tuple(plain.take(own, first))))
            if rest:
                runs.append(Run(begin, tuple(strips.take(level, rest))))
        return runs

    def _strip(self, bed: Bed, y: int, width: int, runs: list[Run], left: Whole) -> StripLay:
        """The strip with what is still wanted of it, no wider than that needs.  `left` is counted down."""
        kept = []
        for run in runs:
            own = []
            for shape in sorted(run.shapes, key=lambda each: (-each.width, -each.length, each.lot)):
                if left[shape.lot] > 0:
                    left[shape.lot] -= 1
                    own.append(shape)
            if own:
                kept.append(Run(run.start, tuple(own)))
        width = max((shape.width for run in kept for shape in run.shapes), default=width)
        return StripLay(y * self.case.across.step, width, tuple(kept))

    def _put(self, bed: Bed, strips: list[StripLay]) -> Lay:
        """The strips where they lie in nanometres: one upon the other, unless spots say where."""
        if not strips:
            return Lay(())
        if bed.met is None:
            y, closer = 0, []
            for strip in sorted(strips, key=lambda each: -each.width):
                closer.append(StripLay(y, strip.width, strip.runs))
                y += strip.width + self.case.saw.kerf
            strips = closer
        whole = (bed.start, bed.end) == (bed.plot.start, bed.plot.end)
        start, end = (0, bed.plot.plank.length) if whole else (bed.start, bed.end)
        return Lay((SectionLay(start, end, tuple(strips)),))


def _fill_up(worth: Whole, cells: Whole, rows: int) -> Whole:
    """The best value of strips that are no wider together than y: a row for each board, a column for each y."""
    table = np.zeros((len(worth), rows + 1), dtype=np.int64)
    for y in range(1, rows + 1):
        table[:, y] = table[:, y - 1]
        fits = int(np.searchsorted(cells, y, side="right"))
        if fits:
            best = (table[:, y - cells[:fits]] + worth[:, :fits]).max(axis=1)
            np.maximum(table[:, y], best, out=table[:, y])
    return table


def _from_edge(worth: Whole, met: Whole, cells: Whole, rows: int) -> Whole:
    """The best value of strips from y on to the far edge, where their worth depends on where they lie."""
    table = np.zeros(rows + 1, dtype=np.int64)
    levels = np.arange(len(cells))
    for y in range(rows - 1, -1, -1):
        fits = int(np.searchsorted(cells, rows - y, side="right"))
        best = (table[y + cells[:fits]] + worth[met[y, :fits], levels[:fits]]).max() if fits else 0
        table[y] = max(table[y + 1], best)
    return table
