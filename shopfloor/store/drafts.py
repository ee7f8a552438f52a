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
    differs from that revision by a step.
    """

    job: Job
    base: int
    undo: str = ""
    redo: str = ""

    @property
    def changed(self) -> bool:
        return bool(self.undo)


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
    return Draft(document.from_json(last.document), last.base, last.says, redo)


def keep(job: Job, base: int, says: str) -> None:
    """Put one step on the draft of a job; `says` tells it in a few words.  What was undone before is gone then."""
    draft = tables.draft
    with writing() as connection:
        connection.execute(delete(draft).where(draft.c.job == job.key, draft.c.undone == 1))
        step = _last(connection, job.key) + 1
        connection.execute(
            insert(draft).values(job=job.key, step=step, base=base, document=document.to_json(job), says=says, undone=0)
        )
        connection.execute(delete(draft).where(draft.c.job == job.key, draft.c.step <= step - MOST))


def undo(key: str) -> None:
    """Take the last step back; nothing happens if there is none."""
    _turn(key, undone=1)


def redo(key: str) -> None:
    """Do again what was undone last; nothing happens if there is none."""
    _turn(key, undone=0)


def drop(key: str) -> None:
    """Throw the draft away: what was saved last counts."""
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


def _last(connection: Connection, key: str) -> int:
    draft = tables.draft
    return connection.scalar(select(func.max(draft.c.step)).where(draft.c.job == key)) or 0
