"""How far is each part?  Progress is a fold of the journal: the same rows, in any order and repeated, give the same.

Merging goes by kind (twin: static/journal/fold.js, bound to this by tests/vectors/fold.json):

- a step of a part is a register.  An entry that names another in its `base` had seen it and replaces it; what nobody
  replaced are the heads.  The value is the last head's; heads that say different things are a disagreement.
- notes and measurements only ever add.
- held and spoiled stay until an entry names them in what it lifts.
- what we cannot read is counted, not dropped.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from .clock import Stamp
from .entry import HELD, LIFTED, MEASURED, NOTED, SPOILED, STEP_DONE, STEP_UNDONE

Row = dict[str, Any]
"""An entry as it is passed on: {"rev": ..., "clock": [ms, counter], "entry": {...}}."""


@dataclass(frozen=True)
class StepState:
    """Where one step of one part stands: done or not, who said so last, and the entries nobody has replaced."""

    done: bool
    by: str
    at: int
    heads: tuple[str, ...]
    disagreement: bool


@dataclass(frozen=True)
class Remark:
    """Something that was written down about a part: who, when, and what it says."""

    id: str
    by: str
    at: int
    body: dict[str, Any]


@dataclass
class PartProgress:
    """All that the journal says about one part."""

    steps: dict[str, StepState] = field(default_factory=dict)
    notes: list[Remark] = field(default_factory=list)
    measured: list[Remark] = field(default_factory=list)
    held: list[Remark] = field(default_factory=list)
    spoiled: list[Remark] = field(default_factory=list)
    unread: int = 0

    def done(self, step: str) -> bool:
        """Whether a step is done, as the journal stands."""
        state = self.steps.get(step)
        return state is not None and state.done

    @property
    def disagreements(self) -> list[str]:
        """The steps about which the floor says different things."""
        return [step for step, state in self.steps.items() if state.disagreement]


def order(row: Row) -> tuple[int, int, str, str, int, str]:
    """The place of a row in the one order that everybody agrees on."""
    entry = row["entry"]
    ms, counter = Stamp(*row["clock"])
    return ms, counter, entry["device"], entry["incarnation"], entry["number"], entry["id"]


def progress(rows: Iterable[Row]) -> dict[str, PartProgress]:
    """Fold rows into the progress of each part, by code.  Order and repeats of the rows change nothing."""
    by_part: dict[str, list[Row]] = {}
    for row in rows:
        by_part.setdefault(row["entry"]["part"], []).append(row)
    return {part: fold(own) for part, own in sorted(by_part.items()) if part}


def fold(rows: Iterable[Row]) -> PartProgress:
    """Fold the rows of one part, each entry given once or more."""
    result = PartProgress()
    registers: dict[str, list[Row]] = {}
    lifted: set[str] = set()
    remarks = {NOTED: result.notes, MEASURED: result.measured, HELD: result.held, SPOILED: result.spoiled}
    for row in unique(rows):
        entry = row["entry"]
        kind, body = entry["kind"], entry["body"]
        if entry["v"] == 1 and kind in (STEP_DONE, STEP_UNDONE) and isinstance(body.get("step"), str):
            registers.setdefault(body["step"], []).append(row)
        elif entry["v"] == 1 and kind in remarks:
            remarks[kind].append(Remark(entry["id"], entry["device"], entry["at"], body))
        elif entry["v"] == 1 and kind == LIFTED and isinstance(body.get("lifts"), list):
            lifted.update(name for name in body["lifts"] if isinstance(name, str))
        else:
            result.unread += 1
    result.held = [remark for remark in result.held if remark.id not in lifted]
    result.spoiled = [remark for remark in result.spoiled if remark.id not in lifted]
    result.steps = {step: _register(own) for step, own in sorted(registers.items())}
    return result


def heads(rows: Iterable[Row], step: str) -> tuple[str, ...]:
    """What a new entry about `step` names as its base: the entries that nobody has replaced yet."""
    state = fold(rows).steps.get(step)
    return state.heads if state else ()


def standing(rows: Iterable[Row]) -> list[Row]:
    """Of one register's rows, in order, those that nobody has replaced: its heads, the last of which is its value."""
    own = list(rows)
    replaced = {seen for row in own for seen in row["entry"]["base"] if seen != row["entry"]["id"]}
    heads = [row for row in own if row["entry"]["id"] not in replaced]
    # Entries that name each other in a circle cannot come from an honest phone; then the order alone decides.
    return heads or own


def unique(rows: Iterable[Row]) -> list[Row]:
    """Rows in order, each entry once.

    The same entry may come twice, with its own clock and with the server's clamped one: the clamped one counts.
    """
    found: dict[str, Row] = {}
    for row in rows:
        known = found.setdefault(row["entry"]["id"], row)
        if tuple(row["clock"]) < tuple(known["clock"]):
            found[row["entry"]["id"]] = row
    return sorted(found.values(), key=order)


def _register(rows: list[Row]) -> StepState:
    """The state of one register; `rows` are in order."""
    heads = standing(rows)
    last = heads[-1]["entry"]
    said = {row["entry"]["kind"] for row in heads}
    return StepState(
        done=last["kind"] == STEP_DONE,
        by=last["device"],
        at=last["at"],
        heads=tuple(sorted(row["entry"]["id"] for row in heads)),
        disagreement=len(said) > 1,
    )
