"""Which characters did the person mean?  What is typed, pasted or scanned, made plain before anybody reads it.

Word processors, web pages and spreadsheets put typographer's quotes, odd spaces, long dashes and one-character
fractions where a plain sign was meant.  Twin: static/trade/typed.js; vectors: tests/vectors/lengths.json.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

MOST = 80
"""Characters that a cell with one size or one count can have; more is something else, and is not looked at."""

_NOTHING = "\u00ad\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff"
_SPACES = (
    "\t\n\v\f\r\u0085\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a"
    "\u2028\u2029\u202f\u205f\u3000"
)
_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"
_SLASHES = "\u2044\u2215\u29f8\uff0f"
_FEET = "`\u00b4\u02b9\u02bc\u2018\u2019\u201a\u201b\u2032\uff07"
_INCHES = "\u02ba\u201c\u201d\u201e\u201f\u2033\u3003\uff02"
_SUPERSCRIPTS = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079"
_SUBSCRIPTS = "\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089"
_FULL_WIDTH = "\uff10\uff11\uff12\uff13\uff14\uff15\uff16\uff17\uff18\uff19"
_FRACTIONS = {
    "\u00bc": "1/4", "\u00bd": "1/2", "\u00be": "3/4", "\u2150": "1/7", "\u2151": "1/9", "\u2152": "1/10",
    "\u2153": "1/3", "\u2154": "2/3", "\u2155": "1/5", "\u2156": "2/5", "\u2157": "3/5", "\u2158": "4/5",
    "\u2159": "1/6", "\u215a": "5/6", "\u215b": "1/8", "\u215c": "3/8", "\u215d": "5/8", "\u215e": "7/8",
    "\u215f": "1/", "\u2189": "0/3",
}  # fmt: skip


def _table() -> dict[str, str]:
    table: dict[str, str] = {}
    for signs, meant in ((_SPACES, " "), (_DASHES, "-"), (_SLASHES, "/"), (_FEET, "'"), (_INCHES, '"')):
        table.update(dict.fromkeys(signs, meant))
    for digits in (_SUPERSCRIPTS, _SUBSCRIPTS, _FULL_WIDTH):
        table.update({sign: str(value) for value, sign in enumerate(digits)})
    return table | {"\uff0e": ".", "\uff0c": ","} | _FRACTIONS


_PLAIN = str.maketrans(_table())
_WHOLE_FRACTIONS = "".join(sign for sign, meant in _FRACTIONS.items() if not meant.endswith("/"))
_DROPPED = re.compile(f"[{_NOTHING}]")
_FRACTION_THEN_DIGIT = re.compile(f"([{_WHOLE_FRACTIONS}])([0-9])")
_DIGIT_THEN_FRACTION = re.compile(f"([0-9])([{_WHOLE_FRACTIONS}\u215f{_SUPERSCRIPTS}])")
_CAPITALS = re.compile("[A-Z]+")
_STEERING = re.compile("[\0-\x1f\x7f-\x9f\u2028\u2029]")
_LONE = re.compile("[\ud800-\udfff]")
_SPACE = re.compile(" +")


def plain(text: str) -> str:
    """The text in plain signs: small letters, single spaces, `-`, `/`, `'` and `"`, fractions as `n/d`.

    A one-character fraction, or a raised digit, is a number apart from the digit beside it.

    >>> plain("1\u00be\u201d"), plain("\ufeff22\u200b  \u00bc IN.")
    ('1 3/4"', '22 1/4 in.')
    """
    bare = _DROPPED.sub("", text)
    apart = _DIGIT_THEN_FRACTION.sub(r"\1 \2", _FRACTION_THEN_DIGIT.sub(r"\1 \2", bare))
    small = _CAPITALS.sub(lambda found: found[0].lower(), apart.translate(_PLAIN))
    return _SPACE.sub(" ", small).strip(" ").replace("''", '"')


def too_many(text: str) -> bool:
    """Whether the text is longer than any size; asked first, so that a pasted book costs nothing."""
    return len(text) > MOST


def quoted(text: str) -> str:
    """The text between quotes, for a sentence: nothing that steers a screen, and cut short after 40 characters."""
    shown = _LONE.sub("\ufffd", _STEERING.sub(" ", _DROPPED.sub("", text[: MOST + 1]))).strip(" ")
    return f'"{shown[:40]}..."' if len(shown) > 40 else f'"{shown}"'


# --- dates -------------------------------------------------------------------------------------------------------

# Three letters are enough to know a month in English, German, French or Spanish, but for June and July in French.
_MONTHS = {
    1: "jan jän ene", 2: "feb fev fév", 3: "mar mär mrz", 4: "apr avr abr", 5: "may mai", 6: "jun juin",
    7: "jul juil", 8: "aug aou aoû ago", 9: "sep", 10: "oct okt", 11: "nov", 12: "dec dez déc dic",
}  # fmt: skip
_MONTH_OF = {name: number for number, names in _MONTHS.items() for name in names.split()}
_TAPE = (2, 4, 8, 16, 32, 64)

_DAY_MONTH = re.compile(r"([0-9]{1,2})\.?[ -]?([a-zäéû]{3,9})\.?(?:[ -]([0-9]{4}|[0-9][0-9]))?")
_MONTH_DAY = re.compile(r"([a-zäéû]{3,9})\.?[ -]([0-9]{1,2})(?:,? ([0-9]{4}))?")
_LEADING_ZERO = re.compile(r"(0[0-9])/([0-9]{1,2})|([0-9]{1,2})/(0[0-9])")
_YEAR_FIRST = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})(?:[ t][0-9].*)?")
_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2(?:[0-9]{4}|[0-9][0-9])(?:[ t][0-9].*)?")


def date_meant(text: str) -> tuple[str, ...] | None:
    """None unless plain `text` is a date; else the fractions on a tape that a spreadsheet makes into it.

    A spreadsheet turns 3/4 into 4 March or, where the day comes first, into 3 April, and 3/32 into March 1932.

    >>> date_meant("4-mar"), date_meant("1932-03-01 00:00:00"), date_meant("8-apr"), date_meant("3/4")
    (('3/4',), ('3/32',), ('4/8', '8/4'), None)
    """
    if found := _YEAR_FIRST.fullmatch(text):
        year, month, day = (int(part) for part in found.groups())
        return _on_tape([(month, day), (day, month)] + ([(month, year % 100)] if day == 1 else []))
    if found := _YEAR_LAST.fullmatch(text):
        return _on_tape([(int(found[1]), int(found[3])), (int(found[3]), int(found[1]))])
    if found := _LEADING_ZERO.fullmatch(text):
        return _on_tape([(int(found[1] or found[3]), int(found[2] or found[4]))])
    if (found := _DAY_MONTH.fullmatch(text)) and (month := _month(found[2])):
        return _on_tape([(month, int(found[1])), (int(found[1]), month)])
    if (found := _MONTH_DAY.fullmatch(text)) and (month := _month(found[1])):
        return _on_tape([(month, int(found[2]))])
    return None


def _month(name: str) -> int:
    return _MONTH_OF.get(name[:4] if name.startswith(("juin", "juil")) else name[:3], 0)


def _on_tape(pairs: Iterable[tuple[int, int]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(f"{above}/{below}" for above, below in pairs if below in _TAPE))
