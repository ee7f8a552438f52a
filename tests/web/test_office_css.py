"""The office's style sheet takes its colours and sizes from look.css, and names nothing that no page has."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
OFFICE = re.sub(r"/\*.*?\*/", "", (ROOT / "static/office.css").read_text(encoding="utf-8"), flags=re.DOTALL)
LOOK = (ROOT / "static/look.css").read_text(encoding="utf-8")
PAGES = "".join(
    path.read_text(encoding="utf-8")
    for path in [*(ROOT / "templates/office").glob("*.html"), ROOT / "templates/error.html"]
)


def named(css: str) -> set[str]:
    """The custom properties that a sheet gives a value to."""
    return set(re.findall(r"(--[\w-]+)\s*:", css))


def test_no_colour_is_named_a_second_time() -> None:
    assert re.findall(r"#[0-9a-f]{3,8}\b|\b(?:rgb|hsl|oklch)a?\(", OFFICE, re.IGNORECASE) == []


def test_no_token_of_the_look_is_given_another_value() -> None:
    assert named(OFFICE) & named(LOOK) == {"--fill"} & named(LOOK)


def test_every_token_that_is_used_has_a_value() -> None:
    used = set(re.findall(r"var\((--[\w-]+)", OFFICE))

    assert used <= named(LOOK) | named(OFFICE)


def test_every_class_that_is_styled_stands_on_a_page() -> None:
    styled = set(re.findall(r"\.([a-z][\w-]*)", re.sub(r"\{[^}]*\}", "{}", OFFICE)))
    classes = {name for given in re.findall(r'class="([^"]*)"', PAGES) for name in re.findall(r"[a-z][\w-]*", given)}
    made_elsewhere = {f"eighths-{n}" for n in range(1, 8)} | {"rod", "rod-ends", "letter", "some"}

    assert styled - classes - made_elsewhere == set()


def test_nothing_is_forced() -> None:
    assert "!important" not in OFFICE
