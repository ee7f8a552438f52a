"""Joining: every way in has a way on and a way back, and what is said is true."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Shop, a_moment, enter_join_code

pytestmark = pytest.mark.browser

OFFER = """() => {
  const event = new Event('beforeinstallprompt');
  event.prompt = () => { window.asked = (window.asked ?? 0) + 1; return Promise.resolve(); };
  dispatchEvent(event);
}"""


@pytest.fixture
def stranger(shop: Shop, window: Callable[..., BrowserContext]) -> Page:
    """A phone that has not joined, at the first screen."""
    page = window().new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("heading", name="Join the shop").wait_for()
    return page


def test_a_phone_that_has_joined_is_told_so_and_not_to_join_again(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()

    page.goto(f"{shop.url}/phone/#join")

    expect(page.get_by_role("heading", name="This phone has joined")).to_be_visible()
    expect(page.locator("header.title")).to_contain_text("Our shop")
    assert page.get_by_text("does not know this phone").count() == 0
    page.locator("a.deed", has_text="Scan").click()
    expect(page.locator(".scan")).to_be_visible()


def test_a_phone_that_has_joined_can_join_with_another_code_and_keeps_its_name(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone("Saw phone")
    page.goto(f"{shop.url}/phone/#join")
    page.get_by_role("button", name="Other code").click()

    page.get_by_role("button", name="Type the code").click()
    page.get_by_label("The office's code").fill(shop.join_code().text)
    expect(page.get_by_label("What people will read")).to_have_value("Saw phone")
    page.get_by_role("button", name="Join").click()

    expect(page.locator(".scan")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="This phone has joined")).to_be_visible()


def test_a_phone_that_was_withdrawn_is_offered_its_old_name(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone("Router phone")
    shop.withdraw_all()
    page.get_by_role("link", name="Outbox").click()
    page.get_by_role("button", name="Send now").click()
    page.get_by_role("link", name="Join again", exact=True).first.click()
    expect(page.get_by_text("does not know this phone any more")).to_be_visible()

    page.get_by_role("button", name="Type the code").click()
    page.get_by_label("The office's code").fill(shop.join_code().text)

    field = page.get_by_label("What people will read")
    expect(field).to_have_value("Router phone")
    field.fill("")
    expect(field).to_have_value("")


def test_from_typing_the_offices_code_there_is_a_way_to_the_camera_and_back(stranger: Page) -> None:
    stranger.get_by_role("button", name="Type the code").click()
    keys = stranger.get_by_role("heading", name="The office's code")

    stranger.get_by_role("button", name="Scan").click()
    expect(stranger.locator(".scan")).to_be_visible()
    stranger.get_by_role("link", name="Type the code").click()
    expect(keys).to_be_visible()

    stranger.get_by_role("button", name="Back").click()
    expect(stranger.get_by_role("heading", name="Join the shop")).to_be_visible()
    stranger.get_by_role("button", name="Scan the code").click()
    a_moment(stranger)
    stranger.get_by_role("link", name="Back").click()
    expect(stranger.get_by_role("heading", name="Join the shop")).to_be_visible()


@pytest.mark.parametrize("width", [320, 360])
def test_the_field_is_wide_enough_for_the_offices_whole_code(stranger: Page, width: int) -> None:
    stranger.set_viewport_size({"width": width, "height": 740})
    stranger.get_by_role("button", name="Type the code").click()
    stranger.evaluate("() => document.fonts.ready")

    field = stranger.get_by_label("The office's code")
    field.fill("MWMWMWM")  # the widest; with one symbol more the next screen comes
    room, text = field.evaluate(
        """(field) => {
             const { fontSize, fontWeight, fontFamily, paddingLeft, paddingRight } = getComputedStyle(field);
             const pen = document.createElement('canvas').getContext('2d');
             pen.font = `${fontWeight} ${fontSize} ${fontFamily}`;
             const room = field.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
             return [room, pen.measureText('MWMW-MWMW').width];
           }"""
    )

    assert text <= room


def test_a_label_on_a_phone_that_has_not_joined_says_what_it_is_and_what_comes_first(
    shop: Shop, stranger: Page
) -> None:
    stranger.goto(f"{shop.url}/p/{shop.codes['leg.front-left']}")

    expect(stranger.get_by_text("This is a part's label: this phone has to join the shop first")).to_be_visible()
    assert stranger.get_by_text("packs").count() == 0
    stranger.get_by_role("link", name="Join the shop").click()
    expect(stranger.get_by_role("heading", name="Join the shop")).to_be_visible()


def test_the_app_goes_on_the_home_screen_first_by_a_button_where_the_browser_offers_it(stranger: Page) -> None:
    expect(stranger.get_by_text("First put Facemark on the home screen, from the browser's menu")).to_be_visible()

    stranger.evaluate(OFFER)
    stranger.get_by_role("button", name="First put it on the home screen").click()

    assert stranger.evaluate("asked") == 1
    expect(stranger.get_by_role("button", name="First put it on the home screen")).to_have_count(0)


def test_the_installed_app_does_not_ask_to_be_installed(shop: Shop, window: Callable[..., BrowserContext]) -> None:
    page = window().new_page()
    page.add_init_script("Object.defineProperty(Navigator.prototype, 'standalone', { get: () => true });")
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("heading", name="Join the shop").wait_for()

    assert page.get_by_text("home screen").count() == 0


def test_after_a_wrong_code_joining_goes_on_as_if_nothing_was(shop: Shop, stranger: Page) -> None:
    enter_join_code(stranger, "ZZZZ-ZZZZ", "Late phone")
    expect(stranger.get_by_text("this code is unknown")).to_be_visible()
    stranger.get_by_role("button", name="Other code").click()

    stranger.get_by_role("button", name="Type the code").click()
    assert stranger.get_by_text("this code is unknown").count() == 0
    stranger.get_by_label("The office's code").fill(shop.join_code().text)
    expect(stranger.get_by_label("What people will read")).to_have_value("Late phone")
    stranger.get_by_role("button", name="Join").click()

    expect(stranger.locator(".scan")).to_be_visible()


def test_somebody_who_goes_on_the_moment_the_phone_has_joined_is_not_called_back(
    shop: Shop, window: Callable[..., BrowserContext]
) -> None:
    page = window().new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("button", name="Type the code").wait_for()
    page.evaluate(
        """() => {
             const watch = new MutationObserver(() => {
               if (!document.querySelector('.scan')) return;
               watch.disconnect();
               location.hash = '#stacks';
             });
             watch.observe(document.getElementById('app'), { childList: true, subtree: true });
           }"""
    )

    enter_join_code(page, shop.join_code().text, "Quick phone")

    expect(page.locator(".stacks li").first).to_be_visible(timeout=20_000)
    assert page.url.endswith("#stacks")
