"""Where on a board is clear wood?  The stretches of a strip between the defects that it meets, and the ends that are
trimmed.

A defect takes at least a kerf, along and across: parts on both sides of it are never nearer to each other than a cut.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..trade.length import Length
from .boards import Defect, Plank, Saw

__all__ = ["Plot", "Stretch", "plot_of"]


@dataclass(frozen=True)
class Stretch:
    """Clear wood from `start` to `end`; from `show_start` to `show_end` also for show parts (equal: nowhere)."""

    start: Length
    end: Length
    show_start: Length
    show_end: Length


@dataclass(frozen=True)
class Plot:
    """A board to be cut: its usable length, and what is cut around.

    `across`: stretches along the board that no part may lie in, whatever its y.  `spots`: the others, over a part of
    the width.
    """

    number: int
    plank: Plank
    start: Length
    end: Length
    across: tuple[tuple[Length, Length], ...]
    spots: tuple[Defect, ...]
    clear: Length

    @property
    def width(self) -> Length:
        return self.plank.width

    def meets(self, low: Length, high: Length) -> frozenset[int]:
        """The spots that a strip from y = `low` to `high` meets; beyond them, numbered on, those too near for a show
        part."""
        hit = {n for n, spot in enumerate(self.spots) if spot.near < high and spot.far > low}
        near = {n for n, spot in enumerate(self.spots) if spot.near < high + self.clear and spot.far > low - self.clear}
        return frozenset(hit | {n + len(self.spots) for n in near - hit})

    def stretches(
        self, met: frozenset[int] = frozenset(), start: Length | None = None, end: Length | None = None
    ) -> tuple[Stretch, ...]:
        """The clear stretches of a strip that meets these spots, from `start` to `end` if the strip is no longer."""
        start = self.start if start is None else max(start, self.start)
        end = self.end if end is None else min(end, self.end)
        many = len(self.spots)
        barred = [*self.across, *((self.spots[n].start, self.spots[n].end) for n in met if n < many)]
        near = [(self.spots[n - many].start, self.spots[n - many].end) for n in met if n >= many]
        grown = [(a - self.clear, b + self.clear) for a, b in [*barred, *near]]
        found = []
        for a, b in _between(barred, start, end):
            shown = max(_between(grown, a, b), key=lambda each: each[1] - each[0], default=(a, a))
            found.append(Stretch(a, b, *shown))
        return tuple(found)


def plot_of(number: int, plank: Plank, saw: Saw) -> Plot:
    """The board as it is cut.  Nothing may be left of its length: then `end` is not beyond `start`."""
    across, spots = [], []
    for each in plank.defects:
        start, end = each.start, max(min(each.end, plank.length), each.start + saw.kerf)
        whole = not each.far or (each.near <= 0 and each.far >= plank.width)
        if whole:
            across.append((start, end))
        elif each.near < plank.width:
            spots.append(Defect(start, end, each.near, max(min(each.far, plank.width), each.near + saw.kerf)))
    begin, finish = plank.trim
    return Plot(
        number, plank, begin, plank.length - finish, tuple(sorted(across)), tuple(sorted(spots)), saw.clear
    )  # fmt: skip


def _between(barred: Iterable[tuple[Length, Length]], start: Length, end: Length) -> list[tuple[Length, Length]]:
    """What is left from `start` to `end` between what is barred.

    >>> _between([(3, 5), (4, 6), (9, 20)], 0, 12)
    [(0, 3), (6, 9)]
    """
    found, at = [], start
    for a, b in sorted(barred):
        if a > at:
            found.append((at, min(a, end)))
        at = max(at, b)
        if at >= end:
            break
    if at < end:
        found.append((at, end))
    return [(a, b) for a, b in found if b > a]
