"""A part that came out short: the error lands at the far end, the marks stay, and the mates that feel it are named."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.frame_choices import Groove as Slot
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.fact import inch
from shopfloor.trade.layout import marks
from shopfloor.trade.part import (
    Dado,
    Face,
    Feature,
    Groove,
    HalfLap,
    Job,
    Line,
    Mortise,
    OpenMortise,
    Part,
    Pins,
    Rabbet,
    Tails,
    Taper,
    Tenon,
)
from shopfloor.trade.short import landed

DEMO = demo_job()
LINES = {part.key: line for line in DEMO.lines for part in line.parts}
SIXTEENTH = inch(1, 16)


def test_a_leg_with_nothing_at_its_foot_is_only_shorter() -> None:
    key = "leg.front-left"

    found = landed(DEMO, key, LINES[key].length - SIXTEENTH)

    assert found.difference == -SIXTEENTH
    assert found.says == ("at the far end ", SIXTEENTH, " short; every mark stays")
    assert found.stays == marks(LINES[key])
    assert (found.lost, found.touched, found.spoiled) == ((), (), False)


def test_a_short_rail_has_a_short_tenon_at_its_far_end_and_names_that_mate() -> None:
    key = "back.top-rail"

    found = landed(DEMO, key, LINES[key].length - SIXTEENTH)

    (touched,) = found.touched
    assert touched.says == (
        "tenon is ", inch(13, 16), " long instead of ", inch(7, 8), "; it holds ", SIXTEENTH,
        " less, its shoulders still close",
    )  # fmt: skip
    assert (touched.feature, touched.spoiled) == ("right", False)
    (joint,) = [joint for joint in DEMO.joints if (joint.enters.part, joint.enters.feature) == (key, "right")]
    assert touched.mates == ((joint.letter, "leg.back-right"),)
    assert found.stays == marks(LINES[key])


def test_a_rail_without_its_far_tenon_is_spoiled() -> None:
    key = "back.top-rail"

    found = landed(DEMO, key, LINES[key].length - inch(7, 8))

    assert found.spoiled
    assert [mark.says for mark in found.lost] == ["shoulder"]
    assert found.touched[0].says[:2] == ("tenon is gone: it was ", inch(7, 8))


def test_a_rail_that_is_shorter_than_its_tenon_leaves_its_shoulders_open() -> None:
    found = landed(DEMO, "left.top-rail", LINES["left.top-rail"].length - inch(1))  # its tenon is 7/8 long

    (touched,) = found.touched
    assert touched.says == (
        "tenon is gone: it was ",
        inch(7, 8),
        " long",
        "; its shoulders stand ",
        inch(1, 8),
        " open",
    )
    assert touched.spoiled


@pytest.mark.parametrize(
    ("short", "left", "says", "spoiled"),
    [
        (inch(1, 8), inch(1, 4), ("; it goes ", inch(1, 8), " less into its groove"), False),
        # Its groove is 3/8 deep and 1/16 of that is left free, so it reaches 5/16 into it.
        (inch(5, 16), inch(1, 16), ("; it does not reach its groove any more",), True),
    ],
)
def test_a_panel_that_floats_has_no_shoulders_that_could_close(
    short: int, left: int, says: tuple[str | int, ...], spoiled: bool
) -> None:
    (touched,) = landed(DEMO, "left.panel", LINES["left.panel"].length - short).touched

    assert touched.says == ("tongue is ", left, " long instead of ", inch(3, 8), *says)
    assert touched.spoiled is spoiled


def test_every_mate_of_a_cut_is_named_and_those_with_a_letter_come_first() -> None:
    frames = HousedFrames(
        3, inch(3, 4), inch(2), inch(2), inch(2), inch(1, 4), inch(1, 4), inch(1, 4),
        Slot(inch(1, 4), inch(3, 8), inch(1, 4)), inch(1, 16), up=inch(2),
    )  # fmt: skip
    made = follow(Job("j", "J"), [Carcase(inch(24), inch(16), inch(36), inch(3, 4), frames=frames)]).job
    (side,) = [line for line in made.lines if line.key == "side"]

    found = landed(made, "side.left", side.length - inch(3, 2))

    last = found.touched[-1]
    letters = {(joint.letter, joint.enters.part) for joint in made.joints if joint.takes.part == "side.left"}
    named = {mate for mate in letters if mate[1].startswith("web.4")}
    assert [mate.part for mate in last.mates] == ["web.4.front-rail", "web.4.back-rail", "web.4.runner-left"]
    assert set(last.mates) == named
    assert [bool(mate.letter) for mate in last.mates] == [True, True, False]


def test_a_part_that_is_long_can_still_be_cut() -> None:
    key = "leg.front-left"

    found = landed(DEMO, key, LINES[key].length + SIXTEENTH)

    assert found.says == ("at the far end ", SIXTEENTH, " too long: cut it there")
    assert (found.stays, found.touched) == (marks(LINES[key]), ())


def test_a_part_of_the_right_length_is_as_drawn() -> None:
    assert landed(DEMO, "leg.front-left", LINES["leg.front-left"].length).says == ("as drawn",)


def test_a_part_that_is_not_there_is_a_mistake_of_ours() -> None:
    with pytest.raises(KeyError):
        landed(DEMO, "leg.middle", inch(1))


MM = 1_000_000
END = Face.FAR_END


@pytest.mark.parametrize(
    ("feature", "says", "spoiled"),
    [
        (Mortise("f", Face.FACE_EDGE, 344 * MM, 40 * MM, 7 * MM, 6 * MM, 9 * MM),
         ("wood behind the mortise is ", 12 * MM, " instead of ", 16 * MM), False),
        (Mortise("f", Face.FACE_EDGE, 343 * MM, 40 * MM, 7 * MM, 6 * MM, 9 * MM), None, False),
        (Mortise("f", Face.FACE_EDGE, 359 * MM, 40 * MM, 7 * MM, 6 * MM, 9 * MM),
         ("mortise runs out at the end: ", 3 * MM, " of it has no wood"), True),
        (Mortise("f", Face.FACE_EDGE, 300 * MM, 96 * MM, 7 * MM, 6 * MM, 9 * MM),
         ("wood behind the mortise is gone: it was ", 4 * MM), True),
        (Mortise("f", Face.FACE_EDGE, 397 * MM, 2 * MM, 7 * MM, 6 * MM, 9 * MM),
         ("mortise lies beyond the wood",), True),
        (Dado("f", Face.FACE_SIDE, 377 * MM, 18 * MM, 6 * MM),
         ("wood behind the dado is ", MM, " instead of ", 5 * MM), False),
        (Dado("f", Face.FACE_SIDE, 100 * MM, 18 * MM, 6 * MM), None, False),
        (Groove("f", Face.FACE_SIDE, 9 * MM, 6 * MM, 6 * MM), None, False),
        (HalfLap("f", Face.FACE_SIDE, 340 * MM, 60 * MM, 10 * MM),
         ("half lap is ", 56 * MM, " long instead of ", 60 * MM), False),
        (OpenMortise("f", END, 60 * MM, 7 * MM, 6 * MM),
         ("open mortise is ", 56 * MM, " deep instead of ", 60 * MM), False),
        (Rabbet("f", Face.FACE_SIDE, END, 10 * MM, 6 * MM),
         ("rabbet is ", 6 * MM, " wide instead of ", 10 * MM), False),
        (Taper("f", Face.FACE_SIDE, 100 * MM, 6 * MM), ("taper ends ", 4 * MM, " sooner"), False),
        (Taper("f", Face.FACE_SIDE, 100 * MM, 6 * MM, Face.DATUM_END), None, False),
        (Tails("f", END, 20 * MM, 3, 6 * MM, 4 * MM),
         ("tails are ", 16 * MM, " long instead of ", 20 * MM, "; the corner will not be flush outside"), False),
        (Pins("f", END, Face.FACE_SIDE, 4 * MM, 3, 6 * MM, 4 * MM),
         ("sockets are gone: they were ", 4 * MM, " long"), True),
        (Tenon("f", Face.DATUM_END, 20 * MM, 6 * MM, 8 * MM, 0, 90 * MM), None, False),
    ],
    ids=lambda value: value.kind if hasattr(value, "kind") else None,
)  # fmt: skip
def test_what_4_mm_too_short_do_to_each_kind_of_cut(
    feature: Feature, says: tuple[str | int, ...], spoiled: bool
) -> None:
    part = Line("l", "a", "Part", 20 * MM, 90 * MM, 400 * MM, features=(feature,), parts=(Part("p"),))
    job = replace(DEMO, lines=(part,), joints=())

    found = landed(job, "p", 396 * MM)

    assert [one.says for one in found.touched] == ([says] if says else [])
    assert found.spoiled is spoiled


@given(st.sampled_from(sorted(LINES)), st.integers(-inch(40), inch(1)))
def test_marks_stay_or_are_lost_and_none_moves(key: str, off: int) -> None:
    real = max(1, LINES[key].length + off)

    found = landed(DEMO, key, real)

    assert sorted([*found.stays, *found.lost]) == sorted(marks(LINES[key]))
    assert all(mark.at < real for mark in found.stays)
    assert found.difference == real - LINES[key].length
