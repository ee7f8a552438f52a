"""Can these boards give everything?  Decided by trying all that could: for small jobs, ripped first, without defects.

With what units are worth and what each board gives at most, a set of boards holds a little more than is wanted: its
slack.  A board that falls short of its most by more than the slack cannot be part of a solution, so only patterns
that fall short by less are listed, which are few.  Then board after board is laid, and what is still wanted is noted;
where the boards left cannot hold that, it is dropped.  Nothing left over in the end is a plan; nothing noted is the
proof that there is none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .case import Case, Whole
from .cutting import Lay, Run, SectionLay, StripLay
from .lots import Shape
from .ripping import Ripping

__all__ = ["Exact", "GivenUp", "Witness"]

TOO_MANY = 400_000


class GivenUp(Exception):
    """Too much to try, or told to stop."""


@dataclass(frozen=True)
class Witness:
    """What units are worth, what is needed by it, and what each board gives at most."""

    worth: Whole
    needed: int
    gives: Whole

    def slack(self, boards: list[int]) -> int:
        return int(self.gives[boards].sum()) - self.needed


@dataclass
class _Patterns:
    """All patterns of a board that fall short by no more than `slack`: a row each, at most what is wanted."""

    slack: int
    counts: Whole
    value: Whole
    strips: list[tuple[int, ...]]


class Exact:
    def __init__(self, case: Case, pricing: Ripping, stop: Callable[[], bool]) -> None:
        self.case, self.pricing, self.stop = case, pricing, stop
        self.demand = case.demand
        self.tables = pricing.families[""][0]
        self.kept: dict[tuple[int, int], _Patterns] = {}
        self.strips: dict[tuple[int, int], tuple[list[tuple[int, tuple[Shape, ...]]], Whole]] = {}
        weights = [1]
        for many in self.demand.tolist():
            weights.append(weights[-1] * (many + 1))
        self.code = np.array(weights[:-1], dtype=np.int64) if weights[-1] < 2**62 else None

    @staticmethod
    def can(case: Case, pricing: Ripping) -> bool:
        """Whether the job is of the kind that is decided here."""
        return (
            case.exact
            and set(pricing.families) == {""}
            and all(bed.met is None and len(bed.kinds[0]) <= 1 for bed in pricing.beds)
            and not any(shape.exact for lot in case.lots for shape in lot.shapes)
            and not any(lot.show for lot in case.lots)
            and len(case.lots) <= 16
            and len(case.plots) <= 12
        )

    def plan(self, boards: list[int], witnesses: list[Witness]) -> dict[int, Lay] | None:
        """A plan on these boards, or None if there is none.  Raises GivenUp."""
        if self.code is None:
            raise GivenUp
        guide = min(witnesses, key=lambda each: each.slack(boards))
        slack = guide.slack(boards)
        lists = {n: self._patterns(n, guide, slack) for n in boards}
        order = sorted(boards, key=lambda n: (len(lists[n].counts), n))
        tight = sorted(witnesses, key=lambda each: each.slack(boards))[:12]
        states = self.demand[None, :].copy()
        trail: list[tuple[Whole, Whole]] = []
        for nth, n in enumerate(order):
            rest = order[nth + 1 :]
            states, before, pattern = self._step(states, lists[n].counts, rest, tight)
            if not len(states):
                return None
            trail.append((before, pattern))
            done = np.flatnonzero(~states.any(axis=1))
            if len(done):
                return self._laid(order[: nth + 1], trail, int(done[0]), lists)
        return None

    def _step(
        self, states: Whole, counts: Whole, rest: list[int], witnesses: list[Witness]
    ) -> tuple[Whole, Whole, Whole]:
        """What may be wanted after one board more, which state and which pattern each came from."""
        assert self.code is not None
        holds = [(each.worth, int(each.gives[rest].sum())) for each in witnesses]
        found: dict[int, tuple[int, int]] = {}
        rows: list[Whole] = []
        for before, state in enumerate(states):
            if self.stop():
                raise GivenUp
            left = np.maximum(state[None, :] - counts, 0)
            fits = np.arange(len(left))
            for worth, most in holds:
                fits = fits[left[fits] @ worth <= most]
            for pattern, code in zip(fits.tolist(), (left[fits] @ self.code).tolist(), strict=True):
                if code not in found:
                    found[code] = (before, pattern)
                    rows.append(left[pattern])
            if len(rows) > TOO_MANY:
                raise GivenUp
        if not rows:
            return (
                np.zeros((0, states.shape[1]), dtype=np.int64),
                np.zeros(0, dtype=np.int64),
                np.zeros(0, dtype=np.int64),
            )
        pairs = np.array(list(found.values()), dtype=np.int64)
        return np.array(rows), pairs[:, 0], pairs[:, 1]

    def _laid(
        self, order: list[int], trail: list[tuple[Whole, Whole]], at: int, lists: dict[int, _Patterns]
    ) -> dict[int, Lay]:
        laid: dict[int, Lay] = {}
        for n, (before, pattern) in zip(reversed(order), reversed(trail), strict=True):
            laid[n] = self._lay(n, lists[n].strips[int(pattern[at])])
            at = int(before[at])
        return self._trimmed({n: laid[n] for n in sorted(laid)})

    def _trimmed(self, laid: dict[int, Lay]) -> dict[int, Lay]:
        """What is cut more often than it is wanted is left out."""
        left, found = self.demand.copy(), {}
        for n, lay in laid.items():
            (section,) = lay.sections
            strips, y = [], 0
            for strip in section.strips:
                own = []
                for shape in strip.shapes():
                    if left[shape.lot] > 0:
                        left[shape.lot] -= 1
                        own.append(shape)
                if own:
                    width = max(shape.width for shape in own)
                    strips.append(StripLay(y, width, (Run(strip.runs[0].start, tuple(own)),)))
                    y += width + self.case.saw.kerf
            if strips:
                found[n] = Lay((SectionLay(section.start, section.end, tuple(strips)),))
        return found

    def _lay(self, n: int, chosen: tuple[int, ...]) -> Lay:
        strips, _ = self._strips_of(n)
        bed = self.pricing.beds[n]
        laid, y = [], 0
        for each in chosen:
            level, shapes = strips[each]
            width = self.tables.widths[level]
            own = tuple(sorted(shapes, key=lambda shape: (-shape.width, -shape.length)))
            laid.append(StripLay(y, width, (Run(bed.kinds[0][0].start, own),)))
            y += width + self.case.saw.kerf
        return Lay((SectionLay(0, bed.plot.plank.length, tuple(laid)),))

    def _strips_of(self, n: int) -> tuple[list[tuple[int, tuple[Shape, ...]]], Whole]:
        """All full strips of a board, the wide ones first: width's number and shapes, and what each gives, a row
        each."""
        stretch = self.pricing.beds[n].kinds[0][0]
        room = self.case.along.room(stretch.end - stretch.start + self.case.saw.kerf)
        key = (room, 0)
        if key not in self.strips:
            found: list[tuple[int, tuple[Shape, ...]]] = []
            shapes = [s for lot in self.case.lots for s in lot.shapes]
            for level in range(len(self.tables.widths) - 1, -1, -1):
                wide = self.tables.widths[level]
                own = sorted((s for s in shapes if s.width <= wide), key=lambda s: (-s.width, -s.length))
                self._fill(own, wide, room, level, found)
            counts = np.zeros((len(found), len(self.demand)), dtype=np.int64)
            for row, (_, taken) in enumerate(found):
                for shape in taken:
                    counts[row, shape.lot] += 1
            self.strips[key] = (found, counts)
        return self.strips[key]

    def _fill(
        self, own: list[Shape], wide: int, room: int, level: int, found: list[tuple[int, tuple[Shape, ...]]]
    ) -> None:
        sizes = [self.case.along.part(s.length + self.case.saw.kerf) for s in own]
        least = min(sizes)
        taken: list[Shape] = []
        given: dict[int, int] = {}

        def go(nth: int, left: int) -> None:
            if nth == len(own) or left < least:
                full = all(
                    size > left or given.get(s.lot, 0) >= self.demand[s.lot] for s, size in zip(own, sizes, strict=True)
                )
                if full and taken and taken[0].width == wide:
                    found.append((level, tuple(taken)))
                    if len(found) > TOO_MANY // 40:
                        raise GivenUp
                return
            shape, size = own[nth], sizes[nth]
            most = min(left // size, int(self.demand[shape.lot]) - given.get(shape.lot, 0))
            for many in range(most, -1, -1):
                taken.extend([shape] * many)
                given[shape.lot] = given.get(shape.lot, 0) + many
                go(nth + 1, left - many * size)
                given[shape.lot] -= many
                del taken[len(taken) - many :]

        go(0, room)

    def _patterns(self, n: int, guide: Witness, slack: int) -> _Patterns:
        key = (n, id(guide))
        kept = self.kept.get(key)
        if kept is None or kept.slack < slack:
            kept = self.kept[key] = self._listed(n, guide, slack)
        if kept.slack == slack:
            return kept
        rows = np.flatnonzero(kept.value >= guide.gives[n] - slack)
        return _Patterns(slack, kept.counts[rows], kept.value[rows], [kept.strips[int(row)] for row in rows])

    def _listed(self, n: int, guide: Witness, slack: int) -> _Patterns:
        strips, gives = self._strips_of(n)
        rows = self.pricing.beds[n].rows
        cells = self.tables.cells[[level for level, _ in strips]]
        self.pricing.fill(guide.worth, self.demand)
        self.pricing.price([n])
        rest = self.pricing.table(n)
        least = int(guide.gives[n]) - slack
        counts = np.zeros((1, len(self.demand)), dtype=np.int64)
        width, chosen = np.zeros(1, dtype=np.int64), list[tuple[int, ...]]([()])
        last = np.zeros(1, dtype=np.int64)
        best: dict[int, tuple[int, ...]] = {}
        assert self.code is not None
        while len(counts):
            value = counts @ guide.worth
            for row in np.flatnonzero(value >= least):
                best.setdefault(int(counts[row] @ self.code), chosen[row])
            new: list[tuple[Whole, int, tuple[int, ...], int]] = []
            seen: set[tuple[int, int, int]] = set()
            for strip in range(len(strips)):
                if self.stop():
                    raise GivenUp
                own = np.flatnonzero((last <= strip) & (width + cells[strip] <= rows))
                if not len(own):
                    continue
                more = np.minimum(counts[own] + gives[strip], self.demand)
                wide = width[own] + cells[strip]
                good = np.flatnonzero(more @ guide.worth + rest[rows - wide] >= least)
                codes = more[good] @ self.code
                for at, code in zip(good.tolist(), codes.tolist(), strict=True):
                    mark = (code, int(wide[at]), strip)
                    if mark not in seen:
                        seen.add(mark)
                        new.append((more[at], int(wide[at]), (*chosen[own[at]], strip), strip))
                if len(new) > TOO_MANY:
                    raise GivenUp
            if not new:
                break
            counts = np.array([each[0] for each in new])
            width = np.array([each[1] for each in new], dtype=np.int64)
            chosen = [each[2] for each in new]
            last = np.array([each[3] for each in new], dtype=np.int64)
        if not best:
            return _Patterns(slack, np.zeros((0, len(self.demand)), dtype=np.int64), np.zeros(0, dtype=np.int64), [])
        listed = np.array([self._given(gives, each) for each in best.values()])
        return _Patterns(slack, listed, listed @ guide.worth, list(best.values()))

    def _given(self, gives: Whole, chosen: tuple[int, ...]) -> Whole:
        total: Whole = gives[list(chosen)].sum(axis=0)
        return np.minimum(total, self.demand)
