"""A job is composed of its constructions, and keeps what was typed by hand."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Construction, compose, derive, follow, known, own
from shopfloor.trade.construct.derived import Override, StackName
from shopfloor.trade.construct.doors import Doors
from shopfloor.trade.construct.frame_choices import Frame, Tenon
from shopfloor.trade.construct.legs import Legs
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.construct.lone_frame import LoneFrame
from shopfloor.trade.construct.lone_shelves import InDadoes, LoneShelves
from shopfloor.trade.construct.lone_top import LoneTop
from shopfloor.trade.construct.lone_web_frames import LoneWebFrames, SideTongue
from shopfloor.trade.construct.plain import Hands, Plain
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.table import Table
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Face, Hand, Hole, Job, Unit
from shopfloor.trade.record import Reader, plain

from .choir_cabinet import CHOIR_CABINET

DEMO = demo_job()
HEAD = replace(DEMO, assemblies=(), lines=(), joints=(), constructions=())
KNOB = Plain("knob", "Knob", read("1"), read("1"), read("1 1/2"), count=6, species="cherry")
SECOND = replace(CHOIR_CABINET, key="second")


def test_the_demo_job_is_its_head_and_one_construction() -> None:
    composed = compose(HEAD, [CHOIR_CABINET])

    assert composed.faults == ()
    assert composed.job == DEMO


def test_stacks_are_numbered_on_and_the_job_is_sound() -> None:
    composed = compose(HEAD, [CHOIR_CABINET, KNOB, SECOND])

    assert composed.faults == ()
    assert check(composed.job) == []
    assert [each.number for each in composed.job.assemblies] == list(range(1, 26))
    assert [each.key for each in composed.job.assemblies][11:15] == ["top", "knob", "second-legs", "second-left-side"]


def test_a_second_cabinet_is_the_first_with_other_keys() -> None:
    first, second = (derive(each) for each in (CHOIR_CABINET, SECOND))

    assert [line.key for line in second.lines] == [f"second-{line.key}" for line in first.lines]
    assert [(line.stock, line.features) for line in second.lines] == [
        (line.stock, line.features) for line in first.lines
    ]
    assert second.derived == first.derived


def test_a_fault_names_its_construction() -> None:
    (fault,) = derive(replace(SECOND, width=read("3"))).faults

    assert fault.where == "second-clear-width"


def test_what_was_set_by_hand_stays_when_a_cabinet_is_renamed() -> None:
    made = replace(CHOIR_CABINET, overrides=(Override("back-top-rail.length", read("24 1/4")),))

    assert derive(made).by_hand == derive(replace(made, key="other")).by_hand != ()


def test_two_constructions_of_one_key_are_not_mixed_up() -> None:
    composed = compose(HEAD, [CHOIR_CABINET, KNOB, KNOB])

    assert composed.faults == (Fault('construction 3, "knob"', 'there is an assembly "knob" already',
                                     "Give the construction a key of its own."),)  # fmt: skip
    assert composed.job.lines == compose(HEAD, [CHOIR_CABINET, KNOB]).job.lines
    assert composed.job.constructions == (CHOIR_CABINET, KNOB, KNOB)


def test_what_was_typed_by_hand_is_told_from_what_follows() -> None:
    typed = compose(HEAD, [KNOB]).job
    typed = replace(typed, constructions=(), assemblies=tuple(replace(each, made_by="") for each in typed.assemblies))
    composed = compose(typed, [CHOIR_CABINET]).job

    assert own(composed) == typed
    assert own(DEMO) == HEAD
    assert follow(composed).job == composed
    assert follow(DEMO).job == DEMO


def test_a_stack_keeps_its_number_and_its_letters_when_another_construction_grows() -> None:
    cabinet = replace(CHOIR_CABINET, drawers=None)
    before = compose(HEAD, [cabinet, SECOND]).job
    grown = follow(before, [replace(cabinet, drawers=CHOIR_CABINET.drawers), SECOND])

    numbers = {each.key: each.number for each in grown.job.assemblies}
    assert {each.key: each.number for each in before.assemblies}.items() <= numbers.items()
    assert {each.key: each.letter for each in before.joints}.items() <= {
        each.key: each.letter for each in grown.job.joints
    }.items()
    assert sorted(numbers.values()) == list(range(1, 25))
    assert [numbers[f"drawer-{nth}"] for nth in range(1, 7)] == list(range(19, 25))
    assert check(grown.job) == []
    assert grown.faults == ()


LEFT = "left-side"


def wrong(job: Job) -> tuple[Construction, ...]:
    """The cabinet with rails of the left side that fill it, so that nothing of that side can be made."""
    (cabinet,) = job.constructions
    assert isinstance(cabinet, Cabinet)
    assert cabinet.left.frame
    return (replace(cabinet, left=replace(cabinet.left, frame=replace(cabinet.left.frame, rails=(read("20"),) * 2))),)


def test_what_was_wrong_and_is_put_right_is_as_it_was_to_the_last_letter() -> None:
    broken = follow(DEMO, wrong(DEMO))
    assert broken.faults
    assert LEFT not in {each.key for each in broken.job.assemblies}

    assert follow(broken.job, DEMO.constructions, known(DEMO)).job == DEMO
    # Also where nothing was saved yet, so that nobody knows how it was.
    assert follow(broken.job, DEMO.constructions).job == DEMO


def test_what_comes_new_while_something_is_gone_is_not_given_its_number() -> None:
    broken = follow(DEMO, (*wrong(DEMO), KNOB), known(DEMO)).job
    back = follow(broken, (*DEMO.constructions, KNOB), known(DEMO)).job

    assert {each.key: each.number for each in broken.assemblies}["knob"] == len(DEMO.assemblies) + 1
    assert {each.key: each.number for each in DEMO.assemblies}.items() <= {
        each.key: each.number for each in back.assemblies
    }.items()


def test_a_letter_stays_with_its_joint_when_others_of_its_stack_go_and_come() -> None:
    """Three rails on a side instead of two: those that stand keep the letters that are on their wood."""
    (cabinet,) = DEMO.constructions
    assert isinstance(cabinet, Cabinet)
    assert cabinet.left.frame
    three = replace(cabinet.left.frame, rails=(read("3"),) * 3)
    grown = follow(DEMO, (replace(cabinet, left=replace(cabinet.left, frame=three)),), known(DEMO))
    assert grown.faults == ()

    now = {each.key: each.letter for each in grown.job.joints}
    stayed = {each.key: each.letter for each in DEMO.joints if each.key in now and each.letter}
    assert stayed.items() <= now.items()
    new = [letter for key, letter in now.items() if letter and key not in stayed]
    assert new
    assert not set(new) & {each.letter for each in DEMO.joints}


def test_a_construction_taken_out_leaves_what_was_typed_and_the_others() -> None:
    both = compose(HEAD, [CHOIR_CABINET, KNOB]).job

    without = follow(both, [KNOB]).job

    assert [(each.key, each.number) for each in without.assemblies] == [("knob", 13)]
    assert [each.key for each in without.lines] == ["knob"]


def test_parts_typed_by_hand_stay_before_what_is_derived() -> None:
    typed = compose(HEAD, [KNOB]).job

    composed = compose(typed, [CHOIR_CABINET])

    assert composed.job.lines[0] == typed.lines[0]
    assert [each.number for each in composed.job.assemblies] == list(range(1, 14))


def test_plain_parts_in_pairs_are_every_second_one_mirrored() -> None:
    hole = Hole("pin", Face.FACE_SIDE, read("1"), read("1/2"), read("1/4"), read("3/8"))
    brackets = Plain("bracket", "Bracket", read("3/4"), read("2"), read("6"), 4, Hands.PAIRS, features=(hole,))
    (line,) = derive(brackets).lines

    assert [part.hand for part in line.parts] == [Hand.AS_DRAWN, Hand.MIRROR] * 2
    assert line.features == (hole,)
    assert check(compose(HEAD, [brackets]).job) == []


@pytest.mark.parametrize(("changed", "fault"), [
    ({"count": 3, "hands": Hands.PAIRS},
     Fault("knob.count", "3 parts do not go in pairs", "2 or 4 would do.")),
    ({"count": 10_000}, Fault("knob.count", "10000 parts", "1 to 1000 would do.")),
    ({"width": 0}, Fault("knob.width", "a width of 0 in", "Give it a size.")),
])  # fmt: skip
def test_plain_parts_that_cannot_be_made_are_said(changed: dict[str, Any], fault: Fault) -> None:
    built = derive(replace(KNOB, **changed))

    assert (built.faults, built.lines, built.assemblies) == ((fault,), (), ())


KINDS: dict[str, Construction] = {
    "cabinet": replace(
        SECOND, overrides=(Override("drawer.height", read("3 3/4")),), names=(StackName("second-top", "Lid"),)
    ),
    "carcase": Carcase(read("30"), read("12"), read("34"), read("3/4"), species="ash"),
    "doors": Doors(read("15"), read("28"), Frame(read("3/4"), (read("3"),) * 2, Tenon(read("1/4"), read("1"),
                   read("1/4")), stiles=(read("2"),) * 2)),
    "table": starter(Table, Unit.INCH, key="bench"),
    "frame": starter(LoneFrame, Unit.INCH),
    "web frames": starter(LoneWebFrames, Unit.INCH, tongue=starter(SideTongue, Unit.INCH)),
    "drawers": starter(LoneDrawers, Unit.INCH),
    "top": starter(LoneTop, Unit.INCH),
    "shelf": starter(LoneShelves, Unit.INCH, dadoes=starter(InDadoes, Unit.INCH)),
    "plain": KNOB,
}  # fmt: skip


def test_every_kind_of_construction_is_among_these() -> None:
    assert KINDS.keys() == CONSTRUCTIONS.keys()
    assert all(CONSTRUCTIONS[kind] is type(made) for kind, made in KINDS.items())


@pytest.mark.parametrize("made", KINDS.values(), ids=KINDS)
def test_a_construction_can_be_written_and_read_back(made: Construction) -> None:
    """With the serialiser of the document as it is: plain values, lengths in nanometres."""
    reader = Reader(int)

    again = reader.record(type(made), plain(made, lambda nm: nm), "")

    assert reader.faults == []
    assert again == made


def test_deriving_the_demo_takes_less_than_a_tenth_of_a_second() -> None:
    spent = []
    for _ in range(5):
        start = time.perf_counter()
        derive(CHOIR_CABINET)
        spent.append(time.perf_counter() - start)

    assert min(spent) < 0.1


def test_legs_alone_are_a_case() -> None:
    bare = derive(Cabinet(read("20"), read("15"), read("30"), Legs(read("1 1/2"))))

    assert bare.faults == ()
    assert [(line.name, len(line.parts), line.length) for line in bare.lines] == [("Leg", 2, read("30"))] * 2
    assert check(Job("bare", "Bare", assemblies=bare.assemblies, lines=bare.lines)) == []
