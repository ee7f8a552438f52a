"""Clamps and glue: how far one presses, where they stand, how much goes together in one go; and even spacing."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.clamping import BadGlueUp, clamp_places, clamp_spread, joints_in_one_go, seconds_needed
from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import INCH
from shopfloor.trade.spacing import NoRoom, divide, spaced, worst_error

lengths = st.integers(1, 100 * INCH)


@pytest.mark.parametrize(
    ("distance", "pad", "angle", "covers"),
    [
        (mm("75"), mm("30"), 45, mm("180")),
        (mm("75"), mm("30"), 0, mm("30")),
        (mm("100"), 0, 60, 346_410_162),  # 200 x 1.7320508076
        (0, mm("30"), 45, mm("30")),
    ],
)
def test_a_clamp_covers_its_fan_and_its_pad(distance: int, pad: int, angle: int, covers: int) -> None:
    assert clamp_spread(distance, pad, angle) == covers


@given(lengths, st.integers(INCH, 20 * INCH))
def test_clamps_leave_no_stretch_uncovered(length: int, covers: int) -> None:
    places = clamp_places(length, covers)

    assert all(0 <= place <= length for place in places)
    assert all(0 < b - a <= min(covers, inch(12)) + 1 for a, b in pairwise(places))
    assert abs(places[0] - (length - places[-1])) <= 1  # the same from either end
    if length > inch(6):
        assert places[0] == inch(3)


def test_a_short_joint_gets_one_clamp_at_its_middle() -> None:
    assert clamp_places(inch(5), inch(8)) == (inch(5, 2),)


@given(st.integers(0, 3600), st.integers(1, 300), st.integers(0, 600))
def test_the_most_joints_go_in_the_open_time_and_one_more_does_not(open_time: int, each: int, clamping: int) -> None:
    most = joints_in_one_go(open_time, each, clamping)

    assert most == 0 or seconds_needed(most, each, clamping) <= open_time
    assert seconds_needed(most + 1, each, clamping) > open_time


@pytest.mark.parametrize(
    "impossible",
    [
        pytest.param(lambda: clamp_spread(1, 1, 90), id="fan of 180 degrees"),
        pytest.param(lambda: clamp_spread(-1, 1), id="behind the pad"),
        pytest.param(lambda: clamp_places(0, 1), id="no joint"),
        pytest.param(lambda: clamp_places(inch(20), 0), id="covers nothing"),
        pytest.param(lambda: seconds_needed(-1, 1, 1), id="fewer than no joints"),
        pytest.param(lambda: joints_in_one_go(600, 0, 0), id="joints that take no time"),
    ],
)
def test_a_glue_up_that_cannot_be_is_refused(impossible: Callable[[], object]) -> None:
    with pytest.raises(BadGlueUp):
        impossible()


# --- even spacing ------------------------------------------------------------------------------------------------


@given(lengths, st.integers(1, 60))
def test_a_division_reads_the_same_from_either_end(length: int, parts: int) -> None:
    marks = divide(length, parts)

    assert len(marks) == parts - 1
    # Half-even rounding may send a mark and its twin the same way at an exact half.
    assert all(abs(a - (length - b)) <= 1 for a, b in zip(marks, reversed(marks), strict=True))


@given(lengths, st.integers(1, 60), st.fractions(Fraction(1, 1000), 1))
def test_slats_and_gaps_fill_the_opening(clear: int, count: int, share: Fraction) -> None:
    width = int(clear * share / count)
    if width == 0:
        return

    found = spaced(clear, count, width)

    assert count * width + (count + 1) * found.gap == clear
    assert abs(clear - (found.starts[-1] + width) - found.gap) <= 1


def test_an_error_adds_up_along_a_chain_and_not_from_the_datum() -> None:
    assert worst_error(8, 250_000, chained=True) == 2_000_000
    assert worst_error(8, 250_000, chained=False) == 250_000
    assert worst_error(0, 250_000, chained=False) == 0


@pytest.mark.parametrize(
    "impossible",
    [
        pytest.param(lambda: divide(0, 4), id="no length"),
        pytest.param(lambda: divide(100, 0), id="no parts"),
        pytest.param(lambda: spaced(100, 3, 34), id="too wide"),
        pytest.param(lambda: spaced(100, 0, 10), id="no slats"),
    ],
)
def test_what_has_no_room_is_refused(impossible: Callable[[], object]) -> None:
    with pytest.raises(NoRoom):
        impossible()
