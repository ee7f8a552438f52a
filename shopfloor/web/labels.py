"""Which labels does the office print?  Those of a job, or of some of its stacks, as a PDF for the sheet at hand."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from flask import Blueprint, Response, request

from shopfloor.errors import ShopError
from shopfloor.paper.label_words import Label
from shopfloor.paper.labels import are_bare, labels_of, labels_pdf, words_of
from shopfloor.paper.labels import sheet as sheet_named
from shopfloor.paper.letters import cannot_print
from shopfloor.store import jobs, rack, shop
from shopfloor.store.rack import Racked
from shopfloor.trade.code import read_code
from shopfloor.trade.sheet import sheets
from shopfloor.web.doors import settings

blueprint = Blueprint("labels", __name__)

USUAL_SHEET = "a4-3x8"
BARE = "The address has no room on these labels: their QR codes carry the bare code."


class BadStacks(ShopError):
    """The stacks to print are not numbers of stacks of this job."""

    code = "bad-stacks"


class BadStartPlace(ShopError):
    """The first free place is no whole number."""

    code = "bad-start"


class Printed(NamedTuple):
    """A PDF, how many labels and pages it has, and what a person should know of it, a sentence each."""

    pdf: bytes
    labels: int
    pages: int
    mind: tuple[str, ...] = ()


@blueprint.get("/jobs/<key>/labels.pdf")
def labels(key: str) -> Response:
    """`sheet` by name, `stacks` by number (given once or often, "1,4-6"), `start` the first free place."""
    stacks = ",".join(request.args.getlist("stacks")) if "stacks" in request.args else None
    printed = print_labels(key, request.args.get("sheet", USUAL_SHEET), stacks, _start(), settings().label_host)
    response = Response(printed.pdf, mimetype="application/pdf")
    response.headers.set("Content-Disposition", "inline", filename=f"{key}-labels.pdf")
    return response


@blueprint.get("/rack/labels.pdf")
def board_labels() -> Response:
    """The labels of the boards that are there, or of some, by their codes (`board`, given once or often)."""
    chosen = {read_code(code, where="board") for code in request.args.getlist("board")}
    there = [one for one in rack.read().there if not chosen or one.code in chosen]
    pdf = labels_pdf(
        [_of_board(one) for one in there], sheet_named(request.args.get("sheet", USUAL_SHEET)), unit=shop.unit(),
        denominator=16, host=settings().label_host, title="Labels of boards", shop=shop.read().name,
        start_at=_start(),
    )  # fmt: skip
    response = Response(pdf, mimetype="application/pdf")
    response.headers.set("Content-Disposition", "inline", filename="board-labels.pdf")
    return response


def _start() -> int:
    """The first free place that was asked for.  Raises BadStartPlace."""
    start = request.args.get("start", "1")
    if not (start.isascii() and start.isdigit() and len(start) < 6):
        raise BadStartPlace(
            f"{start[:20]!r} is no place on a sheet", where="First free place", do="Give a whole number."
        )
    return int(start)


def _of_board(one: Racked) -> Label:
    """A board's label: its arrow points to the marked end, which all its cuts are measured from."""
    board = one.board
    return Label(
        one.code, f"{board.species} {board.lumber.name}", f"chalk {board.mark}" if board.mark else "",
        (board.lumber.nominal, min(board.widths), board.length), datum="cross", kind="board", note=board.note,
    )  # fmt: skip


def print_labels(
    key: str,
    sheet: str,
    stacks: str | None,
    start: int,
    host: str,
    told: Callable[[int, int], None] = lambda done, of: None,
) -> Printed:
    """The labels of a job, stack labels included, the first at place `start`.

    `stacks` is None for all, or numbers and spans such as "1,4-6".  `host` goes into the symbols; empty for bare codes.
    `told` is called with the number of labels that are ready, and of all, again and again.
    """
    job, _ = jobs.latest(key)
    numbers = {assembly.number for assembly in job.assemblies}
    wanted = numbers if stacks is None else stack_numbers(stacks, numbers)
    layout = sheet_named(sheet)
    made = labels_of(one for one in sheets(job, jobs.codes(key)) if one.assembly.number in wanted)
    pdf = labels_pdf(
        made,
        layout,
        unit=job.unit,
        denominator=job.denominator,
        host=host,
        title=f"{job.name}: labels",
        shop=shop.read().name,
        start_at=start,
        told=told,
    )
    mind = [cannot_print(words_of(made)), BARE if are_bare(made, layout, host) else ""]
    return Printed(pdf, len(made), -(-(len(made) + start - 1) // layout.places), tuple(filter(None, mind)))


def stack_numbers(text: str, known: set[int]) -> set[int]:
    """The stacks that are meant by "1,4-6", of those that are known.  Raises BadStacks."""
    wanted: set[int] = set()
    for piece in filter(None, (piece.strip() for piece in text.split(","))):
        span = re.fullmatch(r"(\d{1,6})(?:\s*[-–]\s*(\d{1,6}))?", piece)
        first, last = (int(span[1]), int(span[2] or span[1])) if span else (1, 0)
        found = {number for number in known if first <= number <= last}
        if not found:
            there = ", ".join(str(number) for number in sorted(known)) or "none"
            raise BadStacks(f"there is no stack {piece[:20]!r}", where="Stacks", do=f"This job has: {there}.")
        wanted |= found
    return wanted
