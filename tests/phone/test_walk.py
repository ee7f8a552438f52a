"""The walk of a phone through the shop: join, install, no signal, a step, restart, signal, office."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Shop, a_moment, all_sent, enter_join_code, open_part, press_next, type_code

pytestmark = pytest.mark.browser

FLOOR, MAIN = 113, 126


def test_a_phone_joins_with_the_offices_code_typed_on_big_keys(
    shop: Shop, window: Callable[..., BrowserContext]
) -> None:
    page = window().new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("button", name="Type the code").click()

    for symbol in shop.join_code().text.replace("-", ""):
        page.locator(".keys button").filter(has_text=symbol).click()
        page.locator(".keys.four button").filter(has_text=symbol).click()
    page.get_by_label("What people will read").fill("Keys phone")
    page.get_by_role("button", name="Join").click()

    expect(page.get_by_text("all sent")).to_be_visible()
    expect(page.get_by_role("link", name="Type the code")).to_be_visible()


def test_a_wrong_join_code_is_refused_with_a_sentence(shop: Shop, window: Callable[..., BrowserContext]) -> None:
    page = window().new_page()
    page.goto(f"{shop.url}/phone/")

    enter_join_code(page, "ZZZZ-ZZZZ", "Stranger")

    expect(page.get_by_role("status")).to_contain_text("this code is unknown")
    page.get_by_role("button", name="Other code").click()
    expect(page.get_by_role("heading", name="Join the shop")).to_be_visible()


def test_the_browser_finds_nothing_that_stops_installing_the_app(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    devtools = page.context.new_cdp_session(page)

    manifest = devtools.send("Page.getAppManifest")
    faults = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]

    # A private window is the one thing that a test cannot do without.
    assert [fault["errorId"] for fault in faults if fault["errorId"] != "in-incognito"] == []
    assert manifest["errors"] == []
    read = json.loads(manifest["data"])
    assert (read["display"], read["start_url"], read["scope"]) == ("standalone", "/phone/", "/")
    assert {(icon["sizes"], icon["purpose"]) for icon in read["icons"]} >= {
        ("192x192", "any"),
        ("512x512", "any"),
        ("512x512", "maskable"),
    }
    for icon in read["icons"]:
        sent = page.request.get(shop.url + icon["src"])
        assert sent.ok and sent.headers["content-type"] == "image/png"


def test_no_signal_a_step_a_restart_a_signal_and_the_office_knows(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    shop.down()
    page.context.set_offline(True)
    try:
        type_code(page, shop.codes["leg.front-left"])
        expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()
        expect(page.locator(".picture svg")).to_be_visible()
        box = page.locator("button.deed").bounding_box()
        assert box and box["height"] >= MAIN and box["width"] >= FLOOR

        says = press_next(page)

        assert says == "Rough cut"
        expect(page.get_by_role("link", name="1 to send")).to_be_visible()

        page.reload()

        expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()
        expect(page.get_by_role("link", name="1 to send")).to_be_visible()
        expect(page.locator("button.deed b")).to_have_text("Milled")
    finally:
        shop.up()
        page.context.set_offline(False)
    all_sent(page)
    assert shop.done("leg.front-left") == {"rough"}


def test_a_label_of_the_address_opens_with_no_signal(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    shop.down()
    try:
        page.goto(f"{shop.url}/P/{shop.codes['leg.back-left']}")
        expect(page.get_by_role("heading", name="Back left leg")).to_be_visible()
    finally:
        shop.up()


def test_two_phones_that_worked_with_no_signal_end_up_the_same(shop: Shop, phone: Callable[..., Page]) -> None:
    one, two = phone("One"), phone("Two")
    for page in (one, two):
        page.context.set_offline(True)
    open_part(one, shop, "leg.back-right")
    press_next(one)
    open_part(two, shop, "leg.front-right")
    press_next(two)
    open_part(two, shop, "leg.back-right")
    press_next(two)

    for page in (one, two):
        page.context.set_offline(False)
        all_sent(page)
    for page in (one, two):  # once more, to fetch what the other sent last
        send_now(page)

    assert shop.done("leg.back-right") == shop.done("leg.front-right") == {"rough"}
    assert held(one) == held(two)
    assert {entry["part"] for entry in held(one)} >= {shop.codes["leg.back-right"], shop.codes["leg.front-right"]}


def test_what_two_phones_say_differently_is_shown_and_can_be_settled(shop: Shop, phone: Callable[..., Page]) -> None:
    one, two = phone("Saw phone"), phone("Bench phone")
    open_part(one, shop, "back.muntin")
    press_next(one)
    all_sent(one)
    send_now(two)
    for page in (one, two):
        page.context.set_offline(True)
    mark(one, shop, "back.muntin", "rough cut")  # takes it back
    mark(two, shop, "back.muntin", "rough cut")
    a_moment(two)
    mark(two, shop, "back.muntin", "rough cut")  # and marks it again

    for page in (one, two):
        page.context.set_offline(False)
        all_sent(page)
    for page in (one, two):
        send_now(page)

    for page in (one, two):
        page.goto(f"{shop.url}/p/{shop.codes['back.muntin']}")
        expect(page.get_by_role("heading", name="Two phones disagree")).to_be_visible()
        expect(page.locator(".settle li")).to_have_count(2)
        other = "Bench phone" if page is one else "Saw phone"
        expect(page.locator(".settle")).to_contain_text(f"{other} says")
    mark(one, shop, "back.muntin", "rough cut")
    all_sent(one)
    send_now(two)
    for page in (one, two):
        page.goto(f"{shop.url}/p/{shop.codes['back.muntin']}")
        page.locator(".picture svg").wait_for()
        expect(page.get_by_role("heading", name="Two phones disagree")).to_have_count(0)


def mark(page: Page, shop: Shop, part: str, step: str) -> None:
    """Press a step on the list of steps, whatever it was."""
    page.goto(f"{shop.url}/p/{shop.codes[part]}#steps")
    tile = page.locator(".tile").filter(has_text=step)
    before = tile.get_attribute("aria-pressed")
    tile.click()
    expect(tile).to_have_attribute("aria-pressed", "false" if before == "true" else "true")


def send_now(page: Page) -> None:
    page.get_by_role("link", name="all sent").click()
    with page.expect_response(lambda answer: answer.url.endswith("/packs")):
        page.get_by_role("button", name="Send now").click()
    expect(page.get_by_role("button", name="Send now")).to_be_enabled()


def held(page: Page) -> list[dict[str, object]]:
    """All entries that a phone holds, in one order."""
    entries: list[dict[str, object]] = page.evaluate(
        """() => new Promise((resolve, reject) => {
             const opening = indexedDB.open('facemark');
             opening.onerror = () => reject(opening.error);
             opening.onsuccess = () => {
               const all = opening.result.transaction('rows').objectStore('rows').getAll();
               all.onsuccess = () => { opening.result.close(); resolve(all.result.map((row) => row.entry)); };
             };
           })"""
    )
    return sorted(entries, key=lambda entry: str(entry["id"]))
