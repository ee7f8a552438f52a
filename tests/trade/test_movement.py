"""Movement: laws of the equation, what is shown of it, slots, and coefficients from shrinkage."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.fact import CONFIRMED, DERIVED, inch
from shopfloor.trade.length import INCH, MM
from shopfloor.trade.movement import (
    Cut,
    Held,
    coefficient,
    coefficient_from_shrinkage,
    exact_movement,
    gap_for,
    movement,
    moves,
    slot,
    travel,
)
from shopfloor.trade.part import Stock, Unit
from shopfloor.trade.rounding import (
    SIXTY_FOURTH,
    coefficient_for_show,
    round_down,
    round_near,
    round_up,
    rounded_for_show,
)
from shopfloor.trade.seasons import MoistureOutOfRange, Seasons
from shopfloor.trade.species import SPECIES, Species, find_species

widths = st.integers(1, 100 * INCH)
coefficients = st.integers(71, 431).map(lambda hundred_thousandths: Fraction(hundred_thousandths, 100_000))
moistures = st.integers(0, 300).map(lambda tenths: Fraction(tenths, 10))


@given(widths, coefficients, moistures, moistures)
def test_what_swells_on_the_way_there_shrinks_on_the_way_back(
    width: int, c: Fraction, start: Fraction, end: Fraction
) -> None:
    assert movement(width, c, start, end) == -movement(width, c, end, start)


@given(widths, widths, coefficients, moistures, moistures)
def test_two_boards_side_by_side_move_like_one_of_their_width(
    a: int, b: int, c: Fraction, start: Fraction, end: Fraction
) -> None:
    together = movement(a + b, c, start, end)

    assert exact_movement(a + b, c, start, end) == exact_movement(a, c, start, end) + exact_movement(b, c, start, end)
    assert abs(together - movement(a, c, start, end) - movement(b, c, start, end)) <= 1  # each is rounded once


@given(widths, coefficients, moistures, moistures, moistures)
def test_a_change_in_two_steps_is_the_change_in_one(
    width: int, c: Fraction, start: Fraction, between: Fraction, end: Fraction
) -> None:
    two = exact_movement(width, c, start, between) + exact_movement(width, c, between, end)

    assert two == exact_movement(width, c, start, end)


@pytest.mark.parametrize(
    ("cut", "takes"),
    [
        (Cut.FLATSAWN, "0.00365"),
        (Cut.QUARTERSAWN, "0.00180"),
        (Cut.RIFTSAWN, "0.00365"),
        (Cut.UNKNOWN, "0.00365"),
    ],
    ids=str,
)
def test_only_wood_known_to_be_quartersawn_gets_the_smaller_number(cut: Cut, takes: str) -> None:
    assert coefficient(find_species("white oak (commercial group)"), cut) == Fraction(takes)


def test_length_stays_and_thickness_takes_the_other_coefficient() -> None:
    # Cherry, flatsawn, 20 x 200 x 1000 mm, 8 to 12 %: 20 x 0.00126 x 4 and 200 x 0.00248 x 4.
    change = moves(Stock(20 * MM, 200 * MM, 1000 * MM), find_species("cherry"), Cut.FLATSAWN, 8, 12)

    assert (change.thickness, change.width, change.length) == (100_800, 1_984_000, 0)


def test_quartersawn_stock_moves_more_in_thickness_than_its_share() -> None:
    change = moves(Stock(20 * MM, 200 * MM, 1000 * MM), find_species("cherry"), Cut.QUARTERSAWN, 8, 12)

    assert (change.thickness, change.width, change.length) == (198_400, 1_008_000, 0)


def test_a_result_outside_6_to_14_percent_comes_with_its_warning() -> None:
    change = moves(Stock(MM, MM, MM), find_species("teak"), Cut.UNKNOWN, 5, 12)

    assert change.warnings == ("The coefficients hold from 6 to 14 % moisture; at 5.0 % the result is an estimate.",)


def test_green_wood_is_refused() -> None:
    with pytest.raises(MoistureOutOfRange):
        movement(inch(20), Fraction("0.00248"), 60, 8)


def test_what_only_shrinks_needs_no_gap() -> None:
    assert gap_for(-5_000_000, SIXTY_FOURTH) == 0


@pytest.mark.parametrize(("held", "goes"), [(Held.ONE_EDGE, 5), (Held.MIDDLE, Fraction(5, 2))], ids=str)
def test_a_free_edge_goes_half_as_far_when_the_middle_is_held(held: Held, goes: Fraction) -> None:
    assert travel(5, held) == goes


def test_a_slot_lets_the_screw_go_both_ways_from_the_day_it_is_put_in() -> None:
    # 250 mm from the fixed edge, 0.00248: 4 points more move it 2.48 mm out, 2 points less 1.24 mm in; screw of 5 mm.
    cherry = slot(5 * MM, 250 * MM, Fraction("0.00248"), Seasons(dry=6, build=8, damp=12))

    assert (cherry.outward, cherry.inward, cherry.length) == (4_980_000, 3_740_000, 8_720_000)


def test_a_slot_has_its_play_at_both_ends() -> None:
    seasons = Seasons(dry=8, build=8, damp=8)

    assert slot(5 * MM, 250 * MM, Fraction("0.00248"), seasons, play=MM).length == 7 * MM


ONE_UNIT_OFF = {"American sycamore"}
"""Its radial value in the table differs from what its shrinkage gives by one in the fifth decimal."""
FROM_22 = {"northern white cedar", "western red cedar", "old-growth redwood", "young-growth redwood"}


@pytest.mark.parametrize(
    "wood",
    [wood for wood in SPECIES if wood.coefficients_are is DERIVED and wood.shrinks_tangential],
    ids=lambda wood: wood.name,
)
def test_a_derived_coefficient_is_what_its_shrinkage_gives(wood: Species) -> None:
    _follows_from_shrinkage(wood, 0)


@pytest.mark.parametrize(
    "wood",
    [wood for wood in SPECIES if wood.coefficients_are is CONFIRMED and wood.shrinks_tangential],
    ids=lambda wood: wood.name,
)
def test_a_table_coefficient_is_what_its_shrinkage_gives(wood: Species) -> None:
    _follows_from_shrinkage(wood, 1 if wood.name in ONE_UNIT_OFF else 0)


def _follows_from_shrinkage(wood: Species, units: int) -> None:
    zero_at = 22 if wood.name in FROM_22 else 30
    for shrinks, table in ((wood.shrinks_tangential, wood.tangential), (wood.shrinks_radial, wood.radial)):
        assert abs(round(coefficient_from_shrinkage(shrinks, zero_at), 5) - table) <= Fraction(units, 100_000)


# --- what is worth showing ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("nm", "unit", "shows"),
    [
        pytest.param(4_428_000, Unit.MM, 4_400_000, id="0.1 mm"),
        pytest.param(-4_428_000, Unit.MM, -4_400_000, id="shrinking"),
        pytest.param(5_039_360, Unit.INCH, 13 * SIXTY_FOURTH, id="0.1984 in is 13/64"),
        pytest.param(0, Unit.INCH, 0, id="none"),
    ],
)
def test_movement_is_shown_with_the_digits_that_the_data_justify(nm: int, unit: Unit, shows: int) -> None:
    assert rounded_for_show(nm, unit) == shows


def test_a_coefficient_is_shown_to_four_decimals() -> None:
    assert coefficient_for_show(Fraction("0.00369")) == "0.0037"


@given(st.fractions(-(10**9), 10**9), st.sampled_from([1, SIXTY_FOURTH, 100_000]))
def test_rounding_stays_within_a_step_and_on_its_side(exact: Fraction, step: int) -> None:
    up, down, near = round_up(exact, step), round_down(exact, step), round_near(exact, step)

    assert up % step == down % step == near % step == 0
    assert exact <= up < exact + step
    assert exact - step < down <= exact
    assert 2 * abs(near - exact) <= step
