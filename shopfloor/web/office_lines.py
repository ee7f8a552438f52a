"""Lines as a table that is edited by keyboard, and the cuts of one line.  Every change is a step of the draft."""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask import Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.store import drafts, jobs, shop
from shopfloor.store.drafts import Draft
from shopfloor.trade import walls
from shopfloor.trade.construct.compose import named
from shopfloor.trade.document import check
from shopfloor.trade.own_lines import lines_of, settled, taken_apart
from shopfloor.trade.part import Half, Job, Joint, Line, Unit
from shopfloor.trade.sheet import called, lettering, places_in
from shopfloor.web.design_form import Group, read_form
from shopfloor.web.design_form import form_of as form_of_record
from shopfloor.web.design_state import pictured
from shopfloor.web.line_names import line_names
from shopfloor.web.line_table import COLUMNS, read_table, rows_of
from shopfloor.web.office_pages import blueprint, page
from shopfloor.web.stack_table import read_stacks, stacks_of

__all__ = ["LineRefused", "common_deed", "joint_rows", "own_line"]

OF_LINE = frozenset({"key", "assembly", "parts", "kept", "name", "note", "species"})
"""What is no matter of its cuts, or is changed in the table."""


class LineRefused(ShopError):
    """Something about lines or joints that cannot be done as it was asked."""

    code = "line-refused"


@dataclass(frozen=True)
class Made:
    """The lines that follow from one construction."""

    name: str
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class JointRow:
    """One joint as the table shows it: what enters and what takes, named by line, place and cut."""

    joint: Joint
    enters: str
    takes: str
    own: bool


@blueprint.get("/jobs/<key>/lines")
def lines(key: str) -> Response:
    """Typed lines as one form, lines that follow from a construction as they are, and the joints between them."""
    return _lines(key)


@blueprint.post("/jobs/<key>/lines")
def change_lines(key: str) -> BaseResponse:
    """One change.  `do` says which: the whole table, the names of the stacks, a construction taken apart, a joint taken
    out, undo, redo."""
    what, _, of = request.form.get("do", "").partition(":")
    try:
        draft = drafts.read(key)
        if what == "lines":
            made, faults, says = read_table(draft.job, request.form)
            if made is None:
                return _refused(key, faults)
            _keep(draft, made, says)
        elif what == "stacks":
            made, faults, says = read_stacks(draft.job, request.form)
            if made is None:
                return _refused(key, faults)
            _keep(draft, made, says)
        elif what == "take-apart":
            if of not in {named(each) for each in draft.job.constructions}:
                raise LineRefused(f"there is no construction {of[:40]!r}", do="Look at the list.")
            _keep(draft, taken_apart(draft.job, of), f"{of} kept as typed lines")
        elif what == "part-joint":
            _keep(draft, _without_joint(draft.job, of), "joint taken out")
        else:
            common_deed(key, what)
    except ShopError as error:
        answer = _lines(key, trouble=error)
        answer.status_code = 422
        return answer
    return redirect(url_for("office.lines", key=key), 303)


@blueprint.get("/jobs/<key>/lines/<line>")
def line(key: str, line: str) -> Response:
    """The cuts of one line, its drawing, and what is wrong with it."""
    return _line(key, own_line(drafts.read(key).job, line))


@blueprint.post("/jobs/<key>/lines/<line>")
def change_line(key: str, line: str) -> BaseResponse:
    """Cuts and sizes as they were typed; a cut that was taken out takes its joints along."""
    try:
        draft = drafts.read(key)
        old = own_line(draft.job, line)
        if request.form.get("do") == "change":
            made, faults = read_form(old, request.form, draft.job.unit, OF_LINE)
            if made is None:
                answer = _line(key, old, dict(request.form), faults)
                answer.status_code = 422
                return answer
            _keep(draft, _with_line(draft.job, old, made), f"{old.name}: cuts")
        else:
            common_deed(key, request.form.get("do", ""))
    except ShopError as error:
        answer = _lines(key, trouble=error)
        answer.status_code = 422
        return answer
    return redirect(url_for("office.line", key=key, line=line), 303)


def common_deed(key: str, what: str) -> None:
    """What every page of the design can do.  Raises LineRefused for anything else."""
    if what == "undo":
        drafts.undo(key)
    elif what == "redo":
        drafts.redo(key)
    else:
        raise LineRefused("nothing was asked", do="Use the buttons of the page.")


def own_line(job: Job, key: str) -> Line:
    """The typed line of that key.  Raises LineRefused."""
    found = next((each for each in lines_of(job) if each.key == key), None)
    if found is None:
        raise LineRefused(f"there is no typed line {key[:40]!r}", do="Look at the list.")
    return found


def joint_rows(job: Job) -> tuple[JointRow, ...]:
    """Every joint of the job, by its letter; `own` are those between typed lines, which can be taken out."""
    own = {line.key for line in lines_of(job)}
    lines = {part.key: line for line in job.lines for part in line.parts}
    names = {key: called(line.name, place) for line in job.lines for key, place in places_in(line).items()}

    def says(half: Half) -> str:
        return f"{names[half.part]}: {half.feature}"

    rows = [
        JointRow(each, says(each.enters), says(each.takes),
                 lines[each.enters.part].key in own and lines[each.takes.part].key in own)
        for each in job.joints if each.enters.part in lines and each.takes.part in lines
    ]  # fmt: skip
    return tuple(sorted(rows, key=lambda row: lettering(row.joint.letter)))


# --- what is done ------------------------------------------------------------------------------------------------


def _keep(draft: Draft, made: Job, says: str) -> None:
    if says and made != draft.job:
        drafts.keep(made, draft.base, says)


def _with_line(job: Job, old: Line, made: Line) -> Job:
    """The job with a line's cuts changed; joints go on naming a cut whose name was changed."""
    left = [each for nth, each in enumerate(old.features) if f"features.{nth}.remove" not in request.form]
    now = {was.key: each.key for was, each in zip(left, made.features, strict=False)}
    parts = {part.key for part in old.parts}

    def half(each: Half) -> Half:
        return replace(each, feature=now.get(each.feature, "")) if each.part in parts else each

    joints = tuple(replace(each, enters=half(each.enters), takes=half(each.takes)) for each in job.joints)
    return settled(replace(job, lines=tuple(made if each is old else each for each in job.lines), joints=joints))


def _without_joint(job: Job, key: str) -> Job:
    """The job without one joint, and without its two cuts unless another joint needs them."""
    gone = next((row.joint for row in joint_rows(job) if row.own and row.joint.key == key), None)
    if gone is None:
        raise LineRefused(f"there is no joint {key[:40]!r} between typed lines", do="Look at the list.")
    joints = tuple(each for each in job.joints if each is not gone)
    needed = {half for each in joints for half in (each.enters, each.takes)}

    def left(line: Line) -> Line:
        for half in (gone.enters, gone.takes):
            parts = {part.key for part in line.parts}
            if half.part in parts and not any(Half(part, half.feature) in needed for part in parts):
                line = replace(line, features=tuple(each for each in line.features if each.key != half.feature))
        return line

    return settled(replace(job, joints=joints, lines=tuple(left(line) for line in job.lines)))


# --- what is shown -----------------------------------------------------------------------------------------------


def _refused(key: str, faults: dict[str, str]) -> Response:
    """The page with what was typed, and what is wrong beside it."""
    answer = _lines(key, dict(request.form), faults)
    answer.status_code = 422
    return answer


def _lines(
    key: str, typed: dict[str, str] | None = None, faults: dict[str, str] | None = None,
    trouble: ShopError | None = None,
) -> Response:  # fmt: skip
    draft = drafts.read(key)
    job = draft.job
    by = {each.key: each.made_by for each in job.assemblies}
    made = [
        Made(named(each), tuple(line for line in job.lines if by.get(line.assembly) == named(each)))
        for each in job.constructions
    ]
    joints = joint_rows(job)
    return page(
        "office/lines.html", job=job, draft=draft, columns=COLUMNS, rows=rows_of(job, typed or {}, faults or {}),
        stack_rows=stacks_of(job, typed or {}, faults or {}), made=made, own_joints=[row for row in joints if row.own],
        other_joints=[row for row in joints if not row.own],
        stacks=[each.name for each in job.assemblies if not each.made_by],
        called={each.key: each.name for each in job.assemblies}, line_names=line_names(job.lines),
        trouble=trouble, faults=check(job),
        unit="mm" if job.unit is Unit.MM else "inches", newest=jobs.latest(key)[1],
    )  # fmt: skip


def _line(key: str, line: Line, typed: dict[str, str] | None = None, faults: dict[str, str] | None = None) -> Response:
    draft = drafts.read(key)
    job = draft.job
    wrong = [fault for fault in check(job) if fault.where.startswith(f'line "{line.key}"')]
    thin = [] if wrong else list(walls.faults(line, job.unit, shop.habits().of(walls.LEAST_WALL, job.unit)))
    title, picture = pictured(job, line.assembly, line.key, jobs.codes(key))
    parts = {part.key for part in line.parts}
    joints = [row for row in joint_rows(job) if {row.joint.enters.part, row.joint.takes.part} & parts]
    return page(
        "office/line.html", job=job, draft=draft, line=line, newest=jobs.latest(key)[1], wrong=wrong, thin=thin,
        form=form_of_record(line, job.unit, OF_LINE, typed or {}, faults or {}), picture=picture, picture_of=title,
        joints=joints, is_group=lambda item: isinstance(item, Group), trouble=None,
        unit="mm" if job.unit is Unit.MM else "inches",
    )  # fmt: skip
