"""Board plans in the office: begun, watched, stopped, kept, taken and put away."""

from __future__ import annotations

from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.plan.written import plan_from_plain, plan_to_plain
from shopfloor.store import jobs, journal, plans, rack
from shopfloor.trade.board import Board
from shopfloor.trade.fact import inch
from shopfloor.trade.part import Job, Line, Part
from shopfloor.trade.stock import lumber_named
from shopfloor.web.board_runs import RUNS
from tests.entries import entry, offered
from tests.web.office_shop import PageReader

LUMBER = lumber_named("4/4")
assert LUMBER
BOARD = Board("", "1", "cherry", LUMBER, inch(96), (inch(6), inch(6)))
RAILS = Line("rail", "frame", "Rail", inch(3, 4), inch(5, 2), inch(29), parts=(Part("rail.1"), Part("rail.2")))
FRAME = replace(demo_job().assemblies[0], key="frame", name="Frame", made_by="")
JOB = Job("frame", "Frame", species="cherry", assemblies=(FRAME,), lines=(RAILS,))


@pytest.fixture
def shop(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(JOB)
        rack.measure(BOARD)
    return app


def plan(app: Flask, office: FlaskClient, **asked: str) -> str:
    """Plan the job's boards, wait, and give the address of the plan."""
    answer = office.post("/board-plans", data={"job": "frame", "rule": "rip first", "seconds": "5"} | asked)
    assert answer.status_code == 303, answer.text
    app.extensions[RUNS].settle(60)
    page = office.get("/board-plans/now").text
    assert "Planned." in page, page
    return page.split('class="button main" href="')[1].split('"')[0]


def test_two_rails_come_from_one_board_and_the_plan_says_so(shop: Flask, office: FlaskClient) -> None:
    address = plan(shop, office)
    page = office.get(address).text

    assert PageReader(page).faults == []
    assert "proven best" in page
    # 29 and 1 in make 30 rough, 2 1/2 and 1/4 make 2 3/4: after 1/2 in off the end the first is sawn at 30 1/2.
    assert "1 of 2 rail" in page.lower() or "Rail, 1 of 2" in page
    assert page.count("<svg") >= 1
    assert "Rip at" in page
    listed = office.get("/board-plans").text
    assert "1 board, all parts" in listed


@pytest.mark.parametrize("rule", ["rip first", "crosscut first"])
def test_a_plan_is_kept_as_it_was_found(shop: Flask, office: FlaskClient, rule: str) -> None:
    plan(shop, office, rule=rule)
    with shop.app_context():
        (kept,) = plans.every()
    found = kept.found["woods"][0]["plan"]

    assert plan_to_plain(plan_from_plain(found)) == found
    assert kept.asked["rule"] == rule


def test_a_plan_is_taken_put_away_and_picked_up(shop: Flask, office: FlaskClient) -> None:
    address = plan(shop, office)

    office.post(address, data={"do": "take"})
    with shop.app_context():
        assert len(plans.taken()) == 1
    office.post(address, data={"do": "drop"})
    with shop.app_context():
        assert plans.taken() == []
        assert plans.every() == []
    office.post(address, data={"do": "pick-up"})
    with shop.app_context():
        assert len(plans.taken()) == 1


def test_where_the_rack_does_not_suffice_what_is_missing_is_named(shop: Flask, office: FlaskClient) -> None:
    with shop.app_context():
        long = replace(RAILS, key="long", name="Long rail", length=inch(100), parts=(Part("long"),))
        jobs.save(replace(JOB, lines=(RAILS, long)))
    page = office.get(plan(shop, office)).text

    assert "1 part is left over" in page
    assert "Long rail" in page


def test_parts_that_are_sawn_are_planned_no_more(shop: Flask, office: FlaskClient) -> None:
    with shop.app_context():
        codes = jobs.codes("frame")
        journal.keep(
            offered(
                *(entry(n, part=codes[key], body={"step": "rough"}) for n, key in enumerate(("rail.1", "rail.2"), 1))
            )
        )
    answer = office.post("/board-plans", data={"job": "frame"})

    assert answer.status_code == 422
    assert "no part of these jobs is left to saw" in answer.text.lower()


def test_without_a_job_there_is_nothing_to_plan(app: Flask, office: FlaskClient) -> None:
    assert "No job yet." in office.get("/board-plans").text
    answer = office.post("/board-plans", data={})
    assert answer.status_code == 422
    assert "no job is ticked" in answer.text.lower()


def test_a_planning_is_stopped_and_keeps_what_it_has(shop: Flask, office: FlaskClient) -> None:
    with shop.app_context():
        jobs.save(demo_job())
        for width in (5, 6, 7, 8):
            rack.measure(replace(BOARD, widths=(inch(width), inch(width))))
    office.post("/board-plans", data={"job": demo_job().key, "seconds": "60"})
    again = office.post("/board-plans", data={"job": "frame"})
    assert again.status_code == 422
    assert "being planned already" in again.text

    assert office.post("/board-plans/now").status_code == 303
    assert "Planned." in office.get("/board-plans/now").text
    with shop.app_context():
        assert len(plans.every()) == 1


def test_a_plan_that_is_not_there_is_said(app: Flask, office: FlaskClient) -> None:
    assert office.get("/board-plans/nothing").status_code == 404
