"""A cut list is understood, or every fault of it is said: by row and column, nothing half done."""

from __future__ import annotations

import csv
import io
import json
import time
from fractions import Fraction
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.intake.cut_list import Column, CutList, as_job, read_cut_list, template
from shopfloor.intake.preview import UnreadableCutList
from shopfloor.trade.document import from_json, from_toml, to_json, to_toml
from shopfloor.trade.part import Hand, Unit

HERE = Path(__file__).parent
CASES = json.loads((HERE.parent / "vectors" / "tables.json").read_text("utf-8"))["cases"]
INCH = 25_400_000

HEADINGS = "Part,Qty,Thickness,Width,Length,Species,Assembly,Notes"


def read(text: str, **how: object) -> CutList:
    return read_cut_list(text.encode(), "list.csv", **how)


def listed(*rows: str, headings: str = HEADINGS, **how: object) -> CutList:
    return read("\n".join([headings, *rows]), **how)


def of_case(case: dict) -> CutList:
    return read_cut_list((HERE / "files" / case["file"]).read_bytes(), case["file"])


def nm(inches: str | None) -> int | None:
    return None if inches is None else round(Fraction(inches) * INCH)


# --- whole files -------------------------------------------------------------------------------------------------

by_file = pytest.mark.parametrize("case", CASES, ids=lambda case: case["file"])


@pytest.mark.parametrize("case", [case for case in CASES if case["parts"] is not None], ids=lambda case: case["file"])
def test_the_lines_of_a_file_are_read(case):
    lines = [
        {
            "row": line.row,
            "part": line.name,
            "qty": line.pieces,
            "thickness": line.thickness.nm if line.thickness else None,
            "width": line.width.nm,
            "length": line.length.nm,
            "material": line.species,
            "code": line.code,
            "stock": line.stock,
        }
        for line in of_case(case).lines
    ]

    assert lines == [
        {
            "row": part["row"],
            "part": part["part"],
            "qty": part["qty"],
            "thickness": nm(part["thickness_in"]),
            "width": nm(part["width_in"]),
            "length": nm(part["length_in"]),
            "material": part["material"],
            "code": part.get("code", ""),
            "stock": part.get("stock", ""),
        }
        for part in case["parts"]
    ]


@by_file
def test_the_faults_of_a_file_are_said_by_row_and_column(case):
    faults = of_case(case).faults

    assert [(fault.row, fault.column) for fault in faults] == [(row["row"], row["column"]) for row in case["refused"]]
    for fault, row in zip(faults, case["refused"], strict=True):
        assert row["says"].split("(")[0].strip() in fault.says
        assert row["suggests"] in fault.do


@by_file
def test_what_is_to_be_looked_at_twice_is_said_by_row_and_column(case):
    warned = sorted((remark.row, remark.column) for remark in of_case(case).warnings)

    assert warned == sorted((row["row"], row["column"]) for row in case["warned"])


@by_file
def test_rows_that_are_no_parts_are_listed_as_skipped(case):
    skipped = [(row.row, row.says) for row in of_case(case).skipped if case["whole_file"] is None]
    headings = [] if case["file"] == "merged_headings.xlsx" else [(1, "headings")]

    assert skipped == headings * (case["whole_file"] is None) + [
        (row["row"], row["says"]) for row in case["skipped_rows"]
    ]


@by_file
def test_a_file_is_refused_as_a_whole_only_where_it_is_no_cut_list(case):
    cut_list = of_case(case)

    if case["whole_file"] is None:
        assert cut_list.refusal is None
    else:
        assert cut_list.refusal.what == case["whole_file"].removeprefix("refused: ").removesuffix(" (row 1)")
        assert cut_list.lines == ()
        assert not cut_list.ready


@by_file
def test_the_encoding_and_the_delimiter_of_a_file_are_told(case):
    cut_list = of_case(case)

    assert (cut_list.encoding, cut_list.delimiter) == (case["encoding"], case["delimiter"])


def test_a_missing_column_is_named_with_its_row_and_the_headings_that_are_there():
    refusal = read_cut_list((HERE / "files" / "no_width.csv").read_bytes(), "no_width.csv").refusal

    assert str(refusal) == "row 1: no Width column. The headings found are: Part, Qty, Thickness, Length, Material."


def test_a_unit_in_the_headings_is_taken_and_shown():
    cut_list = read_cut_list((HERE / "files" / "semicolon_mm.csv").read_bytes(), "semicolon_mm.csv", unit="in")

    assert (cut_list.unit, cut_list.unit_from) == ("mm", "headings")
    assert as_job(cut_list, "Bench").unit is Unit.MM


def test_three_thousand_rows_are_read_and_made_into_parts_at_once():
    data = (HERE / "files" / "big.csv").read_bytes()
    start = time.process_time()
    job = as_job(read_cut_list(data, "big.csv"), "Slats")
    took = time.process_time() - start

    assert len(job.lines) == 3000
    assert len({part.key for line in job.lines for part in line.parts}) == 3000
    assert job.lines[2999].length == 20 * INCH
    assert took < 3, "seconds of processor time"


# --- rows --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        ("Leg,,2,2,16", "Qty", ""),
        ("Leg,2.5,2,2,16", "Qty", ""),
        ("Leg,0,2,2,16", "Qty", ""),
        ("Leg,999999999,2,2,16", "Qty", "more than 2,000 pieces of one line"),
        ("Leg,2001,2,2,16", "Qty", "more than 2,000 pieces of one line"),
        ("Leg,1001 pr,2,2,16", "Qty", "more than 2,000 pieces of one line"),
        ("Leg,4,,2,16", "Thickness", "no thickness"),
        ("Leg,4,2,,16", "Width", "no width"),
        ("Leg,4,2,2,", "Length", "no length"),
        ("Leg,4,2,2,TBD", "Length", ""),
        ("Leg,4,2,2,=1+1", "Length", "formula"),
        ("Leg,4,4-Mar,2,16", "Thickness", "date"),
        (",4,2,2,16", "Part", "no name"),
        ("Doors,,,,", "Part", "neither quantity nor sizes"),
    ],
)
def test_a_row_that_cannot_become_a_part_is_refused_with_row_and_column(row, column, says):
    cut_list = listed("Rail,2,7/8,3,40", row)
    (fault,) = cut_list.faults

    assert (fault.row, fault.column) == (3, column)
    assert says in fault.says
    assert fault.do
    assert [line.name for line in cut_list.lines] == ["Rail"]


def test_all_faults_of_a_list_are_said_at_once():
    cut_list = listed("Leg,,2,x,16", "Rail,2,7/8,3,40", ",x,7/8,3,40")

    assert [(fault.row, fault.column) for fault in cut_list.faults] == [
        (2, "Qty"),
        (2, "Width"),
        (4, "Part"),
        (4, "Qty"),
    ]
    assert not cut_list.ready


def test_what_was_typed_stands_beside_the_fault():
    assert listed("Leg,4,2,2,about a yard").faults[0].typed == "about a yard"


def test_a_total_that_does_not_agree_is_said_and_not_imported():
    cut_list = listed("Leg,4,2,2,16", "Rail,2,7/8,3,40", "Total,7,,,")

    assert cut_list.pieces == 6
    assert cut_list.skipped[-1].says == "total: 7 pieces, does not agree: the rows above have 6"
    assert [(remark.row, remark.column) for remark in cut_list.warnings if remark.row > 1] == [(4, "Qty")]


def test_units_may_stand_in_the_headings_in_a_column_or_beside_the_number():
    headings = "Part,Qty,Thickness (cm),Width,Length,Unit"
    mm = listed("Leg,4,4.5,45,430 mm,mm", headings=headings)
    own = listed('Leg,4,"4,5","1 1/2""",1\' 4,in', headings=headings)

    assert [(line.thickness.nm, line.width.nm, line.length.nm) for line in mm.lines] == [
        (4_500_000, 45_000_000, 430_000_000)
    ]
    assert own.lines[0].width.nm == 38_100_000
    assert own.lines[0].length.nm == 16 * INCH


def test_a_size_column_without_a_unit_beside_one_with_it_is_read_alike_and_said():
    cut_list = listed("Leg,4,45,45,430", headings="Part,Qty,Thickness (mm),Width,Length")

    assert cut_list.lines[0].length.nm == 430_000_000
    assert {remark.column for remark in cut_list.warnings} == {"Width", "Length"}


def test_a_heading_over_three_columns_gives_them_its_unit_and_rough_sizes_stay_out():
    over = "Part,Qty,Rough size,,,Finished size (mm),,"
    under = ",,T,W,L,T,W,L"
    cut_list = listed(under, "Leg,4,50,50,450,45,44,430", headings=over)

    (line,) = cut_list.lines
    assert (line.thickness.nm, line.width.nm, line.length.nm) == (45_000_000, 44_000_000, 430_000_000)
    assert cut_list.unit == "mm"
    assert list(line.kept.values()) == ["50", "50", "450"]


def test_a_heading_that_may_mean_something_else_is_said():
    cut_list = listed("4,Leg,2,2,16", headings="No.,Part,T,W,L")

    assert cut_list.lines[0].pieces == 4
    assert [(remark.column, remark.says) for remark in cut_list.warnings] == [("No.", "taken as the quantity: is it?")]


def test_a_size_that_slipped_its_decimal_point_is_to_be_looked_at():
    found = listed("slip,1,0.0000001,2,20", "veneer,1,0.6 mm,2,20")

    assert [(one.row, one.says) for one in found.warnings if one.row > 1] == [
        (2, "thinner than a veneer: is that its size?")
    ]


def test_pairs_are_to_be_confirmed():
    (remark,) = listed("Leg,2 pr,2,2,16", headings=HEADINGS.removesuffix(",Notes")).warnings

    assert str(remark) == "row 2, Qty: 2 left and 2 right: is that meant?"


def test_the_person_can_say_what_a_column_holds():
    text = "Thing,How many of it,Part,Thickness,Width,Length\nLeg,4,A1,2,2,16\n"
    as_found = read(text)
    as_chosen = read(text, columns={0: Column.NAME, 1: Column.QUANTITY})

    assert as_found.refusal is not None
    assert [(line.name, line.pieces, line.kept) for line in as_chosen.lines] == [("Leg", 4, {"Part": "A1"})]


def test_what_nobody_sees_is_taken_out_of_names_and_said():
    cut_list = listed("Leg \u202etfel\u202c,1,2,2,16,che\u00adrry,Le\u2066gs\u2069,\u200bplain")

    [line] = cut_list.lines
    assert (line.name, line.species, line.assembly, line.note) == ("Leg tfel", "cherry", "Legs", "plain")
    said = [(one.row, one.column, one.typed) for one in cut_list.warnings if "nobody sees" in one.says]
    assert said == [(2, "Part", "Leg tfel"), (2, "Species", "cherry"), (2, "Assembly", "Legs"), (2, "Notes", "plain")]


def test_marks_of_formatting_that_are_seen_stay():
    [line] = listed("\u0600 \u0661\u06dd,1,2,2,16").lines

    assert line.name == "\u0600 \u0661\u06dd"


def test_columns_that_we_do_not_know_are_kept():
    cut_list = listed("Leg,4,2,2,16,rack 3,smooth", headings="Part,Qty,Thickness,Width,Length,Where from,Surface")
    job = as_job(cut_list, "Table")

    assert cut_list.kept == ("Where from", "Surface")
    assert job.lines[0].kept == {"Where from": "rack 3", "Surface": "smooth"}


def test_two_unknown_columns_of_one_name_are_both_kept():
    cut_list = listed("Leg,4,2,2,16,oil,wax,x", headings="Part,Qty,Thickness,Width,Length,Finish,Finish")

    assert cut_list.lines[0].kept == {"Finish": "oil", "Finish (column 7)": "wax", "column 8": "x"}


def test_a_careful_exports_apostrophe_comes_off_again():
    assert [line.name for line in listed("'-Brace,4,2,2,16", "'twas,1,2,2,16").lines] == ["-Brace", "'twas"]


def test_a_date_cell_of_a_workbook_is_never_a_size_however_it_is_shown():
    book = openpyxl.Workbook()
    book.active.append(HEADINGS.split(",")[:5])
    book.active.append(("Leg", 4, 2, 2, 46085))
    book.active["E2"].number_format = "yyyy"
    file = io.BytesIO()
    book.save(file)
    cut_list = read_cut_list(file.getvalue(), "list.xlsx")

    assert [(fault.row, fault.column) for fault in cut_list.faults] == [(2, "Length")]


# --- the job -----------------------------------------------------------------------------------------------------


def test_a_quantity_gives_so_many_parts_with_keys_of_their_own():
    job = as_job(listed("Door stile,4,3/4,2 1/4,28", "Door rail,2,3/4,2 1/4,11 3/4"), "Doors")

    assert job.key == "doors"
    assert [(one.key, one.number, one.name) for one in job.assemblies] == [("all-parts", 1, "All parts")]
    assert [[part.key for part in line.parts] for line in job.lines] == [
        ["door-stile.1", "door-stile.2", "door-stile.3", "door-stile.4"],
        ["door-rail.1", "door-rail.2"],
    ]
    assert job.lines[1].length == 298_450_000


def test_each_assembly_named_is_one_stack_in_the_order_of_the_list():
    job = as_job(
        listed(
            "Stile,2,3/4,2,28,cherry,Left side,",
            "Stile,2,3/4,2,28,cherry,Right side,",
            "Rail,1,3/4,2,12,ash,left side,shy",
            "Top,1,3/4,20,30,cherry,,",
        ),
        "Cabinet",
    )

    assert [(one.key, one.number, one.name) for one in job.assemblies] == [
        ("left-side", 1, "Left side"),
        ("right-side", 2, "Right side"),
        ("loose-parts", 3, "Loose parts"),
    ]
    assert [(line.key, line.assembly) for line in job.lines] == [
        ("left-side.stile", "left-side"),
        ("right-side.stile", "right-side"),
        ("left-side.rail", "left-side"),
        ("loose-parts.top", "loose-parts"),
    ]
    assert job.species == ""
    assert job.lines[2].note == "shy"


def test_pairs_give_left_and_right_parts():
    parts = as_job(listed("Leg,2 pr,2,2,16", "Brace,1 pr,1,1,9"), "Table").lines

    assert [(part.key, part.place, part.hand) for part in parts[0].parts] == [
        ("leg.1", "left 1", Hand.AS_DRAWN),
        ("leg.2", "left 2", Hand.AS_DRAWN),
        ("leg.3", "right 1", Hand.MIRROR),
        ("leg.4", "right 2", Hand.MIRROR),
    ]
    assert [part.place for part in parts[1].parts] == ["left", "right"]


def test_names_that_come_twice_or_have_no_plain_letters_still_get_keys_of_their_own():
    rows = ("Stile,1,3/4,2,28", "stile,1,3/4,2,28", "Stile 2,1,3/4,2,28", "木,1,3/4,2,28", "<>,1,3/4,2,28")
    keys = [line.key for line in as_job(listed(*rows), "x").lines]

    assert keys == ["stile", "stile-2", "stile-2-2", "part", "part-2"]


def test_rough_stock_waits_for_its_finished_thickness():
    cut_list = listed("Top,1,4/4,6,48", "Leg,4,8/4,2,17", "Rail,1,4/4,3,20")

    assert cut_list.stocks == ("4/4", "8/4")
    with pytest.raises(UnreadableCutList, match="row 3, thickness: 8/4 is rough stock"):
        as_job(cut_list, "Table", finished={"4/4": 19_050_000})
    job = as_job(cut_list, "Table", finished={"4/4": 19_050_000, "8/4": 44_450_000})
    assert [(line.thickness, line.kept) for line in job.lines] == [
        (19_050_000, {"rough stock": "4/4"}),
        (44_450_000, {"rough stock": "8/4"}),
        (19_050_000, {"rough stock": "4/4"}),
    ]


def test_no_job_is_made_of_a_list_with_a_fault():
    with pytest.raises(UnreadableCutList, match=r"row 3, Width: no width \(and 1 more\)"):
        as_job(listed("Leg,4,2,2,16", "Rail,2,1,,40", "Top,1,1,,40"), "Table")


def test_a_list_of_more_pieces_than_any_job_has_is_refused():
    rows = [f"Slat {n},2000,1,2,30" for n in range(11)]

    assert "20,000 pieces" in str(listed(*rows).refusal)


def test_the_template_is_a_cut_list_without_a_fault():
    cut_list = read(template())

    assert (cut_list.faults, cut_list.refusal, cut_list.ready) == ((), None, True)
    assert [(line.name, line.pieces, line.assembly) for line in cut_list.lines] == [
        ("Front leg", 4, "Legs"),
        ("Top rail", 2, "Left side"),
    ]
    assert [line.thickness.nm for line in cut_list.lines] == [41_275_000, 22_225_000]


@pytest.mark.parametrize("file", ["markup.csv", "codes.csv", "other_headings.csv", "semicolon_mm.csv"])
def test_the_job_of_a_list_is_a_document_that_is_written_and_read_back(file):
    job = as_job(read_cut_list((HERE / "files" / file).read_bytes(), file), "A <b>job</b> & more")

    assert from_json(to_json(job)) == job
    assert from_toml(to_toml(job)) == job


# --- laws --------------------------------------------------------------------------------------------------------

names = st.text(st.sampled_from("abcdeÄéñLR /,;|'\"-3½"), min_size=1, max_size=12).map(lambda text: "P" + text + "x")
sixteenths = st.integers(1, 16 * 90)
rows = st.lists(st.tuples(names, st.integers(1, 9), sixteenths, sixteenths, sixteenths), min_size=1, max_size=6)
WAYS = {
    "UTF-8": ("utf-8", b""),
    "UTF-8 with its mark": ("utf-8", b"\xef\xbb\xbf"),
    "UTF-16, little end first": ("utf-16-le", b"\xff\xfe"),
    "UTF-16, big end first": ("utf-16-be", b"\xfe\xff"),
    "Windows-1252": ("cp1252", b""),
}


def fraction(count: int) -> str:
    whole, rest = divmod(count, 16)
    return f"{whole} {rest}/16" if whole and rest else f"{rest}/16" if rest else str(whole)


@settings(max_examples=40, deadline=None)
@given(rows=rows)
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"], ids=["comma", "semicolon", "tab", "bar"])
def test_one_list_gives_the_same_parts_in_every_encoding_and_with_every_delimiter(rows, delimiter):
    file = io.StringIO()
    writer = csv.writer(file, delimiter=delimiter, lineterminator="\r\n")
    writer.writerow(("Part", "Qty", "Thickness", "Width", "Length"))
    writer.writerows((name, qty, *map(fraction, sizes)) for name, qty, *sizes in rows)

    for codec, mark in WAYS.values():
        lines = read_cut_list(mark + file.getvalue().encode(codec), "list").lines
        assert [(line.name, line.pieces, line.width.exact, line.length.exact) for line in lines] == [
            (" ".join(name.split()), qty, width * Fraction(INCH, 16), length * Fraction(INCH, 16))
            for name, qty, _, width, length in rows
        ]
        assert [line.thickness.nm for line in lines] == [thick * INCH // 16 for _, _, thick, _, _ in rows]


@settings(max_examples=200, deadline=None)
@given(data=st.one_of(st.binary(max_size=200), st.text(max_size=200).map(lambda text: text.encode("utf-8"))))
def test_no_bytes_break_the_reading_of_a_cut_list(data):
    cut_list = read_cut_list(data, "anything")

    assert cut_list.refusal is not None or cut_list.lines or cut_list.faults


cells = st.text(st.sampled_from("0123456789/ ,.-'\"½=xmTotalPart\n"), max_size=8)


@settings(max_examples=200, deadline=None)
@given(rows=st.lists(st.lists(cells, max_size=7), min_size=1, max_size=5))
def test_whatever_is_typed_into_the_cells_becomes_lines_faults_or_skipped_rows(rows):
    file = io.StringIO()
    csv.writer(file).writerows([HEADINGS.split(","), *rows])
    cut_list = read_cut_list(file.getvalue().encode(), "list")
    told = {one.row for one in (*cut_list.lines, *cut_list.faults, *cut_list.skipped)}

    last = max((number for number, row in enumerate(rows, start=2) if any(cell.strip() for cell in row)), default=1)
    assert told == set(range(1, last + 1))
