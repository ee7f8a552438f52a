"""How much of a number is worth showing, and which mark of the tape is meant?

Movement is worked out exactly, but boards differ: the measured coefficients carry no more than four decimals.
So a result is shown on the tape's grid and never to a thousandth of a millimetre.
Source: wood scientists of the Forest Products Laboratory, 2025/2026, on four decimals.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from .amount import decimal_text
from .length import INCH, MM, Length, write_decimal_inches, write_inches
from .part import Unit

__all__ = ["SIXTY_FOURTH", "TENTH_MM", "THIRTY_SECOND", "board_feet_for_show", "coefficient_for_show",
           "percent_for_show", "round_down", "round_near", "round_up", "rounded_for_show", "shop_step",
           "told"]  # fmt: skip

SIXTY_FOURTH: Length = INCH // 64
THIRTY_SECOND: Length = INCH // 32
TENTH_MM: Length = MM // 10
HALF_MM: Length = MM // 2
THOUSANDTH: Length = INCH // 1000


def round_up(exact: Fraction | Length, step: Length = 1) -> Length:
    """The next multiple of `step` that is not less: for a gap, which may be too wide but not too tight.

    >>> round_up(5_039_360, THIRTY_SECOND) == 7 * THIRTY_SECOND
    True
    """
    return -(-Fraction(exact) // step) * step


def round_down(exact: Fraction | Length, step: Length = 1) -> Length:
    """The next multiple of `step` that is not more: for wood that must remain."""
    return Fraction(exact) // step * step


def round_near(exact: Fraction | Length, step: Length = 1) -> Length:
    """The nearest multiple of `step`; half way goes to the even one, so that plus and minus are treated alike."""
    return round(Fraction(exact) / step) * step


def rounded_for_show(length: Fraction | Length, unit: Unit = Unit.INCH) -> Length:
    """A result about moving wood with only the digits that the data justify: to 1/64 in, or to 0.1 mm.

    >>> rounded_for_show(5_039_360) == 13 * SIXTY_FOURTH, rounded_for_show(4_428_000, Unit.MM)
    (True, 4400000)
    """
    return round_near(length, TENTH_MM if unit is Unit.MM else SIXTY_FOURTH)


def shop_step(unit: Unit) -> Length:
    """What is proposed to a maker is a whole number of these: 1/32 in, or half a millimetre."""
    return HALF_MM if unit is Unit.MM else THIRTY_SECOND


def told(nm: Length, unit: Unit = Unit.INCH) -> str:
    """A length in a sentence about what is wrong, with the unit that its reader thinks in: a mark of the tape, or else
    decimals to 0.001.  What is there is never told as nothing.

    >>> told(44_450_000), told(-4_233_334), told(1), told(4_233_334, Unit.MM)
    ('1 3/4 in', '-0.167 in', '0.001 in', '4.233 mm')
    """
    size = abs(nm)
    if unit is Unit.INCH and size % SIXTY_FOURTH == 0:
        text = write_inches(size, 64)
    elif unit is Unit.INCH:
        text = write_decimal_inches(max(size, THOUSANDTH))
    else:
        text = decimal_text(max(round(Fraction(size, 1_000)), min(size, 1)), 3)
    return f"{'-' * (nm < 0)}{text} {unit.value}"


def _decimals(number: Fraction | float, places: int) -> str:
    exact = Fraction(number)
    scaled = round(exact * 10**places)
    return str(Decimal(scaled).scaleb(-places).quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN))


def coefficient_for_show(coefficient: Fraction) -> str:
    """A coefficient of movement to four decimals.

    >>> coefficient_for_show(Fraction("0.00248"))
    '0.0025'
    """
    return _decimals(coefficient, 4)


def percent_for_show(percent: Fraction | float) -> str:
    """A moisture content to a tenth of a point; as it comes from air alone it is good to about one point.

    >>> percent_for_show(7.6972)
    '7.7'
    """
    return _decimals(percent, 1)


def board_feet_for_show(board_feet: Fraction) -> str:
    """Board feet to two decimals, as a yard's slip shows them.

    >>> board_feet_for_show(Fraction(125, 24))
    '5.21'
    """
    return _decimals(board_feet, 2)
