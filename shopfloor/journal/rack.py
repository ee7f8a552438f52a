"""Which boards are in the rack?  The boards that the floor measured, cut and used up: a fold of the journal, too.

An entry about a board carries the board's id (32 hex digits, made by the phone that measured it first) as its `part`:
a board may be measured where nobody can give it a code.  Each board has these registers, with heads and bases as steps
have (twin: static/journal/rack.js, bound by tests/vectors/rack.json):

- its measures: `board_measured {mark, species, lumber, nominal, length, widths, ...}`; two that did not know of each
  other and say different things are a disagreement, and both are kept;
- whether it is still there: `board_gone {reason}`, `board_back {}`;
- each cut of a plan: `board_cut {plan, cut}`, `board_uncut {plan, cut}`.

What is said about the wood itself is explained in trade/board.py.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from .fold import Row, standing, unique

__all__ = ["BACK", "CUT", "GONE", "KINDS", "MEASURED", "UNCUT", "BoardState", "cut_key", "fold_board", "rack"]

MEASURED, GONE, BACK, CUT, UNCUT = "board_measured", "board_gone", "board_back", "board_cut", "board_uncut"
KINDS = frozenset({MEASURED, GONE, BACK, CUT, UNCUT})

_ABOUT = {MEASURED: "measures", GONE: "there", BACK: "there"}


@dataclass
class BoardState:
    """All that the journal says about one board.

    `says` is what the last measuring said, empty if there was none; `cuts` are those that are made, as "plan/number",
    with the device that made each.  `heads` are, for each register, the entries that nobody has replaced.
    """

    says: dict[str, Any] = field(default_factory=dict)
    by: str = ""
    at: int = 0
    gone: str = ""
    cuts: dict[str, str] = field(default_factory=dict)
    heads: dict[str, tuple[str, ...]] = field(default_factory=dict)
    disagreement: bool = False
    unread: int = 0

    @property
    def there(self) -> bool:
        """Whether it can be cut from: it was measured, and is not gone."""
        return bool(self.says) and not self.gone


def cut_key(plan: str, cut: int) -> str:
    """The name of one cut: of which plan, and which number there."""
    return f"{plan}/{cut}"


def rack(rows: Iterable[Row]) -> dict[str, BoardState]:
    """Fold rows into the state of each board, by its id; other rows are passed by."""
    by_board: dict[str, list[Row]] = {}
    for row in rows:
        if row["entry"]["kind"] in KINDS and row["entry"]["part"]:
            by_board.setdefault(row["entry"]["part"], []).append(row)
    return {board: fold_board(own) for board, own in sorted(by_board.items())}


def fold_board(rows: Iterable[Row]) -> BoardState:
    """Fold the rows of one board, each entry given once or more."""
    state = BoardState()
    registers: dict[str, list[Row]] = {}
    for row in unique(rows):
        register = _register_of(row["entry"])
        if register is None:
            state.unread += 1
        else:
            registers.setdefault(register, []).append(row)
    for name, own in sorted(registers.items()):
        heads = standing(own)
        last = heads[-1]["entry"]
        state.heads[name] = tuple(sorted(row["entry"]["id"] for row in heads))
        if name == "measures":
            state.says, state.by, state.at = last["body"], last["device"], last["at"]
            state.disagreement = len({_plain(row["entry"]["body"]) for row in heads}) > 1
        elif name == "there":
            reason = last["body"].get("reason")
            state.gone = (reason if isinstance(reason, str) and reason else "gone") if last["kind"] == GONE else ""
        elif last["kind"] == CUT:
            state.cuts[name] = last["device"]
    return state


def _plain(body: Any) -> str:
    """A body as text: two that say the same are equal, however a number is spelled (1.0 is 1, but true is not)."""
    return json.dumps(_even(body), sort_keys=True)


def _even(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _even(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_even(inner) for inner in value]
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _register_of(entry: dict[str, Any]) -> str | None:
    """The register that an entry about a board writes; None if this version cannot read it."""
    kind, body = entry["kind"], entry["body"]
    if entry["v"] != 1:
        return None
    if kind in _ABOUT:
        return _ABOUT[kind]
    plan, cut = body.get("plan"), body.get("cut")
    if isinstance(plan, str) and plan and type(cut) is int and cut >= 0:
        return cut_key(plan, cut)
    return None
