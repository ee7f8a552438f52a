"""Do the two halves of a joint lie where they should?  What enters and what takes it, compared in space.

Whatever enters must lie in space that was cut in its mate, as far as it reaches into its mate's wood.  So one rule
holds for a tenon in its mortise, a panel in its groove and a lap in a lap.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from .breakouts import feature_faults
from .fault import Fault
from .length import Length
from .part import (
    Assembly,
    Box,
    Feature,
    Half,
    HalfLap,
    Job,
    Line,
    LooseTenon,
    Part,
    Pins,
    Placement,
    Stock,
    boxes,
)
from .rounding import told
from .surface import overlap, whole, without
from .voids import gone

__all__ = ["ROUNDED", "entering", "faults", "outside", "standing", "taking"]

ROUNDED: Length = 1
"""Dovetails are laid out from either edge, each mark rounded once: two halves may differ by a nanometre."""


def entering(feature: Feature, stock: Stock) -> tuple[Box, ...]:
    """The wood that enters the mate, in the part's own axes; of a loose tenon's mortise its own space."""
    return (feature.left(stock),) if isinstance(feature, HalfLap) else boxes(feature, stock)


def taking(feature: Feature, stock: Stock) -> tuple[Box, ...]:
    """The space that takes the mate, in the part's own axes; of dovetail sockets where they are widest."""
    return feature.bottoms(stock) if isinstance(feature, Pins) else gone(feature, stock)


def outside(block: Box, spaces: Iterable[Box]) -> Length:
    """How thick the wood is that a block has no space for: 0 if the spaces together hold it.  All in the same axes.

    >>> outside(Box(0, 9, 0, 9, 0, 9), [Box(0, 9, 1, 5, 0, 9), Box(0, 9, 5, 9, 0, 9)])
    1
    """
    left = [block]
    for space in spaces:
        left = [piece for one in left for piece in without(one, space)]
    return max((min(one[axis + 1] - one[axis] for axis in (0, 2, 4)) for one in left), default=0)


def standing(job: Job) -> dict[str, Placement]:
    """Where each part stands in the piece, by its key; parts that stand nowhere are left out."""
    known = {assembly.key: assembly for assembly in job.assemblies}
    found = {}
    for line in job.lines:
        around = list(_around(known.get(line.assembly), known))
        for part in line.parts:
            if part.stands is not None:
                stands = part.stands
                for assembly in around:
                    stands = stands.within(assembly.stands)
                found[part.key] = stands
    return found


def _around(assembly: Assembly | None, known: dict[str, Assembly]) -> Iterator[Assembly]:
    seen = set()
    while assembly is not None and assembly.key not in seen:
        seen.add(assembly.key)
        yield assembly
        assembly = known.get(assembly.within)


def faults(job: Job) -> tuple[Fault, ...]:
    """The joints of a job whose halves do not lie together, each with its distance.

    Parts that stand nowhere are taken on trust, and so is a feature that its part cannot have: soundness.py names it.
    """

    def size(nm: Length) -> str:
        return told(nm, job.unit)

    where: dict[str, tuple[Line, Part]] = {part.key: (line, part) for line in job.lines for part in line.parts}
    stands = standing(job)
    found = []
    for joint in job.joints:
        halves = []
        for half in (joint.enters, joint.takes):
            feature = _feature(half, where)
            if feature is not None and half.part in stands:
                halves.append(_Placed(feature, where[half.part][0], stands[half.part]))
        if len(halves) < 2:
            continue
        what = _apart(halves[0], halves[1], size)
        if what:
            mates = f'"{joint.enters.feature}" of "{joint.enters.part}" and "{joint.takes.feature}" of'
            do = "Move one of the two features, or one of the parts."
            found.append(Fault(f'joint "{joint.key}"', f'{mates} "{joint.takes.part}" {what}', do))
    return tuple(found)


def _feature(half: Half, where: dict[str, tuple[Line, Part]]) -> Feature | None:
    if half.part not in where:
        return None
    line = where[half.part][0]
    feature = next((one for one in line.features if one.key == half.feature), None)
    if feature is None or min(line.stock) <= 0 or any(feature_faults(feature, line.stock, "", str)):
        return None
    return feature


class _Placed(NamedTuple):
    """One half of a joint: its feature, the line it is of, and where the part stands in the piece."""

    feature: Feature
    line: Line
    stands: Placement


def _apart(enters: _Placed, takes: _Placed, size: Callable[[Length], str]) -> str:
    """What is wrong with how two halves lie, in words; empty if nothing is."""
    own = enters.line.stock
    blocks = [takes.stands.own(enters.stands.box(box)) for box in entering(enters.feature, own)]
    spaces = taking(takes.feature, takes.line.stock)
    if isinstance(enters.feature, LooseTenon) and isinstance(takes.feature, LooseTenon):
        return _loose(enters.feature, takes.feature, blocks[0], spaces[0], size)
    if not any(overlap(block, space) for block in blocks for space in spaces):
        return "do not meet"
    # A haunch lies in the groove beside the mortise, the corner of a drawer's bottom in the side's dado.
    others = [box for one in takes.line.features for box in gone(one, takes.line.stock)]
    inside = [found for block in blocks if (found := overlap(block, whole(takes.line.stock)))]
    over = max((outside(block, [*spaces, *others]) for block in inside), default=0)
    return f"lie {size(over)} off each other" if over > ROUNDED else ""


def _loose(one: LooseTenon, other: LooseTenon, block: Box, space: Box, size: Callable[[Length], str]) -> str:
    """A loose tenon: two pockets mouth to mouth, deep enough for it together."""
    touching = [axis for axis in (0, 2, 4) if block[axis] == space[axis + 1] or block[axis + 1] == space[axis]]
    if not touching:
        return "do not meet"
    off = min(
        max(abs(block[end] - space[end]) for axis in (0, 2, 4) if axis != mouth for end in (axis, axis + 1))
        for mouth in touching
    )
    if off:
        return f"lie {size(off)} off each other"
    long, room = max(one.tenon, other.tenon), one.depth + other.depth
    if one.tenon != other.tenon:
        return f"ask for loose tenons of {size(one.tenon)} and {size(other.tenon)}"
    return f"are {size(long - room)} too shallow for their loose tenon" if long > room else ""
