"""Which surface of a part, and what block of space?  The words that everything cut into a part is given in.

A part has its own axes: x along the length from the datum end, y across the width from the face edge, z through
the thickness from the face side.  So its six surfaces are the face side (z = 0), the back (z = T), the face edge
(y = 0), the far edge (y = W), the datum end (x = 0) and the far end (x = L).
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import NamedTuple

from .length import Length

__all__ = ["EDGES", "ENDS", "FACES", "Box", "Face", "Stock", "end_span", "overlap", "sunk", "whole", "without"]


class Face(StrEnum):
    """The six surfaces of a part, by the trade's names."""

    FACE_SIDE = "face side"
    BACK = "back"
    FACE_EDGE = "face edge"
    FAR_EDGE = "far edge"
    DATUM_END = "datum end"
    FAR_END = "far end"


FACES = (Face.FACE_SIDE, Face.BACK)
EDGES = (Face.FACE_EDGE, Face.FAR_EDGE)
ENDS = (Face.DATUM_END, Face.FAR_END)


class Box(NamedTuple):
    """A block of space in a part's own axes: from (x0, y0, z0) to (x1, y1, z1), nanometres."""

    x0: Length
    x1: Length
    y0: Length
    y1: Length
    z0: Length
    z1: Length


class Stock(NamedTuple):
    """The finished size of a part, nanometres."""

    thickness: Length
    width: Length
    length: Length


def whole(stock: Stock) -> Box:
    """All of a part, before anything is cut into it."""
    return Box(0, stock.length, 0, stock.width, 0, stock.thickness)


def overlap(one: Box, other: Box) -> Box | None:
    """The space that two blocks share; None if there is none.

    >>> overlap(Box(0, 4, 0, 4, 0, 4), Box(1, 9, 2, 3, -5, 1))
    Box(x0=1, x1=4, y0=2, y1=3, z0=0, z1=1)
    """
    if one[0] >= other[1] or other[0] >= one[1] or one[2] >= other[3] or other[2] >= one[3]:
        return None
    if one[4] >= other[5] or other[4] >= one[5]:
        return None
    low = [max(one[axis], other[axis]) for axis in (0, 2, 4)]
    high = [min(one[axis], other[axis]) for axis in (1, 3, 5)]
    return Box(low[0], high[0], low[1], high[1], low[2], high[2])


def without(block: Box, space: Box) -> Iterator[Box]:
    """What is left of a block where a space is taken out of it, in up to six pieces.

    >>> list(without(Box(0, 9, 0, 4, 0, 4), Box(2, 20, -1, 5, 0, 4)))
    [Box(x0=0, x1=2, y0=0, y1=4, z0=0, z1=4)]
    """
    common = overlap(block, space)
    if common is None:
        yield block
        return
    low, high = list(block[::2]), list(block[1::2])
    for axis in range(3):
        for start, end in ((low[axis], common[2 * axis]), (common[2 * axis + 1], high[axis])):
            if start < end:
                piece = [(a, z) for a, z in zip(low, high, strict=True)]
                piece[axis] = (start, end)
                yield Box(*(place for side in piece for place in side))
        low[axis], high[axis] = common[2 * axis], common[2 * axis + 1]


def end_span(face: Face, length: Length, stock: Stock) -> tuple[Length, Length]:
    """From where to where along the part something reaches that is `length` long at an end."""
    return (0, length) if face is Face.DATUM_END else (stock.length - length, stock.length)


def sunk(face: Face, start: Length, length: Length, offset: Length, across: Length, depth: Length, stock: Stock) -> Box:
    """The block that a cut into `face` takes away; a depth of 0 goes right through.

    `start` and `length` run along the part, `offset` and `across` over the surface: on a face along y from the face
    edge, on an edge along z from the face side.  Raises ValueError for an end, where nothing runs along the part.
    """
    x0, x1 = start, start + length
    if face in FACES:
        deep = depth or stock.thickness
        z0, z1 = (0, deep) if face is Face.FACE_SIDE else (stock.thickness - deep, stock.thickness)
        return Box(x0, x1, offset, offset + across, z0, z1)
    if face in EDGES:
        deep = depth or stock.width
        y0, y1 = (0, deep) if face is Face.FACE_EDGE else (stock.width - deep, stock.width)
        return Box(x0, x1, y0, y1, offset, offset + across)
    raise ValueError(f"a cut into the {face} has no start along the part")
