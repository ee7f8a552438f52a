"""What does one definition of a joint give?  The features of both mates, with the clearance of the fit.

A joint is laid out on the part that enters, in the words of the bench; the other half is the same block of space, grown
by the fit, seen from its mate.  So the two coincide for either hand and however the parts stand, and nothing is typed
twice.  Laps and dovetails are in corner_joint.py, proposals for the sizes in proposal.py.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ..errors import ShopError
from .fit import SNUG, Fit, thinned
from .length import Length, write_exact
from .part import (
    ENDS,
    FACES,
    Box,
    Dado,
    Face,
    Feature,
    Groove,
    LooseTenon,
    Mortise,
    Placement,
    Stock,
    Tenon,
    Tongue,
    Unit,
)
from .surface import end_span

__all__ = [
    "BadJoint", "LooseTenonJoint", "Member", "MortiseAndTenon", "Pair", "TongueJoint", "facing", "grown", "housed",
    "outward", "parallel", "surface_at",
]  # fmt: skip


class BadJoint(ShopError):
    """Parts that stand so that the joint cannot be made."""

    code = "bad-joint"

    def __init__(self, what: str, do: str = "Move one of the parts.") -> None:
        super().__init__(what, where="joint", do=do)


class Member(NamedTuple):
    """A part as a joint sees it: its finished size, and where it stands; both members in the same axes."""

    stock: Stock
    stands: Placement

    def block(self) -> Box:
        """All of the part, where it stands."""
        return self.stands.box(Box(0, self.stock.length, 0, self.stock.width, 0, self.stock.thickness))


class Pair(NamedTuple):
    """The features that a joint gives: those of the part that enters, and those of the part that takes it.  The first
    of each is the one that the joint names."""

    enters: tuple[Feature, ...]
    takes: tuple[Feature, ...]


# --- surfaces in space -------------------------------------------------------------------------------------------

_LOOKS = {
    Face.DATUM_END: (0, -1), Face.FAR_END: (0, 1), Face.FACE_EDGE: (1, -1), Face.FAR_EDGE: (1, 1),
    Face.FACE_SIDE: (2, -1), Face.BACK: (2, 1),
}  # fmt: skip
"""Along which own axis each surface looks, and which way."""


def outward(face: Face, stands: Placement) -> tuple[int, int, int]:
    """Where in space a surface of a part looks."""
    axis, sign = _LOOKS[face]
    x, y, z = stands.directions()[axis]
    return sign * x, sign * y, sign * z


def facing(way: tuple[int, int, int], stands: Placement) -> Face:
    """The surface of a part that something coming along `way` meets first."""
    against = tuple(-step for step in way)
    return next(face for face in Face if outward(face, stands) == against)


def surface_at(face: Face, block: Box, stock: Stock) -> tuple[Length, Length]:
    """Of a block in a part's own axes: how far below a surface it begins, and how far it reaches."""
    axis, sign = _LOOKS[face]
    size = (stock.length, stock.width, stock.thickness)[axis]
    low, high = block[2 * axis], block[2 * axis + 1]
    return (low, high) if sign < 0 else (size - high, size - low)


def grown(block: Box, fit: Fit, end: Face) -> Box:
    """A tenon's block in its own axes, larger by the fit: in width, in thickness, and beyond its tip."""
    wide, thick = fit.width // 2, fit.thickness // 2
    x0, x1 = (block.x0 - fit.depth, block.x1) if end is Face.DATUM_END else (block.x0, block.x1 + fit.depth)
    y1, z1 = block.y1 + fit.width - wide, block.z1 + fit.thickness - thick
    return Box(x0, x1, block.y0 - wide, y1, block.z0 - thick, z1)


def _meets(end: Face, shoulder: Box, enters: Member, takes: Member) -> Face:
    """The surface of `takes` that the shoulder at an end of `enters` stands on.  Raises BadJoint if it stands off."""
    face = facing(outward(end, enters.stands), takes.stands)
    begins, _ = surface_at(face, takes.stands.own(enters.stands.box(shoulder)), takes.stock)
    if begins:
        way = "off" if begins < 0 else "inside"
        raise BadJoint(f"the shoulder stands {write_exact(abs(begins), Unit.MM)} {way} the {face} of its mate")
    return face


# --- mortise and tenon -------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class MortiseAndTenon:
    """A tenon at `end` and its mortise.

    `length` and `width` are the tenon's, `edge_offset` its distance from the face edge.  `thickness` and `offset` are
    the mortise's width and its distance behind the face side of the part that enters: a cutter's width, so that the
    tenon is what is fitted, thinner by the fit.  A tenon as long as its mate is thick goes through.

    A haunch fills a groove of its mate, or with `haunch_sunk` a shallow mortise of its own; where that would come out
    of the mate's end it is a short groove that runs out there.
    """

    tenon: str
    mortise: str
    end: Face
    length: Length
    offset: Length
    thickness: Length
    edge_offset: Length
    width: Length
    fit: Fit = SNUG
    haunch_length: Length = 0
    haunch_width: Length = 0
    haunch_beside: Face = Face.FACE_EDGE
    haunch_sunk: bool = False

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint unless the shoulder stands on a face or an edge of the mate."""
        tenon = self.own_half()
        if tenon.thickness <= 0:
            raise BadJoint("the fit leaves no tenon", "Take a thicker tenon or a tighter fit.")
        box = tenon.box(enters.stock)
        face = _meets(self.end, box, enters, takes)
        pockets: list[Feature] = [_mortise(self.mortise, face, grown(box, self.fit, self.end), enters, takes)]
        haunch = tenon.haunch(enters.stock)
        if haunch and self.haunch_sunk:
            key = f"{self.mortise}-haunch"
            pockets.append(
                _open_at_an_end(_mortise(key, face, grown(haunch, self.fit, self.end), enters, takes), takes)
            )
        return Pair((tenon,), tuple(pockets))

    def own_half(self) -> Tenon:
        """The tenon, with its haunch."""
        return Tenon(
            self.tenon, self.end, self.length, *thinned(self.offset, self.thickness, self.fit.thickness),
            self.edge_offset, self.width, self.haunch_length, self.haunch_width, self.haunch_beside,
        )  # fmt: skip


def _open_at_an_end(pocket: Mortise, takes: Member) -> Mortise | Groove:
    """A pocket as it is, or the groove that it is where it comes out of an end of its part."""
    first, last = max(pocket.start, 0), min(pocket.start + pocket.length, takes.stock.length)
    if (first > 0 and last < takes.stock.length) or last <= first or not pocket.depth:
        return pocket
    return Groove(pocket.key, pocket.face, pocket.offset, pocket.width, pocket.depth, first, last - first)


def _mortise(key: str, face: Face, block: Box, enters: Member, takes: Member) -> Mortise:
    start, length, offset, across, depth = _sunk(face, block, enters, takes)
    size = takes.stock.thickness if face in FACES else takes.stock.width
    return Mortise(key, face, start, length, offset, across, 0 if depth >= size else depth)


def _sunk(face: Face, block: Box, enters: Member, takes: Member) -> tuple[Length, Length, Length, Length, Length]:
    """A block of the entering part's axes as a cut into `face`: start, length, offset, across and depth."""
    own = takes.stands.own(enters.stands.box(block))
    if face in ENDS:
        raise BadJoint(f"the tenon comes to the {face} of its mate", "Let it enter a face or an edge.")
    low = 2 if face in FACES else 4
    _, depth = surface_at(face, own, takes.stock)
    return own.x0, own.x1 - own.x0, own[low], own[low + 1] - own[low], depth


@dataclass(frozen=True)
class LooseTenonJoint:
    """Two mortises, mouth to mouth, for a loose tenon: one in `end` of the part that enters, one in its mate.

    `width` along the width from `edge_offset` behind the face edge, `thickness` from `offset` behind the face side;
    `depth` in the end, `mate_depth` in the mate.  The loose tenon is as long as both are deep, less the fit's depth.
    """

    enters_key: str
    takes_key: str
    end: Face
    offset: Length
    thickness: Length
    edge_offset: Length
    width: Length
    depth: Length
    mate_depth: Length
    fit: Fit = SNUG

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint unless the end stands on a face or an edge of the mate."""
        tenon = self.depth + self.mate_depth - self.fit.depth
        own = LooseTenon(
            self.enters_key, self.end, self.edge_offset, self.width, self.offset, self.thickness, self.depth, tenon
        )
        x0, x1 = end_span(self.end, 0, enters.stock)
        at = own.box(enters.stock)._replace(x0=x0, x1=x1)
        face = _meets(self.end, at, enters, takes)
        first = self.end is Face.DATUM_END
        beyond = at._replace(x0=-self.mate_depth) if first else at._replace(x1=x1 + self.mate_depth)
        start, length, offset, across, depth = _sunk(face, beyond, enters, takes)
        return Pair((own,), (LooseTenon(self.takes_key, face, start, length, offset, across, depth, tenon),))


# --- groove and tongue, dado -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class TongueJoint:
    """A tongue along an edge or an end, and the channel that takes it: a groove, or a dado if it crosses the grain.

    `length` is how far the tongue stands out.  `offset` and `thickness` are the channel's, behind the face side of the
    part that enters; the tongue is thinner by the fit, and the channel deeper than the tongue reaches by the fit's
    depth.  A panel's shoulder may stand off its frame: it needs room to move.  The channel runs through from end to
    end (or edge to edge), unless `stopped`.
    """

    tongue: str
    channel: str
    along: Face
    length: Length
    offset: Length
    thickness: Length
    fit: Fit = SNUG
    stopped: bool = False

    def made(self, enters: Member, takes: Member) -> Pair:
        """Both halves.  Raises BadJoint if the tongue does not reach into a face or an edge of the mate."""
        near = self.fit.thickness // 2
        lies = thinned(self.offset, self.thickness, self.fit.thickness)
        tongue = Tongue(self.tongue, self.along, self.length, *lies)
        if tongue.thickness <= 0:
            raise BadJoint("the fit leaves no tongue", "Take a thicker tongue or a tighter fit.")
        box = tongue.box(enters.stock)
        face = facing(outward(self.along, enters.stands), takes.stands)
        if face in ENDS:
            raise BadJoint(f"the tongue comes to the {face} of its mate", "Let it enter a face or an edge.")
        block = self._channel(box, near)
        own = takes.stands.own(enters.stands.box(block))
        begins, depth = surface_at(face, own, takes.stock)
        if begins > 0 or depth <= self.fit.depth:
            raise BadJoint(f"the tongue does not reach the {face} of its mate")
        # The channel is as wide as the tongue is thick: whichever way that lies says whether it follows the grain.
        crosses = parallel(enters.stands.directions()[2], takes.stands.directions()[0])
        return Pair((tongue,), (self._cut(face, own, depth, crosses),))

    def _channel(self, box: Box, near: Length) -> Box:
        block = box._replace(z0=box.z0 - near, z1=box.z1 + self.fit.thickness - near)
        match self.along:
            case Face.DATUM_END:
                return block._replace(x0=block.x0 - self.fit.depth)
            case Face.FAR_END:
                return block._replace(x1=block.x1 + self.fit.depth)
            case Face.FACE_EDGE:
                return block._replace(y0=block.y0 - self.fit.depth)
            case _:
                return block._replace(y1=block.y1 + self.fit.depth)

    def _cut(self, face: Face, own: Box, depth: Length, crosses: bool) -> Groove | Dado:
        low = 2 if face in FACES else 4
        start, length, offset, across = own.x0, own.x1 - own.x0, own[low], own[low + 1] - own[low]
        if crosses:
            return Dado(self.channel, face, start, length, depth, *((offset, across) if self.stopped else ()))
        return Groove(self.channel, face, offset, across, depth, *((start, length) if self.stopped else ()))


def parallel(one: tuple[int, int, int], other: tuple[int, int, int]) -> bool:
    return any(a and b for a, b in zip(one, other, strict=True))


def housed(end: str, dado: str, at: Face, depth: Length, stock: Stock, fit: Fit = SNUG) -> TongueJoint:
    """A shelf whose whole end stands in a dado: the channel is wider than the shelf is thick by the fit."""
    return TongueJoint(end, dado, at, depth, -(fit.thickness // 2), stock.thickness + fit.thickness, fit)
