"""A planning in a process of its own."""

from __future__ import annotations

import time

import pytest

from shopfloor.plan.boards import NoTask, Saw, Task
from shopfloor.plan.running import Running
from shopfloor.plan.search import Limits, Progress, plan_boards
from tests.plan.racks import KERF, planks, wanted
from tests.plan.replay import replay

LONG = Task(
    wanted(*(f"p{n} 3 {20 + n} x {2 + n % 5}" for n in range(20))),
    planks(*(f"B{n} {90 + 3 * n} x {6 + n % 4}" for n in range(24))),
    Saw(KERF),
)


def test_it_tells_how_it_stands_and_gives_the_plan() -> None:
    with Running(LONG, Limits(seconds=None, rounds=20)) as running:
        plan = running.wait(100)

    replay(LONG, plan)
    assert running.over and isinstance(running.progress, Progress)
    assert running.progress.area == plan.used and running.progress.least == plan.least
    assert plan == plan_boards(LONG, Limits(seconds=None, rounds=20))


def test_a_cancelled_planning_keeps_the_best_plan_so_far() -> None:
    with Running(LONG, Limits(seconds=600)) as running:
        while running.plan is None:
            running.poll()
            time.sleep(0.01)
        running.cancel()

        assert running.over and not running._process.is_alive()
    replay(LONG, running.plan)


def test_a_planning_that_is_killed_leaves_the_plan_that_it_had() -> None:
    with Running(LONG, Limits(seconds=600)) as running:
        while running.plan is None:
            running.poll()
            time.sleep(0.01)
        running._process.kill()
        plan = running.wait()

    replay(LONG, plan)


def test_what_is_refused_is_refused_here_too() -> None:
    twice = Task((*LONG.wanted, LONG.wanted[0]), LONG.planks, LONG.saw)

    with Running(twice) as running, pytest.raises(NoTask) as refused:
        running.wait(100)

    assert (refused.value.what, refused.value.where) == ("two parts have one key", "p0-1")
