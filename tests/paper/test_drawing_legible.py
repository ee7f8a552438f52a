"""No two texts of a drawing touch, and none leaves the frame: read back from the SVG, measured by the fonts."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import combinations

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shopfloor.paper.drawing import draw, draw_step, drawn_steps
from shopfloor.trade.part import Hand, Line, Part, Unit

from .drawn import TextBox, texts
from .lines import LEG, LETTERS, lines


def clashes(boxes: list[TextBox], width: float, height: float) -> list[str]:
    """What is wrong with the texts of a frame of that size, in words."""
    wrong = [f"{a.says!r} touches {b.says!r}" for a, b in combinations(boxes, 2) if a.touches(b)]
    wrong += [
        f"{box.says!r} leaves the frame"
        for box in boxes
        if box.left < 0 or box.top < 0 or box.right > width or box.foot > height
    ]
    return wrong


@settings(max_examples=500, deadline=None)
@given(
    line=lines(),
    hand=st.sampled_from(Hand),
    unit=st.sampled_from(Unit),
    denominator=st.sampled_from([16, 32, 64]),
    letters=LETTERS,
)
def test_no_text_touches_another_or_leaves_the_frame(
    line: Line, hand: Hand, unit: Unit, denominator: int, letters: dict[str, str]
):
    svg = draw(line, Part("p", hand=hand), unit=unit, denominator=denominator, letters=letters)
    height = float(ET.fromstring(svg).get("viewBox", "").split()[3])

    assert clashes(texts(svg), 360, height) == []


@settings(max_examples=500, deadline=None)
@given(
    line=lines(),
    hand=st.sampled_from(Hand),
    unit=st.sampled_from(Unit),
    denominator=st.sampled_from([16, 32, 64]),
    letters=LETTERS,
    data=st.data(),
)
def test_no_text_of_a_step_touches_another_or_leaves_the_frame(
    line: Line, hand: Hand, unit: Unit, denominator: int, letters: dict[str, str], data: st.DataObject
):
    steps = drawn_steps(line)
    assume(steps)
    step = data.draw(st.sampled_from(steps))
    svg = draw_step(line, Part("p", hand=hand), step, unit=unit, denominator=denominator, letters=letters)
    height = float(ET.fromstring(svg).get("viewBox", "").split()[3])

    assert clashes(texts(svg), 360, height) == []


def test_the_check_sees_a_clash():
    svg = draw(LEG, Part("p"), unit=Unit.INCH, denominator=16)
    boxes = texts(svg)
    first, *others = [box for box in boxes if box.size >= 23]
    moved = [first._replace(top=others[0].top, foot=others[0].foot), *others]

    assert clashes(moved, 360, 1000) == [f"{first.says!r} touches {others[0].says!r}"]
    assert len(clashes(boxes, 100, 1000)) >= 3


def test_what_is_read_at_the_bench_is_large_enough():
    boxes = texts(draw(LEG, Part("p"), unit=Unit.MM, denominator=16, letters={"upper": "1A"}))

    assert min(box.size for box in boxes) >= 16
    assert [box.says for box in boxes if box.size >= 23] == ["9.5", "73", "784.2", "847.7", "920.8"]
