"""Drawers and doors that would stick in the damp are named, with the gap that would do."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.case_joints import DRAWER_HEIGHT
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import Construction, follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.doors import Doors, Hinges
from shopfloor.trade.construct.drawer_choices import Overlay
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.fault import Fault
from shopfloor.trade.habit import PRINTED, Habits
from shopfloor.trade.length import read
from shopfloor.trade.part import Job
from shopfloor.trade.seasonal import faults
from shopfloor.trade.seasons import Seasons

from .construct.choir_cabinet import CHOIR_CABINET, DRAWERS, SIDE, WEB_FRAMES

YEAR = Seasons(Fraction("5.4"), 7, Fraction("10.1"))
"""3.1 points more in the damp."""
TIGHT = replace(DRAWERS, above=read("1/64"))
CABINET = replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, count=3), drawers=TIGHT)
"""Openings of (29 1/4 - 4 x 3/4) / 3 = 8 3/4, fronts and sides 8 47/64 high."""


def sticks(made: Construction, habits: Habits = PRINTED) -> list[Fault]:
    composed = follow(Job("any", "Any"), [made])
    assert composed.faults == ()
    return [each for each in faults(composed.job, YEAR, habits=habits) if "swell" in each.what]


def test_a_drawer_that_would_stick_is_named_with_the_gap_that_would_do() -> None:
    front, side = sticks(CABINET)

    # Cherry, flatsawn: 8.734 x 0.00248 x 3.1 = 0.0671, and 1/32 more 0.0984: the next 1/32 is 1/8.
    assert front.where == 'line "drawer-1-front", width'
    assert front.what == "it swells 1/16 in in the damp, and 1/64 in is free over it in its opening"
    assert front.do.startswith("A clearance above of 1/8 in would do. Counted for black cherry, flatsawn")
    # Hard maple: 8.734 x 0.00353 x 3.1 = 0.0956, and 1/32 more 0.1268.
    assert side.where == 'line "drawer-1-side", width'
    assert side.do.startswith("A clearance above of 5/32 in would do. Counted for")


def test_the_gap_that_would_do_does() -> None:
    assert sticks(replace(CABINET, drawers=replace(TIGHT, above=read("5/32")))) == []


@pytest.mark.parametrize(("above", "told"), [("1/16", 2), ("5/64", 1), ("3/32", 1), ("7/64", 0)])
def test_what_is_free_is_held_against_what_swells(above: str, told: int) -> None:
    # Less of a front swells less: with 1/16 free 0.0668 and 0.0951, with 5/64 (0.078) 0.0667 and 0.0949.
    assert len(sticks(replace(CABINET, drawers=replace(TIGHT, above=read(above))))) == told


def test_the_gap_is_that_of_the_opening_where_a_height_was_set_by_hand() -> None:
    # 8 3/4 less 1/8.
    low = replace(CABINET, overrides=(Override("drawer.height", read("8 5/8")),))

    assert sticks(low) == []


def test_a_front_that_lies_before_the_case_does_not_stick_and_its_sides_may() -> None:
    lay = replace(TIGHT, overlay=Overlay(0, read("1/4"), read("1/4")))

    (side,) = sticks(replace(CABINET, drawers=lay))

    assert side.where == 'line "drawer-1-side", width'


def test_a_low_drawer_beside_high_ones_is_held_against_its_own_height() -> None:
    # 2 and twice 12 1/8.  Of 1/16 gap cherry takes up that of 8 1/8 in: the low drawer stands it, the high ones do not.
    lowest = replace(CABINET, web_frames=replace(WEB_FRAMES, count=3, heights=(read("2"),)),
                     drawers=replace(TIGHT, above=read("1/16")))  # fmt: skip

    assert {fault.where for fault in sticks(lowest)} == {'line "drawer-2-front", width', 'line "drawer-2-side", width'}


def test_the_margin_is_a_habit_of_the_shop() -> None:
    # 0.0671 alone: the next 1/32 is 3/32.
    front, _ = sticks(CABINET, Habits({DRAWER_HEIGHT.key: 0}))

    assert front.do.startswith("A clearance above of 3/32 in would do.")


def test_drawers_of_a_carcase_and_alone_are_asked_too() -> None:
    frames = HousedFrames(3, read("3/4"), read("2"), read("2"), read("2"), read("1/4"), read("1/4"), read("1/4"),
                          WEB_FRAMES.groove)  # fmt: skip
    case = Carcase(read("24"), read("16"), read("36"), read("3/4"), species="cherry", frames=frames, drawers=TIGHT)
    alone = LoneDrawers(read("22"), (read("4"), read("9")), read("16"), TIGHT, species="cherry")

    assert [fault.where for fault in sticks(case)] == ['line "drawer-1-front", width', 'line "drawer-1-side", width']
    # 4 in of cherry swell 0.031 and of maple 0.044, both more than 1/64.
    assert [fault.where.split('"')[1] for fault in sticks(alone)] == [
        f"drawer-drawer-{nth}-{which}" for nth in (1, 2) for which in ("front", "side")
    ]


STILED = replace(SIDE.frame, stiles=(read("4"), read("4")))


@pytest.mark.parametrize(("hinges", "beside", "between", "says"), [
    # 8 in of cherry: 8 x 0.00248 x 3.1 = 0.0615, of which two gaps of 1/64 take half.  With 1/32 more 0.0927 / 2: 1/16.
    (Hinges.LEFT, "1/64", "0", "1/16 in for each gap beside would do."),
    (Hinges.LEFT, "1/32", "0", ""),
    # A pair has 16 in: 0.123, and 3 x 1/32 = 0.094.  0.1543 / 3 = 0.0514: 1/16.
    (Hinges.BOTH, "1/32", "1/32", "1/16 in for each gap beside and between would do."),
    (Hinges.BOTH, "1/16", "1/16", ""),
])  # fmt: skip
def test_a_door_swells_by_its_stiles(hinges: Hinges, beside: str, between: str, says: str) -> None:
    gaps = {"beside": read(beside), "between": read(between)}
    found = sticks(Doors(read("40"), read("30"), STILED, "door", hinges, species="cherry", **gaps))

    assert [fault.do.split(" Counted")[0] for fault in found] == [says] * bool(says)


def test_the_demo_does_not_stick() -> None:
    assert not [fault for fault in faults(demo_job(), YEAR) if "swell" in fault.what]
