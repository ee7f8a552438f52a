"""What can be done on the sheets: undo, other steps, a whole stack, mates, the unit; and codes that are wrong."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from shopfloor.intake.demo import demo_job
from shopfloor.store import jobs
from shopfloor.trade.code import show
from shopfloor.trade.fact import inch
from shopfloor.trade.part import Face, Taper

from .conftest import Shop, a_moment, all_sent, join, open_part, press_next, type_code

pytestmark = pytest.mark.browser


def test_a_step_can_be_taken_back_at_once(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-left")
    press_next(page)

    page.get_by_role("button", name="Undo").click()

    expect(page.locator("button.deed b")).to_have_text("Rough cut")
    all_sent(page)
    assert shop.done("leg.front-left") == set()
    code = shop.codes["leg.front-left"]
    assert [row["entry"]["kind"] for row in shop.rows() if row["entry"]["part"] == code] == ["step_done", "step_undone"]  # type: ignore[index]


def test_any_step_can_be_marked_and_taken_back(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-right")
    page.get_by_role("link", name="Other step").click()
    tile = page.locator(".tile").filter(has_text="mortise")

    tile.click()
    expect(tile).to_have_attribute("aria-pressed", "true")
    expect(tile).to_contain_text("this phone")
    a_moment(page)
    tile.click()

    expect(tile).to_have_attribute("aria-pressed", "false")
    expect(tile).to_contain_text("taken back")


def test_a_step_is_marked_for_all_parts_of_a_stack_where_it_is_due(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.context.set_offline(True)
    open_part(page, shop, "back.muntin")
    press_next(page)
    page.get_by_role("link", name="Stack 4").click()
    expect(page.get_by_role("heading", name="4 Back")).to_be_visible()
    expect(page.locator("button.deed")).to_contain_text("the 4 parts where it is due")

    says = press_next(page)

    assert says == "Rough cut"
    expect(page.get_by_role("button", name="Next step here: Milled")).to_be_visible()
    parts = [key for key in shop.codes if key.startswith("back.")]
    assert len(parts) == 5
    expect(page.get_by_role("link", name="5 to send")).to_be_visible()
    page.context.set_offline(False)
    all_sent(page)
    assert all(shop.done(part) == {"rough"} for part in parts)

    page.get_by_role("link", name="Stacks").click()
    rod = page.locator(".stacks li").filter(has_text="Back").locator(".rod")
    expect(rod).to_have_attribute("aria-label", "1 of 10 steps done, next: mill")


def test_all_of_a_stack_is_taken_back_with_one_press(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    type_code(page, shop.codes["stack:top"])
    expect(page.locator("button.deed")).to_contain_text("its only part")
    press_next(page)

    page.get_by_role("button", name="Undo").click()

    expect(page.locator("button.deed b")).to_have_text("Rough cut")


def test_a_mate_is_one_tap_away(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-left")

    page.get_by_role("link", name="Left side top rail").click()

    expect(page.get_by_role("heading", name="Left side top rail")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()


def test_the_mirror_image_is_called_so_and_has_the_same_marks(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-left")
    marks = page.locator(".marks dt [role=img]").evaluate_all("all => all.map((one) => one.ariaLabel)")

    open_part(page, shop, "leg.front-right")

    expect(page.locator("header.title")).to_contain_text("mirror image of the front left")
    assert page.locator(".marks dt [role=img]").evaluate_all("all => all.map((one) => one.ariaLabel)") == marks
    assert marks[0] == "3 sixteenths of an inch"


def test_lengths_change_with_the_unit_chosen_on_this_phone(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-left")
    expect(page.locator(".sizes")).to_contain_text("inches")
    drawn = page.locator(".picture svg").inner_html()

    page.get_by_role("link", name="all sent").click()
    page.get_by_role("button", name="mm", exact=True).click()
    expect(page.get_by_role("button", name="mm", exact=True)).to_have_attribute("aria-pressed", "true")
    page.go_back()

    expect(page.locator(".sizes")).to_contain_text("44.4 × 44.4 × 920.8")
    expect(page.locator(".marks dt").first).to_have_text("4.8")
    assert page.locator(".picture svg").inner_html() != drawn
    page.reload()
    expect(page.locator(".sizes")).to_contain_text("mm")


def test_a_fraction_is_read_aloud_as_one(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    open_part(page, shop, "leg.front-left")

    spoken = page.locator(".sizes [role=img]").evaluate_all("all => all.map((one) => one.ariaLabel)")

    assert spoken == ["1 and 3 quarters inches", "1 and 3 quarters inches", "36 and a quarter inches"]


def test_a_code_with_one_wrong_symbol_is_told_of_and_kept_to_be_corrected(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    good = shop.codes["leg.front-left"]
    wrong = good[:5] + ("Z" if good[5] != "Z" else "X")

    type_code(page, wrong)

    expect(page.get_by_role("status")).to_contain_text("does not check")
    expect(page.get_by_label("Code", exact=True)).to_have_value(f"{wrong[:3]}-{wrong[3:]}")
    page.get_by_role("button", name="Rub out").click()
    page.get_by_label("Code", exact=True).press("End")
    page.get_by_label("Code", exact=True).press_sequentially(good[5])
    expect(page.get_by_role("heading", name="Front left leg")).to_be_visible()


def test_a_code_of_no_pack_says_so_and_leads_back(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()

    type_code(page, "K7Q2MX")

    expect(page.get_by_role("heading", name="K7Q-2MX")).to_be_visible()
    expect(page.get_by_text("Not in the jobs on this phone yet")).to_be_visible()
    page.get_by_role("button", name="Scan next").click()
    expect(page.get_by_role("link", name="Type the code")).to_be_visible()


def test_parts_are_offered_by_name_as_soon_as_few_are_left(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    code = shop.codes["back.panel-left"]
    page.get_by_role("link", name="Type the code").click()

    page.get_by_label("Code", exact=True).fill(code[:4])
    page.locator(".found a").first.click()

    expect(page.get_by_role("heading", name="Back left panel")).to_be_visible()


def test_what_stands_in_a_name_is_never_markup(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    name = "<img src=x onerror=alert(1)>&amp;"
    page.evaluate(
        """([code, name]) => new Promise((resolve) => {
             const opening = indexedDB.open('facemark');
             opening.onsuccess = () => {
               const parts = opening.result.transaction('parts', 'readwrite').objectStore('parts');
               const asked = parts.get(code);
               asked.onsuccess = () => {
                 parts.put({ ...asked.result, name, place: '', note: name, species: name });
                 parts.transaction.oncomplete = () => { opening.result.close(); resolve(); };
               };
             };
           })""",
        [shop.codes["leg.back-left"], name],
    )

    type_code(page, shop.codes["leg.back-left"])

    expect(page.get_by_role("heading", name=name)).to_be_visible()
    assert page.locator("#app img").count() == 0


LAID_OUT_UNSEEN = """
() => {
  window.unseen = [];
  new MutationObserver((changes) => {
    for (const { addedNodes } of changes)
      for (const node of addedNodes)
        if (node.inert) window.unseen.push({ there: node.isConnected, says: node.textContent });
  }).observe(document, { childList: true, subtree: true });
}
"""


def test_the_first_sheet_is_made_ready_while_scan_lies_open_and_nobody_sees_it(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    page.add_init_script(f"({LAID_OUT_UNSEEN})()")

    page.goto(f"{shop.url}/phone/")
    page.locator(".scan").wait_for()

    unseen: list[dict[str, object]] = []
    for _ in range(100):
        unseen = page.evaluate("window.unseen")
        if unseen:
            break
        page.wait_for_timeout(100)
    assert [(one["there"], "Other step" in str(one["says"])) for one in unseen] == [(False, True)]
    assert page.evaluate("[...document.body.children].map((one) => one.tagName)") == ["DIV", "NOSCRIPT"]


def test_a_stack_is_shown_pulled_apart_and_a_code_on_it_opens_its_part(shop: Shop, phone: Callable[..., Page]) -> None:
    page = phone()
    page.context.set_offline(True)
    type_code(page, shop.codes["stack:left-side"])
    rail = shop.codes["left.top-rail"]

    page.locator(".picture").get_by_text(show(rail)).click()

    expect(page.get_by_role("heading", level=1)).to_contain_text("rail")
    assert page.url.endswith(f"/p/{rail}")


def test_a_part_that_came_out_short_says_where_the_error_lands_with_no_signal(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    page.context.set_offline(True)
    open_part(page, shop, "back.top-rail")

    page.get_by_role("button", name="What if it came out short?").click()
    a_moment(page)
    shorter, _, longer_steps, _ = page.locator(".dock .outlined").all()
    shorter.click()

    # 1/16 off a tenon of 7/8, in the back right leg
    expect(page.locator(".short")).to_contain_text("short; every mark stays")
    expect(page.locator(".short")).to_contain_text("Back right leg: tenon is")
    expect(page.locator(".short").get_by_label("13 sixteenths of an inch")).to_be_visible()

    longer_steps.click()
    expect(shorter.get_by_label("a quarter of an inch")).to_be_visible()
    shorter.click()

    expect(page.locator(".short")).to_contain_text("off: measure again")  # more than a quarter: asked about
    expect(page.locator(".short")).not_to_contain_text("Back right leg")
    page.get_by_role("button", name="It is so").click()
    expect(page.locator(".short")).to_contain_text("Back right leg: tenon is")


def test_the_real_length_is_typed_and_what_it_does_is_seen_above_the_keys(
    shop: Shop, phone: Callable[..., Page]
) -> None:
    page = phone()
    open_part(page, shop, "back.top-rail")  # 24 1/4 long, a tenon of 7/8 at either end
    page.get_by_role("button", name="What if it came out short?").click()
    field = page.get_by_label("Its real length, inches")

    field.fill("24 3/")
    field.press("Enter")
    expect(page.locator(".short").get_by_role("status")).to_have_text("Write it like 14 3/8")
    field.fill("23 1/4")
    field.press("Enter")
    page.get_by_role("button", name="It is so").click()

    says = page.locator(".short").get_by_role("status")
    expect(says).to_contain_text("tenon is gone: it was")
    expect(says).to_contain_text("its shoulders stand")
    expect(says.get_by_label("an eighth of an inch")).to_be_visible()
    below, keys = says.bounding_box(), page.locator(".foot-dock").bounding_box()
    assert below and keys
    assert below["y"] > 0 and below["y"] + below["height"] <= keys["y"]
    expect(page.locator("button.deed")).to_have_count(0)  # no step is marked while measuring


def test_a_step_whose_reference_was_cut_away_is_refused_on_the_sheet_and_named_among_the_steps(
    tmp_path: Path, window: Callable[..., BrowserContext]
) -> None:
    own = Shop(tmp_path)
    job = demo_job()
    taper = Taper("taper", Face.FACE_EDGE, inch(30), inch(1, 4))
    legs = [replace(line, features=(*line.features, taper)) for line in job.lines if line.key.startswith("leg")]
    others = [line for line in job.lines if not line.key.startswith("leg")]
    with own.app.app_context():
        jobs.save(replace(job, lines=(*legs, *others)), "tapered legs")
    page = window().new_page()
    join(page, own, "Bench phone")
    open_part(page, own, "leg.front-left")
    page.get_by_role("link", name="Other step").click()
    why = "the mortise is measured from the face edge, and the taper has taken that away"
    mortise = page.locator(".tile", has_text="mortise")
    expect(mortise).not_to_contain_text(why)
    for step in ("rough cut", "mill", "length", "mark out", "taper"):
        page.locator(".tile").filter(has=page.locator("b", has_text=re.compile(f"^{step}$"))).click()

    expect(mortise).to_contain_text(why)
    page.get_by_role("link", name="The sheet").click()
    expect(page.locator(".dock .idle")).to_have_text(f"Not now: {why}.")
    expect(page.locator("button.deed")).to_have_count(0)
    own.down()
