from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.journal.fold import PartProgress, StepState
from shopfloor.trade.length import read
from shopfloor.trade.part import FEATURES, Line
from shopfloor.trade.route import Step, route
from shopfloor.web.rods import ORDER, Notch, rod
from tests.trade.one_of_each import ONE_OF_EACH


def steps(*keys: str) -> tuple[Step, ...]:
    return tuple(Step(key, key, f"{key}: done") for key in keys)


def told(*done: str, undone: tuple[str, ...] = ()) -> PartProgress:
    states = {key: StepState(True, "phone", 0, (), False) for key in done}
    states |= {key: StepState(False, "phone", 0, (), False) for key in undone}
    return PartProgress(steps=states)


def test_a_part_of_which_nothing_is_written_has_its_first_step_next() -> None:
    made = rod([(steps("rough", "mill", "glue"), None)])

    assert [notch.eighths for notch in made.notches] == [0, 0, 0]
    assert made.next == Notch("rough", "rough", 0, 1, next=True)
    assert made.says == "0 of 3 steps done, next: rough"


def test_the_next_step_is_the_first_that_is_not_done_even_if_a_later_one_is() -> None:
    made = rod([(steps("rough", "mill", "glue"), told("rough", "glue", undone=("mill",)))])

    assert [notch.eighths for notch in made.notches] == [8, 0, 8]
    assert made.next_says == "next: mill"


def test_a_part_that_is_all_done_has_nothing_next() -> None:
    made = rod([(steps("rough", "mill"), told("rough", "mill"))])

    assert (made.next, made.next_says, made.says) == (None, "all done", "2 of 2 steps done")


def test_a_stack_counts_each_step_among_the_parts_that_have_it() -> None:
    rail = steps("rough", "mill", "tenon", "glue", "finish")
    panel = steps("rough", "mill", "tongue", "finish", "glue")

    made = rod([(rail, told("rough", "mill")), (rail, told("rough")), (panel, told("rough", "mill", "tongue"))])

    assert [(notch.key, notch.done, notch.of) for notch in made.notches] == [
        ("rough", 3, 3),
        ("mill", 2, 3),
        ("tenon", 0, 2),
        ("tongue", 1, 1),
        ("glue", 0, 3),
        ("finish", 0, 3),
    ]
    assert made.next_says == "next: mill, 2 of 3 done"


def test_a_stack_of_panels_keeps_their_own_order_finish_before_glue() -> None:
    panel = steps("rough", "tongue", "finish", "glue")

    assert [notch.key for notch in rod([(panel, None), (panel, None)]).notches] == ["rough", "tongue", "finish", "glue"]


def test_no_parts_make_an_empty_rod() -> None:
    made = rod([])

    assert (made.notches, made.next, made.next_says) == ((), None, "no parts")


def test_every_step_that_a_route_can_have_has_its_place_on_a_rod() -> None:
    cuts = tuple(ONE_OF_EACH.values())
    assert {type(cut) for cut in cuts} == set(FEATURES.values())
    inch = read("1")
    line = Line("l", "a", "Everything", inch, 3 * inch, 30 * inch, features=cuts)

    assert {step.key for step in route(line, joined=True)} <= set(ORDER)


@given(of=st.integers(1, 2000), part=st.integers(0, 2000))
def test_a_notch_is_full_or_empty_only_where_it_really_is(of: int, part: int) -> None:
    done = min(part, of)
    eighths = Notch("mill", "mill", done, of).eighths

    assert (eighths == 8) == (done == of)
    assert (eighths == 0) == (done == 0)
    assert abs(eighths - 8 * done / of) <= 1


@given(st.lists(st.lists(st.sampled_from(ORDER), unique=True).map(lambda keys: steps(*keys)), max_size=5))
def test_each_step_stands_on_the_rod_once(routes: list[tuple[Step, ...]]) -> None:
    keys = [notch.key for notch in rod([(one, None) for one in routes]).notches]

    assert len(keys) == len(set(keys))
    assert set(keys) == {step.key for one in routes for step in one}


@pytest.mark.parametrize(("done", "says"), [(0, "next: mill"), (1, "next: mill, 1 of 28 done"), (28, "all done")])
def test_what_is_next_says_how_far_it_is(done: int, says: str) -> None:
    made = rod([(steps("mill"), told("mill") if part < done else None) for part in range(28)])

    assert made.next_says == says
