"""Where does a number come from?  Every constant of the trade as a `Fact`: value, range, status and source.

A page can list all of them (`facts.py` gathers them), and a shop can change those that are a habit and not a law of
nature.  A shop that thinks in millimetres has round numbers of its own, so a length may have a second value.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Generic, TypeVar

from .length import INCH, MM, Length, write_decimal_inches, write_exact
from .part import Unit

__all__ = ["CONFIRMED", "DERIVED", "UNCONFIRMED", "AnyFact", "Fact", "Status", "inch", "mm", "share"]


class Status(StrEnum):
    """How far a number can be trusted."""

    CONFIRMED = "confirmed"
    """Read in the source that is named."""
    DERIVED = "derived"
    """Exact arithmetic, or worked out from confirmed numbers."""
    UNCONFIRMED = "unconfirmed"
    """Customary; no source was found for the figure.  A default, never more."""


CONFIRMED, DERIVED, UNCONFIRMED = Status.CONFIRMED, Status.DERIVED, Status.UNCONFIRMED

Value = TypeVar("Value", int, Fraction, str)


@dataclass(frozen=True, kw_only=True)
class Fact(Generic[Value]):
    """One number (or one rule in words) with where it comes from.

    `key` is stable and unique; settings of a shop hang on it.  `unit` is "nm" for a length, "" for words, else what is
    counted ("of the stock", "% RH").  `range` gives the least and the most that the trade uses; a most of None is open.
    `metric` and `metric_range` are the same habit in round millimetres.  `changeable` is True for a habit, False for a
    law of nature, a definition, or a table of measurements.
    """

    key: str
    subject: str
    name: str
    value: Value
    unit: str = "nm"
    range: tuple[Value, Value | None] | None = None
    metric: Value | None = None
    metric_range: tuple[Value, Value | None] | None = None
    status: Status
    source: str
    changeable: bool = True
    note: str = ""

    def used(self, unit: Unit) -> Value:
        """The value that a shop thinking in `unit` starts with."""
        return self.metric if unit is Unit.MM and self.metric is not None else self.value

    def customary(self, value: Value) -> bool:
        """Whether a changed value lies in the range that the trade uses; without a range anything does."""
        return self.range is None or _within(value, self.range) or _within(value, self.metric_range)

    def shows(self, unit: Unit = Unit.INCH) -> str:
        """The value as a page lists it, with its unit: for a length the one that a shop thinking in `unit` starts with.

        Shares of a joint are fractions, as they are said; all else is written in decimals, exact.
        """
        value = self.used(unit)
        if isinstance(value, str):
            return value
        if self.unit == "nm":
            on_tape = value.denominator == 1 and value % inch(1, 64) == 0
            if unit is Unit.INCH and not on_tape:
                return f"{write_decimal_inches(round(value))} in"
            return write_exact(round(value), unit.value)
        number = str(value) if self.subject == "joints" else f"{Decimal(value.numerator) / value.denominator:f}"
        return f"{number} {self.unit}"


AnyFact = Fact[int] | Fact[Fraction] | Fact[str]


def _within(value: Value, span: tuple[Value, Value | None] | None) -> bool:
    if span is None or isinstance(value, str):
        return False
    least, most = span
    return value >= least and (most is None or value <= most)


def inch(number: int, parts: int = 1) -> Length:
    """So many parts of an inch, exact: `inch(3, 32)` is 3/32 in.  Raises ValueError if it is no whole nanometre.

    >>> inch(1, 64), inch(10)
    (396875, 254000000)
    """
    length, over = divmod(number * INCH, parts)
    if over:
        raise ValueError(f"{number}/{parts} in is no whole number of nanometres")
    return length


def mm(text: str) -> Length:
    """Millimetres as decimals are written, exact.  Raises ValueError if it is no whole nanometre.

    >>> mm("0.8")
    800000
    """
    length = Fraction(text) * MM
    if length.denominator != 1:
        raise ValueError(f"{text} mm is no whole number of nanometres")
    return int(length)


def share(text: str) -> Fraction:
    """A fraction or a decimal as it is written, exact.

    >>> share("1/3"), share("0.00248")
    (Fraction(1, 3), Fraction(31, 12500))
    """
    return Fraction(text)
