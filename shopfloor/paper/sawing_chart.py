"""How does one board come apart?  Its cutting diagram: pieces to scale, cuts numbered in their order, waste shaded.

The board stands upright, its marked end at the top and its reference edge to the left, so that it has room on a phone
and on a sheet.  Along the board it is to scale; across, narrow boards are drawn wider, and the diagram says so.  Every
distance is measured from the marked end or from the reference edge, never from the last cut.

The result is one SVG like a part's drawing: no styles, scripts or references, static/drawing.css colours it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..trade.board import Defect
from ..trade.part import Unit
from ..trade.sawing import BoardPlan, Cut, Piece, Role, Way
from .spread import spread
from .type import FAMILY, Run, Runs, fit, measured, num, plain, texts, width

__all__ = ["Chart", "chart"]

NUMBER, WORD, ORDER = 17, 14, 13
PITCH = 21
RING, MOST_RINGS = 21, 2
PLACES = (0.5, 0.3, 0.7, 0.4, 0.6, 0.15, 0.85)
"""Where along a line its ring may stand, as shares of it."""
FOOT, AIR = 12, 8
TALL, SHORT = 560, 240
NARROWEST, WIDEST = 96, 176
"""How wide a board is drawn at least and at most."""

CUT = 'class="edge" fill="none" stroke="#000" stroke-width="1.6"'
NEXT = 'class="next" fill="none" stroke="#9a2318" stroke-width="3.2"'
LEADER = 'class="leader" fill="none" stroke="#555045" stroke-width="0.9"'
OUTLINE = 'class="outline" fill="none" stroke="#000" stroke-width="2"'
HATCH = 'class="waste" fill="none" stroke="#555045" stroke-width="0.8"'


@dataclass(frozen=True)
class Chart:
    """What a diagram shows.  `names` say what is written into each part, by its key: the shortest first, the longest
    that fits is taken.  `next` is the number of the cut to be made next (0: none is marked)."""

    board: BoardPlan
    names: Mapping[str, Sequence[str]]
    defects: Sequence[Defect] = ()
    next: int = 0


def chart(shown: Chart, *, unit: Unit, denominator: int, frame: int = 360, tall: int = TALL, label: str = "") -> str:
    """The diagram of one board as a standalone SVG, `frame` user units wide and about `tall` high."""
    return _Drawn(shown, unit, denominator, frame, tall).svg(label)


def _together(cuts: Iterable[Cut], line: Callable[[Cut], int]) -> list[tuple[int, list[Cut]]]:
    """Cuts at one distance together, in the order of the distances: (distance, its cuts in their order)."""
    found: dict[int, list[Cut]] = {}
    for cut in sorted(cuts, key=lambda cut: (line(cut), cut.number)):
        found.setdefault(line(cut), []).append(cut)
    # More rings than fit stand in rows of their own, each with the distance.
    return [(at, own[n : n + MOST_RINGS]) for at, own in found.items() for n in range(0, len(own), MOST_RINGS)]


def _touch(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


class _Drawn:
    """One diagram on its way."""

    def __init__(self, shown: Chart, unit: Unit, denominator: int, frame: int, tall: int) -> None:
        self.shown, self.unit, self.denominator, self.frame = shown, unit, denominator, frame
        self.whole = shown.board.pieces[0]
        self.taken: list[tuple[float, float, float, float]] = []
        self.left, self.right = self._sides(cut for cut in shown.board.cuts if cut.way is Way.CROSSCUT)
        # As high as the columns need at least, so that no two numbers touch.
        rows = max(len(_together(self.left, self.line)), len(_together(self.right, self.line)))
        self.height = float(max(tall - 2 * PITCH - FOOT, min(rows * PITCH + PITCH, 4 * tall), SHORT))
        self.along = self.height / self.whole.length
        left, right = self._column_width(self.left), self._column_width(self.right)
        room = frame - max(left, 2 * AIR + 14) - right - AIR
        self.wide = min(max(self.whole.width * self.along, NARROWEST), WIDEST, room)
        self.across = self.wide / self.whole.width
        # A board with one column of numbers stands beside it; with two it stands between them.
        self.x0 = left + AIR / 2 + (room - self.wide) / 2 if self.left else 2.0 * AIR + 14
        rips = [cut for cut in shown.board.cuts if cut.way is Way.RIP]
        self.inner = [cut for cut in rips if self._piece(cut.of).x * self.along > PITCH]
        self.rips = [
            (at, cuts, self._label(at)) for at, cuts in _together([c for c in rips if c not in self.inner], self.line)
        ]
        self.gap = max((width(label) + RING * len(cuts) + 12 for _, cuts, label in self.rips), default=1.0)
        self.rows = -(-len(self.rips) // max(int((frame - 8) // self.gap), 1))
        self.y0 = float(max(self.rows, 1) * PITCH + 16)

    def _column_width(self, cuts: Sequence[Cut]) -> float:
        """How wide the column of these cuts' numbers is, with the line to the board."""
        same = _together(cuts, self.line)
        return max((width(self._label(at)) + RING * len(own) + 22 for at, own in same), default=0.0)

    # --- where things are --------------------------------------------------------------------------------------

    def x(self, y: int) -> float:
        """From a distance across the board to a place on the drawing."""
        return self.x0 + y * self.across

    def y(self, x: int) -> float:
        """From a distance along the board to a place on the drawing."""
        return self.y0 + x * self.along

    def _sides(self, cuts: Iterable[Cut]) -> tuple[list[Cut], list[Cut]]:
        """The crosscuts whose distance stands at the left, and at the right, each from the marked end on."""
        left: list[Cut] = []
        right: list[Cut] = []
        half = self.whole.width / 2
        for cut in cuts:
            piece = self._piece(cut.of)
            at_left = piece.y + piece.width / 2 < half and piece.y + piece.width < self.whole.width
            (left if at_left else right).append(cut)
        return left, right

    def _piece(self, number: int) -> Piece:
        return self.shown.board.pieces[number]

    # --- what is drawn -----------------------------------------------------------------------------------------

    def svg(self, label: str) -> str:
        total = self.y0 + self.height + FOOT
        words = self._words()  # rings stand where no word does
        body = [
            self._wood(), self._defects(), self._waste(), self._cuts(), self._outline(), self._marked_end(), words,
            self._rips(), self._column(self.left, at_left=True), self._column(self.right, at_left=False),
        ]  # fmt: skip
        said = plain(label or "Cutting diagram").replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing sawing" viewBox="0 0 {self.frame} {num(total)}" '
            f'font-family="{FAMILY}" role="img" aria-label="{said}">' + "".join(body) + "</svg>"
        )

    def _wood(self) -> str:
        out = []
        for piece in self._leaves():
            tone, fill = ("wood", "#f6ecd3") if piece.role is Role.PART else ("through", "#fdfaf2")
            out.append(f'<path class="{tone}" fill="{fill}" d="{self._box(piece)}"/>')
        return "".join(out)

    def _leaves(self) -> list[Piece]:
        cut = {each.of for each in self.shown.board.cuts}
        return [piece for piece in self.shown.board.pieces if piece.number not in cut]

    def _box(self, piece: Piece) -> str:
        x, y = self.x(piece.y), self.y(piece.x)
        return f"M{num(x)} {num(y)}h{num(piece.width * self.across)}v{num(piece.length * self.along)}H{num(x)}z"

    def _waste(self) -> str:
        """Slanted strokes over what is thrown away, so that the waste side of each line is seen."""
        strokes = [self._hatched(piece) for piece in self._leaves() if piece.role is Role.WASTE]
        return f'<path {HATCH} d="{"".join(strokes)}"/>' if any(strokes) else ""

    def _hatched(self, piece: Piece) -> str:
        x0, x1 = self.x(piece.y), self.x(piece.y + piece.width)
        y0, y1 = self.y(piece.x), self.y(piece.x + piece.length)
        step, out = 7.0, []
        c = x0 + y0 + step / 2
        while c < x1 + y1:
            # The stroke x + y = c, clipped to the rectangle.
            ax, bx = max(x0, c - y1), min(x1, c - y0)
            if bx - ax > 0.5:
                out.append(f"M{num(ax)} {num(c - ax)}L{num(bx)} {num(c - bx)}")
            c += step
        return "".join(out)

    def _defects(self) -> str:
        out = []
        for one in self.shown.defects:
            near, far = (one.near, one.far) if one.far else (0, self.whole.width)
            x0, x1 = self.x(near), self.x(min(far, self.whole.width))
            y0, y1 = self.y(one.start), self.y(min(one.end, self.whole.length))
            mid_x, mid_y = (x0 + x1) / 2, (y0 + y1) / 2
            out.append(
                f'<ellipse class="defect hollow" fill="#8a7a58" fill-opacity="0.45" cx="{num(mid_x)}" '
                f'cy="{num(mid_y)}" rx="{num(max((x1 - x0) / 2, 2))}" ry="{num(max((y1 - y0) / 2, 2))}"/>'
            )
        return "".join(out)

    def _cuts(self) -> str:
        out = []
        for cut in self.shown.board.cuts:
            piece = self._piece(cut.of)
            at = self.line(cut)
            if cut.way is Way.RIP:
                x = self.x(at)
                path = f"M{num(x)} {num(self.y(piece.x))}V{num(self.y(piece.x + piece.length))}"
            else:
                y = self.y(at)
                path = f"M{num(self.x(piece.y))} {num(y)}H{num(self.x(piece.y + piece.width))}"
            look = NEXT if cut.number == self.shown.next else CUT
            out.append(f'<path {look} d="{path}"/>')
        return "".join(out)

    def _outline(self) -> str:
        return f'<path {OUTLINE} d="{self._box(self.whole)}"/>'

    def _marked_end(self) -> str:
        """The cross that is chalked on the end that everything is measured from."""
        x, y = self.x0 - 13, self.y0 - 8
        cross = f"M{num(x)} {num(y)}l8 8m0 -8l-8 8"
        return f'<path class="datum" fill="none" stroke="#9a2318" stroke-width="2.6" d="{cross}"/>'

    def _rips(self) -> str:
        """The rips' distances from the reference edge, above the board; what is ripped later is marked on its line."""
        out = [self._on_its_line(cut) for cut in self.inner]
        for row in range(self.rows):
            own = self.rips[row :: self.rows]
            places = spread([self.x(at) for at, _, _ in own], self.gap, self.gap / 2, self.frame - self.gap / 2)
            y = 16.0 + row * PITCH
            for (at, cuts, label), x in zip(own, places, strict=True):
                start = x - (width(label) + RING * len(cuts) + 4) / 2
                out += [self._circle(start + RING * (nth + 0.5), y - 5.5, cut) for nth, cut in enumerate(cuts)]
                out.append(texts([(label, start + RING * len(cuts) + 4, y)]))
                down = f"M{num(x)} {num(y + 5)}L{num(self.x(at))} {num(self.y0 - 4)}V{num(self.y0)}"
                out.append(f'<path {LEADER} d="{down}"/>')
        return "".join(out)

    def _on_its_line(self, cut: Cut) -> str:
        """A rip of what was crosscut before: its ring stands on its line, its distance in the list of cuts.

        Nothing is drawn where no place is free: the list has the cut all the same.
        """
        piece, x, half = self._piece(cut.of), self.x(cut.at), RING / 2
        for share in PLACES:
            y = self.y(piece.x) + piece.length * self.along * share
            box = (x - half, y - half, x + half, y + half)
            if not any(_touch(box, other) for other in self.taken):
                self.taken.append(box)
                return self._circle(x, y, cut, over=True)
        return ""

    def _column(self, cuts: Sequence[Cut], *, at_left: bool) -> str:
        """The crosscuts' distances from the marked end, beside the board, each with the numbers of its cuts."""
        same = _together(cuts, self.line)
        places = spread([self.y(at) for at, _ in same], PITCH, self.y0 + 4, self.y0 + self.height - 2)
        out = []
        for (at, own), y in zip(same, places, strict=True):
            label = self._label(at)
            if at_left:
                near = self.x0 - 12
                edge = min(self.x(self._piece(cut.of).y) for cut in own)
                rings = [near - RING * (nth + 0.5) for nth in range(len(own))][::-1]
                start, way = near - RING * len(own) - width(label) - 4, near + 2
            else:
                near = self.x0 + self.wide + 12
                edge = max(self.x(self._piece(cut.of).y + self._piece(cut.of).width) for cut in own)
                rings = [near + RING * (nth + 0.5) for nth in range(len(own))]
                start, way = near + RING * len(own) + 4, near - 2
            out.append(texts([(label, start, y + 6)]))
            out += [self._circle(x, y, cut) for x, cut in zip(rings, own, strict=True)]
            out.append(f'<path {LEADER} d="M{num(way)} {num(y)}L{num(edge)} {num(self.y(at))}"/>')
        return "".join(out)

    def _circle(self, x: float, y: float, cut: Cut, *, over: bool = False) -> str:
        """The number of a cut in a ring; filled for the next one.  `over` wood it has a ground of its own."""
        on = cut.number == self.shown.next
        size = ORDER - (3 if cut.number > 99 else 1 if cut.number > 9 else 0)
        ring = 'class="dot" fill="#000"' if on else LEADER
        if over and not on:
            ring = 'class="open leader" fill="#fff" stroke="#555045" stroke-width="0.9"'
        tone = 'class="on-ink" fill="#fff"' if on else 'class="ink" fill="#000"'
        return (
            f'<circle {ring} cx="{num(x)}" cy="{num(y)}" r="{num(RING / 2 - 0.6)}"/>'
            f'<text {tone} x="{num(x)}" y="{num(y + size * 0.36)}" font-size="{num(size)}" font-weight="700" '
            f'text-anchor="middle">{cut.number}</text>'
        )

    def line(self, cut: Cut) -> int:
        return self.shown.board.line(cut)

    def _label(self, at: int) -> Runs:
        return measured(at, self.unit, self.denominator, NUMBER, bold=True)

    def _words(self) -> str:
        """What each piece is: a part's number or name, as much as fits; kept ends are called so."""
        out = []
        for piece in self._leaves():
            wide, tall = piece.width * self.across - 6, piece.length * self.along - 4
            said = self.shown.names.get(piece.part, ()) if piece.role is Role.PART else ()
            if piece.role is Role.OFFCUT:
                said = ("keep",)
            mid_x, mid_y = self.x(piece.y) + (wide + 6) / 2, self.y(piece.x) + (tall + 4) / 2
            out.append(self._fitted(said, mid_x, mid_y, wide, tall, bold=piece.role is Role.PART))
        return "".join(out)

    def _fitted(self, said: Sequence[str], x: float, y: float, wide: float, tall: float, *, bold: bool) -> str:
        """The longest of some words that fits a box, upright or turned; nothing if none does."""
        for words in reversed(said):
            run = Run(plain(words), WORD, bold, "ink" if bold else "faint")
            long = width([run])
            if long <= wide and tall >= WORD:
                self.taken.append((x - long / 2, y - WORD / 2, x + long / 2, y + WORD / 2))
                return texts([((run,), x - long / 2, y + WORD * 0.35)])
            if long <= tall and wide >= WORD - 2:
                self.taken.append((x - WORD / 2, y - long / 2, x + WORD / 2, y + long / 2))
                inner = texts([((run,), -long / 2, WORD * 0.35)])
                return f'<g transform="translate({num(x)} {num(y)}) rotate(-90)">{inner}</g>'
        if said and wide >= 9 and tall >= 9:
            shorter = fit(said[0], 11, max(wide, tall), bold=True)
            run = Run(shorter, 11, True)
            if shorter == plain(said[0]) and width([run]) <= wide:
                self.taken.append((x - width([run]) / 2, y - 6, x + width([run]) / 2, y + 6))
                return texts([((run,), x - width([run]) / 2, y + 4)])
        return ""
