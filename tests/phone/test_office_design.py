"""The design in a real browser: what follows is seen at once, undo is a key away, and nobody loses their place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from shopfloor.store import drafts, jobs
from shopfloor.trade.length import read
from shopfloor.trade.part import Job
from tests.phone.conftest import JOB, Shop
from tests.phone.test_office_pages import AXE, NARROW, WIDE
from tests.trade.test_joining import JOB as STAND
from tests.web.office_shop import small_job

pytestmark = pytest.mark.browser

Office = Callable[..., Page]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    made = Shop(tmp_path_factory.mktemp("shop"))
    with made.app.app_context():
        for job in (small_job(), STAND):
            jobs.save(job)
    yield made
    made.down()


@pytest.fixture
def office(shop: Shop, window: Callable[..., BrowserContext]) -> Iterator[Office]:
    """Opens an address; every draft is thrown away after, and a page that breaks a rule of its own is told."""
    faults: list[str] = []

    def go(address: str, **more: Any) -> Page:
        page = window(
            **{"viewport": WIDE, "has_touch": False, "is_mobile": False, "device_scale_factor": 1} | more
        ).new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if "Content Security" in said.text else None)
        page.goto(shop.url + address)
        page.evaluate("() => { window.stayed = true; }")
        return page

    expect.set_options(timeout=20_000)
    yield go
    expect.set_options(timeout=5_000)
    with shop.app.app_context():
        for row in jobs.all_jobs():
            drafts.drop(row.key)
    assert faults == []


def draft_of(shop: Shop, key: str) -> Job:
    with shop.app.app_context():
        return drafts.read(key).job


def settled(page: Page) -> None:
    page.wait_for_function("() => !document.querySelector('[data-design]').hasAttribute('aria-busy')")
    assert page.evaluate("() => window.stayed"), "the page was loaded anew"


# --- the design page ---------------------------------------------------------------------------------------------


def test_what_follows_from_a_number_is_seen_without_a_reload(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    picture = page.locator(".picture svg")
    before = picture.inner_html()

    page.get_by_label("Width over the legs").fill("27")
    page.keyboard.press("Tab")

    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: width")
    settled(page)
    # 27 less two legs of 1 3/4 are 23 1/2, and with two tenons of 7/8 the rail is 25 1/4.
    follows = page.locator("#follows-cabinet li", has_text="between the legs").first
    assert "Between the legs 231⁄2 = width 27" in (follows.text_content() or "")
    back = next(line for line in draft_of(shop, JOB).lines if line.key == "back-top-rail")
    assert back.length == read("25 1/4")
    assert picture.inner_html() != before
    expect(page.get_by_label("Depth over the legs")).to_be_focused()


def test_a_number_that_cannot_be_built_warns_and_one_that_can_takes_the_warning_back(
    shop: Shop, office: Office
) -> None:
    page = office(f"/jobs/{JOB}/design")
    wrong = page.locator("#construction-cabinet > summary .here")

    page.get_by_label("Width over the legs").fill("3")
    page.keyboard.press("Tab")
    expect(wrong).to_contain_text("wrong")
    page.get_by_label("Width over the legs").fill("26")
    page.keyboard.press("Tab")

    expect(wrong).to_have_count(0)
    settled(page)


def test_a_number_that_cannot_be_read_stays_with_a_sentence_beside_it(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")

    page.get_by_label("Width over the legs").fill("wide")
    page.keyboard.press("Tab")

    expect(page.get_by_text("is not a size")).to_be_visible()
    expect(page.get_by_label("Width over the legs")).to_have_value("wide")
    expect(page.get_by_label("Depth over the legs")).to_be_focused()
    settled(page)


def test_undo_and_redo_are_keys(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    width = page.get_by_label("Width over the legs")
    width.fill("27")
    page.keyboard.press("Tab")
    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: width")

    page.keyboard.press("Control+z")
    expect(width).to_have_value("26")
    expect(page.get_by_role("status").first).to_contain_text("Nothing has been changed")
    page.keyboard.press("Control+y")
    expect(width).to_have_value("27")

    settled(page)
    expect(page.get_by_label("Depth over the legs")).to_be_focused()


def test_what_is_typed_while_an_answer_is_on_its_way_is_kept(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    page.route("**/design*", lambda route: (page.wait_for_timeout(400), route.continue_()))

    page.get_by_label("Width over the legs").fill("27")
    page.keyboard.press("Tab")
    page.keyboard.type("18")

    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: width", timeout=10_000)
    expect(page.get_by_label("Depth over the legs")).to_have_value("18")
    expect(page.get_by_label("Depth over the legs")).to_be_focused()


# --- lines -------------------------------------------------------------------------------------------------------


def test_lines_are_typed_by_keyboard_alone(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")
    page.get_by_label("Name, new line").focus()
    for text in ("Lid board", "3", "3/4", "5", "30"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    # The next empty row is ready, and nobody touched a mouse.
    expect(page.get_by_label("Name, new line")).to_be_focused()
    expect(page.get_by_label("Length, Lid board")).to_have_value("30")
    page.keyboard.type("Foot")
    for text in ("", "4", "1", "1", "2"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.get_by_label("Length, Foot")).to_have_value("2")
    settled(page)
    lines = draft_of(shop, "hymn-chest").lines
    assert [(line.key, len(line.parts), line.length) for line in lines[2:]] == [
        ("lid-board", 3, read("30")), ("foot", 4, read("2")),
    ]  # fmt: skip


def test_arrow_keys_and_enter_go_from_row_to_row_and_a_row_that_is_left_counts(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")
    page.get_by_label("Width, Rail").focus()

    page.keyboard.press("ArrowUp")
    leg = page.get_by_label("Width, Leg <i>front</i>")
    expect(leg).to_be_focused()
    leg.fill("2")
    page.keyboard.press("Enter")

    expect(page.get_by_label("Width, Rail")).to_be_focused()
    expect(page.get_by_role("status").first).to_contain_text("Last: Leg <i>front</i>: width")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Width, new line")).to_be_focused()
    page.keyboard.press("Control+z")
    expect(leg).to_have_value("1 3/4")
    settled(page)


def test_what_is_typed_in_the_next_row_outlives_the_answer_for_the_last_one(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")
    page.route("**/lines", lambda route: (page.wait_for_timeout(400), route.continue_()))

    page.get_by_label("Width, Leg <i>front</i>").fill("2")
    page.keyboard.press("Enter")
    page.keyboard.type("3")
    page.keyboard.press("Tab")
    page.keyboard.type("21")

    expect(page.get_by_role("status").first).to_contain_text("width", timeout=10_000)
    expect(page.get_by_label("Width, Rail")).to_have_value("3")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("status").first).to_contain_text("Last: Rail: width, length", timeout=10_000)
    rail = draft_of(shop, "hymn-chest").lines[1]
    assert (rail.width, rail.length) == (read("3"), read("21"))


def test_a_size_that_cannot_be_read_stays_in_its_row(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")

    page.get_by_label("Width, Rail").fill("broad")
    page.get_by_label("Width, Leg <i>front</i>").focus()

    expect(page.get_by_text("is not a size")).to_be_visible()
    expect(page.get_by_label("Width, Rail")).to_have_value("broad")
    page.get_by_label("Width, Rail").fill("2 3/4")
    page.keyboard.press("ArrowUp")
    expect(page.get_by_text("is not a size")).to_have_count(0)
    assert draft_of(shop, "hymn-chest").lines[1].width == read("2 3/4")


@pytest.mark.parametrize("scripts", [True, False], ids=["with JavaScript", "without JavaScript"])
def test_a_ticked_box_takes_a_line_out(shop: Shop, office: Office, window: Any, scripts: bool) -> None:
    page = window(viewport=WIDE, java_script_enabled=scripts).new_page()
    page.goto(f"{shop.url}/jobs/hymn-chest/lines")

    page.get_by_label("Take Rail out").check()
    if not scripts:
        page.get_by_role("button", name="Take these lines").click()

    expect(page.get_by_label("Width, Rail")).to_have_count(0)
    assert [line.key for line in draft_of(shop, "hymn-chest").lines] == ["leg"]
    with shop.app.app_context():
        drafts.drop("hymn-chest")


def test_stacks_are_renamed_by_keyboard_alone_and_a_row_that_is_left_counts(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/lines")
    page.get_by_label("Name of stack 2").focus()

    page.keyboard.press("Control+a")
    page.keyboard.type("Organ side")
    page.keyboard.press("Enter")

    expect(page.get_by_label("Name of stack 3")).to_be_focused()
    expect(page.get_by_role("status").first).to_contain_text("Last: stack 2 called Organ side")
    expect(page.get_by_text("Named by hand; else Left side.")).to_be_visible()
    page.keyboard.press("ArrowUp")
    expect(page.get_by_label("Name of stack 2")).to_be_focused()
    page.keyboard.press("Control+z")
    expect(page.get_by_label("Name of stack 2")).to_have_value("Left side")
    settled(page)


def test_enter_in_the_last_stack_takes_its_name_and_stays_there(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")
    last = page.get_by_label("Name of stack 2")
    last.fill("Front frame")
    page.keyboard.press("Enter")

    expect(page.get_by_role("status").first).to_contain_text("Last: stack 2 called Front frame")
    settled(page)
    expect(last).to_be_focused()
    assert [each.name for each in draft_of(shop, "hymn-chest").assemblies] == ["Legs", "Front frame"]


# --- joints ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("scripts", [True, False], ids=["with JavaScript", "without JavaScript"])
def test_two_parts_are_joined_and_the_joint_is_taken_out_again(
    shop: Shop, office: Office, window: Any, scripts: bool
) -> None:
    page = window(viewport=WIDE, java_script_enabled=scripts).new_page()
    page.goto(f"{shop.url}/jobs/stand/lines")
    page.get_by_role("link", name="Join two parts").click()
    page.get_by_label("The part that comes").select_option("rail")
    page.get_by_label("Its mate").select_option("leg")
    page.get_by_role("button", name="Propose sizes").click()
    expect(page.get_by_label("Width of the mortise")).to_have_value("3/8")
    expect(page.locator(".picture svg")).to_have_count(2)
    page.get_by_label("Length of the tenon").fill("1")
    page.get_by_role("button", name="Join them").click()

    expect(page.get_by_role("row", name="4A")).to_contain_text("Front rail: tenon")
    page.get_by_role("button", name="Take out 4A").click()
    expect(page.get_by_role("button", name="Take out 4A")).to_have_count(0)
    assert [each.letter for each in draft_of(shop, "stand").joints] == ["4B"]
    with shop.app.app_context():
        drafts.drop("stand")


ADDRESSES = [
    "/shop", "/jobs/hymn-chest/lines", "/jobs/hymn-chest/lines/leg", "/jobs/stand/join", f"/jobs/{JOB}/lines",
    f"/jobs/{JOB}/design",
]  # fmt: skip


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("address", ADDRESSES)
def test_pages_of_the_design_are_accessible_and_nothing_is_cut_off(
    office: Office, address: str, size: dict[str, int], scheme: str
) -> None:
    page = office(address, viewport=size, color_scheme=scheme, bypass_csp=True)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size["width"]
    page.add_script_tag(content=AXE)
    found = page.evaluate("async () => (await axe.run()).violations.map((one) => `${one.id}: ${one.nodes[0].html}`)")
    assert found == []


# --- what is wrong, and what waits ---------------------------------------------------------------------------------

THICK = "left.frame.tenon.thickness"


def opened_at(page: Page, *labels: str) -> None:
    for label in labels:
        page.locator("summary", has_text=label).locator("visible=true").first.click()


def test_a_fault_is_seen_where_it_was_typed_in_the_list_and_beside_save(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    opened_at(page, "Left side", "Frame", "Tenons of the rails")
    field = page.locator(f"[name='{THICK}']")
    field.fill("3/4")
    page.keyboard.press("Tab")

    expect(field).to_have_attribute("aria-invalid", "true")
    settled(page)
    assert "1/2 in or less would do" in (page.locator(f"[id='cabinet-{THICK}-says']").text_content() or "")
    expect(page.get_by_role("status").first).to_contain_text("Left side cannot be made: A tenon 3/4 in")
    sticky = page.locator(".drawing-side")
    expect(sticky.locator(".not-made")).to_contain_text("Left side cannot be made")
    expect(sticky.locator(".of-stack h3").nth(1)).to_contain_text("Right side")
    opened_at(page, "What is different")
    expect(page.get_by_role("button", name="Save as revision")).to_be_disabled()
    page.evaluate("() => scrollTo(0, 0)")
    sticky.locator(".warnings a").first.click()
    expect(field).to_be_focused()
    expect(field).to_be_in_viewport()

    field.fill("1/4")
    page.keyboard.press("Tab")
    expect(page.locator("[aria-invalid]")).to_have_count(0)
    expect(page.locator(".not-made")).to_have_count(0)
    settled(page)


def test_what_was_typed_elsewhere_outlives_the_answer_to_something_else(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    page.get_by_label("Width over the legs").fill("27")
    page.keyboard.press("Tab")
    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: width")
    opened_at(page, "What is different", "What follows")
    page.get_by_label("A note for the list").fill("wider")
    by_hand = page.get_by_label("Back, bottom rail, length, set by hand")
    by_hand.fill("24 1/2")

    page.get_by_label("Left side, panel, width, set by hand").fill("13 7/8")
    page.keyboard.press("Enter")
    expect(page.locator(".derived .by-hand")).to_have_count(1)
    # The left side goes, and with it the rows above that of the back.
    opened_at(page, "Left side")
    page.get_by_label("Left side: make it").uncheck()
    expect(page.get_by_label("Left side, panel, width, set by hand")).to_have_count(0)
    settled(page)

    expect(page.get_by_label("A note for the list")).to_have_value("wider")
    expect(by_hand).to_have_value("24 1/2")
    expect(page.get_by_label("Width over the legs")).to_have_value("27")


def test_a_field_that_was_not_taken_is_put_back_first_and_nothing_else(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    width, depth = page.get_by_label("Width over the legs"), page.get_by_label("Depth over the legs")
    page.get_by_label("Height with the top").fill("38")
    page.keyboard.press("Tab")
    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: height")
    width.fill("wide")
    page.keyboard.press("Tab")
    expect(page.get_by_text("is not a size")).to_be_visible()
    depth.fill("18")
    page.keyboard.press("Tab")
    settled(page)

    page.keyboard.press("Control+z")

    expect(width).to_have_value("26")
    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: depth")
    expect(depth).to_have_value("18")
    expect(page.get_by_label("Height with the top")).to_have_value("38")
    expect(page.get_by_text("is not a size")).to_have_count(0)
    settled(page)


def test_what_was_not_taken_survives_a_reload(shop: Shop, office: Office) -> None:
    page = office("/jobs/hymn-chest/lines")
    page.get_by_label("Width, Rail").fill("broad")
    page.get_by_label("Width, Leg <i>front</i>").focus()
    expect(page.get_by_text("is not a size")).to_be_visible()

    page.reload()
    expect(page.get_by_label("Width, Rail")).to_have_value("broad")

    page.goto(f"{shop.url}/jobs/{JOB}/design")
    page.get_by_label("Width over the legs").fill("wide")
    page.keyboard.press("Tab")
    expect(page.get_by_text("is not a size")).to_be_visible()
    page.reload()
    expect(page.get_by_label("Width over the legs")).to_have_value("wide")
    expect(page.get_by_text("is not a size")).to_be_visible()
    page.keyboard.press("Control+z")
    expect(page.get_by_label("Width over the legs")).to_have_value("26")


def test_what_was_thrown_away_is_undone(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/design")
    page.get_by_label("Width over the legs").fill("27")
    page.keyboard.press("Tab")
    expect(page.get_by_role("status").first).to_contain_text("Last: cabinet: width")
    opened_at(page, "What is different")
    page.get_by_role("button", name="Throw the changes away").click()

    expect(page.get_by_label("Width over the legs")).to_have_value("26")
    expect(page.get_by_role("status").first).to_contain_text("Last: all changes thrown away")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("Width over the legs")).to_have_value("27")
    settled(page)
