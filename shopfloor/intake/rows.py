"""Is this row a line of the cut list, and what does it say?  Or is it blank, a heading again, or a total?"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..errors import ShopError
from ..trade.length import Count, Reading, UnreadableLength, read_count, read_size
from .cells import NO_CELL, Cell, any_text
from .columns import names
from .headings import SIZES, Column, Heading, has_unseen, tidy, unit_named
from .preview import CutList, ListedLine, Remark, Skipped

_TOTAL = re.compile(r"(?:grand |sub ?)?totals?\b|sum\b|summe\b|gesamt|totaux\b", re.IGNORECASE)
_GUARDED = re.compile(r"'(?=[=+\-@\t\r])")
_HAS_UNIT = re.compile(r"[^\W\d_]|[\"'″′”’]")
_METRIC = {"mm", "cm", "m"}

WORDS = (Column.NAME, Column.SPECIES, Column.ASSEMBLY, Column.NOTES, Column.CODE)
"""The columns whose words come to stand on paper as they are."""

EXAMPLES = {
    Column.NAME: "Write what it is called, like Front rail.",
    Column.QUANTITY: "Write how many are needed, like 4.",
    Column.THICKNESS: "Write the finished thickness, like 3/4.",
    Column.WIDTH: "Write the finished width, like 2 1/4.",
    Column.LENGTH: "Write the finished length, like 28.",
}


class Rows:
    """Takes the rows below the headings one by one, and sorts them into lines, faults, warnings and skipped ones."""

    def __init__(self, seen: CutList, headings: Sequence[Heading]) -> None:
        self.seen = seen
        self.headings = headings
        self.at = {heading.column: heading for heading in headings if heading.column}
        self.names = names(headings)
        self.lines: list[ListedLine] = []
        self.faults: list[Remark] = []
        self.warnings: list[Remark] = []
        self.skipped: list[Skipped] = []
        self.read: dict[tuple[str, str, Column], Reading] = {}  # lists say the same sizes over and over

    def skip(self, row: int, says: str) -> None:
        self.skipped.append(Skipped(row, says))

    def take(self, row: int, cells: tuple[Cell, ...]) -> None:
        if not any_text(cells):
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
        self._unseen(row, cells)
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
            kept=self._kept(cells),
        )

    def _unseen(self, row: int, cells: tuple[Cell, ...]) -> None:
        for column in WORDS:
            cell = self._cell(cells, column)
            if has_unseen(cell.text):
                says = "characters that nobody sees were taken out, such as marks that turn the text round"
                self.warnings.append(Remark(row, self.names[column], says, typed=tidy(cell.text)[:200]))

    def _kept(self, cells: tuple[Cell, ...]) -> dict[str, str]:
        """What stands in the columns that we do not know; a heading that comes twice is told apart by its column."""
        kept: dict[str, str] = {}
        for heading, cell in zip(self.headings, cells, strict=False):
            text = _unguarded(cell.text)
            if text and heading.column in (None, Column.UNIT):
                name = heading.text or f"column {heading.index + 1}"
                kept[f"{name} (column {heading.index + 1})" if name in kept else name] = text
        return kept

    def _count(self, row: int, cell: Cell) -> Count | None:
        column = Column.QUANTITY
        where = f"row {row}, {self.names[column]}"
        if cell.kind in ("date", "formula"):
            self._fault(row, column, f"a {cell.kind}, not a quantity", EXAMPLES[column], cell.text)
            return None
        try:
            return read_count(cell.text, where=where)
        except ShopError as err:
            self._fault(row, column, err.what, err.do, cell.text)
            return None

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


def _unguarded(text: str) -> str:
    """A text on one line, without the apostrophe that a careful export puts before =, +, - and @."""
    return tidy(_GUARDED.sub("", text, count=1) if text.startswith("'") else text)
