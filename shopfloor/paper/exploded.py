"""Where does each part go?  An assembly pulled apart along its joints, in isometric, each part with its code.

The result is one SVG like a part's drawing: no styles, scripts or references, `static/drawing.css` colours it, and the
same assembly gives the same bytes.  Every part's wood is in groups that carry its code as `data-part`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from ..trade.code import show
from ..trade.part import Assembly, Box, Job, Line, Part
from .arrange import CAPS, FRAME, MARGIN, TEXT
from .blocks import Block, blocks, openings
from .callouts import Callout, Spot, callouts, seen_of_each, spots
from .isometric import Point, painted, project, sides
from .pulled_apart import Meeting, shifts
from .ties import ties_of
from .type import FAMILY, Run, num, plain, texts, width

TALLEST, TALLER = 430, 46  # how high the wood is drawn at most: what a phone shows at once, or so much a label
FEW = 8  # so many labels stand in one column; more stand on both sides
PITCH = 22  # from label to label
AIR = 6  # between a code and its line
REACH = 16  # the least room for the lines between the wood and a column of labels
GAPS = (
    (0.12, 0.0),
    (0.12, 0.3),
    (0.17, 0.3),
    (0.12, 0.5),
    (0.17, 0.5),
    (0.12, 0.7),
    (0.17, 0.7),
    (0.12, 0.9),
    (0.25, 0.9),
    (0.4, 1.2),
)
"""How far parts are pulled apart, in the assembly's mean size, until enough is seen of each: those that are joined, and
those that stand apart already."""
SEEN = 0.8  # enough of a part is seen: this share of it, and room for its dot

TONES = {"top": "#f6ecd3", "front": "#ecdcb9", "right": "#d9c59a"}
GRAIN = 9  # from line to line of the grain, user units
Corner = tuple[float, float, float]
EDGE = 'class="edge" fill="none" stroke="#000" stroke-width="0.9"'
PULL = 'class="pull" fill="none" stroke="#555045" stroke-width="0.9" stroke-dasharray="5 3"'
LEADER = 'class="leader" fill="none" stroke="#555045" stroke-width="0.9"'


@dataclass(frozen=True)
class Piece:
    """What is painted as one: a block of a part, or the line that a joint goes together by (no block, no key)."""

    key: str
    box: Box
    block: Block | None


@dataclass(frozen=True)
class Picture:
    """The pieces in the order of painting, from (x, y) on `scale` user units to the nanometre, and the parts' spots."""

    pieces: tuple[Piece, ...]
    origin: Point
    scale: float
    extent: Point
    spots: Mapping[str, Spot]

    def at(self, x: float, y: float, z: float) -> Point:
        u, v = project(x, y, z)
        return (u - self.origin[0]) * self.scale, (v - self.origin[1]) * self.scale


def draw(job: Job, assembly: Assembly, codes: Mapping[str, str], *, width: int = FRAME) -> str | None:
    """The exploded picture of one assembly as a standalone SVG, `width` pixels wide; its own units are 360 across.

    `codes` gives the code of each part by its key; one that has not been given its code yet is called new.  Parts that
    have no place in space are left out; None if none has.
    """
    labels = {key: (Run(show(codes[key]) if codes.get(key) else "new", TEXT, True),) for key in standing(job, assembly)}
    if not labels:
        return None
    picture = pull_apart(job, assembly, _column(labels))
    return _svg(f"{plain(assembly.name)}, pulled apart", picture, labels, codes, width)


def standing(job: Job, assembly: Assembly) -> dict[str, tuple[Line, Part]]:
    """The parts of an assembly that have a place in space, each by its key, with its line."""
    return {
        part.key: (line, part)
        for line in job.lines
        if line.assembly == assembly.key
        for part in line.parts
        if part.stands is not None and min(line.stock) > 0
    }


def pull_apart(job: Job, assembly: Assembly, column: float) -> Picture:
    """The assembly pulled apart just so far that enough is seen of each part, beside columns of codes so wide.

    Raises ValueError if no part has a place in space.
    """
    here = standing(job, assembly)
    if not here:
        raise ValueError(f"no part of {assembly.key!r} has a place in space")
    made = {key: blocks(line, part.stands) for key, (line, part) in here.items() if part.stands}
    whole = {key: _around([block.box for block in own]) for key, own in made.items()}
    all_of_it = _around(list(whole.values()))
    size = sum(all_of_it[2 * k + 1] - all_of_it[2 * k] for k in range(3)) // 3
    joined = ties_of(job.joints, here)
    meetings = [Meeting(tie.enters, tie.takes, tie.axis) for tie in joined]
    columns = (1 if len(here) <= FEW else 2) * (column + REACH)

    best, polygons_of_best = None, []
    most = -1.0
    for gap, between in GAPS:
        shift = shifts(whole, meetings, round(size * gap), round(size * between))
        pieces = [
            Piece(key, elsewhere.box, elsewhere)
            for key, own in made.items()
            for elsewhere in (block.moved(shift[key]) for block in own)
        ]
        pieces += [Piece("", box, None) for tie in joined if (box := tie.line(shift)) is not None]
        picture, polygons = _projected(pieces, len(here), columns)
        least = seen_of_each(polygons, picture.extent, list(here))
        if least > most + 1e-9:
            best, polygons_of_best, most = picture, polygons, least
        if least >= SEEN:
            break
    assert best is not None
    return replace(best, spots=spots(polygons_of_best, best.extent, list(here), one_sided=len(here) <= FEW))


def _projected(pieces: Sequence[Piece], parts: int, columns: float) -> tuple[Picture, list[tuple[str, list[Point]]]]:
    """The picture of so many parts without its spots, and all its polygons as they are painted, each with its key."""
    ordered = tuple(pieces[i] for i in painted([piece.box for piece in pieces]))
    points = [project(*corner) for piece in pieces for _, corners in sides(piece.box) for corner in corners]
    left, right = min(u for u, _ in points), max(u for u, _ in points)
    top, foot = min(v for _, v in points), max(v for _, v in points)
    tallest = max(TALLEST, TALLER * parts / 2)
    scale = min((FRAME - 2 * MARGIN - columns) / (right - left), tallest / (foot - top))
    bare = Picture(ordered, (left, top), scale, ((right - left) * scale, (foot - top) * scale), {})
    return bare, [
        (piece.key, [bare.at(*corner) for corner in corners])
        for piece in ordered
        if piece.block
        for _, corners in sides(piece.box)
    ]


def _around(boxes: Sequence[Box]) -> Box:
    low = [min(box[2 * k] for box in boxes) for k in range(3)]
    high = [max(box[2 * k + 1] for box in boxes) for k in range(3)]
    return Box(low[0], high[0], low[1], high[1], low[2], high[2])


# --- ink ---------------------------------------------------------------------------------------------------------


def _svg(
    title: str, picture: Picture, labels: Mapping[str, tuple[Run, ...]], codes: Mapping[str, str], shown_wide: int
) -> str:
    one_sided = len(labels) <= FEW
    column = _column(labels)
    columns = (0.0 if one_sided else column, column)
    per_side = len(labels) if one_sided else -(-len(labels) // 2)
    high = max(picture.extent[1], per_side * PITCH)
    across = columns[0] + columns[1] + picture.extent[0] + REACH * (1 if one_sided else 2)
    left = (FRAME - across) / 2
    x = left + columns[0] + (0 if one_sided else REACH)
    y = MARGIN + (high - picture.extent[1]) / 2
    edges = left + columns[0], FRAME - left - columns[1]
    placed = callouts(
        {key: (spot.at[0] + x, spot.at[1] + y - MARGIN) for key, spot in picture.spots.items()},
        edges, PITCH, high, one_sided=one_sided,
    )  # fmt: skip
    height = round(high + 2 * MARGIN)

    def at(corner: Corner) -> str:
        u, v = picture.at(*corner)
        return f"{num(u + x)} {num(v + y)}"

    wood = []
    for key, group in groupby(picture.pieces, key=lambda piece: piece.key):
        inner = "".join(_block(piece, picture.scale, at) if piece.block else _pull(piece, at) for piece in group)
        wood.append(f"<g data-part={quoteattr(codes.get(key, ''))}>{inner}</g>" if key else inner)
    rows = [
        (callout, (labels[callout.key], left + column - AIR if callout.left else FRAME - left - column + AIR,
                   MARGIN + callout.y + TEXT * CAPS))
        for callout in placed
    ]  # fmt: skip
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {FRAME} {height}" '
            f'width="{shown_wide}" height="{num(height * shown_wide / FRAME)}" role="img" font-family="{FAMILY}" '
            f'fill="#000" stroke-linejoin="round" stroke-linecap="round"><title>{escape(title)}</title>',
            *wood,
            _leaders(placed, edges),
            *(
                f"<g data-part={quoteattr(codes.get(callout.key, ''))}>"
                f"{texts([row], anchor='end' if callout.left else 'start')}</g>"
                for callout, row in rows
            ),
            "</svg>",
        )
    )


def _column(labels: Mapping[str, tuple[Run, ...]]) -> float:
    """How wide a column of codes is, with the air between them and their lines."""
    return max(width(runs) for runs in labels.values()) + AIR


def _leaders(placed: Sequence[Callout], edges: tuple[float, float]) -> str:
    lines, dots = [], []
    for callout in placed:
        (x, y), start = callout.spot, edges[0] if callout.left else edges[1]
        lines.append(f"M{num(start)} {num(callout.y + MARGIN)}L{num(x)} {num(y + MARGIN)}")
        dots.append(f'<circle class="dot" fill="#000" cx="{num(x)}" cy="{num(y + MARGIN)}" r="2"/>')
    return f'<path {LEADER} d="{"".join(lines)}"/>' + "".join(dots)


def _block(piece: Piece, scale: float, at: Callable[[Corner], str]) -> str:
    """One block: its three sides, what is cut into them, the run of the grain, and its edges."""
    assert piece.block is not None
    out = []
    edges = ""
    for side, corners in sides(piece.box):
        shape = "M" + "L".join(at(corner) for corner in corners) + "Z"
        out.append(f'<path class="wood {side}" fill="{TONES[side]}" d="{shape}"/>')
        edges += shape
        grain = _grain(piece.block, corners, scale, at)
        if grain:
            out.append(f'<path class="grain" fill="none" stroke="#b89b63" stroke-width="0.7" d="{grain}"/>')
    cut = ["M" + "L".join(at(corner) for corner in corners) + "Z" for _, corners in openings(piece.block)]
    if cut:
        shape = "".join(cut)
        out.append(f'<path class="hollow" fill="#8a744a" d="{shape}"/>')
        edges += shape
    out.append(f'<path {EDGE} d="{edges}"/>')
    return "".join(out)


def _grain(block: Block, corners: Sequence[Corner], scale: float, at: Callable[[Corner], str]) -> str:
    """A few lines along the grain on one side of a block, if it is wide enough for them."""
    spans = [(min(corner[k] for corner in corners), max(corner[k] for corner in corners)) for k in range(3)]
    long = block.grain
    across = next(k for k in range(3) if k != long and spans[k][0] < spans[k][1])
    wide, length = (spans[across][1] - spans[across][0]) * scale, (spans[long][1] - spans[long][0]) * scale
    if spans[long][0] == spans[long][1] or wide < GRAIN or length < 2 * GRAIN:
        return ""
    count = round(wide / GRAIN)
    lines = ""
    for i in range(count):
        ends = []
        for near in (0.06 + 0.05 * (i % 3), 0.95 - 0.06 * (i % 2)):
            corner = [float(span[0]) for span in spans]
            corner[across] += (spans[across][1] - spans[across][0]) * (i + 0.5) / count
            corner[long] += (spans[long][1] - spans[long][0]) * near
            ends.append(at((corner[0], corner[1], corner[2])))
        lines += f"M{ends[0]}L{ends[1]}"
    return lines


def _pull(piece: Piece, at: Callable[[Corner], str]) -> str:
    x0, x1, y0, y1, z0, z1 = piece.box
    return f'<path {PULL} d="M{at((x0, y0, z0))}L{at((x1, y1, z1))}"/>'
