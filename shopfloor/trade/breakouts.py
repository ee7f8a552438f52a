"""Does a feature lie within its part?  Surfaces that cannot have it, sizes that cannot be, and where it breaks out.

A groove deeper than the leg and a tenon thicker than its stock are found here, by how much they are too large.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from .dovetail import LEAST_SLOPE, MOST_SLOPE, MOST_TAILS, BadDovetail
from .fault import Fault
from .hole_rows import MOST_HOLES
from .part import (
    EDGES,
    ENDS,
    FACES,
    Bridle,
    Chamfer,
    Dado,
    EdgeNote,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hole,
    HoleRow,
    LooseTenon,
    Mortise,
    OpenMortise,
    Pins,
    Rabbet,
    Roundover,
    Stock,
    Tails,
    Taper,
    Tenon,
    Tongue,
    boxes,
)

__all__ = ["a_kind", "feature_faults", "listed"]

CUT_INTO: dict[type[Feature], tuple[Face, ...]] = {
    Mortise: FACES + EDGES,
    LooseTenon: FACES + EDGES + ENDS,
    Groove: FACES + EDGES,
    Dado: FACES + EDGES,
    Hole: FACES + EDGES,
    HoleRow: FACES + EDGES,
    HalfLap: FACES + EDGES,
    Rabbet: FACES,
    Tenon: ENDS,
    Tongue: EDGES + ENDS,
    OpenMortise: ENDS,
    Bridle: (Face.FACE_SIDE, Face.FACE_EDGE),
    Tails: ENDS,
    Pins: ENDS,
    Taper: FACES + EDGES,
    Chamfer: FACES + EDGES,
    Roundover: FACES + EDGES,
}
"""The surfaces that a feature of each kind can be on."""

MAY_BE_NOTHING = {"start", "offset", "edge_offset", "first"}
"""Sizes of a feature that are distances from a reference: 0 is a place like any other."""

COUNTED = {
    "count": {HoleRow: (2, MOST_HOLES), Tails: (1, MOST_TAILS), Pins: (1, MOST_TAILS)},
    "slope": {Tails: (LEAST_SLOPE, MOST_SLOPE), Pins: (LEAST_SLOPE, MOST_SLOPE)},
}
"""Fields that are no lengths: by their kind, the least and the most that they can be."""


def feature_faults(feature: Feature, stock: Stock, where: str, size: Callable[[int], str]) -> Iterator[Fault]:
    """What is wrong with one feature of a part; `size` writes a length.  Later checks wait until earlier ones pass."""
    found = list(_surfaces(feature, where)) or list(_numbers(feature, where, size))
    yield from found or _breakouts(feature, stock, where, size)


def _surfaces(feature: Feature, where: str) -> Iterator[Fault]:
    """Surfaces that such a feature cannot be on."""
    allowed = CUT_INTO[type(feature)]
    if feature.face not in allowed:
        verb = "are" if feature.kind.endswith("s") else "is"
        yield Fault(f"{where}, face", f"no {feature.kind} {verb} on the {feature.face}", _can_be(allowed, " on"))
    elif isinstance(feature, Rabbet) and feature.along in FACES:
        yield Fault(f"{where}, along", f"a rabbet runs along no {feature.along}", _can_be(EDGES + ENDS))
    elif isinstance(feature, EdgeNote) and not feature.is_arris():
        what = f"the {feature.face} and the {feature.along} share no arris"
        yield Fault(f"{where}, along", what, _can_be(EDGES + ENDS if feature.face in FACES else ENDS))
    elif isinstance(feature, Taper) and feature.to not in ENDS:
        yield Fault(f"{where}, to", f"a taper runs to no {feature.to}", _can_be(ENDS))
    elif isinstance(feature, Pins) and feature.into not in FACES:
        yield Fault(f"{where}, into", f"no tails enter by the {feature.into}", _can_be(FACES))
    elif isinstance(feature, Tenon) and feature.haunch_beside not in EDGES:
        yield Fault(f"{where}, haunch_beside", f"a haunch lies towards no {feature.haunch_beside}", _can_be(EDGES))


def _numbers(feature: Feature, where: str, size: Callable[[int], str]) -> Iterator[Fault]:
    """Sizes and counts that cannot be, whatever the part is like."""
    for name, value in _sizes(feature).items():
        if name in COUNTED:
            least, most = COUNTED[name][type(feature)]
            if not least <= value <= most:
                yield Fault(f"{where}, {name}", f"{value} is out of range", f"It can be {least} to {most}.")
            continue
        open_ended = name in MAY_BE_NOTHING or _default(feature, name) == 0
        if value < 0 or (value == 0 and not open_ended):
            yield Fault(f"{where}, {name}", f"{'-' * (value < 0)}{size(value)} cannot be made", "Give it a size.")
    match feature:
        case HoleRow() if bool(feature.last) == bool(feature.pitch):
            what = "both the last hole and a pitch are given" if feature.last else "nothing says how far it goes"
            yield Fault(where, what, "Give the place of the last hole, or the pitch.")
        case HoleRow() if feature.last and feature.last <= feature.first:
            yield Fault(f"{where}, last", f"{size(feature.last)} is not past the first hole", "Put it farther along.")
        case Tenon() if bool(feature.haunch_length) != bool(feature.haunch_width):
            missing = "haunch_width" if feature.haunch_length else "haunch_length"
            yield Fault(f"{where}, {missing}", "the haunch has only one size", "Give it a length and a width.")
        case Tenon() if feature.haunch_length >= feature.length > 0:
            what = f"a haunch of {size(feature.haunch_length)} is no shorter than its tenon"
            yield Fault(f"{where}, haunch_length", what, f"Make it less than {size(feature.length)}.")


def _breakouts(feature: Feature, stock: Stock, where: str, size: Callable[[int], str]) -> Iterator[Fault]:
    """Where a feature comes out of its part, and by how much."""
    if isinstance(feature, Tails | Pins):
        try:
            feature.tails(stock)
        except BadDovetail as err:
            yield Fault(where, err.what, err.do)
            return
    every = (feature.bottoms(stock) if isinstance(feature, Pins) else boxes(feature, stock)) + (feature.box(stock),)
    box = [(min if axis % 2 == 0 else max)(one[axis] for one in every) for axis in range(6)]
    through = {
        "before the datum end": -box[0],
        "past the far end": box[1] - stock.length,
        "outside the face edge": -box[2],
        "outside the far edge": box[3] - stock.width,
        "outside the face side": -box[4],
        "outside the back": box[5] - stock.thickness,
    }
    for place, over in through.items():
        if over > 0:
            do = f"The part is {' × '.join(size(side) for side in stock)}."
            comes = "these {} come" if feature.kind.endswith("s") else "this {} comes"
            yield Fault(where, f"{comes.format(feature.kind)} out {size(over)} {place}", do)


def a_kind(feature: Feature) -> str:
    """A feature as a sentence names it: "a mortise", "an open mortise", "tails"."""
    if feature.kind.endswith("s"):
        return feature.kind
    return f"{'an' if feature.kind[0] in 'aeiou' else 'a'} {feature.kind}"


def _can_be(names: Iterable[str], on: str = "") -> str:
    return f"It can be{on}: {listed(names)}."


def listed(names: Iterable[str]) -> str:
    """Names in a row, as they go into a sentence."""
    return ", ".join(names)


def _sizes(feature: Feature) -> dict[str, int]:
    return {name: value for name, value in vars(feature).items() if isinstance(value, int)}


def _default(feature: Feature, name: str) -> Any:
    return getattr(type(feature), name, None)
