"""Whose shop it is: an id that stays through every restore, and codes that hardly another shop prints."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from itertools import islice
from pathlib import Path

from flask import Flask
from sqlalchemy import select

from shopfloor.settings import Settings
from shopfloor.store import jobs, journal, shop
from shopfloor.store.opening import migrate, reading
from shopfloor.store.tables import db
from shopfloor.trade.code import codes as codes_from
from shopfloor.web import create_app
from tests.entries import entry, offered
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
    given = []
    for name in ("one", "two", "three"):
        app = create_app(Settings(tmp_path / name))
        with app.app_context():
            jobs.save(stand("leg.left"))
            jobs.save(stand("leg.left", key="second"))
            given += [*jobs.codes("music-stand").values(), *jobs.codes("second").values()]
            db.engine.dispose()

    assert len(set(given)) == 12


def test_a_copy_put_back_does_not_give_codes_again_that_were_printed_since(tmp_path: Path) -> None:
    app = create_app(Settings(tmp_path / "data"))
    with app.app_context():
        jobs.save(stand("leg.left"))
        db.engine.dispose()
    shutil.copytree(tmp_path / "data", tmp_path / "copy")
    lost: dict[str, str] = {}
    for folder, key in (("data", "oak"), ("copy", "pine")):
        app = create_app(Settings(tmp_path / folder))
        with app.app_context():
            if key == "pine":
                # A phone was quicker than the office: what it did to the lost job's parts is here again.
                journal.keep(offered(*(entry(n, part=code) for n, code in enumerate(lost.values(), 1))))
            jobs.save(stand("leg.left", "leg.right", key=key))
            lost |= {f"{key}/{what}": code for what, code in jobs.codes(key).items()}
            db.engine.dispose()

    assert len(set(lost.values())) == len(lost) == 6


def test_a_code_that_an_entry_names_is_given_to_no_other_part(tmp_path: Path) -> None:
    (_, first), (_, second) = islice(codes_from(0), 2)
    app = create_app(Settings(tmp_path, first_serial=0))
    with app.app_context():
        journal.keep(offered(entry(1, part=first)))
        jobs.save(stand("leg.left"))
        codes = set(jobs.codes("music-stand").values())
        db.engine.dispose()

    assert first not in codes
    assert second in codes


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
            assert connection.scalar(select(db.metadata.tables["shop"].c.next_serial)) == shop.ANYWHERE != serial
        db.engine.dispose()
