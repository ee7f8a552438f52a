"""What does this shop saw a part oversize by?  Its allowances, with more for long or wide stock.

Long or wide boards cup, bow and twist more, so flattening takes more off them: stock at least `long_from` or
`wide_from` is given the second set.  Facts and sources of the first set are in milling.py.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

from ..errors import ShopError
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .habit import PRINTED, Habits
from .length import Length
from .milling import LENGTH_ALLOWANCE, THICKNESS_ALLOWANCE, WIDTH_ALLOWANCE
from .part import Stock, Unit
from .sources import CUSTOM

__all__ = ["FACTS", "BadOversize", "Oversize", "allowances_by", "customary"]

MOST: Length = inch(6)
"""More oversize than that on one side is a slip of the keyboard."""

LONG_FROM = Fact(
    key="long-stock", subject="milling", name="Stock counts as long from", value=inch(48), metric=mm("1200"),
    status=UNCONFIRMED, source=CUSTOM, note="That long or cupped boards yield less is confirmed; the figure is custom.",
)  # fmt: skip
WIDE_FROM = Fact(
    key="wide-stock", subject="milling", name="Stock counts as wide from", value=inch(8), metric=mm("200"),
    status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
LONG_LENGTH = Fact(
    key="allowance-length-long", subject="milling", name="Length of long stock, cut oversize by", value=inch(2),
    metric=mm("50"), range=(inch(1), inch(4)), metric_range=(mm("25"), mm("100")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
LONG_WIDTH = Fact(
    key="allowance-width-big", subject="milling", name="Width of long or wide stock, cut oversize by",
    value=inch(3, 8), metric=mm("10"), range=(inch(1, 4), inch(1, 2)), metric_range=(mm("6"), mm("13")),
    status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
LONG_FACE = Fact(
    key="allowance-thickness-big", subject="milling", name="Thickness of long or wide stock, oversize for each face",
    value=inch(1, 8), metric=mm("3"), range=(inch(3, 32), inch(3, 16)), metric_range=(mm("2.5"), mm("5")),
    status=UNCONFIRMED, source=CUSTOM, note="The upper end of the range for common stock.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (LONG_FROM, WIDE_FROM, LONG_LENGTH, LONG_WIDTH, LONG_FACE)


class BadOversize(ShopError):
    """An allowance that no saw cut has."""

    code = "bad-oversize"


@dataclass(frozen=True)
class Oversize:
    """What is added to a finished size before it is sawn; `face` is for each of the two faces.

    `long_length` is for stock at least `long_from` long, `big_width` and `big_face` for stock that long or at least
    `wide_from` wide.  Raises BadOversize for what is below zero or past all sense.
    """

    length: Length
    width: Length
    face: Length
    long_from: Length
    wide_from: Length
    long_length: Length
    big_width: Length
    big_face: Length

    def __post_init__(self) -> None:
        for each in fields(self):
            size = getattr(self, each.name)
            named = each.name.replace("_", " ")
            if size < 0:
                raise BadOversize(f"{named} is below zero", where=each.name, do="Give 0 or more.")
            if each.name not in ("long_from", "wide_from") and size > MOST:
                raise BadOversize(f"{named} is more than 6 in", where=each.name, do="Give 6 in (152.4 mm) or less.")

    def is_big(self, stock: Stock) -> bool:
        """Whether stock of that finished size is long or wide."""
        return stock.length >= self.long_from or stock.width >= self.wide_from

    def of_thickness(self, stock: Stock) -> Length:
        """What both faces are given together."""
        return 2 * (self.big_face if self.is_big(stock) else self.face)

    def of_width(self, stock: Stock) -> Length:
        return self.big_width if self.is_big(stock) else self.width

    def of_length(self, stock: Stock) -> Length:
        return self.long_length if stock.length >= self.long_from else self.length

    def rough(self, finished: Stock) -> Stock:
        """The size to saw before milling.

        >>> customary().rough(Stock(inch(3, 4), inch(2), inch(20))) == Stock(inch(15, 16), inch(9, 4), inch(21))
        True
        """
        return Stock(
            finished.thickness + self.of_thickness(finished),
            finished.width + self.of_width(finished),
            finished.length + self.of_length(finished),
        )


def allowances_by(habits: Habits, unit: Unit) -> Oversize:
    """Those of a shop with these habits, in a job of that unit."""
    return Oversize(
        length=habits.of(LENGTH_ALLOWANCE, unit),
        width=habits.of(WIDTH_ALLOWANCE, unit),
        face=habits.of(THICKNESS_ALLOWANCE, unit),
        long_from=habits.of(LONG_FROM, unit),
        wide_from=habits.of(WIDE_FROM, unit),
        long_length=habits.of(LONG_LENGTH, unit),
        big_width=habits.of(LONG_WIDTH, unit),
        big_face=habits.of(LONG_FACE, unit),
    )


def customary(unit: Unit = Unit.INCH) -> Oversize:
    """The trade's, in the round numbers of a shop that thinks in `unit`."""
    return allowances_by(PRINTED, unit)
