"""The design page tells parts that fill the same space."""

from __future__ import annotations

from dataclasses import replace

from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.length import read


def test_a_front_too_wide_by_hand_is_told_with_the_leg_that_it_goes_into(app: Flask, office: FlaskClient) -> None:
    demo = demo_job()
    (cabinet,) = demo.constructions
    wide = replace(cabinet, overrides=(Override("drawer.front.length", read("22 3/4")),))
    with app.app_context():
        jobs.save(follow(demo, (wide,)).job)

    page = office.get(f"/jobs/{demo.key}/design").text

    # The opening is 22 1/2: 1/8 too much at each side.
    assert "Front left leg and drawer 1 drawer front: they fill the same space, 1/8 in from left to right" in page


def test_the_demonstration_is_told_nothing_of_the_kind(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        jobs.save(demo_job())

    assert "fill the same space" not in office.get("/jobs/choir-cabinet/design").text
