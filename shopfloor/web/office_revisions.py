"""How did a job become what it is?  Its revisions, what each one changed, and the document to take away."""

from __future__ import annotations

from itertools import pairwise

from flask import Response

from shopfloor.errors import ShopError
from shopfloor.store import jobs
from shopfloor.trade.document import as_file
from shopfloor.trade.part import Job
from shopfloor.trade.revision import changes
from shopfloor.web.office_pages import blueprint, page

MOST_SHOWN = 50
"""Revisions whose differences are worked out on one page; the older ones are listed by their notes."""

FORMS = {"toml": "application/toml", "json": "application/json"}


class NoSuchForm(ShopError):
    """A document is had as TOML or as JSON."""

    code = "no-such-form"


@blueprint.get("/jobs/<key>/revisions")
def revisions(key: str) -> Response:
    """Every revision, the latest first, with what it changed."""
    job, newest = jobs.latest(key)
    rows = jobs.revisions(key)
    shown = rows[: MOST_SHOWN + 1]
    held = {row.number: jobs.at_revision(key, row.number) for row in shown}
    different = {new.number: changes(held[old.number], held[new.number]) for new, old in pairwise(shown)}
    return page("office/revisions.html", job=job, newest=newest, rows=rows, different=different)


@blueprint.get("/jobs/<key>/document.<form>")
def document_of(key: str, form: str) -> Response:
    """The whole job as one document: TOML to be read and edited, JSON for programs.  It can be taken in again."""
    job, number = jobs.latest(key)
    return _document(job, number, form)


@blueprint.get("/jobs/<key>/revisions/<int:number>.<form>")
def document_then(key: str, number: int, form: str) -> Response:
    """The same, as an earlier revision had it."""
    return _document(jobs.at_revision(key, number), number, form)


def _document(job: Job, number: int, form: str) -> Response:
    if form not in FORMS:
        raise NoSuchForm(f"a job is not written as {form[:20]}", do="It can be had as toml or json.")
    answer = Response(as_file(job, form), mimetype=FORMS[form])
    name = "".join(letter if letter.isalnum() and letter.isascii() else "-" for letter in job.key)[:60]
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}-{number}.{form}"'
    return answer
