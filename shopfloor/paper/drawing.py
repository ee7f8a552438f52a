"""How does a part lie on the bench?  Its drawing: datum end up, two views, every mark measured from the datum end.

The result is one SVG without styles, scripts or references.  It can stand alone, be put into a page, and be printed;
`static/drawing.css` gives it the colours of the place.  Same part, same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.sax.saxutils import escape

from ..trade.part import Feature, Line, Part, Unit
from ..trade.route import CUTS
from ..trade.turn import cut_by, faces_up
from . import section_ink, strokes
from .arrange import CAPS, DATUM, DATUM_WORDS, FRAME, MARGIN, MARK, TEXT, Look, arrange, look
from .cross_sizes import surface
from .ground import Ground, ground
from .type import FAMILY, Run, num, plain, texts
from .type import width as length_of
from .views import pair, shows


class Drawings:
    """The drawings of one part: the whole, and what single steps cut, in either unit; all with the same ground.

    The line is a sound one (`trade/soundness.py`): its sizes are more than 0 and its cuts lie on surfaces that can
    have them.  What of a cut lies outside the wood is not drawn.

    Fractions of inches go to the `denominator`.  `letters` gives the pair letter of a feature by its key.  An opposite
    hand is drawn as it lies: the picture is reflected, the numbers are the same.  Parts of a line with the same hand
    and the same letters have the same drawings.
    """

    def __init__(self, line: Line, part: Part, *, denominator: int, letters: Mapping[str, str] | None = None) -> None:
        self.line = line
        self.steps = drawn_steps(line)
        self._part = part
        self._ground = ground(line, part, denominator, letters or {})
        # What no length is written in is the same in either unit: by the key of a step, "" for the whole.
        self._looks: dict[str, Look] = {}
        self._pictures: dict[str, tuple[str, str]] = {}

    def whole(self, unit: Unit, width: int = FRAME) -> str:
        """All that is cut into the part, as a standalone SVG shown `width` pixels wide; its own units are always 360
        across."""
        if "" not in self._looks:
            self._looks[""] = look(self._ground, self.line.features, self.line.features)
        return self._svg("", unit, self.line.name, width)

    def step(self, step: str, unit: Unit, width: int = FRAME) -> str:
        """What one step cuts, one of `steps`.  Only that is measured; what was cut before is there, fainter, what comes
        later is not.  It says which surface lies up.  Raises ValueError for a step that has no drawing."""
        if step not in self.steps:
            raise ValueError(f"the step {step!r} has no drawing of its own")
        if step not in self._looks:
            self._looks[step] = self._look(step)
        name = next(cut.name for cut in CUTS if cut.key == step)
        return self._svg(step, unit, f"{self.line.name}: {name}", width)

    def _look(self, step: str) -> Look:
        own = tuple(cut_by(self.line, step))
        keys = {feature.key for key in self.steps[: self.steps.index(step) + 1] for feature in cut_by(self.line, key)}
        there = [feature for feature in self.line.features if feature.key in keys]
        up = [surface(face, self.line) for face in faces_up(self.line, step)]
        first = f"Lay it {up[0]} up{''.join(f', then {other} up' for other in up[1:])}." if up else ""
        return look(self._seen(own), own, there, first)

    def _seen(self, own: Sequence[Feature]) -> Ground:
        """The ground of a step's drawing: that of the whole, unless two other surfaces show more of what it cuts."""
        whole = self._ground
        best = pair(own, self.line.stock)
        if shows(own, best) <= shows(own, whole.views):
            return whole
        return ground(self.line, self._part, whole.denominator, whole.letters, best)

    def _svg(self, step: str, unit: Unit, name: str, width: int) -> str:
        sheet = arrange(self._looks[step], unit)
        title = f"{plain(name)}, {'mirror image' if sheet.mirrored else 'as drawn'}"
        words = ((Run(sheet.datum_words, DATUM_WORDS, True, "crayon"),), float(MARGIN), float(DATUM - 13))
        word = (Run("grain", TEXT),)
        grain = (word, FRAME - MARGIN - 11 - length_of(word), float(DATUM - 13))
        numbers = [(number.runs, sheet.column, number.stands + MARK * CAPS) for number in sheet.numbers]
        if step not in self._pictures:
            drawn = strokes.outlines(sheet), strokes.cuts(sheet), strokes.breaks(sheet), strokes.face_marks(sheet)
            self._pictures[step] = strokes.wood(sheet), "".join(drawn)
        wood, cuts = self._pictures[step]
        return "".join(
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {FRAME} {sheet.height}" '
                f'width="{width}" height="{num(sheet.height * width / FRAME)}" role="img" font-family="{FAMILY}" '
                f'fill="#000" stroke-linejoin="round" stroke-linecap="round"><title>{escape(title)}</title>',
                wood,
                strokes.leaders(sheet),
                cuts,
                strokes.datum(sheet),
                strokes.grain_arrow(),
                section_ink.ink(sheet.sections),
                strokes.sawn(sheet),
                texts([words]),
                texts([grain]),
                texts(numbers, anchor="end"),
                texts(sheet.letters),
                texts(sheet.captions, anchor="middle"),
                *(texts(cell.texts) for cell in sheet.sections),
                texts(sheet.legend),
                "</svg>",
            )
        )


def draw(
    line: Line,
    part: Part,
    *,
    unit: Unit,
    denominator: int,
    letters: Mapping[str, str] | None = None,
    width: int = FRAME,
) -> str:
    """The whole drawing of one part; see Drawings."""
    return Drawings(line, part, denominator=denominator, letters=letters).whole(unit, width)


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
    """The drawing of what one step cuts into a part, one of `drawn_steps`; see Drawings."""
    return Drawings(line, part, denominator=denominator, letters=letters).step(step, unit, width)
