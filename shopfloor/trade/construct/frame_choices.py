"""What does a maker choose about a frame?  Widths, joinery and panel; the outside size comes from where it stands.

Sizes that are not given here are derived in frame.py.  Widths run from the top, or from the left.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..length import Length

__all__ = ["Frame", "Groove", "Panel", "Tenon"]


@dataclass(frozen=True)
class Tenon:
    """How a rail's tenons are made: `offset` behind the face side, `shoulder` at an edge that has no groove.

    `extra` is how much deeper the mortise is.  A `length` of 0 makes stub tenons that sit in the panel's groove; then
    `extra` is what they stay clear of its bottom, and they have no shoulder at an edge.
    """

    thickness: Length
    length: Length
    offset: Length
    shoulder: Length = 0
    extra: Length = 0


@dataclass(frozen=True)
class Groove:
    """The groove for the panels, `offset` behind the face side.  Muntins have stub tenons that stay `clear` of its
    bottom."""

    width: Length
    depth: Length
    offset: Length
    clear: Length = 0


@dataclass(frozen=True)
class Panel:
    """A panel and what it stays clear of the bottom of its groove: `beside` across the grain, `ends` along it.

    `set_back` is how far its face side lies behind the frame's.
    """

    thickness: Length
    beside: Length
    ends: Length
    set_back: Length = 0
    species: str = ""
    group: str = ""
    note: str = "Loose in its grooves: no glue. Finish it before it is closed in."


@dataclass(frozen=True)
class Frame:
    """A frame, with panels or open.

    `rails` are the widths of the rails from the top.  `stiles` are those of its own stiles from the left, two or more;
    between legs there are none.  `fields` are the heights between the rails, and a 0 or a missing one shares what is
    left.  `muntins` says how many stand in each field, from the top.  Without a panel there is no groove either.
    """

    thickness: Length
    rails: tuple[Length, ...]
    tenon: Tenon
    groove: Groove | None = None
    panel: Panel | None = None
    stiles: tuple[Length, ...] = ()
    fields: tuple[Length, ...] = ()
    muntins: tuple[int, ...] = ()
    muntin: Length = 0
    species: str = ""
