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

__all__ = ["Cleats", "HeldAt", "cleats", "farthest", "fitted", "row", "sound"]

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
    far = farthest(chosen.screws, chosen.held, between)
    found = slot(chosen.shank, far, coefficient, seasons)
    return replace(chosen, slot=round_up(2 * max(found.inward, found.outward), step))


def centres(screws: int, length: Length) -> list[Length]:
    """Where the screws are, from the front end: evenly, half a gap at either end, each place rounded once."""
    return [length * (2 * nth + 1) // (2 * screws) for nth in range(screws)]


def farthest(screws: int, held: HeldAt, length: Length) -> Length:
    """How far from where the top is held the farthest screw is."""
    places = centres(screws, length)
    return max(abs(place - places[_holds(screws, held)]) for place in places)


def _holds(screws: int, held: HeldAt) -> int:
    return 0 if held is HeldAt.FRONT else screws // 2


def sound(
    screws: int, held: HeldAt, size: tuple[Length, Length], room: tuple[Length, Length], key: str, name: str,
    work: Working,
) -> None:  # fmt: skip
    """Refuse screws that have no room in "a cleat" that is so long and wide, or no play in their slots; `size` is
    that of a slot, across and along."""
    (shank, slot), (long, wide) = size, room
    if not 1 <= screws <= MOST or (held is HeldAt.MIDDLE and screws % 2 == 0):
        do = f"1 to {MOST} would do, an odd number if the middle one holds."
        raise Impossible(f"{screws} screws in {name}", where=f"{key}.screws", do=do)
    work.less_than(f"{key}.shank", "a slot", shank, wide, f"for {name} {work.size(wide)} wide")
    work.at_least(f"{key}.slot", "a slot", slot, shank + 1, "to let the screw move")
    work.less_than(f"{key}.slot", "a slot", slot, long // screws, "for the distance between screws")


def row(screws: int, held: HeldAt, size: tuple[Length, Length], room: tuple[Length, Length, Length]) -> list[Feature]:
    """A round hole where the top is held and slots for the other screws, in the middle of the width.

    `size` is that of a slot, across and along; `room` is where the screws may be: from where, how long, how wide.
    """
    (shank, slot), (start, long, wide) = size, room
    found: list[Feature] = []
    for nth, centre in enumerate(centres(screws, long)):
        if nth == _holds(screws, held):
            found.append(Hole(f"screw-{nth + 1}", Face.FACE_SIDE, start + centre, wide // 2, shank))
        else:
            at, offset = start + centre - slot // 2, (wide - shank) // 2
            found.append(Mortise(f"slot-{nth + 1}", Face.FACE_SIDE, at, slot, offset, shank))
    return found


def cleats(
    chosen: Cleats, assembly: str, at: tuple[Length, Length], width: Length, under: Length, between: Length,
    work: Working, prefix: str = "",
) -> Gathered:  # fmt: skip
    """A pair of cleats in a case `width` wide, below the height `under`.

    `at` is where the left one starts, from the left and from the front; `between` is its length.  Raises Impossible.
    """
    key = f"{prefix}top.cleats"
    long = work.length(f"{key}.length", "cleat", plus("between front and back legs", between))
    size = (chosen.shank, chosen.slot)
    sound(chosen.screws, chosen.held, size, (long, chosen.width), key, "a cleat", work)
    features = row(chosen.screws, chosen.held, size, (0, long, chosen.width))
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
