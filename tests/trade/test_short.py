"""A part that came out short: the error lands at the far end, the marks stay, and the mates that feel it are named."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.trade.fact import inch
from shopfloor.trade.layout import marks
from shopfloor.trade.part import (
    Dado,
    Face,
    Feature,
    Groove,
    HalfLap,
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
    assert (touched.feature, touched.mate, touched.spoiled) == ("right", "leg.back-right", False)
    (joint,) = [joint for joint in DEMO.joints if (joint.enters.part, joint.enters.feature) == (key, "right")]
    assert touched.letter == joint.letter
    assert found.stays == marks(LINES[key])


def test_a_rail_without_its_far_tenon_is_spoiled() -> None:
    key = "back.top-rail"

    found = landed(DEMO, key, LINES[key].length - inch(7, 8))

    assert found.spoiled
    assert [mark.says for mark in found.lost] == ["shoulder"]
    assert found.touched[0].says[:2] == ("tenon is gone: it was ", inch(7, 8))


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
         ("sockets are gone: they were ", 4 * MM, " long", "; the corner will not be flush outside"), True),
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
