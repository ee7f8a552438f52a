"""Setup orders: proven against brute force and known values, walked by themselves, kept when work has begun."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.errors import ShopError
from shopfloor.plan.setup_bound import Bounding, hit
from shopfloor.plan.setup_case import case_of
from shopfloor.plan.setup_search import Limits, SetupProgress, order_setups
from shopfloor.plan.setups import Begun, Machine, NoWork, Operation, Setting, Wishes, Work
from tests.plan.jobs import MINUTE, large, setup_work, small
from tests.plan.known import instances
from tests.plan.walk_setups import walk

QUICK = Limits(None, 50)
ROWS = {row["name"]: row for row in instances("shop_setups")}


def brute(work: Work) -> int:
    """The least seconds of any order: every next operation tried, nothing assumed."""
    operations = {each.key: each for each in work.operations}
    machines = {each.key: each for each in work.machines}
    tests: dict[tuple[str, Setting], int] = {}
    for each in work.operations:
        at = (each.machine, each.setting)
        tests[at] = max(tests.get(at, 0), each.test or 0)

    @cache
    def rest(done: frozenset[str], stands: tuple[tuple[str, Setting | None], ...]) -> int:
        now = dict(stands)
        found = []
        for key, each in operations.items():
            if key in done or not set(each.after) <= done:
                continue
            stood, machine, takes = now[each.machine], machines[each.machine], 0
            if stood != each.setting:
                takes = machine.change
                if stood and stood.cutter == each.setting.cutter and machine.same_cutter is not None:
                    takes = machine.same_cutter
                takes += tests[each.machine, each.setting]
            after = tuple({**now, each.machine: each.setting}.items())
            found.append(takes + rest(done | {key}, after))
        return min(found, default=0)

    return rest(frozenset(), tuple((key, machine.mounted) for key, machine in machines.items()))


@pytest.mark.parametrize("block", range(10))
def test_small_orders_are_the_best_there_are_and_proven_so(block: int) -> None:
    for seed in range(20 * block, 20 * block + 20):
        work = small(seed)

        order = order_setups(work, QUICK)

        walk(work, order)
        assert (order.seconds, order.least) == (brute(work), order.seconds), seed


@pytest.mark.parametrize("block", range(10))
def test_no_bound_is_beyond_the_best(block: int) -> None:
    for seed in range(1_000 + 20 * block, 1_020 + 20 * block):
        work = small(seed)
        bounding = Bounding(case_of(work.machines, work.operations))
        best = brute(work)

        for _ in range(30):
            bounding.round(lambda: False, 10**9)

        assert bounding.least <= best, seed


def test_the_bound_sees_that_two_machines_are_at_odds() -> None:
    """On each of two machines one of two settings must come first, and the four routes forbid each of the four ways."""
    a, b, x, y = ("m", "a"), ("m", "b"), ("n", "x"), ("n", "y")
    routes = [(b, x), (y, a), (a, x), (y, b), (a, y), (x, b), (b, y), (x, a)]
    operations = []
    for n, ((m1, s1), (m2, s2)) in enumerate(routes):
        operations += [Operation(f"{n}-0", m1, Setting(s1)), Operation(f"{n}-1", m2, Setting(s2), (f"{n}-0",))]
    work = Work((Machine("m", 10), Machine("n", 10)), tuple(operations))
    bounding = Bounding(case_of(work.machines, work.operations))
    assert bounding.least == 40  # four settings, each once

    while not bounding.finished:
        bounding.round(lambda: False, 10**9)

    assert brute(work) == 50
    assert bounding.least == 50


@given(
    conflicts=st.lists(st.integers(1, 255), min_size=1, max_size=8),
    price=st.lists(st.integers(1, 5), min_size=8, max_size=8),
)
@settings(deadline=None)
def test_conflicts_are_hit_at_the_least_price(conflicts: list[int], price: list[int]) -> None:
    sets = [each for each in range(256) if all(each & one for one in conflicts)]
    least = min(sum(p for n, p in enumerate(price) if each >> n & 1) for each in sets)

    found = hit(conflicts, price, least)

    assert found is not None and all(found & one for one in conflicts)
    assert hit(conflicts, price, least - 1) is None


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["operations"] < 500])
def test_known_values_are_reached_and_no_bound_is_beyond_them(name: str) -> None:
    row, heard = ROWS[name], list[SetupProgress]()
    work = setup_work(row)

    order = order_setups(work, Limits(None, 200), tell=heard.append)

    walk(work, order)
    assert row["lb"] * MINUTE <= order.seconds <= row["ub"] * MINUTE
    assert order.least <= row["ub"] * MINUTE
    assert order.proven
    assert order.seconds < order.stack_by_stack.seconds < order.part_by_part.seconds
    assert [each.least for each in heard] == sorted(each.least for each in heard)


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row["operations"] > 500])
def test_a_thousand_operations_are_ordered_in_the_time_given(name: str) -> None:
    work = setup_work(ROWS[name])

    order = order_setups(work, Limits(2.0))

    walk(work, order)
    assert order.seconds >= ROWS[name]["lb"] * MINUTE
    assert order.least <= ROWS[name]["ub"] * MINUTE


def test_the_same_seed_and_rounds_give_the_same_order() -> None:
    work = setup_work(large(300, 3))

    assert order_setups(work, Limits(None, 30, 5)) == order_setups(work, Limits(None, 30, 5))


def test_one_who_says_stop_gets_the_best_so_far() -> None:
    work = setup_work(ROWS["setup_1000_2"])
    heard: list[SetupProgress] = []

    order = order_setups(work, Limits(60.0), tell=heard.append, stop=lambda: bool(heard))

    walk(work, order)
    assert heard[-1].seconds < 30


def test_plain_orders_are_counted_as_by_hand() -> None:
    """Two parts, each ripped and then drilled, in two stacks: by parts and by stacks each machine is set twice."""
    rip, drill = Setting("blade", "2 in"), Setting("bit", "1 in")
    narrow = Setting("blade", "1 in")
    work = Work(
        (Machine("saw", 100, 30), Machine("drill", 50)),
        (
            Operation("a1", "saw", rip, (), 5, "a", "left"),
            Operation("a2", "saw", narrow, ("a1",), 5, "a", "left", 7),
            Operation("a3", "drill", drill, ("a2",), 5, "a", "left"),
            Operation("b1", "saw", rip, (), 5, "b", "right"),
            Operation("b2", "saw", narrow, ("b1",), 5, "b", "right", 7),
        ),
    )

    order = order_setups(work)

    # 100 for the blade, 30 and a test piece of 7 for the fence, 50 for the bit; b sets the fence to and fro again.
    assert (order.count.changes, order.count.cutters, order.seconds, order.least) == (3, 2, 187, 187)
    assert (order.part_by_part.changes, order.part_by_part.seconds) == (5, 187 + 30 + 37)
    assert order.stack_by_stack == order.part_by_part
    assert [run.test for run in order.runs] == [False, True, False]


def _op(key: str, *after: str, at: str = "0") -> Operation:
    return Operation(key, "m", Setting("c", at), after, 1, key, "s")


def test_a_circle_is_named_and_the_rest_is_planned() -> None:
    work = Work((Machine("m"),), (_op("a", "b"), _op("b", "c"), _op("c", "a"), _op("d", "a"), _op("e"), _op("f", "x")))

    order = order_setups(work)

    walk(work, order)
    assert [run.operations for run in order.runs] == [("e",)]
    assert {(each.operations, each.why) for each in order.left} == {
        (("a", "b", "c"), "These wait for each other, so none can be first: a waits for b waits for c waits for a."),
        (("f",), "f waits for x, which is not there."),
        (("d",), "These wait for operations that cannot be planned."),
    }


def test_an_operation_that_waits_for_itself_is_a_circle() -> None:
    order = order_setups(Work((Machine("m"),), (_op("a", "a"), _op("b"))))

    assert [each.operations for each in order.left] == [("a",)]
    assert [run.operations for run in order.runs] == [("b",)]


@pytest.mark.parametrize(
    "work",
    [
        Work((Machine("m"), Machine("m")), ()),
        Work((Machine("m"),), (_op("a"), _op("a"))),
        Work((), (_op("a"),)),
        Work((Machine("m", -1),), ()),
        Work((Machine("m"),), (replace(_op("a"), seconds=-1),)),
    ],
    ids=["two machines", "two operations", "no machine", "change below zero", "work below zero"],
)
def test_what_contradicts_itself_is_refused(work: Work) -> None:
    with pytest.raises(NoWork) as refused:
        order_setups(work)

    assert isinstance(refused.value, ShopError) and refused.value.do


def test_nothing_to_do_is_an_order_too() -> None:
    order = order_setups(Work((Machine("m"),), (_op("a"),), begun=Begun(frozenset({"a"}))))

    assert (order.runs, order.seconds, order.least, order.gap) == ((), 0, 0, 0.0)


def test_what_runs_stays_first_and_what_was_next_keeps_its_order() -> None:
    """Five settings in any order take as long: what was next comes as it was, z and y first, and what is new last."""
    work = Work(
        (Machine("m", 10),),
        (*(_op(key, at=key) for key in "vwxyz"), _op("done", at="v")),
        begun=Begun(frozenset({"done"}), tuple(("m", Setting("c", at)) for at in "zyxw"), 2),
    )

    order = order_setups(work)

    walk(work, order)
    assert [run.setting.position for run in order.runs][:4] == list("zyxw")
    assert (order.seconds, order.least, order.moved) == (50, 50, 1)  # v is new: one setting that was not to come


def test_a_fixed_setting_comes_first_though_it_costs_a_change() -> None:
    """b first means b twice; left free, a comes first and each is set once."""
    operations = (_op("a1", at="a"), _op("b1", "a1", at="b"), _op("b2", at="b"))
    free = Work((Machine("m", 10),), operations)
    fixed = replace(free, begun=Begun(next=(("m", Setting("c", "b")),), fixed=1))

    assert order_setups(free).seconds == 20
    order = order_setups(fixed)

    walk(fixed, order)
    assert (order.seconds, order.least) == (30, 30)
    assert order.runs[0].operations == ("b2",)


def test_a_stack_that_can_be_finished_early_is() -> None:
    """Two machines, a stack each: the short one first, if it is wished that stacks are finished early."""
    operations = (
        Operation("long", "m", Setting("c"), (), 9_000, "p", "long"),
        Operation("short", "n", Setting("c"), (), 60, "q", "short"),
    )
    work = Work((Machine("m"), Machine("n")), operations, Wishes(0, 100))

    order = order_setups(work)

    assert [run.operations for run in order.runs] == [("short",), ("long",)]
    # 60 to set and 60 to do; then 60 and 9,000 more.
    assert order.wish == 120 + 9_180
