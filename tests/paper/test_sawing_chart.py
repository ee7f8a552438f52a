"""The cutting diagram of a board: to scale, numbered, measured from one end, and every number can be read."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings

from shopfloor.paper.sawing_chart import Chart, chart
from shopfloor.plan.boards import Defect, Plank, Saw, Task
from shopfloor.plan.search import Limits, plan_boards
from shopfloor.trade.length import INCH
from shopfloor.trade.part import Unit
from shopfloor.trade.sawing import BoardPlan, Role
from tests.paper.drawn import TextBox, texts
from tests.plan.racks import KERF, inch, planks, tasks, wanted


def drawn(board: BoardPlan, **more: object) -> str:
    names = {piece.part: (str(n), f"{n} {piece.part}") for n, piece in enumerate(board.parts, 1)}
    return chart(Chart(board, names, **more), unit=Unit.INCH, denominator=16)  # type: ignore[arg-type]


def planned(task: Task) -> BoardPlan:
    (board,) = plan_boards(task, SOON).boards
    return board


SOON = Limits(seconds=None, rounds=0)
TWO_RAILS = Task(wanted("rail 2 30 x 3"), planks("A 96 x 3 1/2"), Saw(KERF))


def test_cuts_are_labelled_by_their_distance_from_the_marked_end_and_numbered_in_order() -> None:
    board = planned(TWO_RAILS)
    said = [box.says for box in texts(drawn(board))]

    # One rip to width, then two crosscuts: 30, and 30 + 1/8 + 30.
    assert [(str(cut.way), board.line(cut)) for cut in board.cuts] == [
        ("rip", inch(3)), ("crosscut", inch(30)), ("crosscut", inch("60 1/8")),
    ]  # fmt: skip
    assert {"3", "30", "60 1/8", "1", "2"} <= set(said)


def test_the_line_is_drawn_along_what_is_kept_when_the_waste_lies_before_it() -> None:
    """Half an inch is trimmed off the end: the saw takes 3/8 to 1/2, and 1/2 is where the part begins."""
    plank = Plank("A", inch(62), inch(3), trim=(INCH // 2, INCH // 2))
    board = planned(Task(wanted("rail 2 30 x 3"), (plank,), Saw(KERF)))

    assert board.line(board.cuts[0]) == INCH // 2
    assert "1/2" in [box.says for box in texts(drawn(board))]


def test_what_is_thrown_away_is_shaded_and_what_is_kept_says_so() -> None:
    plank = Plank("A", inch(96), inch(4), defects=(Defect(inch(40), inch(44)),))
    board = planned(Task(wanted("rail 2 30 x 3"), (plank,), Saw(KERF)))
    svg = drawn(board, defects=plank.defects)

    wasted = [piece for piece in board.pieces if piece.role is Role.WASTE]
    assert wasted
    assert 'class="waste"' in svg
    assert 'class="defect hollow"' in svg
    assert ("keep" in [box.says for box in texts(svg)]) == bool(board.offcuts)


def test_the_next_cut_is_drawn_in_crayon_with_its_number_filled() -> None:
    svg = drawn(planned(TWO_RAILS), next=2)

    assert svg.count('class="next"') == 1
    assert re.search(r'<text class="on-ink"[^>]*>2</text>', svg)


def test_a_hostile_name_stays_text() -> None:
    board = planned(TWO_RAILS)
    svg = chart(Chart(board, {"rail-1": ("<script>",)}), unit=Unit.MM, denominator=16, label='"><script>')

    assert "<script" not in svg


@pytest.mark.parametrize("unit", list(Unit))
@given(task=tasks())
@settings(max_examples=40, deadline=None)
def test_no_two_texts_touch_and_none_leaves_the_frame(unit: Unit, task: Task) -> None:
    for board in plan_boards(task, SOON).boards:
        names = {piece.part: (str(n), f"{n} {piece.part}") for n, piece in enumerate(board.parts, 1)}
        svg = chart(Chart(board, names, next=1), unit=unit, denominator=16)
        upright = list(texts(re.sub(r"<g transform.*?</g></g>", "", svg)))
        found = re.search(r'viewBox="0 0 360 ([0-9.]+)"', svg)
        assert found
        tall = float(found[1])
        assert not [box for box in upright if box.left < 0 or box.right > 360 or box.top < 0 or box.foot > tall]
        assert not [(a.says, b.says) for a, b in pairs(upright) if a.touches(b)]


def pairs(boxes: list[TextBox]) -> list[tuple[TextBox, TextBox]]:
    return [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :]]
