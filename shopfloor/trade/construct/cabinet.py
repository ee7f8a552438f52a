"""A cabinet on legs: from its outside sizes and the choices of its maker to every part.

One outside size changed, and everything that hangs on it follows.  What cannot be made is left out and said, with the
number that would do; the rest of the design stays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import ClassVar

from ..fault import Fault
from ..length import Length
from ..part import Box, Line, Unit
from ..sheet import called, places_in
from ..surface import overlap, whole
from .clearances import NOMINAL, Clearances
from .cleats import Cleats, cleats
from .derived import Impossible, Override, StackName
from .drawer_choices import Drawers
from .drawers import ON_NOTHING, drawers, holds
from .legs import Legs, Room, Side, face_side, legs, room_of, side
from .made import Built, Gathered
from .opening import Opening
from .outcome import Outcome
from .outside import Asked
from .screwed import screwed
from .top import Top, top
from .web_frames import WebFrames, web_frames

__all__ = ["Cabinet", "derive"]

SIDES = ("left", "right", "back", "front")
OPEN_FRONT = "Leave the front open: the front rails of the web frames divide and close it."
"""What a maker does where drawers come out: a rail lies flat before each frame, and is that frame's own."""


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
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(cabinet: Cabinet, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from a cabinet's outside sizes and choices.

    `number` is that of its first assembly; `unit` is the one that faults are written in.  Never raises for a design
    that cannot be made: `faults` says what was left out.
    """
    return _Derivation(cabinet, unit, number).made()


class _Derivation(Outcome):
    def __init__(self, cabinet: Cabinet, unit: Unit, number: int) -> None:
        super().__init__(cabinet.key, unit, number, cabinet.overrides, cabinet.fit)
        self.cabinet = _with_species(cabinet)

    def made(self) -> Built:
        cabinet = self.cabinet
        room = self.tried(self.room)
        if room:
            self.add(lambda nth: legs(cabinet.legs, room, nth, self.prefix))
            stand = [which for which in SIDES if self.add_side(which, room)]
            openings = self.add_web_frames(room, stand)
            if cabinet.drawers and openings:
                self.add_drawers(cabinet.drawers, openings)
            elif cabinet.drawers and not cabinet.web_frames:
                self.work.faults.append(Fault(f"{self.prefix}drawers", *ON_NOTHING))
            if cabinet.top:
                self.add_top(cabinet.top, room, stand)
        over = ("top", "drawer")
        return self.built(
            Asked("width", 0, cabinet.width, but=over), Asked("depth", 1, cabinet.depth, but=over),
            Asked("height", 2, cabinet.height, but=("drawer",)),
        )  # fmt: skip

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
            made, openings = web_frames(chosen, room, behind, nth, self.work, self.prefix, self.holds(room, behind))
            self.keep_clear(made, room)
            found.extend(openings)
            return made

        self.add(make)
        return found

    def holds(self, room: Room, behind: Length) -> Callable[[Length], bool] | None:
        """Whether a drawer can be made for an opening of a height; None without drawers."""
        frames, chosen = self.cabinet.web_frames, self.cabinet.drawers
        if not chosen or not frames:
            return None
        at, deep = (room.leg, frames.set_back, 0), behind - frames.set_back
        return lambda height: holds(Opening(1, at, room.clear_width, height, deep), chosen, self.work.unit)

    def blocks(self, lines: Iterable[Line]) -> list[tuple[str, Box]]:
        """The parts of some lines by what they are called, each with its block in the cabinet."""
        return [
            (called(line.name, places_in(line)[part.key]), part.stands.box(whole(line.stock)))
            for line in lines for part in line.parts if part.stands
        ]  # fmt: skip

    def front(self) -> list[tuple[str, Box]]:
        return self.blocks(line for line in self.out.lines if line.assembly == f"{self.prefix}front")

    def keep_clear(self, frames: Gathered, room: Room) -> None:
        """Refuse web frames that run through the front: their front rails are what a front with openings has."""
        cabinet, inner = self.cabinet, self.blocks(frames.lines)
        chosen, front = cabinet.web_frames, cabinet.front
        for name, box in self.front():
            for other, its in inner:
                if overlap(box, its) and chosen and front:
                    back, tenon = face_side(front, room), chosen.front_tenon
                    do = OPEN_FRONT
                    if not cabinet.drawers and room.leg - back - tenon.shoulder >= tenon.width:
                        do = f"Set the web frames back by {self.work.size(back)} or more, or l{OPEN_FRONT[1:]}"
                    what = f"{name.lower()} and {other.lower()} would go through each other"
                    raise Impossible(what, where=f"{self.prefix}web-set-back", do=do)

    def keep_way(self, openings: Iterable[Opening]) -> None:
        """Refuse drawers that something of the front stands before."""
        for name, box in self.front():
            for each in openings:
                x, _, z = each.at
                way = Box(x, x + each.width, box.y0, box.y1, z, z + each.height)
                if before := overlap(box, way):
                    high = self.work.size(before.z1 - before.z0)
                    what = f"{name.lower()} stands before the opening of drawer {each.number}, {high} high"
                    raise Impossible(what, where=f"{self.prefix}drawers", do=OPEN_FRONT)

    def add_drawers(self, chosen: Drawers, openings: list[Opening]) -> None:
        def make(nth: int) -> Gathered:
            self.keep_way(openings)
            return drawers(chosen, openings, nth, self.work, self.cabinet.species, self.prefix)

        self.add(make, len(openings))

    def add_top(self, chosen: Top, room: Room, stand: list[str]) -> None:
        def make(nth: int) -> Gathered:
            made = top(chosen, room.width, room.depth, room.height, nth, self.work, self.prefix)
            if chosen.cleats:
                made.add(self.cleats(chosen.cleats, room, stand))
            return made

        self.add(make)
        if held := chosen.screwed:
            broad = self.cabinet.web_frames.runner if self.cabinet.web_frames else 0
            self.tried(lambda: screwed(held, self.out, broad, self.work, self.prefix))

    def cleats(self, chosen: Cleats, room: Room, stand: list[str]) -> Gathered:
        cabinet = self.cabinet
        if cabinet.web_frames:
            do = "Let the top be screwed to that frame, in slots."
            raise Impossible("the uppermost web frame lies where cleats would", where="top.cleats", do=do)
        if not (cabinet.left and cabinet.right == cabinet.left and {"left", "right"} <= set(stand)):
            do = "Give the case two sides that are alike."
            raise Impossible("cleats are glued to the sides", where="top.cleats", do=do)
        made = replace(chosen, species=chosen.species or cabinet.species)
        at = (face_side(cabinet.left, room), room.leg)
        return cleats(made, f"{self.prefix}top", at, room.width, room.height, room.clear_depth, self.work, self.prefix)


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
