"""Why is this no size, and what was probably meant?  The reason that helps most, for a text that is not an amount.

A suggestion is always something that can be read, and it is only ever offered.  Twin: static/trade/refusal.js.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from .amount import LONGEST, amount, comma_of_three, unit_typed
from .typed import date_meant


class Why(NamedTuple):
    """Why a text is no size; `says` has a gap for the text itself."""

    code: str
    says: str
    suggests: tuple[str, ...] = ()
    do: str = ""


_ABOUT = re.compile(r"(?:~|≈|∼|±|\+/-|ca\.?|circa|approx\.?|approximately|about|around) ?([0-9.,].*)")
_ABOUT_AFTER = re.compile(r"(.*[0-9\"'a-z.]) ?(?:\?|~|ish|or so|approx\.?|(?:±|\+/-).*)")
_DOT_AND_SLASH = re.compile("([0-9]+)[.,]([0-9]+)/([0-9]+)")
_TWO = re.compile("([0-9]+)(?: ?- ?| )([0-9]+)")
_THREE = re.compile("([0-9]+)[ -]([0-9]+)[ -]([0-9]+)")
_WHOLE_AND_MORE = re.compile("([0-9]+)(?: ?- ?| )([0-9]+)/([0-9]+)")
_FEET_AND_MORE = re.compile(r"([0-9]+) ?(?:feet|foot|ft\.?|') ?-? ?([0-9][0-9.,/ -]*?) ?(?:inches|inch|in\.?|\")?")
_TAPE = ("2", "4", "8", "16", "32", "64")


def why_not(size: str, unit: str) -> Why:
    """The reason that helps most.  Called only for what is not an amount."""

    def reads(*texts: str) -> tuple[str, ...]:
        return tuple(text for text in texts if (made := amount(text, unit)) and 1 <= made.exact <= LONGEST)

    if size.startswith(("=", "@")):
        return Why("a-formula", "{} is a formula, not a size", (), "Write the size itself, as text.")
    if (fractions := date_meant(size)) is not None:
        inches = tuple(f"{fraction} in" for fraction in fractions) if unit == "mm" else fractions
        return Why("a-date", "{} is a date, not a size", inches)
    if (about := _ABOUT.fullmatch(size) or _ABOUT_AFTER.fullmatch(size)) and reads(about[1]):
        return Why("not-exact", "{} is not exact", (about[1],))
    if size.startswith("-") and amount(size[1:].strip(" "), "in"):
        return Why("negative-length", "{} is a negative size")
    if re.search("/ ?0+(?![0-9])", size):
        return Why("not-a-number", "{} is not a number: nothing is cut into 0 parts")
    if unit == "mm" and amount(size, "in"):
        says = "{} is a fraction, and this size is in millimetres"
        return Why("ambiguous-length", says, reads(f"{size} in"))
    summands = re.split(r" ?\+ ?", size)
    if len(summands) > 1 and len(reads(*summands)) == len(summands):
        mixed = reads(" ".join(summands)) if len(summands) == 2 and "/" in summands[1] else ()
        return Why("a-sum", "{}: sums are not worked out in cells", mixed, "Add it up, and write one number.")
    factors = re.split(" ?[x*×] ?", size)
    if len(factors) > 1 and len(reads(*factors)) == len(factors):
        return Why("two-numbers", "{} is more than one size", (), "Write one size here.")
    tail = unit_typed(size)
    number = size.removesuffix('"').rstrip(" .'abcdefghijklmnopqrstuvwxyz")
    if parts := comma_of_three(number):
        both = reads(f"{parts[0]}{parts[1]}{tail}", f"{parts[0]}.{parts[1]}{tail}")
        return Why("ambiguous-length", "{}: comma could be thousands or decimal", both)
    if found := _DOT_AND_SLASH.fullmatch(number):
        whole, above, below = found.groups()
        return Why(
            "unreadable-length", "{} is not a size", reads(f"{whole} {above}/{below}{tail}", f"{whole}.{above}{tail}")
        )
    if found := _TWO.fullmatch(number):
        first, second = found.groups()
        meant = reads(f"{first}/{second}{tail}") if second in _TAPE and int(first) < int(second) else ()
        grouped = reads(f"{first}{second}{tail}") if len(second) == 3 and "-" not in number else ()
        return Why("two-numbers", "{}: two numbers, no fraction", meant + grouped)
    if found := _THREE.fullmatch(number):
        meant = reads(f"{found[1]} {found[2]}/{found[3]}{tail}") if found[3] in _TAPE else ()
        return Why("two-numbers", "{}: three numbers, no fraction", meant)
    if found := _WHOLE_AND_MORE.fullmatch(number):
        whole, above, below = (int(part) for part in found.groups())
        total = f"{whole + above // below} {above % below}/{below}{tail}"
        return Why("ambiguous-length", f"{{}}: {above}/{below} is one or more, after a whole number", reads(total))
    if (found := _FEET_AND_MORE.fullmatch(size)) and amount(found[2], "in"):
        inches_over = int(found[2]) if re.fullmatch("[0-9]+", found[2]) else 0
        feet = f"{int(found[1]) + inches_over // 12}' {inches_over % 12}\""
        return Why("ambiguous-length", "{}: a foot or more, after the feet", reads(feet) if inches_over else ())
    return Why("unreadable-length", "{} is not a size")
