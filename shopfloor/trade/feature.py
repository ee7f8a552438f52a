"""What is cut into a part, or left standing on it?  Mortise, groove, dado, rabbet, tenon, tongue and hole.

Each says where it is in the words of the bench: the surface it is cut into, where it starts from the datum end, how
far it lies from the face side or the face edge, and its sizes.  `box` says the same in the part's axes.  For a cut it
is the wood that goes away; for a tenon or a tongue it is the wood that stays and enters the mate.

"Across" means: on a face (face side, back) distances across run along y from the face edge; on an edge (face edge,
far edge) they run along z from the face side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from .length import Length
from .surface import ENDS, FACES, Box, Face, Stock, end_span, sunk

__all__ = ["Dado", "Groove", "Hole", "LooseTenon", "Mortise", "Rabbet", "Tenon", "Tongue"]


@dataclass(frozen=True)
class Mortise:
    """A pocket in a face or an edge: `start` and `length` along the part, `offset` and `width` across, `depth` into it.

    A depth of 0 means right through.
    """

    kind: ClassVar[str] = "mortise"
    key: str
    face: Face
    start: Length
    length: Length
    offset: Length
    width: Length
    depth: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        return sunk(self.face, self.start, self.length, self.offset, self.width, self.depth, stock)


@dataclass(frozen=True)
class LooseTenon:
    """A mortise for a loose tenon: one pocket in each mate, and a piece of wood, `tenon` long, that fills both.

    On a face or an edge it is given like a mortise.  On an end, `start` and `length` run across the width from the
    face edge, `offset` and `width` through the thickness from the face side, and `depth` into the end grain.
    """

    kind: ClassVar[str] = "loose tenon"
    key: str
    face: Face
    start: Length
    length: Length
    offset: Length
    width: Length
    depth: Length
    tenon: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        if self.face not in ENDS:
            return sunk(self.face, self.start, self.length, self.offset, self.width, self.depth, stock)
        x0, x1 = end_span(self.face, self.depth, stock)
        return Box(x0, x1, self.start, self.start + self.length, self.offset, self.offset + self.width)


@dataclass(frozen=True)
class Groove:
    """A channel along the grain, `offset` and `width` across the surface; a `length` of 0 means to the far end."""

    kind: ClassVar[str] = "groove"
    key: str
    face: Face
    offset: Length
    width: Length
    depth: Length
    start: Length = 0
    length: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        length = self.length or stock.length - self.start
        return sunk(self.face, self.start, length, self.offset, self.width, self.depth, stock)


@dataclass(frozen=True)
class Dado:
    """A channel across the grain: `start` and `width` along the part; `offset` and `across` 0 mean all the way over."""

    kind: ClassVar[str] = "dado"
    key: str
    face: Face
    start: Length
    width: Length
    depth: Length
    offset: Length = 0
    across: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        over = stock.width if self.face in FACES else stock.thickness
        return sunk(
            self.face, self.start, self.width, self.offset, self.across or over - self.offset, self.depth, stock
        )


@dataclass(frozen=True)
class Rabbet:
    """A step taken off the arris where `face` meets `along`: `depth` into the face, `width` in from `along`.

    `along` is an edge, or an end (then it is cut across the grain).  `start` and `length` stop it short along an edge.
    """

    kind: ClassVar[str] = "rabbet"
    key: str
    face: Face
    along: Face
    width: Length
    depth: Length
    start: Length = 0
    length: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        z0, z1 = (0, self.depth) if self.face is Face.FACE_SIDE else (stock.thickness - self.depth, stock.thickness)
        if self.along in ENDS:
            return Box(*end_span(self.along, self.width, stock), 0, stock.width, z0, z1)
        y0, y1 = (0, self.width) if self.along is Face.FACE_EDGE else (stock.width - self.width, stock.width)
        return Box(self.start, self.start + (self.length or stock.length - self.start), y0, y1, z0, z1)


@dataclass(frozen=True)
class Tenon:
    """What is left standing at an end: `length` out from the shoulder, `thickness` from `offset` behind the face side,
    `width` from `edge_offset` in from the face edge.

    Beside it, `haunch_length` out from the shoulder and `haunch_width` wide, a haunch may fill a groove; it is as
    thick as the tenon, and `haunch_beside` says towards which edge it lies.  A stub tenon is a short one.  It has a
    shoulder on each side where it is not flush: see `shoulders`.
    """

    kind: ClassVar[str] = "tenon"
    key: str
    face: Face
    length: Length
    offset: Length
    thickness: Length
    edge_offset: Length
    width: Length
    haunch_length: Length = 0
    haunch_width: Length = 0
    haunch_beside: Face = Face.FACE_EDGE
    note: str = ""

    def box(self, stock: Stock) -> Box:
        x0, x1 = end_span(self.face, self.length, stock)
        return Box(x0, x1, self.edge_offset, self.edge_offset + self.width, self.offset, self.offset + self.thickness)

    def haunch(self, stock: Stock) -> Box | None:
        """The wood of the haunch, or None if there is none."""
        if not (self.haunch_length and self.haunch_width):
            return None
        own, at = self.box(stock), self.shoulder(stock)
        x0, x1 = (at - self.haunch_length, at) if self.face is Face.DATUM_END else (at, at + self.haunch_length)
        before = self.haunch_beside is Face.FACE_EDGE
        y0, y1 = (own.y0 - self.haunch_width, own.y0) if before else (own.y1, own.y1 + self.haunch_width)
        return Box(x0, x1, y0, y1, own.z0, own.z1)

    def shoulder(self, stock: Stock) -> Length:
        """Where the shoulder line is, from the datum end."""
        return self.length if self.face is Face.DATUM_END else stock.length - self.length

    def shoulders(self, stock: Stock) -> tuple[Face, ...]:
        """The sides on which it has a shoulder: two, three or four of them, or fewer where it is flush."""
        box = self.box(stock)
        left = {
            Face.FACE_SIDE: box.z0, Face.BACK: stock.thickness - box.z1,
            Face.FACE_EDGE: box.y0, Face.FAR_EDGE: stock.width - box.y1,
        }  # fmt: skip
        return tuple(face for face, wood in left.items() if wood > 0)


@dataclass(frozen=True)
class Tongue:
    """What is left standing along an edge or an end of a panel: `length` out from the shoulder, `thickness` from
    `offset` behind the face side, over the whole edge."""

    kind: ClassVar[str] = "tongue"
    key: str
    face: Face
    length: Length
    offset: Length
    thickness: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        z0, z1 = self.offset, self.offset + self.thickness
        if self.face in ENDS:
            return Box(*end_span(self.face, self.length, stock), 0, stock.width, z0, z1)
        y0, y1 = (0, self.length) if self.face is Face.FACE_EDGE else (stock.width - self.length, stock.width)
        return Box(0, stock.length, y0, y1, z0, z1)


@dataclass(frozen=True)
class Hole:
    """A round hole, its centre `start` from the datum end and `offset` across; a depth of 0 means right through."""

    kind: ClassVar[str] = "hole"
    key: str
    face: Face
    start: Length
    offset: Length
    diameter: Length
    depth: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        half = self.diameter // 2
        return sunk(self.face, self.start - half, self.diameter, self.offset - half, self.diameter, self.depth, stock)
