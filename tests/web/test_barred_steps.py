"""A leg that was tapered before its mortises were cut: pack and part page say that they cannot be measured any more."""

from __future__ import annotations

from dataclasses import replace

from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs as kept
from shopfloor.store import journal
from shopfloor.trade.fact import inch
from shopfloor.trade.part import Face, Job, Taper
from shopfloor.web import pack
from tests.entries import entry, offered

WHY = "the mortise is measured from the face edge, and the taper has taken that away"


def tapered() -> Job:
    job = demo_job()
    taper = Taper("taper", Face.FACE_EDGE, inch(30), inch(1, 4))
    return replace(
        job,
        lines=tuple(
            replace(line, features=(*line.features, taper)) if line.key.startswith("leg") else line
            for line in job.lines
        ),
    )


def test_the_pack_says_after_which_step_another_cannot_be_done(app: Flask) -> None:
    with app.app_context():
        kept.save(tapered(), "the demo with tapered legs")
        made = pack.build(tapered(), 1, kept.codes("choir-cabinet"), [], "e")

    leg = next(part for part in made["parts"] if part["key"] == "leg.front-left")
    barred = {step["key"]: step["not_after"] for step in leg["route"] if "not_after" in step}

    assert barred["mortise"] == {"taper": WHY}
    assert "taper" not in barred
    rail = next(part for part in made["parts"] if part["key"] == "left.top-rail")
    assert not [step for step in rail["route"] if "not_after" in step]


def test_the_part_in_the_office_says_why_a_step_is_not_next(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        kept.save(tapered(), "the demo with tapered legs")
        code = kept.codes("choir-cabinet")["leg.front-left"]
    address = f"/jobs/choir-cabinet/parts/{code}"
    assert "Not now:" not in office.get(address).text

    with app.app_context():
        journal.keep(offered(entry(1, part=code, body={"step": "taper"})))

    assert f"Not now: {WHY}" in office.get(address).text
