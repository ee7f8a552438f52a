"""Where is the wood narrower than its view?  Tapers that are seen from the side, and the lines beside an arris."""

from __future__ import annotations

from typing import NamedTuple

from ..trade.across import OPPOSITE
from ..trade.part import ENDS, FACES, EdgeNote, Face, Taper
from .arrange import Arrangement, Place
from .type import num
from .views import stands

ARRIS = 4
"""How far from its arris a chamfer is drawn."""


def between_shoulders(sheet: Arrangement) -> tuple[float, float]:
    """From where to where a part has its full size: between what stands at its ends."""
    ends = [sheet.boxes[feature.key] for feature in sheet.line.features if stands(feature)]
    start = max((box.x1 for box in ends if box.x0 == 0), default=0)
    end = min((box.x0 for box in ends if box.x0 > 0), default=sheet.line.length)
    return sheet.down(start), sheet.down(end)


class Leaning(NamedTuple):
    """A side of a view that a taper takes in: from `high` to `low` in the picture, by `first` there and `last` here."""

    high: float
    low: float
    first: float
    last: float
    at_left: bool


def leaning(sheet: Arrangement, place: Place) -> list[Leaning]:
    """The tapers that are seen from the side in a view."""
    found = []
    for feature in sheet.line.features:
        if not isinstance(feature, Taper) or (feature.face in FACES) == place.view.wide:
            continue
        near = feature.face in (Face.FACE_SIDE, Face.FACE_EDGE)
        a = feature.depth if near else place.view.across - feature.depth
        taken = abs(place.across(a) - place.across(0 if near else place.view.across))
        first, last = (0.0, taken) if feature.to is Face.FAR_END else (taken, 0.0)
        high, low = (sheet.down(x) for x in feature.span(sheet.line.stock))
        found.append(Leaning(high, low, first, last, near != place.flipped))
    return found


def sides(sheet: Arrangement, place: Place, y: float) -> tuple[float, float]:
    """The left and the right side of a view's wood at a height of the picture: tapers take it in."""
    left, right = place.left, place.right
    for taper in leaning(sheet, place):
        if taper.high <= y <= taper.low:
            share = (y - taper.high) / (taper.low - taper.high)
            taken = taper.first + (taper.last - taper.first) * share
            left, right = (left + taken, right) if taper.at_left else (left, right - taken)
    return left, right


def arris(sheet: Arrangement, place: Place, feature: EdgeNote) -> tuple[str, bool]:
    """The line of a chamfer or a roundover in a view, empty if it has none there, and whether its arris is behind in
    both views: it runs beside the arris, always as near to it, whatever its size."""
    surfaces = {feature.face, feature.along}
    behind = not any(one.view.face in surfaces for one in sheet.places)
    face = OPPOSITE[place.view.face] if behind else place.view.face
    if face not in surfaces:
        return "", behind
    flat = place.view.flat(sheet.boxes[feature.key])
    start, end = between_shoulders(sheet)
    top, foot = max(sheet.down(flat.x0), start), min(sheet.down(flat.x1), end)
    if feature.along in ENDS:
        y = top + ARRIS if feature.along is Face.DATUM_END else foot - ARRIS
        path = [(x, y) for x in sides(sheet, place, y)]
        path = path[::-1] if place.flipped else path  # the mirror image is the same line, the other way
    else:
        at_left = min(place.across(flat.a0), place.across(flat.a1)) - place.left < 1
        turns = [y for taper in leaning(sheet, place) for y in (taper.high, taper.low) if top < y < foot]
        path = []
        for y in (top, *sorted(turns), foot):
            left, right = sides(sheet, place, y)
            path.append((left + ARRIS if at_left else right - ARRIS, y))
    line = "M" + "L".join(f"{num(x)} {num(y)}" for x, y in path)
    return line, behind
