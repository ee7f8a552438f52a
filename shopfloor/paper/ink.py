"""How does a text lie on paper?  Type measured before it is printed: fonts, missing letters, fractions, fitting.

Everything is measured first, in whole nanometres, so that a layout can be checked without a printer: a `Line` of type
knows its width and how far its ink really reaches above and below the baseline.  Points appear only in `draw`.

Fonts: Atkinson Hyperlegible Next, with Noto Sans standing in for the letters it lacks (both SIL Open Font License).
A letter that neither has becomes the replacement sign; the code on the label still says which part it is.
"""

from __future__ import annotations

import struct
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from ..trade.length import Length, parts_of_inches, write_mm
from ..trade.part import Unit

FONTS = Path(__file__).parent / "fonts"
FACES = {
    True: ("AtkinsonHyperlegibleNext-Bold", "NotoSans-Bold"),
    False: ("AtkinsonHyperlegibleNext-Regular", "NotoSans-Regular"),
}
"""Bold or not -> the faces to try for a letter, in order."""

CAP = 668
"""Height of a capital of Atkinson Hyperlegible Next, thousandths of the size (its OS/2 table, sCapHeight)."""

MISSING = "\ufffd"  # in Noto Sans: stands for a letter that no font has
ELLIPSIS = "\u2026"
TALLEST = (1_100, -400)  # a glyph beyond these is not a letter of a line, it is an ornament, and is replaced


@dataclass(frozen=True)
class Run:
    """Letters of one font and size, `x` from the start of the line and `rise` above its baseline."""

    text: str
    face: str
    size: Length
    x: Length = 0
    rise: Length = 0


@dataclass(frozen=True)
class Line:
    """One line of type.  `above` and `below` are how far ink reaches from the baseline, both counted upwards."""

    runs: tuple[Run, ...]
    width: Length
    above: Length
    below: Length

    @property
    def text(self) -> str:
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True)
class Placed:
    """A line of type, its start and its baseline."""

    line: Line
    x: Length
    y: Length

    @property
    def box(self) -> tuple[Length, Length, Length, Length]:
        """Where its ink is: left, bottom, right, top."""
        return self.x, self.y + self.line.below, self.x + self.line.width, self.y + self.line.above


@dataclass(frozen=True)
class Stroke:
    """A line through points, `width` thick; `dash` is (on, off) or nothing; a filled one is an area."""

    points: tuple[tuple[Length, Length], ...]
    width: Length
    dash: tuple[Length, Length] | None = None
    closed: bool = False
    filled: bool = False


@lru_cache(maxsize=8)
def font(face: str) -> TTFont:
    """The font of that name, made known to reportlab the first time it is asked for."""
    made = TTFont(face, str(FONTS / f"{face}.ttf"))
    pdfmetrics.registerFont(made)
    return made


@lru_cache(maxsize=8_192)
def letter(char: str, bold: bool) -> tuple[str, str, int, int, int]:
    """(letter to print, face, advance, top and bottom of its ink), the numbers in thousandths of the size."""
    for face in FACES[bold]:
        made = font(face).face
        glyph = made.charToGlyph.get(ord(char), 0)
        if glyph:
            low, high = _reach(made, glyph)
            if high <= TALLEST[0] and low >= TALLEST[1]:
                # The faces have 1000 units to the em, so a unit is a thousandth; the fonts' test holds that.
                return char, face, int(made.charWidths[ord(char)]), high, low
    return letter(MISSING, bold)


def _reach(face: Any, glyph: int) -> tuple[int, int]:
    """Lowest and highest ink of a glyph, font units.  Source: the header of its entry in the OpenType table 'glyf'."""
    start, end = face.glyphPos[glyph], face.glyphPos[glyph + 1]
    if start == end:  # no entry: a space
        return 0, 0
    _, _, low, _, high = struct.unpack(">5h", face.get_table("glyf")[start : start + 10])
    return low, high


def tidy(text: str) -> str:
    """The text as it can be printed: composed, one line, without control and direction marks.

    >>> tidy("Rail\\n  upper\\u202e"), tidy("e\\u0301")
    ('Rail upper', 'é')
    """
    composed = unicodedata.normalize("NFC", text)
    spaced = (" " if unicodedata.category(char) in ("Cc", "Zl", "Zp", "Zs") else char for char in composed)
    # Cf are marks without ink (direction, joiners); the variation selectors only choose between pictures.
    kept = (char for char in spaced if unicodedata.category(char) != "Cf" and not "\ufe00" <= char <= "\ufe0f")
    return " ".join("".join(kept).split())


@lru_cache(maxsize=16_384)
def set_type(text: str, size: Length, *, bold: bool = False) -> Line:
    """One line of type at `size`, as wide as it comes out."""
    return set_pieces(Piece(tidy(text), size, bold))


@dataclass(frozen=True)
class Piece:
    """A stretch of text for `set_pieces`: `rise` above the baseline, `gap` before it."""

    text: str
    size: Length
    bold: bool = False
    rise: Length = 0
    gap: Length = 0


def set_pieces(*pieces: Piece) -> Line:
    """One line out of pieces that differ in size and rise.  The texts are taken as they are, spaces too."""
    runs: list[Run] = []
    x = above = below = 0
    for piece in pieces:
        x += piece.gap
        for face, text, units, high, low in _by_face(piece.text, piece.bold):
            runs.append(Run(text, face, piece.size, x, piece.rise))
            above = max(above, piece.rise + high * piece.size // 1_000)
            below = min(below, piece.rise + low * piece.size // 1_000)
            x += units * piece.size // 1_000
    return Line(tuple(runs), x, above, below)


def _by_face(text: str, bold: bool) -> Iterator[tuple[str, str, int, int, int]]:
    """(face, letters, advance, top, bottom) for each stretch of letters that one face can print."""
    run, now, units, high, low = "", "", 0, 0, 0
    for char in text:
        printed, face, advance, top, bottom = letter(char, bold)
        if face != now and run:
            yield now, run, units, high, low
            run, units, high, low = "", 0, 0, 0
        run, now, units, high, low = run + printed, face, units + advance, max(high, top), min(low, bottom)
    if run:
        yield now, run, units, high, low


def length_pieces(length: Length, unit: Unit, denominator: int, size: Length, *, bold: bool = False) -> list[Piece]:
    """A length set by us: the numerator raised, a slash, the denominator on the line, both at 0.7 of the size.

    (Atkinson's own fractions know only quarters and halves.)  Millimetres are plain figures.
    """
    if unit is Unit.MM:
        return [Piece(write_mm(length), size, bold)]
    whole, numerator, below, mark = parts_of_inches(length, denominator)
    small = size * 7 // 10
    pieces = []
    if whole or not numerator:
        pieces.append(Piece(str(whole), size, bold))
    if numerator:
        if pieces:
            # Thin, but wide enough for a copied "1 3/4" not to become 13/4.
            pieces.append(Piece(" ", size * 6 // 10, bold))
        rise = size * CAP // 1_000 - small * CAP // 1_000
        pieces.append(Piece(str(numerator), small, bold, rise))
        pieces.append(Piece("/", size, bold))
        pieces.append(Piece(str(below), small, bold))
    if mark:
        pieces.append(Piece(f" {mark}", small, bold))
    return pieces


@lru_cache(maxsize=16_384)
def set_lengths(
    lengths: tuple[Length, ...],
    unit: Unit,
    denominator: int,
    size: Length,
    *,
    bold: bool = False,
    goes_on: bool = False,
) -> Line:
    """Lengths with the times sign between them; `goes_on` puts one at the end, too, for the next row."""
    pieces: list[Piece] = []
    for number, length in enumerate(lengths):
        if number:
            pieces.append(Piece(" × ", size, bold))
        pieces.extend(length_pieces(length, unit, denominator, size, bold=bold))
    if goes_on:
        pieces.append(Piece(" ×", size, bold))
    return set_pieces(*pieces)


def fit(
    text: str, width: Length, size: Length, *, least: Length, bold: bool = False, lines: int = 1
) -> tuple[Line, ...]:
    """The text in at most `lines` lines no wider than `width`, as large as it goes between `least` and `size`.

    What does not fit even at `least` is shortened with an ellipsis, and then not set so small.  Empty text gives no
    line; so does a width that not even the ellipsis fits in.
    """
    text = tidy(text)
    if not text:
        return ()
    for count in range(1, lines + 1):
        # Smaller on one line rather than large on two, but not much smaller.
        smallest = least if count == lines else max(least, size * 3 // 4)
        for tried in range(size, smallest - 1, -max(1, (size - smallest) // 6)):
            broken = _broken(text, width, tried, bold, count)
            if broken is not None:
                return tuple(set_type(row, tried, bold=bold) for row in broken)
    return _shortened(text, width, max(least, size * 4 // 5), bold, lines)


def _broken(text: str, width: Length, size: Length, bold: bool, lines: int) -> list[str] | None:
    """Rows of whole words, each within the width, or None if `lines` rows do not hold them."""
    rows = [""]
    for word in text.split(" "):
        longer = f"{rows[-1]} {word}" if rows[-1] else word
        if set_type(longer, size, bold=bold).width <= width:
            rows[-1] = longer
        elif len(rows) < lines and rows[-1] and set_type(word, size, bold=bold).width <= width:
            rows.append(word)
        else:
            return None
    return rows


def _shortened(text: str, width: Length, size: Length, bold: bool, lines: int) -> tuple[Line, ...]:
    """Rows filled letter by letter, preferring the end of a word, the last one ending in an ellipsis."""
    rows = []
    for row in range(lines):
        last = row == lines - 1
        if set_type(text, size, bold=bold).width <= width:
            rows.append(text)
            break
        count = _letters_within(text, width, size, bold, ELLIPSIS if last else "")
        head = text[:count]
        if " " in head and not text[count : count + 1].isspace() and not last:
            head = head[: head.rindex(" ")]
        rows.append(head.rstrip() + (ELLIPSIS if last else ""))
        text = text[len(head) :].lstrip()
    made = tuple(set_type(row, size, bold=bold) for row in rows if row)
    return tuple(line for line in made if line.width <= width)


def _letters_within(text: str, width: Length, size: Length, bold: bool, tail: str) -> int:
    """How many letters from the start fit the width together with the tail."""
    used = sum(letter(char, bold)[2] for char in tail)
    for count, char in enumerate(text):
        used += letter(char, bold)[2]
        if used * size // 1_000 > width:
            return count
    return len(text)


def points(length: Length) -> float:
    """Nanometres as the points of a PDF, 72 to the inch: rounded here, on the way to the paper, and nowhere else."""
    return round(length * 72 / 25_400_000, 4)


def entitle(canvas: Any, title: str, shop: str) -> None:
    """Say in the file what it is and whose; the library would write "anonymous" and "unspecified"."""
    canvas.setTitle(tidy(title)[:200])
    canvas.setAuthor(tidy(shop)[:200])
    canvas.setSubject("")
    canvas.setCreator("Facemark")


def draw(canvas: Any, line: Line, x: Length, y: Length) -> None:
    """Print the line with its start at x and its baseline at y."""
    for run in line.runs:
        font(run.face)
        canvas.setFont(run.face, points(run.size))
        canvas.drawString(points(x + run.x), points(y + run.rise), run.text)
