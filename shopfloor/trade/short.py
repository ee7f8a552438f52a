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
from .meeting import standing
from .part import (
    EDGES,
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
    Placement,
    Rabbet,
    Tails,
    Taper,
    Tenon,
    Tongue,
    boxes,
)
from .route import Said
from .sheet import lettering

__all__ = ["End", "GoesWith", "Landed", "Touched", "ends", "landed"]


class GoesWith(NamedTuple):
    """A mate: the pair letter of the joint ("" if it has none), and the key of the other part."""

    letter: str
    part: str


class Touched(NamedTuple):
    """A feature that the error reaches: what becomes of it, and the mates that it goes with, lettered ones first."""

    feature: str
    says: Said
    mates: tuple[GoesWith, ...] = ()
    spoiled: bool = False


class End(NamedTuple):
    """What of a part an error at the far end can reach: all that is needed to say what becomes of it.

    `how` is "less" (it comes out shorter), "sooner" (it only ends sooner) or "behind" (there is less wood behind it);
    `size` is its length, or that wood.  `reach` is how far a cut goes along the part, or how far what is left standing
    goes into its mate.  `way` is the word after the size ("long").  `within` says what the error means in the mate:
    "flush", "holds" and "corner" have shoulders or a baseline, "groove" and "dado" are what takes an end that has none.
    """

    feature: str
    how: str
    what: str
    size: Length
    reach: Length = 0
    way: str = ""
    within: str = ""
    mates: tuple[GoesWith, ...] = ()

    def after(self, short: Length) -> Touched | None:
        """What becomes of it where `short` is missing; None if nobody would notice."""
        if self.how == "sooner":
            return Touched(self.feature, (f"{self.what} ends ", short, " sooner"), self.mates)
        if self.how == "behind":
            if 4 * short < self.size:  # of so much wood nobody would miss so little
                return None
            return Touched(self.feature, self._behind(short), self.mates, short >= self.size)
        verb, was = ("are", "they were") if self.what.endswith("s") else ("is", "it was")
        says: Said = (f"{self.what} {verb} ", self.size - short, f" {self.way} instead of ", self.size)
        if short >= self.size:
            says = (f"{self.what} {verb} gone: {was} ", self.size, f" {self.way}")
        out = short >= (self.reach if self.within in TAKERS else self.size)
        return Touched(self.feature, (*says, *self._in_mate(short)), self.mates, out)

    def _behind(self, short: Length) -> Said:
        if short < self.size:
            return (f"wood behind the {self.what} is ", self.size - short, " instead of ", self.size)
        if short == self.size:
            return (f"wood behind the {self.what} is gone: it was ", self.size)
        if short < self.size + self.reach:
            return (f"{self.what} runs out at the end: ", short - self.size, " of it has no wood")
        return (f"{self.what} lies beyond the wood",)

    def _in_mate(self, short: Length) -> Said:
        beyond = short - self.size
        if self.within in TAKERS:
            if short >= self.reach:
                return (f"; it does not reach its {self.within} any more",)
            return ("; it goes ", short, f" less into its {self.within}")
        if not self.within or beyond == 0:
            return ()
        if beyond > 0:
            opens = "the corner stands" if self.within == "corner" else "its shoulders stand"
            return (f"; {opens} ", beyond, " open")
        if self.within == "flush":
            return ("; it will not come through flush: ", short, " is missing")
        if self.within == "holds":
            return ("; it holds ", short, " less, its shoulders still close")
        return ("; the corner will not be flush outside",)


TAKERS = ("groove", "dado")


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
    stands = standing(job)
    mates: dict[tuple[str, str], list[tuple[GoesWith, Half]]] = {}
    for joint in job.joints:
        for own, other in ((joint.enters, joint.takes), (joint.takes, joint.enters)):
            mates.setdefault((own.part, own.feature), []).append((GoesWith(joint.letter, other.part), other))
    found = {}
    for line in job.lines:
        reached = [(feature, end) for feature in line.features if (end := _end(feature, line))]
        for part in line.parts:
            own_ends = []
            for feature, end in reached:
                with_it = sorted(mates.get((part.key, feature.key), ()), key=lambda one: lettering(one[0].letter))
                if with_it:
                    half = with_it[0][1]
                    end = _met(end, feature, line, stands.get(part.key), _other(half, where, stands))
                own_ends.append(end._replace(mates=tuple(dict.fromkeys(mate for mate, _ in with_it))))
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


class _Other(NamedTuple):
    """The other half of a joint: its cut, the line it is of, and where its part stands, if it does."""

    feature: Feature
    line: Line
    stands: Placement | None


def _other(half: Half, where: Mapping[str, tuple[Line, Part]], stands: Mapping[str, Placement]) -> _Other | None:
    if half.part not in where:
        return None
    line = where[half.part][0]
    feature = next((one for one in line.features if one.key == half.feature), None)
    return _Other(feature, line, stands.get(half.part)) if feature else None


def _end(feature: Feature, line: Line) -> End | None:
    """What of a feature the error can reach; None if it cannot."""
    key, kind = feature.key, feature.kind
    match feature:
        case EdgeNote():
            return None
        case Taper():
            return None if feature.to is not Face.FAR_END else End(key, "sooner", "taper", 0)
        case Rabbet() if feature.along is Face.FAR_END:
            return End(key, "less", "rabbet", feature.width, way="wide")
        case Tenon() | Tongue() if feature.face is Face.FAR_END:
            return End(key, "less", kind, feature.length, feature.length, "long")
        case Tails() | Pins() if feature.face is Face.FAR_END:
            what = "sockets" if isinstance(feature, Pins) else kind
            return End(key, "less", what, feature.length, way="long", within="corner")
        case OpenMortise() | LooseTenon() if feature.face is Face.FAR_END:
            return End(key, "less", kind, feature.depth, way="deep")
    blocks = boxes(feature, line.stock)
    to = max(box.x1 for box in blocks)
    if to < line.length:
        return End(key, "behind", kind, line.length - to, to - min(box.x0 for box in blocks))
    # A groove to the end simply ends sooner.
    return End(key, "less", kind, feature.length, way="long") if isinstance(feature, HalfLap | Bridle) else None


def _met(end: End, feature: Feature, line: Line, stands: Placement | None, other: _Other | None) -> End:
    """What the error means inside the mate."""
    if not isinstance(feature, Tenon | Tongue) or feature.face not in ENDS or other is None:
        return end
    if _has_shoulders(feature, line) or other.feature.kind not in TAKERS:
        through = isinstance(other.feature, Mortise) and not other.feature.depth
        return end._replace(within="flush" if through else "holds")
    if stands and other.stands:  # a panel is laid out with a gap to the bottom of its groove
        space = stands.own(other.stands.box(other.feature.box(other.line.stock)))
        end = end._replace(reach=max(0, min(end.size, line.length - space.x0)))
    return end._replace(within=other.feature.kind)


def _has_shoulders(feature: Tenon | Tongue, line: Line) -> bool:
    """Whether a shoulder closes against the mate: none does of an end that enters whole, nor of a panel that floats."""
    if isinstance(feature, Tenon):
        return feature.thickness < line.thickness or feature.width < line.width
    floats = any(isinstance(one, Tongue) and one.face in EDGES for one in line.features)
    return feature.thickness < line.thickness and not floats
