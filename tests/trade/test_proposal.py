"""Proposals for joints follow the trade's rules, take a cutter that the shop owns, and can be made."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.document import check
from shopfloor.trade.fact import inch
from shopfloor.trade.fit import FLUSH, SNUG, BadFit, passes, target, tenon_left, window
from shopfloor.trade.joint import BadJoint, Member
from shopfloor.trade.meeting import faults
from shopfloor.trade.part import Box, Face, Placement, Stock
from shopfloor.trade.proposal import dovetails, haunched, mortise_and_tenon, shelf_in_dado, tongue_in_groove

from .joined import job_of, standing_round

CUTTERS = [inch(each, 16) for each in (2, 3, 4, 5, 6, 8)]
END = Face.FAR_END


def rail(thickness: int, width: int, length: int = inch(20)) -> Member:
    return Member(Stock(thickness, width, length), Placement())


def upright(wide: int, thick: int, at: int, rail_width: int) -> Member:
    """A stile or leg whose edge stands at x = `at`, its top flush with the rail's face edge, wide enough behind."""
    return standing_round("+Y -X +Z", Box(at, at + wide, -inch(1), rail_width + inch(20), 0, thick))


def test_a_door_frame_has_a_third_of_its_thickness_and_two_thirds_of_the_stile() -> None:
    one, stile = rail(inch(3, 4), inch(3)), upright(inch(9, 4), inch(3, 4), inch(20), inch(3))

    (joint,) = mortise_and_tenon("a", "b", END, one, stile, CUTTERS)

    # 3/4 / 3 = 1/4; 2/3 of 2 1/4 = 1 1/2; edge shoulders of 1/4; a cutter of 1/4 centred.
    assert (joint.thickness, joint.length, joint.offset) == (inch(1, 4), inch(3, 2), inch(1, 4))
    assert (joint.edge_offset, joint.width) == (inch(1, 4), inch(5, 2))


def test_a_thin_rail_in_a_thick_leg_has_half_of_its_own_thickness() -> None:
    one, leg = rail(inch(3, 4), inch(3)), upright(inch(7, 4), inch(7, 4), inch(20), inch(3))

    (joint,) = mortise_and_tenon("a", "b", END, one, leg, CUTTERS)

    # Half of 3/4 is 3/8, less than a third of 1 3/4; 2/3 of 1 3/4 is 1 1/6, down to 1 1/8.
    assert (joint.thickness, joint.length) == (inch(3, 8), inch(9, 8))


def test_the_nearest_cutter_owned_is_taken() -> None:
    one, stile = rail(inch(3, 4), inch(3)), upright(inch(9, 4), inch(3, 4), inch(20), inch(3))

    assert mortise_and_tenon("a", "b", END, one, stile, [inch(5, 16)])[0].thickness == inch(5, 16)
    with pytest.raises(BadJoint, match="as thick as the rail"):
        mortise_and_tenon("a", "b", END, one, stile, [inch(1)])


def test_a_wide_rail_has_two_tenons_with_a_gap_of_a_third() -> None:
    one, stile = rail(inch(3, 4), inch(15, 2)), upright(inch(9, 4), inch(3, 4), inch(20), inch(15, 2))

    upper, lower = mortise_and_tenon("a", "b", END, one, stile, CUTTERS)

    # 7 1/2 less two shoulders of 1/4 is 7; a third of 7 1/2 is 2 1/2; (7 - 2 1/2) / 2 = 2 1/4 each.
    assert (upper.width, lower.width) == (inch(9, 4), inch(9, 4))
    assert (upper.edge_offset, lower.edge_offset) == (inch(1, 4), inch(5))
    assert (lower.tenon, lower.mortise) == ("a-2", "b-2")


def test_beside_a_groove_the_shoulder_is_as_deep_as_the_groove() -> None:
    one, stile = rail(inch(3, 4), inch(5, 2)), upright(inch(9, 4), inch(3, 4), inch(20), inch(5, 2))

    (joint,) = mortise_and_tenon("a", "b", END, one, stile, CUTTERS, groove=inch(3, 8))
    with_haunch = haunched(joint, one, inch(3, 8), Face.FACE_EDGE, inch(1, 2))

    # The rail of the panelled door: 2 1/2 less 3/8 less 1/2 leaves 1 5/8, and a haunch of 3/8.
    assert (joint.edge_offset, joint.width) == (inch(1, 4), inch(15, 8))
    assert (with_haunch.edge_offset, with_haunch.width) == (inch(1, 2), inch(13, 8))
    assert (with_haunch.haunch_length, with_haunch.haunch_width) == (inch(3, 8), inch(1, 2))
    with pytest.raises(BadJoint, match="leaves no tenon"):
        haunched(joint, one, inch(3, 8), Face.FACE_EDGE, inch(5, 2))


def test_a_haunch_at_the_far_edge_takes_from_there() -> None:
    one, stile = rail(inch(3, 4), inch(5, 2)), upright(inch(9, 4), inch(3, 4), inch(20), inch(5, 2))
    (joint,) = mortise_and_tenon("a", "b", END, one, stile, CUTTERS)

    found = haunched(joint, one, inch(3, 8), Face.FAR_EDGE, inch(1, 2))

    assert (found.edge_offset, found.width) == (inch(1, 4), inch(7, 4))


def test_a_through_tenon_is_a_little_longer_than_its_mate_is_wide() -> None:
    one, stile = rail(inch(3, 4), inch(3)), upright(inch(9, 4), inch(3, 4), inch(20), inch(3))

    (joint,) = mortise_and_tenon("a", "b", END, one, stile, CUTTERS, through=True)

    assert joint.length == inch(9, 4) + inch(1, 32)


def test_a_rail_into_end_grain_has_no_proposal() -> None:
    post = standing_round("+X +Y +Z", Box(inch(20), inch(40), 0, inch(3), 0, inch(3, 4)))

    with pytest.raises(BadJoint, match="comes to the datum end"):
        mortise_and_tenon("a", "b", END, rail(inch(3, 4), inch(3)), post, CUTTERS)


def test_a_panel_has_a_third_of_its_thickness_and_room_to_move() -> None:
    joint = tongue_in_groove("t", "g", Face.FACE_EDGE, rail(inch(3, 4), inch(10)), CUTTERS, gap=inch(1, 16))

    assert (joint.thickness, joint.length, joint.fit.depth) == (inch(1, 4), inch(3, 16), inch(1, 16))
    with pytest.raises(BadJoint, match="as deep as the groove"):
        tongue_in_groove("t", "g", Face.FACE_EDGE, rail(inch(3, 4), inch(10)), CUTTERS, gap=inch(1, 4))


def test_a_shelf_stands_a_third_deep_in_its_side() -> None:
    side = standing_round("+Z +Y -X", Box(inch(20) - inch(1, 4), inch(20) + inch(1, 2), 0, inch(10), -inch(9), inch(9)))

    joint = shelf_in_dado("e", "d", END, rail(inch(3, 4), inch(10)), side)

    assert (joint.length, joint.thickness) == (inch(1, 4), inch(3, 4) + SNUG.thickness)


@pytest.mark.parametrize(
    ("width", "count"),
    [(inch(3, 2), 1), (inch(4), 2), (inch(6), 3), (inch(10), 6)],
    ids=["narrow", "low", "mid", "deep"],
)
def test_tails_come_out_about_an_inch_and_a_half_wide(width: int, count: int) -> None:
    joint = dovetails("t", "p", END, Face.DATUM_END, width)

    assert (joint.count, joint.pin, joint.half_pin, joint.slope) == (count, inch(1, 4), inch(1, 4), 8)
    assert dovetails("t", "p", END, Face.DATUM_END, width, hardwood=False).slope == 6


sixteenths = st.integers(8, 40).map(lambda count: inch(count, 16))


@given(
    thickness=sixteenths, width=st.integers(24, 200).map(lambda count: inch(count, 16)), mate=sixteenths,
    wide=st.integers(16, 60).map(lambda count: inch(count, 16)), through=st.booleans(),
    cutter=st.sampled_from(CUTTERS[:3]), length=st.integers(1, 20),
)  # fmt: skip
def test_what_is_proposed_can_be_made(
    thickness: int, width: int, mate: int, wide: int, through: bool, cutter: int, length: int
) -> None:
    one, other = rail(thickness, width, inch(20)), upright(wide, max(mate, thickness), inch(20), width)

    for joint in mortise_and_tenon("a", "b", END, one, other, [cutter], through=through):
        # The rail is proposed shoulder to shoulder; its tenon is added after.
        with_tenon = Member(Stock(thickness, width, inch(20) + joint.length), one.stands)
        job = job_of(with_tenon, other, joint.made(with_tenon, other))

        assert check(job) == []
        assert faults(job) == ()


def test_any_number_of_a_proposal_can_be_overridden() -> None:
    one, stile = rail(inch(3, 4), inch(3)), upright(inch(9, 4), inch(3, 4), inch(20), inch(3))
    (joint,) = mortise_and_tenon("a", "b", END, one, stile, CUTTERS)

    changed = replace(joint, length=inch(1), fit=FLUSH)

    assert (changed.length, changed.width, changed.fit.depth) == (inch(1), joint.width, 0)


@pytest.mark.parametrize(
    "senseless",
    [
        lambda: window(10, 4, 3), lambda: window(10, -1, 3), lambda: window(10, 0, 10), lambda: target(5, 5),
        lambda: tenon_left(10, 5), lambda: passes(5, 6), lambda: passes(5, 0),
    ],
)  # fmt: skip
def test_gaps_and_cutters_that_make_no_sense_are_refused(senseless: object) -> None:
    assert callable(senseless)
    with pytest.raises(BadFit):
        senseless()


def test_a_cut_of_the_cutters_own_width_needs_one_pass() -> None:
    assert passes(750, 750) == (1, 0)
    assert passes(1501, 750) == (3, 751)
