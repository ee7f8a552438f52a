"""When things go wrong: a withdrawn phone, a server that never answers, a full disk, a lost file, a new version."""

from __future__ import annotations

import functools
import json
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from .conftest import Shop, all_sent, enter_join_code, open_part, press_next

pytestmark = pytest.mark.browser


def test_a_withdrawn_phone_keeps_what_it_has_and_hands_it_over_when_it_joins_again(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone("Lost phone")
    page.context.set_offline(True)
    open_part(page, shop, "leg.front-left")
    press_next(page)
    shop.withdraw_all()
    page.context.set_offline(False)

    pill = page.get_by_role("link", name="1 held back")
    expect(pill).to_be_visible(timeout=15_000)
    assert shop.done("leg.front-left") == set()
    pill.click()
    expect(page.get_by_role("status")).to_contain_text("does not know this phone any more")
    page.reload()
    page.get_by_role("link", name="Join again").click()
    expect(page.get_by_text("Nothing is lost: the 1 to send")).to_be_visible()
    enter_join_code(page, shop.join_code().text, "Found phone")

    all_sent(page)
    assert shop.done("leg.front-left") == {"rough"}


def test_a_server_that_never_answers_keeps_nobody_waiting(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-right")
    asked: list[str] = []

    def never(route: Route) -> None:
        asked.append(route.request.url)

    page.route("**/sync**", never)

    began = time.monotonic()
    press_next(page)

    assert time.monotonic() - began < 1.0
    expect(page.get_by_role("link", name="1 to send")).to_be_visible()
    page.get_by_role("link", name="1 to send").click()
    expect(page.get_by_role("status")).to_contain_text("No answer from the office", timeout=15_000)
    assert asked
    page.unroute("**/sync**")
    page.get_by_role("button", name="Send now").click()
    all_sent(page)


def test_entries_go_by_themselves_where_the_browser_has_no_background_sync(
    shop: Shop, phone: Callable[..., Page], window: Callable[..., BrowserContext]
) -> None:
    page = phone()
    page.add_init_script("delete ServiceWorkerRegistration.prototype.sync; delete window.SyncManager;")
    page.reload()
    shop.down()
    try:
        for part in ("leg.back-left", "leg.back-right", "top"):
            open_part(page, shop, part)
            press_next(page)
        expect(page.get_by_role("link", name="3 to send")).to_be_visible()
    finally:
        shop.up()

    expect(page.get_by_role("link", name="all sent")).to_be_visible(timeout=60_000)


def test_what_could_not_be_kept_is_not_called_saved(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "back.muntin")
    page.evaluate(
        """() => {
             const put = IDBObjectStore.prototype.put;
             IDBObjectStore.prototype.put = function (value, ...key) {
               const request = put.call(this, value, ...key);
               // As measured: the request succeeds, then the transaction is aborted.
               if (this.name === 'rows') request.addEventListener('success', () => this.transaction.abort());
               return request;
             };
           }"""
    )

    page.locator("button.deed").click()

    expect(page.get_by_role("status")).to_contain_text("Not saved")
    expect(page.locator("button.deed b")).to_have_text("Rough cut")
    expect(page.get_by_role("link", name="all sent")).to_be_visible()


def test_a_file_that_the_browser_threw_away_is_named_and_it_is_not_called_ready(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    page.get_by_role("link", name="Outbox").click()
    expect(page.locator(".facts")).to_contain_text("ready to work with no signal")
    page.evaluate(
        """async () => {
             const [name] = (await caches.keys()).filter((one) => one.startsWith('facemark-shell-'));
             await (await caches.open(name)).delete('/phone/styles.css');
           }"""
    )

    page.reload()

    expect(page.locator(".facts")).to_contain_text("not ready for times without a signal: /phone/styles.css is missing")


def test_a_new_version_waits_until_it_is_accepted_and_is_offered_again(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    shelf = shop.app.extensions["facemark_shelf"]
    was, shelf.worker = shelf.worker, functools.cache(lambda page: newer(was(page)))
    try:
        page.reload()
        offer = page.get_by_role("button", name="New version: use it")
        expect(offer).to_be_visible(timeout=15_000)
        page.reload()
        expect(offer).to_be_visible(timeout=15_000)
        assert versions(page)[-1] == "newer"

        offer.click()

        page.wait_for_function("() => navigator.serviceWorker.controller")
        expect(offer).to_be_hidden(timeout=15_000)
        page.get_by_role("link", name="Outbox").click()
        expect(page.locator(".facts")).to_contain_text("version newer, ready to work with no signal")
        assert len(versions(page)) == 2, "the version before is kept"
    finally:
        shelf.worker = was


def newer(worker: bytes) -> bytes:
    before, rest = worker.rsplit(b'{"version": "', 1)
    return before + b'{"version": "newer' + rest[rest.index(b'"') :]


def versions(page: Page) -> list[str]:
    """The versions of the shell that the phone holds, the oldest first."""
    names: list[str] = page.evaluate("() => caches.keys()")
    return [name.removeprefix("facemark-shell-") for name in names if name.startswith("facemark-shell-")]


def test_the_outbox_can_be_saved_as_a_file(shop: Shop, phone: Callable[..., Page], tmp_path: Path) -> None:
    page = phone("Drowned phone")
    page.context.set_offline(True)
    open_part(page, shop, "back.panel-left")
    press_next(page)
    page.get_by_role("link", name="1 to send").click()

    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as a file").click()

    saving.value.save_as(tmp_path / "outbox.json")
    saved = json.loads((tmp_path / "outbox.json").read_text())
    assert (saved["form"], saved["name"]) == ("facemark outbox", "Drowned phone")
    assert [(entry["kind"], entry["part"]) for entry in saved["entries"]] == [
        ("step_done", shop.codes["back.panel-left"])
    ]


def test_an_old_tab_that_holds_the_storage_is_named(shop: Shop, window: Callable[..., BrowserContext]) -> None:
    context = window()
    old = context.new_page()
    old.goto(f"{shop.url}/health")
    old.evaluate(
        """() => new Promise((resolve) => {
             // An older version of the app, which does not stand aside.
             const opening = indexedDB.open('facemark', 0.5 + 0.5);
             opening.onupgradeneeded = () => opening.result.createObjectStore('old');
             opening.onsuccess = () => { window.held = opening.result; resolve(); };
           })"""
    )
    page = context.new_page()
    page.add_init_script(
        """const open = IDBFactory.prototype.open;
           IDBFactory.prototype.open = function (name, version) { return open.call(this, name, version + 1); };"""
    )

    page.goto(f"{shop.url}/phone/")

    expect(page.get_by_role("heading", name="Close the other tab")).to_be_visible(timeout=5_000)
    old.evaluate("() => window.held.close()")
    expect(page.get_by_role("heading", name="Close the other tab")).to_be_hidden()


def test_a_browser_tab_on_ios_records_nothing_and_says_what_to_do(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.add_init_script("Object.defineProperty(Navigator.prototype, 'standalone', { get: () => false });")

    page.goto(f"{shop.url}/phone/")
    expect(page.get_by_role("heading", name="Put Facemark on the home screen")).to_be_visible()

    page.goto(f"{shop.url}/p/{shop.codes['leg.front-left']}")
    expect(page.get_by_text("Open the app and scan there")).to_be_visible()
    assert page.locator(".foot-dock button").count() == 0
    # What only looks at the part may be pressed, and records nothing.
    for number in range(page.locator(".sheet button").count()):
        page.locator(".sheet button").nth(number).click()
    page.goto(f"{shop.url}/phone/#outbox")
    expect(page.locator(".pill")).not_to_contain_text("to send")


def test_entries_of_a_newer_app_are_kept_counted_and_left_alone(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone("Old phone")
    code = shop.codes["back.top-rail"]
    strange = {
        "id": "ab" * 16, "device": "new", "incarnation": "1", "number": 1, "hlc": [1, 0], "at": 1,
        "kind": "planed_by_moonlight", "v": 7, "part": code, "base": [], "body": {"how": {"deep": [1, 2]}},
    }  # fmt: skip
    answer = page.request.post(
        f"{shop.url}/sync",
        data={"generation": "", "client_now": 1, "app": "future", "entries": [strange]},
    )
    assert answer.ok

    page.get_by_role("link", name="Outbox").click()
    page.get_by_role("button", name="Send now").click()

    expect(page.get_by_text("1 entry from other phones: needs a newer app")).to_be_visible()
    page.goto(f"{shop.url}/p/{code}")
    expect(page.get_by_text("1 more: needs a newer app")).to_be_visible()
