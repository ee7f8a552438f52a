"""What each revision changed can be read, and the document can be taken away and back in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.cli import main
from shopfloor.intake.demo import demo_job
from shopfloor.intake.job_file import read_job
from shopfloor.store import jobs
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.length import read

(CABINET,) = demo_job().constructions
assert isinstance(CABINET, Cabinet)
WIDER = follow(demo_job(), [replace(CABINET, width=read("27"))]).job


@pytest.fixture(autouse=True)
def saved(app: Flask) -> None:
    with app.app_context():
        jobs.save(demo_job(), "begun")
        jobs.save(WIDER, "wider <b>")


def test_the_revisions_are_told_the_latest_first(office: FlaskClient) -> None:
    page = office.get("/jobs/choir-cabinet/revisions").text

    assert page.index("Wider &lt;b&gt;") < page.index("Begun")
    assert "Back top rail" in page
    assert page.count('class="differences"') == 1


@pytest.mark.parametrize("form", ["toml", "json"])
def test_a_document_taken_away_is_the_very_same_job_when_it_comes_back(office: FlaskClient, form: str) -> None:
    now = office.get(f"/jobs/choir-cabinet/document.{form}")
    then = office.get(f"/jobs/choir-cabinet/revisions/1.{form}")

    assert read_job(now.data, f"job.{form}") == WIDER
    assert read_job(then.data, f"job.{form}") == demo_job()
    assert now.headers["Content-Disposition"] == f'attachment; filename="choir-cabinet-2.{form}"'


@pytest.mark.parametrize("form", ["toml", "json"])
def test_the_page_and_the_command_line_write_the_same_bytes(
    app: Flask, office: FlaskClient, tmp_path: Path, form: str
) -> None:
    out = tmp_path / f"job.{form}"
    with pytest.raises(SystemExit) as ended:
        main(["export", "--data", str(tmp_path / "data"), "--out", str(out)])

    assert ended.value.code in (0, None)
    assert office.get(f"/jobs/choir-cabinet/document.{form}").data == out.read_bytes()


@pytest.mark.parametrize("address", [
    "/jobs/nope/revisions", "/jobs/nope/document.toml", "/jobs/choir-cabinet/revisions/9.toml",
])  # fmt: skip
def test_what_is_not_there_is_said(office: FlaskClient, address: str) -> None:
    assert office.get(address).status_code == 404


def test_another_form_is_refused_in_one_sentence(office: FlaskClient) -> None:
    answer = office.get("/jobs/choir-cabinet/document.xml")

    assert answer.status_code in (400, 404)
    assert "toml or json" in answer.text
