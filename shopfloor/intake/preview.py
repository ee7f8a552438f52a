"""What was understood of a cut list, before anything is made of it: lines, faults, warnings, rows that are no parts."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..errors import ShopError
from ..trade.length import Reading
from .headings import Heading


class UnreadableCutList(ShopError):
    """The list as a whole is no cut list: a column is missing, or it has no parts."""

    code = "unreadable-cut-list"


@dataclass(frozen=True)
class Remark:
    """One fault, or one warning: where it is, what is wrong, what would be accepted, and what was typed there.

    `column` is the heading as it stands in the file, or "" for the whole row.
    """

    row: int
    column: str
    says: str
    do: str = ""
    typed: str = ""

    @property
    def where(self) -> str:
        return f"row {self.row}, {self.column}" if self.column else f"row {self.row}"

    def __str__(self) -> str:
        end = "" if self.says.endswith("?") else "."
        return f"{self.where}: {self.says}{end} {self.do}".rstrip()


@dataclass(frozen=True)
class Skipped:
    """A row that is no part, and what it is: blank, a title, headings, a total."""

    row: int
    says: str


@dataclass(frozen=True)
class ListedLine:
    """A row that becomes parts.  `pairs` is how many left and right ones there are, 0 for parts without a hand.

    `thickness` is None where the list names rough stock (`stock` is then "4/4"): its finished thickness is asked for.
    `kept` holds what stands in columns that we do not know, by their headings.
    """

    row: int
    name: str
    pieces: int
    pairs: int
    thickness: Reading | None
    width: Reading
    length: Reading
    stock: str = ""
    species: str = ""
    assembly: str = ""
    note: str = ""
    code: str = ""
    kept: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class CutList:
    """A cut list as it was understood.

    `refusal` says why the file as a whole was refused; then there are no lines.  `columns` are all headings of the
    file, left to right, each with the column that it was taken for or None (kept).  `unit` is what a bare number
    means, `unit_from` is "headings" or "asked".  `encoding` and `delimiter` are None for a workbook.
    """

    file: str
    unit: str
    unit_from: str = "asked"
    lines: tuple[ListedLine, ...] = ()
    faults: tuple[Remark, ...] = ()
    warnings: tuple[Remark, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    refusal: ShopError | None = None
    columns: tuple[Heading, ...] = ()
    heading_row: int = 0
    encoding: str | None = None
    delimiter: str | None = None
    sheet: str = ""
    notes: tuple[str, ...] = ()

    @property
    def pieces(self) -> int:
        return sum(line.pieces for line in self.lines)

    @property
    def kept(self) -> tuple[str, ...]:
        """Headings of the columns that we do not know."""
        return tuple(heading.text for heading in self.columns if heading.column is None and heading.text)

    @property
    def stocks(self) -> tuple[str, ...]:
        """The rough stock that stands for a thickness, each once: its finished thickness must be given."""
        return tuple(dict.fromkeys(line.stock for line in self.lines if line.thickness is None))

    @property
    def ready(self) -> bool:
        """True if a job can be made of it as it is: nothing refused, nothing left to ask."""
        return self.refusal is None and not self.faults and bool(self.lines) and not self.stocks
