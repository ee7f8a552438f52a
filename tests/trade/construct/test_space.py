"""The other half of a joint is the same space seen from the other part; what is cut away is no wood any more."""

from __future__ import annotations

from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.construct.made import Built, Gathered, part_of
from shopfloor.trade.construct.mates import Clash, clashes, placed
from shopfloor.trade.construct.space import Cut, feature_of, from_inside, mirrored
from shopfloor.trade.construct.wood import wood
from shopfloor.trade.length import Length
from shopfloor.trade.part import (
    Assembly,
    Box,
    Dado,
    Face,
    Feature,
    Groove,
    Hand,
    Line,
    Mortise,
    Placement,
    Rabbet,
    Stock,
    Tenon,
    Tongue,
)

TURNS = [" ".join(f"{sign}{axis}" for sign, axis in zip(signs, order, strict=True))
         for order in permutations("XYZ") for signs in product("+-", repeat=3)]  # fmt: skip
STOCK = Stock(20, 40, 100)
turns = st.builds(Placement, st.sampled_from(TURNS), st.tuples(*[st.integers(-99, 99)] * 3))
spans = st.tuples(st.integers(-50, 150), st.integers(1, 60))


@given(stands=turns, x=spans, y=spans, z=spans)
def test_a_block_seen_from_a_part_and_back_is_the_same(
    stands: Placement, x: tuple[int, int], y: tuple[int, int], z: tuple[int, int]
) -> None:
    box = Box(x[0], sum(x), y[0], sum(y), z[0], sum(z))

    assert from_inside(stands, stands.box(box)) == box


@given(stands=turns, between=st.integers(0, 999))
def test_reflecting_twice_is_the_identity_and_once_changes_the_hand(stands: Placement, between: int) -> None:
    once = mirrored(stands, between)

    assert once.hand is not stands.hand
    assert mirrored(once, between) == stands


CUTS: list[Feature] = [
    Mortise("cut", Face.FACE_EDGE, 10, 30, 5, 6, 12),
    Mortise("cut", Face.BACK, 10, 30, 5, 6, 12),
    Mortise("cut", Face.FACE_SIDE, 10, 30, 5, 6),
    Groove("cut", Face.FAR_EDGE, 5, 6, 7),
    Groove("cut", Face.FACE_SIDE, 5, 6, 7, 10, 60),
    Dado("cut", Face.FACE_SIDE, 10, 6, 7),
    Dado("cut", Face.BACK, 10, 6, 7, 3, 30),
]


@pytest.mark.parametrize("feature", CUTS, ids=lambda each: f"{each.kind} in the {each.face}")
@given(stands=turns)
def test_a_cut_asked_for_in_space_is_the_feature_that_empties_it(feature: Feature, stands: Placement) -> None:
    assert isinstance(feature, Mortise | Groove | Dado)
    ways = {Face.FACE_EDGE: 1, Face.FAR_EDGE: 1, Face.FACE_SIDE: 2, Face.BACK: 2}
    inward = stands.axes.split()[ways[feature.face]]
    if feature.face in (Face.FAR_EDGE, Face.BACK):
        inward = ("-" if inward[0] == "+" else "+") + inward[1]
    cut = Cut("part", "cut", type(feature), stands.box(feature.box(STOCK)), inward)

    assert feature_of(cut, stands, STOCK) == feature


WOOD: list[tuple[str, Feature, Length]] = [
    # The part is 20 x 40 x 100: 80 000.  What goes away is worked out by hand.
    ("a mortise", Mortise("a", Face.FACE_EDGE, 10, 30, 5, 6, 12), 30 * 6 * 12),
    ("a mortise right through", Mortise("a", Face.FACE_EDGE, 10, 30, 5, 6), 30 * 6 * 40),
    ("a groove", Groove("a", Face.FACE_SIDE, 5, 6, 7), 100 * 6 * 7),
    ("a rabbet across an end", Rabbet("a", Face.FACE_SIDE, Face.FAR_END, 8, 9), 8 * 9 * 40),
    ("a tenon", Tenon("a", Face.DATUM_END, 25, 5, 8, 6, 30), 25 * (20 * 40 - 8 * 30)),
    ("a tongue along an edge", Tongue("a", Face.FAR_EDGE, 9, 0, 6), 9 * 100 * (20 - 6)),
]


@pytest.mark.parametrize(("feature", "gone"), [row[1:] for row in WOOD], ids=[row[0] for row in WOOD])
def test_what_is_cut_away_is_no_wood_any_more(feature: Feature, gone: Length) -> None:
    left = wood(Line("a", "a", "A", *STOCK, features=(feature,)))

    assert sum((x1 - x0) * (y1 - y0) * (z1 - z0) for x0, x1, y0, y1, z0, z1 in left) == 20 * 40 * 100 - gone


def stack(*lines: Line, cuts: tuple[Cut, ...] = ()) -> Built:
    return Gathered([Assembly("a", 1, "A")], list(lines), list(cuts)).built((), ())


def test_two_parts_in_one_place_are_found_and_what_touches_is_not() -> None:
    def at(x: Length) -> Placement:
        return Placement(at=(x, 0, 0))

    places = (part_of("a.1", "", at(0)), part_of("a.2", "", at(100)), part_of("a.3", "", at(199)))
    built = stack(Line("a", "a", "A", *STOCK, parts=places))

    assert clashes(placed(built.assemblies, built.lines)) == [Clash("a.2", "a.3", Box(199, 200, 0, 40, 0, 20))]


def test_a_pair_that_is_cut_alike_stays_one_line_and_one_that_is_not_becomes_two() -> None:
    left, right = Placement(), mirrored(Placement(), 500)
    pair = Line("leg", "a", "Leg", *STOCK, parts=(part_of("leg.left", "", left), part_of("leg.right", "", right)))
    there = Cut("leg.left", "m", Mortise, Box(10, 40, 0, 12, 5, 11), "+Y")
    other = Cut("leg.right", "m", Mortise, Box(460, 490, 0, 12, 5, 11), "+Y")

    (line,) = stack(pair, cuts=(there, other)).lines
    apart = stack(pair, cuts=(there,)).lines

    assert line.features == (Mortise("m", Face.FACE_EDGE, 10, 30, 5, 6, 12),)
    assert [part.hand for part in line.parts] == [Hand.AS_DRAWN, Hand.MIRROR]
    assert [(each.key, each.features) for each in apart] == [("leg-left", line.features), ("leg-right", ())]
