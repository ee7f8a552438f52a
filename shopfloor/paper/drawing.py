"""How does a part lie on the bench?  Its drawing: datum end up, two views, every mark measured from the datum end.

The numbers are exact; the picture is not to scale.  What is small is drawn large enough to see, long stretches where
nothing happens are shortened and broken, and no two texts touch.  The result is one SVG without styles or scripts:
it can stand alone, be put on a page, and be printed, and `static/drawing.css` gives it the colours of the place.
Same part, same bytes.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import NamedTuple
from xml.sax.saxutils import escape

from ..trade.layout import marks
from ..trade.length import Length
from ..trade.part import Face, Feature, Groove, Hand, Hole, Line, Mortise, Part, Rabbet, Tongue, Unit
from .cross_sizes import set_lines, surface
from .spread import Scale, share, spread
from .type import FAMILY, Run, Runs, fit, measured, num, plain, same, text, width
from .views import ENDS, Flat, Relief, Segment, View, clamped, pair, stands

FRAME = 360
"""Width of a drawing in user units: a phone's, so that a unit is a pixel there."""
MARGIN = 10
DATUM = 40  # the height of the datum line
TALL = 272  # the part's drawn length, unless its marks need more
SHORT = 120
MARK, LETTER, TEXT = 23, 18, 16  # sizes of type: marks, pair letters, all else
MARK_GAP, LETTER_GAP, LINE = 26, 22, 21  # from baseline to baseline
CAPS = 0.668 / 2  # from the middle of a line of type to its baseline, in its size (half the height of a capital)
FEATURE_LEAST, STRETCH_LEAST = 14, 12  # the shortest a cut, and a stretch between cuts, is drawn
EMPTY_MOST = 84  # the longest an empty stretch is drawn while there is not room for all
BREAK_GAP = 9


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

    `letters` gives the pair letter of a feature by its key.  Distances are in the job's unit, inches in fractions to
    the `denominator`.  Parts of a line with the same hand and letters have the same drawing.
    """
    return _Sheet(line, part, unit, denominator, letters or {}).svg(width)


class Place(NamedTuple):
    """Where one view stands in the frame: its left and right side, and the scale across it, from its left side."""

    view: View
    relief: Relief
    left: float
    right: float
    scale: Scale
    flipped: bool

    def across(self, a: Length) -> float:
        drawn = self.scale(a)
        return self.right - drawn if self.flipped else self.left + drawn


class _Sheet:
    def __init__(self, line: Line, part: Part, unit: Unit, denominator: int, letters: Mapping[str, str]) -> None:
        self.line, self.stock, self.features = line, line.stock, line.features
        self.mirrored = part.hand is Hand.MIRROR
        self.boxes = {feature.key: clamped(feature.box(line.stock), line.stock) for feature in line.features}
        self.letters = {key: fit(letters[key], LETTER, 60, bold=True) for key in self.boxes if letters.get(key)}
        self.marks = _places(line, unit, denominator)
        self.legend = set_lines(line, letters, unit, denominator, TEXT, FRAME - 2 * MARGIN)
        self.column = max(MARGIN + max(width(runs) for _, runs in self.marks), 74.0)

        views = pair(self.features, self.stock)
        self.as_drawn = views
        sides = self._sides(views)
        self.down, self.breaks = self._lengthwise(sides)
        self.foot = self.down(self.stock.length)
        self.places = self._stand(views, sides)

    # --- sizes ---------------------------------------------------------------------------------------------------

    def _room(self) -> tuple[float, float, float]:
        """Left and right limit of the views, and the gap between them."""
        column = max((width([Run(letter, LETTER, True)]) for letter in self.letters.values()), default=0.0)
        gap = max(28.0, column + 12) if column else 34.0
        return self.column + 30, FRAME - MARGIN - (column + 6 if column else 0), gap

    def _sides(self, views: tuple[View, View]) -> tuple[float, float]:
        """The drawn widths of the two views: wider for what is wider, but neither too thin to read."""
        left, right, gap = self._room()
        total = min(right - left - gap, 176.0)
        weights = [(view.across / 1_000_000) ** 0.5 for view in views]
        one, other = share(weights, [total * 0.28] * 2, [total] * 2, total)
        return min(one, max(76.0, total * 0.6)), min(other, max(76.0, total * 0.6))

    def _lengthwise(self, sides: tuple[float, float]) -> tuple[Scale, list[tuple[Length, Length]]]:
        """The scale along the part, and the stretches that are broken."""
        whole = self.stock.length
        short = [self.boxes[feature.key] for feature in self.features if not _runs_along(feature)]
        knots = sorted({0, whole, *(x for box in self.boxes.values() for x in (box.x0, box.x1))})
        sizes = [(z - a) / 1_000_000 for a, z in itertools.pairwise(knots)]
        empty = [not any(box.x0 < z and a < box.x1 for box in short) for a, z in itertools.pairwise(knots)]
        least = [float(STRETCH_LEAST if bare else FEATURE_LEAST) for bare in empty]
        true = min(
            side / (view.across / 1_000_000) for side, view in zip(sides, self.as_drawn, strict=True)
        )  # drawn units per millimetre on the wider view
        need = max((len(self.marks) + 0.2) * MARK_GAP, sum(least), len(self.letters) * LETTER_GAP)
        total = max(need, min(TALL, max(SHORT, sum(sizes) * true)))
        if sum(sizes) * true <= total:
            return Scale(knots, share(sizes, least, [total] * len(sizes), total), DATUM), []
        caps = [max(EMPTY_MOST, a) if bare else total for a, bare in zip(least, empty, strict=True)]
        most = [max(a, min(size * true, cap)) for a, size, cap in zip(least, sizes, caps, strict=True)]
        steps = share(sizes, least, most, total)
        spare = total - sum(steps)
        if spare > 0.1:  # the empty stretches take what is left
            room = [size * true - step if bare else 0.0 for size, step, bare in zip(sizes, steps, empty, strict=True)]
            if not any(left > 0 for left in room):
                room = [size * true for size in sizes]
            more = share(room, [0.0] * len(room), [spare] * len(room), spare)
            steps = [step + extra for step, extra in zip(steps, more, strict=True)]
        scale = max(step / size for step, size, bare in zip(steps, sizes, empty, strict=True)) if sizes else true
        dense = [step / size for step, size, bare in zip(steps, sizes, empty, strict=True) if not bare and step > 20]
        local = min(dense, default=min(true, scale))
        breaks = [
            (a, z)
            for a, z, size, step, bare in zip(knots, knots[1:], sizes, steps, empty, strict=False)
            if bare and step >= 30 and size * local > 1.4 * step
        ]
        return Scale(knots, steps, DATUM), breaks

    def _stand(self, views: tuple[View, View], sides: tuple[float, float]) -> tuple[Place, Place]:
        left, right, gap = self._room()
        x = left + (right - left - sum(sides) - gap) / 2
        places = []
        order = [(views[0], sides[0]), (views[1], sides[1])]
        for view, side in reversed(order) if self.mirrored else order:
            knots = {0, view.across}
            for feature in self.features:
                flat = view.flat(self.boxes[feature.key])
                knots |= {flat.a0, flat.a1}
            inner = sorted(knots)
            sizes = [(z - a) / 1_000_000 for a, z in itertools.pairwise(inner)]
            least = [min(11.0, 0.8 * side / len(sizes))] * len(sizes)
            scale = Scale(inner, share(sizes, least, [side] * len(sizes), side))
            flipped = (view.face in (Face.FACE_SIDE, Face.FAR_EDGE)) != self.mirrored
            places.append(Place(view, Relief(view, self.features), x, x + side, scale, flipped))
            x += side + gap
        return places[0], places[1]

    # --- ink -----------------------------------------------------------------------------------------------------

    def svg(self, shown: int) -> str:
        parts = [self._wood(), self._leaders()]
        parts += [self._cuts(place) for place in self.places]
        parts += [self._breaks(), self._face_marks(), self._datum(), self._texts()]
        height = self._height
        tall = num(height * shown / FRAME)
        title = f"{plain(self.line.name)}, {'mirror image' if self.mirrored else 'as drawn'}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {FRAME} {num(height)}" '
            f'width="{shown}" height="{tall}" role="img" font-family="{FAMILY}" fill="#000" stroke-linejoin="round" '
            f'stroke-linecap="round"><title>{escape(title)}</title>{"".join(parts)}</svg>'
        )

    def _loop(self, place: Place, loop: Sequence[tuple[int, int]]) -> str:
        relief = place.relief
        points = [f"{num(place.across(relief.across[j]))} {num(self.down(relief.xs[i]))}" for i, j in loop]
        return f"M{'L'.join(points)}Z"

    def _wood(self) -> str:
        out = []
        for place in self.places:
            wood = "".join(self._loop(place, loop) for loop in place.relief.wood())
            out.append(f'<path class="wood" fill="#f0e4c8" d="{wood}"/>')
            lower = "".join(self._loop(place, loop) for loop in place.relief.lower())
            if lower:
                out.append(f'<path class="lower" fill="#dccba0" d="{lower}"/>')
            out.append(self._grain(place))
            out.append(f'<path class="outline" fill="none" stroke="#000" stroke-width="1.6" d="{wood}"/>')
        return "".join(out)

    def _grain(self, place: Place) -> str:
        """A few lines along the grain, where the part has its full width."""
        starts = [self.boxes[feature.key] for feature in self.features if stands(feature)]
        x0 = max((box.x1 for box in starts if box.x0 == 0), default=0)
        x1 = min((box.x0 for box in starts if box.x0 > 0), default=self.stock.length)
        top, foot = self.down(x0) + 5, self.down(x1) - 5
        if foot - top < 30:
            return ""
        side = place.right - place.left
        count = max(2, round(side / 20))
        lines = []
        for i in range(count):
            share_across = (i + 0.5) / count
            at = place.right - side * share_across if self.mirrored else place.left + side * share_across
            sway = (2.2, -1.6, 1.2)[i % 3] * (-1 if self.mirrored else 1)
            third = (foot - top) / 3
            lines.append(
                f"M{num(at)} {num(top + i % 2 * 4)}C{num(at + sway)} {num(top + third)} {num(at - sway)} "
                f"{num(top + 2 * third)} {num(at + sway / 2)} {num(foot - i % 3 * 3)}"
            )
        return f'<path class="grain" fill="none" stroke="#b89b63" stroke-width="0.8" d="{"".join(lines)}"/>'

    def _leaders(self) -> str:
        """A thin line from each number to its place, and on over the wood, as it is squared across with a knife."""
        wanted = [self.down(at) for at, _ in self.marks]
        self.label_at = spread(wanted, MARK_GAP, DATUM + 15, max(self.foot, DATUM + 15))
        left, right = self.places
        column = self.column
        seen: dict[Length, set[str]] = {}
        for mark in marks(self.line):
            seen.setdefault(mark.at, set()).add(mark.feature)
        lines = []
        for (at, _), place, label in zip(self.marks, wanted, self.label_at, strict=True):
            bend = f"M{num(column + 6)} {num(label)}H{num(column + 11)}L{num(left.left - 7)} {num(place)}"
            if at == self.stock.length:
                lines.append(f"{bend}H{num(left.left - 2)}")
                continue
            lines.append(f"{bend}H{num(left.right)}")
            on_right = any(self._opens(feature, right.view) for feature in self.features if feature.key in seen[at])
            if on_right:
                lines.append(f"M{num(right.left)} {num(place)}H{num(right.right)}")
        return f'<path class="leader" fill="none" stroke="#555045" stroke-width="0.9" d="{"".join(lines)}"/>'

    def _opens(self, feature: Feature, view: View) -> bool:
        """Whether a feature is seen on this view's surface."""
        return stands(feature) or view.flat(self.boxes[feature.key]).near <= 0

    def _cuts(self, place: Place) -> str:
        out = []
        for feature in self.features:
            inner = (
                self._pocket(place, feature) if isinstance(feature, Mortise | Hole) else self._square(place, feature)
            )
            if inner:
                out.append(f'<g class="cut {feature.kind}" data-feature="{_attribute(feature.key)}">{inner}</g>')
        return "".join(out)

    def _pocket(self, place: Place, feature: Mortise | Hole) -> str:
        box = self.boxes[feature.key]
        flat = place.view.flat(box)
        x0, x1 = self.down(flat.x0), self.down(flat.x1)
        a0, a1 = sorted((place.across(flat.a0), place.across(flat.a1)))
        if x1 <= x0 or a1 <= a0:
            return ""
        opposite = flat.near <= 0 and flat.far >= place.view.deep
        round_here = place.view.face is feature.face or (opposite and (feature.face in _FACES) == place.view.wide)
        style = 'class="open" fill="#fff" stroke="#000" stroke-width="1.5"'
        if flat.near > 0:
            style = 'class="hidden" fill="none" stroke="#000" stroke-width="1.1" stroke-dasharray="4 3"'
        elif round_here and isinstance(feature, Hole):
            middle, at = (a0 + a1) / 2, (x0 + x1) / 2
            radius = min(a1 - a0, x1 - x0) / 2
            cross = (
                f"M{num(middle - radius - 3)} {num(at)}h{num(2 * radius + 6)}M{num(middle)} {num(at - radius - 3)}"
                f"v{num(2 * radius + 6)}"
            )
            return (
                f'<circle {style} cx="{num(middle)}" cy="{num(at)}" r="{num(radius)}"/>'
                f'<path class="leader" fill="none" stroke="#555045" stroke-width="0.9" d="{cross}"/>'
            )
        corner = f' rx="{num(min(a1 - a0, x1 - x0) / 2)}"' if round_here and flat.near <= 0 else ""
        return f'<rect {style} x="{num(a0)}" y="{num(x0)}" width="{num(a1 - a0)}" height="{num(x1 - x0)}"{corner}/>'

    def _square(self, place: Place, feature: Feature) -> str:
        relief = place.relief
        standing = feature.key in relief.left_standing
        flats: Sequence[Flat] = [relief.left_standing[feature.key][1]] if standing else relief.cuts.get(feature.key, [])
        seen: list[Segment] = []
        hidden: list[Segment] = []
        for flat in flats:
            more_seen, more_hidden = relief.edges(flat, standing=standing)
            seen += more_seen
            hidden += more_hidden
        out = ""
        if seen:
            out += f'<path class="seen" fill="none" stroke="#000" stroke-width="1.4" d="{self._path(place, seen)}"/>'
        hidden = [segment for segment in dict.fromkeys(hidden) if segment not in seen]
        if hidden:
            out += (
                f'<path class="hidden" fill="none" stroke="#000" stroke-width="1.1" stroke-dasharray="4 3" '
                f'd="{self._path(place, hidden)}"/>'
            )
        return out

    def _path(self, place: Place, segments: Sequence[Segment]) -> str:
        relief = place.relief
        return "".join(
            f"M{num(place.across(relief.across[j0]))} {num(self.down(relief.xs[i0]))}"
            f"L{num(place.across(relief.across[j1]))} {num(self.down(relief.xs[i1]))}"
            for i0, j0, i1, j1 in segments
        )

    def _break_places(self) -> list[float]:
        return [(self.down(a) + self.down(z)) / 2 for a, z in self.breaks]

    def _breaks(self) -> str:
        out = []
        for middle in self._break_places():
            for place in self.places:
                side = place.right - place.left
                steps = [(0.0, 0.0), (0.28, 4.0), (0.5, -5.0), (0.72, 4.0), (1.0, 0.0)]
                upper = [(place.left + side * a, middle - BREAK_GAP / 2 + b) for a, b in steps]
                lower = [(x, y + BREAK_GAP) for x, y in upper]
                one, other = (("L".join(f"{num(x)} {num(y)}" for x, y in edge)) for edge in (upper, lower))
                back = "L".join(f"{num(x)} {num(y)}" for x, y in reversed(lower))
                far, near = num(place.right + 2), num(place.left - 2)
                out.append(
                    f'<path class="gap" fill="#fff" d="M{near} {num(middle - BREAK_GAP / 2)}L{one}H{far}'
                    f'V{num(middle + BREAK_GAP / 2)}L{back}H{near}Z"/>'
                    f'<path class="outline" fill="none" stroke="#000" stroke-width="1.6" d="M{one}M{other}"/>'
                )
        return "".join(out)

    def _face_marks(self) -> str:
        """The loop on the face side, its tail running to the face edge; on the face edge, a caret that meets it."""
        shown = {place.view.face: place for place in self.places}
        face, edge = shown.get(Face.FACE_SIDE), shown.get(Face.FACE_EDGE)
        place = face or edge
        if place is None:
            return ""
        at = self._free_height(place)
        out = ""
        if face:
            tail, way = (face.right, -1.0) if face.flipped else (face.left, 1.0)
            size = min(1.0, (face.right - face.left) / 48)

            def point(x: float, y: float) -> str:
                return f"{num(tail + way * x * size)} {num(at + y * size)}"

            out += (
                f"M{point(38, -1)}C{point(26, 3)} {point(13, -8)} {point(12, -20)}C{point(11, -31)} {point(23, -33)} "
                f"{point(25, -23)}C{point(27, -11)} {point(14, -2)} {point(0.8, 0)}"
            )
        if edge:
            arris, way = (edge.right, -1.0) if edge.flipped else (edge.left, 1.0)
            out += (
                f"M{num(arris + way * 11)} {num(at - 7)}L{num(arris + way * 1.2)} {num(at)}L{num(arris + way * 11)} "
                f"{num(at + 7)}"
            )
        return f'<path class="face-mark" fill="none" stroke="#9a2318" stroke-width="2.2" d="{out}"/>'

    def _free_height(self, place: Place) -> float:
        """Where the face mark disturbs least: clear of cuts if it can be, of breaks, then of marks."""
        flats = [
            (self.down(flat.x0), self.down(flat.x1), flat.near <= 0, place.across(flat.a0), place.across(flat.a1))
            for flat in (place.view.flat(box) for box in self.boxes.values())
        ]
        lines = [self.down(at) for at, _ in self.marks]
        edge = place.right if place.flipped else place.left
        best, least = DATUM + 60.0, float("inf")
        first = self.down(0) + 38
        for step in range(max(1, int((self.foot - 8 - first) / 4))):
            at = first + 4 * step
            top, low = at - 36, at + 5
            cost = abs(at - (DATUM + (self.foot - DATUM) * 0.45)) / 400
            for x0, x1, open_here, a0, a1 in flats:
                if x0 < low and x1 > top and min(abs(a0 - edge), abs(a1 - edge)) < 42:
                    cost += (4 if open_here else 2) * (min(x1, low) - max(x0, top)) / (low - top)
            cost += sum(3 for middle in self._break_places() if top - 8 < middle < low + 8)
            cost += sum(0.4 for y in lines if top < y < low)
            if cost < least:
                best, least = at, cost
        return best

    def _datum(self) -> str:
        word = plain(self.line.datum)
        tail = ", measure from here" if word else " measure from here"
        head = fit(f"0 {word}", 17, FRAME - 2 * MARGIN - width([Run(tail, 17, True)]), bold=True) if word else "0"
        words = text([Run(head + tail, 17, True)], MARGIN, DATUM - 13, tone="crayon")
        return (
            f'{words}<path class="datum" fill="none" stroke="#9a2318" stroke-width="3.4" '
            f'd="M{MARGIN} {DATUM}H{FRAME - MARGIN}"/>'
        )

    def _texts(self) -> str:
        out = []
        for (at, runs), y in zip(self.marks, self.label_at, strict=True):
            tone = "faint" if at == self.stock.length else "ink"
            out.append(text(runs, self.column, y + MARK * CAPS, anchor="end", tone=tone))
        out += self._pair_letters()
        low = max(self.foot, self.label_at[-1], *(self._letter_foot, 0.0))
        captions, y = self._captions(low)
        out += captions
        for runs in self.legend:
            y += LINE
            out.append(text(runs, MARGIN, y))
        self._height = round(y + 9)
        return "".join(out)

    def _pair_letters(self) -> list[str]:
        out = []
        self._letter_foot = 0.0
        for _i, place in enumerate(self.places):
            here = []
            for feature in self.features:
                letter = self.letters.get(feature.key)
                if letter and self._belongs(feature) is place.view:
                    box = self.boxes[feature.key]
                    here.append(((self.down(box.x0) + self.down(box.x1)) / 2, letter))
            here.sort()
            ys = spread([y for y, _ in here], LETTER_GAP, DATUM + 14, max(self.foot, DATUM + 14))
            for (_, letter), y in zip(here, ys, strict=True):
                x = place.right + 5
                out.append(text([Run(letter, LETTER, True)], x, y + LETTER * CAPS, tone="crayon"))
                self._letter_foot = max(self._letter_foot, y)
        return out

    def _belongs(self, feature: Feature) -> View:
        """The view beside which the feature's letter stands: where it is cut, or else the wider view."""
        for view in self.as_drawn:
            if view.face is feature.face:
                return view
        for view in self.as_drawn:
            if self._opens(feature, view) and not stands(feature):
                return view
        return max(self.as_drawn, key=lambda view: view.across)

    def _captions(self, low: float) -> tuple[list[str], float]:
        """The names of the surfaces, each under its view."""
        left, right = self.column + 12, FRAME - MARGIN
        room = (right - left - 12) / 2
        names = [fit(surface(place.view.face, self.line), TEXT, room) for place in self.places]
        widths = [width([Run(name, TEXT)]) for name in names]
        middles = [(place.left + place.right) / 2 for place in self.places]
        gap = (widths[0] + widths[1]) / 2 + 12
        first, second = spread(middles, gap, left + widths[0] / 2, right - widths[1] / 2)
        y = low + 23
        out = [
            text([Run(name, TEXT)], x, y, anchor="middle", tone="faint")
            for name, x in zip(names, (first, second), strict=True)
        ]
        return out, y + 6


_FACES = (Face.FACE_SIDE, Face.BACK)


def _places(line: Line, unit: Unit, denominator: int) -> list[tuple[Length, Runs]]:
    """The numbers of the column: every distinct mark, rising, and the far end, which is a check value only."""
    found: list[tuple[Length, Runs]] = []
    for at in sorted({mark.at for mark in marks(line)}):
        runs = measured(at, unit, denominator, MARK, bold=True)
        if not found or same(found[-1][1]) != same(runs):
            found.append((at, runs))
    found.append((line.length, measured(line.length, unit, denominator, MARK)))
    return found


def _runs_along(feature: Feature) -> bool:
    """Whether a feature runs with the grain, so that the part may be broken in the middle of it."""
    return (
        isinstance(feature, Groove)
        or (isinstance(feature, Rabbet) and feature.along not in ENDS)
        or (isinstance(feature, Tongue) and feature.face not in ENDS)
    )


def _attribute(value: str) -> str:
    return escape(plain(value), {'"': "&quot;"})
