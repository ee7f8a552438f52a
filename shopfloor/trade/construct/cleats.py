"""How is a solid top held so that it can move?  Two cleats under it, screwed through slots along the movement.

The top's grain runs from left to right, so it moves from front to back, along the cleats.  It is held at one screw of
each cleat, by a round hole; all others sit in slots.  Source: slots by movement.py.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from ..length import Length
from ..movement import slot
from ..part import Face, Feature, Hole, Line, Mortise, Placement
from ..rounding import SIXTY_FOURTH, round_up
from ..seasons import Seasons
from .derived import Impossible, Working, plus
from .made import Gathered, part_of
from .space import mirrored

__all__ = ["Cleats", "HeldAt", "cleats", "fitted"]

MOST = 40


class HeldAt(StrEnum):
    """Which screw holds the top: the one at the front, or the one in the middle."""

    FRONT = "front"
    MIDDLE = "middle"


@dataclass(frozen=True)
class Cleats:
    """A cleat at either side, with so many screws: slots `slot` long and `shank` wide, but for the one that holds."""

    thickness: Length
    width: Length
    screws: int
    shank: Length
    slot: Length
    held: HeldAt = HeldAt.FRONT
    species: str = ""


def fitted(
    chosen: Cleats, between: Length, coefficient: Fraction, seasons: Seasons, step: Length = SIXTY_FOURTH
) -> Cleats:
    """The cleats with slots long enough for a top of known movement; `between` is the length of a cleat.

    All slots are as long as the one farthest from where the top is held asks for, each way, up to the next `step`.
    """
    places = centres(chosen, between)
    far = max(abs(place - places[_holds(chosen)]) for place in places)
    found = slot(chosen.shank, far, coefficient, seasons)
    return replace(chosen, slot=round_up(2 * max(found.inward, found.outward), step))


def centres(chosen: Cleats, length: Length) -> list[Length]:
    """Where the screws are, from the front end: evenly, half a gap at either end, each place rounded once."""
    return [length * (2 * nth + 1) // (2 * chosen.screws) for nth in range(chosen.screws)]


def _holds(chosen: Cleats) -> int:
    return 0 if chosen.held is HeldAt.FRONT else chosen.screws // 2


def cleats(
    chosen: Cleats, assembly: str, at: tuple[Length, Length], width: Length, under: Length, between: Length,
    work: Working, prefix: str = "",
) -> Gathered:  # fmt: skip
    """A pair of cleats in a case `width` wide, below the height `under`.

    `at` is where the left one starts, from the left and from the front; `between` is its length.  Raises Impossible.
    """
    key = f"{prefix}top.cleats"
    if not 1 <= chosen.screws <= MOST or (chosen.held is HeldAt.MIDDLE and chosen.screws % 2 == 0):
        do = f"1 to {MOST} would do, an odd number if the middle one holds."
        raise Impossible(f"{chosen.screws} screws in a cleat", where=f"{key}.screws", do=do)
    long = work.length(f"{key}.length", "cleat", plus("between front and back legs", between))
    work.less_than(f"{key}.shank", "a slot", chosen.shank, chosen.width, f"for a cleat {work.size(chosen.width)} wide")
    work.at_least(f"{key}.slot", "a slot", chosen.slot, chosen.shank + 1, "to let the screw move")
    work.less_than(f"{key}.slot", "a slot", chosen.slot, long // chosen.screws, "for the distance between screws")
    features: list[Feature] = []
    for nth, centre in enumerate(centres(chosen, long)):
        if nth == _holds(chosen):
            features.append(Hole(f"screw-{nth + 1}", Face.FACE_SIDE, centre, chosen.width // 2, chosen.shank))
        else:
            start, offset = centre - chosen.slot // 2, (chosen.width - chosen.shank) // 2
            features.append(
                Mortise(f"slot-{nth + 1}", Face.FACE_SIDE, start, chosen.slot, offset, chosen.shank)
            )  # fmt: skip
    left = Placement("+Y -X +Z", (at[0] + chosen.width, at[1] + (between - long) // 2, under - chosen.thickness))
    line = Line(
        f"{prefix}top-cleat", assembly, "Cleat", chosen.thickness, chosen.width, long, chosen.species, "front",
        "underside", "inside", note="Glued to the side; the top is screwed to it and moves.", features=tuple(features),
        parts=(
            part_of(f"{prefix}top.cleat-left", "left", left),
            part_of(f"{prefix}top.cleat-right", "right", mirrored(left, width)),
        ),
    )  # fmt: skip
    return Gathered(lines=[line])
