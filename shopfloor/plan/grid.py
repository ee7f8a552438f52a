"""On which grid does the search count?  Whole cells, so that every sum is exact and a bound can be checked in integers.

A part takes its size and one kerf, and a board has its size and one kerf: counted so, n parts in a row need no other
account of the cuts between them.  Where one step divides all that is given (inches on the tape, whole tenths of a
millimetre), the grid is exact.  Where it would be too fine, parts are rounded up and boards down, so that a plan is
always one that can be cut; the bound is then taken with parts rounded down and boards up, so that it stays true.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import gcd

from ..trade.length import Length

__all__ = ["MOST_ACROSS", "MOST_ALONG", "Grid", "grid_for"]

MOST_ALONG, MOST_ACROSS = 6400, 400
"""Cells of the longest board along and across: 16 ft are 6144 of 1/32 in, and 12 in are 384."""


@dataclass(frozen=True)
class Grid:
    """Cells of `step` nanometres."""

    step: Length
    exact: bool

    def part(self, size: Length) -> int:
        """Cells of what must find room, the kerf counted in: rounded up."""
        return -(-size // self.step)

    def room(self, size: Length) -> int:
        """Cells of room, the kerf counted in: rounded down."""
        return size // self.step

    def part_at_least(self, size: Length) -> int:
        """The same rounded down, for a bound."""
        return size // self.step

    def room_at_most(self, size: Length) -> int:
        """The same rounded up, for a bound."""
        return -(-size // self.step)


def grid_for(sizes: Iterable[Length], most: int) -> Grid:
    """A grid on which all these sizes lie; if it had more than `most` cells, a coarser one.

    >>> grid_for([12, 18, 60], 100), grid_for([12, 18, 61], 10)
    (Grid(step=6, exact=True), Grid(step=7, exact=False))
    """
    whole = [size for size in sizes if size]
    longest = max(whole, default=1)
    step = gcd(*whole) if whole else 1
    if longest // step <= most:
        return Grid(step, True)
    return Grid(-(-longest // most), False)
