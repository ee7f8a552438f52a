"""Benchmarks with known values: no plan is below a known best, no bound above it."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.plan.bars import Bars, cut_bars
from shopfloor.plan.boards import Rule
from shopfloor.plan.plates import PlatePlan, Wish, best_plate
from shopfloor.plan.search import Limits, plan_boards
from tests.plan.known import EIGHTH, instances, shop_task, two_ways
from tests.plan.replay import replay

BARS = [
    (name, instance) for name in ("falkenauer_u", "scholl1", "schwerin") for instance in instances(f"1d_{name}")[::7]
]


def check_bars(bars: Bars, length: int, sizes: list[list[int]], kerf: int = 0) -> None:
    """Every bar holds what is cut from it, and every piece is cut."""
    given_out = [0] * len(sizes)
    for pattern, times in bars.patterns:
        pieces = sum(many for _, many in pattern)
        assert sum(sizes[n][0] * many for n, many in pattern) + kerf * (pieces - 1) <= length
        for n, many in pattern:
            given_out[n] += many * times
    assert all(got >= many for got, (_, many) in zip(given_out, sizes, strict=True))


@pytest.mark.parametrize(("name", "instance"), BARS, ids=[f"{name}-{i['name']}" for name, i in BARS])
def test_bars_reach_the_known_least_and_prove_it(name: str, instance: dict[str, Any]) -> None:
    bars = cut_bars(instance["capacity"], instance["items"], seconds=60)

    check_bars(bars, instance["capacity"], instance["items"])
    assert (bars.used, bars.least) == (instance["best_ub"], instance["best_ub"])


@pytest.mark.parametrize("name", ["falkenauer_t", "scholl2", "hard28", "waescher"])
def test_bars_stopped_early_stay_between_bound_and_plan(name: str) -> None:
    for instance in instances(f"1d_{name}")[::9]:
        bars = cut_bars(instance["capacity"], instance["items"], seconds=0.3)

        check_bars(bars, instance["capacity"], instance["items"])
        assert bars.least <= instance["best_ub"] and bars.used >= instance["best_lb"]


@given(
    length=st.integers(20, 60), kerf=st.integers(0, 3),
    sizes=st.lists(st.tuples(st.integers(4, 20), st.integers(1, 2)), min_size=1, max_size=4),
)  # fmt: skip
@settings(max_examples=40)
def test_few_pieces_need_as_few_bars_as_trying_everything_finds(
    length: int, kerf: int, sizes: list[tuple[int, int]]
) -> None:
    bars = cut_bars(length, sizes, kerf=kerf, seconds=60)

    check_bars(bars, length, [list(size) for size in sizes], kerf)
    pieces = [size for size, many in sizes for _ in range(many)]
    fewest = next(
        count
        for count in range(1, len(pieces) + 1)
        for where in itertools.product(range(count), repeat=len(pieces))
        if all(
            sum(p + kerf for p, bar in zip(pieces, where, strict=True) if bar == each) <= length + kerf
            for each in range(count)
        )
    )  # fmt: skip
    assert bars.least <= fewest == bars.used


def check_plate(plan: PlatePlan, length: int, width: int, wishes: list[Wish]) -> None:
    given_out = [0] * len(wishes)
    assert sum(wide for wide, _ in plan.strips) <= width
    for wide, counts in plan.strips:
        assert sum(wishes[n].length * many for n, many in counts) <= length
        assert all(wishes[n].width <= wide for n, _ in counts)
        for n, many in counts:
            given_out[n] += many
    assert all(many <= wish.most for many, wish in zip(given_out, wishes, strict=True))
    assert sum(many * wish.worth for many, wish in zip(given_out, wishes, strict=True)) == plan.worth


@pytest.mark.parametrize("instance", instances("2d_two_stage_hr")[::4], ids=lambda each: str(each["name"]))
def test_two_stage_plates_reach_the_known_best_and_prove_it(instance: dict[str, Any]) -> None:
    for _, length, width, wishes, known in two_ways(instance):
        plan = best_plate(length, width, wishes, seconds=60)

        check_plate(plan, length, width, wishes)
        assert known["best"] <= plan.worth == plan.most <= known["upper_bound"]


@pytest.mark.parametrize("name", ["gcut", "cgcut"])
def test_two_stages_give_no_more_than_any_number_of_stages(name: str) -> None:
    for instance in instances(f"2d_{name}")[:4]:
        best = instance.get("opt_constrained_guillotine") or instance["opt_unconstrained_guillotine"]
        wishes = [Wish(a, b, most or 99, worth) for a, b, most, worth in instance["items"]]

        plan = best_plate(instance["L"], instance["W"], wishes, seconds=20)

        check_plate(plan, instance["L"], instance["W"], wishes)
        assert plan.worth <= best


@pytest.mark.parametrize("rule", [Rule.RIP_FIRST, Rule.CROSSCUT_FIRST])
@pytest.mark.parametrize("instance", instances("shop_2d")[::4], ids=lambda each: str(each["name"]))
def test_shop_jobs_are_cut_as_planned_and_bounds_meet_no_known_plan(instance: dict[str, Any], rule: Rule) -> None:
    task = shop_task(instance, rule)

    plan = plan_boards(task, Limits(seconds=None, rounds=2) if len(task.wanted) < 100 else Limits(seconds=3))

    replay(task, plan)
    known = instance["rip_first_2stage" if rule is Rule.RIP_FIRST else "crosscut_first_3stage"]
    assert plan.complete and plan.least is not None
    assert plan.least <= known["ub"] * EIGHTH**2 and plan.used >= known["lb"] * EIGHTH**2


def test_the_same_seed_and_rounds_give_the_same_plan() -> None:
    task = shop_task(instances("shop_2d")[0], Rule.RIP_FIRST)

    one, other = (plan_boards(task, Limits(seconds=None, rounds=10, seed=7)) for _ in range(2))

    assert one == other
