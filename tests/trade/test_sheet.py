"""Marks, routes and sheets of a small frame that can be checked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.trade.layout import marks
from shopfloor.trade.part import (
    Assembly,
    Dado,
    Face,
    Groove,
    Half,
    Hand,
    Hole,
    Job,
    Joint,
    Line,
    Mortise,
    Part,
    Rabbet,
    Tenon,
    Tongue,
)
from shopfloor.trade.route import route
from shopfloor.trade.sheet import called, sheets, stack_key
from tests.vectors import load

INCH = 25_400_000

LEG = Line(
    key="leg", assembly="legs", name="Leg", thickness=2 * INCH, width=2 * INCH, length=30 * INCH, datum="top",
    features=(
        Mortise("m", Face.BACK, start=1 * INCH, length=2 * INCH, offset=INCH // 2, width=INCH // 2, depth=INCH),
        Groove("g", Face.BACK, offset=INCH // 2, width=INCH // 2, depth=INCH // 4),
    ),
    parts=(Part("leg.left", "front left"), Part("leg.right", "front right", Hand.MIRROR)),
)  # fmt: skip
RAIL = Line(
    key="rail", assembly="frame", name="Rail", thickness=INCH, width=3 * INCH, length=20 * INCH, datum="left",
    species="ash",
    features=(
        Tenon("t-left", Face.DATUM_END, INCH, INCH // 4, INCH // 2, INCH // 2, 2 * INCH),
        Tenon("t-right", Face.FAR_END, INCH, INCH // 4, INCH // 2, INCH // 2, 2 * INCH),
    ),
    parts=(Part("rail.front", "front"),),
)  # fmt: skip
JOB = Job(
    key="frame", name="Frame", species="cherry",
    assemblies=(Assembly("frame", 2, "Frame"), Assembly("legs", 1, "Legs")),
    lines=(RAIL, LEG),
    joints=(
        Joint("j1", Half("rail.front", "t-left"), Half("leg.left", "m"), "2A"),
        Joint("j2", Half("rail.front", "t-right"), Half("leg.right", "m"), "2B"),
    ),
)  # fmt: skip
CODES = {
    "leg.left": "AAAAAA", "leg.right": "BBBBBB", "rail.front": "CCCCCC",
    stack_key("legs"): "SSSSSS", stack_key("frame"): "TTTTTT",
}  # fmt: skip


def test_marks_are_distances_from_the_datum_end() -> None:
    assert [(mark.at // INCH, mark.says, mark.feature) for mark in marks(LEG)] == [
        (1, "mortise starts", "m"),
        (3, "mortise ends", "m"),
    ]
    assert [(mark.at // INCH, mark.says) for mark in marks(RAIL)] == [(1, "shoulder"), (19, "shoulder")]


def test_a_rabbet_across_an_end_and_a_hole_are_marked_once() -> None:
    side = replace(
        LEG,
        features=(
            Rabbet("r", Face.FACE_SIDE, Face.FAR_END, width=INCH, depth=INCH),
            Hole("h", Face.FACE_SIDE, start=5 * INCH, offset=INCH, diameter=INCH),
            Dado("d", Face.FACE_SIDE, start=7 * INCH, width=INCH, depth=INCH),
            Tongue("e", Face.FACE_EDGE, INCH // 4, INCH // 4, INCH // 4),
        ),
    )

    assert [(mark.at // INCH, mark.says) for mark in marks(side)] == [
        (5, "hole, its middle"),
        (7, "dado starts"),
        (8, "dado ends"),
        (29, "rabbet, its edge"),
    ]


def test_a_groove_that_runs_out_at_both_ends_has_no_marks() -> None:
    assert marks(replace(LEG, features=LEG.features[1:])) == ()


def test_a_leg_goes_from_rough_to_finish_mortise_before_groove() -> None:
    assert [step.key for step in route(LEG, joined=True)] == [
        "rough", "mill", "length", "mark", "mortise", "groove", "fit", "glue", "finish",
    ]  # fmt: skip


def test_a_plain_part_has_nothing_to_mark_and_nothing_to_fit() -> None:
    plain = replace(LEG, features=())

    assert [step.key for step in route(plain, joined=False)] == ["rough", "mill", "length", "glue", "finish"]


def test_a_floating_panel_is_finished_before_it_is_closed_in() -> None:
    edges = (Face.FACE_EDGE, Face.FAR_EDGE)
    panel = replace(LEG, features=tuple(Tongue(edge, edge, INCH // 4, INCH // 4, INCH // 4) for edge in edges))

    assert [step.key for step in route(panel, joined=True)][-2:] == ["finish", "glue"]


def test_a_drawer_side_tongued_at_its_end_is_glued_like_any_part() -> None:
    side = replace(LEG, features=(Tongue("e", Face.FAR_END, INCH // 4, INCH // 4, INCH // 4),))

    assert [step.key for step in route(side, joined=True)][-2:] == ["glue", "finish"]


@pytest.mark.parametrize(
    ("key", "done", "detail"),
    [
        ("mortise", "Mortise cut", (INCH // 2, " wide, ", INCH, " deep")),
        ("mark", "Marked out", ("2 marks from the top",)),
        ("length", "Cut to length", (30 * INCH, " long")),
    ],
)
def test_a_step_says_what_will_be_true_and_the_numbers_that_matter(
    key: str, done: str, detail: tuple[str | int, ...]
) -> None:
    step = next(step for step in route(LEG, joined=True) if step.key == key)

    assert (step.done, step.detail) == (done, detail)


def test_sheets_come_stack_by_stack_and_know_mates_letters_and_hand() -> None:
    left, right, _ = sheets(JOB, CODES)

    assert (left.part.key, left.nth, left.stack_code, left.letters) == ("leg.left", (1, 2), "SSSSSS", ("2A",))
    assert left.mirrors == ""
    assert (right.part.key, right.nth, right.mirrors) == ("leg.right", (2, 2), "front left")
    assert right.marks == left.marks


def test_a_mirror_image_is_named_even_when_it_is_on_a_line_of_its_own() -> None:
    own = replace(LEG, key="leg-right", parts=(LEG.parts[1],))
    job = replace(JOB, lines=(RAIL, replace(LEG, parts=(LEG.parts[0],)), own))

    _, right, _ = sheets(job, CODES)

    assert right.mirrors == "front left"


def test_a_rail_knows_its_mates_by_pair_letter() -> None:
    left, _, rail = sheets(JOB, CODES)

    assert rail.letters == ("2A", "2B")
    assert [(mate.code, mate.says) for mate in rail.mates] == [
        ("AAAAAA", "tenon enters its mortise"),
        ("BBBBBB", "tenon enters its mortise"),
    ]
    assert (left.species, rail.species) == ("cherry", "ash")


@pytest.mark.parametrize("row", load("called"), ids=lambda row: row["called"])
def test_a_part_is_called_the_same_in_the_office_and_on_the_phone(row: dict[str, str]) -> None:
    assert called(row["name"], row["place"]) == row["called"]


def test_parts_without_a_place_are_told_from_their_twins_by_their_number() -> None:
    slats = Line("slat", "seat", "Slat", INCH, 2 * INCH, 30 * INCH, parts=tuple(Part(f"slat.{n}") for n in (1, 2, 3)))
    seat = Line("seat", "seat", "Seat", INCH, 20 * INCH, 30 * INCH, parts=(Part("seat.1"),))
    job = Job("bench", "Bench", assemblies=(Assembly("seat", 1, "Seat"),), lines=(slats, seat))
    codes = {key: key for key in ("slat.1", "slat.2", "slat.3", "seat.1", stack_key("seat"))}

    assert [one.called for one in sheets(job, codes)] == ["Slat, 1 of 3", "Slat, 2 of 3", "Slat, 3 of 3", "Seat"]
