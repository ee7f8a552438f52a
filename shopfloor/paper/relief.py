"""What is seen of the cuts on one side of a part, and what is hidden behind wood?

A relief knows how deep the wood lies behind the surface, cell by cell, after all square cuts; cuts that meet or run
into each other come out as they do in wood.  The grid is as fine as the cuts need: its lines are their edges.
Mortises and holes are not in it; they are drawn on top, since their ends are round.  Tails and tapers are in it as
blocks, and `leans` says where the corners of those really lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import ENDS, FACES, Box, EdgeNote, Face, Feature, Stock, Tails, Taper, boxes
from ..trade.voids import gone
from .views import Flat, View, clamped, pocket, stands

Corner = tuple[int, int]
"""A crossing of the grid: (row, column)."""
Grid = list[list[int]]


class Segment(NamedTuple):
    """A straight line on the grid, from (row, column) to (row, column)."""

    i0: int
    j0: int
    i1: int
    j1: int


def removed(feature: Feature, stock: Stock) -> list[Box]:
    """The blocks that go away for a feature that is cut square; nothing for what stands at an end."""
    if pocket(feature) or isinstance(feature, EdgeNote):
        return []
    return [clamped(box, stock) for box in gone(feature, stock)]


class Relief:
    """The surface of one view after all square cuts, and the surface at its back."""

    def __init__(self, view: View, features: Sequence[Feature]) -> None:
        stock = view.stock
        self.deep = view.deep
        self.standing = {
            feature.key: [view.flat(clamped(box, stock)) for box in boxes(feature, stock)]
            for feature in features
            if stands(feature)
        }
        self.cuts = {
            feature.key: [view.flat(box) for box in away] for feature in features if (away := removed(feature, stock))
        }
        cuts = [flat for flats in self.cuts.values() for flat in flats]
        every = [*cuts, *(flat for flats in self.standing.values() for flat in flats)]
        self.xs = sorted({0, stock.length, *(x for flat in every for x in flat[:2])})
        self.across = sorted({0, view.across, *(a for flat in every for a in flat[2:4])})
        self._row = {x: i for i, x in enumerate(self.xs)}
        self._column = {a: j for j, a in enumerate(self.across)}
        ends: dict[Face, list[Flat]] = {end: [] for end in ENDS}
        for feature in features:
            if feature.key in self.standing:
                ends[feature.face].extend(self.standing[feature.key])
        self.depth = self._grid(cuts, list(ends.values()))
        self._behind = self._grid(
            [self._from_behind(flat) for flat in cuts],
            [[self._from_behind(flat) for flat in flats] for flats in ends.values()],
        )
        self.leans: dict[Corner, Length] = {}
        for feature in features:
            if isinstance(feature, Tails) and view.wide:
                self._lean_tails(feature, stock)
            elif isinstance(feature, Taper) and (feature.face in FACES) != view.wide:
                self._lean_taper(feature, stock)

    def _lean_tails(self, feature: Tails, stock: Stock) -> None:
        """The sides of tails run in towards the baseline."""
        tip, base = (0, feature.length) if feature.face is Face.DATUM_END else (stock.length, feature.shoulder(stock))
        for tail in feature.tails(stock):
            for wide, narrow in ((tail.start, tail.base_start), (tail.end, tail.base_end)):
                for x in self.xs:
                    if min(tip, base) <= x <= max(tip, base):
                        a = wide + round(Fraction((narrow - wide) * (x - tip), base - tip))
                        self.leans[self._row[x], self._column[wide]] = a

    def _lean_taper(self, feature: Taper, stock: Stock) -> None:
        """The surface of a taper starts where the part is still whole."""
        near = feature.face in (Face.FACE_SIDE, Face.FACE_EDGE)
        whole = self.across[-1]
        column = self._column[feature.depth if near else whole - feature.depth]
        low, high = feature.span(stock)
        for x in self.xs:
            if low <= x <= high:
                taken = feature.taken(x, stock)
                self.leans[self._row[x], column] = taken if near else whole - taken

    def corner(self, i: int, j: int) -> tuple[Length, Length]:
        """Where a crossing of the grid really lies: along the part, and across it."""
        return self.xs[i], self.leans.get((i, j), self.across[j])

    def _from_behind(self, flat: Flat) -> Flat:
        return flat._replace(near=self.deep - flat.far, far=self.deep - flat.near)

    def _grid(self, cuts: Sequence[Flat], ends: Sequence[Sequence[Flat]]) -> Grid:
        columns = len(self.across) - 1
        depth = [[0] * columns for _ in self.xs[1:]]
        for tenons in ends:
            # Everything goes as far as the deepest shoulder, but for what stands there.
            rows = [self._row[x] for flat in tenons for x in flat[:2]]
            for i in range(min(rows, default=0), max(rows, default=0)):
                here = [flat for flat in tenons if flat.x0 <= self.xs[i] < flat.x1]
                depth[i] = [
                    min((flat.near for flat in here if flat.a0 <= a < flat.a1), default=self.deep)
                    for a in self.across[:-1]
                ]
        for flat in sorted(cuts, key=lambda cut: cut.near):
            if flat.near >= self.deep:
                continue
            for row in depth[self._row[flat.x0] : self._row[flat.x1]]:
                for j in range(self._column[flat.a0], self._column[flat.a1]):
                    if flat.near <= row[j] < flat.far:
                        row[j] = flat.far
        return depth

    def wood(self) -> list[list[Corner]]:
        """The outline of what is wood."""
        return loops([[depth < self.deep for depth in row] for row in self.depth])

    def gone(self) -> list[list[Corner]]:
        """The outline of what was taken off the outline: notches and openings, through which one looks."""
        if all(depth < self.deep for row in self.depth for depth in row):
            return []
        return loops([[depth >= self.deep for depth in row] for row in self.depth])

    def lower(self) -> list[list[Corner]]:
        """The outline of what lies lower than the surface, without being gone."""
        return loops([[0 < depth < self.deep for depth in row] for row in self.depth])

    def edges(self, key: str) -> tuple[list[Segment], list[Segment]]:
        """The lines of one feature: those that are seen, and those that are hidden behind wood.

        An edge on the outside of the part is left to the outline; one that a deeper cut took away is none any more.
        """
        seen: list[Segment] = []
        hidden: list[Segment] = []
        for flat in self.cuts.get(key, self.standing.get(key, [])):
            inner = flat.near > 0 and flat.far < self.deep and key not in self.standing
            i0, i1, j0, j1 = self._row[flat.x0], self._row[flat.x1], self._column[flat.a0], self._column[flat.a1]
            sides = [
                (Segment(i, j, i, j + 1), (inside, j), (2 * i - 1 - inside, j))
                for i, inside in ((i0, i0), (i1, i1 - 1))
                if 0 < i < len(self.xs) - 1
                for j in range(j0, j1)
            ] + [
                (Segment(i, j, i + 1, j), (i, inside), (i, 2 * j - 1 - inside))
                for j, inside in ((j0, j0), (j1, j1 - 1))
                if 0 < j < len(self.across) - 1
                for i in range(i0, i1)
            ]
            for segment, (i, j), (k, m) in sides:
                if self.depth[i][j] != self.depth[k][m]:
                    _add(seen, segment)
                elif self.depth[i][j] < (flat.far if inner else self.deep) and (
                    inner or self._behind[i][j] != self._behind[k][m]
                ):
                    _add(hidden, segment)
        # A tongue has a step on either side of it, and both show the same line.
        return list(dict.fromkeys(seen)), [segment for segment in dict.fromkeys(hidden) if segment not in seen]


def _add(lines: list[Segment], new: Segment) -> None:
    """Add a segment, lengthening the last one if it goes on in its direction."""
    if lines:
        last = lines[-1]
        if (last.i1, last.j1) == (new.i0, new.j0) and (last.i0 == new.i1 or last.j0 == new.j1):
            lines[-1] = Segment(last.i0, last.j0, new.i1, new.j1)
            return
    lines.append(new)


def loops(cells: Sequence[Sequence[bool]]) -> list[list[Corner]]:
    """The outlines round the cells that are set: clockwise, the other way in holes.

    >>> loops([[True, True], [True, False]])
    [[(0, 0), (0, 2), (1, 2), (1, 1), (2, 1), (2, 0)]]
    """
    rows, columns = len(cells), len(cells[0])
    if all(map(all, cells)):
        return [[(0, 0), (0, columns), (rows, columns), (rows, 0)]]
    goes: dict[Corner, list[Corner]] = {}
    for i, row in enumerate(cells):
        for j, here in enumerate(row):
            if not here:
                continue
            if i == 0 or not cells[i - 1][j]:
                goes.setdefault((i, j), []).append((i, j + 1))
            if j == columns - 1 or not row[j + 1]:
                goes.setdefault((i, j + 1), []).append((i + 1, j + 1))
            if i == rows - 1 or not cells[i + 1][j]:
                goes.setdefault((i + 1, j + 1), []).append((i + 1, j))
            if j == 0 or not row[j - 1]:
                goes.setdefault((i + 1, j), []).append((i, j))
    found = []
    while goes:
        start = at = next(iter(goes))
        loop: list[Corner] = []
        while True:
            there = goes[at].pop()
            if not goes[at]:
                del goes[at]
            if not (loop and _straight(loop[-1], at, there)):
                loop.append(at)
            at = there
            if at == start:
                break
        if len(loop) > 2 and _straight(loop[-1], loop[0], loop[1]):
            loop.pop(0)
        found.append(loop)
    return found


def _straight(a: Corner, b: Corner, c: Corner) -> bool:
    return a[0] == b[0] == c[0] or a[1] == b[1] == c[1]
