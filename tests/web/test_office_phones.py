from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
import zxingcpp
from flask import Flask
from flask.testing import FlaskClient
from PIL import Image

from shopfloor.settings import Settings
from shopfloor.store import journal, phones
from shopfloor.store.tables import db
from shopfloor.web import create_app
from tests.entries import offered
from tests.web.office_shop import PageReader


def page_of(html: str) -> PageReader:
    page = PageReader(html)
    assert page.faults == []
    return page


def code_on(html: str) -> str:
    found = re.search(r'class="join-code">([0-9A-Z]{4}-[0-9A-Z]{4})<', html)
    assert found, html
    return found[1]


def painted(html: str) -> Image.Image:
    """The QR symbol of the page, painted from its outline by the even-odd rule, eight dots a module."""
    found = re.search(r'viewBox="0 0 (\d+) \1" role="img".*?fill-rule="evenodd" d="([^"]+)"', html)
    assert found, html
    side = int(found[1])
    upright = []
    for loop in found[2].split("Z")[:-1]:
        corners = [tuple(int(n) for n in pair.split()) for pair in loop[1:].split("L")]
        upright += [
            (x, min(y, end), max(y, end))
            for (x, y), (over, end) in zip(corners, [*corners[1:], corners[0]], strict=True)
            if x == over
        ]
    picture = Image.new("L", (side, side), 255)
    for row in range(side):
        for column in range(side):
            edges = sum(1 for x, top, end in upright if x <= column and top <= row < end)
            if edges % 2:
                picture.putpixel((column, row), 0)
    return picture.resize((side * 8, side * 8), Image.Resampling.NEAREST)


def test_a_code_is_shown_as_text_and_as_a_symbol_and_lets_a_phone_in(app: Flask, office: FlaskClient) -> None:
    html = office.post("/phones/code").text

    code = code_on(html)
    page = page_of(html)
    assert "http://127.0.0.1:8000/phone/" in page.text
    assert "served on this computer only" in page.text
    assert not page.all("main", data_live_page="")
    assert app.test_client().post("/join", json={"code": code, "name": "x"}).status_code == 200
    assert app.test_client().post("/join", json={"code": code, "name": "y"}).status_code == 403


def test_the_symbol_says_the_same_as_the_text(office: FlaskClient) -> None:
    html = office.post("/phones/code").text

    read = zxingcpp.read_barcodes(painted(html))

    assert [one.text for one in read] == ["JOIN:" + code_on(html).replace("-", "")]


def test_a_code_is_never_kept_by_the_browser(office: FlaskClient) -> None:
    assert office.post("/phones/code").headers["Cache-Control"] == "no-store"


def test_phones_are_listed_and_one_can_be_withdrawn(
    app: Flask, office: FlaskClient, new_phone: Callable[..., FlaskClient]
) -> None:
    assert "No phone has joined yet." in page_of(office.get("/phones").text).text
    phone = new_phone("Ida’s <b>phone</b>")
    with app.app_context():
        identity = phones.all()[0].id
        phones.seen(identity, waiting=3)
    page = page_of(office.get("/phones").text)
    assert (page.rows("phones")[0][0], page.rows("phones")[0][2]) == ("Ida’s <b>phone</b>", "3 to send")
    assert "1 phone, 3 to send" in page.text

    answer = office.post(f"/phones/{identity}/withdraw")

    assert answer.status_code == 303
    assert phone.get("/packs").status_code == 401
    assert "withdrawn" in page_of(office.get("/phones").text).rows("phones")[0][3]
    assert "no phone yet" in office.get("/phones").text


def test_a_phone_that_is_not_known_cannot_be_withdrawn(office: FlaskClient) -> None:
    answer = office.post("/phones/nobody/withdraw")

    assert answer.status_code == 404
    assert "no phone" in page_of(answer.text).text


def test_a_shop_on_its_own_network_gives_the_address_that_phones_can_open(tmp_path: Path) -> None:
    app = create_app(Settings(data=tmp_path / "data", host="192.0.2.7", port=8443, names=("shop.test",)))

    html = app.test_client().post("/phones/code").text

    with app.app_context():
        db.engine.dispose()
    assert "http://shop.test:8443/phone/" in html
    assert "served on this computer only" not in html


def test_what_was_set_aside_is_listed_with_its_reason_as_it_came(
    app: Flask, office: FlaskClient, new_phone: Callable[..., FlaskClient]
) -> None:
    assert "Nothing is set aside." in page_of(office.get("/set-aside").text).text
    new_phone("Bench phone")
    with app.app_context():
        device = phones.all()[0].id
        journal.keep(offered({"id": "<i>none</i>"}, "x" * 2000), phone=device)

    rows = page_of(office.get("/set-aside").text).rows("set-aside")

    assert [row[1] for row in rows] == ["Bench phone", "Bench phone"]
    assert rows[1][2:] == ["id: the id is not 32 hexadecimal digits.", '{"id": "<i>none</i>"}']
    assert len(rows[0][3]) == 601 and rows[0][3].endswith("…")


@pytest.mark.parametrize("address", ["/", "/phones", "/set-aside", "/cut-list"])
def test_the_line_of_the_shop_shows_where_one_is(office: FlaskClient, address: str) -> None:
    here = [link["href"] for link in page_of(office.get(address).text).all("a") if link.get("aria-current")]

    assert here == [address]


@pytest.mark.parametrize("address", ["/", "/phones", "/set-aside", "/cut-list", "/nowhere"])
def test_a_page_of_the_office_loads_nothing_from_elsewhere(office: FlaskClient, address: str) -> None:
    page = page_of(office.get(address).text)
    wanted = [given[name] for _, given in page.elements for name in ("src", "href") if name in given]

    assert wanted
    assert [one for one in wanted if not one.startswith(("/", "#"))] == []
    for one in wanted:
        if one.startswith("/static/"):
            with office.get(one) as file:
                assert file.status_code == 200, one
