"""Whatever a maker adds begins with sizes that can be built, in either unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopfloor.trade.construct import cabinet, carcase
from shopfloor.trade.construct.cleats import Cleats
from shopfloor.trade.construct.compose import CONSTRUCTIONS, derive, follow
from shopfloor.trade.construct.drawer_choices import Drawers
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.legs import Side
from shopfloor.trade.construct.plain import Plain
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.top import Top
from shopfloor.trade.construct.web_frames import WebFrames
from shopfloor.trade.document import check
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
