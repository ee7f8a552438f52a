"""What does this cut list say?  A CSV or a workbook in, a preview out: every fault at once, nothing made yet.

`read_cut_list` never changes what was typed and never swaps, merges or drops a row by itself: what looks wrong is
said beside the row.  `as_job` (into_job.py) makes the job once the person agrees.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..errors import ShopError
from ..trade.length import Count, Reading, UnreadableLength, read_count, read_size
from .cells import NO_CELL, Cell, Table
from .headings import NEEDED, SIZES, Column, Heading, plain, recognised, tidy, unit_named
from .into_job import as_job
from .preview import CutList, ListedLine, Remark, Skipped, UnreadableCutList
from .second_look import second_look
from .table import read_table

__all__ = ["Column", "CutList", "ListedLine", "Remark", "Skipped", "as_job", "read_cut_list", "template"]

LOOKED_AT = 40
"""Rows in which the headings are looked for: a title and a few lines about the job may stand above them."""
MOST_OF_A_LINE = 2_000
MOST_PIECES = 20_000
"""Pieces of one line, and of a whole list.  More is a slip of the finger, and would be as many labels."""

_TOTAL = re.compile(r"(?:grand |sub ?)?totals?\b|sum\b|summe\b|gesamt|totaux\b", re.IGNORECASE)
_GUARDED = re.compile(r"'(?=[=+\-@\t\r])")
_HAS_UNIT = re.compile(r"[^\W\d_]|[\"'″′”’]")
_METRIC = {"mm", "cm", "m"}

EXAMPLES = {
    Column.NAME: "Write what it is called, like Front rail.",
    Column.QUANTITY: "Write how many are needed, like 4.",
    Column.THICKNESS: "Write the finished thickness, like 3/4.",
    Column.WIDTH: "Write the finished width, like 2 1/4.",
    Column.LENGTH: "Write the finished length, like 28.",
}


def template() -> str:
    """A cut list to fill in, as CSV text: the headings and two example lines."""
    rows = (
        ("Part", "Qty", "Thickness (in)", "Width (in)", "Length (in)", "Species", "Assembly", "Notes"),
        ("Front leg", "2 pr", "1 5/8", "1 5/8", "34 1/2", "cherry", "Legs", "turn the best faces out"),
        ("Top rail", "2", "7/8", "2 1/4", "17 3/4", "cherry", "Left side", ""),
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
    first, last, headings = _headings(table, chosen)
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
        names = " and ".join(f"no {column.title()} column" for column in missing)
        listed = ", ".join(heading.text for heading in headings if heading.text)
        return replace(
            seen,
            refusal=UnreadableCutList(names, where=f"row {last}", do=f"The headings found are: {listed}."),
        )
    reader = _Rows(seen, headings)
    for number, cells in enumerate(table.rows, start=1):
        if number < first:
            reader.skip(number, "title" if _any_text(cells) else "blank")
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
    warnings = [*_about_columns(seen, asked), *reader.warnings, *second_look(reader.lines, _names(headings))]
    return replace(
        seen,
        lines=tuple(reader.lines),
        faults=tuple(reader.faults),
        warnings=tuple(sorted(warnings, key=lambda remark: remark.row)),
        skipped=tuple(reader.skipped),
    )


# --- headings ----------------------------------------------------------------------------------------------------


def _headings(table: Table, chosen: Mapping[int, Column | None]) -> tuple[int, int, tuple[Heading, ...]]:
    """The first and the last row of the headings (two where they are merged), and every heading, left to right."""
    best: tuple[int, int, int, list[str], tuple[Heading, ...]] = (0, 1, 1, [], ())
    texts = [[cell.text for cell in row] for row in table.rows[: LOOKED_AT + 1]]
    for index, row in enumerate(texts[:LOOKED_AT]):
        known = recognised(row)
        if len(known) > best[0]:
            best = len(known), index + 1, index + 1, row, known
        under = texts[index + 1] if index + 1 < len(texts) else []
        if known and recognised(under):
            both = _merged(row, under)
            known = recognised(both)
            if len(known) > best[0]:
                best = len(known), index + 1, index + 2, both, known
    count, first, last, row, known = best
    if count < 2:
        at = next((number for number, cells in enumerate(table.rows, start=1) if _any_text(cells)), 1)
        raise UnreadableCutList(
            "no headings that name the columns",
            where=f"row {at}",
            do="Begin with a row such as: Part, Qty, Thickness, Width, Length, Species.",
        )
    taken = {heading.index: heading for heading in known}
    width = max(len(row), max((len(cells) for cells in table.rows), default=0))
    headings = [taken.get(i, Heading(i, tidy(row[i]) if i < len(row) else "")) for i in range(width)]
    for index, column in chosen.items():
        if not 0 <= index < width:
            continue
        headings = [replace(one, column=None) if column and one.column is column else one for one in headings]
        named_unit = plain(headings[index].text)[1] if column in SIZES else ""
        headings[index] = replace(headings[index], column=column, unit=named_unit, guessed=False)
    return first, last, tuple(headings)


def _merged(over: Sequence[str], under: Sequence[str]) -> list[str]:
    """Headings on two rows as one.  "Finished size (mm)" over T, W, L belongs to all three."""
    both = []
    group = ""
    for index in range(max(len(over), len(under))):
        top = over[index] if index < len(over) else ""
        bottom = under[index] if index < len(under) else ""
        if top.strip():
            group = top
        if not bottom.strip():
            both.append(top)
            continue
        unit = plain(bottom)[1] or plain(group)[1]
        alone = f"{bottom} ({unit})" if unit and not plain(bottom)[1] else bottom
        # "Rough size" over T, W, L is not the size that the part gets.
        whole = f"{plain(group)[0]} {alone}"
        both.append(
            alone if recognised([whole]) or not re.search(r"\b(?:rough|gross|roh|brut)", group, re.I) else whole
        )
    return both


def _names(headings: Sequence[Heading]) -> dict[Column, str]:
    return {heading.column: heading.text or heading.column.title() for heading in headings if heading.column}


def _about_columns(seen: CutList, asked: str) -> list[Remark]:
    """What is said about whole columns, in the row of the headings."""
    remarks = []
    with_unit = next((one for one in seen.columns if one.unit), None)
    several = len({one.unit for one in seen.columns if one.unit}) > 1
    for heading in seen.columns:
        says = ""
        if heading.guessed:
            says = f"taken as the {heading.column}: is it?"
        elif heading.column is Column.NOTES:
            says = "kept as a note with the parts, not understood"
        elif heading.column is None and heading.text:
            says = "kept as it is, not understood"
        elif heading.column in SIZES and not heading.unit and with_unit and (several or seen.unit != asked):
            says = f"names no unit: read as {seen.unit}" + (f", like {with_unit.text}" if not several else "")
        if says:
            remarks.append(Remark(seen.heading_row, heading.text, says))
    return remarks


# --- rows --------------------------------------------------------------------------------------------------------


class _Rows:
    """Takes the rows below the headings one by one, and sorts them into lines, faults, warnings and skipped ones."""

    def __init__(self, seen: CutList, headings: Sequence[Heading]) -> None:
        self.seen = seen
        self.headings = headings
        self.at = {heading.column: heading for heading in headings if heading.column}
        self.names = _names(headings)
        self.lines: list[ListedLine] = []
        self.faults: list[Remark] = []
        self.warnings: list[Remark] = []
        self.skipped: list[Skipped] = []
        self.read: dict[tuple[str, str, Column], Reading] = {}  # lists say the same sizes over and over

    def skip(self, row: int, says: str) -> None:
        self.skipped.append(Skipped(row, says))

    def take(self, row: int, cells: tuple[Cell, ...]) -> None:
        if not _any_text(cells):
            return self.skip(row, "blank")
        if self._is_headings(cells):
            return self.skip(row, "heading again")
        if self._is_total(cells):
            return self._total(row, cells)
        faults = len(self.faults)
        line = self._line(row, cells)
        if line is not None and len(self.faults) == faults:
            self.lines.append(line)
        return None

    def _cell(self, cells: tuple[Cell, ...], column: Column) -> Cell:
        heading = self.at.get(column)
        return cells[heading.index] if heading is not None and heading.index < len(cells) else NO_CELL

    def _text(self, cells: tuple[Cell, ...], column: Column) -> str:
        return _unguarded(self._cell(cells, column).text)

    def _fault(self, row: int, column: Column, says: str, do: str, typed: str = "") -> None:
        self.faults.append(Remark(row, self.names.get(column, ""), says, do, tidy(typed)[:200]))

    def _is_headings(self, cells: tuple[Cell, ...]) -> bool:
        same = sum(tidy(self._cell(cells, column).text) == heading.text for column, heading in self.at.items())
        return same >= 3

    def _is_total(self, cells: tuple[Cell, ...]) -> bool:
        first = next(cell.text for cell in cells if tidy(cell.text))
        return sum(bool(self._text(cells, column)) for column in SIZES) < 2 and bool(_TOTAL.match(tidy(first)))

    def _total(self, row: int, cells: tuple[Cell, ...]) -> None:
        """A total is checked against the rows above it, and never imported."""
        typed = self._text(cells, Column.QUANTITY)
        pieces = sum(line.pieces for line in self.lines)
        if not re.fullmatch(r"\d{1,9}", typed):
            return self.skip(row, "total, without a number of pieces")
        if self.faults:
            return self.skip(row, f"total: {typed} pieces; not checked, rows above are refused")
        if int(typed) == pieces:
            return self.skip(row, f"total: {typed} pieces, agrees")
        self.skip(row, f"total: {typed} pieces, does not agree: the rows above have {pieces}")
        says = f"the total says {typed} pieces, the rows above have {pieces}"
        self.warnings.append(Remark(row, self.names[Column.QUANTITY], says, "One of the two is wrong.", typed))
        return None

    def _line(self, row: int, cells: tuple[Cell, ...]) -> ListedLine | None:
        name = self._text(cells, Column.NAME)
        if name and not any(self._text(cells, column) for column in (Column.QUANTITY, *SIZES)):
            do = "Fill them in, or take the row out; the name of an assembly belongs in a column Assembly."
            self._fault(row, Column.NAME, "neither quantity nor sizes", do, name)
            return None
        if not name:
            self._fault(row, Column.NAME, "no name", EXAMPLES[Column.NAME])
        count = self._count(row, self._cell(cells, Column.QUANTITY))
        sizes = {column: self._size(row, column, cells) for column in SIZES}
        thickness, width, length = (sizes[column] for column in SIZES)
        if count is None or thickness is None or width is None or length is None or not name:
            return None
        notes = [self._text(cells, Column.NOTES)]
        notes += [f"{column} {reading.note}" for column, reading in sizes.items() if reading and reading.note]
        stock = thickness.stock or ""
        return ListedLine(
            row=row,
            name=name,
            pieces=count.pieces,
            pairs=count.pieces // 2 if count.hands else 0,
            thickness=None if stock else thickness,
            width=width,
            length=length,
            stock=stock,
            species=self._text(cells, Column.SPECIES),
            assembly=self._text(cells, Column.ASSEMBLY),
            note="; ".join(note for note in notes if note),
            code=self._text(cells, Column.CODE),
            kept={
                heading.text or f"column {heading.index + 1}": _unguarded(cells[heading.index].text)
                for heading in self.headings
                if heading.column in (None, Column.UNIT)
                and heading.index < len(cells)
                and cells[heading.index].text.strip()
            },
        )

    def _count(self, row: int, cell: Cell) -> Count | None:
        column = Column.QUANTITY
        where = f"row {row}, {self.names[column]}"
        if cell.kind in ("date", "formula"):
            self._fault(row, column, f"a {cell.kind}, not a quantity", EXAMPLES[column], cell.text)
            return None
        try:
            count = read_count(cell.text, where=where)
        except ShopError as err:
            self._fault(row, column, err.what, err.do, cell.text)
            return None
        if count.pieces > MOST_OF_A_LINE:
            self._fault(row, column, f"more than {MOST_OF_A_LINE:,} of one part", EXAMPLES[column], cell.text)
            return None
        return count

    def _size(self, row: int, column: Column, cells: tuple[Cell, ...]) -> Reading | None:
        cell = self._cell(cells, column)
        heading = self.names[column]
        text = cell.text
        if not tidy(text):
            self._fault(row, column, f"no {column}", EXAMPLES[column])
            return None
        if cell.kind == "formula":
            self._fault(
                row,
                column,
                "a formula without a result",
                "Save the workbook in a spreadsheet, or write the size.",
                text,
            )
            return None
        unit = self._unit(row, column, cells)
        if cell.unit:
            text = f"{text} {cell.unit}"
            self.warnings.append(
                Remark(row, heading, f"read as {text}: only the cell's format says {cell.unit}", typed=text)
            )
        elif unit not in ("in", "mm") and not _HAS_UNIT.search(text):
            text = f"{text} {unit}"
        key = (text, "mm" if unit in _METRIC else "in", column)
        try:
            reading = self.read.get(key) or read_size(text, key[1], column.title(), f"row {row}, {heading}")
        except UnreadableLength as err:
            self._fault(row, column, err.what, err.do, text)
            return None
        if cell.kind == "date":  # shown by its number format as something that reads as a number
            self._fault(row, column, "a date, not a size", EXAMPLES[column], text)
            return None
        self.read[key] = reading
        if cell.kind == "result":
            self.warnings.append(
                Remark(row, heading, "worked out by a formula; taken as the spreadsheet last showed it", typed=text)
            )
        if reading.stock:
            self.warnings.append(
                Remark(row, heading, f"{reading.stock} is rough stock: finished thickness?", typed=text)
            )
        else:
            self.warnings.extend(Remark(row, heading, says, typed=text) for says in reading.warnings)
        return reading

    def _unit(self, row: int, column: Column, cells: tuple[Cell, ...]) -> str:
        """What a bare number means: the row's unit, the column's, or the list's."""
        return unit_named(self._text(cells, Column.UNIT)) or self.at[column].unit or self.seen.unit


def _any_text(cells: tuple[Cell, ...]) -> bool:
    return any(tidy(cell.text) for cell in cells)


def _unguarded(text: str) -> str:
    """A text on one line, without the apostrophe that a careful export puts before =, +, - and @."""
    return tidy(_GUARDED.sub("", text, count=1) if text.startswith("'") else text)
