"""What does the maker mean by "2 7/16"?  A length is a whole number of nanometres, read and written here.

Reading is exact: `Fraction` all the way, rounded once, half-even, to whole nanometres.  What is ambiguous or senseless
is refused with one sentence, and a suggestion is never applied by itself.  Twin: static/trade/length.js.
Vectors: tests/vectors/lengths.json (reading), lengths_written.json (writing).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, NamedTuple

from ..errors import ShopError
from .amount import LONGEST, Amount, amount, decimal_text
from .count import Count, UnreadableCount, read_count
from .refusal import why_not
from .typed import plain, quoted, too_many

__all__ = ["Count", "Length", "Parts", "Reading", "UnreadableCount", "UnreadableLength", "parts_of_inches", "read",
           "read_count", "read_size", "spoken", "write", "write_decimal_inches", "write_exact", "write_feet_inches",
           "write_inches", "write_mm"]  # fmt: skip

Length = Annotated[int, "nm"]
"""Whole nanometres.  1/64 in is 396 875, 0.01 mm is 10 000: both systems are exact."""

INCH: Length = 25_400_000
MM: Length = 1_000_000
SHORT: Length = 38_100_000
"""1 1/2 in.  A part shorter than this along the grain is rare enough to be looked at twice."""
FARTHEST: Length = 2**53 - 1
"""The last whole number that JavaScript counts exactly: 9 000 km."""

_TEN_THOUSANDTH: Length = 2_540
_ROUND_MM: Length = 10_000

QUARTERS = ("4/4", "5/4", "6/4", "7/4", "8/4", "10/4", "12/4", "14/4", "16/4")
"""Rough thickness in quarters of an inch, as lumber is sold."""
_QUIET_WORDS = ("finished", "final", "net")
_TOLD_WORDS = ("full", "heavy", "strong", "shy", "scant", "bare", "light", "rough")


class UnreadableLength(ShopError):
    """A text is no length, or not for certain.  `suggests` holds what was probably meant: ask, never apply it.

    Codes: unreadable-length, no-length, negative-length, zero-length, ambiguous-length, too-long, two-numbers,
    not-a-number, not-exact, a-date, a-formula, a-sum.
    """

    code = "unreadable-length"

    def __init__(
        self, what: str, *, where: str = "", do: str = "", code: str = code, suggests: tuple[str, ...] = ()
    ) -> None:
        super().__init__(what, where=where, do=f"Write {' or '.join(suggests)}, if that is meant." if suggests else do)
        self.code, self.suggests = code, suggests


@dataclass(frozen=True)
class Reading:
    """One size as read: `nm` counts; `exact` is the same in nanometres before it was rounded.

    `warnings` are to be shown for a look; `note` is a word that stood beside the size ("finished", "full").
    `stock` is "5/4" where a thickness names rough lumber and not a finished size; `means` says that in words.
    """

    nm: Length
    exact: Fraction
    warnings: tuple[str, ...] = ()
    note: str = ""
    means: str = "size"
    stock: str = ""


def read(text: str, unit: str = "in", *, where: str = "") -> Length:
    """The nanometres of a typed length; a number without a unit is in `unit`, "in" or "mm".

    Zero is a length here (a shift, a distance from an end); words such as "full" are dropped.
    Raises UnreadableLength.

    >>> read("1 3/4"), read("605,5", "mm"), read("5' 3/4\\"")
    (44450000, 605500000, 1543050000)
    """
    found, _ = _found(text, unit, where)
    if not found.unit and found.exact > LONGEST:
        raise _too_long(found, text, unit, where)
    return round(found.exact)


def read_size(text: str, unit: str = "in", column: str = "Length", where: str = "") -> Reading:
    """One size of a part, as it stands in a cut list.

    `column` is Thickness, Width or Length, and decides what "5/4" means; `where` is what a refusal names
    ("row 34, Length"), else the column.  Raises UnreadableLength, for zero and for more than 50 ft, too.

    >>> read_size("5/4", column="Thickness").means
    'stock 5/4, rough 1 1/4 in; finished size not given'
    """
    where = where or column
    found, note = _found(text, unit, where)
    nm = round(found.exact)
    if found.exact > LONGEST:
        raise _too_long(found, text, unit, where)
    if nm == 0:
        raise UnreadableLength(f"{quoted(text)} is no size: zero", code="zero-length", where=where, do=_example(unit))
    warnings, means, stock = list(found.warnings), "size", ""
    if column.lower() == "thickness" and found.fraction in QUARTERS:
        stock = found.fraction
        means = f"stock {stock}, rough {write_inches(nm, 64)} in; finished size not given"
        warnings.append("finished thickness needed")
    elif lost := _lost_space(found.fraction):
        warnings.append(f"{write_inches(nm, 64)} or {lost}? ask")
    if column.lower() == "length" and nm < SHORT:
        warnings.append("very short part")
    if note in _TOLD_WORDS:
        warnings.append(f"{quoted(note)}: word kept and printed, not dropped")
    return Reading(nm, found.exact, tuple(warnings), note, means, stock)


# --- reading -----------------------------------------------------------------------------------------------------

_WORDS = "|".join(_QUIET_WORDS + _TOLD_WORDS)


def _without_word(tidy: str) -> tuple[str, str]:
    """The size, and the one word of the trade that stood before or after it."""
    if found := re.fullmatch(rf"({_WORDS}) (.+)", tidy):
        return found[2], found[1]
    if found := re.fullmatch(rf"(.+?),? ?\(?({_WORDS})\)?", tidy):
        return found[1], found[2]
    return tidy, ""


def _found(text: str, unit: str, where: str) -> tuple[Amount, str]:
    """The amount, and the word beside it; or the refusal that fits."""
    if unit not in ("in", "mm"):
        raise ValueError(f"{unit!r} is not a unit that a job is thought in: in or mm")
    shown, tidy = quoted(text), "" if too_many(text) else plain(text)
    if not tidy and not too_many(text):
        raise UnreadableLength("no size given", code="no-length", where=where, do=_example(unit))
    size, note = _without_word(tidy)
    found = amount(size, unit)
    if found is None:
        why = why_not(size, unit)
        raise UnreadableLength(
            why.says.format(shown), code=why.code, where=where, do=why.do or _example(unit), suggests=why.suggests
        )
    if found.exact > FARTHEST:
        raise _too_long(found, text, unit, where)
    return found, note


def _lost_space(fraction: str) -> str:
    """Give "1 3/4" for an improper "13/4" that may have lost its space, else nothing."""
    above, _, below = fraction.partition("/")
    if not below or int(above) < int(below):
        return ""
    splits = ((above[:at], above[at:]) for at in range(1, len(above)))
    return next((f"{whole} {rest}/{below}" for whole, rest in splits if rest[0] != "0" and int(rest) < int(below)), "")


# --- refusals ----------------------------------------------------------------------------------------------------


def _example(unit: str) -> str:
    return "Write it like 595.5 or 23 7/16 in." if unit == "mm" else "Write it like 23 7/16 or 595.5 mm."


def _too_long(found: Amount, text: str, unit: str, where: str) -> UnreadableLength:
    """50 ft is the limit; a bare number of inches may be one of millimetres."""
    says = f"{quoted(text)} is too long for a board" + ("" if found.unit else " (unit missing?)")
    number = found.exact / INCH
    in_mm = unit == "in" and not found.unit and number.denominator == 1 and number * MM <= LONGEST
    return UnreadableLength(
        says,
        code="too-long",
        where=where,
        do="The longest length taken is 50 ft (15240 mm).",
        suggests=(f"{number} mm",) if in_mm else (),
    )


# --- writing -----------------------------------------------------------------------------------------------------


class Parts(NamedTuple):
    """Inches as they are drawn with a raised fraction; `mark` is "", "full" or "shy"."""

    whole: int
    numerator: int
    denominator: int
    mark: str


def parts_of_inches(nm: Length, denominator: int = 16) -> Parts:
    """The nearest line of a tape with `denominator` lines to the inch, in lowest terms.

    `mark` is "full" where the length is a little more than the line, "shy" where it is a little less.  Half way it is
    the line that is drawn longer on the tape (half-even), so 15/32 in sixteenths is 1/2 shy.  A numerator of 0 has
    the denominator 1.  Below zero all of it is mirrored, and the first number that is not 0 carries the minus.

    >>> parts_of_inches(11_112_500), parts_of_inches(11_112_501)[3], parts_of_inches(-19_050_000)
    (Parts(whole=0, numerator=7, denominator=16, mark=''), 'full', Parts(whole=0, numerator=-3, denominator=4, mark=''))
    """
    lines = Fraction(abs(nm) * denominator, INCH)
    line = round(lines)
    mark = "full" if lines > line else "shy" if lines < line else ""
    whole, over = divmod(line, denominator)
    part = Fraction(over, denominator)
    sign = -1 if nm < 0 else 1
    return Parts(sign * whole, part.numerator * (1 if whole else sign), part.denominator, mark)


def write_inches(nm: Length, denominator: int = 16) -> str:
    """Inches to the nearest line of the tape, without the unit: "2 7/16", "7/16 full", "3 shy".

    >>> write_inches(61_912_500), write_inches(61_912_500, 8)
    ('2 7/16', '2 1/2 shy')
    """
    part = parts_of_inches(nm, denominator)
    fraction = f"{part.numerator}/{part.denominator}" if part.numerator else ""
    number = f"{part.whole} {fraction}".strip() if part.whole or not fraction else fraction
    return f"{number} {part.mark}".strip()


def write_feet_inches(nm: Length, denominator: int = 16) -> str:
    """Feet and inches with their marks: 5' 3 3/4"; under a foot only inches.

    >>> write_feet_inches(1_619_250_000), write_feet_inches(304_799_999)
    ('5\\' 3 3/4"', '1\\' 0" shy')
    """
    part = parts_of_inches(abs(nm), denominator)
    feet, inches = divmod(part.whole, 12)
    fraction = f"{part.numerator}/{part.denominator}" if part.numerator else ""
    small = f"{inches} {fraction}".strip() if inches or not fraction else fraction
    text = f"{feet}' {small}\"" if feet else f'{small}"'
    return f"{'-' if nm < 0 else ''}{text} {part.mark}".strip()


def write_decimal_inches(nm: Length, places: int = 3) -> str:
    """Decimal inches as a caliper shows them, always to `places`, half-even.

    >>> write_decimal_inches(61_912_500)
    '2.438'
    """
    return decimal_text(round(Fraction(nm * 10**places, INCH)), places, trim=False)


def write_mm(nm: Length) -> str:
    """Millimetres to a tenth, half-even, without the unit and without a needless ".0".

    >>> write_mm(605_000_000), write_mm(61_912_500)
    ('605', '61.9')
    """
    return decimal_text(round(Fraction(nm, 100_000)), 1)


def write_exact(nm: Length, unit: str = "in") -> str:
    """The shortest text, with its unit, that reads back as the very same length.

    Where inches are wanted: a fraction down to 1/64, else decimals, and millimetres only for what is round in those.

    >>> write_exact(44_450_000), write_exact(25_400), write_exact(12_000_000), write_exact(44_450_000, "mm")
    ('1 3/4 in', '0.001 in', '12 mm', '44.45 mm')
    """
    if unit == "in" and nm % (INCH // 64) == 0:
        return f"{write_inches(nm, 64)} in"
    if unit == "in" and (nm % _TEN_THOUSANDTH == 0 or nm % _ROUND_MM):
        for places in range(1, 9):
            scaled = round(Fraction(nm * 10**places, INCH))
            if round(Fraction(scaled * INCH, 10**places)) == nm:
                return f"{decimal_text(scaled, places)} in"
    return f"{decimal_text(nm, 6)} mm"


def write(nm: Length, unit: str = "in", denominator: int = 16) -> str:
    """A length as screens and paper show it, without the unit: inches to a job's denominator, or millimetres."""
    return write_mm(nm) if unit == "mm" else write_inches(nm, denominator)


_SPOKEN = {4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second", 64: "sixty-fourth"}


def spoken(nm: Length, unit: str = "in", denominator: int = 16) -> str:
    """A length in words that a screen reader says right.

    >>> spoken(82_550_000), spoken(11_112_501), spoken(605_500_000, "mm")
    ('3 and a quarter inches', '7 sixteenths of an inch, full', '605.5 millimetres')
    """
    if unit == "mm":
        number = write_mm(nm)
        return f"{number.replace('-', 'minus ')} millimetre{'' if number in ('1', '-1') else 's'}"
    whole, above, below, mark = parts_of_inches(abs(nm), denominator)
    if below == 2:
        fraction = "a half" if whole else "half"
    elif above == 1:
        fraction = f"{'an' if below == 8 else 'a'} {_SPOKEN[below]}"
    else:
        fraction = f"{above} {_SPOKEN[below]}s" if above else ""
    if whole and fraction:
        text = f"{whole} and {fraction} inches"
    elif fraction:
        text = f"{fraction} {'an inch' if below == 2 else 'of an inch'}"
    else:
        text = f"{whole} inch" if whole == 1 else f"{whole} inches"
    minus = "minus " if nm < 0 else ""
    return f"{minus}{text}, {mark}" if mark else f"{minus}{text}"
