"""How do rods get onto paper?  A PDF at full size: tiles side by side, and two lengths to check the printer with.

The same rods give the same bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from ..trade.length import Length
from ..trade.part import Unit
from . import ink
from .label_sheets import INCH, MM
from .labels import NothingToPrint
from .rod import Rod
from .rod_face import CUT, FINE, LINE, SMALL, TileFace, strip_width, tile_face
from .rod_tiles import HEAD, MARGIN, Paper, tiles

GAP: Length = 5 * MM
"""Between two strips."""
RULER: Length = 11 * MM
"""The column at the right that holds the upright length."""
KNOWN = {Unit.INCH: (4 * INCH, "4 in", INCH // 2), Unit.MM: (100 * MM, "100 mm", 10 * MM)}
"""The length to check the printer with, what it is called, and its divisions."""


@dataclass(frozen=True)
class Standing:
    """A tile on its page: where its left edge and the rod's zero are, from the page's lower left corner.

    The zero of a later tile lies above the paper; what is on the tile is right all the same.
    """

    face: TileFace
    x: Length
    zero: Length


def rod_pages(rods: Sequence[Rod], paper: Paper, *, unit: Unit, denominator: int) -> list[list[Standing]]:
    """The pages, each the tiles that stand on it, from the left."""
    pages: list[list[Standing]] = [[]]
    x, right = MARGIN, paper.width - MARGIN - RULER
    top = paper.height - MARGIN - HEAD
    for rod in rods:
        wide = strip_width(rod)
        for tile in tiles(rod.length, [tick.at for tick in rod.ticks], paper.room):
            if x + wide > right and pages[-1]:
                pages.append([])
                x = MARGIN
            face = tile_face(rod, tile, unit=unit, denominator=denominator)
            pages[-1].append(Standing(face, x, top - tile.above + tile.start))
            x += wide + GAP
    return pages


def rods_pdf(rods: Sequence[Rod], paper: Paper, *, unit: Unit, denominator: int, title: str, shop: str = "") -> bytes:
    """The rods as a PDF at full size, as many strips on a page as it holds.  Raises NothingToPrint."""
    if not rods:
        raise NothingToPrint("there is no rod to print", do="Choose parts that have marks.")
    pages = rod_pages(rods, paper, unit=unit, denominator=denominator)
    out = BytesIO()
    size = (ink.points(paper.width), ink.points(paper.height))
    canvas = Canvas(out, pagesize=size, invariant=1, pageCompression=1)
    ink.entitle(canvas, title, shop)
    canvas.setViewerPreference("PrintScaling", "None")
    for number, page in enumerate(pages, 1):
        _head(canvas, paper, unit, title, number, len(pages))
        for standing in page:
            _draw(canvas, standing)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas: Any, standing: Standing) -> None:
    face, x0, zero = standing.face, standing.x, standing.zero
    for stroke in face.strokes:
        turned = tuple((x0 + x, zero - y) for x, y in stroke.points)
        _stroke(canvas, ink.Stroke(turned, stroke.width, stroke.dash, stroke.closed, stroke.filled))
    for text in face.texts:
        ink.draw(canvas, text.line, x0 + text.x, zero - text.y)
    for along in face.sideways:
        _upright(canvas, along.line, x0 + along.x, zero - along.y)


def _head(canvas: Any, paper: Paper, unit: Unit, title: str, number: int, count: int) -> None:
    """The page's heading, and the two lengths: one across, one along the strips."""
    long, name, step = KNOWN[unit]
    top = paper.height - MARGIN
    right = paper.width - MARGIN
    ruler = right - long
    page = f", page {number} of {count}" if count > 1 else ""
    room = ruler - MARGIN - 6 * MM
    for row in ink.fit(title, room, 4_200_000, least=3 * MM, bold=True):
        ink.draw(canvas, row, MARGIN, top - 4 * MM)
    for i, words in enumerate((f"Rods at full size{page}", f"Print at 100 %. Measure first: {name} each way?")):
        for row in ink.fit(words, room, SMALL, least=2 * MM):
            ink.draw(canvas, row, MARGIN, top - (8_300_000 + i * 3_900_000))
    says = ink.set_type(name, SMALL)
    ink.draw(canvas, says, ruler + (long - says.width) // 2, top - 3 * MM)
    _ruler(canvas, (ruler, top - 10 * MM), (1, 0), long, step)
    foot = top - HEAD - 10 * MM - long
    _ruler(canvas, (right - 4 * MM, foot), (0, 1), long, step)
    _upright(canvas, ink.set_type(name, SMALL), right - 200_000, foot + long // 2 - says.width // 2)


def _ruler(canvas: Any, start: tuple[Length, Length], way: tuple[int, int], long: Length, step: Length) -> None:
    """A length with its divisions; the ends are the middles of its end strokes."""
    (x, y), (dx, dy) = start, way
    _stroke(canvas, ink.Stroke(((x, y), (x + dx * long, y + dy * long)), FINE))
    for at in range(0, long + 1, step):
        arm = 3 * MM if at in (0, long) else 1_200_000
        px, py = x + dx * at, y + dy * at
        _stroke(canvas, ink.Stroke(((px - dy * arm, py), (px + dy * 0, py + dx * arm)), LINE if arm > 2 * MM else CUT))


def _upright(canvas: Any, line: ink.Line, x: Length, y: Length) -> None:
    """A line of type that reads upwards, its start at (x, y)."""
    canvas.saveState()
    canvas.translate(ink.points(x), ink.points(y))
    canvas.rotate(90)
    ink.draw(canvas, line, 0, 0)
    canvas.restoreState()


def _stroke(canvas: Any, stroke: ink.Stroke) -> None:
    path = canvas.beginPath()
    for number, (x, y) in enumerate(stroke.points):
        (path.lineTo if number else path.moveTo)(ink.points(x), ink.points(y))
    if stroke.closed:
        path.close()
    canvas.setLineWidth(ink.points(stroke.width))
    canvas.setDash([ink.points(part) for part in stroke.dash] if stroke.dash else [])
    canvas.drawPath(path, stroke=0 if stroke.filled else 1, fill=1 if stroke.filled else 0)
