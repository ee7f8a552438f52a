"""What is left of a part when everything is cut?  Its wood as blocks of space, so that two parts can be compared.

Round holes and slanted cuts are left out: what they take away is counted as wood.  Tails and their sockets are taken
as wide as they are where they are widest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..part import Box, Dado, Feature, Groove, Line, Mortise, Pins, Rabbet, Stock, Tails, Tenon, Tongue
from ..surface import overlap, whole

__all__ = ["cut_away", "without", "wood"]


def wood(line: Line) -> list[Box]:
    """The blocks that make up a finished part, in its own axes; they touch, but do not overlap."""
    found = [whole(line.stock)]
    for feature in line.features:
        for gone in cut_away(feature, line.stock):
            found = without(found, gone)
    return found


def cut_away(feature: Feature, stock: Stock) -> list[Box]:
    """The space that a feature empties: the cut itself, or what is taken off around a tenon or a tongue."""
    if isinstance(feature, Mortise | Groove | Dado | Rabbet):
        return [feature.box(stock)]
    if isinstance(feature, Pins):
        return list(feature.bottoms(stock))
    if isinstance(feature, Tenon | Tongue | Tails):
        stands, bounds = feature.box(stock), whole(stock)
        along = 0 if (stands.x0, stands.x1) != (bounds.x0, bounds.x1) else 2
        slab = list(bounds)
        slab[along : along + 2] = stands[along : along + 2]
        kept = feature.boxes(stock) if isinstance(feature, Tails) else (stands,)
        gone = [Box(*slab)]
        for each in kept:
            gone = without(gone, each)
        return gone
    return []


def without(blocks: Iterable[Box], gone: Box) -> list[Box]:
    """The blocks with the space of one more taken out of them."""
    return [rest for each in blocks for rest in _rest(each, gone)]


def _rest(each: Box, gone: Box) -> Iterator[Box]:
    shared = overlap(each, gone)
    if shared is None:
        yield each
        return
    left = list(each)
    for low in (0, 2, 4):
        for start, end in ((left[low], shared[low]), (shared[low + 1], left[low + 1])):
            if start < end:
                piece = list(left)
                piece[low], piece[low + 1] = start, end
                yield Box(*piece)
        left[low], left[low + 1] = shared[low], shared[low + 1]
