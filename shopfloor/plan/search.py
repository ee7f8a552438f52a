"""The board plan: parts to boards.  What is asked and what comes of it stands in boards.py.

A first plan is there at once (first.py); then it is proven how little wood could do (pool.py), and the plan is
improved until it is proven best, time is up, or somebody says stop.  Whoever waits hears how it stands (`Progress`)
twice a second.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from .boards import Area, LeftOver, Plan, Rule, Says, Task, Why
from .bound import by_area, next_sum
from .case import Case, case_of
from .cutting import Lay, board_plan
from .deciding import Deciding
from .first import alone, filled, part_worth
from .improve import Improving
from .pool import Pool
from .ripping import Ripping
from .sectioning import Sectioning
from .sense import MANY, named, sensible
from .tidy import tidied

__all__ = ["Limits", "Progress", "plan_boards"]

STARTS = (0.03, 0.03, 0.06, 0.06, 0.1, 0.1)
"""Plans made from nothing, worths shaken so much, of which the best is improved."""
TIDYING = (0.08, 1.5)
"""The share of the time, and the seconds at most, that are kept for tidying the plan up in the end."""
BEAT = 0.3
"""Seconds between two words on how it stands: a step between may take a little longer."""


@dataclass(frozen=True)
class Limits:
    """How long to search: seconds, or rounds.  The same seed and the same rounds, without seconds, give the same
    plan."""

    seconds: float | None = 10.0
    rounds: int | None = None
    seed: int = 1


@dataclass(frozen=True)
class Progress:
    """How it stands: the board area of the best plan so far, what is proven, the gap as a share, parts not yet
    placed."""

    seconds: float
    area: Area | None
    least: Area
    gap: float | None
    missing: int


def plan_boards(
    task: Task, limits: Limits | None = None, *, tell: Callable[[Progress], None] = lambda _: None,
    stop: Callable[[], bool] = lambda: False, keep: Callable[[Plan], None] = lambda _: None,
    clock: Callable[[], float] = time.monotonic,
) -> Plan:  # fmt: skip
    """The best plan found within the limits.  Raises NoTask if what is asked contradicts itself.

    `tell` hears how it stands, `stop` is asked often and ends the search with the best plan so far, `keep` is given
    each plan that is the best so far, at most a few times a second.
    """
    return _Planning(task, limits or Limits(), tell, stop, keep, clock).run()


class _Planning:
    def __init__(
        self, task: Task, limits: Limits, tell: Callable[[Progress], None], stop: Callable[[], bool],
        keep: Callable[[Plan], None], clock: Callable[[], float],
    ) -> None:  # fmt: skip
        self.limits, self.tell, self.stopped, self.keep = limits, tell, stop, keep
        self.clock = clock
        self.begun = clock()
        self.told = -BEAT
        self.task, self.impossible, self.notes = sensible(task)
        self.case = case_of(self.task)
        self.least: Area = 0
        self.best: dict[int, Lay] = {}
        self.news = False
        self.missing = len(self.task.wanted)
        self.cut_short = False
        self.pool: Pool | None = None
        self.reserve = min(TIDYING[0] * (limits.seconds or 0.0), TIDYING[1])

    def run(self) -> Plan:
        if self.task.wanted:
            self._search()
        plan = self._plan()
        self.keep(plan)
        self._say()
        return plan

    def _over(self) -> bool:
        """Whether to stop; on the way, those who wait are told how it stands."""
        now = self.clock() - self.begun
        if now - self.told >= BEAT:
            self._say()
        return self.stopped() or (self.limits.seconds is not None and now > self.limits.seconds - self.reserve)

    def _cancelled(self) -> bool:
        self._over()
        return self.stopped()

    def _say(self) -> None:
        self.told = self.clock() - self.begun
        if self.pool:
            self.least = max(self.least, self.pool.area(self.pool.least))
        area = sum(self.case.plots[n].plank.area for n in self.best) if self.best else None
        gap = (area - self.least) / self.least if area and self.least and not self.missing else None
        self.tell(Progress(self.told, area, self.least, gap, self.missing))
        if self.news:
            self.news = False
            self.keep(self._plan())

    def _plan(self) -> Plan:
        return _plan(self.task, self.case, self.best, self.least, self.impossible, self.notes, self.cut_short)

    def _take(self, laid: Mapping[int, Lay]) -> None:
        first = not self.best
        self.best, self.news = alone(self.case, dict(laid)), True
        placed = sum(len(shape.members) for lay in self.best.values() for shape in lay.shapes())
        self.missing = len(self.task.wanted) - placed
        if first:
            self._say()

    def _proven(self, least: Area) -> None:
        if least > self.least:
            self.least = next_sum([plot.plank.area for plot in self.case.plots], least)
            if self.best:
                self._say()

    def _search(self) -> None:
        pricing = Ripping(self.case, self.case.plots)
        self._improve(pricing)
        self.reserve = 0.0
        if self.best and len(self.task.wanted) <= MANY:
            self._take(tidied(self.case, pricing, self.best, self.limits.seed, self._over))

    def _improve(self, pricing: Ripping) -> None:
        case = self.case
        self._proven(by_area(case))
        # The first plan is finished even if time is up: what is left over then is for want of wood.
        first = filled(case, pricing, part_worth(case, 1.1), case.demand, stop=self._cancelled)
        self.cut_short = self.stopped()
        self._take(first)
        if self._over() or self._done() or len(self.task.wanted) > MANY:
            return
        pool = Pool(case, pricing, self._loose(Ripping))
        pool.keep(first)
        if case.saw.rule is Rule.RIP_FIRST:
            # What is proven for ripping first is no bound for whoever may crosscut first.
            self.pool = pool
        pool.relax(self._over)
        ways = [pricing]
        if case.saw.rule is Rule.CROSSCUT_FIRST:
            sectioning = Sectioning(case, case.plots)
            ways.append(sectioning)
            pool.begin_anew(sectioning, self._loose(Sectioning))
            self.pool = pool
            pool.relax(self._over)
        self._proven(pool.area(pool.least))
        improving = Improving(case, ways, pool, first, self.limits.seed)
        for shake in (0.0, *STARTS):
            if not self._over():
                worth = improving.shaken(shake)
                improving.offer(filled(case, pricing, worth, case.demand, stop=self._over))
        self._take(improving.best)
        deciding = Deciding.begun(case, pool, improving, pricing, self._over)
        rounds = 0
        while not self._over() and not self._done():
            if deciding and rounds >= deciding.after and not self.missing:
                if rounds % deciding.every == 0 and deciding.step():
                    self._take(improving.best)
                self._proven(deciding.least)
            if self.limits.rounds is not None and rounds >= self.limits.rounds:
                break
            rounds += 1
            if improving.round(self._over):
                self._take(improving.best)

    def _loose(self, way: type[Ripping]) -> Ripping | None:
        """What bounds where the pricing itself does not: it gives plans that can be cut, and not all of them.

        That is so where the grid is rounded, where show parts keep away from defects, and where sections are to keep
        clear of them.
        """
        defects = any(plot.plank.defects for plot in self.case.plots)
        shy = defects and (way is Sectioning or any(lot.show for lot in self.case.lots))
        return way(self.case, self.case.plots, loose=True) if shy or not self.case.exact else None

    def _done(self) -> bool:
        """Whether the plan is proven best."""
        return not self.missing and sum(self.case.plots[n].plank.area for n in self.best) <= self.least


def _plan(
    task: Task, case: Case, laid: Mapping[int, Lay], least: Area, impossible: tuple[LeftOver, ...],
    notes: tuple[Says, ...], cut_short: bool,
) -> Plan:  # fmt: skip
    """The plan for people: every board cut in order, and what is left over."""
    given: dict[int, int] = {}
    boards = tuple(
        board_plan(case.plots[n].plank, laid[n], case.lots, given, case.saw) for n in sorted(laid) if laid[n].sections
    )
    names = {part.key: named(part) for part in task.wanted}
    why = Why.STOPPED if cut_short else Why.NOT_ENOUGH
    says = "the planning was stopped before it had a place" if cut_short else "the boards do not suffice"
    short = [
        LeftOver(key, why, (f"{names[key]}: {says}.",))
        for lot in case.lots
        for unit in lot.units[given.get(lot.number, 0) :]
        for key in unit
    ]
    left = (*impossible, *short)
    return Plan(case.saw.rule, case.saw.kerf, boards, left, None if left else least, notes)
