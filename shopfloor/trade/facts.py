"""Which numbers does the tool work with, and where is each from?  All facts of the trade in one list."""

from __future__ import annotations

from . import (
    board,
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

__all__ = ["HABITS", "facts"]

HABITS: dict[str, AnyFact] = {
    fact.key: fact
    for fact in (
        proportions.TENON_SHARE, proportions.TENON_SHARE_INTO_LEG, proportions.LEG_SHARE, proportions.GROOVE_DEPTH,
        proportions.WIDEST_TENON, proportions.DOUBLE_FROM, proportions.DOUBLE_GAP,
        proportions.BLIND_SHARE, proportions.THROUGH_EXTRA, proportions.MORTISE_EXTRA, proportions.EDGE_SHOULDER,
        proportions.FIT_THICKNESS, proportions.FIT_WIDTH, case_joints.DADO_SHARE, case_joints.RABBET_SHARE,
        case_joints.BOTTOM_WIDTH, case_joints.BOTTOM_DEPTH, case_joints.BOTTOM_UP, case_joints.DRAWER_SIDES,
        case_joints.SLOPE_HARD, case_joints.SLOPE_SOFT, proposal.THICK_MATE, proposal.TAIL_WIDTH, proposal.PIN_WIDTH,
        walls.LEAST_WALL,
        panel.CLEARANCE, panel.MARGIN, panel.ENGAGEMENT, panel.END_CLEARANCE, seasonal.HELD,
        milling.LENGTH_ALLOWANCE, milling.WIDTH_ALLOWANCE, milling.THICKNESS_ALLOWANCE, milling.KERF,
        oversize.LONG_FROM, oversize.WIDE_FROM, oversize.LONG_LENGTH, oversize.LONG_WIDTH, oversize.LONG_FACE,
        widening.WIDEST, widening.CLEAR, stock.THICKEST, stock.RESAW_KERF, lumber.WASTE, board.END_TRIM,
        board.SHOW_CLEAR, board.SHORTEST, board.OFFCUT_LENGTH, board.OFFCUT_WIDTH,
    )
}  # fmt: skip
"""The habits that a shop can change, by their keys: what is proposed and warned about goes by its own number.  Others
follow as something is worked out from them."""


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
        *board.FACTS,
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
