"""Reading and writing lengths: the whole collection of typed cells, worked-out rows, and laws."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade import length
from shopfloor.trade.length import (
    INCH,
    Parts,
    UnreadableCount,
    UnreadableLength,
    parts_of_inches,
    read,
    read_count,
    read_size,
    write_exact,
    write_feet_inches,
    write_inches,
    write_mm,
)
from shopfloor.trade.lumber import ROUGH
from tests.vectors import load

READ = load("lengths")
WRITTEN = load("lengths_written")
LINE = INCH // 64
FARTHEST = 2**53 - 1

cases = pytest.mark.parametrize("case", READ["cases"], ids=lambda case: case["id"])
lengths = st.integers(0, FARTHEST)


def key_words(told: str) -> str:
    """What a message has to contain: the collection's words up to the first stop."""
    return re.split("[:;,]", told)[0]


@cases
def test_every_case_of_the_collection_comes_out_as_it_must(case: dict[str, Any]) -> None:
    outcome, where = case["outcome"], f"row {case['row']}, {case['column']}"
    if outcome["kind"] == "refuse":
        with pytest.raises((UnreadableLength, UnreadableCount)) as refused:
            read_count(case["raw"], where) if case["column"] == "Qty" else read_size(
                case["raw"], "in", case["column"], where
            )
        assert refused.value.code == outcome["code"]
        assert all(name in str(refused.value) for name in outcome["names"])
        assert key_words(outcome["says"]) in refused.value.what
        assert outcome.get("suggests", "") in refused.value.do
    elif outcome["kind"] == "count":
        count = read_count(case["raw"], where)

        assert count.pieces == outcome["pieces"]
        assert count.hands == outcome.get("hands", "")
    else:
        reading = read_size(case["raw"], "in", case["column"], where)

        assert reading.exact == Fraction(outcome["inches"]) * INCH
        assert reading.nm == round(Fraction(outcome["inches"]) * INCH)
        assert write_inches(reading.nm, 64) == outcome.get("reading", write_inches(reading.nm, 64))
        assert reading.note == outcome.get("note", "")
        assert reading.means.startswith(outcome.get("means", "size"))
        assert bool(reading.warnings) == ("warning" in outcome)
        assert key_words(outcome.get("warning", "")) in " ".join(reading.warnings)


def test_every_thickness_that_lumber_is_sold_in_is_read_as_stock() -> None:
    assert [read_size(rough.name, column="Thickness").stock for rough in ROUGH] == [rough.name for rough in ROUGH]


@pytest.mark.parametrize(("text", "unit", "column", "expected"), READ["rows"], ids=lambda value: ascii(value)[:40])
def test_every_typed_form_is_read_exactly_or_refused_by_its_code(
    text: str, unit: str, column: str, expected: int | str
) -> None:
    if isinstance(expected, int):
        assert read_size(text, unit, column).nm == expected
    else:
        with pytest.raises(UnreadableLength) as refused:
            read_size(text, unit, column, "row 7, Tall")
        assert refused.value.code == expected
        assert str(refused.value).startswith("row 7, Tall: ")


@pytest.mark.parametrize("text", [row[0] for row in READ["rows"] if isinstance(row[3], str)], ids=ascii)
def test_a_suggestion_can_always_be_read(text: str) -> None:
    for unit in ("in", "mm"):
        try:
            read_size(text, unit)
        except UnreadableLength as refused:
            assert all(read_size(meant, unit).nm > 0 for meant in refused.suggests)


WARNED: list[tuple[str, str, tuple[str, ...]]] = [
    ("20.000000000000004", "Length", ("taken as 20",)),
    ("0.30000000000000004", "Width", ("taken as 0.3",)),
    ("20.000000000004", "Length", ()),  # twelve places: somebody's number, not a computer's noise
    ("113/16", "Length", ("7 1/16 or 1 13/16? ask",)),
    ("101/4", "Length", ("25 1/4 or 10 1/4? ask",)),
    ("9/4", "Width", ()),
    ("1 1/2", "Length", ()),
    ("1 31/64", "Width", ()),
    ("1 31/64", "Length", ("very short part",)),
    ("7/8 shy", "Width", ('"shy": word kept and printed, not dropped',)),
    ("1 - 1/3", "Width", ("read as 1 1/3, not 1 minus 1/3", "not on an inch tape")),
    ("5/4 rough", "thickness", ("finished thickness needed", '"rough": word kept and printed, not dropped')),
    ("5/4 mm", "Thickness", ()),
    ("13/4 cm", "Width", ()),
]


@pytest.mark.parametrize(("text", "column", "warnings"), WARNED)
def test_what_is_taken_with_doubt_is_told(text: str, column: str, warnings: tuple[str, ...]) -> None:
    assert read_size(text, "in", column).warnings == warnings


QUANTITIES: list[tuple[str, int | str]] = [
    ("4", 4), ("4x", 4), ("x 4", 4), ("4 pcs", 4), ("4 ea.", 4), ("4 off", 4), ("1 pair", 2), ("2 prs", 4),
    ("3,0", 3), ("\u200b4\u00a0pcs.", 4), ("2000", 2_000), ("2001", "too-many"), ("1001 pr", "too-many"),
    ("-2", "negative-count"), ("0.5", "part-count"), ("1,000", "unreadable-count"), ("two", "unreadable-count"),
    ("4-Mar", "a-date"), ("=2+2", "a-formula"), ("\u2003", "missing-count"), ("4 4", "unreadable-count"),
    ("1e3", "unreadable-count"), ("9" * 500, "unreadable-count"), ("0 pr", "zero-count"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), QUANTITIES)
def test_a_quantity_is_a_whole_number_of_pieces_or_refused(text: str, expected: int | str) -> None:
    if isinstance(expected, int):
        assert read_count(text).pieces == expected
    else:
        with pytest.raises(UnreadableCount) as refused:
            read_count(text, "row 7, Pieces")
        assert refused.value.code == expected
        assert str(refused.value).startswith("row 7, Pieces: ")


@pytest.mark.parametrize("row", WRITTEN["rows"], ids=lambda row: f"{row[0]} {row[1]}")
def test_a_length_is_written_as_worked_out_by_hand(row: list[Any]) -> None:
    name, nm, *arguments, text = row

    assert getattr(length, name)(nm, *arguments) == text


@pytest.mark.parametrize("row", WRITTEN["parts"], ids=str)
def test_inches_fall_apart_into_whole_fraction_and_mark(row: list[Any]) -> None:
    nm, denominator, *parts = row

    assert parts_of_inches(nm, denominator) == Parts(*parts)


def test_a_bare_number_takes_the_unit_of_the_job() -> None:
    assert read("19") == 19 * INCH
    assert read("19", "mm") == 19_000_000
    with pytest.raises(ValueError, match="is not a unit"):
        read("19", "cm")


def test_a_shift_of_zero_is_a_length_and_a_size_of_zero_is_not() -> None:
    assert read("0") == read("0 mm") == 0
    with pytest.raises(UnreadableLength, match="zero"):
        read_size("0")


def test_only_a_number_without_a_unit_has_to_fit_a_board() -> None:
    assert read("16 m") == 16_000_000_000
    with pytest.raises(UnreadableLength, match="unit missing"):
        read("605")
    with pytest.raises(UnreadableLength, match="too long"):
        read("9007199.254740992 m")


def test_what_a_refusal_quotes_is_short_and_steers_nothing() -> None:
    with pytest.raises(UnreadableLength) as refused:
        read("\x1b[31m\u202e" + "x" * 10_000 + "\ud800")

    assert refused.value.what == '"[31m' + "x" * 36 + '..." is not a size'


@settings(deadline=None)
@given(n=st.integers(0, 200 * 64))
def test_any_line_of_the_tape_reads_the_same_in_every_form(n: int) -> None:
    nm, (whole, rest) = n * LINE, divmod(n, 64)
    inches, decimal = write_inches(nm, 64), f"{n / 64}"
    forms = [
        inches, f"{inches}\u2033", f"{inches} inches", f"{n}/64", f"{whole} {rest}/64", f"{whole}-{rest}/64 in.",
        f"{whole}\u2009{rest}\u204464", decimal, f"{decimal} in", f"{decimal.replace('.', ',')} in",
        f"{nm / 1e6:.6f}mm", f"{nm / 1e6:.6f} mm".replace(".", ","), write_feet_inches(nm, 64),
        f"{whole // 12}' {whole % 12} {rest}/64",
        f"{whole // 12} ft {whole % 12}-{rest}/64 in",
        write_exact(nm), write_exact(nm, "mm"),
    ]  # fmt: skip

    for text in forms:
        assert read(text) == nm, text


@settings(deadline=None)
@given(nm=lengths, unit=st.sampled_from(["in", "mm"]), job=st.sampled_from(["in", "mm"]))
def test_the_exact_text_reads_back_as_the_very_same_length(nm: int, unit: str, job: str) -> None:
    assert read(write_exact(nm, unit), job) == nm


@settings(deadline=None)
@given(nm=st.integers(0, 600 * INCH), denominator=st.sampled_from([16, 32, 64]))
def test_full_and_shy_read_back_as_the_nearest_line_with_a_note(nm: int, denominator: int) -> None:
    step = INCH // denominator
    text = write_inches(nm, denominator)
    back = read(text)

    assert back % step == 0
    assert abs(back - nm) * 2 <= step
    assert text.endswith(" full") == (back < nm)
    assert text.endswith(" shy") == (back > nm)
    if 0 < back <= 599 * INCH:
        assert read_size(text).note == ("full" if back < nm else "shy" if back > nm else "")


@settings(deadline=None)
@given(tenths=st.integers(0, 152_400))
def test_tenths_of_a_millimetre_read_back_as_the_same_length(tenths: int) -> None:
    assert read(write_mm(tenths * 100_000), "mm") == tenths * 100_000


@settings(deadline=None)
@given(nm=st.integers(-FARTHEST, FARTHEST), denominator=st.sampled_from([16, 32, 64]))
def test_below_zero_all_is_mirrored(nm: int, denominator: int) -> None:
    there, back = write_inches(nm, denominator), write_inches(-nm, denominator)

    assert {there.removeprefix("-"), back.removeprefix("-")} == {write_inches(abs(nm), denominator)}


TYPED = st.text(
    st.sampled_from("0123456789 ./,-'\"xinmcft=+~?\u00bd\u2044\u2019\u2033\u2013\u00b2\u00a0\u200b"), max_size=14
)


@settings(deadline=None)
@given(text=TYPED | st.text(), unit=st.sampled_from(["in", "mm"]), column=st.sampled_from(["Thickness", "Length"]))
def test_any_text_is_a_size_or_one_sentence(text: str, unit: str, column: str) -> None:
    try:
        reading = read_size(text, unit, column, "row 2")
    except UnreadableLength as refused:
        assert re.fullmatch(r"row 2: [^\x00-\x1f]+\.", str(refused))
    else:
        assert 0 < reading.nm <= 600 * INCH
        assert reading.nm == round(reading.exact)


@settings(deadline=None)
@given(text=TYPED | st.text())
def test_any_text_is_a_quantity_or_one_sentence(text: str) -> None:
    try:
        assert 0 < read_count(text).pieces <= 2_000
    except UnreadableCount as refused:
        assert str(refused).endswith(".")
