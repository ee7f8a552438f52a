"""The office in a real browser: with and without JavaScript, wide and narrow, light and dark."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import BrowserContext, Page, expect

from shopfloor.store import jobs, journal, phones
from tests.entries import entry, offered
from tests.phone.conftest import JOB, Shop

pytestmark = pytest.mark.browser

TESTS = Path(__file__).resolve().parent.parent
FILES = TESTS / "intake/files"
AXE = (TESTS / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
WIDE = {"width": 1280, "height": 800}
NARROW = {"width": 360, "height": 740}

Office = Callable[..., Page]


@pytest.fixture
def office(shop: Shop, window: Callable[..., BrowserContext]) -> Iterator[Office]:
    """Opens an address in a window of the office's; a page that breaks a rule of its own makes the test fail."""
    faults: list[str] = []

    def go(address: str = "/", **more: Any) -> Page:
        page = window(
            **{"viewport": WIDE, "has_touch": False, "is_mobile": False, "device_scale_factor": 1} | more
        ).new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if "Content Security" in said.text else None)
        page.goto(shop.url + address)
        return page

    yield go
    assert faults == []


def tell(shop: Shop, *raws: dict[str, Any]) -> None:
    with shop.app.app_context():
        journal.keep(offered(*raws))


def addresses(shop: Shop) -> list[str]:
    leg = shop.codes["leg.front-right"]
    return [
        "/", f"/jobs/{JOB}", f"/jobs/{JOB}/stacks/5", f"/jobs/{JOB}/parts/{leg}", f"/jobs/{JOB}/print", "/cut-list",
        "/phones", "/set-aside", "/nowhere", f"/jobs/{JOB}/lumber", "/rack", "/rack/new", "/board-plans",
    ]  # fmt: skip


def look_at(page: Page, file: str) -> None:
    page.get_by_label("File").set_input_files(FILES / file)
    page.get_by_role("button", name="Look at it first").click()


@pytest.mark.parametrize("scripts", [True, False], ids=["with JavaScript", "without JavaScript"])
def test_a_cut_list_becomes_a_job_in_two_clicks(shop: Shop, office: Office, scripts: bool) -> None:
    name = f"Two doors {'with' if scripts else 'without'}"
    page = office("/cut-list", java_script_enabled=scripts)
    page.get_by_label("Name of the job").fill(name)

    look_at(page, "bom.csv")
    expect(page.get_by_role("heading", name="8 parts in 1 stack")).to_be_visible()
    page.get_by_role("button", name="Make the job").click()

    expect(page.get_by_role("heading", name=name)).to_be_visible()
    expect(page.get_by_role("row", name="All parts")).to_contain_text("8 parts")
    page.goto(shop.url)
    expect(page.get_by_role("row", name=name)).to_contain_text("next: rough cut")


def test_faults_are_shown_by_row_and_column_and_can_be_corrected_on_the_spot(shop: Shop, office: Office) -> None:
    page = office("/cut-list")
    page.get_by_label("Name of the job").fill("Stand <b>")
    page.get_by_label("or type or paste it here").fill("Part,Qty,Thickness,Width,Length\nLeg,4,1 3/4,1 3/4,abc\n")
    page.get_by_role("button", name="Look at it first").click()
    expect(page.get_by_role("heading", name="1 thing to put right")).to_be_visible()
    expect(page.get_by_role("row", name="2 Length")).to_contain_text('"abc" is not a size')

    page.get_by_label("The cut list").fill("Part,Qty,Thickness,Width,Length\nLeg,4,1 3/4,1 3/4,36\n")
    page.get_by_role("button", name="Look again").click()
    page.get_by_role("button", name="Make the job").click()

    expect(page.get_by_role("heading", name="Stand <b>")).to_be_visible()


def test_a_step_that_a_phone_sends_shows_by_itself_and_the_focus_stays(
    shop: Shop, office: Office, phone: Callable[..., Page]
) -> None:
    code = (
        shop.codes["top.1"] if "top.1" in shop.codes else next(c for k, c in shop.codes.items() if k.startswith("top"))
    )
    page = office(f"/jobs/{JOB}")
    row = page.get_by_role("row", name="Top")
    expect(row).to_contain_text("next: rough cut")
    expect(page.get_by_role("status")).to_have_text("live")
    link = row.get_by_role("link", name="Top")
    link.focus()
    mark = page.evaluate_handle("document.activeElement")

    bench = phone("Bench phone")
    bench.evaluate(
        """async ([code, id]) => {
            const joined = await (await fetch("/packs")).json();
            const sent = await fetch("/sync", {method: "POST", headers: {"Content-Type": "application/json"},
              body: JSON.stringify({generation: joined.generation, client_now: Date.now(), app: "test", entries: [
                {id, device: "d", incarnation: "i", number: 1, hlc: [Date.now(), 0], at: Date.now(), kind: "step_done",
                 v: 1, part: code, base: [], body: {step: "rough"}}]})});
            if (!sent.ok) throw new Error(await sent.text());
        }""",
        [code, "ab" * 16],
    )

    expect(row).to_contain_text("next: mill", timeout=6000)
    assert page.evaluate("mark => mark === document.activeElement && mark.isConnected", mark)


def test_a_shop_that_does_not_answer_is_said_to_and_live_again_when_it_does(shop: Shop, office: Office) -> None:
    page = office("/")
    expect(page.get_by_role("status")).to_have_text("live")

    page.context.set_offline(True)
    expect(page.get_by_role("status")).to_contain_text("no answer since ", timeout=6000)
    page.context.set_offline(False)

    expect(page.get_by_role("status")).to_have_text("live", timeout=6000)


def test_a_page_that_nobody_looks_at_asks_for_nothing(office: Office) -> None:
    page = office("/")
    expect(page.get_by_role("status")).to_have_text("live")
    page.evaluate("Object.defineProperty(document, 'hidden', {get: () => true})")
    page.wait_for_timeout(300)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))

    page.wait_for_timeout(2500)

    assert asked == []


def test_a_disagreement_is_decided_with_one_click_without_javascript_too(shop: Shop, office: Office) -> None:
    code = next(code for key, code in shop.codes.items() if key.startswith("back"))
    tell(
        shop,
        entry(801, part=code, device="one", body={"step": "mill"}),
        entry(802, part=code, device="two", kind="step_undone", body={"step": "mill"}),
    )
    page = office(f"/jobs/{JOB}", java_script_enabled=False)
    page.get_by_role("link", name="Decide").first.click()

    page.get_by_role("button", name="Milled").click()

    expect(page.get_by_role("heading", name="To settle")).to_have_count(0)
    expect(page.get_by_role("row", name="the office")).to_contain_text("Milled")


def test_a_phone_joins_with_the_code_that_the_office_shows(shop: Shop, office: Office, window: Any) -> None:
    from tests.phone.conftest import enter_join_code

    page = office("/phones", java_script_enabled=False)
    page.get_by_role("button", name="Add a phone").click()
    code = page.locator(".join-code").inner_text()
    assert page.locator(".address").inner_text().endswith("/phone/")

    bench = window().new_page()
    bench.goto(f"{shop.url}/phone/")
    enter_join_code(bench, code, "Ida’s phone")
    bench.locator(".scan").wait_for()

    page.goto(f"{shop.url}/phones")
    expect(page.get_by_role("row", name="Ida’s phone")).to_be_visible()
    page.get_by_role("button", name="Withdraw Ida’s phone").click()
    expect(page.get_by_role("row", name="Ida’s phone")).to_contain_text("withdrawn")


def test_the_keyboard_finds_the_page_first_and_sees_where_it_is(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}")
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_in_viewport()

    page.keyboard.press("Enter")
    page.keyboard.press("Tab")

    assert page.evaluate("document.activeElement.closest('main') !== null")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def seeded(shop: Shop) -> None:
    """A job in the middle of its work, with all that can be shown of it."""
    leg = shop.codes["leg.front-right"]
    tell(
        shop,
        entry(901, part=leg, device="one", body={"step": "rough"}),
        entry(902, part=leg, device="one", body={"step": "mill"}),
        entry(903, part=leg, device="two", kind="step_undone", body={"step": "mill"}),
        entry(904, part=leg, kind="held", body={"reason": "a check"}),
        {"id": "none"},
    )
    with shop.app.app_context():
        if not phones.all():
            phones.join(phones.new_code().text, "Bench phone")


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
def test_no_page_has_a_fault_that_keeps_people_out_or_runs_over_its_edge(
    shop: Shop, office: Office, size: dict[str, int], colours: str
) -> None:
    seeded(shop)
    page = office("/", viewport=size, color_scheme=colours, bypass_csp=True)
    found: list[str] = []

    def check(name: str) -> None:
        page.evaluate("document.fonts.ready")
        page.evaluate(AXE)
        wrong = page.evaluate(
            """async () => (await axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa",
            "best-practice"]})).violations.map(v => [v.impact, v.id, v.nodes.map(n => n.html).slice(0, 3)])"""
        )
        found.extend(f"{name}: {json.dumps(one)}" for one in wrong)
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if over > 0:
            found.append(f"{name}: {over} px too wide")

    for address in addresses(shop):
        page.goto(shop.url + address)
        check(address)
    page.goto(f"{shop.url}/cut-list")
    look_at(page, "swapped.csv")
    check("preview")
    page.goto(f"{shop.url}/cut-list")
    page.get_by_label("or type or paste it here").fill("Part,Qty,Thickness,Width,Length\nLeg,x,1 3/4,1 3/4,abc\n")
    page.get_by_role("button", name="Look at it first").click()
    check("faults")
    page.goto(f"{shop.url}/phones")
    page.get_by_role("button", name="Add a phone").click()
    check("adding a phone")

    assert found == []


SCROLLED_SIDEWAYS = """[...document.querySelectorAll("main, main *")].filter(one => one.clientWidth
    && one.scrollWidth > one.clientWidth && getComputedStyle(one).overflowX !== "visible"
    && !one.matches("textarea, select, .spoken, .spoken *, thead, thead *"))
    .map(one => one.className || one.localName)"""


@pytest.mark.parametrize("width", [360, 560, 740, 1280])
def test_a_preview_shows_name_quantity_and_size_without_scrolling_sideways(office: Office, width: int) -> None:
    page = office("/cut-list", viewport={"width": width, "height": 740})
    page.get_by_label("or type or paste it here").fill(
        "Part,Qty,Thickness,Width,Length,Species,Assembly,Notes\n"
        "Front leg with a name of its own,2 pr,1 37/64,1 37/64,134 37/64,cherry,Legs,turn the best faces out\n"
    )
    page.get_by_role("button", name="Look at it first").click()

    assert page.evaluate(SCROLLED_SIDEWAYS) == []
    for cell in page.locator(".lines td, .lines tbody th").all():
        box = cell.bounding_box()
        assert box and box["x"] >= 0 and box["x"] + box["width"] <= width
    # Words keep together: "cherry" in one line is no higher than a letter.
    cherry = page.get_by_role("cell", name="cherry").evaluate(
        """cell => {const words = document.createRange(); words.selectNodeContents(cell);
        return words.getClientRects().length}"""
    )
    assert cherry == 1


def test_nothing_that_is_pressed_or_drawn_touches_what_stands_below_it(
    shop: Shop, office: Office, tmp_path: Path, window: Callable[..., BrowserContext]
) -> None:
    seeded(shop)
    leg = shop.codes["leg.front-right"]
    gap = "([one, other]) => other.getBoundingClientRect().top - one.getBoundingClientRect().bottom"

    page = office(f"/jobs/{JOB}/parts/{leg}", viewport=NARROW)
    assert page.evaluate(f"({gap})(['.settle', '.settle + p'].map(one => document.querySelector(one)))") >= 8

    page.goto(f"{shop.url}/jobs/{JOB}/stacks/5")
    touching = page.evaluate(
        """() => [...document.querySelectorAll(".rows .letter")].filter(letter => {
            const own = letter.getBoundingClientRect();
            const row = [...letter.closest("tr").querySelectorAll(".name a, .rod, .length")];
            return row.some(one => {
                const box = one.getBoundingClientRect();
                return box.left < own.right && own.left < box.right
                    && box.top < own.bottom + 3 && own.top < box.bottom + 3;
            });
        }).map(one => one.textContent)"""
    )
    assert touching == []

    from tests.running import Running

    with Running(tmp_path / "empty") as running:
        page = window(viewport=NARROW).new_page()
        page.goto(f"http://127.0.0.1:{running.port}/phones")
        assert (
            page.evaluate(
                f"({gap})(['form.actions .button', '[data-live=phones]'].map(one => document.querySelector(one)))"
            )
            >= 8
        )


def test_the_heading_of_what_was_written_down_is_printed_on_the_page_of_its_rows(shop: Shop, office: Office) -> None:
    seeded(shop)
    page = office(f"/jobs/{JOB}/parts/{shop.codes['leg.front-right']}")

    for height in range(240, 300, 6):
        with pypdfium2.PdfDocument(page.pdf(width="210mm", height=f"{height}mm")) as document:
            [on] = [
                sheet.get_textpage().get_text_bounded() for sheet in document
                if "What the floor wrote down" in sheet.get_textpage().get_text_bounded()
            ]  # fmt: skip
        assert "Held: a check" in on.partition("What the floor wrote down")[2], height


def test_the_button_says_that_labels_are_being_made(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/print")
    # The answer would take the page away; here it never comes.
    page.evaluate("document.querySelector('form').addEventListener('submit', pressed => pressed.preventDefault())")
    button = page.get_by_role("button", name=re.compile("labels", re.IGNORECASE))

    button.click()
    expect(button).to_have_text("Making the labels…")
    expect(button).to_have_attribute("aria-busy", "true")

    page.get_by_label("First free place").fill("2")
    expect(button).to_have_text("Labels as PDF")
    expect(button).not_to_have_attribute("aria-busy", "true")


def test_labels_are_asked_for_without_javascript_too(shop: Shop, office: Office) -> None:
    page = office(f"/jobs/{JOB}/print", java_script_enabled=False)

    with page.expect_request("**/labels.pdf*") as asked:
        page.get_by_role("button", name="Labels as PDF").click(no_wait_after=True)

    assert "stacks=1&" in asked.value.url and asked.value.url.endswith("&start=1")


def test_what_is_printed_has_no_buttons_and_keeps_the_rods(shop: Shop, office: Office) -> None:
    seeded(shop)
    page = office(f"/jobs/{JOB}")

    page.emulate_media(media="print")

    expect(page.get_by_role("navigation", name="The shop")).to_be_hidden()
    expect(page.locator(".tabs")).to_be_hidden()
    expect(page.get_by_role("row", name="Legs").get_by_role("img")).to_be_visible()
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"


def test_an_empty_shop_starts_the_demo_with_one_click(tmp_path: Path, window: Callable[..., BrowserContext]) -> None:
    from tests.running import Running

    with Running(tmp_path / "empty") as running:
        page = window(viewport=WIDE, java_script_enabled=False).new_page()
        page.goto(f"http://127.0.0.1:{running.port}/")
        expect(page.get_by_role("heading", name="No jobs yet")).to_be_visible()

        page.get_by_role("button", name="Start with the demo").click()

        expect(page.get_by_role("heading", name="Choir cabinet")).to_be_visible()


def test_the_job_that_the_office_made_is_the_one_that_is_stored(shop: Shop, office: Office) -> None:
    page = office("/cut-list")
    page.get_by_label("Name of the job").fill("Bench in oak")
    look_at(page, "semicolon_mm.csv")
    page.get_by_role("button", name="Make the job").click()
    expect(page.get_by_role("heading", name="Bench in oak")).to_be_visible()

    with shop.app.app_context():
        job, revision = jobs.latest("bench-in-oak")

    # Four legs of 45 x 45 x 430.5 mm and two rails of 22 x 90 x 1205.5 mm.
    assert revision == 1
    assert [(line.name, len(line.parts), line.length) for line in job.lines] == [
        ("Bench leg", 4, 430_500_000),
        ("Bench rail", 2, 1_205_500_000),
    ]
