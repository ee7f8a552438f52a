"""Which drawers fit an opening that is there already?  One, or several of one width, for a case that holds still.

X runs to the right, Y to the back, Z up, from the left lower front corner of the lowest opening.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..length import Length
from ..part import Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName
from .drawer_choices import Drawers
from .drawers import drawers
from .made import Built, Gathered
from .opening import Opening
from .outcome import Outcome, called

__all__ = ["LoneDrawers", "derive"]

MOST = 200


@dataclass(frozen=True)
class LoneDrawers:
    """A drawer for each of `heights`, those of openings from the top, all `width` wide and `depth` deep."""

    kind: ClassVar[str] = "drawers"
    width: Length
    heights: tuple[Length, ...]
    depth: Length
    drawers: Drawers
    key: str = "drawer"
    species: str = ""
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(lone: LoneDrawers, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """The boxes with their fronts; each drawer is a stack of its own."""
    outcome = Outcome(lone.key, unit, number, lone.overrides, lone.fit)
    openings = outcome.tried(lambda: _openings(lone, outcome))
    if not openings:
        return outcome.built()

    def make(nth: int) -> Gathered:
        made = drawers(lone.drawers, openings, nth, outcome.work, lone.species, outcome.prefix, "opening")
        name = called(lone.key, "Drawer", lone.kind)
        names = [name] if len(openings) == 1 else [f"{name} {of}" for of in range(1, len(openings) + 1)]
        made.assemblies = [replace(each, name=own) for each, own in zip(made.assemblies, names, strict=True)]
        return made

    outcome.add(make, len(openings))
    return outcome.built()


def _openings(lone: LoneDrawers, outcome: Outcome) -> list[Opening]:
    """The openings over one another, each with as much between them as the fronts reach over."""
    work, prefix, lay = outcome.work, outcome.prefix, lone.drawers.overlay
    if not 1 <= len(lone.heights) <= MOST:
        do = f"Give the height of one opening at least, and of {MOST} at most."
        raise Impossible(f"{len(lone.heights)} openings", where=f"{prefix}heights", do=do)
    for name, size in (("width", lone.width), ("depth", lone.depth), ("heights", min(lone.heights))):
        work.at_least(f"{prefix}{name}", "an opening of", size, 1, "for a drawer")
    apart = max(lay.above + lay.below, 0) if lay else 0
    floor = sum(lone.heights) + apart * len(lone.heights)
    found = []
    for nth, height in enumerate(lone.heights, 1):
        floor -= height + apart
        found.append(Opening(nth, (0, 0, floor), lone.width, height, lone.depth))
    return found
