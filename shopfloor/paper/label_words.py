"""What does a label say in words, and how large can it say it?  Rows of type, set in the room that the label has.

All rows shrink and grow together, so that a label looks like one thing.  Of the sizes that fit the room, the largest is
taken of those that lose least (no name shortened, no pair letter uncounted).  What has no room at all is left out in
the order of `Row.rank`.  A size is never shortened: a shortened number is another number.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..trade.length import Length
from ..trade.part import Unit
from . import ink
from .ink import Placed, Stroke
from .label_sheets import MM

SCALES = (140, 130, 120, 110, 100, 92, 84, 77, 70)
"""The sizes of type that are tried, percent of those in `_part_rows` and `_stack_rows`."""

DENSITIES = (0, 1, 2)
"""Roomy; name on one line, place and mirror image side by side; and the pair letters on one row, too."""

NOTE, STRIP = 6, 5
"""Ranks: the note goes first, then the strip to write on."""


@dataclass(frozen=True)
class Label:
    """What one label says.  `size` and `rough` are (thickness, width, length); `count` is the parts of a stack.

    `mirrors` names the part that this one is the mirror image of, where that is known.
    """

    code: str
    name: str
    place: str = ""
    size: tuple[Length, Length, Length] | None = None
    rough: tuple[Length, Length, Length] | None = None
    letters: tuple[str, ...] = ()
    datum: str = ""
    stack_number: int = 0
    stack_name: str = ""
    count: int = 0
    kind: str = "part"
    mirror: bool = False
    mirrors: str = ""
    note: str = ""


@dataclass(frozen=True)
class Room:
    """Where the words may stand: a box, and in its lower left corner the code (nothing is beside it but the strip)."""

    left: Length
    bottom: Length
    right: Length
    top: Length
    code_right: Length = 0
    code_top: Length = 0

    @property
    def width(self) -> Length:
        return self.right - self.left


@dataclass(frozen=True)
class Measure:
    """How lengths are written, and how large type is: `scale` percent."""

    unit: Unit
    denominator: int
    scale: int = 100

    def sized(self, tenths: int) -> Length:
        """Tenths of a millimetre at this scale."""
        return tenths * MM * self.scale // 1_000


@dataclass(frozen=True)
class Row:
    """One row of words: what is on it, from its left end and its baseline, and how far it reaches up and down.

    `gap` is the space to the row above it, `rank` says how soon it is left out (0: never), `loss` what it fails to say.
    """

    rank: int
    gap: Length
    above: Length = 0
    below: Length = 0
    texts: tuple[Placed, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    loss: int = 0


def words(
    label: Label, room: Room, measure: Measure, *, narrow: bool = False
) -> tuple[tuple[Placed, ...], tuple[Stroke, ...]]:
    """The label's words, placed in the room, and the line of the strip to write on.  Narrow labels are centred."""
    made = _stack_rows if label.kind == "stack" else _narrow_rows if narrow else _part_rows
    said = replace(label, stack_name=f"{label.stack_number}  {label.stack_name or label.name}") if narrow else label
    tried: dict[tuple[int, int], list[Row]] = {}
    for rank in range(NOTE, -1, -1):
        best: tuple[int, list[Row], Length, Length] | None = None
        for scale, density in itertools.product(SCALES, DENSITIES):
            scaled = replace(measure, scale=scale)
            if (scale, density) not in tried:
                tried[scale, density] = list(made(said, room.width, scaled, density))
            rows = [row for row in tried[scale, density] if row.rank <= rank]
            strip = scaled.sized(50) if rank >= STRIP and not narrow else 0
            low = max(room.bottom + strip, room.code_top + MM // 2 if room.code_right > room.left else 0)
            used = sum(row.gap + row.above - row.below for row in rows) - (rows[0].gap if rows else 0)
            loss = sum(row.loss for row in rows)
            if used <= room.top - low and (best is None or loss < best[0]):
                best = loss, rows, low, strip
            if best and best[0] == 0:
                break  # the scales fall: no other loses less, none is larger
        if best:
            _, rows, low, strip = best
            texts, strokes = _set_out(rows, room, low, narrow)
            return texts, (*strokes, *(_strip(room) if strip else ()))
    return (), ()


def _set_out(
    rows: Sequence[Row], room: Room, low: Length, centred: bool
) -> tuple[tuple[Placed, ...], tuple[Stroke, ...]]:
    """The rows from the top down; part of the space that is left over opens the gaps between them."""
    texts: list[Placed] = []
    strokes: list[Stroke] = []
    spare = room.top - low - sum(row.gap + row.above - row.below for row in rows) + (rows[0].gap if rows else 0)
    extra = min(spare * 6 // 10 // max(1, len(rows)), MM)
    y = room.top
    for number, row in enumerate(rows):
        y -= (row.gap + (extra if row.gap else 0) if number else 0) + row.above
        ends = [text.box[2] for text in row.texts] + [x for stroke in row.strokes for x, _ in stroke.points]
        x = room.left + ((room.width - max(ends, default=0)) // 2 if centred else 0)
        texts.extend(replace(text, x=x + text.x, y=y + text.y) for text in row.texts)
        strokes.extend(
            replace(stroke, points=tuple((x + px, y + py) for px, py in stroke.points)) for stroke in row.strokes
        )
        y += row.below
    return tuple(texts), tuple(strokes)


def _strip(room: Room) -> Iterator[Stroke]:
    """The line to write on, right of the code."""
    left, y = max(room.left, room.code_right + 3 * MM // 2), room.bottom + MM // 4
    if room.right - left >= 8 * MM:
        yield Stroke(((left, y), (room.right, y)), MM // 6, dash=(MM * 6 // 10, MM * 6 // 10))


# --- what is said ------------------------------------------------------------------------------------------------


def _stack_rows(label: Label, width: Length, measure: Measure, density: int) -> Iterator[Row]:
    sized = measure.sized
    yield from _lines(
        label.stack_name or label.name,
        width,
        sized(50 if width >= 26 * MM else 30),
        20,
        0,
        0,
        bold=True,
        lines=1 if density else 3,
        free=True,
    )
    yield from _lines("1 part" if label.count == 1 else f"{label.count} parts", width, sized(40), 20, sized(16), 2)
    yield from _lines(label.note, width, sized(28), 20, sized(12), NOTE, lines=2)


def _part_rows(label: Label, width: Length, measure: Measure, density: int) -> Iterator[Row]:
    sized = measure.sized
    yield from _lines(label.name, width, sized(44), 26, 0, 0, bold=True, lines=1 if density else 2)
    yield from _place(label, width, sized(36), sized(31), sized(9), tight=density > 0)
    if label.size:
        yield from _size(label.size, width, measure, sized(39), sized(13))
    if label.kind != "board":  # a board is rough, and nothing is left to be written
        yield from _rough(label.rough, width, measure, sized(29), sized(11))
    if label.letters:
        yield from _letters(label.letters, width, sized(38), sized(15), 1 if density > 1 else 3)
    yield from _lines(label.note, width, sized(26), 20, sized(12), NOTE, lines=2)


def _narrow_rows(label: Label, width: Length, measure: Measure, density: int) -> Iterator[Row]:
    """Below the symbol there is little room: name and place share a row, and arrow and stack are words."""
    sized = measure.sized
    said = ", ".join(text for text in (label.name, label.place) if text)
    yield from _lines(said, width, sized(36), 18, 0, 0, bold=True, lines=1 if density else 2)
    if label.mirror:
        yield _mirror(label.mirrors, width, sized(28), sized(9))
    if label.size:
        yield from _size(label.size, width, measure, sized(34), sized(10))
    stack = f", stack {label.stack_number}" if label.stack_number else ""
    yield from _lines(f"{label.datum or 'datum'} end up{stack}", width, sized(28), 18, sized(9), 2)
    if label.letters:
        yield from _letters(label.letters, width, sized(34), sized(12), 1 if density > 1 else 3)
    if label.kind != "board":
        yield from _rough(label.rough, width, measure, sized(26), sized(10))
    yield from _lines(label.note, width, sized(24), 20, sized(10), NOTE, lines=2)


# --- kinds of rows -----------------------------------------------------------------------------------------------


def _lines(
    text: str,
    width: Length,
    size: Length,
    least: int,
    gap: Length,
    rank: int,
    *,
    bold: bool = False,
    lines: int = 1,
    free: bool = False,
) -> Iterator[Row]:
    """Rows of one text; `least` is its smallest size, in tenths of a millimetre; `free` if a second line is no loss."""
    made = ink.fit(text, width, size, least=min(least * MM // 10, size), bold=bold, lines=lines)
    for number, line in enumerate(made):
        now = line.runs[0].size
        # Rows of one text stand closer; their distance is that of the type, not of the letters that happen to be tall.
        above = max(line.above, now * 7 // 10)
        shortened = line.text.endswith(ink.ELLIPSIS)
        loss = (6 if len(made) == 1 else 3) if shortened else max(0, 9 - now * 10 // size) + (number > 0 and not free)
        yield Row(rank, now // 6 if number else gap, above, line.below, (Placed(line, 0, 0),), loss=loss)


def _place(label: Label, width: Length, size: Length, small: Length, gap: Length, *, tight: bool) -> Iterator[Row]:
    """The place, and under it (where it is tight: beside it, if there is room) the caution of a mirrored part."""
    places = list(_lines(label.place, width, size, 22, gap, 1))
    if not label.mirror:
        yield from places
        return
    if tight and places:
        first = places[0]
        x = first.texts[0].line.width + small * 2 // 3
        second = _mirror(label.mirrors, width - x, small, gap)
        if second.texts:
            texts = (*first.texts, *(replace(text, x=x + text.x) for text in second.texts))
            strokes = tuple(replace(one, points=tuple((x + px, py) for px, py in one.points)) for one in second.strokes)
            above, below = max(first.above, second.above), min(first.below, second.below)
            yield Row(1, gap, above, below, texts, strokes, first.loss + second.loss)
            return
    yield from places
    yield _mirror(label.mirrors, width, small, gap * 6 // 5)


def _mirror(mirrors: str, width: Length, size: Length, gap: Length) -> Row:
    """The caution that this is the other hand, with its sign: a filled and an open triangle either side of a line."""
    half, high, hair = size * 55 // 100, size * 66 // 100, size // 16
    sign = (
        Stroke(((0, 0), (half - 2 * hair, high // 2), (0, high)), 0, closed=True, filled=True),
        Stroke(((half, -hair), (half, high + hair)), hair * 2),
        Stroke(((2 * half, 0), (half + 2 * hair, high // 2), (2 * half, high)), hair, closed=True),
    )
    indent = 2 * half + size // 2
    said = [f"mirror image of {mirrors}"] if mirrors else []
    for text in (*said, "mirror image", "mirror"):
        line = ink.set_type(text, size, bold=True)
        if indent + line.width <= width:
            loss = 2 * (text == "mirror")  # which part it mirrors stands on its sheet, too
            return Row(1, gap, max(high + hair, line.above), line.below, (Placed(line, indent, 0),), sign, loss)
    return Row(1, gap, high + hair, -hair, (), sign, loss=4)


def _size(
    size: tuple[Length, Length, Length], width: Length, measure: Measure, large: Length, gap: Length
) -> Iterator[Row]:
    """Thickness x width x length on one row, or on two or three; never shortened."""
    least = min(23 * MM // 10, large)
    ways: tuple[tuple[tuple[Length, ...], ...], ...] = ((size,), (size[:2], size[2:]), tuple((one,) for one in size))
    for groups in ways:
        for tried in range(large, least - 1, -max(1, (large - least) // 6)):
            lines = [
                ink.set_lengths(
                    group, measure.unit, measure.denominator, tried, bold=True, goes_on=group is not groups[-1]
                )
                for group in groups
            ]
            if all(line.width <= width for line in lines):
                for number, line in enumerate(lines):
                    loss = max(0, 9 - tried * 10 // large) + (number > 0)
                    between = tried // 5 if number else gap
                    yield Row(2, between, line.above, line.below, (Placed(line, 0, 0),), loss=loss)
                return
    yield from _lines("size: see its sheet", width, least, 18, gap, 2)


def _rough(
    rough: tuple[Length, Length, Length] | None, width: Length, measure: Measure, size: Length, gap: Length
) -> Iterator[Row]:
    """The rough size, or three blanks to write it in: the word, then line x line x line."""
    word = ink.set_type("rough", size)
    start = word.width + size // 3
    if rough:
        for tried in (size, size * 85 // 100, size * 75 // 100):
            numbers = ink.set_lengths(rough, measure.unit, measure.denominator, tried)
            if start + numbers.width <= width:
                above, below = max(word.above, numbers.above), min(word.below, numbers.below)
                both = (Placed(word, 0, 0), Placed(numbers, start, 0))
                yield Row(4, gap, above, below, both, loss=int(tried < size))
                return
    times, between = ink.set_type("×", size), size // 5
    blank = min((width - start - 2 * (times.width + 2 * between)) // 3, 14 * MM)
    if blank < 4 * MM or rough:
        yield Row(4, 0, loss=4)
        return
    texts, strokes, x = [Placed(word, 0, 0)], [], start
    for number in range(3):
        if number:
            texts.append(Placed(times, x + between, 0))
            x += times.width + 2 * between
        strokes.append(Stroke(((x, -size // 12), (x + blank, -size // 12)), MM // 7))
        x += blank
    # A pencil needs some height: the row reaches higher than its type.
    yield Row(4, gap, max(word.above, size * 115 // 100), word.below, tuple(texts), tuple(strokes))


def _letters(letters: Sequence[str], width: Length, size: Length, gap: Length, lines: int) -> Iterator[Row]:
    """The pair letters, each in a box, on at most `lines` rows; what does not fit the last one is counted ("+3")."""
    pad_x, pad_y, between, pen = size * 28 // 100, size * 24 // 100, size * 30 // 100, size // 11
    high = size * 70 // 100 + pad_y
    rest = list(letters)
    for row in range(lines):
        texts: list[Placed] = []
        strokes: list[Stroke] = []
        x, last_row = pen // 2, row == lines - 1
        while rest:
            line = ink.set_type(rest[0], size, bold=True)
            more = ink.set_type(f"+{len(rest)}", size)
            tail = between + more.width if last_row and len(rest) > 1 else 0
            end = x + line.width + 2 * pad_x
            if end + pen // 2 + tail > width:
                if last_row and x + more.width <= width:
                    texts.append(Placed(more, x, 0))
                break
            rest.pop(0)
            texts.append(Placed(line, x + pad_x, 0))
            strokes.append(Stroke(((x, -pad_y), (end, -pad_y), (end, high), (x, high)), pen, closed=True))
            x = end + between
        if not texts:
            break
        loss = min(9, 2 + len(rest)) if rest and last_row else 0
        above, below = high + pen // 2, -pad_y - pen // 2
        yield Row(3, size * 3 // 10 if row else gap, above, below, tuple(texts), tuple(strokes), loss)
