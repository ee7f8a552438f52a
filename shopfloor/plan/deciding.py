"""Step by step towards the proof: the smallest set of boards that may still do is looked at, and ruled out or found
to do."""

from __future__ import annotations

from collections.abc import Callable

from .boards import Area, Rule
from .case import Case
from .exact import Exact, GivenUp
from .improve import Improving
from .pool import Pool
from .ripping import Ripping
from .subsets import MOST, Subsets

__all__ = ["Deciding"]


class Deciding:
    """Sets of boards between what is proven and the best plan.  `least`: so much area is proven to be needed.

    `after` so many rounds of improving a step is due `every` so many: at once where sets are tried out to the end, and
    later where they are only ruled out, since the plan gains more by rounds at first.
    """

    def __init__(
        self, case: Case, pool: Pool, improving: Improving, exact: Exact | None, stop: Callable[[], bool]
    ) -> None:
        self.pool, self.improving, self.exact, self.stop = pool, improving, exact, stop
        self.after, self.every = (30, 1) if exact else (120, 10)
        self.least: Area = 0
        self.over = False
        self.known = 0
        self.sets: Subsets | None = None

    @staticmethod
    def begun(
        case: Case, pool: Pool, improving: Improving, pricing: Ripping, stop: Callable[[], bool]
    ) -> Deciding | None:
        """None where there are too many boards, or nothing is known of what they hold at most."""
        if len(case.plots) > MOST or not pool.witnesses:
            return None
        small = case.saw.rule is Rule.RIP_FIRST and Exact.can(case, pricing)
        return Deciding(case, pool, improving, Exact(case, pricing, stop) if small else None, stop)

    def step(self) -> bool:
        """Look at one set; True if there is a better plan now."""
        if self.over or self.stop():
            return False
        pool, improving = self.pool, self.improving
        if self.sets is None:
            self.sets = Subsets(pool.cost, pool.least, improving.cost - 1)
        sets = self.sets
        sets.cap(improving.cost - 1)
        for witness in pool.witnesses[self.known :]:
            sets.rule_out(witness.needed, witness.gives)
            if self.stop():
                return False
        self.known = len(pool.witnesses)
        self.least = max(self.least, pool.area(int(sets.total[0]) if len(sets) else improving.cost))
        if not len(sets):
            self.over = True
            return False
        boards = sets.of(0)
        if pool.rules_out(boards, self.stop) or self.stop():
            return False
        # The programme thinks that these boards might do.
        if self.exact is None:
            self.over = True
            return False
        try:
            laid = self.exact.plan(boards, pool.witnesses)
        except GivenUp:
            self.over = True
            return False
        if laid is None:
            sets.strike(0)
            return False
        improving.offer(laid)
        return True
