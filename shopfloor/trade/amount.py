"""Which number, and of which unit, was typed?  The grammar of a size, in plain signs (see typed.py).

A text either is an amount from its first sign to its last, or it is none: nothing is guessed and nothing left over.
Twin: static/trade/amount.js.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

UNITS = {"in": 25_400_000, "ft": 304_800_000, "mm": 1_000_000, "cm": 10_000_000, "m": 1_000_000_000}
"""Nanometres of one: the inch is 25.4 mm by definition (international yard and pound agreement, 1959)."""

LONGEST = 600 * UNITS["in"]
"""50 ft.  No board is longer: a bigger number lacks its unit."""

_FEET = r"(?:feet|foot|ft\.?|')"
_INCHES = r"(?:inches|inch|in\.?|\")"
_UNIT = rf"(?:({_INCHES})|({_FEET})|(mm|millimet(?:er|re)s?)|(cm|centimet(?:er|re)s?)|(m|met(?:er|re)s?))"

_ONE_UNIT = re.compile(rf"([0-9.,/ -]+?) ?{_UNIT}?")
_FEET_AND_INCHES = re.compile(rf"([0-9]+) ?{_FEET} ?-? ?([0-9.,][0-9.,/ -]*?) ?{_INCHES}?")
# No zero leads in a fraction: "03/04" is what a date looks like.
_MIXED = re.compile("([0-9]+)( ?- ?| )(0|[1-9][0-9]*)/([1-9][0-9]*)")
_FRACTION = re.compile("(0|[1-9][0-9]*)/([1-9][0-9]*)")
_DECIMAL = re.compile(r"([0-9]+)\.?|([0-9]*)[.,]([0-9]+)")
_GROUPED = re.compile(r"([1-9][0-9]{0,2}(?:,[0-9]{3})+)\.([0-9]+)|([1-9][0-9]{0,2}(?:\.[0-9]{3})+),([0-9]+)")
_COMMA_OF_THREE = re.compile("([1-9][0-9]{0,2}),([0-9]{3})")


@dataclass(frozen=True)
class Amount:
    """What was typed: `exact` nanometres, the `unit` named ("" if none), a lone `fraction` of inches ("5/4")."""

    exact: Fraction
    unit: str = ""
    fraction: str = ""
    warnings: tuple[str, ...] = ()


def amount(size: str, unit: str) -> Amount | None:
    """Read a text in plain signs; a number without a unit is in `unit`, but a fraction never in millimetres.

    None if it is not one amount, for certain.

    >>> amount("6'-0 1/2\\"", "mm").exact, amount("5' 14", "in"), amount("1,205 mm", "in")
    (Fraction(1841500000, 1), None, None)
    """
    size = re.sub(" ?/ ?", "/", size)
    if (both := _FEET_AND_INCHES.fullmatch(size)) and (inches := _number(both[2], decimal_comma=True)):
        if inches.value >= 12:
            return None
        return Amount((int(both[1]) * 12 + inches.value) * UNITS["in"], "in", "", inches.warnings)
    one = _ONE_UNIT.fullmatch(size)
    if one is None:
        return None
    named = next((name for name, typed in zip(UNITS, one.groups()[1:], strict=True) if typed), "")
    # A thousand inches, feet or metres is no size, so the comma in "92,875 in" can only be the decimal one.
    number = _number(one[1], decimal_comma=named in ("in", "ft", "m"))
    if number is None:
        return None
    if unit == "mm" and not named and "/" in one[1]:
        return None  # Nobody thinks in 3/4 mm: it is a size in inches that strayed, and may not shrink unseen.
    exact = number.value * UNITS[named or unit]
    warnings = number.warnings
    if "/" in one[1] and (named or unit) in ("in", "ft") and (exact * 64 / UNITS["in"]).denominator > 1:
        warnings += ("not on an inch tape",)
    alone = (named or unit) == "in" and _FRACTION.fullmatch(one[1])
    return Amount(exact, named, one[1] if alone else "", warnings)


def unit_typed(size: str) -> str:
    """The unit that ends a text, as " mm", or nothing; for what a refusal suggests."""
    found = re.search(rf"[0-9. ]{_UNIT}$", size)
    return next((f" {name}" for name, typed in zip(UNITS, found.groups(), strict=True) if typed), "") if found else ""


def comma_of_three(typed: str) -> tuple[str, str] | None:
    """The digits before and after the comma of "1,205", which may be 1205 or 1.205; "0,205" cannot be thousands."""
    found = _COMMA_OF_THREE.fullmatch(typed)
    return (found[1], found[2]) if found else None


@dataclass(frozen=True)
class _Number:
    value: Fraction
    warnings: tuple[str, ...] = ()


def _number(typed: str, *, decimal_comma: bool) -> _Number | None:
    if mixed := _MIXED.fullmatch(typed):
        whole, joint, above, below = mixed.groups()
        if int(above) >= int(below):
            return None
        # "1 - 3/4" is a typed pause far more often than a subtraction; it is shown for a look all the same.
        told = (f"read as {whole} {above}/{below}, not {whole} minus {above}/{below}",)
        return _Number(int(whole) + Fraction(int(above), int(below)), told if len(joint) > 1 else ())
    if fraction := _FRACTION.fullmatch(typed):
        return _Number(Fraction(int(fraction[1]), int(fraction[2])))
    if comma_of_three(typed) and not decimal_comma:
        return None
    if grouped := _GROUPED.fullmatch(typed):
        return _decimal(re.sub("[.,]", "", grouped[1] or grouped[3]), grouped[2] or grouped[4])
    if decimal := _DECIMAL.fullmatch(typed):
        return _decimal(decimal[1] or decimal[2] or "0", decimal[3] or "")
    return None


def _decimal(whole: str, places: str) -> _Number:
    value = Fraction(int(whole + places), 10 ** len(places))
    millionths = round(value * 1_000_000)
    near = Fraction(millionths, 1_000_000)
    # Spreadsheets add in binary: 19.999999999999996 is their 20.  Nobody measures 13 true digits.
    if value != near and abs(value - near) * 10**13 <= value:
        return _Number(near, (f"taken as {decimal_text(millionths, 6)}",))
    return _Number(value)


def decimal_text(scaled: int, places: int, *, trim: bool = True) -> str:
    """A whole number of 10^-places as a decimal, without the zeros at its end if `trim`.

    >>> decimal_text(605_500_000, 6), decimal_text(-750, 3, trim=False)
    ('605.5', '-0.750')
    """
    digits = str(abs(scaled)).zfill(places + 1)
    text = f"{digits[:-places]}.{digits[-places:]}" if places else digits
    if trim and places:
        text = text.rstrip("0").rstrip(".")
    return f"-{text}" if scaled < 0 else text
