"""How does a part lie for a step, and may the step be done now?

For a cut into a long surface that surface lies up.  A step whose reference surface was already cut away is refused.
Widths are measured from the face edge, thicknesses and depths from the surface that is cut into.  A taper takes such a
surface away; what is measured from it comes before.  The route (route.py) has it so, and whoever marks steps in another
order is told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from .part import (
    ENDS,
    FACES,
    Bridle,
    Chamfer,
    EdgeNote,
    Face,
    Feature,
    Line,
    LooseTenon,
    OpenMortise,
    Pins,
    Rabbet,
    Roundover,
    Tails,
    Taper,
    Tenon,
    Tongue,
)
from .route import CUTS

__all__ = ["cut_by", "face_up", "faces_up", "refusal", "refusals", "stands_on"]


def stands_on(feature: Feature) -> frozenset[Face]:
    """The long surfaces that a feature is measured from or cut into."""
    side, edge = Face.FACE_SIDE, Face.FACE_EDGE
    match feature:
        case Tenon() | LooseTenon() if feature.face in ENDS:
            return frozenset({side, edge})
        case Tails() | Pins():
            return frozenset({edge, feature.into}) if isinstance(feature, Pins) else frozenset({edge})
        case Tongue() | OpenMortise():
            return frozenset({side, feature.face} - set(ENDS))
        case Bridle():
            return frozenset({feature.face})
        case Rabbet():
            return frozenset({feature.face, feature.along} - set(ENDS))
        case EdgeNote():
            return frozenset({feature.face, feature.along} - set(ENDS))
        case _:
            return frozenset({feature.face, edge if feature.face in FACES else side})


def face_up(feature: Feature) -> Face | None:
    """The long surface that lies up while a feature is cut; None for what is cut at an end, which may lie either way.

    >>> from shopfloor.trade.part import Dado
    >>> face_up(Dado("shelf", Face.BACK, 100, 20, 5)).value
    'back'
    """
    if isinstance(feature, Pins):
        return feature.into
    if isinstance(feature, Tongue) and feature.face not in ENDS:
        return Face.FACE_SIDE
    return None if feature.face in ENDS else feature.face


def faces_up(line: Line, step: str) -> tuple[Face, ...]:
    """The surfaces that lie up while a step of a line's parts is done, each once, in the order of its cuts."""
    return tuple(dict.fromkeys(up for feature in cut_by(line, step) if (up := face_up(feature))))


def _takes_away(feature: Feature) -> frozenset[Face]:
    """The long surfaces that are no reference any more once a feature is cut."""
    return frozenset({feature.face}) if isinstance(feature, Taper) else frozenset()


def refusal(line: Line, step: str, done: Collection[str]) -> str:
    """Why a step of a line's parts cannot be done now that others are `done`; empty if it can.

    Steps are given by their keys (route.py); one that cuts nothing is never refused here.
    """
    gone = {face: feature for name in done for feature in cut_by(line, name) for face in _takes_away(feature)}
    for feature in cut_by(line, step):
        if isinstance(feature, Taper | Chamfer | Roundover):
            continue
        for face in sorted(stands_on(feature) & gone.keys()):
            return f"the {feature.kind} is measured from the {face}, and the {gone[face].kind} has taken that away"
    return ""


def refusals(line: Line) -> dict[str, dict[str, str]]:
    """For each step of a line's parts that another can bar, by its key: that other's key, and why."""
    cutting = [cut.key for cut in CUTS if any(isinstance(feature, cut.kinds) for feature in line.features)]
    barring = [key for key in cutting if any(map(_takes_away, cut_by(line, key)))]
    found: dict[str, dict[str, str]] = {}
    for step in cutting:
        for other in barring:
            if says := refusal(line, step, {other}):
                found.setdefault(step, {})[other] = says
    return found


def cut_by(line: Line, step: str) -> Iterator[Feature]:
    """The features that a step cuts, in the order of the document; none for a step that cuts nothing."""
    for cut in CUTS:
        if cut.key == step:
            yield from (feature for feature in line.features if isinstance(feature, cut.kinds))
