"""Every number of the trade stands on one page, with its source, and in the unit that is asked for."""

from __future__ import annotations

import re
from html import unescape

import pytest
from flask.testing import FlaskClient

from shopfloor.trade.facts import facts
from shopfloor.trade.panel import CLEARANCE


def row(page: str, key: str) -> str:
    found = re.search(rf'<tr id="fact-{re.escape(key)}">.*?</tr>', page, re.DOTALL)
    assert found, key
    return found[0]


def test_each_fact_stands_there_once_with_its_name_status_and_source(office: FlaskClient) -> None:
    page = office.get("/numbers").text

    assert len(re.findall(r'<tr id="fact-', page)) == len(facts()) > 100
    for fact in facts():
        shown = row(page, fact.key)
        for text in (fact.name, fact.source, fact.status.value):
            assert text in unescape(shown), fact.key


@pytest.mark.parametrize(("asked", "number"), [("", "1/8 in"), ("?unit=in", "1/8 in"), ("?unit=mm", "3 mm")])
def test_a_length_is_shown_in_the_unit_of_the_shop_or_the_one_asked_for(
    office: FlaskClient, asked: str, number: str
) -> None:
    assert number in row(office.get(f"/numbers{asked}").text, CLEARANCE.key)


@pytest.mark.parametrize(("key", "habit"), [("panel-clearance", True), ("movement-equation", False)])
def test_what_a_shop_may_change_is_told_from_what_it_may_not(office: FlaskClient, key: str, habit: bool) -> None:
    assert ("habit" in row(office.get("/numbers").text, key)) is habit


def test_the_shop_page_leads_there(office: FlaskClient) -> None:
    assert 'href="/numbers"' in office.get("/shop").text
