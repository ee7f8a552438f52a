"""Whatever a maker adds begins with sizes that can be built, in either unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopfloor.trade.construct import cabinet, carcase
from shopfloor.trade.construct.clearances import NOMINAL, Clearances
from shopfloor.trade.construct.cleats import Cleats
from shopfloor.trade.construct.compose import CONSTRUCTIONS, derive, follow
from shopfloor.trade.construct.drawer_choices import Drawers
from shopfloor.trade.construct.frame_choices import Frame
from shopfloor.trade.construct.habitual import Ways
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.legs import Legs, Side
from shopfloor.trade.construct.lone_frame import LoneFrame
from shopfloor.trade.construct.lone_web_frames import LoneWebFrames, SideTongue
from shopfloor.trade.construct.plain import Plain
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.table import Table
from shopfloor.trade.construct.top import Top
from shopfloor.trade.construct.web_frames import WebFrames
from shopfloor.trade.cutters import Cutters
from shopfloor.trade.document import check
from shopfloor.trade.habit import Habits
from shopfloor.trade.length import MM, read
from shopfloor.trade.part import FEATURES, Job, Unit


def first(kind: type, unit: Unit) -> Any:
    return starter(kind, unit, key="first")


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("kind", CONSTRUCTIONS)
def test_each_construction_can_be_built_at_once(kind: str, unit: Unit) -> None:
    composed = follow(Job("job", "Job", unit), [first(CONSTRUCTIONS[kind], unit)])

    assert composed.faults == ()
    assert check(composed.job) == []
    assert composed.job.lines


@pytest.mark.parametrize("unit", Unit)
def test_a_cabinet_can_be_given_everything_at_once(unit: Unit) -> None:
    side = starter(Side, unit)
    whole = replace(
        first(cabinet.Cabinet, unit), left=side, right=side, back=side, front=None,
        web_frames=starter(WebFrames, unit), drawers=starter(Drawers, unit), top=starter(Top, unit),
    )  # fmt: skip

    assert derive(whole, unit).faults == ()
    shut = replace(
        whole, front=side, web_frames=None, drawers=None, top=starter(Top, unit, cleats=starter(Cleats, unit))
    )
    assert derive(shut, unit).faults == ()


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("inside", [
    {"shelves": Shelves}, {"frames": HousedFrames}, {"frames": HousedFrames, "drawers": Drawers, "top": Top},
])  # fmt: skip
def test_a_case_of_boards_can_be_given_what_goes_into_it(inside: dict[str, type], unit: Unit) -> None:
    case = first(carcase.Carcase, unit)

    made = replace(case, **{name: starter(kind, unit) for name, kind in inside.items()})

    assert derive(made, unit).faults == ()


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("kind", FEATURES)
def test_each_cut_fits_the_part_that_a_maker_begins_with(kind: str, unit: Unit) -> None:
    part = starter(Plain, unit, key="part", features=(first(FEATURES[kind], unit),))

    composed = follow(Job("job", "Job", unit), [part])

    assert composed.faults == ()
    assert check(composed.job) == []


# --- fitted to what the shop owns --------------------------------------------------------------------------------

OLD_TOOLS = Cutters(chisels=(read("5/16"), read("7/16")), bits=(read("5/16"),), dado_stack=(read("5/16"), read("9/16")))
METRIC = Cutters(chisels=(5 * MM, 7 * MM, 9 * MM), bits=(7 * MM,), dado_stack=(11 * MM,))


def test_a_shop_with_other_cutters_gets_other_tenons_grooves_and_tongues() -> None:
    ways = Ways(Unit.INCH, cutters=OLD_TOOLS)
    cabinet_first = starter(cabinet.Cabinet, Unit.INCH, ways, key="c")
    frame: Frame = starter(LoneFrame, Unit.INCH, ways, key="f").frame
    web: WebFrames = starter(WebFrames, Unit.INCH, ways, (cabinet_first,))
    housed: HousedFrames = starter(HousedFrames, Unit.INCH, ways)
    shelves: Shelves = starter(Shelves, Unit.INCH, ways)
    drawers: Drawers = starter(Drawers, Unit.INCH, ways)

    # 5/16 is nearest to a third of 3/4, in the middle of it; the groove lies in one line and is as deep as it was.
    assert frame.groove
    assert (frame.tenon.thickness, frame.tenon.offset) == (read("5/16"), read("7/32"))
    assert (frame.groove.width, frame.groove.offset, frame.groove.depth) == (read("5/16"), read("7/32"), read("3/8"))
    # Half of a rail of 3/4, into legs: 5/16 and 7/16 are as near, the smaller leaves more.
    assert web.front_tenon.thickness == web.back_tenon.thickness == read("5/16")
    assert web.groove.width == housed.groove.width == housed.tongue == read("5/16")
    # A bare-faced tongue of about 1/2, a groove of about 1/4 for a bottom 3/8 thick.
    assert shelves.tongue == read("9/16")
    assert drawers.bottom.width == read("5/16")
    assert drawers.back_joint.tongue == read("5/16")
    assert starter(SideTongue, Unit.INCH, ways, (first(LoneWebFrames, Unit.INCH),)).thickness == read("5/16")


def test_a_tenon_is_as_wide_as_a_chisel_or_bit_and_with_a_groove_as_wide_as_one_that_cuts_both() -> None:
    stack = Cutters(chisels=(read("1/4"), read("3/8")), bits=(read("3/8"),), dado_stack=(read("5/16"), read("7/16")))
    ways = Ways(Unit.INCH, cutters=stack)

    # The chisel of 1/4 is nearest to a third of 3/4, but no bit or stack cuts such a groove.
    assert starter(Frame, Unit.INCH, ways).tenon.thickness == read("3/8")
    # No groove in a table's rails: half of 3/4 into a leg.
    assert starter(Table, Unit.INCH, ways, key="t").ends.frame.tenon.thickness == read("3/8")


def test_a_tenon_is_as_long_as_what_it_enters_allows() -> None:
    thick = replace(first(cabinet.Cabinet, Unit.INCH), legs=starter(Legs, Unit.INCH, thickness=read("2 1/2")))

    # Two thirds of a stile of 2 1/2, down to sixteenths; half of a leg, since two tenons meet there.
    assert first(LoneFrame, Unit.INCH).frame.tenon.length == read("1 5/8")
    assert starter(Side, Unit.INCH, None, (thick,)).frame.tenon.length == read("1 1/4")


@pytest.mark.parametrize(("unit", "owned"), [(Unit.INCH, OLD_TOOLS), (Unit.MM, METRIC)], ids=["in", "mm"])
@pytest.mark.parametrize("kind", CONSTRUCTIONS)
def test_what_is_begun_with_other_cutters_can_be_built(kind: str, unit: Unit, owned: Cutters) -> None:
    ways = Ways(unit, cutters=owned)
    made = starter(CONSTRUCTIONS[kind], unit, ways, key="first")
    inside = {
        cabinet.Cabinet: {"left": Side, "right": Side, "web_frames": WebFrames, "drawers": Drawers, "top": Top},
        carcase.Carcase: {"frames": HousedFrames, "drawers": Drawers}, LoneWebFrames: {"tongue": SideTongue},
    }.get(type(made), {})  # fmt: skip
    made = replace(made, **{name: starter(each, unit, ways, (made,)) for name, each in inside.items()})

    composed = follow(Job("job", "Job", unit), [made])

    assert composed.faults == ()
    assert check(composed.job) == []


def test_a_drawing_begins_with_nominal_sizes_and_a_shop_that_works_to_numbers_with_its_own_fit() -> None:
    own = Ways(Unit.INCH, Habits({"fit-thickness": read("1/32"), "fit-width": read("1/16")}))

    assert first(LoneFrame, Unit.INCH).fit == NOMINAL
    assert starter(LoneFrame, Unit.INCH, own, key="f").fit == Clearances(read("1/64"), read("1/32"), read("1/64"))
