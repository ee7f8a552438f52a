"""Which sizes would the trade give the corner of a drawer?  For a kind that was just chosen, and for what is not given.

What a corner leaves at 0 is proposed for the wood at hand: a depth, a tongue, a pin, a half pin; and for dovetails with
no count so many tails as suit the height of each drawer.  The rules, with their sources, are in case_joints.py and
proposal.py.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..case_joints import HALF_BLIND_SHARE, RABBET_SHARE, SLOPE_HARD
from ..cutters import first_cutters
from ..dovetail import MOST_TAILS, BadDovetail, Tail, division
from ..length import INCH, MM, Length
from ..part import Unit
from ..proportions import nearest_cutter
from ..proposal import PIN_WIDTH, TAIL_WIDTH
from ..rounding import round_down, round_near
from .drawer_choices import Bottom, Corner, CornerJoint

__all__ = ["Customs", "completed", "division_of", "fits", "most_tails", "printed", "proposed", "with_tails"]


@dataclass(frozen=True)
class Customs:
    """How a shop goes about corners: how deep a rabbet and how long half-blind tails are, as a share of the front; the
    width of pins and, about, of tails; the slope; which widths it cuts, and what is easily set."""

    rabbet: Fraction
    half_blind: Fraction
    pin: Length
    tail: Length
    slope: int
    widths: tuple[Length, ...]
    step: Length


def printed(unit: Unit) -> Customs:
    """What a shop thinking in `unit` begins with."""
    return Customs(
        RABBET_SHARE.used(unit), HALF_BLIND_SHARE.used(unit), PIN_WIDTH.used(unit), TAIL_WIDTH.used(unit),
        round(1 / SLOPE_HARD.used(unit)), first_cutters(unit).widths, MM if unit is Unit.MM else INCH // 16,
    )  # fmt: skip


def proposed(kind: Corner, front: Length, side: Length, bottom: Bottom, customs: Customs) -> CornerJoint:
    """A corner with nothing of it given but its kind, for a front and sides so thick.

    The tongue stays clear of its dado by a step, a rabbet and dovetails of nothing.
    """
    slope = customs.slope if kind is Corner.DOVETAIL else CornerJoint.slope
    clear = customs.step if kind is Corner.TONGUE else 0
    return completed(CornerJoint(kind, 0, clear=clear, slope=slope), front, side, bottom, customs)


def completed(corner: CornerJoint, front: Length, side: Length, bottom: Bottom, customs: Customs) -> CornerJoint:
    """The corner with what it leaves at 0, but for the count of tails: see with_tails."""
    dovetails = corner.kind is Corner.DOVETAIL
    deep = customs.half_blind if dovetails else customs.rabbet
    depth = corner.depth or _down(front * deep, customs.step)
    if corner.kind is Corner.TONGUE:
        # The corners of the bottom lie where the tongues are.
        widths = [width for width in customs.widths if width >= bottom.depth - bottom.clear]
        return replace(corner, depth=depth, tongue=corner.tongue or _cut(side // 2, side, widths))
    if not dovetails:
        return replace(corner, depth=depth)
    slope = corner.slope or customs.slope
    pin = corner.pin or _cut(customs.pin, customs.pin + 1, customs.widths)
    # At its baseline, where it is narrowest, the lowest tail has to reach below the groove.
    most = bottom.up - round(Fraction(depth, slope))
    half_pin = corner.half_pin or min(pin, max(_down(most, customs.step), 0))
    return replace(corner, depth=depth, pin=pin, half_pin=half_pin, slope=slope)


def with_tails(corner: CornerJoint, groove: tuple[Length, Length], high: Length, customs: Customs) -> CornerJoint:
    """The corner of a drawer `high`, with a count of tails if none was given: so many that they come out about as wide
    as is the custom, and the bottom's `groove` (where it begins, and its width) lies within one."""
    if corner.kind is not Corner.DOVETAIL or corner.count:
        return corner
    about = round_near(Fraction(high - corner.pin, customs.tail + corner.pin))
    counts = range(min(max(about, 1), MOST_TAILS), 0, -1)
    return replace(corner, count=next((count for count in counts if fits(corner, count, groove, high)), 1))


def division_of(corner: CornerJoint, high: Length) -> tuple[Tail, ...]:
    """The tails of a drawer `high`.  Raises BadDovetail."""
    return division(high, corner.count, corner.pin, corner.half_pin, corner.depth, corner.slope)


def fits(corner: CornerJoint, count: int, groove: tuple[Length, Length], high: Length) -> bool:
    """Whether so many tails can be cut, with the groove within one of them."""
    try:
        tails = division_of(replace(corner, count=count), high)
    except BadDovetail:
        return False
    return any(tail.base_start <= groove[0] and sum(groove) <= tail.base_end for tail in tails)


def most_tails(corner: CornerJoint, groove: tuple[Length, Length], high: Length) -> int:
    """The most tails, fewer than were asked for, that can be cut; 0 if not even one can."""
    counts: Iterable[int] = range(min(corner.count - 1, MOST_TAILS), 0, -1)
    return next((count for count in counts if fits(corner, count, groove, high)), 0)


def _down(length: Fraction | Length, step: Length) -> Length:
    return round_down(length, step) or round(length)


def _cut(wanted: Length, stock: Length, widths: Iterable[Length]) -> Length:
    """The nearest width that a cutter has and that leaves some of the stock; else as wanted."""
    fitting = [width for width in widths if width < stock]
    return nearest_cutter(wanted, fitting) if fitting else wanted
