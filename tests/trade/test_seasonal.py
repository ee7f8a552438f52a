"""What the seasons do to a job is said before it is cut: panels, wide wood held across the grain, and slots."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import derive
from shopfloor.trade.length import read
from shopfloor.trade.part import (
    Assembly,
    Dado,
    Face,
    Feature,
    Groove,
    Half,
    Hole,
    Job,
    Joint,
    Line,
    Mortise,
    Part,
    Placement,
    Tongue,
)
from shopfloor.trade.seasonal import counted_for, faults, moves_by
from shopfloor.trade.seasons import Seasons
from tests.trade.construct.test_cleats import held

YEAR = Seasons(6, 8, 12)
"""Four points more in the damp, two less in the dry."""


def doors(gap: str, depth: str, species: str = "cherry") -> Job:
    """A panel 20 in wide between two stiles 2 in wide, its grain upright; the gap is that at each side."""
    clear, deep = read(gap), read(depth)
    wide = read("20")
    stile = Line(
        "stile", "door", "Stile", read("3/4"), read("2"), read("30"), "cherry",
        features=(Groove("panel", Face.FACE_EDGE, read("1/4"), read("1/4"), deep),),
        parts=(
            # Its own y runs away from the panel: the left one's to the left.
            Part("left", stands=Placement("+Z -X +Y", (deep - clear, 0, 0))),
            Part("right", stands=Placement("+Z +X +Y", (wide - deep + clear, 0, 0))),
        ),
    )  # fmt: skip
    panel = Line(
        "panel", "door", "Panel", read("1/2"), wide, read("30"), species,
        features=(
            Tongue("near", Face.FACE_EDGE, deep, read("1/4"), read("1/4")),
            Tongue("far", Face.FAR_EDGE, deep, read("1/4"), read("1/4")),
        ),
        parts=(Part("panel", stands=Placement("+Z +X +Y")),),
    )  # fmt: skip
    joints = (
        Joint("one", Half("panel", "near"), Half("left", "panel")),
        Joint("other", Half("panel", "far"), Half("right", "panel")),
    )
    return Job("door", "Door", assemblies=(Assembly("door", 1, "Door"),), lines=(stile, panel), joints=joints)


# 20 in of cherry, 0.00248: half of it grows 20 x 0.00248 x 4 / 2 = 0.0992 in and shrinks 0.0496 in at each side.
@pytest.mark.parametrize(
    ("gap", "depth", "species", "says"),
    [
        ("1/8", "3/8", "cherry", ""),
        ("3/32", "3/8", "cherry", "it bottoms out in the damp season: it grows 3/32 in at each side"),
        ("3/32", "3/8", "cherry, quartersawn", ""),  # 0.0504 in
        ("1/8", "5/32", "cherry", "it falls out in the dry season: it shrinks 3/64 in"),
        ("1/8", "3/16", "cherry", ""),  # 1/16 in the groove
        ("1/32", "3/8", "birch plywood", ""),
    ],
)
def test_a_panel_is_held_all_year_or_said_not_to_be(gap: str, depth: str, species: str, says: str) -> None:
    found = faults(doors(gap, depth, species), YEAR)

    assert [fault.where for fault in found] == ['line "panel", width'] * bool(says)
    for fault in found:
        assert says in fault.what
        assert "would hold a panel" in fault.do


def board(feature: Feature, wide: str, other: Feature, at: Placement, species: str = "cherry") -> Job:
    """A board `wide` with its grain along X and its width along Y, and a strip along Y that something joins to it."""
    top = Line(
        "top", "desk", "Top", read("3/4"), read(wide), read("40"), species,
        features=(feature,), parts=(Part("top", stands=Placement()),),
    )  # fmt: skip
    strip = Line(
        "strip", "desk", "Strip", read("3/4"), read("2"), read(wide), species,
        features=(other,), parts=(Part("strip", stands=at),),
    )  # fmt: skip
    ends = isinstance(feature, Tongue)
    halves = Half("top", feature.key), Half("strip", other.key)
    joint = Joint("end", *(halves if ends else halves[::-1]))
    return Job("desk", "Desk", assemblies=(Assembly("desk", 1, "Desk"),), lines=(top, strip), joints=(joint,))


TONGUE = Tongue("end", Face.FAR_END, read("3/8"), read("1/4"), read("1/4"))
GROOVE = Groove("end", Face.FACE_EDGE, read("1/4"), read("1/4"), read("3/8"))
BEYOND = Placement("+Y +X +Z", (read("39 5/8"), 0, 0))
DADO = Dado("strip", Face.FACE_SIDE, read("10"), read("3/4"), read("1/4"))
EDGE = Tongue("strip", Face.FACE_EDGE, read("1/4"), 0, read("3/4"))
ACROSS = Placement("+Y -Z +X", (read("10"), 0, read("1/4")))


# In a year it moves 4 points: 16 in x 0.00248 x 4 = 0.159 in, 5/32; 3 in are too narrow to be asked about.
@pytest.mark.parametrize(
    ("job", "where"),
    [
        (board(TONGUE, "16", GROOVE, BEYOND), ['line "top", its tongue end']),
        (board(TONGUE, "3", GROOVE, BEYOND), []),
        (board(DADO, "16", EDGE, ACROSS), ['line "top", its dado strip']),
        (board(DADO, "3", EDGE, ACROSS), []),
        (board(TONGUE, "16", GROOVE, BEYOND, "birch plywood"), []),
        # The same strip with its grain along the board's moves with it.
        (board(TONGUE, "16", GROOVE, Placement("+X +Y +Z", (read("39 5/8"), 0, 0))), []),
    ],
    ids=["cap", "narrow cap", "dado", "narrow dado", "plywood", "same way"],
)
def test_wide_wood_is_not_held_across_the_grain_without_a_word(job: Job, where: list[str]) -> None:
    found = faults(job, YEAR)

    assert [fault.where for fault in found] == where
    for fault in found:
        assert fault.what.startswith("16 in of width are held across the grain by Strip, and move 5/32 in")
        assert fault.do.startswith("Hold 4 in of it at most")


def slot_of(length: str) -> Job:
    built = derive(held(slot=read(length)))
    return Job("held", "Held", species="cherry", assemblies=built.assemblies, lines=built.lines, joints=built.joints)


def test_a_slot_too_short_for_its_top_is_named_with_the_length_that_would_do() -> None:
    """The screw farthest from the one that holds is 9 in away: 9 x 0.00248 x 4 = 0.0893 in outward, so the slot is
    3/16 + 2 x 0.0893 = 0.366 in, 3/8 on the tape.  The nearer one, 4 1/2 in away, asks for 0.277 in."""
    enough, short = faults(slot_of("3/8"), YEAR), faults(slot_of("5/16"), YEAR)

    assert [fault for fault in enough if "slot" in fault.where] == []
    (fault,) = (fault for fault in short if "slot" in fault.where)
    assert fault.where == 'line "top-cleat", slot-3'
    assert fault.do == (
        "3/8 in would do. Counted for black cherry, flatsawn, as nothing else is said: 0.00248 of the width for each "
        "point (Wood Handbook, Table 13-5)."
    )


def test_a_strip_screwed_in_round_holes_holds_a_wide_top() -> None:
    job = slot_of("3/8")
    lines = tuple(
        replace(line, features=tuple(_round(feature) for feature in line.features)) if line.key == "top-cleat" else line
        for line in job.lines
    )

    found = faults(replace(job, lines=lines), YEAR)

    # Two screws 9 in apart: 9 x 0.00248 x 4 = 0.0893 in, 3/32 on the tape.
    (fault,) = (fault for fault in found if "screws" in fault.where)
    assert fault.where == 'line "top", its screws'
    assert fault.what == "9 in of width are held across the grain by Cleat, and move 3/32 in shy in a year" or (
        fault.what == "9 in of width are held across the grain by Cleat, and move 3/32 in in a year"
    )


def _round(feature: Feature) -> Feature:
    if isinstance(feature, Mortise):
        middle = feature.start + feature.length // 2
        return Hole(feature.key, feature.face, middle, feature.offset + feature.width // 2, feature.width)
    return feature


def test_the_demo_stands_an_ordinary_year() -> None:
    assert faults(demo_job(), Seasons(Fraction("6.9"), 8, Fraction("9.2"))) == ()


def test_the_demo_bottoms_out_in_an_open_building() -> None:
    """14 in of cherry, eight points more: 14 x 0.00248 x 8 / 2 = 0.139 in at each side, and it has 1/8 in."""
    found = faults(demo_job(), Seasons(Fraction("7.7"), 8, 16))

    assert [fault.where for fault in found] == ['line "left-panel", width', 'line "right-panel", width']


@pytest.mark.parametrize(
    ("species", "says"),
    [
        ("white oak (commercial group), quartersawn", "white oak (commercial group), quartersawn: 0.0018 "),
        ("white oak (commercial group)", "white oak (commercial group), flatsawn, as nothing else is said: 0.00365 "),
        ("Rift-sawn cherry", "black cherry, riftsawn: 0.00248 "),
        ("birch plywood", ""),
    ],
)
def test_what_the_seasons_do_names_the_wood_the_cut_and_the_number_that_were_taken(species: str, says: str) -> None:
    assert counted_for(species).startswith(f"Counted for {says}" if says else "")
    assert bool(counted_for(species)) is bool(says)


def test_every_warning_of_the_seasons_says_by_which_numbers() -> None:
    found = [*faults(slot_of("5/16"), YEAR), *faults(demo_job(), Seasons(Fraction("7.7"), 8, 16))]

    assert {fault.where for fault in found} >= {'line "top-cleat", slot-3', 'line "left-panel", width'}
    assert all("Counted for black cherry, flatsawn, as nothing else is said: 0.00248" in fault.do for fault in found)


@pytest.mark.parametrize(
    ("species", "rate"),
    [
        ("cherry", "0.00248"),
        ("cherry, quartersawn", "0.00126"),
        ("Quarter-sawn cherry", "0.00126"),
        ("cherry (rift sawn)", "0.00248"),
        ("maple", "0.00353"),  # of the maples the one that moves most
        ("birch plywood", ""),
        ("", ""),
    ],
)
def test_a_wood_moves_as_its_name_says(species: str, rate: str) -> None:
    assert moves_by(species) == (Fraction(rate) if rate else None)
