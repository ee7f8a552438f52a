"""How many equal bars do these pieces need?  Lengths out of stock of one length, and proof that fewer will not do.

Patterns of one bar are made as they pay (column generation), and the least number is proven in whole numbers: with
what a piece is worth by the linear programme, rounded down, no bar can hold more than z; so at least sum(worth) / z
bars are needed.  The plan comes of a dive: take the pattern that the solution likes best, make new patterns for what
remains, go on; where the bound says that this can no longer beat the best plan, step back and take another pattern.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .master import Master

__all__ = ["Bars", "cut_bars"]

SCALE = 10**9
"""What a whole bar is worth in whole numbers."""
SMOOTH = 0.5
"""How far worths are drawn towards those of the best bound, which spares rounds.  Source: measured, see tests/bench."""

SURE = 0.8
"""What the solution likes so well is taken at once.  Source: measured, see tests/bench."""

DIVES = 400
"""The first two dives follow the solution, all others are shaken."""
FEW, FINISH = 16.0, 0.5
"""So many bars before the end the rest is tried by branch and bound, for so many seconds."""

Worth = NDArray[np.float64]
Pattern = tuple[tuple[int, int], ...]
"""How often each size lies in one bar: (number of the size, times), times at least 1."""


@dataclass(frozen=True)
class Bars:
    """The plan: patterns and how many bars are cut by each.  `least` bars are proven to be needed."""

    patterns: tuple[tuple[Pattern, int], ...]
    least: int

    @property
    def used(self) -> int:
        return sum(times for _, times in self.patterns)


def cut_bars(
    length: int, sizes: Sequence[tuple[int, int]], *, kerf: int = 0, seconds: float = 10.0,
    stop: Callable[[], bool] = lambda: False, clock: Callable[[], float] = time.monotonic,
) -> Bars:  # fmt: skip
    """The fewest bars of this length that give all pieces; each size is (length, how many).

    Whole numbers of any unit.  Raises ValueError if a piece is longer than a bar.

    >>> bars = cut_bars(100, [(50, 3), (33, 3)], kerf=0)
    >>> bars.used, bars.least
    (3, 3)
    """
    if any(size > length or size <= 0 for size, _ in sizes):
        raise ValueError("a piece is longer than a bar, or has no length")
    until = clock() + seconds
    search = _Search(length + kerf, [(size + kerf, many) for size, many in sizes], lambda: stop() or clock() > until)
    return search.run()


class _Knapsack:
    """The best pattern for what pieces are worth, no size more often than it is wanted."""

    def __init__(self, room: int, sizes: list[int]) -> None:
        self.room, self.sizes = room, sizes
        self.table = np.zeros((1, room + 1), dtype=np.int64)
        self.items: list[tuple[int, int]] = []

    def solve(self, worth: list[int], wanted: list[int]) -> int:
        items = []
        for n, size in enumerate(self.sizes):
            most, portion = min(wanted[n], self.room // size) if worth[n] > 0 else 0, 1
            while most > 0:
                items.append((n, min(portion, most)))
                most -= portion
                portion *= 2
        if len(items) >= len(self.table):
            self.table = np.zeros((len(items) + 8, self.room + 1), dtype=np.int64)
        table = self.table
        for row, (n, many) in enumerate(items):
            size = many * self.sizes[n]
            before, after = table[row], table[row + 1]
            after[:size] = before[:size]
            if size <= self.room:
                np.add(before[: self.room + 1 - size], many * worth[n], out=after[size:])
                np.maximum(after[size:], before[size:], out=after[size:])
        self.items = items
        return int(table[len(items), self.room])

    def patterns(self, least: int) -> list[Pattern]:
        """Patterns worth more than this: the best, and the best that do without the last sizes."""
        found: list[Pattern] = []
        rows = np.flatnonzero(self.table[: len(self.items) + 1, self.room] > least)
        for row in rows[::-1][: 1 + 8 : 2] if len(rows) else ():
            pattern = self._trace(int(row))
            if pattern not in found:
                found.append(pattern)
        return found

    def _trace(self, row: int) -> Pattern:
        room, counts = self.room, dict[int, int]()
        while row:
            # Down a column values only rise, so what was taken last is where this value stands first.
            column = self.table[: row + 1, room]
            row = int(np.searchsorted(column, column[row]))
            if row:
                n, many = self.items[row - 1]
                counts[n] = counts.get(n, 0) + many
                room -= many * self.sizes[n]
                row -= 1
        return tuple(sorted(counts.items()))


class _Search:
    def __init__(self, room: int, sizes: list[tuple[int, int]], stop: Callable[[], bool]) -> None:
        self.room, self.stop = room, stop
        self.order = sorted(range(len(sizes)), key=lambda n: -sizes[n][0])
        self.sizes = [sizes[n][0] for n in self.order]
        self.wanted = [sizes[n][1] for n in self.order]
        self.pack = _Knapsack(room, self.sizes)
        self.master = Master((many, float("inf")) for many in self.wanted)
        self.patterns: list[Pattern] = []
        self.restless = False
        self.random = random.Random(1)
        self._shut: dict[int, bool] = {}
        self.known: dict[Pattern, int] = {}
        self.best: list[tuple[Pattern, int]] = []
        self.most = sum(self.wanted) + 1
        self.least = -(-sum(s * m for s, m in zip(self.sizes, self.wanted, strict=True)) // room)

    def run(self) -> Bars:
        self._keep(_fullest_first(self.room, self.sizes, self.wanted))
        for n in range(len(self.sizes)):
            self._add(((n, 1),))
            self._add(((n, min(self.wanted[n], self.room // self.sizes[n])),))
        for pattern, _ in self.best:
            self._add(pattern)
        if self.least < self.most:
            left = list(self.wanted)
            self._price(left, 0, proof=True)
            width = 0
            while self.least < self.most and not self.stop() and width < DIVES:
                self._reset()
                self.restless = width > 1
                self._dive(list(self.wanted), [], 0, min(width, 1), set())
                width += 1
        back = tuple(
            (tuple(sorted((self.order[n], many) for n, many in pattern)), times) for pattern, times in self.best
        )
        return Bars(back, self.least)

    def _reset(self) -> None:
        for n, many in enumerate(self.wanted):
            self.master.require(n, many)
        self._proper(self.wanted)

    def _add(self, pattern: Pattern) -> bool:
        if pattern in self.known:
            return False
        self.known[pattern] = self.master.add(1.0, {n: float(many) for n, many in pattern})
        self.patterns.append(pattern)
        return True

    def _keep(self, plan: list[tuple[Pattern, int]]) -> None:
        used = sum(times for _, times in plan)
        if used < self.most:
            self.best, self.most = list(plan), used

    def _proper(self, left: list[int]) -> None:
        """Shut the patterns that give more than is wanted."""
        for column, pattern in enumerate(self.patterns):
            shut = any(many > left[n] for n, many in pattern)
            if shut is not self._shut.get(column, False):
                self.master.bound(column, 0.0, 0.0 if shut else float("inf"))
                self._shut[column] = shut

    def _price(self, left: list[int], taken: int, *, proof: bool = False) -> float | None:
        """Solve what is left with all the patterns that pay; None as soon as it cannot beat the best plan."""
        wanted = np.array(left, dtype=np.int64)
        centre, best, weight = None, 0.0, SMOOTH
        while True:
            value = self.master.solve()
            here = np.floor(np.maximum(self.master.duals, 0.0) * SCALE).astype(np.int64)
            worth = here if centre is None or not weight else (centre * weight + here * (1 - weight)).astype(np.int64)
            full = max(self.pack.solve(worth.tolist(), left), 1)
            total = int(worth @ wanted)
            least = -(-total // max(full, SCALE)) if total else 0
            if proof:
                self.least = max(self.least, -(-total // full))
            if taken + least >= self.most:
                return None
            if total / full > best:
                centre, best = worth * SCALE // full, total / full
            if least >= value - 1e-6 or math.ceil(best - 1e-9) >= math.ceil(value - 1e-6) or self.stop():
                return value
            paid = [
                pattern
                for pattern in self.pack.patterns(0 if weight else SCALE + SCALE // 10**7)
                if sum(int(here[n]) * many for n, many in pattern) > SCALE + SCALE // 10**7
            ]
            if [pattern for pattern in paid if self._add(pattern)]:
                weight = SMOOTH
            elif weight:
                # Between the two worths nothing paid: look where the programme stands.
                weight = 0.0
            else:
                return value

    def _dive(self, left: list[int], plan: list[tuple[Pattern, int]], taken: int, width: int, barred: set[int]) -> None:
        """Take patterns until nothing is left; `width` times on the way another than the best may be taken."""
        steps: list[tuple[list[int], list[tuple[Pattern, int]], int]] = []
        while any(left):
            if self.stop() or taken + 1 >= self.most or self.least >= self.most:
                return
            for n, many in enumerate(left):
                self.master.require(n, many)
            self._proper(left)
            if self._price(left, taken) is None:
                return
            values = self.master.values.copy()
            for column in barred:
                values[column] = 0.0
            plan, left = list(plan), list(left)
            self._round(left, plan, values)
            if self.master.objective <= FEW and not barred and self._finish(left, plan):
                return
            sure = np.flatnonzero(values > (1 - 1e-6 if width else SURE)).tolist()
            if sure:
                taken += self._take(left, plan, values, sorted(sure, key=lambda c: -values[c]))
                continue
            if not values.max() > 1e-9:
                return
            column = int(np.argmax(values))
            if self.restless:
                # A dive that is to come out differently: the likelier a pattern, the oftener it is taken.
                likely = np.where(values > 0.25 * values.max(), values, 0.0) ** 2
                column = int(self.random.choices(range(len(likely)), likely.tolist())[0])
            if width:
                steps.append((list(left), list(plan), taken))
                self._dive(list(left), list(plan), taken, width - 1, barred | {column})
                if self.least >= self.most or self.stop():
                    return
            plan.append((self.patterns[column], 1))
            taken += 1
            for n, many in self.patterns[column]:
                left[n] -= many
        self._keep(plan)

    def _take(self, left: list[int], plan: list[tuple[Pattern, int]], values: Worth, columns: list[int]) -> int:
        """Take these patterns as often as the solution does, rounded up, while they are wanted; how many bars that
        is."""
        taken = 0
        for column in columns:
            times = math.ceil(values[column] - SURE) or 1
            times = min(times, *(left[n] // many for n, many in self.patterns[column]))
            if times > 0:
                plan.append((self.patterns[column], times))
                taken += times
                for n, many in self.patterns[column]:
                    left[n] -= many * times
        return taken

    def _finish(self, left: list[int], plan: list[tuple[Pattern, int]]) -> bool:
        """The last few bars from the patterns at hand, by branch and bound; True if that beats the best plan."""
        open_columns = [c for c in range(len(self.patterns)) if not self._shut.get(c, False)]
        times = self.master.whole(open_columns, seconds=FINISH)
        if times is None:
            return False
        own = [*plan, *((self.patterns[c], n) for c, n in zip(open_columns, times, strict=True) if n)]
        given = [0] * len(self.sizes)
        for pattern, n in own:
            for size, many in pattern:
                given[size] += many * n
        before = self.most
        if all(got >= many for got, many in zip(given, self.wanted, strict=True)):
            self._keep(own)
        return self.most < before

    def _round(self, left: list[int], plan: list[tuple[Pattern, int]], values: Worth) -> None:
        """A plan at once from a solution: its patterns while they are wanted, then the longest piece first."""
        own, rest = list(plan), list(left)
        self._take(rest, own, values, sorted(np.flatnonzero(values > 0.3).tolist(), key=lambda c: -values[c]))
        self._keep(own + _fullest_first(self.room, self.sizes, rest))


def _fullest_first(room: int, sizes: list[int], wanted: list[int]) -> list[tuple[Pattern, int]]:
    """A first plan: the longest piece that still fits, bar after bar."""
    left, plan = list(wanted), dict[Pattern, int]()
    while any(left):
        rest, pattern = room, []
        for n, size in enumerate(sizes):
            many = min(left[n], rest // size)
            if many:
                pattern.append((n, many))
                rest -= many * size
                left[n] -= many
        plan[tuple(pattern)] = plan.get(tuple(pattern), 0) + 1
    return list(plan.items())
