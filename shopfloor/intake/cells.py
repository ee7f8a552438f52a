"""What is a table, once it is read: rows of cells, as the person saw them, and how large it may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..errors import ShopError
from .headings import tidy

MOST_BYTES = 5_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 200

WANTED = "Save the list as CSV or as a workbook (.xlsx)."


class UnreadableTable(ShopError):
    """The file as a whole cannot be read as a table."""

    code = "unreadable-table"


class Cell(NamedTuple):
    """One cell as the person saw it.

    `kind` is "" for text, "number", "date", "formula" (a formula without a result) or "result" (what a spreadsheet
    worked out by a formula).  `unit` is a unit that only the number format of the cell shows.
    """

    text: str
    kind: str = ""
    unit: str = ""


NO_CELL = Cell("")


@dataclass(frozen=True)
class Table:
    """The cells of a file.  Row n stands at `rows[n - 1]`; empty cells at the end of a row are left off.

    `encoding` and `delimiter` are None for a workbook, `sheet` is "" for text.  `notes` are sentences about the file
    that a person should see.
    """

    rows: tuple[tuple[Cell, ...], ...]
    encoding: str | None = None
    delimiter: str | None = None
    sheet: str = ""
    notes: tuple[str, ...] = ()


def trimmed(rows: list[tuple[Cell, ...]]) -> tuple[tuple[Cell, ...], ...]:
    """Rows without the empty ones at the end, checked against what a cut list can be."""
    while rows and not rows[-1]:
        rows.pop()
    if not rows:
        raise UnreadableTable("nothing is written in this file", do=WANTED)
    if len(rows) > MOST_ROWS:
        raise UnreadableTable(
            f"this list has {len(rows):,} rows, a cut list at most {MOST_ROWS:,}",
            do="Hand in one piece of work at a time.",
        )
    return tuple(rows)


def row_of(cells: Sequence[Cell], number: int) -> tuple[Cell, ...]:
    """A row without the empty cells at its end.  Raises UnreadableTable if it is wider than a cut list can be."""
    end = len(cells)
    while end and not cells[end - 1].text.strip():
        end -= 1
    if end > MOST_COLUMNS:
        raise UnreadableTable(
            f"{end:,} columns, a cut list has at most {MOST_COLUMNS}", where=f"row {number}", do="Leave out the others."
        )
    return tuple(cells[:end])


def any_text(cells: Sequence[Cell]) -> bool:
    """Whether anything that can be seen stands in these cells."""
    return any(tidy(cell.text) for cell in cells)
