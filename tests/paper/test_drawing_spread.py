"""Labels are spread with the least shift; shares fill a length; a scale always rises."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.paper.spread import Scale, share, spread

CASES = {
    "far apart: they stay": ([10, 50, 90], 20, 0, 100, [10, 50, 90]),
    "two at one place: half a gap each way": ([50, 50], 20, 0, 100, [40, 60]),
    "a crowd pushes what is near it": ([50, 50, 62], 20, 0, 100, [34, 54, 74]),
    "the upper bound turns them back": ([95, 99], 20, 0, 100, [80, 100]),
    "the lower bound, too": ([1, 2], 20, 10, 100, [10, 30]),
    "no room: the gap wins": ([5, 6, 7], 20, 0, 30, [0, 20, 40]),
    "nothing": ([], 20, 0, 100, []),
}


@pytest.mark.parametrize(("wanted", "gap", "low", "high", "places"), CASES.values(), ids=CASES.keys())
def test_labels_are_spread(wanted: list[float], gap: float, low: float, high: float, places: list[float]):
    assert spread(wanted, gap, low, high) == pytest.approx(places)


@settings(deadline=None)
@given(st.lists(st.integers(0, 12), min_size=3, max_size=3).map(sorted), st.integers(1, 5))
def test_no_other_places_shift_the_labels_less(wanted: list[int], gap: int):
    def cost(places: tuple[float, ...] | list[float]) -> float:
        return sum((place - want) ** 2 for place, want in zip(places, wanted, strict=True))

    places = spread(wanted, gap, 0, 12)

    others = [some for some in product(range(13), repeat=3) if all(b - a >= gap for a, b in pairwise(some))]
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(places))
    assert places[0] >= -1e-9
    assert places[-1] <= 12 + 1e-9
    assert cost(places) <= min(map(cost, others)) + 1e-9


@settings(deadline=None)
@given(st.lists(st.floats(0.1, 1000), min_size=1, max_size=20), st.floats(1, 10))
def test_shares_fill_the_length_and_keep_their_least(sizes: list[float], least: float):
    total = least * len(sizes) + 50

    parts = share(sizes, [least] * len(sizes), [total] * len(sizes), total)

    assert sum(parts) == pytest.approx(total, abs=0.01)
    assert min(parts) >= least


def test_what_may_not_grow_further_leaves_the_rest_to_the_others():
    assert share([1, 1, 2], [0, 0, 0], [10, 100, 100], 100) == pytest.approx([10, 30, 60], abs=0.01)


def test_a_scale_is_straight_between_its_knots_and_rises():
    scale = Scale([0, 100, 1_000, 2_000], [50, 10, 40], 5)

    assert [scale(place) for place in (0, 50, 100, 550, 1_000, 2_000)] == [5, 30, 55, 60, 65, 105]
    assert all(scale(a) < scale(a + 1) for a in range(0, 2_000, 7))
