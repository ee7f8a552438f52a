"""The office's labels come as a PDF of the stacks and the sheet that were asked for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import jobs
from shopfloor.trade.code import show
from shopfloor.trade.part import Assembly, Job, Line, Part

INCH = 25_400_000


@pytest.fixture
def stand(app: Flask) -> dict[str, str]:
    """Two stacks with three parts; gives the codes, as shown."""
    lines = (
        Line(
            "leg",
            "legs",
            "Leg",
            INCH,
            2 * INCH,
            30 * INCH,
            parts=(Part("leg.left", "left"), Part("leg.right", "right")),
        ),
        Line("desk", "desk", "Desk", INCH, 14 * INCH, 20 * INCH, parts=(Part("desk.only"),)),
    )
    with app.app_context():
        jobs.save(
            Job(
                "music-stand",
                "Music stand",
                assemblies=(Assembly("legs", 1, "Legs"), Assembly("desk", 4, "Desk")),
                lines=lines,
            )
        )
        return {key: show(code) for key, code in jobs.codes("music-stand").items()}


def words(pdf: bytes) -> list[str]:
    """The text of each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_bounded() for page in document]


def test_all_labels_are_printed_unless_told_otherwise(office: FlaskClient, stand: dict[str, str]) -> None:
    answer = office.get("/jobs/music-stand/labels.pdf")

    assert answer.status_code == 200
    assert answer.mimetype == "application/pdf"
    assert "music-stand-labels.pdf" in answer.headers["Content-Disposition"]
    [page] = words(answer.data)
    assert all(code in page for code in stand.values())


@pytest.mark.parametrize(
    ("query", "wanted"),
    [
        ("stacks=4", {"desk.only", "stack:desk"}),
        ("stacks=1&stacks=4", {"leg.left", "leg.right", "stack:legs", "desk.only", "stack:desk"}),
        ("stacks=1", {"leg.left", "leg.right", "stack:legs"}),
        ("stacks=2-9", {"desk.only", "stack:desk"}),
        ("stacks=1,%204", {"leg.left", "leg.right", "stack:legs", "desk.only", "stack:desk"}),
    ],
)
def test_the_stacks_asked_for_are_printed(
    office: FlaskClient, stand: dict[str, str], query: str, wanted: set[str]
) -> None:
    [page] = words(office.get(f"/jobs/music-stand/labels.pdf?{query}").data)

    assert {key for key, code in stand.items() if code in page} == wanted


def test_labels_of_one_line_tell_its_parts_apart(app: Flask, office: FlaskClient) -> None:
    slats = Line("slat", "seat", "Slat", INCH, 2 * INCH, 30 * INCH, parts=tuple(Part(f"slat.{n}") for n in range(4)))
    with app.app_context():
        jobs.save(Job("bench", "Bench", assemblies=(Assembly("seat", 1, "Seat"),), lines=(slats,)))

    for sheet in ("a4-3x8", "letter-3x10"):
        [page] = words(office.get(f"/jobs/bench/labels.pdf?sheet={sheet}").data)
        assert [f"{n} of 4" in page for n in (1, 2, 3, 4)] == [True] * 4


def test_a_long_run_says_beforehand_how_long_it_takes(app: Flask, office: FlaskClient, stand: dict[str, str]) -> None:
    slats = Line("slat", "seat", "Slat", INCH, 2 * INCH, INCH, parts=tuple(Part(f"slat.{n}") for n in range(1_999)))
    with app.app_context():
        jobs.save(Job("bench", "Bench", assemblies=(Assembly("seat", 1, "Seat"),), lines=(slats,)))

    assert "All 2,000 labels take about 20 seconds." in office.get("/jobs/bench/print").text
    assert "seconds" not in office.get("/jobs/music-stand/print").text


@pytest.mark.parametrize(("name", "said"), [("a-computer-with-a-long-name.lan", True), ("shop.lan", False)])
def test_a_name_too_long_for_the_symbols_is_said(
    app: Flask, office: FlaskClient, stand: dict[str, str], name: str, said: bool
) -> None:
    app.config["FACEMARK"] = replace(app.config["FACEMARK"], names=(name,), cert=Path("cert.pem"), key=Path("key.pem"))

    assert ("too long for a QR code" in office.get("/jobs/music-stand/print").text) == said


def test_a_sheet_that_was_begun_is_gone_on_with(office: FlaskClient, stand: dict[str, str]) -> None:
    pages = words(office.get("/jobs/music-stand/labels.pdf?sheet=letter-2x5&start=9").data)

    assert len(pages) == 2
    printed = [sum(code in page for code in stand.values()) for page in pages]
    assert printed == [2, 3]


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/jobs/no-such/labels.pdf", 404, "there is no job"),
        ("/jobs/music-stand/labels.pdf?sheet=a9-9x9", 400, "there is no sheet"),
        ("/jobs/music-stand/labels.pdf?stacks=2", 400, "there is no stack"),
        ("/jobs/music-stand/labels.pdf?stacks=all", 400, "there is no stack"),
        ("/jobs/music-stand/labels.pdf?stacks=", 400, "there is no label to print"),
        ("/jobs/music-stand/labels.pdf?start=0", 400, "the sheet has places 1 to"),
        ("/jobs/music-stand/labels.pdf?start=99", 400, "the sheet has places 1 to"),
        ("/jobs/music-stand/labels.pdf?start=x", 400, "is no place on a sheet"),
    ],
)
def test_what_cannot_be_printed_is_told_on_a_page(
    office: FlaskClient, stand: dict[str, str], path: str, status: int, says: str
) -> None:
    answer = office.get(path)

    assert answer.status_code == status
    assert answer.mimetype == "text/html"
    assert says in answer.text.lower()
