"""Marks along and across a part: each from its reference, none of them a chain."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.across import across
from shopfloor.trade.dovetail import BadDovetail, Pins, Tails, division
from shopfloor.trade.fact import inch
from shopfloor.trade.hole_rows import HoleRow
from shopfloor.trade.layout import checks, from_the_wrong_end, marks
from shopfloor.trade.part import FEATURES, Face, Feature, Line, Mortise, Stock, Taper, Tenon, boxes
from tests.paper.lines import lines

from .one_of_each import MM, ONE_OF_EACH, STOCK


def line(*features: Feature) -> Line:
    return Line("l", "a", "Part", *STOCK, features=features)


ALONG: dict[str, list[tuple[float, str]]] = {
    "tenon, haunched": [(370, "shoulder"), (378, "haunch, its end")],
    "loose tenon": [(50, "loose tenon's mortise starts"), (90, "loose tenon's mortise ends")],
    "loose tenon, in an end": [],
    "hole row, divided": [
        (50, "hole 1 of 5, its middle"), (125, "hole 2 of 5, its middle"), (200, "hole 3 of 5, its middle"),
        (275, "hole 4 of 5, its middle"), (350, "hole 5 of 5, its middle"),
    ],
    "hole row, by its pitch": [
        (50, "hole 1 of 5, its middle"), (82, "hole 2 of 5, its middle"), (114, "hole 3 of 5, its middle"),
        (146, "hole 4 of 5, its middle"), (178, "hole 5 of 5, its middle"),
    ],
    "half lap, at an end": [(340, "shoulder")],
    "half lap, crossing": [(100, "half lap starts"), (160, "half lap ends")],
    "open mortise": [(90, "open mortise, its bottom")],
    "bridle": [(150, "bridle starts"), (240, "bridle ends")],
    "tails": [(20, "baseline")],
    "pins, half-blind": [(388, "baseline")],
    "taper": [(100, "taper starts")],
    "taper, to the datum end": [(200, "taper starts")],
    "chamfer": [],
    "roundover, stopped": [(100, "roundover starts"), (300, "roundover ends")],
}  # fmt: skip


@pytest.mark.parametrize("name", ALONG)
def test_the_marks_along_a_part_are_distances_from_its_datum_end(name: str) -> None:
    assert [(mark.at / MM, mark.says) for mark in marks(line(ONE_OF_EACH[name]))] == ALONG[name]


ACROSS: dict[str, list[tuple[float, str, str]]] = {
    "mortise": [
        (7, "face side", "mortise, near side"), (13, "face side", "mortise, far side"),
        (20, "face edge", "mortise, its bottom"), (70, "far edge", "mortise, its bottom: wood left *"),
    ],
    "mortise, through": [(20, "face edge", "mortise, near side"), (26, "face edge", "mortise, far side")],
    "rabbet, along an edge": [
        (6, "back", "rabbet, its bottom"), (10, "far edge", "rabbet, its edge"),
        (14, "face side", "rabbet, its bottom: wood left *"),
    ],
    "tenon, haunched": [
        (6, "face side", "tenon, its cheek, near side"), (14, "face side", "tenon, its cheek, far side"),
        (10, "face edge", "haunch, its edge, near side"), (30, "face edge", "tenon, its edge, near side"),
        (30, "face edge", "haunch, its edge, far side"),
    ],
    "tongue, along an edge": [
        (6, "face side", "tongue, its cheek, near side"), (12, "face side", "tongue, its cheek, far side"),
        (8, "face edge", "shoulder"),
    ],
    "loose tenon, in an end": [
        (7, "face side", "loose tenon's mortise, near side"), (13, "face side", "loose tenon's mortise, far side"),
        (25, "face edge", "loose tenon's mortise, near side"), (65, "face edge", "loose tenon's mortise, far side"),
        (20, "far end", "loose tenon's mortise, its bottom"),
        (380, "datum end", "loose tenon's mortise, its bottom: wood left *"),
    ],
    "hole row, divided": [
        (12, "face side", "hole row, its bottom"), (30, "face edge", "hole row, its middle"),
        (8, "back", "hole row, its bottom: wood left *"),
    ],
    "half lap, on edge": [
        (45, "far edge", "half lap, its bottom"), (45, "face edge", "half lap, its bottom: wood left *"),
    ],
    "open mortise": [(7, "face side", "open mortise, near side"), (13, "face side", "open mortise, far side")],
    "bridle, on edge": [(30, "face edge", "bridle, near side"), (60, "face edge", "bridle, far side")],
    "taper": [
        (30, "face edge", "taper, at the far end"), (60, "far edge", "taper, at the far end: wood left *"),
    ],
    "chamfer": [],
}  # fmt: skip
"""A star stands for a check value."""


@pytest.mark.parametrize("name", ACROSS)
def test_the_marks_across_a_part_are_distances_from_its_reference_surfaces(name: str) -> None:
    found = [(each.at / MM, each.face.value, each.says + " *" * each.check) for each in across(line(ONE_OF_EACH[name]))]

    assert found == ACROSS[name]


def test_every_tail_is_marked_at_its_end_and_at_the_baseline() -> None:
    # 90 wide, 3 tails, pins of 6, half pins of 4: (90 - 8 - 12) / 3 = 23 1/3 each; 20 / 8 = 2.5 in at the baseline.
    found = [(each.at, each.says) for each in across(line(ONE_OF_EACH["tails"]))]

    assert found[:4] == [
        (4 * MM, "tail 1, at its end"), (6_500_000, "tail 1, at the baseline"),
        (24_833_333, "tail 1, at the baseline"), (27_333_333, "tail 1, at its end"),
    ]  # fmt: skip
    assert found[-1] == (86 * MM, "tail 3, at its end")
    assert len(found) == 12


@given(lines())
def test_no_mark_lies_outside_the_wood_and_each_names_a_feature(line: Line) -> None:
    keys = {feature.key for feature in line.features}
    deep = {"face side": line.thickness, "back": line.thickness, "face edge": line.width, "far edge": line.width}

    for reach in across(line):
        assert 0 < reach.at < deep.get(reach.face.value, line.length)
        assert reach.feature in keys
    assert [mark.at for mark in marks(line)] == sorted(mark.at for mark in marks(line))


@given(lines())
def test_a_check_value_and_its_mark_add_up_to_the_length(line: Line) -> None:
    assert all(check.from_far_end + check.mark.at == line.length for check in checks(line))
    assert [check.mark for check in checks(line)] == list(marks(line))
    assert [line.length - mark.at for mark in reversed(from_the_wrong_end(line))] == [mark.at for mark in marks(line)]


@given(first=st.integers(0, 10**9), step=st.integers(1, 10**9), over=st.integers(0, 500), count=st.integers(2, 200))
def test_a_divided_row_is_within_half_a_nanometre_of_even_however_many_holes(
    first: int, step: int, over: int, count: int
) -> None:
    last = first + step * (count - 1) + over
    row = HoleRow("r", Face.FACE_SIDE, first, count, 0, 2, last=last).places()

    assert (row[0], row[-1], len(row)) == (first, last, count)
    assert all(2 * abs((at - first) * (count - 1) - nth * (last - first)) <= count - 1 for nth, at in enumerate(row))


@given(
    width=st.integers(10**6, 10**9), count=st.integers(1, 20), pin=st.integers(1, 10**4), slope=st.integers(5, 9),
    length=st.integers(1, 10**4),
)  # fmt: skip
def test_tails_read_the_same_from_either_edge(width: int, count: int, pin: int, slope: int, length: int) -> None:
    tails = division(width, count, pin, pin, length, slope)

    for tail, other in zip(tails, reversed(tails), strict=True):
        for one, mirrored in ((tail.start, other.end), (tail.base_start, other.base_end)):
            assert abs(one - (width - mirrored)) <= 1
    assert tails[0].start == pin
    assert all(abs(b.start - a.end - pin) <= 1 for a, b in pairwise(tails))


def test_tails_that_would_come_to_a_point_are_refused() -> None:
    with pytest.raises(BadDovetail, match="come to a point"):
        division(60, 1, 1, 10, 100, 5)
    assert division(61, 1, 1, 10, 100, 5)[0].base_end - division(61, 1, 1, 10, 100, 5)[0].base_start <= 1


def test_pins_and_tails_of_the_same_numbers_have_the_same_marks() -> None:
    numbers = {"count": 4, "pin": 5 * MM, "half_pin": 3 * MM, "slope": 6}
    tails = Tails("t", Face.FAR_END, length=16 * MM, **numbers)
    pins = Pins("p", Face.DATUM_END, Face.FACE_SIDE, length=12 * MM, depth=16 * MM, **numbers)

    assert tails.tails(Stock(12 * MM, 90 * MM, 400 * MM)) == pins.tails(Stock(20 * MM, 90 * MM, 500 * MM))


def test_a_taper_takes_wood_off_evenly_from_where_it_starts() -> None:
    taper = Taper("t", Face.FACE_EDGE, 100 * MM, 30 * MM)

    assert [taper.taken(at * MM, STOCK) for at in (0, 100, 200, 400)] == [0, 0, 10 * MM, 30 * MM]


@pytest.mark.parametrize(
    ("offset", "thickness", "edge", "width", "shoulders"),
    [
        (6, 8, 10, 70, 4), (6, 8, 0, 80, 3), (6, 8, 0, 90, 2), (0, 8, 0, 90, 1), (0, 20, 0, 90, 0),
    ],
)  # fmt: skip
def test_a_tenon_has_a_shoulder_where_it_is_not_flush(
    offset: int, thickness: int, edge: int, width: int, shoulders: int
) -> None:
    sizes = (each * MM for each in (30, offset, thickness, edge, width))

    assert len(Tenon("t", Face.FAR_END, *sizes).shoulders(STOCK)) == shoulders


def test_a_haunch_lies_beside_its_tenon_out_from_the_shoulder() -> None:
    at_start = Tenon("t", Face.DATUM_END, 30, 6, 8, 10, 60, 8, 20, Face.FAR_EDGE)
    at_end = Tenon("t", Face.FAR_END, 30, 6, 8, 30, 60, 8, 20, Face.FACE_EDGE)

    assert at_start.haunch(Stock(20, 90, 400)) == (22, 30, 70, 90, 6, 14)
    assert at_end.haunch(Stock(20, 90, 400)) == (370, 378, 10, 30, 6, 14)
    assert len(boxes(at_end, Stock(20, 90, 400))) == 2


def test_an_old_document_has_no_haunch() -> None:
    assert Tenon("t", Face.FAR_END, 30, 6, 8, 30, 60).haunch(STOCK) is None
    assert boxes(Mortise("m", Face.BACK, 0, 1, 0, 1), STOCK) == (Mortise("m", Face.BACK, 0, 1, 0, 1).box(STOCK),)


def test_there_is_one_of_each_kind_to_test_with() -> None:
    assert {type(feature) for feature in ONE_OF_EACH.values()} == set(FEATURES.values())


def test_thirds_of_an_inch_do_not_add_up_an_error() -> None:
    row = HoleRow("r", Face.FACE_SIDE, 0, 4, 0, 2, last=inch(1))

    assert row.places() == (0, 8_466_667, 16_933_333, inch(1))
