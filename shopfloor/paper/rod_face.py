"""What is printed on one tile of a rod?  Its lines, lanes and words, before any of it becomes ink.

All places are nanometres from the strip's left edge and from the datum end: x to the right, y downwards along the
rod, as one marks.  Every line of the rod runs out to both edges of the strip, where it is laid against the wood.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin

from ..trade.length import Length
from ..trade.part import Unit
from . import ink
from .label_sheets import MM
from .rod import Lane, Rod, Span, Tick
from .rod_tiles import FLAP, LEAD, TAB, Tile
from .spread import spread

EDGE: Length = 3 * MM
"""Along each edge nothing but the lines themselves."""
LANE: Length = 6 * MM
WORDS: Length = 46 * MM
NUMBER: Length = 16 * MM
"""How much of the words' column the distances take; they end there."""
NAME: Length = 6 * MM
"""The column that says along every tile whose rod it is."""

FINE, LINE, CUT = 100_000, 150_000, 70_000
"""Widths of strokes: outlines of cuts, the lines to mark from, where to cut the paper."""
BAR = (700_000, 1_900_000)
"""The bar at the datum end, from here to there above the zero; the zero is a line like any other, or it could not be
laid as exactly as they are."""
DASH = (1_500_000, 1_000_000)
RING, ARM = 2 * MM, 3_500_000
"""A register mark: the ring's radius, and how far its cross reaches."""
ROUND = 24
"""A ring is drawn with so many corners."""

BIG, SMALL, LEAST = 4_200_000, 2_800_000, 2_200_000
"""Sizes of type: distances, words, and the smallest for words."""
PITCH: Length = 5_600_000
"""From line of words to line of words, at full size."""
RISE: Length = BIG * ink.CAP // 2_000
"""From the middle of a distance down to its baseline."""


@dataclass(frozen=True)
class Sideways:
    """A line of type that reads along the rod, upwards: its start and its baseline."""

    line: ink.Line
    x: Length
    y: Length


@dataclass(frozen=True)
class TileFace:
    """All that is printed on one tile; y runs downwards from the datum end.  `rings` are its register marks."""

    tile: Tile
    width: Length
    strokes: tuple[ink.Stroke, ...]
    texts: tuple[ink.Placed, ...]
    sideways: tuple[Sideways, ...]
    rings: tuple[tuple[Length, Length], ...]


def strip_width(rod: Rod) -> Length:
    """How wide the strip is: lanes at the left for parts as drawn, at the right for mirror images."""
    sides = rod.hands or 1
    return 2 * EDGE + sides * len(rod.lanes) * LANE + WORDS + NAME


def tile_face(rod: Rod, tile: Tile, *, unit: Unit, denominator: int) -> TileFace:
    """The layout of one tile of a rod."""
    width = strip_width(rod)
    at_left = list(reversed(rod.lanes)) if rod.drawn or not rod.mirrored else []
    left = EDGE + LANE * len(at_left)
    right = left + WORDS + NAME
    lanes = [(lane, EDGE + i * LANE, False) for i, lane in enumerate(at_left)]
    lanes += [(lane, right + i * LANE, True) for i, lane in enumerate(rod.lanes if rod.mirrored else ())]

    top, foot = tile.start - tile.above, tile.end + tile.below
    shown = [tick for tick in rod.ticks if top < tick.at < foot and (tile.first or tick.at >= tile.start - LEAD)]
    labelled = [tick for tick in shown if tile.start <= tick.at < tile.end]
    strokes = [ink.Stroke(((x, top), (x, foot)), CUT) for x in (0, width)]
    for lane, x, mirrored in lanes:
        strokes += _lane(lane, x, top, foot, mirrored=mirrored)
    for tick in shown:
        strokes += [
            ink.Stroke(((0, tick.at), (left + MM, tick.at)), LINE),
            ink.Stroke(((right, tick.at), (width, tick.at)), LINE),
        ]
    texts, leaders = _words(labelled, tile, left, unit, denominator)
    strokes += leaders
    sideways = [_name(rod, tile, left + WORDS + NAME, unit)]
    for lane, x, _ in lanes:
        sideways += _lane_name(lane, x, [tick.at for tick in shown], tile)
    rings: list[tuple[Length, Length]] = []
    for joint in [] if tile.first else [tile.start]:
        strokes += [ink.Stroke(((0, joint), (width, joint)), CUT, DASH)]
        rings += [(left + RING + 2 * MM, joint), (left + WORDS - RING - 2 * MM, joint)]
    for joint in [] if tile.last else [tile.end]:
        strokes += [ink.Stroke(((0, joint), (width, joint)), FINE)]
        rings += [(left + RING + 2 * MM, joint), (left + WORDS - RING - 2 * MM, joint)]
        says = f"piece {tile.nth[0] + 1} lies on this, its edge on the line"
        texts += _centred(says, left, _between([tick.at for tick in shown], joint) + 900_000, WORDS)
    for ring in rings:
        strokes += _ring(*ring)
    if tile.first:
        corners = ((0, -BAR[0]), (width, -BAR[0]), (width, -BAR[1]), (0, -BAR[1]))
        strokes += [ink.Stroke(((0, 0), (width, 0)), LINE), ink.Stroke(corners, 0, closed=True, filled=True)]
        texts += _tab(rod, left, width)
    if tile.last:
        strokes.append(ink.Stroke(((0, rod.length), (width, rod.length)), LINE, DASH))
        texts += _far_end(rod, left, unit, denominator)
    return TileFace(tile, width, tuple(strokes), tuple(texts), tuple(sideways), tuple(rings))


def _lane(lane: Lane, x: Length, top: Length, foot: Length, *, mirrored: bool) -> Iterator[ink.Stroke]:
    """What is cut into one surface: pockets with a diagonal, channels narrower, standing wood as a tongue."""
    inset = LANE // 8
    for span in lane.spans:
        start, end = max(span.start, top), min(span.end, foot)
        if start >= end:
            continue
        side = inset if span.shape == Span.POCKET else LANE // 5  # the lane's name has air in a channel
        a, b = x + side, x + LANE - side
        for across in (a, b):
            yield ink.Stroke(((across, start), (across, end)), FINE)
        if span.shape == Span.POCKET:
            # The waste is crossed out; on a pocket that goes on over a joint the line goes on, too.
            long = span.end - span.start
            if mirrored:
                a, b = b, a
            ends = [(a + (b - a) * (y - span.start) // long, y) for y in (start, end)]
            yield ink.Stroke((ends[0], ends[1]), FINE)


def _words(
    ticks: Sequence[Tick], tile: Tile, left: Length, unit: Unit, denominator: int
) -> tuple[list[ink.Placed], list[ink.Stroke]]:
    """The distances and words of a tile, spread until none touches another, and the thin lines that tie them.

    Where there are too many they are set smaller; where even that is too little room only every so many have words,
    and every mark has its line.
    """
    low = tile.start + (1_500_000 if tile.first else ARM + 500_000)
    high = tile.end - ((BIG + 2 * MM) if tile.last else ARM + 500_000)
    room = max(high - low, PITCH)
    most = max(1, room // (PITCH * 45 // 100))
    if len(ticks) > most:
        ticks = [ticks[i * (len(ticks) - 1) // max(1, most - 1)] for i in range(most)]
    pitch = min(PITCH, room // max(1, len(ticks)))
    share = pitch * 1_000 // PITCH
    stands = spread([tick.at for tick in ticks], pitch, low + pitch / 2, high - pitch / 2)
    texts, leaders = [], []
    for tick, middle in zip(ticks, stands, strict=True):
        y = round(middle)
        size = BIG * share // 1_000
        number = ink.set_lengths((tick.at,), unit, denominator, size, bold=True)
        if number.width > NUMBER - MM:  # "32 13/16 shy" is longer than its column
            number = ink.set_lengths((tick.at,), unit, denominator, size * (NUMBER - MM) // number.width, bold=True)
        at = left + NUMBER - number.width
        texts.append(ink.Placed(number, at, y + RISE * share // 1_000))
        rows = ink.fit(
            tick.says, WORDS - NUMBER - 2_500_000, SMALL * share // 1_000, least=SMALL * share * 85 // 100_000, lines=2
        )  # fmt: skip
        step = SMALL * share * 98 // 100_000
        for i, row in enumerate(rows):
            base = y + RISE * share * 7 // 10_000 + (2 * i - len(rows) + 1) * step // 2
            texts.append(ink.Placed(row, left + NUMBER + 1_500_000, base))
        leaders.append(ink.Stroke(((left + MM, tick.at), (at - 700_000, y)), FINE))
    return texts, leaders


def _tab(rod: Rod, left: Length, width: Length) -> list[ink.Placed]:
    """What stands above the zero, on the part to be folded."""
    out = _centred(f"0  {rod.datum}, measure from here" if rod.datum else "0  measure from here", 0, -3_800_000, width,
                   size=BIG, bold=True)  # fmt: skip
    out += _centred("fold down along the line under the bar, hook it over the end", 0, 2_800_000 - TAB, width)
    if rod.hands == 2:
        for says, x, wide in (("as drawn", 0, left), ("mirror", width - left, left)):
            out += _centred(says, x, -8_700_000, max(wide, 14 * MM) if not x else wide)
    elif rod.mirrored:
        out += _centred("mirror image", 0, -8_700_000, width)
    return out


def _between(marks: Sequence[Length], joint: Length) -> Length:
    """The middle of the highest stretch of a flap that neither the register marks nor a line of the rod crosses."""
    cuts = [joint + ARM, *(mark for mark in marks if joint + ARM < mark < joint + FLAP), joint + FLAP]
    _, start, end = max((end - start, start, end) for start, end in pairwise(cuts))
    return (start + end) // 2


def _far_end(rod: Rod, left: Length, unit: Unit, denominator: int) -> list[ink.Placed]:
    """The length, which is only a check: nothing is measured from there."""
    number = ink.set_lengths((rod.length,), unit, denominator, SMALL)
    words = ink.set_type("far end, a check only", SMALL)
    y = rod.length - 900_000
    return [
        ink.Placed(number, left + NUMBER - number.width, y),
        ink.Placed(words, left + NUMBER + 1_500_000, y),
    ]


def _name(rod: Rod, tile: Tile, x: Length, unit: Unit) -> Sideways:
    """Whose rod it is, along the whole tile; x is the right edge of its column."""
    parts = [rod.name]
    if rod.drawn:
        parts.append(", ".join(rod.drawn))
    if rod.mirrored:
        parts.append("mirror: " + ", ".join(rod.mirrored))
    parts.append("inches" if unit is Unit.INCH else "mm")
    if tile.nth[1] > 1:
        parts.insert(0, f"piece {tile.nth[0]} of {tile.nth[1]}")
    room = tile.end - tile.start - 8 * MM
    rows = ink.fit("  ·  ".join(part for part in parts if part), room, SMALL, least=LEAST)
    line = rows[0] if rows else ink.set_type("", SMALL)
    return Sideways(line, x - NAME * 3 // 10, tile.start + (tile.end - tile.start + line.width) // 2)


def _lane_name(lane: Lane, x: Length, marks: Sequence[Length], tile: Tile) -> Iterator[Sideways]:
    """The name of the surface in the longest stretch of its lane that nothing crosses, if it has room there."""
    if not lane.name:
        return
    cuts = sorted({tile.start + LEAD, tile.end - LEAD, *(mark for mark in marks if tile.start < mark < tile.end)})
    free = [
        (b - a, a) for a, b in pairwise(cuts)
        if not any(span.shape == Span.POCKET and span.start < b and a < span.end for span in lane.spans)
    ]  # fmt: skip
    line = ink.set_type(lane.name, LEAST)
    if free and max(free)[0] >= line.width + 3 * MM:
        long, a = max(free)
        yield Sideways(line, x + LANE // 2 + LEAST * ink.CAP // 2_000, a + (long + line.width) // 2)


def _ring(x: Length, y: Length) -> Iterator[ink.Stroke]:
    yield ink.Stroke(((x - ARM, y), (x + ARM, y)), FINE)
    yield ink.Stroke(((x, y - ARM), (x, y + ARM)), FINE)
    yield ink.Stroke(tuple((x + dx, y + dy) for dx, dy in _circle(RING)), FINE, closed=True)


def _circle(radius: Length) -> list[tuple[Length, Length]]:
    """The corners of a circle, by mirroring an eighth of it: exact on the axes and symmetrical about them."""
    return [
        (round(radius * cos(2 * pi * i / ROUND)), round(radius * sin(2 * pi * i / ROUND))) for i in range(ROUND)
    ]  # fmt: skip


def _centred(
    text: str, x: Length, base: Length, width: Length, *, size: Length = SMALL, bold: bool = False
) -> list[ink.Placed]:
    rows = ink.fit(text, width - 2 * MM, size, least=min(size, 1_800_000), bold=bold)
    return [ink.Placed(row, x + (width - row.width) // 2, base) for row in rows]
