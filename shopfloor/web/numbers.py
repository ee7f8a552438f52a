"""Which numbers does the tool work with, and where does each come from?  One page, for people who want to know."""

from __future__ import annotations

from itertools import groupby

from flask import Blueprint, Response, request

from shopfloor.store import shop
from shopfloor.trade.fact import AnyFact, Status
from shopfloor.trade.facts import facts
from shopfloor.trade.part import Unit
from shopfloor.web.office_pages import page

blueprint = Blueprint("numbers", __name__)

SAYS = {
    Status.CONFIRMED: "read in the source that is named",
    Status.DERIVED: "worked out from confirmed numbers",
    Status.UNCONFIRMED: "customary: no source was found for the figure, so it is a place to start and no more",
}
"""What is said of each status."""


@blueprint.get("/numbers")
def numbers() -> Response:
    """Every number by its subject; `unit` is "in" or "mm", or the one that the shop thinks in."""
    asked = request.args.get("unit", "")
    unit = Unit(asked) if asked in list(Unit) else shop.unit()
    every = facts()
    order = {subject: nth for nth, subject in enumerate(dict.fromkeys(fact.subject for fact in every))}
    ranked = sorted(every, key=lambda fact: order[fact.subject])
    groups = [(subject, list(group)) for subject, group in groupby(ranked, key=lambda fact: fact.subject)]
    return page("office/numbers.html", groups=groups, unit=unit, units=Unit, says=SAYS, shown=_shown, count=len(every))


def _shown(fact: AnyFact, unit: Unit) -> str:
    return fact.shows(unit).replace("of the width per point of moisture", "per point")
