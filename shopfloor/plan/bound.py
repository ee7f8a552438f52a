"""How much board area is needed at the very least?  Proofs in whole numbers.

By area: a part with a kerf on two of its sides takes (length + kerf) x (width + kerf) of a board's (length + kerf) x
(width + kerf), and no two of them overlap.
"""

from __future__ import annotations

from fractions import Fraction

from .boards import Area
from .case import Case

__all__ = ["by_area"]


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
