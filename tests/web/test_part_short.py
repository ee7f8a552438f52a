"""What if it came out short?  The part's page in the office says where the error lands, and asks before it believes."""

from __future__ import annotations

import html
import re

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs


@pytest.fixture
def rail(app: Flask) -> str:
    """The address of the back's top rail: 24 1/4 long, a tenon of 7/8 at either end."""
    with app.app_context():
        jobs.save(demo_job(), "the demo")
        return f"/jobs/choir-cabinet/parts/{jobs.codes('choir-cabinet')['back.top-rail']}"


def section(office: FlaskClient, address: str, **typed: str) -> str:
    page = office.get(address, query_string=typed).text
    found = re.search(r'<section class="if-short">.*?</section>', page, re.DOTALL)
    assert found
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", found[0])).split())


def test_the_mate_that_feels_it_is_named_and_every_mark_stays(office: FlaskClient, rail: str) -> None:
    says = section(office, rail, real="24 3/16")

    assert "short; every mark stays" in says
    assert "Back right leg: tenon is" in says
    assert "its shoulders still close" in says


def test_a_length_far_off_is_asked_about_before_it_is_taken(office: FlaskClient, rail: str) -> None:
    asked, sure = section(office, rail, real="23 1/4"), section(office, rail, real="23 1/4", sure="yes")

    assert "exactly 1 off: was the tape held at its mark" in asked and "It is so" in asked
    assert "Back right leg" not in asked
    assert "tenon is gone" in sure  # an inch off a tenon of 7/8
    assert "beyond the wood" in sure  # its shoulder is at 23 3/8


@pytest.mark.parametrize("typed", ["long", "0", "-3", "24 3/", "<b>", "9" * 500])
def test_what_is_no_length_is_said_and_nothing_lands(office: FlaskClient, rail: str, typed: str) -> None:
    says = section(office, rail, real=typed)

    assert "short;" not in says
    assert len(says) > len("What if it came out short? Its real length Where does it land?")


def test_nothing_is_said_until_something_is_typed(office: FlaskClient, rail: str) -> None:
    assert section(office, rail) == "What if it came out short? Its real length Where does it land?"
