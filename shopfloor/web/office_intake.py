"""How does a cut list become a job?  It is looked at first; one click makes the job; until then nothing is kept here.

What was handed in travels with the preview, packed, in a field of its form, so that nothing half done lies about in the
shop's data and two people can look at two lists at once.
"""

from __future__ import annotations

import base64
import binascii
import re
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from flask import Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.intake.cells import MOST_BYTES
from shopfloor.intake.cut_list import Column, CutList, as_job, read_cut_list, template
from shopfloor.intake.headings import tidy
from shopfloor.paper.letters import cannot_print
from shopfloor.store import jobs
from shopfloor.trade.keys import Keys
from shopfloor.trade.length import Length, read
from shopfloor.trade.part import Job, Unit
from shopfloor.web import packs
from shopfloor.web.office_pages import blueprint, page
from shopfloor.web.office_words import size

MOST_FORM = 2 * MOST_BYTES
"""Bytes of one form: the largest list, packed as text, and its neighbours."""
LONGEST_NAME = 120
MOST_LINES_SHOWN = 200
TYPED_IN = "typed in"
UNIT_NAMES = {"in": "inches", "ft": "feet"}
DELIMITER_NAMES = {",": "commas", ";": "semicolons", "tab": "tabs", "|": "bars"}


class NoList(ShopError):
    """Neither a file nor a text was handed in, or what travelled with the preview has been damaged."""

    code = "no-list"


class NoName(ShopError):
    """The job has no name, or one that another job has already."""

    code = "no-name"


@dataclass(frozen=True)
class Handed:
    """What was handed in: the bytes, the file's name, and whether it was typed into the page."""

    data: bytes
    name: str
    typed: bool


@blueprint.get("/cut-list")
def cut_list() -> Response:
    """Where a cut list is handed in."""
    return page("office/cut_list.html", typed={"job": "", "unit": "in", "text": ""})


@blueprint.get("/cut-list/template.csv")
def cut_list_template() -> Response:
    """A cut list to fill in."""
    answer = Response(template(), mimetype="text/csv")
    answer.headers["Content-Disposition"] = 'attachment; filename="cut-list.csv"'
    return answer


@blueprint.post("/cut-list")
def look_or_make() -> BaseResponse:
    """Show what was understood; with `do=make`, and if nothing is left to settle, make the job."""
    request.max_content_length = request.max_form_memory_size = MOST_FORM
    form = request.form
    unit = "mm" if form.get("unit") == "mm" else "in"
    typed = {"job": tidy(form.get("job", ""))[:LONGEST_NAME], "unit": unit, "text": form.get("text", "")}
    try:
        handed = _handed()
    except NoList as error:
        return _refused("office/cut_list.html", error, typed=typed)
    chosen = _chosen(form)
    seen = read_cut_list(handed.data, handed.name, unit=unit, columns=chosen)
    finished, unread = _finished(seen, form)
    if not typed["job"] and not handed.typed:
        typed["job"] = tidy(PurePath(handed.name.replace("\\", "/")).stem)[:LONGEST_NAME]
    shown = _shown(seen, handed, typed, chosen, form)
    if form.get("do") != "make" or not _makes(seen):
        # A list with faults is answered as what it is, so that a script can tell, too.
        status = 200 if _makes(seen) else 422
        answer = page("office/preview.html", **shown, trouble=unread if form.get("do") else "")
        answer.status_code = status
        return answer
    try:
        job = as_job(seen, typed["job"], key=_key(typed["job"]), finished=finished)
    except ShopError as error:
        return _refused("office/preview.html", unread or error, **shown)
    packs.save(job, note=f"cut list: {handed.name}")
    return redirect(url_for("office.job", key=job.key), 303)


def _refused(template: str, trouble: object, **shown: Any) -> Response:
    answer = page(template, **shown, trouble=trouble)
    answer.status_code = 400
    return answer


def _makes(seen: CutList) -> bool:
    """Whether a job can be made of it, as soon as the finished thickness of rough stock is given."""
    return seen.refusal is None and not seen.faults and bool(seen.lines)


def _handed() -> Handed:
    """The file, else the text, else what travelled with the preview.  Raises NoList."""
    file = request.files.get("file")
    if file is not None and file.filename:
        return Handed(file.read(), file.filename[:LONGEST_NAME], typed=False)
    text = request.form.get("text", "")
    if text.strip():
        return Handed(text.encode(), TYPED_IN, typed=True)
    if request.form.get("kept"):
        return Handed(_unpacked(request.form["kept"]), request.form.get("kept-name", "")[:LONGEST_NAME], typed=False)
    raise NoList("there is no file and no text", do="Choose a file, or type the list in.")


def _packed(data: bytes) -> str:
    return base64.b64encode(zlib.compress(data)).decode()


def _unpacked(text: str) -> bytes:
    try:
        packed = base64.b64decode(text, validate=True)
        opener = zlib.decompressobj()
        # One byte more than is allowed: the reader then refuses it as too large, and no more than that is unpacked.
        return opener.decompress(packed, MOST_BYTES + 1)
    except (binascii.Error, zlib.error, ValueError) as error:
        raise NoList("what was handed in got lost on the way", do="Hand in the file again.") from error


def _chosen(form: Mapping[str, str]) -> dict[int, Column | None]:
    """For which columns the person chose something else than what was recognised."""
    chosen: dict[int, Column | None] = {}
    for name, column in form.items():
        at = re.fullmatch(r"column-(\d{1,3})", name)
        if not at or column == form.get(f"was-{at[1]}", ""):
            continue
        chosen[int(at[1])] = Column(column) if column in set(Column) else None
    return chosen


def _finished(seen: CutList, form: Mapping[str, str]) -> tuple[dict[str, Length], str]:
    """The finished thickness for each rough stock of the list, and what is wrong with the first unreadable one.

    Nothing is wrong with a field that was not on the page, or that is empty while the list is only looked at.
    """
    found, trouble = {}, ""
    for stock in seen.stocks:
        text = form.get(f"finished {stock}", "")
        if not text.strip() and (form.get("do") != "make" or f"finished {stock}" not in form):
            continue
        try:
            found[stock] = read(text, "mm" if seen.unit in ("mm", "cm", "m") else "in", where=f"{stock}, finished")
        except ShopError as error:
            trouble = trouble or str(error)
    return found, trouble


def _key(name: str) -> str:
    """A key for a new job.  Raises NoName if it has no name, or the name of another one."""
    if not name:
        raise NoName("the job has no name", do="Give it one, like Choir cabinet.")
    there = jobs.all_jobs()
    if any(row.name.casefold() == name.casefold() for row in there):
        raise NoName(f"there is a job {name} already", do="Give this one another name.")
    return Keys(row.key for row in there).new(name, "job")


def _shown(
    seen: CutList,
    handed: Handed,
    typed: dict[str, str],
    chosen: Mapping[int, Column | None],
    form: Mapping[str, str],
) -> dict[str, Any]:
    """What the preview shows.  Sizes to 1/64, so that what was typed can be compared."""
    job = Job("", "", Unit.MM if seen.unit in ("mm", "cm", "m") else Unit.INCH, 64)
    lines = [
        {
            "row": line.row,
            "name": line.name,
            "quantity": f"{line.pieces} ({line.pairs} left, {line.pairs} right)" if line.pairs else line.pieces,
            "stock": line.stock,
            "size": size(line.thickness.nm if line.thickness else None, line.width.nm, line.length.nm, job),
            "species": line.species,
            "assembly": line.assembly,
            "note": line.note,
        }
        for line in seen.lines[:MOST_LINES_SHOWN]
    ]
    stacks = dict.fromkeys(line.assembly for line in seen.lines)
    return {
        "list": seen,
        "facts": _facts(seen),
        "lines": lines,
        "more": max(0, len(seen.lines) - MOST_LINES_SHOWN),
        "makes": _makes(seen),
        "unprintable": cannot_print(name for line in seen.lines for name in (line.name, line.assembly)),
        "stacks": [name or ("loose parts" if len(stacks) > 1 else "all parts") for name in stacks],
        "stocks": [{"stock": stock, "typed": form.get(f"finished {stock}", "")} for stock in seen.stocks],
        "columns": [
            {
                "index": heading.index,
                "text": heading.text or f"column {heading.index + 1}",
                "is": heading.column.value if heading.column else "",
                "was": form.get(f"was-{heading.index}", "")
                if heading.index in chosen
                else (heading.column.value if heading.column else ""),
                "unit": heading.unit,
            }
            for heading in seen.columns
            if heading.text or heading.column
        ],
        "choices": [column.value for column in Column],
        "kept": {
            "name": handed.name,
            "text": handed.data.decode() if handed.typed else None,
            "data": "" if handed.typed else _packed(handed.data),
        },
        "typed": typed,
    }


def _facts(seen: CutList) -> str:
    said = [seen.file]
    if seen.sheet:
        said.append(f"sheet {seen.sheet}")
    if seen.encoding and seen.delimiter:
        said.append(f"{seen.encoding}, split by {DELIMITER_NAMES[seen.delimiter]}")
    if seen.columns:
        said_by = "as its headings say" if seen.unit_from == "headings" else "as chosen here"
        said.append(f"sizes in {UNIT_NAMES.get(seen.unit, seen.unit)}, {said_by}")
    return "\u00a0· ".join(said)
