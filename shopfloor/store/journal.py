"""How does the shop keep what phones hand over?  The journal: entries as they came, each with a rev.

A rev is given under the one writer's lock, so its order is the order of commits, and a reader that asks for what comes
after a rev never skips one that commits late.  Entries and what is set aside draw from the same numbers.  Handing the
same thing over again is answered like the first time.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from sqlalchemy import Connection, func, select

from shopfloor.journal.clock import Stamp, clamp
from shopfloor.journal.entry import BadEntry, is_sound, parse
from shopfloor.store import shop, tables
from shopfloor.store.moment import now_ms
from shopfloor.store.opening import reading, writing

LONGEST_ENTRY = 64 * 1024
"""Characters of JSON in one entry; longer ones are set aside."""
MOST_ROWS = 500
MOST_TEXT = 2_000_000
"""Characters of JSON in one page of rows, roughly."""

SAME_ID = "another entry with this id is in the journal already"
TOO_LONG = f"the entry is longer than {LONGEST_ENTRY // 1024} KiB"
NO_TEXT = "the entry holds half a character"
DEEPEST = 64
NO_ENTRY = "this is no entry"
TOO_DEEP = f"the entry is nested more than {DEEPEST} deep"


class Offered(NamedTuple):
    """One thing that a phone handed over: its JSON text, and the same, read."""

    text: str
    raw: Any


class Seen(NamedTuple):
    """The last entry whose rev a phone knows, and the life of the database in which it was given."""

    generation: str
    rev: int
    id: str


class Kept(NamedTuple):
    """What became of it.  `set_aside` is the reason, empty if it is in the journal."""

    id: str
    rev: int
    set_aside: str = ""


@dataclass(frozen=True)
class SetAside:
    """Something that could not be taken into the journal.  It is kept for a person to look at."""

    rev: int
    id: str
    reason: str
    phone: str
    received_ms: int
    text: str


def keep(
    offered: Iterable[Offered],
    phone: str = "",
    at_ms: int | None = None,
    waiting: int | None = None,
    seen: Seen | None = None,
) -> list[Kept]:
    """Take over what a phone offers: all of it is on the disk when this returns, each with its result, in order.

    Nothing is refused for its neighbour: what is no entry, or says something else under an id that is taken, is set
    aside with a rev of its own.  `phone` is the one that brings it, which need not be the one that wrote it.  If the
    journal does not hold what that phone has `seen` in this life, the generation is renewed: see `holds`.
    """
    moment = now_ms() if at_ms is None else at_ms
    good, results = _sort(offered, moment)
    with writing() as connection:
        if seen is not None and not _holds(connection, seen):
            shop.renew_within(connection, seen.generation)
        first = _latest(connection) + 1
        next_rev = _take(connection, good, results, first)
        _put_aside(connection, results, next_rev, phone, moment)
        if phone:
            connection.exec_driver_sql(
                "UPDATE phone SET last_seen_ms = ?, waiting = coalesce(?, waiting) WHERE id = ?",
                (moment, waiting, phone),
            )
    return [result if isinstance(result, Kept) else result.kept for result in results]


def holds(seen: Seen) -> bool:
    """Whether the journal is still the one that a phone knows.

    It is not, if an older copy of the data folder was put back without a word: then the entry that the phone knows is
    gone, and its rev is free or was given again.  The number alone would not show that as soon as others have written.
    """
    with reading() as connection:
        return _holds(connection, seen)


def _holds(connection: Connection, seen: Seen) -> bool:
    found = connection.exec_driver_sql("SELECT id FROM entry WHERE rev = ?", (seen.rev,)).first()
    return found is not None and found[0] == seen.id


NOT_YET = Kept("", 0)


@dataclass(slots=True)
class _Aside:
    """On its way to be set aside."""

    id: str
    reason: str
    text: str
    kept: Kept = NOT_YET


_Row = tuple[str, str, str, int, str, str, int, int, int, str]
"""A row of the entry table without its rev: id, device, incarnation, number, part, kind, clock, received, body."""


def _sort(offered: Iterable[Offered], moment: int) -> tuple[list[tuple[int, _Row]], list[Any]]:
    """Tell the entries from what is none: (place in the results, row) of each entry, and the results so far."""
    good: list[tuple[int, _Row]] = []
    results: list[Any] = []
    for place, (text, raw) in enumerate(offered):
        if len(text) > LONGEST_ENTRY:
            results.append(_Aside(_id_of(raw), TOO_LONG, text))
            continue
        if text.count("[") + text.count("{") > DEEPEST and _depth(raw) > DEEPEST:
            # What is read here at some depth of calls must also be read at a greater one, and in other languages.
            results.append(_Aside(_id_of(raw), TOO_DEEP, text))
            continue
        if not is_sound(raw):
            results.append(_Aside(_id_of(raw), _fault(raw), text))
            continue
        if "\\ud" in text or "\\uD" in text:
            # Half of a surrogate pair can be written in JSON but not in UTF-8.  In the body it stays an escape; the
            # columns cannot hold it.
            try:
                (raw["device"] + raw["incarnation"] + raw["part"] + raw["kind"]).encode()
            except UnicodeEncodeError:
                results.append(_Aside(raw["id"], NO_TEXT, text))
                continue
        ms, counter = clamp(Stamp(*raw["hlc"]), moment)
        row = (
            raw["id"], raw["device"], raw["incarnation"], raw["number"], raw["part"], raw["kind"],
            ms, counter, moment, text,
        )  # fmt: skip
        good.append((place, row))
        results.append(None)
    return good, results


_INSERT = (
    "INSERT INTO entry (rev, id, device, incarnation, number, part, kind, clock_ms, clock_counter, received_ms, body)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)


def _take(connection: Connection, good: Sequence[tuple[int, _Row]], results: list[Any], rev: int) -> int:
    """Write the entries that are new, fill in their results, and return the next free rev."""
    if not good:
        return rev
    ids = [row[0] for _, row in good]
    marks = ",".join("?" * len(ids))
    known: dict[str, tuple[int, str]] = {
        row[0]: (row[1], row[2])
        for row in connection.exec_driver_sql(f"SELECT id, rev, body FROM entry WHERE id IN ({marks})", tuple(ids))
    }
    rows = []
    for place, row in good:
        entry_id, body = row[0], row[-1]
        there = known.get(entry_id)
        if there is None:
            known[entry_id] = (rev, body)
            rows.append((rev, *row))
            results[place] = Kept(entry_id, rev)
            rev += 1
        elif there[1] == body or _says(there[1]) == _says(body):
            results[place] = Kept(entry_id, there[0])
        else:
            results[place] = _Aside(entry_id, SAME_ID, body)
    if rows:
        connection.exec_driver_sql(_INSERT, rows)
    return rev


def _put_aside(connection: Connection, results: list[Any], rev: int, phone: str, moment: int) -> None:
    for aside in results:
        if not isinstance(aside, _Aside):
            continue
        text = aside.text.encode("utf-8", "backslashreplace")
        digest = hashlib.sha256(aside.id.encode() + b"\n" + text).digest()
        row = connection.exec_driver_sql("SELECT rev, reason FROM set_aside WHERE digest = ?", (digest,)).first()
        if row is not None:
            aside.kept = Kept(aside.id, row[0], row[1])
            continue
        connection.exec_driver_sql(
            "INSERT INTO set_aside (rev, id, digest, reason, phone, received_ms, text) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (rev, aside.id, digest, aside.reason, phone, moment, text.decode()),
        )
        aside.kept = Kept(aside.id, rev, aside.reason)
        rev += 1


def _depth(raw: Any) -> int:
    """How many lists and objects lie in one another, counted level by level: recursion is what this guards against."""
    depth, level = 0, [raw]
    while level := [inner for inner in level if isinstance(inner, (dict, list))]:
        depth += 1
        level = [one for inner in level for one in (inner.values() if isinstance(inner, dict) else inner)]
    return depth


def _says(body: str) -> str:
    """What an entry says, however its fields are ordered and its numbers spelled: 1.0 and 1 are the same number."""
    return json.dumps(json.loads(body, parse_float=_number), sort_keys=True)


def _number(text: str) -> float | int:
    number = float(text)
    return int(number) if number.is_integer() else number


def _fault(raw: Any) -> str:
    """What is wrong with something that is no entry."""
    try:
        parse(raw)
    except BadEntry as error:
        return str(error)
    return NO_ENTRY


def _id_of(raw: Any) -> str:
    """The id that a bad entry gives itself, as far as it can be shown back."""
    identity = raw.get("id") if isinstance(raw, dict) else None
    if not isinstance(identity, str):
        return ""
    return identity[:64].encode("utf-8", "replace").decode()


def latest_rev() -> int:
    """The last rev given; 0 in an empty journal."""
    with reading() as connection:
        return _latest(connection)


def _latest(connection: Connection) -> int:
    row = connection.exec_driver_sql(
        "SELECT max(coalesce((SELECT max(rev) FROM entry), 0), coalesce((SELECT max(rev) FROM set_aside), 0))"
    ).one()
    return int(row[0])


class Page(NamedTuple):
    """Rows as JSON texts, the rev to go on from, whether there is more, and the last rev given at that moment."""

    texts: list[str]
    next: int
    more: bool
    latest: int


def page(after: int, limit: int = MOST_ROWS) -> Page:
    """The rows after a rev, in the order of commits, each as the JSON that goes over the wire."""
    limit = max(1, min(limit, MOST_ROWS))
    texts: list[str] = []
    last, length = after, 0
    with reading() as connection:
        latest = _latest(connection)
        rows = connection.exec_driver_sql(
            "SELECT rev, clock_ms, clock_counter, body FROM entry WHERE rev > ? ORDER BY rev LIMIT ?",
            (after, limit + 1),
        )
        more = False
        for rev, ms, counter, body in rows:
            if len(texts) == limit or length > MOST_TEXT:
                more = True
                break
            texts.append(f'{{"rev":{rev},"clock":[{ms},{counter}],"entry":{body}}}')
            last, length = rev, length + len(body)
        rows.close()
    return Page(texts, last, more, latest)


_ROW = (tables.entry.c.rev, tables.entry.c.clock_ms, tables.entry.c.clock_counter, tables.entry.c.body)


def rows(after: int = 0, limit: int | None = None) -> list[dict[str, Any]]:
    """Rows after a rev, in the order of commits: {"rev", "clock": [ms, counter], "entry"}."""
    wanted = select(*_ROW).where(tables.entry.c.rev > after).order_by(tables.entry.c.rev).limit(limit)
    with reading() as connection:
        return [_as_row(row) for row in connection.execute(wanted)]


def rows_of_job(key: str) -> list[dict[str, Any]]:
    """Rows about the parts and stacks of one job, in the order of commits."""
    tag, entry = tables.part_tag, tables.entry
    wanted = select(*_ROW).join(tag, tag.c.code == entry.c.part).where(tag.c.job == key).order_by(entry.c.rev)
    with reading() as connection:
        return [_as_row(row) for row in connection.execute(wanted)]


def rows_of_part(code: str) -> list[dict[str, Any]]:
    """Rows about one part or stack, in the order of commits."""
    wanted = select(*_ROW).where(tables.entry.c.part == code).order_by(tables.entry.c.rev)
    with reading() as connection:
        return [_as_row(row) for row in connection.execute(wanted)]


def latest_rev_of_job(key: str) -> int:
    """The last rev about the parts and stacks of one job; 0 if there is none."""
    tag, entry = tables.part_tag, tables.entry
    wanted = select(func.max(entry.c.rev)).join(tag, tag.c.code == entry.c.part).where(tag.c.job == key)
    with reading() as connection:
        return int(connection.scalar(wanted) or 0)


def all_set_aside() -> list[SetAside]:
    """Everything that was set aside, the latest first."""
    aside = tables.set_aside
    columns = (aside.c.rev, aside.c.id, aside.c.reason, aside.c.phone, aside.c.received_ms, aside.c.text)
    with reading() as connection:
        return [SetAside(*row) for row in connection.execute(select(*columns).order_by(aside.c.rev.desc()))]


def _as_row(row: Any) -> dict[str, Any]:
    return {"rev": row.rev, "clock": [row.clock_ms, row.clock_counter], "entry": json.loads(row.body)}
