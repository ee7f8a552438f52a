"""Two parts that fill the same space are named, with how much and along what."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.frame_choices import Frame
from shopfloor.trade.construct.legs import Side
from shopfloor.trade.construct.mates import clashes, placed
from shopfloor.trade.crossing import faults
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Assembly, Face, Hole, Job, Line, Part, Placement, Tenon

from .construct.choir_cabinet import CHOIR_CABINET, TENON

APRON = Side(Frame(read("3/4"), (read("4"),), replace(TENON, length=read("1 1/4"))), set_back=read("1/8"))


def said(cabinet: Cabinet) -> list[Fault]:
    composed = follow(Job("any", "Any"), [cabinet])
    assert composed.faults == ()
    return list(faults(composed.job))


def by_hand(key: str, nm: str) -> Cabinet:
    return replace(CHOIR_CABINET, overrides=(Override(key, read(nm)),))


BY_HAND = [
    # 22 7/16 becomes 22 15/16 in an opening of 22 1/2: 7/32 too much at each side.
    ("drawer.width", "22 15/16", "Front left leg and drawer 1 drawer front: they fill the same space, 7/32 in from "
     "left to right, over 3/4 in from front to back and 3 7/8 in from top to bottom, and so do 11 more pairs like "
     "them. One of them must be 7/32 in smaller there, or stand elsewhere."),
    # The opening is 4: 4 3/8 reaches 3/8 into the frame above it, all along the drawer.
    ("drawer.front.width", "4 3/8", "Frame 1 front rail and drawer 1 drawer front: they fill the same space, 3/8 in "
     "from top to bottom, over 22 7/16 in from left to right and 3/4 in from front to back, and so do 5 more pairs "
     "like them. One of them must be 3/8 in smaller there, or stand elsewhere."),
    # The back is 3 1/4 high and reaches down to the bottom: 1/4 more goes 1/4 into it.
    ("drawer.back.width", "3 1/2", "Drawer 1 drawer back and drawer 1 drawer bottom: they fill the same space, 1/4 in "
     "from top to bottom, over 21 13/16 in from left to right and 1/2 in from front to back, and so do 5 more pairs "
     "like them. One of them must be 1/4 in smaller there, or stand elsewhere."),
]  # fmt: skip


@pytest.mark.parametrize(("key", "nm", "says"), BY_HAND, ids=[row[0] for row in BY_HAND])
def test_a_length_set_by_hand_that_puts_one_part_through_another_is_told(key: str, nm: str, says: str) -> None:
    assert says in [str(fault) for fault in said(by_hand(key, nm))]


@pytest.mark.parametrize("key", [
    "drawer.width", "drawer.front.length", "drawer.front.width", "drawer.height", "drawer.depth", "drawer.side.length",
    "drawer.back.width", "web-depth",
])  # fmt: skip
def test_no_half_inch_too_much_passes_without_a_word(key: str) -> None:
    (nm,) = {each.nm for each in follow(Job("any", "Any"), [CHOIR_CABINET]).built[0].derived if each.key == key}

    composed = follow(Job("any", "Any"), [replace(CHOIR_CABINET, overrides=(Override(key, nm + read("1/2")),))])

    assert faults(composed.job)


def test_tenons_that_meet_inside_a_leg_are_told() -> None:
    table = replace(CHOIR_CABINET, left=APRON, right=None, back=None, front=APRON, web_frames=None, drawers=None)

    # Each lies 3/8 to 5/8 behind the outside of the leg, and 1 1/4 long in a leg 1 3/4 thick each reaches to 1/2 of it:
    # they share 1/8 by 1/8.  4 wide with a shoulder of 7/8 above and below: 2 1/4 high.
    assert [str(fault) for fault in said(table)] == [
        "Left side rail and front rail: they fill the same space, 1/8 in from left to right, over 1/8 in from front to "
        "back and 2 1/4 in from top to bottom. One of them must be 1/8 in smaller there, or stand elsewhere."
    ]


def test_the_demonstration_stands_without_one_part_in_another() -> None:
    assert faults(demo_job()) == ()


def test_each_construction_is_laid_out_in_a_space_of_its_own() -> None:
    composed = follow(Job("two", "Two"), [replace(CHOIR_CABINET, key="one"), replace(CHOIR_CABINET, key="other")])

    assert faults(composed.job) == ()


def test_a_joint_that_does_not_meet_is_said_by_itself() -> None:
    job = follow(Job("any", "Any"), [by_hand("back-top-rail.length", "24 1/2")]).job

    assert not [fault for fault in faults(job) if "top rail" in fault.where.lower() and "leg" in fault.where]


STOCK = (20, 40, 100)


def held(*lines: Line) -> list[tuple[str, str]]:
    return [(each.one, each.other) for each in clashes(placed([Assembly("a", 1, "A")], lines))]


def test_two_tenons_at_one_end_both_stay() -> None:
    twin = (Tenon("one", Face.FAR_END, 30, 5, 8, 2, 10), Tenon("other", Face.FAR_END, 30, 5, 8, 28, 10))
    rail = Line("rail", "a", "Rail", *STOCK, features=twin, parts=(Part("rail", stands=Placement()),))

    def at(y: int) -> Line:
        """A block a nanometre high just where a tenon is, or between the two."""
        return Line("post", "a", "Post", 8, 1, 30, parts=(Part("post", stands=Placement(at=(70, y, 5))),))

    assert held(rail, at(3)) == [("rail", "post")]
    assert held(rail, at(29)) == [("rail", "post")]
    assert held(rail, at(20)) == []


def test_a_dowel_may_stand_in_its_hole() -> None:
    bored = (Hole("hole", Face.FACE_SIDE, 50, 20, 10, 15),)
    rail = Line("rail", "a", "Rail", *STOCK, features=bored, parts=(Part("rail", stands=Placement()),))
    dowel = Line("dowel", "a", "Dowel", 6, 6, 25, parts=(Part("dowel", stands=Placement("-Z +X -Y", (47, 23, 15))),))

    assert held(rail, dowel) == []
