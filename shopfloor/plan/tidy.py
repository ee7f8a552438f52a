"""The same boards, the same parts: which way of cutting leaves the longest offcuts, and needs the fewest settings of
the saw?

Once it is settled which boards are opened, their parts are laid anew a few times: on all of them, the best filled
first, so that what is left comes together on the last; then on each board by itself.  Better is what leaves the
longer offcuts, the longest first; among equals, what has fewer different widths and lengths to set.
"""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np

from .boards import Plan
from .case import Case, Whole
from .cutting import Lay, board_plan
from .first import part_worth
from .ripping import Ripping, counted

__all__ = ["tidied"]

TRIES_ALL, TRIES_EACH = 6, 4


def tidied(case: Case, pricing: Ripping, laid: dict[int, Lay], seed: int, stop: Callable[[], bool]) -> dict[int, Lay]:
    """The plan with longer offcuts or fewer settings, on the same boards; what lies on them together stays."""
    rnd, lots = random.Random(seed), len(case.lots)
    worth = part_worth(case)
    best, score = laid, _score(case, laid)
    area = {n: case.plots[n].plank.area for n in laid}
    for _ in range(TRIES_ALL):
        full = {
            n: sum(s.length * s.width for s in lay.shapes()) / area[n] + rnd.gauss(0, 0.02) for n, lay in best.items()
        }
        left = sum((counted(lay, lots) for lay in best.values()), np.zeros(lots, dtype=np.int64))
        new: dict[int, Lay] = {}
        for n in sorted(full, key=lambda each: -full[each]):
            if stop():
                return best
            lay = pricing.proper(n, _shaken(worth, rnd), left)
            if lay.sections:
                new[n] = lay
                left = left - counted(lay, lots)
        if not left.any() and _score(case, new) > score:
            best, score = new, _score(case, new)
    for n in sorted(best):
        counts = counted(best[n], lots)
        for _ in range(TRIES_EACH):
            if stop():
                return best
            lay = pricing.proper(n, _shaken(worth, rnd), counts)
            if (counted(lay, lots) == counts).all() and _score(case, {n: lay}) > _score(case, {n: best[n]}):
                best = {**best, n: lay}
    return best


def _shaken(worth: Whole, rnd: random.Random) -> Whole:
    """Worths a little different each time, so that parts come together differently."""
    shaken: Whole = np.maximum((worth * np.array([rnd.uniform(0.8, 1.25) for _ in worth])).astype(np.int64), 1)
    return shaken


def _score(case: Case, laid: dict[int, Lay]) -> tuple[tuple[int, ...], int]:
    """The lengths of the offcuts, the longest first, then how few settings there are: the greater the better."""
    given: dict[int, int] = {}
    boards = tuple(board_plan(case.plots[n].plank, laid[n], case.lots, given, case.saw) for n in sorted(laid))
    plan = Plan(case.saw.rule, case.saw.kerf, boards)
    lengths = sorted((piece.length for board in boards for piece in board.offcuts), reverse=True)
    return tuple(lengths), -sum(plan.settings)
