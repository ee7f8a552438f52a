"""How is the shop's database opened?  SQLite with a write-ahead log, brought to the present form, one writer at a time.

What is committed is on the disk: synchronous=FULL, since a phone forgets to worry once it is told "kept".
"""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from flask import Flask, current_app
from flask_migrate import Migrate
from sqlalchemy import URL, Connection, event
from sqlalchemy.exc import DatabaseError, SQLAlchemyError

from shopfloor.store.faults import NewerDatabase, StoreFault
from shopfloor.store.tables import db

MIGRATIONS = Path(__file__).resolve().parent / "migrations"
BUSY_MS = 10_000
"""How long SQLite waits for another program that is writing, before it says "locked"."""
WRITER = "facemark_writer"
POOL = 16
"""Connections that stay open; a crowd opens more for the moment, so that nobody waits for one."""

migrate = Migrate()


def attach(app: Flask, database: Path) -> None:
    """Bind the app to the database file, make it if there is none, and bring it to the present form.

    Raises StoreFault with one sentence if the folder or the file cannot be used.
    """
    _prepare_folder(database.parent)
    # Not written as text: a folder's name may hold ? # and %, which mean something else in an address.
    app.config["SQLALCHEMY_DATABASE_URI"] = URL.create("sqlite", database=str(database))
    app.config["SQLALCHEMY_ENGINE_OPTIONS"] = {
        # None: the driver begins nothing by itself; _begin below says which kind of transaction it is.
        "connect_args": {"isolation_level": None, "check_same_thread": False},
        "pool_size": POOL,
        "max_overflow": 128,
    }
    db.init_app(app)
    migrate.init_app(app, db, directory=str(MIGRATIONS))
    app.extensions[WRITER] = threading.Lock()
    with app.app_context():
        event.listen(db.engine, "connect", _on_connect)
        event.listen(db.engine, "begin", _begin)
        try:
            _bring_up(database)
            _prove(database)
        except DatabaseError as error:
            raise _fault(database, error) from error


@contextmanager
def reading() -> Iterator[Connection]:
    """A connection that sees one moment of the database, for as long as it is held."""
    with db.engine.begin() as connection:
        yield connection


@contextmanager
def writing() -> Iterator[Connection]:
    """The one writer's connection: everything in the block is committed together when it ends, or nothing is.

    Within this program writers queue here and not at the file: SQLite's own waiting is a lottery that makes the
    slowest wait ten times as long.
    """
    with current_app.extensions[WRITER], db.engine.connect() as connection:
        connection.execution_options(facemark_write=True)
        with connection.begin():
            yield connection


def form() -> str | None:
    """The form that the database is in, by the name of its last migration; None if it cannot be read."""
    try:
        with reading() as connection:
            return str(connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar_one())
    except SQLAlchemyError:
        return None


def _prepare_folder(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise StoreFault("the data folder is a file", where=str(folder), do="Give a folder with --data.")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / f".write-{os.getpid()}"
        probe.write_bytes(b"")
        probe.unlink()
    except OSError as error:
        why = (error.strerror or "it does not work").lower()
        raise StoreFault(
            f"the data folder cannot be written to: {why}", where=str(folder), do="Give another one with --data."
        ) from error


def _on_connect(connection: sqlite3.Connection, _record: Any) -> None:
    cursor = connection.cursor()
    # The time-out comes first: changing to WAL already needs it when two programs start at once.
    cursor.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    cursor.execute("PRAGMA journal_mode = WAL")
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.close()


def _begin(connection: Connection) -> None:
    # A writer says so at once.  A transaction that starts by reading and writes later fails at the first write if
    # someone else has written in between, and no time-out helps it.
    writes = connection.get_execution_options().get("facemark_write", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _bring_up(database: Path) -> None:
    from alembic import command
    from alembic.migration import MigrationContext
    from alembic.script import ScriptDirectory

    config = migrate.get_config()
    script = ScriptDirectory.from_config(config)
    head = script.get_current_head()
    with reading() as connection:
        current = MigrationContext.configure(connection).get_current_revision()
    if current is not None and current not in {step.revision for step in script.walk_revisions()}:
        raise NewerDatabase(
            "this database was written by a newer version of Facemark",
            where=str(database),
            do="Start that version, or give another folder with --data.",
        )
    if current != head:
        command.upgrade(config, "head")


def _prove(database: Path) -> None:
    """Find out at the start, and not at the first entry, that the file is damaged or may not be written to."""
    with reading() as connection:
        said = connection.exec_driver_sql("PRAGMA quick_check(1)").scalar()
    if said != "ok":
        raise StoreFault("the database is damaged", where=str(database), do="Put back a copy, or give another folder.")
    with writing():
        pass


def _fault(database: Path, error: DatabaseError) -> StoreFault:
    says = str(error.orig).lower()
    if "not a database" in says:
        return StoreFault("this is not a database", where=str(database), do="Move it away, or give another folder.")
    return StoreFault(f"the database cannot be opened: {says}", where=str(database), do="Give another folder.")
