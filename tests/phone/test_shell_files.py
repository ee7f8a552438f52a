"""What the page names and what is shipped agree with what is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from shopfloor.paper.icons import ICONS, Icon, draw_icon
from shopfloor.settings import ROOT

STATIC = ROOT / "static"
PAGE = (ROOT / "templates" / "phone.html").read_text(encoding="utf-8")
IMPORT = re.compile(r"^(?:import|export)\b[^;]*?\bfrom '(\.[^']+)'", re.MULTILINE)


def imported(first: Path) -> set[Path]:
    """A module and all that it names in static imports, and these in turn."""
    found: set[Path] = set()
    waiting = [first]
    while waiting:
        module = waiting.pop().resolve()
        if module not in found:
            found.add(module)
            names = IMPORT.findall(module.read_text(encoding="utf-8"))
            waiting += [module.parent / name for name in names if not name.endswith(".d.ts")]
    return found


def named(pattern: str) -> list[Path]:
    return [ROOT / found for found in re.findall(pattern, PAGE)]


def test_the_page_names_every_module_of_the_first_screen_once_and_no_other() -> None:
    started = named(r'<script type="module"(?: async)? src="/([^"]+)">')
    preloaded = named(r'<link rel="modulepreload" href="/([^"]+)">')

    assert [path.name for path in started] == ["early.js", "main.js"]
    assert len(preloaded) == len(set(preloaded))
    assert set(preloaded) | set(started) == {module for first in started for module in imported(first)}


def test_what_the_storage_needs_is_named_before_the_rest() -> None:
    preloaded = named(r'<link rel="modulepreload" href="/([^"]+)">')
    early = imported(STATIC / "phone" / "early.js") - {STATIC / "phone" / "early.js"}

    assert set(preloaded[: len(early)]) == early


def test_every_file_that_the_page_names_is_there() -> None:
    files = named(r'(?:href|src)="/(static/[^"]+)"')

    assert files
    assert [path for path in files if not path.is_file()] == []


def test_the_page_holds_no_script_and_no_style_of_its_own() -> None:
    assert re.findall(r"<style|<script(?![^>]*\bsrc=)|\bstyle=|\bon[a-z]+=", PAGE) == []


@pytest.mark.parametrize("icon", ICONS, ids=lambda icon: icon.file)
def test_the_icon_that_is_shipped_is_the_one_that_is_drawn(icon: Icon) -> None:
    with Image.open(STATIC / "icons" / icon.file) as shipped:
        assert shipped.size == (icon.size, icon.size)
        drawn = draw_icon(icon.size, icon.scale)
        away = ImageChops.difference(shipped.convert("RGB"), drawn).convert("L")

    # Brought down to 16 colours, and versions of the library differ in a pixel's last shade.
    assert sum(away.histogram()[48:]) < icon.size * icon.size // 200


def test_a_maskable_icon_keeps_its_mark_inside_the_circle_that_is_never_cut() -> None:
    icon = next(one for one in ICONS if "maskable" in one.file)
    image = draw_icon(icon.size, icon.scale)
    paper = image.getpixel((0, 0))
    safe = 0.4 * icon.size
    middle = icon.size / 2

    outside = [
        (x, y)
        for x in range(0, icon.size, 2)
        for y in range(0, icon.size, 2)
        if image.getpixel((x, y)) != paper and (x - middle) ** 2 + (y - middle) ** 2 > safe**2
    ]

    assert outside == []


def test_icons_are_small_enough_to_be_fetched_on_a_poor_connection() -> None:
    sizes = {icon.file: len((STATIC / "icons" / icon.file).read_bytes()) for icon in ICONS}

    assert max(sizes.values()) < 10_000, sizes
