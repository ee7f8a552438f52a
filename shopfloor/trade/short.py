"""What if it came out short?  Where an error in the length lands, which marks stay, and which mates are touched.

Everything is marked from the datum end, so every mark stays where it is.  What ends at the far end takes the error: a
tenon comes out shorter, or the wood behind a dado does.  Shoulder to shoulder nothing changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from .layout import Mark, marks
from .length import Length
from .part import (
    ENDS,
    Bridle,
    EdgeNote,
    Face,
    Feature,
    Half,
    HalfLap,
    Job,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Part,
    Pins,
    Rabbet,
    Tails,
    Taper,
    Tenon,
    Tongue,
    boxes,
)
from .route import Said

__all__ = ["Landed", "Touched", "landed"]


class Touched(NamedTuple):
    """A feature that the error reaches: what becomes of it, and the mate that it goes with ("" if there is none)."""

    feature: str
    says: Said
    letter: str = ""
    mate: str = ""
    spoiled: bool = False


class Landed(NamedTuple):
    """Where an error of length lands.

    `difference` is the real length less the drawn one: below 0 where the part is short.  `stays` are the marks that
    hold, `lost` those that would lie beyond the wood.  `spoiled` says whether the part cannot serve as it is.
    """

    difference: Length
    says: Said
    stays: tuple[Mark, ...]
    lost: tuple[Mark, ...]
    touched: tuple[Touched, ...]

    @property
    def spoiled(self) -> bool:
        return bool(self.lost) or any(one.spoiled for one in self.touched)


def landed(job: Job, part: str, real: Length) -> Landed:
    """What a real length means for a part of a job.  Raises KeyError if there is no such part.

    A part that is too long is only told so: it can still be cut.
    """
    where = {each.key: (line, each) for line in job.lines for each in line.parts}
    line, _ = where[part]
    difference = real - line.length
    every = marks(line)
    stays = tuple(mark for mark in every if mark.at < real)
    lost = tuple(mark for mark in every if mark.at >= real)
    if difference >= 0:
        says: Said = ("as drawn",) if not difference else ("at the far end ", difference, " too long: cut it there")
        return Landed(difference, says, every, (), ())
    mates = _mates(job, part, where)
    touched = []
    for feature in line.features:
        found = _touched(feature, line, -difference)
        if found:
            letter, mate, theirs = mates.get(feature.key, ("", "", None))
            says_all = (*found.says, *_in_mate(feature, theirs, -difference))
            touched.append(found._replace(says=says_all, letter=letter, mate=mate))
    says = ("at the far end ", -difference, " short; every mark stays")
    if lost:
        beyond = f" short; {len(lost)} mark{'s' if len(lost) > 1 else ''} beyond the wood"
        says = ("at the far end ", -difference, beyond)
    return Landed(difference, says, stays, lost, tuple(touched))


def _mates(
    job: Job, part: str, where: Mapping[str, tuple[Line, Part]]
) -> dict[str, tuple[str, str, Feature | None]]:  # fmt: skip
    """By the key of a feature: its pair letter, the part it goes with, and the feature there."""
    found: dict[str, tuple[str, str, Feature | None]] = {}
    for joint in job.joints:
        for own, other in ((joint.enters, joint.takes), (joint.takes, joint.enters)):
            if own.part == part:
                found[own.feature] = (joint.letter, other.part, _feature(other, where))
    return found


def _feature(half: Half, where: Mapping[str, tuple[Line, Part]]) -> Feature | None:
    features = where[half.part][0].features if half.part in where else ()
    return next((one for one in features if one.key == half.feature), None)


def _touched(feature: Feature, line: Line, short: Length) -> Touched | None:
    """What becomes of a feature where `short` is missing at the far end; None if the error does not reach it."""
    key, kind = feature.key, feature.kind
    match feature:
        case EdgeNote():
            return None
        case Taper():
            return None if feature.to is not Face.FAR_END else Touched(key, ("taper ends ", short, " sooner"))
        case Rabbet() if feature.along is Face.FAR_END:
            return _less(key, "rabbet", feature.width, short, "wide")
        case Tenon() | Tongue() | Tails() if feature.face is Face.FAR_END:
            return _less(key, kind, feature.length, short, "long")
        case Pins() if feature.face is Face.FAR_END:
            return _less(key, "sockets", feature.length, short, "long")
        case OpenMortise() | LooseTenon() if feature.face is Face.FAR_END:
            return _less(key, kind, feature.depth, short, "deep")
    every = boxes(feature, line.stock)
    last = max(box.x1 for box in every)
    wood = line.length - last
    if wood <= 0 and isinstance(feature, HalfLap | Bridle):
        return _less(key, kind, feature.length, short, "long")
    if wood <= 0:
        return None  # a groove to the end simply ends sooner
    if short > wood:
        return Touched(key, (f"{kind} runs out at the end: ", short - wood, " of it has no wood"), spoiled=True)
    if 4 * short >= wood:  # of more wood nobody would miss so little
        return Touched(key, (f"wood behind the {kind} is ", wood - short, " instead of ", wood))
    return None


def _less(key: str, kind: str, length: Length, short: Length, way: str) -> Touched:
    verb, was = ("are", "they were") if kind.endswith("s") else ("is", "it was")
    if short >= length:
        return Touched(key, (f"{kind} {verb} gone: {was} ", length, f" {way}"), spoiled=True)
    return Touched(key, (f"{kind} {verb} ", length - short, f" {way} instead of ", length))


def _in_mate(feature: Feature, theirs: Feature | None, short: Length) -> Said:
    """What that means inside the mate."""
    if isinstance(feature, Tenon | Tongue) and feature.face in ENDS and theirs is not None:
        if isinstance(theirs, Mortise) and not theirs.depth:
            return ("; it will not come through flush: ", short, " is missing")
        return ("; it holds ", short, " less, its shoulders still close")
    if isinstance(feature, Tails | Pins):
        return ("; the corner will not be flush outside",)
    return ()
