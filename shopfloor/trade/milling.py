"""How much bigger is a part sawn than it will be, and what may a machine be fed?  Allowances, blanks, passes.

Rough size = finished size + allowance.  Long or cupped boards yield less, so a part is cut to rough length and width
before it is flattened.  Short parts are milled as one blank and cut apart after.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from ..errors import ShopError
from .fact import CONFIRMED, UNCONFIRMED, AnyFact, Fact, inch, mm
from .length import Length
from .part import Stock, Unit
from .sources import CUSTOM, MAGAZINE, MANUAL, SCHOOL_SHOP, SURFACED, TEXTBOOK

__all__ = ["FACTS", "KERF", "LENGTH_ALLOWANCE", "REST_DAYS", "SNIPE", "THICKNESS_ALLOWANCE", "WIDTH_ALLOWANCE",
           "Allowance", "BadAllowance", "blank_length", "passes", "rough_size", "snipe_left"]  # fmt: skip

LENGTH_ALLOWANCE = Fact(
    key="allowance-length", subject="milling", name="Length, cut oversize by", value=inch(1),
    range=(inch(1, 2), inch(2)), metric=mm("25"), metric_range=(mm("13"), mm("50")),
    status=CONFIRMED, source=f"{SCHOOL_SHOP}; {TEXTBOOK} (1/2 in)", note="The 2 in of the range are unconfirmed.",
)  # fmt: skip
WIDTH_ALLOWANCE = Fact(
    key="allowance-width", subject="milling", name="Width, cut oversize by", value=inch(1, 4),
    range=(inch(1, 8), inch(1, 2)), metric=mm("6"), metric_range=(mm("3"), mm("13")), status=CONFIRMED, source=TEXTBOOK,
)  # fmt: skip
THICKNESS_ALLOWANCE = Fact(
    key="allowance-thickness", subject="milling", name="Thickness, oversize for each face", value=inch(3, 32),
    range=(inch(1, 16), inch(1, 8)), metric=mm("2.5"), metric_range=(mm("1.5"), mm("3")),
    status=CONFIRMED, source=TEXTBOOK,
    note=f"Both faces make the 3/16 in by which 4/4 to 6/4 lose in surfacing ({SURFACED}).",
)  # fmt: skip
KERF = Fact(
    key="kerf", subject="milling", name="Saw kerf", value=inch(1, 8), range=(inch(1, 16), inch(3, 16)),
    metric=mm("3.2"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
SNIPE = Fact(
    key="snipe", subject="milling", name="Snipe of the planer at each end", value=inch(2), range=(0, inch(4)),
    metric=mm("50"), status=UNCONFIRMED, source=f"{CUSTOM}; one planer manual says to start longer and trim",
)  # fmt: skip
REST_DAYS = Fact(
    key="rest-days", subject="milling", name="Rest of thick parts between rough and final milling", unit="",
    value="some days", status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    LENGTH_ALLOWANCE, WIDTH_ALLOWANCE, THICKNESS_ALLOWANCE, KERF, SNIPE, REST_DAYS,
    Fact(key="pass-depth", subject="milling", name="Depth of a planer's or jointer's pass", value=inch(1, 16),
         metric=mm("1.5"), range=(0, inch(1, 8)), status=CONFIRMED, source=f"{MANUAL}; {SCHOOL_SHOP}"),
    Fact(key="both-faces", subject="milling", name="Thickness is taken", value="half from each face", unit="",
         status=UNCONFIRMED, source=f"{CUSTOM}; {MAGAZINE}", note="All from one face: the board cups overnight."),
)  # fmt: skip


class BadAllowance(ShopError):
    """An allowance, a kerf or a pass that no cut can have."""

    code = "bad-allowance"


class Allowance(NamedTuple):
    """What a part is cut oversize by, in all: `thickness` counts both faces."""

    thickness: Length
    width: Length
    length: Length

    @classmethod
    def customary(cls, unit: Unit = Unit.INCH) -> Allowance:
        """The trade's, for a shop that thinks in `unit`."""
        both = 2 * THICKNESS_ALLOWANCE.used(unit)
        return cls(both, WIDTH_ALLOWANCE.used(unit), LENGTH_ALLOWANCE.used(unit))


def _at_least(least: Length, what: str, *sizes: Length) -> None:
    if any(size < least for size in sizes):
        raise BadAllowance(f"{what} is {'not above zero' if least else 'below zero'}", where="milling")


def rough_size(finished: Stock, allowance: Allowance) -> Stock:
    """The size to saw before milling.  Raises BadAllowance if an allowance is below zero."""
    _at_least(0, "an allowance", *allowance)
    return Stock(*(size + more for size, more in zip(finished, allowance, strict=True)))


def blank_length(part: Length, count: int, kerf: Length, trim: Length) -> Length:
    """The one blank that `count` equal parts are milled in: the parts, the kerfs between, `trim` at each end.

    With the planer's snipe as the trim the parts come out free of it.
    Source: derived, count × part + (count - 1) × kerf + 2 × trim.

    >>> blank_length(inch(7), 2, inch(1, 8), inch(3)) == inch(161, 8)
    True
    """
    _at_least(1, "a count or a length", part, count)
    _at_least(0, "a kerf or a trim", kerf, trim)
    return count * part + (count - 1) * kerf + 2 * trim


def snipe_left(finished: Length, rough: Length, snipe: Length) -> Fraction:
    """How much of the snipe stays on each end of a part that is cut from the middle of its rough length.

    >>> snipe_left(inch(30), inch(31), inch(3)) == inch(5, 2)
    True
    """
    return max(snipe - Fraction(rough - finished, 2), Fraction(0))


def passes(rough: Length, finished: Length, depth: Length) -> int:
    """Passes from one thickness to the other, `depth` each, both faces together.  Raises BadAllowance.

    >>> passes(inch(17, 16), inch(13, 16), inch(1, 32))
    8
    """
    _at_least(1, "a pass", depth)
    _at_least(0, "what is to be taken off", rough - finished)
    return -(-(rough - finished) // depth)
