from __future__ import annotations

import base64
import csv
import io
import zlib
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from shopfloor.intake.text_table import DELIMITERS
from shopfloor.store import jobs
from shopfloor.trade.length import read
from shopfloor.web.office_intake import DELIMITER_NAMES
from tests.web.office_shop import NAME, PageReader, small_job

FILES = Path(__file__).parent.parent / "intake" / "files"

LIST = "Part,Qty,Thickness,Width,Length\nLeg,4,1 3/4,1 3/4,36\n"


def hand_in(office: FlaskClient, file: str | None = None, **form: str) -> TestResponse:
    """Send the form, with one of the files of the cut-list tests if one is named."""
    data: dict[str, Any] = {"job": "", "unit": "in", "text": ""} | {
        name.replace("_", "-"): v for name, v in form.items()
    }
    if file:
        data["file"] = (io.BytesIO((FILES / file).read_bytes()), file)
    return office.post("/cut-list", data=data, content_type="multipart/form-data")


def page_of(answer: TestResponse) -> PageReader:
    page = PageReader(answer.text)
    assert page.faults == []
    return page


def fields(page: PageReader) -> dict[str, str]:
    """What the form of a preview sends along without anybody's doing."""
    sent = {field["name"]: field["value"] for field in page.all("input", type="hidden")}
    sent |= {field["name"]: field["value"] for field in page.all("input") if field.get("id") == "job-name"}
    return sent


def again(office: FlaskClient, answer: TestResponse, **more: str) -> TestResponse:
    """Press a button on a preview."""
    sent = {"unit": "in"} | fields(page_of(answer)) | more
    return office.post("/cut-list", data=sent, content_type="multipart/form-data")


def saved(app: Flask) -> list[str]:
    with app.app_context():
        return [row.name for row in jobs.all_jobs()]


def test_a_list_is_looked_at_first_and_nothing_is_made(app: Flask, office: FlaskClient) -> None:
    answer = hand_in(office, "bom.csv")

    page = page_of(answer)
    assert answer.status_code == 200
    assert page.rows("lines") == [
        ["2", "Door stile", "4", "3⁄4 × 21⁄4 × 28", "cherry"],
        ["3", "Door rail", "4", "3⁄4 × 21⁄4 × 113⁄4", "cherry"],
    ]
    assert "8 parts in 1 stack" in page.text
    assert page.all("button", value="make")
    assert saved(app) == []


def test_one_click_then_makes_the_job(app: Flask, office: FlaskClient) -> None:
    preview = hand_in(office, "bom.csv")

    made = again(office, preview, do="make")

    assert (made.status_code, made.location) == (303, "/jobs/bom")
    with app.app_context():
        job, _ = jobs.latest("bom")
    assert [(line.name, len(line.parts)) for line in job.lines] == [("Door stile", 4), ("Door rail", 4)]
    assert [line.length for line in job.lines] == [read("28"), read("11 3/4")]
    assert "8 parts" in office.get("/jobs/bom").text


def test_a_typed_list_can_be_corrected_on_the_preview(office: FlaskClient) -> None:
    typed = LIST.replace("36", "abc") + "<b>,</textarea>,1,1,1\n"

    page = page_of(hand_in(office, text=typed, job="Bench"))

    assert page.rows("faults")[0][1:4] == ["Length", "abc", '"abc" is not a size']
    assert "Leg,4,1 3/4,1 3/4,abc <b>,</textarea>,1,1,1" in page.text
    assert not page.all("button", value="make")


def test_faults_are_listed_by_row_and_column_all_at_once(app: Flask, office: FlaskClient) -> None:
    answer = hand_in(
        office, text="Part,Qty,Thickness,Width,Length\nLeg,x,1 3/4,1 3/4,\nRail <b>,2,3/4,-2,9\n", job="Bench"
    )

    page = page_of(answer)
    assert answer.status_code == 422
    assert [row[:3] for row in page.rows("faults")] == [
        ["row 2", "Qty", "x"],
        ["row 2", "Length", ""],
        ["row 3", "Width", "-2"],
    ]
    assert all(row[3] and row[4] for row in page.rows("faults"))
    assert page.all("input", id="job-name")[0]["value"] == "Bench"
    assert saved(app) == []


def test_a_list_with_faults_makes_no_job_even_when_asked_to(app: Flask, office: FlaskClient) -> None:
    answer = hand_in(office, text=LIST.replace("36", "abc"), job="Bench", do="make")

    assert answer.status_code == 422
    assert saved(app) == []


@pytest.mark.parametrize(
    ("file", "says"),
    [("no_width.csv", "Row 1: no Width column."), ("only_headings.csv", "no parts"), ("markup.csv", "<b>Lid</b>")],
)
def test_what_is_wrong_with_a_whole_file_is_one_sentence(office: FlaskClient, file: str, says: str) -> None:
    assert says in page_of(hand_in(office, file)).text


def test_a_file_that_was_refused_is_still_there_and_a_better_one_takes_its_place(
    app: Flask, office: FlaskClient
) -> None:
    refused = hand_in(office, "no_width.csv")
    assert "no Width column" in again(office, refused, do="look").text

    sent = fields(page_of(refused)) | {"unit": "in"}
    better = office.post(
        "/cut-list",
        data=sent | {"file": (io.BytesIO((FILES / "bom.csv").read_bytes()), "bom.csv")},
        content_type="multipart/form-data",
    )

    assert (better.status_code, "8 parts in 1 stack" in better.text) == (200, True)


def test_skipped_rows_and_what_became_of_the_columns_are_shown(office: FlaskClient) -> None:
    page = page_of(hand_in(office, "totals.csv"))

    assert page.rows("skipped")[-1] == ["8", "total: 8 pieces, agrees"]
    chosen = [option["value"] for option in page.all("option") if "selected" in option]
    assert chosen == ["name", "quantity", "thickness", "width", "length", "species"]


def test_a_column_can_be_told_what_it_is(office: FlaskClient) -> None:
    typed = "Part,Qty,Thickness,Width,Length,Of\nLeg,4,1 3/4,1 3/4,36,Left side\n"
    first = hand_in(office, text=typed, job="Bench")
    assert [field["name"] for field in page_of(first).all("select")][-1] == "column-5"

    second = again(office, first, text=typed, **{"column-5": "assembly"})
    third = again(office, second, text=typed, **{"column-5": "assembly"})

    assert "Stack" not in first.text.partition("What was read")[2]
    for page in (page_of(second), page_of(third)):
        assert page.rows("lines")[0][-1] == "Left side"
        assert "4 parts in 1 stack Left side" in page.text


def test_rough_stock_is_asked_for_its_finished_thickness(app: Flask, office: FlaskClient) -> None:
    preview = hand_in(office, "quarters.csv", job="Table")
    assert [field["name"] for field in page_of(preview).all("input") if field["name"].startswith("finished")] == [
        "finished 4/4",
        "finished 8/4",
    ]

    refused = again(office, preview, do="make", **{"finished 4/4": "13/16", "finished 8/4": "thick"})
    made = again(office, preview, do="make", **{"finished 4/4": "13/16", "finished 8/4": "1 3/4"})

    assert refused.status_code == 400
    assert "8/4, finished" in page_of(refused).text
    kept = {field["name"]: field["value"] for field in page_of(refused).all("input") if "finished" in field["name"]}
    assert kept == {"finished 4/4": "13/16", "finished 8/4": "thick"}
    assert made.status_code == 303
    with app.app_context():
        job, _ = jobs.latest("table")
    assert {line.thickness for line in job.lines} == {read("13/16"), read("1 3/4")}


def test_a_stock_is_not_missed_before_anybody_was_asked_for_it(office: FlaskClient) -> None:
    refused = hand_in(office, "no_width.csv", job="Table")
    sent = fields(page_of(refused)) | {"unit": "in", "do": "look"}
    better = {"file": (io.BytesIO((FILES / "quarters.csv").read_bytes()), "quarters.csv")}

    first = office.post("/cut-list", data=sent | better, content_type="multipart/form-data")
    looked_again = again(office, first, do="look", **{"finished 4/4": "", "finished 8/4": ""})
    made = again(office, first, do="make", **{"finished 4/4": "", "finished 8/4": ""})

    assert "trouble" not in first.text
    assert "trouble" not in looked_again.text
    assert "4/4, finished: no size given" in page_of(made).text


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("bom.csv", "utf-8 with BOM, split by commas"),
        ("semicolon_mm.csv", "split by semicolons"),
        ("utf16_tabs.txt", "utf-16-le with BOM, split by tabs"),
    ],
)
def test_how_a_file_is_written_is_told(office: FlaskClient, file: str, says: str) -> None:
    assert says in page_of(hand_in(office, file)).text


def test_letters_that_cannot_be_printed_are_said_and_stop_nothing(app: Flask, office: FlaskClient) -> None:
    text = "Part,Qty,Thickness,Width,Length,Assembly\nPanel 棚板,1,1,2,3,木\n"

    preview = hand_in(office, text=text, job="Be\u202ench")
    made = hand_in(office, text=text, job="Be\u202ench", do="make")

    says = "Our fonts do not have 棚 板 木: on the labels of “Panel 棚板” and 1 more name the sign"
    assert says in page_of(preview).text
    assert "Our fonts do not have 木 棚 板: on the labels" in page_of(office.get(f"{made.location}/print")).text
    assert saved(app) == ["Bench"]
    assert "Our fonts" not in hand_in(office, text=LIST).text


def test_every_way_to_part_cells_has_a_name() -> None:
    assert set(DELIMITER_NAMES) == set(DELIMITERS.values())


def test_the_unit_of_the_headings_is_shown(office: FlaskClient) -> None:
    assert "sizes in mm, as its headings say" in page_of(hand_in(office, "semicolon_mm.csv")).text


def test_bare_numbers_are_read_in_the_chosen_unit(app: Flask, office: FlaskClient) -> None:
    hand_in(office, text=LIST.replace("1 3/4", "45").replace("36", "900"), job="Bench", unit="mm", do="make")

    with app.app_context():
        job, _ = jobs.latest("bench")
    assert (job.unit, job.lines[0].length) == ("mm", read("900 mm"))


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({}, "There is no file and no text. Choose a file, or type the list in."),
        ({"kept": "!!!"}, "What was handed in got lost on the way."),
        ({"kept": "AAAA"}, "What was handed in got lost on the way."),
        ({"text": LIST, "do": "make"}, "The job has no name."),
        ({"text": LIST, "do": "make", "job": NAME.upper()}, "There is a job"),
    ],
    ids=["nothing", "no base64", "not packed", "no name", "a name that is taken"],
)
def test_what_cannot_be_made_is_said_and_what_was_typed_is_still_there(
    app: Flask, office: FlaskClient, form: dict[str, str], says: str
) -> None:
    with app.app_context():
        jobs.save(small_job())

    answer = hand_in(office, **{"job": "<b>Bench</b>"} | form if "do" not in form else form)

    page = page_of(answer)
    assert answer.status_code == 400
    assert says in page.text
    if "do" not in form:
        assert page.all("input", id="job-name")[0]["value"] == "<b>Bench</b>"
    else:
        assert "Leg,4,1 3/4,1 3/4,36" in page.text
    assert saved(app) == [NAME]


def test_another_job_whose_name_makes_the_same_key_gets_a_key_of_its_own(app: Flask, office: FlaskClient) -> None:
    for name in ("Oak & ash", "Oak, ash"):
        assert hand_in(office, text=LIST, job=name, do="make").status_code == 303

    with app.app_context():
        assert {(row.key, row.revision) for row in jobs.all_jobs()} == {("oak-ash", 1), ("oak-ash-2", 1)}


def test_what_unpacks_to_more_than_a_list_may_have_is_refused(office: FlaskClient) -> None:
    bomb = base64.b64encode(zlib.compress(b"Part,Qty\n" + b"0" * 60_000_000)).decode()

    answer = hand_in(office, kept=bomb, kept_name="list.csv")

    assert answer.status_code == 422
    assert "a cut list at most 5 MB" in answer.text


def test_a_list_of_three_thousand_rows_is_looked_at_and_made(app: Flask, office: FlaskClient) -> None:
    preview = hand_in(office, "big.csv")

    assert len(page_of(preview).rows("lines")) == 200
    assert "and 2800 more." in preview.text
    assert again(office, preview, do="make").status_code == 303


def test_the_template_is_a_list_that_is_taken_as_it_is(office: FlaskClient) -> None:
    given = office.get("/cut-list/template.csv")

    assert "attachment" in given.headers["Content-Disposition"]
    assert len(list(csv.reader(io.StringIO(given.text)))) == 3
    assert "6 parts in 2 stacks" in page_of(hand_in(office, text=given.text)).text
