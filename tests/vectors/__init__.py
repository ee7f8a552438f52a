"""Golden vectors: one file, two languages.  `load` gives the rows of a file to pytest; node reads the same file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def load(name: str) -> Any:
    """The content of tests/vectors/NAME.json."""
    return json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
