"""Where is the dado for each web frame in a case of solid boards?  Frames whose ends and runners lie in dadoes.

Frames and openings are counted from the top.  Rails and runners have one tongue along the side, in one dado; the
runners have stub tenons in the rails' grooves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..length import Length
from ..part import Assembly, Box, Dado, Face, Feature, Groove, Line, Part, Placement, Stock, Tenon, Tongue
from .clearances import wider
from .counted import counted
from .derived import Working, minus, plus
from .frame_choices import Groove as Channel
from .made import Gathered, part_of
from .opening import Between, Opening
from .share import places, shared
from .space import Cut
from .web_frames import MIDDLE

__all__ = ["HousedFrames", "housed_frames"]


@dataclass(frozen=True)
class HousedFrames:
    """Web frames in dadoes: `count` is that of the openings between them; there is one frame more.

    The tongue is `tongue` thick, `offset` above the underside, and enters a dado `depth` deep, of which it stays
    `clear`.  `set_back` and `back_in` are how far the frames stay behind the edges of the sides; `up` is how far the
    lowest frame stays above their lower end.
    """

    count: int
    thickness: Length
    front: Length
    back: Length
    runner: Length
    tongue: Length
    offset: Length
    depth: Length
    groove: Channel
    clear: Length = 0
    set_back: Length = 0
    back_in: Length = 0
    up: Length = 0
    heights: tuple[Length, ...] = ()
    front_species: str = ""
    back_species: str = ""
    runner_species: str = ""


def housed_frames(
    chosen: HousedFrames, between: Between, number: int, work: Working, holds: Callable[[Length], bool] | None = None
) -> tuple[Gathered, list[Opening]]:  # fmt: skip
    """The frames, the dadoes that they ask of the sides, and the openings between them.

    `holds` says of a height whether its drawer can be made.  Raises Impossible.
    """
    prefix, key = between.prefix, f"{between.prefix}web-"
    counted(chosen.count, between.height - chosen.up, chosen.thickness, f"{key}count", work, holds)
    _check(chosen, between, key, work)
    count = chosen.count
    heights = shared(
        work, f"{key}opening", "opening", "side", between.height,
        [minus("below", chosen.up), minus("frame", chosen.thickness, count + 1)], chosen.heights, count,
    )  # fmt: skip
    tops = places([chosen.thickness] * (count + 1), heights, between.height - chosen.up)
    floors = [between.height - top - chosen.thickness for top in tops]
    deep = work.length(f"{key}depth", "web frame", plus("side", between.depth), minus("set back", chosen.set_back),
                       minus("short of the back", chosen.back_in))  # fmt: skip
    inner = work.length(
        f"{key}between", "between the rails", plus("web frame", deep), minus("front rail", chosen.front),
        minus("back rail", chosen.back),
    )  # fmt: skip
    enters = work.length(f"{key}tongue", "tongue", plus("dado", chosen.depth), minus("clearance", chosen.clear))
    rail = work.length(f"{key}rail.length", "rail", plus("between the sides", between.width), plus("tongue", enters, 2))
    stub = work.length(f"{key}stub", "stub tenon", plus("groove", chosen.groove.depth),
                       minus("clearance", chosen.groove.clear))  # fmt: skip
    length = work.length(f"{key}runner.length", "runner", plus("between the rails", inner), plus("tenon", stub, 2))
    runner = work.length(f"{key}runner.width", "runner", plus("in sight", chosen.runner), plus("tongue", enters))
    assembly = Assembly(f"{prefix}web-frames", number, "Web frames",
                        note=f"Frame 1 is the uppermost, frame {count + 1} the lowest.")  # fmt: skip
    out = Gathered([assembly])
    groove, left, right = chosen.groove, between.side, between.side + between.width
    more = wider(chosen.tongue, chosen.thickness, work.fit.groove)
    lies = (chosen.offset, chosen.tongue)
    if not more:
        lies = work.eased(f"{key}tongue.thickness", "tongue", "dado", *lies, chosen.thickness)
    tongue = (enters, *lies)
    held = work.eased(f"{key}runner.tenon-thickness", "stub tenon", "groove", groove.offset, groove.width,
                      chosen.thickness)  # fmt: skip
    low = left + (between.width - rail) // 2

    def line(name: str, title: str, stock: Stock, looks: tuple[str, str, str], features: Sequence[Feature],
             parts: Sequence[Part]) -> None:  # fmt: skip
        species, datum, edge = looks
        out.lines.append(Line(
            f"{key}{name}", assembly.key, title, *stock, species=species, datum=datum, face_side="underside",
            face_edge=edge, features=tuple(features), parts=tuple(parts),
        ))  # fmt: skip

    rear = chosen.set_back + deep - chosen.back
    rails = (
        ("front", chosen.set_back, chosen.front, chosen.front_species, Face.FAR_EDGE),
        ("back", rear, chosen.back, chosen.back_species, Face.FACE_EDGE),
    )
    for end, at, wide, species, inside in rails:
        line(
            f"{end}-rail", f"{end.capitalize()} rail", Stock(chosen.thickness, wide, rail), (species, "left", "front"),
            [
                Tongue("left", Face.DATUM_END, *tongue),
                Tongue("right", Face.FAR_END, *tongue),
                Groove("runners", inside, groove.offset, groove.width, groove.depth),
            ],
            [part_of(f"{prefix}web.{nth}.{end}-rail", f"frame {nth}", Placement(at=(low, at, floor)))
             for nth, floor in enumerate(floors, 1)],
        )  # fmt: skip
    front = chosen.set_back + chosen.front + (inner - length) // 2
    edges = (left + chosen.runner, right - chosen.runner)
    line(
        "runner", "Runner", Stock(chosen.thickness, runner, length), (chosen.runner_species, "front", "inside"),
        [
            Tenon("front", Face.DATUM_END, stub, *held, 0, runner),
            Tenon("back", Face.FAR_END, stub, *held, 0, runner),
            Tongue("side", Face.FAR_EDGE, *tongue),
        ],
        [part_of(f"{prefix}web.{nth}.runner-{side}", f"frame {nth} {side}", Placement(axes, (edge, front, floor)))
         for nth, floor in enumerate(floors, 1)
         for side, axes, edge in zip(("left", "right"), MIDDLE, edges, strict=True)],
    )  # fmt: skip
    for nth, floor in enumerate(floors, 1):
        own, joint = f"{prefix}web.{nth}", f"{prefix}frame-{nth}"
        spans = {"left": (left - chosen.depth, left, "-X"), "right": (right, right + chosen.depth, "+X")}
        for side, (start, stop, way) in spans.items():
            under = max(floor + chosen.offset - more, 0)
            box = Box(start, stop, chosen.set_back, chosen.set_back + deep, under,
                      floor + chosen.offset + chosen.tongue)  # fmt: skip
            out.cuts.append(Cut(f"{prefix}side.{side}", f"frame-{nth}", Dado, box, way))
            taken = f"{prefix}side.{side}/frame-{nth}"
            out.meet(f"{joint}-front-{side}", f"{own}.front-rail/{side}", taken, chosen.clear)
            out.meet(f"{joint}-back-{side}", f"{own}.back-rail/{side}", taken, chosen.clear)
            out.meet(f"{joint}-runner-{side}", f"{own}.runner-{side}/side", taken, chosen.clear, lettered=False)
            for end in ("front", "back"):
                out.meet(f"{joint}-runner-{side}-{end}", f"{own}.runner-{side}/{end}", f"{own}.{end}-rail/runners",
                         groove.clear, lettered=False)  # fmt: skip
    openings = [
        Opening(nth + 1, (left, chosen.set_back, floor + chosen.thickness), between.width, height, deep)
        for nth, (height, floor) in enumerate(zip(heights, floors[1:], strict=True))
    ]
    return out, openings


def _check(chosen: HousedFrames, between: Between, key: str, work: Working) -> None:
    side, frame = f"for a side {work.size(between.side)} thick", f"in a frame {work.size(chosen.thickness)} thick"
    work.less_than(f"{key}depth", "a dado", chosen.depth, between.side, side)
    work.at_most(f"{key}tongue", "a tongue", chosen.tongue, chosen.thickness - chosen.offset, frame)
    groove = chosen.groove
    work.at_most(f"{key}groove.width", "a groove", groove.width, chosen.thickness - groove.offset, frame)
    work.less_than(
        f"{key}groove.depth", "a groove", groove.depth, min(chosen.front, chosen.back), "for the narrower rail"
    )
    work.at_most(f"{key}runner", "a runner", chosen.runner, between.width // 2, "for the space between the sides")
    for name in ("set_back", "back_in", "up", "offset"):
        work.at_least(
            f"{key}{name.replace('_', '-')}", f"{name.replace('_', ' ')} of", getattr(chosen, name), 0, "to be made"
        )
