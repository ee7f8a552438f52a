"""Proportions of joints: the trade's defaults, a shop's own, and what leaves no wood."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.case_joints import dado_depth, dovetail_slope, drawer_height_clearance, rabbet_depth
from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import INCH
from shopfloor.trade.proportions import (
    BadProportion,
    blind_tenon_length,
    corner_tenon_width,
    face_shoulder,
    groove_depth,
    haunch,
    mortise_depth,
    nearest_cutter,
    tenon_beside,
    tenon_into_leg,
    tenon_thickness,
    tenon_widths,
    through_tenon_length,
)
from shopfloor.trade.rounding import THIRTY_SECOND
from shopfloor.trade.seasons import Seasons

CHISELS = [inch(1, 4), inch(5, 16), inch(3, 8), inch(1, 2)]


# Worked out by hand; sizes in sixteenths of an inch unless they say otherwise.
@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        pytest.param(tenon_thickness(inch(3, 4)), inch(1, 4), id="third of 3/4"),
        pytest.param(tenon_thickness(inch(3, 4), Fraction(1, 2)), inch(3, 8), id="a shop that takes half"),
        pytest.param(tenon_into_leg(inch(7, 8), inch(7, 4)), inch(7, 16), id="half of the rail"),
        pytest.param(tenon_into_leg(inch(3, 2), inch(7, 4)), 14_816_667, id="no more than a third of the leg"),
        pytest.param(groove_depth(inch(3, 8)), inch(3, 8), id="groove as deep as wide"),
        pytest.param(groove_depth(inch(3, 16)), inch(1, 4), id="groove not too shallow"),
        pytest.param(corner_tenon_width(inch(5, 2), inch(1, 4)), inch(1), id="corner tenon"),
        pytest.param(tenon_beside(inch(5, 2), inch(3, 8), inch(1, 2)), inch(13, 8), id="tenon beside haunch"),
        pytest.param(haunch(inch(3, 8), inch(1, 4)), (inch(3, 8), inch(1, 4)), id="haunch"),
        pytest.param(blind_tenon_length(inch(9, 4)), inch(3, 2), id="blind tenon"),
        pytest.param(through_tenon_length(inch(9, 4)), inch(73, 32), id="through tenon"),
        pytest.param(mortise_depth(inch(5, 4)), inch(21, 16), id="mortise deeper by 1/16"),
        pytest.param(face_shoulder(inch(3, 4), inch(1, 4)), inch(1, 4), id="shoulder"),
        pytest.param(tenon_widths(inch(3), inch(2)), (inch(2),), id="one tenon"),
        pytest.param(tenon_widths(inch(7), inch(4)), (inch(4),), id="the widest single one"),
        # 6 in of room, a gap of 6 1/2 / 3 = 2 1/6: (6 - 2 1/6) / 2 = 1 11/12.
        pytest.param(tenon_widths(inch(13, 2), inch(6)), (48_683_333,) * 2, id="too wide for one"),
        # 6 in of room, a gap of 2 1/2: 1 3/4 each.
        pytest.param(tenon_widths(inch(15, 2), inch(6)), (inch(7, 4),) * 2, id="rail over 7 in"),
        pytest.param(dado_depth(inch(3, 4)), inch(1, 4), id="dado"),
        pytest.param(rabbet_depth(inch(3, 4)), inch(3, 8), id="rabbet"),
        pytest.param(dovetail_slope(hardwood=True), Fraction(1, 8), id="hardwood dovetail"),
        pytest.param(dovetail_slope(hardwood=False), Fraction(1, 6), id="softwood dovetail"),
    ],
)
def test_a_rule_gives_what_it_says(found: object, wanted: object) -> None:
    assert found == wanted


@pytest.mark.parametrize(
    ("thickness", "takes"),
    [
        (inch(1, 4), inch(1, 4)),
        (inch(9, 32), inch(1, 4)),
        (inch(9, 32) + 1, inch(5, 16)),
        (inch(1), inch(1, 2)),
        (mm("1"), inch(1, 4)),
    ],
    ids=["owned", "between, the smaller", "nearer to the larger", "larger than any", "smaller than any"],
)
def test_the_nearest_cutter_is_taken(thickness: int, takes: int) -> None:
    assert nearest_cutter(thickness, reversed(CHISELS)) == takes


@given(st.integers(3, 12 * INCH))
def test_tenon_and_its_two_shoulders_are_the_stock(stock: int) -> None:
    tenon = tenon_thickness(stock)

    assert tenon + 2 * face_shoulder(stock, tenon) == stock


@given(st.integers(INCH, 30 * INCH), st.fractions(Fraction(3, 5), 1))
def test_tenons_and_their_gap_fill_the_room(rail: int, share: Fraction) -> None:
    room = round(rail * share)

    widths = tenon_widths(rail, room)

    if len(widths) == 2:
        gap = room - sum(widths)
        assert widths[0] == widths[1]
        assert 0 <= gap - round(Fraction(rail, 3)) <= 1  # what cannot be halved goes into the gap
    else:
        assert widths == (room,)
        assert rail <= 7 * INCH and room <= 4 * INCH


@pytest.mark.parametrize(
    "impossible",
    [
        pytest.param(lambda: corner_tenon_width(inch(1), inch(1, 2)), id="groove takes the tenon"),
        pytest.param(lambda: tenon_beside(inch(1), inch(1, 2), inch(1, 2)), id="haunch takes the tenon"),
        pytest.param(lambda: face_shoulder(inch(1, 4), inch(1, 4)), id="no shoulder"),
        pytest.param(lambda: tenon_thickness(0), id="no stock"),
        pytest.param(lambda: tenon_into_leg(inch(1), 0), id="no leg"),
        pytest.param(lambda: tenon_widths(inch(8), 0), id="no room"),
        pytest.param(lambda: tenon_widths(inch(9), inch(2)), id="the gap takes the tenons"),
        pytest.param(lambda: blind_tenon_length(-1), id="no stile"),
        pytest.param(lambda: nearest_cutter(inch(1, 4), []), id="no cutters"),
    ],
)
def test_a_joint_that_leaves_no_wood_is_refused(impossible: Callable[[], object]) -> None:
    with pytest.raises(BadProportion) as refused:
        impossible()

    assert refused.value.do


def test_a_drawer_is_lower_by_its_swelling_and_a_margin() -> None:
    # 4 in of flatsawn maple from 35 to 80 % humidity, 6.9 to 16.0 %: 4 x 0.00353 x 9.1 = 0.1285; + 1/32 is 0.1597.
    seasons = Seasons(dry=Fraction("6.9"), build=Fraction("6.9"), damp=16)

    assert drawer_height_clearance(inch(4), Fraction("0.00353"), seasons, THIRTY_SECOND) == inch(6, 32)
    assert drawer_height_clearance(inch(4), Fraction("0.00353"), seasons, margin=0) == 3_263_697  # 0.128492 in


def test_a_drawer_fitted_in_the_damp_keeps_its_margin() -> None:
    assert drawer_height_clearance(inch(4), Fraction("0.00353"), Seasons(6, 11, 11)) == inch(1, 32)
