"""Which numbers does the tool work with, and where does each come from?  One page, for people who want to know, and
where a shop puts its own habits in place of the printed ones."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from flask import Blueprint, Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.store import shop
from shopfloor.trade.fact import AnyFact, Status
from shopfloor.trade.facts import HABITS, facts
from shopfloor.trade.habit import BadHabit, Habits, read_habit, written
from shopfloor.trade.part import Unit
from shopfloor.web.office_pages import page

blueprint = Blueprint("numbers", __name__)

SAYS = {
    Status.CONFIRMED: "read in the source that is named",
    Status.DERIVED: "worked out from confirmed numbers",
    Status.UNCONFIRMED: "customary: no source was found for the figure, so it is a place to start and no more",
}
"""What is said of each status."""


@dataclass(frozen=True)
class Number:
    """One number on the page: as it is printed, and (`own`) as the shop has it if it was changed.  `may` says whether
    it can be changed here, `text` is what stands in its field, `says` what is wrong with that; `minds` says that the
    shop's own number is outside of what the trade uses."""

    fact: AnyFact
    printed: str
    may: bool
    own: str = ""
    text: str = ""
    says: str = ""
    minds: str = ""


@blueprint.get("/numbers")
def numbers() -> Response:
    """Every number by its subject; `unit` is "in" or "mm", or the one that the shop thinks in."""
    return _page(_unit())


@blueprint.post("/numbers/<key>")
def change_number(key: str) -> BaseResponse:
    """The shop's own number in place of a printed one; `do` is "change", or "back" to the printed one."""
    unit, fact = _unit(), HABITS.get(key)
    if fact is None:
        raise BadHabit("that is no habit of a shop", where=key[:40], do="Look at the list.")
    if request.form.get("do") == "back":
        shop.keep_habit(key, None)
    else:
        text = request.form.get("number", "")[:60]
        try:
            value = read_habit(fact, text, unit)
        except BadHabit as error:
            answer = _page(unit, key, text, f"{error.what}. {error.do}")
            answer.status_code = 422
            return answer
        shop.keep_habit(key, None if value == fact.used(unit) else value)
    asked = request.args.get("unit")
    return redirect(url_for("numbers.numbers", unit=asked, _anchor=f"fact-{key}"), 303)


def _unit() -> Unit:
    asked = request.args.get("unit", "")
    return Unit(asked) if asked in list(Unit) else shop.unit()


def _page(unit: Unit, wrong: str = "", text: str = "", says: str = "") -> Response:
    """The page; `wrong` is the key of a number that was typed as `text` and refused."""
    every, habits = facts(), shop.habits()
    order = {subject: nth for nth, subject in enumerate(dict.fromkeys(fact.subject for fact in every))}
    ranked = sorted(every, key=lambda fact: order[fact.subject])
    groups = [
        (subject, [_number(fact, unit, habits, *((text, says) if fact.key == wrong else ("", ""))) for fact in group])
        for subject, group in groupby(ranked, key=lambda fact: fact.subject)
    ]
    return page(
        "office/numbers.html", groups=groups, unit=unit, units=Unit, statuses=SAYS, count=len(every),
        changed=len(habits.changed), asked=request.args.get("unit"),
    )  # fmt: skip


def _number(fact: AnyFact, unit: Unit, habits: Habits, text: str, says: str) -> Number:
    own = habits.changed.get(fact.key)
    if own is None:
        return Number(fact, _shown(fact, unit), fact.key in HABITS, text=text, says=says)
    minds = "" if fact.customary(own) else f"Outside of what the trade uses, {_range(fact, unit)}."  # type: ignore[arg-type]
    here = written(fact, own, unit)
    return Number(fact, _shown(fact, unit), True, here, text or here.removesuffix(f" {fact.unit}"), says, minds)


def _range(fact: AnyFact, unit: Unit) -> str:
    span = fact.metric_range if unit is Unit.MM and fact.metric_range else fact.range
    assert span is not None, "without a range any number is customary"
    least, most = span
    assert not isinstance(least, str) and not isinstance(most, str)
    if most is None:
        return f"{written(fact, least, unit)} or more"
    return f"{written(fact, least, unit).removesuffix(f' {fact.unit}')} to {written(fact, most, unit)}"


def _shown(fact: AnyFact, unit: Unit) -> str:
    return fact.shows(unit).replace("of the width per point of moisture", "per point")
