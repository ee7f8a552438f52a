"""What is a job made of?  The document's words: job, assembly, line, part, feature, joint, and places in space.

A job is a document; parts are what comes of it.  Everything here is a frozen dataclass of plain values, so that
`document.py` can write it as JSON and as TOML and read the same thing back.  Lengths are whole nanometres.

A part has its own axes: x along the length from the datum end, y across the width from the face edge, z through
the thickness from the face side.  So its six surfaces are the face side (z = 0), the back (z = T), the face edge
(y = 0), the far edge (y = W), the datum end (x = 0) and the far end (x = L).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar, NamedTuple

from .length import Length


class Face(StrEnum):
    """The six surfaces of a part, by the trade's names."""

    FACE_SIDE = "face side"
    BACK = "back"
    FACE_EDGE = "face edge"
    FAR_EDGE = "far edge"
    DATUM_END = "datum end"
    FAR_END = "far end"


class Hand(StrEnum):
    """As drawn, or the mirror image of what is drawn.  Features are never retyped for it."""

    AS_DRAWN = "as drawn"
    MIRROR = "mirror"


class Unit(StrEnum):
    """The unit that a job is thought in; a phone may show the other one."""

    INCH = "in"
    MM = "mm"


class Box(NamedTuple):
    """A block of space in a part's own axes: from (x0, y0, z0) to (x1, y1, z1), nanometres."""

    x0: Length
    x1: Length
    y0: Length
    y1: Length
    z0: Length
    z1: Length


class Stock(NamedTuple):
    """The finished size of a part, nanometres."""

    thickness: Length
    width: Length
    length: Length


# --- features ----------------------------------------------------------------------------------------------------
#
# Each says where it is in the words of the bench: the surface it is cut into, where it starts from the datum end,
# how far it lies from the face side or the face edge, and its sizes.  `box` says the same in the part's axes.  For a
# cut it is the wood that goes away; for a tenon or a tongue it is the wood that stays and enters the mate.
#
# "Across" means: on a face (face side, back) distances across run along y from the face edge; on an edge (face edge,
# far edge) they run along z from the face side.


@dataclass(frozen=True)
class Mortise:
    """A pocket in a face or an edge: `start` and `length` along the part, `offset` and `width` across, `depth` into it.

    A depth of 0 means right through.
    """

    kind: ClassVar[str] = "mortise"
    key: str
    face: Face
    start: Length
    length: Length
    offset: Length
    width: Length
    depth: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        return _sunk(self.face, self.start, self.length, self.offset, self.width, self.depth, stock)


@dataclass(frozen=True)
class Groove:
    """A channel along the grain, `offset` and `width` across the surface; a `length` of 0 means to the far end."""

    kind: ClassVar[str] = "groove"
    key: str
    face: Face
    offset: Length
    width: Length
    depth: Length
    start: Length = 0
    length: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        length = self.length or stock.length - self.start
        return _sunk(self.face, self.start, length, self.offset, self.width, self.depth, stock)


@dataclass(frozen=True)
class Dado:
    """A channel across the grain: `start` and `width` along the part; `offset` and `across` 0 mean all the way over."""

    kind: ClassVar[str] = "dado"
    key: str
    face: Face
    start: Length
    width: Length
    depth: Length
    offset: Length = 0
    across: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        whole = stock.width if self.face in (Face.FACE_SIDE, Face.BACK) else stock.thickness
        across = self.across or whole - self.offset
        return _sunk(self.face, self.start, self.width, self.offset, across, self.depth, stock)


@dataclass(frozen=True)
class Rabbet:
    """A step taken off the arris where `face` meets `along`: `depth` into the face, `width` in from `along`.

    `along` is an edge, or an end (then it is cut across the grain).  `start` and `length` stop it short along an edge.
    """

    kind: ClassVar[str] = "rabbet"
    key: str
    face: Face
    along: Face
    width: Length
    depth: Length
    start: Length = 0
    length: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        z0, z1 = (0, self.depth) if self.face is Face.FACE_SIDE else (stock.thickness - self.depth, stock.thickness)
        if self.along is Face.DATUM_END:
            return Box(0, self.width, 0, stock.width, z0, z1)
        if self.along is Face.FAR_END:
            return Box(stock.length - self.width, stock.length, 0, stock.width, z0, z1)
        y0, y1 = (0, self.width) if self.along is Face.FACE_EDGE else (stock.width - self.width, stock.width)
        return Box(self.start, self.start + (self.length or stock.length - self.start), y0, y1, z0, z1)


@dataclass(frozen=True)
class Tenon:
    """What is left standing at an end: `length` out from the shoulder, `thickness` from `offset` behind the face side,
    `width` from `edge_offset` in from the face edge."""

    kind: ClassVar[str] = "tenon"
    key: str
    face: Face
    length: Length
    offset: Length
    thickness: Length
    edge_offset: Length
    width: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        x0, x1 = _end_span(self.face, self.length, stock)
        return Box(x0, x1, self.edge_offset, self.edge_offset + self.width, self.offset, self.offset + self.thickness)

    def shoulder(self, stock: Stock) -> Length:
        """Where the shoulder line is, from the datum end."""
        return self.length if self.face is Face.DATUM_END else stock.length - self.length


@dataclass(frozen=True)
class Tongue:
    """What is left standing along an edge or an end of a panel: `length` out from the shoulder, `thickness` from
    `offset` behind the face side, over the whole edge."""

    kind: ClassVar[str] = "tongue"
    key: str
    face: Face
    length: Length
    offset: Length
    thickness: Length
    note: str = ""

    def box(self, stock: Stock) -> Box:
        z0, z1 = self.offset, self.offset + self.thickness
        if self.face in (Face.DATUM_END, Face.FAR_END):
            x0, x1 = _end_span(self.face, self.length, stock)
            return Box(x0, x1, 0, stock.width, z0, z1)
        y0, y1 = (0, self.length) if self.face is Face.FACE_EDGE else (stock.width - self.length, stock.width)
        return Box(0, stock.length, y0, y1, z0, z1)


@dataclass(frozen=True)
class Hole:
    """A round hole, its centre `start` from the datum end and `offset` across; a depth of 0 means right through."""

    kind: ClassVar[str] = "hole"
    key: str
    face: Face
    start: Length
    offset: Length
    diameter: Length
    depth: Length = 0
    note: str = ""

    def box(self, stock: Stock) -> Box:
        half = self.diameter // 2
        return _sunk(self.face, self.start - half, self.diameter, self.offset - half, self.diameter, self.depth, stock)


Feature = Mortise | Groove | Dado | Rabbet | Tenon | Tongue | Hole

FEATURES: dict[str, type[Feature]] = {made.kind: made for made in (Mortise, Groove, Dado, Rabbet, Tenon, Tongue, Hole)}


def _end_span(face: Face, length: Length, stock: Stock) -> tuple[Length, Length]:
    return (0, length) if face is Face.DATUM_END else (stock.length - length, stock.length)


def _sunk(
    face: Face, start: Length, length: Length, offset: Length, across: Length, depth: Length, stock: Stock
) -> Box:
    """The block that a cut into `face` takes away; a depth of 0 goes right through."""
    x0, x1 = start, start + length
    if face in (Face.FACE_SIDE, Face.BACK):
        deep = depth or stock.thickness
        z0, z1 = (0, deep) if face is Face.FACE_SIDE else (stock.thickness - deep, stock.thickness)
        return Box(x0, x1, offset, offset + across, z0, z1)
    if face in (Face.FACE_EDGE, Face.FAR_EDGE):
        deep = depth or stock.width
        y0, y1 = (0, deep) if face is Face.FACE_EDGE else (stock.width - deep, stock.width)
        return Box(x0, x1, y0, y1, offset, offset + across)
    raise ValueError(f"a cut into the {face} has no start along the part")


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
    """A unit that is built together; its parts lie in one stack on the floor."""

    key: str
    number: int
    name: str
    within: str = ""
    stands: Placement = Placement()
    note: str = ""


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
    """One commission, as a document.  `schema` is the version of the document's form, not of its contents."""

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
