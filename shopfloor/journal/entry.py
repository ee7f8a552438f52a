"""What did the floor write down?  One line of the journal: immutable, kept verbatim, known by its random id.

Only the envelope is looked at.  A kind or a version that we do not know is no fault: it is stored, passed on, and shown
as "needs a newer app".
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from ..errors import ShopError
from .clock import Stamp

STEP_DONE = "step_done"
STEP_UNDONE = "step_undone"
NOTED = "noted"
MEASURED = "measured"
HELD = "held"
SPOILED = "spoiled"
LIFTED = "lifted"

KINDS = frozenset({STEP_DONE, STEP_UNDONE, NOTED, MEASURED, HELD, SPOILED, LIFTED})
"""The kinds that this version can read; of each, version 1."""

ID_FORM = re.compile(r"[0-9a-f]{32}")
LONGEST_NAME = 200
LATEST = 2**53 - 1
"""The largest whole number that JavaScript holds exactly."""


class BadEntry(ShopError):
    """What came is no entry of a journal; it is set aside, and its neighbours are taken."""

    code = "bad-entry"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the journal.  `raw` is the whole of it as it came, unknown fields included."""

    id: str
    device: str
    incarnation: str
    number: int
    hlc: Stamp
    at: int
    kind: str
    v: int
    part: str
    base: tuple[str, ...]
    body: dict[str, Any]
    raw: dict[str, Any]


def is_sound(raw: object) -> bool:
    """Whether `parse` would take it, said fast: the server asks this of every entry that comes."""
    if type(raw) is not dict:
        return False
    try:
        ms, counter = hlc = raw["hlc"]
        return (
            type(identity := raw["id"]) is str
            and ID_FORM.fullmatch(identity) is not None
            and type(name := raw["device"]) is str
            and len(name) <= LONGEST_NAME
            and type(name := raw["incarnation"]) is str
            and len(name) <= LONGEST_NAME
            and type(name := raw["part"]) is str
            and len(name) <= LONGEST_NAME
            and type(name := raw["kind"]) is str
            and 0 < len(name) <= LONGEST_NAME
            and type(count := raw["number"]) is int
            and 1 <= count <= LATEST
            and type(count := raw["at"]) is int
            and -LATEST <= count <= LATEST
            and type(count := raw["v"]) is int
            and 1 <= count <= LATEST
            and type(hlc) is list
            and type(ms) is int
            and 0 <= ms <= LATEST
            and type(counter) is int
            and 0 <= counter <= LATEST
            and type(base := raw["base"]) is list
            and (not base or all(type(seen) is str and ID_FORM.fullmatch(seen) for seen in base))
            and type(raw["body"]) is dict
        )
    except (KeyError, TypeError, ValueError):
        return False


def parse(raw: object) -> Entry:
    """Take an entry as it came over the wire.  Raises BadEntry, naming the field, if it cannot be one."""
    if type(raw) is not dict:
        raise BadEntry("an entry is an object", do="Send {id, device, ...}.")
    identity = raw.get("id")
    if type(identity) is not str or not ID_FORM.fullmatch(identity):
        raise BadEntry("the id is not 32 hexadecimal digits", where="id")
    for name in ("device", "incarnation", "kind", "part"):
        text = raw.get(name)
        if type(text) is not str or len(text) > LONGEST_NAME:
            raise BadEntry(f"{name} is not a short text", where=name)
    if not raw["kind"]:
        raise BadEntry("the kind is empty", where="kind")
    for name, least in (("number", 1), ("at", -LATEST), ("v", 1)):
        count = raw.get(name)
        if type(count) is not int or not least <= count <= LATEST:
            raise BadEntry(f"{name} is not a whole number in range", where=name)
    hlc = raw.get("hlc")
    if type(hlc) is not list or len(hlc) != 2 or not all(type(n) is int and 0 <= n <= LATEST for n in hlc):
        raise BadEntry("hlc is not [milliseconds, counter]", where="hlc")
    base = raw.get("base")
    if type(base) is not list or not all(type(seen) is str and ID_FORM.fullmatch(seen) for seen in base):
        raise BadEntry("base is not a list of ids", where="base")
    if type(raw.get("body")) is not dict:
        raise BadEntry("the body is not an object", where="body")
    return Entry(
        identity,
        raw["device"],
        raw["incarnation"],
        raw["number"],
        Stamp(hlc[0], hlc[1]),
        raw["at"],
        raw["kind"],
        raw["v"],
        raw["part"],
        tuple(base),
        raw["body"],
        raw,
    )
