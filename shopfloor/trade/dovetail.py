"""Where does each tail begin and end?  Dovetails, through and half-blind, every mark from the datum edge.

Tails flare along their board: wide at the end, narrow at the baseline.  Pins are what is left of the mate between the
sockets; they flare through its thickness.  Both boards are laid out by the same numbers: the pins' width where they
are narrowest, the half pins at the edges, how many tails, the slope, and how long the tails are.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar, NamedTuple

from ..errors import ShopError
from .length import Length
from .surface import Box, Face, Stock, end_span

__all__ = ["LEAST_SLOPE", "MOST_SLOPE", "MOST_TAILS", "BadDovetail", "Pins", "Tail", "Tails", "division"]

MOST_TAILS = 60
LEAST_SLOPE, MOST_SLOPE = 4, 12
"""1 in 4 is so steep that the corners of the tails break off, 1 in 12 so straight that it does not hold; the trade
uses 1:5 to 1:9, 1:6 in softwood and 1:8 in hardwood (case_joints.py)."""


class BadDovetail(ShopError):
    """Numbers that leave no wood for the tails."""

    code = "bad-dovetail"


class Tail(NamedTuple):
    """One tail, from the datum edge: from `start` to `end` at the end of the board, and at the baseline."""

    start: Length
    end: Length
    base_start: Length
    base_end: Length


def division(
    width: Length, count: int, pin: Length, half_pin: Length, length: Length, slope: int, offset: Length = 0
) -> tuple[Tail, ...]:
    """The tails over a `width` that starts `offset` from the datum edge, rising from there.

    `pin` is the width of a pin where it is narrowest, `half_pin` that of what stands at either edge; a tail is
    `length` long and each of its sides runs in by 1 for every `slope` of it.  What is left is shared evenly among the
    tails; each mark is worked out exactly and rounded once.  Raises BadDovetail where that leaves no wood.

    >>> [(tail.start, tail.end) for tail in division(width=100, count=2, pin=10, half_pin=5, length=16, slope=8)]
    [(5, 45), (55, 95)]
    >>> division(100, 2, 10, 5, 16, 8)[0][2:]
    (7, 43)
    """
    wide = Fraction(width - 2 * half_pin - (count - 1) * pin, count)
    leans = Fraction(length, slope)
    if wide <= 0 or wide <= 2 * leans:
        where, do = "dovetails", "Take fewer tails, narrower pins or a smaller slope."
        what = "no width is left for the tails" if wide <= 0 else "the tails would come to a point at the baseline"
        raise BadDovetail(what, where=where, do=do)
    tails = []
    for nth in range(count):
        start = offset + half_pin + nth * (wide + pin)
        ends = (start, start + wide, start + leans, start + wide - leans)
        tails.append(Tail(*(round(each) for each in ends)))
    return tuple(tails)


@dataclass(frozen=True)
class Tails:
    """Tails at an end, `length` from the baseline to the end: the mate's thickness, or less where they are half-blind.

    `count` tails with pins of width `pin` between them and `half_pin` at either edge, measured where they are
    narrowest; 1 in `slope`.  `offset` and `width` say which part of the width is dovetailed; a `width` of 0 means all
    the rest of it.  The box is the wood that stays and enters the mate.
    """

    kind: ClassVar[str] = "tails"
    key: str
    face: Face
    length: Length
    count: int
    pin: Length
    half_pin: Length
    slope: int = 8
    offset: Length = 0
    width: Length = 0
    note: str = ""

    def tails(self, stock: Stock) -> tuple[Tail, ...]:
        """The marks of every tail, from the face edge."""
        width = self.width or stock.width - self.offset
        return division(width, self.count, self.pin, self.half_pin, self.length, self.slope, self.offset)

    def shoulder(self, stock: Stock) -> Length:
        """Where the baseline is, from the datum end."""
        return self.length if self.face is Face.DATUM_END else stock.length - self.length

    def box(self, stock: Stock) -> Box:
        y1 = self.offset + (self.width or stock.width - self.offset)
        y0 = self.offset + self.half_pin
        return Box(*end_span(self.face, self.length, stock), y0, y1 - self.half_pin, 0, stock.thickness)

    def boxes(self, stock: Stock) -> tuple[Box, ...]:
        """The block round each tail."""
        own = self.box(stock)
        return tuple(own._replace(y0=tail.start, y1=tail.end) for tail in self.tails(stock))


@dataclass(frozen=True)
class Pins:
    """Sockets at an end, and the pins between them: `length` along the part, which is the mate's thickness, and
    `depth` in from the surface `into` that the tails enter by; a depth of 0 means right through.

    The other numbers are those of the tails.  A socket is narrow at the surface `into` and wide at its bottom.
    The box is the block round all sockets.
    """

    kind: ClassVar[str] = "pins"
    key: str
    face: Face
    into: Face
    length: Length
    count: int
    pin: Length
    half_pin: Length
    depth: Length = 0
    slope: int = 8
    offset: Length = 0
    width: Length = 0
    note: str = ""

    def tails(self, stock: Stock) -> tuple[Tail, ...]:
        """The marks of every socket, from the face edge: `start` and `end` at its bottom, `base` at the surface."""
        width, deep = self.width or stock.width - self.offset, self.depth or stock.thickness
        return division(width, self.count, self.pin, self.half_pin, deep, self.slope, self.offset)

    def box(self, stock: Stock) -> Box:
        deep = self.depth or stock.thickness
        z0, z1 = (0, deep) if self.into is Face.FACE_SIDE else (stock.thickness - deep, stock.thickness)
        y1 = self.offset + (self.width or stock.width - self.offset)
        y0 = self.offset + self.half_pin
        return Box(*end_span(self.face, self.length, stock), y0, y1 - self.half_pin, z0, z1)

    def boxes(self, stock: Stock) -> tuple[Box, ...]:
        """The block that goes away of each socket over its whole depth: its width at the surface."""
        return self._blocks(stock, lambda tail: (tail.base_start, tail.base_end))

    def bottoms(self, stock: Stock) -> tuple[Box, ...]:
        """The block round each socket: its width at the bottom."""
        return self._blocks(stock, lambda tail: (tail.start, tail.end))

    def _blocks(self, stock: Stock, sides: Callable[[Tail], tuple[Length, Length]]) -> tuple[Box, ...]:
        own = self.box(stock)
        return tuple(own._replace(y0=y0, y1=y1) for y0, y1 in map(sides, self.tails(stock)))
