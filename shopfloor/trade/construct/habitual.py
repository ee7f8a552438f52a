"""Which sizes of a construction go by a habit, and what would they be?  For what is begun, and for what is begun anew.

A construction holds its sizes, and nothing changes them by itself.  A size that hangs on the wood around it (a share of
the rail's thickness) is worked out where that is known, and else stays as it is.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, fields, is_dataclass, replace
from fractions import Fraction
from typing import Any, TypeVar

from ..case_joints import BOTTOM_DEPTH, BOTTOM_UP, BOTTOM_WIDTH, DADO_SHARE, DRAWER_SIDES, RABBET_SHARE, SLOPE_HARD
from ..cutters import Cutters, first_cutters
from ..fact import Fact
from ..habit import PRINTED, Habits
from ..length import INCH, MM, Length
from ..moisture import INTERIOR
from ..panel import CLEARANCE, END_CLEARANCE
from ..part import Unit
from ..proportions import (
    BLIND_SHARE,
    EDGE_SHOULDER,
    FIT_THICKNESS,
    FIT_WIDTH,
    GROOVE_DEPTH,
    LEG_SHARE,
    MORTISE_EXTRA,
    TENON_SHARE,
    TENON_SHARE_INTO_LEG,
    blind_tenon_length,
    groove_depth,
    nearest_cutter,
    tenon_into_leg,
    tenon_thickness,
)
from ..proposal import PIN_WIDTH
from ..rounding import HALF_MM, SIXTY_FOURTH, round_down
from ..seasonal import moves_by
from ..seasons import PRESETS, Seasons
from .cabinet import Cabinet
from .carcase import Carcase
from .clearances import Clearances
from .cleats import Cleats, fitted
from .drawer_choices import BackJoint, Bottom, Corner, CornerJoint, Drawers
from .frame_choices import Frame, Groove, Panel, Tenon
from .housed_frames import HousedFrames
from .lone_shelves import InDadoes, LoneShelves
from .lone_web_frames import LoneWebFrames, SideTongue
from .screwed import Screwed, for_the_year
from .shelf import Shelves
from .table import Table
from .top import Top
from .web_frames import LegTenon, WebFrames

__all__ = ["Ways", "habitual"]

Record = TypeVar("Record")
RUNNER: Length = INCH // 8
"""Drawers that stay so far clear of their opening run on metal, and the clearance is that of the runners."""


INDOORS = PRESETS[0].seasons(INTERIOR.value)
"""The seasons of a shop that has not said any: a controlled interior."""


@dataclass(frozen=True)
class Ways:
    """How a shop goes about it: the unit of the job, its own habits, the cutters that it owns, and its seasons."""

    unit: Unit = Unit.INCH
    habits: Habits = PRINTED
    cutters: Cutters | None = None
    seasons: Seasons = INDOORS

    def mortise(self, wanted: Length, stock: Length, *, grooved: bool = False) -> Length:
        """The nearest chisel or bit that leaves some of the stock, `grooved` if a groove as wide runs in line with the
        mortise; as wanted if the shop has none."""
        owned = self.owned.mortising
        both = [width for width in owned if width in self.owned.grooving]
        return self._nearest(wanted, both if grooved and both else owned, stock)

    def channel(self, wanted: Length, stock: Length) -> Length:
        """The nearest width of a groove or dado that the shop cuts in one pass and that leaves some of the stock."""
        return self._nearest(wanted, self.owned.grooving, stock)

    @property
    def owned(self) -> Cutters:
        return self.cutters or first_cutters(self.unit)

    def _nearest(self, wanted: Length, widths: Collection[Length], stock: Length) -> Length:
        fitting = [width for width in widths if width < stock]
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
        case BackJoint() if only is None and (drawers := going.within(Drawers)):
            made = replace(made, tongue=ways.channel(made.tongue, drawers.back))
        case Bottom():
            made = going.bottom(going.plainly(made, width=BOTTOM_WIDTH, depth=BOTTOM_DEPTH, up=BOTTOM_UP))
        case Shelves():
            made = going.housed(made)
            if only is None:
                made = replace(made, tongue=ways.channel(made.tongue, made.thickness))
        case InDadoes() if only is None and (shelves := going.within(LoneShelves)):
            made = replace(made, tongue=ways.channel(made.tongue, shelves.thickness))
        case HousedFrames():
            made = going.web(going.tongue(going.housed(made), made.thickness, "tongue"))
        case SideTongue() if frames := going.within(LoneWebFrames):
            made = going.tongue(made, frames.thickness, "thickness")
        case WebFrames() | LoneWebFrames():
            made = going.web(made)
        case Cleats() | Screwed() if only is None:
            made = going.for_the_year(made)
        case Clearances():
            made = going.clearances(made)
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
        """Tenons as thick and as long as is the habit, and a groove that lies in one line with them goes along."""
        was, groove = frame.tenon, frame.groove
        case = self.within(Cabinet) or self.within(Table)
        if was.length and frame.stiles and self.by(BLIND_SHARE):
            long = self.ways.down(blind_tenon_length(min(frame.stiles), self.of(BLIND_SHARE)))
            frame = replace(frame, tenon=replace(was, length=long))
        elif was.length and not frame.stiles and case and self.only is None:
            # Two tenons may come together in a leg, so each has half of it.
            frame = replace(frame, tenon=replace(was, length=self.ways.down(Fraction(case.legs.thickness, 2))))
        rule = (TENON_SHARE,) if groove or not case else (TENON_SHARE_INTO_LEG, LEG_SHARE)
        if not self.by(*rule):
            return frame
        wanted = tenon_thickness(frame.thickness, self.of(TENON_SHARE))
        if case and not groove:
            wanted = tenon_into_leg(frame.thickness, case.legs.thickness, *(self.of(each) for each in rule))
        thick = self.ways.mortise(wanted, frame.thickness, grooved=groove is not None)
        offset = _moved(frame.thickness, was.offset, was.thickness, thick)
        tenon = replace(frame.tenon, thickness=thick, offset=offset)
        if groove and (groove.width, groove.offset) == (was.thickness, was.offset):
            deep = max(groove.depth, groove_depth(thick, self.of(GROOVE_DEPTH)))
            groove = replace(groove, width=tenon.thickness, offset=tenon.offset, depth=deep)
        panel = frame.panel
        if panel and groove:
            # Its tongue ends where the groove does, so a panel that is thinner than that lies farther back.
            back = groove.offset + groove.width - panel.thickness
            panel = replace(panel, set_back=max(panel.set_back, min(back, groove.offset)))
        return replace(frame, tenon=tenon, groove=groove, panel=panel)

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
        thick = self.ways.mortise(wanted, rail)
        return replace(tenon, thickness=thick, offset=_moved(rail, tenon.offset, tenon.thickness, thick))

    def corner(self, corner: CornerJoint) -> CornerJoint:
        drawers = self.within(Drawers)
        if corner.kind is Corner.DOVETAIL:
            corner = self.plainly(corner, pin=PIN_WIDTH, half_pin=PIN_WIDTH)
            return replace(corner, slope=round(1 / self.of(SLOPE_HARD))) if self.by(SLOPE_HARD) else corner
        if drawers and self.by(RABBET_SHARE):
            return replace(corner, depth=self.ways.down(drawers.front * self.of(RABBET_SHARE)))
        return corner

    def web(self, frames: Any) -> Any:
        """The groove of a web frame, a third of it wide like the tongues of its panels."""
        groove: Groove = frames.groove
        if not self.by(TENON_SHARE):
            return frames
        wide = self.ways.channel(tenon_thickness(frames.thickness, self.of(TENON_SHARE)), frames.thickness)
        offset = _moved(frames.thickness, groove.offset, groove.width, wide)
        deep = max(groove.depth, groove_depth(wide, self.of(GROOVE_DEPTH)))
        return replace(frames, groove=replace(groove, width=wide, offset=offset, depth=deep))

    def tongue(self, record: Any, stock: Length, name: str) -> Any:
        """A tongue in a dado, a third of its stock thick; `name` is the field that says so."""
        if not self.by(TENON_SHARE):
            return record
        was: Length = getattr(record, name)
        now = self.ways.channel(tenon_thickness(stock, self.of(TENON_SHARE)), stock)
        return replace(record, offset=_moved(stock, record.offset, was, now), **{name: now})

    def bottom(self, bottom: Bottom) -> Bottom:
        """A groove that one cutter makes, unless the shop has said how wide it is to be."""
        if self.only is not None or BOTTOM_WIDTH.key in self.ways.habits.changed:
            return bottom
        return replace(bottom, width=self.ways.channel(bottom.width, bottom.thickness + 1))

    def for_the_year(self, held: Any) -> Any:
        """Slots as long as the year's movement of the top asks for, if its wood is known."""
        case, lid = self.within(Cabinet) or self.within(Table) or self.within(Carcase), self.within(Top)
        if case is None or lid is None:
            return held
        rate = moves_by(lid.species or case.species)
        ends = 0 if isinstance(case, Carcase) else 2 * case.legs.thickness
        frames = getattr(case, "web_frames", None) or getattr(case, "frames", None)
        rails = frames.set_back + frames.front + frames.back if isinstance(held, Screwed) and frames else ends
        if rate is None or case.depth <= rails:
            return held
        fit: Any = for_the_year if isinstance(held, Screwed) else fitted
        step = HALF_MM if self.ways.unit is Unit.MM else SIXTY_FOURTH
        return fit(held, case.depth - rails, rate, self.ways.seasons, step)

    def clearances(self, fit: Clearances) -> Clearances:
        """The fit of a shop that works to numbers.  The printed ones are not taken: a drawing has the nominal sizes,
        and a tenon is fitted to the mortise that was cut."""
        changed = self.ways.habits.changed
        if self.by(FIT_THICKNESS) and FIT_THICKNESS.key in changed:
            each = self.of(FIT_THICKNESS) // 2
            fit = replace(fit, cheek=each, groove=each)
        if self.by(FIT_WIDTH) and FIT_WIDTH.key in changed:
            fit = replace(fit, edge=self.of(FIT_WIDTH) // 2)
        return fit

    def housed(self, inside: Any) -> Any:
        case = self.within(Carcase)
        if case is None or not self.by(DADO_SHARE):
            return inside
        return replace(inside, depth=self.ways.down(case.side * self.of(DADO_SHARE)))


def _moved(stock: Length, offset: Length, was: Length, now: Length) -> Length:
    """Where a tenon of another thickness begins: one that was in the middle stays there."""
    return (stock - now) // 2 if abs(2 * offset + was - stock) <= MM else offset
