"""The design of a job: constructions are added and changed, one number at a time, and what follows is seen at once.

Every change is a step of the draft, which can be undone; the floor hears of nothing until it is saved as a revision.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from flask import Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.intake.job_file import read_job
from shopfloor.store import drafts, jobs, shop
from shopfloor.store.drafts import Draft
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Construction, follow, named
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.document import length_reader
from shopfloor.trade.keys import Keys
from shopfloor.trade.part import Job, Unit
from shopfloor.web import packs
from shopfloor.web.design_form import Entry, Group, lengths_set, read_form
from shopfloor.web.design_habits import by_habits
from shopfloor.web.design_save import save
from shopfloor.web.design_state import HIDDEN, Refused, design, pictured
from shopfloor.web.design_words import ABOUT, CHOICES
from shopfloor.web.line_names import line_names
from shopfloor.web.office_pages import blueprint, page

LONGEST_NAME = 120


class DesignRefused(ShopError):
    """Something about a design that cannot be done as it was asked."""

    code = "design-refused"


@blueprint.get("/new-job")
def new_job() -> Response:
    """A job that begins with nothing but a name."""
    return page("office/new_job.html", typed={"name": "", "unit": "in"}, trouble=None)


@blueprint.post("/new-job")
def make_job() -> BaseResponse:
    """Make it, and go on to its design."""
    name = " ".join(request.form.get("name", "").split())[:LONGEST_NAME]
    unit = request.form.get("unit", "in")
    try:
        if not name:
            raise DesignRefused("the job has no name", where="name", do="Call it something, such as Choir cabinet.")
        key = Keys(row.key for row in jobs.all_jobs()).new(name, "job")
        packs.save(Job(key, name, Unit(unit) if unit in list(Unit) else Unit.INCH), "begun")
    except ShopError as error:
        answer = page("office/new_job.html", typed={"name": name, "unit": unit}, trouble=error)
        answer.status_code = 400
        return answer
    return redirect(url_for("office.design_page", key=key), 303)


@blueprint.post("/new-job/document")
def take_document() -> BaseResponse:
    """Take in a job document.  Of a job that is there already it becomes a draft: what is different is seen first."""
    file = request.files.get("document")
    try:
        job = read_job(file.read() if file else b"", (file.filename if file else "") or "the document")
        if any(row.key == job.key for row in jobs.all_jobs()):
            draft = drafts.read(job.key)
            if job != draft.job:
                drafts.keep(job, draft.base, "a document was taken in")
        elif follow(job).faults:
            # What cannot be made is not for the floor: it waits as a draft, with what would do.
            packs.save(Job(job.key, job.name, job.unit, job.denominator), "begun")
            drafts.keep(job, 1, "a document was taken in")
        else:
            packs.save(job, "taken in from a document")
    except ShopError as error:
        answer = page("office/new_job.html", typed={"name": "", "unit": "in"}, trouble=error)
        answer.status_code = 400
        return answer
    return redirect(url_for("office.design_page", key=job.key), 303)


@blueprint.get("/jobs/<key>/design")
def design_page(key: str) -> Response:
    """The design: its constructions with what follows from them, pictures, warnings, and what is not saved yet."""
    return _page(key)


@blueprint.post("/jobs/<key>/design")
def change_design(key: str) -> BaseResponse:
    """One change.  `do` says which, and of what: "change:door", "habits:door", "add", "undo" ..."""
    what, _, of = request.form.get("do", "").partition(":")
    deeds: dict[str, Callable[[Draft, str], Refused | None]] = {
        "change": _change, "habits": _by_habits, "add": _add, "remove": _remove,
        "by-hand": _by_hand, "follow": _by_hand,
    }  # fmt: skip
    try:
        if what in deeds:
            refused = deeds[what](drafts.read(key), of)
            if refused:
                return _page(key, refused=refused, opened=of)
        elif what == "undo":
            drafts.undo(key)
        elif what == "redo":
            drafts.redo(key)
        elif what == "drop":
            drafts.throw_away(key)
        elif what == "save":
            save(key, request.form.get("note", "").strip()[:LONGEST_NAME])
        else:
            raise DesignRefused("nothing was asked", do="Use the buttons of the page.")
    except ShopError as error:
        return _page(key, trouble=error)
    opened = of if what in ("change", "habits", "by-hand", "follow") else _added(key) if what == "add" else _opened()
    return redirect(_address(key, opened), 303)


# --- what is done ------------------------------------------------------------------------------------------------


def _change(draft: Draft, name: str) -> Refused | None:
    """The sizes and choices of one construction."""
    old = _find(draft.job, name)
    made, faults = read_form(old, request.form, draft.job.unit, HIDDEN, shop.ways(draft.job.unit))
    if made is None:
        return Refused(name, request.form.to_dict(), faults)
    if made != old:
        _keep(draft, _with(draft.job, old, made), f"{name}: {_different(old, made)}")
    return None


def _by_habits(draft: Draft, name: str) -> None:
    """The sizes that go by a changed habit are begun anew; it stands beside the button which."""
    old = _find(draft.job, name)
    made = by_habits(old, shop.ways(draft.job.unit))
    if made != old:
        _keep(draft, _with(draft.job, old, made), f"{name}: sizes by the shop's habits")


def _add(draft: Draft, _: str) -> None:
    """One more construction, with the sizes it begins with."""
    kind = CONSTRUCTIONS.get(request.form.get("kind", ""))
    if kind is None:
        raise DesignRefused("that is no construction", where="kind", do=f"It can be: {', '.join(CHOICES.values())}.")
    taken = {named(each) for each in draft.job.constructions} | {each.key for each in draft.job.assemblies}
    wanted = " ".join(request.form.get("key", "").split())
    key = Keys(taken).new(wanted or kind.kind, kind.kind)
    own = {"name": wanted or "Part"} if "name" in kind.__dataclass_fields__ else {}
    species = {"species": draft.job.species} if draft.job.species else {}
    made = starter(kind, draft.job.unit, shop.ways(draft.job.unit), (), key=key, **own, **species)
    _keep(draft, (*draft.job.constructions, made), f"{key} added")


def _remove(draft: Draft, name: str) -> None:
    """A construction goes, with all that follows from it."""
    gone = _find(draft.job, name)
    _keep(draft, tuple(each for each in draft.job.constructions if each is not gone), f"{name} taken out")


def _by_hand(draft: Draft, name: str) -> Refused | None:
    """A derived length is set by hand, or (if nothing is typed) follows again."""
    old = _find(draft.job, name)
    key, text = request.form.get("length-of", ""), request.form.get("length", "").strip()
    if request.form.get("do", "").startswith("follow:"):
        text = ""
    field = f"by-hand.{key}"
    try:
        nm = length_reader(draft.job.unit)(text) if text else None
    except ValueError as err:
        what, _, do = str(err).partition("\n")
        return Refused(name, {field: text}, {field: f"{what}. {do}".strip()})
    made = replace(old, overrides=lengths_set(old.overrides, key, nm))
    if made != old:
        _keep(draft, _with(draft.job, old, made), f"{name}: {key} {'follows again' if nm is None else text}")
    return None


def _keep(draft: Draft, constructions: tuple[Construction, ...], says: str) -> None:
    drafts.keep(follow(draft.job, constructions, jobs.known(draft.job.key)).job, draft.base, says)


def _with(job: Job, old: Construction, made: Construction) -> tuple[Construction, ...]:
    return tuple(made if each is old else each for each in job.constructions)


def _find(job: Job, name: str) -> Construction:
    found = next((each for each in job.constructions if named(each) == name), None)
    if found is None:
        raise DesignRefused(f"there is no construction {name[:40]!r}", do="Look at the list.")
    return found


def _different(old: Any, new: Any) -> str:
    """The first thing that was changed, for the button that undoes it."""
    for name in old.__dataclass_fields__:
        was, now = getattr(old, name), getattr(new, name)
        if was != now:
            word = name.replace("_", " ")
            if was is None or now is None:
                return f"{word} {'added' if was is None else 'left out'}"
            inner = hasattr(was, "__dataclass_fields__") and type(was) is type(now)
            return f"{word}, {_different(was, now)}" if inner else word
    return "nothing"


# --- what is shown -----------------------------------------------------------------------------------------------


def _opened() -> str:
    return request.values.get("open", "")


def _added(key: str) -> str:
    constructions = drafts.read(key).job.constructions
    return named(constructions[-1]) if constructions else ""


def _where(opened: str) -> dict[str, str]:
    """What the address keeps: which construction lies open, and what is drawn."""
    kept = {"open": opened, "stack": request.values.get("stack", ""), "line": request.values.get("line", "")}
    return {name: value for name, value in kept.items() if value}


def _address(key: str, opened: str) -> str:
    shown: dict[str, Any] = dict(_where(opened))
    return url_for("office.design_page", key=key, **shown)


def _page(key: str, *, refused: Refused | None = None, opened: str = "", trouble: ShopError | None = None) -> Response:
    shown = design(key, refused)
    job = shown.job
    opened = opened or _opened() or (shown.shown[0].name if shown.shown else "")
    of_opened = next((one for one in shown.shown if one.name == opened), None)
    stacks = [stack.assembly.key for stack in (of_opened.stacks if of_opened else shown.own)]
    stack = request.values.get("stack", "")
    if stack not in {each.key for each in job.assemblies}:
        stack = stacks[0] if stacks else ""
    title, picture = pictured(job, stack, request.values.get("line", ""), jobs.codes(key))
    answer = page(
        "office/design.html", job=job, design=shown, opened=opened, stack=stack, line=request.values.get("line", ""),
        picture=picture, picture_of=title, trouble=trouble, refused=refused, choices=CHOICES, about=ABOUT,
        line_names=line_names(job.lines),
        is_group=lambda item: isinstance(item, Group), is_entry=lambda item: isinstance(item, Entry),
        unit="mm" if job.unit is Unit.MM else "inches",
    )  # fmt: skip
    if refused or trouble:
        answer.status_code = 422
    return answer
