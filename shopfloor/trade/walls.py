"""Is enough wood left between the cuts?  Walls that are too thin, and mortises that meet inside the leg.

Each joint may be right by itself and the leg still fall apart: two mortises in neighbouring faces take the same wood.
Every fault names the two features and how much is missing, and proposes what would do.  Where a cut comes out of the
part is asked first (breakouts.py); a thin wall is a warning, and keeps no document from being saved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from . import length
from .across import OPPOSITE
from .breakouts import feature_faults
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .fault import Fault
from .length import Length
from .part import (
    EDGES,
    ENDS,
    FACES,
    Box,
    Dado,
    Face,
    Feature,
    Groove,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Stock,
    Unit,
)
from .sources import CUSTOM
from .surface import overlap

__all__ = ["FACTS", "LEAST_WALL", "Meeting", "faults", "meetings", "thin_walls"]

LEAST_WALL = Fact(
    key="wall-least", subject="joints", name="Wood left beside or behind a mortise, groove or dado, at least",
    value=inch(1, 8), range=(inch(1, 16), inch(1, 4)), metric=mm("3"), metric_range=(mm("1.5"), mm("6")),
    status=UNCONFIRMED, source=CUSTOM, note="Thirds of 3/4 in stock leave 1/4 in; a groove in thin stock leaves less.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (LEAST_WALL,)

Cavity = Mortise | LooseTenon | OpenMortise | Groove | Dado
ENCLOSED = (Mortise, LooseTenon, OpenMortise)
"""They hold a tenon all round, and nothing else may run into them."""


class Meeting(NamedTuple):
    """Two cuts from different surfaces that take the same wood: their keys, the block that both take, and how deep
    either may go before it meets the other as it is (0: not at all)."""

    one: Cavity
    other: Cavity
    shared: Box
    one_at_most: Length
    other_at_most: Length


def faults(line: Line, unit: Unit = Unit.INCH, least: Length = LEAST_WALL.value) -> tuple[Fault, ...]:
    """Everything about a line's cuts that its wood does not bear: break-outs, cuts that meet, walls under `least`."""

    def size(nm: Length) -> str:
        return length.write_exact(abs(nm), unit)

    where = f'line "{line.key}"'
    out: list[Fault] = []
    kept: list[Feature] = []
    for feature in line.features:
        broken = list(feature_faults(feature, line.stock, f'{where}, feature "{feature.key}"', size))
        out += broken
        kept += [] if broken else [feature]
    sound = replace(line, features=tuple(kept))
    out += [_meeting(found, line.stock, where, size, least) for found in meetings(sound)]
    out += thin_walls(sound, where, size, least)
    return tuple(out)


# --- cuts that meet ------------------------------------------------------------------------------------------------


def meetings(line: Line) -> tuple[Meeting, ...]:
    """The cuts from different surfaces that meet inside the part.

    Cuts in the same surface may run into each other: a groove into a mortise is meant.  So are an open channel and
    another one round the corner from it, but not two grooves: their panels would meet.
    """
    found = []
    for one, other in combinations(_cavities(line), 2):
        if not _bear_no_meeting(one, other):
            continue
        shared = overlap(one.box(line.stock), other.box(line.stock))
        if shared:
            found.append(Meeting(one, other, shared, *_at_most(one, other, line.stock)))
    return tuple(found)


def _cavities(line: Line) -> list[Cavity]:
    return [feature for feature in line.features if isinstance(feature, Cavity)]


def _bear_no_meeting(one: Cavity, other: Cavity) -> bool:
    if one.face is other.face:
        return False
    if isinstance(one, ENCLOSED) or isinstance(other, ENCLOSED) or one.face is OPPOSITE[other.face]:
        return True
    return isinstance(one, Groove) and isinstance(other, Groove)


def _at_most(one: Cavity, other: Cavity, stock: Stock) -> tuple[Length, Length]:
    """How deep either may be as long as the other stays."""
    return _to(one.face, other.box(stock), stock), _to(other.face, one.box(stock), stock)


def _to(face: Face, box: Box, stock: Stock) -> Length:
    """How far it is from a surface to the near side of a block."""
    match face:
        case Face.FACE_SIDE:
            return box.z0
        case Face.BACK:
            return stock.thickness - box.z1
        case Face.FACE_EDGE:
            return box.y0
        case Face.FAR_EDGE:
            return stock.width - box.y1
        case Face.DATUM_END:
            return box.x0
        case _:
            return stock.length - box.x1


def _meeting(found: Meeting, stock: Stock, where: str, size: Callable[[int], str], least: Length) -> Fault:
    one, other = found.one, found.other
    axis = _axis(one.face)
    over = found.shared[2 * axis + 1] - found.shared[2 * axis]
    what = f'its {one.kind} and the {other.kind} "{other.key}" meet inside: {size(over)} of the wood goes for both'
    if one.face is OPPOSITE[other.face]:
        room = (_depth_of(stock, axis) - least) // 2
        do = f"Make each {size(room)} deep at most: that leaves {size(least)} between them." if room > 0 else ""
    elif found.one_at_most > 0 and found.other_at_most > 0:
        deep = f"{size(found.one_at_most)} and {size(found.other_at_most)}"
        deep = size(found.one_at_most) if found.one_at_most == found.other_at_most else deep
        do = f"Make them {deep} deep at most, or mitre the two tenons where they meet."
    else:
        do = "Move one of them along the part or to the other side."
    return Fault(f'{where}, feature "{one.key}"', what, do)


def _axis(face: Face) -> int:
    return 2 if face in FACES else 1 if face in EDGES else 0


def _depth_of(stock: Stock, axis: int) -> Length:
    return (stock.length, stock.width, stock.thickness)[axis]


# --- walls ---------------------------------------------------------------------------------------------------------


def thin_walls(line: Line, where: str, size: Callable[[int], str], least: Length) -> Iterator[Fault]:
    """Wood under `least` between a cut and a surface, or between two cuts."""
    stock = line.stock
    for one in _cavities(line):
        box = one.box(stock)
        for face in _walled(one):
            wall = _to(face, box, stock)
            if 0 < wall < least:
                what = f"only {size(wall)} of wood is left between this {one.kind} and the {face}"
                yield Fault(f'{where}, feature "{one.key}"', what, _needs(wall, least, size))
    for one, other in combinations(_cavities(line), 2):
        gap = _gap(one.box(stock), other.box(stock))
        if gap is not None and gap < least and (gap > 0 or _bear_no_meeting(one, other)):
            left = f"only {size(gap)} of wood is left" if gap else "no wood is left"
            what = f'{left} between this {one.kind} and the {other.kind} "{other.key}"'
            yield Fault(f'{where}, feature "{one.key}"', what, _needs(gap, least, size))


def _needs(wall: Length, least: Length, size: Callable[[int], str]) -> str:
    return f"It needs {size(least)}: {size(least - wall)} more."


def _walled(feature: Cavity) -> tuple[Face, ...]:
    """The surfaces towards which a cut has a wall: not the one it is cut into, nor those that it is open to."""
    match feature:
        case OpenMortise():
            return FACES
        case Groove():
            beside = EDGES if feature.face in FACES else FACES
            return (*beside, OPPOSITE[feature.face])
        case Dado():
            return (*ENDS, OPPOSITE[feature.face])
        case _:
            return tuple(face for face in Face if face is not feature.face)


def _gap(one: Box, other: Box) -> Length | None:
    """The wood between two blocks that face each other; None if they meet or face past each other."""
    apart = [max(one[axis] - other[axis + 1], other[axis] - one[axis + 1]) for axis in (0, 2, 4)]
    facing = [gap for gap in apart if gap >= 0]
    return facing[0] if len(facing) == 1 else None
