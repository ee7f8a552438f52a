"""What does another kind of joint ask for?  Its own sizes, as the shop would begin it; what was typed with it stays."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from ..case_joints import HALF_BLIND_SHARE, RABBET_SHARE, SLOPE_HARD
from ..cutters import first_cutters
from ..length import INCH, MM
from ..part import Unit
from ..proposal import PIN_WIDTH, TAIL_WIDTH
from .corner_proposal import Customs, proposed
from .drawer_choices import CornerJoint, Drawers
from .habitual import Ways

__all__ = ["customs_of", "rechosen"]


def rechosen(before: Any, made: Any, ways: Ways, around: tuple[Any, ...]) -> Any:
    """A record as it was changed, with the sizes of its kind if that is another one now.

    `around` is what it stands in, from the inside out.
    """
    drawers = next((each for each in around if isinstance(each, Drawers)), None)
    if not isinstance(made, CornerJoint) or not isinstance(before, CornerJoint) or drawers is None:
        return made
    if made.kind is before.kind:
        return made
    fresh = proposed(made.kind, drawers.front, drawers.side, drawers.bottom, customs_of(ways))
    names = [each.name for each in fields(CornerJoint)]
    return replace(fresh, **{
        name: getattr(made, name) for name in names if getattr(made, name) != getattr(before, name)
    })  # fmt: skip


def customs_of(ways: Ways) -> Customs:
    """How a shop goes about corners, by its habits and cutters."""
    of, unit = ways.habits.of, ways.unit
    return Customs(
        of(RABBET_SHARE, unit), of(HALF_BLIND_SHARE, unit), of(PIN_WIDTH, unit), of(TAIL_WIDTH, unit),
        round(1 / of(SLOPE_HARD, unit)), (ways.cutters or first_cutters(unit)).widths,
        MM if unit is Unit.MM else INCH // 16,
    )  # fmt: skip
