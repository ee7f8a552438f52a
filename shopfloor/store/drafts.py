"""What was changed at a job and is not saved yet?  Step by step, so that each can be undone and done again.

A draft is kept like everything else: a closed window or a stopped program loses nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, delete, func, insert, select, update

from shopfloor.store import jobs, tables
from shopfloor.store.opening import reading, writing
from shopfloor.trade import document
from shopfloor.trade.part import Job

MOST = 200
"""Steps that are kept; older ones can no longer be undone."""


@dataclass(frozen=True)
class Draft:
    """How a job stands on the desk: `job` with every step in it, begun from revision `base`.

    `undo` says what the last step was, `redo` what was undone last; empty if there is none.  `changed` is whether it
    is another one than was saved last.
    """

    job: Job
    base: int
    undo: str = ""
    redo: str = ""
    changed: bool = False


def read(key: str) -> Draft:
    """A job with what is not saved yet; as it was saved last if nothing is.  Raises NoSuchJob."""
    draft = tables.draft
    with reading() as connection:
        last = connection.execute(
            select(draft).where(draft.c.job == key, draft.c.undone == 0).order_by(draft.c.step.desc()).limit(1)
        ).first()
        undone = connection.execute(
            select(draft).where(draft.c.job == key, draft.c.undone == 1).order_by(draft.c.step).limit(1)
        ).first()
    redo = undone.says if undone else ""
    if last is None:
        job, number = jobs.latest(key)
        return Draft(job, undone.base if undone else number, redo=redo)
    with reading() as connection:
        saved, _ = _saved(connection, key)
    return Draft(jobs.read_document(last.document), last.base, last.says, redo, last.document != saved)


def keep(job: Job, base: int, says: str) -> None:
    """Put one step on the draft of a job; `says` tells it in a few words.  What was undone before is gone then."""
    with writing() as connection:
        _step(connection, job.key, base, document.to_json(job), says)


def throw_away(key: str) -> None:
    """Go back to what was saved last, as one more step; nothing happens if there is nothing to throw away."""
    if read(key).changed:
        with writing() as connection:
            text, number = _saved(connection, key)
            _step(connection, key, number, text, "all changes thrown away")


def undo(key: str) -> None:
    """Take the last step back; nothing happens if there is none."""
    _turn(key, undone=1)


def redo(key: str) -> None:
    """Do again what was undone last; nothing happens if there is none."""
    _turn(key, undone=0)


def drop(key: str) -> None:
    """End the draft with all its steps: it has been saved."""
    draft = tables.draft
    with writing() as connection:
        connection.execute(delete(draft).where(draft.c.job == key))


def _turn(key: str, *, undone: int) -> None:
    draft = tables.draft
    wanted = select(func.max(draft.c.step) if undone else func.min(draft.c.step)).where(
        draft.c.job == key, draft.c.undone == 1 - undone
    )
    with writing() as connection:
        step = connection.scalar(wanted)
        if step is not None:
            connection.execute(update(draft).where(draft.c.job == key, draft.c.step == step).values(undone=undone))


def _step(connection: Connection, key: str, base: int, text: str, says: str) -> None:
    draft = tables.draft
    connection.execute(delete(draft).where(draft.c.job == key, draft.c.undone == 1))
    step = _last(connection, key) + 1
    connection.execute(insert(draft).values(job=key, step=step, base=base, document=text, says=says, undone=0))
    connection.execute(delete(draft).where(draft.c.job == key, draft.c.step <= step - MOST))


def _saved(connection: Connection, key: str) -> tuple[str, int]:
    """The text of the revision that was saved last, and its number."""
    revision = tables.revision
    newest = select(revision.c.document, revision.c.number).where(revision.c.job == key)
    row = connection.execute(newest.order_by(revision.c.number.desc()).limit(1)).one()
    return row.document, row.number


def _last(connection: Connection, key: str) -> int:
    draft = tables.draft
    return connection.scalar(select(func.max(draft.c.step)).where(draft.c.job == key)) or 0
