"""What wood does a job need, and what is bought for it?  The rough list, how parts are got, prices, what to buy."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from flask import Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.store import lumber
from shopfloor.trade.buying import Per, Price, Wood
from shopfloor.trade.stock import Making, Way
from shopfloor.web import office_words as words
from shopfloor.web.lumber_state import JobLumber, job_lumber
from shopfloor.web.office_pages import blueprint, page

MONEY = re.compile(r"\d{1,7}([.,]\d{1,4})?")
MOST_BOARDS = 40


@blueprint.get("/jobs/<key>/lumber")
def lumber_page(key: str) -> Response:
    """The rough list and the buying list of a job."""
    return _page(job_lumber(key))


@blueprint.post("/jobs/<key>/lumber")
def change_lumber(key: str) -> BaseResponse:
    """Prices, and how the wood of the lines is got: all of what was typed is kept, or none."""
    state = job_lumber(key)
    typed = {name: text.strip() for name, text in request.form.items()}
    faults: dict[str, str] = {}
    prices = _prices(state, typed, faults)
    making = _making(state, typed, faults)
    if faults:
        answer = _page(state, typed, faults)
        answer.status_code = 422
        return answer
    lumber.keep_prices(prices)
    lumber.keep_making(key, making)
    return redirect(url_for("office.lumber_page", key=key), 303)


def _prices(state: JobLumber, typed: Mapping[str, str], faults: dict[str, str]) -> dict[Wood, Price]:
    """What was typed for the woods of this job, beside the prices of others."""
    found = dict(state.prices)
    for nth, row in enumerate(state.bought.rows):
        name = f"price.{nth}"
        text = typed.get(name)
        if text is None:
            continue
        per = Per(typed[f"per.{nth}"]) if typed.get(f"per.{nth}") in list(Per) else Per.BOARD_FOOT
        if not text:
            found.pop(row.wood, None)
        elif MONEY.fullmatch(text):
            try:
                found[row.wood] = Price(Fraction(text.replace(",", ".")), per).checked()
            except ShopError as err:
                faults[name] = f"{err.what}. {err.do}"
        else:
            faults[name] = f'"{text[:20]}" is no price. Write it like 8.75, or nothing.'
    return found


def _making(state: JobLumber, typed: Mapping[str, str], faults: dict[str, str]) -> dict[str, Making]:
    found = dict(state.making)
    for line in state.job.lines:
        way, boards = typed.get(f"way.{line.key}"), typed.get(f"boards.{line.key}")
        if way is None and boards is None:
            continue
        chosen = Way(way) if way in list(Way) else None
        count = 0
        if boards:
            if boards.isascii() and boards.isdigit() and 1 <= int(boards) <= MOST_BOARDS:
                count = int(boards)
            else:
                faults[f"boards.{line.key}"] = f'"{boards[:12]}" is no number of boards. Write 1 to {MOST_BOARDS}.'
        found[line.key] = Making(chosen, count)
    return found


def _page(
    state: JobLumber, typed: Mapping[str, str] | None = None, faults: Mapping[str, str] | None = None
) -> Response:
    shown: dict[str, Any] = {
        "state": state, "job": state.job, "revision": state.revision, "typed": typed or {}, "faults": faults or {},
        "ways": Way, "pers": Per,
        "stacks": {each.key: each for each in state.job.assemblies},
        "size": lambda rough: words.size(rough.thickness, rough.width, rough.length, state.job),
    }  # fmt: skip
    return page("office/lumber.html", **shown)
