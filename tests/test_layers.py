"""The tree is the map: imports run downwards only, and the top level shows what it should."""

from __future__ import annotations

import ast
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "shopfloor"

ALLOWED = {
    "trade": {"trade", "journal", "errors"},
    "journal": {"trade", "journal", "errors"},
    "intake": {"intake", "trade", "journal", "errors"},
    "plan": {"plan", "trade", "journal", "errors"},
    "paper": {"paper", "trade", "journal", "errors"},
    "store": {"store", "trade", "journal", "errors", "settings"},
}
"""What each room may import of ours.  `web`, the server and the command line may import everything."""

PURE = ("trade", "journal")
NEEDS_NOTHING_BUT = {
    "__future__", "ast", "bisect", "collections", "copy", "dataclasses", "datetime", "decimal", "difflib",
    "enum", "fractions",
    "functools", "hashlib", "heapq", "inspect", "itertools", "json", "math", "operator", "re", "statistics", "string",
    "tomllib", "types", "typing", "unicodedata",
}  # fmt: skip
"""The standard library as far as it computes: no files, no clock, no randomness, no network."""


def imported(path: Path) -> set[str]:
    """The modules that a file imports, by their full names; relative imports are resolved."""
    package = path.relative_to(ROOT).with_suffix("").parts[:-1]
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            start = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            module = ".".join(part for part in (start, node.module or "") if part)
            found |= {module} | ({f"{module}.{name.name}" for name in node.names} if module == "shopfloor" else set())
    return found


def rooms_of(names: set[str]) -> set[str]:
    return {name.split(".")[1] for name in names if name.startswith("shopfloor.")}


FILES = sorted(path for room in ALLOWED for path in (PACKAGE / room).rglob("*.py") if "migrations" not in path.parts)


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_run_downwards_only(path: Path) -> None:
    room = path.relative_to(PACKAGE).parts[0]

    assert rooms_of(imported(path)) <= ALLOWED[room]


@pytest.mark.parametrize(
    "path", [path for path in FILES if path.relative_to(PACKAGE).parts[0] in PURE], ids=lambda path: path.name
)
def test_what_the_maker_works_out_reaches_for_no_file_clock_or_network(path: Path) -> None:
    outside = {name.split(".")[0] for name in imported(path)} - {"shopfloor"}

    assert outside <= NEEDS_NOTHING_BUT


def test_only_the_store_speaks_sql() -> None:
    elsewhere = [
        path
        for path in PACKAGE.rglob("*.py")
        if "store" not in path.relative_to(PACKAGE).parts
        and any(name.split(".")[0] in ("sqlalchemy", "sqlite3", "flask_sqlalchemy") for name in imported(path))
    ]

    assert elsewhere == []


def test_the_resolver_of_this_test_sees_relative_imports() -> None:
    assert "shopfloor.journal.clock" in imported(PACKAGE / "journal" / "entry.py")
    assert "shopfloor.errors" in imported(PACKAGE / "journal" / "entry.py")


def test_the_visible_top_level_is_as_agreed() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.split("\n")  # fmt: skip
    top = {name.split("/")[0] for name in listed if name and not name.startswith(".")}

    agreed = {
        "README.md", "DEVELOPERS.md", "app.py", "requirements.txt", "shopfloor", "static", "templates", "tests",
    }  # fmt: skip
    assert top <= agreed
