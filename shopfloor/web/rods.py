"""How far is a part, a stack, a job?  Rods: one notch a step, filled as the step is done.

The same rod for all three.  A part's notch is done or not; a stack's notch is done by so many of the parts that have
that step on their route.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shopfloor.journal.fold import PartProgress
from shopfloor.trade.route import CUTS, Step

ORDER = ("rough", "mill", "length", "mark", *(cut[1] for cut in CUTS), "fit", "glue", "finish")
"""The order in which the steps of different routes stand on one rod."""


@dataclass(frozen=True)
class Notch:
    """One step of a rod: `done` of the `of` parts that have it.  `next` is the first step that is not all done."""

    key: str
    name: str
    done: int
    of: int
    next: bool = False

    @property
    def eighths(self) -> int:
        """The share that is done, in eighths; 0 and 8 only where it is really none or all of it.

        >>> [Notch("mill", "mill", done, 28).eighths for done in (0, 1, 14, 27, 28)]
        [0, 1, 4, 7, 8]
        """
        if self.done in (0, self.of):
            return 8 if self.done else 0
        return min(7, max(1, round(8 * self.done / self.of)))


@dataclass(frozen=True)
class Rod:
    """The notches, in the order of the work."""

    notches: tuple[Notch, ...]

    @property
    def next(self) -> Notch | None:
        """The first step that is not all done; None when nothing is left to do."""
        return next((notch for notch in self.notches if notch.next), None)

    @property
    def says(self) -> str:
        """The rod in words, for who cannot see it."""
        done = sum(1 for notch in self.notches if notch.done == notch.of)
        words = f"{done} of {len(self.notches)} {'step' if len(self.notches) == 1 else 'steps'} done"
        return f"{words}, next: {self.next.name}" if self.next else words

    @property
    def next_says(self) -> str:
        """What is to be done next, in few words."""
        if self.next is None:
            return "all done" if self.notches else "no parts"
        begun = f", {self.next.done} of {self.next.of} done" if self.next.done else ""
        return f"next: {self.next.name}{begun}"


def rod(parts: Iterable[tuple[Sequence[Step], PartProgress | None]]) -> Rod:
    """The rod of some parts, each given by its route and what the journal says about it; of one part, its own rod."""
    names: dict[str, str] = {}
    done: dict[str, int] = {}
    of: dict[str, int] = {}
    routes: list[tuple[str, ...]] = []
    for route, progress in parts:
        routes.append(tuple(step.key for step in route))
        for step in route:
            names.setdefault(step.key, step.name)
            of[step.key] = of.get(step.key, 0) + 1
            done[step.key] = done.get(step.key, 0) + (progress is not None and progress.done(step.key))
    keys = _together(routes)
    first = next((key for key in keys if done[key] < of[key]), None)
    return Rod(tuple(Notch(key, names[key], done[key], of[key], key == first) for key in keys))


def _together(routes: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """The steps of several routes in one order: their own where they agree, else the order of the work."""
    distinct = list(dict.fromkeys(routes))
    if len(distinct) == 1:
        return distinct[0]
    keys = {key for route in distinct for key in route}
    return tuple(sorted(keys, key=lambda key: (ORDER.index(key) if key in ORDER else len(ORDER), key)))
