"""A length that is nothing, or less, is told as what it is; only the few that go either way may be less."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import is_dataclass, replace
from typing import Any

import pytest

from shopfloor.trade.construct.compose import CONSTRUCTIONS, Construction, derive, follow
from shopfloor.trade.construct.drawer_choices import Overlay
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.construct.signs import EITHER_WAY, choices, is_length
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.crossing import faults as crossings
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Job, Unit

from .choir_cabinet import CHOIR_CABINET, DRAWERS, SIDE

LESS = -read("1/4")


def lengths(of: Any, way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The way to each length among the choices of a record."""
    for name, hint in choices(type(of)):
        value = getattr(of, name)
        if is_dataclass(value) and name != "fit":  # test_clearances.py
            yield from lengths(value, (*way, name))
        elif is_length(hint):
            yield (*way, name)


def holder(of: Any, way: tuple[str, ...]) -> Any:
    return of if len(way) == 1 else holder(getattr(of, way[0]), way[1:])


def put(of: Any, way: tuple[str, ...], nm: int) -> Any:
    name, *rest = way
    value = getattr(of, name)
    if rest:
        return replace(of, **{name: put(value, tuple(rest), nm)})
    return replace(of, **{name: (nm,) if isinstance(value, tuple) else nm})


EVERY: list[Construction] = [
    CHOIR_CABINET, *(starter(kind, Unit.INCH, key=kind.kind.replace(" ", "-")) for kind in CONSTRUCTIONS.values())
]  # fmt: skip
PLACES = [(made, way) for made in EVERY for way in lengths(made)]


def either_way(made: Construction, way: tuple[str, ...]) -> bool:
    return (type(holder(made, way)), way[-1]) in EITHER_WAY


@pytest.mark.parametrize(
    ("made", "way"), PLACES, ids=[f"{made.key or 'cabinet'} {'.'.join(way)}" for made, way in PLACES]
)
def test_no_length_below_nothing_passes_without_a_word(made: Construction, way: tuple[str, ...]) -> None:
    composed = follow(Job("any", "Any"), [put(made, way, LESS)])

    assert bool(composed.faults) is not either_way(made, way)
    assert "no room for any" not in "".join(map(str, composed.faults))
    assert check(composed.job) == [] or not composed.job.lines
    assert crossings(composed.job) == ()


@pytest.mark.parametrize(
    ("made", "way"), PLACES, ids=[f"{made.key or 'cabinet'} {'.'.join(way)}" for made, way in PLACES]
)
def test_what_must_be_more_than_nothing_says_so(made: Construction, way: tuple[str, ...]) -> None:
    composed = follow(Job("any", "Any"), [put(made, way, 0)])

    assert "no room for any" not in "".join(map(str, composed.faults))
    assert check(composed.job) == [] or not composed.job.lines


def of_left(**changed: Any) -> Construction:
    return replace(CHOIR_CABINET, left=replace(SIDE, frame=replace(SIDE.frame, **changed)))


assert SIDE.frame.panel and SIDE.frame.groove
PANEL, GROOVE = SIDE.frame.panel, SIDE.frame.groove

SAID = [
    ("a drawer wider than its opening", replace(CHOIR_CABINET, drawers=replace(DRAWERS, beside=LESS)),
     Fault("drawers.beside", "-1/4 in for beside is less than nothing", "0 in or more would do."), "drawer-1"),
    ("a panel before its frame", of_left(panel=replace(PANEL, set_back=LESS)),
     Fault("left.frame.panel.set-back", "-1/4 in for set back is less than nothing", "0 in or more would do."),
     "left-side"),
    ("a groove of no depth", of_left(groove=replace(GROOVE, depth=0)),
     Fault("left.frame.groove.depth", "0 in for depth is nothing", "More than 0 in would do."), "left-side"),
    ("a rail below nothing", of_left(rails=(read("3"), LESS)),
     Fault("left.frame.rails", "-1/4 in for rails is less than nothing", "More than 0 in would do."), "left-side"),
]  # fmt: skip


@pytest.mark.parametrize(("made", "fault", "missing"), [row[1:] for row in SAID], ids=[row[0] for row in SAID])
def test_what_is_too_little_is_left_out_and_the_rest_stays(made: Construction, fault: Fault, missing: str) -> None:
    whole, built = derive(CHOIR_CABINET), derive(made)

    assert built.faults == (fault,)
    left_out = {each.key for each in whole.assemblies} - {each.key for each in built.assemblies}
    assert missing in left_out
    assert {key.rstrip("-123456") for key in left_out} == {missing.rstrip("-1")}


def test_what_cannot_be_left_out_leaves_nothing() -> None:
    built = derive(replace(CHOIR_CABINET, legs=replace(CHOIR_CABINET.legs, foot=LESS)))

    assert (built.assemblies, built.lines) == ((), ())
    assert built.faults == (Fault("legs.foot", "-1/4 in for foot is less than nothing", "0 in or more would do."),)


def test_a_front_between_legs_that_stand_before_it_stays_clear_of_them() -> None:
    lay = Overlay(-read("1/64"), read("1/4"), read("1/4"))
    made = replace(CHOIR_CABINET, drawers=replace(DRAWERS, overlay=lay))
    built = derive(made)
    front = next(line for line in built.lines if line.key == "drawer-1-front")

    # 22 1/2 less 1/64 at each side; 4 and 1/4 above and below.
    assert built.faults == ()
    assert (front.length, front.width) == (read("22 15/32"), read("4 1/2"))


def test_a_top_may_stay_behind_the_legs() -> None:
    assert CHOIR_CABINET.top
    built = derive(replace(CHOIR_CABINET, top=replace(CHOIR_CABINET.top, back=-read("1/2"))))

    # 17 deep, 3/4 in front, 1/2 less behind.
    assert built.faults == ()
    assert next(line.width for line in built.lines if line.key == "top") == read("17 1/4")


def test_the_unit_of_the_job_is_kept() -> None:
    made = LoneDrawers(400_000_000, (100_000_000,), 400_000_000, replace(DRAWERS, above=-1_000_000))

    (fault,) = derive(made, Unit.MM).faults

    assert fault == Fault("drawer-drawers.above", "-1 mm for above is less than nothing", "0 mm or more would do.")
