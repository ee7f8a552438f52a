"""A shop's own number counts wherever the printed one did, and only what is really listened to can be changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from shopfloor.plan.asking import saw_by
from shopfloor.plan.boards import Rule
from shopfloor.trade import seasonal, walls
from shopfloor.trade.abutment import Abutment
from shopfloor.trade.board import END_TRIM
from shopfloor.trade.buying import buying
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.drawer_choices import Corner, Drawers
from shopfloor.trade.construct.frame_choices import Frame
from shopfloor.trade.construct.habitual import Ways, habitual
from shopfloor.trade.construct.legs import Side
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.web_frames import WebFrames
from shopfloor.trade.cutters import first_cutters
from shopfloor.trade.fact import AnyFact, inch
from shopfloor.trade.facts import HABITS, facts
from shopfloor.trade.habit import PRINTED, BadHabit, Habits, read_habit
from shopfloor.trade.joining import Joining, Kind, proposed
from shopfloor.trade.joint import MortiseAndTenon
from shopfloor.trade.length import MM, read
from shopfloor.trade.lumber import WASTE
from shopfloor.trade.milling import SNIPE
from shopfloor.trade.part import Face, Groove, Job, Line, Part, Unit
from shopfloor.trade.proportions import MORTISE_EXTRA, TENON_SHARE
from shopfloor.trade.stock import Making, Way, rough_list, sawing_by
from tests.trade.test_joining import RAIL, joining, line
from tests.trade.test_seasonal import BEYOND, GROOVE, TONGUE, YEAR, board, doors

STILE = line("stile", 12, 32, 480)
LIGHT = line("light", 20, 20, 480)  # a leg, since it is more than one and a half times as thick as the rail
STOUT = line("stout", 16, 32, 480)  # hardly
FOUR = line("four", 12, 64, 320)
WIDE = line("wide", 12, 104, 320)  # 6 1/2 in
WIDEST = line("widest", 12, 160, 320)  # 10 in
BOARD, SHELF = line("board", 12, 192, 480), line("shelf", 12, 192, 320)
JOININGS = (
    joining(at=inch(2)), joining(mate=STILE), joining(mate=STILE, face=Face.FAR_EDGE, at=inch(4)),
    Joining(Kind.MORTISE_AND_TENON, RAIL, STILE, Abutment(Face.DATUM_END, Face.FACE_EDGE), through=True),
    joining(mate=LIGHT), joining(mate=STOUT), joining(comes=FOUR), joining(comes=WIDE),
    joining(comes=WIDEST), joining(Kind.TONGUE, mate=STILE), joining(Kind.DOVETAILS, SHELF, BOARD),
    joining(Kind.HOUSED, SHELF, BOARD, face=Face.FACE_SIDE, across=True, at=inch(4)), joining(Kind.BRIDLE, mate=STILE),
)  # fmt: skip


def everything(habits: Habits, unit: Unit = Unit.INCH) -> Iterator[object]:
    """What is proposed for joints and constructions, and warned about, by these habits."""
    for asked in JOININGS:
        yield proposed(asked, first_cutters(unit), unit, habits)
        yield proposed(asked, first_cutters(unit), unit, habits, "white pine")
    ways = Ways(unit, habits)
    case = replace(
        starter(Cabinet, unit, ways, key="c"), left=starter(Side, unit), web_frames=starter(WebFrames, unit),
        drawers=starter(Drawers, unit),
    )  # fmt: skip
    yield habitual(case, ways)
    dovetailed = replace(case.drawers, corner=replace(case.drawers.corner, kind=Corner.DOVETAIL, count=3))
    yield habitual(dovetailed, ways)
    yield habitual(replace(starter(Carcase, unit, key="b"), shelves=starter(Shelves, unit)), ways)
    thin = replace(RAIL, features=(Groove("groove", Face.FACE_EDGE, inch(1, 8), inch(1, 4), inch(1, 4)),))
    yield walls.faults(thin, unit, habits.of(walls.LEAST_WALL, unit))
    for job in (doors("3/32", "3/8"), doors("1/8", "5/32"), board(TONGUE, "16", GROOVE, BEYOND)):
        yield seasonal.faults(job, YEAR, habits=habits)


def lumber(habits: Habits, unit: Unit = Unit.INCH) -> Iterator[object]:
    """What is sawn and bought by these habits: a small part, a long one, a wide grooved one, a thick one, a pair."""
    groove = Groove("groove", Face.FACE_SIDE, inch(47, 8), inch(1, 4), inch(1, 4))
    lines = (
        Line("a", "s", "A", inch(3, 4), inch(2), inch(20), parts=(Part("a"),)),
        Line("b", "s", "B", inch(3, 4), inch(2), inch(50), parts=(Part("b"),)),
        Line("c", "s", "C", inch(3, 4), inch(12), inch(40), parts=(Part("c"),), features=(groove,)),
        Line("d", "s", "D", inch(5, 2), inch(3), inch(20), parts=(Part("d"),)),
        Line("e", "s", "E", inch(1, 2), inch(3), inch(20), parts=(Part("e.1"), Part("e.2"))),
    )
    listed = rough_list(Job("j", "J", lines=lines), sawing_by(habits, unit), {"e": Making(Way.RESAWN)})
    yield listed
    yield buying(listed.blanks, habits.of(WASTE, unit))
    yield saw_by(habits, unit, Rule.RIP_FIRST)
    yield habits.of(END_TRIM, unit)


@pytest.mark.parametrize("fact", HABITS.values(), ids=HABITS)
def test_each_habit_that_can_be_changed_changes_something(fact: AnyFact) -> None:
    worked_out = lumber if fact.subject in ("lumber", "milling") else everything
    printed = list(worked_out(PRINTED))
    assert not isinstance(fact.value, str)
    others = [fact.value * times for times in (Fraction(2, 3), Fraction(1, 2), Fraction(2) if fact.unit == "nm" else 1)]

    assert any(list(worked_out(Habits({fact.key: other}))) != printed for other in others)


def test_what_can_be_changed_is_a_habit_that_stands_on_the_page() -> None:
    assert set(HABITS.values()) <= set(facts())
    assert all(fact.changeable and not isinstance(fact.value, str) for fact in HABITS.values())


def test_a_number_that_is_no_habit_counts_as_it_is_printed() -> None:
    law = next(fact for fact in facts() if not fact.changeable and fact.unit == "nm")

    assert Habits({law.key: 1}).of(law, Unit.INCH) == law.value  # type: ignore[arg-type]


def test_a_deeper_mortise_and_a_thicker_tenon_are_proposed_by_the_shop_s_own_numbers() -> None:
    own = Habits({"mortise-extra-depth": inch(1, 8), "tenon-share": Fraction(1, 2)})

    (tenon,) = proposed(joining(mate=STILE), first_cutters(Unit.INCH), Unit.INCH, own)

    assert isinstance(tenon, MortiseAndTenon)
    assert tenon.fit.depth == inch(1, 8)
    assert tenon.thickness == inch(3, 8)  # half of 3/4


@pytest.mark.parametrize(
    ("unit", "extra", "thick"), [(Unit.INCH, read("1/16"), read("1/4")), (Unit.MM, 1_500_000, 6 * MM)]
)
def test_what_is_begun_goes_by_the_habits_and_the_cutters(unit: Unit, extra: int, thick: int) -> None:
    printed: Frame = starter(Frame, unit)
    own: Frame = starter(Frame, unit, Ways(unit, Habits({"tenon-share": Fraction(1, 2), "panel-clearance": 4 * MM})))

    assert (printed.tenon.extra, printed.tenon.thickness) == (extra, thick)
    # Half of 3/4 is 3/8; half of 19 mm is 9.5, and 10 is the nearest cutter.  The groove stays in line.
    half, in_from = (read("3/8"), read("3/16")) if unit is Unit.INCH else (10 * MM, 4_500_000)
    assert (own.tenon.thickness, own.tenon.offset) == (half, in_from)
    assert own.groove and (own.groove.width, own.groove.offset) == (half, in_from)
    assert own.panel and own.panel.beside == 4 * MM


def test_only_the_sizes_of_the_habits_that_are_asked_about_are_begun_anew() -> None:
    """All else that its maker chose stays as it was chosen."""
    frame: Frame = starter(Frame, Unit.INCH)
    chosen = replace(frame, tenon=replace(frame.tenon, thickness=read("3/8"), offset=read("3/16"), extra=0))
    ways = Ways(Unit.INCH, Habits({"panel-clearance": read("3/32"), "mortise-extra-depth": read("1/8")}))

    made = habitual(chosen, ways, ["panel-clearance"])

    assert chosen.panel and made == replace(chosen, panel=replace(chosen.panel, beside=read("3/32")))


def test_a_bare_faced_tenon_stays_where_it_is_and_a_groove_out_of_line_is_left_alone() -> None:
    frame: Frame = starter(Frame, Unit.INCH)
    assert frame.groove
    bare = replace(
        frame, tenon=replace(frame.tenon, offset=0), groove=replace(frame.groove, offset=read("3/16")),
    )  # fmt: skip
    ways = Ways(Unit.INCH, Habits({"tenon-share": Fraction(1, 2)}))

    made = habitual(bare, ways, ["tenon-share"])

    assert (made.tenon.offset, made.tenon.thickness) == (0, read("3/8"))
    assert made.groove == bare.groove


def test_drawers_on_metal_runners_keep_the_clearance_of_those() -> None:
    ways = Ways(Unit.INCH, Habits({"drawer-side-clearance": read("1/16")}))
    drawers: Drawers = starter(Drawers, Unit.INCH)
    runners = replace(drawers, beside=read("1/2"))

    assert habitual(drawers, ways).beside == read("1/32")
    assert habitual(runners, ways).beside == read("1/2")


@pytest.mark.parametrize(("key", "text", "unit", "value"), [
    ("mortise-extra-depth", "1/8", Unit.INCH, inch(1, 8)),
    ("mortise-extra-depth", "2", Unit.MM, 2 * MM),
    ("mortise-extra-depth", "2 mm", Unit.INCH, 2 * MM),
    ("fit-thickness", "0", Unit.INCH, 0),
    ("tenon-share", "2/5", Unit.INCH, Fraction(2, 5)),
    ("tenon-share", "40 %", Unit.MM, Fraction(2, 5)),
    ("tenon-share", "0,4", Unit.MM, Fraction(2, 5)),
])  # fmt: skip
def test_a_number_is_read_as_people_write_it(key: str, text: str, unit: Unit, value: object) -> None:
    assert read_habit(HABITS[key], text, unit) == value


@pytest.mark.parametrize(("key", "text", "says"), [
    ("mortise-extra-depth", "deep", '"deep" is not a size'),
    ("mortise-extra-depth", "0", "more than nothing, up to 1 in"),  # 8 times the 1/8 that the trade goes up to
    ("mortise-extra-depth", "-1", "is a negative size"),
    ("mortise-extra-depth", "3 ft", "up to 1 in"),
    ("mortise-extra-depth", "", "no size"),
    ("tenon-share", "1/0", "is no share"),
    ("tenon-share", "third", "is no share"),
    ("tenon-share", "nan", "is no share"),
    ("tenon-share", "1e9", "up to 9/10"),
    ("tenon-share", "1", "up to 9/10 of the stock"),
    ("tenon-share", "-1/3", "more than nothing"),
])  # fmt: skip
def test_what_cannot_be_a_habit_is_refused_in_a_sentence(key: str, text: str, says: str) -> None:
    with pytest.raises(BadHabit, match=says):
        read_habit(HABITS[key], text, Unit.INCH)


@pytest.mark.parametrize("fact", [MORTISE_EXTRA, TENON_SHARE], ids=lambda fact: fact.key)
def test_the_printed_numbers_can_be_typed_again(fact: AnyFact) -> None:
    assert read_habit(fact, fact.shows().removesuffix(" of the stock"), Unit.INCH) == fact.value


def test_a_law_of_nature_is_not_changed() -> None:
    law = next(fact for fact in facts() if not fact.changeable)

    with pytest.raises(BadHabit, match="no habit"):
        read_habit(law, "1", Unit.INCH)
    assert SNIPE.key not in HABITS, "nothing is worked out from it here yet"
