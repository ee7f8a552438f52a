"""The ink of a drawing: wood and its outline, cuts, leaders, breaks, and the marks of the reference surfaces.

Every function gives a piece of SVG.  Classes name the things for a style sheet; attributes say how they are printed
where there is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from xml.sax.saxutils import quoteattr

from ..trade.layout import marks
from ..trade.part import (
    ENDS,
    FACES,
    Box,
    Bridle,
    EdgeNote,
    Face,
    Feature,
    Hole,
    HoleRow,
    LooseTenon,
    Mortise,
    Pins,
)
from .arrange import DATUM, FRAME, MARGIN, Arrangement, Place, face_edge_side
from .ground import LETTER
from .relief import Corner, Segment
from .slopes import arris, between_shoulders, sides
from .type import num, plain
from .views import pocket, stands

OUTLINE = 'class="outline" fill="none" stroke="#000" stroke-width="1.6"'
SEEN = 'class="seen" fill="none" stroke="#000" stroke-width="1.4"'
FINE = 'class="seen" fill="none" stroke="#000" stroke-width="0.9"'
OPEN = 'class="open" fill="#fff" stroke="#000" stroke-width="1.5"'
HIDDEN = 'class="hidden" fill="none" stroke="#000" stroke-width="1.1" stroke-dasharray="4 3"'
LEADER = 'class="leader" fill="none" stroke="#555045" stroke-width="0.9"'
CRAYON = 'fill="none" stroke="#9a2318"'
BREAK_GAP = 9
ZIGZAG = ((0.0, 0.0), (0.28, 4.0), (0.5, -5.0), (0.72, 4.0), (1.0, 0.0))
"""A break, from side to side: how far across, how far down."""


def wood(sheet: Arrangement) -> str:
    """The part itself: its wood, what lies lower, the run of the grain, and through what one looks."""
    out = []
    for place in sheet.places:
        outline = "".join(_loop(sheet, place, loop) for loop in place.relief.wood())
        lower = "".join(_loop(sheet, place, loop) for loop in place.relief.lower())
        out.append(f'<path class="wood" fill="#f0e4c8" d="{outline}"/>')
        if lower:
            out.append(f'<path class="lower" fill="#dccba0" d="{lower}"/>')
        out.append(_grain(sheet, place))
        gone = "".join(_loop(sheet, place, loop) for loop in place.relief.gone())
        if gone:
            out.append(f'<path class="gap" fill="#fff" d="{gone}"/>')
    return "".join(out)


def outlines(sheet: Arrangement) -> str:
    """The line round the wood of each view."""
    return "".join(
        f'<path {OUTLINE} d="{"".join(_loop(sheet, place, loop) for loop in place.relief.wood())}"/>'
        for place in sheet.places
    )


def _loop(sheet: Arrangement, place: Place, loop: Sequence[Corner]) -> str:
    return "M" + "L".join(_corner(sheet, place, *corner) for corner in loop) + "Z"


def _corner(sheet: Arrangement, place: Place, i: int, j: int) -> str:
    x, a = place.relief.corner(i, j)
    return f"{num(place.across(a))} {num(sheet.down(x))}"


def _grain(sheet: Arrangement, place: Place) -> str:
    """A few lines along the grain, where the part has its full width."""
    top, foot = between_shoulders(sheet)
    top, foot = top + 5, foot - 5
    if foot - top < 30:
        return ""
    side = place.right - place.left
    count = max(2, round(side / 19))
    third = (foot - top) / 3
    lines = []
    for i in range(count):
        across, sway = side * (i + 0.5) / count, (2.6, -2.0, 1.4)[i % 3]
        at, sway = (place.right - across, -sway) if sheet.mirrored else (place.left + across, sway)
        lines.append(
            f"M{num(at)} {num(top + i % 2 * 5)}C{num(at + sway)} {num(top + third)} {num(at - sway)} "
            f"{num(top + 2 * third)} {num(at + sway / 2)} {num(foot - i % 3 * 4)}"
        )
    return f'<path class="grain" fill="none" stroke="#b89b63" stroke-width="0.8" d="{"".join(lines)}"/>'


def leaders(sheet: Arrangement) -> str:
    """A thin line from each number to its place, and on over the wood, as it is squared across with a knife."""
    left, right = sheet.places
    feature_of = {feature.key: feature for feature in sheet.line.features}
    here: dict[int, list[Feature]] = {}
    for mark in marks(replace(sheet.line, features=sheet.own)):
        here.setdefault(mark.at, []).append(feature_of[mark.feature])
    lines = []
    for number in sheet.numbers:
        start = f"M{num(sheet.column + 6)} {num(number.stands)}h5L{num(left.left - 7)} {num(number.place)}"
        if number.at == sheet.line.length:
            lines.append(f"{start}H{num(_wood_at_far_end(left) - 2)}")
            continue
        lines.append(f"{start}H{num(left.right)}")
        if any(_opens(sheet, feature, right) for feature in here[number.at]):
            lines.append(f"M{num(right.left)} {num(number.place)}H{num(right.right)}")
    return f'<path {LEADER} d="{"".join(lines)}"/>'


def _wood_at_far_end(place: Place) -> float:
    """Where the wood begins at the far end, from the left; the side of the view if nothing is left there."""
    last, across = place.relief.depth[-1], place.relief.across
    cells = [j for j, depth in enumerate(last) if depth < place.view.deep]
    return min((place.across(across[k]) for j in cells for k in (j, j + 1)), default=place.left)


def _opens(sheet: Arrangement, feature: Feature, place: Place) -> bool:
    """Whether a feature is seen on a view's surface."""
    return stands(feature) or isinstance(feature, Bridle) or place.view.flat(sheet.boxes[feature.key]).near <= 0


def cuts(sheet: Arrangement) -> str:
    """Every feature in both views, in a group that names it; in each view what is only hidden comes first.

    What is not measured here was cut before, and is drawn fainter.
    """
    out = []
    own = {feature.key for feature in sheet.own}
    for place in sheet.places:
        groups = []
        for feature in sheet.line.features:
            if pocket(feature):
                inner = "".join(_pocket(sheet, place, feature, box) for box in sheet.blocks[feature.key])
            elif isinstance(feature, EdgeNote):
                line, behind = arris(sheet, place, feature)
                inner = f'<path {HIDDEN if behind else FINE} d="{line}"/>' if line else ""
            else:
                inner = _square(sheet, place, feature)
            if inner:
                name, kind = quoteattr(plain(feature.key)), feature.kind.replace(" ", "-")
                before = "" if feature.key in own else ' opacity="0.5"'
                groups.append(f'<g class="cut {kind}" data-feature={name}{before}>{inner}</g>')
        out += sorted(groups, key=lambda group: OPEN in group or SEEN in group)
    return "".join(out)


def _pocket(sheet: Arrangement, place: Place, feature: Feature, box: Box) -> str:
    """A mortise or a hole: round where it is looked into, a rectangle from the side; dashed where it is hidden."""
    flat = place.view.flat(box)
    top, foot = sheet.down(flat.x0), sheet.down(flat.x1)
    left, right = sorted((place.across(flat.a0), place.across(flat.a1)))
    high, wide = foot - top, right - left
    style = HIDDEN if flat.near > 0 else OPEN
    looked_into = (feature.face in FACES) == place.view.wide and feature.face not in ENDS
    if isinstance(feature, Hole | HoleRow) and looked_into:
        x, y, radius = (left + right) / 2, (top + foot) / 2, min(high, wide) / 2
        reach = radius + 3.5
        cross = f"M{num(x - reach)} {num(y)}h{num(2 * reach)}M{num(x)} {num(y - reach)}v{num(2 * reach)}"
        circle = f'<circle {style} cx="{num(x)}" cy="{num(y)}" r="{num(radius)}"/>'
        return circle if flat.near > 0 else f'{circle}<path {LEADER} d="{cross}"/>'
    corner = 0.0
    if isinstance(feature, Mortise | LooseTenon) and looked_into and feature.length > feature.width:
        # The ends are as round as the cutter leaves them, but a short mortise must not be taken for a hole.
        corner = min(high / 2, wide / 2, 0.3 * max(high, wide))
    rx = f' rx="{num(corner)}"' if corner else ""
    return f'<rect {style} x="{num(left)}" y="{num(top)}" width="{num(wide)}" height="{num(high)}"{rx}/>'


def _square(sheet: Arrangement, place: Place, feature: Feature) -> str:
    seen, hidden = place.relief.edges(feature.key)
    out = f'<path {SEEN} d="{_lines(sheet, place, seen)}"/>' if seen else ""
    out += f'<path {HIDDEN} d="{_lines(sheet, place, hidden)}"/>' if hidden else ""
    return out + (_bottoms(sheet, place, feature) if isinstance(feature, Pins) and place.view.wide else "")


def _lines(sheet: Arrangement, place: Place, segments: Sequence[Segment]) -> str:
    return "".join(f"M{_corner(sheet, place, i0, j0)}L{_corner(sheet, place, i1, j1)}" for i0, j0, i1, j1 in segments)


def _bottoms(sheet: Arrangement, place: Place, feature: Pins) -> str:
    """The sides of dovetail sockets where they are wide: seen where they open on this side, else hidden."""
    lines = []
    for flat in map(place.view.flat, feature.bottoms(sheet.line.stock)):
        for side in (num(place.across(flat.a0)), num(place.across(flat.a1))):
            lines.append(f"M{side} {num(sheet.down(flat.x0))}L{side} {num(sheet.down(flat.x1))}")
    opens = place.view.face is not feature.into and not feature.depth
    return f'<path {SEEN if opens else HIDDEN} d="{"".join(lines)}"/>'


def breaks(sheet: Arrangement) -> str:
    """Where a stretch is shortened: a gap between two zigzag lines."""
    out = []
    for middle in sheet.breaks:
        for place in sheet.places:
            start, end = sides(sheet, place, middle)
            edge = [(start + (end - start) * a, middle - BREAK_GAP / 2 + b) for a, b in ZIGZAG]
            upper = "L".join(f"{num(x)} {num(y)}" for x, y in edge)
            lower = "L".join(f"{num(x)} {num(y + BREAK_GAP)}" for x, y in edge)
            back = "L".join(f"{num(x)} {num(y + BREAK_GAP)}" for x, y in reversed(edge))
            left, right = num(start - 2), num(end + 2)
            out.append(
                f'<path class="gap" fill="#fff" d="M{left} {num(middle - BREAK_GAP / 2)}L{upper}H{right}'
                f'v{BREAK_GAP}L{back}H{left}Z"/><path {OUTLINE} d="M{upper}M{lower}"/>'
            )
    return "".join(out)


def face_marks(sheet: Arrangement) -> str:
    """The loop on the face side, its tail running to the face edge; on the face edge, the caret that meets it."""
    shown = {place.view.face: place for place in sheet.places}
    face, edge = shown.get(Face.FACE_SIDE), shown.get(Face.FACE_EDGE)
    place = face or edge
    if place is None:
        return ""
    at = _free_height(sheet, place)
    out = ""
    if face:
        arris, way = face_edge_side(face)
        size = min(1.0, (face.right - face.left) / 48)
        x = [num(arris + way * size * step) for step in (38, 26, 13, 12, 11, 23, 25, 27, 14, 0.8)]
        y = [num(at + size * step) for step in (-1, 3, -8, -20, -31, -33, -23, -11, -2, 0)]
        points = [f"{a} {b}" for a, b in zip(x, y, strict=True)]
        out += f"M{points[0]}C" + " ".join(points[1:])
    if edge:
        arris, way = face_edge_side(edge)
        out += f"M{num(arris + way * 11)} {num(at - 7)}L{num(arris + way * 1.2)} {num(at)}L{num(arris + way * 11)} "
        out += num(at + 7)
    return f'<path class="face-mark" {CRAYON} stroke-width="2.2" d="{out}"/>'


def _free_height(sheet: Arrangement, place: Place) -> float:
    """Where the face mark disturbs least: clear of cuts if it can be, then of breaks, then of marks."""
    near = []
    for box in (box for every in sheet.blocks.values() for box in every):
        flat = place.view.flat(box)
        if place.scale(flat.a0) < 42:  # the mark reaches that far in from the arris
            near.append((sheet.down(flat.x0), sheet.down(flat.x1), 3 if flat.near <= 0 else 1))
    lines = [sheet.down(at) for at in {mark.at for mark in marks(replace(sheet.line, features=sheet.every))}]
    first, last = DATUM + 42, sheet.foot - 8
    best, least = first, float("inf")
    for step in range(max(1, int((last - first) / 4))):
        at = first + 4 * step
        top, low = at - 36, at + 5
        cost = abs(at - (DATUM + (sheet.foot - DATUM) * 0.45)) / 400
        cost += sum(weight * (1 + (min(z, low) - max(a, top)) / 41) for a, z, weight in near if a < low and z > top)
        cost += sum(3 for middle in sheet.breaks if top - 8 < middle < low + 8)
        cost += sum(0.4 for line in lines if top < line < low)
        if cost < least - 1e-6:
            best, least = at, cost
    return best


def datum(sheet: Arrangement) -> str:
    """The crayon line at the datum end, over the whole sheet."""
    return f'<path class="datum" {CRAYON} stroke-width="3.4" d="M{MARGIN} {DATUM}H{FRAME - MARGIN}"/>'


def sawn(sheet: Arrangement) -> str:
    """Where a section across the part was taken: a short stroke on either side of the views.

    Where a pair letter begins at the right there is none: the two would read as one sign, "-2A".
    """
    left, right = sheet.places
    heights = [sheet.down(cell.section.at) for cell in sheet.sections if cell.section.at is not None]
    lettered = [y for _, x, y in sheet.letters if x > right.right]
    free = [y for y in heights if not any(foot - LETTER < y < foot + 4 for foot in lettered)]
    strokes = "".join(f"M{num(left.left - 5.5)} {num(y)}h4" for y in heights)
    strokes += "".join(f"M{num(right.right + 1.5)} {num(y)}h3.5" for y in free)
    return f'<path class="sawn" fill="none" stroke="#000" stroke-width="1.8" d="{strokes}"/>' if strokes else ""


def grain_arrow() -> str:
    """Which way the grain runs, beside its word in the head of the sheet: along the part, always."""
    x, top, foot = FRAME - MARGIN - 3, DATUM - 28, DATUM - 9
    heads = f"M{x - 3.5} {top + 5}L{x} {top}L{x + 3.5} {top + 5}M{x - 3.5} {foot - 5}L{x} {foot}L{x + 3.5} {foot - 5}"
    return f'<path class="along" fill="none" stroke="#000" stroke-width="1.4" d="M{x} {top}V{foot}{heads}"/>'
