"""The drawing on a part's sheet: the whole, or only what the next step cuts, with no signal either."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from .conftest import Shop, a_moment, open_part

pytestmark = pytest.mark.browser


def mark(page: Page, *steps: str) -> None:
    page.get_by_role("link", name="Other step").click()
    for step in steps:
        tile = page.locator(".tile").filter(has_text=step)
        tile.click()
        expect(tile).to_have_attribute("aria-pressed", "true")
        a_moment(page)
    page.get_by_role("link", name="The sheet").click()
    page.locator(".picture svg").wait_for()


def test_a_tap_shows_only_what_the_next_step_cuts_and_the_whole_again(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.context.set_offline(True)
    open_part(page, shop, "leg.front-left")
    title = page.locator(".picture svg title")
    turn = page.locator(".look button")
    expect(turn).to_have_count(0)  # to be rough cut: nothing to draw

    mark(page, "rough cut", "mill", "length", "mark out")
    expect(title).to_have_text("Leg, as drawn")
    expect(turn).to_have_text("Only the next step: mortise")
    turn.click()

    expect(title).to_have_text("Leg: mortise, as drawn")
    expect(turn).to_have_text("The whole part")
    page.locator(".picture").click()
    expect(title).to_have_text("Leg, as drawn")

    page.locator(".picture").click()
    expect(title).to_have_text("Leg: mortise, as drawn")
    a_moment(page)
    page.get_by_role("button", name="Mortises cut").click()

    expect(turn).to_have_text("Only the next step: groove")
    expect(title).to_have_text("Leg, as drawn")
    turn.click()
    expect(title).to_have_text("Leg: groove, as drawn")

    page.get_by_role("link", name="Left side top rail").click()
    expect(title).to_have_text("Top rail, as drawn")
    page.go_back()
    expect(title).to_have_text("Leg, as drawn")
