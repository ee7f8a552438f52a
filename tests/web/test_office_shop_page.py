"""The shop says what it has: cutters and seasons, in its own words and units, one sentence for each fault."""

from __future__ import annotations

from fractions import Fraction

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import shop
from shopfloor.trade.cutters import Cutters, first_cutters
from shopfloor.trade.length import MM, read
from shopfloor.trade.part import Unit
from shopfloor.trade.seasons import PRESETS, Seasons
from tests.web.office_shop import PageReader


def form_of(office: FlaskClient) -> dict[str, str]:
    page = PageReader(office.get("/shop").text)
    assert page.faults == []
    fields = {each["name"]: each["value"] for each in page.all("input") if each.get("type") != "radio"}
    unit = next(each["value"] for each in page.all("input", type="radio") if "checked" in each)
    house = next(each["value"] for each in page.all("option") if "selected" in each)
    return fields | {"unit": unit, "preset": house, "do": "keep"}


def keep(office: FlaskClient, status: int = 303, **typed: str) -> str:
    answer = office.post("/shop", data=form_of(office) | typed)
    assert answer.status_code == status, answer.text
    return answer.text


def test_a_shop_begins_with_customary_cutters_of_the_unit_that_is_asked_for(app: Flask) -> None:
    with app.app_context():
        assert shop.cutters().chisels[1] == read("1/4")
        assert shop.cutters(Unit.MM).chisels[1] == 6 * MM
        assert shop.seasons() == PRESETS[0].seasons(8)


def test_the_form_as_it_stands_keeps_what_there_is(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        before = shop.cutters(), shop.seasons(), shop.unit()

    keep(office)

    with app.app_context():
        assert (shop.cutters(), shop.seasons(), shop.unit()) == before


def test_cutters_are_kept_in_both_units_and_rising(app: Flask, office: FlaskClient) -> None:
    keep(office, chisels="1/2; 6 mm; 1/4 in", bits="", dado_stack="")

    with app.app_context():
        assert shop.cutters() == Cutters(chisels=(6 * MM, read("1/4"), read("1/2")))
        assert shop.cutters(Unit.MM) == shop.cutters(), "what a shop owns is the same in either unit"
    assert form_of(office)["chisels"] == "6 mm; 1/4; 1/2"


def test_a_shop_that_turns_to_millimetres_begins_with_metric_cutters(app: Flask, office: FlaskClient) -> None:
    keep(office, unit="mm")

    with app.app_context():
        assert shop.cutters() == first_cutters(Unit.MM)
    assert form_of(office)["bits"] == "6; 8; 10; 12; 16; 20"


@pytest.mark.parametrize(("typed", "dry", "build", "damp"), [
    ({"preset": "own", "dry": "5.5", "build": "7,5 %", "damp": "11"}, "11/2", "15/2", "11"),
    ({"preset": PRESETS[0].name, "dry": "5.5", "damp": "10"}, "11/2", "8", "10"),
    ({"preset": PRESETS[1].name, "build": "7"}, PRESETS[1].seasons(7).dry, "7", PRESETS[1].seasons(7).damp),
])  # fmt: skip
def test_seasons_are_a_house_or_own_numbers(
    app: Flask, office: FlaskClient, typed: dict[str, str], dry: str, build: str, damp: str
) -> None:
    keep(office, **typed)

    with app.app_context():
        assert shop.seasons() == Seasons(Fraction(dry), Fraction(build), Fraction(damp))
    assert form_of(office)["preset"] == ("own" if "dry" in typed else typed["preset"])


@pytest.mark.parametrize(("field", "text", "says"), [
    ("chisels", "10; wide", "not a size"),
    ("bits", "200", "under 1 mm or over 4 in"),
    ("dado_stack", "0.2 mm", "under 1 mm or over 4 in"),
    ("build", "dry", "no moisture in percent"),
    ("build", "44", "no moisture content to work with"),
])  # fmt: skip
def test_each_fault_is_one_sentence_beside_its_field_and_nothing_is_kept(
    app: Flask, office: FlaskClient, field: str, text: str, says: str
) -> None:
    page = PageReader(keep(office, 422, **{field: text, "unit": "mm"}))

    assert says in page.text
    assert [each["name"] for each in page.all("input") if each.get("aria-invalid")] == [field]
    assert next(each["value"] for each in page.all("input") if each.get("name") == field) == text
    with app.app_context():
        assert shop.cutters() == first_cutters(Unit.INCH) and shop.unit() is Unit.INCH


def test_dry_and_damp_the_wrong_way_round_and_no_cutter_at_all_are_said(office: FlaskClient) -> None:
    page = keep(office, 422, preset="own", dry="12", damp="5", chisels="", bits="", dado_stack="")

    assert "Exchange the two" in page
    assert "List at least one width" in page


def test_a_shop_goes_back_to_what_it_began_with(app: Flask, office: FlaskClient) -> None:
    keep(office, chisels="3/16", preset="own", dry="4")
    keep(office, do="first")

    with app.app_context():
        assert shop.cutters() == first_cutters(Unit.INCH)
        assert shop.seasons() == PRESETS[0].seasons(8)


def test_a_shop_is_called_what_it_wants_and_a_phone_that_joins_reads_it(app: Flask, office: FlaskClient) -> None:
    assert office.post("/shop/name", data={"shop-name": "  Alder \u202e and  Son "}).status_code == 303

    with app.app_context():
        assert shop.read().name == "Alder and Son"
    assert 'value="Alder and Son"' in office.get("/shop").text


@pytest.mark.parametrize("name", ["", "   ", "\u202e"])
def test_a_shop_without_a_name_keeps_the_one_it_has(app: Flask, office: FlaskClient, name: str) -> None:
    answer = office.post("/shop/name", data={"shop-name": name})

    assert answer.status_code == 422
    assert "A shop has a name." in answer.text
    with app.app_context():
        assert shop.read().name == shop.FIRST_NAME


def test_what_a_shop_begins_with_is_a_step_that_can_be_undone(app: Flask, office: FlaskClient) -> None:
    keep(office, chisels="1/2; 1/4", preset="own", dry="5", damp="11")
    with app.app_context():
        said = shop.cutters(), shop.seasons()
    assert 'value="undo"' not in office.get("/shop").text

    keep(office, do="first")
    page = office.get("/shop").text
    assert 'value="undo"' in page
    assert PageReader(page).faults == []
    keep(office, do="first")  # pressed twice, and what was said is still there
    keep(office, do="undo")

    with app.app_context():
        assert (shop.cutters(), shop.seasons()) == said
    assert 'value="undo"' not in office.get("/shop").text


def test_what_was_said_since_is_not_overwritten_by_an_undo_that_comes_late(app: Flask, office: FlaskClient) -> None:
    keep(office, chisels="1/2; 1/4")
    keep(office, do="first")
    keep(office, chisels="3/8")

    keep(office, do="undo")

    with app.app_context():
        assert shop.cutters().chisels == (read("3/8"),)
