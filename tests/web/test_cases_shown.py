"""Stories of the trade, as somebody in the office meets them."""

from __future__ import annotations

import html
import re
from dataclasses import replace

from flask import Flask
from flask.testing import FlaskClient

from shopfloor.store import jobs, shop
from shopfloor.trade.fact import inch
from shopfloor.trade.part import Assembly, Dado, Face, Job, Line, Part
from shopfloor.trade.seasons import Seasons
from tests.trade.test_joint_cases import bench_leg
from tests.trade.test_seasonal import slot_of


def test_the_design_of_a_leg_in_which_two_mortises_meet_names_both_and_offers_shorter_or_mitred_tenons(
    app: Flask, office: FlaskClient
) -> None:
    leg = replace(bench_leg(inch(5, 4)), parts=(Part("leg.1"),))
    with app.app_context():
        jobs.save(Job("bench", "Bench", assemblies=(Assembly("legs", 1, "Legs"),), lines=(leg,)), "typed")

    page = html.unescape(office.get("/jobs/bench/design").text)

    assert "side-rail" in page
    assert "end-rail" in page
    assert "in deep at most, or mitre the two tenons where they meet." in page


def test_what_the_seasons_do_is_shown_with_the_cut_that_was_taken(app: Flask, office: FlaskClient) -> None:
    with app.app_context():
        shop.keep_seasons(Seasons(6, 8, 12))
        jobs.save(slot_of("5/16"), "typed")

    page = html.unescape(office.get("/jobs/held/design").text)

    assert "Counted for black cherry, flatsawn, as nothing else is said: 0.00248 of the width for each point" in page
    assert "Wood Handbook, Table 13-5" in page


def test_a_side_laid_out_from_its_top_is_known_by_where_its_lines_lie(app: Flask, office: FlaskClient) -> None:
    """34 long, a dado of 3/4 that begins 8 1/4 from the bottom: laid out from the top it begins at 25 3/4."""
    dado = Dado("shelf", Face.FACE_SIDE, inch(33, 4), inch(3, 4), inch(1, 4))
    side = Line("side", "case", "Side", inch(3, 4), inch(12), inch(34), datum="bottom", features=(dado,),
                parts=(Part("side.1"),))  # fmt: skip
    with app.app_context():
        jobs.save(Job("case", "Case", assemblies=(Assembly("case", 1, "Case"),), lines=(side,)), "typed")
        code = jobs.codes("case")["side.1"]

    page = office.get(f"/jobs/case/parts/{code}").text

    (table,) = re.findall(r'<details class="wrong-end">.*?</details>', page, re.DOTALL)
    rows = [" ".join(re.sub(r"<[^>]+>", " ", row).split()) for row in re.findall(r"<tr>(.*?)</tr>", table, re.DOTALL)]
    assert "distances from the bottom" in table
    assert [re.sub(r"\s*⁄\s*", "/", row) for row in rows[1:]] == [
        "25 3/4 dado starts 8 1/4",
        "25 dado ends 9",
    ]
