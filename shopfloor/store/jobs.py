"""Which jobs does the shop have, and which code belongs to which part?

A job is a document.  Saving makes a new revision and keeps the old ones.  A part's code hangs on its key in the job:
it is given once, at the first save that has the part, and never changes, not even when the part leaves the document.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from sqlalchemy import Connection, Select, bindparam, func, insert, select, update

from shopfloor.store import tables
from shopfloor.store.codes import fresh_codes
from shopfloor.store.faults import NoSuchJob
from shopfloor.store.moment import now_ms
from shopfloor.store.opening import reading, writing
from shopfloor.trade import document
from shopfloor.trade.construct.compose import Known
from shopfloor.trade.part import Job
from shopfloor.trade.sheet import places_in

PART, STACK = "part", "stack"


@dataclass(frozen=True)
class JobRow:
    """A job in the list: `revision` is the latest, `saved_ms` when that one was saved."""

    key: str
    name: str
    revision: int
    made_ms: int
    saved_ms: int


@dataclass(frozen=True)
class RevisionRow:
    number: int
    note: str
    saved_ms: int


class Gone(NamedTuple):
    """A code whose part or stack has left the document: what it was, and the first revision that is without it."""

    code: str
    name: str
    place: str
    since: int


class Found(NamedTuple):
    """What a code stands for; `key` is the part's, or the assembly's if it is a stack."""

    job: str
    kind: str
    key: str


@lru_cache(maxsize=16)
def read_document(text: str) -> Job:
    """A document, read once for as long as it is asked for: one page of the office asks for the same three times."""
    return document.from_json(text)


def all_jobs() -> list[JobRow]:
    """Every job, the one saved last first."""
    with reading() as connection:
        return [JobRow(*row) for row in connection.execute(_rows())]


def row(key: str) -> JobRow:
    """One job of the list, without reading its document.  Raises NoSuchJob."""
    with reading() as connection:
        found = connection.execute(_rows().where(tables.job.c.key == key)).first()
    if found is None:
        raise _no_such(key)
    return JobRow(*found)


def _rows() -> Select[Any]:
    revision, job = tables.revision, tables.job
    last = select(revision.c.job, func.max(revision.c.number).label("number")).group_by(revision.c.job).subquery()
    return (
        select(job.c.key, job.c.name, revision.c.number, job.c.made_ms, revision.c.saved_ms)
        .join(last, last.c.job == job.c.key)
        .join(revision, (revision.c.job == last.c.job) & (revision.c.number == last.c.number))
        .order_by(revision.c.saved_ms.desc(), job.c.key)
    )


def latest(key: str) -> tuple[Job, int]:
    """A job as it was saved last, and the number of that revision.  Raises NoSuchJob."""
    revision = tables.revision
    with reading() as connection:
        row = connection.execute(
            select(revision.c.document, revision.c.number)
            .where(revision.c.job == key)
            .order_by(revision.c.number.desc())
            .limit(1)
        ).first()
    if row is None:
        raise _no_such(key)
    return read_document(row.document), row.number


def latest_number(key: str) -> int:
    """The number of a job's latest revision, without reading the document.  Raises NoSuchJob."""
    revision = tables.revision
    with reading() as connection:
        number = connection.scalar(select(func.max(revision.c.number)).where(revision.c.job == key))
    if number is None:
        raise _no_such(key)
    return int(number)


def at_revision(key: str, number: int) -> Job:
    """A job as an earlier revision had it.  Raises NoSuchJob."""
    revision = tables.revision
    with reading() as connection:
        text = connection.scalar(select(revision.c.document).where(revision.c.job == key, revision.c.number == number))
    if text is None:
        raise _no_such(key)
    return read_document(text)


def revisions(key: str) -> list[RevisionRow]:
    """All revisions of a job, the latest first."""
    revision = tables.revision
    rows = (
        select(revision.c.number, revision.c.note, revision.c.saved_ms)
        .where(revision.c.job == key)
        .order_by(revision.c.number.desc())
    )
    with reading() as connection:
        return [RevisionRow(*row) for row in connection.execute(rows)]


def save(job: Job, note: str = "", at_ms: int | None = None) -> int:
    """Keep a job as its next revision, give codes to the parts and stacks that are new, return the revision's number.

    A document that says exactly what the latest revision says makes no new one.
    """
    text = document.to_json(job)
    moment = now_ms() if at_ms is None else at_ms
    revision = tables.revision
    with writing() as connection:
        last = connection.execute(
            select(revision.c.number, revision.c.document)
            .where(revision.c.job == job.key)
            .order_by(revision.c.number.desc())
            .limit(1)
        ).first()
        if last is not None and last.document == text:
            return int(last.number)
        number = last.number + 1 if last is not None else 1
        if last is None:
            connection.execute(insert(tables.job).values(key=job.key, name=job.name, made_ms=moment))
        else:
            connection.execute(update(tables.job).where(tables.job.c.key == job.key).values(name=job.name))
        connection.execute(
            insert(revision).values(job=job.key, number=number, document=text, note=note, saved_ms=moment)
        )
        _give_codes(connection, job)
    return int(number)


def codes(key: str) -> dict[str, str]:
    """The codes of a job: by part key, and by "stack:<assembly key>".  Parts that have left the document included."""
    tag = tables.part_tag
    with reading() as connection:
        rows = connection.execute(select(tag.c.kind, tag.c.key, tag.c.code).where(tag.c.job == key)).all()
    return {f"{STACK}:{row.key}" if row.kind == STACK else row.key: row.code for row in rows}


def known(key: str, saved: Job | None = None) -> Known:
    """What stands on wood and labels of a job: the numbers that its stacks ever had, and the letters of its latest
    revision (`saved`, if it was read already).  Raises NoSuchJob.
    """
    tag = tables.part_tag
    job = latest(key)[0] if saved is None else saved
    wanted = select(tag.c.key, tag.c.number).where(tag.c.job == key, tag.c.kind == STACK, tag.c.number.is_not(None))
    with reading() as connection:
        numbers = {row.key: int(row.number) for row in connection.execute(wanted)}
    return Known(numbers, {each.key: each.letter for each in job.joints if each.letter})


def last_with(key: str, parts: Iterable[str], before: int) -> dict[str, tuple[Job, int]]:
    """For each part, the last revision before that number which had it, and its number."""
    wanted = set(parts)
    revision = tables.revision
    texts = (
        select(revision.c.number, revision.c.document)
        .where(revision.c.job == key, revision.c.number < before)
        .order_by(revision.c.number.desc())
    )
    found: dict[str, tuple[Job, int]] = {}
    with reading() as connection:
        for row in connection.execute(texts):
            if not wanted:
                break
            job = read_document(row.document)
            there = wanted & {part.key for line in job.lines for part in line.parts}
            found |= {part: (job, int(row.number)) for part in there}
            wanted -= there
    return found


def gone(key: str, number: int) -> list[Gone]:
    """The codes of a job that its revision of this number has no part or stack for, those that left last first."""
    tag, revision = tables.part_tag, tables.revision
    tagged = select(tag.c.kind, tag.c.key, tag.c.code).where(tag.c.job == key).order_by(tag.c.code)
    texts = (
        select(revision.c.number, revision.c.document)
        .where(revision.c.job == key, revision.c.number <= number)
        .order_by(revision.c.number.desc())
    )
    found: list[Gone] = []
    with reading() as connection:
        missing = {(row.kind, row.key): row.code for row in connection.execute(tagged)}
        for row in connection.execute(texts):
            named = {(kind, one): (name, place) for kind, one, name, place in _tagged(read_document(row.document))}
            there = [mark for mark in missing if mark in named]
            found += [Gone(missing[mark], *named[mark], row.number + 1) for mark in there if row.number < number]
            for mark in there:
                del missing[mark]
            if not missing:
                break
    return found


def find(code: str) -> Found | None:
    """What six symbols stand for in this shop, or None."""
    tag = tables.part_tag
    with reading() as connection:
        row = connection.execute(select(tag.c.job, tag.c.kind, tag.c.key).where(tag.c.code == code)).first()
    return None if row is None else Found(*row)


def _give_codes(connection: Connection, job: Job) -> None:
    tag = tables.part_tag
    known = {
        (row.kind, row.key) for row in connection.execute(select(tag.c.kind, tag.c.key).where(tag.c.job == job.key))
    }
    wanted = [(kind, key) for kind, key, _, _ in _tagged(job) if (kind, key) not in known]
    if wanted:
        rows = [
            {"code": made, "job": job.key, "kind": kind, "key": key}
            for (kind, key), made in zip(wanted, fresh_codes(connection, len(wanted)), strict=True)
        ]
        connection.execute(insert(tag), rows)
    stacks = [{"of": each.key, "now": each.number} for each in job.assemblies]
    if stacks:
        its = (tag.c.job == job.key, tag.c.kind == STACK, tag.c.key == bindparam("of"))
        connection.execute(update(tag).where(*its).values(number=bindparam("now")), stacks)


def _tagged(job: Job) -> Iterator[tuple[str, str, str, str]]:
    """Kind, key, name and place of all that has a code."""
    for assembly in job.assemblies:
        yield STACK, assembly.key, assembly.name, ""
    for line in job.lines:
        places = places_in(line)
        for part in line.parts:
            yield PART, part.key, line.name, places[part.key]


def _no_such(key: str) -> NoSuchJob:
    return NoSuchJob(f"there is no job {key!r}", do="Look at the list of jobs.")
