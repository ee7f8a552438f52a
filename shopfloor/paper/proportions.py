"""How large is each thing drawn?  The proportions of a picture that is not to scale, and where it is broken.

Across and along, what is small is given room enough to be seen.  Along the part, long stretches where nothing happens
are shortened, and broken if the shortening would mislead.  Order is kept: the scales always rise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from ..trade.length import Length
from ..trade.part import Box, Line, Pins, Tails
from .spread import Scale, share
from .views import View, runs_along

TALL, SHORT = 272, 220  # how long a part is drawn at most, unless its marks need more, and at least
CUT_LEAST, STRETCH_LEAST, STEP_LEAST = 15, 12, 5  # the least drawn length of a cut, of what is between, of a step in it
FLARE_LEAST = 38  # the same of tails and pins: their slope has to show
ACROSS_LEAST, ACROSS_STEP = 11, 4  # the same across the part
EMPTY_MOST = 90  # the longest an empty stretch is drawn while there is not room for all
UNBROKEN = 2  # a part this much longer than its picture is only drawn smaller; a longer one is broken
BREAK_AT = 0.66  # where in its stretch a break is: so there is room above it for the face mark
MILLIMETRE = 1_000_000


def sides(views: Sequence[View], room: float) -> tuple[float, float]:
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


def crosswise(view: View, boxes: Sequence[Box], side: float) -> Scale:
    """The scale across a view."""
    spans = [(flat.a0, flat.a1) for flat in map(view.flat, boxes)]
    knots = sorted({0, view.across, *(a for span in spans for a in span)})
    sizes = [(z - a) / MILLIMETRE for a, z in pairwise(knots)]
    least = _least(knots, spans, ACROSS_STEP, ACROSS_LEAST)
    crowd = min(1.0, 0.85 * side / sum(least))
    return Scale(knots, share(sizes, [crowd * a for a in least], [side] * len(sizes), side))


def lengthwise(
    line: Line,
    blocks: Mapping[str, Sequence[Box]],
    views: Sequence[View],
    drawn: Sequence[float],
    need: float,
    start: float,
) -> tuple[Scale, list[float]]:
    """The scale along the part, and where it is broken.  The part is drawn from `start` on, and at least `need` long.

    `drawn` are the widths of the two views.
    """
    short = [(box.x0, box.x1) for one in line.features if not runs_along(one) for box in blocks[one.key]]
    knots = sorted({0, line.length, *(x for every in blocks.values() for box in every for x in box[:2])})
    sizes = [(z - a) / MILLIMETRE for a, z in pairwise(knots)]
    empty = [not any(x0 < z and a < x1 for x0, x1 in short) for a, z in pairwise(knots)]
    # Drawn units per millimetre that would show the wider view's true shape.
    true = min(side * MILLIMETRE / view.across for side, view in zip(drawn, views, strict=True))
    least = _least(knots, short, STEP_LEAST, CUT_LEAST)
    flared = [(box.x0, box.x1) for one in line.features if isinstance(one, Tails | Pins) for box in blocks[one.key]]
    least = [max(pair) for pair in zip(least, _least(knots, flared, STEP_LEAST, FLARE_LEAST), strict=True)]
    least = [max(a, STRETCH_LEAST) if bare else a for a, bare in zip(least, empty, strict=True)]
    need = max(need, sum(least))
    if sum(sizes) * true <= UNBROKEN * max(need, TALL):
        total = max(need, min(TALL, max(SHORT, sum(sizes) * true)))
        return Scale(knots, share(sizes, least, [total] * len(sizes), total), start), []

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
    scale_along = Scale(knots, steps, start)
    broken = [
        scale_along(a) + BREAK_AT * step
        for a, size, step, bare in zip(knots[:-1], sizes, steps, empty, strict=True)
        if bare and step >= 30 and size * scale > 1.4 * step
    ]
    return scale_along, broken
