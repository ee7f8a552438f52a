"""Where on the sheet does everything stand?  The arrangement of a drawing, before any of it becomes ink.

The numbers are exact; the picture is not to scale.  Across and along, what is small is given room enough to be seen;
along the part, long stretches where nothing happens are shortened and broken; numbers and letters are spread until
none touches another, and the picture grows taller before anything overlaps.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ..trade.layout import marks
from ..trade.length import Length
from ..trade.part import Box, Face, Feature, Hand, Line, Part, Unit
from .cross_sizes import set_lines, surface
from .relief import Relief
from .spread import Scale, share, spread
from .type import Run, Runs, fit, measured, plain, same, width
from .views import LEFTWARDS, View, clamped, pair, runs_along, stands

FRAME = 360
"""Width of a drawing in user units: a phone's, so that a unit is a pixel there."""
MARGIN = 10
DATUM = 40  # the height of the datum line
TALL, SHORT = 272, 220  # how long a part is drawn at most, unless its marks need more, and at least
MARK, LETTER, DATUM_WORDS, TEXT = 23, 18, 17, 16  # sizes of type
MARK_GAP, LETTER_GAP, LINE, GROUP = 26, 22, 20, 5  # from baseline to baseline, and more between groups
CAPS = 0.334  # from the middle of a line of type to its baseline, in its size: half the height of a capital
CUT_LEAST, STRETCH_LEAST, STEP_LEAST = 15, 12, 5  # the least drawn length of a cut, of what is between, of a step in it
ACROSS_LEAST, ACROSS_STEP = 11, 4  # the same across the part
EMPTY_MOST = 90  # the longest an empty stretch is drawn while there is not room for all
UNBROKEN = 2  # a part this much longer than its picture is only drawn smaller; a longer one is broken
BREAK_AT = 0.66  # where in its stretch a break is: so there is room above it for the face mark
MILLIMETRE = 1_000_000


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
    """Everything that a drawing shows, each with its place in user units."""

    line: Line
    mirrored: bool
    boxes: Mapping[str, Box]
    places: tuple[Place, Place]
    down: Scale
    breaks: tuple[float, ...]
    column: float
    numbers: tuple[Number, ...]
    letters: tuple[tuple[Runs, float, float], ...]
    captions: tuple[tuple[Runs, float, float], ...]
    legend: tuple[tuple[Runs, float, float], ...]
    datum_words: str
    height: int

    @property
    def foot(self) -> float:
        """Where the far end is drawn."""
        return self.down(self.line.length)


def arrange(line: Line, part: Part, unit: Unit, denominator: int, letters: Mapping[str, str]) -> Arrangement:
    """The arrangement of one part's drawing; `letters` gives the pair letter of a feature by its key."""
    mirrored = part.hand is Hand.MIRROR
    boxes = {feature.key: clamped(feature.box(line.stock), line.stock) for feature in line.features}
    shown = {key: fit(letters[key], LETTER, 60, bold=True) for key in boxes if letters.get(key)}
    column_of_numbers = _numbers(line, unit, denominator)
    column = max(MARGIN + max(width(runs) for _, runs in column_of_numbers), 74.0)

    views = pair(line.features, line.stock)
    left, right, gap = _room(column, shown.values())
    sides = _sides(views, right - left - gap)
    need = max((len(column_of_numbers) + 0.2) * MARK_GAP, len(shown) * LETTER_GAP + 10)
    down, breaks = _lengthwise(line, boxes, views, sides, need)
    foot = down(line.length)

    x = left + (right - left - sum(sides) - gap) / 2
    order = list(zip(views, sides, strict=True))
    places = []
    for view, side in reversed(order) if mirrored else order:
        scale = _crosswise(view, list(boxes.values()), side)
        flipped = (view.face in LEFTWARDS) != mirrored
        places.append(Place(view, Relief(view, line.features), x, x + side, scale, flipped))
        x += side + gap

    wanted = [down(at) for at, _ in column_of_numbers]
    stand = spread(wanted, MARK_GAP, DATUM + 15, foot)
    set_letters = [row for place in places for row in _letters(line.features, boxes, shown, place, views, down)]
    captions = _captions(line, places, column, max([foot, *stand[-1:], *(y for _, _, y in set_letters)]) + 23)
    y = captions[0][2] + 5
    legend = []
    for group in set_lines(line, letters, unit, denominator, TEXT, FRAME - 2 * MARGIN):
        for i, row in enumerate(group):
            y += LINE if i else LINE + GROUP
            legend.append((row, float(MARGIN), y))
    return Arrangement(
        line=line,
        mirrored=mirrored,
        boxes=boxes,
        places=(places[0], places[1]),
        down=down,
        breaks=tuple(down(a) + BREAK_AT * (down(z) - down(a)) for a, z in breaks),
        column=column,
        numbers=tuple(
            Number(at, runs, place, label)
            for (at, runs), place, label in zip(column_of_numbers, wanted, stand, strict=True)
        ),
        letters=tuple(set_letters),
        captions=tuple(captions),
        legend=tuple(legend),
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
    return fit(f"0 {word}", DATUM_WORDS, FRAME - 2 * MARGIN - width([Run(tail, DATUM_WORDS, True)]), bold=True) + tail


def _room(column: float, letters: Iterable[str]) -> tuple[float, float, float]:
    """Left and right limit of the views, and the gap between them: each has its pair letters at its right."""
    widest = max((width([Run(letter, LETTER, True)]) for letter in letters), default=0.0)
    return column + 30, FRAME - MARGIN - (widest + 6 if widest else 0), max(28.0, widest + 12) if widest else 34.0


def _sides(views: Sequence[View], room: float) -> tuple[float, float]:
    """The drawn widths of the two views: wider for what is wider, but neither too thin to read."""
    total = min(room, 176.0)
    one, other = share([(view.across / MILLIMETRE) ** 0.5 for view in views], [total * 0.28] * 2, [total] * 2, total)
    most = max(76.0, total * 0.6)
    return min(one, most), min(other, most)


def _least(knots: Sequence[Length], cuts: Sequence[tuple[Length, Length]], step: float, cut: float) -> list[float]:
    """The least drawn lengths between knots, so that every cut comes out at least `cut` long."""
    sizes = [(z - a) / MILLIMETRE for a, z in pairwise(knots)]
    least = [step] * len(sizes)
    index = {knot: i for i, knot in enumerate(knots)}
    for a, z in cuts:
        for i in range(index[a], index[z]):
            least[i] = max(least[i], cut * sizes[i] * MILLIMETRE / (z - a))
    return least


def _crosswise(view: View, boxes: Sequence[Box], side: float) -> Scale:
    """The scale across a view."""
    spans = [(flat.a0, flat.a1) for flat in map(view.flat, boxes)]
    knots = sorted({0, view.across, *(a for span in spans for a in span)})
    sizes = [(z - a) / MILLIMETRE for a, z in pairwise(knots)]
    least = _least(knots, spans, ACROSS_STEP, ACROSS_LEAST)
    crowd = min(1.0, 0.85 * side / sum(least))
    return Scale(knots, share(sizes, [crowd * a for a in least], [side] * len(sizes), side))


def _lengthwise(
    line: Line, boxes: Mapping[str, Box], views: Sequence[View], sides: Sequence[float], need: float
) -> tuple[Scale, list[tuple[Length, Length]]]:
    """The scale along the part, and the stretches that are broken.  The part is drawn at least `need` long."""
    short = [(boxes[one.key].x0, boxes[one.key].x1) for one in line.features if not runs_along(one)]
    knots = sorted({0, line.length, *(x for box in boxes.values() for x in box[:2])})
    sizes = [(z - a) / MILLIMETRE for a, z in pairwise(knots)]
    empty = [not any(x0 < z and a < x1 for x0, x1 in short) for a, z in pairwise(knots)]
    # Drawn units per millimetre that would show the wider view's true shape.
    true = min(side * MILLIMETRE / view.across for side, view in zip(sides, views, strict=True))
    least = _least(knots, short, STEP_LEAST, CUT_LEAST)
    least = [max(a, STRETCH_LEAST) if bare else a for a, bare in zip(least, empty, strict=True)]
    need = max(need, sum(least))
    if sum(sizes) * true <= UNBROKEN * max(need, TALL):
        total = max(need, min(TALL, max(SHORT, sum(sizes) * true)))
        return Scale(knots, share(sizes, least, [total] * len(sizes), total), DATUM), []

    most = [
        max(a, min(size * true, EMPTY_MOST if bare else TALL))
        for a, size, bare in zip(least, sizes, empty, strict=True)
    ]
    total = max(need, min(TALL, max(SHORT, sum(most))))
    steps = share(sizes, least, most, total)
    spare = total - sum(steps)
    if spare > 0.1:  # what is left goes to the empty stretches
        room = [size * true if bare else 0.0 for size, bare in zip(sizes, empty, strict=True)]
        room = room if any(room) else sizes
        steps = [step + spare * part / sum(room) for step, part in zip(steps, room, strict=True)]
    cuts = [
        step / size
        for step, size, a, bare in zip(steps, sizes, least, empty, strict=True)
        if not bare and step > a + 0.1
    ]
    scale = min(cuts, default=true)
    broken = [
        (a, z)
        for (a, z), size, step, bare in zip(pairwise(knots), sizes, steps, empty, strict=True)
        if bare and step >= 30 and size * scale > 1.4 * step
    ]
    return Scale(knots, steps, DATUM), broken


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
