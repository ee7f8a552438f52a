"""A draft becomes a revision: the floor gets it, and the parts that were cut already are told on their sheets."""

from __future__ import annotations

from shopfloor.errors import ShopError
from shopfloor.journal.entry import NOTED
from shopfloor.store import desk, drafts, jobs
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.document import check
from shopfloor.trade.length import write
from shopfloor.trade.part import Job
from shopfloor.trade.revision import changes
from shopfloor.trade.route import Said
from shopfloor.web import packs
from shopfloor.web.design_state import Touched, touched
from shopfloor.web.job_state import job_state

__all__ = ["SaveRefused", "save"]

MOST_TOLD = 6
"""Differences that a note names; the drawing shows the rest."""


class SaveRefused(ShopError):
    """A draft that cannot become a revision as it is."""

    code = "save-refused"


def save(key: str, note: str = "") -> int:
    """Make the draft of a job its next revision and return its number.  Raises SaveRefused, and the draft stays."""
    draft = drafts.read(key)
    saved, newest = jobs.latest(key)
    if newest != draft.base:
        do = "Look at what it has now, then throw this draft away and make the change again."
        raise SaveRefused(f"revision {newest} was saved since this draft was begun", do=do)
    faults = check(draft.job)
    if faults:
        raise SaveRefused(faults[0].what, where=faults[0].where, do=faults[0].do)
    wrong = follow(draft.job).faults
    if wrong:
        # What cannot be made would leave the job, with the labels of what is cut already.
        raise SaveRefused(wrong[0].what, where=wrong[0].where, do=f"{wrong[0].do} Nothing was saved.".strip())
    different = touched(job_state(key), changes(saved, draft.job), draft.job)
    number = packs.save(draft.job, note or draft.undo)
    drafts.drop(key)
    _tell(draft.job, number, different)
    return number


def _tell(job: Job, number: int, different: tuple[Touched, ...]) -> None:
    """Write on the sheet of each part that was cut already what is different about it now."""
    entries = []
    for part in different:
        told = [_written(says, job) for says in part.shift.says[:MOST_TOLD]]
        more = len(part.shift.says) - len(told)
        what = "it is no longer in this job" if part.gone else "; ".join(told) + (f"; and {more} more" if more else "")
        text = f"Changed in revision {number}, after it was cut: {what}."
        if part.back:
            what = f"and since revision {part.back} changed, after it was cut: {what}" if told else "as it was"
            text = f"In the job again since revision {number}, {what}."
        entries.append(desk.Said(NOTED, part.code, {"text": text}))
    desk.write(entries)


def _written(says: Said, job: Job) -> str:
    return "".join(write(each, job.unit, job.denominator) if isinstance(each, int) else each for each in says)
