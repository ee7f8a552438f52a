"""Typed parts that cross, or end on the middle of a mate: cross laps, T laps and T bridles, with their marks."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from shopfloor.trade import meeting
from shopfloor.trade.abutment import Abutment
from shopfloor.trade.document import check
from shopfloor.trade.joining import Definition, Joining, Kind, proposed
from shopfloor.trade.joint import BadJoint
from shopfloor.trade.layout import marks
from shopfloor.trade.length import Length, read
from shopfloor.trade.pairing import joined
from shopfloor.trade.part import EDGES, ENDS, FACES, Bridle, Face, HalfLap, Job, Line, OpenMortise, Unit
from tests.trade.joined import job_of
from tests.trade.test_joining import JOB, LEG, OWNED, RAIL, SLAT, STILE

PAIR = {"slat.1": "stile.1"}
TWO: Job = replace(JOB, lines=(SLAT, STILE))


def meeting_of(
    kind: Kind = Kind.HALF_LAP, comes: Line = SLAT, mate: Line = STILE, *, past: Length = 0, **meets: object
) -> Joining:
    given = {"end": Face.DATUM_END, "face": Face.FACE_EDGE, "at": read("10")} | meets
    return Joining(kind, comes, mate, Abutment(**given), past=past)  # type: ignore[arg-type]


def one(asked: Joining) -> Definition:
    (joint,) = proposed(asked, OWNED, Unit.INCH)
    return joint


def lie_together(asked: Joining, *, same_hand: bool = True) -> None:
    pair = asked.made(one(asked), same_hand=same_hand)
    members = asked.stands().members(asked.comes.stock, asked.mate.stock, asked.deep(one(asked)), same_hand=same_hand)
    job = job_of(*(reversed(members) if asked.kind is Kind.BRIDLE else members), pair)
    assert meeting.faults(job) == () and check(job) == []


def test_two_slats_cross_by_laps_away_from_their_ends() -> None:
    asked = meeting_of(past=read("5"))

    (own,), (its,) = asked.made(one(asked))

    # The slat goes on 5 in past the stile, and crosses it over its 2 1/2 in; both lie in one plane and lose half of
    # 3/4, the slat from its back and the stile from its face side.
    assert own == HalfLap("lap", Face.BACK, read("5"), read("2 1/2"), read("3/8"))
    assert its == HalfLap("lap", Face.FACE_SIDE, read("10"), read("2 1/2"), read("3/8"))
    lie_together(asked)


def test_the_far_end_goes_past_as_well() -> None:
    asked = meeting_of(past=read("5"), end=Face.FAR_END)

    (own,), (its,) = asked.made(one(asked))

    # 18 3/4 less 5 less 2 1/2.
    assert isinstance(own, HalfLap) and isinstance(its, HalfLap)
    assert (own.start, own.length) == (read("11 1/4"), read("2 1/2"))
    assert its.start == read("10")


def test_a_slat_ends_in_the_middle_of_a_stile_by_a_t_lap() -> None:
    thin = replace(SLAT, thickness=read("1/2"))
    asked = meeting_of(comes=thin, behind=0)

    (own,), (its,) = asked.made(one(asked))

    # Flush with the face side of the stile: half of the slat's 1/2 stays, and lies 1/4 deep in the stile.
    assert own == HalfLap("lap", Face.BACK, 0, read("2 1/2"), read("1/4"))
    assert its == HalfLap("lap", Face.FACE_SIDE, read("10"), read("2 1/2"), read("1/4"))
    lie_together(asked)


def test_slats_on_edge_are_cut_half_into_their_edges() -> None:
    asked = meeting_of(past=read("5"), face=Face.FACE_SIDE, across=True)

    (own,), (its,) = asked.made(one(asked))

    # As thick as the mate, 3/4 wide; half of 2 1/2 deep, from opposite edges.
    assert own == HalfLap("lap", Face.FAR_EDGE, read("5"), read("3/4"), read("1 1/4"))
    assert its == HalfLap("lap", Face.FACE_EDGE, read("10"), read("3/4"), read("1 1/4"))
    lie_together(asked)


def test_a_slot_at_an_end_straddles_a_tongue_in_the_middle_by_a_t_bridle() -> None:
    asked = meeting_of(Kind.BRIDLE)
    joint = one(asked)
    gap = joint.fit.thickness  # type: ignore[union-attr]

    bridle, slot = asked.made(joint)

    # A third of 3/4 in the middle; the slot is as deep as the stile is wide.
    assert slot == (OpenMortise("slot", Face.DATUM_END, read("2 1/2"), read("1/4"), read("1/4")),)
    assert bridle == (
        Bridle("bridle", Face.FACE_SIDE, read("10"), read("2 1/2"), read("1/4") + gap // 2, read("1/4") - gap),
    )
    lie_together(asked)


@pytest.mark.parametrize("same_hand", [True, False])
@pytest.mark.parametrize(("kind", "past"), [
    (Kind.HALF_LAP, "5"), (Kind.HALF_LAP, "0"), (Kind.BRIDLE, "0"),
])  # fmt: skip
def test_crossing_halves_coincide_however_they_meet(kind: Kind, past: str, same_hand: bool) -> None:
    for end, face, turned in product(ENDS, EDGES, (False, True)):
        lie_together(meeting_of(kind, past=read(past), end=end, face=face, turned=turned), same_hand=same_hand)
    if kind is Kind.HALF_LAP:
        for end, face in product(ENDS, FACES):
            lie_together(meeting_of(kind, past=read(past), end=end, face=face, across=True), same_hand=same_hand)


def test_a_leg_straddles_a_thinner_rail() -> None:
    leg = replace(LEG, parts=LEG.parts[:1])
    asked = meeting_of(Kind.BRIDLE, leg, RAIL, face=Face.FAR_EDGE)

    bridle, slot = asked.made(one(asked))

    # A third of the rail's 3/4, and as deep as it is wide; in the middle of the leg: half of 1 3/4 less 1/4.
    assert slot == (OpenMortise("slot", Face.DATUM_END, read("2 1/2"), read("3/4"), read("1/4")),)
    assert isinstance(bridle[0], Bridle) and (bridle[0].start, bridle[0].length) == (read("10"), read("1 3/4"))
    lie_together(asked)


@pytest.mark.parametrize(("asked", "what", "do"), [
    (meeting_of(Kind.BRIDLE, past=read("1")), "goes on past the mate", "cross the two by a half lap"),
    # The slat is 18 3/4 long and the stile 2 1/2 wide.
    (meeting_of(past=read("17")), "no 17 in of the part are left", "reaches 16 1/4 in past it at most"),
    # In the middle of a leg 1 3/4 thick a rail of 3/4 leaves 1/2 on either side.
    (meeting_of(Kind.BRIDLE, RAIL, LEG), "1/2 in of that would lie open", "a part come that is 1 3/4 in thick"),
])  # fmt: skip
def test_what_cannot_cross_so_says_why_and_what_would_do(asked: Joining, what: str, do: str) -> None:
    with pytest.raises(BadJoint) as told:
        asked.made(one(asked))

    assert what in told.value.what and do in told.value.do


def test_a_crossing_is_marked_on_both_and_leaves_the_ends_free() -> None:
    crossed = joined(TWO, meeting_of(past=read("5")), [one(meeting_of())], PAIR)
    slat, stile = crossed.lines

    assert [mark.at for mark in marks(slat)] == [read("5"), read("7 1/2")]
    assert [mark.at for mark in marks(stile)] == [read("10"), read("12 1/2")]
    assert check(crossed) == [] and [each.letter for each in crossed.joints] == ["4A"]

    # The end that goes past may have a joint of its own, with another mate or with this one.
    tenon = meeting_of(Kind.MORTISE_AND_TENON, slat, stile, at=read("2"))
    both = joined(crossed, tenon, proposed(tenon, OWNED, Unit.INCH), PAIR)
    again = meeting_of(comes=both.lines[0], mate=both.lines[1], past=read("10"), at=read("20"))
    third = joined(both, again, proposed(again, OWNED, Unit.INCH), PAIR)

    assert [each.letter for each in third.joints] == ["4A", "4B", "4C"]
    assert check(third) == []


@pytest.mark.parametrize(("past", "at", "says"), [
    ("5", "10", "Slat has a half lap already 5 in from its datum end"),
    ("6", "20", "Slat has a half lap already 6 in from its datum end"),
    ("12", "11", "Stile has a half lap already 11 in from its datum end"),
])  # fmt: skip
def test_two_laps_in_one_place_are_refused(past: str, at: str, says: str) -> None:
    crossed = joined(TWO, meeting_of(past=read("5")), [one(meeting_of())], PAIR)
    again = meeting_of(comes=crossed.lines[0], mate=crossed.lines[1], past=read(past), at=read(at))

    with pytest.raises(BadJoint, match=says):
        joined(crossed, again, proposed(again, OWNED, Unit.INCH), PAIR)


def test_an_end_that_is_lapped_is_taken() -> None:
    lapped = joined(TWO, meeting_of(), [one(meeting_of())], PAIR)
    tenon = meeting_of(Kind.MORTISE_AND_TENON, *lapped.lines, at=read("2"))

    with pytest.raises(BadJoint, match="Slat is joined at its datum end already, 4A"):
        joined(lapped, tenon, proposed(tenon, OWNED, Unit.INCH), PAIR)
