"""Over a web frame a solid top is screwed to the runners under it: held by one screw, free to move at all others."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from shopfloor.trade import seasonal
from shopfloor.trade.construct.cabinet import Cabinet, derive
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.carcase import derive as of_carcase
from shopfloor.trade.construct.cleats import HeldAt
from shopfloor.trade.construct.habitual import Ways
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.made import Built
from shopfloor.trade.construct.mates import clashes, placed
from shopfloor.trade.construct.screwed import Screwed, for_the_year
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.top import Top
from shopfloor.trade.document import check, from_json, to_json
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Face, Hole, Job, Line, Mortise, Unit
from shopfloor.trade.seasons import Seasons

from .choir_cabinet import CHOIR_CABINET

SCREWED = Screwed(3, read("3/16"), read("3/16"))
YEAR = Seasons(dry=6, build=7, damp=11)


def held(**changed: Any) -> Cabinet:
    assert CHOIR_CABINET.top
    top = replace(CHOIR_CABINET.top, screwed=replace(SCREWED, **changed))
    return replace(CHOIR_CABINET, top=top)


def line(built: Built, key: str) -> Line:
    return next(each for each in built.lines if each.key == key)


def job_of(built: Built) -> Job:
    return Job("held", "Held", assemblies=built.assemblies, lines=built.lines, joints=built.joints, species="cherry")


def test_the_runners_of_the_uppermost_frame_are_drilled_and_slotted_and_no_others() -> None:
    built, plain = derive(held()), derive(CHOIR_CABINET)
    upper, others = line(built, "web-runner-top"), line(built, "web-runner")

    assert built.faults == ()
    assert [part.key for part in upper.parts] == ["web.1.runner-left", "web.1.runner-right"]
    assert len(others.parts) == 12 and others.features == line(plain, "web-runner").features
    assert upper.stock == others.stock
    # 12 1/8 are free between the rails, after a stub of 5/16: screws at a sixth, three and five sixths of them, so at
    # 59 266 666, 161 925 000 and 264 583 333 nm.  Slots are 3/16 + 2 x 3/16 = 9/16 long, their middles at the screws.
    assert upper.features[len(others.features):] == (
        Hole("screw-1", Face.FACE_SIDE, 59_266_666, read("1"), read("3/16")),
        Mortise("slot-2", Face.FACE_SIDE, 161_925_000 - read("9/32"), read("9/16"), read("29/32"), read("3/16")),
        Mortise("slot-3", Face.FACE_SIDE, 264_583_333 - read("9/32"), read("9/16"), read("29/32"), read("3/16")),
    )  # fmt: skip
    assert check(job_of(built)) == []
    assert clashes(placed(built.assemblies, built.lines)) == []


def test_the_slot_is_told_with_its_sum_and_can_be_set_by_hand() -> None:
    said = next(each.said for each in derive(held()).derived if each.key == "top.screwed.slot")

    assert said == ("slot ", read("9/16"), " = ", "screw ", read("3/16"), " + 2 plays of ", read("3/16"))


def test_the_play_is_what_the_farthest_screw_needs_over_the_year() -> None:
    made = for_the_year(SCREWED, read("12"), Fraction("0.00248"), YEAR)

    # The third screw is 8 from the first: it grows 8 x 0.00248 x 4 = 0.07936, that is 6/64 up, and shrinks less.
    assert made.play == read("3/32")
    # Held at the middle one, 4 away: 0.03968, 3/64 up.
    middle = for_the_year(replace(SCREWED, held=HeldAt.MIDDLE), read("12"), Fraction("0.00248"), YEAR)
    assert middle.play == read("3/64")


def test_slots_that_are_too_short_for_the_shop_s_seasons_are_told_with_the_length_that_would_do() -> None:
    short, enough = (job_of(derive(held(play=read(play)))) for play in ("1/32", "3/32"))

    found = [each for each in seasonal.faults(short, YEAR) if "slot" in each.where]

    assert [each.where for each in found] == ['line "web-runner-top", slot-2', 'line "web-runner-top", slot-3']
    assert "it is 1/4 in long" in found[1].what
    # 8 1/12 from the first: 0.0802 + 3/32 each way, 0.3479 in all: 23/64 up.
    assert found[1].do.startswith("23/64 in would do")
    assert not [each for each in seasonal.faults(enough, YEAR) if "slot" in each.where]


def test_what_is_begun_has_the_play_of_the_shop_s_year() -> None:
    assert CHOIR_CABINET.top
    around = (CHOIR_CABINET.top, CHOIR_CABINET)
    ways = Ways(seasons=YEAR)

    # 17 less 1/8 and two rails of 2 are 12 7/8; two thirds of it are 8.5833: 0.08515, 6/64 up.
    assert starter(Screwed, Unit.INCH, ways, around).play == read("3/32")
    damp = replace(ways, seasons=Seasons(dry=6, build=7, damp=13))
    assert starter(Screwed, Unit.INCH, damp, around).play == read("9/64")  # 0.12772
    plywood = (replace(CHOIR_CABINET.top, species="birch plywood"), CHOIR_CABINET)
    assert starter(Screwed, Unit.INCH, ways, plywood).play == read("3/16")


def test_a_case_of_boards_holds_its_top_the_same_way() -> None:
    case: Carcase = starter(Carcase, Unit.INCH, key="c")
    case = replace(case, frames=starter(HousedFrames, Unit.INCH), top=starter(Top, Unit.INCH, screwed=SCREWED))

    built = of_carcase(case)

    assert built.faults == ()
    upper = line(built, "c-web-runner-top")
    # In the middle of the 2 that are in sight beside the tongue.
    assert [each.offset for each in upper.features if isinstance(each, Hole)] == [read("1")]
    assert len(upper.parts) == 2
    assert clashes(placed(built.assemblies, built.lines)) == []


@pytest.mark.parametrize(("cabinet", "fault"), [
    (replace(held(), web_frames=None, drawers=None),
     Fault("top.screwed", "no web frame lies under the top", "Give the case web frames, or hold the top by cleats.")),
    (held(screws=4, held=HeldAt.MIDDLE),
     Fault("top.screwed.screws", "4 screws in a runner", "1 to 40 would do, an odd number if the middle one holds.")),
    (held(play=read("3")), Fault("top.screwed.slot", "a slot 6 3/16 in is too much for the distance between screws",
                                 "Less than 4 1/32 in would do.")),
], ids=["no frame", "even", "long"])  # fmt: skip
def test_what_cannot_be_held_so_is_told_and_the_top_is_made_all_the_same(cabinet: Cabinet, fault: Fault) -> None:
    built = derive(cabinet)

    assert built.faults == (fault,)
    assert [each.key for each in built.lines if each.key == "top"] == ["top"]


def test_it_stands_in_the_document_and_is_not_written_where_nobody_chose_it() -> None:
    job = Job("c", "C", constructions=(held(),))

    assert from_json(to_json(job)) == job
    assert '"screwed"' not in to_json(Job("c", "C", constructions=(CHOIR_CABINET,)))
