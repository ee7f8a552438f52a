"""Every number of the trade stands on one page, with its source, in the unit asked for; a shop changes its habits."""

from __future__ import annotations

import re
from html import unescape

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import drafts, jobs, shop
from shopfloor.trade.construct.doors import Doors
from shopfloor.trade.fact import inch
from shopfloor.trade.facts import HABITS, facts
from shopfloor.trade.habit import PRINTED
from shopfloor.trade.length import MM
from shopfloor.trade.panel import CLEARANCE
from shopfloor.trade.proportions import MORTISE_EXTRA, TENON_SHARE
from shopfloor.web import packs
from tests.trade.test_joining import JOB as STAND
from tests.web.office_shop import PageReader


def row(page: str, key: str) -> str:
    found = re.search(rf'<tr id="fact-{re.escape(key)}">.*?</tr>', page, re.DOTALL)
    assert found, key
    return found[0]


def test_each_fact_stands_there_once_with_its_name_status_and_source(office: FlaskClient) -> None:
    page = office.get("/numbers").text

    assert len(re.findall(r'<tr id="fact-', page)) == len(facts()) > 100
    for fact in facts():
        shown = row(page, fact.key)
        for text in (fact.name, fact.source, fact.status.value):
            assert text in unescape(shown), fact.key


@pytest.mark.parametrize(("asked", "number"), [("", "1/8 in"), ("?unit=in", "1/8 in"), ("?unit=mm", "3 mm")])
def test_a_length_is_shown_in_the_unit_of_the_shop_or_the_one_asked_for(
    office: FlaskClient, asked: str, number: str
) -> None:
    assert number in row(office.get(f"/numbers{asked}").text, CLEARANCE.key)


@pytest.mark.parametrize(("key", "habit"), [("panel-clearance", True), ("movement-equation", False)])
def test_what_a_shop_may_change_is_told_from_what_it_may_not(office: FlaskClient, key: str, habit: bool) -> None:
    assert ("habit" in row(office.get("/numbers").text, key)) is habit


def test_the_shop_page_leads_there(office: FlaskClient) -> None:
    assert 'href="/numbers"' in office.get("/shop").text


# --- habits ------------------------------------------------------------------------------------------------------


def typed(office: FlaskClient, key: str, number: str, unit: str = "", status: int = 303) -> str:
    answer = office.post(f"/numbers/{key}{unit}", data={"do": "change", "number": number})
    assert answer.status_code == status, answer.text
    return answer.text


def test_a_changed_habit_stands_beside_the_printed_number_and_its_source(app: Flask, office: FlaskClient) -> None:
    typed(office, MORTISE_EXTRA.key, "3/32")

    shown = row(office.get("/numbers").text, MORTISE_EXTRA.key)
    assert "3/32 in" in shown and "changed; printed 1/16 in" in shown
    assert MORTISE_EXTRA.source in unescape(shown) and "for the printed number" in shown
    assert "1 habit changed" in office.get("/numbers").text
    with app.app_context():
        assert shop.habits().changed == {MORTISE_EXTRA.key: inch(3, 32)}


def test_one_press_sets_it_back(app: Flask, office: FlaskClient) -> None:
    before = office.get("/numbers").text
    typed(office, MORTISE_EXTRA.key, "3/32")
    typed(office, TENON_SHARE.key, "2/5")
    assert "Set back" in row(office.get("/numbers").text, MORTISE_EXTRA.key)

    for key in (MORTISE_EXTRA.key, TENON_SHARE.key):
        assert office.post(f"/numbers/{key}", data={"do": "back"}).status_code == 303

    assert office.get("/numbers").text == before
    with app.app_context():
        assert shop.habits() == PRINTED


def test_the_printed_number_typed_is_no_change(app: Flask, office: FlaskClient) -> None:
    typed(office, MORTISE_EXTRA.key, "1/16")
    typed(office, MORTISE_EXTRA.key, "1.5", "?unit=mm")

    with app.app_context():
        assert shop.habits() == PRINTED


def test_a_number_is_in_the_unit_of_the_page_unless_it_says_another(app: Flask, office: FlaskClient) -> None:
    typed(office, MORTISE_EXTRA.key, "2", "?unit=mm")
    with app.app_context():
        assert shop.habits().changed == {MORTISE_EXTRA.key: 2 * MM}

    typed(office, MORTISE_EXTRA.key, "2.5 mm")
    with app.app_context():
        assert shop.habits().changed == {MORTISE_EXTRA.key: 2_500_000}


def test_a_number_outside_of_what_the_trade_uses_is_kept_with_a_word(office: FlaskClient) -> None:
    typed(office, MORTISE_EXTRA.key, "1/4")

    shown = row(office.get("/numbers").text, MORTISE_EXTRA.key)
    assert "Outside of what the trade uses, 1/16 in to 1/8 in." in shown
    typed(office, MORTISE_EXTRA.key, "1/8")
    assert "Outside" not in row(office.get("/numbers").text, MORTISE_EXTRA.key)


@pytest.mark.parametrize(("key", "number", "says"), [
    (MORTISE_EXTRA.key, "a hair", "not a size"),
    (MORTISE_EXTRA.key, "12 ft", "cannot be meant"),
    (TENON_SHARE.key, "a third", "is no share"),
    (TENON_SHARE.key, "", "is no share"),
])  # fmt: skip
def test_what_cannot_be_meant_is_one_sentence_and_nothing_is_lost(
    app: Flask, office: FlaskClient, key: str, number: str, says: str
) -> None:
    typed(office, MORTISE_EXTRA.key, "3/32")

    shown = row(typed(office, key, number, status=422), key)

    assert says in unescape(shown) and f'value="{number}"' in shown and "<details open>" in shown
    assert shown.count("aria-invalid") == 1
    with app.app_context():
        assert shop.habits().changed == {MORTISE_EXTRA.key: inch(3, 32)}


@pytest.mark.parametrize("key", ["movement-equation", "snipe", "nothing"])
def test_what_is_no_habit_to_be_changed_is_refused_and_has_no_field(app: Flask, office: FlaskClient, key: str) -> None:
    assert "habit" in typed(office, key, "1", status=400)
    assert f"/numbers/{key}" not in office.get("/numbers").text
    with app.app_context():
        assert shop.habits() == PRINTED


def test_every_habit_that_counts_has_a_field(office: FlaskClient) -> None:
    page = PageReader(office.get("/numbers").text)

    assert page.faults == []
    assert {form["action"] for form in page.all("form")} == {f"/numbers/{key}" for key in HABITS}


def test_a_number_that_was_kept_and_is_no_habit_any_more_is_left_out(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        shop.keep_habit("of-an-older-app", 1)
        shop.keep_habit(MORTISE_EXTRA.key, inch(3, 32))

        assert shop.habits().changed == {MORTISE_EXTRA.key: inch(3, 32)}
    assert office.get("/numbers").status_code == 200


def words(page: str) -> str:
    """What is read on a page; a fraction is one word."""
    return " ".join(unescape(re.sub(r"<[^>]*>", "", page)).split())


# --- what they change --------------------------------------------------------------------------------------------


def test_a_joint_is_proposed_by_the_changed_habit(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(STAND)
    asked = {"do": "propose", "kind": "mortise and tenon", "comes": "rail", "mate": "leg", "end": "datum end",
             "face": "face edge", "at": "2"}  # fmt: skip
    before = office.post("/jobs/stand/join", data=asked).text
    assert 'name="0.length" value="1 1/8"' in before and 'name="0.beyond" value="1/16"' in before

    typed(office, "tenon-blind-length", "1/2")  # of the leg's 1 3/4: 7/8
    typed(office, MORTISE_EXTRA.key, "1/8")

    after = office.post("/jobs/stand/join", data=asked).text
    assert 'name="0.length" value="7/8"' in after and 'name="0.beyond" value="1/8"' in after


def test_a_construction_begins_by_the_changed_habit_and_one_that_is_saved_waits_to_be_asked(
    app: Flask, office: FlaskClient
) -> None:
    with app.app_context():
        packs.save(demo_job(), "the demo")
    address = "/jobs/choir-cabinet/design"
    assert "by habit" not in office.get(address).text

    typed(office, MORTISE_EXTRA.key, "3/32")

    with app.app_context():
        assert drafts.read("choir-cabinet").job == demo_job()
    page = words(office.get(address).text)
    assert "Nothing has been changed since revision 1" in page
    assert "Tenons of the rails, mortise deeper by (left side, right side, back): 1/16 in, then 3/32 in" in page
    # Put in anew, it begins so.
    office.post("/new-job", data={"name": "Stand", "unit": "in"})
    office.post("/jobs/stand/design", data={"do": "add", "kind": "doors", "key": "door"})
    with app.app_context():
        (door,) = drafts.read("stand").job.constructions
        assert isinstance(door, Doors) and door.frame.tenon.extra == inch(3, 32)


def test_asked_for_the_sizes_of_a_changed_habit_are_a_step_that_names_what_is_different(
    app: Flask, office: FlaskClient
) -> None:
    with app.app_context():
        packs.save(demo_job(), "the demo")
    address = "/jobs/choir-cabinet/design"
    typed(office, MORTISE_EXTRA.key, "1/8")

    assert office.post(address, data={"do": "habits:cabinet"}).status_code == 303

    page = words(office.get(address).text)
    assert "Last: cabinet: sizes by the shop's habits" in page
    assert "mortise" in page and "depth 15⁄16, now 1" in page  # 7/8 + 1/16, now 7/8 + 1/8
    assert "Take these sizes by habit" not in page
    with app.app_context():
        assert jobs.latest("choir-cabinet") == (demo_job(), 1)
    office.post(address, data={"do": "undo"})
    with app.app_context():
        assert drafts.read("choir-cabinet").job == demo_job()
