"""What does a cut look like where it is sawn through?  The sections of a part: a few, where depths matter.

A section has the surface that is cut into on top, as the part lies on the bench.  One across the part is looked at
towards the datum end, so that left and right are those of the view of that surface.  A cut across the grain is shown
lengthwise, a stretch of the part with the datum end to the left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import (
    ENDS,
    FACES,
    Box,
    Dado,
    EdgeNote,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    Line,
    LooseTenon,
    Mortise,
    Pins,
    Rabbet,
    Stock,
    Taper,
    Tongue,
)
from ..trade.surface import sunk
from ..trade.turn import face_up
from .cross_sizes import cross_sizes
from .relief import removed
from .views import Flat, View, blocks, clamped, pocket, runs_along, stands

MOST = 2
"""So many sections a drawing has at most: those of joints come first."""

RANK: tuple[tuple[type[Feature], ...], ...] = (
    (Mortise, LooseTenon),
    (Dado, Groove, Pins),
    (Rabbet, HalfLap),
    (Tongue,),
    (Hole, HoleRow),
)
AROUND = 1.2
"""How much of the part a lengthwise section shows on either side of the cut, in its depth there."""


class Measure(NamedTuple):
    """A distance down from the surface on top, from where to where, and the word for it."""

    top: Length
    foot: Length
    word: str


@dataclass(frozen=True)
class Section:
    """One section: the features that it stands for (the one sawn through is `cut`), and what is wood in it.

    `at` is where along the part it is taken, or None for a lengthwise one.  `across` and `down` are the lines of a
    grid, in nanometres: across from the reference surface, or along the part; down from the surface on top.  `wood`
    says of each cell, row by row, whether it is wood; `span` is the cut's own across.  `opens` says whether the part
    goes on to the left and to the right.
    """

    features: tuple[Feature, ...]
    cut: Feature
    face: Face
    at: Length | None
    across: tuple[Length, ...]
    down: tuple[Length, ...]
    wood: tuple[tuple[bool, ...], ...]
    span: tuple[Length, Length]
    measures: tuple[Measure, ...]
    opens: tuple[bool, bool]


class _Solid:
    """A part as one surface sees it: what went away, and what stands at its ends."""

    def __init__(self, face: Face, line: Line) -> None:
        self.view = View(face, line.stock)
        self.line = line
        self.away: list[Flat] = []
        self.tapers = [one for one in line.features if isinstance(one, Taper)]
        self.ends: dict[Face, list[Flat]] = {}
        for feature in line.features:
            if isinstance(feature, Taper | EdgeNote):
                continue
            if stands(feature):
                self.ends.setdefault(feature.face, []).extend(self._flats(blocks(feature, line.stock)))
            boxes = blocks(feature, line.stock) if pocket(feature) else removed(feature, line.stock)
            self.away.extend(self._flats(boxes))

    def _flats(self, boxes: Iterable[Box]) -> list[Flat]:
        return [self.view.flat(box) for box in boxes]

    def tapered(self, at: Length) -> list[Flat]:
        """What tapers have taken away at a place along the part."""
        stock: Stock = self.line.stock
        found = []
        for taper in self.tapers:
            taken = taper.taken(at, stock)
            if taken > 0:
                over = stock.width if taper.face in FACES else stock.thickness
                found.append(self.view.flat(clamped(sunk(taper.face, 0, stock.length, 0, over, taken, stock), stock)))
        return found

    def is_wood(self, x: float, a: float, n: float, away: Sequence[Flat]) -> bool:
        if any(one.x0 <= x < one.x1 and one.a0 <= a < one.a1 and one.near <= n < one.far for one in away):
            return False
        for standing in self.ends.values():
            if not min(one.x0 for one in standing) <= x < max(one.x1 for one in standing):
                continue
            here = [one for one in standing if one.x0 <= x < one.x1]
            if not any(one.a0 <= a < one.a1 and one.near <= n < one.far for one in here):
                return False
        return True


def sections(line: Line, own: Sequence[Feature]) -> list[Section]:
    """The sections through some of a line's features that tell something; the other features are there as they are."""
    found: list[tuple[int, tuple[Feature, ...], tuple[Feature, ...]]] = []
    for features, _ in cross_sizes(line, own):
        rank = next((rank for rank, kinds in enumerate(RANK) if isinstance(features[0], kinds)), None)
        shown = tuple(feature for feature in features if _tells(feature))
        if rank is not None and shown:
            found.append((rank, features, shown))
    found.sort(key=lambda one: one[0])
    return [_section(line, features, shown) for _, features, shown in found[:MOST]]


def _tells(feature: Feature) -> bool:
    """Whether a section shows more than the views do: a depth with wood beneath it."""
    match feature:
        case Mortise() | Hole() | HoleRow() | Pins():
            return feature.depth > 0
        case LooseTenon() | Tongue():
            return feature.face not in ENDS
        case _:
            return True


def _lengthwise(feature: Feature) -> bool:
    return isinstance(feature, Dado | HalfLap | Pins) or (isinstance(feature, Rabbet) and feature.along in ENDS)


def _section(line: Line, features: tuple[Feature, ...], shown: tuple[Feature, ...]) -> Section:
    """The section through one of those that can be `shown` of some features with the same sizes."""
    made: list[Section] = []
    solids: dict[Face, _Solid] = {}
    for feature in shown:
        up = face_up(feature)
        assert up is not None, f"a {feature.kind} at an end has no section"
        solid = solids.setdefault(up, _Solid(up, line))
        make = _along if _lengthwise(feature) else _across
        made.append(make(solid, features, feature, up))
    # Of those that share their sizes the one with least wood left beneath tells most.
    return min(made, key=lambda one: min((m.foot - m.top for m in one.measures if m.word == "left"), default=0))


def _own(solid: _Solid, feature: Feature) -> Flat:
    return solid.view.flat(blocks(feature, solid.line.stock)[0])


def _across(solid: _Solid, features: tuple[Feature, ...], cut: Feature, face: Face) -> Section:
    own = _own(solid, cut)
    at = _quiet(solid, own) if runs_along(cut) else (own.x0 + own.x1) // 2
    away = [one for one in solid.away if one.x0 <= at < one.x1] + solid.tapered(at)
    standing = [one for every in solid.ends.values() for one in every]
    near = [one for one in [*away, *standing, own] if one.x0 <= at < one.x1]
    across = sorted({0, solid.view.across, *(a for one in near for a in one[2:4])})
    down = sorted({0, solid.view.deep, *(n for one in near for n in one[4:6])})
    wood = [[solid.is_wood(at, (a + z) / 2, (m + n) / 2, away) for a, z in pairwise(across)] for m, n in pairwise(down)]
    return _made(features, cut, face, at, across, down, wood, (own.a0, own.a1), own, (False, False))


def _along(solid: _Solid, features: tuple[Feature, ...], cut: Feature, face: Face) -> Section:
    own, whole = _own(solid, cut), solid.line.length
    a = (own.a0 + own.a1) // 2
    beside = max(round(AROUND * solid.view.deep), (own.x1 - own.x0) // 2)
    start, end = max(0, own.x0 - beside), min(whole, own.x1 + beside)
    # A few millimetres at the end are not broken off: the end tells more.
    start, end = (0 if start < beside // 2 else start), (whole if whole - end < beside // 2 else end)
    away = [one for one in solid.away if one.a0 <= a < one.a1]
    standing = [one for every in solid.ends.values() for one in every]
    near = [one for one in [*away, *standing] if one.x0 < end and one.x1 > start]
    across = sorted({start, end, *(x for one in near for x in one[:2] if start < x < end), own.x0, own.x1})
    down = sorted({0, solid.view.deep, *(n for one in [*near, own] for n in one[4:6])})
    wood = [[solid.is_wood((x + z) / 2, a, (m + n) / 2, away) for x, z in pairwise(across)] for m, n in pairwise(down)]
    return _made(features, cut, face, None, across, down, wood, (own.x0, own.x1), own, (start > 0, end < whole))


def _quiet(solid: _Solid, own: Flat) -> Length:
    """The middle of the longest stretch of a cut along the grain where least else is cut."""
    every = [*solid.away, *(one for ends in solid.ends.values() for one in ends)]
    knots = sorted({own.x0, own.x1, *(x for one in every for x in one[:2] if own.x0 < x < own.x1)})
    stretches = [(sum(one.x0 <= x < one.x1 for one in every), x - z, (x + z) // 2) for x, z in pairwise(knots)]
    return min(stretches)[2]


def _made(
    features: tuple[Feature, ...],
    cut: Feature,
    face: Face,
    at: Length | None,
    across: Sequence[Length],
    down: Sequence[Length],
    wood: Sequence[Sequence[bool]],
    span: tuple[Length, Length],
    own: Flat,
    opens: tuple[bool, bool],
) -> Section:
    if isinstance(cut, Tongue):
        steps = [(0, own.near, "off"), (own.near, own.far, "thick"), (own.far, down[-1], "off")]
        measures = [Measure(*step) for step in steps if step[0] < step[1]]
    else:
        measures = [Measure(0, own.far, "deep")]
        low = _beneath(across, down, wood, span, own.far)
        if low > own.far:
            measures.append(Measure(own.far, low, "left"))
    rows = tuple(tuple(row) for row in wood)
    return Section(features, cut, face, at, tuple(across), tuple(down), rows, span, tuple(measures), opens)


def _beneath(
    across: Sequence[Length],
    down: Sequence[Length],
    wood: Sequence[Sequence[bool]],
    span: tuple[Length, Length],
    bottom: Length,
) -> Length:
    """How far down the wood beneath a cut goes, where it is thinnest."""
    first = down.index(bottom)
    lowest = down[-1]
    for j in range(across.index(span[0]), across.index(span[1])):
        row = first
        while row < len(wood) and wood[row][j]:
            row += 1
        lowest = min(lowest, down[row])
    return lowest
