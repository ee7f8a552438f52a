"""Where do labels lie on a page?  Sheets of labels by their size, one label a page for label printers, and custom ones.

Sheets are named by paper and grid ("a4-3x8": three across, eight down), single labels by their size in millimetres
("57x32").  Measure your own stock before the first print: it is the width, the height and the margins that count.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..errors import ShopError
from ..trade.length import Length

MM: Length = 1_000_000
INCH: Length = 25_400_000

OFFICE_DPI = Fraction(300)
"""Whole dots at 300 to the inch are whole dots at 600 and 1200, too: every office printer."""

ROLL_DPI = Fraction(1016, 5)
"""Label printers called "203 dpi" have 8 dots to the millimetre, 203.2 to the inch."""

UNPRINTABLE: Length = 4_500_000
"""Office printers leave about 4.2 mm along the paper's edge white; nothing of a label may lie there."""


class UnknownSheet(ShopError):
    """No sheet has that name."""

    code = "unknown-sheet"


class SheetOverrun(ShopError):
    """The grid of labels is larger than its paper."""

    code = "sheet-overrun"


@dataclass(frozen=True)
class Sheet:
    """A page of labels, all sizes in nanometres.

    `left` and `top` are the margins to the first label, `gap_x` and `gap_y` the space between two.  `pad` is what stays
    blank inside each label's edge, `edge` what stays blank along the paper's edge.  Raises SheetOverrun.
    """

    name: str
    page_width: Length
    page_height: Length
    width: Length
    height: Length
    columns: int = 1
    rows: int = 1
    left: Length = 0
    top: Length = 0
    gap_x: Length = 0
    gap_y: Length = 0
    pad: Length = 1_500_000
    edge: Length = UNPRINTABLE
    dpi: Fraction = OFFICE_DPI

    def __post_init__(self) -> None:
        across = self.left + self.columns * (self.width + self.gap_x) - self.gap_x
        down = self.top + self.rows * (self.height + self.gap_y) - self.gap_y
        if self.columns < 1 or self.rows < 1 or min(self.width, self.height) <= 0:
            raise SheetOverrun("a sheet has at least one label", where=self.name, do="Give columns, rows and sizes.")
        if across > self.page_width or down > self.page_height:
            raise SheetOverrun(
                f"the labels take {_mm(across)} x {_mm(down)} mm of a page of {_mm(self.page_width)} x "
                f"{_mm(self.page_height)} mm",
                where=self.name,
                do="Give fewer labels, smaller ones, or smaller margins and gaps.",
            )

    @property
    def places(self) -> int:
        """Labels on one page."""
        return self.columns * self.rows

    @property
    def says(self) -> str:
        """The sheet in words, for a list to choose from."""
        size = f"{_mm(self.width)} x {_mm(self.height)} mm"
        if self.places == 1:
            return f"one label a page, {size}"
        paper = "A4" if self.page_height == 297 * MM else "Letter" if self.page_height == 11 * INCH else "page"
        return f"{paper}, {self.columns} across, {self.rows} down, {size}"

    def corner(self, place: int) -> tuple[Length, Length]:
        """Lower left corner of the label at that place (0: top left, then along the rows), from the page's own."""
        row, column = divmod(place, self.columns)
        x = self.left + column * (self.width + self.gap_x)
        y = self.page_height - self.top - row * (self.height + self.gap_y) - self.height
        return x, y

    @property
    def insets(self) -> tuple[Length, Length, Length, Length]:
        """What stays blank inside every label: left, top, right, bottom.  The same for all, so that all look alike."""
        right = self.page_width - self.left - self.columns * (self.width + self.gap_x) + self.gap_x
        bottom = self.page_height - self.top - self.rows * (self.height + self.gap_y) + self.gap_y
        left, top, right, bottom = (
            max(self.pad, self.edge - margin) for margin in (self.left, self.top, right, bottom)
        )
        return left, top, right, bottom

    def cut_marks(self, place: int) -> Iterator[tuple[Length, Length, Length, Length]]:
        """Short lines (x0, y0, x1, y1) that carry on the label's edges beyond its corners, as far as there is paper.

        Where labels touch, the line lies on the neighbour's edge, never inside a label.
        """
        if self.places == 1:
            return
        x, y = self.corner(place)
        clear, arm = 500_000, 2_500_000
        for edge_y in (y, y + self.height):
            for at, way in ((x, -1), (x + self.width, 1)):
                end = min(max(at + way * arm, 0), self.page_width)
                if abs(end - at) > clear:
                    yield at + way * clear, edge_y, end, edge_y
        for edge_x in (x, x + self.width):
            for at, way in ((y, -1), (y + self.height, 1)):
                end = min(max(at + way * arm, 0), self.page_height)
                if abs(end - at) > clear:
                    yield edge_x, at + way * clear, edge_x, end


def _mm(length: Length) -> str:
    return f"{length / MM:.1f}".removesuffix(".0")


def single(width: Length, height: Length, *, dpi: Fraction = ROLL_DPI) -> Sheet:
    """One label a page, for a label printer."""
    name = f"{_mm(width)}x{_mm(height)}"
    return Sheet(name, width, height, width, height, edge=0, dpi=dpi)


def _a4(
    name: str, columns: int, rows: int, width: Length, height: Length, left: Length, top: Length, gap: Length
) -> Sheet:
    return Sheet(name, 210 * MM, 297 * MM, width, height, columns, rows, left, top, gap_x=gap, pad=2 * MM)


def _letter(
    name: str, columns: int, rows: int, width: Length, height: Length, left: Length, top: Length, gap: Length
) -> Sheet:
    pad = 2 * MM if height > INCH else 3 * MM // 2
    return Sheet(name, 17 * INCH // 2, 11 * INCH, width, height, columns, rows, left, top, gap_x=gap, pad=pad)


SHEETS: dict[str, Sheet] = {
    sheet.name: sheet
    for sheet in (
        _a4("a4-3x8", 3, 8, 70 * MM, 37 * MM, 0, MM // 2, 0),
        _a4("a4-3x7", 3, 7, 63_500_000, 38_100_000, 7_250_000, 15_150_000, 2_500_000),
        _a4("a4-2x7", 2, 7, 99_100_000, 38_100_000, 4_650_000, 15_150_000, 2_500_000),
        _letter("letter-3x10", 3, 10, 21 * INCH // 8, INCH, 3 * INCH // 16, INCH // 2, INCH // 8),
        _letter("letter-2x7", 2, 7, 4 * INCH, 4 * INCH // 3, 5 * INCH // 32, 5 * INCH // 6, 3 * INCH // 16),
        _letter("letter-2x5", 2, 5, 4 * INCH, 2 * INCH, 5 * INCH // 32, INCH // 2, 3 * INCH // 16),
        single(57 * MM, 32 * MM),
        single(62 * MM, 29 * MM),
        single(62 * MM, 40 * MM),
        single(25 * MM, 25 * MM),
    )
}
"""The sheets that are offered, by name."""


def sheet(name: str) -> Sheet:
    """The sheet of that name; "80x50" is one label a page of that many millimetres.  Raises UnknownSheet."""
    if name in SHEETS:
        return SHEETS[name]
    custom = re.fullmatch(r"(\d{2,3})x(\d{2,3})", name)
    if custom:
        return single(int(custom[1]) * MM, int(custom[2]) * MM)
    raise UnknownSheet(
        f'there is no sheet "{name[:40]}"',
        where="sheet",
        do=f"Choose one of {', '.join(SHEETS)}, or write a single label's size in mm, like 80x50.",
    )
