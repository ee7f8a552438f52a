"""Lines and joints are edited as tables: every change is a step, keys stay, and what is refused loses nothing."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import drafts, jobs
from shopfloor.trade.document import check
from shopfloor.trade.length import MM, read
from shopfloor.trade.part import Assembly, Job, Line, Mortise, Part, Tenon
from shopfloor.trade.revision import changes
from tests.web.office_shop import PageReader, small_job

KEY = "hymn-chest"
PAGE = f"/jobs/{KEY}/lines"


@pytest.fixture
def chest(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(small_job())
    return app


def fields_of(office: FlaskClient, address: str = PAGE) -> dict[str, str]:
    """What a browser would send of the page's inputs and selects."""
    text = office.get(address).text
    page = PageReader(text)
    assert page.faults == []
    found = {
        each["name"]: each.get("value", "")
        for each in page.all("input")
        if "name" in each and (each.get("type") != "checkbox" or "checked" in each)
    }
    for name, options in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', text, re.DOTALL):
        chosen = re.findall(r'<option value="([^"]*)" selected', options) or re.findall(
            r'<option value="([^"]*)"', options
        )
        found[name] = chosen[0] if chosen else ""
    return found


def change(
    office: FlaskClient, typed: dict[str, str], status: int = 303, address: str = PAGE, do: str = "lines"
) -> str:
    answer = office.post(address, data=fields_of(office, address) | typed | {"do": do})
    assert answer.status_code == status, answer.text
    return answer.text


def job_of(app: Flask, key: str = KEY) -> Job:
    with app.app_context():
        return drafts.read(key).job


def test_the_table_as_it_stands_changes_nothing(chest: Flask, office: FlaskClient) -> None:
    change(office, {})

    with chest.app_context():
        assert not drafts.read(KEY).changed


def test_whatever_a_cut_list_brings_can_be_changed_in_the_table(app: Flask, office: FlaskClient) -> None:
    slat = Line(
        "slat", "seat", "Slat " * 40, read("1/2"), read("2"), read("40"), note="one\ntwo " * 200,
        parts=tuple(Part(f"slat.{nth}") for nth in range(500)),
    )  # fmt: skip
    seat = Assembly("seat", 1, "Seat " * 30)
    with app.app_context():
        jobs.save(Job("bench", "Bench", assemblies=(seat,), lines=(slat,)))

    change(office, {"0.length": "41"}, address="/jobs/bench/lines")

    assert job_of(app, "bench").lines == (replace(slat, length=read("41")),)
    assert job_of(app, "bench").assemblies == (seat,)


def test_several_rows_are_one_step_that_can_be_undone(chest: Flask, office: FlaskClient) -> None:
    change(office, {"0.length": "36 1/2", "1.width": "65 mm", "1.species": "ash", "1.note": "quarter sawn"})

    leg, rail = job_of(chest).lines
    assert leg.length == read("36 1/2")
    assert (rail.width, rail.species, rail.note) == (65 * MM, "ash", "quarter sawn")
    with chest.app_context():
        assert drafts.read(KEY).undo == "Leg <i>front</i>: length and 1 more"
    change(office, {}, do="undo")
    assert job_of(chest) == small_job()
    change(office, {}, do="redo")
    assert job_of(chest).lines[0].length == read("36 1/2")


@pytest.mark.parametrize(("count", "parts", "joints"), [
    ("4", ["leg.left", "leg.right", "leg.1", "leg.2"], ["2A", "2B"]),
    ("1", ["leg.left"], ["2A"]),
])  # fmt: skip
def test_more_parts_get_keys_of_their_own_and_fewer_go_from_the_end_with_their_joints(
    chest: Flask, office: FlaskClient, count: str, parts: list[str], joints: list[str]
) -> None:
    change(office, {"0.count": count})

    job = job_of(chest)
    assert [part.key for part in job.lines[0].parts] == parts
    assert [joint.letter for joint in job.joints] == joints
    assert check(job) == []


def test_the_empty_row_adds_a_line_in_a_stack_that_is_there_or_new(chest: Flask, office: FlaskClient) -> None:
    change(office, {"2.name": "Lid board", "2.count": "3", "2.thickness": "3/4", "2.width": "5", "2.length": "30"})
    change(office, {"3.name": "Tray", "3.thickness": "12mm", "3.width": "4", "3.length": "9", "3.stack": "Till"})
    change(office, {"4.name": "Tray", "4.thickness": "1/2", "4.width": "3", "4.length": "9", "4.stack": "till"})

    job = job_of(chest)
    lid, tray, other = job.lines[2:]
    assert lid.assembly == "front" and [part.key for part in lid.parts] == [f"lid-board.{n}" for n in (1, 2, 3)]
    assert [(each.key, each.number) for each in job.assemblies] == [("legs", 1), ("front", 2), ("till", 3)]
    assert (tray.key, tray.assembly, tray.thickness) == ("tray", "till", 12 * MM)
    assert (other.key, other.assembly) == ("tray-2", "till")
    assert check(job) == []


def test_a_line_that_is_taken_out_takes_its_joints_and_its_empty_stack_along(chest: Flask, office: FlaskClient) -> None:
    change(office, {"1.remove": "yes"})

    job = job_of(chest)
    assert [line.key for line in job.lines] == ["leg"]
    assert [each.key for each in job.assemblies] == ["legs"]
    assert job.joints == ()


@pytest.mark.parametrize(("field", "text", "says"), [
    ("0.width", "broad", "not a size"),
    ("0.width", "", "There is no width"),
    ("0.length", "0", "more than nothing"),
    ("0.length", "-4", "less than nothing"),
    ("1.count", "0", "no number of parts"),
    ("1.count", "10000", "no number of parts"),
    ("1.count", "²", "no number of parts"),
    ("1.name", " ", "no name"),
    ("2.name", "Lid", "There is no thickness"),
    ("1.note", "x" * 500, "500 letters"),
])  # fmt: skip
def test_what_cannot_be_read_stays_in_its_field_and_nothing_else_is_lost(
    chest: Flask, office: FlaskClient, field: str, text: str, says: str
) -> None:
    page = PageReader(change(office, {"0.species": "plum", field: text}, 422))

    assert page.faults == []
    values = {each["name"]: each.get("value", "") for each in page.all("input") if "name" in each}
    assert values[field] == text and values["0.species"] == "plum"
    assert says in page.text
    assert job_of(chest) == small_job()


def test_a_row_of_a_line_that_is_gone_meanwhile_changes_nothing(chest: Flask, office: FlaskClient) -> None:
    old = fields_of(office) | {"1.length": "21"}
    change(office, {"1.remove": "yes"})

    answer = office.post(PAGE, data=old | {"do": "lines"})

    assert answer.status_code == 303
    assert [line.key for line in job_of(chest).lines] == ["leg"]


def test_lines_of_a_construction_are_read_and_become_typed_lines_when_it_is_taken_apart(
    app: Flask, office: FlaskClient
) -> None:
    with app.app_context():
        jobs.save(demo_job())
    address = "/jobs/choir-cabinet/lines"
    before = demo_job()
    assert "0.key" in fields_of(office, address) and "1.key" not in fields_of(office, address)

    answer = office.post(address, data={"do": "take-apart:cabinet"})

    assert answer.status_code == 303
    job = job_of(app, "choir-cabinet")
    assert job.constructions == () and not any(each.made_by for each in job.assemblies)
    assert job.lines == before.lines and job.joints == before.joints
    assert not changes(before, job).touched
    assert len([name for name in fields_of(office, address) if name.endswith(".key")]) == len(job.lines) + 1
    office.post(address, data={"do": "undo"})
    assert job_of(app, "choir-cabinet") == before


def test_the_name_of_a_stack_that_follows_from_a_construction_is_refused(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(demo_job())
    taken = demo_job().assemblies[0].name
    row = {"0.name": "Peg", "0.thickness": "1/2", "0.width": "1/2", "0.length": "2", "0.stack": taken}

    page = change(office, row, 422, "/jobs/choir-cabinet/lines")

    assert "a name of its own" in page


def test_a_line_typed_beside_a_construction_stays_when_the_construction_changes(
    app: Flask, office: FlaskClient
) -> None:
    with app.app_context():
        jobs.save(demo_job())
    row = {"0.name": "Peg", "0.thickness": "1/2", "0.width": "1/2", "0.length": "2"}

    change(office, row, address="/jobs/choir-cabinet/lines")

    job = job_of(app, "choir-cabinet")
    assert job.lines[0].key == "peg" and job.lines[1:] == demo_job().lines
    numbers = [each.number for each in job.assemblies]
    assert len(set(numbers)) == len(numbers) and check(job) == []


# --- the cuts of one line ----------------------------------------------------------------------------------------


def test_the_cuts_of_a_line_are_a_form_beside_its_drawing(chest: Flask, office: FlaskClient) -> None:
    address = f"{PAGE}/leg"
    change(office, {"features.0.depth": "7/8"}, address=address, do="change")

    (mortise,) = job_of(chest).lines[0].features
    assert isinstance(mortise, Mortise) and mortise.depth == read("7/8")
    assert "<svg" in office.get(address).text


def test_a_cut_that_comes_out_of_the_part_is_said_and_the_draft_keeps_it(chest: Flask, office: FlaskClient) -> None:
    address = f"{PAGE}/leg"
    change(office, {"features.0.depth": "3"}, address=address, do="change")

    page = PageReader(office.get(address).text).text
    assert "Cannot be saved so" in page and "1 3/4" in page


def test_a_thin_wall_is_a_warning_beside_the_cuts(chest: Flask, office: FlaskClient) -> None:
    address = f"{PAGE}/leg"
    change(office, {"features.0.depth": "1 11/16"}, address=address, do="change")

    page = PageReader(office.get(address).text).text
    assert "To look at" in page and "Cannot be saved so" not in page


def test_a_cut_that_is_renamed_keeps_its_joint_and_one_that_is_taken_out_takes_it_along(
    chest: Flask, office: FlaskClient
) -> None:
    address = f"{PAGE}/rail"
    change(office, {"features.0.key": "left-tenon"}, address=address, do="change")
    assert [joint.enters.feature for joint in job_of(chest).joints] == ["left-tenon", "b"]

    change(office, {"features.0.remove": "yes"}, address=address, do="change")

    job = job_of(chest)
    assert [joint.letter for joint in job.joints] == ["2B"]
    assert [each.key for each in job.lines[1].features] == ["b"]
    assert check(job) == []


def test_a_cut_is_added_with_sizes_that_can_be_built(chest: Flask, office: FlaskClient) -> None:
    change(office, {"features.add": "groove"}, address=f"{PAGE}/rail", do="change")

    assert job_of(chest).lines[1].features[-1].kind == "groove"
    assert check(job_of(chest)) == []


def test_a_cut_that_cannot_be_read_stays_in_its_field(chest: Flask, office: FlaskClient) -> None:
    text = change(office, {"features.0.depth": "deep"}, 422, f"{PAGE}/leg", "change")

    assert 'value="deep"' in text and job_of(chest) == small_job()


# --- joints ------------------------------------------------------------------------------------------------------


def test_joints_are_listed_by_their_letters_with_both_cuts(chest: Flask, office: FlaskClient) -> None:
    rows = PageReader(office.get(PAGE).text).rows("joints")

    assert [row[:3] for row in rows] == [
        ["2A", "Rail: a", "Left & near leg <i>front</i>: m"],
        ["2B", "Rail: b", "Right leg <i>front</i>: m"],
    ]


def test_a_joint_that_is_taken_out_takes_the_cuts_along_that_nothing_else_needs(
    chest: Flask, office: FlaskClient
) -> None:
    change(office, {}, do="part-joint:left")

    leg, rail = job_of(chest).lines
    assert [each.key for each in rail.features] == ["b"]
    assert [each.key for each in leg.features] == ["m"], "the right leg needs its mortise still"

    change(office, {}, do="part-joint:right")

    leg, rail = job_of(chest).lines
    assert leg.features == rail.features == ()
    assert not any(isinstance(each, Tenon) for each in rail.features)


@pytest.mark.parametrize("do", ["part-joint:nothing", "take-apart:nothing", "else", ""])
def test_what_is_not_there_is_refused_in_a_sentence(chest: Flask, office: FlaskClient, do: str) -> None:
    page = PageReader(change(office, {}, 422, do=do))

    assert page.all("p", role="alert")
    assert job_of(chest) == small_job()
