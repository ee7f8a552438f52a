"""What phone and office tell each other, and what is said when something hinders it: clocks, room, tabs, revisions."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs
from tests.store.test_jobs import stand

from .conftest import Shop, all_sent, join, open_part, press_next, type_code

pytestmark = pytest.mark.browser

HOUR = 3_600_000


def send_now(page: Page) -> None:
    page.goto(page.url.split("/phone")[0].split("/p/")[0] + "/phone/#outbox")
    page.get_by_role("button", name="Send now").click()


@pytest.mark.parametrize("off", [HOUR, -25 * 365 * 24 * HOUR], ids=["an hour ahead", "in another century"])
def test_what_a_phone_writes_is_stamped_by_the_offices_clock(
    shop: Shop, window: Callable[..., BrowserContext], off: int
) -> None:
    page = window().new_page()
    page.add_init_script(f"const now = Date.now; Date.now = () => now() + ({off});")
    join(page, shop, "Wrong clock")
    before = time.time() * 1000
    part = "leg.front-left" if off > 0 else "leg.front-right"
    open_part(page, shop, part)
    press_next(page)
    all_sent(page)

    [row] = [row for row in shop.rows() if row["entry"]["part"] == shop.codes[part]]  # type: ignore[index]
    entry = row["entry"]
    assert isinstance(entry, dict)
    for stamp in (entry["at"], entry["hlc"][0]):
        assert abs(stamp - before) < 60_000
    page.get_by_role("link", name="all sent").click()
    expect(page.get_by_role("status")).to_contain_text("This phone's clock is")


def test_a_label_whose_part_left_the_job_says_so_on_a_phone_that_never_knew_it_too(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    old = phone("Old phone")
    with shop.app.app_context():
        jobs.save(stand("leg.left", "leg.right"))
    send_now(old)
    with shop.app.app_context():
        code = jobs.codes("music-stand")["leg.right"]
        old.goto(f"{shop.url}/p/{code}")
        expect(old.locator("h1")).to_contain_text("Leg")
        jobs.save(stand("leg.left"))
    send_now(old)

    for page in (old, phone("New phone")):
        page.goto(f"{shop.url}/p/{code}")
        expect(page.get_by_text("No longer in this job since revision 2")).to_be_visible()
        expect(page.get_by_text("Leg, 2 of 2")).to_be_visible()
        expect(page.get_by_text("Music stand")).to_be_visible()
        expect(page.get_by_text("another shop")).to_have_count(0)


FULL = """() => {
  const put = IDBObjectStore.prototype.put;
  window.roomy = () => { IDBObjectStore.prototype.put = put; };
  IDBObjectStore.prototype.put = function (value, ...key) {
    const request = put.call(this, value, ...key);
    const { transaction } = this;
    // As measured on a full disk: the request succeeds, then the transaction is aborted and tells why.
    if (this.name === 'parts') request.addEventListener('success', () => {
      const error = new DOMException('Encountered full disk while committing transaction.', 'QuotaExceededError');
      Object.defineProperty(transaction, 'error', { value: error });
      transaction.abort();
    }, { once: true });
    return request;
  };
}"""


def test_a_job_that_does_not_fit_on_a_full_phone_is_told_in_a_sentence_and_harms_nothing(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone("Full phone")
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    open_part(page, shop, "leg.back-left")
    page.context.set_offline(True)
    press_next(page)
    with shop.app.app_context():
        large = replace(demo_job(), key="large", name="Large cabinet")
        jobs.save(large)
    page.get_by_role("link", name="1 to send").click()
    page.evaluate(FULL)

    page.context.set_offline(False)

    expect(page.get_by_role("status")).to_contain_text("This phone is full", timeout=20_000)
    expect(page.get_by_role("status")).to_contain_text("What was pressed here is safe")
    assert faults == []
    assert shop.done("leg.back-left") == {"rough"}
    page.evaluate("() => window.roomy()")
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_role("status")).not_to_contain_text("full", timeout=20_000)
    page.goto(f"{shop.url}/phone/#stacks")
    expect(page.get_by_text("Large cabinet")).to_be_visible()


def test_a_phone_with_little_room_says_so_on_every_screen_before_it_is_full(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone("Tight phone")
    page.add_init_script("StorageManager.prototype.estimate = async () => ({ quota: 1_000e6, usage: 850e6 });")

    page.reload()

    pill = page.get_by_role("link", name="phone nearly full")
    expect(pill).to_be_visible()
    pill.click()
    expect(page.get_by_role("status")).to_contain_text("Make room on it")


def test_send_now_in_a_second_tab_says_that_another_one_is_sending(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone("Two tabs")
    other = page.context.new_page()
    other.goto(f"{shop.url}/health")
    other.evaluate(
        """() => new Promise((held) => {
             navigator.locks.request('facemark-exchange', () => new Promise((done) => { window.done = done; held(); }));
           })"""
    )
    page.get_by_role("link", name="all sent").click()

    page.get_by_role("button", name="Send now").click()

    expect(page.get_by_role("status")).to_contain_text("Another tab of this app is sending.")
    other.evaluate("() => window.done()")
    expect(page.get_by_role("status")).not_to_contain_text("Another tab", timeout=10_000)


def test_a_code_of_no_job_is_told_in_words_of_the_shop(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()

    type_code(page, "K7Q2MX")

    expect(page.get_by_text("Not in the jobs on this phone yet")).to_be_visible()
