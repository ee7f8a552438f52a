"""Bytes become rows of cells, whatever program wrote them; what is no table is refused with one sentence."""

from __future__ import annotations

import datetime
import io
import zipfile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.intake.cells import MOST_BYTES, MOST_COLUMNS, MOST_ROWS, UnreadableTable
from shopfloor.intake.headings import Column, plain, recognised
from shopfloor.intake.table import read_table

HEADINGS = "Part,Qty,Thickness,Width,Length\n"


def texts(data: bytes) -> list[list[str]]:
    return [[cell.text for cell in row] for row in read_table(data).rows]


def workbook(*rows: tuple[object, ...], formats: dict[str, str] | None = None) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    for cell, form in (formats or {}).items():
        book.active[cell].number_format = form
    return saved(book)


def saved(book: openpyxl.Workbook) -> bytes:
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def repacked(data: bytes, **changes: bytes | None) -> bytes:
    """The same package with members replaced (or, for None, left out), by the last part of their name."""
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            stem = name.rsplit("/", 1)[-1].split(".")[0]
            changed = changes.get(stem, old.read(name))
            if changed is not None:
                new.writestr(name, changed)
    return file.getvalue()


# --- letters -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("codec", "mark", "named"),
    [
        ("utf-8", b"", "utf-8"),
        ("utf-8", b"\xef\xbb\xbf", "utf-8 with BOM"),
        ("utf-16-le", b"\xff\xfe", "utf-16-le with BOM"),
        ("utf-16-be", b"\xfe\xff", "utf-16-be with BOM"),
        ("utf-32-le", b"\xff\xfe\x00\x00", "utf-32-le with BOM"),
        ("cp1252", b"", "cp1252"),
    ],
)
def test_letters_are_read_by_their_mark_then_as_utf_8_then_as_windows_1252(codec, mark, named):
    table = read_table(mark + "Teil;Länge\nFüllung;2½\n".encode(codec))

    assert [[cell.text for cell in row] for row in table.rows] == [["Teil", "Länge"], ["Füllung", "2½"]]
    assert table.encoding == named
    assert bool(table.notes) == (named == "cp1252")


@pytest.mark.parametrize(
    ("text", "delimiter", "row_2"),
    [
        (HEADINGS + "Leg,4,2,2,16\n", ",", ["Leg", "4", "2", "2", "16"]),
        ("Part;Length\nLeg;16,5\nRail;40,25\n", ";", ["Leg", "16,5"]),
        ("Teil;Anzahl;Dicke\nBein;4;45,5\n", ";", ["Bein", "4", "45,5"]),
        ("Part\tQty\nLeg, front\t4\n", "tab", ["Leg, front", "4"]),
        ("Part|Qty\nLeg; front, left|4\n", "|", ["Leg; front, left", "4"]),
        ("sep=;\nPart;Qty\nLeg,a,b;4\n", ";", ["Part", "Qty"]),
        ("The choir's cabinet, second try, June\nPart;Qty\nLeg;4\n", ";", ["Part", "Qty"]),
        ("Leg;4;2\nRail;2;3\n", ";", ["Rail", "2", "3"]),
    ],
)
def test_the_delimiter_is_told_by_the_headings_and_failing_them_by_steady_columns(text, delimiter, row_2):
    table = read_table(text.encode())

    assert table.delimiter == delimiter
    assert [cell.text for cell in table.rows[1]] == row_2


def test_a_line_break_inside_quotation_marks_does_not_begin_a_new_row():
    assert texts(b'Part,Qty\r\n"Panel\nlower",1\r\nStile,2\r\n') == [
        ["Part", "Qty"],
        ["Panel\nlower", "1"],
        ["Stile", "2"],
    ]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_may_end_in_any_of_the_three_ways(end):
    assert texts(end.join(["Part,Qty", "Leg,4", "", "Rail,2"]).encode()) == [
        ["Part", "Qty"],
        ["Leg", "4"],
        [],
        ["Rail", "2"],
    ]


def test_inch_marks_in_unquoted_cells_are_kept():
    assert texts(b'Part,Width,Length\nRail,2 1/2",22 1/4"\n')[1] == ["Rail", '2 1/2"', '22 1/4"']


# --- workbooks ---------------------------------------------------------------------------------------------------


def test_numbers_of_a_workbook_are_exact_digits():
    row = read_table(workbook(("a",), (0.75, 2.0, 3, 22.1, 1e-7, 1234567.5), (True, None, "x"))).rows[1]

    assert [cell.text for cell in row] == ["0.75", "2", "3", "22.1", "0.0000001", "1234567.5"]
    assert {cell.kind for cell in row} == {"number"}


@pytest.mark.parametrize(
    ("value", "form", "text", "kind", "unit"),
    [
        (datetime.datetime(2026, 3, 4), "d-mmm", "4-Mar", "date", ""),
        (datetime.datetime(1932, 3, 1), "mmm-yy", "Mar-32", "date", ""),
        (datetime.datetime(2026, 3, 4), "yyyy-mm-dd", "2026-03-04", "date", ""),
        (datetime.time(12, 30), "h:mm", "12:30:00", "date", ""),
        (605, '0" mm"', "605", "number", "mm"),
        (12.5, '0.0" in."', "12.5", "number", "in"),
        (0.75, "# ?/?", "0.75", "number", ""),
        (7, "000", "007", "number", ""),
        (4, '0" pcs"', "4", "number", ""),
    ],
)
def test_a_cell_says_what_its_number_format_shows(value, form, text, kind, unit):
    cell = read_table(workbook(("Length",), (value,), formats={"A2": form})).rows[1][0]

    assert cell == (text, kind, unit)


def test_a_formula_is_never_worked_out_here():
    cell = read_table(workbook(("Length",), ("=1+1",))).rows[1][0]

    assert cell == ("=1+1", "formula", "")


def test_the_result_that_a_spreadsheet_kept_of_a_formula_is_taken_and_marked():
    sheet = (
        b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        b'<row r="1"><c r="A1"><v>3</v></c><c r="B1"><f>A1*2</f><v>6</v></c></row></sheetData></worksheet>'
    )
    row = read_table(repacked(workbook(("x",)), sheet1=sheet)).rows[0]

    assert row == (("3", "number", ""), ("6", "result", ""))


def test_the_first_sheet_that_shows_and_holds_anything_is_read_and_the_others_are_named():
    book = openpyxl.Workbook()
    book.active.title = "empty"
    for title, state in (("hidden", "hidden"), ("Cabinet", "visible"), ("Lumber", "visible")):
        sheet = book.create_sheet(title)
        sheet.sheet_state = state
        sheet.append((title,))
    table = read_table(saved(book))

    assert table.sheet == "Cabinet"
    assert "Lumber" in table.notes[0]
    assert [[cell.text for cell in row] for row in table.rows] == [["Cabinet"]]


def test_what_a_sheet_says_of_its_own_size_is_not_believed():
    sheet = (
        b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><dimension ref="A1"/>'
        b'<sheetData><row r="1"><c r="A1"><v>1</v></c><c r="C1"><v>3</v></c></row>'
        b'<row r="3"><c r="B3"><v>5</v></c></row></sheetData></worksheet>'
    )
    assert texts(repacked(workbook(("x",)), sheet1=sheet)) == [["1", "", "3"], [], ["", "5"]]


# --- refusals ----------------------------------------------------------------------------------------------------


def bomb(claimed: int) -> bytes:
    return repacked(workbook(("x",)), sheet1=b" " * claimed)


def encrypted() -> bytes:
    data = bytearray(workbook(("x",)))
    at = 0
    while (at := data.find(b"PK\x01\x02", at)) >= 0:
        data[at + 8] |= 1
        at += 4
    return bytes(data)


def far_corner(row: int, column: str, times: int, value: str = "<v>1</v>") -> bytes:
    rows = "".join(f'<row r="{row + i}"><c r="{column}{row + i}">{value}</c></row>' for i in range(times))
    sheet = f'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{rows}</sheetData></worksheet>'
    return repacked(workbook(("x",)), sheet1=sheet.encode())


def packed(**members: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as package:
        for name, text in members.items():
            package.writestr(name, text)
    return file.getvalue()


REFUSED = {
    "nothing": (b"", "empty"),
    "blanks": (b" \r\n\t ", "empty"),
    "only a mark": (b"\xef\xbb\xbf", "empty"),
    "only delimiters": (b",,,\n,,,\n", "nothing is written"),
    "too large": (b"a" * (MOST_BYTES + 1), "5.0 MB"),
    "too many rows": (b"a,b\n" * (MOST_ROWS + 1), "20,001 rows"),
    "too many columns": (b"a,b\n" + b"x," * MOST_COLUMNS + b"y\n", "row 2: 201 columns"),
    "NUL bytes": (HEADINGS.encode() + b"Leg\x00,4\n", "NUL"),
    "UTF-16 without its mark": (HEADINGS.encode("utf-16-le"), "NUL"),
    "half a letter": (b"\xff\xfea", "damaged"),
    "no text": (b"Part,Qty\n\x81\x8d,4\n", "no text"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(20), "picture"),
    "a photograph": (b"\xff\xd8\xff\xe0" + bytes(20), "picture"),
    "a PDF": (b"%PDF-1.7\n", "PDF"),
    "a web page": (b"<html><table><tr><td>Part</td></tr></table></html>", "web page"),
    "an old workbook": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), ".xls"),
    "a locked workbook": (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(60) + "EncryptedPackage".encode("utf-16-le"),
        "password",
    ),
    "a locked package": (encrypted(), "password"),
    "half a workbook": (workbook(("Part", "Qty"))[:2000], "damaged"),
    "a workbook with a sheet of rubbish": (repacked(workbook(("x",)), sheet1=b"<worksheet><oops"), "damaged"),
    "a workbook without its sheet": (repacked(workbook(("x",)), sheet1=None), "nothing is written"),
    "a workbook that unpacks to far more": (bomb(61_000_000), "unpacks"),
    "a workbook with entities": (
        repacked(workbook(("x",)), sheet1=b'<!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>'),
        "definitions",
    ),
    "a workbook with nothing in it": (workbook(), "nothing is written"),
    "a workbook that is too long": (far_corner(MOST_ROWS + 1, "A", 1), "20,001 rows"),
    "a workbook with a row beyond the last": (far_corner(999_999_999_999, "A", 1), "larger than any cut list"),
    "a workbook that is too wide": (far_corner(1, "XFD", 1), "row 1: 16,384 columns"),
    "a workbook of blank cells far out": (far_corner(1, "XFD", 300, ""), "larger than any cut list"),
    "another packed file": (packed(readme="hello"), "packed file"),
    "an OpenDocument table": (packed(mimetype="application/vnd.oasis.opendocument.spreadsheet"), ".ods"),
    "an unclosed quotation mark": (
        HEADINGS.encode() + b'Leg,4,2,2,16\n"Rail,2,1,3,40\nTop,1,1,20,40\n',
        "row 3: a quotation",
    ),
    "a cell of 200,000 letters": (HEADINGS.encode() + b"x" * 200_000, "more text"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_table_is_refused_with_one_sentence(name):
    data, says = REFUSED[name]
    with pytest.raises(UnreadableTable) as caught:
        read_table(data)

    assert says in str(caught.value)
    assert caught.value.do
    assert "\n" not in str(caught.value)


@settings(max_examples=150, deadline=None)
@given(data=st.one_of(st.binary(max_size=300), st.binary(max_size=200).map(lambda rest: b"PK\x03\x04" + rest)))
def test_no_bytes_do_more_than_be_refused(data):
    try:
        assert read_table(data).rows
    except UnreadableTable as err:
        assert err.what


GOOD = workbook(("Part", "Qty", "Length"), ("Leg", 4, "16 1/2"), ("Rail", 2, "=2*20"))


@settings(max_examples=150, deadline=None)
@given(at=st.integers(0, len(GOOD) - 1), byte=st.integers(0, 255), cut=st.booleans())
def test_a_damaged_workbook_is_read_or_refused(at, byte, cut):
    data = GOOD[:at] if cut else GOOD[:at] + bytes([byte]) + GOOD[at + 1 :]
    try:
        assert read_table(data).rows
    except UnreadableTable as err:
        assert err.do


# --- headings ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "column", "unit"),
    [
        ("Part", Column.NAME, ""),
        ("\ufeffPART\u200b NAME ", Column.NAME, ""),
        ("Bezeichnung", Column.NAME, ""),
        ("Pièce", Column.NAME, ""),
        ("Qty.", Column.QUANTITY, ""),
        ("No. off", Column.QUANTITY, ""),
        ("No.", Column.QUANTITY, ""),
        ("Stück", Column.QUANTITY, ""),
        ("Anzahl", Column.QUANTITY, ""),
        ("Quantité", Column.QUANTITY, ""),
        ("Thickness (mm)", Column.THICKNESS, "mm"),
        ("Finished thickness, in.", Column.THICKNESS, "in"),
        ('T"', Column.THICKNESS, "in"),
        ("Stärke [mm]", Column.THICKNESS, "mm"),
        ("ÉPAISSEUR", Column.THICKNESS, ""),
        ("width_mm", Column.WIDTH, "mm"),
        ("Breite/cm", Column.WIDTH, "cm"),
        ("Largeur", Column.WIDTH, ""),
        ("Finished size L", Column.LENGTH, ""),
        ("Länge in mm", Column.LENGTH, "mm"),
        ("Length in inches", Column.LENGTH, "in"),
        ("Holzart", Column.SPECIES, ""),
        ("Mat'l", Column.SPECIES, ""),
        ("Sub-assembly", Column.ASSEMBLY, ""),
        ("Bemerkungen", Column.NOTES, ""),
        ("Part No.", Column.CODE, ""),
        ("Unit", Column.UNIT, ""),
    ],
)
def test_headings_are_known_in_the_spellings_of_the_trade(heading, column, unit):
    assert [(one.column, one.unit) for one in recognised([heading])] == [(column, unit)]


@pytest.mark.parametrize("heading", ["Rough length", "Supplier", "", "4", "Size", "Widths and lengths", "L" * 200])
def test_what_is_not_for_certain_a_heading_we_know_is_left_alone(heading):
    assert recognised([heading]) == ()


def test_of_two_headings_for_one_column_the_plainer_word_wins():
    assert [(one.index, one.column) for one in recognised(["Description", "Part", "No.", "Qty"])] == [
        (1, Column.NAME),
        (2, Column.CODE),
        (3, Column.QUANTITY),
    ]


def test_a_heading_is_the_same_however_its_accents_are_stored():
    assert plain("Länge") == plain("La\u0308nge") == ("laenge", "")
