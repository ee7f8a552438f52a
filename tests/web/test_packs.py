"""Packs are known before they are built, and built before they are asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.exc import OperationalError

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs
from shopfloor.store.opening import writing
from shopfloor.trade.part import Job
from shopfloor.trade.sheet import stack_key
from shopfloor.web import pack, packs
from tests.store.test_jobs import stand


@pytest.fixture
def built(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, int]]:
    """Every building of a pack: key and revision."""
    done: list[tuple[str, int]] = []
    build = pack.build

    def noted(job: Job, revision: int, *rest: Any) -> dict[str, Any]:
        done.append((job.key, revision))
        return build(job, revision, *rest)

    monkeypatch.setattr(pack, "build", noted)
    return done


def listed(phone: FlaskClient) -> dict[str, str]:
    return {job["key"]: job["etag"] for job in phone.get("/packs").get_json()["jobs"]}


def test_the_list_is_answered_without_building_anything(
    app: Flask, phone: FlaskClient, built: list[tuple[str, int]]
) -> None:
    with app.app_context():
        jobs.save(stand("leg.left"))

    etags = listed(phone)

    assert built == []
    assert phone.get("/pack/music-stand").get_json()["etag"] == etags["music-stand"]
    assert listed(phone) == etags
    assert phone.get("/pack/music-stand").status_code == 200
    assert built == [("music-stand", 1)]


def test_a_pack_is_built_as_soon_as_its_job_is_saved(
    app: Flask, phone: FlaskClient, built: list[tuple[str, int]]
) -> None:
    with app.app_context():
        assert packs.save(stand("leg.left"), "first") == 1
    app.extensions[packs.PACKS].settle()
    assert built == [("music-stand", 1)]

    assert phone.get("/pack/music-stand").status_code == 200

    assert built == [("music-stand", 1)]


@pytest.mark.parametrize("way", ["the demo", "a cut list"])
def test_what_the_office_takes_in_is_built_at_once(
    app: Flask, office: FlaskClient, built: list[tuple[str, int]], way: str
) -> None:
    if way == "the demo":
        answer = office.post("/demo")
    else:
        text = "name,quantity,thickness,width,length\nLeg,2,1 in,2 in,30 in\n"
        answer = office.post("/cut-list", data={"text": text, "job": "Music stand", "do": "make"})
    assert answer.status_code == 303, answer.text
    app.extensions[packs.PACKS].settle()

    assert [revision for _, revision in built] == [1]


@pytest.mark.parametrize("what", ["revision", "time of saving", "shop", "program"])
def test_the_etag_is_another_when_anything_is_that_the_pack_depends_on(
    app: Flask, phone: FlaskClient, monkeypatch: pytest.MonkeyPatch, what: str
) -> None:
    with app.app_context():
        jobs.save(stand("leg.left"), at_ms=1000)
    before = listed(phone)

    with app.app_context():
        if what == "revision":
            jobs.save(stand("leg.left", "leg.right"), at_ms=1000)
        elif what == "program":
            monkeypatch.setattr(packs, "_program", lambda: "a later one")
        else:
            change = "revision SET saved_ms = 2000" if what == "time of saving" else "shop SET id = 'other'"
            with writing() as connection:
                connection.exec_driver_sql(f"UPDATE {change}")

    assert listed(phone) != before
    assert phone.get("/pack/music-stand").get_json()["etag"] == listed(phone)["music-stand"]


def test_a_database_that_was_busy_for_once_does_not_take_the_job_from_the_list(
    app: Flask, phone: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    with app.app_context():
        jobs.save(stand("leg.left"))
    build = pack.build

    def busy(*_: Any) -> dict[str, Any]:
        raise OperationalError("SELECT", {}, Exception("database is locked"))

    monkeypatch.setattr(pack, "build", busy)
    assert phone.get("/pack/music-stand").status_code == 503

    monkeypatch.setattr(pack, "build", build)

    assert set(listed(phone)) == {"music-stand"}
    assert phone.get("/pack/music-stand").status_code == 200


LEFT, RIGHT, MIDDLE = "leg.left", "leg.right", "leg.middle"


@pytest.mark.parametrize(
    ("history", "gone"),
    [
        ([(LEFT, RIGHT)], {}),
        ([(LEFT, RIGHT), (LEFT,)], {RIGHT: ("2 of 2", 2)}),
        ([(LEFT, RIGHT), (LEFT,), (LEFT, MIDDLE)], {RIGHT: ("2 of 2", 2)}),
        ([(LEFT, RIGHT), (LEFT,), (LEFT, RIGHT)], {}),
        ([(LEFT, RIGHT), (LEFT,), (LEFT, RIGHT), (LEFT, RIGHT, MIDDLE), (MIDDLE,)],
         {LEFT: ("1 of 3", 5), RIGHT: ("2 of 3", 5)}),
    ],
    ids=["nothing", "one", "one, and the job went on", "one that came back", "two, one of them for the second time"],
)  # fmt: skip
def test_a_pack_says_which_labels_have_no_part_any_more_and_since_when(
    app: Flask, phone: FlaskClient, history: Sequence[Sequence[str]], gone: dict[str, tuple[str, int]]
) -> None:
    with app.app_context():
        for parts in history:
            jobs.save(stand(*parts))
        codes = jobs.codes("music-stand")

    got = phone.get("/pack/music-stand").get_json()["gone"]

    expected = [
        {"code": codes[key], "name": "Leg", "place": place, "since": since} for key, (place, since) in gone.items()
    ]
    assert sorted(got, key=lambda one: one["code"]) == sorted(expected, key=lambda one: one["code"])


def test_a_stack_that_left_is_told_of_too(app: Flask, phone: FlaskClient) -> None:
    whole = stand("leg.left")
    with app.app_context():
        jobs.save(whole)
        jobs.save(Job(whole.key, whole.name))
        code = jobs.codes("music-stand")["stack:legs"]

    got = phone.get("/pack/music-stand").get_json()["gone"]

    assert {"code": code, "name": "Legs", "place": "", "since": 2} in got


def test_a_step_has_a_drawing_of_its_own_where_the_whole_shows_much(app: Flask) -> None:
    job = demo_job()
    keys = [*(part.key for line in job.lines for part in line.parts), *(stack_key(one.key) for one in job.assemblies)]
    made = pack.build(job, 1, dict(zip(keys, keys, strict=True)), [], "")
    drawn = {
        part["key"]: {step["key"]: step["drawing"] for step in part["route"] if "drawing" in step}
        for part in made["parts"]
    }

    assert list(drawn["leg.front-left"]) == ["mortise", "groove"]
    assert list(drawn["drawer.1.side-left"]) == ["dado", "groove", "tongue"]
    assert drawn["left.top-rail"] == {}  # two tenons and a groove are seen at a glance
    assert drawn["top"] == {}
    for part in made["parts"]:
        assert {part["drawing"], *drawn[part["key"]].values()} <= made["drawings"].keys()
        assert part["drawing"] not in drawn[part["key"]].values()
    groove = made["drawings"][drawn["leg.front-left"]["groove"]]
    assert all("<title>Leg: groove, as drawn</title>" in groove[unit] for unit in ("in", "mm"))
