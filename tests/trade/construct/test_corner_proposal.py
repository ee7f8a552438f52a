"""A drawer's corner begins with the trade's sizes for the wood at hand, whatever kind is chosen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.trade.construct import cabinet
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import derive
from shopfloor.trade.construct.corner_proposal import printed, proposed
from shopfloor.trade.construct.drawer_choices import Bottom, Corner, CornerJoint
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.length import MM, read
from shopfloor.trade.part import Pins, Rabbet, Tails, Tongue, Unit

from .choir_cabinet import CHOIR_CABINET, DRAWERS


def with_corner(corner: CornerJoint) -> Cabinet:
    return replace(CHOIR_CABINET, drawers=replace(DRAWERS, corner=corner))


def test_dovetails_of_which_nothing_is_given_are_cut_by_the_trade_s_numbers() -> None:
    """Fronts 3/4, sides 3 7/8 high: tails 2/3 of 3/4, a pin of 1/4, the half pin as wide, and 3 5/8 over 1 3/4: two."""
    built = cabinet.derive(with_corner(CornerJoint(Corner.DOVETAIL, 0)))
    side = next(line for line in built.lines if line.key == "drawer-1-side")
    front = next(line for line in built.lines if line.key == "drawer-1-front")

    assert built.faults == ()
    tails = next(each for each in side.features if isinstance(each, Tails))
    assert (tails.length, tails.count, tails.pin, tails.half_pin, tails.slope) == (
        read("1/2"), 2, read("1/4"), read("1/4"), 8,
    )  # fmt: skip
    assert sum(isinstance(each, Pins) and each.depth == read("1/2") for each in front.features) == 2


def test_a_rabbet_and_a_tongue_of_which_nothing_is_given_can_be_cut_too() -> None:
    """Half of a front of 3/4 is 3/8; a tongue of half a side of 5/8, to the nearest cutter below: 5/16."""
    for kind, expected in ((Corner.RABBET, ("3/8", "5/8")), (Corner.TONGUE, ("3/8", "5/16"))):
        built = cabinet.derive(replace(CHOIR_CABINET, drawers=replace(
            DRAWERS, side=read("5/8"), corner=CornerJoint(kind, 0))))  # fmt: skip
        side = next(line for line in built.lines if line.key == "drawer-1-side")
        tongue = next(each for each in side.features if isinstance(each, Tongue))

        assert built.faults == ()
        assert (tongue.length, tongue.thickness) == tuple(map(read, expected))
    assert any(isinstance(each, Rabbet) for line in cabinet.derive(with_corner(
        CornerJoint(Corner.RABBET, 0))).lines for each in line.features)  # fmt: skip


def test_each_drawer_has_as_many_tails_as_suit_its_height() -> None:
    """(high - 1/4) / 1 3/4 for boxes 1/8 lower than openings of 3, 5 and 9: 1.5 (to 2 by half-even, but a tail has to
    hold the groove), 2.6 and 4.9."""
    made = starter(LoneDrawers, Unit.INCH, key="desk", heights=tuple(map(read, ("3", "5", "9"))))
    made = replace(made, drawers=replace(made.drawers, corner=CornerJoint(Corner.DOVETAIL, 0)))
    built = derive(made)

    assert built.faults == ()
    counts = [each.count for line in built.lines for each in line.features if isinstance(each, Tails)]
    assert counts == [2, 3, 5]


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("kind", Corner)
@pytest.mark.parametrize("front", ["1/2", "5/8", "3/4", "7/8", "1"])
@pytest.mark.parametrize("side", ["3/8", "1/2", "5/8", "3/4"])
def test_what_is_proposed_can_always_be_made(front: str, side: str, kind: Corner, unit: Unit) -> None:
    made = starter(LoneDrawers, unit, key="desk", heights=tuple(read(high) for high in ("2", "4", "6", "12")))
    corner = proposed(kind, read(front), read(side), made.drawers.bottom, printed(unit))
    drawers = replace(made.drawers, front=read(front), side=read(side), corner=corner)

    assert derive(replace(made, drawers=drawers), unit).faults == ()


def test_what_is_proposed_goes_by_the_cutters_and_the_unit() -> None:
    """A front of 19 mm, two thirds down to whole millimetres; a pin of 6 mm, with cutters of 4 and 9 only: 4."""
    own = replace(printed(Unit.MM), widths=(4 * MM, 9 * MM))
    bottom = Bottom(9 * MM, 9 * MM, 6 * MM, 6 * MM)
    made = proposed(Corner.DOVETAIL, 19 * MM, 12 * MM, bottom, own)

    assert made == CornerJoint(Corner.DOVETAIL, 12 * MM, pin=4 * MM, half_pin=4 * MM)
    # A groove low down leaves less for the half pin: 4 - 12 / 8 = 2 1/2.
    assert proposed(Corner.DOVETAIL, 19 * MM, 12 * MM, replace(bottom, up=4 * MM), own).half_pin == 2 * MM


def test_what_is_given_stays() -> None:
    given = CornerJoint(Corner.DOVETAIL, read("3/8"), count=3, pin=read("3/16"), half_pin=read("1/8"), slope=6)
    built = cabinet.derive(with_corner(given))
    tails = next(each for line in built.lines for each in line.features if isinstance(each, Tails))

    assert (tails.length, tails.count, tails.pin, tails.half_pin, tails.slope) == (
        given.depth, given.count, given.pin, given.half_pin, given.slope,
    )  # fmt: skip
