"""How long is a shelf, and where is its dado?  Shelves between two solid sides, their ends in dadoes.

A shelf has a bare-faced tongue, thinner than itself: the shoulder below hides the edge of the dado.  Heights are those
of the openings, from the top.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..length import Length
from ..part import Assembly, Box, Dado, Face, Feature, Line, Placement, Tenon, Tongue
from .clearances import wider
from .derived import Impossible, Working, minus, plus
from .made import Gathered, part_of
from .opening import Between
from .share import places, shared
from .space import Cut

__all__ = ["Shelves", "shelves"]

MOST = 100


@dataclass(frozen=True)
class Shelves:
    """Shelves, two or more: the first `down` from the top of the sides, the last `up` from their lower end.

    The tongue is `tongue` thick and enters a dado `depth` deep, of which it stays `clear`.  A stopped dado begins
    `stop` behind the shelf's front edge.  `front` and `back` are how far a shelf stays behind the edges of the sides.
    `heights` are those of the openings between them, and a 0 or a missing one shares what is left.
    """

    count: int
    thickness: Length
    tongue: Length
    depth: Length
    clear: Length = 0
    stop: Length = 0
    front: Length = 0
    back: Length = 0
    down: Length = 0
    up: Length = 0
    heights: tuple[Length, ...] = ()
    species: str = ""


def shelves(chosen: Shelves, between: Between, number: int, work: Working) -> Gathered:
    """The shelves and the dadoes that they ask of the sides.  Raises Impossible."""
    prefix, key = between.prefix, f"{between.prefix}shelf."
    _check(chosen, between, key, work)
    heights = shared(
        work, f"{key}opening", "opening", "side", between.height,
        [minus("above", chosen.down), minus("below", chosen.up), minus("shelf", chosen.thickness, chosen.count)],
        chosen.heights, chosen.count - 1,
    )  # fmt: skip
    tops = places([chosen.thickness] * chosen.count, heights, between.height - chosen.down - chosen.up)
    enters = work.length(f"{key}tongue", "tongue", plus("dado", chosen.depth), minus("clearance", chosen.clear))
    length = work.length(f"{key}length", "shelf", plus("between the sides", between.width), plus("tongue", enters, 2))
    wide = work.length(
        f"{key}width", "shelf", plus("side", between.depth), minus("front", chosen.front), minus("back", chosen.back)
    )  # fmt: skip
    held = work.length(f"{key}held", "tongue, from front to back", plus("shelf", wide), minus("stop", chosen.stop))
    assembly = Assembly(f"{prefix}shelves", number, "Shelves", note="Shelf 1 is the uppermost.")
    out = Gathered([assembly])
    left, right = between.side, between.side + between.width
    # Bare-faced: the tongue is flush with the upper side, the shoulder is below.
    rest = chosen.thickness - chosen.tongue
    more = wider(chosen.tongue, chosen.thickness, work.fit.groove)
    lies = (rest, chosen.tongue)
    if not more:
        lies = work.eased(f"{key}tongue.thickness", "tongue", "dado", *lies, chosen.thickness)
    parts = []
    for nth, top in enumerate(tops, 1):
        floor = between.height - chosen.down - top - chosen.thickness
        stands = Placement(at=(left + (between.width - length) // 2, chosen.front, floor))
        parts.append(part_of(f"{prefix}shelf.{nth}", f"shelf {nth}", stands))
        front = chosen.front + chosen.stop
        spans = {"left": (left - chosen.depth, left, "-X"), "right": (right, right + chosen.depth, "+X")}
        for end, (start, stop, way) in spans.items():
            box = Box(start, stop, front, front + held, max(floor + rest - more, 0), floor + chosen.thickness)
            out.cuts.append(Cut(f"{prefix}side.{end}", f"shelf-{nth}", Dado, box, way))
            out.meet(f"{prefix}shelf-{nth}-{end}", f"{prefix}shelf.{nth}/{end}",
                     f"{prefix}side.{end}/shelf-{nth}", chosen.clear)  # fmt: skip
    ends = (("left", Face.DATUM_END), ("right", Face.FAR_END))
    features: tuple[Feature, ...] = tuple(Tongue(end, face, enters, *lies) for end, face in ends)
    if chosen.stop:
        features = tuple(Tenon(end, face, enters, *lies, chosen.stop, held) for end, face in ends)
    out.lines.append(Line(
        f"{prefix}shelf", assembly.key, "Shelf", chosen.thickness, wide, length, chosen.species, "left", "underside",
        "front", group=f"{prefix}shelves", features=features, parts=tuple(parts),
    ))  # fmt: skip
    return out


def _check(chosen: Shelves, between: Between, key: str, work: Working) -> None:
    if not 2 <= chosen.count <= MOST:
        raise Impossible(f"{chosen.count} shelves", where=f"{key}count", do=f"2 to {MOST} would do.")
    side = f"for a side {work.size(between.side)} thick"
    work.less_than(f"{key}depth", "a dado", chosen.depth, between.side, side)
    work.at_most(f"{key}tongue", "a tongue", chosen.tongue, chosen.thickness, "for the shelf")
    work.at_least(f"{key}tongue", "a tongue", chosen.tongue, 1, "to hold")
    for name in ("front", "back", "down", "up", "stop"):
        work.at_least(f"{key}{name}", f"{name} of", getattr(chosen, name), 0, "to be made")
