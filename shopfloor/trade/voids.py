"""What wood goes away?  The blocks that the features of a part take out of it."""

from __future__ import annotations

from .part import ENDS, Box, Bridle, Feature, Stock, Tails, Tenon, Tongue, boxes

__all__ = ["gone", "stands_at_an_end"]


def stands_at_an_end(feature: Feature) -> bool:
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
