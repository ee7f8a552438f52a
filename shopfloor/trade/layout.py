"""Where does each line go?  All marks along a part, as distances from its datum end, never as chains.

An error in the length then lands at the far end, where nothing is measured from.
"""

from __future__ import annotations

from typing import NamedTuple

from .length import Length
from .part import Dado, Face, Feature, Groove, Hole, Line, Mortise, Rabbet, Stock, Tenon, Tongue

ENDS = (Face.DATUM_END, Face.FAR_END)


class Mark(NamedTuple):
    """A line to draw: `at` from the datum end, what it `says`, and the key of the feature it belongs to."""

    at: Length
    says: str
    feature: str


def marks(line: Line) -> tuple[Mark, ...]:
    """The marks of a line's parts, rising from the datum end; the ends themselves are no marks.

    An opposite hand has the same marks: reflection changes nothing along the length.
    """
    found = [mark for feature in line.features for mark in _marks_of(feature, line.stock)]
    inside = [mark for mark in found if 0 < mark.at < line.length]
    return tuple(sorted(inside, key=lambda mark: mark.at))


def _marks_of(feature: Feature, stock: Stock) -> list[Mark]:
    box = feature.box(stock)
    key, kind = feature.key, feature.kind
    match feature:
        case Hole():
            return [Mark(feature.start, "hole, its middle", key)]
        case Tenon() | Tongue() if feature.face in ENDS:
            return [Mark(box.x1 if feature.face is Face.DATUM_END else box.x0, "shoulder", key)]
        case Rabbet() if feature.along in ENDS:
            return [Mark(box.x1 if feature.along is Face.DATUM_END else box.x0, "rabbet, its edge", key)]
        case Mortise() | Dado() | Groove() | Rabbet():
            return [Mark(box.x0, f"{kind} starts", key), Mark(box.x1, f"{kind} ends", key)]
        case _:
            return []
