"""How far in, and how deep?  The marks across a part: widths and depths, each from a reference surface.

Widths are measured from the face edge, thicknesses from the face side, and a depth from the surface that is cut into.
What is left behind a cut is a check value: it is worth measuring and nothing is laid out from it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from .length import Length
from .part import (
    ENDS,
    FACES,
    Box,
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

__all__ = ["OPPOSITE", "Reach", "across"]

OPPOSITE = {
    Face.FACE_SIDE: Face.BACK, Face.BACK: Face.FACE_SIDE, Face.FACE_EDGE: Face.FAR_EDGE,
    Face.FAR_EDGE: Face.FACE_EDGE, Face.DATUM_END: Face.FAR_END, Face.FAR_END: Face.DATUM_END,
}  # fmt: skip


class Reach(NamedTuple):
    """A distance across: `at` in from the surface `face`, what it `says`, and the key of the feature it belongs to.

    `check` is True for what is only good to check by.
    """

    at: Length
    face: Face
    says: str
    feature: str
    check: bool = False


def across(line: Line) -> tuple[Reach, ...]:
    """The distances across a line's parts, surface by surface, rising from each; the surfaces themselves are none.

    An opposite hand has the same: faces and edges swap sides, the numbers from them stay.
    """
    order = list(Face)
    found = [reach for feature in line.features for reach in _reaches(feature, line.stock)]
    inside = [reach for reach in found if 0 < reach.at < _size(reach.face, line.stock)]
    return tuple(sorted(dict.fromkeys(inside), key=lambda reach: (reach.check, order.index(reach.face), reach.at)))


def _size(face: Face, stock: Stock) -> Length:
    return stock.thickness if face in FACES else stock.length if face in ENDS else stock.width


def _reaches(feature: Feature, stock: Stock) -> Iterator[Reach]:
    box, key, kind = feature.box(stock), feature.key, feature.kind
    side, edge = Face.FACE_SIDE, Face.FACE_EDGE
    match feature:
        case Hole() | HoleRow():
            reference = edge if feature.face in FACES else side
            yield Reach(feature.offset, reference, f"{kind}, its middle", key)
            yield from _depth(feature.depth, feature.face, f"{kind}, its bottom", key, stock)
        case LooseTenon() if feature.face in ENDS:
            yield from _wide(box, "loose tenon's mortise", key)
            yield from _thick(box, "loose tenon's mortise", key)
            yield from _depth(feature.depth, feature.face, "loose tenon's mortise, its bottom", key, stock)
        case Mortise() | LooseTenon() | Groove() | Dado():
            name = "loose tenon's mortise" if isinstance(feature, LooseTenon) else kind
            yield from _wide(box, name, key) if feature.face in FACES else _thick(box, name, key)
            yield from _depth(feature.depth, feature.face, f"{name}, its bottom", key, stock)
        case HalfLap():
            yield from _depth(feature.depth, feature.face, "half lap, its bottom", key, stock)
        case Rabbet():
            if feature.along not in ENDS:
                yield Reach(feature.width, feature.along, "rabbet, its edge", key)
            yield from _depth(feature.depth, feature.face, "rabbet, its bottom", key, stock)
        case Tenon():
            yield from _thick(box, "tenon, its cheek", key)
            yield from _wide(box, "tenon, its edge", key)
            if haunch := feature.haunch(stock):
                yield from _wide(haunch, "haunch, its edge", key)
        case Tongue():
            yield from _thick(box, "tongue, its cheek", key)
            if feature.face not in ENDS:
                yield Reach(feature.length, feature.face, "shoulder", key)
        case OpenMortise():
            yield from _thick(box, kind, key)
        case Bridle():
            yield from _thick(box, "bridle, its cheek", key) if feature.face in FACES else _wide(box, "bridle", key)
        case Tails() | Pins():
            one = "tail" if isinstance(feature, Tails) else "socket"
            far, near = ("end", "baseline") if one == "tail" else ("bottom", "surface")
            for nth, tail in enumerate(feature.tails(stock), 1):
                for at in tail[:2]:
                    yield Reach(at, edge, f"{one} {nth}, at its {far}", key)
                for at in tail[2:]:
                    yield Reach(at, edge, f"{one} {nth}, at the {near}", key)
            if isinstance(feature, Pins):
                yield from _depth(feature.depth, feature.into, "sockets, their bottom", key, stock)
        case Taper():
            yield from _depth(feature.depth, feature.face, f"taper, at the {feature.to}", key, stock)
        case EdgeNote():
            return


def _wide(box: Box, name: str, key: str) -> Iterator[Reach]:
    yield Reach(box.y0, Face.FACE_EDGE, f"{name}, near side", key)
    yield Reach(box.y1, Face.FACE_EDGE, f"{name}, far side", key)


def _thick(box: Box, name: str, key: str) -> Iterator[Reach]:
    yield Reach(box.z0, Face.FACE_SIDE, f"{name}, near side", key)
    yield Reach(box.z1, Face.FACE_SIDE, f"{name}, far side", key)


def _depth(depth: Length, face: Face, says: str, key: str, stock: Stock) -> Iterator[Reach]:
    """A depth from its own surface, and what is left from the opposite one as a check; nothing for right through."""
    if depth:
        yield Reach(depth, face, says, key)
        yield Reach(_size(face, stock) - depth, OPPOSITE[face], f"{says}: wood left", key, check=True)
