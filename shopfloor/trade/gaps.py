"""How much wood is between two cuts?  Exact for what is cut square and for round holes.

A taper counts as deep as it is at the deeper end of what lies beside it.

A distance below 0 says how far two cuts run into each other, 0 that they touch.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from math import isqrt
from typing import NamedTuple

from .length import Length
from .part import FACES, Box, Feature, Hole, HoleRow, Pins, Stock, Taper
from .voids import gone

__all__ = ["Cut", "Gap", "Near", "Taken", "apart", "nearest", "taken"]


class Cut(NamedTuple):
    """A block that goes away; of a round hole the block round it, and along which axis it is drilled (0 is x)."""

    box: Box
    drilled: int | None = None


class Gap(NamedTuple):
    """How far two cuts are apart, and whether that is from corner to corner: there the wood gets thicker to both sides.

    Below 0 where they share some wood.
    """

    wide: Length
    corner: bool = False

    def short_of(self, least: Length) -> Length:
        """How much it lacks, where corners need half of what a wall does; 0 or less where it is enough."""
        return self.needs(least) - self.wide

    def needs(self, least: Length) -> Length:
        return -(-least // 2) if self.corner else least


class Near(NamedTuple):
    """Where two cuts come nearest: how far they are apart there, and the two."""

    apart: Gap
    one: Cut
    other: Cut


class Taken(NamedTuple):
    """A feature, and all that goes away for it."""

    feature: Feature
    cuts: tuple[Cut, ...]


def taken(feature: Feature, stock: Stock) -> Taken:
    """What goes away for a feature; of dovetail sockets where they are widest, of a taper the block round it."""
    return Taken(feature, _cuts(feature, stock))


def _cuts(feature: Feature, stock: Stock) -> tuple[Cut, ...]:
    if isinstance(feature, Hole | HoleRow):
        return tuple(Cut(box, 2 if feature.face in FACES else 1) for box in gone(feature, stock))
    return tuple(Cut(box) for box in (feature.bottoms(stock) if isinstance(feature, Pins) else gone(feature, stock)))


def apart(one: Cut, other: Cut) -> Gap:
    """The wood between two cuts, straight across or from corner to corner; below 0 where they share some.

    >>> apart(Cut(Box(0, 9, 0, 3, 0, 3)), Cut(Box(0, 9, 6, 9, 7, 9)))
    Gap(wide=5, corner=True)
    >>> apart(Cut(Box(0, 10, 0, 10, 0, 9), drilled=2), Cut(Box(8, 18, 6, 16, 0, 9), drilled=2))
    Gap(wide=0, corner=False)
    """
    between = [max(one.box[side] - other.box[side + 1], other.box[side] - one.box[side + 1]) for side in (0, 2, 4)]
    if one.drilled is None and other.drilled is None:
        return _together(between)
    if one.drilled is None or other.drilled is None or one.drilled == other.drilled:
        hole, beside = (one, other) if one.drilled is not None else (other, one)
        assert hole.drilled is not None
        return _together([_from_the_round(hole, hole.drilled, beside), between[hole.drilled]])
    return max(_together([_from_the_round(a, a.drilled or 0, b), between[a.drilled or 0]])
               for a, b in ((one, other), (other, one)))  # fmt: skip


def _together(between: list[Length]) -> Gap:
    """The distance that some distances at right angles make."""
    facing = [each for each in between if each >= 0]
    if len(facing) < 2:
        return Gap(facing[0] if facing else max(between))
    return Gap(isqrt(sum(each * each for each in facing)), corner=True)


def _from_the_round(hole: Cut, drilled: int, beside: Cut) -> Length:
    """From the rim of a hole, square to the way it is drilled.  Doubled until the end: a middle may lie between two
    nanometres."""
    off, radii = [], 0
    for axis in (axis for axis in range(3) if axis != drilled):
        (a0, a1), (b0, b1) = (each.box[2 * axis : 2 * axis + 2] for each in (hole, beside))
        middle, radii = a0 + a1, a1 - a0
        if beside.drilled == drilled:
            off.append(middle - b0 - b1)
            radii += b1 - b0
        else:
            off.append(max(2 * b0 - middle, middle - 2 * b1, 0))
    return (isqrt(off[0] ** 2 + off[1] ** 2) - radii) // 2


def nearest(one: Taken, other: Taken, stock: Stock) -> Near | None:
    """Where two features come nearest to each other; None where one of them takes nothing beside the other."""
    every = [Near(apart(a, b), a, b) for a, b in _pairs(one, other, stock)]
    return min(every, key=lambda near: near.apart.wide * (2 if near.apart.corner else 1), default=None)


def _pairs(one: Taken, other: Taken, stock: Stock) -> Iterator[tuple[Cut, Cut]]:
    if isinstance(one.feature, Taper) and isinstance(other.feature, Taper):
        (a0, a1), (b0, b1) = one.feature.span(stock), other.feature.span(stock)
        for at in (max(a0, b0), min(a1, b1)):
            wedges = _wedge(one.feature, stock, at, at), _wedge(other.feature, stock, at, at)
            yield from zip(*wedges, strict=False)
    elif isinstance(one.feature, Taper):
        for cut in other.cuts:
            yield from ((wedge, cut) for wedge in _wedge(one.feature, stock, cut.box.x0, cut.box.x1))
    elif isinstance(other.feature, Taper):
        for cut in one.cuts:
            yield from ((cut, wedge) for wedge in _wedge(other.feature, stock, cut.box.x0, cut.box.x1))
    else:
        yield from product(one.cuts, other.cuts)


def _wedge(taper: Taper, stock: Stock, x0: Length, x1: Length) -> Iterator[Cut]:
    """What a taper takes from here to there along the part: as deep as it is at the deeper end."""
    low, high = max(x0, taper.span(stock)[0]), min(x1, taper.span(stock)[1])
    deep = max(taper.taken(low, stock), taper.taken(high, stock))
    if low <= high and deep > 0:
        whole = Box(low, max(high, low + 1), *replace(taper, depth=deep).box(stock)[2:])
        yield Cut(whole)
