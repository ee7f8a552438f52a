"""Is enough wood left between the cuts?  Walls that are too thin, and mortises that meet inside the leg.

Each joint may be right by itself and the leg still fall apart: two mortises in neighbouring faces take the same wood.
Every fault names the two features and how much is missing, and proposes what would do.  Where a cut comes out of the
part is asked first (breakouts.py); a thin wall is a warning, and keeps no document from being saved.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, pairwise

from .across import OPPOSITE
from .breakouts import feature_faults
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .fault import Fault
from .gaps import Cut, Gap, Near, apart, taken
from .length import Length
from .part import (
    EDGES,
    ENDS,
    FACES,
    Bridle,
    Dado,
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
    Tails,
    Taper,
    Tenon,
    Tongue,
    Unit,
    boxes,
)
from .rounding import round_up, shop_step, told
from .shared_wood import (
    CHANNELS,
    ENCLOSED,
    HOLES,
    Meeting,
    bear_no_meeting,
    cut_out,
    meeting_fault,
    meetings,
    paired,
    these,
    to_surface,
)
from .sources import CUSTOM
from .surface import overlap
from .voids import Standing, beside, shoulder_in, stands_at_an_end

__all__ = ["FACTS", "LEAST_WALL", "Meeting", "faults", "meetings"]

LEAST_WALL = Fact(
    key="wall-least", subject="joints", name="Wood left beside or behind a cut, and of a tenon or a tongue, at least",
    value=inch(1, 8), range=(inch(1, 16), inch(1, 4)), metric=mm("3"), metric_range=(mm("1.5"), mm("6")),
    status=UNCONFIRMED, source=CUSTOM,
    note="Thirds of 3/4 in stock leave 1/4 in; a groove in thin stock leaves less. From corner to corner, half of it.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (LEAST_WALL,)


def faults(line: Line, unit: Unit = Unit.INCH, least: Length | None = None) -> tuple[Fault, ...]:
    """Everything about a line's cuts that its wood does not bear: break-outs, cuts that meet, wood under `least`.

    Without `least` it is what a shop thinking in `unit` begins with.
    """
    out: list[Fault] = []
    kept: list[Feature] = []
    for feature in line.features:
        at = f'line "{line.key}", feature "{feature.key}"'
        broken = list(feature_faults(feature, line.stock, at, lambda nm: told(abs(nm), unit)))
        out += broken
        kept += [] if broken else [feature]
    asked = _Asked(replace(line, features=tuple(kept)), unit, LEAST_WALL.used(unit) if least is None else least)
    out += asked.meetings()
    out += asked.at_the_ends()
    out += asked.walls()
    out += asked.between()
    out += asked.what_stands()
    return tuple(out)


@dataclass(frozen=True)
class _Asked:
    """A line whose features lie within it, the unit of the answers, and the least that is to be left."""

    line: Line
    unit: Unit
    least: Length

    @cached_property
    def pairs(self) -> list[tuple[Feature, Feature, Near]]:
        return paired(self.line)

    def size(self, nm: Length) -> str:
        return told(abs(nm), self.unit)

    def fault(self, feature: Feature, what: str, do: str) -> Fault:
        return Fault(f'line "{self.line.key}", feature "{feature.key}"', what, do)

    def thin(self, feature: Feature, gap: Gap, between: str) -> Fault:
        corner = ", corner to corner," if gap.corner else ""
        says = f"only {self.size(gap.wide)} of wood is left" if gap.wide else "no wood is left"
        return self.fault(feature, f"{says}{corner} {between}", self.needs(gap))

    def needs(self, gap: Gap) -> str:
        return f"It needs {self.size(gap.needs(self.least))}: {self.size(gap.short_of(self.least))} more."

    # --- cuts that meet ---

    def meetings(self) -> Iterator[Fault]:
        where = f'line "{self.line.key}"'
        for found in meetings(self.line, self.pairs):
            yield meeting_fault(found, self.line.stock, where, self.size, self.least, shop_step(self.unit))

    # --- walls ---

    def walls(self) -> Iterator[Fault]:
        """Wood under `least` between a cut and a surface."""
        stock = self.line.stock
        for one in cut_out(self.line):
            for face in _walled(one):
                wall = min(to_surface(face, cut.box, stock) for cut in taken(one, stock).cuts)
                if 0 < wall < self.least or (wall == 0 and _cuts_off(one, face)):
                    yield self.thin(one, Gap(wall), f"between {these(one)} and the {face}")

    def between(self) -> Iterator[Fault]:
        """Wood under `least` between two cuts, straight across or from corner to corner."""
        for one, other, near in self.pairs:
            gap = near.apart
            opens = bear_no_meeting(one, other, self.line.stock) and not _in_line(one, other)
            if gap.wide >= 0 and gap.short_of(self.least) > 0 and (gap.wide > 0 or opens) and _share_a_wall(one, other):
                yield self.thin(one, gap, f'between {these(one)} and the {other.kind} "{other.key}"')
        for one in self.line.features:
            if isinstance(one, HoleRow):
                yield from self.between_holes(one)

    def between_holes(self, row: HoleRow) -> Iterator[Fault]:
        places = row.places()
        gap = min((b - a for a, b in pairwise(places)), default=row.diameter) - row.diameter
        if gap < self.least and len(places) > 1:
            yield self.thin(row, Gap(max(gap, 0)), "between the holes of this row")

    # --- ends ---

    def at_the_ends(self) -> Iterator[Fault]:
        """What stands at an end against what stands there, too, and against the mortises of the same part."""
        for end in ENDS:
            standing = [each for each in self.line.features if stands_at_an_end(each) and each.face is end]
            for one, other in combinations(standing, 2):
                yield from self.side_by_side(one, other)
            if standing:
                for pocket in cut_out(self.line):
                    if isinstance(pocket, ENCLOSED):
                        yield from self.behind(pocket, end, standing)

    def side_by_side(self, one: Standing, other: Standing) -> Iterator[Fault]:
        stock = self.line.stock
        every = [(a, b) for a in boxes(one, stock) for b in boxes(other, stock)]
        shared = [box for a, b in every if (box := overlap(a, b))]
        if shared:
            over = max(min(box.y1 - box.y0, box.z1 - box.z0) for box in shared)
            what = f'{these(one)} and the {other.kind} "{other.key}" are the same wood by {self.size(over)}'
            yield self.fault(one, what, "Move one of them, or make it smaller.")
            return
        gap = max((apart(Cut(a), Cut(b)) for a, b in every), key=lambda each: each.short_of(self.least))
        if gap.short_of(self.least) > 0 and isinstance(one, Tenon) and isinstance(other, Tenon):
            left = f"only {self.size(gap.wide)}" if gap.wide else "nothing"
            what = f'{left} stays in the mate between {these(one)} and the {other.kind} "{other.key}"'
            yield self.fault(one, what, self.needs(gap))

    def behind(self, pocket: Feature, end: Face, standing: list[Standing]) -> Iterator[Fault]:
        """A mortise and the tenon at an end of its own part."""
        stock = self.line.stock
        shoulder, which = shoulder_in(standing), min(standing, key=lambda each: each.length)
        at = f'the {"baseline" if isinstance(which, Tails) else "shoulder"} of the {which.kind} "{which.key}"'
        space = pocket.box(stock)
        over = shoulder - to_surface(end, space, stock)
        if over > 0:
            clear = round_up(shoulder + self.least, shop_step(self.unit))
            do = f"Keep it {self.size(clear)} from the {end}: that leaves {self.size(self.least)} between them."
            do = "Make one of them only." if pocket.face in ENDS else do
            yield self.fault(pocket, f"{these(pocket)} goes {self.size(over)} past {at}", do)
            return
        gaps = [apart(Cut(space), Cut(box)) for box in beside(end, standing, stock)]
        gap = max(gaps, key=lambda each: each.short_of(self.least), default=Gap(self.least))
        if gap.short_of(self.least) > 0:
            yield self.thin(pocket, gap, f"between {these(pocket)} and {at}")

    # --- what stands ---

    def what_stands(self) -> Iterator[Fault]:
        """Tenons, tongues and tails that are thinner than a wall may be."""
        for one in self.line.features:
            for left, how in _stands(one, self.line):
                if left < self.least:
                    verb = "are" if one.kind.endswith("s") else "is"
                    yield self.fault(one, f"{these(one)} {verb} only {self.size(left)} {how}", self.needs(Gap(left)))


def _stands(feature: Feature, line: Line) -> Iterator[tuple[Length, str]]:
    match feature:
        case Tenon():
            yield feature.thickness, "thick"
            yield feature.width, "wide"
        case Tongue() | Bridle():
            yield feature.thickness, "thick"
        case Tails():
            yield min(tail.base_end - tail.base_start for tail in feature.tails(line.stock)), "wide at the baseline"


def _walled(feature: Feature) -> tuple[Face, ...]:
    """The surfaces towards which a cut has a wall: not the one it is cut into, nor those that it is open to."""
    match feature:
        case OpenMortise():
            return FACES
        case Groove():
            return (*(EDGES if feature.face in FACES else FACES), OPPOSITE[feature.face])
        case Dado() | HalfLap():
            return (*ENDS, OPPOSITE[feature.face])
        case Rabbet():
            return (OPPOSITE[feature.face], OPPOSITE[feature.along])
        case Taper():
            return (OPPOSITE[feature.face],)
        case Pins():
            return (OPPOSITE[feature.into],)
        case Mortise() | LooseTenon() | Hole() | HoleRow():
            return tuple(face for face in Face if face is not feature.face)
        case _:
            return ()


def _cuts_off(feature: Feature, face: Face) -> bool:
    """Whether a cut that leaves nothing towards a surface cuts the part in two."""
    if isinstance(feature, Taper):
        return True
    return isinstance(feature, HalfLap) and face is OPPOSITE[feature.face]


def _share_a_wall(one: Feature, other: Feature) -> bool:
    """Whether thin wood between two cuts is asked about: beside what holds a tenon, beside holes, between channels."""
    if isinstance(one, ENCLOSED) or isinstance(other, ENCLOSED):
        return True
    if {type(one), type(other)} == {Rabbet, HalfLap}:
        return False
    beside_it = (*HOLES, *CHANNELS)
    return (isinstance(one, beside_it) and isinstance(other, beside_it)) or type(one) is type(other) is Taper


def _in_line(one: Feature, other: Feature) -> bool:
    """Whether a rabbet runs along the cheek of a mortise: the tenon's shoulder on that side is longer by as much."""
    return Rabbet in (type(one), type(other))
