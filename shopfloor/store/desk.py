"""What does the office itself write into the journal?  Entries like those of a phone, of the device "office"."""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable
from typing import Any, NamedTuple

from shopfloor.journal.clock import Stamp, observe, tick
from shopfloor.store import journal
from shopfloor.store.moment import now_ms

OFFICE = "office"
"""The device that the office writes as."""


class Said(NamedTuple):
    """One thing to write: its kind, what it is about (a code, or a board's id), what it says, and which entries of the
    same register it replaces."""

    kind: str
    part: str
    body: dict[str, Any]
    base: tuple[str, ...] = ()


def write(said: Iterable[Said]) -> None:
    """Write it all down, after everything that the journal holds about the same things."""
    now = now_ms()
    stamps: dict[str, Stamp] = {}
    offered = []
    for number, one in enumerate(said):
        last = stamps.get(one.part)
        if last is None:
            last = Stamp(0, 0)
            for row in journal.rows_of_part(one.part) if one.part else ():
                last = observe(last, Stamp(*row["clock"]))
        stamps[one.part] = tick(last, now)
        entry = {
            "id": secrets.token_hex(16),
            "device": OFFICE,
            "incarnation": OFFICE,
            "number": now + number,
            "hlc": list(stamps[one.part]),
            "at": now,
            "kind": one.kind,
            "v": 1,
            "part": one.part,
            "base": list(one.base),
            "body": one.body,
        }
        offered.append(journal.Offered(json.dumps(entry, ensure_ascii=False), entry))
    if offered:
        journal.keep(offered)
