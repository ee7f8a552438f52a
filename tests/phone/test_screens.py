"""Every screen, light and dark: what is pressed is large enough, nothing overlaps or is cut off, axe finds nothing
serious."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from .conftest import Shop, join, type_code

pytestmark = pytest.mark.browser

AXE = Path(__file__).parents[1] / "node_modules" / "axe-core" / "axe.min.js"
LEAST, FLOOR, MAIN, GAP = 48, 113, 126, 16


UNTOUCHED = (f"drawer.{drawer}.{piece}" for drawer in range(1, 7) for piece in ("front", "back", "side-left"))
"""Parts on which nothing was done yet: each is pressed once."""


def _scan(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/phone/")
    page.locator(".scan").wait_for()


def _type(page: Page, shop: Shop) -> None:
    _scan(page, shop)
    type_code(page, shop.codes["leg.front-left"][:3])
    page.locator(".found a").first.wait_for()


def _symbols(page: Page, shop: Shop) -> None:
    _scan(page, shop)
    page.get_by_role("link", name="Type the code").click()
    page.get_by_role("button", name="2 5 6 7").click()
    page.locator(".keys.four").wait_for()


def _part(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/p/{shop.codes['leg.front-right']}")
    page.locator(".picture svg").wait_for()


def _short(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/p/{shop.codes['left.top-rail']}")
    page.get_by_role("button", name="What if it came out short?").click()
    page.locator(".short").wait_for()
    field = page.get_by_label("Its real length")
    field.fill("15 1/8")
    field.press("Enter")
    page.get_by_text("every mark stays").wait_for()


def _pressed(page: Page, shop: Shop) -> None:
    key = next(UNTOUCHED)
    page.goto(f"{shop.url}/p/{shop.codes[key]}")
    page.locator("button.deed").click()
    page.get_by_role("button", name="Undo").wait_for()


def _steps(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/p/{shop.codes['back.panel-left']}#steps")
    page.locator(".tile").first.wait_for()


def _stack(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/p/{shop.codes['stack:back']}")
    page.locator(".parts li").first.wait_for()


def _stacks(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/phone/#stacks")
    page.locator(".stacks .rod[aria-label]").first.wait_for()


def _outbox(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/phone/#outbox")
    page.locator(".outbox").wait_for()


def _unknown(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.url}/p/K7Q2MX")
    page.get_by_role("heading", name="K7Q-2MX").wait_for()


SCREENS: dict[str, Callable[[Page, Shop], None]] = {
    "scan": _scan,
    "type": _type,
    "symbols": _symbols,
    "part": _part,
    "part, pressed": _pressed,
    "part, short": _short,
    "steps": _steps,
    "stack": _stack,
    "stacks": _stacks,
    "outbox": _outbox,
    "unknown code": _unknown,
}


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def joined(shop: Shop, window: Callable[..., BrowserContext], scheme: str) -> Page:
    page = window(color_scheme=scheme, bypass_csp=True, service_workers="block").new_page()
    join(page, shop, "Bench phone")
    return page


def test_axe_finds_nothing_serious_on_any_screen(shop: Shop, joined: Page) -> None:
    assert {name: found for name in SCREENS if (found := _axe_on(joined, shop, name))} == {}


def test_axe_finds_nothing_serious_while_joining(
    shop: Shop, window: Callable[..., BrowserContext], scheme: str
) -> None:
    page = window(color_scheme=scheme, bypass_csp=True).new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("button", name="Type the code").wait_for()
    first = _axe(page)
    page.get_by_role("button", name="Type the code").click()
    second = _axe(page)
    page.get_by_label("The office's code").fill("ZZZZ-ZZZZ")
    page.get_by_label("What people will read").fill("Bench phone")
    page.get_by_role("button", name="Join").click()
    page.get_by_text("this code is unknown").wait_for()

    assert (first, second, _axe(page)) == ([], [], [])


def test_text_has_seven_to_one_on_every_screen(shop: Shop, joined: Page) -> None:
    failing = {}
    for name, go in SCREENS.items():
        go(joined, shop)
        if found := _axe(joined, rules=["color-contrast-enhanced"]):
            failing[name] = found

    assert failing == {}


@pytest.mark.parametrize("size", [(360, 740), (320, 568), (412, 915), (740, 360), (1280, 800)], ids=str)
def test_what_is_pressed_is_large_enough_and_apart_at_any_size(
    shop: Shop, window: Callable[..., BrowserContext], size: tuple[int, int]
) -> None:
    width, height = size
    page = window(viewport={"width": width, "height": height}, service_workers="block").new_page()
    join(page, shop, "Bench phone")

    for name, go in SCREENS.items():
        go(page, shop)
        page.evaluate("() => document.fonts.ready")
        pressed = _rects(page)
        assert pressed, name
        for one in pressed:
            where = f"{name} at {width} x {height}: {one}"
            least = MAIN if one["kind"] == "deed" else FLOOR if one["kind"] == "outlined" else LEAST
            if one["kind"] == "outlined" and one["small"]:
                least = 76  # not pressed on the floor, or beside what can be
            assert one["height"] >= least, where
            assert one["width"] >= min(least, FLOOR) or (width < 340 and one["width"] >= 80), where
            assert one["left"] >= 0 and one["right"] <= width, where
            if one["docked"]:
                assert one["top"] >= 0 and one["bottom"] <= height, f"{where} is off the screen"
        for a in pressed:
            for b in pressed:
                if a is b or "outlined" not in (a["kind"], b["kind"]):
                    continue
                across = max(b["left"] - a["right"], a["left"] - b["right"])
                down = max(b["top"] - a["bottom"], a["top"] - b["bottom"])
                if a["docked"] == b["docked"]:
                    assert max(across, down) >= (GAP - 0.5 if a["kind"] == b["kind"] else 0), f"{name}: {a} {b}"
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width, f"{name} at {width}"
        assert _cut_off(page) == [], f"{name} at {width} x {height}"


def _axe_on(page: Page, shop: Shop, name: str) -> list[str]:
    SCREENS[name](page, shop)
    return _axe(page)


def _axe(page: Page, rules: list[str] | None = None) -> list[str]:
    """What axe finds that is serious or worse; with `rules`, all that these find."""
    page.wait_for_timeout(50)
    if not page.evaluate("() => 'axe' in window"):
        page.add_script_tag(path=AXE)
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    only: dict[str, Any] = {"type": "rule", "values": rules} if rules else {"type": "tag", "values": tags}
    found = page.evaluate("(only) => axe.run(document, { runOnly: only, resultTypes: ['violations'] })", only)
    return [
        f"{fault['id']}: {node['target']} {node['failureSummary']}"
        for fault in found["violations"]
        for node in fault["nodes"]
        # What lies half below the dock is scrolled up before it is pressed; sizes are measured below, and harder.
        if "partially obscured" not in node["failureSummary"]
        if rules or fault["impact"] in ("serious", "critical")
    ]


def _rects(page: Page) -> list[dict[str, Any]]:
    """Everything that can be pressed, where it is on the screen."""
    found: list[dict[str, Any]] = page.evaluate(
        """() => [...document.querySelectorAll('a, button, label.outlined, input:not(.spoken)')].map((one) => {
             const { left, right, top, bottom, width, height } = one.getBoundingClientRect();
             const kind = ['deed', 'outlined'].find((name) => one.classList.contains(name)) ?? 'other';
             return { text: one.textContent.trim().slice(0, 30), kind, left, right, top, bottom, width, height,
                      small: Boolean(one.closest('.typed, .three')), docked: Boolean(one.closest('.foot-dock')) };
           })"""
    )
    return found


def _cut_off(page: Page) -> list[str]:
    """Texts that are wider than what holds them."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('#app *')]
             .filter((one) => !one.closest('svg, .spoken, .camera, video') && one.clientWidth > 0
                              && one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== 'inline')
             .map((one) => `${one.className || one.nodeName}: ${one.textContent.trim().slice(0, 40)}`)"""
    )
    return found
