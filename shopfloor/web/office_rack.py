"""Which boards are in the rack?  The list, one board with all that is known of it, a board typed in, and labels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flask import Response, redirect, request, url_for
from markupsafe import Markup, escape
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.paper.label_sheets import SHEETS
from shopfloor.store import rack, shop
from shopfloor.store.rack import NoSuchBoard, Racked
from shopfloor.trade.board import Sawn
from shopfloor.trade.code import read_code
from shopfloor.trade.lumber import board_feet
from shopfloor.trade.part import Job
from shopfloor.trade.stock import sold_by
from shopfloor.web import board_form
from shopfloor.web import office_words as words
from shopfloor.web.board_form import EMPTY_DEFECTS
from shopfloor.web.office_pages import blueprint, live_page, names_of_phones, page

REASONS = {"used up": "Used up", "sold": "Sold", "spoiled": "Spoiled", "counted twice": "Counted twice"}


@blueprint.get("/rack")
def rack_page() -> Response:
    """Every board that is there, by its wood; those that are gone can be put back."""
    return live_page("office/rack.html", (rack.latest_rev(), shop.unit(), request.query_string), _rack)


def _rack() -> dict[str, Any]:
    found = rack.read()
    by_wood: dict[str, list[Racked]] = {}
    for one in sorted(found.there, key=lambda one: (one.board.species.casefold(), one.board.lumber.nominal)):
        by_wood.setdefault(f"{one.board.species} {one.board.lumber.name}", []).append(one)
    gone = [one for one in found.boards.values() if one.state.gone]
    return {
        "by_wood": by_wood, "gone": gone, "faults": found.faults, "feet_of": _all_feet, "job": _unit_of_shop(),
        "count": len(found.there), "kept": request.args.get("kept", ""), "size": _size, "reasons": REASONS,
        "sheets": list(SHEETS.values()),
    }  # fmt: skip


@blueprint.get("/rack/new")
def new_board() -> Response:
    """An empty form for a board, with the wood of the one before it."""
    typed = board_form.first(shop.unit(), request.args.get("species", ""), request.args.get("lumber", ""))
    return _form(typed)


@blueprint.post("/rack/new")
def add_board() -> BaseResponse:
    """Take a board in; the form is empty again for the next one."""
    typed = request.form.to_dict()
    made = board_form.read(typed, shop.unit(), sold_by(shop.unit()))
    if made.board is None:
        return _refused(_form(typed, made.faults))
    identity = rack.measure(made.board)
    code = rack.read().boards[identity].code
    if typed.get("do") == "next":
        wood = made.board
        again = url_for("office.new_board", species=wood.species, lumber=wood.lumber.name, kept=code)
        return redirect(again, 303)
    return redirect(url_for("office.board", code=code), 303)


@blueprint.get("/rack/<code>")
def board(code: str) -> Response:
    """One board: its sizes, what is cut around, and what came of it."""
    one = _find(code)
    return _form(board_form.texts_of(one.board, shop.unit()), racked=one)


@blueprint.post("/rack/<code>")
def change_board(code: str) -> BaseResponse:
    """Measured again, gone, or back."""
    one = _find(code)
    typed = request.form.to_dict()
    do = typed.get("do", "")
    if do == "back":
        rack.put_back([one.board.id])
        return redirect(url_for("office.board", code=one.code), 303)
    if do.startswith("gone:"):
        rack.put_away([one.board.id], do.removeprefix("gone:")[:60] or "gone")
        return redirect(url_for("office.rack_page", kept=one.code), 303)
    made = board_form.read(typed, shop.unit(), sold_by(shop.unit()), one.board)
    if made.board is None:
        return _refused(_form(typed, made.faults, one))
    if made.board != one.board:
        rack.measure(made.board, one.state)
    return redirect(url_for("office.board", code=one.code), 303)


def _find(code: str) -> Racked:
    plain = read_code(code, where="the address")
    identity = rack.find(plain)
    found = rack.read().boards.get(identity or "")
    if found is None:
        raise NoSuchBoard(f"no board has the code {plain}", where="rack", do="Look at the list of boards.")
    return found


def _form(typed: Mapping[str, str], faults: Mapping[str, str] | None = None, racked: Racked | None = None) -> Response:
    rows = 1 + max((int(name.split(".")[1]) for name in typed if name.startswith("defect.")), default=-1)
    chosen = sold_by(shop.unit())
    if racked and racked.board.lumber not in chosen:
        chosen = (*chosen, racked.board.lumber)
    return page(
        "office/board.html", typed=typed, faults=faults or {}, racked=racked, lumber=chosen, sawn=Sawn,
        rows=rows + (0 if faults else EMPTY_DEFECTS), unit=shop.unit(), job=_unit_of_shop(), size=_size,
        kept=request.args.get("kept", ""), names=names_of_phones(), reasons=REASONS,
        species=sorted({one.board.species for one in rack.read().boards.values()}),
    )  # fmt: skip


def _refused(answer: Response) -> Response:
    answer.status_code = 422
    return answer


def _all_feet(boards: Sequence[Racked]) -> str:
    """What boards measure together, in board feet: their mean widths, nominal thickness, exact."""
    each = (board_feet(one.lumber.nominal, sum(one.widths) // 2, one.length) for one in (of.board for of in boards))
    return f"{float(sum(each)):.1f}"


def _size(one: Racked) -> Markup:
    """Length × width, both widths where they differ."""
    board, job = one.board, _unit_of_shop()
    near, far = (words.length(width, job) for width in board.widths)
    wide = near if board.widths[0] == board.widths[1] else near + escape(" to ") + far
    return words.length(board.length, job) + escape(" × ") + wide


def _unit_of_shop() -> Job:
    """The rack belongs to no job: its lengths are shown in the shop's unit."""
    return Job("", "", shop.unit())
