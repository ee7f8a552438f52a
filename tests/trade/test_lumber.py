"""Lumber: quarters, board feet by every rule, what to buy, allowances and blanks."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import INCH
from shopfloor.trade.lumber import (
    FOOT,
    ROUGH,
    Half,
    NoSuchLumber,
    Waste,
    board_feet,
    board_feet_of_volume,
    charged,
    cubic_metres,
    rough,
    stock_for,
    surface_measure,
    tallied,
    tally,
    to_buy,
)
from shopfloor.trade.milling import Allowance, BadAllowance, blank_length, passes, rough_size, snipe_left
from shopfloor.trade.part import Stock, Unit
from shopfloor.trade.rounding import board_feet_for_show

sizes = st.integers(1, 200 * INCH)
volumes = st.fractions(0, 10_000)


@given(volumes)
def test_board_feet_and_cubic_metres_turn_into_each_other_exactly(amount: Fraction) -> None:
    assert board_feet_of_volume(cubic_metres(amount)) == amount


@given(sizes, sizes, sizes)
def test_a_board_is_as_much_wood_whichever_way_it_is_turned(a: int, b: int, c: int) -> None:
    assert board_feet(a, b, c) == board_feet(c, a, b)


@given(sizes, sizes, st.integers(1, 100 * INCH), st.integers(1, 100 * INCH))
def test_a_board_cut_in_two_is_as_much_wood(thickness: int, width: int, a: int, b: int) -> None:
    assert board_feet(thickness, width, a + b) == board_feet(thickness, width, a) + board_feet(thickness, width, b)


def test_a_bigger_number_of_quarters_is_thicker_in_every_way() -> None:
    for thin, thick in pairwise(ROUGH):
        assert thin.nominal < thick.nominal
        assert thin.surfaced < thick.surfaced
        assert thin.finished < thick.finished
        assert thin.finished_mm < thick.finished_mm
    assert all(each.finished < each.surfaced < each.nominal for each in ROUGH)


def test_the_round_millimetres_are_the_inches_within_half_a_millimetre() -> None:
    assert all(abs(each.finished_mm - each.finished) <= mm("0.6") for each in ROUGH)
    assert rough("4/4").counted_on(Unit.MM) == mm("19")
    assert rough("4/4").counted_on(Unit.INCH) == inch(3, 4)


@pytest.mark.parametrize("name", ["9/4", "5/8", "1", ""])
def test_lumber_that_is_not_sold_is_refused_with_what_is(name: str) -> None:
    with pytest.raises(NoSuchLumber, match="4/4, 5/4, 6/4"):
        rough(name)


@pytest.mark.parametrize(
    ("needed", "name"),
    [(inch(1), "4/4"), (inch(1) + 1, "5/4"), (inch(9, 4), "10/4"), (inch(4), "16/4"), (1, "4/4")],
)
def test_the_thinnest_lumber_that_is_enough_is_taken(needed: int, name: str) -> None:
    assert stock_for(needed).name == name


def test_nothing_is_sold_thicker_than_16_quarters() -> None:
    with pytest.raises(NoSuchLumber, match="4 1/2 in thick"):
        stock_for(inch(9, 2))


@pytest.mark.parametrize("sizes", [(0, 1, 1), (1, -1, 1), (1, 1, 0)])
def test_a_board_without_a_size_is_refused(sizes: tuple[int, int, int]) -> None:
    with pytest.raises(NoSuchLumber):
        board_feet(*sizes)


# 4 in x 10 ft 11 in: the feet go down to 10, 4 x 10 / 12 = 3 1/3.  9 in x 6 ft: 4 1/2, an exact half.
@pytest.mark.parametrize(
    ("width", "length", "half", "measure"),
    [
        (inch(4), 131 * INCH, Half.UP, 3),
        (inch(9), 6 * FOOT, Half.UP, 5),
        (inch(9), 6 * FOOT, Half.DOWN, 4),
        (inch(9), 6 * FOOT, Half.ALTERNATE, 5),
        (inch(9), 11 * INCH, Half.UP, 0),
    ],
)
def test_surface_measure_is_whole_square_feet_of_whole_feet(width: int, length: int, half: Half, measure: int) -> None:
    assert surface_measure(width, length, half) == measure


def test_a_bundle_is_rounded_after_its_boards_are_added() -> None:
    # 3.33 + 3.33 + 3.33 measure 3 each: 9; times 5/4 is 11.25, so 11 board feet; one by one 3.75 each.
    boards = [(inch(4), 10 * FOOT)] * 3

    assert tally(inch(5, 4), boards).amount == 11
    assert tallied(inch(5, 4), *boards[0]).amount == Fraction(15, 4)


def test_exact_halves_of_a_bundle_go_up_and_down_in_turn() -> None:
    # Each measures 4 1/2: 5 + 4 + 5 + 4.
    boards = [(inch(9), 6 * FOOT)] * 4

    assert tally(inch(1), boards, Half.ALTERNATE).amount == 18
    assert tally(inch(1), boards, Half.UP).amount == 20
    assert tally(inch(1), boards, Half.DOWN).amount == 16


def test_an_export_bundle_rounds_widths_to_whole_inches_halves_in_turn() -> None:
    # Two of 6 1/2 in become 7 and 6: 7 x 8 / 12 = 4.67 measures 5, 6 x 8 / 12 = 4 measures 4.  With their fractions
    # each is 6.5 x 8 / 12 = 4.33 and measures 4.
    assert tally(inch(1), [(inch(13, 2), 8 * FOOT)] * 2, export=True).amount == 9
    assert tally(inch(1), [(inch(13, 2), 8 * FOOT)] * 2).amount == 8


def test_thin_stock_counts_as_an_inch_in_every_way_of_billing() -> None:
    board = (inch(6), 8 * FOOT)

    assert charged(inch(3, 4), *board).amount == tallied(inch(3, 4), *board).amount == 4
    assert tally(inch(3, 4), [board]).amount == 4


@pytest.mark.parametrize("waste", ["1", "-1/10", "2"])
def test_waste_that_leaves_nothing_is_refused(waste: str) -> None:
    with pytest.raises(NoSuchLumber, match="waste"):
        to_buy(84, Fraction(waste))


@given(st.fractions(1, 1000), st.fractions(0, Fraction(9, 10)))
def test_what_is_bought_less_its_waste_is_what_is_needed(needed: Fraction, waste: Fraction) -> None:
    bought = to_buy(needed, waste, Waste.OF_WHAT_IS_BOUGHT).amount

    assert bought * (1 - waste) == needed
    assert bought >= to_buy(needed, waste, Waste.ADDED).amount


def test_board_feet_are_shown_as_on_a_slip() -> None:
    assert board_feet_for_show(Fraction(125, 24)) == "5.21"


# --- milling -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "finished", "sawn"),
    [
        # 3/4 + 2 x 3/32, 2 1/2 + 1/4, 26 + 1.
        (Unit.INCH, Stock(inch(3, 4), inch(5, 2), inch(26)), Stock(inch(15, 16), inch(11, 4), inch(27))),
        (Unit.MM, Stock(mm("19"), mm("64"), mm("660")), Stock(mm("24"), mm("70"), mm("685"))),
    ],
    ids=["inches", "millimetres"],
)
def test_a_part_is_sawn_oversize_by_the_customary_allowance(unit: Unit, finished: Stock, sawn: Stock) -> None:
    assert rough_size(finished, Allowance.customary(unit)) == sawn


def test_a_blank_for_one_part_has_no_kerf() -> None:
    assert blank_length(inch(7), 1, inch(1, 8), 0) == inch(7)


def test_no_snipe_is_left_on_a_part_from_a_long_blank() -> None:
    assert snipe_left(inch(30), inch(40), inch(3)) == 0


@pytest.mark.parametrize(
    "impossible",
    [
        pytest.param(lambda: rough_size(Stock(1, 1, 1), Allowance(0, -1, 0)), id="allowance below zero"),
        pytest.param(lambda: blank_length(inch(7), 0, 0, 0), id="no parts"),
        pytest.param(lambda: blank_length(inch(7), 2, -1, 0), id="kerf below zero"),
        pytest.param(lambda: passes(inch(1), inch(1, 2), 0), id="pass of nothing"),
        pytest.param(lambda: passes(inch(1, 2), inch(1), 1), id="planing on"),
    ],
)
def test_milling_that_cannot_be_is_refused(impossible: Callable[[], object]) -> None:
    with pytest.raises(BadAllowance):
        impossible()
