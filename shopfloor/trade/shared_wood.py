"""Which cuts of a part take the same wood, and which of them are meant to?

A groove may run into a mortise that is cut into the same surface, a dado across a groove, and tongues meet at a
panel's corners.  A mortise that another pocket or a rabbet runs into holds its tenon no more.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from math import isqrt
from typing import NamedTuple

from .across import OPPOSITE
from .fault import Fault
from .gaps import Gap, Near, nearest, taken
from .length import Length
from .part import (
    EDGES,
    FACES,
    Box,
    Dado,
    EdgeNote,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Stock,
    Taper,
)
from .rounding import round_down, round_up
from .surface import overlap
from .voids import stands_at_an_end

__all__ = ["CHANNELS", "ENCLOSED", "HOLES", "Meeting", "bear_no_meeting", "cut_out", "meeting_fault", "meetings",
           "paired", "these", "to_surface"]  # fmt: skip

ENCLOSED = (Mortise, LooseTenon, OpenMortise)
"""They hold a tenon all round, and nothing else may run into them."""
HOLES = (Hole, HoleRow)
CHANNELS = (Groove, Dado, Rabbet, HalfLap)
"""Open along their whole length: they may cross each other."""
_HAS_A_DEPTH = (*ENCLOSED, *HOLES, *CHANNELS)

Size = Callable[[int], str]


class Meeting(NamedTuple):
    """Two cuts that take the same wood: the block that both take, how deep either may go before it meets the other as
    it is (0: not at all), and the block of each there."""

    one: Feature
    other: Feature
    shared: Box
    one_at_most: Length
    other_at_most: Length
    spaces: tuple[Box, Box]


def cut_out(line: Line) -> list[Feature]:
    """The features that take wood away inside the part.  Softened arrises are notes, and what goes away round a tenon
    is looked at by itself."""
    return [each for each in line.features if not isinstance(each, EdgeNote) and not stands_at_an_end(each)]


def paired(line: Line) -> list[tuple[Feature, Feature, Near]]:
    """Every two cuts of a part, and where they come nearest to each other."""
    both = combinations([taken(each, line.stock) for each in cut_out(line)], 2)
    return [(a.feature, b.feature, near) for a, b in both if (near := nearest(a, b, line.stock))]


def meetings(line: Line, pairs: list[tuple[Feature, Feature, Near]] | None = None) -> tuple[Meeting, ...]:
    """The cuts that take the same wood and should not; `pairs` are those of `paired`, where they are known."""
    return tuple(
        found
        for one, other, near in (paired(line) if pairs is None else pairs)
        if near.apart.wide < 0
        and bear_no_meeting(one, other, line.stock)
        and (found := _meeting(one, other, near, line))
    )


def _meeting(one: Feature, other: Feature, near: Near, line: Line) -> Meeting | None:
    shared = overlap(near.one.box, near.other.box)
    stock = line.stock
    at_most = to_surface(one.face, near.other.box, stock), to_surface(other.face, near.one.box, stock)
    return Meeting(one, other, shared, *at_most, (near.one.box, near.other.box)) if shared else None


# --- which may not -------------------------------------------------------------------------------------------------


def bear_no_meeting(one: Feature, other: Feature, stock: Stock) -> bool:
    """Whether it is wrong that two cuts run into each other."""
    first, second = sorted((one, other), key=_rank)
    if isinstance(first, ENCLOSED):
        if isinstance(second, ENCLOSED):
            return not _beside_its_haunch(first, second, stock)
        return not isinstance(second, Groove | Dado) or not _mouths(first) & _mouths(second)
    if isinstance(first, HOLES):
        if isinstance(second, HOLES):
            return not _counterbored(first, second)
        # A screw or a pin goes through the floor of a channel; a hole along it opens its side.
        return isinstance(second, CHANNELS) and not {first.face, OPPOSITE[first.face]} & _mouths(second)
    opposite = one.face is OPPOSITE[other.face]
    if isinstance(first, CHANNELS) and isinstance(second, CHANNELS):
        if {type(first), type(second)} == {Rabbet, HalfLap}:  # a frame that is lapped at its corners and rabbeted
            return False
        return opposite or (isinstance(first, Groove) and isinstance(second, Groove) and one.face is not other.face)
    return (opposite and type(one) is type(other) is Taper) or (
        type(one) is type(other) is Pins and one.face is other.face
    )


def _rank(feature: Feature) -> int:
    order: tuple[tuple[type, ...], ...] = (ENCLOSED, HOLES, CHANNELS)
    return next((nth for nth, kinds in enumerate(order) if isinstance(feature, kinds)), len(order))


def _mouths(feature: Feature) -> set[Face]:
    """The surfaces that a cut is open to by its nature."""
    match feature:
        case Mortise() | Hole() | HoleRow() if feature.depth == 0:
            return {feature.face, OPPOSITE[feature.face]}
        case OpenMortise():
            return {feature.face, *EDGES}
        case Rabbet():
            return {feature.face, feature.along}
        case _:
            return {feature.face}


def _beside_its_haunch(one: Feature, other: Feature, stock: Stock) -> bool:
    """Whether one of two mortises is the shallow pocket of the haunch beside the other: in line with it, and into it
    by no more than the fit of the two."""
    if not (isinstance(one, Mortise) and isinstance(other, Mortise)) or one.face is not other.face:
        return False
    thick = depth_of(stock, axis_of(one.face))
    deep, shallow = sorted((one, other), key=lambda each: -(each.depth or thick))
    if not 0 < shallow.depth <= (deep.depth or thick) // 2:
        return False
    inline = (one.offset, one.width) == (other.offset, other.width)
    across = (one.start, one.length) == (other.start, other.length)
    over = (
        min(one.start + one.length, other.start + other.length) - max(one.start, other.start) if inline
        else min(one.offset + one.width, other.offset + other.width) - max(one.offset, other.offset)
    )  # fmt: skip
    return inline != across and over <= _FIT


_FIT: Length = 3_175_000
"""1/8 in: a mortise is longer than its tenon by no more."""


def _counterbored(one: Feature, other: Feature) -> bool:
    """Whether two holes are one: drilled at the same place, wider at its mouth."""
    if not (isinstance(one, Hole) and isinstance(other, Hole)):
        return False
    same = (one.start, one.offset) == (other.start, other.offset) and one.diameter != other.diameter
    return same and (one.face is other.face or one.face is OPPOSITE[other.face])


# --- what to do about it -------------------------------------------------------------------------------------------


def meeting_fault(found: Meeting, stock: Stock, where: str, size: Size, least: Length, step: Length) -> Fault:
    """The two by name, how much they both take, and what leaves `least` between them, in whole `step`s."""
    one, other = found.one, found.other
    axis = axis_of(one.face)
    over = found.shared[2 * axis + 1] - found.shared[2 * axis]
    if one.face is other.face:
        over = min(found.shared[2 * side + 1] - found.shared[2 * side] for side in range(3) if side != axis)
    what = f'its {one.kind} and the {other.kind} "{other.key}" meet inside: {size(over)} of the wood goes for both'
    return Fault(f'{where}, feature "{one.key}"', what, _do(found, stock, size, least, step))


def _do(found: Meeting, stock: Stock, size: Size, least: Length, step: Length) -> str:
    """What would do.  A mortise no deeper than two walls holds nothing, and is not proposed."""
    one, other = found.one, found.other
    move = "Move one of them along the part or to the other side."
    if any(isinstance(a, ENCLOSED) and isinstance(b, HOLES) for a, b in ((one, other), (other, one))):
        return "Move one of them, unless a pin is to hold the tenon there."
    if one.face is other.face and isinstance(one, _HAS_A_DEPTH) and isinstance(other, _HAS_A_DEPTH):
        return _aside(found, size, least, step)
    leaves = f"that leaves {size(least)} between them."
    if isinstance(one, ENCLOSED) and isinstance(other, ENCLOSED):
        if one.face is OPPOSITE[other.face]:
            room = round_down((depth_of(stock, axis_of(one.face)) - least) // 2, step)
            return f"Make each {size(room)} deep at most: {leaves}" if room > 2 * least else move
        # From corner to corner, where each stops short of the other by as much: the diagonal of a square.
        corner = Gap(0, corner=True).needs(least)
        short = isqrt(corner * corner // 2) + 1
        rooms = [round_down(most - short, step) for most in (found.one_at_most, found.other_at_most)]
        if min(rooms) <= 2 * least:
            return move
        deep = " and ".join(dict.fromkeys(size(room) for room in rooms))
        mitre = isinstance(one, Mortise | LooseTenon) and isinstance(other, Mortise | LooseTenon)
        tail = ", or mitre the two tenons where they meet." if mitre else "."
        return f"Make them {deep} deep at most{tail}"
    sides = [
        (one, found.one_at_most, f"this {one.kind}"),
        (other, found.other_at_most, f'the {other.kind} "{other.key}"'),
    ]
    ways = []
    for feature, most, name in sorted(sides, key=lambda side: _rank(side[0])):
        room = round_down(most - least, step)
        if isinstance(feature, _HAS_A_DEPTH) and room > (2 * least if isinstance(feature, ENCLOSED) else 0):
            ways.append(f"{name} {size(room)} deep at most")
    if isinstance(one, ENCLOSED) or isinstance(other, ENCLOSED):  # what holds a tenon gives way first
        ways = ways[:1]
    return f"Make {', or '.join(ways)}: {leaves}" if ways else move


def _aside(found: Meeting, size: Size, least: Length, step: Length) -> str:
    """Two cuts into one surface: how far one of them has to move to leave the other."""
    one, other = found.spaces
    axis = axis_of(found.one.face)
    ways = []
    for side, way in enumerate(("along the part", "across it", "across it")):
        if side != axis:
            low, high = 2 * side, 2 * side + 1
            far = round_up(min(one[high] - other[low], other[high] - one[low]) + least, step)
            ways.append(f"{size(far)} {way}")
    return f"Move one of them {', or '.join(ways)}: that leaves {size(least)} between them."


# --- surfaces ------------------------------------------------------------------------------------------------------


def axis_of(face: Face) -> int:
    """Across which axis a surface lies: 0 is x."""
    return 2 if face in FACES else 1 if face in EDGES else 0


def depth_of(stock: Stock, axis: int) -> Length:
    return (stock.length, stock.width, stock.thickness)[axis]


def to_surface(face: Face, box: Box, stock: Stock) -> Length:
    """How far it is from a surface to the near side of a block."""
    axis, far = axis_of(face), face in (Face.BACK, Face.FAR_EDGE, Face.FAR_END)
    return depth_of(stock, axis) - box[2 * axis + 1] if far else box[2 * axis]


def these(feature: Feature) -> str:
    """A feature as a sentence points at it: "this mortise", "these pins"."""
    return f"{'these' if feature.kind.endswith('s') else 'this'} {feature.kind}"
