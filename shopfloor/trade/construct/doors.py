"""How wide is a door, and how long are its rails?  One door or a pair in an opening, inset, each a frame with panels.

The gaps are taken off the opening once: one at each hinge side, one between a pair.  The right door of a pair is the
mirror image of the left one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import ClassVar

from ..length import Length
from ..part import Assembly, Placement, Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName, minus, plus
from .frame import build
from .frame_choices import Frame
from .frame_layout import Setting
from .made import Built, Gathered
from .outcome import Outcome
from .outside import Asked
from .space import mirrored

__all__ = ["Doors", "Hinges", "derive"]


class Hinges(StrEnum):
    """Where the hinges are, seen from the front; a pair has them at both sides."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"


@dataclass(frozen=True)
class Doors:
    """A door, or a pair if there are hinges at both sides, in an opening `width` by `height`.

    `beside` is the gap at each side of the opening, `between` that between a pair.
    """

    kind: ClassVar[str] = "doors"
    width: Length
    height: Length
    frame: Frame
    key: str = "door"
    hinges: Hinges = Hinges.LEFT
    beside: Length = 0
    between: Length = 0
    above: Length = 0
    below: Length = 0
    species: str = ""
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(doors: Doors, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from the opening and the choices.  X runs along the opening, Y into the case."""
    outcome = Outcome(doors.key, unit, number, doors.overrides, doors.fit)
    work, key = outcome.work, outcome.prefix
    count = 2 if doors.hinges is Hinges.BOTH else 1
    frame = replace(doors.frame, species=doors.frame.species or doors.species)

    def sizes() -> tuple[Length, Length]:
        if not frame.stiles:
            where, do = f"{key}stiles", "Give it two at least."
            raise Impossible("a door has stiles of its own", where=where, do=do)
        return (
            work.length(f"{key}width", "door", plus("opening", doors.width), minus("gap", doors.beside, 2),
                        minus("gap between them", doors.between, count - 1), over=count),
            work.length(f"{key}height", "door", plus("opening", doors.height), minus("gap above", doors.above),
                        minus("gap below", doors.below)),
        )  # fmt: skip

    found = outcome.tried(sizes)
    for hung in _hung(doors.hinges) if found else ():
        assert found
        width, height = found
        name = f"{hung}-door" if count == 2 else doors.key or "door"
        whole = f"{key}{hung}" if count == 2 else name
        left = Placement("+X -Z +Y", (doors.beside, 0, doors.height - doors.above))
        stands = left if hung == "left" else mirrored(left, doors.width)
        assembly = Assembly(whole, outcome.number, name.replace("-", " ").capitalize(), note=f"Hinges at the {hung}.")
        setting = Setting(
            whole, f"{whole}-", f"{whole}.", name.replace("-", " "), ("hinge", "lock"), stands, face_side="front"
        )  # fmt: skip

        def make(nth: int, assembly: Assembly = assembly, setting: Setting = setting, width: Length = width,
                 height: Length = height) -> Gathered:  # fmt: skip
            made = build(frame, width, height, setting, work)
            made.assemblies.append(replace(assembly, number=nth))
            return made

        outcome.add(make)
    return outcome.built(
        Asked("width", 0, doors.width, -2 * doors.beside), Asked("height", 2, doors.height, -doors.above - doors.below)
    )  # fmt: skip


def _hung(hinges: Hinges) -> tuple[str, ...]:
    return ("left", "right") if hinges is Hinges.BOTH else (hinges.value,)
