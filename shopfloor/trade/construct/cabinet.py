"""A cabinet on legs: from its outside sizes and the choices of its maker to every part.

One outside size changed, and everything that hangs on it follows.  What cannot be made is left out and said, with the
number that would do; the rest of the design stays.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import ClassVar, TypeVar

from ..fault import Fault
from ..length import Length
from ..part import Unit
from .derived import Impossible, Override, Working
from .drawer_choices import Drawers
from .drawers import drawers
from .legs import Legs, Room, Side, face_side, legs, room_of, side
from .made import Built, Gathered
from .mates import misfits
from .top import Top, top
from .web_frames import Opening, WebFrames, web_frames

__all__ = ["Cabinet", "derive"]

Made = TypeVar("Made")
SIDES = ("left", "right", "back", "front")


@dataclass(frozen=True)
class Cabinet:
    """A cabinet on four legs: outside sizes over the legs, the height with the top.

    A side that is None is open.  `key` begins all of its keys, so that a job can hold several; it may be empty.
    """

    kind: ClassVar[str] = "cabinet"
    width: Length
    depth: Length
    height: Length
    legs: Legs
    key: str = ""
    species: str = ""
    left: Side | None = None
    right: Side | None = None
    back: Side | None = None
    front: Side | None = None
    web_frames: WebFrames | None = None
    drawers: Drawers | None = None
    top: Top | None = None
    overrides: tuple[Override, ...] = ()


def derive(cabinet: Cabinet, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from a cabinet's outside sizes and choices.

    `number` is that of its first assembly; `unit` is the one that faults are written in.  Never raises for a design
    that cannot be made: `faults` says what was left out.
    """
    return _Derivation(cabinet, unit, number).built()


class _Derivation:
    def __init__(self, cabinet: Cabinet, unit: Unit, number: int) -> None:
        self.cabinet = _with_species(cabinet)
        self.work = Working(unit, cabinet.overrides)
        self.numbers = number
        self.prefix = f"{cabinet.key}-" if cabinet.key else ""
        self.out = Gathered()

    def built(self) -> Built:
        cabinet = self.cabinet
        room = self.tried(self.room)
        if room:
            self.add(lambda nth: legs(cabinet.legs, room, nth, self.prefix))
            stand = [which for which in SIDES if self.add_side(which, room)]
            openings = self.add_web_frames(room, stand)
            if cabinet.drawers and openings:
                self.add_drawers(cabinet.drawers, openings)
            if cabinet.top:
                self.add_top(cabinet.top, room)
        found = self.out.built(self.work.derived, [*self.work.faults, *self.unused()])
        return replace(found, faults=(*found.faults, *misfits(found, self.work.size)))

    def room(self) -> Room:
        cabinet = self.cabinet
        over = cabinet.top.thickness if cabinet.top else 0
        return room_of(cabinet.width, cabinet.depth, cabinet.height, over, cabinet.legs, self.work)

    def add_side(self, which: str, room: Room) -> bool:
        chosen: Side | None = getattr(self.cabinet, which)
        alike = which == "right" and chosen == self.cabinet.left
        note = "The mirror image of the left side." if alike else ""
        return bool(chosen and self.add(lambda nth: side(which, chosen, room, nth, self.work, self.prefix, note)))

    def add_web_frames(self, room: Room, stand: list[str]) -> list[Opening]:
        cabinet = self.cabinet
        if not cabinet.web_frames:
            return []
        chosen, behind = cabinet.web_frames, room.depth
        if cabinet.back and "back" in stand:
            behind -= face_side(cabinet.back, room)
        found: list[Opening] = []

        def make(nth: int) -> Gathered:
            made, openings = web_frames(chosen, room, behind, nth, self.work, self.prefix)
            found.extend(openings)
            return made

        self.add(make)
        return found

    def add_drawers(self, chosen: Drawers, openings: list[Opening]) -> None:
        self.add(
            lambda nth: drawers(chosen, openings, nth, self.work, self.cabinet.species, self.prefix), len(openings)
        )

    def add_top(self, chosen: Top, room: Room) -> None:
        self.add(lambda nth: top(chosen, room.width, room.depth, room.height, nth, self.work, self.prefix))

    def add(self, make: Callable[[int], Gathered], stacks: int = 1) -> bool:
        """Make an assembly with the next number, or say why it cannot be made."""
        made = self.tried(lambda: make(self.numbers))
        if made is None:
            return False
        self.numbers += stacks
        self.out.add(made)
        return True

    def tried(self, make: Callable[[], Made]) -> Made | None:
        try:
            return make()
        except Impossible as err:
            where = f"{self.prefix}{err.where}" if not err.where.startswith(self.prefix) else err.where
            self.work.faults.append(Fault(where, err.what, err.do))
            return None

    def unused(self) -> Iterator[Fault]:
        """Lengths set by hand that replace nothing."""
        known = {each.key for each in self.work.derived}
        for key in self.work.by_hand:
            if key not in known and not self.work.faults:
                near = difflib.get_close_matches(key, known, 1)
                do = f"Remove it, or write {near[0]}." if near else "Remove it."
                yield Fault(key, "nothing is derived by this name, so the length set by hand does nothing", do)


def _with_species(cabinet: Cabinet) -> Cabinet:
    """The cabinet with its own species wherever none was chosen."""
    own = cabinet.species

    def side_of(chosen: Side | None) -> Side | None:
        if not chosen:
            return None
        return replace(chosen, frame=replace(chosen.frame, species=chosen.frame.species or own))

    return replace(
        cabinet,
        legs=replace(cabinet.legs, species=cabinet.legs.species or own),
        left=side_of(cabinet.left),
        right=side_of(cabinet.right),
        back=side_of(cabinet.back),
        front=side_of(cabinet.front),
        top=cabinet.top and replace(cabinet.top, species=cabinet.top.species or own),
    )
