"""Small racks: the plan is the best of all that there are, found by trying every one."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.plan.boards import Plank, Rule, Saw, Task, Wanted
from shopfloor.plan.search import Limits, plan_boards
from shopfloor.trade.length import INCH
from tests.plan.replay import replay


def partitions(parts: list[Wanted]) -> Iterator[list[list[Wanted]]]:
    """Every way to sort parts into strips."""
    if not parts:
        yield []
        return
    first, *rest = parts
    for strips in partitions(rest):
        yield [[first], *strips]
        for n, strip in enumerate(strips):
            yield [*strips[:n], [first, *strip], *strips[n + 1 :]]


def least_area(task: Task) -> int | None:
    """The least area of boards from which all parts can be ripped and crosscut; None if there is no way."""
    kerf, best = task.saw.kerf, None
    for strips in partitions(list(task.wanted)):
        sizes = [
            (sum(part.length + kerf for part in strip) - kerf, max(part.width for part in strip)) for strip in strips
        ]
        for boards in itertools.product(task.planks, repeat=len(strips)):
            used = set(boards)
            area = sum(board.area for board in used)
            if (best is None or area < best) and all(
                all(length <= board.length for (length, _), own in zip(sizes, boards, strict=True) if own is board)
                and sum(width + kerf for (_, width), own in zip(sizes, boards, strict=True) if own is board)
                <= board.width + kerf
                for board in used
            ):
                best = area
    return best


@st.composite
def small_tasks(draw: st.DrawFn) -> Task:
    eighths = INCH // 8
    sizes = st.tuples(st.integers(60, 320), st.integers(10, 36))
    parts = [
        Wanted(f"p{n}-{each}", length * eighths, width * eighths)
        for n, (length, width) in enumerate(draw(st.lists(sizes, min_size=1, max_size=3)))
        for each in range(draw(st.integers(1, 2)))
    ][:5]
    boards = draw(st.lists(st.tuples(st.integers(200, 700), st.integers(24, 80)), min_size=2, max_size=3))
    planks = tuple(Plank(f"b{n}", length * eighths, width * eighths) for n, (length, width) in enumerate(boards))
    return Task(tuple(parts), planks, Saw(draw(st.sampled_from([0, 1, 3])) * eighths, Rule.RIP_FIRST))


@given(task=small_tasks())
@settings(max_examples=60)
def test_no_way_of_ripping_opens_less_than_the_plan_and_the_proof_says_so(task: Task) -> None:
    plan = plan_boards(task, Limits(seconds=None, rounds=40))

    replay(task, plan)
    best = least_area(task)
    if best is None:
        assert not plan.complete
    else:
        assert plan.complete and plan.used == best == plan.least
