"""What others made and we carry along: each file is the one that we wrote down, and its licence lies beside it."""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
LIBRARIES: list[dict[str, Any]] = json.loads((ROOT / "static/vendor/vendor.json").read_text())["libraries"]
FILES = [(path, digest) for library in LIBRARIES for path, digest in library["files"].items()]
CARRIED = ("static/vendor", "shopfloor/paper/fonts")
OURS = {"static/vendor/vendor.json", "static/vendor/zxing-wasm/es/reader/index.d.ts"}
SAYS = {
    "Apache-2.0": "Apache License",
    "BSD-3-Clause": "Redistribution and use in source and binary forms",
    "ISC": "Permission to use, copy, modify, and/or distribute this software",
    "MIT": "Permission is hereby granted, free of charge",
    "OFL-1.1": "SIL OPEN FONT LICENSE Version 1.1",
}
"""A phrase by which the text of a licence is known (SPDX names)."""


@pytest.mark.parametrize(("path", "digest"), FILES, ids=[path for path, _ in FILES])
def test_a_carried_file_is_the_one_written_down(path: str, digest: str) -> None:
    assert hashlib.sha256((ROOT / path).read_bytes()).hexdigest() == digest


def test_every_carried_file_is_written_down_once() -> None:
    there = {path.relative_to(ROOT).as_posix() for folder in CARRIED for path in (ROOT / folder).rglob("*.*")} - OURS

    assert sorted(path for path, _ in FILES) == sorted(there)


@pytest.mark.parametrize("library", LIBRARIES, ids=lambda library: library["name"])
def test_each_has_a_version_a_source_and_the_text_of_its_licence(library: dict[str, Any]) -> None:
    assert re.fullmatch(r"\d+(\.\d+)+", library["version"])
    assert library["source"]
    assert library["licences"]
    for name, path in library["licences"].items():
        assert path in library["files"]
        assert SAYS[name].lower() in (ROOT / path).read_text(encoding="utf-8").lower()
        assert "copyright" in (ROOT / path).read_text(encoding="utf-8")[:300].lower() or name == "Apache-2.0"


@pytest.mark.parametrize(
    ("path", "version"),
    [
        ("static/vendor/lit-html/lit-html.js", "3.3.3"),
        ("static/vendor/zxing-wasm/es/share.js", "3.1.4"),
    ],
)
def test_the_version_written_down_is_the_one_in_the_file(path: str, version: str) -> None:
    (library,) = [library for library in LIBRARIES if path in library["files"]]

    assert library["version"] == version
    assert re.search(rf"[\"'`]{re.escape(version)}[\"'`]", (ROOT / path).read_text())


def test_the_decoder_is_the_one_that_its_script_was_built_with() -> None:
    folder = ROOT / "static/vendor/zxing-wasm"
    named = re.findall(r'"([0-9a-f]{64})"', (folder / "es/reader/index.js").read_text())

    assert named == [hashlib.sha256((folder / "reader/zxing_reader.wasm").read_bytes()).hexdigest()]
