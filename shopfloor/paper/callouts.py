"""Which label points where?  The codes beside a picture, each tied by a line to a spot of its part that is seen.

The picture is looked at on a grid of cells: what is painted last owns the cell.  A line ends where its part has most
room round it, so that a dot there cannot be taken for a neighbour's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from .isometric import Point
from .spread import spread

CELL = 2.0
"""Side of a cell in user units: as fine as the smallest dot."""

ROOMY = 4
"""So many cells of room round a dot are enough; more is not sought."""

OVER = 40
"""How many cells farther from the middle of its part a dot goes for its line to pass over one part less."""

LEVELS, CROWD = 12, 3
"""Dots whose lines leave to the same side want to be so many cells apart in height, or their labels push each other off
it; what a cell less costs."""


class Spot(NamedTuple):
    """The spot of a part that a line leads to, how far it is from what is not that part, and how much of the part is
    seen: a share from 0 to 1."""

    at: Point
    clear: float
    seen: float


class Callout(NamedTuple):
    """A label: which part, on which side of the picture, the height of its middle, and its spot."""

    key: str
    left: bool
    y: float
    spot: Point


class Grid(NamedTuple):
    """The picture as cells, `columns` in a row: the `number` of each part, the cells of its `whole` wherever something
    is painted over it, and the `owner` of each cell, row by row (0 is the paper)."""

    number: dict[str, int]
    whole: dict[str, set[int]]
    owner: list[list[int]]
    columns: int


def seen_of_each(
    polygons: Sequence[tuple[str, Sequence[Point]]], extent: tuple[float, float], wanted: Sequence[str]
) -> float:
    """How much is seen of the part that is seen least, a share from 0 to 1; 0 if a dot has no room on one of them.

    Taken as for `spots`, but much sooner: to choose between pictures.
    """
    number, whole, owner, columns = _painted(polygons, extent)
    owned = [n for line in owner for n in line]
    count = Counter(owned)
    least = 1.0
    for key in wanted:
        n = number[key]
        if not count[n] or not any(_inside(cell, n, owned, columns) for cell in whole[key]):
            return 0.0
        least = min(least, count[n] / len(whole[key]))
    return least


def _inside(cell: int, n: int, owned: Sequence[int], columns: int) -> bool:
    """Whether a cell and its four neighbours belong to part `n`; those along the picture's edge have no neighbour."""
    row, column = divmod(cell, columns)
    if row == 0 or column in (0, columns - 1) or cell + columns >= len(owned):
        return False
    return owned[cell] == owned[cell - 1] == owned[cell + 1] == owned[cell - columns] == owned[cell + columns] == n


def _painted(polygons: Sequence[tuple[str, Sequence[Point]]], extent: tuple[float, float]) -> Grid:
    columns, rows = int(extent[0] / CELL) + 2, int(extent[1] / CELL) + 2
    number = {key: n for n, key in enumerate(dict.fromkeys(key for key, _ in polygons), 1)}
    owner = [[0] * columns for _ in range(rows)]
    whole: dict[str, set[int]] = {key: set() for key in number}
    for key, corners in polygons:
        n, mine = number[key], whole[key]
        for row, first, last in _cells(corners, columns, rows):
            if first <= last:
                owner[row][first : last + 1] = [n] * (last - first + 1)
                mine.update(range(row * columns + first, row * columns + last + 1))
    return Grid(number, whole, owner, columns)


def spots(
    polygons: Sequence[tuple[str, Sequence[Point]]],
    extent: tuple[float, float],
    wanted: Sequence[str],
    *,
    one_sided: bool,
) -> dict[str, Spot]:
    """The spot of each wanted part, from all that is painted, what is farthest first: (part's key, corners).

    `extent` is the width and the height of the picture, whose corner is (0, 0).  A part that is not seen at all has
    the middle of its first polygon, and 0 to spare.
    """
    grid = _painted(polygons, extent)
    number, whole, owner, columns = grid
    rows = len(owner)
    room = _room(owner, columns)
    owned = [n for line in owner for n in line]
    crossings = [_changes(line) for line in owner]
    found: dict[str, Spot] = {}
    reach = dict.fromkeys(number, 0.0)
    for key, corners in polygons:
        reach[key] = max(reach[key], *(x for x, _ in corners))
    order = sorted(wanted, key=lambda key: (-reach[key], key))
    crowded = {False: [0] * rows, True: [0] * rows}
    for key in order:
        n = number[key]
        cells = [cell for cell in whole[key] if owned[cell] == n]
        if not cells:
            corners = next(corners for name, corners in polygons if name == key)
            middle = sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
            found[key] = Spot(middle, 0.0, 0.0)
            continue
        cx = sum(cell % columns for cell in cells) / len(cells)
        cy = sum(cell // columns for cell in cells) / len(cells)
        most = min(max(room[cell] for cell in cells), ROOMY)
        left = not one_sided and cx < columns / 2
        crowd = crowded[left]
        ranked = []
        for cell in cells:
            if room[cell] >= most:
                row, column = divmod(cell, columns)
                far = OVER * _passed(crossings[row], column, one_sided) + CROWD * crowd[row]
                ranked.append((far + abs(column - cx) + abs(row - cy), cell))
        _, best = min(ranked)
        row, column = divmod(best, columns)
        for other in range(max(0, row - LEVELS), min(rows, row + LEVELS)):
            crowd[other] += max(0, LEVELS - abs(row - other))
        found[key] = Spot(((column + 0.5) * CELL, (row + 0.5) * CELL), room[best] * CELL, len(cells) / len(whole[key]))
    return found


def _changes(line: Sequence[int]) -> list[int]:
    """For each cell of a row, how many parts begin in the cells up to it."""
    out, before, count = [], 0, 0
    for here in line:
        count += here not in (before, 0)
        before = here
        out.append(count)
    return out


def _passed(changes: Sequence[int], column: int, one_sided: bool) -> int:
    """How many parts a level line from that cell passes over: to the right, or to the side where they are fewer."""
    right = changes[-1] - changes[column]
    return right if one_sided else min(right, changes[column] - 1)


def _cells(corners: Sequence[Point], columns: int, rows: int) -> list[tuple[int, int, int]]:
    """The cells whose middles lie in a convex polygon: (row, first column, last column)."""
    ys = [y for _, y in corners]
    out = []
    for row in range(max(0, round(min(ys) / CELL - 0.5)), min(rows - 1, round(max(ys) / CELL - 0.5)) + 1):
        y = (row + 0.5) * CELL
        crossings = []
        for (x0, y0), (x1, y1) in zip(corners, (*corners[1:], corners[0]), strict=True):
            if (y0 <= y) != (y1 <= y):
                crossings.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
        if crossings:
            first = max(0, -int(-(min(crossings) / CELL - 0.5) // 1))
            out.append((row, first, min(columns - 1, int((max(crossings) / CELL - 0.5) // 1))))
    return out


def _room(owner: Sequence[Sequence[int]], columns: int) -> list[int]:
    """How many steps each cell is from one that belongs to something else, diagonals too: two passes over the grid."""
    far = columns + len(owner)
    edge = [0] * columns
    grid = [edge]
    for above, line, under in zip(owner, owner[1:], owner[2:], strict=False):
        around = zip(line, line[1:], line[2:], above[1:], under[1:], strict=False)
        # Of the paper round the wood nobody asks how much room there is.
        inner = [far if here and here == left == right == up == down else 0 for left, here, right, up, down in around]
        grid.append([0, *inner, 0])
    grid.append(edge)
    for step in (1, -1):  # down and to the right, then up and to the left
        before = edge
        for line in grid[::step]:
            nearest = list(map(min, before, before[1:], before[2:]))
            last, at = 0, 1 if step > 0 else columns - 2
            for near in nearest[::step]:
                here = line[at]
                if here:
                    near = 1 + (near if near < last else last)
                    last = line[at] = near if near < here else here
                else:
                    last = 0
                at += step
            before = line
    return [room for line in grid for room in line]


def callouts(
    spot_of: Mapping[str, Point], edges: tuple[float, float], pitch: float, height: float, *, one_sided: bool
) -> list[Callout]:
    """A label for each spot, at least `pitch` apart on each side, lines that do not cross, all within the height.

    `edges` are where the lines of the left and of the right side begin.  One-sided: all on the right.
    """
    keys = sorted(spot_of, key=lambda key: (spot_of[key], key))
    half = 0 if one_sided else len(keys) // 2
    out: list[Callout] = []
    for left, side in ((True, keys[:half]), (False, keys[half:])):
        order = sorted(side, key=lambda key: (spot_of[key][1], key))
        wanted = [spot_of[key][1] for key in order]
        places = spread(wanted, pitch, pitch / 2, height - pitch / 2)
        start = edges[0] if left else edges[1]
        _uncross(order, places, start, spot_of)
        out.extend(Callout(key, left, y, spot_of[key]) for key, y in zip(order, places, strict=True))
    return out


def _uncross(order: list[str], places: Sequence[float], start: float, spot_of: Mapping[str, Point]) -> None:
    """Swap labels until no two lines of a side cross.  Every swap makes the lines shorter together, so it ends."""
    crossed = True
    while crossed:
        crossed = False
        for i in range(len(order)):
            for j in range(i + 1, len(order)):
                if cross((start, places[i]), spot_of[order[i]], (start, places[j]), spot_of[order[j]]):
                    order[i], order[j] = order[j], order[i]
                    crossed = True


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the lines from a to b and from c to d cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
