"""Can that be what was measured?  Slips of the tape and of the pen, told before a reading is kept.

A reading a little off is a fact, and is kept.  One that is off by exactly what a known slip makes is asked about: the
tape held at its first inch, a number turned upside down, two digits in the wrong order.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from .length import INCH, MM, Length, write_exact
from .part import Unit
from .route import Said

__all__ = ["FAR_OFF", "Doubt", "doubt"]

FAR_OFF = 6_350_000
"""A quarter of an inch: no part comes off a saw so far from its size unnoticed, so the reading is asked about."""

_UPSIDE_DOWN = str.maketrans("69", "96")


class Doubt(NamedTuple):
    """Why a reading is asked about before it is kept: `off` is how far it is from what was wanted."""

    off: Length
    says: Said


def doubt(wanted: Length, reading: Length, unit: Unit) -> Doubt | None:
    """The slip that a reading looks like, or that it is far off; None if it can simply be kept.

    >>> doubt(600_075_000, 574_675_000, Unit.INCH).says[0]
    'exactly '
    """
    off = reading - wanted
    burnt = INCH if unit is Unit.INCH else 10 * MM
    held = (burnt, 10 * burnt) if unit is Unit.MM else (burnt,)
    if -off in held or off in held:
        return Doubt(off, ("exactly ", abs(off), " off: was the tape held at its mark and that not counted?"))
    if abs(off) < FAR_OFF:
        return None
    said, meant = _digits(reading, unit), _digits(wanted, unit)
    if meant in _turned(said):
        return Doubt(off, ("a 6 and a 9 look alike upside down: it should be ", wanted))
    if meant in _swapped(said):
        return Doubt(off, ("two digits may stand in the wrong order: it should be ", wanted))
    return Doubt(off, ("that is ", abs(off), " off: measure again"))


def _digits(length: Length, unit: Unit) -> str:
    """A length as it is written, without its unit."""
    return write_exact(length, unit).rsplit(" ", 1)[0]


def _turned(text: str) -> Iterator[str]:
    """The ways a number reads if one of its 6s or 9s is taken for the other, or all of them."""
    yield text.translate(_UPSIDE_DOWN)
    for at, char in enumerate(text):
        if char in "69":
            yield text[:at] + char.translate(_UPSIDE_DOWN) + text[at + 1 :]


def _swapped(text: str) -> Iterator[str]:
    """The ways a number reads with two neighbouring digits the other way round."""
    for at, (one, other) in enumerate(pairwise(text)):
        if one.isdigit() and other.isdigit() and one != other:
            yield text[:at] + other + one + text[at + 2 :]
