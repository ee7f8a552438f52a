"""Where do the sections of a drawing stand, and their words?  One or two beside each other, under the views."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..trade.length import Length
from ..trade.part import Line, Unit
from .cross_sizes import called, surface, wrapped
from .sections import Section
from .spread import Scale, share, spread
from .type import Run, Runs, fit, measured, plain, width
from .views import LEFTWARDS

CAPS = 0.334  # from the middle of a line of type to its baseline, in its size
LINE = 20
GAP = 10  # between two sections beside each other
WIDE, HIGH = (
    (60.0, 104.0),
    (46.0, 66.0),
)  # how wide a section is drawn, beside another and alone, and how high: from, to
NARROW = 34.0  # the least width
LEAST, CUT = 6.0, 12.0  # the least drawn size of a step of its grid, and of the cut
BRACKET, WORDS = 7, 17  # from the wood to the line that measures, and to its words


@dataclass(frozen=True)
class Cell:
    """One section where it stands: its wood from (left, top), the scales across and down, and which way across runs."""

    section: Section
    left: float
    top: float
    wide: float
    scale: Scale
    down: Scale
    flipped: bool
    texts: tuple[tuple[Runs, float, float], ...]
    ties: tuple[tuple[float, float, float], ...]
    foot: float

    def x(self, place: Length) -> float:
        drawn = self.scale(place)
        return self.left + (self.wide - drawn if self.flipped else drawn)


def cells(
    sections: Sequence[Section],
    line: Line,
    letters: Mapping[str, str],
    unit: Unit,
    denominator: int,
    *,
    mirrored: bool,
    size: float,
    frame: tuple[float, float],
    top: float,
) -> list[Cell]:
    """The sections between the left and the right of `frame`, below `top`; beside each other if their words fit."""
    if not sections:
        return []
    low, high = frame
    half = (high - low - GAP) / 2
    said = [[_measure(m.foot - m.top, m.word, unit, denominator, size) for m in one.measures] for one in sections]
    room = half - WIDE[0] - WORDS
    beside = len(sections) == 2 and all(width(row) <= room for rows in said for row in rows)
    headings = [_heading(one, letters, size, half if beside else high - low) for one in sections]
    made: list[Cell] = []
    if beside:
        rows = max(map(len, headings))
        for section, words, heading, left in zip(sections, said, headings, (low, low + half + GAP), strict=True):
            made.append(_cell(section, line, words, heading, rows, mirrored, size, left, half, WIDE[0], top))
        return made
    for section, words, heading in zip(sections, said, headings, strict=True):
        made.append(_cell(section, line, words, heading, len(heading), mirrored, size, low, high - low, WIDE[1], top))
        top = made[-1].foot + 4
    return made


def _measure(length: Length, word: str, unit: Unit, denominator: int, size: float) -> Runs:
    return (*measured(length, unit, denominator, size, bold=word == "deep"), Run(f" {word}", size))


def _heading(section: Section, letters: Mapping[str, str], size: float, room: float) -> list[Runs]:
    words: list[Runs] = [(Run(word, size),) for word in ("section", "at")]
    words += [(Run(word, size, True),) for word in called(section.features).split()]
    own = list(dict.fromkeys(plain(letters.get(feature.key, "")) for feature in section.features))
    if len(own) == 1:
        words += [(Run(word, size, True, "crayon"),) for word in own[0].split()]
    return wrapped(words, size, room)


def _cell(
    section: Section,
    line: Line,
    words: Sequence[Runs],
    heading: Sequence[Runs],
    rows: int,
    mirrored: bool,
    size: float,
    left: float,
    room: float,
    most: float,
    top: float,
) -> Cell:
    texts = [(row, left, top + LINE * (i + 1)) for i, row in enumerate(heading)]
    top += LINE * rows + 9
    shape = (section.across[-1] - section.across[0]) / section.down[-1]
    wide = min(most, max(NARROW, HIGH[1] * shape))
    high = min(HIGH[1], max(HIGH[0], wide / shape))
    scale = _scale(section.across, wide, [section.span])
    down = _scale(section.down, high, [(m.top, m.foot) for m in section.measures])
    at = [(down(m.top) + down(m.foot)) / 2 for m in section.measures]
    stand = spread(at, LINE, LINE / 2 - 3, max(high - LINE / 2 + 3, LINE * (len(at) - 0.5)))
    ties = []
    for runs, middle, y in zip(words, at, stand, strict=True):
        texts.append((runs, left + wide + WORDS, top + y + size * CAPS))
        ties.append((left + wide + BRACKET, top + middle, top + y))
    foot = top + max(high, stand[-1] + 8 if stand else 0)
    side = surface(section.face, line)
    texts.append(((Run(fit(f"{side} up", size, room), size, False, "faint"),), left, foot + LINE))
    flipped = section.at is not None and (section.face in LEFTWARDS) != mirrored
    return Cell(section, left, top, wide, scale, down, flipped, tuple(texts), tuple(ties), foot + LINE)


def _scale(knots: Sequence[Length], total: float, cuts: Sequence[tuple[Length, Length]]) -> Scale:
    """A scale over the lines of a section's grid: true while nothing becomes too small to see."""
    steps = list(pairwise(knots))
    least = [LEAST] * len(steps)
    for a, z in cuts:
        inside = [i for i, (low, high) in enumerate(steps) if a <= low and high <= z]
        for i in inside:
            least[i] = max(least[i], CUT * (steps[i][1] - steps[i][0]) / (z - a))
    crowd = min(1.0, 0.85 * total / sum(least))
    sizes = [float(z - a) for a, z in steps]
    return Scale(knots, share(sizes, [crowd * one for one in least], [total] * len(steps), total))
