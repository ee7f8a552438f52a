"""What stands where on one label?  Measured and laid out before anything is printed.

A label lies on its part the way the part stands in the piece: the arrow points to the datum end.  From left to right:
the QR symbol with the code under it, then the words, then arrow and stack number.  Narrow labels have the words below.
Places are nanometres from the label's lower left corner, upwards and to the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..trade.code import show
from ..trade.length import Length
from ..trade.part import Unit
from . import ink
from .ink import Placed, Stroke
from .label_sheets import MM, Sheet
from .label_words import Label, Measure, Room, words
from .qr import QUIET, LabelTooSmall, Symbol, fitting

WIDE: Length = 45 * MM
"""From this width on the words stand beside the symbol."""

LEAST_CAP: Length = 3 * MM + MM // 20
"""Capitals of the code are at least 3 mm high, to be read at arm's length; a twentieth more than asked."""

MOST_MODULE: Length = 1_020_000
"""1.02 mm (12 dots at 300 to the inch): larger modules only take room from the words."""


@dataclass(frozen=True)
class Face:
    """One label, laid out.  `symbol_at` is the lower left corner of the symbol, its quiet zone not counted."""

    width: Length
    height: Length
    texts: tuple[Placed, ...]
    strokes: tuple[Stroke, ...]
    symbol: Symbol
    module: Length
    symbol_at: tuple[Length, Length]

    @property
    def quiet_zone(self) -> tuple[Length, Length, Length, Length]:
        """The symbol with the four modules around it: left, bottom, right, top."""
        x, y = self.symbol_at
        quiet, side = QUIET * self.module, self.symbol.size * self.module
        return x - quiet, y - quiet, x + side + quiet, y + side + quiet


def face(label: Label, sheet: Sheet, *, unit: Unit, denominator: int, host: str) -> Face:
    """The label laid out for the sheet.  Raises LabelTooSmall where a phone could not read it."""
    measure = Measure(unit, denominator)
    return (_beside if sheet.width >= WIDE else _below)(label, sheet, measure, host)


# --- the two arrangements ----------------------------------------------------------------------------------------


def _beside(label: Label, sheet: Sheet, measure: Measure, host: str) -> Face:
    left, top, right, bottom = sheet.insets
    # The quiet zone may lie in the blank border of the label; it is at least 2 mm (4 modules of 0.5 mm) wide.
    spare_x, spare_y = max(0, left - 2 * MM), max(0, top - 2 * MM)
    side = min(sheet.height - bottom - LEAST_CAP - spare_y, sheet.width * 42 // 100 - spare_x)
    symbol, module = fitting(label.code, host, side, sheet.dpi, most=MOST_MODULE)
    quiet, dark = QUIET * module, symbol.size * module
    x = max(left, quiet)
    code = _code_line(label.code, dark, sheet.height - max(top, quiet) - dark - quiet - bottom)
    # Where the width has set the symbol's size, some height is left: a little between symbol and code, half of the
    # rest above and half below.
    spare = sheet.height - max(top, quiet) - dark - quiet - code.above - bottom
    between = min(spare, 3 * MM)
    code_x, code_y = x, bottom + (spare - between) // 2
    y = code_y + code.above + between + quiet

    end = _end_column(label, sheet)
    room = Room(
        left=x + dark + quiet,
        bottom=bottom,
        right=sheet.width - right - end.width - 5 * MM // 2,
        top=sheet.height - top,
        code_right=code_x + code.width,
        code_top=code_y + code.above,
    )
    texts, strokes = words(label, room, measure)
    return Face(
        sheet.width, sheet.height,
        (Placed(code, code_x, code_y), *texts, *end.texts), (*strokes, *end.strokes),
        symbol, module, (x, y),
    )  # fmt: skip


def _below(label: Label, sheet: Sheet, measure: Measure, host: str) -> Face:
    left, top, right, bottom = sheet.insets
    inner = sheet.width - left - right
    least = ink.set_type(show(label.code), _size_of_cap(LEAST_CAP), bold=True)
    if least.width > inner:
        raise LabelTooSmall(
            "the code does not fit the width in letters 3 mm high", where="label size", do="Choose a larger label."
        )
    name_room = 31 * MM // 10
    side = min(sheet.width, sheet.height - bottom - name_room - LEAST_CAP - max(0, top - 2 * MM))
    symbol, module = fitting(label.code, host, side, sheet.dpi, most=MOST_MODULE)
    quiet, dark = QUIET * module, symbol.size * module
    y = sheet.height - max(top, quiet) - dark
    code = _code_line(label.code, max(least.width, min(dark, inner)), y - quiet - bottom - name_room)
    code_y = y - quiet - code.above
    room = Room(left, bottom, sheet.width - right, code_y - MM)
    texts, strokes = words(label, room, measure, narrow=True)
    return Face(
        sheet.width, sheet.height,
        (Placed(code, (sheet.width - code.width) // 2, code_y), *texts), strokes,
        symbol, module, ((sheet.width - dark) // 2, y),
    )  # fmt: skip


def _size_of_cap(cap: Length) -> Length:
    return -(-cap * 1_000 // ink.CAP)


def _code_line(code: str, width: Length, height: Length) -> ink.Line:
    """The code as wide as the symbol, its capitals at least 3 mm and no higher than `height` or 5 mm."""
    size = least = _size_of_cap(LEAST_CAP)
    natural = ink.set_type(show(code), least, bold=True).width
    size = max(least, min(least * width // natural, _size_of_cap(min(height, 5 * MM))))
    made = ink.set_type(show(code), size, bold=True)
    return made if made.above <= height or size == least else ink.set_type(show(code), least, bold=True)


# --- arrow and stack ---------------------------------------------------------------------------------------------

TURNS = {"left": (-1, 0), "right": (1, 0), "bottom": (0, -1), "foot": (0, -1)}
"""Where the arrow points for these datum ends; for all others it points up."""


@dataclass(frozen=True)
class Column:
    width: Length
    texts: tuple[Placed, ...]
    strokes: tuple[Stroke, ...]


def _end_column(label: Label, sheet: Sheet) -> Column:
    """The right end of a wide label: datum word, arrow, stack number.  A stack's label has its number there, huge."""
    _, top, right, bottom = sheet.insets
    height = sheet.height - top - bottom
    if label.kind == "stack":
        most = sheet.width * 30 // 100
        number = ink.fit(str(label.stack_number), most, height * 95 // 100, least=4 * MM, bold=True)
        word = ink.set_type("stack", 36 * MM // 10)
        width = max([word.width, *(line.width for line in number)])
        texts = [Placed(line, sheet.width - right - (width + line.width) // 2, bottom) for line in number]
        texts.append(Placed(word, sheet.width - right - (width + word.width) // 2, sheet.height - top - word.above))
        return Column(width, tuple(texts), ())

    most = min(14 * MM, sheet.width * 17 // 100)
    percent = min(130, max(75, height * 100 // (29 * MM)))
    words = ink.fit(label.datum.strip() or "datum", most, 38 * MM * percent // 1_000, least=22 * MM // 10, bold=True)
    small = ink.fit("stack", most, 28 * MM * percent // 1_000, least=2 * MM)
    number = ink.fit(str(label.stack_number), most, 90 * MM * percent // 1_000, least=3 * MM, bold=True)
    if not label.stack_number:
        small = number = ()
    width = max([7 * MM, *(line.width for line in (*words, *small, *number))])
    middle = sheet.width - right - width // 2
    texts = []

    def put(lines: Sequence[ink.Line], y: Length) -> None:
        texts.extend(Placed(line, middle - line.width // 2, y) for line in lines)

    low, high = bottom, sheet.height - top
    if number:
        put(number, low - min(0, number[0].below))
        low += number[0].above - number[0].below + MM
        put(small, low - small[0].below)
        low += small[0].above - small[0].below + 2 * MM
    turn = TURNS.get(label.datum.strip().lower(), (0, 1))
    if not words:  # of signs that no font shows
        return Column(width, tuple(texts), _arrow(turn, middle, width, low, high))
    if turn == (0, -1):
        put(words, low - words[0].below)
        low += words[0].above - words[0].below + MM
    else:
        put(words, high - words[0].above)
        high -= words[0].above - words[0].below + MM
    return Column(width, tuple(texts), _arrow(turn, middle, width, low, high))


def _arrow(turn: tuple[int, int], middle: Length, width: Length, low: Length, high: Length) -> tuple[Stroke, ...]:
    """An arrow in the space between `low` and `high`, drawn with the weight of a carpenter's pencil."""
    across, up = turn
    length = min(width if across else high - low, 20 * MM)
    weight, head = 9 * MM // 10, min(22 * MM // 10, length // 2)
    if across:
        y = high - head - weight
        tip, tail = (middle + across * (length - weight) // 2, y), (middle - across * (length - weight) // 2, y)
    else:
        near, far = (high - weight, high - length) if up > 0 else (low + weight, low + length)
        tip, tail = (middle, near), (middle, far)
    wings = [(tip[0] - across * head + side * up * head, tip[1] - up * head + side * across * head) for side in (-1, 1)]
    return Stroke((tail, tip), weight), Stroke((wings[0], tip, wings[1]), weight)
