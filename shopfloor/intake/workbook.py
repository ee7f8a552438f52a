"""What stands in this workbook?  One sheet of an .xlsx file, each cell as the spreadsheet showed it.

Nothing in it is ever executed: where a formula stands, the result that the spreadsheet kept is taken and marked.
Source: ECMA-376 part 1, SpreadsheetML.
"""

from __future__ import annotations

import datetime
import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import openpyxl

from .cells import MOST_ROWS, NO_CELL, WANTED, Cell, Table, UnreadableTable, row_of, trimmed
from .headings import tidy, unit_named

MOST_UNPACKED = 60_000_000
"""Bytes.  A list of 20,000 rows and ten columns unpacks to about 15 million."""
MOST_CELLS = 3_000_000
"""Cells looked at, blank ones too: a sheet can claim a far corner in every row."""
LAST_ROW = 1_048_576
"""The last row that a sheet can have (ECMA-376)."""

BROKEN = "this workbook is damaged"
_LITERAL = re.compile(r'"([^"]*)"|\\(.)|\[[^\]]*\]')
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")
_WORKBOOK = re.compile(r"xl/workbook\d*\.xml", re.IGNORECASE)
_SHEET_NAME = re.compile(r"xl/worksheets/[^/]+\.xml", re.IGNORECASE)


def read_workbook(data: bytes) -> Table:
    """The cells of the first sheet that shows and holds anything.

    Raises UnreadableTable, one sentence, for a broken or locked file, for one that unpacks to more than a cut list
    can be, and for other kinds of packed file.
    """
    try:
        has_formulas = _inspected(data)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # openpyxl warns of parts it leaves out; a table needs none of them
            return _read(data, has_formulas)
    except UnreadableTable:
        raise
    except (MemoryError, RecursionError):
        raise
    except Exception as err:
        # openpyxl meets a damaged file with whatever error comes first: KeyError, ValueError, ParseError ...
        raise UnreadableTable(BROKEN, do=f"Open it in a spreadsheet and save it again. {WANTED}") from err


def _inspected(data: bytes) -> bool:
    """Look into the package before any of it is parsed; say whether a sheet of it holds formulas."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            members = package.infolist()
            names = {member.filename for member in members}
            if any(member.flag_bits & 1 for member in members):
                raise UnreadableTable("this workbook is locked with a password", do="Save it without one.")
            # No member gives more than it claims: reading stops there, and its checksum fails.
            if sum(member.file_size for member in members) > MOST_UNPACKED or len(members) > 2_000:
                raise UnreadableTable("this workbook unpacks to far more than a cut list", do=WANTED)
            if not any(_WORKBOOK.fullmatch(name) for name in names):
                raise UnreadableTable(f"this is {_other_package(package, names)}, not a workbook (.xlsx)", do=WANTED)
            has_formulas = False
            for member in members:
                if member.filename.endswith((".xml", ".rels")):
                    xml = package.read(member)
                    if b"<!DOCTYPE" in xml.replace(b"\0", b""):
                        raise UnreadableTable("this workbook holds definitions that no spreadsheet writes", do=WANTED)
                    if _SHEET_NAME.fullmatch(member.filename) and _FORMULA.search(xml):
                        has_formulas = True
            return has_formulas
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError) as err:
        raise UnreadableTable(BROKEN, do=f"Send it once more, or save it again. {WANTED}") from err


def _other_package(package: zipfile.ZipFile, names: set[str]) -> str:
    if "xl/workbook.bin" in names:
        return "a workbook in the binary form (.xlsb)"
    if "mimetype" in names and b"opendocument.spreadsheet" in package.read("mimetype")[:100]:
        return "a workbook in the OpenDocument form (.ods)"
    if "word/document.xml" in names:
        return "a text document"
    return "a packed file"


def _read(data: bytes, has_formulas: bool) -> Table:
    shown = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
    sheets = [sheet for sheet in shown.worksheets if sheet.sheet_state == "visible"]
    for at, sheet in enumerate(sheets):
        formulas = None
        if has_formulas:
            typed = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
            formulas = typed[sheet.title]
        rows = _rows(sheet, formulas)
        if rows:
            others = ", ".join(f"“{tidy(other.title)}”" for other in sheets[at + 1 :])
            notes = (f"Only the sheet “{tidy(sheet.title)}” was read, not {others}.",) if others else ()
            return Table(rows, sheet=tidy(sheet.title), notes=notes)
    raise UnreadableTable("nothing is written in this workbook", do=WANTED)


def _rows(sheet: Any, formulas: Any) -> tuple[tuple[Cell, ...], ...]:
    """The rows of one sheet.  `formulas` is the same sheet read with its formulas, or None if there are none."""
    rows: list[tuple[Cell, ...]] = []
    seen = 0
    for number, cells, typed in _together(sheet, formulas):
        seen += len(cells) + 1
        if seen > MOST_CELLS + LAST_ROW or number > LAST_ROW:
            raise UnreadableTable("this sheet is larger than any cut list", do="Delete the empty rows and columns.")
        row = row_of([_cell(cell, typed[i] if i < len(typed) else None) for i, cell in enumerate(cells)], number)
        if row:
            if number > MOST_ROWS:
                return trimmed([*rows, *[()] * (number - 1 - len(rows)), row])  # says how many rows are too many
            rows.extend([()] * (number - 1 - len(rows)))
            rows.append(row)
    return tuple(rows)


def _together(sheet: Any, formulas: Any) -> Iterator[tuple[int, Any, Any]]:
    # A sheet says itself how large it is, and often wrongly; what is really there is read instead.
    sheet.reset_dimensions()
    if formulas is None:
        for number, cells in enumerate(sheet.iter_rows(), start=1):
            yield number, cells, ()
        return
    formulas.reset_dimensions()
    for number, (cells, typed) in enumerate(zip(sheet.iter_rows(), formulas.iter_rows(), strict=False), start=1):
        yield number, cells, typed


def _cell(cell: Any, typed: Any) -> Cell:
    """One cell as the person saw it."""
    value = cell.value
    is_formula = typed is not None and typed.data_type == "f"
    if value is None:
        return Cell(str(typed.value), "formula") if is_formula else NO_CELL
    if isinstance(value, str):
        return Cell(value, "result" if is_formula else "")
    if isinstance(value, bool):
        return Cell(str(value).upper())
    if isinstance(value, int | float):
        form = cell.number_format or ""
        return Cell(_digits(value, form), "result" if is_formula else "number", _unit_shown(form))
    if isinstance(value, datetime.datetime | datetime.date):
        return Cell(_date_shown(value, cell.number_format or ""), "date")
    return Cell(str(value), "date")


def _digits(value: int | float, form: str) -> str:
    """A number as exact digits: what the file holds, never what a float makes of it.

    A format of noughts only, as used for codes, fills up: 7 shown by "000" is 007.
    """
    if isinstance(value, float) and not value.is_integer():
        return format(Decimal(repr(value)), "f")
    digits = format(Decimal(repr(value)).to_integral_value(), "f") if abs(value) < 1e300 else repr(value)
    if re.fullmatch("0{2,12}", form) and value >= 0:
        return digits.zfill(len(form))
    return digits


def _unit_shown(form: str) -> str:
    """The unit that a number format writes behind the number: 0" mm" shows 605 as 605 mm."""
    literal = "".join(found[1] or found[2] or "" for found in _LITERAL.finditer(form.split(";")[0]))
    return unit_named(literal)


def _date_shown(value: datetime.datetime | datetime.date, form: str) -> str:
    month = _MONTHS[value.month - 1]
    shown = form.casefold()
    if "d" not in shown and "y" in shown:
        return f"{month}-{value.year % 100:02d}"
    if "y" in shown:
        return f"{value.year:04d}-{value.month:02d}-{value.day:02d}"
    return f"{value.day}-{month}"


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
