"""Where does each web frame stand, and how big is each opening?  Frames between the legs that carry the drawers.

Frames and openings are counted from the top.  A frame has a front rail and a back rail with tenons in the legs, and
two runners with stub tenons in the rails' grooves; a dust panel may fill it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..length import Length
from ..part import Assembly, Box, Face, Feature, Groove, Line, Mortise, Part, Placement, Stock, Tenon, Tongue
from .counted import counted
from .derived import Working, minus, plus
from .frame_choices import Groove as Channel
from .frame_choices import Panel
from .legs import Room
from .made import Gathered, part_of
from .opening import Opening
from .share import places, shared
from .space import Cut

__all__ = ["MIDDLE", "LegTenon", "WebFrames", "web_frames"]

MIDDLE = ("+Y -X +Z", "+Y +X +Z")
"""How a left and a right runner lie: the right one is the mirror image, their face edges look to the middle."""


@dataclass(frozen=True)
class LegTenon:
    """A rail's tenon in a leg: `shoulder` in from the edge that looks out of the case, `width` across."""

    shoulder: Length
    width: Length
    thickness: Length
    length: Length
    offset: Length
    extra: Length = 0


@dataclass(frozen=True)
class WebFrames:
    """The frames of a case.  `count` is that of the openings between them; there is one frame more.

    `heights` are those of the openings from the top, and a 0 or a missing one shares what is left.  `set_back` is how
    far the front rails lie behind the front of the legs.
    """

    count: int
    thickness: Length
    front: Length
    back: Length
    runner: Length
    front_tenon: LegTenon
    back_tenon: LegTenon
    groove: Channel
    set_back: Length = 0
    heights: tuple[Length, ...] = ()
    dust_panel: Panel | None = None
    front_species: str = ""
    back_species: str = ""
    runner_species: str = ""


def web_frames(
    chosen: WebFrames, room: Room, behind: Length, number: int, work: Working, prefix: str = "",
    holds: Callable[[Length], bool] | None = None,
) -> tuple[Gathered, list[Opening]]:  # fmt: skip
    """The frames, and the openings between them.

    `behind` is how far behind the front of the legs the frames end; `holds` says of a height whether its drawer can be
    made.  Raises Impossible.
    """
    counted(chosen.count, room.side_height, chosen.thickness, f"{prefix}web-count", work, holds)
    return _Frames(chosen, room, behind, number, work, prefix).made()


class _Frames:
    def __init__(self, chosen: WebFrames, room: Room, behind: Length, number: int, work: Working, prefix: str) -> None:
        self.chosen, self.room, self.work, self.prefix = chosen, room, work, prefix
        self.behind = behind
        self.key = f"{prefix}web-"
        self.assembly = Assembly(f"{prefix}web-frames", number, "Web frames",
                                 note=f"Frame 1 is the uppermost, frame {chosen.count + 1} the lowest.")  # fmt: skip
        self.out = Gathered([self.assembly])

    def made(self) -> tuple[Gathered, list[Opening]]:
        chosen, room, work = self.chosen, self.room, self.work
        self.check()
        count = chosen.count
        heights = shared(
            work, f"{self.key}opening", "opening", "sides", room.side_height,
            [minus("frame", chosen.thickness, count + 1)], chosen.heights, count,
        )  # fmt: skip
        tops = places([chosen.thickness] * (count + 1), heights, room.side_height)
        self.floors = [room.height - top - chosen.thickness for top in tops]
        deep = work.length(
            f"{self.key}depth", "web frame", plus("front to back", self.behind),
            minus("set back", chosen.set_back),
        )  # fmt: skip
        between = work.length(
            f"{self.key}between", "between the rails", plus("web frame", deep), minus("front rail", chosen.front),
            minus("back rail", chosen.back),
        )  # fmt: skip
        self.rail("front", chosen.set_back, chosen.front, chosen.front_tenon, chosen.front_species)
        self.rail("back", chosen.set_back + deep - chosen.back, chosen.back, chosen.back_tenon, chosen.back_species)
        self.runners(between)
        if chosen.dust_panel:
            self.dust_panels(chosen.dust_panel, between)
        self.joints()
        openings = [
            Opening(nth + 1, (room.leg, chosen.set_back, floor + chosen.thickness), room.clear_width, height, deep)
            for nth, (height, floor) in enumerate(zip(heights, self.floors[1:], strict=True))
        ]
        return self.out, openings

    def check(self) -> None:
        chosen, room, work = self.chosen, self.room, self.work
        for end, tenon, wide in (("front", chosen.front_tenon, chosen.front), ("back", chosen.back_tenon, chosen.back)):
            where, leg = f"{self.key}{end}-tenon", room.leg
            held = self.held(end, tenon)
            work.at_most(f"{where}.thickness", "a tenon", tenon.thickness, chosen.thickness - tenon.offset,
                         f"in a frame {work.size(chosen.thickness)} thick")  # fmt: skip
            work.at_most(f"{where}.width", "a tenon", tenon.width, min(held, wide - tenon.shoulder),
                         "for what the leg covers of the rail")  # fmt: skip
            work.less_than(f"{where}.length", "a mortise", tenon.length + tenon.extra, leg,
                         f"for a leg {work.size(leg)} thick")  # fmt: skip
        work.at_least(f"{self.key}set-back", "a set-back of", chosen.set_back, 0, "")
        groove = chosen.groove
        work.at_most(f"{self.key}groove.width", "a groove", groove.width, chosen.thickness - groove.offset,
                     f"in a frame {work.size(chosen.thickness)} thick")  # fmt: skip
        work.less_than(f"{self.key}groove.depth", "a groove", groove.depth, min(chosen.front, chosen.back),
                     "for the narrower rail")  # fmt: skip
        work.less_than(f"{self.key}groove.clear", "a clearance of", groove.clear, groove.depth, "for a stub tenon")

    def held(self, end: str, tenon: LegTenon) -> Length:
        """How much of a rail the leg covers, from where its tenon begins."""
        chosen, room = self.chosen, self.room
        return room.leg - (chosen.set_back if end == "front" else room.depth - self.behind) - tenon.shoulder

    def rail(self, end: str, at: Length, wide: Length, tenon: LegTenon, species: str) -> None:
        """The front rails or the back rails, and the mortises that they ask of the legs."""
        chosen, room, groove = self.chosen, self.room, self.chosen.groove
        key = f"{self.key}{end}-rail"
        length = self.work.length(
            f"{key}.length", f"{end} rail", plus("between the legs", room.clear_width), plus("tenon", tenon.length, 2)
        )  # fmt: skip
        edge = tenon.shoulder if end == "front" else wide - tenon.shoulder - tenon.width
        lies = self.work.eased(f"{self.key}{end}-tenon.thickness", f"tenon, {end} rail", "mortise", tenon.offset,
                               tenon.thickness, chosen.thickness)  # fmt: skip
        size = (tenon.length, *lies, edge, tenon.width)
        inner = Face.FAR_EDGE if end == "front" else Face.FACE_EDGE
        features: tuple[Feature, ...] = (
            Tenon("left", Face.DATUM_END, *size),
            Tenon("right", Face.FAR_END, *size),
            Groove("runners", inner, groove.offset, groove.width, groove.depth),
        )
        low = room.leg + (room.clear_width - length) // 2
        most = self.work.fit.edge
        outer, inside = min(most, tenon.shoulder), min(self.held(end, tenon), wide - tenon.shoulder) - tenon.width
        near, far = outer, min(most, inside)
        if end == "back":
            near, far = far, near
        parts = []
        for nth, floor in enumerate(self.floors, 1):
            parts.append(self.part(f"{nth}.{end}-rail", f"frame {nth}", Placement(at=(low, at, floor))))
            deep = tenon.length + tenon.extra
            right = room.leg + room.clear_width
            for side, (start, stop, way) in {
                "left": (room.leg - deep, room.leg, "-X"), "right": (right, right + deep, "+X")
            }.items():  # fmt: skip
                box = Box(start, stop, at + edge - near, at + edge + tenon.width + far, floor + tenon.offset,
                          floor + tenon.offset + tenon.thickness)  # fmt: skip
                self.out.cuts.append(Cut(f"{self.prefix}leg.{end}-{side}", f"frame-{nth}", Mortise, box, way))
        stock = Stock(chosen.thickness, wide, length)
        self.line(f"{end}-rail", f"{end.capitalize()} rail", stock, species, "left", "front", features, parts)

    def runners(self, between: Length) -> None:
        """Left and right runners, along the inside of the legs."""
        chosen, room, groove = self.chosen, self.room, self.chosen.groove
        stub = self.work.length(
            f"{self.key}stub", "stub tenon", plus("groove", groove.depth), minus("clearance", groove.clear)
        )  # fmt: skip
        length = self.work.length(
            f"{self.key}runner.length", "runner", plus("between the rails", between), plus("tenon", stub, 2)
        )  # fmt: skip
        self.work.at_most(f"{self.key}runner", "a runner", chosen.runner, room.clear_width // 2,
                          "for the space between the legs")  # fmt: skip
        lies = self.work.eased(f"{self.key}runner.tenon-thickness", "stub tenon", "groove", groove.offset,
                               groove.width, chosen.thickness)  # fmt: skip
        size = (stub, *lies, 0, chosen.runner)
        features: list[Feature] = [Tenon("front", Face.DATUM_END, *size), Tenon("back", Face.FAR_END, *size)]
        if chosen.dust_panel:
            features.append(Groove("panel", Face.FACE_EDGE, groove.offset, groove.width, groove.depth))
        front = chosen.set_back + chosen.front + (between - length) // 2
        edges = (room.leg + chosen.runner, room.leg + room.clear_width - chosen.runner)
        parts = [
            self.part(f"{nth}.runner-{side}", f"frame {nth} {side}", Placement(axes, (edge, front, floor)))
            for nth, floor in enumerate(self.floors, 1)
            for side, axes, edge in zip(("left", "right"), MIDDLE, edges, strict=True)
        ]
        stock = Stock(chosen.thickness, chosen.runner, length)
        self.line("runner", "Runner", stock, chosen.runner_species, "front", "inside", features, parts)

    def dust_panels(self, panel: Panel, between: Length) -> None:
        """A panel in each frame, its grain from front to back, in the grooves of rails and runners."""
        chosen, room, groove, work = self.chosen, self.room, self.chosen.groove, self.work
        for name, gap in (("beside", panel.beside), ("ends", panel.ends)):
            work.less_than(f"{self.key}dust-panel.{name}", "a clearance of", gap, groove.depth, "in its groove")
        at = groove.offset - panel.set_back
        least = at + groove.width - (0 if at else 2 * work.fit.groove)
        work.at_least(f"{self.key}dust-panel.thickness", "a panel", panel.thickness, least, "for its tongue")
        work.at_most(f"{self.key}dust-panel.set-back", "setting it back by", panel.set_back, groove.offset, "")
        opening = work.length(
            f"{self.key}dust-panel.opening", "between the runners", plus("between the legs", room.clear_width),
            minus("runner", chosen.runner, 2),
        )  # fmt: skip
        wide = work.length(
            f"{self.key}dust-panel.width", "dust panel", plus("between the runners", opening),
            plus("groove", groove.depth, 2), minus("clearance", panel.beside, 2),
        )  # fmt: skip
        long = work.length(
            f"{self.key}dust-panel.length", "dust panel", plus("between the rails", between),
            plus("groove", groove.depth, 2), minus("clearance", panel.ends, 2),
        )  # fmt: skip
        lies = work.eased(f"{self.key}dust-panel.tongue", "tongue", "groove", at, groove.width, panel.thickness)
        tongue = (groove.depth, *lies)
        features = [
            Tongue("front", Face.DATUM_END, *tongue),
            Tongue("back", Face.FAR_END, *tongue),
            Tongue("right", Face.FACE_EDGE, *tongue),
            Tongue("left", Face.FAR_EDGE, *tongue),
        ]
        right = room.leg + (room.clear_width - wide) // 2 + wide
        front = chosen.set_back + chosen.front + (between - long) // 2
        parts = [
            self.part(
                f"{nth}.dust-panel", f"frame {nth}", Placement("+Y -X +Z", (right, front, floor + panel.set_back))
            )
            for nth, floor in enumerate(self.floors, 1)
        ]
        stock = Stock(panel.thickness, wide, long)
        self.line("dust-panel", "Dust panel", stock, panel.species, "front", "right", features, parts, panel)

    def joints(self) -> None:
        """Frame by frame: the tenons in the legs, then the runners, then the panel."""
        chosen, groove, own = self.chosen, self.chosen.groove, f"{self.prefix}web."
        extra = {"front": chosen.front_tenon.extra, "back": chosen.back_tenon.extra}
        for nth in range(1, len(self.floors) + 1):
            frame = f"{self.prefix}frame-{nth}"
            for end in ("front", "back"):
                for side in ("left", "right"):
                    self.out.meet(f"{frame}-{end}-{side}", f"{own}{nth}.{end}-rail/{side}",
                                  f"{self.prefix}leg.{end}-{side}/frame-{nth}", extra[end])  # fmt: skip
            for side in ("left", "right"):
                for end in ("front", "back"):
                    self.out.meet(f"{frame}-runner-{side}-{end}", f"{own}{nth}.runner-{side}/{end}",
                                  f"{own}{nth}.{end}-rail/runners", groove.clear, lettered=False)  # fmt: skip
            if panel := chosen.dust_panel:
                for end in ("front", "back"):
                    self.out.meet(f"{frame}-panel-{end}", f"{own}{nth}.dust-panel/{end}",
                                  f"{own}{nth}.{end}-rail/runners", panel.ends, panel.ends, False)  # fmt: skip
                for side in ("left", "right"):
                    self.out.meet(f"{frame}-panel-{side}", f"{own}{nth}.dust-panel/{side}",
                                  f"{own}{nth}.runner-{side}/panel", panel.beside, panel.beside, False)  # fmt: skip

    def part(self, key: str, place: str, stands: Placement) -> Part:
        return part_of(f"{self.prefix}web.{key}", place, stands)

    def line(
        self, key: str, name: str, stock: Stock, species: str, datum: str, edge: str, features: Sequence[Feature],
        parts: Sequence[Part], panel: Panel | None = None,
    ) -> None:  # fmt: skip
        self.out.lines.append(Line(
            self.key + key, self.assembly.key, name, *stock, species=species, datum=datum, face_side="underside",
            face_edge=edge, group=panel.group if panel else "", note=panel.note if panel else "",
            features=tuple(features), parts=tuple(parts),
        ))  # fmt: skip
