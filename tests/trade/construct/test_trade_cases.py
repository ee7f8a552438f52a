"""The trade's own cases about drawers, doors, dadoes and hands, answered by the constructions."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from shopfloor.trade.construct import cabinet, carcase, doors
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.doors import Doors, Hinges
from shopfloor.trade.construct.frame_choices import Frame, Groove, Panel, Tenon
from shopfloor.trade.construct.legs import Legs, Side
from shopfloor.trade.construct.made import Built
from shopfloor.trade.construct.mates import placed
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.wood import without, wood
from shopfloor.trade.layout import marks
from shopfloor.trade.length import INCH, read
from shopfloor.trade.part import Box, Hand, Line

from .choir_cabinet import CHOIR_CABINET, DRAWERS, WEB_FRAMES

CASES = {
    case["id"]: case
    for case in json.loads((Path(__file__).parents[2] / "vectors" / "trade_construct.json").read_text())["cases"]
}


def line(built: Built, key: str) -> Line:
    assert built.faults == ()
    return next(each for each in built.lines if each.key == key)


def inches(*lengths: int) -> list[Fraction]:
    return [Fraction(nm, INCH) for nm in lengths]


def on_runners(wide: str, high: str, beside: str, above: str, play: str = "0") -> Built:
    """The demonstration cabinet with openings of another size.  One opening fills its sides but for two frames."""
    web = replace(WEB_FRAMES, count=1)
    bottom = replace(DRAWERS.bottom, clear=read(play) // 2)
    made = replace(DRAWERS, beside=read(beside), above=read(above), bottom=bottom, corner=replace(
        DRAWERS.corner, depth=read("1/2")))  # fmt: skip
    height = read(high) + 2 * web.thickness + read("8")  # over the foot of 7 and below the top of 1
    return cabinet.derive(replace(CHOIR_CABINET, width=read(wide) + read("3 1/2"), height=height, left=None,
                                  right=None, back=None, web_frames=web, drawers=made))  # fmt: skip


def drawer_on_metal_runners() -> list[Fraction]:
    built = on_runners("14 1/2", "6", "1/2", "1/4", play="1/16")
    inside = next(each.nm for each in built.derived if each.key == "drawer.inside")
    return inches(line(built, "drawer-1-front").length, inside, line(built, "drawer-1-bottom").length)


def drawer_on_wooden_runners() -> list[Fraction]:
    front = line(on_runners("11 1/8", "4 3/8", "1/32", "3/32"), "drawer-1-front")
    return inches(front.length, front.width)


def stub(stile: str, *rails: str) -> Frame:
    """A frame with grooves 3/8 deep that stub tenons fill."""
    groove = Groove(read("1/4"), read("3/8"), read("1/4"))
    return Frame(
        read("3/4"), tuple(map(read, rails)), Tenon(read("1/4"), 0, read("1/4")), groove,
        Panel(read("1/2"), beside=read("1/8"), ends=read("1/16")), stiles=(read(stile),) * 2,
    )  # fmt: skip


def cupboard_door() -> Built:
    return doors.derive(Doors(read("15 1/2"), read("28"), stub("2 1/4", "2 1/4", "2 3/4")))


def rail_of_a_door() -> list[Fraction]:
    return inches(line(cupboard_door(), "door-top-rail").length)


def panel_of_a_door() -> list[Fraction]:
    panel = line(cupboard_door(), "door-panel")
    return inches(panel.width, panel.length)


def pair_of_doors() -> list[Fraction]:
    built = doors.derive(
        Doors(read("36 1/8"), read("28"), stub("2 1/2", "3", "3"), hinges=Hinges.BOTH, beside=read("3/32"),
              between=read("1/8"))
    )  # fmt: skip
    assert [(each.name, each.note) for each in built.assemblies] == [
        ("Left door", "Hinges at the left."), ("Right door", "Hinges at the right."),
    ]  # fmt: skip
    stiles = [part for each in built.lines if each.name == "Stile" for part in each.parts]
    assert [(part.place, part.hand) for part in stiles] == [
        ("left door, hinge side", Hand.AS_DRAWN), ("left door, lock side", Hand.MIRROR),
        ("right door, hinge side", Hand.MIRROR), ("right door, lock side", Hand.AS_DRAWN),
    ]  # fmt: skip
    width = next(each.nm for each in built.derived if each.key == "width")
    return inches(width, line(built, "door-right-top-rail").length)


def dado_in_a_side() -> list[Fraction]:
    """Sides 34 long and a shelf 3/4 thick, its lower edge 8 1/4 from their lower end."""
    shelves = Shelves(2, read("3/4"), tongue=read("3/4"), depth=read("1/4"), up=read("8 1/4"))
    side = line(carcase.derive(Carcase(read("30"), read("12"), read("34"), read("3/4"), shelves=shelves)), "side")
    assert side.datum == "top"
    near = next(mark.at for mark in marks(side) if mark.feature == "shelf-2")
    return inches(near, near - read("8 1/4"))


def seen(box: Box, *, across: bool, along: bool) -> Box:
    """A block of the bench seen from its other end (`across`), its back (`along`), or, with both, turned half round."""
    x = (read("48") - box.x1, read("48") - box.x0) if across else (box.x0, box.x1)
    y = (read("15") - box.y1, read("15") - box.y0) if along else (box.y0, box.y1)
    return Box(*x, *y, box.z0, box.z1)


def same(one: list[Box], other: list[Box]) -> bool:
    """Whether blocks fill the same space, however it is divided."""
    for a, b in ((one, other), (other, one)):
        for box in b:
            a = without(a, box)
        if a:
            return False
    return True


def legs_of_a_bench() -> list[Fraction]:
    """Rails 3 wide; their mortises start 6 from the top at the ends and 4 at the front and the back."""

    def rail(down: str) -> Side:
        tenon = Tenon(read("3/8"), read("3/4"), read("1/4"), shoulder=read("1/2"))
        return Side(Frame(read("7/8"), (read("3"),), tenon), set_back=read("1/8"), down=read(down))

    ends, long = rail("5 1/2"), rail("3 1/2")
    built = cabinet.derive(Cabinet(read("48"), read("15"), read("17"), Legs(read("1 3/4")), left=ends, right=ends,
                                   front=long, back=long))  # fmt: skip
    assert built.faults == ()
    parts = placed(built.assemblies, built.lines)

    def leg(name: str) -> list[Box]:
        line, stands = parts[f"leg.{name}"]
        return [stands.box(each) for each in wood(line)]

    front_left = leg("front-left")
    # Turned half round, the back right leg is the front left one; the other two are its mirror images.
    for name, turned, mirrored in (
        ("back-right", True, True),
        ("front-right", True, False),
        ("back-left", False, True),
    ):
        there = [seen(box, across=turned, along=mirrored) for box in leg(name)]
        assert same(front_left, there), name
    found = [part.hand for each in built.lines if each.name == "Leg" for part in each.parts]
    drawn = found.count(Hand.AS_DRAWN)
    return [Fraction(drawn), Fraction(found.count(Hand.MIRROR)), Fraction(drawn)]


ANSWERS: dict[str, Callable[[], list[Fraction]]] = {
    "T08": drawer_on_metal_runners,
    "T09": drawer_on_wooden_runners,
    "T10": rail_of_a_door,
    "T11": panel_of_a_door,
    "T12": pair_of_doors,
    "T18": dado_in_a_side,
    "T19": legs_of_a_bench,
}


def test_every_case_is_answered() -> None:
    assert ANSWERS.keys() == CASES.keys()


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case} {CASES[case]['piece']}")
def test_a_construction_gives_the_trades_answer(case: str) -> None:
    assert ANSWERS[case]() == [Fraction(each["exact"]) for each in CASES[case]["expect"]]
