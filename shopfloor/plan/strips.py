"""What is the best that a strip can give?  For every width and every length at once.

A strip so wide takes every shape no wider.  With the shapes sorted by width, one pass of a knapsack in which no lot is
used more often than it is wanted answers for all widths and lengths: after the shapes of one width, the row is the
answer for strips of that width.  Shapes that are too short to be ripped to width go only into a strip of just their
own width, on a branch of their own.  All values are whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .case import Whole
from .grid import Grid
from .lots import Shape

__all__ = ["Strips"]


class Strips:
    """The table, for `room` cells of length.  `widths` and `cells` are the widths of strips, rising, in nm and in
    cells.

    `loose`: sizes are rounded down instead of up, for a bound.
    """

    def __init__(
        self, shapes: Sequence[Shape], along: Grid, across: Grid, kerf: int, room: int, *, loose: bool = False
    ) -> None:
        length, width = (along.part_at_least, across.part_at_least) if loose else (along.part, across.part)
        self.room = room
        self.widths = sorted({shape.width for shape in shapes})
        self.cells = np.array([width(each + kerf) for each in self.widths], dtype=np.int64)
        self._by_width = [
            [(shape, length(shape.length + kerf), shape.exact) for shape in shapes if shape.width == each]
            for each in self.widths
        ]
        self._plain = not any(shape.exact for shape in shapes)
        self._table = np.zeros((1, room + 1), dtype=np.int64)
        self._rows = [0] * len(self.widths)
        self._item: list[tuple[int, Shape | None, int, int]] = []

    def fill(self, worth: Whole, demand: Whole) -> None:
        """Work the table out for what a unit of each lot is worth and how many of it are wanted."""
        value, wanted = worth.tolist(), demand.tolist()
        item: list[tuple[int, Shape | None, int, int]] = [(0, None, 0, 0)]
        last = 0
        for level, own in enumerate(self._by_width):
            for shape, size, exact in own:
                if not exact:
                    for many in self._portions(shape, size, value, wanted):
                        item.append((last, shape, many, many * size))
                        last = len(item) - 1
            top = last
            for shape, size, exact in own:
                if exact:
                    for many in self._portions(shape, size, value, wanted):
                        item.append((top, shape, many, many * size))
                        top = len(item) - 1
            self._rows[level] = top
        if len(item) > len(self._table):
            self._table = np.zeros((len(item) + 16, self.room + 1), dtype=np.int64)
        table = self._table
        for row, (before, each, many, size) in enumerate(item):
            if each is not None:
                gain = many * value[each.lot]
                table[row, :size] = table[before, :size]
                np.add(table[before, : self.room + 1 - size], gain, out=table[row, size:])
                np.maximum(table[row, size:], table[before, size:], out=table[row, size:])
        self._item = item

    def _portions(self, shape: Shape, size: int, value: list[int], wanted: list[int]) -> list[int]:
        """1, 2, 4 ... and the rest: every number up to what is wanted is a sum of some of them."""
        most = min(wanted[shape.lot], self.room // size if size else wanted[shape.lot]) if value[shape.lot] > 0 else 0
        found, portion = [], 1
        while most > 0:
            found.append(min(portion, most))
            most -= portion
            portion *= 2
        return found

    @property
    def tops(self) -> Whole:
        """The best value: a row for each width, a column for each number of cells from 0 to the room."""
        return self._table[self._rows]

    def best(self, cells: Sequence[int]) -> Whole:
        """The best values at these lengths: a row for each length, a column for each width."""
        picked: Whole = self._table[np.asarray(self._rows)[:, None], np.asarray(cells, dtype=np.int64)[None, :]].T
        return picked

    def take(self, level: int, cells: int) -> list[Shape]:
        """The shapes that give the best value in a strip of this width and length."""
        table, item = self._table, self._item
        row, found = self._rows[level], list[Shape]()
        while row:
            if self._plain:
                # Down a column values only rise, so what was taken last is where this value stands first.
                column = table[: row + 1, cells]
                row = int(np.searchsorted(column, column[row]))
                if not row:
                    break
            before, shape, many, size = item[row]
            if table[row, cells] != table[before, cells]:
                assert shape is not None
                found += [shape] * many
                cells -= size
            row = before
        return found
