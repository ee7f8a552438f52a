"""How deep is a dado, how does a drawer clear its opening, how steep is a dovetail?  The trade's rules for cases.

Dado: a channel across the grain.  Groove: a channel along it.  Rabbet: a step on an edge or an end.
"""

from __future__ import annotations

from fractions import Fraction

from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, inch, mm, share
from .length import Length
from .movement import exact_movement, gap_for
from .seasons import Seasons
from .sources import CUSTOM, HANDWORK, MAGAZINE

__all__ = ["DRAWER_HEIGHT", "FACTS", "dado_depth", "dovetail_slope", "drawer_height_clearance", "rabbet_depth"]

DADO_SHARE = Fact(
    key="dado-depth", subject="joints", name="Dado or groove in the side of a case, depth", value=share("1/3"),
    unit="of the thickness", range=(share("1/4"), share("1/2")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
RABBET_SHARE = Fact(
    key="rabbet-depth", subject="joints", name="Rabbet, depth", value=share("1/2"), unit="of the thickness",
    range=(share("1/2"), share("2/3")), status=UNCONFIRMED, source=CUSTOM, note="As wide as its mate is thick.",
)  # fmt: skip
HALF_BLIND_SHARE = Fact(
    key="half-blind-length", subject="joints", name="Half-blind dovetails, length of the tails", value=share("2/3"),
    unit="of the front", range=(share("2/3"), share("3/4")), status=UNCONFIRMED, source=CUSTOM,
    note="What is left of the front hides their ends.",
)  # fmt: skip
BOTTOM_WIDTH = Fact(
    key="drawer-groove-width", subject="drawers", name="Groove for a drawer's bottom, width", value=inch(1, 4),
    range=(inch(3, 16), inch(3, 8)), metric=mm("6"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
BOTTOM_DEPTH = Fact(
    key="drawer-groove-depth", subject="drawers", name="Groove for a drawer's bottom, depth", value=inch(1, 4),
    range=(inch(3, 16), inch(3, 8)), metric=mm("6"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
BOTTOM_UP = Fact(
    key="drawer-groove-up", subject="drawers", name="Groove for a drawer's bottom, up from the lower edge",
    value=inch(3, 8), metric=mm("10"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
DRAWER_HEIGHT = Fact(
    key="drawer-height-margin", subject="drawers", name="Drawer, height: the front's swelling and", value=inch(1, 32),
    metric=mm("0.8"), status=DERIVED, source=f"movement; {MAGAZINE} agrees for a 4 in flatsawn maple front",
)  # fmt: skip
DRAWER_SIDES = Fact(
    key="drawer-side-clearance", subject="drawers", name="Drawer, clearance at the sides, in all", value=inch(1, 32),
    range=(inch(1, 64), inch(1, 16)), metric=mm("0.8"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
SLOPE_SOFT = Fact(
    key="dovetail-slope-soft", subject="joints", name="Dovetail slope, softwood", value=share("1/6"),
    unit="across for along", range=(share("1/9"), share("1/5")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
SLOPE_HARD = Fact(
    key="dovetail-slope-hard", subject="joints", name="Dovetail slope, hardwood", value=share("1/8"),
    unit="across for along", range=(share("1/9"), share("1/5")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    DADO_SHARE, RABBET_SHARE, HALF_BLIND_SHARE, BOTTOM_WIDTH, BOTTOM_DEPTH, BOTTOM_UP, DRAWER_HEIGHT, DRAWER_SIDES,
    SLOPE_SOFT, SLOPE_HARD,
    Fact(key="joint-words", subject="joints", name="Dado, groove, rabbet", unit="", status=CONFIRMED,
         value="across the grain, along the grain, a step on an edge or end", source=HANDWORK, changeable=False),
)  # fmt: skip


def dado_depth(thickness: Length, part_of: Fraction = DADO_SHARE.value) -> Length:
    """The depth of a dado or groove in the side of a case.

    >>> dado_depth(inch(3, 4)) == inch(1, 4)
    True
    """
    return round(thickness * part_of)


def rabbet_depth(thickness: Length, part_of: Fraction = RABBET_SHARE.value) -> Length:
    """The depth of a rabbet; its width is its mate's thickness."""
    return round(thickness * part_of)


def drawer_height_clearance(
    front: Length, coefficient: Fraction, seasons: Seasons, step: Length = 1, margin: Length = DRAWER_HEIGHT.value
) -> Length:
    """The gap over a drawer on the day it is fitted: what the front will swell, and a margin, up to the next `step`.

    It goes with the height: one gap for a low and a high drawer is wrong.

    >>> maple = Seasons(dry=6, build=7, damp=12)
    >>> drawer_height_clearance(inch(25, 4), Fraction("0.00353"), maple, inch(1, 32), margin=0) == inch(1, 8)
    True
    """
    swells = exact_movement(front, coefficient, 0, seasons.gain)
    return gap_for(swells + margin, step)


def dovetail_slope(hardwood: bool) -> Fraction:
    """How far a tail widens for its length: 1 in 8 in hardwood, 1 in 6 in softwood."""
    return SLOPE_HARD.value if hardwood else SLOPE_SOFT.value
