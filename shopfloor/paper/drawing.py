"""How does a part lie on the bench?  Its drawing: datum end up, two views, every mark measured from the datum end.

The result is one SVG without styles, scripts or references.  It can stand alone, be put into a page, and be printed;
`static/drawing.css` gives it the colours of the place.  Same part, same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from xml.sax.saxutils import escape

from ..trade.part import Line, Part, Unit
from ..trade.route import CUTS
from ..trade.turn import cut_by, faces_up
from . import section_ink, strokes
from .arrange import CAPS, DATUM, DATUM_WORDS, FRAME, MARGIN, MARK, TEXT, Arrangement, arrange
from .cross_sizes import surface
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
    return _svg(arrange(line, part, unit, denominator, letters or {}), line.name, width)


def drawn_steps(line: Line) -> tuple[str, ...]:
    """The keys of the steps that have a drawing of their own, in order: those that cut some of a line's features, not
    all of them, for then the whole drawing shows just that."""
    steps = [cut.key for cut in CUTS if any(True for _ in cut_by(line, cut.key))]
    return tuple(steps) if len(steps) > 1 else ()


def draw_step(
    line: Line,
    part: Part,
    step: str,
    *,
    unit: Unit,
    denominator: int,
    letters: Mapping[str, str] | None = None,
    width: int = FRAME,
) -> str:
    """The drawing of what one step cuts into a part, as `draw` gives that of all; `step` is one of `drawn_steps`.

    Only what the step cuts is measured.  What was cut before is there, fainter; what comes later is not.  It says which
    surface lies up.  Raises ValueError for a step that has no drawing.
    """
    steps = drawn_steps(line)
    if step not in steps:
        raise ValueError(f"the step {step!r} has no drawing of its own")
    own = tuple(cut_by(line, step))
    keys = {feature.key for key in steps[: steps.index(step) + 1] for feature in cut_by(line, key)}
    so_far = replace(line, features=tuple(feature for feature in line.features if feature.key in keys))
    up = [surface(face, line) for face in faces_up(line, step)]
    first = f"Lay it {up[0]} up{''.join(f', then {other} up' for other in up[1:])}." if up else ""
    name = next(cut.name for cut in CUTS if cut.key == step)
    return _svg(arrange(so_far, part, unit, denominator, letters or {}, own, first), f"{line.name}: {name}", width)


def _svg(sheet: Arrangement, name: str, width: int) -> str:
    title = f"{plain(name)}, {'mirror image' if sheet.mirrored else 'as drawn'}"
    words = ((Run(sheet.datum_words, DATUM_WORDS, True, "crayon"),), float(MARGIN), float(DATUM - 13))
    grain = ((Run("grain", TEXT),), float(FRAME - MARGIN - 11), float(DATUM - 13))
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
            strokes.grain_arrow(),
            section_ink.ink(sheet.sections),
            strokes.sawn(sheet),
            texts([words]),
            texts([grain], anchor="end"),
            texts(numbers, anchor="end"),
            texts(sheet.letters),
            texts(sheet.captions, anchor="middle"),
            *(texts(cell.texts) for cell in sheet.sections),
            texts(sheet.legend),
            "</svg>",
        )
    )
