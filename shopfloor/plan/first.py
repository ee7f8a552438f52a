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

SOME_BOARDS, SOME_LOTS = 48, 240
"""With more boards or lots than this, only some are looked at for each board that is filled.  Source: measured; 5,000
parts of 5,000 sizes take half a minute so."""

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
    area = [plot.plank.area for plot in case.plots]
    free = sorted(range(len(case.plots)) if boards is None else boards, key=lambda n: (-area[n], n))
    while free and left.any() and not stop():
        some = _some(free, len(laid))
        seen = _seen(worth, left)
        pricing.fill(seen, left)
        values = pricing.price(some)
        whole = int((worth * left).sum())
        done = False
        for n in sorted((n for n in some if values[n] >= whole), key=lambda each: (area[each], each))[:3]:
            lay = pricing.proper(n, worth, left)
            if (counted(lay, len(left)) >= left).all():
                laid[n], left, done = lay, left - left, True
                break
        if done:
            break
        best = max(some, key=lambda each: (values[each] / area[each], -each))
        lay = pricing.proper(best, seen, left)
        free.remove(best)
        if values[best] <= 0 or not lay.sections:
            if len(some) == len(free) + 1:
                break
            continue
        laid[best] = lay
        left = left - counted(lay, len(left))
    return laid


def _some(free: Sequence[int], turn: int) -> Sequence[int]:
    """The boards to choose from: all of them, or of many some of each size, others at each turn."""
    stride = -(-len(free) // SOME_BOARDS)
    return free if stride == 1 else free[turn % stride :: stride]


def _seen(worth: Whole, left: Whole) -> Whole:
    """What units are worth, as far as they are looked at: all lots that are left, or of many the dearest and some
    others."""
    lots = np.flatnonzero(left > 0)
    if len(lots) <= SOME_LOTS:
        return worth
    by_worth = lots[np.argsort(-worth[lots], kind="stable")]
    half = SOME_LOTS // 2
    others = by_worth[half:]
    seen = np.concatenate([by_worth[:half], others[:: -(-len(others) // half)]])
    found = np.zeros_like(worth)
    found[seen] = worth[seen]
    return found


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
