"""A cabinet's parts follow from its outside sizes and choices."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import derive
from shopfloor.trade.construct.legs import Flush
from shopfloor.trade.construct.made import Built
from shopfloor.trade.length import Length, read
from shopfloor.trade.part import Line, Mortise, Part

from .choir_cabinet import CHOIR_CABINET, SIDE

DEMO = demo_job()


@pytest.fixture(scope="module")
def built() -> Built:
    return derive(CHOIR_CABINET)


def test_the_demo_is_derived_without_a_fault(built: Built) -> None:
    assert built.faults == ()
    assert built.by_hand == ()


def test_the_demo_has_the_assemblies_that_were_drawn(built: Built) -> None:
    assert built.assemblies == tuple(replace(each, made_by="") for each in DEMO.assemblies)


@pytest.mark.parametrize("line", DEMO.lines, ids=lambda line: line.key)
def test_each_line_is_derived_as_it_was_drawn(built: Built, line: Line) -> None:
    assert [each for each in built.lines if each.key == line.key] == [line]


def test_nothing_is_derived_that_was_not_drawn(built: Built) -> None:
    assert [line.key for line in built.lines] == [line.key for line in DEMO.lines]


def test_the_joints_and_their_letters_are_those_that_were_drawn(built: Built) -> None:
    assert built.joints == DEMO.joints


def line(built: Built, key: str) -> Line:
    return next(each for each in built.lines if each.key == key)


def part(built: Built, key: str) -> Part:
    return next(each for line in built.lines for each in line.parts if each.key == key)


CHANGES: list[tuple[str, str, dict[str, tuple[str, str, str]]]] = [
    # field, new value, {line: (thickness, width, length)}; worked out by hand
    ("width", "28", {
        "leg-front": ("1 3/4", "1 3/4", "36 1/4"),
        "left-top-rail": ("3/4", "3", "15 1/4"),
        "back-top-rail": ("3/4", "3", "26 1/4"),
        "back-panel": ("1/2", "11 1/4", "23 7/8"),
        "web-front-rail": ("3/4", "2", "25 1/2"),
        "web-runner": ("3/4", "2", "12 3/4"),
        "drawer-6-front": ("3/4", "3 7/8", "24 7/16"),
        "drawer-6-side": ("1/2", "3 7/8", "15 5/16"),
        "drawer-6-bottom": ("3/8", "14 11/16", "23 13/16"),
        "top": ("1", "18 1/4", "29 1/2"),
    }),
    ("depth", "18 1/2", {
        "back-top-rail": ("3/4", "3", "24 1/4"),
        "right-bottom-rail": ("3/4", "3", "16 3/4"),
        "right-panel": ("1/2", "15 1/2", "23 7/8"),
        "web-back-rail": ("3/4", "2", "23 1/2"),
        "web-runner": ("3/4", "2", "14 1/4"),
        "drawer-1-side": ("1/2", "3 7/8", "16 13/16"),
        "drawer-1-bottom": ("3/8", "16 3/16", "21 13/16"),
        "drawer-1-back": ("1/2", "3 1/4", "21 13/16"),
        "top": ("1", "19 3/4", "27 1/2"),
    }),
    ("height", "43 1/4", {
        "leg-back": ("1 3/4", "1 3/4", "42 1/4"),
        "left-panel": ("1/2", "14", "29 7/8"),
        "back-muntin": ("3/4", "3", "29 7/8"),
        "web-front-rail": ("3/4", "2", "23 1/2"),
        "drawer-3-front": ("3/4", "4 7/8", "22 7/16"),
        "drawer-3-back": ("1/2", "4 1/4", "21 13/16"),
        "top": ("1", "18 1/4", "27 1/2"),
    }),
]  # fmt: skip


@pytest.mark.parametrize(("field", "value", "sizes"), CHANGES, ids=[field for field, _, _ in CHANGES])
def test_one_outside_size_changes_everything_that_hangs_on_it(
    field: str, value: str, sizes: dict[str, tuple[str, str, str]]
) -> None:
    changed = derive(replace(CHOIR_CABINET, **{field: read(value)}))

    assert changed.faults == ()
    assert {key: tuple(line(changed, key).stock) for key in sizes} == {
        key: tuple(map(read, size)) for key, size in sizes.items()
    }


def test_a_higher_cabinet_moves_its_mortises_along_the_legs() -> None:
    changed = derive(replace(CHOIR_CABINET, height=read("43 1/4")))
    front = line(changed, "leg-front")
    starts: dict[str, Length] = {each.key: each.start for each in front.features if hasattr(each, "start")}

    # Openings of 5: frames 5 3/4 apart.  The lower rail starts at 42 1/4 - 7 - 3, its tenon 3/8 below.
    assert starts["frame-2"] == read("5 15/16")
    assert starts["frame-7"] == read("34 11/16")
    assert starts["side-bottom"] == read("32 5/8")


# Rails 3/4 thick, tenons 1/4 behind their face side, legs 1 3/4; from the inside of the legs, worked out by hand.
LYING = [
    ("flush inside", {"flush": Flush.INSIDE}, "1/4", "22 1/2"),
    ("set back from the inside", {"flush": Flush.INSIDE, "set_back": read("1/8")}, "3/8", "22 3/4"),
    ("flush outside", {"flush": Flush.OUTSIDE}, "1 1/4", "24 1/2"),
    ("set back from the outside", {"flush": Flush.OUTSIDE, "set_back": read("1/8")}, "1 1/8", "24 1/4"),
]


@pytest.mark.parametrize(("lies", "offset", "apart"), [row[1:] for row in LYING], ids=[row[0] for row in LYING])
def test_a_side_lies_where_it_was_chosen_to(lies: dict[str, Any], offset: str, apart: str) -> None:
    made = replace(SIDE, **lies)
    built = derive(replace(CHOIR_CABINET, left=made, right=made))
    mortise = next(each for each in line(built, "leg-front").features if each.key == "side-top")
    left, right = (part(built, f"{side}.panel").stands for side in ("left", "right"))

    # The panels' face sides are apart by the clear 22 1/2 and what they lie outwards of it on both sides.
    assert built.faults == ()
    assert isinstance(mortise, Mortise)
    assert mortise.offset == read(offset)
    assert left and right
    assert right.at[0] - left.at[0] == read(apart)


def test_a_side_can_hang_lower_than_the_legs() -> None:
    lower = replace(SIDE, down=read("2"))
    built = derive(replace(CHOIR_CABINET, left=lower, right=lower, web_frames=None, drawers=None))
    top, panel = part(built, "right.top-rail").stands, line(built, "right-panel")

    assert built.faults == ()
    assert top and top.at[2] == read("34 1/4")
    assert panel.length == read("21 7/8")
