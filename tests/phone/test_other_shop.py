"""The demo first and the real shop then, at the same address: what belongs to the one never lands on the other."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Shop, all_sent, enter_join_code, join, open_part, press_next

pytestmark = pytest.mark.browser


def kept(page: Page, room: str) -> int:
    """How many things the phone has in one room of its storage."""
    count: int = page.evaluate(
        """(room) => new Promise((resolve, reject) => {
             const opening = indexedDB.open('facemark');
             opening.onerror = () => reject(opening.error);
             opening.onsuccess = () => {
               const asked = opening.result.transaction(room).objectStore(room).count();
               asked.onsuccess = () => { opening.result.close(); resolve(asked.result); };
             };
           })""",
        room,
    )
    return count


def join_again(page: Page, shop: Shop, name: str) -> None:
    page.goto(f"{shop.url}/phone/#outbox")
    page.reload()  # asks the office, and is refused
    page.locator("a.deed", has_text="Join again").click()
    enter_join_code(page, shop.join_code().text, name)


def test_another_shop_at_the_same_address_gets_nothing_of_the_one_before_and_nothing_is_lost(
    tmp_path: Path, window: Callable[..., BrowserContext]
) -> None:
    # Both begin at the same serial, as databases of an earlier form did: so the same codes stand on both shops' labels.
    demo = Shop(tmp_path / "demo")
    page = window().new_page()
    join(page, demo, "Bench phone")
    open_part(page, demo, "leg.front-left")
    press_next(page)
    all_sent(page)
    page.context.set_offline(True)
    open_part(page, demo, "leg.front-right")
    press_next(page)
    demo.down()
    real = Shop(tmp_path / "real", demo.port)
    assert real.codes == demo.codes
    page.context.set_offline(False)

    join_again(page, real, "Bench phone")

    expect(page.get_by_role("heading", name="From another shop")).to_be_visible()
    expect(page.get_by_text("1 to send")).to_be_visible()
    expect(page.get_by_role("heading", name="All sent")).to_be_visible()
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save that as a file").click()
    saving.value.save_as(tmp_path / "outbox.json")
    saved = json.loads((tmp_path / "outbox.json").read_text())
    with demo.app.app_context():
        from shopfloor.store import shop

        assert saved["shop_id"] == shop.read().id
    assert [entry["part"] for entry in saved["entries"]] == [demo.codes["leg.front-right"]]
    page.goto(f"{real.url}/phone/#stacks")
    page.locator(".stacks li").first.wait_for()
    for part in ("leg.front-left", "leg.front-right"):
        open_part(page, real, part)
        expect(page.locator("button.deed b")).to_have_text("Rough cut")
    assert press_next(page) == "Rough cut"
    all_sent(page)
    assert [row["entry"]["part"] for row in real.rows()] == [real.codes["leg.front-right"]]  # type: ignore[index]
    assert (kept(page, "rows"), kept(page, "left")) == (1, 2)

    real.down()
    demo.up()
    join_again(page, demo, "Bench phone")

    all_sent(page)
    page.goto(f"{demo.url}/phone/#stacks")
    page.locator(".stacks li").first.wait_for()
    assert demo.done("leg.front-left") == demo.done("leg.front-right") == {"rough"}
    assert len(demo.rows()) == 2
    open_part(page, demo, "leg.front-left")
    expect(page.locator("button.deed b")).to_have_text("Milled")
    assert (kept(page, "rows"), kept(page, "left")) == (2, 1)
    demo.down()


def test_joining_the_same_shop_again_sets_nothing_aside(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone("Bench phone")
    open_part(page, shop, "leg.back-left")
    press_next(page)
    all_sent(page)
    shop.withdraw_all()
    with shop.app.app_context():
        from shopfloor.store import shop as ours

        ours.renew_generation()

    join_again(page, shop, "Bench phone")

    page.locator(".scan").wait_for()
    all_sent(page)
    assert kept(page, "left") == 0
    open_part(page, shop, "leg.back-left")
    expect(page.locator("button.deed b")).to_have_text("Milled")
