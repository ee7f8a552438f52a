"""Which part comes out of which board?  Planning boards for some jobs, watching it, and the plan with its diagrams."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from flask import Response, current_app, redirect, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.paper.sawing_chart import Chart, chart
from shopfloor.plan.asking import Piece, asked, saw_by
from shopfloor.plan.boards import Plan, Rule, Says
from shopfloor.plan.written import plan_from_plain
from shopfloor.store import jobs, lumber, plans, rack, shop
from shopfloor.store.plans import KeptPlan
from shopfloor.store.rack import Racked
from shopfloor.trade.board import END_TRIM
from shopfloor.trade.code import show
from shopfloor.trade.length import INCH
from shopfloor.trade.part import Job
from shopfloor.trade.sawing import BoardPlan, Cut, Role, Way
from shopfloor.trade.stock import rough_list
from shopfloor.web import office_words as words
from shopfloor.web.board_runs import RUNS, Runs
from shopfloor.web.job_state import job_state
from shopfloor.web.lumber_state import sawing
from shopfloor.web.office_pages import blueprint, live_page, page

SECONDS = {"5": "5 seconds a wood", "15": "15 seconds a wood", "60": "a minute a wood"}
RULES = {
    Rule.RIP_FIRST: "Rip first: the whole board into strips, each strip crosscut.",
    Rule.CROSSCUT_FIRST: "Crosscut first: the board into sections, each section ripped, the strips crosscut.",
}


class NothingToPlan(ShopError):
    """There is no job, or no part, to plan for."""

    code = "nothing-to-plan"


@dataclass(frozen=True)
class ShownWood:
    """One wood of a kept plan: what it uses, and its boards with their diagrams."""

    name: str
    nominal: int
    plan: Plan | None
    pieces: Mapping[str, Mapping[str, Any]]

    def feet(self, area: int | None) -> str:
        return _feet(area, self.nominal)

    @property
    def wasted(self) -> str:
        """The share of the boards that becomes neither part nor offcut."""
        return f"{100 * self.plan.waste / self.plan.used:.0f} %" if self.plan and self.plan.used else ""

    @property
    def gap(self) -> str:
        gap = self.plan.gap if self.plan else None
        return "proven best" if gap == 0 else _percent(gap)


@blueprint.get("/board-plans")
def board_plans() -> Response:
    """Plan anew, and the plans that are there."""
    return _page()


@blueprint.post("/board-plans")
def plan_boards_of() -> BaseResponse:
    """Begin to plan the boards of the jobs that were ticked."""
    keys = [key for key in request.form.getlist("job") if any(row.key == key for row in jobs.all_jobs())]
    rule = Rule(request.form["rule"]) if request.form.get("rule") in list(Rule) else Rule.RIP_FIRST
    seconds = request.form.get("seconds", "")
    try:
        if not keys:
            raise NothingToPlan("no job is ticked", do="Tick the jobs whose parts are to be planned.")
        pieces, faults = _pieces(keys)
        if not pieces:
            raise NothingToPlan("no part of these jobs is left to saw", do="Choose another job.")
        asks = asked(
            pieces, [one.board for one in rack.read().there], saw_by(shop.habits(), shop.unit(), rule),
            shop.habits().of(END_TRIM, shop.unit()),
        )  # fmt: skip
        said = {"jobs": keys, "rule": rule.value, "faults": faults}
        _runs().start(
            current_app._get_current_object(), asks, said, float(seconds if seconds in SECONDS else 5)  # type: ignore[attr-defined]
        )  # fmt: skip
    except ShopError as error:
        answer = _page(error)
        answer.status_code = 422
        return answer
    return redirect(url_for("office.planning"), 303)


def _pieces(keys: list[str]) -> tuple[list[Piece], list[str]]:
    """The blanks of some jobs that are not sawn yet, and what of them cannot be listed."""
    found, faults = [], []
    for key in keys:
        state = job_state(key)
        sawn = {part.sheet.part.key for part in state.parts if part.progress.done("rough")}
        listed = rough_list(state.job, sawing(state.job.unit), lumber.making(key))
        faults += [f"{state.job.name}: {fault}" for fault in listed.faults]
        found += [Piece(key, blank) for blank in listed.blanks if not set(blank.parts) <= sawn]
    return found, faults


@blueprint.get("/board-plans/now")
def planning() -> BaseResponse:
    """How the planning stands, as long as it is under way; then where its plan is."""
    run = _runs().run
    if run is None:
        return redirect(url_for("office.board_plans"), 303)
    state = (run.over, run.error, tuple((step.over, step.progress) for step in run.steps))
    return live_page("office/planning.html", state, lambda: {"run": run, "feet": _feet, "percent": _percent})


@blueprint.post("/board-plans/now")
def stop_planning() -> BaseResponse:
    """Stop, and keep the best plan so far."""
    runs = _runs()
    if runs.run is not None:
        runs.run.stop.set()
        runs.settle(10)
    return redirect(url_for("office.planning"), 303)


@blueprint.get("/board-plans/<identity>")
def board_plan(identity: str) -> Response:
    """One plan: what it uses and what is proven, what is missing, and the diagrams of its boards."""
    kept = plans.read(identity)
    woods = [_wood(each) for each in kept.found["woods"]]
    racked = rack.read().boards
    names = {row.key: row.name for row in jobs.all_jobs()}
    return page(
        "office/board_plan.html", kept=kept, woods=woods, racked=racked, diagram=_diagram, says=_says, cuts=_cuts,
        jobs=[names.get(key, key) for key in kept.asked["jobs"]], rule=RULES[Rule(kept.asked["rule"])],
        job=_of_shop(), one_line=" · ".join, frees=_frees, numbered=_numbered,
    )  # fmt: skip


@blueprint.post("/board-plans/<identity>")
def change_plan(identity: str) -> BaseResponse:
    """Take it, put it away, or pick it up again."""
    do = request.form.get("do")
    if do == "take":
        plans.take(identity)
    elif do == "drop":
        plans.drop(identity)
    elif do == "pick-up":
        plans.pick_up(identity)
    return redirect(url_for("office.board_plan", identity=identity), 303)


# --- what is shown -----------------------------------------------------------------------------------------------


def _page(trouble: ShopError | None = None) -> Response:
    rows = jobs.all_jobs()
    names = {row.key: row.name for row in rows}
    run = _runs().run
    return page(
        "office/board_plans.html", rows=rows, ticked=request.form.getlist("job") or request.args.getlist("job"),
        rules=RULES, seconds=SECONDS, trouble=trouble, count=len(rack.read().there), under_way=run and not run.over,
        kept=[(each, [names.get(key, key) for key in each.asked["jobs"]], _sum(each)) for each in plans.every()],
    )  # fmt: skip


def _sum(kept: KeptPlan) -> str:
    """A plan in a few words: boards, and what is left over."""
    woods = [_wood(each) for each in kept.found["woods"]]
    opened = sum(len(wood.plan.boards) for wood in woods if wood.plan)
    left = sum(len(wood.plan.left_over) for wood in woods if wood.plan)
    boards = f"{opened} board{'s' if opened != 1 else ''}"
    return f"{boards}, {left} part{'s' if left != 1 else ''} left over" if left else f"{boards}, all parts"


def _wood(found: Mapping[str, Any]) -> ShownWood:
    plan = plan_from_plain(found["plan"]) if found["plan"] else None
    return ShownWood(f"{found['species']} {found['lumber']}".strip(), found["nominal"], plan, found["pieces"])


def _numbered(wood: ShownWood, board: BoardPlan) -> list[tuple[int, Mapping[str, Any]]]:
    """The parts of a board with the numbers that they have on its diagram."""
    return [(n, wood.pieces[piece.part]) for n, piece in enumerate(board.parts, 1)]


def _diagram(wood: ShownWood, board: BoardPlan, racked: Racked | None) -> Markup:
    names = {
        piece.part: (str(n), f"{n} {wood.pieces[piece.part]['called']}") for n, piece in enumerate(board.parts, 1)
    }  # fmt: skip
    job = _of_shop()
    shown = Chart(board, names, racked.board.defects if racked else ())
    said = f"Cutting diagram of board {show(racked.code) if racked else ''}"
    return Markup(chart(shown, unit=job.unit, denominator=job.denominator, label=said))


def _cuts(wood: ShownWood, board: BoardPlan) -> list[tuple[int, Markup, str]]:
    """The cuts in their order: number, what is done and where, what comes free by it."""
    return [(cut.number, _cut(board, cut), _frees(wood, board, cut)) for cut in board.cuts]


def _cut(board: BoardPlan, cut: Cut) -> Markup:
    at = words.length(board.line(cut), _of_shop())
    where = " from the reference edge" if cut.way is Way.RIP else " from the marked end"
    return Markup("{} at ").format(str(cut.way).capitalize()) + at + where


def _frees(wood: ShownWood, board: BoardPlan, cut: Cut) -> str:
    """The parts and kept ends that this cut sets free."""
    number = {piece.part: n for n, piece in enumerate(board.parts, 1)}
    said = []
    for side in (cut.low, cut.high):
        piece = board.pieces[side] if side is not None else None
        if piece and piece.role is Role.PART:
            said.append(f"{number[piece.part]} {wood.pieces[piece.part]['called']}")
        elif piece and piece.role is Role.OFFCUT:
            said.append("an offcut to keep")
    return ", ".join(said)


def _says(text: Says) -> Markup:
    return words.said(text, _of_shop())


def _percent(share: float | None) -> str:
    return "–" if share is None else f"{100 * share:.1f} %"


def _feet(area: int | None, nominal: int) -> str:
    """An area of boards in board feet, at their nominal thickness; a dash for none."""
    return "–" if area is None else f"{float(Fraction(area * nominal, 144 * INCH**3)):.1f}"


def _of_shop() -> Job:
    return Job("", "", shop.unit())


def _runs() -> Runs:
    found = current_app.extensions.setdefault(RUNS, Runs())
    assert isinstance(found, Runs)
    return found
