"""The setup order: operations to runs.  What is asked and what comes of it stands in setups.py.

A first order is there at once (setup_beam.py, one wide), then better ones by wider searches, then it is proven how
little time for changes could do (setup_bound.py), and the order is improved (setup_improve.py) until it is proven best,
time is up, or somebody says stop.  At the end, among orders that take as long, one is sought that meets the wishes.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from .search import Limits
from .setup_beam import Beam, replayed
from .setup_bound import Bounding
from .setup_case import NONE, Case, case_of
from .setup_improve import Improving
from .setup_runs import counted, part_by_part, runs_of, stack_by_stack, wish_of
from .setup_sense import sensible
from .setups import Order, Run, Seconds, Work

__all__ = ["Limits", "SetupProgress", "order_setups"]

BEAT = 0.3
"""Seconds between two words on how it stands."""
WIDTHS = ((1, 1_000_000), (10, 5_000), (50, 500), (400, 150), (3_000, 60))
"""How wide the search is, time after time, and for how many classes of operations at most."""
MANY = 600
"""From so many classes on it is proven first how little could do: the wider searches would take all the time."""
ROUNDS = 20_000
"""Rounds of improvement where neither seconds nor rounds are given."""
PROVING = 0.45
"""The share of the time by which proving stops."""
PROVING_MANY = 0.25
"""And where there are many classes."""
POLISH = 300
"""Tries to meet the wishes better without longer changes: each walks the whole order."""


@dataclass(frozen=True)
class SetupProgress:
    """How it stands: seconds for changes in the best order so far, what is proven, the gap as a share."""

    seconds: float
    changes: Seconds | None
    least: Seconds
    gap: float | None


def order_setups(
    work: Work, limits: Limits | None = None, *, tell: Callable[[SetupProgress], None] = lambda _: None,
    stop: Callable[[], bool] = lambda: False, keep: Callable[[Order], None] = lambda _: None,
    clock: Callable[[], float] = time.monotonic,
) -> Order:  # fmt: skip
    """The best order found within the limits; `rounds` are those of improvement.  Raises NoWork.

    `tell` hears how it stands, `stop` is asked often and ends the search with the best order so far, `keep` is given
    the first order and each better one, at most a few times a second.
    """
    return _Ordering(work, limits or Limits(), tell, stop, keep, clock).run()


class _Ordering:
    def __init__(
        self, work: Work, limits: Limits, tell: Callable[[SetupProgress], None], stop: Callable[[], bool],
        keep: Callable[[Order], None], clock: Callable[[], float],
    ) -> None:  # fmt: skip
        self.limits, self.tell, self.stopped, self.keep, self.clock = limits, tell, stop, keep, clock
        self.begun, self.told, self.kept = clock(), -BEAT, -BEAT
        self.work = work
        self.asked, self.left = sensible(work)
        self.plain = (part_by_part(work.machines, self.asked), stack_by_stack(work.machines, self.asked))
        self.fixed: tuple[Run, ...] = ()
        self.machines, self.operations = work.machines, self.asked
        self._begin()
        self.case: Case = case_of(self.machines, self.operations)
        place = {name: spot for spot, name in enumerate(self.case.settings)}
        self.next = [place[name] for name in work.begun.next[work.begun.fixed :] if name in place]
        self.steps: list[int] | None = None
        self.spent: Seconds = 0
        self.least: Seconds = 0
        self.news = False

    def _begin(self) -> None:
        """Do what is fixed: then it is as if it had been done, and what it set up were mounted."""
        begun = self.work.begun
        if not begun.fixed:
            return
        case = case_of(self.machines, self.operations)
        place = {name: spot for spot, name in enumerate(case.settings)}
        steps = [place[name] for name in begun.next[: begun.fixed] if name in place]
        state = replayed(case, case.whole, steps)
        self.fixed = runs_of(case, self.operations, state.steps(), part=True)
        done = {key for run in self.fixed for key in run.operations}
        self.operations = tuple(
            replace(each, after=tuple(key for key in each.after if key not in done))
            for each in self.operations
            if each.key not in done
        )
        self.machines = tuple(
            machine if spot == NONE else replace(machine, mounted=case.settings[spot][1])
            for machine, spot in zip(self.machines, state.stands, strict=True)
        )

    def run(self) -> Order:
        self._search()
        order = self._order(polish=True)
        self.keep(order)
        self._say()
        return order

    def _seconds(self) -> float:
        return self.clock() - self.begun

    def _over(self) -> bool:
        now = self._seconds()
        if now - self.told >= BEAT:
            self._say()
        return self.stopped() or (self.limits.seconds is not None and now > self.limits.seconds)

    def _say(self) -> None:
        self.told = self._seconds()
        found = self.steps is not None
        fixed = counted(self.fixed).seconds
        gap = (self.spent - self.least) / (self.least + fixed) if found and self.least + fixed else None
        self.tell(SetupProgress(self.told, self.spent + fixed if found else None, self.least + fixed, gap))
        if self.news and self.told - self.kept >= BEAT:
            self.news, self.kept = False, self.told
            self.keep(self._order(polish=False))

    def _take(self, steps: Sequence[int], spent: Seconds) -> None:
        if self.steps is None or spent < self.spent:
            first = self.steps is None
            self.steps, self.spent, self.news = list(steps), spent, True
            if first:
                self._say()

    def _done(self) -> bool:
        return self.steps is not None and self.spent <= self.least

    def _beam(self, width: int) -> None:
        beam = Beam(self.case, self.case.small, width, over=self._over)
        if beam.best is not None:
            self._take(beam.best.steps(), beam.best.spent)
        if beam.whole:
            self.least = max(self.least, self.spent)

    def _search(self) -> None:
        case = self.case
        random = Random(self.limits.seed)
        first = Improving(case, self.next, random)
        self._take(first.best, first.spent)
        bounding = Bounding(case)
        self.least = bounding.least
        limit = self.limits.seconds
        count = len(case.small.spot)
        share = PROVING if count <= MANY else PROVING_MANY

        def enough() -> bool:
            return self._over() or (limit is not None and self._seconds() > share * limit)

        def prove() -> None:
            while not bounding.finished and not self._done() and not enough():
                bounding.round(enough, self.spent)
                self.least = max(self.least, bounding.least)

        for width, classes in WIDTHS:
            if self._done() or self._over():
                return
            if width > 1 and count > MANY:
                prove()
            if count <= classes:
                self._beam(width)
        prove()
        assert self.steps is not None
        improving = Improving(case, self.steps, random)
        begun, rounds = self._seconds(), 0
        most: int | None = self.limits.rounds
        if most is None and limit is None:
            most = ROUNDS
        while not self._done() and not self._over() and (most is None or rounds < most):
            gone = rounds / most if most else 0.0
            if limit is not None:
                gone = max(gone, (self._seconds() - begun) / max(limit - begun, 1e-6))
            rounds += 1
            if improving.round(1.0 - gone):
                self._take(improving.best, improving.spent)

    def _order(self, polish: bool) -> Order:
        assert self.steps is not None
        steps = self.steps
        by_key = {each.key: each for each in self.operations}

        def valued(steps: Sequence[int]) -> tuple[tuple[Seconds, int, int], tuple[Run, ...]]:
            runs = runs_of(self.case, self.operations, steps)
            return (counted(runs).seconds, self._moved(runs), wish_of(runs, by_key, self.work.wishes)), runs

        value, runs = valued(steps)
        if polish:
            value, runs = self._polished(value, runs, valued)
        runs = (*self.fixed, *runs)
        count = counted(runs)
        least = self.least + counted(self.fixed).seconds
        return Order(runs, count, min(least, count.seconds), *self.plain, value[2], value[1], self.left)

    def _polished(
        self, value: tuple[Seconds, int, int], runs: tuple[Run, ...],
        valued: Callable[[Sequence[int]], tuple[tuple[Seconds, int, int], tuple[Run, ...]]],
    ) -> tuple[tuple[Seconds, int, int], tuple[Run, ...]]:  # fmt: skip
        """Move changes as long as none of it takes longer."""
        assert self.steps is not None
        steps, random = list(self.steps), Random(self.limits.seed)
        kept = Improving(self.case, self.next, random)
        if self.next and kept.spent <= self.spent:
            value, runs = valued(kept.best)
            steps = list(kept.best)
        limit = self.limits.seconds
        until = None if limit is None else max(limit, self._seconds()) + 0.05 * limit
        tries = max(20, min(POLISH, 60_000 // (1 + len(self.operations))))
        for _ in range(tries if len(steps) > 1 else 0):
            if self.stopped() or (until is not None and self._seconds() > until):
                break
            other = list(steps)
            spot = other.pop(random.randrange(len(other)))
            other.insert(random.randint(0, len(other)), spot)
            state = replayed(self.case, self.case.small, other)
            if state.done != self.case.small.all or state.spent > value[0]:
                continue
            new, walked = valued(other)
            if new < value:
                value, runs, steps = new, walked, other
        return value, runs

    def _moved(self, runs: Sequence[Run]) -> int:
        """How many changes come otherwise than they were to come: those outside the longest list common to both."""
        if not self.work.begun.next:
            return 0
        place = {name: spot for spot, name in enumerate(self.case.settings)}
        now = [place[run.machine, run.setting] for run in runs if run.changed]
        row = [0] * (len(self.next) + 1)
        for spot in now:
            above = row
            row = [0]
            for n, other in enumerate(self.next):
                row.append(above[n] + 1 if spot == other else max(above[n + 1], row[n]))
        return len(now) - row[-1]
