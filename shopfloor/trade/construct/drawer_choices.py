"""What does a maker choose about drawers?  How they lie in their openings, and how their corners are joined."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..length import Length

__all__ = ["BackJoint", "Bottom", "Corner", "CornerJoint", "Drawers", "Overlay"]


class Corner(StrEnum):
    """How a side is joined to the front."""

    TONGUE = "tongue in a dado"
    RABBET = "rabbet"
    DOVETAIL = "half-blind dovetail"


@dataclass(frozen=True)
class CornerJoint:
    """The joint of side and front: what is cut into the front is `depth` deep, and the side stays `clear` of its
    bottom.  A tongue is `tongue` thick, along the side's inner face; in a rabbet the whole end lies.  Dovetails have
    `count` tails, pins `pin` wide where they are narrowest, half pins at the edges, and lean 1 in `slope`.

    What is 0 is proposed for the wood at hand (corner_proposal.py): with a count of 0 as many tails as suit the height
    of each drawer."""

    kind: Corner
    depth: Length
    tongue: Length = 0
    clear: Length = 0
    count: int = 0
    pin: Length = 0
    half_pin: Length = 0
    slope: int = 8


@dataclass(frozen=True)
class BackJoint:
    """The back's tongue in the dado of the sides.  The back stands `ahead` of their rear ends and `lower` than them."""

    depth: Length
    tongue: Length
    clear: Length = 0
    ahead: Length = 0
    lower: Length = 0


@dataclass(frozen=True)
class Bottom:
    """The bottom: a solid one, its grain from side to side, in a groove `up` from the lower edge; it passes under the
    back, and grows that way."""

    thickness: Length
    up: Length
    width: Length
    depth: Length
    clear: Length = 0
    note: str = "Glue at the front only; it grows backwards, under the back."


@dataclass(frozen=True)
class Overlay:
    """How far a front that lies before the case reaches over the opening."""

    beside: Length
    above: Length
    below: Length


@dataclass(frozen=True)
class Drawers:
    """The drawers of a case, one for each opening.

    `beside` is what the box stays clear of the opening at each side (a metal runner counts), `above` over it, `behind`
    it.  An inset front is as wide as the box, or stays `front_gap` clear at each side; with an overlay it covers the
    edges of the opening.
    """

    front: Length
    side: Length
    back: Length
    corner: CornerJoint
    back_joint: BackJoint
    bottom: Bottom
    beside: Length
    above: Length
    behind: Length
    front_gap: Length = 0
    overlay: Overlay | None = None
    front_species: str = ""
    side_species: str = ""
    bottom_species: str = ""
