"""Which parts are alike, and in which shapes can each be cut?  Single parts and groups, as the search counts them.

A *lot* is a number of units that are the same to the saw: parts of one size, or groups of the same sizes.  A *shape*
is one way of cutting a unit: a block with its parts in it.  A group in sequence is a block as long as its parts and
the kerfs between them and as wide as the widest; side by side it is the other way round; neighbours have both shapes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..trade.length import Length
from .boards import Group, Kin, Saw, Wanted

Sizes = tuple[tuple[Length, Length], ...]

__all__ = ["Lot", "Member", "Shape", "lots_of"]


@dataclass(frozen=True)
class Member:
    """One part of a unit, where it lies in its block."""

    nth: int
    x: Length
    y: Length
    length: Length
    width: Length


@dataclass(frozen=True)
class Shape:
    """One way of cutting a unit.  `exact`: only from a strip of just its width, since it is too short to be ripped."""

    lot: int
    length: Length
    width: Length
    members: tuple[Member, ...]
    exact: bool


@dataclass(frozen=True)
class Lot:
    """Units that are alike: the keys of the parts of each, and the board that they are pinned to, if any."""

    number: int
    units: tuple[tuple[str, ...], ...]
    shapes: tuple[Shape, ...]
    show: bool
    board: str

    @property
    def count(self) -> int:
        return len(self.units)


def lots_of(wanted: Iterable[Wanted], groups: Iterable[Group], saw: Saw) -> tuple[Lot, ...]:
    """Parts and groups sorted into lots, the larger ones first.  A lot without a shape cannot be cut at all.

    The groups' parts are among those wanted, no part is in two groups, and all parts of a group may lie on one board.
    """
    parts = {part.key: part for part in wanted}
    alike: dict[tuple[Kin, Sizes, bool, str], list[tuple[str, ...]]] = {}
    grouped = set()
    for group in groups:
        grouped |= set(group.parts)
        own = [parts[key] for key in group.parts]
        board = next((part.board for part in own if part.board), "")
        sizes = tuple((part.length, part.width) for part in own)
        show = any(part.show for part in own)
        alike.setdefault((group.kin if len(own) > 1 else Kin.SEQUENCE, sizes, show, board), []).append(group.parts)
    for part in parts.values():
        if part.key not in grouped:
            own_size = ((part.length, part.width),)
            alike.setdefault((Kin.SEQUENCE, own_size, part.show, part.board), []).append((part.key,))

    def size(name: tuple[Kin, Sizes, bool, str]) -> tuple[int, ...]:
        return (-sum(length * width for length, width in name[1]), *(-each for pair in name[1] for each in pair))

    lots = []
    for number, name in enumerate(sorted(alike, key=lambda each: (size(each), str(each)))):
        kin, sizes, show, board = name
        shapes = tuple(shape for shape in _shapes(number, kin, sizes, saw) if shape)
        lots.append(Lot(number, tuple(alike[name]), shapes, show, board))
    return tuple(lots)


def _shapes(lot: int, kin: Kin, sizes: Sizes, saw: Saw) -> tuple[Shape | None, ...]:
    if kin is Kin.SEQUENCE:
        return (_in_sequence(lot, sizes, saw),)
    if kin is Kin.SIDE_BY_SIDE:
        return (_side_by_side(lot, sizes, saw),)
    return (_in_sequence(lot, sizes, saw), _side_by_side(lot, sizes, saw))


def _in_sequence(lot: int, sizes: Sizes, saw: Saw) -> Shape | None:
    width = max(own for _, own in sizes)
    if any(own < width and length < saw.least_strip for length, own in sizes):
        return None
    members, x = [], 0
    for nth, (length, own) in enumerate(sizes):
        members.append(Member(nth, x, 0, length, own))
        x += length + saw.kerf
    return Shape(lot, x - saw.kerf, width, tuple(members), any(length < saw.least_strip for length, _ in sizes))


def _side_by_side(lot: int, sizes: Sizes, saw: Saw) -> Shape | None:
    length = max(own for own, _ in sizes)
    if length < saw.least_strip:
        return None
    members, y = [], 0
    for nth, (own, width) in enumerate(sizes):
        members.append(Member(nth, 0, y, own, width))
        y += width + saw.kerf
    return Shape(lot, length, y - saw.kerf, tuple(members), False)
