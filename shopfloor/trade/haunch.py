"""How is a tenon haunched at a corner, where a rail comes to the end of a stile or a leg?

The tenon keeps clear of the mate's end, and a haunch beside it holds the rest of the rail: it fills the groove that
runs out there, or has a short pocket of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .habit import PRINTED, Habits
from .joint import BadJoint, Member, MortiseAndTenon, outward, parallel
from .length import Length
from .part import EDGES, ENDS, FACES, Box, Face, Feature, Groove, Unit
from .proportions import CORNER_SHARE, GROOVE_DEPTH, HORN, corner_tenon_width, groove_depth
from .proposal import haunched
from .rounding import round_down, told
from .surface import overlap, whole

__all__ = ["Corner", "corner_of"]


@dataclass(frozen=True)
class Corner:
    """Where a rail and the end of its mate meet: `beside` is the rail's edge that lies towards that end, `grooved` how
    deep a groove the rail has along its other edge, and `grooves` are those of the mate that run the whole way past the
    rail, behind its face side and its back."""

    enters: Member
    takes: Member
    beside: Face
    grooved: Length = 0
    grooves: tuple[Groove, ...] = ()

    @property
    def inner(self) -> Face:
        """The rail's edge that looks away from the corner."""
        return EDGES[1 - EDGES.index(self.beside)]

    def proposed(
        self, tenons: tuple[MortiseAndTenon, ...], step: Length, unit: Unit = Unit.INCH, habits: Habits = PRINTED
    ) -> tuple[MortiseAndTenon, ...]:  # fmt: skip
        """The tenons of a rail, the one at the corner with its haunch.

        In a groove all are as thick as it is wide and lie in it, and the haunch is as long as it is deep; otherwise it
        is as long as a groove would be deep there, and less than half of the tenon.  A single tenon has its share of
        the rail's width, the haunch the rest of it up to the edge; beside one of two, it takes the edge shoulder.
        Raises BadJoint or BadProportion where no wood is left.
        """
        groove = next(iter(self.grooves), None)
        if groove:
            space = self.enters.stands.own(self.takes.stands.box(groove.box(self.takes.stock)))
            tenons = tuple(replace(each, offset=space.z0, thickness=space.z1 - space.z0) for each in tenons)
        nth = 0 if self.beside is Face.FACE_EDGE else len(tenons) - 1
        joint, wide = tenons[nth], self.enters.stock.width
        length = groove.depth if groove else self._pocket(joint, step, unit, habits)
        if length >= joint.length:
            raise BadJoint("the groove is as deep as the tenon is long", "Make the groove shallower.")
        before, behind = joint.edge_offset, wide - joint.edge_offset - joint.width
        width, inside = (before, behind) if self.beside is Face.FACE_EDGE else (behind, before)
        if len(tenons) == 1:
            share = corner_tenon_width(wide, inside, habits.of(CORNER_SHARE, unit))
            width = wide - inside - (round_down(share, step) or share)
        found = self.settled(haunched(joint, self.enters, length, self.beside, width))
        return (*tenons[:nth], found, *tenons[nth + 1 :])

    def settled(self, joint: MortiseAndTenon) -> MortiseAndTenon:
        """The same sizes, the tenon right beside its haunch, and a pocket unless a groove holds the haunch."""
        if not joint.haunch_length:
            return joint
        wide, room = self.enters.stock.width, joint.haunch_width
        low = room if self.beside is Face.FACE_EDGE else wide - room - joint.width
        joint = replace(joint, edge_offset=low)
        haunch = joint.own_half().haunch(self.enters.stock)
        sunk = haunch is not None and not self._filled(self._from_shoulder(joint, haunch))
        return replace(joint, haunch_sunk=sunk)

    def _pocket(self, joint: MortiseAndTenon, step: Length, unit: Unit, habits: Habits) -> Length:
        """How long a haunch is that has no groove to fill."""
        wanted = groove_depth(joint.thickness, habits.of(GROOVE_DEPTH, unit))
        most = round_down((joint.length + joint.fit.depth) // 2 - joint.fit.depth, step)
        if most <= 0:
            raise BadJoint("the tenon is too short for a haunch", "Leave the haunch out.")
        return min(wanted, most)

    def _from_shoulder(self, joint: MortiseAndTenon, haunch: Box) -> Box:
        """The haunch in the rail's axes, moved so that its shoulder stands on the mate; the rail stands there with its
        end."""
        first = joint.end is Face.DATUM_END
        off = -joint.length if first else joint.length
        return haunch._replace(x0=haunch.x0 + off, x1=haunch.x1 + off)

    def _filled(self, haunch: Box) -> bool:
        space = overlap(self.takes.stands.own(self.enters.stands.box(haunch)), whole(self.takes.stock))
        return space is not None and any(overlap(space, each.box(self.takes.stock)) == space for each in self.grooves)


def corner_of(
    comes: tuple[Member, Iterable[Feature]], mate: tuple[Member, Iterable[Feature]], face: Face, unit: Unit,
    habits: Habits = PRINTED,
) -> Corner:  # fmt: skip
    """The corner of two parts with their cuts; the end of the rail stands on the mate's `face`.

    Raises BadJoint where it is none: the mate goes on by more than a horn, or the rail lies across it.
    """
    (enters, own), (takes, cuts) = comes, mate
    if not parallel(enters.stands.directions()[1], takes.stands.directions()[0]):
        raise BadJoint(
            "the rail lies across its mate, where a haunch has no place", "Let its breadth run along the mate."
        )
    there = takes.stands.own(enters.block())
    long = takes.stock.length
    before, beyond = there.x0, long - there.x1
    if min(before, beyond) > habits.of(HORN, unit):
        nearest, last = told(min(before, beyond), unit), told(long - enters.stock.width, unit)
        raise BadJoint(
            f"a haunch is for a corner, and the mate goes on {nearest} past the rail",
            f"Let the rail begin 0 or {last} from its datum end, or leave the haunch out.",
        )
    end = ENDS[0] if before <= beyond else ENDS[1]
    beside = next(edge for edge in EDGES if outward(edge, enters.stands) == outward(end, takes.stands))
    inner = EDGES[1 - EDGES.index(beside)]
    grooved = max((each.depth for each in own if isinstance(each, Groove) and each.face is inner), default=0)
    past = [each for each in cuts if isinstance(each, Groove) and each.face is face and _runs_past(each, there, takes)]
    return Corner(enters, takes, beside, grooved, tuple(past))


def _runs_past(groove: Groove, rail: Box, takes: Member) -> bool:
    """Whether a groove goes by the whole breadth of a rail that stands over it, and no farther than its thickness."""
    box = groove.box(takes.stock)
    if box.x0 > max(rail.x0, 0) or box.x1 < min(rail.x1, takes.stock.length):
        return False
    low = 2 if groove.face in FACES else 4
    return rail[low] <= box[low] and box[low + 1] <= rail[low + 1]
