"""How is a plan kept?  As plain values and back, so that it can be stored, sent and drawn again."""

from __future__ import annotations

from typing import Any

from ..trade.sawing import BoardPlan, Cut, Piece, Role, Way
from .boards import LeftOver, Plan, Rule, Why

__all__ = ["board_from_plain", "board_to_plain", "plan_from_plain", "plan_to_plain"]


def plan_to_plain(plan: Plan) -> dict[str, Any]:
    """A plan as JSON can hold it; areas are texts, for they are longer than a number of JavaScript."""
    return {
        "rule": plan.rule.value,
        "kerf": plan.kerf,
        "least": None if plan.least is None else str(plan.least),
        "notes": [list(says) for says in plan.notes],
        "left_over": [{"part": one.part, "why": one.why.value, "says": list(one.says)} for one in plan.left_over],
        "boards": [board_to_plain(each) for each in plan.boards],
    }


def plan_from_plain(plain: dict[str, Any]) -> Plan:
    """The plan again."""
    return Plan(
        Rule(plain["rule"]),
        plain["kerf"],
        tuple(board_from_plain(each) for each in plain["boards"]),
        tuple(LeftOver(one["part"], Why(one["why"]), tuple(one["says"])) for one in plain["left_over"]),
        None if plain["least"] is None else int(plain["least"]),
        tuple(tuple(says) for says in plain["notes"]),
    )


def board_to_plain(board: BoardPlan) -> dict[str, Any]:
    """One board's pieces and cuts, as lists: [role, x, y, length, width, part], [way, at, of, low, high]."""
    return {
        "board": board.board,
        "area": str(board.area),
        "pieces": [[p.role.value, p.x, p.y, p.length, p.width, p.part] for p in board.pieces],
        "cuts": [[c.way.value, c.at, c.of, c.low, c.high] for c in board.cuts],
    }


def board_from_plain(plain: dict[str, Any]) -> BoardPlan:
    return BoardPlan(
        plain["board"],
        int(plain["area"]),
        tuple(
            Piece(n, Role(role), x, y, length, width, part)
            for n, (role, x, y, length, width, part) in enumerate(plain["pieces"])
        ),
        tuple(Cut(n, Way(way), at, of, low, high) for n, (way, at, of, low, high) in enumerate(plain["cuts"], start=1)),
    )
