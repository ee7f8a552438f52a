"""Where does each line go?  All marks along a part, as distances from its datum end, never as chains.

An error in the length then lands at the far end, where nothing is measured from.  Marks across the part are in
across.py.
"""

from __future__ import annotations

from typing import NamedTuple

from .length import Length
from .part import (
    ENDS,
    Bridle,
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
    OpenMortise,
    Pins,
    Rabbet,
    Stock,
    Tails,
    Taper,
    Tenon,
    Tongue,
)

__all__ = ["Check", "Mark", "checks", "from_the_wrong_end", "marks"]


class Mark(NamedTuple):
    """A line to draw: `at` from the datum end, what it `says`, and the key of the feature it belongs to."""

    at: Length
    says: str
    feature: str


class Check(NamedTuple):
    """A mark seen from the far end: good to check by, never to lay out from, since an error of length lands there."""

    from_far_end: Length
    mark: Mark


def marks(line: Line) -> tuple[Mark, ...]:
    """The marks of a line's parts, rising from the datum end; the ends themselves are no marks.

    An opposite hand has the same marks: reflection changes nothing along the length.
    """
    found = [mark for feature in line.features for mark in _marks_of(feature, line.stock)]
    inside = [mark for mark in found if 0 < mark.at < line.length]
    return tuple(sorted(inside, key=lambda mark: mark.at))


def checks(line: Line) -> tuple[Check, ...]:
    """The same marks as check values from the far end, in the same order."""
    return tuple(Check(line.length - mark.at, mark) for mark in marks(line))


def from_the_wrong_end(line: Line) -> tuple[Mark, ...]:
    """Where the marks land, from the datum end, if a part was laid out from its far end: right numbers, wrong end."""
    return tuple(mark._replace(at=line.length - mark.at) for mark in reversed(marks(line)))


def _marks_of(feature: Feature, stock: Stock) -> list[Mark]:
    box = feature.box(stock)
    key, kind = feature.key, feature.kind

    def end(says: str, face: Face) -> Mark:
        return Mark(box.x1 if face is Face.DATUM_END else box.x0, says, key)

    def both(name: str) -> list[Mark]:
        return [Mark(box.x0, f"{name} starts", key), Mark(box.x1, f"{name} ends", key)]

    match feature:
        case Hole():
            return [Mark(feature.start, "hole, its middle", key)]
        case HoleRow():
            row = enumerate(feature.places(), 1)
            return [Mark(at, f"hole {nth} of {feature.count}, its middle", key) for nth, at in row]
        case Tenon():
            haunch = feature.haunch(stock)
            tip = [haunch.x0 if feature.face is Face.DATUM_END else haunch.x1] if haunch else []
            return [end("shoulder", feature.face), *(Mark(at, "haunch, its end", key) for at in tip)]
        case Tongue():
            return [end("shoulder", feature.face)] if feature.face in ENDS else []
        case Tails() | Pins():
            return [end("baseline", feature.face)]
        case OpenMortise():
            return [end("open mortise, its bottom", feature.face)]
        case LooseTenon():
            return both("loose tenon's mortise") if feature.face not in ENDS else []
        case Rabbet() if feature.along in ENDS:
            return [end("rabbet, its edge", feature.along)]
        case HalfLap() | Bridle() if box.x0 <= 0 or box.x1 >= stock.length:
            return [end("shoulder", Face.DATUM_END if box.x0 <= 0 else Face.FAR_END)]
        case Taper():
            return [Mark(feature.start, "taper starts", key)]
        case EdgeNote():
            return both(kind) if feature.along not in ENDS else []
        case Mortise() | Dado() | Groove() | Rabbet() | HalfLap() | Bridle():
            return both(kind)
