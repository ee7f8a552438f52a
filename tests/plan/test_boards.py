"""Which part comes out of which board?"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings

from shopfloor.plan.boards import Defect, Group, Kin, NoTask, Plan, Plank, Role, Rule, Saw, Task, Wanted, Way, Why, said
from shopfloor.plan.search import Limits
from shopfloor.plan.search import plan_boards as planned
from tests.plan.racks import KERF, inch, planks, tasks, wanted
from tests.plan.replay import replay

QUICK = Limits(seconds=None, rounds=12)


def plan_boards(task: Task) -> Plan:
    return planned(task, QUICK)


SAW = Saw(KERF, offcut=(inch(12), inch(2)))


def test_a_part_of_the_boards_own_size_needs_no_cut() -> None:
    task = Task(wanted("top 1 40 x 8"), planks("A 40 x 8"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    (board,) = plan.boards
    assert board.cuts == () and board.pieces[0].role is Role.PART and plan.waste == 0 and plan.gap == 0


@pytest.mark.parametrize(
    ("length", "places"),
    [(inch("40 1/8"), 1), (inch("40 1/4") - 1, 1), (inch("40 1/4"), 2), (inch("40 3/8"), 2), (inch(80), 3)],
    ids=["one and its kerf", "a nanometre short", "two, and no cut at the end", "two and a cut", "three"],
)
def test_the_kerf_is_exact_to_the_nanometre(length: int, places: int) -> None:
    part = inch("20 1/16")
    task = Task(
        tuple(Wanted(f"rail-{n}", part, inch(3)) for n in range(4)), (Plank("A", length, inch(3)),), SAW
    )  # fmt: skip

    plan = plan_boards(task)

    replay(task, plan)
    assert sum(len(board.parts) for board in plan.boards) == places
    assert [each.why for each in plan.left_over] == [Why.NOT_ENOUGH] * (4 - places)


def test_strips_are_ripped_before_they_are_crosscut() -> None:
    task = Task(wanted("rail 4 30 x 3"), planks("A 62 x 6 1/8"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    (board,) = plan.boards
    rip, *crosscuts = board.cuts
    assert (rip.way, rip.at, rip.of) == (Way.RIP, inch(3), 0)
    assert [(cut.way, cut.at) for cut in crosscuts] == [
        (Way.CROSSCUT, inch(30)), (Way.CROSSCUT, inch("60 1/8")),
        (Way.CROSSCUT, inch(30)), (Way.CROSSCUT, inch("60 1/8")),
    ]  # fmt: skip
    assert [(piece.x, piece.y) for piece in board.parts] == [
        (0, 0), (0, inch("3 1/8")), (inch("30 1/8"), 0), (inch("30 1/8"), inch("3 1/8")),
    ]  # fmt: skip
    assert plan.settings == (1, 1)


def test_drawer_fronts_lie_in_their_order_and_legs_side_by_side() -> None:
    fronts = tuple(f"front-{n}" for n in range(1, 5))
    task = Task(
        wanted("front 4 20 x 5", "leg 2 30 x 2"), planks("A 84 x 5 1/2", "B 40 x 4 1/2", "C 100 x 9"), SAW,
        (Group("fronts", fronts), Group("legs", ("leg-1", "leg-2"), Kin.SIDE_BY_SIDE)),
    )  # fmt: skip

    plan = plan_boards(task)

    replay(task, plan)
    assert plan.complete and [board.board for board in plan.boards] == ["A", "B"]
    assert [piece.part for piece in plan.boards[0].parts] == list(fronts)


@pytest.mark.parametrize("rule", list(Rule))
def test_the_wood_of_a_cabinet_drawer_fronts_in_order_legs_from_neighbouring_wood(rule: Rule) -> None:
    fronts, legs = tuple(f"front-{n}" for n in range(1, 6)), tuple(f"leg-{n}" for n in range(1, 5))
    split = Plank("C", inch(110), inch("7 1/2"), defects=(Defect(0, inch(5)), Defect(inch(60), inch(63), 0, inch(2))))
    task = Task(
        wanted(
            "front 5 17 1/4 x 4 3/8", "leg 4 42 x 2 1/4", "rail 8 18 x 2 3/8", "stile 6 30 x 2 1/2", "runner 10 16 x 1",
            "top 2 40 x 6 3/4",
        ),
        (*planks("A 96 x 6 1/4", "B 99 1/2 x 8 1/8", "D 88 x 5", "E 120 x 9 3/8", "F 74 x 6"), split),
        replace(SAW, rule=rule, least_section=inch(12), least_strip=inch(12), clear=inch(1)),
        (
            Group("fronts", fronts),
            Group("left legs", legs[:2], Kin.NEIGHBOURS),
            Group("right legs", legs[2:], Kin.NEIGHBOURS),
        ),
    )  # fmt: skip
    task = replace(task, wanted=tuple(replace(part, show=part.key.startswith("front")) for part in task.wanted))

    plan = plan_boards(task)

    replay(task, plan)
    assert plan.complete and plan.gap is not None and plan.gap < 0.25


def test_parts_are_cut_around_a_knot_and_a_split_end() -> None:
    split = Plank("A", inch(60), inch(4), defects=(Defect(0, inch(6)), Defect(inch(30), inch(31), inch(3), inch(4))))
    task = Task(wanted("rail 2 25 x 2 1/2", "stile 1 27 x 4"), (split,), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    assert {piece.part: piece.x for piece in plan.boards[0].parts} in ({"rail-1": inch(6), "rail-2": inch("31 1/8")}, {
        "stile": inch(31)})  # fmt: skip


def test_a_show_part_keeps_away_from_a_defect_and_others_come_up_to_it() -> None:
    board = Plank("A", inch(60), inch(4), defects=(Defect(inch(20), inch(22)),))
    parts = (Wanted("back", inch(38), inch(4)), Wanted("front", inch(17), inch(4), show=True))
    task = Task(parts, (board,), replace(SAW, clear=inch(3)))

    plan = plan_boards(task)

    replay(task, plan)
    assert {piece.part: piece.x for piece in plan.boards[0].parts} == {"back": inch(22), "front": 0}


def test_a_pinned_part_comes_out_of_its_board_although_another_would_do() -> None:
    parts = (Wanted("door", inch(20), inch(4), board="B"), Wanted("shelf", inch(20), inch(4)))
    task = Task(parts, planks("A 41 x 4", "B 90 x 4"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    assert {piece.part: board.board for board in plan.boards for piece in board.parts}["door"] == "B"


REFUSED = {
    "two parts with one key": lambda t: replace(t, wanted=(*t.wanted, t.wanted[0])),
    "a kerf below zero": lambda t: replace(t, saw=Saw(-1)),
    "a part without length": lambda t: replace(t, wanted=(Wanted("p", 0, 5),)),
    "a board without width": lambda t: replace(t, planks=(Plank("p", 5, 0),)),
    "a group with a stranger": lambda t: replace(t, groups=(Group("g", ("nobody",)),)),
    "a part in two groups": lambda t: replace(t, groups=(Group("g", ("rail-1",)), Group("h", ("rail-1",)))),
    "a defect that ends before it begins": lambda t: replace(t, planks=(Plank("p", 5, 5, defects=(Defect(4, 3),)),)),
}


@pytest.mark.parametrize("spoil", REFUSED.values(), ids=REFUSED)
def test_what_contradicts_itself_is_refused_in_one_sentence(spoil) -> None:  # type: ignore[no-untyped-def]
    task = Task(wanted("rail 2 30 x 3"), planks("A 62 x 6"), SAW)

    with pytest.raises(NoTask) as refused:
        plan_boards(spoil(task))

    assert refused.value.where and refused.value.do


LEFT = [
    ("rail 1 97 x 3", Why.TOO_LONG, "rail is 97 in long, and the longest board gives 96 in in one piece."),
    ("rail 1 30 x 9", Why.TOO_WIDE, "rail is 9 in wide, and the widest board 8 in."),
    ("rail 1 90 x 8", Why.NO_BOARD, "rail, 90 in by 8 in, has no place on any board."),
]


@pytest.mark.parametrize(("row", "why", "says"), LEFT, ids=[why for _, why, _ in LEFT])
def test_a_part_that_no_board_gives_is_named_with_its_reason_and_the_rest_is_planned(
    row: str, why: Why, says: str
) -> None:
    task = Task(wanted(row, "leg 2 30 x 2"), planks("A 96 x 4", "B 80 x 8"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    (left,) = plan.left_over
    assert (left.part, left.why, said(left.says)) == ("rail", why, says)
    assert sum(len(board.parts) for board in plan.boards) == 2


def test_a_group_that_fits_no_board_is_left_over_whole() -> None:
    task = Task(wanted("front 3 30 x 5"), planks("A 80 x 12"), SAW, (Group("f", ("front-1", "front-2", "front-3")),))

    plan = plan_boards(task)

    replay(task, plan)
    assert [each.why for each in plan.left_over] == [Why.ITS_GROUP] * 3
    assert said(plan.left_over[0].says) == (
        "front-1: its group needs 90 1/4 in by 5 in in one piece, which any board does not give."
    )


def test_boards_that_give_nothing_and_odd_kerfs_are_noted() -> None:
    covered = Plank("C", inch(40), inch(8), defects=(Defect(0, inch(40)),))
    task = Task(wanted("slat 3 30 x 3"), (*planks("A 96 x 8", "B 96 x 2"), covered), replace(SAW, kerf=0))

    plan = plan_boards(task)

    replay(task, plan)
    assert plan.complete
    assert [said(note) for note in plan.notes] == [
        "The kerf is 0: every saw takes some wood, so this plan is too tight.",
        "Board B is 2 in wide, narrower than any part.",
        "Board C has no clear wood between what is cut around.",
    ]


def test_a_kerf_wider_than_the_part_is_noted_and_planned() -> None:
    task = Task(wanted("spline 3 30 x 1/16"), planks("A 96 x 1"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    assert plan.complete
    assert [said(note) for note in plan.notes] == ["The kerf, 1/8 in, is wider than the smallest part, 1/16 in."]


def test_without_boards_or_without_parts_there_is_a_plan_that_says_so() -> None:
    nothing, no_board = Task((), planks("A 96 x 8"), SAW), Task(wanted("rail 2 30 x 3"), (), SAW)

    assert plan_boards(nothing).boards == () and plan_boards(nothing).complete
    assert [said(each.says) for each in plan_boards(no_board).left_over] == [
        f"rail-{n}: there is no board to cut it from." for n in (1, 2)
    ]


def test_what_is_left_of_the_wood_comes_together_in_one_long_offcut() -> None:
    task = Task(wanted("rail 4 30 x 3"), planks("A 96 x 6 1/2"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    (board,) = plan.boards
    longest, *_ = board.offcuts
    assert longest.length >= inch("35 3/4")


def test_parts_that_a_stopped_planning_has_not_placed_are_not_said_to_want_wood() -> None:
    task = Task(wanted("rail 4 30 x 3"), planks("A 96 x 6 1/2"), SAW)

    plan = planned(task, stop=lambda: True)

    replay(task, plan)
    assert {each.why for each in plan.left_over} == {Why.STOPPED}


def test_a_rack_that_does_not_suffice_gives_as_much_as_it_can() -> None:
    task = Task(wanted("top 2 40 x 8", "slat 3 20 x 2"), planks("A 41 x 8"), SAW)

    plan = plan_boards(task)

    replay(task, plan)
    assert [piece.part[:3] for board in plan.boards for piece in board.parts] == ["top"]
    assert said(plan.left_over[0].says) == "top-2: the boards do not suffice." and plan.least is None


@given(task=tasks())
@settings(max_examples=80)
def test_every_plan_of_a_random_rack_can_be_cut(task: Task) -> None:
    replay(task, planned(task, Limits(seconds=None, rounds=3)))
