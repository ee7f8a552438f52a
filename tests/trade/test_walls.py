"""Walls that are too thin and cuts that meet: each found, with both cuts by name and how much is missing."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.trade.fact import inch
from shopfloor.trade.part import (
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
    Tails,
    Taper,
    Tenon,
    Tongue,
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

T = Tenon("t", Face.DATUM_END, 30 * MM, 6 * MM, 8 * MM, 10 * MM, 40 * MM)

FAULTY: dict[str, tuple[Line, str]] = {
    "two mortises of neighbouring faces": (
        leg(M, Mortise("n", EDGE, 80 * MM, 60 * MM, 16 * MM, 8 * MM, 18 * MM)),
        'its mortise and the mortise "n" meet inside: 4 mm of the wood goes for both. Make them 14.5 mm deep at most, '
        "or mitre the two tenons where they meet.",
    ),
    "two mortises that may be deep by different amounts": (
        leg(M, Mortise("n", EDGE, 80 * MM, 60 * MM, 14 * MM, 8 * MM, 18 * MM)),
        'its mortise and the mortise "n" meet inside: 6 mm of the wood goes for both. Make them 12.5 mm and 14.5 mm '
        "deep at most, or mitre the two tenons where they meet.",
    ),
    "two mortises of opposite faces": (
        leg(M, Mortise("n", BACK, 80 * MM, 60 * MM, 16 * MM, 8 * MM, 22 * MM)),
        'its mortise and the mortise "n" meet inside: 2 mm of the wood goes for both. Make each 18.5 mm deep at most: '
        "that leaves 3 mm between them.",
    ),
    "a mortise and a groove round the corner": (
        leg(M, Groove("g", EDGE, 18 * MM, 6 * MM, 20 * MM)),
        'its mortise and the groove "g" meet inside: 2 mm of the wood goes for both. Make this mortise 15 mm deep at '
        "most: that leaves 3 mm between them.",
    ),
    "a mortise where there is no wood for it at all": (
        leg(M, Groove("g", EDGE, 0, 6 * MM, 20 * MM)),
        'its mortise and the groove "g" meet inside: 6 mm of the wood goes for both. Make the groove "g" 13 mm deep at '
        "most: that leaves 3 mm between them.",
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


# A leg is 40 mm square, M takes y 16 to 24 and z 0 to 20 from 50 to 110 mm.
MORE: dict[str, tuple[Line, str]] = {
    "two mortises in one face that overlap": (
        leg(M, Mortise("n", SIDE, 90 * MM, 60 * MM, 16 * MM, 8 * MM, 20 * MM)),
        'its mortise and the mortise "n" meet inside: 8 mm of the wood goes for both. Move one of them 23 mm along the '
        "part, or 11 mm across it: that leaves 3 mm between them.",
    ),
    "the same mortise twice": (
        leg(M, replace(M, key="n")),
        'its mortise and the mortise "n" meet inside: 8 mm of the wood goes for both. Move one of them 63 mm along the '
        "part, or 11 mm across it: that leaves 3 mm between them.",
    ),
    "two mortises in one face that touch": (
        leg(M, Mortise("n", SIDE, 110 * MM, 60 * MM, 16 * MM, 8 * MM, 20 * MM)),
        'no wood is left between this mortise and the mortise "n". It needs 3 mm: 3 mm more.',
    ),
    "a hole through a mortise": (
        leg(M, Hole("h", EDGE, 80 * MM, 10 * MM, 8 * MM, 30 * MM)),
        'its mortise and the hole "h" meet inside: 8 mm of the wood goes for both. Move one of them, unless a pin is '
        "to hold the tenon there.",
    ),
    "a hole that goes nearly through": (
        rail(Hole("h", SIDE, 80 * MM, 30 * MM, 8 * MM, 19_999_000)),
        "only 0.001 mm of wood is left between this hole and the back. It needs 3 mm: 2.999 mm more.",
    ),
    "a hole whose rim is at the edge": (
        rail(Hole("h", SIDE, 80 * MM, 4 * MM + 1, 8 * MM)),
        "only 0.001 mm of wood is left between this hole and the face edge. It needs 3 mm: 3 mm more.",
    ),
    # Middles 6 and 8 apart are 10 apart; two radii of 4 leave 2.
    "two holes side by side": (
        rail(Hole("h", SIDE, 80 * MM, 30 * MM, 8 * MM), Hole("i", BACK, 86 * MM, 22 * MM, 8 * MM)),
        'only 2 mm of wood is left between this hole and the hole "i". It needs 3 mm: 1 mm more.',
    ),
    "holes of a row that run into each other": (
        rail(HoleRow("r", SIDE, 50 * MM, 3, 30 * MM, 8 * MM, pitch=10 * MM)),
        "only 2 mm of wood is left between the holes of this row. It needs 3 mm: 1 mm more.",
    ),
    # The rabbet takes z 10 to 20 and y 0 to 10, the mortise z 6 to 14.
    "a mortise under a rabbet": (
        rail(Mortise("m", EDGE, 50 * MM, 60 * MM, 6 * MM, 8 * MM, 30 * MM), Rabbet("r", BACK, EDGE, 10 * MM, 10 * MM)),
        'its mortise and the rabbet "r" meet inside: 10 mm of the wood goes for both. Make the rabbet "r" 3 mm deep at '
        "most: that leaves 3 mm between them.",
    ),
    "a mortise under a half lap": (
        rail(
            Mortise("m", SIDE, 50 * MM, 40 * MM, 20 * MM, 8 * MM, 12 * MM),
            HalfLap("l", BACK, 40 * MM, 60 * MM, 10 * MM),
        ),
        'its mortise and the half lap "l" meet inside: 2 mm of the wood goes for both. Make this mortise 7 mm deep at '
        "most: that leaves 3 mm between them.",
    ),
    # From 300 to the foot at 700 it takes 0 to 20: 10 at the lower end of a mortise from 400 to 500.
    "a mortise that a taper cuts": (
        leg(Mortise("m", SIDE, 400 * MM, 100 * MM, 9 * MM, 8 * MM, 20 * MM), Taper("t", EDGE, 300 * MM, 20 * MM)),
        'its mortise and the taper "t" meet inside: 20 mm of the wood goes for both. Move one of them along the part '
        "or to the other side.",
    ),
    "a mortise that a taper comes near": (
        leg(Mortise("m", SIDE, 400 * MM, 100 * MM, 12 * MM, 8 * MM, 20 * MM), Taper("t", EDGE, 300 * MM, 20 * MM)),
        'only 2 mm of wood is left between this mortise and the taper "t". It needs 3 mm: 1 mm more.',
    ),
    "a taper that leaves nothing of the foot": (
        leg(Taper("t", EDGE, 300 * MM, 39 * MM)),
        "only 1 mm of wood is left between this taper and the far edge. It needs 3 mm: 2 mm more.",
    ),
    # 60 less half pins of 4 and two pins of 6 leave three sockets of 13.333, from the face edge 4 to 17.333.
    "a mortise under dovetail sockets": (
        rail(
            Mortise("m", EDGE, 10 * MM, 60 * MM, 6 * MM, 8 * MM, 30 * MM),
            Pins("p", Face.DATUM_END, SIDE, 20 * MM, 3, 6 * MM, 4 * MM),
        ),
        'its mortise and the pins "p" meet inside: 13.333 mm of the wood goes for both. Move one of them along the '
        "part or to the other side.",
    ),
    "a rabbet that leaves next to nothing": (
        rail(Rabbet("r", BACK, EDGE, 10 * MM, 20 * MM - 1)),
        "only 0.001 mm of wood is left between this rabbet and the face side. It needs 3 mm: 3 mm more.",
    ),
    "a half lap that leaves next to nothing": (
        rail(HalfLap("l", BACK, 0, 60 * MM, 20 * MM - 1)),
        "only 0.001 mm of wood is left between this half lap and the face side. It needs 3 mm: 3 mm more.",
    ),
    "a half lap that leaves nothing": (
        rail(HalfLap("l", BACK, 0, 60 * MM, 20 * MM)),
        "no wood is left between this half lap and the face side. It needs 3 mm: 3 mm more.",
    ),
    "a mortise in the part's own tenon": (
        rail(Mortise("m", EDGE, 10 * MM, 60 * MM, 6 * MM, 8 * MM, 30 * MM), T),
        'this mortise goes 20 mm past the shoulder of the tenon "t". Keep it 33 mm from the datum end: that leaves '
        "3 mm between them.",
    ),
    "a mortise behind the shoulder": (
        rail(Mortise("m", EDGE, 30 * MM + 1, 60 * MM, 6 * MM, 8 * MM, 30 * MM), T),
        'only 0.001 mm of wood is left between this mortise and the shoulder of the tenon "t". It needs 3 mm: 3 mm '
        "more.",
    ),
    "two tenons that overlap": (
        rail(
            Tenon("s", Face.DATUM_END, 30 * MM, 6 * MM, 8 * MM, 10 * MM, 20 * MM),
            replace(T, edge_offset=25 * MM, width=25 * MM),
        ),
        'this tenon and the tenon "t" are the same wood by 5 mm. Move one of them, or make it smaller.',
    ),
    "two tenons with a thin wall between their mortises": (
        rail(
            Tenon("s", Face.DATUM_END, 30 * MM, 6 * MM, 8 * MM, 10 * MM, 20 * MM),
            replace(T, edge_offset=32 * MM, width=18 * MM),
        ),
        'only 2 mm stays in the mate between this tenon and the tenon "t". It needs 3 mm: 1 mm more.',
    ),
    "a tenon as thin as a hair": (
        rail(replace(T, thickness=1)),
        "this tenon is only 0.001 mm thick. It needs 3 mm: 3 mm more.",
    ),
    "a tongue that is too thin": (
        rail(Tongue("t", EDGE, 10 * MM, 9 * MM, 2 * MM)),
        "this tongue is only 2 mm thick. It needs 3 mm: 1 mm more.",
    ),
    # 3 across and 4 down would be 5; here it is 0.9 and 1.2.
    "two mortises that come near each other with their corners": (
        leg(
            Mortise("m", SIDE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 14_800_000),
            Mortise("n", EDGE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 15_100_000),
        ),
        'only 1.5 mm of wood is left, corner to corner, between this mortise and the mortise "n". It needs 1.6 mm: '
        "0.1 mm more.",
    ),
}


@pytest.mark.parametrize(("line", "says"), MORE.values(), ids=MORE)
def test_whatever_takes_wood_away_is_looked_at(line: Line, says: str) -> None:
    assert found(line, 3_200_000 if "corner to corner" in says else 3 * MM) == [says]


# A part 2 in wide, 20 in long.
INCHES = [
    # 2 less 3/8 of the groove and 1/8 between them.
    (
        "a mortise against a groove",
        (
            Mortise("m", EDGE, inch(2), inch(3), inch(1, 2), inch(1, 4), inch(7, 4)),
            Groove("g", FAR, inch(1, 2), inch(1, 4), inch(3, 8)),
        ),
        "Make this mortise 1 1/2 in deep at most: that leaves 1/8 in between them.",
    ),
    (
        "two panels' grooves",
        (Groove("g", EDGE, inch(1, 4), inch(1, 4), inch(5, 4)), Groove("h", FAR, inch(1, 4), inch(1, 4), inch(7, 8))),
        'Make this groove 1 in deep at most, or the groove "h" 5/8 in deep at most: that leaves 1/8 in between them.',
    ),
    # Half of 2 - 1/8 is 15/16.
    (
        "two mortises",
        (
            Mortise("m", EDGE, inch(2), inch(3), inch(1, 2), inch(1, 4), inch(7, 4)),
            Mortise("n", FAR, inch(2), inch(3), inch(1, 2), inch(1, 4), inch(1)),
        ),
        "Make each 15/16 in deep at most: that leaves 1/8 in between them.",
    ),
]


@pytest.mark.parametrize(("features", "do"), [row[1:] for row in INCHES], ids=[row[0] for row in INCHES])
def test_only_two_tenons_that_face_each_other_share_the_depth(features: tuple[Feature, ...], do: str) -> None:
    (fault,) = faults(Line("p", "a", "P", inch(2), inch(2), inch(20), features=features))

    assert fault.do == do


def test_a_shop_that_thinks_in_millimetres_has_its_own_least_and_its_own_steps() -> None:
    """47.1 less 3 is 44.1: half of it is 22.05, and 22 is what can be set."""
    thick = Line(
        "p",
        "a",
        "P",
        47_100_000,
        60 * MM,
        400 * MM,
        features=(
            Mortise("m", SIDE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 30 * MM),
            Mortise("n", BACK, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 30 * MM),
        ),
    )
    thin = rail(Mortise("m", EDGE, 50 * MM, 60 * MM, 3 * MM, 8 * MM, 18 * MM))

    assert [fault.do for fault in faults(thick, Unit.MM)] == [
        "Make each 22 mm deep at most: that leaves 3 mm between them."
    ]
    assert faults(thin, Unit.MM) == ()
    assert len(faults(thin)) == 1


SOUND: dict[str, Line] = {
    "walls of just the least": rail(Mortise("m", EDGE, 50 * MM, 60 * MM, 3 * MM, 14 * MM, 57 * MM)),
    "right through": rail(Mortise("m", SIDE, 50 * MM, 60 * MM, 20 * MM, 8 * MM)),
    "mortises that only pass each other": leg(M, Mortise("n", EDGE, 113 * MM, 60 * MM, 16 * MM, 8 * MM, 18 * MM)),
    "mortises just short of each other": leg(
        Mortise("m", SIDE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 14 * MM),
        Mortise("n", EDGE, 50 * MM, 60 * MM, 16 * MM, 8 * MM, 14 * MM),
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
    "a rabbet is all open": rail(Rabbet("r", SIDE, EDGE, 57 * MM, 17 * MM)),
    "a rabbet along the cheek of a mortise": rail(
        Mortise("m", EDGE, 50 * MM, 60 * MM, 4 * MM, 8 * MM, 30 * MM), Rabbet("r", BACK, EDGE, 10 * MM, 8 * MM)
    ),
    "a panel's groove into an open mortise": rail(
        OpenMortise("o", Face.FAR_END, 60 * MM, 6 * MM, 8 * MM), Groove("g", EDGE, 6 * MM, 8 * MM, 10 * MM)
    ),
    "the tongues at a panel's corner": rail(
        Tongue("t", EDGE, 8 * MM, 6 * MM, 6 * MM), Tongue("u", Face.FAR_END, 8 * MM, 6 * MM, 6 * MM)
    ),
    "a groove that runs out over the tenons": rail(T, Groove("g", EDGE, 6 * MM, 8 * MM, 10 * MM)),
    "a drawer's groove through its dovetails": rail(
        Tails("d", Face.DATUM_END, 14 * MM, 2, 4 * MM, 4 * MM), Groove("g", SIDE, 9 * MM, 6 * MM, 6 * MM)
    ),
    "a groove that runs out into the sockets": rail(
        Pins("p", Face.DATUM_END, SIDE, 14 * MM, 2, 4 * MM, 4 * MM, 14 * MM), Groove("g", SIDE, 9 * MM, 6 * MM, 6 * MM)
    ),
    "a pin through the tenon": rail(T, Hole("h", SIDE, 20 * MM, 30 * MM, 8 * MM)),
    "a screw through the floor of a dado": rail(
        Dado("d", SIDE, 50 * MM, 18 * MM, 6 * MM), Hole("h", BACK, 59 * MM, 30 * MM, 4 * MM)
    ),
    "a counterbored hole": rail(
        Hole("h", SIDE, 59 * MM, 30 * MM, 4 * MM), Hole("i", SIDE, 59 * MM, 30 * MM, 10 * MM, 8 * MM)
    ),
    "a rabbeted frame that is lapped at its corners": rail(
        HalfLap("l", SIDE, 340 * MM, 60 * MM, 10 * MM), Rabbet("r", BACK, EDGE, 10 * MM, 10 * MM)
    ),
    "a haunch's pocket beside its mortise": rail(
        Mortise("m", EDGE, 50 * MM, 60 * MM, 6 * MM, 8 * MM, 30 * MM),
        Mortise("n", EDGE, 109 * MM, 20 * MM, 6 * MM, 8 * MM, 10 * MM),
    ),
    "a mortise above a taper": leg(M, Taper("t", EDGE, 110 * MM, 30 * MM), Taper("u", SIDE, 110 * MM, 30 * MM)),
    "arrises that are softened": leg(
        Mortise("m", SIDE, 50 * MM, 60 * MM, 4 * MM, 8 * MM, 20 * MM), Chamfer("c", SIDE, EDGE, 3 * MM)
    ),
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


@given(st.tuples(*[st.integers(10, 39)] * 2), st.tuples(*[st.integers(9, 24)] * 2), st.integers(6, 9))
def test_who_does_what_is_proposed_is_warned_no_more(
    depths: tuple[int, int], offsets: tuple[int, int], wide: int
) -> None:
    pair = [
        Mortise(key, face, 50 * MM, 60 * MM, offset * MM, wide * MM, depth * MM)
        for key, face, offset, depth in zip("mn", (SIDE, EDGE), offsets, depths, strict=True)
    ]
    does = [fault.do for fault in faults(leg(*pair), Unit.MM) if "mitre" in fault.do]

    for do in does:
        deep = [Fraction(text) for text in re.findall(r"([\d.]+) mm", do)]
        shorter = [
            replace(one, depth=min(one.depth, int(most * MM)))
            for one, most in zip(pair, (deep[0], deep[-1]), strict=True)
        ]
        left = [str(fault) for fault in faults(leg(*shorter), Unit.MM)]
        assert not [says for says in left if "meet" in says or "and the mortise" in says]
