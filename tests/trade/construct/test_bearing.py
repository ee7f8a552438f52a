"""Whatever follows from a construction keeps its wood: no warning is given about cuts that are meant to meet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings

from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.cleats import Cleats
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Construction, derive, follow
from shopfloor.trade.construct.drawer_choices import Corner, Drawers
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.legs import Side
from shopfloor.trade.construct.plain import Plain
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.top import Top
from shopfloor.trade.construct.web_frames import WebFrames
from shopfloor.trade.part import FEATURES, Job, Line, Unit
from shopfloor.trade.walls import faults

from .test_laws import ANYTHING


def begun(unit: Unit) -> Iterator[tuple[str, Construction]]:
    """All that a maker can begin with: every construction, every cut, a cabinet and a case with all that goes in."""
    for name, kind in CONSTRUCTIONS.items():
        yield name, starter(kind, unit, key="first")
    for name, kind in FEATURES.items():
        yield name, starter(Plain, unit, key="part", features=(starter(kind, unit, key="first"),))
    side, drawers = starter(Side, unit), starter(Drawers, unit)
    whole = replace(
        starter(Cabinet, unit, key="whole"), left=side, right=side, back=side, front=None,
        web_frames=starter(WebFrames, unit), drawers=drawers, top=starter(Top, unit),
    )  # fmt: skip
    yield "cabinet with everything", whole
    rabbeted = replace(drawers, corner=replace(drawers.corner, kind=Corner.RABBET))
    yield "cabinet with rabbeted drawers", replace(whole, drawers=rabbeted)
    cleated = starter(Top, unit, cleats=starter(Cleats, unit))
    yield "cabinet with four sides", replace(whole, front=side, web_frames=None, drawers=None, top=cleated)
    case = starter(Carcase, unit, key="case")
    yield "case with shelves", replace(case, shelves=starter(Shelves, unit))
    yield (
        "case with drawers",
        replace(case, frames=starter(HousedFrames, unit), drawers=drawers, top=starter(Top, unit)),
    )


def said(lines: Iterable[Line], unit: Unit, least: int | None = None) -> list[str]:
    return [str(fault) for line in lines for fault in faults(line, unit, least)]


@pytest.mark.parametrize("unit", Unit)
def test_nothing_that_a_maker_begins_with_is_warned_about(unit: Unit) -> None:
    warned = {}
    for name, made in begun(unit):
        composed = follow(Job("job", "Job", unit), [made])
        assert composed.faults == (), name
        warned[name] = said(composed.job.lines, unit)

    assert {name: says for name, says in warned.items() if says} == {}


@settings(max_examples=60)
@given(made=ANYTHING)
def test_cuts_that_are_meant_to_meet_are_not_warned_about(made: Construction) -> None:
    """A haunch in its groove, a groove into a mortise, a dado over a groove, a groove through dovetails: walls may be
    as thin as they are drawn here, but there is one."""
    assert said(derive(made).lines, Unit.MM, least=1) == []
