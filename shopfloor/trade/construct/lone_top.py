"""How big is a top for a case that is there already?  As big as the case and its overhangs, and of how many boards."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..length import Length
from ..part import Unit
from .derived import Override, StackName
from .made import Built, Gathered
from .outcome import Outcome, called
from .outside import Asked
from .top import Top, top

__all__ = ["LoneTop", "derive"]


@dataclass(frozen=True)
class LoneTop:
    """A solid top over a case `width` by `depth`, `boards` glued edge to edge; with 1 it is one part."""

    kind: ClassVar[str] = "top"
    width: Length
    depth: Length
    thickness: Length
    front: Length = 0
    back: Length = 0
    left: Length = 0
    right: Length = 0
    boards: int = 1
    key: str = "top"
    species: str = ""
    note: str = ""
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(lone: LoneTop, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """The top, or its boards."""
    outcome = Outcome(lone.key, unit, number, lone.overrides)
    chosen = Top(lone.thickness, lone.front, lone.back, lone.left, lone.right, lone.boards, None, lone.species,
                 lone.note)  # fmt: skip

    def make(nth: int) -> Gathered:
        made = top(chosen, lone.width, lone.depth, 0, nth, outcome.work, outcome.prefix)
        made.assemblies = [replace(each, name=called(lone.key, "Top")) for each in made.assemblies]
        return made

    outcome.add(make)
    return outcome.built(
        Asked("width", 0, lone.width, lone.left + lone.right), Asked("depth", 1, lone.depth, lone.front + lone.back)
    )  # fmt: skip
