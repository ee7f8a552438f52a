"""How wide is a piece of text on a drawing?  Type set in runs, measured by the real metrics of its fonts.

Sizes are user units of a drawing (pixels on a phone).  A fraction is set by us: its numerator raised, a slash, its
denominator on the line, both at `FRACTION` of the size.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import NamedTuple
from xml.sax.saxutils import escape

from reportlab.pdfbase.ttfonts import TTFontFile

from ..trade.length import Length, parts_of_inches, write_mm
from ..trade.part import Unit

FONTS = Path(__file__).parent / "fonts"
FAMILY = "Atkinson Hyperlegible Next, Noto Sans, sans-serif"
FRACTION = 0.7  # the size of a fraction's digits, in that of the number
SLASH = 0.88
MARK_WORD = 16  # the largest size of "full" and "shy"
ELLIPSIS = "…"


class Run(NamedTuple):
    """Letters of one size and weight, `rise` above the baseline and `shift` on from where the last run ended; `tone`
    is the class that colours them, or empty."""

    text: str
    size: float
    bold: bool = False
    tone: str = "ink"
    rise: float = 0.0
    shift: float = 0.0


Runs = tuple[Run, ...]


@cache
def _advances(bold: bool) -> tuple[dict[int, int], dict[int, int]]:
    """Advance widths by code point, in thousandths of the size, of the type and of the one that stands in for it."""
    weight = "Bold" if bold else "Regular"
    names = (f"AtkinsonHyperlegibleNext-{weight}.ttf", f"NotoSans-{weight}.ttf")
    first, second = (TTFontFile(str(FONTS / name), charInfo=1).charWidths for name in names)
    return first, second


@cache
def advance(letter: str, bold: bool) -> int:
    """How far one letter moves the pen, in thousandths of its size.

    A letter that neither font has is taken to be as wide as it is high, as ideographs are.
    """
    first, second = _advances(bold)
    return round(first.get(ord(letter)) or second.get(ord(letter)) or 1000)


def width(runs: Iterable[Run]) -> float:
    """How long the runs are, set one after the other."""
    return sum(run.shift + run.size * sum(advance(letter, run.bold) for letter in run.text) / 1000 for run in runs)


def plain(text: str) -> str:
    """The text on one line, without what XML cannot carry: control characters, lone surrogates.

    >>> plain("Rail,\\n upper\\x00")
    'Rail, upper'
    """
    kept = (
        letter if letter.isprintable() else " "
        for letter in text
        if not 0xD800 <= ord(letter) <= 0xDFFF and letter not in "\ufffe\uffff"
    )
    return " ".join("".join(kept).split())


def fit(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """The text, cut short with an ellipsis if it is longer than the room."""
    text = plain(text)
    if width([Run(text, size, bold)]) <= room:
        return text
    while text and width([Run(text + ELLIPSIS, size, bold)]) > room:
        text = text[:-1].rstrip()
    return text + ELLIPSIS if text else ""


def measured(
    length: Length, unit: Unit, denominator: int, size: float, *, bold: bool = False, tone: str = "ink"
) -> Runs:
    """A length as it is set: "33" and a raised "3", a slash and an "8"; millimetres as they are.  The unit is not set.

    The space before a fraction is a real one, so that copied or spoken text reads "33 3/8".
    """
    if unit is Unit.MM:
        return (Run(write_mm(length), size, bold, tone),)
    whole, numerator, bottom, mark = parts_of_inches(length, denominator)
    small = round(size * FRACTION, 1)
    runs = []
    if whole or not numerator:
        runs.append(Run(str(whole), size, bold, tone))
    if numerator:
        # A plain slash: the one made for fractions is so narrow in other fonts that the digits run into each other
        # where ours is missing.  The space may be narrow, but "1 1/16" must not be taken for "11/16".
        lead, close = " " if whole else "", round(size * -0.03, 1)
        tight = round((16 - size) * 0.2, 1) if whole else 0.0
        runs.append(Run(f"{lead}{numerator}", small, bold, tone, round(size * 0.2, 1), tight))
        runs.append(Run("/", round(size * SLASH, 1), bold, tone, 0.0, close))
        runs.append(Run(str(bottom), small, bold, tone, 0.0, close))
    if mark:
        runs.append(Run(f" {mark}", min(size, MARK_WORD), False, tone))
    return tuple(runs)


def same(runs: Sequence[Run]) -> str:
    """What the runs say, without how they are set."""
    return "".join(run.text for run in runs)


def num(value: float) -> str:
    """A number of a drawing: a tenth of a user unit is the finest that is written, and the only rounding."""
    text = f"{value:.1f}"
    if text[-1] != "0":
        return text
    return "0" if text == "-0.0" else text[:-2]


FILL = {"ink": ' fill="#000"', "faint": ' fill="#555045"', "crayon": ' fill="#9a2318"'}
"""How each tone is printed where no style sheet reaches."""


def text(runs: Sequence[Run], x: float, y: float) -> str:
    """One SVG text element; `y` is its baseline.  The first run looks as the group around it says; what differs from it
    becomes a tspan."""
    first = runs[0]
    out = [f'<text x="{num(x)}" y="{num(y)}">']
    rise = 0.0
    for (size, bold, tone, up, shift), group in groupby(runs, key=lambda run: run[1:]):
        letters = escape("".join(run.text for run in group))
        attributes = f' class="{tone}"{FILL[tone]}' if tone != first.tone else ""
        if shift:
            attributes += f' dx="{num(shift)}"'
        if up != rise:
            attributes += f' dy="{num(rise - up)}"'
        if size != first.size:
            attributes += f' font-size="{num(size)}"'
        if bold != first.bold:
            attributes += f' font-weight="{700 if bold else 400}"'
        out.append(f"<tspan{attributes}>{letters}</tspan>" if attributes else letters)
        rise = up
    out.append("</text>")
    return "".join(out)


def texts(rows: Sequence[tuple[Runs, float, float]], *, anchor: str = "start") -> str:
    """Text elements in a group that carries what their first runs have in common: (runs, x, baseline) each."""
    out = []
    for look, group in groupby(rows, key=lambda row: row[0][0][1:4]):
        size, bold, tone = look
        weight = ' font-weight="700"' if bold else ""
        place = f' text-anchor="{anchor}"' if anchor != "start" else ""
        inner = "".join(text(*row) for row in group)
        out.append(f'<g class="{tone}"{FILL[tone]} font-size="{num(size)}"{weight}{place}>{inner}</g>')
    return "".join(out)
