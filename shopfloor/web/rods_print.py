"""Which rods does the office print?  Those of a job, of some of its stacks, or of one part, at full size as a PDF."""

from __future__ import annotations

from typing import NamedTuple

from flask import Blueprint, Response, request

from shopfloor.paper.labels import NothingToPrint
from shopfloor.paper.rod import Rod, rods_of
from shopfloor.paper.rod_sheets import rod_pages, rods_pdf
from shopfloor.paper.rod_tiles import paper as paper_named
from shopfloor.store import jobs, shop
from shopfloor.trade.code import read_code, show
from shopfloor.trade.part import Job, Unit
from shopfloor.trade.sheet import Sheet, sheets
from shopfloor.web.labels import stack_numbers
from shopfloor.web.office_pages import NoSuchPart

blueprint = Blueprint("rods", __name__)

USUAL = {Unit.INCH: "letter", Unit.MM: "a4"}
"""The paper that goes with a job's unit, until another one is chosen."""


class PrintedRods(NamedTuple):
    """A PDF, and how many rods and pages it has."""

    pdf: bytes
    rods: int
    pages: int


@blueprint.get("/jobs/<key>/rods.pdf")
def rods(key: str) -> Response:
    """`paper` by name, `stacks` by number (given once or often, "1,4-6"), or the code of one `part`."""
    stacks = ",".join(request.args.getlist("stacks")) if "stacks" in request.args else None
    printed = print_rods(key, request.args.get("paper"), stacks, request.args.get("part", ""))
    response = Response(printed.pdf, mimetype="application/pdf")
    response.headers.set("Content-Disposition", "inline", filename=f"{key}-rods.pdf")
    return response


def print_rods(key: str, paper: str | None, stacks: str | None, part: str = "") -> PrintedRods:
    """The rods of a job, one for all parts with the same marks.

    `paper` is None for the one that goes with the job's unit.  `stacks` is None for all, or numbers and spans such as
    "1,4-6".  With the code of a `part` there is its rod alone, which serves its twins and mirror images too.
    Raises NoSuchJob, NoSuchPart, BadStacks, UnknownPaper, NothingToPrint, UnreadableCode.
    """
    job, _ = jobs.latest(key)
    layout = paper_named(USUAL[job.unit] if paper is None else paper)
    every = sheets(job, jobs.codes(key))
    if part:
        code = read_code(part, where="part")
        made = _rod_of(job, every, code)
        title = f"{job.name}: {made[0].name}"
    else:
        numbers = {assembly.number for assembly in job.assemblies}
        wanted = numbers if stacks is None else stack_numbers(stacks, numbers)
        made = rods_of(sheet for sheet in every if sheet.assembly.number in wanted)
        title = f"{job.name}: rods"
    pdf = rods_pdf(
        made, layout, unit=job.unit, denominator=job.denominator, title=title, shop=shop.read().name
    )  # fmt: skip
    pages = rod_pages(made, layout, unit=job.unit, denominator=job.denominator)
    return PrintedRods(pdf, len(made), len(pages))


def _rod_of(job: Job, every: list[Sheet], code: str) -> list[Rod]:
    """The rod that one part is marked from: of its stack's rods the one with its line, its own places named."""
    own = next((sheet for sheet in every if sheet.code == code), None)
    if own is None:
        raise NoSuchPart(f"{job.name} has no part {show(code)}", do="Look at its list of stacks.")
    (alone,) = rods_of([own]) or (None,)
    if alone is None:
        raise NothingToPrint(f"{own.called} has no mark, so it needs no rod", do="Measure its length alone.")
    return [
        rod
        for rod in rods_of(every)
        if (rod.length, rod.datum, rod.lanes, rod.ticks) == (alone.length, alone.datum, alone.lanes, alone.ticks)
    ]
