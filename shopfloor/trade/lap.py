"""What lets two parts lie in one plane where they cross or meet?  Half lap, open mortise, bridle.

Of a lap both mates lose about half and keep the rest; the rest of one lies where the other was cut.  A bridle is a
tongue left between two cheeks, which an open mortise at the end of the mate straddles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from .length import Length
from .surface import FACES, Box, Face, Stock, end_span, sunk

__all__ = ["Bridle", "HalfLap", "OpenMortise"]


@dataclass(frozen=True)
class HalfLap:
    """A lap cut into a face or an edge, all the way over: `start` and `length` along the part, `depth` into it.

    At an end it starts at 0 or reaches the far end; in between it is a cross lap.  On an edge, parts on edge cross.
    """

    kind: ClassVar[str] = "half lap"
    key: str
    face: Face
    start: Length
    length: Length
    depth: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        over = stock.width if self.face in FACES else stock.thickness
        return sunk(self.face, self.start, self.length, 0, over, self.depth, stock)

    def left(self, stock: Stock) -> Box:
        """The wood that stays beside the cut, and lies where the mate was cut."""
        box = self.box(stock)
        match self.face:
            case Face.FACE_SIDE:
                return box._replace(z0=box.z1, z1=stock.thickness)
            case Face.BACK:
                return box._replace(z0=0, z1=box.z0)
            case Face.FACE_EDGE:
                return box._replace(y0=box.y1, y1=stock.width)
            case _:
                return box._replace(y0=0, y1=box.y0)


@dataclass(frozen=True)
class OpenMortise:
    """A slot in an end, open at both edges: `depth` in from the end, `width` from `offset` behind the face side."""

    kind: ClassVar[str] = "open mortise"
    key: str
    face: Face
    depth: Length
    offset: Length
    width: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        x0, x1 = end_span(self.face, self.depth, stock)
        return Box(x0, x1, 0, stock.width, self.offset, self.offset + self.width)


@dataclass(frozen=True)
class Bridle:
    """A tongue left between two cheeks, for an open mortise to straddle: `start` and `length` along the part,
    `thickness` from `offset` behind `face`, which is the face side or, for a part on edge, the face edge.

    The box is the wood that stays.  A shoulder may be on one side only.
    """

    kind: ClassVar[str] = "bridle"
    key: str
    face: Face
    start: Length
    length: Length
    offset: Length
    thickness: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        x0, x1 = self.start, self.start + self.length
        if self.face in FACES:
            return Box(x0, x1, 0, stock.width, self.offset, self.offset + self.thickness)
        return Box(x0, x1, self.offset, self.offset + self.thickness, 0, stock.thickness)

    def cheeks(self, stock: Stock) -> tuple[Box, ...]:
        """The wood that goes away on either side of the tongue."""
        box = self.box(stock)
        if self.face in FACES:
            both = box._replace(z0=0, z1=box.z0), box._replace(z0=box.z1, z1=stock.thickness)
        else:
            both = box._replace(y0=0, y1=box.y0), box._replace(y0=box.y1, y1=stock.width)
        return tuple(cheek for cheek in both if cheek.z1 > cheek.z0 and cheek.y1 > cheek.y0)
