"""Which paper goes on which piece of wood?  A PDF of labels: vector type and symbols, exact size, black only.

The same labels give the same bytes.  Sheets stand in `label_sheets.py`, the layout of one label in `label_face.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from ..errors import ShopError
from ..trade.part import Hand, Unit
from ..trade.sheet import Sheet as PartSheet
from . import ink
from .ink import Stroke
from .label_face import Face, face
from .label_sheets import SHEETS, Sheet, SheetOverrun, UnknownSheet, sheet, single
from .label_words import Label
from .qr import LabelTooSmall, outline

__all__ = [
    "SHEETS",
    "BadStart",
    "Label",
    "LabelTooSmall",
    "NothingToPrint",
    "Sheet",
    "SheetOverrun",
    "UnknownSheet",
    "are_bare",
    "labels_of",
    "labels_pdf",
    "sheet",
    "single",
    "words_of",
]

EVEN_ODD = 0
"""The fill rule of reportlab's canvas under which a loop inside a loop is a hole."""

CUT_LINE = 70_000
"""Width of a cut mark: 0.07 mm, thinner than the knife."""


class NothingToPrint(ShopError):
    """There is not one label."""

    code = "nothing-to-print"


class BadStart(ShopError):
    """The first place is not on the sheet."""

    code = "bad-start"


def labels_of(sheets: Iterable[PartSheet]) -> list[Label]:
    """The labels of a job's sheets: before the parts of each stack the label of the stack itself."""
    labels: list[Label] = []
    for one in sheets:
        stack = one.assembly
        if one.nth[0] == 1:
            labels.append(
                Label(
                    code=one.stack_code,
                    name=stack.name,
                    stack_number=stack.number,
                    stack_name=stack.name,
                    count=one.nth[1],
                    kind="stack",
                )
            )
        labels.append(
            Label(
                code=one.code,
                name=one.line.name,
                place=one.place,
                size=(one.line.thickness, one.line.width, one.line.length),
                letters=one.letters,
                datum=one.line.datum,
                stack_number=stack.number,
                stack_name=stack.name,
                mirror=one.part.hand is Hand.MIRROR,
                mirrors=one.mirrors,
            )
        )
    return labels


def are_bare(labels: Sequence[Label], sheet: Sheet, host: str) -> bool:
    """Whether the symbols on this sheet carry the bare code, though there is an address that they could begin with."""
    return (
        bool(host and labels) and "/" not in face(labels[0], sheet, unit=Unit.MM, denominator=16, host=host).symbol.text
    )


def words_of(labels: Iterable[Label]) -> Iterator[str]:
    """What people typed of all that is printed on labels."""
    for label in labels:
        yield from (label.name, label.place, label.stack_name, label.datum, label.note)


def labels_pdf(
    labels: Sequence[Label],
    sheet: Sheet,
    *,
    unit: Unit,
    denominator: int,
    host: str,
    title: str,
    shop: str = "",
    start_at: int = 1,
    cut_marks: bool = True,
    told: Callable[[int, int], None] = lambda done, of: None,
) -> bytes:
    """The labels as a PDF, one after another along the rows, the first one on place `start_at` of the first page.

    `host` is what phones reach the shop by ("shop.local", with :port if not 443); empty, too long or loopback hosts
    give symbols that carry the bare code.  `title` and `shop` say in the file what it is and whose.  `told` is called
    with how many labels are on paper, and of how many.  Raises NothingToPrint, BadStart, LabelTooSmall.
    """
    if not labels:
        raise NothingToPrint("there is no label to print", do="Choose at least one stack with parts.")
    if not 1 <= start_at <= sheet.places:
        raise BadStart(
            f"the sheet has places 1 to {sheet.places}, not {start_at}",
            where="first free place",
            do="Count along the rows, from the top left.",
        )
    page = (ink.points(sheet.page_width), ink.points(sheet.page_height))
    out = BytesIO()
    canvas = Canvas(out, pagesize=page, invariant=1, pageCompression=1)
    ink.entitle(canvas, title, shop)
    canvas.setViewerPreference("PrintScaling", "None")
    for number, label in enumerate(labels, start_at - 1):
        made = face(label, sheet, unit=unit, denominator=denominator, host=host)
        place = number % sheet.places
        if place == 0 and number >= sheet.places:
            canvas.showPage()
        x, y = sheet.corner(place)
        _draw_face(canvas, made, x, y)
        if cut_marks:
            for x0, y0, x1, y1 in sheet.cut_marks(place):
                _draw_stroke(canvas, Stroke(((x0, y0), (x1, y1)), CUT_LINE), 0, 0)
        told(number - start_at + 2, len(labels))
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw_face(canvas: Any, made: Face, x: int, y: int) -> None:
    _draw_symbol(canvas, made, x, y)
    for stroke in made.strokes:
        _draw_stroke(canvas, stroke, x, y)
    for text in made.texts:
        ink.draw(canvas, text.line, x + text.x, y + text.y)


def _draw_symbol(canvas: Any, made: Face, x: int, y: int) -> None:
    left, top = x + made.symbol_at[0], y + made.symbol_at[1] + made.symbol.size * made.module
    path = canvas.beginPath()
    for loop in outline(made.symbol.modules):
        for number, (column, row) in enumerate(loop):
            at = ink.points(left + column * made.module), ink.points(top - row * made.module)
            (path.lineTo if number else path.moveTo)(*at)
        path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=EVEN_ODD)


def _draw_stroke(canvas: Any, stroke: Stroke, x: int, y: int) -> None:
    path = canvas.beginPath()
    for number, (px, py) in enumerate(stroke.points):
        (path.lineTo if number else path.moveTo)(ink.points(x + px), ink.points(y + py))
    if stroke.closed:
        path.close()
    canvas.setLineWidth(ink.points(stroke.width))
    canvas.setLineJoin(1 if len(stroke.points) == 3 and not stroke.closed else 0)
    canvas.setLineCap(1 if not stroke.dash and stroke.width > CUT_LINE else 0)
    canvas.setDash([ink.points(part) for part in stroke.dash] if stroke.dash else [])
    canvas.drawPath(path, stroke=0 if stroke.filled else 1, fill=1 if stroke.filled else 0)
