"""A stack can be called something else: its number, labels and letters stay, and what follows goes on following."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import drafts, jobs
from shopfloor.trade.document import from_json, from_toml, to_json, to_toml
from shopfloor.trade.part import Job
from shopfloor.web import packs
from tests.web.office_shop import PageReader, small_job
from tests.web.test_office_lines import change, fields_of, job_of

CHEST = "hymn-chest"
CABINET = "choir-cabinet"
DEMO = demo_job()
LEFT = next(each for each in DEMO.assemblies if each.name == "Left side")


@pytest.fixture
def shop(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(small_job())
        jobs.save(DEMO)
    return app


def called(job: Job) -> dict[int, str]:
    return {each.number: each.name for each in job.assemblies}


def rename(office: FlaskClient, names: dict[int, str], key: str = CHEST, status: int = 303) -> str:
    """Type names over those of the stacks with these numbers; rows run by number, from 1."""
    return change(
        office, {f"{n - 1}.called": name for n, name in names.items()}, status, f"/jobs/{key}/lines", "stacks"
    )


def test_a_typed_stack_gets_another_name_and_all_else_of_the_job_stays(shop: Flask, office: FlaskClient) -> None:
    rename(office, {2: "  Front   frame "})

    job = job_of(shop)
    assert called(job) == {1: "Legs", 2: "Front frame"}
    assert (job.lines, job.joints) == (small_job().lines, small_job().joints)
    assert [each.key for each in job.assemblies] == ["legs", "front"]
    with shop.app_context():
        assert drafts.read(CHEST).undo == "stack 2 called Front frame"


def test_names_as_they_stand_change_nothing(shop: Flask, office: FlaskClient) -> None:
    for key in (CHEST, CABINET):
        rename(office, {}, key)
        with shop.app_context():
            assert not drafts.read(key).changed


def test_two_stacks_can_change_their_names_for_each_other(shop: Flask, office: FlaskClient) -> None:
    rename(office, {1: "Front <u>frame</u>", 2: "Legs"})

    assert called(job_of(shop)) == {1: "Front <u>frame</u>", 2: "Legs"}


@pytest.mark.parametrize(("name", "says"), [
    (" ", "The stack has no name."),
    ("LEGS", 'Stack 1 is called "LEGS"'),
    ("x" * 61, "It has 61 letters. 60 fit."),
    ("Fro\x07nt", "a character that cannot be printed"),
])  # fmt: skip
def test_a_name_that_will_not_do_stays_in_its_field_and_the_other_is_not_lost(
    shop: Flask, office: FlaskClient, name: str, says: str
) -> None:
    other = "Legs" if name == "LEGS" else "Four legs"
    text = rename(office, {1: other, 2: name}, status=422)

    assert says.replace('"LEGS"', "&#34;LEGS&#34;") in text
    values = {each["name"]: each["value"] for each in PageReader(text).all("input") if "name" in each}
    assert (values["0.called"], values["1.called"]) == (other, name)
    assert job_of(shop) == small_job()


def test_a_stack_of_a_construction_keeps_its_name_when_the_construction_changes(
    shop: Flask, office: FlaskClient
) -> None:
    rename(office, {LEFT.number: "Organ side"}, CABINET)
    for left_there in ({}, {"left.there": "yes"}):  # taken out, and put back: the name is not forgotten
        data = {"do": "change:cabinet", "width": "27", "left.asked": "yes", **left_there}
        assert office.post(f"/jobs/{CABINET}/design", data=data).status_code == 303

    job = job_of(shop, CABINET)
    renamed = next(each for each in job.assemblies if each.key == LEFT.key)
    assert (renamed.name, renamed.made_by) == ("Organ side", LEFT.made_by)
    assert {each.name for each in job.assemblies} - {each.name for each in DEMO.assemblies} == {"Organ side"}
    assert from_json(to_json(job)) == job == from_toml(to_toml(job))


def test_it_is_said_that_a_name_was_given_by_hand_and_an_empty_one_follows_again(
    shop: Flask, office: FlaskClient
) -> None:
    rename(office, {LEFT.number: "Organ side"}, CABINET)
    assert "Named by hand; else Left side." in office.get(f"/jobs/{CABINET}/lines").text

    rename(office, {LEFT.number: ""}, CABINET)

    assert job_of(shop, CABINET) == DEMO
    assert "Named by hand" not in office.get(f"/jobs/{CABINET}/lines").text


def test_the_name_that_follows_anyway_typed_is_no_name_by_hand(shop: Flask, office: FlaskClient) -> None:
    rename(office, {LEFT.number: "Organ side"}, CABINET)
    rename(office, {LEFT.number: "Left side"}, CABINET)

    assert job_of(shop, CABINET) == DEMO


def test_a_construction_taken_apart_leaves_its_stacks_with_the_names_by_hand(shop: Flask, office: FlaskClient) -> None:
    rename(office, {LEFT.number: "Organ side"}, CABINET)
    office.post(f"/jobs/{CABINET}/lines", data={"do": "take-apart:cabinet"})

    assert called(job_of(shop, CABINET))[LEFT.number] == "Organ side"
    rename(office, {LEFT.number: "Window side"}, CABINET)
    assert called(job_of(shop, CABINET))[LEFT.number] == "Window side"


def test_a_row_of_a_stack_that_is_gone_meanwhile_changes_nothing(shop: Flask, office: FlaskClient) -> None:
    old = fields_of(office) | {"1.called": "Front frame", "do": "stacks"}
    change(office, {"1.remove": "yes"})

    assert office.post(f"/jobs/{CHEST}/lines", data=old).status_code == 303
    assert called(job_of(shop)) == {1: "Legs"}


@pytest.mark.parametrize(("key", "number", "was"), [(CHEST, 1, "Legs"), (CABINET, LEFT.number, "Left side")])
def test_the_difference_names_the_stack_once_and_the_packs_have_its_new_name(
    shop: Flask, office: FlaskClient, phone: FlaskClient, key: str, number: int, was: str
) -> None:
    with shop.app_context():
        codes = jobs.codes(key)
    before = phone.get(f"/pack/{key}").get_json()
    rename(office, {number: "Trestle"}, key)

    page = PageReader(office.get(f"/jobs/{key}/design").text).text
    assert page.count("Trestle, now") == 0 and page.count(f"stack {number}: {was}, now Trestle") == 1
    assert "Cut already" not in page
    office.post(f"/jobs/{key}/design", data={"do": "save"})
    shop.extensions[packs.PACKS].settle()

    after = phone.get(f"/pack/{key}").get_json()
    assert after["etag"] != before["etag"]
    stack = next(each for each in after["stacks"] if each["number"] == number)
    assert stack["name"] == "Trestle"
    assert stack["code"] == next(each for each in before["stacks"] if each["number"] == number)["code"]
    assert [(each["code"], each["letters"]) for each in after["parts"]] == [
        (each["code"], each["letters"]) for each in before["parts"]
    ]
    with shop.app_context():
        assert jobs.codes(key) == codes
