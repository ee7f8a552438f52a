"""The narrowest phones: nothing runs off the side, whatever people call things; the outbox stays in sight; numbers are
read at arm's length."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Shop, join
from .test_screens import _cut_off

pytestmark = pytest.mark.browser

COMPOUND = "Notenschrankschubladenvorderstückzinkenverbindungsgegenstück"  # 60 letters, no place to break
LONG = """([word, part]) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('facemark');
  opening.onsuccess = () => {
    const tx = opening.result.transaction(['jobs', 'stacks', 'parts', 'meta'], 'readwrite');
    tx.onerror = () => reject(tx.error);
    tx.oncomplete = () => { opening.result.close(); resolve(); };
    const each = (name, change) => {
      tx.objectStore(name).openCursor().onsuccess = ({ target: { result: cursor } }) => {
        if (!cursor) return;
        cursor.update(change(cursor.value));
        cursor.continue();
      };
    };
    each('jobs', (job) => ({ ...job, name: word, species: word }));
    each('stacks', (stack) => ({ ...stack, name: word }));
    each('parts', (one) => ({ ...one, name: word, note: word, species: word, hand: 'mirror', mirrors: word,
                             stack: one.code === part ? 'gone' : one.stack,
                             mates: one.mates.map((mate) => ({ ...mate, name: word, says: word })) }));
    const kept = tx.objectStore('meta');
    kept.get('phone').onsuccess = ({ target: { result } }) => kept.put({ ...result, name: word, shop: word }, 'phone');
  };
})"""
"""Everything that people name, on one phone.  One part has lost its stack: then the job is named at the top."""


@pytest.mark.parametrize("width", [320, 360])
def test_no_screen_runs_off_the_side_whatever_people_call_their_things(
    shop: Shop, window: Callable[..., BrowserContext], width: int
) -> None:
    page = window(viewport={"width": width, "height": 740}, service_workers="block").new_page()
    join(page, shop, "Bench phone")
    alone, other = shop.codes["leg.front-left"], shop.codes["leg.front-right"]
    page.evaluate(LONG, [COMPOUND, alone])
    wide = {}

    for address, there in {
        f"/p/{alone}": ".picture svg",
        f"/p/{other}": ".rows a",
        f"/p/{other}#steps": ".tile",
        f"/p/{shop.codes['stack:back']}": ".parts li",
        "/phone/#stacks": ".stacks .rod[aria-label]",
        "/phone/#outbox": ".facts",
        "/phone/#join": ".title",
        f"/phone/#type={other[:3]}": ".found a",
    }.items():
        page.goto(shop.url + address.split("=")[0])
        page.reload()
        if "=" in address:
            page.get_by_label("Code", exact=True).fill(address.split("=")[1])
        page.locator(there).first.wait_for()
        page.evaluate("() => document.fonts.ready")
        said = page.locator("#app").inner_text()
        assert COMPOUND.lower() in said.lower(), address
        across = page.evaluate("() => document.documentElement.scrollWidth")
        if across > width or _cut_off(page):
            wide[address] = [across, *_cut_off(page)]

    assert wide == {}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(320, 568), (360, 740), (740, 360)], ids=str)
def test_the_outbox_and_the_way_back_stay_in_sight_on_a_long_sheet(
    shop: Shop, window: Callable[..., BrowserContext], size: tuple[int, int], scheme: str
) -> None:
    width, height = size
    page = window(viewport={"width": width, "height": height}, color_scheme=scheme).new_page()
    join(page, shop, "Bench phone")
    for code, there in ((shop.codes["leg.front-left"], ".picture svg"), (shop.codes["stack:back"], ".parts li")):
        page.goto(f"{shop.url}/p/{code}")
        page.locator(there).first.wait_for()
        page.evaluate("() => scrollTo(0, document.documentElement.scrollHeight)")
        assert page.evaluate("() => scrollY") > 0

        seen = page.evaluate(
            """() => ['.pill', '.top .way', '.foot-dock .deed'].map((name) => {
                 const { left, right, top, bottom } = document.querySelector(name).getBoundingClientRect();
                 const met = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
                 return [top >= 0 && bottom <= innerHeight, Boolean(met?.closest(name))];
               })"""
        )

        assert seen == [[True, True]] * 3, there
        grounds = page.evaluate(
            "() => ['.top', 'html'].map((name) => getComputedStyle(document.querySelector(name)).backgroundColor)"
        )
        assert grounds[0] == grounds[1]
        way = page.locator(".top .way").first
        way.focus()
        expect(way).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("width", [320, 360])
def test_numbers_are_read_at_arms_length(shop: Shop, window: Callable[..., BrowserContext], width: int) -> None:
    page: Page = window(viewport={"width": width, "height": 740}).new_page()
    join(page, shop, "Bench phone")
    for part in ("leg.front-left", "back.top-rail", "drawer.1.front", "web.1.front-rail"):
        page.goto(f"{shop.url}/p/{shop.codes[part]}")
        page.locator(".picture svg").wait_for()
        page.evaluate("() => document.fonts.ready")
        numbers = page.evaluate(
            """() => [...document.querySelectorAll('.drawing > [text-anchor=end] > text')].map((text) => {
                 const { left, height } = text.getBoundingClientRect();
                 return [left, parseFloat(getComputedStyle(text).fontSize), text.getScreenCTM().a];
               })"""
        )

        assert {size for _, size, _ in numbers} <= {23, 16.1}  # a lone fraction begins with its small numerator
        assert min(left for left, _, _ in numbers) >= 0, part
        assert min(scale for _, _, scale in numbers) >= 0.999, part

    page.goto(f"{shop.url}/p/{shop.codes['leg.front-left']}")
    small = page.locator(".deed .frac .num").first.evaluate("(one) => parseFloat(getComputedStyle(one).fontSize)")
    assert small >= 15
