"""How big are the parts of a web frame that goes into a case that is there already?  One, or several alike.

X runs to the right, Y to the back, Z up, from the left front corner between the sides of the case.  A frame has a front
rail and a back rail from side to side and two runners with stub tenons in their grooves; a dust panel may fill it.
Dadoes in the case, if it has any, take one tongue along each side.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from ..length import Length
from ..part import Assembly, Face, Feature, Groove, Line, Part, Placement, Stock, Tenon, Tongue, Unit
from .clearances import NOMINAL, Clearances
from .derived import Impossible, Override, StackName, minus, plus
from .frame_choices import Groove as Channel
from .frame_choices import Panel
from .made import Built, Gathered, part_of
from .outcome import Outcome, called
from .outside import Asked
from .web_frames import MIDDLE

__all__ = ["LoneWebFrames", "SideTongue", "derive"]

MOST = 100
APART = 4
"""Several frames are drawn over one another, so many thicknesses from one to the next."""


@dataclass(frozen=True)
class SideTongue:
    """The tongue along either side: `thickness` thick, `offset` above the underside, in a dado of the case `depth`
    deep, of which it stays `clear`."""

    thickness: Length
    depth: Length
    offset: Length = 0
    clear: Length = 0


@dataclass(frozen=True)
class LoneWebFrames:
    """`count` frames alike, for a case `width` clear between its sides; `depth` is that of the frames."""

    kind: ClassVar[str] = "web frames"
    width: Length
    depth: Length
    thickness: Length
    front: Length
    back: Length
    runner: Length
    groove: Channel
    count: int = 1
    key: str = "web-frame"
    species: str = ""
    tongue: SideTongue | None = None
    dust_panel: Panel | None = None
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(lone: LoneWebFrames, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from the space between the sides and the choices."""
    outcome = Outcome(lone.key, unit, number, lone.overrides, lone.fit)
    outcome.add(lambda nth: _Frames(lone, outcome, nth).made())
    enters = max(lone.tongue.depth - lone.tongue.clear, 0) if lone.tongue else 0
    return outcome.built(Asked("width", 0, lone.width, 2 * enters), Asked("depth", 1, lone.depth))


class _Frames:
    def __init__(self, lone: LoneWebFrames, outcome: Outcome, number: int) -> None:
        self.lone, self.work, self.prefix = lone, outcome.work, outcome.prefix
        self.key = lone.key or lone.kind.replace(" ", "-")
        name = called(lone.key, "Web frame" if lone.count == 1 else "Web frames", lone.kind)
        note = f"Frame 1 is the uppermost, frame {lone.count} the lowest." if lone.count > 1 else ""
        self.assembly = Assembly(self.key, number, name, note=note)
        self.out = Gathered([self.assembly])

    def made(self) -> Gathered:
        lone, work = self.lone, self.work
        self.check()
        self.floors = [APART * lone.thickness * nth for nth in reversed(range(lone.count))]
        self.enters = 0
        if lone.tongue:
            self.lies = work.eased(f"{self.prefix}tongue.thickness", "tongue", "dado", lone.tongue.offset,
                                   lone.tongue.thickness, lone.thickness)  # fmt: skip
            self.enters = work.length(f"{self.prefix}tongue", "tongue", plus("dado", lone.tongue.depth),
                                      minus("clearance", lone.tongue.clear))  # fmt: skip
        between = work.length(
            f"{self.prefix}between", "between the rails", plus("depth", lone.depth), minus("front rail", lone.front),
            minus("back rail", lone.back),
        )  # fmt: skip
        self.rails()
        self.runners(between)
        if lone.dust_panel:
            self.dust_panels(lone.dust_panel, between)
        return self.out

    def check(self) -> None:
        lone, work, prefix = self.lone, self.work, self.prefix
        if not 1 <= lone.count <= MOST:
            raise Impossible(f"{lone.count} frames", where=f"{prefix}count", do=f"1 to {MOST} would do.")
        for name in ("thickness", "front", "back", "runner"):
            work.at_least(f"{prefix}{name}", f"a {name} of", getattr(lone, name), 1, "to be made")
        groove, frame = lone.groove, f"in a frame {work.size(lone.thickness)} thick"
        work.at_most(f"{prefix}groove.width", "a groove", groove.width, lone.thickness - groove.offset, frame)
        work.less_than(f"{prefix}groove.depth", "a groove", groove.depth, min(lone.front, lone.back),
                       "for the narrower rail")  # fmt: skip
        work.less_than(f"{prefix}groove.clear", "a clearance of", groove.clear, groove.depth, "for a stub tenon")
        work.at_most(f"{prefix}runner", "a runner", lone.runner, lone.width // 2, "for the space between the sides")
        if tongue := lone.tongue:
            most = lone.thickness - tongue.offset
            work.at_most(f"{prefix}tongue.thickness", "a tongue", tongue.thickness, most, frame)
            work.at_least(f"{prefix}tongue.thickness", "a tongue", tongue.thickness, 1, "to hold")

    def rails(self) -> None:
        lone, groove = self.lone, self.lone.groove
        length = self.work.length(
            f"{self.prefix}rail.length", "rail", plus("between the sides", lone.width), plus("tongue", self.enters, 2)
        )  # fmt: skip
        self.low = (lone.width - length) // 2
        for end, at, wide, inside in (
            ("front", 0, lone.front, Face.FAR_EDGE),
            ("back", lone.depth - lone.back, lone.back, Face.FACE_EDGE),
        ):
            ends = ((Face.DATUM_END, "left"), (Face.FAR_END, "right"))
            features = [*self.tongues(ends), Groove("runners", inside, groove.offset, groove.width, groove.depth)]
            parts = [
                self.part(nth, f"{end}-rail", "", Placement(at=(self.low, at, floor)))
                for nth, floor in enumerate(self.floors, 1)
            ]
            stock = Stock(lone.thickness, wide, length)
            self.line(f"{end}-rail", f"{end.capitalize()} rail", stock, "left", "front", features, parts)

    def runners(self, between: Length) -> None:
        lone, work, groove = self.lone, self.work, self.lone.groove
        stub = work.length(f"{self.prefix}stub", "stub tenon", plus("groove", groove.depth),
                           minus("clearance", groove.clear))  # fmt: skip
        length = work.length(f"{self.prefix}runner.length", "runner", plus("between the rails", between),
                             plus("tenon", stub, 2))  # fmt: skip
        wide = work.length(f"{self.prefix}runner.width", "runner", plus("in sight", lone.runner),
                           plus("tongue", self.enters))  # fmt: skip
        lies = work.eased(f"{self.prefix}runner.tenon-thickness", "stub tenon", "groove", groove.offset, groove.width,
                          lone.thickness)  # fmt: skip
        size = (stub, *lies, 0, wide)
        features: list[Feature] = [Tenon("front", Face.DATUM_END, *size), Tenon("back", Face.FAR_END, *size)]
        features += self.tongues([(Face.FAR_EDGE, "side")])
        if lone.dust_panel:
            features.append(Groove("panel", Face.FACE_EDGE, groove.offset, groove.width, groove.depth))
        front = lone.front + (between - length) // 2
        edges = (lone.runner, lone.width - lone.runner)
        parts = [
            self.part(nth, f"runner-{side}", side, Placement(axes, (edge, front, floor)))
            for nth, floor in enumerate(self.floors, 1)
            for side, axes, edge in zip(("left", "right"), MIDDLE, edges, strict=True)
        ]
        self.line("runner", "Runner", Stock(lone.thickness, wide, length), "front", "inside", features, parts)
        for nth, side in self.each("left", "right"):
            for end in ("front", "back"):
                own = f"{self.key}.{nth}"
                self.out.meet(f"{self.prefix}{nth}-runner-{side}-{end}", f"{own}.runner-{side}/{end}",
                              f"{own}.{end}-rail/runners", groove.clear)  # fmt: skip

    def dust_panels(self, panel: Panel, between: Length) -> None:
        """A panel in each frame, its grain from front to back."""
        lone, work, groove, key = self.lone, self.work, self.lone.groove, f"{self.prefix}dust-panel"
        for name, gap in (("beside", panel.beside), ("ends", panel.ends)):
            work.less_than(f"{key}.{name}", "a clearance of", gap, groove.depth, "in its groove")
        at = groove.offset - panel.set_back
        least = at + groove.width - (0 if at else 2 * work.fit.groove)
        work.at_most(f"{key}.set-back", "setting it back by", panel.set_back, groove.offset, "")
        work.at_least(f"{key}.thickness", "a panel", panel.thickness, least, "for its tongue")
        opening = work.length(f"{key}.opening", "between the runners", plus("between the sides", lone.width),
                              minus("runner", lone.runner, 2))  # fmt: skip
        wide = work.length(f"{key}.width", "dust panel", plus("between the runners", opening),
                           plus("groove", groove.depth, 2), minus("clearance", panel.beside, 2))  # fmt: skip
        long = work.length(f"{key}.length", "dust panel", plus("between the rails", between),
                           plus("groove", groove.depth, 2), minus("clearance", panel.ends, 2))  # fmt: skip
        tongue = (groove.depth, *work.eased(f"{key}.tongue", "tongue", "groove", at, groove.width, panel.thickness))
        faces = (("front", Face.DATUM_END), ("back", Face.FAR_END), ("right", Face.FACE_EDGE), ("left", Face.FAR_EDGE))
        right, front = (lone.width - wide) // 2 + wide, lone.front + (between - long) // 2
        parts = [
            self.part(nth, "dust-panel", "", Placement(MIDDLE[0], (right, front, floor + panel.set_back)))
            for nth, floor in enumerate(self.floors, 1)
        ]
        features = [Tongue(name, face, *tongue) for name, face in faces]
        self.line("dust-panel", "Dust panel", Stock(panel.thickness, wide, long), "front", "right", features, parts,
                  panel)  # fmt: skip
        for nth, end in self.each("front", "back", "left", "right"):
            own, across = f"{self.key}.{nth}", end in ("left", "right")
            mate, clear = (f"runner-{end}/panel", panel.beside) if across else (f"{end}-rail/runners", panel.ends)
            self.out.meet(f"{self.prefix}{nth}-panel-{end}", f"{own}.dust-panel/{end}", f"{own}.{mate}", clear, clear,
                          False)  # fmt: skip

    def tongues(self, faces: Iterable[tuple[Face, str]]) -> list[Feature]:
        if not self.lone.tongue:
            return []
        size = (self.enters, *self.lies)
        return [Tongue(name, face, *size, note="For a dado of the case.") for face, name in faces]

    def each(self, *ends: str) -> list[tuple[int, str]]:
        return [(nth, end) for nth in range(1, self.lone.count + 1) for end in ends]

    def part(self, nth: int, key: str, side: str, stands: Placement) -> Part:
        place = f"frame {nth} {side}" if self.lone.count > 1 else side
        return part_of(f"{self.key}.{nth}.{key}", place.strip(), stands)

    def line(self, key: str, name: str, stock: Stock, datum: str, edge: str, features: Sequence[Feature],
             parts: Sequence[Part], panel: Panel | None = None) -> None:  # fmt: skip
        self.out.lines.append(Line(
            f"{self.prefix}{key}", self.assembly.key, name, *stock, datum=datum, face_side="underside", face_edge=edge,
            species=(panel.species if panel else "") or self.lone.species, group=panel.group if panel else "",
            note=panel.note if panel else "", features=tuple(features), parts=tuple(parts),
        ))  # fmt: skip
