"""What is free between two sides, and where does a drawer go?"""

from __future__ import annotations

from dataclasses import dataclass

from ..length import Length

__all__ = ["Between", "Opening"]


@dataclass(frozen=True)
class Between:
    """The space between two solid sides, `side` thick, whose keys begin with `prefix`: as wide as is clear, as deep
    and as high as the sides."""

    prefix: str
    side: Length
    width: Length
    depth: Length
    height: Length


@dataclass(frozen=True)
class Opening:
    """Where a drawer goes: the left lower front corner, and its clear size."""

    number: int
    at: tuple[Length, Length, Length]
    width: Length
    height: Length
    depth: Length
