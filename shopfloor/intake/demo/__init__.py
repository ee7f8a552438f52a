"""The demonstration job: a choir's sheet-music cabinet in cherry, kept as the TOML files beside this one."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from ...trade.document import from_pieces
from ...trade.part import Job

PIECES = ("job", "cabinet", "legs", "sides", "back", "web_frames", "drawers", "top", "joints")
"""The head, what the rest follows from, and the files in the order of the stacks; together they are one document."""


@cache
def demo_job() -> Job:
    """The demonstration job, read from its files."""
    folder = files(__name__)
    return from_pieces({f"{name}.toml": (folder / f"{name}.toml").read_text(encoding="utf-8") for name in PIECES})
