"""Which jobs are there, and how does each stand?  The list of jobs, one job, one stack, one part, and what to print."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from flask import Response, jsonify, redirect, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.intake.demo import demo_job
from shopfloor.journal.entry import STEP_DONE, STEP_UNDONE
from shopfloor.journal.fold import order
from shopfloor.paper import exploded
from shopfloor.paper.drawing import Drawings
from shopfloor.paper.label_sheets import SHEETS
from shopfloor.paper.labels import labels_of, words_of
from shopfloor.paper.letters import cannot_print
from shopfloor.paper.qr import LONGEST_HOST
from shopfloor.paper.rod_tiles import PAPERS
from shopfloor.store import desk, jobs, journal
from shopfloor.trade import document
from shopfloor.trade.code import read_code
from shopfloor.trade.layout import from_the_wrong_end
from shopfloor.trade.part import Hand, Job, Unit
from shopfloor.trade.sheet import Sheet
from shopfloor.trade.turn import refusal
from shopfloor.web import packs
from shopfloor.web.doors import settings
from shopfloor.web.job_state import JobState, PartState, disagreements, holdings, job_state
from shopfloor.web.office_pages import (
    NoSuchPart,
    NoSuchStack,
    NothingToSettle,
    blueprint,
    live_page,
    names_of_phones,
    page,
    phones_say,
)
from shopfloor.web.office_words import entry_says, who
from shopfloor.web.part_short import short
from shopfloor.web.rods_print import USUAL

SECONDS_A_LABEL = Fraction(1, 100)
"""Measured with 3,030 labels on a small computer: 30 s, most of it the layout of each."""
NO_BREAK = "\u00a0"
"""Keeps the dot between two facts with the one before it, where a narrow line breaks."""
WORTH_SAYING = 500
"""Labels that take longer than people wait without asking themselves whether anything happens."""


@blueprint.get("/")
def all_jobs() -> Response:
    """The jobs of the shop, the one saved last first."""
    rows = jobs.all_jobs()
    say = phones_say()
    state = (tuple((row.key, row.revision) for row in rows), journal.latest_rev(), say)

    def gather() -> dict[str, Any]:
        states = [job_state(row.key) for row in rows]
        shown = [
            {"job": one.job, "parts": len(one.parts), "rod": one.rod, "to_settle": one.to_settle} for one in states
        ]
        return {"jobs": shown, "phones_say": say}

    return live_page("office/jobs.html", state, gather)


@blueprint.post("/demo")
def demo() -> BaseResponse:
    """Put the demo job into the shop, once."""
    made = demo_job()
    packs.save(made, note="the demo")
    return redirect(url_for("office.job", key=made.key), 303)


@blueprint.get("/jobs/<key>")
def job(key: str) -> Response:
    """One job: its stacks, what is to be settled, what holds things up."""
    say = phones_say()

    def gather() -> dict[str, Any]:
        state, names = job_state(key), names_of_phones()
        return {
            "job": state.job,
            "job_facts": _facts(state.job, len(state.parts), state.revision, say),
            "stacks": state.stacks,
            "disagreements": disagreements(state, state.parts, names),
            "holding": holdings(state.parts, names),
            "unread": state.unread,
            "set_aside": len(journal.all_set_aside()),
        }

    return live_page("office/job.html", (key, jobs.latest_number(key), journal.latest_rev(), say), gather)


@blueprint.get("/jobs/<key>/stacks/<int:number>")
def stack(key: str, number: int) -> Response:
    """The parts of one stack."""

    def gather() -> dict[str, Any]:
        state = job_state(key)
        found = next((one for one in state.stacks if one.assembly.number == number), None)
        if found is None:
            raise NoSuchStack(f"{state.job.name} has no stack {number}", do="Look at its list of stacks.")
        apart = exploded.draw(state.job, found.assembly, jobs.codes(key))
        return {
            "job": state.job,
            "stack": found,
            "wanting": {part.sheet.code: _wants(part) for part in found.parts},
            # Our own drawing code has escaped everything that a person typed.
            "apart": Markup(apart) if apart else None,
        }

    return live_page("office/stack.html", (key, number, jobs.latest_number(key), journal.latest_rev()), gather)


@blueprint.get("/jobs/<key>/parts/<code>")
def part(key: str, code: str) -> Response:
    """One part: its drawing, what belongs to it, and all that was written down about it."""
    plain = read_code(code, where="the address")
    real, sure = request.args.get("real", ""), request.args.get("sure") == "yes"
    state = (key, plain, jobs.latest_number(key), journal.latest_rev(), tuple(names_of_phones().items()), real, sure)
    return live_page("office/part.html", state, lambda: _part(key, plain, real, sure))


@blueprint.post("/jobs/<key>/parts/<code>/settle")
def settle(key: str, code: str) -> BaseResponse:
    """Decide what counts where two phones say different things: an entry of the office that names all of them."""
    found = _find_part(job_state(key), read_code(code, where="the address"))
    step, done = request.form.get("step", ""), request.form.get("done", "")
    if done not in ("yes", "no") or step not in found.progress.steps:
        raise NothingToSettle(
            "there is nothing to settle about this step", where=step[:40], do="Look at the part's page."
        )
    kind = STEP_DONE if done == "yes" else STEP_UNDONE
    desk.write([desk.Said(kind, found.sheet.code, {"step": step}, found.progress.steps[step].heads)])
    return redirect(url_for("office.part", key=key, code=found.sheet.code), 303)


@blueprint.get("/jobs/<key>/print")
def print_labels(key: str) -> Response:
    """What to print: labels for which stacks, on which sheet, from which place on."""
    state = job_state(key)
    labels = len(state.parts) + len(state.stacks)
    return page(
        "office/print.html",
        labels=labels,
        bare=len(settings().label_host) > LONGEST_HOST,
        seconds=round(labels * SECONDS_A_LABEL, -1) if labels > WORTH_SAYING else 0,
        job=state.job,
        job_facts=_facts(state.job, len(state.parts), state.revision, phones_say()),
        stacks=state.stacks,
        sheets=list(SHEETS.values()),
        papers=PAPERS,
        usual_paper=USUAL[state.job.unit],
        unprintable=cannot_print(words_of(labels_of(part.sheet for part in state.parts))),
        most_places=max(sheet.places for sheet in SHEETS.values()),
    )


@blueprint.get("/schema/job.json")
def job_schema() -> Response:
    """The published form of the job document."""
    return jsonify(document.schema())


def _part(key: str, code: str, real: str, sure: bool) -> dict[str, Any]:
    state, names = job_state(key), names_of_phones()
    found = _find_part(state, code)
    sheet, job = found.sheet, state.job
    drawn = Drawings(sheet.line, sheet.part, denominator=job.denominator, letters=dict(sheet.letter_of))
    named = {step.key: step.name for step in sheet.route}
    rows = sorted((row for row in state.rows if row["entry"]["part"] == code), key=order, reverse=True)
    next_step = found.rod.next.key if found.rod.next else ""
    route = []
    for step in sheet.route:
        told = found.progress.steps.get(step.key)
        by, at = (who(told.by, names), told.at) if told else ("", 0)
        done = found.progress.done(step.key)
        why = "" if done else refusal(sheet.line, step.key, {one for one in named if found.progress.done(one)})
        route.append({"step": step, "done": done, "next": step.key == next_step, "by": by, "at": at, "refused": why})
    return {
        "job": job,
        "sheet": sheet,
        # Our own drawing code has escaped everything that a person typed.
        "drawing": Markup(drawn.whole(job.unit)),
        "drawn_steps": [(named[step], Markup(drawn.step(step, job.unit))) for step in drawn.steps],
        "rod": found.rod,
        "route": route,
        "hand_says": _hand(sheet),
        "short": short(job, sheet, real, sure),
        "wrong_end": list(zip(sheet.marks, reversed(from_the_wrong_end(sheet.line)), strict=True)),
        "called_by": {mate.part: mate.called for mate in sheet.mates},
        "disagreements": disagreements(state, [found], names),
        "holding": holdings([found], names),
        "history": [
            {
                "at": row["entry"]["at"],
                "who": who(row["entry"]["device"], names),
                "says": entry_says(row["entry"], sheet.route, job),
            }
            for row in rows
        ],
    }


def _find_part(state: JobState, code: str) -> PartState:
    found = next((part for part in state.parts if part.sheet.code == code), None)
    if found is None:
        raise NoSuchPart(f"{state.job.name} has no part {code}", do="Look at its list of stacks.")
    return found


def _facts(job: Job, parts: int, revision: int, phones: str) -> str:
    sizes = "sizes in millimetres" if job.unit is Unit.MM else "sizes in inches"
    count = f"{parts} part{'s' if parts != 1 else ''}"
    return f"{NO_BREAK}· ".join(fact for fact in (job.species, count, sizes, f"revision {revision}", phones) if fact)


def _hand(sheet: Sheet) -> str:
    if sheet.part.hand is Hand.AS_DRAWN:
        return "as drawn"
    return f"mirror image of the {sheet.mirrors}" if sheet.mirrors else "mirror image of what is drawn"


def _wants(part: PartState) -> str:
    """The one word for a part that needs somebody; empty if nobody is needed."""
    if part.progress.disagreements:
        return "to settle"
    if part.progress.spoiled:
        return "spoiled"
    return "held" if part.progress.held else ""
