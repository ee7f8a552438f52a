"""The office's rods come as a PDF at full size, for the stacks, the part and the paper that were asked for."""

from __future__ import annotations

import pypdfium2
import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs

A4, LETTER = (595, 842), (612, 792)
"""Points: 210 x 297 mm and 8 1/2 x 11 in."""


@pytest.fixture
def codes(app: Flask) -> dict[str, str]:
    """The demo is in the shop; gives its codes."""
    with app.app_context():
        jobs.save(demo_job(), "the demo")
        return dict(jobs.codes("choir-cabinet"))


def words(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return " ".join(page.get_textpage().get_text_bounded() for page in document)


def size(pdf: bytes) -> tuple[int, int]:
    with pypdfium2.PdfDocument(pdf) as document:
        wide, high = document[0].get_size()
    return round(wide), round(high)


@pytest.mark.parametrize(
    ("asked", "expected"), [("", LETTER), ("&paper=a4", A4), ("&paper=letter", LETTER)], ids=["none", "a4", "letter"]
)
def test_a_job_in_inches_has_its_rods_on_letter_unless_told_otherwise(
    office: FlaskClient, codes: dict[str, str], asked: str, expected: tuple[int, int]
) -> None:
    answer = office.get(f"/jobs/choir-cabinet/rods.pdf?stacks=1{asked}")

    assert answer.status_code == 200
    assert answer.mimetype == "application/pdf"
    assert "choir-cabinet-rods.pdf" in answer.headers["Content-Disposition"]
    assert size(answer.data) == expected


def test_only_the_stacks_asked_for_have_their_rods_printed(office: FlaskClient, codes: dict[str, str]) -> None:
    legs = words(office.get("/jobs/choir-cabinet/rods.pdf?stacks=&stacks=1").data)
    every = words(office.get("/jobs/choir-cabinet/rods.pdf").data)

    assert "Leg" in legs and "Drawer" not in legs
    assert "Leg" in every and "Drawer" in every


def test_the_rod_of_one_part_serves_its_mirror_image_too(office: FlaskClient, codes: dict[str, str]) -> None:
    left = words(office.get(f"/jobs/choir-cabinet/rods.pdf?part={codes['leg.front-left']}").data)
    right = words(office.get(f"/jobs/choir-cabinet/rods.pdf?part={codes['leg.front-right']}").data)

    assert left == right
    assert "front left" in left and "front right" in left


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        ("stacks=", "nothing-to-print"),
        ("stacks=99", "bad-stacks"),
        ("stacks=12", "nothing-to-print"),  # the top has no mark
        ("paper=a3", "unknown-paper"),
        ("part=leg", "code-length"),
    ],
)
def test_rods_that_cannot_be_printed_say_why(office: FlaskClient, codes: dict[str, str], asked: str, code: str) -> None:
    answer = office.get(f"/jobs/choir-cabinet/rods.pdf?{asked}", headers={"Accept": "application/json"})

    assert answer.status_code in (400, 404)
    assert answer.get_json()["error"]["code"] == code


def test_a_code_of_no_part_of_the_job_is_said(office: FlaskClient, codes: dict[str, str]) -> None:
    stack = codes["stack:legs"]  # a code that is good, of something that is no part

    answer = office.get(f"/jobs/choir-cabinet/rods.pdf?part={stack}", headers={"Accept": "application/json"})

    assert answer.status_code in (400, 404)
    assert answer.get_json()["error"]["code"] == "no-such-part"


def test_the_pages_of_the_office_lead_to_the_rods(office: FlaskClient, codes: dict[str, str]) -> None:
    leg, top = codes["leg.front-left"], codes["top"]

    assert 'action="/jobs/choir-cabinet/rods.pdf"' in office.get("/jobs/choir-cabinet/print").text
    assert f"/jobs/choir-cabinet/rods.pdf?part={leg}" in office.get(f"/jobs/choir-cabinet/parts/{leg}").text
    assert "rods.pdf" not in office.get(f"/jobs/choir-cabinet/parts/{top}").text


def test_a_stack_is_shown_pulled_apart_with_its_codes(office: FlaskClient, codes: dict[str, str]) -> None:
    page = office.get("/jobs/choir-cabinet/stacks/2").text

    assert "Left side, pulled apart" in page
    for key in ("left.top-rail", "left.bottom-rail", "left.panel"):
        assert f'data-part="{codes[key]}"' in page
