"""A label lies before a real browser's camera: it is read, and every way in which there is no picture is told."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from PIL import Image, ImageEnhance
from playwright.sync_api import Browser, BrowserContext, Route, expect
from qrcode.constants import ERROR_CORRECT_Q
from qrcode.main import QRCode

from shopfloor.paper.labels import sheet
from shopfloor.web.headers import PHONE_POLICY

from . import camera
from .conftest import FLAGS, SIZE, Shop, a_moment, join

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
ADDRESS = "HTTPS://SHOP.LOCAL/P/K7Q2MX"
PAGE = "<!doctype html><title>Camera</title><video id=video muted autoplay playsinline></video>"
SCANNER = """async () => {
  const { scanner } = await import('/static/scan/scanner.js');
  window.told = [];
  window.ours = true;
  window.camera = scanner({
    video: document.getElementById('video'),
    onCode(text) { told.push(['code', text, performance.now()]); return ours; },
    onTrouble(kind, sentence) { told.push([kind, sentence]); },
    onState(state) { told.push(['state', state]); },
  });
}"""
WATCH_POLICY = """
window.broken = [];
addEventListener('securitypolicyviolation', (event) => broken.push(`${event.violatedDirective} ${event.blockedURI}`));
"""

COUNT_CAMERAS = """
window.cameras = 0;
const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
navigator.mediaDevices.getUserMedia = (which) => { cameras += 1; return ask(which); };
"""
COUNT_READINGS = """
window.asked = [];
window.most = 0;
let open = 0;
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message, given) {
  if (message.pass) {
    asked.push(performance.now());
    most = Math.max(most, open += 1);
    this.addEventListener('message', ({ data }) => { if (data.id === message.id) open -= 1; });
  }
  return post.call(this, message, given);
};
"""
HAS_LIGHT = """
window.wished = [];
const able = MediaStreamTrack.prototype.getCapabilities;
MediaStreamTrack.prototype.getCapabilities = function () { return { ...able.call(this), torch: true }; };
MediaStreamTrack.prototype.applyConstraints = async function ({ advanced }) { wished.push(...advanced); };
"""
PUT_AWAY = """(state) => {
  Object.defineProperty(document, 'visibilityState', { value: state, configurable: true });
  document.dispatchEvent(new Event('visibilitychange'));
}"""


def label(text: str = ADDRESS) -> Image.Image:
    made = QRCode(error_correction=ERROR_CORRECT_Q, box_size=12, border=4)
    made.add_data(text)
    return made.make_image().get_image().convert("RGB")


class Bench:
    """A page with nothing but a video and the scanner, served from the shop with the phone's policy."""

    def __init__(self, context: BrowserContext, shop: Shop) -> None:
        self.page = context.new_page()
        self.page.add_init_script(WATCH_POLICY)
        self.page.route(
            "**/camera",
            lambda route: route.fulfill(
                body=PAGE, content_type="text/html", headers={"Content-Security-Policy": PHONE_POLICY}
            ),
        )
        self.asked: list[str] = []
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.said: list[str] = []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("worker", lambda worker: worker.on("console", lambda message: self.said.append(message.text)))
        self.url = f"{shop.url}/camera"

    def open(self) -> Bench:
        self.page.goto(self.url)
        self.page.evaluate(SCANNER)
        return self

    def start(self) -> Bench:
        self.page.evaluate("() => camera.start()")
        return self

    def wait_for(self, kind: str, *, times: int = 1, state: str = "") -> list[Any]:
        """The first `times` things told of this kind, once they are there."""
        self.page.wait_for_function(
            "([kind, of, times]) => told.filter((one) => one[0] === kind && (!of || one[1] === of)).length >= times",
            arg=[kind, state, times],
            timeout=30_000,
        )
        return [one for one in self.told() if one[0] == kind and (not state or one[1] == state)]

    def told(self) -> list[Any]:
        told: list[Any] = self.page.evaluate("told")
        return told


@pytest.fixture(scope="module")
def filmed(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[Image.Image], Browser]]:
    """Give a browser before whose camera a picture lies; the same one for the same picture."""
    made: dict[bytes, Browser] = {}
    folder = tmp_path_factory.mktemp("films")

    def show(picture: Image.Image) -> Browser:
        key = picture.tobytes()
        if key not in made:
            film = camera.film(folder / f"{len(made)}.y4m", [picture])
            made[key] = browser.browser_type.launch(
                executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"),
                args=[*FLAGS, *camera.arguments(film)],
                headless=True,
            )
        return made[key]

    yield show
    for each in made.values():
        each.close()


@pytest.fixture
def window(browser: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """Make a window, by default in a browser without a camera; a camera is allowed unless a test says otherwise."""
    made: list[BrowserContext] = []

    def make(within: Browser = browser, *, allowed: bool = True, **more: Any) -> BrowserContext:
        made.append(within.new_context(**more))
        if allowed:
            made[-1].grant_permissions(["camera"])
        return made[-1]

    yield make
    for context in made:
        context.close()


@pytest.fixture
def bench(
    shop: Shop, filmed: Callable[[Image.Image], Browser], window: Callable[..., BrowserContext]
) -> Callable[..., Bench]:
    """Make a bench before whose camera a label lies on a plank, or the given picture."""

    def make(picture: Image.Image | None = None, **more: Any) -> Bench:
        return Bench(window(filmed(picture or camera.on_wood(label())), **more), shop)

    return make


def test_a_label_on_a_plank_is_read_by_our_own_files_alone(shop: Shop, bench: Callable[..., Bench]) -> None:
    at = bench().open().start()

    _, text, _ = at.wait_for("code")[0]

    assert text == ADDRESS
    assert at.page.evaluate("broken") == []
    assert not [line for line in at.said if "Content Security Policy" in line]
    assert {url.split("/")[2] for url in at.asked} == {f"127.0.0.1:{shop.port}"}


def test_the_decoder_is_served_so_that_a_browser_compiles_it_as_it_arrives(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.goto(at.url)
    fetched = at.page.request.get(at.url.replace("/camera", "/static/vendor/zxing-wasm/reader/zxing_reader.wasm"))

    assert fetched.headers["content-type"] == "application/wasm"


def test_a_worker_that_may_not_compile_is_told_and_its_policy_is_what_stops_it(bench: Callable[..., Bench]) -> None:
    at = bench()

    def strict(route: Route) -> None:
        answer = route.fetch()
        policy = answer.headers["content-security-policy"].replace(" 'wasm-unsafe-eval'", "")
        route.fulfill(response=answer, headers=answer.headers | {"content-security-policy": policy})

    at.page.route("**/static/scan/worker.js", strict)
    at.open().start()

    assert "type the code" in at.wait_for("no-decoder")[0][1]
    assert [line for line in at.said if "Content Security Policy" in line]


def test_a_label_that_stays_in_the_picture_is_told_once(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.add_init_script(COUNT_READINGS)
    at.open().start()
    at.page.wait_for_function("() => asked.length > 30")  # at least two and a half seconds

    assert len([one for one in at.told() if one[0] == "code"]) == 1


def test_after_a_rest_the_same_label_is_told_again_without_asking_for_the_camera_again(
    bench: Callable[..., Bench],
) -> None:
    at = bench()
    at.page.add_init_script(COUNT_CAMERAS)
    at.open().start()
    at.wait_for("code")
    at.page.evaluate("() => camera.pause()")
    at.start()

    assert [one[1] for one in at.wait_for("code", times=2)] == [ADDRESS, ADDRESS]
    assert at.page.evaluate("cameras") == 1


def test_readings_come_one_at_a_time_and_at_most_twelve_a_second(bench: Callable[..., Bench]) -> None:
    at = bench(camera.wood())
    at.page.add_init_script(COUNT_READINGS)
    at.open().start()
    at.wait_for("state", state="running")
    at.page.wait_for_function("() => asked.length > 30")

    asked, most = at.page.evaluate("[asked, most]")
    in_a_second = max(sum(begin <= other < begin + 1_000 for other in asked) for begin in asked)

    assert most == 1
    assert 2 <= in_a_second <= 13  # twelve gaps have thirteen ends


def test_a_label_too_small_for_one_look_is_found_by_another(bench: Callable[..., Bench]) -> None:
    """At 3.3 pixels a module, beside the corners: only the look at the whole picture has it in view."""
    picture = camera.wood(1920, 1080)
    picture.paste(label().resize((110, 110)), (60, 60))

    at = bench(picture).open().start()

    assert at.wait_for("code")[0][1] == ADDRESS


def test_a_browser_that_lends_no_pictures_to_workers_reads_all_the_same(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.add_init_script("delete globalThis.OffscreenCanvas")
    at.open().start()

    assert at.wait_for("code")[0][1] == ADDRESS


def test_the_proof_says_what_the_browsers_own_reader_is_tried_with() -> None:
    (proof,) = zxingcpp.read_barcodes(Image.open(ROOT / "static/scan/proof.png").convert("L"))

    assert f"PROOF_SAYS = '{proof.text}'" in (ROOT / "static/scan/decoder.js").read_text()


# --- when there is no picture ------------------------------------------------------------------------------------


def test_a_refused_camera_is_told(bench: Callable[..., Bench]) -> None:
    at = bench(allowed=False).open().start()

    assert "allow it" in at.wait_for("refused")[0][1]


def test_a_computer_without_a_camera_is_told(shop: Shop, window: Callable[..., BrowserContext]) -> None:
    at = Bench(window(), shop).open().start()

    assert "type the code" in at.wait_for("no-camera")[0][1]


def test_a_page_without_https_is_told_so(shop: Shop, window: Callable[..., BrowserContext]) -> None:
    at = Bench(window(), shop)
    at.url = "http://bench.home.arpa/camera"
    at.page.route("**/static/**", lambda route: route.fulfill(path=ROOT / route.request.url.split("/", 3)[3]))
    at.open().start()

    assert "https" in at.wait_for("insecure")[0][1]


def test_a_camera_that_is_taken_away_is_told_and_comes_back_when_it_may(bench: Callable[..., Bench]) -> None:
    at = bench().open().start()
    at.wait_for("code")

    at.page.context.clear_permissions()
    assert "stopped" in at.wait_for("ended")[0][1]
    at.wait_for("refused")
    at.page.context.grant_permissions(["camera"])
    at.start()

    assert len(at.wait_for("code", times=2)) == 2


def test_a_decoder_that_cannot_be_loaded_is_told_and_the_next_start_tries_again(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.route("**/*.wasm", lambda route: route.abort())
    at.open().start()
    assert "type the code" in at.wait_for("no-decoder")[0][1]

    at.page.unroute("**/*.wasm")
    at.start()

    assert at.wait_for("code")[0][1] == ADDRESS


def test_the_camera_rests_after_a_minute_without_one_of_our_labels(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.clock.install()
    at.open()
    at.page.evaluate("() => { window.ours = false; }")
    at.start()
    at.wait_for("code")

    at.page.clock.fast_forward(60_000)

    assert "rests" in at.wait_for("ended")[0][1]
    assert at.page.evaluate("document.getElementById('video').srcObject") is None


def test_a_label_of_ours_keeps_the_camera_awake_for_another_minute(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.clock.install()
    at.open().start()
    at.wait_for("code")

    at.page.clock.fast_forward(40_000)
    at.wait_for("code", times=2)
    at.page.clock.fast_forward(40_000)
    at.wait_for("code", times=3)

    assert [one for one in at.told() if one[0] == "ended"] == []


def test_a_page_that_is_put_away_gives_the_camera_back_and_takes_it_when_it_is_seen_again(
    bench: Callable[..., Bench],
) -> None:
    at = bench().open().start()
    at.wait_for("code")

    at.page.evaluate(PUT_AWAY, "hidden")
    assert at.page.evaluate("document.getElementById('video').srcObject") is None
    at.page.evaluate(PUT_AWAY, "visible")

    assert len(at.wait_for("code", times=2)) == 2


def test_a_light_is_offered_where_there_is_one_and_goes_out_with_the_scan(bench: Callable[..., Bench]) -> None:
    at = bench()
    at.page.add_init_script(HAS_LIGHT)
    at.open().start()
    at.wait_for("code")

    lit = at.page.evaluate("async () => { await camera.torch().set(true); return camera.torch(); }")
    at.page.evaluate("() => camera.pause()")

    assert (lit["available"], lit["on"]) == (True, True)
    assert at.page.evaluate("camera.torch().on") is False
    assert at.page.evaluate("wished.filter((wish) => 'torch' in wish)") == [{"torch": True}, {"torch": False}]


def test_no_light_is_offered_where_there_is_none(bench: Callable[..., Bench]) -> None:
    at = bench().open().start()
    at.wait_for("code")

    assert at.page.evaluate("camera.torch().available") is False


@pytest.mark.parametrize(("share", "dim"), [(1.0, False), (0.25, True)], ids=["daylight", "dusk"])
def test_dusk_is_noticed(bench: Callable[..., Bench], share: float, dim: bool) -> None:
    at = bench(ImageEnhance.Brightness(camera.on_wood(label())).enhance(share)).open().start()
    at.wait_for("code")

    assert at.page.evaluate("camera.torch().dim") is dim


def test_the_lens_in_use_is_marked_and_a_choice_is_remembered(bench: Callable[..., Bench]) -> None:
    at = bench().open().start()
    at.wait_for("code")
    (lens,) = at.page.evaluate("camera.lenses()")

    at.page.evaluate("id => camera.useLens(id)", lens["id"])

    assert lens["on"] is True
    assert len(at.wait_for("code", times=2)) == 2
    assert at.page.evaluate("localStorage.getItem('facemark-lens')") == lens["id"]


# --- a photograph ------------------------------------------------------------------------------------------------


def photograph(bench: Bench, content: bytes) -> object:
    bench.page.route("**/photograph", lambda route: route.fulfill(body=content, content_type="image/jpeg"))
    bench.open()
    return bench.page.evaluate("async () => camera.decodeFile(await (await fetch('/photograph')).blob())")


def test_a_photograph_is_read_by_the_same_decoder(bench: Callable[..., Bench]) -> None:
    content = BytesIO()
    camera.on_wood(label(), wide=420, size=(4000, 3000)).save(content, "JPEG", quality=85)

    assert photograph(bench(), content.getvalue()) == ADDRESS


def test_a_photograph_without_a_label_says_nothing(bench: Callable[..., Bench]) -> None:
    content = BytesIO()
    camera.wood().save(content, "JPEG")

    assert photograph(bench(), content.getvalue()) is None


def test_a_file_that_is_no_picture_says_nothing(bench: Callable[..., Bench]) -> None:
    assert photograph(bench(), b"cherry, 4/4") is None


# --- the app -----------------------------------------------------------------------------------------------------


def test_a_printed_label_before_the_camera_opens_its_sheet_without_a_signal(
    shop: Shop, filmed: Callable[[Image.Image], Browser], window: Callable[..., BrowserContext]
) -> None:
    pdf = shop.app.test_client().get("/jobs/choir-cabinet/labels.pdf?sheet=a4-3x8").data
    printed = camera.label_of(pdf, sheet("a4-3x8"), 1)
    (symbol,) = zxingcpp.read_barcodes(printed)
    code = symbol.text[-6:]
    page = window(
        filmed(camera.on_wood(printed)), allowed=False, viewport=SIZE, has_touch=True, is_mobile=True
    ).new_page()
    join(page, shop, "Camera phone")
    expect(page.get_by_text("The camera is not allowed")).to_be_visible()
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    page.context.grant_permissions(["camera"])
    shop.down()
    try:
        page.reload()

        page.wait_for_url(f"**/p/{code}")
        expect(page.locator(".picture svg")).to_be_visible()
    finally:
        shop.up()

    assert code in shop.codes.values()


def test_a_phone_joins_by_the_code_on_the_offices_screen_which_then_opens_nothing_more(
    shop: Shop, browser: Browser, filmed: Callable[[Image.Image], Browser], window: Callable[..., BrowserContext]
) -> None:
    office = window(browser).new_page()
    office.goto(f"{shop.url}/phones")
    office.get_by_role("button", name="Add a phone").click()
    shown = Image.open(BytesIO(office.locator(".qr svg").screenshot(scale="css"))).convert("RGB")
    page = window(filmed(camera.on_wood(shown)), viewport=SIZE, has_touch=True, is_mobile=True).new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("button", name="Scan the code").click()
    expect(page.get_by_role("heading", name="Name this phone")).to_be_visible(timeout=15_000)
    page.get_by_label("What people will read").fill("Camera phone")
    page.evaluate(
        """() => {
             window.said = [];
             new MutationObserver(() => said.push(document.querySelector('h1')?.textContent))
               .observe(document.getElementById('app'), { childList: true, subtree: true, characterData: true });
           }"""
    )

    a_moment(page)  # the place of "Scan the code" is shut for one
    page.get_by_role("button", name="Join").click()

    expect(page.locator(".scan")).to_be_visible()
    expect(page.get_by_text("this phone has joined Our shop")).to_be_visible(timeout=15_000)  # it is still in sight
    long = page.evaluate("history.length")
    page.wait_for_timeout(2_500)  # a code that stays is told again after two seconds
    expect(page.locator(".scan")).to_be_visible()
    assert (page.url, page.evaluate("history.length")) == (f"{shop.url}/phone/", long)
    assert set(page.evaluate("said")) <= {"Name this phone", "Scan"}
    page.get_by_role("link", name="all sent").click()
    expect(page.locator(".facts")).to_contain_text("Camera phone")


def test_a_parts_label_before_the_camera_of_a_phone_that_joins_is_told_for_what_it_is(
    shop: Shop, filmed: Callable[[Image.Image], Browser], window: Callable[..., BrowserContext]
) -> None:
    page = window(filmed(camera.on_wood(label())), viewport=SIZE, has_touch=True, is_mobile=True).new_page()
    page.goto(f"{shop.url}/phone/")
    page.get_by_role("button", name="Scan the code").click()

    expect(page.get_by_text("This is a part's label: this phone has to join first")).to_be_visible(timeout=15_000)
    expect(page.locator(".scan")).to_be_visible()


def test_the_corners_on_the_screen_stand_where_the_scanner_looks(
    shop: Shop, filmed: Callable[[Image.Image], Browser], window: Callable[..., BrowserContext]
) -> None:
    page = window(filmed(camera.wood()), viewport=SIZE, has_touch=True, is_mobile=True).new_page()
    join(page, shop, "Corner phone")
    video, corners = (page.locator(where).bounding_box() for where in (".camera video", ".camera .corners"))
    assert video and corners

    assert abs(video["x"] + video["width"] / 2 - corners["x"] - corners["width"] / 2) < 1
    assert abs(video["y"] + video["height"] / 2 - corners["y"] - corners["height"] / 2) < 1
    # A phone held upright fills the width with its short side, of which the plain look takes 65 in a hundred.
    assert corners["width"] <= 0.65 * video["width"]
