"""Typed parts that stand nowhere are joined: both halves coincide for either hand, sizes are the trade's."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.abutment import Abutment
from shopfloor.trade.corner_joint import BridleJoint, DovetailJoint
from shopfloor.trade.cutters import Cutters, first_cutters
from shopfloor.trade.document import check
from shopfloor.trade.fact import inch
from shopfloor.trade.fault import Fault
from shopfloor.trade.fit import Fit
from shopfloor.trade.joining import Joining, Kind, doubts, proposed
from shopfloor.trade.joint import BadJoint, LooseTenonJoint, MortiseAndTenon, outward
from shopfloor.trade.length import MM, Length, read
from shopfloor.trade.meeting import entering, outside, taking
from shopfloor.trade.pairing import joined, matched
from shopfloor.trade.part import (
    EDGES,
    ENDS,
    FACES,
    Assembly,
    Dado,
    Face,
    Groove,
    Half,
    Hand,
    Job,
    Line,
    Mortise,
    Part,
    Pins,
    Tenon,
    Unit,
)  # fmt: skip
from shopfloor.trade.proportions import BadProportion

OWNED = first_cutters(Unit.INCH)


def line(key: str, thickness: int, width: int, length: int, *parts: Part) -> Line:
    """Sizes in sixteenths of an inch."""
    sizes = (inch(size, 16) for size in (thickness, width, length))
    return Line(key, "frame", key.capitalize(), *sizes, parts=parts or (Part(f"{key}.1"),))


RAIL = line("rail", 12, 40, 320, Part("rail.front", "front"), Part("rail.back", "back"))
LEG = line(
    "leg", 28, 28, 580,
    Part("leg.fl", "front left"), Part("leg.fr", "front right", Hand.MIRROR),
    Part("leg.bl", "back left", Hand.MIRROR), Part("leg.br", "back right"),
)  # fmt: skip
JOB = Job("stand", "Music stand", assemblies=(Assembly("frame", 4, "Frame"),), lines=(RAIL, LEG))


def joining(kind: Kind = Kind.MORTISE_AND_TENON, comes: Line = RAIL, mate: Line = LEG, **meets: object) -> Joining:
    given = {"end": Face.DATUM_END, "face": Face.FACE_EDGE} | meets
    return Joining(kind, comes, mate, Abutment(**given))  # type: ignore[arg-type]


def coincide(asked: Joining, same_hand: bool = True, owned: Cutters = OWNED) -> None:
    """Whatever comes lies in space that is cut in its mate, as far as it reaches into its wood."""
    for joint in proposed(asked, owned, Unit.INCH):
        pair = asked.made(joint, same_hand=same_hand)
        comes, mate = asked.stands().members(
            asked.comes.stock, asked.mate.stock, asked.deep(joint), same_hand=same_hand
        )
        assert (mate.stands.hand is Hand.AS_DRAWN) == same_hand
        one, other = (mate, comes) if asked.kind is Kind.BRIDLE else (comes, mate)
        spaces = [other.stands.box(box) for cut in pair.takes for box in taking(cut, other.stock)]
        reached = 0
        for cut in pair.enters:
            for box in entering(cut, one.stock):
                space = one.stands.box(box)
                body = other.block()
                low = [max(a, b) for a, b in zip(space[::2], body[::2], strict=True)]
                high = [min(a, b) for a, b in zip(space[1::2], body[1::2], strict=True)]
                if all(a < b for a, b in zip(low, high, strict=True)):
                    inside = type(space)(low[0], high[0], low[1], high[1], low[2], high[2])
                    assert outside(inside, spaces) <= 1
                    reached += 1
        if asked.kind is Kind.LOOSE_TENON:
            # Two pockets, mouth to mouth: they share the mouth, and lie on either side of it.
            (own,), (its,) = pair.enters, pair.takes
            here, there = one.stands.box(own.box(one.stock)), other.stands.box(its.box(other.stock))
            spans = zip(zip(here[::2], here[1::2], strict=True), zip(there[::2], there[1::2], strict=True), strict=True)
            assert sum(a == b for a, b in spans) >= 2
            assert here.x1 == there.x0 or here.x0 == there.x1
        else:
            assert reached, "nothing of it reaches into the mate"


def test_a_rail_comes_to_a_leg_with_the_sizes_of_the_trade() -> None:
    # The leg is more than one and a half times as thick as the rail: half of the rail, 3/8, which is owned.  Two thirds
    # of the leg's 28/16 are 18 2/3 sixteenths, taken down to 18.  5/16 is an eighth of the rail: the shoulder is 1/4.
    (tenon,) = proposed(joining(at=inch(2)), OWNED, Unit.INCH)
    pair = joining(at=inch(2)).made(tenon)

    assert pair.enters == (
        Tenon("tenon", Face.DATUM_END, inch(9, 8), inch(3, 16) + tenon.fit.thickness // 2,
              inch(3, 8) - tenon.fit.thickness, inch(1, 4), inch(2)),
    )  # fmt: skip
    # The rail begins 2 in below the top, so its tenon 2 1/4; it is in the middle of the leg: 8/16 and 3/16 behind it.
    side = tenon.fit.width // 2
    assert pair.takes == (
        Mortise("mortise", Face.FACE_EDGE, inch(9, 4) - side, inch(2) + tenon.fit.width, inch(11, 16), inch(3, 8),
                inch(9, 8) + tenon.fit.depth),
    )  # fmt: skip


@pytest.mark.parametrize(("meets", "start", "offset"), [
    ({}, 0, 8), ({"at": inch(3)}, 48, 8), ({"behind": 0}, 0, 0), ({"behind": inch(1, 4), "at": inch(1)}, 16, 4),
    ({"turned": True, "at": inch(3)}, 48, 8), ({"end": Face.FAR_END, "behind": inch(1, 8)}, 0, 2),
    ({"face": Face.BACK, "behind": inch(1, 8)}, 0, 2), ({"face": Face.FAR_EDGE, "behind": inch(1, 8)}, 0, 2),
])  # fmt: skip
@pytest.mark.parametrize("same_hand", [True, False])
def test_a_part_stands_where_it_was_said_to_begin(
    meets: dict[str, object], start: int, offset: int, same_hand: bool
) -> None:
    asked = joining(**meets)
    comes, mate = asked.meets.members(RAIL.stock, LEG.stock, inch(1), same_hand=same_hand)
    low = 2 if asked.meets.face in FACES else 4

    own = mate.stands.own(comes.block())

    assert (own.x0, own.x1) == (inch(start, 16), inch(start + 40, 16))
    if same_hand == asked.meets.same_way():
        assert own[low] == inch(offset, 16)
    assert {own[low + 1] - own[low]} == {RAIL.thickness}
    assert outward(asked.meets.face, mate.stands) == tuple(-step for step in outward(asked.meets.end, comes.stands))


@pytest.mark.parametrize("same_hand", [True, False])
@pytest.mark.parametrize(("end", "face", "turned", "across"), [
    *product(ENDS, (*EDGES, *FACES), (False, True), (False, True)),
])  # fmt: skip
def test_tenon_and_mortise_coincide_however_the_parts_meet(
    end: Face, face: Face, turned: bool, across: bool, same_hand: bool
) -> None:
    post = line("post", 56, 60, 580)
    for kind in (Kind.MORTISE_AND_TENON, Kind.LOOSE_TENON):
        coincide(joining(kind, mate=post, end=end, face=face, turned=turned, across=across, at=inch(2)), same_hand)


SIDE = line("side", 12, 200, 480)
SHELF = line("shelf", 12, 200, 400)
STILE = line("stile", 12, 40, 480)
PANEL = line("panel", 8, 160, 400)
SLAT = line("slat", 12, 40, 300)


@pytest.mark.parametrize("same_hand", [True, False])
@pytest.mark.parametrize("asked", [
    *(joining(Kind.HOUSED, SHELF, SIDE, end=end, face=face, across=True, at=inch(10))
      for end in ENDS for face in FACES),
    *(joining(Kind.TONGUE, PANEL, STILE, end=end, face=face, at=inch(2)) for end in EDGES for face in EDGES),
    *(joining(Kind.TONGUE, SHELF, SIDE, end=end, face=Face.BACK, across=True, at=inch(4)) for end in ENDS),
    *(joining(Kind.DOVETAILS, SIDE, SHELF, end=end, face=face, at=at)
      for end in ENDS for face in FACES for at in (0, inch(20))),
    *(joining(Kind.HALF_LAP, SLAT, STILE, end=end, face=face, at=inch(5)) for end in ENDS for face in EDGES),
    *(joining(Kind.BRIDLE, SLAT, STILE, end=end, face=face, at=inch(5)) for end in ENDS for face in EDGES),
])  # fmt: skip
def test_both_halves_of_every_kind_coincide(asked: Joining, same_hand: bool) -> None:
    coincide(asked, same_hand)


@given(
    st.sampled_from([*product(ENDS, (*EDGES, *FACES))]), st.booleans(), st.booleans(),
    st.integers(20, 60), st.integers(20, 60), st.integers(0, 200), st.integers(8, 20), st.integers(24, 90),
)  # fmt: skip
def test_random_rails_and_posts_coincide(
    meets: tuple[Face, Face], turned: bool, same: bool, thick: int, wide: int, at: int, rail: int, broad: int
) -> None:
    post, own = line("post", thick, wide, 600), line("rail", rail, broad, 200)
    end, face = meets
    coincide(joining(comes=own, mate=post, end=end, face=face, turned=turned, at=inch(at, 16), behind=0), same)


def test_a_groove_follows_the_grain_and_a_dado_crosses_it() -> None:
    panel = joining(Kind.TONGUE, PANEL, STILE, end=Face.FAR_EDGE)
    shelf = joining(Kind.TONGUE, SHELF, SIDE, end=Face.FAR_END, face=Face.BACK, across=True, at=inch(4))

    (groove,) = panel.made(proposed(panel, OWNED, Unit.INCH)[0]).takes
    (dado,) = shelf.made(proposed(shelf, OWNED, Unit.INCH)[0]).takes

    assert isinstance(groove, Groove) and groove.width == inch(1, 8)
    assert isinstance(dado, Dado) and dado.width == inch(1, 4)


def test_half_blind_dovetails_leave_the_lap_whole() -> None:
    asked = replace(joining(Kind.DOVETAILS, SIDE, SHELF, face=Face.FACE_SIDE), lap=inch(1, 4))

    (pins,) = asked.made(proposed(asked, OWNED, Unit.INCH)[0]).takes

    assert isinstance(pins, Pins) and pins.depth == inch(1, 2) and pins.face is Face.DATUM_END


def test_parts_match_by_place_then_by_hand_then_in_order() -> None:
    door = line("stile", 12, 40, 480, Part("s.r", "right", Hand.MIRROR), Part("s.l", "left"))
    left = line("rail", 12, 40, 200, Part("r.1"), Part("r.2"))
    placed = line("rail", 12, 40, 200, Part("r.1", "left"), Part("r.2", "right"), Part("r.3", "middle"))

    assert matched(joining(comes=left, mate=door)) == {"r.1": "s.l", "r.2": "s.r"}, "a datum end meets its like hand"
    assert matched(joining(comes=left, mate=door, end=Face.FAR_END)) == {"r.1": "s.r", "r.2": "s.l"}
    assert matched(joining(comes=placed, mate=door)) == {"r.1": "s.l", "r.2": "s.r"}


def test_each_pair_is_lettered_on_in_the_stack_of_the_part_that_comes() -> None:
    first = joining()
    job = joined(JOB, first, proposed(first, OWNED, Unit.INCH), {"rail.front": "leg.fl", "rail.back": "leg.br"})
    rail, leg = job.lines
    second = joining(comes=rail, mate=leg, end=Face.FAR_END)

    job = joined(job, second, proposed(second, OWNED, Unit.INCH), {"rail.front": "leg.fr", "rail.back": "leg.bl"})

    assert [(each.letter, each.enters, each.takes) for each in job.joints] == [
        ("4A", Half("rail.front", "tenon"), Half("leg.fl", "mortise")),
        ("4B", Half("rail.back", "tenon"), Half("leg.br", "mortise")),
        ("4C", Half("rail.front", "tenon-2"), Half("leg.fr", "mortise")),
        ("4D", Half("rail.back", "tenon-2"), Half("leg.bl", "mortise")),
    ]
    assert [len(each.features) for each in job.lines] == [2, 1], "mirrored legs are cut alike: one mortise does for all"
    assert check(job) == []


def test_two_tenons_of_a_wide_rail_are_two_joints_with_one_letter() -> None:
    wide = line("rail", 12, 120, 320)
    job = replace(JOB, lines=(wide, LEG))
    asked = joining(comes=wide)

    job = joined(job, asked, proposed(asked, OWNED, Unit.INCH), {"rail.1": "leg.fl"})

    assert [(each.enters.feature, each.takes.feature, each.letter) for each in job.joints] == [
        ("tenon", "mortise", "4A"), ("tenon-2", "mortise-2", ""),
    ]  # fmt: skip
    assert check(job) == []


def test_parts_of_opposite_hands_that_would_be_cut_differently_are_refused() -> None:
    asked = joining(behind=inch(1, 8))
    (joint,) = proposed(asked, OWNED, Unit.INCH)
    off_centre = replace(joint, offset=inch(1, 16))

    with pytest.raises(BadJoint, match="opposite hands"):
        joined(JOB, asked, [off_centre], {"rail.front": "leg.fl", "rail.back": "leg.bl"})


@pytest.mark.parametrize(("asked", "says"), [
    (joining(face=Face.FAR_END), "comes to the far end"),
    (joining(end=Face.BACK), "cannot enter"),
    (joining(end=Face.FACE_EDGE), "is at an end"),
    (joining(Kind.DOVETAILS, end=Face.FAR_EDGE, face=Face.BACK), "is at an end"),
])  # fmt: skip
def test_parts_that_cannot_meet_so_are_refused_in_words(asked: Joining, says: str) -> None:
    with pytest.raises(BadJoint, match=says):
        proposed(asked, OWNED, Unit.INCH)


def test_an_end_is_joined_once() -> None:
    asked = joining()
    joints = proposed(asked, OWNED, Unit.INCH)
    job = joined(JOB, asked, joints, {"rail.front": "leg.fl"})
    again = replace(asked, comes=job.lines[0], mate=job.lines[1])

    with pytest.raises(BadJoint, match="Rail front is joined at its datum end already, 4A"):
        joined(job, again, joints, {"rail.front": "leg.fr"})
    job = joined(job, again, proposed(asked, OWNED, Unit.INCH), {"rail.back": "leg.br"})

    assert [len(each.features) for each in job.lines] == [1, 1]
    assert [each.letter for each in job.joints] == ["4A", "4B"]


def test_nothing_paired_and_a_line_with_itself_are_refused() -> None:
    asked = joining()
    joints = proposed(asked, OWNED, Unit.INCH)

    with pytest.raises(BadJoint, match="no two parts"):
        joined(JOB, asked, joints, {})
    with pytest.raises(BadJoint, match="one line are alike"):
        joined(JOB, replace(asked, mate=RAIL), joints, {"rail.front": "rail.back"})


def test_a_cutter_that_is_owned_decides_the_width() -> None:
    (joint,) = proposed(joining(), Cutters(chisels=(inch(5, 16),)), Unit.INCH)

    assert joint.thickness == inch(5, 16)  # type: ignore[union-attr]
    assert joint.fit == Fit()  # type: ignore[union-attr]


def sized(key: str, sizes: str, unit: Unit) -> Line:
    thickness, width, length = (read(size, unit) for size in sizes.split(" x "))
    return Line(key, "frame", key.capitalize(), thickness, width, length, parts=(Part(f"{key}.1"),))


@pytest.mark.parametrize("kind", [Kind.MORTISE_AND_TENON, Kind.LOOSE_TENON])
@pytest.mark.parametrize(("unit", "rail", "leg", "wide"), [
    # Half of 7/8 is 7/16, which only the stack has; of 3/8 and 1/2, equally near, the smaller leaves more shoulder.
    (Unit.INCH, "7/8 x 4 x 20", "1 3/4 x 1 3/4 x 30", read("3/8")),
    # Half of 27 is 13.5: the stack has 14, chisels and bits have 12 and 16.
    (Unit.MM, "27 x 80 x 500", "60 x 60 x 750", 12 * MM),
])  # fmt: skip
def test_an_enclosed_mortise_is_for_a_chisel_or_a_bit_never_for_the_stack(
    kind: Kind, unit: Unit, rail: str, leg: str, wide: Length
) -> None:
    asked = joining(kind, sized("rail", rail, unit), sized("leg", leg, unit), face=Face.FACE_SIDE, at=inch(2))

    (joint,) = proposed(asked, first_cutters(unit), unit)

    assert isinstance(joint, MortiseAndTenon | LooseTenonJoint)
    assert joint.thickness == wide


def test_an_open_mortise_is_sawn_so_any_width_that_is_owned_will_do() -> None:
    asked = joining(
        Kind.BRIDLE, sized("rail", "1 5/16 x 3 x 20", Unit.INCH), sized("stile", "1 5/16 x 2 x 30", Unit.INCH)
    )

    (joint,) = proposed(asked, OWNED, Unit.INCH)

    assert isinstance(joint, BridleJoint)
    assert joint.thickness == read("7/16")  # a third of 1 5/16, which the stack has


def test_a_shop_with_nothing_but_a_stack_is_told_to_list_chisels_or_bits() -> None:
    with pytest.raises(BadProportion, match=r"no cutter is listed.*List the chisels and bits owned"):
        proposed(joining(), Cutters(dado_stack=(inch(1, 4),)), Unit.INCH)


def test_two_tenons_lie_on_marks_of_the_tape_and_the_rest_is_in_their_gap() -> None:
    wide, stile = sized("rail", "3/4 x 8 x 20", Unit.INCH), sized("stile", "3/4 x 3 x 30", Unit.INCH)

    upper, lower = proposed(joining(comes=wide, mate=stile), OWNED, Unit.INCH)

    assert isinstance(upper, MortiseAndTenon)
    assert isinstance(lower, MortiseAndTenon)
    # 7 1/2 between the shoulders less a third of 8 is 4 5/6: 2 5/12 each, down to 2 3/8; 2 3/4 are between them.
    assert (upper.edge_offset, upper.width) == (read("1/4"), read("2 3/8"))
    assert (lower.edge_offset, lower.width) == (read("5 3/8"), read("2 3/8"))


@pytest.mark.parametrize(("rail", "mate", "chisel", "says"), [
    ("3/4 x 3 x 20", "3/4 x 2 1/4 x 30", "5/8", ("5/8", "3/4", "3/16", "3/8")),  # 1/4 to 1/2 of 3/4
    ("3/4 x 3 x 20", "3/4 x 2 1/4 x 30", "1/8", ("1/8", "3/4", "3/16", "3/8")),
    ("3/4 x 3 x 20", "3/4 x 2 1/4 x 30", "3/8", None),
    ("3/4 x 3 x 20", "1 3/4 x 1 3/4 x 30", "1/2", None),  # two thirds of 3/4, into a leg
    ("3/4 x 3 x 20", "1 3/4 x 1 3/4 x 30", "5/8", ("5/8", "3/4", "3/16", "1/2")),
])  # fmt: skip
def test_a_mortise_out_of_the_trade_s_range_is_told_where_it_is_proposed(
    rail: str, mate: str, chisel: str, says: tuple[str, ...] | None
) -> None:
    asked = joining(comes=sized("rail", rail, Unit.INCH), mate=sized("mate", mate, Unit.INCH))

    found = doubts(asked, proposed(asked, Cutters(chisels=(read(chisel),)), Unit.INCH), Unit.INCH)

    if says is None:
        assert found == ()
    else:
        wide, thick, least, most = says
        assert found == (Fault(
            "the tenon", f"a mortise {wide} in wide is unusual for stock {thick} in thick",
            f"The trade takes a chisel or bit of {least} in to {most} in.",
        ),)  # fmt: skip


@pytest.mark.parametrize(("own", "of_job", "slope"), [
    ("", "white pine", 6), ("", "cherry", 8), ("cherry", "white pine", 8), ("spruce, quartersawn", "", 6), ("", "", 8),
    ("yellow poplar", "pine", 8), ("Baltic pine", "cherry", 6),
])  # fmt: skip
def test_softwood_gets_steeper_dovetails(own: str, of_job: str, slope: int) -> None:
    box = [replace(sized(key, "1/2 x 6 x 20", Unit.INCH), species=own) for key in ("front", "side")]
    asked = joining(Kind.DOVETAILS, *box, face=Face.FACE_SIDE)

    (joint,) = proposed(asked, OWNED, Unit.INCH, species=of_job)

    assert isinstance(joint, DovetailJoint)
    assert joint.slope == slope
