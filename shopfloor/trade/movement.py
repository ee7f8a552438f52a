"""By how much does this width change with the seasons?

change = width × coefficient × (moisture at the end − moisture at the start), plus for swelling.  Exact until the last
step, then rounded once.  Along the grain wood counts as fixed.  A frame or glue does not stop movement, it turns it
into stress.
Source: Wood Handbook, Chapter 13; coefficients from Table 13-5 (see species.py).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact
from .length import Length
from .moisture import Percent
from .part import Stock
from .rounding import round_up
from .seasons import Seasons, moisture_warnings
from .sources import CHAPTER_13, CUSTOM, FLOORING, LENGTHWISE
from .species import Species

__all__ = ["FACTS", "Cut", "Held", "Moves", "Slot", "coefficient", "coefficient_from_shrinkage", "exact_movement",
           "gap_for", "movement", "moves", "slot", "travel"]  # fmt: skip


class Cut(StrEnum):
    """How the growth rings meet the face of a board, so which coefficient its width has."""

    FLATSAWN = "flatsawn"
    QUARTERSAWN = "quartersawn"
    RIFTSAWN = "riftsawn"
    UNKNOWN = "unknown"


class Held(StrEnum):
    """Where a solid width is held; the rest of it is free to move."""

    MIDDLE = "at the middle"
    ONE_EDGE = "at one edge"


def coefficient(species: Species, cut: Cut) -> Fraction:
    """Change of width per point of moisture: radial for quartersawn, tangential for all else.

    Riftsawn lies between the two; with the ring angle unknown the larger one is the safe side.
    """
    return species.radial if cut is Cut.QUARTERSAWN else species.tangential


def coefficient_from_shrinkage(shrinkage: Percent, zero_at: Percent = 30, reference: Percent = 10) -> Fraction:
    """The coefficient of a wood of which only the shrinkage from green to ovendry is known, in percent.

    `zero_at` is the moisture at which shrinking starts: 30, but 22 for redwood, western red cedar and northern white
    cedar.  `reference` is the moisture at which the width was measured.
    Source: derived; reproduces Table 13-5 from Table 4-3 to the fifth decimal for every single species but one.

    >>> float(round(coefficient_from_shrinkage(Fraction("7.1")), 5))
    0.00248
    """
    shrunk = Fraction(shrinkage) / 100
    return shrunk / zero_at / (1 - shrunk * (Fraction(zero_at) - reference) / zero_at)


def exact_movement(width: Length, coefficient: Fraction, start: Percent, end: Percent) -> Fraction:
    """The change of a width in nanometres, not rounded; plus for swelling.  Moisture in percent."""
    return width * Fraction(coefficient) * (Fraction(end) - Fraction(start))


def movement(width: Length, coefficient: Fraction, start: Percent, end: Percent) -> Length:
    """The change of a width across the grain, rounded once.  Raises MoistureOutOfRange.

    >>> movement(300_000_000, Fraction("0.00369"), 7, 11)  # red oak, flatsawn
    4428000
    """
    moisture_warnings(start, end)
    return round(exact_movement(width, coefficient, start, end))


@dataclass(frozen=True)
class Moves:
    """What each size of a part does, nanometres, plus for swelling."""

    thickness: Length
    width: Length
    length: Length
    warnings: tuple[str, ...] = ()


def moves(stock: Stock, species: Species, cut: Cut, start: Percent, end: Percent) -> Moves:
    """All three sizes of a part whose grain runs along its length: the length stays.

    The thickness of a flatsawn board is radial; where the rings are not known both ways take the larger coefficient.
    """
    through = species.radial if cut is Cut.FLATSAWN else species.tangential
    return Moves(
        movement(stock.thickness, through, start, end),
        movement(stock.width, coefficient(species, cut), start, end),
        0,
        moisture_warnings(start, end),
    )


def travel(change: Length, held: Held) -> Fraction:
    """How far a free edge goes, exact: all of the change if the other edge is held, half of it if the middle is.

    >>> travel(4_871_720, Held.MIDDLE)
    Fraction(2435860, 1)
    """
    return Fraction(change, 2) if held is Held.MIDDLE else Fraction(change)


def gap_for(growth: Fraction | Length, step: Length) -> Length:
    """The gap that takes a swelling, up to the next mark of the tape; none for what only shrinks from here."""
    return max(round_up(growth, step), 0)


@dataclass(frozen=True)
class Slot:
    """A slot for a screw that holds a solid top: `length` along the movement; the screw's middle sits `outward` of
    slot from the end that lies away from where the top is held, and `inward` from the other."""

    length: Length
    outward: Length
    inward: Length


def slot(shank: Length, distance: Length, coefficient: Fraction, seasons: Seasons, play: Length = 0) -> Slot:
    """The slot for a screw `distance` across the grain from where the top is held; `play` is added at both ends.

    The slot is in the frame and the screw in the top: swelling takes it outward, shrinking inward.
    Source: derived from the equation of movement, each way rounded up to a whole nanometre.
    """
    grows = round_up(distance * Fraction(coefficient) * seasons.gain)
    shrinks = round_up(distance * Fraction(coefficient) * seasons.loss)
    half = round_up(Fraction(shank, 2))
    outward, inward = half + grows + play, half + shrinks + play
    return Slot(outward + inward, outward, inward)


FACTS: tuple[AnyFact, ...] = (
    Fact(key="movement-equation", subject="movement", name="Change across the grain", unit="",
         value="width × coefficient × (moisture at the end − moisture at the start)",
         status=CONFIRMED, source=CHAPTER_13, changeable=False),
    Fact(key="movement-lengthwise", subject="movement", name="Change along the grain", unit="", value="none",
         status=CONFIRMED, source=LENGTHWISE, changeable=False,
         note="0.1 to 0.3 % from green to ovendry in normal wood; reaction and juvenile wood can move much more."),
    Fact(key="movement-restraint", subject="movement", name="Wood held in a frame or by glue", unit="",
         value="moves, or breaks something", status=CONFIRMED, source=FLOORING, changeable=False),
    Fact(key="movement-rings-unknown", subject="movement", name="Ring angle not known, or riftsawn", unit="",
         value="the tangential coefficient", status=UNCONFIRMED, source=CUSTOM, note="The safe side."),
    Fact(key="movement-from-shrinkage", subject="movement", name="Coefficient from shrinkage S, a fraction", unit="",
         value="(S / Mp) / (1 − S (Mp − 10) / Mp), Mp = 30", status=DERIVED, changeable=False,
         source="derived from Tables 4-3 and 13-5 of the Wood Handbook, FPL-GTR-190 (2010)",
         note="Mp = 22 for the redwoods, western red cedar and northern white cedar."),
)  # fmt: skip
