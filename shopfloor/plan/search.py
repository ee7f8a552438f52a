"""The board plan: parts to boards.  What is asked and what comes of it stands in boards.py."""

from __future__ import annotations

from collections.abc import Mapping

from .boards import LeftOver, Plan, Says, Task, Why
from .bound import by_area
from .case import Case, case_of
from .cutting import Lay, board_plan
from .first import filled, part_worth
from .ripping import Ripping
from .sense import named, sensible

__all__ = ["plan_boards"]


def plan_boards(task: Task) -> Plan:
    """A plan for the task.  Raises NoTask if what is asked contradicts itself."""
    kept, left_over, notes = sensible(task)
    case = case_of(kept)
    if not kept.wanted:
        return Plan(task.saw.rule, task.saw.kerf, (), left_over, None if left_over else 0, notes)
    laid = filled(case, Ripping(case, case.plots), part_worth(case, 1.1))
    return told(kept, case, laid, by_area(case), left_over, notes)


def told(
    task: Task, case: Case, laid: Mapping[int, Lay], least: int, left_over: tuple[LeftOver, ...] = (),
    notes: tuple[Says, ...] = (),
) -> Plan:  # fmt: skip
    """The plan for people: every board cut in order, and what is left over."""
    given: dict[int, int] = {}
    boards = tuple(
        board_plan(case.plots[n].plank, laid[n], case.lots, given, case.saw) for n in sorted(laid) if laid[n].sections
    )
    names = {part.key: named(part) for part in task.wanted}
    short = [
        LeftOver(key, Why.NOT_ENOUGH, (f"{names[key]}: the boards do not suffice.",))
        for lot in case.lots
        for unit in lot.units[given.get(lot.number, 0) :]
        for key in unit
    ]
    left = (*left_over, *short)
    return Plan(case.saw.rule, case.saw.kerf, boards, left, None if left else least, notes)
