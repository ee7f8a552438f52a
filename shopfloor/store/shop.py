"""Whose shop is it, and which life of its database?  The one row that everything else belongs to."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import shop
from shopfloor.trade.code import SERIALS

FIRST_NAME = "Our shop"


@dataclass(frozen=True)
class Shop:
    """`id` and `generation` are random: the one is the shop's for good, the other new after every restore."""

    id: str
    name: str
    generation: str


def ensure(first_serial: int | None = None) -> Shop:
    """The shop; made if this database is new.

    Its codes begin at `first_serial`, or anywhere: two shops that began at the same place would print the same codes,
    and a label of the demo would open a part of the real work.
    """
    with writing() as connection:
        if connection.execute(select(shop.c.one)).first() is None:
            start = secrets.randbelow(SERIALS) if first_serial is None else first_serial
            connection.execute(
                insert(shop).values(
                    one=1,
                    id=secrets.token_hex(16),
                    name=FIRST_NAME,
                    generation=secrets.token_hex(16),
                    next_serial=start,
                )
            )
    return read()


def read() -> Shop:
    with reading() as connection:
        return Shop(*connection.execute(select(shop.c.id, shop.c.name, shop.c.generation)).one())


def rename(name: str) -> None:
    with writing() as connection:
        connection.execute(update(shop).values(name=name))


def renew_generation(was: str | None = None) -> str:
    """Begin a new life, after a restore: phones will offer again everything they hold.

    Of several who find out at once that the life `was` is over, the first begins the new one.  Gives the present one.
    """
    with writing() as connection:
        renew_within(connection, was)
    return read().generation


def renew_within(connection: Connection, was: str | None = None) -> None:
    """The same, as a part of what a writer does."""
    renewed = update(shop).values(generation=secrets.token_hex(16))
    connection.execute(renewed if was is None else renewed.where(shop.c.generation == was))
