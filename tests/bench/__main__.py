"""`python -m tests.bench NAME`: measure something, print a small table, and as the last line one JSON object."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path

NAMES = sorted(
    path.stem
    for path in Path(__file__).parent.glob("*.py")
    if not path.stem.startswith("_") and "\ndef main(" in path.read_text(encoding="utf-8")
)


def main() -> None:
    name = sys.argv[1] if len(sys.argv) > 1 else ""
    if name not in NAMES:
        sys.exit(f"There is no bench {name!r}. Choose one of: {', '.join(NAMES)}.")
    importlib.import_module(f"tests.bench.{name}").main(*sys.argv[2:])


if __name__ == "__main__":
    main()
