"""Which boards does the shop have, and which code is on each?  The rack, read from the journal, with its labels.

A board that a phone measured where there was no signal is known by its random id.  It gets a code when the office
first hears of it; its label can be printed then.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable
from typing import Any, NamedTuple

from sqlalchemy import func, insert, select

from shopfloor.errors import ShopError
from shopfloor.journal import rack as journal_of_boards
from shopfloor.journal.rack import BoardState
from shopfloor.store import desk, tables
from shopfloor.store.codes import fresh_codes
from shopfloor.store.opening import reading, writing
from shopfloor.trade.board import Board, read_board, write_board


class Racked(NamedTuple):
    """A board, the code on its label, and what the floor says about it."""

    board: Board
    code: str
    state: BoardState


class Unreadable(NamedTuple):
    """What was measured as a board and cannot be one: the sentence that says why."""

    id: str
    code: str
    fault: ShopError


class Rack(NamedTuple):
    """Every board that was ever measured, by its id, in the order in which they were first heard of."""

    boards: dict[str, Racked]
    faults: tuple[Unreadable, ...]
    rev: int

    @property
    def there(self) -> list[Racked]:
        """Those that can be cut from."""
        return [one for one in self.boards.values() if one.state.there]


class NoSuchBoard(ShopError):
    """An id or a code that no board has."""

    code = "no-such-board"


def read() -> Rack:
    """The rack as the journal tells it now; boards that are new get their codes."""
    rows = _rows()
    states = journal_of_boards.rack(rows)
    codes = _codes(list(dict.fromkeys(row["entry"]["part"] for row in rows if row["entry"]["part"] in states)))
    boards: dict[str, Racked] = {}
    faults = []
    for identity, code in codes.items():
        if identity not in states or not states[identity].says:
            continue
        try:
            boards[identity] = Racked(read_board(identity, states[identity].says), code, states[identity])
        except ShopError as fault:
            faults.append(Unreadable(identity, code, fault))
    return Rack(boards, tuple(faults), max((row["rev"] for row in rows), default=0))


def latest_rev() -> int:
    """The last rev that is about a board; 0 if there is none."""
    entry = tables.entry
    with reading() as connection:
        wanted = select(func.max(entry.c.rev)).where(entry.c.kind.in_(sorted(journal_of_boards.KINDS)))
        return int(connection.scalar(wanted) or 0)


def find(code: str) -> str | None:
    """The id of the board with that code on its label, or None."""
    tag = tables.board_tag
    with reading() as connection:
        return connection.scalar(select(tag.c.board).where(tag.c.code == code))


def measure(board: Board, seen: BoardState | None = None) -> str:
    """Write down what a board measures, as the office; `seen` is what was known of it.  Returns its id.

    A board without an id is a new one.
    """
    identity = board.id or secrets.token_hex(16)
    body = write_board(board)
    read_board(identity, body)
    base = seen.heads.get("measures", ()) if seen else ()
    desk.write([desk.Said(journal_of_boards.MEASURED, identity, body, base)])
    return identity


def put_away(identities: Iterable[str], reason: str) -> None:
    """Say that boards are gone, and why."""
    _there(identities, journal_of_boards.GONE, {"reason": reason})


def put_back(identities: Iterable[str]) -> None:
    """Say that boards are there after all."""
    _there(identities, journal_of_boards.BACK, {})


def _there(identities: Iterable[str], kind: str, body: dict[str, Any]) -> None:
    states = journal_of_boards.rack(_rows())
    said = []
    for identity in identities:
        if identity not in states:
            raise NoSuchBoard("there is no such board in the rack", do="Look at the list of boards.")
        said.append(desk.Said(kind, identity, body, states[identity].heads.get("there", ())))
    desk.write(said)


def _rows() -> list[dict[str, Any]]:
    entry = tables.entry
    columns = (entry.c.rev, entry.c.clock_ms, entry.c.clock_counter, entry.c.body)
    wanted = select(*columns).where(entry.c.kind.in_(sorted(journal_of_boards.KINDS))).order_by(entry.c.rev)
    with reading() as connection:
        return [
            {"rev": rev, "clock": [ms, counter], "entry": json.loads(body)}
            for rev, ms, counter, body in connection.execute(wanted)
        ]


def _codes(identities: list[str]) -> dict[str, str]:
    """The codes of boards; those that have none get one."""
    tag = tables.board_tag
    with reading() as connection:
        known: dict[str, str] = {row.board: row.code for row in connection.execute(select(tag.c.board, tag.c.code))}
    if any(identity not in known for identity in identities):
        with writing() as connection:
            # Another thread may have given some meanwhile.
            known = {row.board: row.code for row in connection.execute(select(tag.c.board, tag.c.code))}
            new = [identity for identity in identities if identity not in known]
            made = dict(zip(new, fresh_codes(connection, len(new)), strict=True))
            if made:
                connection.execute(insert(tag), [{"board": board, "code": code} for board, code in made.items()])
            known |= made
    return {identity: known[identity] for identity in identities}
