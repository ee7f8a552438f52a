"""What does the maker mean by "2 7/16"?  A length is a whole number of nanometres."""

from __future__ import annotations

from typing import Annotated

Length = Annotated[int, "nm"]
"""Whole nanometres.  1/64 in is 396 875, 0.01 mm is 10 000: both systems are exact."""
