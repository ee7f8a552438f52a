"""Cases from the trade about joints, fit, layout and measuring: the sizes of the story in, the answers out.

Each function takes nothing: its numbers are those of the story.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from shopfloor.trade.fact import inch
from shopfloor.trade.fit import Window, judged, opening_for, passes, target, tenon_left, window
from shopfloor.trade.layout import checks, from_the_wrong_end, marks
from shopfloor.trade.length import INCH, MM, Length, write_inches
from shopfloor.trade.part import (
    Dado,
    Face,
    Feature,
    Groove,
    Line,
    Mortise,
    Stock,
    Taper,
    Tenon,
    Tongue,
    Unit,
)
from shopfloor.trade.proportions import face_shoulder
from shopfloor.trade.reading import doubt
from shopfloor.trade.route import route
from shopfloor.trade.turn import refusal
from shopfloor.trade.walls import faults, meetings
from tests.vectors import load

CASES = load("trade_joints")["cases"]

Answers = dict[str, Any]


def bench_leg(deep: Length) -> Line:
    """The leg of the story: mortises from the inside faces, their far walls measured from the outside ones."""
    near = inch(1, 8) + (inch(7, 8) - inch(3, 8)) // 2
    offset = inch(7, 4) - near - inch(3, 8)  # from the inside face, which is the face side, or the face edge
    both = (
        Mortise("side-rail", Face.FACE_SIDE, inch(1), inch(3), offset, inch(3, 8), deep),
        Mortise("end-rail", Face.FACE_EDGE, inch(1), inch(3), offset, inch(3, 8), deep),
    )
    return Line("leg", "legs", "Leg", inch(7, 4), inch(7, 4), inch(17), features=both)


def mortises_that_meet() -> Answers:
    leg = bench_leg(inch(5, 4))
    (met,) = meetings(leg)
    box = met.other.box(leg.stock)
    return {
        "mortise far wall from the outside face": inch(7, 4) - box.z0,
        "depth where they meet": met.one_at_most,
        "overlap at 1 1/4": met.shared.z1 - met.shared.z0,
    }


def tenons_from_a_scattered_pile() -> Answers:
    shoulder = face_shoulder(inch(750, 1000), inch(375, 1000))
    left = {text: tenon_left(inch(int(text[2:]), 1000), round(shoulder)) for text in ("0.765", "0.750", "0.735")}
    wanted = window(inch(378, 1000), least=inch(3, 1000), most=inch(10, 1000))
    return {
        **{f"from {text}": nm for text, nm in left.items()},
        "thickest allowed": wanted.thickest,
        "thinnest allowed": wanted.thinnest,
    }


def heavy_leg() -> Line:
    tenon = Tenon("top", Face.DATUM_END, inch(5, 4), inch(1), inch(1), inch(1), inch(1))
    start = tenon.shoulder(Stock(inch(3), inch(3), inch(33))) + inch(6)
    mortise = Mortise("stretcher", Face.FACE_SIDE, start, inch(4), inch(1), inch(1), inch(2))
    return Line("leg", "legs", "Leg", inch(3), inch(3), inch(33), datum="top", features=(tenon, mortise))


def below_the_shoulder() -> Answers:
    leg = heavy_leg()
    (top,) = [mark.at for mark in marks(leg) if mark.says == "mortise starts"]
    (foot,) = [check.from_far_end for check in checks(leg) if check.mark.says == "mortise starts"]
    return {"from the top end": top, "from the foot": foot}


def side_laid_out_upside_down() -> Answers:
    side = Line(
        "side", "case", "Side", inch(3, 4), inch(12), inch(34), datum="bottom",
        features=(Dado("shelf", Face.FACE_SIDE, inch(33, 4), inch(3, 4), inch(1, 4)),),
    )  # fmt: skip
    lands = from_the_wrong_end(side)[0].at
    return {"lower edge from the bottom": lands, "off by": lands - inch(33, 4)}


def burnt_inch() -> Answers:
    found = doubt(inch(189, 8), inch(181, 8), Unit.INCH)
    assert found
    return {"actual": inch(189, 8) + found.off}


def read_upside_down() -> Answers:
    stile, metric = doubt(inch(39, 2), inch(33, 2), Unit.INCH), doubt(1206 * MM, 1026 * MM, Unit.MM)
    assert stile
    assert metric
    return {"stile": -stile.off, "metric part": Fraction(-metric.off, MM)}


def dado_for_a_real_shelf() -> Answers:
    wide = opening_for(inch(805, 1000), inch(5, 1000))
    cut = passes(wide, inch(750, 1000))
    return {"dado": wide, "shift": cut.shift, "passes": cut.times}


def remade_rail() -> Answers:
    return {"target": target(inch(381, 1000), inch(5, 1000))}


WORKED: dict[str, Callable[[], Answers]] = {
    "T13": mortises_that_meet, "T14": tenons_from_a_scattered_pile, "T16": below_the_shoulder,
    "T18": side_laid_out_upside_down, "T20": burnt_inch, "T21": read_upside_down,
    "T34": dado_for_a_real_shelf, "T36": remade_rail, "T38": dict,
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['id']}-{case['piece'].replace(' ', '-')}")
def test_the_answer_to_the_story_is_right(case: dict[str, Any]) -> None:
    answers = WORKED[case["id"]]()

    assert answers.keys() == {expected["name"] for expected in case["expect"]}
    for expected in case["expect"]:
        unit = INCH if expected["unit"] == "in" else 1
        assert answers[expected["name"]] == Fraction(expected["exact"]) * unit
        if "reading" in expected:
            assert write_inches(answers[expected["name"]], 64) == expected["reading"]


def test_every_case_of_the_file_is_worked_out() -> None:
    assert {case["id"] for case in CASES} == set(WORKED)


# --- what must be so besides the numbers -----------------------------------------------------------------------------


def test_over_an_inch_the_warning_names_both_joints_and_offers_shorter_or_mitred_tenons() -> None:
    (fault,) = faults(bench_leg(inch(5, 4)))

    assert str(fault) == (
        'line "leg", feature "side-rail": its mortise and the mortise "end-rail" meet inside: 1/4 in of the wood goes '
        "for both. Make them 15/16 in deep at most, or mitre the two tenons where they meet."
    )
    assert [fault.what.partition(" between")[0] for fault in faults(bench_leg(inch(1)))] == [
        "no wood is left, corner to corner,"
    ]
    assert faults(bench_leg(inch(15, 16))) == ()


def test_only_the_part_of_the_right_thickness_fits() -> None:
    wanted = Window(inch(368, 1000), inch(375, 1000))
    verdicts = {mil: judged(inch(mil, 1000), wanted) for mil in (390, 375, 360)}

    assert {mil: verdict.fits for mil, verdict in verdicts.items()} == {390: False, 375: True, 360: False}
    assert verdicts[390].over == inch(15, 1000)
    assert verdicts[360].under == inch(8, 1000)


@pytest.mark.parametrize(
    ("wanted", "reading", "unit", "says"),
    [
        (inch(189, 8), inch(181, 8), Unit.INCH, "was the tape held at its mark"),
        (1206 * MM, 1196 * MM, Unit.MM, "was the tape held at its mark"),
        (1206 * MM, 1106 * MM, Unit.MM, "was the tape held at its mark"),
        (inch(39, 2), inch(33, 2), Unit.INCH, "look alike upside down"),
        (960 * MM, 690 * MM, Unit.MM, "look alike upside down"),
        (1206 * MM, 1026 * MM, Unit.MM, "two digits may stand in the wrong order"),
        (inch(20), inch(41, 2), Unit.INCH, "measure again"),
    ],
)
def test_a_reading_that_looks_like_a_slip_is_asked_about(wanted: int, reading: int, unit: Unit, says: str) -> None:
    found = doubt(wanted, reading, unit)

    assert found
    assert says in "".join(str(piece) for piece in found.says)


@pytest.mark.parametrize("off", [0, inch(1, 64), -inch(1, 16), inch(15, 64)])
def test_a_reading_a_little_off_is_simply_kept(off: int) -> None:
    assert doubt(inch(189, 8), inch(189, 8) + off, Unit.INCH) is None


DOOR_STILE = (
    Tenon("t", Face.DATUM_END, inch(1), inch(1, 4), inch(1, 4), inch(1, 2), inch(2)),
    Groove("g", Face.FACE_EDGE, inch(1, 4), inch(1, 4), inch(3, 8)),
    Dado("d", Face.FACE_SIDE, inch(9), inch(3, 4), inch(1, 4)),
    Mortise("m", Face.FACE_EDGE, inch(3), inch(2), inch(1, 4), inch(1, 4), inch(1)),
    Taper("p", Face.FACE_EDGE, inch(6), inch(1, 2)),
)


def stile(*features: Feature) -> Line:
    return Line("stile", "door", "Stile", inch(3, 4), inch(3), inch(28), features=features)


def test_thickness_before_joints_across_before_along_mortise_before_tenon_joints_before_tapers() -> None:
    assert [step.key for step in route(stile(*DOOR_STILE), joined=False)] == [
        "rough", "mill", "length", "mark", "mortise", "dado", "groove", "tenon", "taper", "glue", "finish",
    ]  # fmt: skip


def test_a_panel_is_raised_at_its_ends_before_its_edges() -> None:
    faces = (Face.FACE_EDGE, Face.FAR_EDGE, Face.DATUM_END, Face.FAR_END)
    panel = stile(*(Tongue(face.value, face, inch(3, 8), inch(1, 4), inch(1, 4)) for face in faces))

    (step,) = [step for step in route(panel, joined=False) if step.key == "tongue"]

    assert step.detail[-1] == "; ends first, then edges"


@pytest.mark.parametrize(
    ("step", "done", "says"),
    [
        ("mortise", {"taper"}, "the mortise is measured from the face edge, and the taper has taken that away"),
        ("groove", {"taper"}, "the groove is measured from the face edge, and the taper has taken that away"),
        ("tenon", {"taper"}, "the tenon is measured from the face edge, and the taper has taken that away"),
        ("dado", {"mill", "taper"}, "the dado is measured from the face edge, and the taper has taken that away"),
        ("mortise", {"mill", "dado"}, ""),
        ("taper", {"mortise", "tenon"}, ""),
        ("glue", {"taper"}, ""),
    ],
)
def test_a_step_whose_reference_was_cut_away_is_refused(step: str, done: set[str], says: str) -> None:
    assert refusal(stile(*DOOR_STILE), step, done) == says


def test_a_taper_on_the_far_edge_takes_no_reference_away() -> None:
    line = stile(DOOR_STILE[3], Taper("p", Face.FAR_EDGE, inch(6), inch(1, 2)))

    assert refusal(line, "mortise", {"taper"}) == ""
