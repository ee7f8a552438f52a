"""What stands on a rod?  The marks of a part at full size, shared by every part that has the same ones.

A rod is a strip that is laid against the wood, its zero at the datum end, to mark from.  It has one lane for each
surface that something is cut into.  Both hands share it: along the length a mirror image has the same marks, across
it the lanes stand the other way round.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from ..trade.layout import marks
from ..trade.length import Length
from ..trade.part import Face, Feature, Hand, Line, Rabbet
from ..trade.sheet import Sheet
from .cross_sizes import surface
from .type import plain

ENDS = (Face.DATUM_END, Face.FAR_END)
OPPOSITE = {
    Face.FACE_SIDE: Face.BACK, Face.BACK: Face.FACE_SIDE, Face.FACE_EDGE: Face.FAR_EDGE, Face.FAR_EDGE: Face.FACE_EDGE,
}  # fmt: skip
SHAPES = {
    "mortise": "pocket", "loose tenon": "pocket", "dado": "pocket", "half lap": "pocket", "hole": "pocket",
    "groove": "channel", "rabbet": "channel", "taper": "channel",
}  # fmt: skip
"""How what is cut into a surface is shown in its lane.  Of other kinds the lane shows nothing, only their lines."""
ALL_ROUND = ("tenon", "tongue", "tails", "pins", "open mortise", "bridle")
"""What has its shoulder or its baseline squared round the part."""
MAY_GO_THROUGH = ("mortise", "hole", "hole row")
LANES = (Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE)


@dataclass(frozen=True)
class Span:
    """A stretch of a lane, from `start` to `end`: a pocket, a channel along the grain, or wood left standing."""

    start: Length
    end: Length
    shape: str

    POCKET: ClassVar[str] = "pocket"
    CHANNEL: ClassVar[str] = "channel"
    STANDING: ClassVar[str] = "standing"

    def through(self, line: Line) -> bool:
        """Whether it runs from end to end."""
        return self.start == 0 and self.end == line.length


@dataclass(frozen=True)
class Lane:
    """One surface of the part: what it is called on the drawing ("inside face"), and what is cut into it."""

    name: str
    spans: tuple[Span, ...]


@dataclass(frozen=True)
class Tick:
    """One line of the rod, `at` from the datum end, and what it is for."""

    at: Length
    says: str


@dataclass(frozen=True)
class Rod:
    """A rod and the parts it serves: `drawn` and `mirrored` name the places of those as drawn and of their mirrors."""

    name: str
    length: Length
    datum: str
    lanes: tuple[Lane, ...]
    ticks: tuple[Tick, ...]
    drawn: tuple[str, ...] = ()
    mirrored: tuple[str, ...] = ()

    @property
    def hands(self) -> int:
        """1 or 2: how many hands share it."""
        return bool(self.drawn) + bool(self.mirrored)


def rods_of(sheets: Iterable[Sheet]) -> list[Rod]:
    """The rods of a job's sheets, or of some of them: one for all parts with the same marks, length and surfaces.

    A part without a mark needs none.  The order is that of the sheets.
    """
    names: dict[Rod, dict[str, None]] = {}
    places: dict[Rod, tuple[list[str], list[str]]] = {}
    made: dict[str, Rod] = {}
    for sheet in sheets:
        line = sheet.line
        if line.key not in made:
            made[line.key] = _bare(line)
        key = made[line.key]
        if not key.ticks:
            continue
        names.setdefault(key, {})[plain(line.name)] = None
        here = places.setdefault(key, ([], []))[sheet.part.hand is Hand.MIRROR]
        here.append(plain(sheet.part.place) or plain(sheet.assembly.name))
    return [
        Rod(
            name=", ".join(names[key]),
            length=key.length,
            datum=key.datum,
            lanes=key.lanes,
            ticks=key.ticks,
            drawn=tuple(dict.fromkeys(drawn)),
            mirrored=tuple(dict.fromkeys(mirrored)),
        )
        for key, (drawn, mirrored) in places.items()
    ]


def _bare(line: Line) -> Rod:
    """The rod of a line, without the parts it serves: lines with equal ones share it."""
    lanes = _lanes(line)
    faces_of = {feature.key: _faces(feature) for feature in line.features}
    said: dict[Length, dict[str, dict[str, None]]] = {}
    for mark in marks(line):
        where = said.setdefault(mark.at, {}).setdefault(mark.says, {})
        where.update(dict.fromkeys(surface(face, line) for face in faces_of[mark.feature]))
    ticks = tuple(Tick(at, _words(here, len(lanes))) for at, here in said.items())
    return Rod("", line.length, plain(line.datum), lanes, ticks)


def _words(said: Mapping[str, Iterable[str]], lanes: int) -> str:
    """What a line is for, and on which surfaces, if not on all: a shoulder goes all round.

    >>> _words({"mortise ends": ["inside face"], "groove starts": ["inside face"], "shoulder": []}, 2)
    'mortise ends, groove starts: inside face; shoulder'
    """
    by_surfaces: dict[tuple[str, ...], list[str]] = {}
    for says, surfaces in said.items():
        names = tuple(surfaces)
        by_surfaces.setdefault(names if len(names) < lanes else (), []).append(says)
    return "; ".join(
        ", ".join(says) + (f": {' and '.join(names)}" if names else "") for names, says in by_surfaces.items()
    )


def _lanes(line: Line) -> tuple[Lane, ...]:
    """The lanes that something is cut in; a part that only has shoulders has one."""
    spans: dict[Face, list[Span]] = {}
    standing = []
    for feature in line.features:
        box = feature.box(line.stock)
        start, end = max(0, box.x0), min(line.length, box.x1)
        if feature.kind in ALL_ROUND:
            if feature.face in ENDS or start > 0 or end < line.length:
                standing.append(Span(start, end, Span.STANDING))
        elif feature.kind in SHAPES:
            across = isinstance(feature, Rabbet) and feature.along in ENDS
            for face in _faces(feature):
                spans.setdefault(face, []).append(Span(start, end, Span.POCKET if across else SHAPES[feature.kind]))
    # What runs from end to end has no mark.
    spans = {face: cut for face, every in spans.items() if (cut := [one for one in every if not one.through(line)])}
    if not spans and standing:
        return (Lane("", tuple(standing)),)
    return tuple(Lane(surface(face, line), (*spans[face], *standing)) for face in LANES if face in spans)


def _faces(feature: Feature) -> tuple[Face, ...]:
    """The surfaces that a feature is marked out on: what goes right through, on both; none for what is squared all
    round the part or cut into an end."""
    if feature.kind in ALL_ROUND or feature.face not in OPPOSITE:
        return ()
    through = feature.kind in MAY_GO_THROUGH and not getattr(feature, "depth", 0)
    return (feature.face, OPPOSITE[feature.face]) if through else (feature.face,)
