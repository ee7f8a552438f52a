"""A joint is defined once: both halves come out of it, with the fit, and lie together however the parts stand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.corner_joint import BridleJoint, DovetailJoint, HalfLapJoint
from shopfloor.trade.document import check
from shopfloor.trade.fact import inch
from shopfloor.trade.fit import SNUG, Fit
from shopfloor.trade.joint import BadJoint, LooseTenonJoint, Member, MortiseAndTenon, Pair, TongueJoint, grown, housed
from shopfloor.trade.meeting import faults
from shopfloor.trade.part import (
    EDGES,
    ENDS,
    FACES,
    Box,
    Dado,
    Face,
    Groove,
    LooseTenon,
    Mortise,
    Pins,
    Placement,
    Stock,
    Tails,
    Tenon,
    Tongue,
)
from shopfloor.trade.surface import end_span, whole

from .joined import TURNS, entered, in_space, job_of, placements, sizes, standing_round, turned

MM = 1_000_000
UPRIGHT = Placement()
CLOSE = Fit(thickness=50_800, width=400_000, depth=1_500_000)
fits = st.builds(Fit, st.integers(0, 300_000), st.integers(0, 2 * MM), st.integers(0, 4 * MM))


def sound(enters: Member, takes: Member, pair: Pair) -> None:
    job = job_of(enters, takes, pair)

    assert check(job) == []
    assert faults(job) == ()


# --- worked by hand ------------------------------------------------------------------------------------------------

# A leg of 1 3/4 in square and 30 long stands upside down along Z: its datum end (top) at Z = 30, its face side looks to
# +X, its face edge to the front.  A rail of 3/4 x 3 in comes from +X, flush with the top, set back 1/8 from the front:
# its face side looks to the front, its face edge up, its datum end to the leg.
LEG = Member(Stock(inch(7, 4), inch(7, 4), inch(30)), Placement("-Z +Y -X", (inch(7, 4), 0, inch(30))))
RAIL = Member(Stock(inch(3, 4), inch(3), inch(20)), Placement("+X -Z +Y", (inch(7, 4) - inch(1), inch(1, 8), inch(30))))
JOINT = MortiseAndTenon(
    "left", "upper", Face.DATUM_END, length=inch(1), offset=inch(1, 4), thickness=inch(1, 4),
    edge_offset=inch(1, 2), width=inch(2), fit=Fit(2 * inch(1, 1000), inch(1, 32), inch(1, 16)),
)  # fmt: skip


def test_a_rail_in_a_leg_as_worked_out_on_paper() -> None:
    pair = JOINT.made(RAIL, LEG)

    # 1/4 - 0.002 thick, half of the difference in front of it.
    assert pair.enters == (
        Tenon("left", Face.DATUM_END, inch(1), inch(251, 1000), inch(248, 1000), inch(1, 2), inch(2)),
    )
    # From the top of the leg 1/2 less half of 1/32; across 1/8 + 1/4 from the front; as wide as the cutter.
    assert pair.takes == (
        Mortise("upper", Face.FACE_SIDE, inch(31, 64), inch(65, 32), inch(3, 8), inch(1, 4), inch(17, 16)),
    )
    sound(RAIL, LEG, pair)


def test_the_other_hand_has_the_very_same_features() -> None:
    mirror = Placement("-X +Y +Z", (inch(40), 0, 0))

    assert JOINT.made(turned(RAIL, mirror), turned(LEG, mirror)) == JOINT.made(RAIL, LEG)


def test_a_tenon_as_long_as_its_mate_goes_right_through() -> None:
    rail = Member(RAIL.stock, Placement("+X -Z +Y", (0, inch(1, 8), inch(30))))
    joint = MortiseAndTenon("a", "b", Face.DATUM_END, inch(7, 4), inch(1, 4), inch(1, 4), inch(1, 2), inch(2))

    (mortise,) = joint.made(rail, LEG).takes

    assert isinstance(mortise, Mortise)
    assert mortise.depth == 0
    sound(rail, LEG, joint.made(rail, LEG))


def test_a_haunch_may_have_a_shallow_mortise_of_its_own() -> None:
    joint = MortiseAndTenon(
        "left", "upper", Face.DATUM_END, inch(1), inch(1, 4), inch(1, 4), inch(1), inch(3, 2), SNUG,
        inch(3, 8), inch(1, 2), Face.FACE_EDGE, haunch_sunk=True,
    )  # fmt: skip

    pair = joint.made(RAIL, LEG)

    assert [(each.key, each.depth) for each in pair.takes if isinstance(each, Mortise)] == [
        ("upper", inch(17, 16)),
        ("upper-haunch", inch(7, 16)),
    ]
    sound(RAIL, LEG, pair)


@pytest.mark.parametrize(
    ("off", "says"),
    [(inch(1, 16), "stands 1.5875 mm off the face side"), (-inch(1, 16), "stands 1.5875 mm inside the face side")],
)
def test_a_shoulder_that_does_not_stand_on_its_mate_is_refused(off: int, says: str) -> None:
    rail = turned(RAIL, Placement(at=(off, 0, 0)))

    with pytest.raises(BadJoint, match=says):
        JOINT.made(rail, LEG)


def test_a_tenon_into_end_grain_is_refused() -> None:
    post = standing_round("+X +Y +Z", Box(0, inch(7, 4), 0, inch(5), 0, inch(31)))

    with pytest.raises(BadJoint, match="comes to the far end"):
        JOINT.made(RAIL, post)


def test_a_fit_larger_than_the_cutter_leaves_no_tenon() -> None:
    with pytest.raises(BadJoint, match="no tenon"):
        MortiseAndTenon("a", "b", Face.DATUM_END, MM, 0, MM, 0, MM, Fit(MM, 0, 0)).made(RAIL, LEG)


# --- however the parts stand -----------------------------------------------------------------------------------------


@st.composite
def tenoned(draw: st.DrawFn) -> tuple[MortiseAndTenon, Member, Member]:
    end = draw(st.sampled_from(ENDS))
    fit, long, thick, wide = draw(fits), draw(sizes), draw(sizes), draw(sizes)
    offset, edge, behind, beyond = (draw(st.integers(0, 30 * MM)) for _ in range(4))
    joint = MortiseAndTenon("t", "m", end, long, offset, thick, edge, wide, fit)
    stock = Stock(offset + thick + behind, edge + wide + beyond, long + draw(sizes))
    cheek = fit.thickness // 2
    tenon = Tenon("t", end, long, offset + cheek, thick - fit.thickness, edge, wide)
    inside = grown(tenon.box(stock), fit, end)
    rail = Member(stock, UPRIGHT)
    return joint, rail, draw(entered(end, inside, tenon.shoulder(stock), FACES + EDGES))


@given(tenoned(), placements)
def test_tenon_and_mortise_coincide_with_the_gaps_of_their_fit(
    made: tuple[MortiseAndTenon, Member, Member], stands: Placement
) -> None:
    joint, rail, mate = made[0], turned(made[1], stands), turned(made[2], stands)

    pair = joint.made(rail, mate)

    sound(rail, mate, pair)
    tenon = in_space(rail, pair.enters[0].box(rail.stock))
    mortise = in_space(mate, pair.takes[0].box(mate.stock))
    gaps = sorted(
        abs(tenon[2 * k] - mortise[2 * k]) + abs(tenon[2 * k + 1] - mortise[2 * k + 1]) for k in range(3)
    )  # fmt: skip
    assert gaps == sorted(joint.fit)


@st.composite
def tongued(draw: st.DrawFn) -> tuple[TongueJoint, Member, Member]:
    end, fit = draw(st.sampled_from(ENDS)), draw(fits)
    long, thick, width = draw(sizes), draw(sizes), draw(sizes)
    offset, behind, room = draw(st.integers(0, 20 * MM)), draw(st.integers(0, 20 * MM)), draw(st.integers(0, 2 * MM))
    stock = Stock(offset + thick + behind, width, long + draw(sizes))
    joint = TongueJoint("t", "g", end, long, offset, thick, fit, stopped=draw(st.booleans()))
    x0, x1 = end_span(end, long + fit.depth, stock)
    x0, x1 = (x0 - fit.depth, x1 - fit.depth) if end is Face.DATUM_END else (x0 + fit.depth, x1 + fit.depth)
    # The shoulder may stand off, as a panel's does, but the tongue must still reach in.
    plane = long - min(room, long - 1) if end is Face.DATUM_END else stock.length - long + min(room, long - 1)
    inside = Box(x0, x1, 0, width, offset, offset + thick)
    return joint, Member(stock, UPRIGHT), draw(entered(end, inside, plane, FACES + EDGES))


@given(tongued(), placements)
def test_a_tongue_lies_in_its_groove_or_dado(made: tuple[TongueJoint, Member, Member], stands: Placement) -> None:
    joint, panel, frame = made[0], turned(made[1], stands), turned(made[2], stands)

    pair = joint.made(panel, frame)

    sound(panel, frame, pair)
    (channel,) = pair.takes
    assert isinstance(channel, Groove | Dado)
    assert channel.width == joint.thickness


@st.composite
def loosely(draw: st.DrawFn) -> tuple[LooseTenonJoint, Member, Member]:
    end, stock = draw(st.sampled_from(ENDS)), Stock(40 * MM, 90 * MM, 300 * MM)
    joint = LooseTenonJoint("a", "b", end, 10 * MM, 8 * MM, 20 * MM, 40 * MM, draw(sizes), draw(sizes), draw(fits))
    x = end_span(end, 0, stock)[0]
    beyond = joint.mate_depth
    inside = Box(*((x - beyond, x) if end is Face.DATUM_END else (x, x + beyond)), 20 * MM, 60 * MM, 10 * MM, 18 * MM)
    return joint, Member(stock, UPRIGHT), draw(entered(end, inside, x, FACES + EDGES))


@given(loosely(), placements)
def test_a_loose_tenon_fills_both_mortises(made: tuple[LooseTenonJoint, Member, Member], stands: Placement) -> None:
    joint, rail, mate = made[0], turned(made[1], stands), turned(made[2], stands)

    pair = joint.made(rail, mate)

    sound(rail, mate, pair)
    (one,), (other,) = pair
    assert isinstance(one, LooseTenon)
    assert isinstance(other, LooseTenon)
    assert one.tenon == other.tenon == one.depth + other.depth - joint.fit.depth


@st.composite
def lapped(draw: st.DrawFn) -> tuple[HalfLapJoint, Member, Member]:
    """Two sticks that cross, flush or not; one lies along X and is lapped from below."""
    thick, other_thick = draw(sizes), draw(sizes)
    width, other_width = draw(sizes), draw(sizes)
    at, sunk = draw(st.integers(0, 100 * MM)), draw(st.integers(2 - thick, other_thick - 2))
    reach = draw(st.sampled_from([(0, 0), (0, 30 * MM), (30 * MM, 0), (30 * MM, 30 * MM)]))
    one = Member(Stock(thick, width, at + other_width + draw(st.integers(0, 100 * MM))), UPRIGHT)
    axes = draw(st.sampled_from([axes for axes in TURNS if axes[1] == "Y" and axes[-1] == "Z"]))
    other = standing_round(axes, Box(at, at + other_width, -reach[0], width + reach[1], -sunk, -sunk + other_thick))
    return HalfLapJoint("a", "b", Face.FACE_SIDE), one, other


@given(lapped(), placements)
def test_what_one_lap_loses_the_other_keeps(made: tuple[HalfLapJoint, Member, Member], stands: Placement) -> None:
    joint, one, other = made[0], turned(made[1], stands), turned(made[2], stands)

    pair = joint.made(one, other)

    sound(one, other, pair)
    lap, mate = (
        in_space(member, feature.left(member.stock))  # type: ignore[union-attr]
        for member, feature in ((one, pair.enters[0]), (other, pair.takes[0]))
    )
    # What stays of either touches what stays of the other and shares no wood with it.
    assert any(lap[k] == mate[k + 1] or mate[k] == lap[k + 1] for k in (0, 2, 4))


@given(placements, st.sampled_from([axes for axes in TURNS if axes[1] == "Y" and axes[-1] == "Z"]), fits)
def test_an_open_mortise_straddles_its_bridle(stands: Placement, axes: str, fit: Fit) -> None:
    one = Member(Stock(30 * MM, 60 * MM, 400 * MM), UPRIGHT)
    post = standing_round(axes, Box(150 * MM, 210 * MM, 0, 300 * MM, -5 * MM, 25 * MM))
    end = Face.DATUM_END if axes[0] == "+" else Face.FAR_END
    joint = BridleJoint("t", "s", end, 8 * MM, 10 * MM, fit)
    one, post = turned(one, stands), turned(post, stands)

    pair = joint.made(one, post)

    sound(one, post, pair)
    slot, bridle = pair.takes[0].box(post.stock), pair.enters[0].box(one.stock)
    assert (slot.z1 - slot.z0, bridle.z1 - bridle.z0) == (10 * MM, 10 * MM - fit.thickness)


@st.composite
def dovetailed(draw: st.DrawFn) -> tuple[DovetailJoint, Member, Member]:
    """A side along X and a front across its far end, flush at their edges, or the front a little higher."""
    thick, front, width = draw(sizes), draw(sizes), draw(st.integers(60 * MM, 400 * MM))
    lap = draw(st.sampled_from([0, front // 3]))
    above = draw(st.sampled_from([0, 7 * MM]))
    side = Member(Stock(thick, width, 500 * MM), UPRIGHT)
    fitting = [axes for axes in TURNS if axes[1] == "Z" and axes[4] == "Y"]
    axes = draw(st.sampled_from(fitting))
    end = Face.DATUM_END if axes[0] == "+" else Face.FAR_END
    block = Box(500 * MM - front + lap, 500 * MM + lap, -above, width + above, 0, 300 * MM)
    count = draw(st.integers(1, max(1, width // (front + 10 * MM))))
    pin = draw(st.integers(1, width // (8 * (count + 1))))
    joint = DovetailJoint("t", "p", Face.FAR_END, end, count, pin, pin, draw(st.integers(6, 9)))
    return joint, side, standing_round(axes, block)


@given(dovetailed(), placements)
def test_every_tail_lies_in_its_socket(made: tuple[DovetailJoint, Member, Member], stands: Placement) -> None:
    joint, side, front = made[0], turned(made[1], stands), turned(made[2], stands)

    pair = joint.made(side, front)

    sound(side, front, pair)
    (tails,), (pins,) = pair
    assert isinstance(tails, Tails)
    assert isinstance(pins, Pins)
    ours = sorted(in_space(side, box) for box in tails.boxes(side.stock))
    theirs = sorted(in_space(front, box) for box in pins.bottoms(front.stock))
    # Laid out from opposite edges, a mark may be rounded the other way.
    both = zip(ours, theirs, strict=True)
    assert all(abs(a - b) <= 1 for tail, socket in both for a, b in zip(tail, socket, strict=True))


# --- what cannot be made ---------------------------------------------------------------------------------------------

STICK = Member(Stock(20 * MM, 60 * MM, 400 * MM), UPRIGHT)


@pytest.mark.parametrize(
    ("joint", "block", "says"),
    [
        (HalfLapJoint("a", "b", Face.FACE_SIDE), Box(0, MM, 100 * MM, 200 * MM, 0, MM), "do not overlap"),
        (HalfLapJoint("a", "b", Face.FACE_SIDE), Box(0, MM, 10 * MM, 90 * MM, 0, MM), "only part of the face side"),
        (HalfLapJoint("a", "b", Face.FAR_END), Box(0, 9 * MM, 0, 90 * MM, 0, 20 * MM), "face or an edge"),
        (HalfLapJoint("a", "b", Face.FACE_SIDE, 20 * MM), Box(0, 9 * MM, 0, 90 * MM, 0, 20 * MM), "parts whole"),
        (BridleJoint("a", "b", Face.FAR_END, MM, MM), Box(0, 9 * MM, -9 * MM, 90 * MM, 0, 20 * MM), "does not end on"),
        (DovetailJoint("a", "b", Face.DATUM_END, Face.DATUM_END, 2, MM, MM), Box(0, 9 * MM, 0, 90 * MM, 0, 90 * MM),
         "widths do not lie beside"),
    ],
)  # fmt: skip
def test_parts_that_stand_otherwise_are_refused(joint: HalfLapJoint, block: Box, says: str) -> None:
    with pytest.raises(BadJoint, match=says):
        joint.made(STICK, standing_round("+Y +X +Z", block))


def test_a_tongue_that_does_not_reach_its_mate_is_refused() -> None:
    frame = standing_round("+Y +X +Z", Box(430 * MM, 470 * MM, 0, 100 * MM, 0, 20 * MM))

    with pytest.raises(BadJoint, match="does not reach"):
        TongueJoint("t", "g", Face.FAR_END, 8 * MM, 6 * MM, 6 * MM).made(STICK, frame)


def test_a_shelf_is_housed_in_a_dado_wider_by_the_fit() -> None:
    side = standing_round("-Z +Y +X", Box(392 * MM, 412 * MM, 0, 60 * MM, -200 * MM, 300 * MM))

    pair = housed("end", "dado", Face.FAR_END, 8 * MM, STICK.stock, Fit(100_000, 0, 0)).made(STICK, side)

    assert pair.enters == (Tongue("end", Face.FAR_END, 8 * MM, 0, 20 * MM),)
    # From the top of the side, at 300, down to the upper side of the shelf, at 20, less half of the fit.
    assert pair.takes == (Dado("dado", Face.FACE_SIDE, 279_950_000, 20_100_000, 8 * MM),)
    sound(STICK, side, pair)


def test_the_block_of_a_part_is_where_it_stands() -> None:
    assert STICK.block() == whole(STICK.stock)
