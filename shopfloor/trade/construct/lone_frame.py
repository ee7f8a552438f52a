"""What if a frame belongs to nothing?  Rails and stiles to an outside size, with or without panels.

X runs to the right, Y to the back, Z up, from the left lower corner of the face side.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..length import Length
from ..part import Assembly, Placement, Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName
from .frame import build
from .frame_choices import Frame
from .frame_layout import Setting
from .made import Built, Gathered
from .outcome import Outcome, called
from .outside import Asked

__all__ = ["LoneFrame", "derive"]


@dataclass(frozen=True)
class LoneFrame:
    """A frame `width` over its stiles and `height` over its rails; its stiles run through."""

    kind: ClassVar[str] = "frame"
    width: Length
    height: Length
    frame: Frame
    key: str = "frame"
    species: str = ""
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(lone: LoneFrame, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from the outside size and the choices."""
    outcome = Outcome(lone.key, unit, number, lone.overrides, lone.fit)
    prefix, key = outcome.prefix, lone.key or lone.kind
    frame = replace(lone.frame, species=lone.frame.species or lone.species)
    name = called(lone.key, "Frame")
    stands = Placement("+X -Z +Y", (0, 0, lone.height))
    setting = Setting(key, prefix, f"{key}.", name.lower(), ("left", "right"), stands, face_side="front")

    def make(nth: int) -> Gathered:
        if not frame.stiles:
            raise Impossible("it has no stiles", where=f"{prefix}stiles", do="Give it two at least.")
        found = build(frame, lone.width, lone.height, setting, outcome.work)
        found.assemblies.append(Assembly(key, nth, name))
        return found

    outcome.add(make)
    return outcome.built(Asked("width", 0, lone.width), Asked("height", 2, lone.height))
