"""Cases from the trade about wood, lumber, proportions and squareness: the sizes of the story in, the answers out.

Each function takes nothing: its numbers are those of the story, in inches unless it says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from shopfloor.trade.clamping import joints_in_one_go, seconds_needed
from shopfloor.trade.fact import inch
from shopfloor.trade.length import INCH, Length, write_inches
from shopfloor.trade.lumber import Waste, board_feet, charged, quarters_needed, rough, stock_for, to_buy
from shopfloor.trade.milling import Allowance, blank_length, passes, rough_size, snipe_left
from shopfloor.trade.movement import Cut, Held, gap_for, movement, moves, travel
from shopfloor.trade.panel import clearance_for, panel_size
from shopfloor.trade.part import Stock
from shopfloor.trade.proportions import face_shoulder, haunch, tenon_beside
from shopfloor.trade.rounding import SIXTY_FOURTH, THIRTY_SECOND
from shopfloor.trade.seasons import Seasons
from shopfloor.trade.spacing import spaced
from shopfloor.trade.species import Species
from shopfloor.trade.square import racking
from tests.vectors import load

CASES = load("trade_wood")["cases"]

Answers = dict[str, Any]


def lid() -> Answers:
    growth = movement(inch(20), Fraction("0.00248"), 7, 11)
    return {"growth": growth, "gap rounded up to 1/32": gap_for(growth, THIRTY_SECOND)}


def quartersawn_side() -> Answers:
    growth = movement(inch(18), Fraction("0.00180"), 7, 11)
    return {"growth": growth, "gap rounded up to 1/32": gap_for(growth, THIRTY_SECOND)}


def panel_of_two_seasons() -> Answers:
    oak, groove = Fraction("0.00369"), inch(3, 8)
    gap = clearance_for(inch(14), oak, Seasons(dry=6, build=6, damp=11), SIXTY_FOURTH)
    return {
        "winter build: growth room": movement(inch(14), oak, 6, 11),
        "winter build: gap a side": gap,
        "winter build: tongue left in groove a side": groove - gap,
        "late-summer build: growth room": movement(inch(14), oak, 11, 11),
    }


def bookcase_side() -> Answers:
    ash = Species("ash of the story", "", Fraction("0.00274"), Fraction("0.00169"))
    change = moves(Stock(inch(3, 4), inch(23, 2), inch(72)), ash, Cut.FLATSAWN, 7, 11)
    return {"depth": change.width, "height": change.length}


def top() -> Answers:
    change = movement(inch(35, 2), Fraction("0.00274"), 6, 10)
    return {
        "fixed at front: back edge": travel(change, Held.ONE_EDGE),
        "fixed at middle: each edge": travel(change, Held.MIDDLE),
    }


def door_as_slab_and_as_frame() -> Answers:
    alder = Fraction("0.00256")
    return {"slab": movement(inch(22), alder, 6, 12), "frame": movement(2 * inch(5, 2), alder, 6, 12)}


def inset_front() -> Answers:
    growth = movement(inch(25, 4), Fraction("0.00353"), 7, 12)
    return {"growth": growth, "gap": gap_for(growth, THIRTY_SECOND)}


def door_panel() -> Answers:
    wide = inch(31, 2) - 2 * inch(9, 4)
    high = inch(28) - inch(9, 4) - inch(11, 4)
    return {"width": panel_size(wide, inch(3, 8), inch(1, 8)), "height": panel_size(high, inch(3, 8), inch(1, 16))}


def haunched_rail() -> Answers:
    return {
        "tenon width": tenon_beside(inch(5, 2), inch(3, 8), inch(1, 2)),
        "haunch length": haunch(inch(3, 8), inch(1, 4)).length,
    }


def slats() -> Answers:
    found = spaced(inch(371, 8), 9, inch(7, 4))
    return {"gap": found.gap, "slat 5": found.starts[4], "slat 9": found.starts[8]}


def chest() -> Answers:
    told = racking(inch(40), inch(30), inch(801, 16), inch(799, 16), inch(1, 16))
    return {"aim (mean)": told.aim, "lean": told.lean}


def surfaced_board() -> Answers:
    return {"bd ft": charged(rough("5/4").nominal, inch(25, 4), inch(96)).amount}


def thin_board() -> Answers:
    return {
        "bd ft": charged(inch(3, 4), inch(11, 2), inch(96)).amount,
        "volume only": board_feet(inch(3, 4), inch(11, 2), inch(96)),
    }


def order() -> Answers:
    share = Fraction(30, 100)
    return {
        "30% of the purchase is lost": to_buy(84, share).amount,
        "30% added": to_buy(84, share, Waste.ADDED).amount,
    }


def stile_from_rough() -> Answers:
    size = rough_size(Stock(inch(7, 8), inch(13, 4), inch(26)), Allowance(inch(3, 16), inch(1, 2), inch(1)))
    return {
        "rough thickness needed": size.thickness,
        "quarters of an inch": quarters_needed(size.thickness),
        "bd ft": board_feet(stock_for(size.thickness).nominal, size.width, size.length),
    }


def short_ends() -> Answers:
    return {
        "one": blank_length(inch(7), 1, inch(1, 8), inch(3)),
        "two": blank_length(inch(7), 2, inch(1, 8), inch(3)),
    }


def sniped_stile() -> Answers:
    return {
        "left each end": snipe_left(inch(30), inch(31), inch(3)),
        "rough length": blank_length(inch(30), 1, 0, inch(3)),
    }


def planed_sides() -> Answers:
    return {
        "each face": face_shoulder(inch(17, 16), inch(13, 16)),
        "passes": passes(inch(17, 16), inch(13, 16), inch(1, 32)),
    }


def two_thicknesses() -> Answers:
    depths = [face_shoulder(stock, inch(3, 8)) for stock in (inch(7, 8), inch(3, 4))]
    return {"7/8 stock": depths[0], "3/4 stock": depths[1], "setups": len(set(depths))}


def table_glue_up() -> Answers:
    return {
        "all at once": seconds_needed(12, 45, 120),
        "limit": 8 * 60,
        "most joints": joints_in_one_go(8 * 60, 45, 120),
        "one go of 4": seconds_needed(4, 45, 120),
    }


WORKED: dict[str, Callable[[], Answers]] = {
    "T01": lid, "T02": quartersawn_side, "T03": panel_of_two_seasons, "T04": bookcase_side, "T05": top,
    "T06": door_as_slab_and_as_frame, "T07": inset_front, "T11": door_panel, "T15": haunched_rail, "T17": slats,
    "T22": chest, "T23": surfaced_board, "T24": thin_board, "T25": order, "T26": stile_from_rough, "T31": short_ends,
    "T32": sniped_stile, "T33": planed_sides, "T35": two_thicknesses, "T37": table_glue_up,
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['id']}-{case['piece'].replace(' ', '-')}")
def test_the_answer_to_the_story_is_right(case: dict[str, Any]) -> None:
    answers = WORKED[case["id"]]()

    assert answers.keys() == {expected["name"] for expected in case["expect"]}
    for expected in case["expect"]:
        unit = INCH if expected["unit"] == "in" else 1
        wanted = Fraction(expected["exact"]) * unit
        # Exact in nanometres, but for the half that the one rounding may take.
        assert abs(answers[expected["name"]] - wanted) <= (Fraction(1, 2) if wanted.denominator > 1 else 0)
        if "reading" in expected:
            assert _on_tape(answers[expected["name"]]) == expected["reading"]


def _on_tape(length: Fraction | Length) -> str:
    return write_inches(round(length), 64)


def test_every_case_of_the_file_is_worked_out() -> None:
    assert {case["id"] for case in CASES} == set(WORKED)


# --- what must be so besides the numbers -------------------------------------------------------------------------


def test_the_longer_diagonal_is_named_and_pulled_by_half_of_the_difference() -> None:
    told = racking(inch(40), inch(30), inch(801, 16), inch(799, 16), inch(1, 16), names=("A to C", "B to D"))

    assert (told.pull, told.correct, told.within) == ("A to C", inch(1, 16), False)


def test_the_rule_stands_beside_the_board_feet() -> None:
    assert charged(inch(3, 4), inch(11, 2), inch(96)).rule == "exact size, below 1 in counted as 1 in"
    assert charged(inch(1), inch(11, 2), inch(96)).rule == "exact size at the nominal thickness"


@pytest.mark.parametrize(
    ("of", "says"),
    [
        (Waste.OF_WHAT_IS_BOUGHT, "30 % of what is bought is lost"),
        (Waste.ADDED, "30 % is added to what is needed"),
    ],
)
def test_it_is_said_what_the_waste_is_a_share_of(of: Waste, says: str) -> None:
    assert to_buy(84, Fraction(30, 100), of).rule == says


def test_the_same_panel_needs_no_room_to_grow_when_it_is_made_in_the_damp() -> None:
    damp = Seasons(dry=6, build=11, damp=11)

    assert clearance_for(inch(14), Fraction("0.00369"), damp, SIXTY_FOURTH) == 0
