"""Entries as phones write them, for tests of everything that takes some."""

from __future__ import annotations

import json
from typing import Any

from shopfloor.store.journal import Offered

NOON = 1_790_000_000_000
"""An ordinary moment, milliseconds since 1970."""


def identity(number: int) -> str:
    return f"{number:032x}"


def entry(number: int = 1, **changed: Any) -> dict[str, Any]:
    """The entry of that number, whole and sound, with some fields changed."""
    return {
        "id": identity(number),
        "device": "bench-phone",
        "incarnation": "first",
        "number": number,
        "hlc": [NOON + number, 0],
        "at": NOON + number,
        "kind": "step_done",
        "v": 1,
        "part": "K7Q2MX",
        "base": [],
        "body": {"step": "mill"},
    } | changed


def offered(*raws: Any) -> list[Offered]:
    """The same as a phone would hand it over."""
    return [Offered(json.dumps(raw), raw) for raw in raws]
