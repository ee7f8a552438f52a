"""Walls that are too thin and cuts that meet: each found, with both cuts by name and how much is missing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.trade.fact import inch
from shopfloor.trade.part import (
    Dado,
    Face,
    Feature,
    Groove,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Rabbet,
    Tenon,
    Unit,
)
from shopfloor.trade.surface import overlap
from shopfloor.trade.walls import LEAST_WALL, faults, meetings

MM = 1_000_000
SIDE, BACK, EDGE, FAR = Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE


def leg(*features: Feature) -> Line:
    """40 x 40 x 700 mm."""
    return Line("leg", "legs", "Leg", 40 * MM, 40 * MM, 700 * MM, features=features)


def rail(*features: Feature) -> Line:
    """20 x 60 x 400 mm."""
    return Line("rail", "a", "Rail", 20 * MM, 60 * MM, 400 * MM, features=features)


def found(line: Line, least: int = 3 * MM) -> list[str]:
    return [f"{fault.what}. {fault.do}" for fault in faults(line, Unit.MM, least)]


M = Mortise("m", SIDE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 20 * MM)

FAULTY: dict[str, tuple[Line, str]] = {
    "two mortises of neighbouring faces": (
        leg(M, Mortise("n", EDGE, 80 * MM, 60 * MM, 16 * MM, 8 * MM, 18 * MM)),
        'its mortise and the mortise "n" meet inside: 4 mm of the wood goes for both. Make them 16 mm deep at most, '
        "or mitre the two tenons where they meet.",
    ),
    "two mortises that may be deep by different amounts": (
        leg(M, Mortise("n", EDGE, 80 * MM, 60 * MM, 14 * MM, 8 * MM, 18 * MM)),
        'its mortise and the mortise "n" meet inside: 6 mm of the wood goes for both. Make them 14 mm and 16 mm deep '
        "at most, or mitre the two tenons where they meet.",
    ),
    "two mortises of opposite faces": (
        leg(M, Mortise("n", BACK, 80 * MM, 60 * MM, 16 * MM, 8 * MM, 22 * MM)),
        'its mortise and the mortise "n" meet inside: 2 mm of the wood goes for both. Make each 18.5 mm deep at most: '
        "that leaves 3 mm between them.",
    ),
    "a mortise and a groove round the corner": (
        leg(M, Groove("g", EDGE, 18 * MM, 6 * MM, 20 * MM)),
        'its mortise and the groove "g" meet inside: 2 mm of the wood goes for both. Make them 18 mm and 16 mm deep at '
        "most, or mitre the two tenons where they meet.",
    ),
    "a mortise where there is no wood for it at all": (
        leg(M, Groove("g", EDGE, 0, 6 * MM, 20 * MM)),
        'its mortise and the groove "g" meet inside: 6 mm of the wood goes for both. Move one of them along the part '
        "or to the other side.",
    ),
    "a mortise nearly through": (
        rail(Mortise("m", SIDE, 50 * MM, 60 * MM, 20 * MM, 8 * MM, 18 * MM)),
        "only 2 mm of wood is left between this mortise and the back. It needs 3 mm: 1 mm more.",
    ),
    "a mortise beside the face": (
        rail(Mortise("m", EDGE, 50 * MM, 60 * MM, 1 * MM, 8 * MM, 18 * MM)),
        "only 1 mm of wood is left between this mortise and the face side. It needs 3 mm: 2 mm more.",
    ),
    "a mortise near the end": (
        rail(Mortise("m", EDGE, 338 * MM, 60 * MM, 6 * MM, 8 * MM, 18 * MM)),
        "only 2 mm of wood is left between this mortise and the far end. It needs 3 mm: 1 mm more.",
    ),
    "a loose tenon's mortise near the arris": (
        rail(LooseTenon("l", Face.FAR_END, 10 * MM, 40 * MM, 11 * MM, 8 * MM, 20 * MM, 39 * MM)),
        "only 1 mm of wood is left between this loose tenon and the back. It needs 3 mm: 2 mm more.",
    ),
    "an open mortise with a thin cheek": (
        rail(OpenMortise("o", Face.FAR_END, 60 * MM, 2 * MM, 8 * MM)),
        "only 2 mm of wood is left between this open mortise and the face side. It needs 3 mm: 1 mm more.",
    ),
    "a deep groove": (
        rail(Groove("g", SIDE, 20 * MM, 6 * MM, 18 * MM)),
        "only 2 mm of wood is left between this groove and the back. It needs 3 mm: 1 mm more.",
    ),
    "a dado near the end": (
        rail(Dado("d", SIDE, 2 * MM, 18 * MM, 6 * MM)),
        "only 2 mm of wood is left between this dado and the datum end. It needs 3 mm: 1 mm more.",
    ),
    "two mortises in line": (
        rail(
            Mortise("m", EDGE, 50 * MM, 60 * MM, 6 * MM, 8 * MM, 18 * MM),
            Mortise("n", EDGE, 112 * MM, 60 * MM, 6 * MM, 8 * MM, 18 * MM),
        ),
        'only 2 mm of wood is left between this mortise and the mortise "n". It needs 3 mm: 1 mm more.',
    ),
    "grooves that share a thin wall": (
        rail(Groove("g", SIDE, 20 * MM, 6 * MM, 9 * MM), Groove("h", BACK, 20 * MM, 6 * MM, 9 * MM)),
        'only 2 mm of wood is left between this groove and the groove "h". It needs 3 mm: 1 mm more.',
    ),
    "dadoes back to back with nothing between them": (
        rail(Dado("d", SIDE, 99 * MM, 18 * MM, 10 * MM), Dado("e", BACK, 90 * MM, 18 * MM, 10 * MM)),
        'no wood is left between this dado and the dado "e". It needs 3 mm: 3 mm more.',
    ),
    "a groove deeper than the leg": (
        leg(Groove("g", SIDE, 20 * MM, 6 * MM, 41 * MM)),
        "this groove comes out 1 mm outside the back. The part is 40 mm × 40 mm × 700 mm.",
    ),
    "a tenon thicker than its stock": (
        rail(Tenon("t", Face.FAR_END, 20 * MM, 0, 21 * MM, 0, 60 * MM)),
        "this tenon comes out 1 mm outside the back. The part is 20 mm × 60 mm × 400 mm.",
    ),
}


@pytest.mark.parametrize(("line", "says"), FAULTY.values(), ids=FAULTY)
def test_wood_that_is_missing_is_found_and_named(line: Line, says: str) -> None:
    assert found(line) == [says]


SOUND: dict[str, Line] = {
    "walls of just the least": rail(Mortise("m", EDGE, 50 * MM, 60 * MM, 3 * MM, 14 * MM, 57 * MM)),
    "right through": rail(Mortise("m", SIDE, 50 * MM, 60 * MM, 20 * MM, 8 * MM)),
    "mortises that only pass each other": leg(M, Mortise("n", EDGE, 113 * MM, 60 * MM, 16 * MM, 8 * MM, 18 * MM)),
    "mortises just short of each other": leg(
        Mortise("m", SIDE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 16 * MM),
        Mortise("n", EDGE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 16 * MM),
    ),
    "a groove that runs into its mortise": rail(
        Mortise("m", EDGE, 0, 60 * MM, 6 * MM, 8 * MM, 30 * MM), Groove("g", EDGE, 6 * MM, 8 * MM, 10 * MM)
    ),
    "a groove that starts where the mortise ends": rail(
        Mortise("m", EDGE, 0, 60 * MM, 6 * MM, 8 * MM, 30 * MM),
        Groove("g", EDGE, 6 * MM, 8 * MM, 10 * MM, 60 * MM, 100 * MM),
    ),
    "a drawer side's groove across its dado": rail(
        Groove("g", SIDE, 9 * MM, 6 * MM, 6 * MM), Dado("d", SIDE, 50 * MM, 6 * MM, 6 * MM)
    ),
    "a dado that cuts a groove in the edge": rail(
        Groove("g", EDGE, 6 * MM, 6 * MM, 9 * MM), Dado("d", SIDE, 50 * MM, 18 * MM, 8 * MM)
    ),
    "a rabbet is all open": rail(Rabbet("r", SIDE, EDGE, 59 * MM, 19 * MM)),
    "a mortise open at the end": rail(Mortise("m", EDGE, 340 * MM, 60 * MM, 6 * MM, 8 * MM, 18 * MM)),
}


@pytest.mark.parametrize("line", SOUND.values(), ids=SOUND)
def test_wood_that_is_enough_has_no_fault(line: Line) -> None:
    assert found(line) == []


def test_the_demonstration_cabinet_has_its_walls() -> None:
    assert [fault for line in demo_job().lines for fault in faults(line)] == []


def test_a_shop_may_ask_for_thicker_walls() -> None:
    leg_back = next(line for line in demo_job().lines if line.key == "leg-back")

    # A mortise for a web frame comes within 1/8 in of the side panel's groove.
    assert len(faults(leg_back, least=inch(3, 16))) == 5
    assert LEAST_WALL.value == inch(1, 8)


def test_a_cut_that_breaks_out_is_not_also_called_thin() -> None:
    both = rail(
        Groove("g", SIDE, 20 * MM, 6 * MM, 21 * MM), Mortise("m", SIDE, 50 * MM, 60 * MM, 40 * MM, 8 * MM, 18 * MM)
    )

    assert [what.partition(" ")[0] for what in found(both)] == ["this", "only"]


@given(
    st.tuples(*[st.integers(1, 39)] * 2), st.tuples(*[st.integers(0, 30)] * 2), st.integers(1, 9), st.integers(0, 120)
)
def test_two_mortises_meet_just_when_their_spaces_do(
    depths: tuple[int, int], offsets: tuple[int, int], wide: int, start: int
) -> None:
    one = Mortise("m", SIDE, 50 * MM, 60 * MM, offsets[0] * MM, wide * MM, depths[0] * MM)
    other = Mortise("n", EDGE, start * MM, 60 * MM, offsets[1] * MM, wide * MM, depths[1] * MM)
    line = leg(one, other)

    met = meetings(line)

    assert bool(met) == bool(overlap(one.box(line.stock), other.box(line.stock)))
    for each in met:  # and what is proposed keeps them apart
        if each.one_at_most > 0:
            shorter = Mortise("m", SIDE, 50 * MM, 60 * MM, one.offset, one.width, each.one_at_most)
            assert not meetings(leg(shorter, other))
