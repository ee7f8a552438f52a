"""How does a part stand on its drawings?  The ground that they share: whole or one step, in either unit.

The views, their scales and the column of numbers are the same in all of them, so that nothing moves when one is looked
at instead of another.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..trade.layout import marks
from ..trade.length import Length
from ..trade.part import Box, Feature, Hand, Line, Part, Unit
from .proportions import crosswise, lengthwise, sides
from .relief import Relief
from .spread import Scale
from .type import Run, Runs, fit, measured, same, width
from .views import LEFTWARDS, View, blocks, clamped, pair

FRAME = 360
"""Width of a drawing in user units: a phone's, so that a unit is a pixel there."""
MARGIN = 10
DATUM = 40  # the height of the datum line
MARK, LETTER, DATUM_WORDS, TEXT = 23, 18, 17, 16  # sizes of type
MARK_GAP, LETTER_GAP = 26, 22  # from baseline to baseline


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


@dataclass(frozen=True)
class Ground:
    """What all drawings of a part share that look at the same two surfaces; see Arrangement for `boxes` and `blocks`.

    `letters` are the pair letters by the keys of features, `shown` the same as far as there is room for them.
    """

    line: Line
    mirrored: bool
    denominator: int
    letters: Mapping[str, str]
    shown: Mapping[str, str]
    boxes: Mapping[str, Box]
    blocks: Mapping[str, tuple[Box, ...]]
    views: tuple[View, View]
    stands: tuple[tuple[View, tuple[float, float, Scale, bool]], ...]
    down: Scale
    breaks: tuple[float, ...]
    column: float

    def places(self, there: Sequence[Feature]) -> tuple[Place, Place]:
        """The two views from left to right when some features are cut."""
        one, other = (Place(view, Relief(view, there), *rest) for view, rest in self.stands)
        return one, other


def ground(
    line: Line,
    part: Part,
    denominator: int,
    letters: Mapping[str, str],
    views: tuple[View, View] | None = None,
) -> Ground:
    """The ground of a part's drawings, looking at those two views, or at the two that show most."""
    mirrored = part.hand is Hand.MIRROR
    boxes = {feature.key: clamped(feature.box(line.stock), line.stock) for feature in line.features}
    every = {feature.key: blocks(feature, line.stock) for feature in line.features}
    shown = {key: fit(letters[key], LETTER, 60, bold=True) for key in boxes if letters.get(key)}
    columns = [numbers(line, unit, denominator) for unit in Unit]
    column = max([MARGIN + max(width(runs) for _, runs in one) for one in columns] + [74.0])
    views = views or pair(line.features, line.stock)
    left, right, gap = _room(column, shown.values())
    widths = sides(views, right - left - gap)
    need = max((max(map(len, columns)) + 0.2) * MARK_GAP, len(shown) * LETTER_GAP + 10)
    down, breaks = lengthwise(line, every, views, widths, need, DATUM)

    x = left + (right - left - sum(widths) - gap) / 2
    order = list(zip(views, widths, strict=True))
    stands = []
    for view, side in reversed(order) if mirrored else order:
        scale = crosswise(view, [box for one in every.values() for box in one], side)
        stands.append((view, (x, x + side, scale, (view.face in LEFTWARDS) != mirrored)))
        x += side + gap
    return Ground(
        line=line,
        mirrored=mirrored,
        denominator=denominator,
        letters=letters,
        shown=shown,
        boxes=boxes,
        blocks=every,
        views=views,
        stands=tuple(stands),
        down=down,
        breaks=tuple(breaks),
        column=column,
    )


def numbers(line: Line, unit: Unit, denominator: int) -> list[tuple[Length, Runs]]:
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


def _room(column: float, letters: Iterable[str]) -> tuple[float, float, float]:
    """Left and right limit of the views, and the gap between them: each has its pair letters at its right."""
    widest = max((width([Run(letter, LETTER, True)]) for letter in letters), default=0.0)
    return column + 30, FRAME - MARGIN - (widest + 6 if widest else 0), max(28.0, widest + 12) if widest else 34.0
