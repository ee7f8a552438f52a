"""How does a cut in one part follow from where another part stands?  Places in the piece, seen from a part.

A joint is laid out once, at the part that enters; the other half is found by looking at the same block of space from
the part that takes it.  So the two halves coincide by construction, for either hand.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..length import Length
from ..part import AXES, Box, Dado, Face, Feature, Groove, Mortise, Placement, Stock

__all__ = ["Cut", "faced", "feature_of", "from_inside", "mirrored", "outward"]

_NAMES = {way: name for name, way in AXES.items()}

_OUTWARD = {
    Face.DATUM_END: (0, -1), Face.FAR_END: (0, 1), Face.FACE_EDGE: (1, -1), Face.FAR_EDGE: (1, 1),
    Face.FACE_SIDE: (2, -1), Face.BACK: (2, 1),
}  # fmt: skip
"""Which own axis each surface looks along, and which way."""


@dataclass(frozen=True)
class Cut:
    """What a part must take: a block of space and the direction ("+X") in which it is sunk into the part.

    `kind` is Mortise, Groove or Dado.  The block's near end does not matter: the cut starts at the part's surface.
    """

    part: str
    key: str
    kind: type[Mortise] | type[Groove] | type[Dado]
    box: Box
    way: str


def mirrored(stands: Placement, between: Length) -> Placement:
    """The same part at the other side: reflected left to right in the middle of a width `between`.

    >>> left = Placement("-Z -X +Y", (5, 0, 9))
    >>> mirrored(left, 26), mirrored(mirrored(left, 26), 26) == left
    (Placement(axes='-Z +X +Y', at=(21, 0, 9)), True)
    """
    flip = {"+X": "-X", "-X": "+X"}
    x, y, z = stands.at
    return Placement(" ".join(flip.get(name, name) for name in stands.axes.split()), (between - x, y, z))


def from_inside(stands: Placement, box: Box) -> Box:
    """A block of the assembly's space in the own axes of a part that stands in it: the inverse of Placement.box."""
    corners = ((box.x0, box.y0, box.z0), (box.x1, box.y1, box.z1))
    found: list[Length] = []
    for way in stands.directions():
        ends = (sum((corner[i] - stands.at[i]) * way[i] for i in range(3)) for corner in corners)
        found.extend(sorted(ends))
    return Box(*found)


def outward(stands: Placement, face: Face) -> str:
    """Where in the assembly a surface of a part looks.

    >>> outward(Placement("-Z -X +Y"), Face.DATUM_END)
    '+Z'
    """
    axis, sign = _OUTWARD[face]
    x, y, z = (sign * each for each in stands.directions()[axis])
    return _NAMES[x, y, z]


def faced(stands: Placement, way: str) -> Face:
    """The surface of a part that something moving along `way` meets first."""
    return next(face for face in _OUTWARD if AXES[outward(stands, face)] == tuple(-each for each in AXES[way]))


def feature_of(cut: Cut, stands: Placement, stock: Stock) -> Feature:
    """A cut as a feature of the part that takes it, in the words of the bench."""
    box = from_inside(stands, cut.box)
    face = faced(stands, cut.way)
    axis, sign = _OUTWARD[face]
    size = (stock.length, stock.width, stock.thickness)[axis]
    depth = size - box[2 * axis] if sign > 0 else box[2 * axis + 1]
    low, high = (2, 3) if face in (Face.FACE_SIDE, Face.BACK) else (4, 5)
    start, length, offset, across = box.x0, box.x1 - box.x0, box[low], box[high] - box[low]
    if cut.kind is Mortise:
        return Mortise(cut.key, face, start, length, offset, across, 0 if depth >= size else depth)
    if cut.kind is Groove:
        whole = start <= 0 and box.x1 >= stock.length
        return Groove(cut.key, face, offset, across, depth, *((0, 0) if whole else (start, length)))
    all_over = stock.width if face in (Face.FACE_SIDE, Face.BACK) else stock.thickness
    offset, across = (0, 0) if offset <= 0 and offset + across >= all_over else (offset, across)
    return Dado(cut.key, face, start, length, depth, offset, across)
