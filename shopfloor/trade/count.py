"""How many pieces does a line of the cut list ask for?  "4", "x4", "2 pr", "3.0".  Twin: static/trade/count.js."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..errors import ShopError
from .typed import date_meant, plain, quoted, too_many

MOST = 2_000
"""Pieces of one line.  More is a slip of the keys, and would be as many labels."""

_COUNT = re.compile(
    r"(?:x ?)?([0-9]+)(?:[.,]([0-9]+))?(?: ?(?:(x|pcs?\.?|pieces?|each|ea\.?|off|no\.?)|(prs?\.?|pairs?)))?"
)


class UnreadableCount(ShopError):
    """A quantity is missing, or is no number of pieces.

    Codes: unreadable-count, missing-count, zero-count, negative-count, part-count, too-many, a-date, a-formula.
    """

    code = "unreadable-count"

    def __init__(self, what: str, *, code: str = code, where: str = "", do: str = "") -> None:
        super().__init__(what, where=where, do=do)
        self.code = code


@dataclass(frozen=True)
class Count:
    """Pieces of wood, one or more; `hands` says how pairs were understood, to be confirmed."""

    pieces: int
    hands: str = ""


def read_count(text: str, where: str = "Qty") -> Count:
    """The pieces that a quantity asks for; a pair is two, one of each hand.  Raises UnreadableCount.

    >>> read_count("x4"), read_count("2 pr")
    (Count(pieces=4, hands=''), Count(pieces=4, hands='2 left + 2 right, to be confirmed'))
    """

    def refuse(code: str, what: str, do: str = "Write a whole number, like 4.") -> UnreadableCount:
        return UnreadableCount(what, code=code, where=where, do=do)

    shown, tidy = quoted(text), "" if too_many(text) else plain(text)
    if not tidy and not too_many(text):
        raise refuse("missing-count", "missing quantity: not taken as 1")
    if tidy.startswith(("=", "@")):
        raise refuse("a-formula", f"{shown} is a formula, not a quantity", "Write the number itself.")
    if date_meant(tidy) is not None:
        raise refuse("a-date", f"{shown} is a date, not a quantity")
    if tidy.startswith("-") and _COUNT.fullmatch(tidy[1:].strip(" ")):
        raise refuse("negative-count", f"{shown} is a negative quantity")
    found = _COUNT.fullmatch(tidy)
    if not found:
        raise refuse("unreadable-count", f"{shown} is not a quantity")
    whole, places, _, pairs = found.groups()
    if places and "," in tidy and len(places) == 3:
        raise refuse("unreadable-count", f"{shown}: comma could be thousands or decimal")
    if places and int(places):
        raise refuse("part-count", f"{shown} is not a whole number")
    number = int(whole)
    if not number:
        raise refuse("zero-count", f"{shown}: zero pieces", "Leave the row out, or write how many.")
    pieces = number * 2 if pairs else number
    if pieces > MOST:
        raise refuse("too-many", f"{shown} is more than {MOST:,} pieces of one line", "Look at the quantity.")
    return Count(pieces, f"{number} left + {number} right, to be confirmed" if pairs else "")
