"""Whose shop is it, and which life of its database?  The one row that everything else belongs to."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from sqlalchemy import insert, select, update

from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import shop

FIRST_NAME = "Our shop"


@dataclass(frozen=True)
class Shop:
    """`generation` is random: new when the database is made, and after every restore."""

    name: str
    generation: str


def ensure() -> Shop:
    """The shop; made if this database is new."""
    with writing() as connection:
        if connection.execute(select(shop.c.one)).first() is None:
            connection.execute(
                insert(shop).values(one=1, name=FIRST_NAME, generation=secrets.token_hex(16), next_serial=0)
            )
    return read()


def read() -> Shop:
    with reading() as connection:
        return Shop(*connection.execute(select(shop.c.name, shop.c.generation)).one())


def rename(name: str) -> None:
    with writing() as connection:
        connection.execute(update(shop).values(name=name))


def renew_generation() -> str:
    """Begin a new life, after a restore: phones will offer again everything they hold."""
    generation = secrets.token_hex(16)
    with writing() as connection:
        connection.execute(update(shop).values(generation=generation))
    return generation
