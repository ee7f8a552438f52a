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
from ..trade.part import (
    ENDS,
    FACES,
    Box,
    Bridle,
    EdgeNote,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Stock,
    Tails,
    Taper,
    Tenon,
    Tongue,
    boxes,
)
from ..trade.voids import stands_at_an_end

ROUND = (Face.FACE_SIDE, Face.FACE_EDGE, Face.BACK, Face.FAR_EDGE)
"""The long surfaces, left to right, as a part that is as drawn is rolled over."""
LEFTWARDS = (Face.FACE_SIDE, Face.FAR_EDGE)
"""Where distances from the reference surface run right to left.  With x down and the surface towards us, "right" is
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
        return self.face in FACES

    @property
    def across(self) -> Length:
        return self.stock.width if self.wide else self.stock.thickness

    @property
    def deep(self) -> Length:
        return self.stock.thickness if self.wide else self.stock.width

    def flat(self, box: Box) -> Flat:
        a0, a1, n0, n1 = box[2:] if self.wide else box[4:] + box[2:4]
        if self.face in (Face.BACK, Face.FAR_EDGE):
            n0, n1 = self.deep - n1, self.deep - n0
        return Flat(box.x0, box.x1, a0, a1, n0, n1)


def stands(feature: Feature) -> bool:
    """Whether a feature is what is left standing at an end: the wood around it goes away."""
    return stands_at_an_end(feature)


def pocket(feature: Feature) -> bool:
    """Whether a feature is drawn on top of the surface, since its ends are round or nothing but it is cut away."""
    return isinstance(feature, Mortise | LooseTenon | Hole | HoleRow)


def blocks(feature: Feature, stock: Stock) -> tuple[Box, ...]:
    """The blocks of a feature that have their edges in the picture; none for what is only noted at an arris."""
    if isinstance(feature, EdgeNote):
        return ()
    if isinstance(feature, Pins):
        every = feature.boxes(stock) + feature.bottoms(stock)
    elif isinstance(feature, Tails):
        narrow = (tail[2:] for tail in feature.tails(stock))
        own = feature.box(stock)
        every = feature.boxes(stock) + tuple(own._replace(y0=y0, y1=y1) for y0, y1 in narrow)
    else:
        every = boxes(feature, stock)
    return tuple(clamped(box, stock) for box in every)


def runs_along(feature: Feature) -> bool:
    """Whether a feature runs with the grain, so that a drawing may be broken in the middle of it."""
    return (
        isinstance(feature, Groove)
        or (isinstance(feature, Rabbet) and feature.along not in ENDS)
        or (isinstance(feature, Tongue) and feature.face not in ENDS)
        or isinstance(feature, Taper)
    )


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
    worth[Face.FACE_EDGE] += 1
    left = max(range(4), key=lambda i: (worth[ROUND[i]] + worth[ROUND[(i + 1) % 4]], -i))
    return View(ROUND[left], stock), View(ROUND[(left + 1) % 4], stock)


def shows(features: Sequence[Feature], views: Sequence[View]) -> int:
    """How much some features show in some views."""
    return sum(_shows(feature, view.face) for feature in features for view in views)


def _shows(feature: Feature, face: Face) -> int:
    opposite = ROUND[(ROUND.index(face) + 2) % 4]
    match feature:
        case Tenon():
            return 2 if face in FACES else 1
        case Tails():
            return 6 if face in FACES else 0
        case Pins():
            return 7 if face is feature.into else 2 if face in FACES else 0
        case OpenMortise() | Bridle():
            return 5 if face not in FACES else 1
        case HalfLap():
            return 5 if face is feature.face else 2 if (face in FACES) != (feature.face in FACES) else 0
        case Taper():
            return 2 if face is feature.face else 5 if (face in FACES) != (feature.face in FACES) else 0
        case EdgeNote():
            return 2 if face in (feature.face, feature.along) else 0
        case LooseTenon() if feature.face in ENDS:
            return 2 if face in FACES else 1
        case Tongue():
            return 2 if face is feature.face or face in FACES else 0
        case Rabbet():
            return 5 if face is feature.face else 2 if face is feature.along else 0
        case Mortise() | Hole() | HoleRow() if not feature.depth and face is opposite:
            return 5 if feature.face is face else 3 if feature.face is opposite else 0
        case _:
            return 5 if face is feature.face else 0
