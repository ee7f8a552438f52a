"""A solid top is held at one place and free to move everywhere else."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from shopfloor.trade.construct.cabinet import Cabinet, derive
from shopfloor.trade.construct.cleats import Cleats, HeldAt, fitted
from shopfloor.trade.construct.legs import Flush
from shopfloor.trade.construct.mates import clashes, placed
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Face, Hole, Job, Mortise
from shopfloor.trade.seasons import Seasons

from .choir_cabinet import CHOIR_CABINET, SIDE

CLEATS = Cleats(read("3/4"), read("1"), 3, read("3/16"), read("3/8"))
OPEN = replace(CHOIR_CABINET, web_frames=None, drawers=None)
assert OPEN.top


def held(**changed: Any) -> Cabinet:
    assert OPEN.top
    return replace(OPEN, top=replace(OPEN.top, cleats=replace(CLEATS, **changed)))


def test_cleats_lie_along_the_sides_between_the_legs() -> None:
    built = derive(held())
    line = next(line for line in built.lines if line.key == "top-cleat")

    # 13 1/2 between the legs; three screws: 2 1/4 from the ends, 4 1/2 apart.  A slot of 3/8 starts 3/16 before.
    assert built.faults == ()
    assert line.stock == (read("3/4"), read("1"), read("13 1/2"))
    assert line.features == (
        Hole("screw-1", Face.FACE_SIDE, read("2 1/4"), read("1/2"), read("3/16")),
        Mortise("slot-2", Face.FACE_SIDE, read("6 9/16"), read("3/8"), read("13/32"), read("3/16")),
        Mortise("slot-3", Face.FACE_SIDE, read("11 1/16"), read("3/8"), read("13/32"), read("3/16")),
    )
    assert line.species == "cherry"
    left, right = (part.stands for part in line.parts)
    assert left and left.at == (read("2 3/4"), read("1 3/4"), read("35 1/2"))
    assert right and right.at == (read("23 1/4"), read("1 3/4"), read("35 1/2"))
    assert check(Job("held", "Held", assemblies=built.assemblies, lines=built.lines, joints=built.joints)) == []


@pytest.mark.parametrize("flush", Flush)
def test_cleats_touch_the_sides_and_meet_nothing(flush: Flush) -> None:
    side = replace(SIDE, flush=flush)
    built = derive(replace(held(), left=side, right=side))
    parts = placed(built.assemblies, built.lines)

    assert clashes(parts) == []
    cleat, panel = parts["top.cleat-left"], parts["left.top-rail"]
    assert cleat.stands.at[0] - cleat.line.width == panel.stands.at[0]


def test_slots_are_as_long_as_the_farthest_screw_asks_for() -> None:
    year = Seasons(dry=6, build=7, damp=11)

    made = fitted(CLEATS, read("13 1/2"), Fraction("0.00248"), year)

    # The third screw is 9 from the first: it grows 9 x 0.00248 x 4 = 0.08928 outward and shrinks less.  With half the
    # shank, 3/32, that is 0.18303 each way, 0.36606 in all: 3/8 is the next 1/64 up, 24/64.
    assert made == replace(CLEATS, slot=read("3/8"))


def test_held_in_the_middle_slots_may_be_shorter() -> None:
    year = Seasons(dry=6, build=7, damp=11)

    made = fitted(replace(CLEATS, held=HeldAt.MIDDLE), read("13 1/2"), Fraction("0.00248"), year)

    # 4 1/2 from the middle: 0.04464 + 0.09375 = 0.13839 each way, 0.27678 in all: 18/64 = 9/32 up.
    assert made.slot == read("9/32")
    built = derive(held(held=HeldAt.MIDDLE))
    line = next(line for line in built.lines if line.key == "top-cleat")
    assert [each.kind for each in line.features] == ["mortise", "hole", "mortise"]


REFUSED = [
    ("no screw", held(screws=0),
     Fault("top.cleats.screws", "0 screws in a cleat", "1 to 40 would do, an odd number if the middle one holds.")),
    ("no middle one", held(screws=4, held=HeldAt.MIDDLE),
     Fault("top.cleats.screws", "4 screws in a cleat", "1 to 40 would do, an odd number if the middle one holds.")),
    ("slots that meet", held(slot=read("4 1/2")),
     Fault("top.cleats.slot", "a slot 4 1/2 in is too much for the distance between screws",
           "Less than 4 1/2 in would do.")),
    ("a screw as thick as the cleat is wide", held(shank=read("1")),
     Fault("top.cleats.shank", "a slot 1 in is too much for a cleat 1 in wide", "Less than 1 in would do.")),
    ("a web frame in the way", replace(CHOIR_CABINET, top=replace(OPEN.top, cleats=CLEATS)),
     Fault("top.cleats", "the uppermost web frame lies where cleats would",
           "Let the top be screwed to that frame, in slots.")),
    ("an open side", replace(held(), right=None),
     Fault("top.cleats", "cleats are glued to the sides", "Give the case two sides that are alike.")),
]  # fmt: skip


@pytest.mark.parametrize(("cabinet", "fault"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED])
def test_cleats_that_cannot_be_made_are_said(cabinet: Cabinet, fault: Fault) -> None:
    assert derive(cabinet).faults == (fault,)
