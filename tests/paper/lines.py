"""Lines of a cut list with every kind of cut, for tests: by hand, and at random."""

from __future__ import annotations

from hypothesis import strategies as st

from shopfloor.trade.part import (
    EDGES,
    ENDS,
    FACES,
    Bridle,
    Chamfer,
    Dado,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Roundover,
    Tails,
    Taper,
    Tenon,
    Tongue,
)

MM = 1_000_000
GRID = 396_875  # 1/64 in
ALONG = (Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE)

LEG = Line(
    key="leg",
    assembly="legs",
    name="Leg",
    thickness=44_450_000,
    width=44_450_000,
    length=920_750_000,
    datum="top",
    face_side="inside",
    face_edge="front",
    features=(
        Mortise("upper", Face.FACE_SIDE, 9_525_000, 63_500_000, 11_112_500, 9_525_000, 26_987_500),
        Groove("groove", Face.FACE_SIDE, 12_700_000, 6_350_000, 9_525_000, 73_025_000, 711_200_000),
        Mortise("lower", Face.FACE_SIDE, 784_225_000, 63_500_000, 11_112_500, 9_525_000, 26_987_500),
    ),
)
"""A leg of 1 3/4 by 1 3/4 by 36 1/4: two mortises and a groove between them in its inside face."""

STICK = Line(
    key="stick",
    assembly="loose",
    name="Stick",
    thickness=20 * MM,
    width=20 * MM,
    length=2_000 * MM,
    datum="top",
    features=(Mortise("small", Face.FACE_SIDE, 997 * MM, 6 * MM, 7 * MM, 6 * MM, 10 * MM),),
)
"""Two metres long, with one mortise of 6 mm."""


@st.composite
def spans(draw: st.DrawFn, whole: int, least: int = 1) -> tuple[int, int]:
    """(start, size) of something that lies within `whole` and is at least `least` large."""
    start = draw(st.integers(0, whole - least))
    return start, draw(st.integers(least, whole - start))


KINDS = (
    "mortise", "groove", "dado", "rabbet", "tenon", "tongue", "hole", "loose tenon", "hole row", "half lap",
    "open mortise", "bridle", "dovetail", "taper", "arris",
)  # fmt: skip


@st.composite
def more_features(draw: st.DrawFn, kind: str, key: str, thickness: int, width: int, length: int) -> Feature:
    """Any valid feature of the kinds that are not among the seven plain ones."""
    face, end = draw(st.sampled_from(ALONG)), draw(st.sampled_from(ENDS))
    across, deep = (width, thickness) if face in FACES else (thickness, width)
    depth = draw(st.integers(1, deep - 1))
    if kind == "loose tenon":
        if draw(st.booleans()):
            depth = draw(st.integers(1, length // 3))
            return LooseTenon(key, end, *draw(spans(width)), *draw(spans(thickness)), depth, 2 * depth)
        return LooseTenon(key, face, *draw(spans(length)), *draw(spans(across)), depth, 2 * depth)
    if kind == "hole row":
        count, size = draw(st.integers(2, 6)), draw(st.integers(1, min(across, length) // 16)) * 2
        offset = draw(st.integers(size // 2, across - size // 2))
        first = draw(st.integers(size // 2, length // 3))
        pitch = draw(st.integers(1, (length - size - first) // count))
        sizes = {"last": first + (count - 1) * pitch} if draw(st.booleans()) else {"pitch": pitch}
        return HoleRow(key, face, first, count, offset, size, draw(st.sampled_from([0, depth])), **sizes)
    if kind == "half lap":
        return HalfLap(key, face, *draw(spans(length)), depth)
    if kind == "open mortise":
        return OpenMortise(key, end, draw(st.integers(1, length // 3)), *draw(spans(thickness)))
    if kind == "bridle":
        side = draw(st.sampled_from((Face.FACE_SIDE, Face.FACE_EDGE)))
        return Bridle(key, side, *draw(spans(length)), *draw(spans(thickness if side in FACES else width)))
    if kind == "dovetail":
        count, slope = draw(st.integers(1, 5)), draw(st.integers(5, 9))
        # A third of its share of the width keeps a tail, at 1 in 5, from coming to a point.
        long = draw(st.integers(1, min(length // 3, thickness - 1, width // (3 * count))))
        pin = draw(st.integers(1, width // (4 * (count + 1))))
        half = draw(st.integers(1, pin))
        if draw(st.booleans()):
            return Tails(key, end, long, count, pin, half, slope)
        into = draw(st.sampled_from(FACES))
        return Pins(key, end, into, draw(st.integers(1, length // 3)), count, pin, half, long, slope)
    if kind == "taper":
        return Taper(key, face, draw(st.integers(length // 4, length * 3 // 4)), depth, end)
    made = draw(st.sampled_from([Chamfer, Roundover]))
    along = draw(st.sampled_from(EDGES + ENDS if face in FACES else ENDS))
    return made(key, face, along, draw(st.integers(1, min(thickness, width, length) // 3)))


@st.composite
def features(draw: st.DrawFn, key: str, thickness: int, width: int, length: int) -> Feature:
    """Any valid feature of a part of that size."""
    kind = draw(st.sampled_from(KINDS))
    if kind in KINDS[7:]:
        return draw(more_features(kind, key, thickness, width, length))
    face = draw(st.sampled_from(ALONG))
    across, deep = (width, thickness) if face in FACES else (thickness, width)
    depth = draw(st.integers(1, deep - 1))
    if kind == "mortise":
        (start, long), (offset, wide) = draw(spans(length)), draw(spans(across))
        return Mortise(key, face, start, long, offset, wide, draw(st.sampled_from([0, depth])))
    if kind == "groove":
        (offset, wide), (start, long) = draw(spans(across)), draw(st.one_of(st.just((0, 0)), spans(length)))
        return Groove(key, face, offset, wide, depth, start, long)
    if kind == "dado":
        (start, wide), (offset, over) = draw(spans(length)), draw(st.one_of(st.just((0, 0)), spans(across)))
        return Dado(key, face, start, wide, depth, offset, over)
    if kind == "rabbet":
        along = draw(st.sampled_from(EDGES + ENDS))
        wide = draw(st.integers(1, (width if along in EDGES else length) - 1))
        start, long = draw(st.one_of(st.just((0, 0)), spans(length))) if along in EDGES else (0, 0)
        return Rabbet(key, draw(st.sampled_from(FACES)), along, wide, draw(st.integers(1, thickness - 1)), start, long)
    if kind == "tenon":
        (offset, thick), (edge, wide) = draw(spans(thickness)), draw(spans(width))
        long = draw(st.integers(1, length // 3))
        end, beside = draw(st.sampled_from(ENDS)), draw(st.sampled_from(EDGES))
        room = edge if beside is Face.FACE_EDGE else width - edge - wide
        haunch = room > 0 and long > 1 and draw(st.booleans())
        both = (draw(st.integers(1, long - 1)), draw(st.integers(1, room))) if haunch else (0, 0)
        return Tenon(key, end, long, offset, thick, edge, wide, *both, beside)
    if kind == "tongue":
        at = draw(st.sampled_from(ENDS + EDGES))
        offset, thick = draw(spans(thickness))
        return Tongue(key, at, draw(st.integers(1, (length if at in ENDS else width) // 3)), offset, thick)
    size = draw(st.integers(1, min(across, length) // 2)) * 2
    start = draw(st.integers(size // 2, length - size // 2))
    offset = draw(st.integers(size // 2, across - size // 2))
    return Hole(key, face, start, offset, size, draw(st.sampled_from([0, depth])))


WORDS = st.sampled_from(
    ["", "top", "inside", "front", "left", "bottom", "inside of the left door, the one with the lock"]
)
NAMES = st.one_of(st.text(max_size=30), st.just('<b>&"x"</b>'))


@st.composite
def lines(draw: st.DrawFn, most: int = 12) -> Line:
    """Any line with 1 to `most` features of all kinds, 60 mm to 3 m long; half of them on the grid of 1/64 in."""
    grid = draw(st.sampled_from([1, GRID]))

    def size(low: int, high: int) -> int:
        return draw(st.integers(low // grid, high // grid)) * grid

    length = size(60 * MM, 3_000 * MM)
    thickness, width = size(6 * MM, 100 * MM), size(10 * MM, 600 * MM)
    count = draw(st.integers(1, most))
    return Line(
        key="line",
        assembly="any",
        name=draw(NAMES),
        thickness=thickness,
        width=width,
        length=length,
        datum=draw(WORDS),
        face_side=draw(WORDS),
        face_edge=draw(WORDS),
        features=tuple(draw(features(f"f{i}", thickness, width, length)) for i in range(count)),
    )


LETTERS = st.dictionaries(
    st.sampled_from([f"f{i}" for i in range(12)]),
    st.sampled_from(["1A", "2C", "12B", "3AB", "<&>", "1A 1B"]),
    max_size=12,
)
