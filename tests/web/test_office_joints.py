"""Two typed parts are joined on one page: sizes are proposed, can be overridden, are looked at, and then cut."""

from __future__ import annotations

from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import drafts, jobs, shop
from shopfloor.trade.cutters import Cutters
from shopfloor.trade.document import check
from shopfloor.trade.fact import inch
from shopfloor.trade.joining import Kind
from shopfloor.trade.part import Groove, Half, HalfLap, Job, Mortise, Tenon, Unit
from tests.trade.test_joining import JOB, SLAT, STILE
from tests.web.office_shop import PageReader
from tests.web.test_office_lines import fields_of

PAGE = "/jobs/stand/join"
RAIL = {"kind": "mortise and tenon", "comes": "rail", "end": "datum end", "mate": "leg", "face": "face edge"}


@pytest.fixture
def stand(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(JOB)
    return app


def post(office: FlaskClient, form: dict[str, str], status: int = 200) -> str:
    answer = office.post(PAGE, data=form)
    assert answer.status_code == status, answer.text
    return answer.text


def form_in(text: str) -> dict[str, str]:
    """What a browser would send of a page that was answered."""
    return fields_of(_Answered(text), PAGE)  # type: ignore[arg-type]


class _Answered:
    def __init__(self, text: str) -> None:
        self.text = text

    def get(self, _: str) -> _Answered:
        return self


def job_of(app: Flask) -> Job:
    with app.app_context():
        return drafts.read("stand").job


def test_sizes_are_proposed_looked_at_and_taken(stand: Flask, office: FlaskClient) -> None:
    text = post(office, RAIL | {"at": "2", "do": "propose"})
    form = form_in(text)
    assert (form["0.thickness"], form["0.length"], form["0.width"]) == ("3/8", "1 1/8", "2")
    # A gap of 0.002 in in all: an inch job has thou, and not 0.0254 mm.
    assert form["0.cheek"] == "0.001"
    assert (form["pair.rail.front"], form["pair.rail.back"]) == ("leg.fl", "leg.br")
    assert text.count("<svg") >= 2 and job_of(stand) == JOB

    post(office, form | {"do": "take"}, 303)

    job = job_of(stand)
    rail, leg = job.lines
    (tenon,), (mortise,) = rail.features, leg.features
    assert isinstance(tenon, Tenon) and isinstance(mortise, Mortise)
    assert mortise.start + mortise.length // 2 == inch(2) + inch(40, 32)
    assert [each.letter for each in job.joints] == ["4A", "4B"]
    assert job.joints[1].takes == Half("leg.br", "mortise")
    assert check(job) == []
    office.post("/jobs/stand/lines", data={"do": "undo"})
    assert job_of(stand) == JOB


def test_sizes_and_the_fit_can_be_overridden_before_they_are_taken(stand: Flask, office: FlaskClient) -> None:
    form = form_in(post(office, RAIL | {"do": "propose"}))
    over = {"0.length": "1", "0.thickness": "1/4", "0.cheek": "0.1 mm", "0.beyond": "1/8", "pair.rail.back": ""}

    form = form_in(post(office, form | over | {"note": "drawbored\x07 ", "do": "look"}))
    assert form["0.length"] == "1"
    post(office, form | {"do": "take"}, 303)

    job = job_of(stand)
    tenon, mortise = job.lines[0].features[0], job.lines[1].features[0]
    assert isinstance(tenon, Tenon) and isinstance(mortise, Mortise)
    assert (mortise.width, mortise.depth, tenon.length) == (inch(1, 4), inch(9, 8), inch(1))
    assert mortise.width - tenon.thickness == 200_000
    assert [(each.enters.part, each.note) for each in job.joints] == [("rail.front", "drawbored")]


def test_the_shops_own_cutters_decide(stand: Flask, office: FlaskClient) -> None:
    with stand.app_context():
        shop.keep_cutters(Cutters(chisels=(inch(5, 16),)))

    assert form_in(post(office, RAIL | {"do": "propose"}))["0.thickness"] == "5/16"


def test_sizes_that_were_proposed_for_another_joint_are_proposed_anew(stand: Flask, office: FlaskClient) -> None:
    form = form_in(post(office, RAIL | {"do": "propose"}))

    lap = form_in(post(office, form | {"kind": "half lap", "0.depth": "9", "do": "look"}))

    assert lap["0.depth"] == "0"


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_can_be_proposed_and_taken(app: Flask, office: FlaskClient, kind: Kind) -> None:
    with app.app_context():
        jobs.save(replace(JOB, lines=(SLAT, STILE)))
    face = "face side" if kind is Kind.DOVETAILS else "face edge"
    form = {"kind": kind.value, "comes": "slat", "mate": "stile", "end": "far end", "face": face, "at": "1"}

    text = post(office, form | {"do": "propose"})
    assert PageReader(text).faults == []
    post(office, form_in(text) | {"do": "take"}, 303)

    job = job_of(app)
    assert [each.letter for each in job.joints] == ["4A"]
    assert [len(each.features) for each in job.lines] == [1, 1] and check(job) == []


@pytest.mark.parametrize(("field", "typed", "says"), [
    ("comes", "", "Choose a line"), ("mate", "rail", "cannot be joined to itself"), ("kind", "glue", "Choose one"),
    ("at", "high", "not a size"), ("behind", "-1", "less than nothing"), ("lap", "x", "not a size"),
])  # fmt: skip
def test_what_is_missing_or_cannot_be_read_is_said_beside_its_field(
    stand: Flask, office: FlaskClient, field: str, typed: str, says: str
) -> None:
    page = PageReader(post(office, RAIL | {"at": "2", field: typed, "do": "propose"}, 422))

    assert says in page.text and page.faults == []
    assert [each["name"] for each in (*page.all("input"), *page.all("select")) if each.get("aria-invalid")] == [field]


def test_a_size_that_cannot_be_read_stays_in_its_field(stand: Flask, office: FlaskClient) -> None:
    form = form_in(post(office, RAIL | {"do": "propose"}))

    text = post(office, form | {"0.length": "long", "0.cheek": "tight", "0.width": "1 3/4", "do": "take"}, 422)

    again = form_in(text)
    assert (again["0.length"], again["0.cheek"], again["0.width"]) == ("long", "tight", "1 3/4")
    assert text.count("not a size") == 2 and job_of(stand) == JOB


@pytest.mark.parametrize(("form", "says"), [
    ({"end": "face edge"}, "is at an end"),
    ({"kind": "dovetails", "lap": "5"}, "nothing for the tails"),
    ({"pair.rail.front": "", "pair.rail.back": ""}, "no two parts"),
])  # fmt: skip
def test_what_cannot_be_joined_is_said_and_the_rest_stays(
    stand: Flask, office: FlaskClient, form: dict[str, str], says: str
) -> None:
    text = post(office, RAIL | {"at": "3", "do": "look"} | form, 422)

    assert says in text.lower()
    assert form_in(text)["at"] == "3" and job_of(stand) == JOB


def test_a_joint_that_breaks_out_is_flagged_before_it_is_taken(stand: Flask, office: FlaskClient) -> None:
    text = post(office, RAIL | {"at": "35", "do": "propose"})

    assert "Cannot be saved so" in text


def test_a_job_in_millimetres_is_proposed_in_millimetres(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(replace(JOB, unit=Unit.MM))

    assert form_in(post(office, RAIL | {"do": "propose"}))["0.thickness"] == "10"


def test_a_tenon_out_of_the_trade_s_range_is_told_where_it_is_proposed(stand: Flask, office: FlaskClient) -> None:
    with stand.app_context():
        shop.keep_cutters(Cutters(chisels=(inch(5, 8),)))

    text = post(office, RAIL | {"at": "2", "do": "propose"})

    assert form_in(text)["0.thickness"] == "5/8"
    assert "a mortise 5/8 in wide is unusual for stock 3/4 in thick. The trade takes a chisel or bit of 3/16 in" in text


def test_a_job_of_softwood_is_proposed_steeper_dovetails(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(replace(JOB, species="white pine"))

    text = post(office, RAIL | {"kind": "dovetails", "face": "face side", "do": "propose"})

    assert form_in(text)["0.slope"] == "6"


def test_a_haunch_is_proposed_and_its_width_moves_the_tenon(stand: Flask, office: FlaskClient) -> None:
    form = form_in(post(office, RAIL | {"haunch": "yes", "do": "propose"}))

    # Half of the rail's 2 1/2 less the shoulder of 1/4 is the tenon; as long as a groove of 3/8 would be deep.
    assert (form["0.haunch_length"], form["0.haunch_width"], form["0.width"]) == ("3/8", "1 1/4", "1")
    assert "0.edge_offset" not in form, "the tenon begins where its haunch ends"

    form = form_in(post(office, form | {"0.haunch_width": "3/4", "0.width": "1 1/2", "do": "look"}))
    assert form["haunch"] == "yes"
    post(office, form | {"do": "take"}, 303)

    job = job_of(stand)
    (tenon,), (mortise, pocket) = (line.features for line in job.lines)
    assert isinstance(tenon, Tenon) and isinstance(mortise, Mortise) and isinstance(pocket, Groove)
    assert (tenon.haunch_width, tenon.edge_offset, tenon.width) == (inch(3, 4), inch(3, 4), inch(3, 2))
    assert (pocket.start, pocket.depth) == (0, inch(7, 16))
    assert inch(3, 4) <= pocket.length <= inch(3, 4) + inch(1, 64)
    assert [each.letter for each in job.joints] == ["4A", "4B"] and check(job) == []


def test_sizes_without_a_haunch_mean_nothing_once_one_is_asked_for(stand: Flask, office: FlaskClient) -> None:
    plain = form_in(post(office, RAIL | {"do": "propose"}))
    assert "0.haunch_width" not in plain

    form = form_in(post(office, plain | {"haunch": "yes", "do": "look"}))

    assert (form["0.width"], form["0.haunch_width"]) == ("1", "1 1/4")


def test_two_slats_are_crossed_away_from_their_ends(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(replace(JOB, lines=(SLAT, STILE)))
    form = {"kind": "half lap", "comes": "slat", "mate": "stile", "end": "far end", "face": "face edge"}

    text = post(office, form | {"at": "10", "past": "5", "do": "propose"})
    assert PageReader(text).faults == [] and text.count("<svg") >= 2
    post(office, form_in(text) | {"do": "take"}, 303)

    # The slat is 18 3/4 long: its lap lies 5 in from the far end, over the stile's 2 1/2.
    (own,), (its,) = (line.features for line in job_of(app).lines)
    assert isinstance(own, HalfLap) and isinstance(its, HalfLap)
    assert (own.start, own.length, its.start) == (inch(45, 4), inch(5, 2), inch(10))
    assert check(job_of(app)) == []


@pytest.mark.parametrize(("form", "says"), [
    ({"haunch": "yes", "at": "3"}, "the mate goes on 3 in past the rail"),
    ({"kind": "bridle", "past": "1"}, "cross the two by a half lap"),
    ({"kind": "bridle"}, "1/2 in of that would lie open"),
    ({"kind": "half lap", "past": "19"}, "reaches 18 1/4 in past it at most"),
])  # fmt: skip
def test_a_corner_or_a_crossing_that_is_none_is_said(
    stand: Flask, office: FlaskClient, form: dict[str, str], says: str
) -> None:
    text = post(office, RAIL | {"at": "2", "do": "propose"} | form, 422)

    assert says in PageReader(text).text and job_of(stand) == JOB
