"""What does the shop keep?  The tables, all of them.  How they came to be is told by the migrations."""

from __future__ import annotations

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    Table,
    Text,
    UniqueConstraint,
)

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "pk": "pk_%(table_name)s",
}
"""Every constraint has a name, so that a migration can take it back."""

db = SQLAlchemy(metadata=MetaData(naming_convention=NAMES))

# Times are whole milliseconds since 1970, in columns that end in _ms.

shop = Table(
    "shop",
    db.metadata,
    Column("one", Integer, primary_key=True),
    # Random, and the shop's for good: whatever is restored, phones know by it that it is still their shop.
    Column("id", Text, nullable=False),
    Column("name", Text, nullable=False),
    # Random, and new after every restore: phones then offer again everything they hold.
    Column("generation", Text, nullable=False),
    # The next serial that a code is made from, where somebody wants them in order; -1: begin anywhere each time.
    Column("next_serial", Integer, nullable=False),
    CheckConstraint("one = 1", name="single"),
)

setting = Table(
    "setting",
    db.metadata,
    # What the shop has said about itself, as JSON; what is not there stands as the program has it.
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

job = Table(
    "job",
    db.metadata,
    Column("key", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("made_ms", Integer, nullable=False),
)

revision = Table(
    "revision",
    db.metadata,
    Column("job", Text, ForeignKey("job.key"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("saved_ms", Integer, nullable=False),
    PrimaryKeyConstraint("job", "number"),
)

draft = Table(
    "draft",
    db.metadata,
    Column("job", Text, ForeignKey("job.key"), nullable=False),
    # From 1, in the order in which they were made; those that are undone come last.
    Column("step", Integer, nullable=False),
    # The revision that was there when the draft was begun.
    Column("base", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("says", Text, nullable=False),
    Column("undone", Integer, nullable=False),
    PrimaryKeyConstraint("job", "step"),
)

part_tag = Table(
    "part_tag",
    db.metadata,
    Column("code", Text, primary_key=True),
    Column("job", Text, ForeignKey("job.key"), nullable=False),
    Column("kind", Text, nullable=False),
    Column("key", Text, nullable=False),
    # Of a stack: the number that it had last.
    Column("number", Integer),
    UniqueConstraint("job", "kind", "key"),
    CheckConstraint("kind IN ('part', 'stack')", name="kind"),
)

board_tag = Table(
    "board_tag",
    db.metadata,
    # The code on a board's label; a board's own id is random, and made where it was measured.
    Column("code", Text, primary_key=True),
    Column("board", Text, nullable=False, unique=True),
)

board_plan = Table(
    "board_plan",
    db.metadata,
    Column("id", Text, primary_key=True),
    Column("made_ms", Integer, nullable=False),
    # When the shop took it: then the phones have it, and boards are cut by it.
    Column("taken_ms", Integer),
    Column("dropped_ms", Integer),
    # What was asked for (jobs, boards, habits) and what was found, as JSON.
    Column("asked", Text, nullable=False),
    Column("found", Text, nullable=False),
)

phone = Table(
    "phone",
    db.metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    # SHA-256 of the token in the phone's cookie; the token itself is known to the phone alone.
    Column("token", LargeBinary, nullable=False, unique=True),
    Column("joined_ms", Integer, nullable=False),
    Column("last_seen_ms", Integer, nullable=False),
    Column("waiting", Integer),
    Column("withdrawn_ms", Integer),
)

join_code = Table(
    "join_code",
    db.metadata,
    Column("hash", LargeBinary, primary_key=True),
    Column("expires_ms", Integer, nullable=False),
    Column("used_ms", Integer),
)

entry = Table(
    "entry",
    db.metadata,
    Column("rev", Integer, primary_key=True),
    Column("id", Text, nullable=False, unique=True),
    Column("device", Text, nullable=False),
    Column("incarnation", Text, nullable=False),
    Column("number", Integer, nullable=False),
    Column("part", Text, nullable=False, index=True),
    Column("kind", Text, nullable=False, index=True),
    Column("clock_ms", Integer, nullable=False),
    Column("clock_counter", Integer, nullable=False),
    Column("received_ms", Integer, nullable=False),
    # The entry's JSON as it came over the wire, character by character.
    Column("body", Text, nullable=False),
    sqlite_autoincrement=True,
)

set_aside = Table(
    "set_aside",
    db.metadata,
    Column("rev", Integer, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
    # SHA-256 of id and text, so that the same thing sent twice stands here once.
    Column("digest", LargeBinary, nullable=False, unique=True),
    Column("reason", Text, nullable=False),
    Column("phone", Text, nullable=False),
    Column("received_ms", Integer, nullable=False),
    Column("text", Text, nullable=False),
)
