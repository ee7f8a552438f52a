"""What is done to a part after its joints?  Taper, chamfer, roundover: they take reference surfaces away, so they come
last."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from .length import Length
from .surface import EDGES, ENDS, FACES, Box, Face, Stock, end_span

__all__ = ["Chamfer", "EdgeNote", "Roundover", "Taper"]


@dataclass(frozen=True)
class Taper:
    """A wedge taken off a face or an edge: nothing at `start` from the datum end, `depth` at the end that it runs to.

    >>> Taper("t", Face.FACE_EDGE, start=20, depth=10).taken(60, Stock(30, 30, 100))
    5
    """

    kind: ClassVar[str] = "taper"
    key: str
    face: Face
    start: Length
    depth: Length
    to: Face = Face.FAR_END
    note: str = ""

    def span(self, stock: Stock) -> tuple[Length, Length]:
        """From where to where along the part it is cut."""
        return (self.start, stock.length) if self.to is Face.FAR_END else (0, self.start)

    def box(self, stock: Stock) -> Box:
        """The block that holds the wedge."""
        x0, x1 = self.span(stock)
        y0, y1, z0, z1 = 0, stock.width, 0, stock.thickness
        match self.face:
            case Face.FACE_SIDE:
                z1 = self.depth
            case Face.BACK:
                z0 = stock.thickness - self.depth
            case Face.FACE_EDGE:
                y1 = self.depth
            case _:
                y0 = stock.width - self.depth
        return Box(x0, x1, y0, y1, z0, z1)

    def taken(self, at: Length, stock: Stock) -> Length:
        """How much is gone at a distance from the datum end, rounded once."""
        x0, x1 = self.span(stock)
        run = at - x0 if self.to is Face.FAR_END else x1 - at
        return round(Fraction(self.depth * min(max(run, 0), x1 - x0), x1 - x0)) if x1 > x0 else 0


@dataclass(frozen=True)
class EdgeNote:
    """How the arris where `face` meets `along` is softened: `size` in from either surface.

    `along` is an edge or an end; `start` and `length` stop it short along an edge, a `length` of 0 means to the far
    end.  Nothing is measured from it and nothing enters it; it is a note at its place.
    """

    kind: ClassVar[str] = ""
    key: str
    face: Face
    along: Face
    size: Length
    start: Length = 0
    length: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        """The block at the arris that holds what goes away."""
        z0, z1 = (0, self.size) if self.face is Face.FACE_SIDE else (stock.thickness - self.size, stock.thickness)
        y0, y1 = 0, stock.width
        if self.face in EDGES:  # round an end, the arrises of the edges are softened too
            z0, z1 = 0, stock.thickness
            y0, y1 = (0, self.size) if self.face is Face.FACE_EDGE else (stock.width - self.size, stock.width)
        if self.along in ENDS:
            return Box(*end_span(self.along, self.size, stock), y0, y1, z0, z1)
        y0, y1 = (0, self.size) if self.along is Face.FACE_EDGE else (stock.width - self.size, stock.width)
        return Box(self.start, self.start + (self.length or stock.length - self.start), y0, y1, z0, z1)

    def is_arris(self) -> bool:
        """Whether the two surfaces meet: a face with an edge or an end, an edge with an end."""
        return self.along in ENDS + EDGES if self.face in FACES else self.face in EDGES and self.along in ENDS


@dataclass(frozen=True)
class Chamfer(EdgeNote):
    """An arris cut off at 45 degrees, `size` in from either surface."""

    kind: ClassVar[str] = "chamfer"


@dataclass(frozen=True)
class Roundover(EdgeNote):
    """An arris rounded to a radius of `size`."""

    kind: ClassVar[str] = "roundover"
