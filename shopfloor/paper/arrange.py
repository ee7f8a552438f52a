"""Where on the sheet does everything stand?  The arrangement of a drawing, before any of it becomes ink.

The numbers are exact; the picture is not to scale.  Numbers and letters are spread until none touches another, and
the picture grows taller before anything overlaps.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import Box, Face, Feature, Line, Unit
from .cross_sizes import set_lines, surface, wrapped
from .ground import (
    DATUM,
    DATUM_WORDS,
    FRAME,
    LETTER,
    LETTER_GAP,
    MARGIN,
    MARK,
    MARK_GAP,
    TEXT,
    Ground,
    Place,
    numbers,
)
from .section_cells import Cell, cells
from .sections import Section, sections
from .spread import Scale, spread
from .type import Run, Runs, fit, plain, width
from .views import View, stands

__all__ = [
    "CAPS", "DATUM", "DATUM_WORDS", "FRAME", "MARGIN", "MARK", "TEXT", "Arrangement", "Look", "Number", "Place",
    "arrange", "face_edge_side", "look",
]  # fmt: skip

GRAIN = 62  # what the word for the grain and its arrow take of the head
LINE, GROUP = 20, 5  # from baseline to baseline of a text, and more between groups
CAPS = 0.334  # from the middle of a line of type to its baseline, in its size: half the height of a capital


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
    the features that are measured, the others of the line are there as they are; `every` are all of the part, among
    them those that are cut later.
    """

    line: Line
    own: tuple[Feature, ...]
    every: tuple[Feature, ...]
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


@dataclass(frozen=True)
class Look:
    """What a drawing shows on its ground, before any length is written in a unit.

    `line` has the features that are there, `own` are those that are measured.  `first` is said right under the views.
    """

    ground: Ground
    line: Line
    own: tuple[Feature, ...]
    first: str
    places: tuple[Place, Place]
    through: tuple[Section, ...]


def look(ground: Ground, own: Sequence[Feature], there: Sequence[Feature], first: str = "") -> Look:
    """A look at some of a part's features, its `own`, when all those are cut that are `there`."""
    line = replace(ground.line, features=tuple(there))
    return Look(ground, line, tuple(own), first, ground.places(there), tuple(sections(line, own)))


def arrange(look: Look, unit: Unit) -> Arrangement:
    """The arrangement of one drawing in a unit."""
    ground, line, own, first = look.ground, look.line, look.own, look.first
    denominator, mirrored, down = ground.denominator, ground.mirrored, ground.down
    letters = {feature.key: ground.letters[feature.key] for feature in own if ground.letters.get(feature.key)}
    shown = {key: ground.shown[key] for key in letters}
    column_of_numbers = numbers(replace(line, features=own), unit, denominator)
    column, foot = ground.column, down(line.length)
    places, views = look.places, ground.views

    wanted = [down(at) for at, _ in column_of_numbers]
    stand = spread(wanted, MARK_GAP, DATUM + 15, foot)
    set_letters = [row for place in places for row in _letters(own, ground.boxes, shown, place, views, down)]
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
        look.through,
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
        every=ground.line.features,
        mirrored=mirrored,
        boxes=ground.boxes,
        blocks=ground.blocks,
        places=places,
        down=down,
        breaks=ground.breaks,
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


def _datum_words(line: Line) -> str:
    word, tail = plain(line.datum), ", measure from here"
    if not word:
        return "0 measure from here"
    return (
        fit(f"0 {word}", DATUM_WORDS, FRAME - 2 * MARGIN - GRAIN - width([Run(tail, DATUM_WORDS, True)]), bold=True)
        + tail
    )


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
