"""Parts out of one length: every kerf is paid, and no board that fits exactly is turned away."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.kerf import how_many, left_over, longest_equal, needed, on_the_wrong_side
from shopfloor.trade.length import INCH, read
from tests.vectors import load

CASES = {case["id"]: case for case in load("trade_kerf")["cases"]}
EIGHTH = read("1/8")
FRONTS = [read("18 1/2")] * 4

WORKED: dict[str, Callable[[], dict[str, int]]] = {
    "T27": lambda: {
        "needed": needed([read("42")] * 2, EIGHTH),
        "available": read("84") - 2 * read("1/2"),
        "longest equal pair": longest_equal(read("83"), 2, EIGHTH),
    },
    "T28": lambda: {
        "pieces": how_many(read("124"), read("19 7/8"), EIGHTH),
        "left over (6 cuts)": left_over(read("124"), [read("19 7/8")] * 6, EIGHTH),
    },
    "T29": lambda: {
        "spoiled": on_the_wrong_side(read("14 3/8"), EIGHTH),
        "spare after two parts and two cuts": left_over(read("31"), [read("14 3/8")] * 2, EIGHTH),
    },
    "T30": lambda: {
        "needed": needed(FRONTS, EIGHTH),
        "spare from 9 1/2": read("84") - read("9 1/2") - needed(FRONTS, EIGHTH),
        "spare from 10": read("84") - read("10") - needed(FRONTS, EIGHTH),
    },
}


@pytest.mark.parametrize("case", CASES.values(), ids=lambda case: f"{case['id']} {case['piece']}")
def test_the_answer_to_the_story_is_right(case: dict[str, Any]) -> None:
    found = WORKED[case["id"]]()

    for wanted in case["expect"]:
        scale = 1 if wanted["unit"] == "pcs" else INCH
        assert found[wanted["name"]] == Fraction(wanted["exact"]) * scale, wanted["name"]
    assert len(found) == len(case["expect"])


def test_two_parts_of_42_do_not_come_out_of_84_with_its_ends_trimmed() -> None:
    assert needed([read("42")] * 2, EIGHTH) > read("83")
    assert how_many(read("83"), read("42"), EIGHTH) == 1


lengths = st.integers(1, 10**10)


@given(room=lengths, piece=lengths, kerf=st.integers(0, 10**7))
def test_as_many_parts_as_are_said_fit_and_one_more_does_not(room: int, piece: int, kerf: int) -> None:
    count = how_many(room, piece, kerf)
    fits = count if count < 1000 else 0  # a row of parts is written out here

    assert count == 0 or count * piece + (count - 1) * kerf <= room
    assert (count + 1) * piece + count * kerf > room
    assert needed([piece] * fits, kerf) <= room


@given(room=lengths, count=st.integers(1, 50), kerf=st.integers(0, 10**7))
def test_the_longest_equal_parts_fit_and_a_nanometre_more_does_not(room: int, count: int, kerf: int) -> None:
    longest = longest_equal(room, count, kerf)

    if longest:
        assert needed([longest] * count, kerf) <= room
    assert needed([longest + 1] * count, kerf) > room
