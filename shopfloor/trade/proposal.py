"""Which sizes would the trade give a joint?  Proposals, fitted to the cutters that the shop owns.

Each gives a definition of a joint; `dataclasses.replace` overrides any of its numbers.  The rules, with their sources,
are in proportions.py and case_joints.py.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from .case_joints import DADO_SHARE, SLOPE_HARD, SLOPE_SOFT, dado_depth
from .corner_joint import DovetailJoint
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm, share
from .fault import Fault
from .fit import SNUG, Fit
from .habit import PRINTED, Habits
from .joint import BadJoint, Member, MortiseAndTenon, TongueJoint, facing, housed, outward
from .length import INCH, Length
from .part import EDGES, FACES, Face, Unit
from .proportions import (
    BLIND_SHARE,
    DOUBLE_FROM,
    DOUBLE_GAP,
    EDGE_SHOULDER,
    GROOVE_DEPTH,
    LEG_SHARE,
    TENON_SHARE,
    TENON_SHARE_INTO_LEG,
    THROUGH_EXTRA,
    WIDEST_TENON,
    blind_tenon_length,
    groove_depth,
    nearest_cutter,
    tenon_into_leg,
    tenon_thickness,
    tenon_widths,
    through_tenon_length,
)
from .rounding import round_down, round_near, round_up, shop_step, told
from .sources import CUSTOM

__all__ = ["FACTS", "doubts", "dovetails", "haunched", "mortise_and_tenon", "shelf_in_dado", "tongue_in_groove"]

THICK_MATE = Fact(
    key="tenon-thick-mate", subject="joints", name="A mate so much thicker than the rail counts as a leg",
    value=share("3/2"), unit="of the rail", range=(share("5/4"), share("2")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
TAIL_WIDTH = Fact(
    key="dovetail-tail", subject="joints", name="Tail, width at the end, about", value=inch(3, 2),
    range=(inch(3, 4), inch(3)), metric=mm("38"), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
PIN_WIDTH = Fact(
    key="dovetail-pin", subject="joints", name="Pin and half pin, where they are narrowest", value=inch(1, 4),
    range=(inch(1, 16), inch(3, 4)), metric=mm("6"), status=UNCONFIRMED, source=CUSTOM,
    note="As narrow as the saw can go looks fine; a half pin under 1/8 in splits off.",
)  # fmt: skip

FACTS: tuple[AnyFact, ...] = (THICK_MATE, TAIL_WIDTH, PIN_WIDTH)


def _reach(rail: Member, end: Face, mate: Member) -> Length:
    """How thick the mate is in the direction in which a rail's end enters it."""
    face = facing(outward(end, rail.stands), mate.stands)
    if face in FACES:
        return mate.stock.thickness
    if face in EDGES:
        return mate.stock.width
    raise BadJoint(f"the rail comes to the {face} of its mate", "Let it enter a face or an edge.")


def _beside(rail: Member, mate: Member) -> Length:
    """How thick the mate is in the direction of the rail's own thickness."""
    way, block = rail.stands.directions()[2], mate.block()
    axis = next(axis for axis in range(3) if way[axis])
    return block[2 * axis + 1] - block[2 * axis]


def mortise_and_tenon(
    tenon: str, mortise: str, end: Face, rail: Member, mate: Member, cutters: Iterable[Length], *,
    groove: Length = 0, groove_at: Face = Face.FAR_EDGE, through: bool = False, fit: Fit = SNUG,
    step: Length = INCH // 16, unit: Unit = Unit.INCH, habits: Habits = PRINTED,
) -> tuple[MortiseAndTenon, ...]:  # fmt: skip
    """A centred tenon, or two side by side where the rail is wide; keys of a second one end in "-2".

    Its mortise is as wide as the nearest of `cutters`.  `groove` is the depth of a panel's groove along `groove_at`,
    where the shoulder is at least as deep.  The length of a blind tenon, an edge shoulder and the width of each of two
    tenons are taken down to a multiple of `step`; what is over goes into the gap between the two.
    Raises BadProportion or BadJoint where no wood is left.
    """
    depth, beside = _reach(rail, end, mate), _beside(rail, mate)
    thick, wide = rail.stock.thickness, rail.stock.width
    if beside >= thick * habits.of(THICK_MATE, unit):
        shares = habits.of(TENON_SHARE_INTO_LEG, unit), habits.of(LEG_SHARE, unit)
        wanted = tenon_into_leg(thick, beside, *shares)
    else:
        wanted = tenon_thickness(thick, habits.of(TENON_SHARE, unit))
    thickness = nearest_cutter(wanted, cutters)
    if thickness >= thick:
        raise BadJoint("every cutter is as thick as the rail", "List a narrower one, or take thicker stock.")
    if through:
        length = through_tenon_length(depth, habits.of(THROUGH_EXTRA, unit))
    else:
        length = _down(blind_tenon_length(depth, habits.of(BLIND_SHARE, unit)), step)
    shoulder = min(habits.of(EDGE_SHOULDER, unit), _down(wide // 8, step))
    near, far = (max(groove, shoulder) if face is groove_at and groove else shoulder for face in EDGES)
    room = wide - near - far
    most = habits.of(WIDEST_TENON, unit), habits.of(DOUBLE_FROM, unit)
    widths = tenon_widths(wide, room, *most, habits.of(DOUBLE_GAP, unit))
    if len(widths) > 1:
        widths = tuple(_down(each, step) for each in widths)
    found, edge = [], near
    gap = (room - sum(widths)) // max(len(widths) - 1, 1)
    for nth, width in enumerate(widths, 1):
        keys = (f"{tenon}-{nth}", f"{mortise}-{nth}") if nth > 1 else (tenon, mortise)
        offset = (thick - thickness) // 2
        found.append(MortiseAndTenon(*keys, end, length, offset, thickness, edge, width, fit))
        edge += width + gap
    return tuple(found)


def doubts(
    width: Length, rail: Member, mate: Member, unit: Unit, habits: Habits = PRINTED
) -> tuple[Fault, ...]:  # fmt: skip
    """What is unusual about a mortise so wide, with what would be usual: a quarter to half of the stock, or up to two
    thirds of a rail that enters a leg.  A shop that owns no other cutter proposes it, and its maker should know."""
    thick = rail.stock.thickness
    into_leg = _beside(rail, mate) >= thick * habits.of(THICK_MATE, unit)
    fact = TENON_SHARE_INTO_LEG if into_leg else TENON_SHARE
    assert TENON_SHARE.range and fact.range and fact.range[1]
    own, least, most = habits.of(fact, unit), TENON_SHARE.range[0], fact.range[1]
    if min(least, own) * thick <= width <= max(most, own) * thick:
        return ()
    step = shop_step(unit)
    low, high = round_up(least * thick, step), round_down(most * thick, step)
    what = f"a mortise {told(width, unit)} wide is unusual for stock {told(thick, unit)} thick"
    return (Fault("the tenon", what, f"The trade takes a chisel or bit of {told(low, unit)} to {told(high, unit)}."),)


def haunched(joint: MortiseAndTenon, rail: Member, groove: Length, beside: Face, width: Length) -> MortiseAndTenon:
    """The same joint with a haunch that fills a groove `groove` deep, `width` wide from the edge `beside` inwards.

    The tenon gives way to it: it starts where the haunch ends.
    """
    low = joint.edge_offset
    high = low + joint.width
    low, high = (width, high) if beside is Face.FACE_EDGE else (low, rail.stock.width - width)
    if high <= low:
        raise BadJoint("the haunch leaves no tenon", "Take a narrower haunch.")
    return replace(
        joint, edge_offset=low, width=high - low, haunch_length=groove, haunch_width=width, haunch_beside=beside
    )


def tongue_in_groove(
    tongue: str, channel: str, along: Face, panel: Member, cutters: Iterable[Length], *,
    gap: Length = 0, fit: Fit = SNUG, unit: Unit = Unit.INCH, habits: Habits = PRINTED,
) -> TongueJoint:  # fmt: skip
    """A centred tongue, a third of the panel thick and as long as its groove is deep less the `gap` that a panel needs
    to move (panel.py)."""
    thickness = nearest_cutter(tenon_thickness(panel.stock.thickness, habits.of(TENON_SHARE, unit)), cutters)
    depth = groove_depth(thickness, habits.of(GROOVE_DEPTH, unit))
    if gap >= depth:
        raise BadJoint("the gap is as deep as the groove", "Make the groove deeper or the panel narrower.")
    offset = (panel.stock.thickness - thickness) // 2
    return TongueJoint(tongue, channel, along, depth - gap, offset, thickness, fit._replace(depth=gap))


def shelf_in_dado(
    end: str, dado: str, at: Face, shelf: Member, side: Member, fit: Fit = SNUG, unit: Unit = Unit.INCH,
    habits: Habits = PRINTED,
) -> TongueJoint:  # fmt: skip
    """The whole end of a shelf in a dado, a third of the side deep, with no room behind it."""
    depth = dado_depth(_reach(shelf, at, side), habits.of(DADO_SHARE, unit))
    return housed(end, dado, at, depth, shelf.stock, fit._replace(depth=0))


def dovetails(
    tails: str, pins: str, end: Face, pins_end: Face, width: Length, *, hardwood: bool = True,
    unit: Unit = Unit.INCH, habits: Habits = PRINTED,
) -> DovetailJoint:  # fmt: skip
    """So many tails that each comes out about so wide as is the habit, at least one; pins and half pins of one
    width."""
    about, pin = habits.of(TAIL_WIDTH, unit), habits.of(PIN_WIDTH, unit)
    count = max(1, round_near(Fraction(width - pin, about + pin)))
    slope = habits.of(SLOPE_HARD if hardwood else SLOPE_SOFT, unit)
    return DovetailJoint(tails, pins, end, pins_end, count, pin, pin, round(1 / slope))


def _down(length: Length, step: Length) -> Length:
    return round_down(length, step) or length
