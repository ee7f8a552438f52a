"""The benchmark sets in tests/bench/cutting, with their known values; see the README there."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from shopfloor.plan.boards import Plank, Rule, Saw, Task, Wanted
from shopfloor.plan.plates import Wish
from shopfloor.trade.length import INCH

FOLDER = Path(__file__).parent.parent / "bench" / "cutting"
EIGHTH = INCH // 8


def instances(name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))["instances"]
    return found


def shop_task(instance: dict[str, Any], rule: Rule) -> Task:
    """A shop job of set shop_2d: units are 1/8 in."""
    parts = tuple(
        Wanted(f"p{n}-{each}", length * EIGHTH, width * EIGHTH)
        for n, (length, width, many) in enumerate(instance["items"])
        for each in range(many)
    )
    planks = tuple(Plank(f"b{n}", a * EIGHTH, b * EIGHTH) for n, (a, b) in enumerate(instance["boards"]))
    return Task(parts, planks, Saw(instance["kerf"] * EIGHTH, rule))


def two_ways(instance: dict[str, Any]) -> list[tuple[str, int, int, list[Wish], dict[str, int]]]:
    """A plate with its strips along either side: which, length, width, wishes, and the known values."""
    along = [Wish(*item) for item in instance["items"]]
    across = [Wish(w.width, w.length, w.most, w.worth) for w in along]
    return [
        ("L", instance["L"], instance["W"], along, instance["two_stage_strips_along_L"]),
        ("W", instance["W"], instance["L"], across, instance["two_stage_strips_along_W"]),
    ]
