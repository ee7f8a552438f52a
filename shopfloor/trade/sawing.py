"""How is one board sawn?  Its cuts in the order in which they are made, and the pieces that they leave.

A board lies flat, its marked end to the left: x runs along it from the marked end, y across it from the reference edge.
Piece 0 is the board itself; each cut names the piece that it cuts and the one or two that it gives.  Pieces that no cut
cuts are parts, offcuts or waste.  A cut takes away a kerf from `at` on.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from .length import Length

__all__ = ["Area", "BoardPlan", "Cut", "Piece", "Role", "Way"]

Area = int
"""Square nanometres: a board of 2 m by 200 mm has 4 x 10**17 of them."""


class Way(StrEnum):
    """Which way a cut runs: a rip along the board (`at` is a y), a crosscut across it (`at` is an x)."""

    RIP = "rip"
    CROSSCUT = "crosscut"


class Role(StrEnum):
    """What a piece is.  Boards, sections, strips and blocks are cut further, and so is the rest of one of them from
    which more is to come; the others are what remains."""

    BOARD = "board"
    SECTION = "section"
    STRIP = "strip"
    BLOCK = "block"
    REST = "rest"
    PART = "part"
    OFFCUT = "offcut"
    WASTE = "waste"


@dataclass(frozen=True)
class Piece:
    """A rectangle of the board.  `part` is the key of the part, if it is one."""

    number: int
    role: Role
    x: Length
    y: Length
    length: Length
    width: Length
    part: str = ""

    @property
    def area(self) -> Area:
        return self.length * self.width


@dataclass(frozen=True)
class Cut:
    """One cut.  It takes `at` to `at + kerf` from piece `of` and leaves the piece `low` before it and `high` beyond
    it; a side on which nothing is left is None.  `number` counts from 1 in the order in which the cuts of the board
    are made."""

    number: int
    way: Way
    at: Length
    of: int
    low: int | None
    high: int | None


@dataclass(frozen=True)
class BoardPlan:
    """What comes out of one board.  `pieces[n]` has the number n."""

    board: str
    area: Area
    pieces: tuple[Piece, ...]
    cuts: tuple[Cut, ...]

    def line(self, cut: Cut) -> Length:
        """Where the line of a cut is drawn: along the edge of what is kept, the kerf on its waste side.

        Both sides kept: the line is that of the lower piece, and the kerf lies beyond it.
        """
        low = self.pieces[cut.low] if cut.low is not None else None
        if cut.high is None or (low is not None and low.role is not Role.WASTE):
            return cut.at
        high = self.pieces[cut.high]
        return high.y if cut.way is Way.RIP else high.x

    @property
    def parts(self) -> tuple[Piece, ...]:
        """The parts, from the marked end on, and from the reference edge on where they begin together."""
        return tuple(sorted((p for p in self.pieces if p.role is Role.PART), key=lambda p: (p.x, p.y)))

    @property
    def offcuts(self) -> tuple[Piece, ...]:
        """What is kept, the longest first."""
        found = [p for p in self.pieces if p.role is Role.OFFCUT]
        return tuple(sorted(found, key=lambda p: (-p.length, -p.width, p.x, p.y)))
