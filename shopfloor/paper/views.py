"""Which sides of a part does a drawing show, and what is seen there?

Round a part, datum end up and as drawn, its four long surfaces follow each other to the right like the sides of a
carton: face side, face edge, back, far edge.  A drawing shows two neighbours, so that the arris they share lies
between them.  The opposite hand is the same picture reflected.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import Box, Dado, Face, Feature, Groove, Hole, Mortise, Rabbet, Stock, Tenon, Tongue

ENDS = (Face.DATUM_END, Face.FAR_END)
ROUND = (Face.FACE_SIDE, Face.FACE_EDGE, Face.BACK, Face.FAR_EDGE)
"""The long surfaces, left to right, as a part that is as drawn is rolled over."""
ACROSS_FLIPPED = {Face.FACE_SIDE: True, Face.FACE_EDGE: False, Face.BACK: False, Face.FAR_EDGE: True}
"""Whether distances from the reference surface run right to left.  With x down and the surface towards us, "right" is
-y on the face side, +z on the face edge, +y on the back and -z on the far edge, since x, y, z are right-handed."""


class Flat(NamedTuple):
    """A block of space as one view shows it: along the part, across it, and how deep it lies behind the surface."""

    x0: Length
    x1: Length
    a0: Length
    a1: Length
    near: Length
    far: Length


@dataclass(frozen=True)
class View:
    """One long surface of a part, looked at squarely."""

    face: Face
    stock: Stock

    @property
    def wide(self) -> bool:
        """Whether distances across run along the width, as on the face side and the back."""
        return self.face in (Face.FACE_SIDE, Face.BACK)

    @property
    def across(self) -> Length:
        return self.stock.width if self.wide else self.stock.thickness

    @property
    def deep(self) -> Length:
        return self.stock.thickness if self.wide else self.stock.width

    def flat(self, box: Box) -> Flat:
        a0, a1, n0, n1 = (
            (box.y0, box.y1, box.z0, box.z1) if self.wide else (box.z0, box.z1, box.y0, box.y1)
        )  # fmt: skip
        if self.face in (Face.BACK, Face.FAR_EDGE):
            n0, n1 = self.deep - n1, self.deep - n0
        return Flat(box.x0, box.x1, a0, a1, n0, n1)


def clamped(box: Box, stock: Stock) -> Box:
    """The part of a block that lies within the stock: what cannot be cut is not drawn."""
    limits = (stock.length, stock.length, stock.width, stock.width, stock.thickness, stock.thickness)
    return Box(*(min(max(place, 0), limit) for place, limit in zip(box, limits, strict=True)))


def pair(features: Sequence[Feature], stock: Stock) -> tuple[View, View]:
    """The two neighbouring surfaces that show most, left and right as drawn.

    A cut counts most on the surface that it is made in.  The reference surfaces count something by themselves, since
    they carry the face marks and everything across is measured from them.
    """
    worth = {face: sum(_shows(feature, face) for feature in features) for face in ROUND}
    worth[Face.FACE_SIDE] += 4
    worth[Face.FACE_EDGE] += 3
    left = max(range(4), key=lambda i: (worth[ROUND[i]] + worth[ROUND[(i + 1) % 4]], -i))
    return View(ROUND[left], stock), View(ROUND[(left + 1) % 4], stock)


def _shows(feature: Feature, face: Face) -> int:
    opposite = ROUND[(ROUND.index(face) + 2) % 4]
    match feature:
        case Tenon():
            return 2 if face in (Face.FACE_SIDE, Face.BACK) else 1
        case Tongue():
            return 2 if face is feature.face or face in (Face.FACE_SIDE, Face.BACK) else 0
        case Rabbet():
            return 5 if face is feature.face else 2 if face is feature.along else 0
        case Mortise() | Hole() if not feature.depth and face is opposite:
            return 5 if feature.face is face else 3 if feature.face is opposite else 0
        case _:
            return 5 if face is feature.face else 0


def removed(feature: Feature, stock: Stock) -> list[Box]:
    """The blocks that go away for a feature that is cut square; nothing for what stands at an end (see `standing`)."""
    box = clamped(feature.box(stock), stock)
    match feature:
        case Groove() | Dado() | Rabbet():
            return [box]
        case Tongue() if feature.face not in ENDS:
            before, behind = box._replace(z0=0, z1=box.z0), box._replace(z0=box.z1, z1=stock.thickness)
            return [one for one in (before, behind) if one.z1 > one.z0]
        case _:
            return []


def stands(feature: Feature) -> bool:
    """Whether a feature is what is left standing at an end: the wood around it goes away."""
    return isinstance(feature, Tenon | Tongue) and feature.face in ENDS


class Relief:
    """How deep the wood lies behind a view's surface, cell by cell, after all square cuts.

    The grid is as fine as the cuts need: its lines are their edges.  Mortises and holes are not in it; they are drawn
    on top, since their ends are round.
    """

    def __init__(self, view: View, features: Sequence[Feature]) -> None:
        stock = view.stock
        self.view = view
        self.cuts = {
            feature.key: [view.flat(box) for box in removed(feature, stock)]
            for feature in features
            if not isinstance(feature, Mortise | Hole) and not stands(feature)
        }
        self.left_standing = {
            feature.key: (feature.face, view.flat(clamped(feature.box(stock), stock)))
            for feature in features
            if stands(feature)
        }
        every = [flat for flats in self.cuts.values() for flat in flats]
        every += [flat for _, flat in self.left_standing.values()]
        self.xs = sorted({0, stock.length, *(x for flat in every for x in flat[:2])})
        self.across = sorted({0, view.across, *(a for flat in every for a in flat[2:4])})
        self.row = {x: i for i, x in enumerate(self.xs)}
        self.column = {a: j for j, a in enumerate(self.across)}
        self.depth = [[0] * (len(self.across) - 1) for _ in self.xs[1:]]
        for end in ENDS:
            self._shape_end([flat for face, flat in self.left_standing.values() if face is end])
        for flat in sorted((flat for flats in self.cuts.values() for flat in flats), key=lambda flat: flat.near):
            self._cut(flat)

    def _shape_end(self, tenons: Sequence[Flat]) -> None:
        """Everything at an end goes, as far as the deepest shoulder, but for what stands there."""
        if not tenons:
            return
        for i in range(self.row[min(flat.x0 for flat in tenons)], self.row[max(flat.x1 for flat in tenons)]):
            for j in range(len(self.across) - 1):
                here = [
                    flat.near
                    for flat in tenons
                    if flat.x0 <= self.xs[i] < flat.x1 and flat.a0 <= self.across[j] < flat.a1
                ]
                self.depth[i][j] = min(here, default=self.view.deep)

    def _cut(self, flat: Flat) -> None:
        for i in range(self.row[flat.x0], self.row[flat.x1]):
            row = self.depth[i]
            for j in range(self.column[flat.a0], self.column[flat.a1]):
                if flat.near <= row[j] < flat.far:
                    row[j] = flat.far

    def wood(self) -> list[list[tuple[int, int]]]:
        """The outline of what is wood, as loops of (row, column)."""
        deep = self.view.deep
        return loops([[depth < deep for depth in row] for row in self.depth])

    def lower(self) -> list[list[tuple[int, int]]]:
        """The outline of what lies lower than the surface, without being gone."""
        deep = self.view.deep
        return loops([[0 < depth < deep for depth in row] for row in self.depth])

    def edges(self, flat: Flat, *, standing: bool) -> tuple[list[Segment], list[Segment]]:
        """The lines of one block: those that are seen, and those that are hidden behind wood.

        An edge on the outside of the part is left to the outline; one that a deeper cut took away is none any more.
        """
        i0, i1 = self.row[flat.x0], self.row[flat.x1]
        j0, j1 = self.column[flat.a0], self.column[flat.a1]
        deep, depth = self.view.deep, self.depth
        seen: list[Segment] = []
        hidden: list[Segment] = []

        def edge(inside: int, outside: int, segment: Segment) -> None:
            if inside != outside:
                _add(seen, segment)
            elif inside < deep and (standing or inside < flat.far):
                _add(hidden, segment)

        for i, inner in ((i0, i0), (i1, i1 - 1)):
            if 0 < i < len(self.xs) - 1:
                outer = 2 * i - 1 - inner
                for j in range(j0, j1):
                    edge(depth[inner][j], depth[outer][j], Segment(i, j, i, j + 1))
        for j, inner in ((j0, j0), (j1, j1 - 1)):
            if 0 < j < len(self.across) - 1:
                outer = 2 * j - 1 - inner
                for i in range(i0, i1):
                    edge(depth[i][inner], depth[i][outer], Segment(i, j, i + 1, j))
        return seen, hidden


class Segment(NamedTuple):
    """A straight line on the grid, from (row, column) to (row, column)."""

    i0: int
    j0: int
    i1: int
    j1: int


def _add(lines: list[Segment], new: Segment) -> None:
    """Add a segment, lengthening the last one if it goes on in its direction."""
    if lines:
        last = lines[-1]
        if (last.i1, last.j1) == (new.i0, new.j0) and (last.i0 == new.i1 or last.j0 == new.j1):
            lines[-1] = Segment(last.i0, last.j0, new.i1, new.j1)
            return
    lines.append(new)


def loops(cells: Sequence[Sequence[bool]]) -> list[list[tuple[int, int]]]:
    """The outlines round the cells that are set, as corners (row, column): clockwise, the other way in holes."""
    rows, columns = len(cells), len(cells[0])
    if all(all(row) for row in cells):
        return [[(0, 0), (0, columns), (rows, columns), (rows, 0)]]
    goes: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for i, row in enumerate(cells):
        for j, wood in enumerate(row):
            if not wood:
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
        start = here = next(iter(goes))
        loop: list[tuple[int, int]] = []
        while True:
            ways = goes[here]
            there = ways.pop()
            if not ways:
                del goes[here]
            if not (loop and _straight(loop[-1], here, there)):
                loop.append(here)
            here = there
            if here == start:
                break
        if len(loop) > 2 and _straight(loop[-1], loop[0], loop[1]):
            loop.pop(0)
        found.append(loop)
    return found


def _straight(a: tuple[int, int], b: tuple[int, int], c: tuple[int, int]) -> bool:
    return (a[0] == b[0] == c[0]) or (a[1] == b[1] == c[1])
