"""What holds for every test: property tests draw the same examples in every run, and none is judged by its speed."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("shared", deadline=None, derandomize=True)
settings.load_profile("shared")
