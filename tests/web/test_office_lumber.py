"""The lumber page of a job: what to saw, what to buy, what it costs, and how the wood of a line is got."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs, lumber
from shopfloor.trade.part import Job
from shopfloor.trade.stock import Making, Way
from tests.web.office_shop import PageReader

KEY = demo_job().key
PAGE = f"/jobs/{KEY}/lumber"


@pytest.fixture
def demo(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(demo_job())
    return app


def rows_of(page: str, table: str) -> list[str]:
    """The rows of a table as plain text."""
    reader = PageReader(page)
    assert reader.faults == []
    start = page.index(f'class="rows {table}"')
    import re

    body = page[start : page.index("</table>", start)]
    return [" ".join(re.sub("<[^>]+>", " ", row).split()) for row in body.split("<tr>")[2:]]


def test_the_demo_needs_five_woods(demo: Flask, office: FlaskClient) -> None:
    page = office.get(PAGE).text

    woods = [row.split(" Price")[0] for row in rows_of(page, "buying")]
    assert [wood.rsplit(" ", 4)[0] for wood in woods] == [
        "cherry 4/4", "cherry 5/4", "cherry 8/4", "maple 4/4", "poplar 4/4",
    ]  # fmt: skip
    assert "30 % of what is bought is lost" in page
    # Four legs, 2 x 37 1/4 rough of 8/4: 4 x 2 x 2 x 37 1/4 / 144 = 4.14; of what is bought 70 % is left: 5.9, so 6.
    assert "4 4.1 6 0.014" in woods[2]


def test_prices_are_kept_and_what_it_costs_is_said(demo: Flask, office: FlaskClient) -> None:
    form = {f"price.{n}": "9.50" for n in range(5)} | {"price.3": "7", "per.3": "board foot"}
    assert office.post(PAGE, data=form).status_code == 303

    page = office.get(PAGE).text
    assert 'value="9.50"' in page
    # 4.139 bd ft needed, so 5.913 bought, at 9.50.
    assert "56.17" in page
    assert "All of it" in page
    assert "What the wood of each stack costs" in page


@pytest.mark.parametrize("price", ["-5", "cheap", "1e9", "99999999"])
def test_what_is_no_price_stays_in_its_field_with_one_sentence(demo: Flask, office: FlaskClient, price: str) -> None:
    answer = office.post(PAGE, data={"price.0": price, "price.1": "9"})

    assert answer.status_code == 422
    assert f'value="{price}"' in answer.text
    assert answer.text.count("is no price") == 1
    with demo.app_context():
        assert lumber.prices() == {}


def test_a_top_of_four_boards_is_four_narrower_blanks(demo: Flask, office: FlaskClient) -> None:
    assert office.post(PAGE, data={"way.top": "", "boards.top": "4"}).status_code == 303

    with demo.app_context():
        assert lumber.making(KEY) == {"top": Making(None, 4)}
    assert "4 boards a part" in office.get(PAGE).text


def test_what_cannot_be_got_so_is_said_and_the_rest_is_listed(demo: Flask, office: FlaskClient) -> None:
    with demo.app_context():
        lumber.keep_making(KEY, {"top": Making(Way.SOLID, 30)})

    page = office.get(PAGE).text
    assert "Cannot be listed" in page
    assert "Top: 30 boards of a panel" in page
    assert len(rows_of(page, "buying")) == 4


@pytest.mark.parametrize("boards", ["0", "-1", "x", "41", "1.5"])
def test_a_number_of_boards_that_cannot_be_is_refused(demo: Flask, office: FlaskClient, boards: str) -> None:
    answer = office.post(PAGE, data={"boards.top": boards})

    assert answer.status_code == 422
    assert "is no number of boards. Write 1 to 40." in answer.text


def test_a_job_without_lines_needs_no_wood(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(Job("empty", "Empty"))

    assert "No part, no wood." in office.get("/jobs/empty/lumber").text


def test_a_job_that_is_not_there_has_no_lumber(app: Flask, office: FlaskClient) -> None:
    assert office.get("/jobs/nothing/lumber").status_code == 404
