"""Where on the sheet does everything stand?  The arrangement of a drawing, before any of it becomes ink.

The numbers are exact; the picture is not to scale.  Numbers and letters are spread until none touches another, and
the picture grows taller before anything overlaps.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from ..trade.layout import marks
from ..trade.length import Length
from ..trade.part import Box, Face, Feature, Hand, Line, Part, Unit
from .cross_sizes import set_lines, surface, wrapped
from .proportions import crosswise, lengthwise, sides
from .relief import Relief
from .section_cells import Cell, cells
from .sections import sections
from .spread import Scale, spread
from .type import Run, Runs, fit, measured, plain, same, width
from .views import LEFTWARDS, View, blocks, clamped, pair, stands

FRAME = 360
"""Width of a drawing in user units: a phone's, so that a unit is a pixel there."""
MARGIN = 10
DATUM = 40  # the height of the datum line
MARK, LETTER, DATUM_WORDS, TEXT = 23, 18, 17, 16  # sizes of type
MARK_GAP, LETTER_GAP, LINE, GROUP = 26, 22, 20, 5  # from baseline to baseline, and more between groups
GRAIN = 62  # what the word for the grain and its arrow take of the head
CAPS = 0.334  # from the middle of a line of type to its baseline, in its size: half the height of a capital


class Place(NamedTuple):
    """Where one view stands in the frame: its left and right side, and the scale across it."""

    view: View
    relief: Relief
    left: float
    right: float
    scale: Scale
    flipped: bool

    def across(self, a: Length) -> float:
        drawn = self.scale(a)
        return self.right - drawn if self.flipped else self.left + drawn


class Number(NamedTuple):
    """A distance from the datum end as the column shows it: where its place is drawn, and where the number stands."""

    at: Length
    runs: Runs
    place: float
    stands: float


@dataclass(frozen=True)
class Arrangement:
    """Everything that a drawing shows, each with its place in user units.

    `boxes` holds the one block of each feature, `blocks` all blocks whose edges show: each hole of a row.  `own` are
    the features that are measured; the others of the line are there as they are.
    """

    line: Line
    own: tuple[Feature, ...]
    mirrored: bool
    boxes: Mapping[str, Box]
    blocks: Mapping[str, tuple[Box, ...]]
    places: tuple[Place, Place]
    down: Scale
    breaks: tuple[float, ...]
    column: float
    numbers: tuple[Number, ...]
    letters: tuple[tuple[Runs, float, float], ...]
    captions: tuple[tuple[Runs, float, float], ...]
    legend: tuple[tuple[Runs, float, float], ...]
    sections: tuple[Cell, ...]
    datum_words: str
    height: int

    @property
    def foot(self) -> float:
        """Where the far end is drawn."""
        return self.down(self.line.length)


def arrange(
    line: Line,
    part: Part,
    unit: Unit,
    denominator: int,
    letters: Mapping[str, str],
    own: Sequence[Feature] | None = None,
    first: str = "",
) -> Arrangement:
    """The arrangement of one part's drawing; `letters` gives the pair letter of a feature by its key.

    Measured are the line's `own` features, or all.  `first` is said right under the
    views.
    """
    own = line.features if own is None else tuple(own)
    told = replace(line, features=own)
    letters = {feature.key: letters[feature.key] for feature in own if letters.get(feature.key)}
    mirrored = part.hand is Hand.MIRROR
    boxes = {feature.key: clamped(feature.box(line.stock), line.stock) for feature in line.features}
    every = {feature.key: blocks(feature, line.stock) for feature in line.features}
    shown = {key: fit(letters[key], LETTER, 60, bold=True) for key in boxes if letters.get(key)}
    column_of_numbers = _numbers(told, unit, denominator)
    column = max(MARGIN + max(width(runs) for _, runs in column_of_numbers), 74.0)

    views = pair(own, line.stock)
    left, right, gap = _room(column, shown.values())
    widths = sides(views, right - left - gap)
    need = max((len(column_of_numbers) + 0.2) * MARK_GAP, len(shown) * LETTER_GAP + 10)
    down, breaks = lengthwise(line, every, views, widths, need, DATUM)
    foot = down(line.length)

    x = left + (right - left - sum(widths) - gap) / 2
    order = list(zip(views, widths, strict=True))
    places = []
    for view, side in reversed(order) if mirrored else order:
        scale = crosswise(view, [box for one in every.values() for box in one], side)
        flipped = (view.face in LEFTWARDS) != mirrored
        places.append(Place(view, Relief(view, line.features), x, x + side, scale, flipped))
        x += side + gap

    wanted = [down(at) for at, _ in column_of_numbers]
    stand = spread(wanted, MARK_GAP, DATUM + 15, foot)
    set_letters = [row for place in places for row in _letters(own, boxes, shown, place, views, down)]
    captions = _captions(line, places, column, max([foot, *stand[-1:], *(y for _, _, y in set_letters)]) + 23)
    y = captions[0][2] + 5
    legend = []
    if first:
        words = [(Run(word, TEXT, True),) for word in plain(first).split()]
        for i, row in enumerate(wrapped(words, TEXT, FRAME - 2 * MARGIN)):
            y += LINE if i else LINE + GROUP
            legend.append((row, float(MARGIN), y))
        y += GROUP
    shown_through = cells(
        sections(line, own),
        line,
        letters,
        unit,
        denominator,
        mirrored=mirrored,
        size=TEXT,
        frame=(MARGIN, FRAME - MARGIN),
        top=y + 1,
    )
    y = max([y, *(cell.foot + 3 for cell in shown_through)])
    groups = set_lines(line, own, letters, unit, denominator, TEXT, FRAME - 2 * MARGIN)
    for group in groups:
        for i, row in enumerate(group):
            y += LINE if i else LINE + GROUP
            legend.append((row, float(MARGIN), y))
    return Arrangement(
        line=line,
        own=own,
        mirrored=mirrored,
        boxes=boxes,
        blocks=every,
        places=(places[0], places[1]),
        down=down,
        breaks=tuple(breaks),
        column=column,
        numbers=tuple(
            Number(at, runs, place, label)
            for (at, runs), place, label in zip(column_of_numbers, wanted, stand, strict=True)
        ),
        letters=tuple(set_letters),
        captions=tuple(captions),
        legend=tuple(legend),
        sections=tuple(shown_through),
        datum_words=_datum_words(line),
        height=round(y + 9),
    )


def _numbers(line: Line, unit: Unit, denominator: int) -> list[tuple[Length, Runs]]:
    """Every distinct mark, rising, and the far end, which is a check value only."""
    found: list[tuple[Length, Runs]] = []
    for at in sorted({mark.at for mark in marks(line)}):
        runs = measured(at, unit, denominator, MARK, bold=True)
        if not found or same(found[-1][1]) != same(runs):
            found.append((at, runs))
    check = measured(line.length, unit, denominator, MARK, tone="faint")
    if found and same(found[-1][1]) == same(check):
        found.pop()
    return [*found, (line.length, check)]


def _datum_words(line: Line) -> str:
    word, tail = plain(line.datum), ", measure from here"
    if not word:
        return "0 measure from here"
    return (
        fit(f"0 {word}", DATUM_WORDS, FRAME - 2 * MARGIN - GRAIN - width([Run(tail, DATUM_WORDS, True)]), bold=True)
        + tail
    )


def _room(column: float, letters: Iterable[str]) -> tuple[float, float, float]:
    """Left and right limit of the views, and the gap between them: each has its pair letters at its right."""
    widest = max((width([Run(letter, LETTER, True)]) for letter in letters), default=0.0)
    return column + 30, FRAME - MARGIN - (widest + 6 if widest else 0), max(28.0, widest + 12) if widest else 34.0


def _letters(
    features: Sequence[Feature],
    boxes: Mapping[str, Box],
    shown: Mapping[str, str],
    place: Place,
    views: Sequence[View],
    down: Scale,
) -> list[tuple[Runs, float, float]]:
    """The pair letters at the right of one view, each beside its joint."""
    here = []
    for feature in features:
        letter = shown.get(feature.key)
        if letter and _belongs(feature, boxes[feature.key], views) is place.view:
            here.append(((down(boxes[feature.key].x0) + down(boxes[feature.key].x1)) / 2, letter))
    here.sort()
    ys = spread([y for y, _ in here], LETTER_GAP, DATUM + 14, down(down.knots[-1]))
    return [
        ((Run(letter, LETTER, True, "crayon"),), place.right + 5, y + LETTER * CAPS)
        for (_, letter), y in zip(here, ys, strict=True)
    ]


def _belongs(feature: Feature, box: Box, views: Sequence[View]) -> View:
    """The view beside which a feature's letter stands: where it is cut or opens, or else the wider one."""
    if not stands(feature):
        for view in views:
            if view.face is feature.face:
                return view
        for view in views:
            if view.flat(box).near <= 0:
                return view
    return max(views, key=lambda view: view.across)


def _captions(line: Line, places: Sequence[Place], column: float, baseline: float) -> list[tuple[Runs, float, float]]:
    """The names of the surfaces, each under its view."""
    left, right = column + 12, FRAME - MARGIN
    names = [fit(surface(place.view.face, line), TEXT, (right - left - 12) / 2) for place in places]
    one, other = (width([Run(name, TEXT)]) for name in names)
    middles = [(place.left + place.right) / 2 for place in places]
    # Both keep clear of each other first and of the frame second: there is room for both, since each was cut to half.
    first, second = spread(middles, (one + other) / 2 + 12, left + one / 2, right - other / 2)
    first = max(first, left + one / 2)
    return [
        ((Run(name, TEXT, False, "faint"),), middle, baseline)
        for name, middle in zip(names, (first, second), strict=True)
    ]


def face_edge_side(place: Place) -> tuple[float, float]:
    """Of a view of the face side, or of the face edge: the arris that both share, and the way from there into the
    view (1 to the right, -1 to the left)."""
    if place.view.face not in (Face.FACE_SIDE, Face.FACE_EDGE):
        raise ValueError(f"the {place.view.face} does not touch that arris")
    return (place.right, -1.0) if place.flipped else (place.left, 1.0)
