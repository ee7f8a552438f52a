"""Which plans has the shop made of its boards?  What was asked and what was found, as JSON; one is taken, or dropped.

A plan that is taken is the one that the phones cut by.  It stays when another is taken: what is cut by it stands in the
journal, and tells which part came from which board.
"""

from __future__ import annotations

import json
import secrets
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, insert, select, update

from shopfloor.errors import ShopError
from shopfloor.store import tables
from shopfloor.store.moment import now_ms
from shopfloor.store.opening import reading, writing


class NoSuchPlan(ShopError):
    """An id that no plan has."""

    code = "no-such-plan"


@dataclass(frozen=True)
class KeptPlan:
    """`taken_ms` is when the shop took it, None if it did not; `asked` and `found` are plain values."""

    id: str
    made_ms: int
    taken_ms: int | None
    dropped_ms: int | None
    asked: dict[str, Any]
    found: dict[str, Any]


def keep(asked: dict[str, Any], found: dict[str, Any]) -> str:
    """Keep a plan, and return its id."""
    identity = secrets.token_hex(8)
    with writing() as connection:
        connection.execute(
            insert(tables.board_plan).values(
                id=identity, made_ms=now_ms(), asked=json.dumps(asked), found=json.dumps(found)
            )
        )
    return identity


def read(identity: str) -> KeptPlan:
    """One plan.  Raises NoSuchPlan."""
    table = tables.board_plan
    with reading() as connection:
        row = connection.execute(select(table).where(table.c.id == identity)).first()
    if row is None:
        raise NoSuchPlan("there is no such board plan", do="Look at the list of plans.")
    return _kept(row)


def every() -> list[KeptPlan]:
    """All that are not dropped, the latest first."""
    table = tables.board_plan
    wanted = select(table).where(table.c.dropped_ms.is_(None)).order_by(table.c.made_ms.desc(), table.c.id)
    with reading() as connection:
        return [_kept(row) for row in connection.execute(wanted)]


def taken() -> list[KeptPlan]:
    """Those that the shop took and did not drop, in the order in which it took them."""
    return sorted((plan for plan in every() if plan.taken_ms), key=lambda plan: (plan.taken_ms or 0, plan.id))


def take(identity: str) -> None:
    """From now on boards are cut by it."""
    _mark(identity, {"taken_ms": now_ms(), "dropped_ms": None})


def drop(identity: str) -> None:
    """No board is cut by it any more.  What was cut stays cut."""
    _mark(identity, {"dropped_ms": now_ms()})


def pick_up(identity: str) -> None:
    """It was not meant: the plan is there again."""
    _mark(identity, {"dropped_ms": None})


def _mark(identity: str, values: dict[str, int | None]) -> None:
    table = tables.board_plan
    with writing() as connection:
        if connection.execute(update(table).where(table.c.id == identity).values(**values)).rowcount == 0:
            raise NoSuchPlan("there is no such board plan", do="Look at the list of plans.")


def _kept(row: Row[Any]) -> KeptPlan:
    return KeptPlan(row.id, row.made_ms, row.taken_ms, row.dropped_ms, json.loads(row.asked), json.loads(row.found))
