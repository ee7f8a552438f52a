"""How dry does wood get in this air?  The moisture content at which it neither gains nor loses water.

The curve is empirical (two-hydrate form, fitted to measurements), so it is the one place in the trade where a float is
honest: no length comes out of it.  `settled` hands its result on as an exact tenth of a point.
"""

from __future__ import annotations

from fractions import Fraction

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, Status
from .rounding import percent_for_show
from .sources import CHAPTER_13, DATA_QUALITY, EQUATION_4_5, EXTENSION, HUMIDITY_CANADA, HUMIDITY_US

__all__ = ["FACTS", "INTERIOR", "AirOutOfRange", "Percent", "air_warnings", "celsius", "emc", "emc_fahrenheit",
           "settled", "swing"]  # fmt: skip

Percent = Fraction | int
"""Moisture content in percent of the ovendry weight, exact."""


class AirOutOfRange(ShopError):
    """The curve says nothing about air this cold, this hot, this wet or this dry."""

    code = "air-out-of-range"


# --- the curve ---------------------------------------------------------------------------------------------------
#
# Each of W, K, K1, K2 is a + b T + c T².  Wrong copies are in circulation (a misplaced decimal in K, a wrong sign in
# K1): the vectors in tests/vectors/wood.json hold these against the table.

_Curve = dict[str, tuple[str, str, str]]
_CELSIUS: _Curve = {
    "W": ("349", "1.29", "0.0135"),
    "K": ("0.805", "0.000736", "-0.00000273"),
    "K1": ("6.27", "-0.00938", "-0.000303"),
    "K2": ("1.91", "0.0407", "-0.000293"),
}
_FAHRENHEIT: _Curve = {
    "W": ("330", "0.452", "0.00415"),
    "K": ("0.791", "0.000463", "-0.000000844"),
    "K1": ("6.34", "0.000775", "-0.0000935"),
    "K2": ("1.09", "0.0284", "-0.0000904"),
}

COLDEST, HOTTEST = Fraction(-10, 9), Fraction(490, 9)
"""30 to 130 °F: the rows of the table that the curve was held against."""


def celsius(fahrenheit: Fraction | int) -> Fraction:
    """Degrees Celsius, exact.

    >>> celsius(50)
    Fraction(10, 1)
    """
    return (Fraction(fahrenheit) - 32) * Fraction(5, 9)


def emc(temp_c: float, rh_pct: float) -> float:
    """Equilibrium moisture content in percent; air temperature in °C, relative humidity in percent.

    One curve for all species, good to about a point; drying wood sits higher, wetting wood lower.  A finish slows the
    change and does not stop it, and a thick board takes weeks.  Raises AirOutOfRange.

    >>> round(emc(21.1, 40), 1)
    7.7
    """
    _check_air(temp_c, rh_pct)
    return _on_curve(_CELSIUS, temp_c, rh_pct)


def emc_fahrenheit(temp_f: float, rh_pct: float) -> float:
    """The same from °F, by the coefficients published for °F.

    >>> round(emc_fahrenheit(70, 40), 1)
    7.7
    """
    _check_air((temp_f - 32) * 5 / 9, rh_pct)
    return _on_curve(_FAHRENHEIT, temp_f, rh_pct)


def settled(temp_c: float, rh_pct: float) -> Fraction:
    """`emc` to a tenth of a point, exact from here on: what the arithmetic of lengths takes.

    >>> settled(21.1, 40)
    Fraction(77, 10)
    """
    return Fraction(percent_for_show(emc(temp_c, rh_pct)))


def swing(temp_c: float, rh_low: float, rh_high: float) -> float:
    """By how many points wood goes up and down between the dry and the damp season.

    >>> round(swing(21.1, 30, 50), 1)
    3.1
    """
    return emc(temp_c, rh_high) - emc(temp_c, rh_low)


def _on_curve(curve: _Curve, temperature: float, rh_pct: float) -> float:
    w, k, k1, k2 = (float(a) + float(b) * temperature + float(c) * temperature**2 for a, b, c in curve.values())
    kh = k * rh_pct / 100
    one, two = k1 * kh, k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two))


def _check_air(temp_c: float, rh_pct: float) -> None:
    if not 0 <= rh_pct < 100:
        raise AirOutOfRange(
            f"{rh_pct:g} % relative humidity is outside the curve", where="humidity", do="Give 5 to 95 %."
        )
    # A millionth of a degree is what turning °F into °C with floats may lose.
    if not COLDEST - Fraction(1, 10**6) <= temp_c <= HOTTEST + Fraction(1, 10**6):
        raise AirOutOfRange(
            f"{temp_c:g} °C is outside the table that the curve was held against",
            where="temperature", do="Give 0 to 45 °C (32 to 113 °F).",
        )  # fmt: skip


def air_warnings(temp_c: float, rh_pct: float) -> tuple[str, ...]:
    """What to show beside a result for air at the ends of the range, where the curve is less sure."""
    told = []
    if not 0 <= temp_c <= 45:
        told.append(f"The curve is meant for 0 to 45 °C; at {temp_c:g} °C its result is an estimate.")
    if not 5 <= rh_pct <= 95:
        told.append(f"The curve is meant for 5 to 95 % relative humidity; at {rh_pct:g} % its result is an estimate.")
    return tuple(told)


# --- what stands on the page of numbers --------------------------------------------------------------------------


def _fact(
    key: str, name: str, value: str, status: Status, source: str, *, note: str = "", changeable: bool = False
) -> Fact[str]:
    return Fact(
        key=key, subject="moisture", name=name, value=value, unit="", status=status, source=source,
        changeable=changeable, note=note,
    )  # fmt: skip


def _formula(a: str, b: str, c: str) -> str:
    return f"{a} + {b} T + {c} T²".replace("+ -", "− ")


INTERIOR: Fact[Fraction] = Fact(
    key="interior-moisture", subject="moisture", name="Moisture content of interior woodwork, most of the US",
    value=Fraction(8), unit="% moisture", status=CONFIRMED, source=f"{CHAPTER_13}, Figure 13-1, as quoted on a forum",
    note="6 % in the dry southwest, 11 % on the damp coasts of the south.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (
    _fact("emc-form", "Equilibrium moisture content, percent, h the relative humidity from 0 to 1",
          "(1800 / W) × [K h / (1 − K h) + (K1 K h + 2 K1 K2 K² h²) / (1 + K1 K h + K1 K2 K² h²)]",
          CONFIRMED, EQUATION_4_5),
    *(_fact(f"emc-{name.lower()}-c", f"{name}, T in °C", _formula(*terms), CONFIRMED, EQUATION_4_5)
      for name, terms in _CELSIUS.items()),
    *(_fact(f"emc-{name.lower()}-f", f"{name}, T in °F", _formula(*terms), CONFIRMED, EQUATION_4_5)
      for name, terms in _FAHRENHEIT.items()),
    _fact("emc-accuracy", "Accuracy of the curve", "about 1 point either way", UNCONFIRMED, DATA_QUALITY,
          note="One curve for all species; its authors judged the data unfit for fine work and wide in practical use."),
    _fact("emc-air", "Air that the curve is meant for", "0 to 45 °C, 5 to 95 % relative humidity", DERIVED,
          EQUATION_4_5, note="Held against 209 entries of Table 4-2: within the rounding of the table."),
    INTERIOR,
    _fact("furniture-stock", "Moisture of stock for furniture", "6 to 8 %", CONFIRMED, EXTENSION, changeable=True),
    _fact("indoor-humidity", "Indoor relative humidity that is advised", "30 to 50 %, below 60 %", CONFIRMED,
          HUMIDITY_US),
    _fact("heating-humidity", "Indoor relative humidity in the heating season, cold country", "not above 45 %",
          CONFIRMED, HUMIDITY_CANADA, note="30 % or less in very cold weather; houses averaged 25 to 30 % in winter."),
    _fact("humidity-rule", "Near room temperature", "5 points of relative humidity are about 1 point of moisture",
          CONFIRMED, "a trade magazine's column"),
    _fact("width-rule", "Many woods", "about 1 % in width for 4 points of moisture", CONFIRMED,
          "a wood council's answers to questions"),
)  # fmt: skip
