"""How well does the phone's scanner read?  `python -m tests.bench scan`

The 60 pictures of `qr/` (58 with a code: photographs, and simulated labels from easy to hopeless) go through the
scanner's own reader and worker in a real Chromium, under the shop's own headers.  "read" is the exact text; "false" is
any other text.  Times are from the picture in the page to the worker's answer, warm, one at a time.
"""

from __future__ import annotations

import json
import os
import statistics
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Route, sync_playwright

from tests.running import Running

PICTURES = Path(__file__).parent / "qr"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
GOAL = 51
"""One whole picture, once, with the same decoder outside a browser: the reference of `qr/README.md`."""

READ = """async ({files, passes, rounds}) => {
  const { reader } = await import('/static/scan/reader.js');
  const reads = reader();
  await reads.warm();
  const results = [];
  for (const file of files) {
    const source = await createImageBitmap(await (await fetch('/static/qr/' + file)).blob());
    const view = { source, width: source.width, height: source.height };
    const one = { file, texts: {}, times: {} };
    for (const pass of passes) {
      one.times[pass] = [];
      for (let round = 0; round < rounds; round += 1) {
        const began = performance.now();
        one.texts[pass] = await reads.read(view, pass);
        one.times[pass].push(performance.now() - began);
      }
    }
    source.close();
    results.push(one);
  }
  return results;
}"""

WAYS = {
    "whole picture, once": ("whole",),
    "pass A (plain middle)": ("plain",),
    "pass B (sharpened middle)": ("sharp",),
    "A or B": ("plain", "sharp"),
    "all three (four frames)": ("plain", "sharp", "whole"),
}


def measure(rounds: int = 3) -> list[dict[str, Any]]:
    """Every picture by every pass: `{file, texts: {pass: text or None}, times: {pass: [milliseconds]}}`."""
    files = [row["file"] for row in json.loads((PICTURES / "manifest.json").read_text())["images"]]
    with tempfile.TemporaryDirectory() as data, Running(Path(data)) as running, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=FLAGS, headless=True
        )
        page = browser.new_page(service_workers="block")  # it would fetch past the route
        page.route("**/static/qr/**", _serve)
        page.goto(f"http://127.0.0.1:{running.port}/phone/")
        results: list[dict[str, Any]] = _read(page, files, rounds)
        browser.close()
    return results


def _serve(route: Route) -> None:
    route.fulfill(path=PICTURES / route.request.url.partition("/static/qr/")[2])


def _read(page: Page, files: list[str], rounds: int) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = page.evaluate(
        READ, {"files": files, "passes": ["plain", "sharp", "whole"], "rounds": rounds}
    )
    return found


def main() -> None:
    rows = {row["file"]: row for row in json.loads((PICTURES / "manifest.json").read_text())["images"]}
    results = measure()
    grades = ["easy", "medium", "hard", "extreme"]
    with_code = [row for row in rows.values() if row["expected"] is not None]
    facts: dict[str, Any] = {"bench": "scan", "pictures": len(rows), "with_code": len(with_code), "goal": GOAL}

    of = {grade: sum(row["grade"] == grade for row in with_code) for grade in grades}
    print(
        f"{'way':<28}{f'read of {len(with_code)}':>12}"
        + "".join(f"{f'{g} {of[g]}':>12}" for g in grades)
        + f"{'false':>8}"
    )
    for way, passes in WAYS.items():
        right: list[str] = []
        false = 0
        for result in results:
            expected = rows[result["file"]]["expected"]
            texts = [text.rstrip("\r\n") for name in passes if (text := result["texts"][name]) is not None]
            false += any(text != expected for text in texts)
            if expected is not None and expected in texts:
                right.append(rows[result["file"]]["grade"])
        print(f"{way:<28}{len(right):>12}" + "".join(f"{right.count(g):>12}" for g in grades) + f"{false:>8}")
        facts["_".join(passes)] = {"read": len(right), "false": false}

    print(f"\n{'milliseconds for a frame':<28}{'median':>12}{'p95':>12}")
    for size in ((640, 480), (1280, 720)):
        for name in ("plain", "sharp", "whole"):
            times = [
                time
                for result in results
                if (rows[result["file"]]["width"], rows[result["file"]]["height"]) == size
                for time in result["times"][name]
            ]
            median, p95 = statistics.median(times), statistics.quantiles(times, n=20)[-1]
            print(f"{f'{size[0]} x {size[1]}, {name}':<28}{median:>12.1f}{p95:>12.1f}")
            facts[f"ms_{size[0]}_{name}"] = {"median": round(median, 1), "p95": round(p95, 1)}
    print(json.dumps(facts))


if __name__ == "__main__":
    main()
