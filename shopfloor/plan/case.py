"""What the search works on: the lots, the boards and the grid of one task, numbered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .boards import Saw, Task
from .grid import MOST_ACROSS, MOST_ALONG, Grid, grid_for
from .lots import Lot, Shape, lots_of
from .plots import Plot, plot_of

__all__ = ["Case", "Whole", "case_of"]

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Case:
    """One task, sorted.  `plots[n]` is the board number n of the task; `lots[n]` has the number n."""

    saw: Saw
    lots: tuple[Lot, ...]
    plots: tuple[Plot, ...]
    along: Grid
    across: Grid

    @property
    def demand(self) -> Whole:
        """How many units of each lot are wanted."""
        return np.array([lot.count for lot in self.lots], dtype=np.int64)

    def shapes_for(self, plot: Plot) -> tuple[Shape, ...]:
        """What may be cut from this board: whatever is pinned nowhere, and what is pinned to it."""
        return tuple(s for lot in self.lots if lot.board in ("", plot.plank.key) for s in lot.shapes)

    def family(self, plot: Plot) -> str:
        """Boards of one family can give the same parts: all boards but those to which something is pinned."""
        return plot.plank.key if any(lot.board == plot.plank.key for lot in self.lots) else ""

    @property
    def exact(self) -> bool:
        """Whether everything lies on the grid, so that what is proven on it is proven."""
        return self.along.exact and self.across.exact


def case_of(task: Task) -> Case:
    """The task on its grid.  What cannot be planned was taken out before (see sense.py)."""
    lots = lots_of(task.wanted, task.groups, task.saw)
    plots = tuple(plot_of(n, plank, task.saw) for n, plank in enumerate(task.planks))
    kerf = task.saw.kerf
    shapes = [shape for lot in lots for shape in lot.shapes]
    along = grid_for([*(shape.length + kerf for shape in shapes), *_lengths(plots, kerf)], MOST_ALONG)
    across = grid_for([*(shape.width + kerf for shape in shapes), *_widths(plots, kerf)], MOST_ACROSS)
    return Case(task.saw, lots, plots, along, across)


def _lengths(plots: tuple[Plot, ...], kerf: int) -> Iterator[int]:
    for plot in plots:
        for met in {frozenset[int](), *(frozenset({n}) for n in range(2 * len(plot.spots)))}:
            for stretch in plot.stretches(met):
                yield stretch.end - stretch.start + kerf


def _widths(plots: tuple[Plot, ...], kerf: int) -> Iterator[int]:
    for plot in plots:
        yield plot.width + kerf
        for spot in plot.spots:
            yield from (spot.near + kerf, spot.far)
