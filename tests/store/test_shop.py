"""Whose shop it is: an id that stays through every restore, and codes that hardly another shop prints."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from flask import Flask
from sqlalchemy import select

from shopfloor.settings import Settings
from shopfloor.store import jobs, shop
from shopfloor.store.opening import migrate, reading
from shopfloor.store.tables import db
from shopfloor.trade.code import SERIALS
from shopfloor.web import create_app
from tests.store.test_jobs import stand


def test_a_shop_is_the_same_one_after_a_restore_and_another_is_another(app: Flask, tmp_path: Path) -> None:
    before = shop.read()

    shop.renew_generation()
    other = create_app(Settings(tmp_path / "other"))

    assert shop.read().id == before.id and shop.read().generation != before.generation
    with other.app_context():
        assert shop.read().id != before.id
        db.engine.dispose()


def test_of_two_who_find_out_that_a_life_is_over_the_first_begins_the_new_one(app: Flask) -> None:
    over = shop.read().generation

    first = shop.renew_generation(over)

    assert first != over
    assert shop.renew_generation(over) == first == shop.read().generation


def test_new_shops_begin_anywhere_among_the_codes(tmp_path: Path) -> None:
    starts = []
    for name in ("one", "two", "three"):
        app = create_app(Settings(tmp_path / name))
        with app.app_context(), reading() as connection:
            starts.append(connection.scalar(select(db.metadata.tables["shop"].c.next_serial)))
        with app.app_context():
            jobs.save(stand("leg.left"))
            db.engine.dispose()

    assert len(set(starts)) == 3
    assert all(isinstance(start, int) and 0 <= start < SERIALS for start in starts)


def test_a_shop_of_the_form_before_gets_an_id_that_all_its_copies_share(tmp_path: Path) -> None:
    from alembic import command

    app = create_app(Settings(tmp_path, first_serial=7))
    with app.app_context():
        jobs.save(stand("leg.left"))
        codes = jobs.codes("music-stand")
        command.downgrade(migrate.get_config(), "0001")
        db.engine.dispose()
    file = tmp_path / "facemark.sqlite"
    with closing(sqlite3.connect(file)) as database:
        columns = [row[1] for row in database.execute("PRAGMA table_info(shop)")]
        [(name, generation, serial)] = database.execute("SELECT name, generation, next_serial FROM shop").fetchall()
    assert columns == ["one", "name", "generation", "next_serial"]

    again = create_app(Settings(tmp_path))

    with again.app_context():
        assert shop.read() == shop.Shop(id=generation, name=name, generation=generation)
        assert jobs.codes("music-stand") == codes
        with reading() as connection:
            assert connection.scalar(select(db.metadata.tables["shop"].c.next_serial)) == serial
        db.engine.dispose()
