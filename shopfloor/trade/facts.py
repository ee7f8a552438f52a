"""Which numbers does the tool work with, and where is each from?  All facts of the trade in one list."""

from __future__ import annotations

from . import (
    case_joints,
    clamping,
    cutters,
    lumber,
    machine_limits,
    milling,
    moisture,
    movement,
    oversize,
    panel,
    proportions,
    proposal,
    seasonal,
    seasons,
    spacing,
    stock,
    walls,
    widening,
)
from . import square as squareness
from .fact import AnyFact
from .species import species_facts

__all__ = ["facts"]


def facts() -> tuple[AnyFact, ...]:
    """Every fact, in the order of a piece's making: wood, lumber, milling, joints, panels, assembly, machines.

    Keys are unique.  A page groups them by `subject`; a shop changes those that are `changeable`.
    """
    return (
        *moisture.FACTS,
        *seasons.FACTS,
        *movement.FACTS,
        *seasonal.FACTS,
        *species_facts(),
        *lumber.FACTS,
        *milling.FACTS,
        *oversize.FACTS,
        *widening.FACTS,
        *stock.FACTS,
        *spacing.FACTS,
        *proportions.FACTS,
        *case_joints.FACTS,
        *proposal.FACTS,
        *cutters.FACTS,
        *walls.FACTS,
        *panel.FACTS,
        *squareness.FACTS,
        *clamping.FACTS,
        *machine_limits.FACTS,
    )
