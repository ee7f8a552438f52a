"""Where do evenly spaced things lie?  Places from the datum, each rounded once, so that no error adds up.

Stepping off one gap after another adds the errors of all steps; reading each place from the datum makes it once.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from ..errors import ShopError
from .fact import DERIVED, AnyFact, Fact
from .length import Length
from .sources import ARITHMETIC

__all__ = ["FACTS", "NoRoom", "Spaced", "divide", "spaced", "worst_error"]

FACTS: tuple[AnyFact, ...] = (
    Fact(key="datum-practice", subject="layout", name="Distances are marked", value="all from the datum end",
         unit="", status=DERIVED, source=ARITHMETIC, changeable=False,
         note="Eight steps, each 0.25 too much, are 2.0 at the end when chained, and 0.25 from the datum."),
)  # fmt: skip


class NoRoom(ShopError):
    """There is no room for so many, or nothing to space."""

    code = "no-room"


def divide(length: Length, parts: int) -> tuple[Length, ...]:
    """The marks, from the datum, that divide a length into equal parts; neither end is one.

    >>> divide(600_000_000, 4)
    (150000000, 300000000, 450000000)
    """
    if length <= 0 or parts < 1:
        raise NoRoom("nothing to divide", where="layout", do="Give a length and at least 1 part.")
    return tuple(round(Fraction(length * mark, parts)) for mark in range(1, parts))


class Spaced(NamedTuple):
    """Equal things with equal gaps: the gap, exact, and where each one starts."""

    gap: Fraction
    starts: tuple[Length, ...]


def spaced(clear: Length, count: int, width: Length) -> Spaced:
    """`count` slats of a `width` in a clear opening, with a gap before, between and after: count + 1 gaps.

    >>> spaced(100, 3, 20).starts
    (10, 40, 70)
    """
    if clear <= 0 or count < 1 or width <= 0 or count * width > clear:
        raise NoRoom("so many do not go into the opening", where="layout", do="Take fewer or narrower ones.")
    gap = Fraction(clear - count * width, count + 1)
    return Spaced(gap, tuple(round((nth + 1) * gap + nth * width) for nth in range(count)))


def worst_error(gaps: int, each: Length, *, chained: bool) -> Length:
    """The most that the last of so many marks can be off, if each reading may be off by `each`."""
    return gaps * each if chained and gaps else each if gaps else 0
