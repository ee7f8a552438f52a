"""What the shop's seasons would do to a job stands on its design page."""

from __future__ import annotations

from fractions import Fraction

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs, shop
from shopfloor.trade.seasons import Seasons


@pytest.mark.parametrize(
    ("damp", "said"),
    [(Fraction("9.2"), False), (Fraction(16), True)],  # an ordinary house; an open building
)
def test_a_panel_that_bottoms_out_where_the_piece_will_stand_is_said(
    app: Flask, office: FlaskClient, damp: Fraction, said: bool
) -> None:
    with app.app_context():
        jobs.save(demo_job(), "the demo")
        shop.keep_seasons(Seasons(7, 8, damp))

    page = office.get("/jobs/choir-cabinet/design").text

    assert ("it bottoms out in the damp season" in page) is said
