"""Where do the holes of a row lie?  Evenly between the first and the last, or one every so much.

Every place is a distance from the datum end and is rounded once, so that no error adds up from hole to hole.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from .length import Length
from .surface import Box, Face, Stock, sunk

__all__ = ["MOST_HOLES", "HoleRow"]

MOST_HOLES = 200
"""More holes in one row are surely a slip of the pen; a drawing shows the place of each."""


@dataclass(frozen=True)
class HoleRow:
    """A row of `count` equal holes: the middle of the first is `first` from the datum end, all lie `offset` across.

    Either `last` is given, and the others are divided evenly, or `pitch`, from middle to middle.  A depth of 0 means
    right through.

    >>> row = HoleRow("pins", Face.FACE_SIDE, first=10, count=4, offset=5, diameter=2, last=20)
    >>> row.places()
    (10, 13, 17, 20)
    """

    kind: ClassVar[str] = "hole row"
    key: str
    face: Face
    first: Length
    count: int
    offset: Length
    diameter: Length
    depth: Length = 0
    last: Length = 0
    pitch: Length = 0
    note: str = ""

    def places(self) -> tuple[Length, ...]:
        """The middles of the holes, rising from the datum end."""
        if self.pitch:
            return tuple(self.first + nth * self.pitch for nth in range(self.count))
        step = Fraction(self.last - self.first, max(self.count - 1, 1))
        return tuple(round(self.first + nth * step) for nth in range(self.count))

    def end(self) -> Length:
        """The middle of the last hole."""
        return self.first + (self.count - 1) * self.pitch if self.pitch else self.last

    def box(self, stock: Stock) -> Box:
        """The block round all holes."""
        half = self.diameter // 2
        along = self.end() - self.first + self.diameter
        return sunk(self.face, self.first - half, along, self.offset - half, self.diameter, self.depth, stock)

    def boxes(self, stock: Stock) -> tuple[Box, ...]:
        """The block round each hole."""
        half = self.diameter // 2
        row = self.box(stock)
        return tuple(row._replace(x0=at - half, x1=at - half + self.diameter) for at in self.places())
