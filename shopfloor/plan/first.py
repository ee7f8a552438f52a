"""A first plan, at once: the boards are filled one after the other, each time the one that is filled best.

Where all that is left fits one board, the smallest such board is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from .case import Case, Whole
from .cutting import Lay, Run, SectionLay, StripLay
from .ripping import Ripping, counted
from .sense import fits

__all__ = ["alone", "filled", "part_worth"]


def part_worth(case: Case, power: float = 1.0) -> Whole:
    """What a unit is worth to begin with: its area with the kerfs; with a power over 1, large ones more than that."""
    kerf = case.saw.kerf
    sizes = [
        min((shape.length + kerf) * (shape.width + kerf) for shape in lot.shapes) if lot.shapes else 0
        for lot in case.lots
    ]
    largest = max(sizes, default=1) or 1
    return np.array([int(1 + 10**7 * (size / largest) ** power) for size in sizes], dtype=np.int64)


def filled(
    case: Case, pricing: Ripping, worth: Whole, demand: Whole, boards: Sequence[int] | None = None, *,
    stop: Callable[[], bool] = lambda: False,
) -> dict[int, Lay]:  # fmt: skip
    """What lies on which of these boards, by their numbers, until nothing is left or no board takes it."""
    laid: dict[int, Lay] = {}
    left = demand.copy()
    free = list(range(len(case.plots)) if boards is None else boards)
    area = [plot.plank.area for plot in case.plots]
    while free and left.any() and not stop():
        pricing.fill(worth, left)
        values = pricing.price(free)
        whole = int((worth * left).sum())
        takes_all = [n for n in free if values[n] >= whole]
        done = False
        for n in sorted(takes_all, key=lambda each: (area[each], each))[:3]:
            lay = pricing.proper(n, worth, left)
            if (counted(lay, len(left)) >= left).all():
                laid[n], left, done = lay, left - left, True
                break
            pricing.fill(worth, left)
        if done:
            break
        best = max(free, key=lambda each: (values[each] / area[each], -each))
        lay = pricing.proper(best, worth, left)
        free.remove(best)
        if values[best] <= 0 or not lay.sections:
            break
        laid[best] = lay
        left = left - counted(lay, len(left))
    return laid


def alone(case: Case, laid: dict[int, Lay]) -> dict[int, Lay]:
    """Units that fit a board to the hair, and were missed on a coarse grid: each on a board of its own."""
    if case.exact:
        return laid
    left = case.demand
    for lay in laid.values():
        left -= counted(lay, len(left))
    for lot in case.lots:
        for _ in range(int(left[lot.number])):
            for plot in sorted(case.plots, key=lambda each: each.plank.area):
                shape = next((s for s in lot.shapes if fits(plot, s, lot, case.saw)), None)
                pinned = lot.board not in ("", plot.plank.key)
                if plot.number in laid or pinned or shape is None or plot.spots:
                    continue
                for stretch in plot.stretches():
                    start, end = (stretch.show_start, stretch.show_end) if lot.show else (stretch.start, stretch.end)
                    if end - start >= shape.length:
                        strip = StripLay(0, shape.width, (Run(start, (shape,)),))
                        laid[plot.number] = Lay((SectionLay(0, plot.plank.length, (strip,)),))
                        break
                if plot.number in laid:
                    break
    return laid
