"""The database is opened as it was measured to be safe, and says in one sentence why it cannot be."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from flask import Flask

from shopfloor.settings import Settings
from shopfloor.store import jobs, shop
from shopfloor.store.faults import NewerDatabase, StoreFault
from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import db
from shopfloor.web import create_app


@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("busy_timeout", 10_000)],
    ids=lambda value: str(value),
)
def test_every_connection_is_durable_and_patient(app: Flask, pragma: str, value: object) -> None:
    for block in (reading, writing):
        with block() as connection:
            assert connection.exec_driver_sql(f"PRAGMA {pragma}").scalar() == value


def test_migrations_lead_to_the_tables_that_the_code_speaks_of(app: Flask) -> None:
    with reading() as connection:
        differences = compare_metadata(MigrationContext.configure(connection), db.metadata)

    assert differences == []


def test_migrations_can_be_taken_back_and_made_again(app: Flask) -> None:
    from alembic import command

    from shopfloor.store.opening import migrate

    command.downgrade(migrate.get_config(), "base")
    with reading() as connection:
        left = connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'table'").scalars().all()
    command.upgrade(migrate.get_config(), "head")

    assert set(left) == {"alembic_version", "sqlite_sequence"}
    assert shop.ensure().name == shop.FIRST_NAME


def test_a_rev_is_never_given_twice_even_if_rows_are_lost(app: Flask) -> None:
    with reading() as connection:
        form = connection.exec_driver_sql("SELECT sql FROM sqlite_master WHERE name = 'entry'").scalar()

    assert form is not None and "AUTOINCREMENT" in form


def test_a_second_start_finds_the_same_shop(app: Flask, tmp_path: Path) -> None:
    first = shop.read()

    again = create_app(Settings(data=tmp_path / "data"))

    with again.app_context():
        assert shop.read() == first
        db.engine.dispose()


def test_a_block_that_fails_leaves_nothing_and_the_next_one_works(app: Flask) -> None:
    with pytest.raises(ZeroDivisionError), writing() as connection:
        connection.exec_driver_sql("UPDATE shop SET name = 'half done'")
        raise ZeroDivisionError

    shop.rename("Whole")
    assert shop.read().name == "Whole"


def test_a_reader_sees_one_moment_while_others_write(app: Flask) -> None:
    with reading() as connection:
        before = connection.exec_driver_sql("SELECT name FROM shop").scalar()
        shop.rename("Later")
        after = connection.exec_driver_sql("SELECT name FROM shop").scalar()

    assert before == after == shop.FIRST_NAME


def test_a_generation_is_new_after_a_restore(app: Flask) -> None:
    before = shop.read().generation

    renewed = shop.renew_generation()

    assert renewed == shop.read().generation != before


def _newer(folder: Path) -> None:
    folder.mkdir()
    with closing(sqlite3.connect(folder / "facemark.sqlite")) as database:
        database.execute("CREATE TABLE alembic_version (version_num TEXT)")
        database.execute("INSERT INTO alembic_version VALUES ('9999')")
        database.commit()


def _no_database(folder: Path) -> None:
    folder.mkdir()
    (folder / "facemark.sqlite").write_bytes(b"This is a shopping list. " * 100)


def _a_folder_for_a_database(folder: Path) -> None:
    (folder / "facemark.sqlite").mkdir(parents=True)


def _a_file(folder: Path) -> None:
    folder.write_text("not a folder")


def _under_a_file(folder: Path) -> None:
    folder.parent.rmdir()
    folder.parent.write_text("not a folder")


@pytest.mark.parametrize(
    ("spoil", "kind", "says"),
    [
        (_newer, NewerDatabase, "was written by a newer version"),
        (_no_database, StoreFault, "this is not a database"),
        (_a_folder_for_a_database, StoreFault, "the database cannot be opened"),
        (_a_file, StoreFault, "the data folder is a file"),
        (_under_a_file, StoreFault, "the data folder cannot be written to"),
    ],
    ids=lambda value: getattr(value, "__name__", None),
)
def test_what_cannot_be_opened_is_told_in_one_sentence(
    tmp_path: Path, spoil: object, kind: type[StoreFault], says: str
) -> None:
    folder = tmp_path / "outer" / "data"
    folder.parent.mkdir()
    assert callable(spoil)
    spoil(folder)

    with pytest.raises(kind) as told:
        create_app(Settings(data=folder))

    assert says in str(told.value)
    assert str(folder) in told.value.where
    assert "\n" not in str(told.value)


def test_a_database_of_a_newer_version_is_left_as_it_was(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    _newer(folder)

    with pytest.raises(NewerDatabase):
        create_app(Settings(data=folder))

    with closing(sqlite3.connect(folder / "facemark.sqlite")) as database:
        assert database.execute("SELECT name FROM sqlite_master").fetchall() == [("alembic_version",)]


def test_an_empty_shop_has_no_jobs(app: Flask) -> None:
    assert jobs.all_jobs() == []


@pytest.mark.parametrize("name", ["what? no", "a#b", "100%25", "zwei Böcke"])
def test_the_database_lies_in_the_folder_that_was_named_whatever_its_name(tmp_path: Path, name: str) -> None:
    app = create_app(Settings(data=tmp_path / name))
    with app.app_context():
        db.engine.dispose()

    assert [folder.name for folder in tmp_path.iterdir()] == [name]
    assert (tmp_path / name / "facemark.sqlite").is_file()


def test_a_database_with_damaged_pages_is_told_of_in_one_sentence(tmp_path: Path) -> None:
    app = create_app(Settings(data=tmp_path))
    with app.app_context():
        db.engine.dispose()
    file = tmp_path / "facemark.sqlite"
    with closing(sqlite3.connect(file)) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    sound = file.read_bytes()
    file.write_bytes(sound[:8192] + b"\xa5" * (len(sound) - 8192))

    with pytest.raises(StoreFault) as caught:
        create_app(Settings(data=tmp_path))

    assert str(file) in str(caught.value)
