"""A press is meant once, stands until somebody goes on, and lands on the part that is seen."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from .conftest import Shop, a_moment, all_sent, open_part, press_next

pytestmark = pytest.mark.browser

HOLD = """() => new Promise((held) => {
  const opening = indexedDB.open('facemark');
  opening.onsuccess = () => {
    const kept = opening.result.transaction('drawings', 'readwrite').objectStore('drawings');
    window.release = new Promise((resolve) => { window.letGo = resolve; });
    let over = false;
    release.then(() => { over = true; });
    kept.transaction.oncomplete = () => opening.result.close();
    const turn = () => { held(); if (!over) kept.count().onsuccess = turn; };
    kept.count().onsuccess = turn;
  };
})"""
"""No sheet can be read until `letGo` is called; what is pressed can be kept meanwhile."""


def _tap(gap: int) -> Callable[[Page, float, float], None]:
    def press(page: Page, x: float, y: float) -> None:
        page.touchscreen.tap(x, y)
        page.wait_for_timeout(gap)
        page.touchscreen.tap(x, y)

    return press


def _mouse(page: Page, x: float, y: float) -> None:
    page.mouse.dblclick(x, y, delay=40)


def _held_key(page: Page, x: float, y: float) -> None:
    page.evaluate("([x, y]) => document.elementFromPoint(x, y).closest('button').focus()", [x, y])
    for _ in range(8):  # the first is the press; the browser calls the others repeats
        page.keyboard.down("Enter")
        page.wait_for_timeout(120)
    page.keyboard.up("Enter")


TWICE = {
    "30 ms": _tap(30),
    "120 ms": _tap(120),
    "350 ms": _tap(350),
    "mouse": _mouse,
    "held key": _held_key,
}


def _middle(page: Page, where: str) -> tuple[float, float]:
    box = page.locator(where).bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


@pytest.mark.parametrize("twice", TWICE.values(), ids=TWICE)
def test_a_double_press_marks_once_and_undo_stays(
    shop: Shop, phone: Callable[..., Page], twice: Callable[[Page, float, float], None]
) -> None:
    page = phone()
    page.context.set_offline(True)
    open_part(page, shop, "leg.front-left")
    at = page.url

    twice(page, *_middle(page, "button.deed"))

    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    page.wait_for_timeout(300)  # what would come of a second press is there by then
    expect(page.get_by_role("link", name="1 to send")).to_be_visible()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    assert page.url == at

    page.goto(f"{at}#steps")
    tile = ".tile:has-text('length')"
    page.locator(tile).wait_for()
    twice(page, *_middle(page, tile))

    expect(page.get_by_role("link", name="2 to send")).to_be_visible()
    page.wait_for_timeout(300)
    expect(page.get_by_role("link", name="2 to send")).to_be_visible()
    expect(page.locator(tile)).to_have_attribute("aria-pressed", "true")


def test_a_double_press_on_scan_next_opens_nothing_on_the_scan_screen(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.context.set_offline(True)
    open_part(page, shop, "leg.front-left")
    press_next(page)
    a_moment(page)

    _tap(250)(page, *_middle(page, "button.deed"))

    page.wait_for_timeout(300)
    expect(page.locator(".scan")).to_be_visible()
    assert page.url == f"{shop.url}/phone/"


def test_what_was_pressed_stands_until_somebody_goes_on(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.context.set_offline(True)
    page.clock.install()
    open_part(page, shop, "leg.front-left")
    press_next(page)

    page.clock.fast_forward(600_000)

    expect(page.locator("button.deed b")).to_have_text("Scan next")
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    page.get_by_role("button", name="Next step here: Milled").click()
    expect(page.locator("button.deed b")).to_have_text("Milled")
    expect(page.get_by_role("link", name="Other step")).to_be_visible()


def test_a_press_while_another_sheet_is_read_lands_on_the_part_that_is_seen(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    broken: list[str] = []
    page.on("pageerror", lambda error: broken.append(str(error)))
    open_part(page, shop, "leg.front-left")
    page.context.set_offline(True)
    page.evaluate(HOLD)
    page.get_by_role("link", name="Left side top rail").click()
    page.wait_for_url(f"**/p/{shop.codes['left.top-rail']}")
    expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()

    page.locator("button.deed").click()
    page.wait_for_timeout(200)
    page.evaluate("() => letGo()")

    expect(page.get_by_role("heading", name="Left side top rail")).to_be_visible()
    expect(page.locator("button.deed b")).to_have_text("Rough cut")
    expect(page.get_by_role("link", name="1 to send")).to_be_visible()
    assert page.get_by_role("button", name="Undo").count() == 0
    page.context.set_offline(False)
    all_sent(page)
    assert (shop.done("leg.front-left"), shop.done("left.top-rail")) == ({"rough"}, set())
    assert broken == []
    page.go_back()
    expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()
