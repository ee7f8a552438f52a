"""What does this cut list say?  A CSV or a workbook in, a preview out: every fault at once, nothing made yet.

`read_cut_list` never changes what was typed and never swaps, merges or drops a row by itself: what looks wrong is
said beside the row.  `as_job` (into_job.py) makes the job once the person agrees.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import replace

from ..errors import ShopError
from .cells import Table, any_text
from .columns import about_columns, find_headings, names
from .headings import NEEDED, SIZES, Column, tidy
from .into_job import as_job
from .preview import CutList, ListedLine, Remark, Skipped, UnreadableCutList
from .rows import Rows
from .second_look import second_look
from .table import read_table

__all__ = ["Column", "CutList", "ListedLine", "Remark", "Skipped", "as_job", "read_cut_list", "template"]

MOST_PIECES = 20_000
"""Pieces of a whole list.  More is a slip of the finger, and would be as many labels."""


def template() -> str:
    """A cut list to fill in, as CSV text: the headings and two example lines."""
    # With its inch mark a fraction stays text: a spreadsheet would turn a bare 7/8 into the 7th of August.
    rows = (
        ("Part", "Qty", "Thickness", "Width", "Length", "Species", "Assembly", "Notes"),
        ("Front leg", "2 pr", '1 5/8"', '1 5/8"', '34 1/2"', "cherry", "Legs", "turn the best faces out"),
        ("Top rail", "2", '7/8"', '2 1/4"', '17 3/4"', "cherry", "Left side", ""),
    )
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue()


def read_cut_list(
    data: bytes, name: str, *, unit: str = "in", columns: Mapping[int, Column | None] | None = None
) -> CutList:
    """What the file says.  Raises nothing that the file can cause: a refusal stands in the preview.

    `unit` ("in" or "mm") is what a bare number means where no heading says it.  `columns` is what the person chose on
    the preview: for a column by its index from 0, what it holds, or None to keep it as it is.
    """
    if unit not in ("in", "mm"):
        raise ValueError(f"{unit!r} is not a unit to think in: in or mm")
    try:
        table = read_table(data)
    except ShopError as err:
        return CutList(tidy(name), unit, refusal=err)
    seen = CutList(
        tidy(name), unit, encoding=table.encoding, delimiter=table.delimiter, sheet=table.sheet, notes=table.notes
    )
    try:
        return _read(table, seen, columns or {})
    except UnreadableCutList as err:
        return replace(seen, refusal=err)


def _read(table: Table, seen: CutList, chosen: Mapping[int, Column | None]) -> CutList:
    first, last, headings = find_headings(table, chosen)
    units = {heading.unit for heading in headings if heading.column in SIZES and heading.unit}
    unit, asked = (units.pop() if len(units) == 1 else ""), seen.unit
    seen = replace(
        seen,
        columns=headings,
        heading_row=last,
        unit=unit or seen.unit,
        unit_from="headings" if unit else "asked",
    )
    missing = [column for column in NEEDED if not any(heading.column is column for heading in headings)]
    if missing:
        says = " and ".join(f"no {column.title()} column" for column in missing)
        listed = ", ".join(heading.text for heading in headings if heading.text)
        return replace(
            seen,
            refusal=UnreadableCutList(says, where=f"row {last}", do=f"The headings found are: {listed}."),
        )
    reader = Rows(seen, headings)
    for number, cells in enumerate(table.rows, start=1):
        if number < first:
            reader.skip(number, "title" if any_text(cells) else "blank")
        elif number <= last:
            reader.skip(number, "headings")
        else:
            reader.take(number, cells)
    if not reader.lines and not reader.faults:
        return replace(
            seen,
            skipped=tuple(reader.skipped),
            refusal=UnreadableCutList(
                "no parts", where=seen.file, do="Below the headings, write one line for each part."
            ),
        )
    if sum(line.pieces for line in reader.lines) > MOST_PIECES:
        raise UnreadableCutList(f"more than {MOST_PIECES:,} pieces", where=seen.file, do="Look at the quantities.")
    warnings = [*about_columns(seen, asked), *reader.warnings, *second_look(reader.lines, names(headings))]
    return replace(
        seen,
        lines=tuple(reader.lines),
        faults=tuple(reader.faults),
        warnings=tuple(sorted(warnings, key=lambda remark: remark.row)),
        skipped=tuple(reader.skipped),
    )
