"""What is left of a part when everything is cut?  Its wood as blocks of space, so that two parts can be compared.

Slanted cuts are left out: what they take away is counted as wood.  A round hole goes as the block round it.  Tails and
their sockets are taken as wide as they are where they are widest.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from ..part import ENDS, Box, Face, Feature, Line, Pins, Stock, Tails, Tenon, Tongue, boxes
from ..shaping import EdgeNote, Taper
from ..surface import overlap, whole
from ..voids import gone

__all__ = ["cut_away", "without", "wood"]

Standing = Tenon | Tongue | Tails
"""What is left standing at an end or an edge; what is there beside all of it goes away."""


def wood(line: Line) -> list[Box]:
    """The blocks that make up a finished part, in its own axes; they touch, but do not overlap."""
    found = [whole(line.stock)]
    standing: dict[Face, list[Standing]] = defaultdict(list)
    for feature in line.features:
        if isinstance(feature, Standing):
            standing[feature.face].append(feature)
            continue
        for each in cut_away(feature, line.stock):
            found = without(found, each)
    for several in standing.values():
        for each in _beside(several, line.stock):
            found = without(found, each)
    return found


def cut_away(feature: Feature, stock: Stock) -> Sequence[Box]:
    """The space that a feature empties: the cut itself, or what is taken off around a tenon or a tongue."""
    if isinstance(feature, Standing):
        return _beside([feature], stock)
    if isinstance(feature, Pins):
        return feature.bottoms(stock)
    return () if isinstance(feature, Taper | EdgeNote) else gone(feature, stock)


def _beside(standing: Sequence[Standing], stock: Stock) -> list[Box]:
    """What goes away beside all that stands at one end or edge."""
    along = 0 if standing[0].face in ENDS else 2
    reach = [each.box(stock)[along : along + 2] for each in standing]
    slab = list(whole(stock))
    slab[along : along + 2] = min(low for low, _ in reach), max(high for _, high in reach)
    found = [Box(*slab)]
    for feature in standing:
        for each in boxes(feature, stock):
            found = without(found, each)
    return found


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
