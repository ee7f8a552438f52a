from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.journal.fold import fold
from shopfloor.store import jobs, journal, phones
from shopfloor.trade.code import show
from shopfloor.trade.part import Unit
from tests.entries import NOON, entry, identity, offered
from tests.web.office_shop import NAME, PageReader, small_job


@pytest.fixture
def codes(app: Flask) -> dict[str, str]:
    """The shop with the small job in it; its codes."""
    with app.app_context():
        jobs.save(small_job())
        return jobs.codes("hymn-chest")


Tell = Callable[..., None]


@pytest.fixture
def tell(app: Flask) -> Tell:
    """Writes entries into the journal."""

    def write(*raws: dict[str, Any]) -> None:
        with app.app_context():
            journal.keep(offered(*raws))

    return write


def read(client: FlaskClient, address: str, status: int = 200) -> PageReader:
    """A page, checked for what holds for all pages."""
    answer = client.get(address)
    assert answer.status_code == status, answer.text
    page = PageReader(answer.text)
    assert page.faults == []
    assert (len(page.all("h1")), len(page.all("main"))) == (1, 1)
    assert not [given for _, given in page.elements if "style" in given or any(name.startswith("on") for name in given)]
    ids = [given["id"] for _, given in page.elements if "id" in given]
    assert len(ids) == len(set(ids))
    assert page.all("a", href="#main")
    return page


def test_an_empty_shop_says_what_to_do_first(office: FlaskClient) -> None:
    page = read(office, "/")

    assert "No jobs yet" in page.text
    assert page.all("a", href="/cut-list", class_="button main")
    assert page.all("form", action="/demo", method="post")


def test_the_demo_is_one_click_away_and_comes_once(app: Flask, office: FlaskClient) -> None:
    first = office.post("/demo")
    office.post("/demo")

    assert first.status_code == 303
    assert read(office, first.location).text.count("Choir cabinet") >= 1
    with app.app_context():
        assert [(row.key, row.revision) for row in jobs.all_jobs()] == [("choir-cabinet", 1)]


def test_jobs_are_listed_with_parts_and_what_is_next(office: FlaskClient, codes: dict[str, str], tell: Tell) -> None:
    tell(entry(1, part=codes["leg.left"], body={"step": "rough"}))

    row = read(office, "/").rows("jobs")

    assert [cells[:2] + cells[3:] for cells in row] == [
        [f"{NAME} cherry", "3 parts", "next: rough cut, 1 of 3 done"],
    ]


def test_a_job_shows_its_stacks_each_with_its_rod(office: FlaskClient, codes: dict[str, str], tell: Tell) -> None:
    tell(*(entry(n, part=codes["rail.1"], body={"step": step}) for n, step in enumerate(("rough", "mill"), start=1)))

    page = read(office, "/jobs/hymn-chest")

    assert "cherry · 3 parts · sizes in inches · revision 1 · no phone yet" in page.text
    assert [row[:3] + row[4:] for row in page.rows("stacks")] == [
        ["1", "Legs", "2 parts", "next: rough cut"],
        ["2", "Front <u>frame</u>", "1 part", "next: length"],
    ]
    # A rail: rough, mill, length, mark out, tenon, fit, glue, finish.
    assert [rod["aria-label"] for rod in page.all("div", class_="rod", role="img")] == [
        "0 of 8 steps done, next: rough cut",
        "2 of 8 steps done, next: length",
    ]


def test_a_stack_lists_its_parts_with_code_size_and_pair(office: FlaskClient, codes: dict[str, str]) -> None:
    page = read(office, "/jobs/hymn-chest/stacks/1")

    assert [row[:4] for row in page.rows("parts")] == [
        [show(codes["leg.left"]), "Left & near leg <i>front</i>", "2A", "13⁄4 × 13⁄4 × 361⁄4"],
        [show(codes["leg.right"]), "Right leg <i>front</i>", "2B", "13⁄4 × 13⁄4 × 361⁄4"],
    ]
    assert show(codes["stack:legs"]) in page.text


def test_a_part_shows_drawing_marks_mates_steps_and_history(
    office: FlaskClient, codes: dict[str, str], tell: Tell
) -> None:
    code = codes["leg.right"]
    tell(
        entry(1, part=code, body={"step": "rough"}),
        entry(2, part=code, kind="noted", body={"text": "knot <b>here</b>"}),
    )

    page = read(office, f"/jobs/hymn-chest/parts/{code}")

    assert len(page.all("svg")) == 2  # the shop's mark, and the drawing
    assert "mirror image of the left & near · part 2 of 2 in its stack · measured from the top" in page.text
    # From 3/8 to 3/8 + 2 1/2 = 2 7/8; the far end is no mark, it is a check.
    assert page.rows("marks") == [
        ["3⁄8", "mortise starts 2B"],
        ["27⁄8", "mortise ends 2B"],
        ["361⁄4", "far end, a check only"],
    ]
    assert page.rows("mates") == [["2B", "Rail", "mortise takes its tenon"]]
    assert page.all("a", href=f"/jobs/hymn-chest/parts/{codes['rail.1']}")
    assert [row[1:] for row in page.rows("history")] == [
        ["a phone we do not know (bench-ph)", "Note: knot <b>here</b>"],
        ["a phone we do not know (bench-ph)", "Rough cut"],
    ]
    assert "Turn the <em>best</em> faces out." in page.text
    assert [item.get("class") for item in page.all("li")][:2] == ["is-done", "is-next"]


def test_the_name_of_a_phone_stands_for_its_device(
    office: FlaskClient, codes: dict[str, str], new_phone: Callable[..., FlaskClient], tell: Tell, app: Flask
) -> None:
    new_phone("Ida’s <b>phone</b>")
    with app.app_context():
        device = phones.all()[0].id
    tell(entry(1, device=device, part=codes["rail.1"], body={"step": "rough"}))

    page = read(office, f"/jobs/hymn-chest/parts/{codes['rail.1']}")

    assert page.rows("history")[0][1:] == ["Ida’s <b>phone</b>", "Rough cut"]


def at_odds(code: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Two phones that did not know of each other: milled, and not milled."""
    return (
        entry(1, part=code, device="one", body={"step": "mill"}),
        entry(2, part=code, device="two", kind="step_undone", body={"step": "mill"}),
    )


def test_what_two_phones_say_differently_stands_in_the_office_with_both_sides(
    office: FlaskClient, codes: dict[str, str], tell: Tell
) -> None:
    tell(*at_odds(codes["rail.1"]))

    job = read(office, "/jobs/hymn-chest")

    assert "a phone we do not know (one) says “Milled”" in job.text
    assert "a phone we do not know (two) says “Undone: milled”" in job.text
    assert job.all("a", href=f"/jobs/hymn-chest/parts/{codes['rail.1']}#trouble")
    assert "1 to settle" in read(office, "/").text
    assert read(office, "/jobs/hymn-chest/stacks/2").rows("parts")[0][-1] == "to settle"


@pytest.mark.parametrize(("done", "kind", "next_is"), [("yes", True, "length"), ("no", False, "mill")])
def test_the_office_settles_it_with_an_entry_that_names_both(
    app: Flask, office: FlaskClient, codes: dict[str, str], tell: Tell, done: str, kind: bool, next_is: str
) -> None:
    code = codes["rail.1"]
    tell(entry(9, part=code, body={"step": "rough"}), *at_odds(code))

    answer = office.post(f"/jobs/hymn-chest/parts/{code}/settle", data={"step": "mill", "done": done})

    assert answer.status_code == 303
    with app.app_context():
        rows = journal.rows_of_part(code)
    assert sorted(rows[-1]["entry"]["base"]) == [identity(1), identity(2)]
    state = fold(rows).steps["mill"]
    assert (state.done, state.disagreement) == (kind, False)
    page = read(office, f"/jobs/hymn-chest/parts/{code}")
    assert "To settle" not in page.text
    assert page.rows("history")[0][1] == "the office"
    assert f"next: {next_is}" in page.all("div", class_="rod", role="img")[0]["aria-label"]


@pytest.mark.parametrize(
    "form", [{}, {"step": "mill"}, {"step": "mill", "done": "perhaps"}, {"step": "x", "done": "yes"}]
)
def test_a_decision_about_nothing_is_refused_and_writes_nothing(
    app: Flask, office: FlaskClient, codes: dict[str, str], form: dict[str, str]
) -> None:
    answer = office.post(f"/jobs/hymn-chest/parts/{codes['rail.1']}/settle", data=form)

    assert answer.status_code == 400
    assert "There is nothing to settle" in answer.text or "nothing to settle" in answer.text
    with app.app_context():
        assert journal.latest_rev() == 0


def test_held_and_spoiled_parts_are_shown_with_their_reason_until_it_is_lifted(
    office: FlaskClient, codes: dict[str, str], tell: Tell
) -> None:
    tell(
        entry(1, part=codes["leg.left"], kind="held", body={"reason": "a <b>check</b>"}),
        entry(2, part=codes["rail.1"], kind="spoiled", body={"reason": "kicked back"}),
        entry(3, part=codes["rail.1"], kind="lifted", body={"lifts": [identity(2)]}),
    )

    text = read(office, "/jobs/hymn-chest").text

    assert "Holding things up Left & near leg <i>front</i> : held: a <b>check</b>" in text
    assert "kicked back" not in text


def test_what_needs_a_newer_version_and_what_was_set_aside_is_counted(
    office: FlaskClient, codes: dict[str, str], tell: Tell
) -> None:
    tell(entry(1, part=codes["rail.1"], kind="weighed"), {"id": "no entry"}, {"id": "nor this"})

    text = read(office, "/jobs/hymn-chest").text

    assert "1 entry needs a newer version of Facemark." in text
    assert "2 entries from the phones could not be understood. They are kept." in text


@pytest.mark.parametrize(
    ("address", "says"),
    [
        ("/jobs/none", "no job"),
        ("/jobs/hymn-chest/stacks/9", "has no stack 9"),
        ("/jobs/none/stacks/1", "no job"),
        ("/jobs/none/print", "no job"),
        ("/nowhere", "no such page"),
    ],
)
def test_what_is_not_there_is_said_in_one_sentence(
    office: FlaskClient, codes: dict[str, str], address: str, says: str
) -> None:
    page = read(office, address, status=404)

    assert says in page.text
    assert page.all("a", href="/")


def test_a_part_of_another_job_is_not_there(app: Flask, office: FlaskClient, codes: dict[str, str]) -> None:
    office.post("/demo")

    assert "has no part" in read(office, f"/jobs/choir-cabinet/parts/{codes['rail.1']}", status=404).text


def test_a_code_that_is_none_is_refused_and_a_chalked_one_is_read(office: FlaskClient, codes: dict[str, str]) -> None:
    chalked = show(codes["rail.1"]).lower()

    assert read(office, f"/jobs/hymn-chest/parts/{chalked}")
    assert read(office, "/jobs/hymn-chest/parts/AAAAAA", status=400)


def test_a_page_is_sent_again_only_when_something_has_changed(
    office: FlaskClient, codes: dict[str, str], tell: Tell
) -> None:
    address = "/jobs/hymn-chest"
    tag = office.get(address).headers["ETag"]

    same = office.get(address, headers={"If-None-Match": tag})
    tell(entry(1, part=codes["rail.1"], body={"step": "rough"}))
    other = office.get(address, headers={"If-None-Match": tag})

    assert (same.status_code, same.data) == (304, b"")
    assert (other.status_code, "1 of 8 steps done" in other.text) == (200, True)
    assert other.headers["ETag"] != tag


def test_a_job_in_millimetres_is_shown_in_millimetres(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(replace(small_job(), unit=Unit.MM))

    page = read(office, "/jobs/hymn-chest/stacks/2")

    # 3/4 = 19.05, 2 1/2 = 63.5, 20 = 508 mm; to a tenth, a half to the even one.
    assert page.rows("parts")[0][3] == "19 × 63.5 × 508"


def test_labels_are_printed_for_chosen_stacks_from_a_chosen_place(office: FlaskClient, codes: dict[str, str]) -> None:
    page = read(office, "/jobs/hymn-chest/print")

    form = page.all("form")[0]
    assert (form["action"], form["method"]) == ("/jobs/hymn-chest/labels.pdf", "get")
    assert [box["value"] for box in page.all("input", type="checkbox")] == ["1", "2"] * 2  # for labels, and for rods
    assert {"a4-3x8", "letter-3x10", "57x32"} <= {option["value"] for option in page.all("option")}
    pdf = office.get("/jobs/hymn-chest/labels.pdf?stacks=&stacks=2&sheet=a4-3x8&start=3")
    assert (pdf.status_code, pdf.data[:5]) == (200, b"%PDF-")
    assert office.get("/jobs/hymn-chest/labels.pdf?stacks=").status_code == 400


def test_the_form_of_the_job_document_is_published(office: FlaskClient) -> None:
    schema = json.loads(office.get("/schema/job.json").data)

    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "lines" in schema["properties"]


def test_a_moment_is_shown_for_each_entry(office: FlaskClient, codes: dict[str, str], tell: Tell) -> None:
    tell(entry(1, part=codes["rail.1"], at=NOON, body={"step": "rough"}), entry(2, part=codes["rail.1"], at=2**53 - 1))

    page = read(office, f"/jobs/hymn-chest/parts/{codes['rail.1']}")

    assert "at an unknown time" in [row[0] for row in page.rows("history")]
    assert len(page.all("time")) >= 1
