"""What wood goes away?  The blocks that the features of a part take out of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeGuard

from .length import Length
from .part import ENDS, Box, Bridle, Face, Feature, Stock, Tails, Tenon, Tongue, boxes
from .surface import end_span, whole, without

__all__ = ["Standing", "beside", "gone", "shoulder_in", "stands_at_an_end"]

Standing = Tenon | Tails | Tongue
"""What is left standing at an end; a tongue may stand along an edge, too."""


def stands_at_an_end(feature: Feature) -> TypeGuard[Standing]:
    """Whether a feature is what is left standing at an end: what goes away there depends on all that stands there."""
    return isinstance(feature, Tenon | Tails) or (isinstance(feature, Tongue) and feature.face in ENDS)


def gone(feature: Feature, stock: Stock) -> tuple[Box, ...]:
    """The blocks that go away for a feature; none for what stands at an end.

    Exact for what is cut square.  For round holes, tapers and arrises it is the block that holds what goes away; for
    dovetail sockets it is what goes away over their whole depth.
    """
    if stands_at_an_end(feature):
        return ()
    match feature:
        case Bridle():
            return feature.cheeks(stock)
        case Tongue():
            box = feature.box(stock)
            both = box._replace(z0=0, z1=box.z0), box._replace(z0=box.z1, z1=stock.thickness)
            return tuple(cheek for cheek in both if cheek.z1 > cheek.z0)
        case _:
            return boxes(feature, stock)


def shoulder_in(standing: Sequence[Standing]) -> Length:
    """How far from its end the wood goes away beside all that stands there: to the nearest of the shoulders."""
    return min(each.length for each in standing)


def beside(end: Face, standing: Sequence[Standing], stock: Stock) -> tuple[Box, ...]:
    """The blocks that go away at an end, round what is left standing there; between tails where they are widest."""
    x0, x1 = end_span(end, shoulder_in(standing), stock)
    left = [whole(stock)._replace(x0=x0, x1=x1)]
    for feature in standing:
        for box in boxes(feature, stock):
            left = [piece for one in left for piece in without(one, box)]
    return tuple(left)
