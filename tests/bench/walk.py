"""How fast is the first walk?  `python -m tests.bench walk`

Each part is a function that returns rows of the table: (what, measured, unit, goal or ""), and facts for the JSON line.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NamedTuple


class Measured(NamedTuple):
    """`rows` go into the table: (what, value with unit, goal or "").  `facts` go into the JSON line."""

    rows: list[tuple[str, str, str]]
    facts: dict[str, Any]


def parts() -> list[Callable[[], Measured]]:
    from tests.bench.walk_phone import phone
    from tests.bench.walk_server import sync_against_raw

    return [sync_against_raw, phone]


def main() -> None:
    facts: dict[str, Any] = {"bench": "walk"}
    print(f"{'what':<58}{'measured':>22}   goal")
    for part in parts():
        measured = part()
        for what, value, goal in measured.rows:
            print(f"{what:<58}{value:>22}   {goal}", flush=True)
        facts |= measured.facts
    print(json.dumps(facts))
