"""The joints of a job are compared in space: halves that lie apart are named, with the distance."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.joint import LooseTenonJoint, Member, MortiseAndTenon
from shopfloor.trade.meeting import ROUNDED, entering, faults, outside, standing, taking
from shopfloor.trade.part import Box, Face, HalfLap, Job, Line, LooseTenon, Mortise, Placement, Stock, Tenon

from .joined import job_of, standing_round
from .one_of_each import ONE_OF_EACH, STOCK

MM = 1_000_000
DEMO = demo_job()

RAIL = Member(Stock(20 * MM, 60 * MM, 300 * MM), Placement())
POST = standing_round("+Y -X +Z", Box(270 * MM, 320 * MM, -100 * MM, 200 * MM, -10 * MM, 30 * MM))
JOINT = MortiseAndTenon("t", "m", Face.FAR_END, 30 * MM, 6 * MM, 8 * MM, 10 * MM, 40 * MM)


def framed() -> Job:
    return job_of(RAIL, POST, JOINT.made(RAIL, POST))


def with_line(job: Job, key: str, **changes: object) -> Job:
    return replace(job, lines=tuple(replace(one, **changes) if one.key == key else one for one in job.lines))  # type: ignore[arg-type]


def moved(job: Job, key: str, by: tuple[int, int, int]) -> Job:
    (line,) = [line for line in job.lines if line.key == key]
    (part,) = line.parts
    assert part.stands is not None
    x, y, z = (at + step for at, step in zip(part.stands.at, by, strict=True))
    return with_line(job, key, parts=(replace(part, stands=replace(part.stands, at=(x, y, z))),))


def test_every_joint_of_the_demonstration_cabinet_lies_together() -> None:
    assert faults(DEMO) == ()
    assert len(DEMO.joints) > 100


def test_halves_that_lie_together_have_no_fault() -> None:
    assert faults(framed()) == ()


@pytest.mark.parametrize(
    ("by", "says"),
    [
        ((0, 2 * MM, 0), "lie 1.802 mm off each other"),  # the larger half of the gap of 1/64 in is there
        ((0, 0, -MM), "lie 0.975 mm off each other"),  # half of 0.002 in is there
        ((3 * MM, 0, 0), "lie 1.412 mm off each other"),  # the mortise is 1/16 in deeper
        ((0, 100 * MM, 0), "do not meet"),
    ],
)
def test_halves_that_lie_apart_are_named_with_their_distance(by: tuple[int, int, int], says: str) -> None:
    (fault,) = faults(moved(framed(), "enters", by))

    assert fault.where == 'joint "x"'
    assert fault.what == f'"t" of "enters.1" and "m" of "takes.1" {says}'


def test_an_assembly_that_stands_elsewhere_takes_its_joints_with_it() -> None:
    job = framed()
    turned = replace(job.assemblies[0], stands=Placement("-Y +Z +X", (7, 8, 9)))

    assert faults(replace(job, assemblies=(turned,))) == ()
    assert standing(replace(job, assemblies=(turned,)))["enters.1"] == Placement("-Y +Z +X", (7, 8, 9))


def test_parts_that_stand_nowhere_are_taken_on_trust() -> None:
    job = framed()
    (line,) = [line for line in job.lines if line.key == "enters"]

    assert faults(with_line(job, "enters", parts=(replace(line.parts[0], stands=None),))) == ()


def test_what_soundness_names_is_not_named_again() -> None:
    broken = with_line(framed(), "enters", features=(Tenon("t", Face.FAR_END, 30 * MM, 6 * MM, 80 * MM, 0, MM),))

    assert faults(broken) == ()
    assert faults(with_line(framed(), "takes", features=())) == ()


def test_a_haunch_may_lie_in_the_groove_beside_the_mortise() -> None:
    haunched = replace(
        JOINT, edge_offset=25 * MM, width=25 * MM, haunch_length=8 * MM, haunch_width=25 * MM, haunch_sunk=False
    )
    pair = haunched.made(RAIL, POST)
    job = job_of(RAIL, POST, pair)

    (fault,) = faults(job)
    groove = Mortise("g", pair.takes[0].face, 95 * MM, 60 * MM, 16 * MM, 8 * MM, 9 * MM)
    in_a_groove = with_line(job, "takes", features=(*pair.takes, groove))

    # Without a groove there is wood where the haunch should go, as deep as it is long; it is 8 wide and 8 long.
    assert "lie 7.949 mm off" in fault.what
    assert faults(in_a_groove) == ()


def loose(**changes: int) -> Job:
    joint = LooseTenonJoint("a", "b", Face.FAR_END, 6 * MM, 8 * MM, 10 * MM, 40 * MM, 20 * MM, 25 * MM)
    post = standing_round("+Y -X +Z", Box(300 * MM, 350 * MM, -100 * MM, 200 * MM, -10 * MM, 30 * MM))
    pair = joint.made(RAIL, post)
    return with_line(job_of(RAIL, post, pair), "enters", features=(replace(pair.enters[0], **changes),))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({}, None),
        ({"start": 11 * MM}, "lie 1 mm off each other"),
        ({"width": 9 * MM}, "lie 1 mm off each other"),
        ({"depth": 18 * MM}, "are 0.412 mm too shallow for their loose tenon"),
        ({"tenon": 40 * MM}, "ask for loose tenons of 40 mm and 43.412 mm"),
    ],
)
def test_a_loose_tenon_needs_two_mortises_mouth_to_mouth(changes: dict[str, int], says: str | None) -> None:
    found = faults(loose(**changes))

    assert [fault.what.partition('"takes.1" ')[2] for fault in found] == ([says] if says else [])


def test_loose_mortises_that_do_not_touch_do_not_meet() -> None:
    (fault,) = faults(moved(loose(), "enters", (MM, 0, 0)))

    assert fault.what.endswith("do not meet")


def test_spaces_side_by_side_hold_a_block_together() -> None:
    block = Box(0, 10, 0, 10, 0, 10)

    assert outside(block, [Box(0, 5, 0, 10, 0, 10), Box(5, 10, 0, 10, 0, 10)]) == 0
    assert outside(block, [Box(0, 5, 0, 10, 0, 10), Box(7, 10, 0, 10, 0, 10)]) == 2
    assert outside(block, [Box(2, 8, 2, 8, 2, 8)]) == 2
    assert outside(block, []) == 10


def test_of_a_lap_the_wood_that_stays_enters() -> None:
    lap = HalfLap("l", Face.FACE_SIDE, 0, 10, 4)

    assert entering(lap, Stock(10, 20, 100)) == (Box(0, 10, 0, 20, 4, 10),)
    assert taking(lap, Stock(10, 20, 100)) == (Box(0, 10, 0, 20, 0, 4),)


@pytest.mark.parametrize("name", ["tails", "tenon, haunched", "hole row, divided"])
def test_each_block_of_a_feature_enters_by_itself(name: str) -> None:
    assert len(entering(ONE_OF_EACH[name], STOCK)) == {"tails": 3, "tenon, haunched": 2, "hole row, divided": 5}[name]


def test_rounding_is_no_fault() -> None:
    job = framed()
    (line,) = [line for line in job.lines if line.key == "takes"]
    (mortise,) = line.features
    assert isinstance(mortise, Mortise)
    tight = replace(mortise, depth=30 * MM - ROUNDED)

    assert faults(with_line(job, "takes", features=(tight,))) == ()
    assert faults(with_line(job, "takes", features=(replace(tight, depth=30 * MM - ROUNDED - 1),))) != ()


def test_a_part_that_is_not_there_is_left_to_soundness() -> None:
    job = framed()
    nowhere = replace(job.joints[0], takes=replace(job.joints[0].takes, part="gone"))

    assert faults(replace(job, joints=(nowhere,))) == ()
    assert isinstance(loose().lines[0], Line)
    assert isinstance(loose().lines[0].features[0], LooseTenon)
