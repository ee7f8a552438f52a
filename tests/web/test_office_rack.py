"""The rack in the office: boards are measured, measured again, put away and put back."""

from __future__ import annotations

import pypdfium2
import pytest
import zxingcpp
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import rack, shop
from shopfloor.trade.board import Defect, Sawn
from shopfloor.trade.fact import inch
from shopfloor.trade.part import Unit
from tests.web.office_shop import PageReader

TYPED = {
    "species": " cherry ", "lumber": "4/4", "mark": "3", "length": "8' 1\"", "width": "7", "width-far": "6 1/2",
    "sapwood": "", "sapwood-far": "3/4", "sawn": "flat", "moisture": "8,5", "note": "from the ladder",
    "defect.0.from": "40", "defect.0.to": "43", "defect.0.near": "2", "defect.0.far": "4", "defect.0.what": "knot",
    "defect.1.from": "", "defect.1.to": "",
}  # fmt: skip


def boards(app: Flask) -> list[rack.Racked]:
    with app.app_context():
        return rack.read().there


def test_an_empty_rack_says_how_to_fill_it(app: Flask, office: FlaskClient) -> None:
    page = office.get("/rack").text

    assert PageReader(page).faults == []
    assert "No board yet." in page


def test_a_board_is_typed_in_and_the_form_is_ready_for_the_next_of_the_same_wood(
    app: Flask, office: FlaskClient
) -> None:
    answer = office.post("/rack/new", data=TYPED | {"do": "next"})

    assert answer.status_code == 303
    (one,) = boards(app)
    assert (one.board.species, one.board.lumber.name, one.board.length) == ("cherry", "4/4", inch(97))
    assert (one.board.widths, one.board.sapwood) == ((inch(7), inch(13, 2)), (0, inch(3, 4)))
    assert one.board.defects == (Defect(inch(40), inch(43), inch(2), inch(4), "knot"),)
    assert (one.board.sawn, one.board.moisture, one.board.note) == (Sawn.FLAT, "8.5", "from the ladder")
    next_form = office.get(answer.location).text
    assert 'value="cherry"' in next_form
    assert '<option value="4/4" selected>' in next_form
    # 97 x 6 3/4 in the mean, 1 in thick: 4.5 board feet.
    page = office.get("/rack").text
    assert "4.5 bd ft" in page
    assert "flat sawn, 8.5 %, from the ladder" in page


def test_a_board_as_its_page_shows_it_changes_nothing(app: Flask, office: FlaskClient) -> None:
    office.post("/rack/new", data=TYPED)
    (one,) = boards(app)
    page = office.get(f"/rack/{one.code}").text
    assert PageReader(page).faults == []
    import re

    form = dict(re.findall(r'<input[^>]* name="([^"]+)" value="([^"]*)"', page)) | {"lumber": "4/4", "sawn": "flat"}

    assert office.post(f"/rack/{one.code}", data=form).status_code == 303
    assert boards(app)[0].board == one.board
    assert boards(app)[0].state.heads == one.state.heads


def test_measured_again_it_is_the_same_board(app: Flask, office: FlaskClient) -> None:
    office.post("/rack/new", data=TYPED)
    (one,) = boards(app)
    office.post(f"/rack/{one.code}", data=TYPED | {"length": "90"})

    (now,) = boards(app)
    assert (now.code, now.board.id, now.board.length) == (one.code, one.board.id, inch(90))


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("length", "", "The length is missing. Measure it."),
        ("length", "long", "long"),
        ("length", "0", "no length of a board"),
        ("width", "-3", "-3"),
        ("width", "70", "no board is 70 in wide"),
        ("lumber", "", "Choose its thickness: 4/4"),
        ("species", " ", "The species is missing."),
        ("sapwood", "6", "The sapwood is 6 3/4 in in all, and the board 6 1/2 in wide."),
        ("moisture", "wet", "is no moisture of wood"),
        ("defect.0.to", "30", "It ends before it begins."),
        ("defect.0.to", "", "Give where it ends, too."),
        ("defect.0.far", "1", "Across the board, too"),
    ],
)
def test_what_is_no_board_is_said_beside_its_field_and_nothing_is_lost(
    app: Flask, office: FlaskClient, field: str, text: str, says: str
) -> None:
    answer = office.post("/rack/new", data=TYPED | {field: text})

    assert answer.status_code == 422
    assert says.lower() in answer.text.replace("&#39;", "'").replace("&#34;", '"').lower()
    assert answer.text.count('aria-invalid="true"') == 1
    assert 'value="from the ladder"' in answer.text
    assert boards(app) == []


def test_a_board_is_put_away_with_a_reason_and_back(app: Flask, office: FlaskClient) -> None:
    office.post("/rack/new", data=TYPED)
    (one,) = boards(app)

    assert office.post(f"/rack/{one.code}", data={"do": "gone:sold"}).status_code == 303
    assert boards(app) == []
    assert "1 board is gone" in office.get("/rack").text
    assert office.post(f"/rack/{one.code}", data={"do": "back"}).status_code == 303
    assert len(boards(app)) == 1


def test_a_metric_shop_types_millimetres(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        shop.keep_unit(Unit.MM)
    office.post("/rack/new", data={"species": "oak", "lumber": "32 mm", "length": "2400", "width": "180"})

    (one,) = boards(app)
    assert (one.board.length, one.board.lumber.name) == (2_400_000_000, "32 mm")
    assert "2400" in office.get("/rack").text


def test_a_code_that_is_on_no_board_is_said(app: Flask, office: FlaskClient) -> None:
    answer = office.get("/rack/P6ZC26")

    assert answer.status_code == 404
    assert "no board has the code" in answer.text.lower()


def test_hostile_words_stay_text(app: Flask, office: FlaskClient) -> None:
    office.post("/rack/new", data=TYPED | {"note": "<script>alert(1)</script>", "species": "<b>oak"})

    page = office.get("/rack").text
    assert "<script>alert" not in page
    assert "<b>oak" not in page


def test_labels_of_the_boards_that_are_there_are_read_back_from_the_page(app: Flask, office: FlaskClient) -> None:
    for mark in ("1", "2", "3"):
        office.post("/rack/new", data=TYPED | {"mark": mark})
    codes = {one.code for one in boards(app)}
    gone = boards(app)[0]
    office.post(f"/rack/{gone.code}", data={"do": "gone:sold"})

    answer = office.get("/rack/labels.pdf?sheet=a4-3x8&start=2")
    assert answer.mimetype == "application/pdf"
    page = pypdfium2.PdfDocument(answer.data)[0]
    picture = page.render(scale=300 / 72).to_pil()
    read = {found.text.rsplit("/", 1)[-1] for found in zxingcpp.read_barcodes(picture)}
    assert read == codes - {gone.code}
    words = page.get_textpage().get_text_range()
    assert "cherry 4/4" in words
    assert "chalk 2" in words
    assert "rough" not in words


def test_one_board_s_label_is_printed_alone(app: Flask, office: FlaskClient) -> None:
    office.post("/rack/new", data=TYPED)
    office.post("/rack/new", data=TYPED | {"mark": "9"})
    one = boards(app)[1]

    page = pypdfium2.PdfDocument(office.get(f"/rack/labels.pdf?board={one.code}").data)[0]
    assert [found.text.rsplit("/", 1)[-1] for found in zxingcpp.read_barcodes(page.render(scale=4).to_pil())] == [
        one.code
    ]


@pytest.mark.parametrize("query", ["start=0x", "start=-1", "sheet=nothing", "board=zzz"])
def test_labels_that_cannot_be_printed_are_refused_in_one_sentence(app: Flask, office: FlaskClient, query: str) -> None:
    office.post("/rack/new", data=TYPED)

    assert office.get(f"/rack/labels.pdf?{query}").status_code == 400


def test_an_empty_rack_has_no_label_to_print(app: Flask, office: FlaskClient) -> None:
    assert office.get("/rack/labels.pdf").status_code == 400
