"""Which codes are free?  Parts, stacks and boards draw from the same ones: a label is one thing in the shop."""

from __future__ import annotations

import secrets
from itertools import chain, islice

from sqlalchemy import Connection, select, union, update

from shopfloor.store import tables
from shopfloor.trade import code as codes_of_trade


def fresh_codes(connection: Connection, count: int) -> list[str]:
    """So many codes that nobody has; call it within what a writer does, and give them all."""
    counted: int = connection.scalar(select(tables.shop.c.next_serial)) or 0
    in_order = counted >= 0
    # An older copy of this database that was put back does not know which codes were printed since.  So they begin
    # anywhere each time, and one that an entry names is somebody's, even if no part has it.
    start = counted if in_order else secrets.randbelow(codes_of_trade.SERIALS)
    taken = union(
        select(tables.part_tag.c.code), select(tables.board_tag.c.code), select(tables.entry.c.part).distinct()
    )
    used = set(connection.scalars(taken))
    # Behind the last serial it goes on with the first: a million codes are there for each shop.
    free = (each for each in chain(codes_of_trade.codes(start), codes_of_trade.codes()) if each[1] not in used)
    found = list(islice(free, count))
    if in_order and found:
        counted = (found[-1][0] + 1) % codes_of_trade.SERIALS
        connection.execute(update(tables.shop).values(next_serial=counted))
    return [made for _, made in found]
