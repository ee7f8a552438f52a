"""Which sizes of a construction go by a habit, and what would they be?  For what is begun, and for what is begun anew.

A construction holds its sizes, and nothing changes them by itself.  A size that hangs on the wood around it (a share of
the rail's thickness) is worked out where that is known, and else stays as it is.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, TypeVar

from ..case_joints import BOTTOM_DEPTH, BOTTOM_UP, BOTTOM_WIDTH, DADO_SHARE, DRAWER_SIDES, RABBET_SHARE, SLOPE_HARD
from ..cutters import Cutters, first_cutters
from ..fact import Fact
from ..habit import PRINTED, Habits
from ..length import INCH, MM, Length
from ..panel import CLEARANCE, END_CLEARANCE
from ..part import Unit
from ..proportions import (
    EDGE_SHOULDER,
    GROOVE_DEPTH,
    LEG_SHARE,
    MORTISE_EXTRA,
    TENON_SHARE,
    TENON_SHARE_INTO_LEG,
    groove_depth,
    nearest_cutter,
    tenon_into_leg,
    tenon_thickness,
)
from ..proposal import PIN_WIDTH
from ..rounding import round_down
from .cabinet import Cabinet
from .carcase import Carcase
from .drawer_choices import Bottom, Corner, CornerJoint, Drawers
from .frame_choices import Frame, Groove, Panel, Tenon
from .housed_frames import HousedFrames
from .shelf import Shelves
from .web_frames import LegTenon, WebFrames

__all__ = ["Ways", "habitual"]

Record = TypeVar("Record")
RUNNER: Length = INCH // 8
"""Drawers that stay so far clear of their opening run on metal, and the clearance is that of the runners."""


@dataclass(frozen=True)
class Ways:
    """How a shop goes about it: the unit of the job, its own habits, the cutters that it owns."""

    unit: Unit = Unit.INCH
    habits: Habits = PRINTED
    cutters: Cutters | None = None

    def cut(self, wanted: Length, stock: Length) -> Length:
        """The nearest width that the shop can cut and that leaves some of the stock; else as wanted."""
        owned = (self.cutters or first_cutters(self.unit)).widths
        fitting = [width for width in owned if width < stock]
        return nearest_cutter(wanted, fitting) if fitting else wanted

    def down(self, length: Any) -> Length:
        """Down to what is easily set: sixteenths of an inch, or whole millimetres."""
        return round_down(length, MM if self.unit is Unit.MM else INCH // 16) or round(length)


def habitual(record: Record, ways: Ways, only: Collection[str] | None = None, around: tuple[Any, ...] = ()) -> Record:
    """The record with every size that goes by a habit as the shop would begin it now, or with those alone that go by
    one of `only`, keys of facts.  `around` is what it stands in, from the inside out."""
    inner = {
        each.name: habitual(value, ways, only, (record, *around))
        for each in fields(record)  # type: ignore[arg-type]
        if is_dataclass(value := getattr(record, each.name))
    }
    made: Any = replace(record, **inner)  # type: ignore[type-var]
    going = _Going(ways, only, around)
    match made:
        case Frame():
            made = going.frame(made)
        case Tenon() if made.length:
            made = going.plainly(made, extra=MORTISE_EXTRA)
        case Groove():
            made = going.groove(made)
        case Panel():
            made = going.plainly(made, beside=CLEARANCE, ends=END_CLEARANCE)
        case LegTenon():
            made = going.leg_tenon(going.plainly(made, shoulder=EDGE_SHOULDER, extra=MORTISE_EXTRA))
        case Drawers() if made.beside < RUNNER and going.by(DRAWER_SIDES):
            made = replace(made, beside=going.of(DRAWER_SIDES) // 2)
        case CornerJoint():
            made = going.corner(made)
        case Bottom():
            made = going.plainly(made, width=BOTTOM_WIDTH, depth=BOTTOM_DEPTH, up=BOTTOM_UP)
        case Shelves() | HousedFrames():
            made = going.housed(made)
    return made  # type: ignore[no-any-return]


@dataclass(frozen=True)
class _Going:
    ways: Ways
    only: Collection[str] | None
    around: tuple[Any, ...]

    def by(self, *facts: Fact[Any]) -> bool:
        """Whether one of these habits is asked about."""
        return self.only is None or any(fact.key in self.only for fact in facts)

    def of(self, fact: Fact[Any]) -> Any:
        return self.ways.habits.of(fact, self.ways.unit)

    def within(self, kind: type[Record]) -> Record | None:
        return next((each for each in self.around if isinstance(each, kind)), None)

    def plainly(self, record: Any, **sizes: Fact[Any]) -> Any:
        """Sizes that are the habit itself."""
        return replace(record, **{name: self.of(fact) for name, fact in sizes.items() if self.by(fact)})

    def frame(self, frame: Frame) -> Frame:
        """Tenons as thick as is the habit, and a groove that lies in one line with them goes along."""
        was, groove = frame.tenon, frame.groove
        if not self.by(TENON_SHARE):
            return frame
        thick = self.ways.cut(tenon_thickness(frame.thickness, self.of(TENON_SHARE)), frame.thickness)
        tenon = replace(was, thickness=thick, offset=_moved(frame.thickness, was.offset, was.thickness, thick))
        if groove and (groove.width, groove.offset) == (was.thickness, was.offset):
            deep = max(groove.depth, groove_depth(thick, self.of(GROOVE_DEPTH)))
            groove = replace(groove, width=tenon.thickness, offset=tenon.offset, depth=deep)
        return replace(frame, tenon=tenon, groove=groove)

    def groove(self, groove: Groove) -> Groove:
        if self.by(MORTISE_EXTRA):
            groove = replace(groove, clear=self.of(MORTISE_EXTRA))
        if self.by(GROOVE_DEPTH):  # a panel may need more than the least
            groove = replace(groove, depth=max(groove.depth, groove_depth(groove.width, self.of(GROOVE_DEPTH))))
        return groove

    def leg_tenon(self, tenon: LegTenon) -> LegTenon:
        frames, case = self.within(WebFrames), self.within(Cabinet)
        if frames is None or not self.by(TENON_SHARE_INTO_LEG, LEG_SHARE):
            return tenon
        share, of_leg = self.of(TENON_SHARE_INTO_LEG), self.of(LEG_SHARE)
        rail = frames.thickness
        wanted = tenon_into_leg(rail, case.legs.thickness, share, of_leg) if case else tenon_thickness(rail, share)
        thick = self.ways.cut(wanted, rail)
        return replace(tenon, thickness=thick, offset=_moved(rail, tenon.offset, tenon.thickness, thick))

    def corner(self, corner: CornerJoint) -> CornerJoint:
        drawers = self.within(Drawers)
        if corner.kind is Corner.DOVETAIL:
            corner = self.plainly(corner, pin=PIN_WIDTH, half_pin=PIN_WIDTH)
            return replace(corner, slope=round(1 / self.of(SLOPE_HARD))) if self.by(SLOPE_HARD) else corner
        if drawers and self.by(RABBET_SHARE):
            return replace(corner, depth=self.ways.down(drawers.front * self.of(RABBET_SHARE)))
        return corner

    def housed(self, inside: Any) -> Any:
        case = self.within(Carcase)
        if case is None or not self.by(DADO_SHARE):
            return inside
        return replace(inside, depth=self.ways.down(case.side * self.of(DADO_SHARE)))


def _moved(stock: Length, offset: Length, was: Length, now: Length) -> Length:
    """Where a tenon of another thickness begins: one that was in the middle stays there."""
    return (stock - now) // 2 if abs(2 * offset + was - stock) <= MM else offset
