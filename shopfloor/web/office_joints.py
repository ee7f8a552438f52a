"""Two typed parts are joined: said once, proposed by the trade's rules, looked at, and then cut into both lines."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Response, redirect, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.store import drafts, shop
from shopfloor.trade import walls
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.joining import Definition, Joining, Kind, doubts, proposed
from shopfloor.trade.own_lines import lines_of
from shopfloor.trade.pairing import joined
from shopfloor.trade.part import Face, Job, Unit
from shopfloor.trade.record import CONTROL
from shopfloor.trade.sheet import called, places_in
from shopfloor.web.design_form import Entry
from shopfloor.web.design_state import drawn
from shopfloor.web.join_form import COMES, INTO, LIES, Asked, asked, pairs_of, read_sizes, sizes_of
from shopfloor.web.office_pages import blueprint, page
from shopfloor.web.office_words import sentence

FIRST = {"kind": Kind.MORTISE_AND_TENON.value, "end": Face.DATUM_END.value, "face": Face.FACE_EDGE.value}


@dataclass(frozen=True)
class Joined:
    """How it would be: the sizes as fields, which part goes into which, both lines drawn, and what is wrong."""

    sizes: list[tuple[Entry, ...]]
    pairs: dict[str, str]
    drawn: tuple[tuple[str, Markup], ...] = ()
    wrong: tuple[Fault, ...] = ()
    thin: tuple[Fault, ...] = ()
    trouble: ShopError | None = None


@blueprint.get("/jobs/<key>/join")
def join(key: str) -> Response:
    """What to join, and how they meet."""
    job = drafts.read(key).job
    return _page(job, Asked(FIRST | request.args.to_dict()))


@blueprint.post("/jobs/<key>/join")
def join_parts(key: str) -> BaseResponse:
    """`do` says which: propose sizes, look at those that were typed, or take them."""
    typed = {name: text[:200] for name, text in request.form.items()}
    draft = drafts.read(key)
    job = draft.job
    found = asked(job, typed)
    if found.joining is None:
        return _page(job, found, status=422)
    joining, does = found.joining, typed.get("do", "")
    try:
        joints = proposed(joining, shop.cutters(job.unit), job.unit, shop.habits(), job.species)
        faults: dict[str, str] = {}
        if does != "propose" and typed.get("proposed") == _asked_for(typed):
            joints, faults = read_sizes(joining, joints, job.unit, typed, shop.habits())
    except ShopError as error:
        return _page(job, found, Joined([], {}, trouble=error), status=422)
    sizes = sizes_of(joining, joints, job.unit, typed, faults)
    pairs = pairs_of(joining, typed if does != "propose" else {})
    if faults:
        return _page(job, found, Joined(sizes, pairs), status=422)
    try:
        made = joined(job, joining, joints, pairs, " ".join(CONTROL.sub(" ", typed.get("note", "")).split()))
    except ShopError as error:
        return _page(job, found, Joined(sizes, pairs, trouble=error), status=422)
    if does != "take":
        return _page(job, found, _looked_at(made, joining, joints, sizes, pairs))
    drafts.keep(made, draft.base, f"{joining.comes.name} joined to {joining.mate.name}")
    return redirect(url_for("office.lines", key=key), 303)


def _asked_for(typed: dict[str, str]) -> str:
    """What sizes were proposed for: of anything else they mean nothing."""
    return "|".join(typed.get(name, "") for name in ("kind", "comes", "mate", "end", "face", "haunch"))


def _looked_at(
    made: Job, joining: Joining, joints: tuple[Definition, ...], sizes: list[tuple[Entry, ...]], pairs: dict[str, str]
) -> Joined:
    keys = (joining.comes.key, joining.mate.key)
    lines = [line for line in made.lines if line.key in keys]
    wrong = tuple(f for f in check(made) if any(f.where.startswith(f'line "{each}"') for each in keys))
    least = shop.habits().of(walls.LEAST_WALL, made.unit)
    unusual = doubts(joining, joints, made.unit, shop.habits())
    thin = () if wrong else tuple(fault for line in lines for fault in walls.faults(line, made.unit, least))
    shown = () if wrong else tuple((line.name, drawn(made, line)) for line in lines)
    return Joined(sizes, pairs, shown, wrong, (*unusual, *thin))


def _page(job: Job, found: Asked, shown: Joined | None = None, *, status: int = 200) -> Response:
    options = {
        "kinds": [(each.value, sentence(each.value)) for each in Kind],
        "ends": [(each.value, each.value) for each in COMES],
        "faces": [(each.value, each.value) for each in INTO],
        "lies": LIES,
    }
    answer = page(
        "office/join.html", job=job, typed=found.typed, faults=found.faults, joining=found.joining, shown=shown,
        lines=lines_of(job), called={each.key: each.name for each in job.assemblies}, **options,
        names={key: called(line.name, place) for line in lines_of(job) for key, place in places_in(line).items()},
        asked_for=_asked_for(dict(found.typed)), unit="mm" if job.unit is Unit.MM else "inches",
    )  # fmt: skip
    answer.status_code = status
    return answer
