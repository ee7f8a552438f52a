"""What is a job made of?  The document's words: job, assembly, line, part, feature, joint, and places in space.

A job is a document; parts are what comes of it.  Everything here is a frozen dataclass of plain values, so that
`document.py` can write it as JSON and as TOML and read the same thing back.  Lengths are whole nanometres.

A part's own axes, its surfaces and its stock are in surface.py; what is cut into it is in feature.py, lap.py,
hole_rows.py, dovetail.py and shaping.py.  All of it can be had from here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from .dovetail import Pins, Tails
from .feature import Dado, Groove, Hole, LooseTenon, Mortise, Rabbet, Tenon, Tongue
from .hole_rows import HoleRow
from .lap import Bridle, HalfLap, OpenMortise
from .length import Length
from .shaping import Chamfer, EdgeNote, Roundover, Taper
from .surface import EDGES, ENDS, FACES, Box, Face, Stock

if TYPE_CHECKING:
    from .construct.compose import Construction

__all__ = [
    "AXES", "EDGES", "ENDS", "FACES", "FEATURES", "Assembly", "Box", "Bridle", "Chamfer", "Dado", "EdgeNote", "Face",
    "Feature", "Groove", "Half", "HalfLap", "Hand", "Hole", "HoleRow", "Job", "Joint", "Length", "Line", "LooseTenon",
    "Mortise", "OpenMortise", "Part", "Pins", "Placement", "Rabbet", "Roundover", "Stock", "Tails", "Taper", "Tenon",
    "Tongue", "Unit", "boxes",
]  # fmt: skip


class Hand(StrEnum):
    """As drawn, or the mirror image of what is drawn.  Features are never retyped for it."""

    AS_DRAWN = "as drawn"
    MIRROR = "mirror"


class Unit(StrEnum):
    """The unit that a job is thought in; a phone may show the other one."""

    INCH = "in"
    MM = "mm"


Feature = (
    Mortise
    | Groove
    | Dado
    | Rabbet
    | Tenon
    | Tongue
    | Hole
    | LooseTenon
    | HoleRow
    | HalfLap
    | OpenMortise
    | Bridle
    | Tails
    | Pins
    | Taper
    | Chamfer
    | Roundover
)

FEATURES: dict[str, type[Feature]] = {
    made.kind: made
    for made in (
        Mortise, Groove, Dado, Rabbet, Tenon, Tongue, Hole, LooseTenon, HoleRow, HalfLap, OpenMortise, Bridle, Tails,
        Pins, Taper, Chamfer, Roundover,
    )
}  # fmt: skip


def boxes(feature: Feature, stock: Stock) -> tuple[Box, ...]:
    """Every block of a feature: each hole of a row, each tail, the tenon and its haunch; else its one box."""
    match feature:
        case HoleRow() | Tails() | Pins():
            return feature.boxes(stock)
        case Tenon():
            haunch = feature.haunch(stock)
            return (feature.box(stock), haunch) if haunch else (feature.box(stock),)
        case _:
            return (feature.box(stock),)


# --- places in space ---------------------------------------------------------------------------------------------

AXES = {
    "+X": (1, 0, 0), "-X": (-1, 0, 0), "+Y": (0, 1, 0), "-Y": (0, -1, 0), "+Z": (0, 0, 1), "-Z": (0, 0, -1),
}  # fmt: skip
"""The six directions of an assembly: X to the right, Y to the back, Z up, seen from the front."""


@dataclass(frozen=True)
class Placement:
    """How a part stands in its assembly, or an assembly in the piece: where its own x, y and z point, and where its
    own corner (0, 0, 0) comes to lie.

    There are 48 such turns; the 24 that keep the hand, and the 24 that mirror it.

    >>> Placement("-Z +X +Y").hand.value, Placement("-Z -X +Y").hand.value
    ('mirror', 'as drawn')
    """

    axes: str = "+X +Y +Z"
    at: tuple[Length, Length, Length] = (0, 0, 0)

    def directions(self) -> tuple[tuple[int, int, int], tuple[int, int, int], tuple[int, int, int]]:
        """Unit vectors of the own x, y, z axes.  Raises ValueError unless they are three at right angles."""
        names = self.axes.split()
        if len(names) != 3 or any(name not in AXES for name in names) or len({name[1] for name in names}) != 3:
            raise ValueError(f"{self.axes!r} does not turn a part: write it like '-Z +X +Y'")
        return AXES[names[0]], AXES[names[1]], AXES[names[2]]

    @property
    def hand(self) -> Hand:
        (a, b, c), (d, e, f), (g, h, i) = self.directions()
        determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
        return Hand.AS_DRAWN if determinant > 0 else Hand.MIRROR

    def point(self, x: Length, y: Length, z: Length) -> tuple[Length, Length, Length]:
        """Where a point of the part lies in the assembly."""
        dx, dy, dz = self.directions()
        ax, ay, az = (self.at[i] + x * dx[i] + y * dy[i] + z * dz[i] for i in range(3))
        return ax, ay, az

    def box(self, box: Box) -> Box:
        """The same block of space in the assembly's axes."""
        a = self.point(box.x0, box.y0, box.z0)
        b = self.point(box.x1, box.y1, box.z1)
        (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(a, b, strict=True))
        return Box(x0, x1, y0, y1, z0, z1)

    def own(self, box: Box) -> Box:
        """A block of the assembly's space in the part's own axes: the inverse of `box`.

        >>> turned, block = Placement("-Z +X +Y", (3, 0, 9)), Box(0, 5, 1, 2, 0, 4)
        >>> turned.own(turned.box(block)) == block
        True
        """
        corners = ((box.x0, box.y0, box.z0), (box.x1, box.y1, box.z1))
        found: list[Length] = []
        for way in self.directions():
            found.extend(sorted(sum((corner[i] - self.at[i]) * way[i] for i in range(3)) for corner in corners))
        return Box(*found)

    def within(self, outer: Placement) -> Placement:
        """This placement seen from outside: of a part in an assembly that itself stands by `outer`."""
        names = []
        frame = outer.directions()
        for own in self.directions():
            turned = tuple(sum(own[k] * frame[k][i] for k in range(3)) for i in range(3))
            names.append(next(name for name, way in AXES.items() if way == turned))
        return Placement(" ".join(names), outer.point(*self.at))


# --- the document ------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Part:
    """One physical piece of wood: one label, one code, one place in the work.

    `key` is stable across revisions and unique in the job; the code and the label hang on it.
    """

    key: str
    place: str = ""
    hand: Hand = Hand.AS_DRAWN
    stands: Placement | None = None


@dataclass(frozen=True)
class Line:
    """A line of the cut list: one name, one size, and the parts made to it.

    `datum` names the datum end as people say it ("top", "left").  `kept` holds the columns of an imported list that
    we do not know, as they were.  `face_side` and `face_edge` say where those two surfaces look in the piece
    ("inside", "front"), in the words that go on the drawing.
    """

    key: str
    assembly: str
    name: str
    thickness: Length
    width: Length
    length: Length
    species: str = ""
    datum: str = ""
    face_side: str = ""
    face_edge: str = ""
    group: str = ""
    note: str = ""
    features: tuple[Feature, ...] = ()
    parts: tuple[Part, ...] = ()
    kept: dict[str, str] = field(default_factory=dict)

    @property
    def stock(self) -> Stock:
        return Stock(self.thickness, self.width, self.length)


@dataclass(frozen=True)
class Assembly:
    """A unit that is built together; its parts lie in one stack on the floor.

    `made_by` names the construction that it follows from, with its lines and joints: these are changed there, and
    never by hand.
    """

    key: str
    number: int
    name: str
    within: str = ""
    stands: Placement = Placement()
    note: str = ""
    made_by: str = ""


@dataclass(frozen=True)
class Half:
    """One side of a joint: a feature of one part."""

    part: str
    feature: str


@dataclass(frozen=True)
class Joint:
    """Two features that belong together.  `enters` is the tenon or tongue, `takes` the mortise, groove or dado.

    `letter` is the pair letter, unique in the job: the number of the assembly and a letter ("2C").  A joint that needs
    no telling apart (a panel's tongue in its groove) may have none.
    """

    key: str
    enters: Half
    takes: Half
    letter: str = ""
    note: str = ""


@dataclass(frozen=True)
class Job:
    """One commission, as a document.  `schema` is the version of the document's form, not of its contents.

    `constructions` are the outside sizes and choices that a part of it follows from.  What follows is kept here, too,
    as it was when it was saved: labels hang on it, and a newer app may work out other names.
    """

    key: str
    name: str
    unit: Unit = Unit.INCH
    denominator: int = 16
    species: str = ""
    note: str = ""
    schema: int = 1
    assemblies: tuple[Assembly, ...] = ()
    lines: tuple[Line, ...] = ()
    joints: tuple[Joint, ...] = ()
    constructions: tuple[Construction, ...] = ()
