"""How do two parts pass through each other's place?  Half lap, bridle, dovetail: from where the parts stand.

Here no size has to be told that space tells: where the two bodies would overlap, either gives way.
"""

from __future__ import annotations

from dataclasses import dataclass

from .fit import FLUSH, Fit, thinned
from .joint import BadJoint, Member, Pair, facing, outward, parallel, surface_at
from .lap import Bridle, HalfLap, OpenMortise
from .length import Length
from .part import ENDS, FACES, Box, Face, Pins, Stock, Tails
from .surface import overlap

__all__ = ["BridleJoint", "DovetailJoint", "HalfLapJoint"]


def _common(one: Member, other: Member) -> Box:
    """The space that both bodies want, where they stand."""
    shared = overlap(one.block(), other.block())
    if shared is None:
        raise BadJoint("the two parts do not overlap anywhere")
    return shared


def _all_over(own: Box, stock: Stock, face: Face, what: str) -> None:
    """Raises BadJoint unless a block in a part's own axes reaches from side to side of a surface."""
    size, (low, high) = (stock.width, own[2:4]) if face in FACES else (stock.thickness, own[4:6])
    if low > 0 or high < size:
        raise BadJoint(f"the mate covers only part of the {face}", f"{what} goes all the way over.")


@dataclass(frozen=True)
class HalfLapJoint:
    """Two laps where two parts cross or end on each other.

    `face` is the surface of the part that enters into which its lap is cut, `depth` how deep; 0 means half of what
    both have in common.  The mate loses the rest from the opposite side.
    """

    enters_key: str
    takes_key: str
    face: Face
    depth: Length = 0

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint unless each part crosses the other all the way."""
        if self.face in ENDS:
            raise BadJoint("a lap is cut into a face or an edge", "Name one of the four long surfaces.")
        shared = _common(enters, takes)
        own, there = enters.stands.own(shared), takes.stands.own(shared)
        mate = facing(outward(self.face, enters.stands), takes.stands)
        if mate in ENDS:
            raise BadJoint(f"the lap would be cut into the {mate} of its mate", "Turn one of the parts.")
        _all_over(own, enters.stock, self.face, "A lap")
        _all_over(there, takes.stock, mate, "A lap")
        # From the surface down to where the two share wood, and half of that; the mate has the rest.
        begins, ends = surface_at(self.face, own, enters.stock)
        depth = self.depth or begins + (ends - begins) // 2
        if not begins < depth < ends:
            raise BadJoint("this depth leaves one of the parts whole", "Take about half.")
        _, from_mate = surface_at(mate, there, takes.stock)
        return Pair(
            (HalfLap(self.enters_key, self.face, own.x0, own.x1 - own.x0, depth),),
            (HalfLap(self.takes_key, mate, there.x0, there.x1 - there.x0, from_mate - (depth - begins)),),
        )


@dataclass(frozen=True)
class BridleJoint:
    """A tongue on the part that enters, straddled by an open mortise at `end` of its mate.

    `thickness` and `offset` are the slot's, from `face` of the part that enters (its face side, or its face edge for a
    part on edge); the tongue is thinner by the fit.  The slot is as deep as the mate reaches over the tongue, and
    deeper by `beyond`.
    """

    bridle: str
    slot: str
    end: Face
    offset: Length
    thickness: Length
    fit: Fit = FLUSH
    face: Face = Face.FACE_SIDE

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint unless the mate ends on the part and stands square over its tongue."""
        shared = _common(enters, takes)
        own, there = enters.stands.own(shared), takes.stands.own(shared)
        _all_over(own, enters.stock, self.face, "A bridle")
        begins, depth = surface_at(self.end, there, takes.stock)
        if begins or depth >= takes.stock.length:
            raise BadJoint(f"the mate's {self.end} does not end on the part")
        axis = enters.stands.directions()[2 if self.face in FACES else 1]
        if not parallel(axis, takes.stands.directions()[2]):
            raise BadJoint("the slot would lie across the tongue", "Turn one of the parts.")
        near = self.fit.thickness // 2
        offset, tongue = thinned(self.offset, self.thickness, self.fit.thickness)
        if tongue <= 0:
            raise BadJoint("the fit leaves no tongue", "Take a thicker tongue or a tighter fit.")
        bridle = Bridle(self.bridle, self.face, own.x0, own.x1 - own.x0, offset, tongue)
        slot = bridle.box(enters.stock)
        low = 4 if self.face in FACES else 2
        wide = list(slot)
        wide[low] -= near
        wide[low + 1] += self.fit.thickness - near
        inside = takes.stands.own(enters.stands.box(Box(*wide)))
        return Pair(
            (bridle,),
            (OpenMortise(self.slot, self.end, depth + self.fit.depth, inside.z0, inside.z1 - inside.z0),),
        )


@dataclass(frozen=True)
class DovetailJoint:
    """Tails at `end` of the part that enters, pins at `pins_end` of its mate.

    `count` tails with pins of width `pin` and half pins of `half_pin`, measured where they are narrowest, 1 in
    `slope`.  Where the tails' end stands short of the mate's far side the joint is half-blind, and the lap stays whole.
    """

    tails: str
    pins: str
    end: Face
    pins_end: Face
    count: int
    pin: Length
    half_pin: Length
    slope: int = 8

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint unless the parts meet at their ends, width beside width."""
        shared = _common(enters, takes)
        own, there = enters.stands.own(shared), takes.stands.own(shared)
        if not parallel(enters.stands.directions()[1], takes.stands.directions()[1]):
            raise BadJoint("the widths do not lie beside each other", "Turn one of the parts.")
        for member, block, end, name in ((enters, own, self.end, "tails"), (takes, there, self.pins_end, "pins")):
            if surface_at(end, block, member.stock)[0]:
                raise BadJoint(f"the {end} with the {name} does not end on the mate")
        into = facing(outward(self.end, enters.stands), takes.stands)
        begins, depth = surface_at(into, there, takes.stock)
        if into not in FACES or begins:
            raise BadJoint("the tails do not come to a face of the mate", "Turn one of the parts.")
        length = own.x1 - own.x0
        numbers = (self.count, self.pin, self.half_pin)
        tails = Tails(self.tails, self.end, length, *numbers, self.slope, *_of_width(own, enters.stock))
        blind = 0 if depth >= takes.stock.thickness else depth
        pins = Pins(
            self.pins, self.pins_end, into, there.x1 - there.x0, *numbers, blind, self.slope,
            *_of_width(there, takes.stock),
        )  # fmt: skip
        tails.tails(enters.stock)  # raises BadDovetail if no wood is left for them
        return Pair((tails,), (pins,))


def _of_width(own: Box, stock: Stock) -> tuple[Length, Length]:
    """Where across a part the joint begins and how wide it is; 0 and 0 for all of it."""
    return (0, 0) if (own.y0, own.y1) == (0, stock.width) else (own.y0, own.y1 - own.y0)
