"""What does a part look like as a few blocks?  Its body, the tenons and tongues that stand out, and where it is cut.

Cheap on purpose: cuts are shown where they open on a side that is seen, not taken out of the wood.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import Box, Face, Line, Placement

ENDS = (Face.DATUM_END, Face.FAR_END)
STANDS = ("tenon", "tongue", "tails")
"""What is left standing at an end or an edge, and enters the mate."""
NOT_SHOWN = ("bridle", "hole row", "taper", "chamfer", "roundover")
"""What is no block that goes away: it would be shown larger than it is."""
Corners = tuple[tuple[Length, Length, Length], ...]


class Block(NamedTuple):
    """A block of wood in the assembly's axes, and its cuts: each the space that goes away, clipped to the block."""

    box: Box
    cuts: tuple[Box, ...]
    grain: int
    """The axis that the grain runs along: 0 X, 1 Y, 2 Z."""

    def moved(self, by: tuple[Length, Length, Length]) -> Block:
        """The same block elsewhere, its cuts with it."""
        return Block(moved(self.box, by), tuple(moved(cut, by) for cut in self.cuts), self.grain)


def blocks(line: Line, stands: Placement) -> tuple[Block, ...]:
    """The blocks of one part where it stands, the body first.  What a tenon or tongue leaves standing is in no two."""
    stock = line.stock
    whole = Box(0, stock.length, 0, stock.width, 0, stock.thickness)
    body = whole
    standing = [feature for feature in line.features if feature.kind in STANDS]
    for feature in standing:
        box = feature.box(stock)
        match feature.face:
            case Face.DATUM_END:
                body = body._replace(x0=max(body.x0, box.x1))
            case Face.FAR_END:
                body = body._replace(x1=min(body.x1, box.x0))
            case Face.FACE_EDGE:
                body = body._replace(y0=max(body.y0, box.y1))
            case Face.FAR_EDGE:
                body = body._replace(y1=min(body.y1, box.y0))
    if body.x0 >= body.x1 or body.y0 >= body.y1:  # tenons that meet: nothing to tell apart
        body, standing = whole, []
    pieces = [body]
    for feature in standing:
        box = feature.box(stock)
        if feature.face not in ENDS:
            box = box._replace(x0=body.x0, x1=body.x1)
        left = common(box, whole)
        if left:
            pieces.append(left)
    cut = [feature.box(stock) for feature in line.features if feature.kind not in STANDS + NOT_SHOWN]
    grain = next(axis for axis, way in enumerate(stands.directions()[0]) if way)
    return tuple(
        Block(
            stands.box(piece),
            tuple(stands.box(gone) for box in cut if (gone := common(box, piece)) is not None),
            grain,
        )
        for piece in pieces
    )


def common(a: Box, b: Box) -> Box | None:
    """The space that two boxes share, or None."""
    box = Box(
        max(a.x0, b.x0), min(a.x1, b.x1), max(a.y0, b.y0), min(a.y1, b.y1), max(a.z0, b.z0), min(a.z1, b.z1)
    )  # fmt: skip
    return box if box.x0 < box.x1 and box.y0 < box.y1 and box.z0 < box.z1 else None


def openings(block: Block) -> Iterator[tuple[str, Corners]]:
    """Where the cuts of a block open on the sides that are seen: the side, and the corners of the opening."""
    box = block.box
    for cut in block.cuts:
        if cut.z1 == box.z1:
            yield "top", tuple((x, y, box.z1) for x, y in _round(cut.x0, cut.x1, cut.y0, cut.y1))
        if cut.y0 == box.y0:
            yield "front", tuple((x, box.y0, z) for x, z in _round(cut.x0, cut.x1, cut.z0, cut.z1))
        if cut.x1 == box.x1:
            yield "right", tuple((box.x1, y, z) for y, z in _round(cut.y0, cut.y1, cut.z0, cut.z1))


def _round(a0: Length, a1: Length, b0: Length, b1: Length) -> tuple[tuple[Length, Length], ...]:
    return (a0, b0), (a1, b0), (a1, b1), (a0, b1)


def moved(box: Box, by: tuple[Length, Length, Length]) -> Box:
    """The same block elsewhere."""
    x, y, z = by
    return Box(box.x0 + x, box.x1 + x, box.y0 + y, box.y1 + y, box.z0 + z, box.z1 + z)
