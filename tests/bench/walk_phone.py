"""How long does a person with the phone wait?  Real Chromium, the processor slowed down four times, no network."""

from __future__ import annotations

import os
import random
import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, sync_playwright

from shopfloor.settings import ROOT, Settings
from shopfloor.store import jobs
from shopfloor.web import create_app
from shopfloor.web.shell import Shelf
from tests.bench._many import many
from tests.bench.walk import Measured
from tests.phone.conftest import FLAGS, SIZE, Shop, enter_join_code

PARTS = 1500
SHEETS = 60
STARTS = 9
SLOWER = 4
RESTED = 3_000
"""Milliseconds that Scan lies open before the first label is held up: what a person takes at least."""
DECODER = "/static/vendor/zxing-wasm/"

OPEN_SHEET = """
async (code) => {
  const begun = performance.now();
  history.pushState(null, '', `/p/${code}`);
  dispatchEvent(new PopStateEvent('popstate'));
  const shown = () => document.querySelector('#app svg') && document.querySelector('#app')?.textContent?.includes(
    `${code.slice(0, 3)}-${code.slice(3)}`);
  while (!shown()) await new Promise((done) => requestAnimationFrame(done));
  await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  return performance.now() - begun;
}
"""
"""From the code in hand, as the scanner gives it, to the frame after the one in which the sheet stands, drawn."""

SCAN_USABLE = """
async () => {
  const usable = () => [...document.querySelectorAll('a, button')].some(
    (one) => /Type\\s*the code/.test(one.textContent ?? ''));
  while (!usable()) await new Promise((done) => requestAnimationFrame(done));
  await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  return performance.now();
}
"""
"""From the start of the navigation to the frame after the one in which Scan can be pressed."""


class Many(Shop):
    """A shop whose one job has 1,500 parts."""

    def __init__(self, data: Path) -> None:
        self.app = create_app(Settings(data=data, first_serial=0))
        with self.app.app_context():
            job = many(PARTS)
            jobs.save(job)
            self.codes = jobs.codes(job.key)
        from tests.phone.conftest import free_port

        self.port = free_port()
        self.up()


def phone() -> Measured:
    """Sheets, starts and the size of the shell, measured with one phone that holds a job of 1,500 parts."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Many(Path(folder) / "data")
        kept = Path(folder) / "phone"
        try:
            with _window(kept) as context:
                page = context.pages[0]
                page.goto(f"{shop.url}/phone/")
                enter_join_code(page, shop.join_code().text, "Bench phone")
                page.locator(".scan").wait_for()
                page.wait_for_function("() => navigator.serviceWorker.controller !== null")
                _wait_for_parts(page, len([key for key in shop.codes if not key.startswith("stack:")]))
        finally:
            shop.down()
        with _window(kept) as context:
            sheets = _sheets(context.pages[0], shop)
        starts = [_start(kept, shop) for _ in range(STARTS)]
    size, heaviest = _shell()
    p95 = statistics.quantiles(sheets, n=20)[-1]
    cold = statistics.median(starts)
    return Measured(
        [
            (f"code to painted sheet, {PARTS:,} parts, median", f"{statistics.median(sheets):.0f} ms", ""),
            (f"code to painted sheet, {PARTS:,} parts, p95 of {SHEETS}", f"{p95:.0f} ms", "under 150 ms"),
            (
                f"cold offline start to Scan, median of {STARTS}",
                f"{cold:.0f} ms ({min(starts):.0f}-{max(starts):.0f})",
                "under 1000 ms",
            ),
            ("app shell without the decoder, as sent (gzip)", f"{size / 1000:.1f} KB", "under 100 KB"),
            *((f"  of it {name}", f"{weight / 1000:.1f} KB", "") for name, weight in heaviest),
        ],
        {
            "sheet_ms_median": round(statistics.median(sheets)),
            "sheet_ms_p95": round(p95),
            "cold_start_ms_median": round(cold),
            "cold_start_ms_max": round(max(starts)),
            "shell_bytes_gzip": size,
        },
    )


@contextmanager
def _window(kept: Path) -> Iterator[BrowserContext]:
    """A browser of its own process, its storage in `kept`."""
    with sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            kept,
            executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"),
            args=FLAGS,
            headless=True,
            viewport={"width": SIZE["width"], "height": SIZE["height"]},
            has_touch=True,
            is_mobile=True,
            device_scale_factor=2,
        )
        yield context
        context.close()


def _slowed(page: Page) -> None:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def _wait_for_parts(page: Page, count: int) -> None:
    counted = """() => new Promise((done) => {
      const asked = indexedDB.open('facemark');
      asked.onsuccess = () => {
        const db = asked.result;
        const request = db.transaction('parts').objectStore('parts').count();
        request.onsuccess = () => { db.close(); done(request.result); };
      };
    })"""
    for _ in range(240):
        if page.evaluate(counted) >= count:
            return
        page.wait_for_timeout(500)
    raise TimeoutError(f"the phone has not got the {count} parts of the job after two minutes")


def _sheets(page: Page, shop: Shop) -> list[float]:
    """Open many different sheets, one after the other, and give the milliseconds of each."""
    page.goto(f"{shop.url}/phone/")
    page.get_by_text("Type the code").first.wait_for()
    _slowed(page)
    page.wait_for_timeout(RESTED)
    codes = sorted(code for key, code in shop.codes.items() if not key.startswith("stack:"))
    chosen = random.Random(7).sample(codes, SHEETS)
    return [page.evaluate(OPEN_SHEET, code) for code in chosen]


def _start(kept: Path, shop: Shop) -> float:
    """Start the app in a new browser process, with no server, and give the milliseconds until Scan can be used."""
    with _window(kept) as context:
        page = context.pages[0]
        _slowed(page)
        page.goto(f"{shop.url}/phone/", wait_until="commit")
        waited: float = page.evaluate(SCAN_USABLE)
        return waited


def _shell() -> tuple[int, list[tuple[str, int]]]:
    """The size of what a phone keeps to open with no signal, as the server sends it, and its five heaviest files."""
    app = create_app(Settings(data=Path(tempfile.mkdtemp())))
    asked = app.test_client()
    page = asked.get("/phone/").get_data()
    weights = {}
    for address, _ in Shelf(ROOT / "static").shell(page).files:
        if not address.startswith(DECODER):
            sent = asked.get(address, headers={"Accept-Encoding": "gzip"})
            weights[address] = len(sent.get_data())
    return sum(weights.values()), sorted(weights.items(), key=lambda one: -one[1])[:5]


if __name__ == "__main__":
    for row in phone().rows:
        print(row)
