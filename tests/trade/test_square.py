"""Squareness: diagonals, racking and wind, by hand and by law."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import MM
from shopfloor.trade.part import Unit
from shopfloor.trade.square import (
    NotARectangle,
    allowed_difference,
    diagonal,
    diagonal_difference,
    racking,
    wind,
)

sides = st.integers(10 * MM, 3_000 * MM)


@given(sides, sides)
def test_a_diagonal_is_the_nearest_whole_nanometre_to_the_root(width: int, height: int) -> None:
    found, square = diagonal(width, height), width**2 + height**2

    assert (2 * found - 1) ** 2 <= 4 * square <= (2 * found + 1) ** 2
    assert diagonal(height, width) == found


@given(sides, sides, st.integers(0, 9 * MM))
def test_leaning_the_other_way_turns_the_difference_round(width: int, height: int, lean: int) -> None:
    assert diagonal_difference(width, height, -lean) == -diagonal_difference(width, height, lean)


@given(sides, sides, st.integers(0, 9 * MM))
def test_the_lean_is_read_back_from_the_two_diagonals(width: int, height: int, lean: int) -> None:
    long, short = diagonal(width + lean, height), diagonal(width - lean, height)

    told = racking(width, height, long, short, tolerance=0)

    # Each diagonal is rounded to half a nanometre; 4 w e = long² - short² passes on (long + short) / (4 w) of that.
    assert abs(told.lean - lean) <= 1 + Fraction(long + short, 4 * width)
    assert abs(told.correct - Fraction(diagonal_difference(width, height, lean), 2)) <= 1


def test_a_frame_that_leans_three_millimetres() -> None:
    # 600 x 800: about 2 x 600 x 3 / 1000 = 3.6.
    told = racking(mm("600"), mm("800"), mm("1001.8"), mm("998.2"), tolerance=mm("1.5"))

    assert (told.aim, told.correct, told.within) == (mm("1000"), mm("1.8"), False)
    assert told.lean == 3_000_000  # (1001.8² - 998.2²) / 2400
    assert told.pull == "bottom left to top right"
    assert told.astray == 0


@pytest.mark.parametrize(
    ("rising", "falling", "pull"),
    [
        ("1000.1", "999.9", "bottom left to top right"),
        ("999.9", "1000.1", "top left to bottom right"),
        ("1000", "1000", ""),
    ],
    ids=["rising is long", "falling is long", "square"],
)
def test_the_longer_diagonal_is_the_one_to_pull(rising: str, falling: str, pull: str) -> None:
    told = racking(mm("600"), mm("800"), mm(rising), mm(falling), tolerance=mm("0.8"))

    assert (told.pull, told.within) == (pull, True)


def test_equal_diagonals_of_a_case_with_a_wrong_side_are_told() -> None:
    # 600 x 800 was drawn; at 604 x 800 both diagonals read about 1002.4.
    told = racking(mm("600"), mm("800"), mm("1002.4"), mm("1002.4"), tolerance=mm("0.8"))

    assert told.within
    assert told.astray == mm("2.4")


@pytest.mark.parametrize(
    ("width", "height", "rising", "where"),
    [
        (mm("600"), mm("800"), mm("100"), "bottom left to top right"),
        (mm("600"), mm("800"), mm("1400"), "bottom left to top right"),
        (0, mm("800"), mm("1000"), "squareness"),
    ],
    ids=["too short", "too long", "no width"],
)
def test_a_diagonal_that_no_corner_can_span_is_refused(width: int, height: int, rising: int, where: str) -> None:
    with pytest.raises(NotARectangle) as refused:
        racking(width, height, rising, mm("1000"), tolerance=0)

    assert refused.value.where == where


@pytest.mark.parametrize(
    ("width", "height", "unit", "allowed"),
    [
        (inch(24), inch(20), Unit.INCH, inch(1, 32)),
        (inch(24) + 1, inch(20), Unit.INCH, inch(1, 16)),
        (inch(20), inch(30), Unit.INCH, inch(1, 16)),
        (mm("600"), mm("600"), Unit.MM, mm("0.8")),
        (mm("600"), mm("601"), Unit.MM, mm("1.5")),
    ],
)
def test_a_longer_side_allows_more(width: int, height: int, unit: Unit, allowed: int) -> None:
    assert allowed_difference(width, height, unit) == allowed


@pytest.mark.parametrize(
    ("heights", "twist"),
    [((5, 5, 5, 5), 0), ((0, 3, 0, 3), 0), ((0, 0, 0, 2), 2), ((2, 0, 0, 0), 2), ((0, 2, 0, 0), -2), ((1, 0, 0, 1), 2)],
    ids=["flat", "on a slope", "back right high", "front left high", "front right high", "two corners high"],
)
def test_wind_is_how_far_the_fourth_corner_is_off_the_plane(heights: tuple[int, ...], twist: int) -> None:
    assert wind(*heights) == twist
