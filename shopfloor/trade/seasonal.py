"""Does a job stand the seasons?  Panels in their grooves, wide wood held across the grain, slots that are too short,
drawers and doors in their openings.

Works on parts that stand in space; of the others it says nothing.  A wood that is meant by more than one species takes
the one that moves most, and so does a board whose rings are not known: the safe side.
Source: movement.py and panel.py.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, inch, mm
from .fault import Fault
from .habit import PRINTED, Habits
from .length import Length, write
from .meeting import standing
from .movement import Cut, coefficient, slot
from .panel import PanelRefused, panel_fit
from .part import (
    ENDS,
    FACES,
    Box,
    Dado,
    Face,
    Feature,
    Groove,
    Half,
    Hole,
    Job,
    Line,
    Mortise,
    Part,
    Placement,
    Stock,
    Tenon,
    Tongue,
    Unit,
)
from .proportions import WIDEST_TENON
from .rounding import TENTH_MM, round_up, rounded_for_show
from .seasons import Seasons
from .sources import CUSTOM
from .species import candidates
from .surface import overlap, whole
from .swelling import openings

__all__ = ["FACTS", "HELD", "counted_for", "faults", "moves_by"]

HELD = Fact(
    key="held-across", subject="movement", name="Movement that a joint held across the grain takes up",
    value=inch(1, 32), metric=mm("0.8"), status=UNCONFIRMED, source=CUSTOM,
    note="More than this, and a board that is glued or screwed across splits or tears its joint open.  Asked of wood "
    "wider than the widest single tenon; narrower rails are glued in as a matter of course.",
)  # fmt: skip
FACTS: tuple[AnyFact, ...] = (HELD,)

SAWN = re.compile(r"[,;(]?\s*\b(quarter|flat|plain|rift)[\s-]*sawn\b\)?", re.IGNORECASE)
"""How the boards are sawn may stand with the name of the wood: "cherry, quartersawn"."""
CUTS = {"quarter": Cut.QUARTERSAWN, "flat": Cut.FLATSAWN, "plain": Cut.FLATSAWN, "rift": Cut.RIFTSAWN}


WHERE = {
    CONFIRMED: "Wood Handbook, Table 13-5",
    DERIVED: "from its shrinkage, Wood Handbook, Table 4-3",
    UNCONFIRMED: "Wood Handbook, Table 13-5, not confirmed",
}
"""Where the coefficient of a wood stands, by how sure it is."""


class Placed(NamedTuple):
    """A part where it stands in the piece."""

    line: Line
    part: Part
    stands: Placement

    def grain(self) -> int:
        """The axis in space that its grain runs along: 0, 1 or 2."""
        return _axis(self.stands, 0)

    def across(self) -> int:
        """The axis in space that its width lies along."""
        return _axis(self.stands, 1)


def _axis(stands: Placement, own: int) -> int:
    return next(axis for axis, way in enumerate(stands.directions()[own]) if way)


@cache
def moves_by(species: str, cut: Cut = Cut.UNKNOWN) -> Fraction | None:
    """The change of a width per point of moisture, as a share of it; None for a wood that is not in the table.

    >>> moves_by("cherry"), moves_by("cherry, quartersawn"), moves_by("birch plywood")
    (Fraction(31, 12500), Fraction(63, 50000), None)
    """
    name, cut = _sawn(species, cut)
    return max((coefficient(wood, cut) for wood in candidates(name)), default=None)


def counted_for(species: str, cut: Cut = Cut.UNKNOWN) -> str:
    """Which wood, which cut and which number were taken, and where that stands; empty for a wood not in the table.

    >>> counted_for("cherry, quartersawn")
    'Counted for black cherry, quartersawn: 0.00126 of the width for each point (Wood Handbook, Table 13-5).'
    """
    name, cut = _sawn(species, cut)
    woods = candidates(name)
    if not woods:
        return ""
    wood = max(woods, key=lambda one: coefficient(one, cut))
    said = "flatsawn, as nothing else is said" if cut is Cut.UNKNOWN else str(cut)
    share = float(coefficient(wood, cut))
    where = WHERE[wood.coefficients_are]
    return f"Counted for {wood.name}, {said}: {share:g} of the width for each point ({where})."


def _sawn(species: str, cut: Cut) -> tuple[str, Cut]:
    """The name of a wood without how it is sawn, and that; `cut` where the name does not say it."""
    sawn = SAWN.search(species)
    return (SAWN.sub("", species), CUTS[sawn[1].lower()]) if sawn else (species, cut)


def faults(job: Job, seasons: Seasons, cut: Cut = Cut.UNKNOWN, habits: Habits = PRINTED) -> tuple[Fault, ...]:
    """What the seasons would do to the parts of a job, a sentence each with the number that is wrong and one that would
    do; what is the same for all parts of a line is said once.

    `cut` is how the boards are sawn, where the name of the wood does not say it.
    """
    stands = standing(job)
    placed = {
        part.key: Placed(line, part, stands[part.key])
        for line in job.lines if min(line.stock) > 0
        for part in line.parts if part.key in stands
    }  # fmt: skip
    year = Year(job, seasons, cut, placed, habits)
    found = (*year.panels(), *year.held(), *year.slots(), *openings(year))
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True)
class Year:
    """A job over the seasons."""

    job: Job
    seasons: Seasons
    cut: Cut
    placed: dict[str, Placed]
    habits: Habits = PRINTED

    def rate(self, line: Line) -> Fraction | None:
        return moves_by(line.species or self.job.species, self.cut)

    def with_basis(self, do: str, line: Line) -> str:
        """What to do, and by which numbers of the wood that was worked out."""
        return f"{do} {counted_for(line.species or self.job.species, self.cut)}".rstrip()

    def size(self, nm: Length | Fraction) -> str:
        return f"{write(rounded_for_show(nm, self.job.unit), self.job.unit, 64)} {self.job.unit.value}"

    def halves(self) -> Iterator[tuple[Placed, Feature, Placed, Feature]]:
        """Every joint of parts that stand in space: what enters with its feature, and what takes it with its own."""
        for joint in self.job.joints:
            enters, takes = (self._half(half) for half in (joint.enters, joint.takes))
            if enters and takes:
                yield *enters, *takes

    def _half(self, half: Half) -> tuple[Placed, Feature] | None:
        at = self.placed.get(half.part)
        feature = next((one for one in at.line.features if one.key == half.feature), None) if at else None
        return (at, feature) if at and feature else None

    # --- panels in their grooves ---

    def panels(self) -> Iterator[Fault]:
        """Panels with a groove at both long edges: bottomed out in the damp, or fallen out in the dry."""
        edges: dict[str, dict[Face, tuple[Length, Length]]] = {}
        for own, feature, mate, theirs in self.halves():
            if isinstance(feature, Tongue) and isinstance(theirs, Groove) and feature.face not in ENDS:
                space = own.stands.own(mate.stands.box(theirs.box(mate.line.stock)))
                width = own.line.width
                gap = -space.y0 if feature.face is Face.FACE_EDGE else space.y1 - width
                edges.setdefault(own.part.key, {})[feature.face] = (gap, space.y1 - space.y0)
        for key, sides in edges.items():
            line = self.placed[key].line
            rate = self.rate(line)
            if len(sides) < 2 or rate is None:
                continue
            (one, deep), (other, depth) = sides.values()
            groove, clearance = min(deep, depth), (one + other) // 2  # it is held at its middle
            try:
                panel_fit(
                    line.width - 2 * (groove - clearance), groove, clearance, rate, self.seasons, self.job.unit,
                    self.habits,
                )  # fmt: skip
            except PanelRefused as refused:
                yield Fault(f'line "{line.key}", width', refused.what, self.with_basis(refused.do, line))

    # --- wide wood that is held ---

    def held(self) -> Iterator[Fault]:
        """Wide wood in a joint whose mate does not move with it, and cannot let it move."""
        loose = {
            own.part.key
            for own, feature, _, theirs in self.halves()
            if isinstance(feature, Tongue) and feature.face not in ENDS and isinstance(theirs, Groove)
        }
        for own, feature, mate, theirs in self.halves():
            if own.part.key in loose:
                continue  # a panel or a drawer bottom slides in its grooves
            if own.across() == mate.grain() and isinstance(feature, Tenon | Tongue) and feature.face in ENDS:
                box = feature.box(own.line.stock)
                wide = box.y1 - box.y0
                yield from self._too_wide(own.line, f"its {feature.kind} {feature.key}", wide, mate)
            if mate.across() == own.grain() and isinstance(theirs, Dado) and theirs.face not in ENDS:
                box = theirs.box(mate.line.stock)
                wide = min(box.y1, mate.line.width) - max(box.y0, 0)
                yield from self._too_wide(mate.line, f"its dado {theirs.key}", wide, own)

    def _too_wide(self, line: Line, joint: str, wide: Length, other: Placed) -> Iterator[Fault]:
        rate = self.rate(line)
        points = max(self.seasons.gain, self.seasons.loss)
        limit, single = (self.habits.of(fact, self.job.unit) for fact in (HELD, WIDEST_TENON))
        if rate is None or wide < single or wide * rate * points <= limit:
            return
        most = max(int(limit / (rate * points)), single)
        yield Fault(
            f'line "{line.key}", {joint}',
            f"{self.size(wide)} of width are held across the grain by {other.line.name}, and move "
            f"{self.size(wide * rate * points)} in a year",
            self.with_basis(
                f"Hold {self.size(most)} of it at most and let the rest move, in slots or without glue.", line
            ),
        )

    # --- slots for screws ---

    def slots(self) -> Iterator[Fault]:
        """Strips screwed across a wide board: slots that are too short, or screws in round holes only."""
        wide = [one for one in self.placed.values() if self.rate(one.line) is not None]
        for own in self.placed.values():
            stock = own.line.stock
            holes = [one for one in own.line.features if isinstance(one, Hole) and not one.depth]
            cut = [one for one in own.line.features if isinstance(one, Mortise) and not one.depth]
            faces = {one.face for one in holes} | {one.face for one in cut}
            if len(holes) + len(cut) < 2 or len(faces) != 1 or not holes:
                continue
            through = 2 if faces <= set(FACES) else 1
            block, grown = own.stands.box(whole(stock)), own.stands.box(_reaching(stock, through))
            for board in wide:
                there = board.stands.box(whole(board.line.stock))
                touching = overlap(grown, there) and not overlap(block, there)
                if touching and board.across() == own.grain() and board.part.key != own.part.key:
                    yield from self._screwed(own, holes, cut, board)

    def _screwed(self, own: Placed, holes: list[Hole], cut: list[Mortise], board: Placed) -> Iterator[Fault]:
        rate = self.rate(board.line)
        assert rate is not None
        held = [one.start for one in holes]
        apart = max(held) - min(held)
        if apart:
            yield from self._too_wide(board.line, "its screws", apart, own)
        middle = sum(held) // len(held)
        step = TENTH_MM if self.job.unit is Unit.MM else inch(1, 64)
        for one in cut:
            shank, centre = one.width, one.start + one.length // 2
            found = slot(shank, abs(centre - middle), rate, self.seasons)
            need = round_up(2 * max(found.inward, found.outward), step)
            if one.length < need:
                yield Fault(
                    f'line "{own.line.key}", {one.key}',
                    f"it is {self.size(one.length)} long, and {board.line.name} moves farther over the seasons",
                    self.with_basis(f"{self.size(need)} would do.", board.line),
                )


def _reaching(stock: Stock, axis: int) -> Box:
    """All of a part and a nanometre more on both sides of an axis, so that what touches it there overlaps."""
    sides = [list(pair) for pair in zip(whole(stock)[::2], whole(stock)[1::2], strict=True)]
    sides[axis][0] -= 1
    sides[axis][1] += 1
    return Box(*(place for side in sides for place in side))
