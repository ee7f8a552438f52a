"""Where do four legs stand, and what stands between them?  A case of legs, each side open, railed or framed.

X runs to the right, Y to the back, Z up, from the floor under the front left corner; the outside sizes are taken over
the legs.  Left and right are reflections of one another, never retyped.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..length import Length
from ..part import Assembly, Line, Placement
from .derived import Impossible, Working, minus, plus
from .frame import build
from .frame_choices import Frame
from .frame_layout import Setting
from .made import Gathered, part_of
from .space import mirrored

__all__ = ["LEGS", "Flush", "Legs", "Room", "Side", "legs", "room_of", "side"]

LEGS = {end: f"leg.{end}" for end in ("front-left", "front-right", "back-left", "back-right")}
"""The parts that frames and web frames enter."""


class Flush(StrEnum):
    """Which surface of the legs a side lies flush with."""

    INSIDE = "inside"
    OUTSIDE = "outside"


@dataclass(frozen=True)
class Legs:
    """Four square legs.  `foot` is how far the sides stop above the floor."""

    thickness: Length
    foot: Length = 0
    species: str = ""
    note: str = ""


@dataclass(frozen=True)
class Side:
    """What stands between two legs: a frame with or without panels, `set_back` from the surface it is flush with.

    Its upper edge is `down` from the top of the legs.
    """

    frame: Frame
    flush: Flush = Flush.OUTSIDE
    set_back: Length = 0
    down: Length = 0


@dataclass(frozen=True)
class Room:
    """The sizes that everything else hangs on: the outside over the legs, their height and the clear space."""

    width: Length
    depth: Length
    height: Length
    leg: Length
    clear_width: Length
    clear_depth: Length
    side_height: Length


def room_of(width: Length, depth: Length, height: Length, top: Length, chosen: Legs, work: Working) -> Room:
    """The clear sizes of a case from its outside ones; `top` is the thickness of what lies on the legs."""
    if chosen.thickness <= 0:
        raise Impossible(f"legs {work.size(chosen.thickness)} thick", where="legs.thickness", do="Give them a size.")
    leg = chosen.thickness
    tall = work.length("leg.length", "leg", plus("height", height), minus("top", top))
    sides = work.length("side-height", "sides", plus("leg", tall), minus("foot", chosen.foot))
    clear = work.length("clear-width", "between the legs", plus("width", width), minus("leg", leg, 2))
    deep = work.length("clear-depth", "between front and back legs", plus("depth", depth), minus("leg", leg, 2))
    return Room(width, depth, tall, leg, clear, deep, sides)


def legs(chosen: Legs, room: Room, number: int, prefix: str = "") -> Gathered:
    """The four legs, without cuts yet.  A front leg shows its face side to the front, a back one to the inside."""
    assembly = Assembly(f"{prefix}legs", number, "Legs",
                        note="Four from one plank, turned so that the best faces show.")  # fmt: skip
    stands = {
        "front": Placement("-Z -X +Y", (room.leg, 0, room.height)),
        "back": Placement("-Z -Y -X", (room.leg, room.depth, room.height)),
    }
    looks = {"front": ("front", "inside"), "back": ("inside", "back")}
    lines = [
        Line(
            f"{prefix}leg-{end}", assembly.key, "Leg", room.leg, room.leg, room.height, chosen.species, "top",
            *looks[end], group="legs", note=chosen.note,
            parts=(
                part_of(f"{prefix}leg.{end}-left", f"{end} left", left),
                part_of(f"{prefix}leg.{end}-right", f"{end} right", mirrored(left, room.width)),
            ),
        )
        for end, left in stands.items()
    ]  # fmt: skip
    return Gathered([assembly], lines)


def side(
    which: str, chosen: Side, room: Room, number: int, work: Working, prefix: str = "", note: str = ""
) -> Gathered:  # fmt: skip
    """One side of a case: `which` is left, right, back or front.  Raises Impossible."""
    check(which, chosen, room, work, prefix)
    lies, upper = _lies(chosen, room.leg), room.height - chosen.down
    across = which in ("left", "right")
    clear = room.clear_depth if across else room.clear_width
    if across:
        left = Placement("+Y -Z -X", (room.leg - lies, room.leg, upper))
        stands = left if which == "left" else mirrored(left, room.width)
    elif which == "back":
        stands = Placement("+X -Z +Y", (room.leg, room.depth - room.leg + lies, upper))
    else:
        stands = Placement("+X -Z -Y", (room.leg, room.leg - lies, upper))
    ends = ("front", "back") if across else ("left", "right")
    between = tuple(f"{prefix}leg.{end}-{which}" if across else f"{prefix}leg.{which}-{end}" for end in ends)
    name = f"{which} side" if across else which
    assembly = Assembly(prefix + name.replace(" ", "-"), number, name.capitalize(), note=note)
    setting = Setting(
        assembly.key, f"{prefix}{which}-", f"{prefix}{which}.", name, ends, stands, (between[0], between[1]),
        f"{'side' if across else which}-",
    )  # fmt: skip
    high = room.side_height
    if chosen.down:
        high = work.length(f"{prefix}{which}-height", "frame", plus("sides", high), minus("down", chosen.down))
    found = build(chosen.frame, clear, high, setting, work)
    found.assemblies.append(assembly)
    return found


def face_side(chosen: Side, room: Room) -> Length:
    """How far behind the legs' outside the inner surface of a side lies."""
    return room.leg - _lies(chosen, room.leg)


def check(which: str, chosen: Side, room: Room, work: Working, prefix: str) -> None:
    """Refuse what a leg has no wood for."""
    frame, where = chosen.frame, f"{prefix}{which}"
    work.at_most(f"{where}-thickness", "stock", frame.thickness, room.leg, f"for a leg {work.size(room.leg)} thick")
    most = room.leg - frame.thickness
    work.at_most(f"{where}-set-back", "a set-back of", chosen.set_back, most, f"in a leg {work.size(room.leg)} thick")
    work.at_least(f"{where}-set-back", "a set-back of", chosen.set_back, 0, "to be made")
    work.at_least(f"{where}-down", "down by", chosen.down, 0, "to be made")
    deep = frame.tenon.length + frame.tenon.extra
    legs = f"for a leg {work.size(room.leg)} thick"
    work.less_than(f"{where}-tenon.length", "a mortise", deep, room.leg, legs)
    if frame.groove:
        work.less_than(f"{where}-groove.depth", "a groove", frame.groove.depth, room.leg, legs)


def _lies(chosen: Side, leg: Length) -> Length:
    """How far the face side of a side's frame lies outwards of the legs' inner surface."""
    if chosen.flush is Flush.INSIDE:
        return chosen.set_back
    return leg - chosen.frame.thickness - chosen.set_back
