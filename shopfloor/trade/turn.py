"""May this step be done now?  A step whose reference surface was already cut away is refused.

Widths are measured from the face edge, thicknesses and depths from the surface that is cut into.  A taper or a rabbet
takes such a surface away; what is measured from it comes before.
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

__all__ = ["refusal", "stands_on"]


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


def _takes_away(feature: Feature) -> frozenset[Face]:
    """The long surfaces that are no reference any more once a feature is cut."""
    return frozenset({feature.face}) if isinstance(feature, Taper) else frozenset()


def refusal(line: Line, step: str, done: Collection[str]) -> str:
    """Why a step of a line's parts cannot be done now that others are `done`; empty if it can.

    Steps are given by their keys (route.py); one that cuts nothing is never refused here.
    """
    gone = {face: feature for name in done for feature in _cut_by(line, name) for face in _takes_away(feature)}
    for feature in _cut_by(line, step):
        if isinstance(feature, Taper | Chamfer | Roundover):
            continue
        for face in sorted(stands_on(feature) & gone.keys()):
            return f"the {feature.kind} is measured from the {face}, and the {gone[face].kind} has taken that away"
    return ""


def _cut_by(line: Line, step: str) -> Iterator[Feature]:
    for cut in CUTS:
        if cut.key == step:
            yield from (feature for feature in line.features if isinstance(feature, cut.kinds))
