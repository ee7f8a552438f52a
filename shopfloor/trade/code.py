"""What stands on the label?  A part's code: five symbols of 32 and a check symbol, shown as `K7Q-2MX`.

A code is short, can be said over a running planer, typed with gloves and written in chalk.  The check symbol catches
every single wrong symbol and every swap of two.  A code is given once, from a counter, and hangs on its part for good:
**what is printed can never change**, so every constant here is frozen by tests/vectors/codes.json.
Twin: static/trade/code.js.

Source of the scheme: brute force over check schemes; this one is linear over GF(32), so that 186 single changes
and 465 swaps prove it for all codes (tests/trade/test_code.py does).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..errors import ShopError
from .typed import plain, quoted

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's 32 symbols: no I, L, O or U."""

SERIALS = 32**5
"""Serials run from 0 to one less than this."""

_STEP, _START = 20_737_903, 11_904_187
_TYPED_AS = str.maketrans("abcdefghjkmnpqrstuvwxyzoil", "ABCDEFGHJKMNPQRSTUVWXYZ011")


def _weighed() -> Iterator[dict[str, int]]:
    """What each symbol adds to the check, place by place: its value times a, a^2 ... a^5."""
    values = list(range(32))
    for _ in range(5):
        values = [value << 1 if value < 16 else value << 1 ^ 37 for value in values]
        yield dict(zip(ALPHABET, values, strict=True))


_WEIGHED = tuple(_weighed())

# A code that is given contains no vowel and nothing that is read as one (0 1 3 4 as O I E A, V as U), and never three
# letters in a row: no syllable can be spoken, and no word or set of initials spelled.  What is left, consonants among
# digits that pass for consonants (2 5 6 7 8 9 as Z S G T B G), is held against skeletons of what four languages would
# rather not read on a label.  Nor does it then hold 0 or 1, the symbols that are misread most.
_VOWELS = re.compile("[AEYV0134]")
_LETTERS = re.compile("[A-Z]{3}")
_READ_AS = str.maketrans("256789", "ZSGTBG")
_ODD = re.compile(
    "SS|HH|KZ|NZ|NS|SX|XX|CP|PD|FK|BTCH|BCH|SHT|SCK|CNT|KNT|TTS|PNS|PSS|WTF|NGG|NGR|FGT|FGG|FTZ|PTN|PTS|SPC|TWT|TRD"
    "|DTH|BMB|STN|BDSM|BSTRD|CBRN|MST"
)
_ODD_NUMBERS = re.compile("28|69|88|666|H8")


class UnreadableCode(ShopError):
    """What was typed or scanned is not a part's code."""

    code = "unreadable-code"

    def __init__(self, what: str, *, code: str, where: str = "", do: str = "") -> None:
        super().__init__(what, where=where, do=do)
        self.code = code


def check(data: str) -> str:
    """The check symbol of five symbols: XOR of d[i] * a^(i+1) in GF(32), polynomial x^5 + x^2 + 1, a = 2.

    >>> check("K7Q2M"), check("00001"), check("ZZZZZ")
    ('X', '5', '1')
    """
    total = 0
    for weighed, symbol in zip(_WEIGHED, data, strict=True):
        total ^= weighed[symbol]
    return ALPHABET[total]


def code(serial: int) -> str:
    """The six symbols of a serial.  Different serials have different codes; neighbours look nothing alike.

    Raises ValueError outside 0 to SERIALS - 1.  Not every code is given to a part: see `codes`.
    """
    if not 0 <= serial < SERIALS:
        raise ValueError(f"{serial} is not a serial: 0 to {SERIALS - 1}")
    data = _data(serial)
    return data + check(data)


def _data(serial: int) -> str:
    rest = (serial * _STEP + _START) % SERIALS
    return (
        ALPHABET[rest >> 20]
        + ALPHABET[rest >> 15 & 31]
        + ALPHABET[rest >> 10 & 31]
        + ALPHABET[rest >> 5 & 31]
        + ALPHABET[rest & 31]
    )


def spells_nothing(six: str) -> bool:
    """Whether a code can be given: nobody will read a word, initials or a sign into it, in any of four languages."""
    if _VOWELS.search(six) or _LETTERS.search(six) or _ODD_NUMBERS.search(six):
        return False
    return not _ODD.search(six.translate(_READ_AS))


def codes(start: int = 0) -> Iterator[tuple[int, str]]:
    """The (serial, code) pairs that can be given to parts, from serial `start` on; others are passed over.

    About one serial in 25 is left, over a million codes.  Keep the serial last used, and go on from the next.
    """
    for serial in range(start, SERIALS):
        data = _data(serial)
        # Asked twice, because most serials fall at the first question and the check symbol costs more.
        if spells_nothing(data) and spells_nothing(six := data + check(data)):
            yield serial, six


def is_code(text: str) -> bool:
    """Whether the text is six symbols, as kept in tables and journals, of which the last one checks."""
    return len(text) == 6 and all(symbol in ALPHABET for symbol in text) and check(text[:5]) == text[5]


def read_code(text: str, where: str = "") -> str:
    """The six symbols of what was typed (`k7q 2mx`) or scanned (a bare code, or an address ending in /P/ and a code).

    The address's host does not matter, and nobody goes there.  Typed O is 0, I and L are 1.
    Raises UnreadableCode: `not-our-label`, `code-length`, `code-symbol` or `code-check`.

    >>> read_code("k7q-2mx"), read_code("HTTPS://SHOP.LOCAL/P/K7Q2MX")
    ('K7Q2MX', 'K7Q2MX')
    """
    shown = quoted(text)
    tidy = plain(text[:300])
    if "/" in tidy or ":" in tidy:
        found = re.fullmatch(r"[a-z][a-z0-9+.-]*://[^/ ]+(?:/[^ ]*)?/p/([^/ ]*)/?", tidy)
        if not found or len(text) > 300:
            raise UnreadableCode(
                f"{shown} is not one of our labels",
                code="not-our-label",
                where=where,
                do="Scan a label of this shop, or type the six symbols under it.",
            )
        tidy = found[1]
    typed = re.sub("[ -]", "", tidy).translate(_TYPED_AS)
    if len(typed) != 6:
        raise UnreadableCode(
            f"{shown} has {len(typed)} symbols, and a code has 6" if typed else "no code given",
            code="code-length",
            where=where,
            do="Type all six, like K7Q-2MX.",
        )
    for symbol in typed:
        if symbol not in ALPHABET:
            raise UnreadableCode(
                f"{shown} holds {quoted(symbol)}, which no code uses",
                code="code-symbol",
                where=where,
                do="A code has digits and capital letters, without I, L, O and U.",
            )
    if check(typed[:5]) != typed[5]:
        raise UnreadableCode(
            f"{show(typed)} does not check: one symbol is wrong, or two are swapped",
            code="code-check",
            where=where,
            do="Compare it with the label.",
        )
    return typed


def show(six: str) -> str:
    """A code as people see it.

    >>> show("K7Q2MX")
    'K7Q-2MX'
    """
    return f"{six[:3]}-{six[3:]}"


def payload(six: str, host: str = "") -> str:
    """What the QR code of a label says, in the signs of its compact mode; without a host, the code alone.

    `host` may carry a port.  Raises ValueError if it is not a host's name.

    >>> payload("K7Q2MX", "shop.local:8443"), payload("K7Q2MX")
    ('HTTPS://SHOP.LOCAL:8443/P/K7Q2MX', 'K7Q2MX')
    """
    if not host:
        return six
    if not re.fullmatch(r"[A-Za-z0-9.-]+(:[0-9]+)?", host):
        raise ValueError(f"{host!r} is not the name of a host")
    return f"HTTPS://{host.upper()}/P/{six}"
