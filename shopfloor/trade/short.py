"""What if it came out short?  Where an error in the length lands, which marks stay, and which mates are touched.

Everything is marked from the datum end, so every mark stays where it is.  What ends at the far end takes the error: a
tenon comes out shorter, or the wood behind a dado does.  Shoulder to shoulder nothing changes.

Twin of the arithmetic: static/trade/short.js; vectors: short.json.
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

__all__ = ["End", "Landed", "Touched", "ends", "landed"]


class Touched(NamedTuple):
    """A feature that the error reaches: what becomes of it, and the mate that it goes with ("" if there is none)."""

    feature: str
    says: Said
    letter: str = ""
    mate: str = ""
    spoiled: bool = False


class End(NamedTuple):
    """What of a part an error at the far end can reach: all that is needed to say what becomes of it.

    `how` is "less" (it comes out shorter), "sooner" (it only ends sooner) or "behind" (there is less wood behind it);
    `size` is its length, or that wood.  `way` is the word after the size ("long").  `mate` is what it goes with, and
    `within` what that means there: "flush", "holds", "corner" or "".
    """

    feature: str
    how: str
    what: str
    size: Length
    way: str = ""
    letter: str = ""
    mate: str = ""
    within: str = ""

    def after(self, short: Length) -> Touched | None:
        """What becomes of it where `short` is missing; None if nobody would notice."""
        says: Said
        spoiled = False
        if self.how == "sooner":
            says = (f"{self.what} ends ", short, " sooner")
        elif self.how == "less":
            verb, was = ("are", "they were") if self.what.endswith("s") else ("is", "it was")
            spoiled = short >= self.size
            says = (f"{self.what} {verb} ", self.size - short, f" {self.way} instead of ", self.size)
            if spoiled:
                says = (f"{self.what} {verb} gone: {was} ", self.size, f" {self.way}")
        elif short > self.size:
            spoiled = True
            says = (f"{self.what} runs out at the end: ", short - self.size, " of it has no wood")
        elif 4 * short >= self.size:  # of more wood nobody would miss so little
            says = (f"wood behind the {self.what} is ", self.size - short, " instead of ", self.size)
        else:
            return None
        return Touched(self.feature, (*says, *_in_mate(self.within, short)), self.letter, self.mate, spoiled)


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


def ends(job: Job) -> dict[str, tuple[End, ...]]:
    """For each part of a job, by its key, what an error at its far end can reach."""
    where = {part.key: (line, part) for line in job.lines for part in line.parts}
    mates: dict[str, dict[str, tuple[str, str, Feature | None]]] = {}
    for joint in job.joints:
        for own, other in ((joint.enters, joint.takes), (joint.takes, joint.enters)):
            mates.setdefault(own.part, {})[own.feature] = (joint.letter, other.part, _feature(other, where))
    found = {}
    for line in job.lines:
        reached = [(feature, end) for feature in line.features if (end := _end(feature, line))]
        for part in line.parts:
            own_ends = []
            for feature, end in reached:
                letter, mate, theirs = mates.get(part.key, {}).get(feature.key, ("", "", None))
                own_ends.append(end._replace(letter=letter, mate=mate, within=_within(feature, theirs)))
            found[part.key] = tuple(own_ends)
    return found


def landed(job: Job, part: str, real: Length) -> Landed:
    """What a real length means for a part of a job.  Raises KeyError if there is no such part.

    A part that is too long is only told so: it can still be cut.
    """
    line = next((line for line in job.lines for each in line.parts if each.key == part), None)
    if line is None:
        raise KeyError(part)
    difference = real - line.length
    every = marks(line)
    stays = tuple(mark for mark in every if mark.at < real)
    lost = tuple(mark for mark in every if mark.at >= real)
    if difference >= 0:
        says: Said = ("as drawn",) if not difference else ("at the far end ", difference, " too long: cut it there")
        return Landed(difference, says, every, (), ())
    touched = tuple(found for end in ends(job)[part] if (found := end.after(-difference)))
    says = ("at the far end ", -difference, " short; every mark stays")
    if lost:
        beyond = f" short; {len(lost)} mark{'s' if len(lost) > 1 else ''} beyond the wood"
        says = ("at the far end ", -difference, beyond)
    return Landed(difference, says, stays, lost, touched)


def _feature(half: Half, where: Mapping[str, tuple[Line, Part]]) -> Feature | None:
    features = where[half.part][0].features if half.part in where else ()
    return next((one for one in features if one.key == half.feature), None)


def _end(feature: Feature, line: Line) -> End | None:
    """What of a feature the error can reach; None if it cannot."""
    key, kind = feature.key, feature.kind
    match feature:
        case EdgeNote():
            return None
        case Taper():
            return None if feature.to is not Face.FAR_END else End(key, "sooner", "taper", 0)
        case Rabbet() if feature.along is Face.FAR_END:
            return End(key, "less", "rabbet", feature.width, "wide")
        case Tenon() | Tongue() | Tails() if feature.face is Face.FAR_END:
            return End(key, "less", kind, feature.length, "long")
        case Pins() if feature.face is Face.FAR_END:
            return End(key, "less", "sockets", feature.length, "long")
        case OpenMortise() | LooseTenon() if feature.face is Face.FAR_END:
            return End(key, "less", kind, feature.depth, "deep")
    wood = line.length - max(box.x1 for box in boxes(feature, line.stock))
    if wood > 0:
        return End(key, "behind", kind, wood)
    # A groove to the end simply ends sooner.
    return End(key, "less", kind, feature.length, "long") if isinstance(feature, HalfLap | Bridle) else None


def _within(feature: Feature, theirs: Feature | None) -> str:
    """What the error means inside the mate."""
    if isinstance(feature, Tenon | Tongue) and feature.face in ENDS and theirs is not None:
        return "flush" if isinstance(theirs, Mortise) and not theirs.depth else "holds"
    return "corner" if isinstance(feature, Tails | Pins) else ""


def _in_mate(within: str, short: Length) -> Said:
    if within == "flush":
        return ("; it will not come through flush: ", short, " is missing")
    if within == "holds":
        return ("; it holds ", short, " less, its shoulders still close")
    return ("; the corner will not be flush outside",) if within == "corner" else ()
