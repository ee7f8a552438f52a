"""How does a part lie on the bench?  Its drawing: datum end up, two views, every mark measured from the datum end.

The result is one SVG without styles, scripts or references.  It can stand alone, be put into a page, and be printed;
`static/drawing.css` gives it the colours of the place.  Same part, same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from xml.sax.saxutils import escape

from ..trade.part import Line, Part, Unit
from . import strokes
from .arrange import CAPS, DATUM, DATUM_WORDS, FRAME, MARGIN, MARK, arrange
from .type import FAMILY, Run, num, plain, texts


def draw(
    line: Line,
    part: Part,
    *,
    unit: Unit,
    denominator: int,
    letters: Mapping[str, str] | None = None,
    width: int = FRAME,
) -> str:
    """The drawing of one part as a standalone SVG, shown `width` pixels wide; its own units are always 360 across.

    The line is a sound one (`trade/soundness.py`): its sizes are more than 0 and its cuts lie on surfaces that can
    have them.  What of a cut lies outside the wood is not drawn.

    Distances are in the unit, inches in fractions to the `denominator`.  `letters` gives the pair letter of a feature
    by its key.  An opposite hand is drawn as it lies: the picture is reflected, the numbers are the same.  Parts of a
    line with the same hand and the same letters have the same drawing.
    """
    sheet = arrange(line, part, unit, denominator, letters or {})
    title = f"{plain(line.name)}, {'mirror image' if sheet.mirrored else 'as drawn'}"
    words = ((Run(sheet.datum_words, DATUM_WORDS, True, "crayon"),), float(MARGIN), float(DATUM - 13))
    numbers = [(number.runs, sheet.column, number.stands + MARK * CAPS) for number in sheet.numbers]
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {FRAME} {sheet.height}" '
            f'width="{width}" height="{num(sheet.height * width / FRAME)}" role="img" font-family="{FAMILY}" '
            f'fill="#000" stroke-linejoin="round" stroke-linecap="round"><title>{escape(title)}</title>',
            strokes.wood(sheet),
            strokes.leaders(sheet),
            strokes.outlines(sheet),
            strokes.cuts(sheet),
            strokes.breaks(sheet),
            strokes.face_marks(sheet),
            strokes.datum(sheet),
            texts([words]),
            texts(numbers, anchor="end"),
            texts(sheet.letters),
            texts(sheet.captions, anchor="middle"),
            texts(sheet.legend),
            "</svg>",
        )
    )
