"""How much board area is needed at the very least?  Proofs in whole numbers.

By area: a part with a kerf on two of its sides takes (length + kerf) x (width + kerf) of a board's (length + kerf) x
(width + kerf), and no two of them overlap.  And what is opened is a sum of whole boards: a bound between two such
sums is raised to the next.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from .boards import Area
from .case import Case

__all__ = ["by_area", "next_sum"]

MOST_BOARDS = 36
"""With more boards than this the sums lie so close that raising gains nothing, and would take long."""


def by_area(case: Case) -> Area:
    """The least area of boards that could hold all parts if they were poured in; all of it if they cannot."""
    kerf = case.saw.kerf
    need = sum(
        sum((member.length + kerf) * (member.width + kerf) for member in lot.shapes[0].members) * lot.count
        for lot in case.lots
        if lot.shapes
    )
    cost = Fraction(0)
    room = [
        ((max(plot.end - plot.start, 0) + kerf) * (plot.width + kerf), plot.plank.area)
        for plot in case.plots
        if plot.end > plot.start
    ]
    for holds, area in sorted(room, key=lambda each: Fraction(each[1], each[0])):
        taken = min(need, holds)
        cost += Fraction(area * taken, holds)
        need -= taken
        if not need:
            break
    return -(-cost.numerator // cost.denominator)


def next_sum(areas: Sequence[Area], least: Area) -> Area:
    """The least sum of some of these areas that is not below `least`; `least` itself where there are too many, or none.

    >>> next_sum([70, 50, 33], 80)
    83
    """
    if len(areas) > MOST_BOARDS or sum(areas) < least or least <= 0:
        return least
    unit = max(sum(areas) >> 62, 0) + 1
    if unit > 1:
        # Beyond 64 bits: sums of what is rounded down come out low, by less than a unit a board, never high.
        return max(least, next_sum([area // unit for area in areas], least // unit - len(areas)) * unit)
    half = len(areas) // 2
    one, other = _sums(areas[:half]), _sums(areas[half:])
    other.sort()
    at = np.searchsorted(other, least - one)
    fits = at < len(other)
    return int((one[fits] + other[at[fits]]).min())


def _sums(areas: Sequence[Area]) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    found = np.zeros(1, dtype=np.int64)
    for area in areas:
        found = np.concatenate([found, found + area])
    return found
