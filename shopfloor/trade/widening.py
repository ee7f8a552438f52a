"""Of how many boards is a wide panel glued, how wide is each, and where do the joints lie?

As few boards as the widest board allows, as equal as can be, and no glue joint where a groove or a rabbet runs along
it: the cutter would lay the joint bare, and a thin wall of glue line is the first thing to let go.
Source: custom of the trade; the arithmetic is ours.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ..errors import ShopError
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .length import INCH, MM, Length, write_exact
from .part import Feature, Stock, Unit, boxes
from .sources import CUSTOM

__all__ = ["CLEAR", "FACTS", "WIDEST", "CannotWiden", "Zone", "barred", "shares"]

WIDEST = Fact(
    key="widest-board", subject="lumber", name="Widest board to count on", value=inch(8), metric=mm("200"),
    range=(inch(4), inch(16)), metric_range=(mm("100"), mm("400")), status=UNCONFIRMED, source=CUSTOM,
    note="Wider parts are glued from several boards; random-width lumber is mostly narrower than 10 in.",
)  # fmt: skip
CLEAR = Fact(
    key="glue-joint-clear", subject="lumber", name="Glue joint clear of a groove by", value=inch(1, 4), metric=mm("6"),
    status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
NARROWEST_STRIP = Fact(
    key="narrowest-strip", subject="lumber", name="Narrowest board of a glued panel", value=inch(3, 2), metric=mm("38"),
    status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (WIDEST, CLEAR, NARROWEST_STRIP)

MORE = 3
"""How many boards more than needed are tried, before a panel is given up."""


class CannotWiden(ShopError):
    """No boards make a panel of that width."""

    code = "cannot-widen"


class Zone(NamedTuple):
    """A span of the width, from the face edge, where no glue joint may lie."""

    start: Length
    end: Length


def barred(features: Sequence[Feature], stock: Stock, clear: Length) -> tuple[Zone, ...]:
    """Where no joint may lie: every cut that runs along at least half the length, and `clear` on both sides of it.

    Cuts at an edge bar what they take of the width; dadoes run across and bar nothing.
    """
    zones = []
    for feature in features:
        for box in boxes(feature, stock):
            across = box.y1 - box.y0 >= stock.width
            if 2 * (box.x1 - box.x0) >= stock.length and not across:
                zones.append(Zone(box.y0 - clear, box.y1 + clear))
    return tuple(sorted(set(zones)))


def shares(
    width: Length, widest: Length, zones: Sequence[Zone] = (), unit: Unit = Unit.INCH, *, fewest: int = 1
) -> tuple[Length, ...]:
    """The finished widths of the boards of a panel, from the face edge on; they add up to `width` exactly.

    `widest` is the widest finished share that a board yields, `fewest` how many boards are asked for at least.  One
    share: no gluing is needed.  Joints lie on whole sixteenths (or millimetres) from the face edge where nothing bars
    it.  Raises CannotWiden.

    >>> [share * 16 // INCH for share in shares(20 * INCH, 8 * INCH)]  # sixteenths
    [107, 106, 107]
    """
    if width <= 0 or widest <= 0:
        raise CannotWiden("a panel and its boards have a width", where="width", do="Give widths above zero.")
    fewest = max(fewest, -(-width // widest))
    if fewest == 1:
        return (width,)
    least = min(NARROWEST_STRIP.used(unit), widest)
    if least * fewest > width:
        least = 1 if fewest == -(-width // widest) else least
    if least * fewest > width:
        raise CannotWiden(
            f"{fewest} boards of a panel {write_exact(width, unit.value)} wide are narrower than "
            f"{write_exact(least, unit.value)}",
            where="width", do=f"Glue it of {max(width // least, 1)} or fewer.",
        )  # fmt: skip
    for count in range(fewest, fewest + MORE + 1):
        joints = _joints(width, widest, least, count, zones, unit)
        if joints is not None:
            edges = (0, *joints, width)
            return tuple(b - a for a, b in pairwise(edges))
    raise CannotWiden(
        "every way to glue the panel puts a joint where a groove runs", where="width",
        do="Allow a wider board, or move the groove.",
    )  # fmt: skip


def _joints(
    width: Length, widest: Length, least: Length, count: int, zones: Sequence[Zone], unit: Unit
) -> tuple[Length, ...] | None:
    """The places of the joints between `count` boards nearest to equal shares; None if there are none."""
    step = MM if unit is Unit.MM else INCH // 16
    free = [zone for zone in zones if zone.end > 0 and zone.start < width]

    def open_(place: Length) -> bool:
        return all(not zone.start < place < zone.end for zone in free)

    edges = [edge for zone in free for edge in zone]
    reach: dict[Length, tuple[int, tuple[Length, ...]]] = {0: (0, ())}
    for number in range(1, count):
        ideal = width * number // count
        around = -(-ideal // step) * step
        # Beside the nearest places on the tape, the edges of what is barred and what the widths just allow.
        places = {around, around - step, *edges}
        places |= {before + widest for before in reach} | {width - (count - number) * widest}
        found: dict[Length, tuple[int, tuple[Length, ...]]] = {}
        for place in sorted(places):
            if not 0 < place < width or not open_(place):
                continue
            ways = [
                (cost + (place - ideal) ** 2, (*joints, place))
                for before, (cost, joints) in reach.items()
                if least <= place - before <= widest
            ]
            if ways:
                found[place] = min(ways)
        reach = found
    ends = [way for place, way in reach.items() if least <= width - place <= widest]
    return min(ends)[1] if ends else None
