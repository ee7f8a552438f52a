"""A rail is haunched at the end of a stile or a leg: by the trade's share, filling the groove that runs out there."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from shopfloor.trade import meeting, shared_wood
from shopfloor.trade.abutment import Abutment
from shopfloor.trade.document import check
from shopfloor.trade.fact import inch
from shopfloor.trade.fit import Fit
from shopfloor.trade.joining import Definition, Joining, Kind, proposed, refitted
from shopfloor.trade.joint import BadJoint, MortiseAndTenon
from shopfloor.trade.layout import Mark, marks
from shopfloor.trade.length import read
from shopfloor.trade.pairing import joined
from shopfloor.trade.part import EDGES, ENDS, FACES, Face, Groove, Line, Mortise, Tenon, Unit
from tests.trade.joined import job_of
from tests.trade.test_joining import JOB, LEG, OWNED, RAIL, STILE, line

SLIM = line("rail", 12, 40, 320)
GROOVED = replace(STILE, features=(Groove("panel", Face.FACE_EDGE, read("1/4"), read("1/4"), read("3/8")),))


def cornered(comes: Line = RAIL, mate: Line = LEG, *, through: bool = False, **meets: object) -> Joining:
    given = {"end": Face.DATUM_END, "face": Face.FACE_EDGE} | meets
    return Joining(Kind.MORTISE_AND_TENON, comes, mate, Abutment(**given), through, haunch=True)  # type: ignore[arg-type]


def one(asked: Joining) -> MortiseAndTenon:
    (joint,) = proposed(asked, OWNED, Unit.INCH)
    assert isinstance(joint, MortiseAndTenon)
    return joint


def lie_together(asked: Joining, joint: Definition, *, same_hand: bool = True) -> None:
    """Put together, neither tenon nor haunch lies in wood, and no cut runs into another one."""
    pair = asked.made(joint, same_hand=same_hand)
    comes, mate = asked.stands().members(asked.comes.stock, asked.mate.stock, asked.deep(joint), same_hand=same_hand)
    job = job_of(comes, mate, pair)
    rail, post = job.lines
    job = replace(job, lines=(rail, replace(post, features=(*post.features, *asked.mate.features))))
    assert meeting.faults(job) == ()
    assert [shared_wood.meetings(each) for each in job.lines] == [(), ()]
    assert check(job) == []


def test_a_haunch_without_a_groove_has_a_short_one_of_its_own() -> None:
    joint = one(cornered())
    pair = cornered().made(joint)
    near, side = joint.fit.thickness // 2, joint.fit.width // 2

    # Half of the rail's 2 1/2 less the shoulder of 1/4 is 1: with the shoulder that leaves 1 1/4 for the haunch.  A
    # groove 3/8 wide would be 3/8 deep.
    assert pair.enters == (
        Tenon("tenon", Face.DATUM_END, read("1 1/8"), read("3/16") + near, read("3/8") - joint.fit.thickness,
              read("1 1/4"), read("1"), read("3/8"), read("1 1/4"), Face.FACE_EDGE),
    )  # fmt: skip
    # It runs out at the top of the leg; the mortise keeps 1 1/4 clear of that.  The fit makes both a little longer.
    assert pair.takes == (
        Mortise("mortise", Face.FACE_EDGE, read("1 1/4") - side, read("1") + joint.fit.width, read("11/16"),
                read("3/8"), read("1 1/8") + joint.fit.depth),
        Groove("mortise-haunch", Face.FACE_EDGE, read("11/16"), read("3/8"), read("3/8") + joint.fit.depth,
               0, read("1 1/4") + joint.fit.width - side),
    )  # fmt: skip


@pytest.mark.parametrize(("meets", "beside", "offset", "start"), [
    ({}, Face.FACE_EDGE, "1 1/4", "0"),
    # The leg is 36 1/4 long, the rail 2 1/2 wide: it ends there if it begins at 33 3/4, its haunch lies 35 to 36 1/4.
    ({"at": read("33 3/4")}, Face.FAR_EDGE, "1/4", "35"),
    ({"at": read("33 3/4"), "turned": True}, Face.FACE_EDGE, "1 1/4", "35"),
    ({"turned": True}, Face.FAR_EDGE, "1/4", "0"),
    ({"end": Face.FAR_END, "face": Face.BACK}, Face.FACE_EDGE, "1 1/4", "0"),
])  # fmt: skip
def test_the_haunch_lies_towards_the_end_of_the_mate(
    meets: dict[str, object], beside: Face, offset: str, start: str
) -> None:
    asked = cornered(**meets)
    joint = one(asked)

    (tenon,), (_, pocket) = asked.made(joint)

    assert isinstance(tenon, Tenon) and isinstance(pocket, Groove)
    assert (tenon.haunch_beside, tenon.edge_offset, tenon.width) == (beside, read(offset), read("1"))
    # It is longer by the fit, half of that on either side; the odd nanometre is on either.
    side = joint.fit.width // 2
    assert pocket.start in ((0,) if start == "0" else (read(start) - side, read(start) - side - 1))
    lie_together(asked, joint)


def test_a_haunch_fills_the_groove_that_runs_out_there() -> None:
    rail = replace(SLIM, features=(Groove("panel", Face.FAR_EDGE, read("1/4"), read("1/4"), read("3/8")),))
    asked = cornered(rail, GROOVED)
    joint = one(asked)

    (tenon,), takes = asked.made(joint)

    # Below its tenon the rail has a groove 3/8 deep: 1 1/4 less 3/8 is 7/8, and 1 1/4 are left for the haunch.
    assert isinstance(tenon, Tenon)
    assert (tenon.edge_offset, tenon.width) == (read("1 1/4"), read("7/8"))
    assert (tenon.haunch_length, tenon.haunch_width) == (read("3/8"), read("1 1/4"))
    assert (joint.offset, joint.thickness) == (read("1/4"), read("1/4"))
    assert [each.key for each in takes] == ["mortise"], "the groove is the haunch's place, nothing else is cut"
    lie_together(asked, joint)


def test_the_tenon_is_as_thick_as_the_groove_and_lies_in_it() -> None:
    # A groove 5/16 wide, 1/8 behind the face side of the stile: the cutter nearest to a third of the rail would be 1/4.
    off = replace(GROOVED, features=(Groove("panel", Face.FACE_EDGE, read("1/8"), read("5/16"), read("5/16")),))
    asked = cornered(SLIM, off)
    joint = one(asked)

    (_,), (mortise,) = asked.made(joint)

    assert isinstance(mortise, Mortise)
    assert (mortise.offset, mortise.width) == (read("1/8"), read("5/16"))
    assert joint.haunch_length == read("5/16")
    lie_together(asked, joint)


@pytest.mark.parametrize("groove", [
    Groove("g", Face.FAR_EDGE, read("1/4"), read("1/4"), read("3/8")),  # on the other edge
    Groove("g", Face.FACE_EDGE, read("1/4"), read("1/4"), read("3/8"), read("1")),  # begins below the haunch
])  # fmt: skip
def test_a_groove_that_does_not_run_past_the_rail_is_not_filled(groove: Groove) -> None:
    asked = cornered(SLIM, replace(STILE, features=(groove,)))

    (_,), takes = asked.made(one(asked))

    assert [each.kind for each in takes] == ["mortise", "groove"]


def test_a_haunch_that_is_longer_than_the_groove_is_deep_gets_its_own_pocket() -> None:
    asked = cornered(SLIM, GROOVED)
    deeper = refitted(asked, replace(one(asked), haunch_length=read("1/2")), Fit())

    (_,), takes = asked.made(deeper)

    assert [each.kind for each in takes] == ["mortise", "groove"]
    assert isinstance(takes[1], Groove) and takes[1].depth == read("1/2") + Fit().depth
    lie_together(asked, deeper)


def test_another_width_of_the_haunch_moves_its_tenon() -> None:
    for meets, low in (({}, "3/4"), ({"turned": True}, "3/4")):
        asked = cornered(**meets)
        sized = replace(one(asked), haunch_width=read("3/4"), width=read("1"))

        found = refitted(asked, sized, Fit())

        # From the other edge: 2 1/2 less 3/4 less 1.
        assert isinstance(found, MortiseAndTenon)
        assert found.edge_offset == read(low)
        lie_together(asked, found)


@pytest.mark.parametrize("same_hand", [True, False])
@pytest.mark.parametrize("through", [True, False])
@pytest.mark.parametrize(("end", "face", "at"), [*product(ENDS, (*EDGES, *FACES), (0, 520))])
def test_haunch_and_pocket_coincide_however_the_parts_meet(
    end: Face, face: Face, at: int, through: bool, same_hand: bool
) -> None:
    post = line("post", 56, 60, 560)
    for turned in (False, True):
        asked = cornered(mate=post, through=through, end=end, face=face, at=inch(at, 16), turned=turned)
        lie_together(asked, one(asked), same_hand=same_hand)


def test_below_a_horn_the_pocket_is_a_shallow_mortise() -> None:
    asked = cornered(at=read("3/4"), through=True)
    joint = one(asked)

    (_,), takes = asked.made(joint)

    # The haunch begins where the rail does, 3/4 below the end that is cut off later.
    assert [each.kind for each in takes] == ["mortise", "mortise"]
    assert isinstance(takes[1], Mortise) and takes[1].start == read("3/4") - joint.fit.width // 2
    lie_together(asked, joint)


def test_of_two_tenons_the_outer_one_has_a_haunch_over_its_shoulder() -> None:
    wide = line("rail", 12, 120, 320)
    for meets, nth in (({}, 0), ({"turned": True}, 1)):
        asked = cornered(wide, **meets)
        tenons = proposed(asked, OWNED, Unit.INCH)

        assert [each.haunch_width for each in tenons if isinstance(each, MortiseAndTenon)] == [
            read("1/4") if each == nth else 0 for each in (0, 1)
        ]
        assert [len(asked.made(each).takes) for each in tenons] == [2 if each == nth else 1 for each in (0, 1)]


@pytest.mark.parametrize(("asked", "what", "do"), [
    (cornered(at=read("2")), "the mate goes on 2 in past the rail", "begin 0 or 33 3/4 in from its datum end"),
    (cornered(across=True), "lies across its mate", "breadth run along the mate"),
    (cornered(SLIM, replace(GROOVED, features=(Groove("g", Face.FACE_EDGE, read("1/4"), read("1/4"), read("2")),))),
     "as deep as the tenon is long", "shallower"),
])  # fmt: skip
def test_where_a_haunch_has_no_place_it_says_what_would_do(asked: Joining, what: str, do: str) -> None:
    with pytest.raises(BadJoint) as told:
        proposed(asked, OWNED, Unit.INCH)

    assert what in told.value.what and do in told.value.do


def test_the_pocket_is_cut_into_the_line_and_marked_on_it() -> None:
    asked = cornered()
    joint = one(asked)

    job = joined(JOB, asked, [joint], {"rail.front": "leg.fl", "rail.back": "leg.bl"})

    rail, leg = job.lines
    assert [each.key for each in leg.features] == ["mortise", "mortise-haunch"]
    assert check(job) == []
    # From the datum end of the rail: the haunch ends 3/8 out from the shoulder, which lies at 1 1/8.
    assert Mark(read("3/4"), "haunch, its end", "tenon") in marks(rail)
    ends = [mark.at for mark in marks(leg) if mark.feature == "mortise-haunch"]
    assert read("1 1/4") + joint.fit.width - joint.fit.width // 2 in ends
