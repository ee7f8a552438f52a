"""The drawing on a part's sheet: the whole, or only what a step cuts; with no signal either, and printed."""

from __future__ import annotations

from collections.abc import Callable

import pypdfium2
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import JOB, Shop, a_moment, open_part

pytestmark = pytest.mark.browser

MARGINS = {"top": "10mm", "bottom": "10mm", "left": "10mm", "right": "10mm"}


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


def test_a_parts_sheet_in_the_office_prints_on_one_page_and_its_screen_shows_each_step(
    shop: Shop, window: Callable[..., BrowserContext]
) -> None:
    page = window(viewport={"width": 1280, "height": 900}, is_mobile=False, has_touch=False).new_page()

    for part in ("leg.back-left", "left.top-rail", "left.panel", "drawer.1.side-left"):
        page.goto(f"{shop.url}/jobs/{JOB}/parts/{shop.codes[part]}")
        for paper in ("A4", "Letter"):
            with pypdfium2.PdfDocument(page.pdf(format=paper, margin=MARGINS)) as sheet:
                assert len(sheet) == 1, (part, paper)

    titles = page.locator(".step-drawings svg title")
    assert [title.split(": ")[1] for title in titles.all_text_contents()] == [
        "dado, mirror image",
        "groove, mirror image",
        "tongue, mirror image",
    ]
