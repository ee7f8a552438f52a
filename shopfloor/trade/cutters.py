"""Which widths can a shop cut in one pass?  Its chisels, bits and dado stack, and those that it begins with.

A mortise, a groove or a dado is as wide as the cutter that makes it; what enters is fitted to that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ..errors import ShopError
from .fact import UNCONFIRMED, AnyFact, Fact
from .length import INCH, MM, Length, read
from .part import Unit
from .sources import CUSTOM

__all__ = ["FACTS", "FIRST", "BadCutters", "Cutters", "first_cutters"]

NARROWEST: Length = MM
WIDEST: Length = 4 * INCH
MOST = 60
"""Widths of one kind; more would be a slip of the keyboard."""


class BadCutters(ShopError):
    """Widths that no cutter has."""

    code = "bad-cutters"


class First(NamedTuple):
    """The widths of one kind that a shop begins with, in either system; parted by semicolons."""

    key: str
    name: str
    inches: str
    metric: str


FIRST = {
    "chisels": First("cutters-chisels", "Chisels", "1/8; 1/4; 3/8; 1/2; 3/4; 1", "4; 6; 8; 10; 12; 16; 20; 25"),
    "bits": First("cutters-bits", "Bits", "1/8; 1/4; 5/16; 3/8; 1/2; 3/4", "6; 8; 10; 12; 16; 20"),
    "dado_stack": First(
        "cutters-dado-stack", "Widths of the dado stack", "1/4; 5/16; 3/8; 7/16; 1/2; 9/16; 5/8; 11/16; 3/4; 13/16",
        "6; 8; 10; 12; 14; 16; 18; 19; 20",
    ),
}  # fmt: skip

FACTS: tuple[AnyFact, ...] = tuple(
    Fact(
        key=first.key, subject="joints", name=f"{first.name} that a shop begins with", unit="", status=UNCONFIRMED,
        value=f"{first.inches} in, or {first.metric} mm", source=CUSTOM, note="The shop lists those that it owns.",
    )
    for first in FIRST.values()
)  # fmt: skip


@dataclass(frozen=True)
class Cutters:
    """The widths of each kind that a shop owns, nanometres, rising, each once.  Raises BadCutters."""

    chisels: tuple[Length, ...] = ()
    bits: tuple[Length, ...] = ()
    dado_stack: tuple[Length, ...] = ()

    def __post_init__(self) -> None:
        for name in FIRST:
            widths = getattr(self, name)
            where = name.replace("_", " ")
            if len(widths) > MOST:
                raise BadCutters(f"{len(widths)} widths are too many", where=where, do=f"List at most {MOST}.")
            if any(not NARROWEST <= width <= WIDEST for width in widths):
                raise BadCutters("a width is under 1 mm or over 4 in", where=where, do="Look at its unit.")
            object.__setattr__(self, name, tuple(sorted(set(widths))))
        if not self.widths:
            raise BadCutters("no cutter is listed", where="cutters", do="List at least one width.")

    @property
    def widths(self) -> tuple[Length, ...]:
        """Every width that one of them cuts, rising.

        >>> Cutters(chisels=(6 * MM, 3 * MM), bits=(6 * MM,)).widths == (3 * MM, 6 * MM)
        True
        """
        return tuple(sorted({*self.chisels, *self.bits, *self.dado_stack}))

    @property
    def mortising(self) -> tuple[Length, ...]:
        """The widths that cut an enclosed mortise: chisels and bits, no stack, which runs out at both ends.  Empty if
        the shop has listed neither.

        >>> Cutters(chisels=(6 * MM,), dado_stack=(14 * MM,)).mortising == (6 * MM,)
        True
        """
        return tuple(sorted({*self.chisels, *self.bits}))

    @property
    def grooving(self) -> tuple[Length, ...]:
        """The widths that cut a groove or a dado: bits and stack, or whatever there is."""
        return tuple(sorted({*self.bits, *self.dado_stack})) or self.widths


def first_cutters(unit: Unit) -> Cutters:
    """The cutters that a shop thinking in `unit` begins with."""
    return Cutters(**{
        name: tuple(read(width, unit) for width in (first.metric if unit is Unit.MM else first.inches).split(";"))
        for name, first in FIRST.items()
    })  # fmt: skip
