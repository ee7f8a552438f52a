"""Whatever a maker designs alone is added on the design page, can be changed there, and is seen."""

from __future__ import annotations

import re

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import drafts, jobs
from shopfloor.trade.construct.compose import CONSTRUCTIONS
from shopfloor.trade.construct.drawer_choices import Corner
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.length import read
from shopfloor.trade.part import Job, Unit
from shopfloor.web.design_words import ABOUT, CHOICES
from tests.web.office_shop import PageReader
from tests.web.test_office_design import change

PAGE = "/jobs/hall/design"


@pytest.fixture
def hall(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(Job("hall", "Hall"))
    return app


def add(office: FlaskClient, kind: str, key: str = "") -> str:
    answer = office.post(PAGE, data={"do": "add", "kind": kind, "key": key}, follow_redirects=True)
    assert answer.status_code == 200
    assert PageReader(answer.text).faults == []
    return answer.text


def test_every_construction_is_offered_with_a_sentence() -> None:
    assert CHOICES.keys() == ABOUT.keys() == CONSTRUCTIONS.keys()


@pytest.mark.parametrize("kind", [kind for kind in CONSTRUCTIONS if kind != "plain"])
def test_each_can_be_added_and_is_drawn_with_its_lengths(hall: Flask, office: FlaskClient, kind: str) -> None:
    text = add(office, kind)
    name = kind.replace(" ", "-")

    assert "cannot be made" not in text
    assert f'id="construction-{name}"' in text
    assert f"<b>{CHOICES[kind]}</b>" in text[text.index(f'id="construction-{name}"') :][:300]
    assert re.search(r'<figure class="picture">.*?<svg', text, re.DOTALL)
    assert "by-hand:" in text
    with hall.app_context():
        assert drafts.read("hall").job.lines


@pytest.mark.parametrize("unit", Unit)
def test_another_joint_at_the_corner_brings_its_own_sizes(app: Flask, office: FlaskClient, unit: Unit) -> None:
    with app.app_context():
        jobs.save(Job("hall", "Hall", unit))
    add(office, "drawers", "desk")
    for kind in (Corner.DOVETAIL, Corner.RABBET, Corner.TONGUE, Corner.DOVETAIL):
        change(office, "desk", address=PAGE, **{"drawers.corner.kind": kind.value})
        with app.app_context():
            job = drafts.read("hall").job
            (made,) = job.constructions
        assert isinstance(made, LoneDrawers)
        assert made.drawers.corner.kind is kind
        assert [each.key for each in job.assemblies] == ["desk-drawer-1"]
    corner = made.drawers.corner
    assert (corner.clear, corner.tongue, corner.count) == (0, 0, 0)
    # A front of 3/4 or 19 mm: two thirds, down to what is easily set.
    expected = (read("12 mm"), read("6 mm")) if unit is Unit.MM else (read("1/2"), read("1/4"))
    assert (corner.depth, corner.pin) == expected


def test_what_is_typed_with_another_joint_stays(hall: Flask, office: FlaskClient) -> None:
    add(office, "drawers", "desk")
    change(office, "desk", address=PAGE, **{"drawers.corner.kind": "half-blind dovetail", "drawers.corner.count": "2"})
    with hall.app_context():
        (made,) = drafts.read("hall").job.constructions

    assert isinstance(made, LoneDrawers)
    assert (made.drawers.corner.count, made.drawers.corner.pin) == (2, read("1/4"))


def test_a_piece_that_a_length_set_by_hand_makes_another_size_is_looked_at(hall: Flask, office: FlaskClient) -> None:
    add(office, "table", "bench")
    office.post(PAGE, data={"do": "by-hand:bench", "length-of": "leg.length", "length": "28"})
    text = office.get(PAGE).text

    assert "it is 28 in high and not 29 in" in text
    with hall.app_context():
        assert drafts.read("hall").job.assemblies
