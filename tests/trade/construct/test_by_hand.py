"""A few parts worked out with pencil and paper, where every number comes from another rule than its neighbour."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import Construction, derive
from shopfloor.trade.construct.drawer_choices import Overlay
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.length import read
from shopfloor.trade.part import Dado, Face, Feature, Groove, Line, Mortise, Tenon, Tongue

from .choir_cabinet import CHOIR_CABINET, DRAWERS, SIDE, WEB_FRAMES


def line(made: Construction, key: str) -> Line:
    built = derive(made)
    assert built.faults == ()
    return next(line for line in built.lines if line.key == key)


def feature(made: Construction, line_key: str, key: str) -> Feature:
    return next(each for each in line(made, line_key).features if each.key == key)


OVERLAY = replace(
    CHOIR_CABINET, web_frames=replace(WEB_FRAMES, set_back=0),
    drawers=replace(DRAWERS, overlay=Overlay(read("3/8"), read("1/4"), read("7/16"))),
)  # fmt: skip


@pytest.mark.parametrize(("size", "inches"), [
    ("length", "23 1/4"),  # the opening 22 1/2 and 3/8 at each side
    ("width", "4 11/16"),  # the opening 4, 1/4 above and 7/16 below
    ("thickness", "3/4"),
])  # fmt: skip
def test_a_front_reaches_over_its_opening_once_at_each_side(size: str, inches: str) -> None:
    assert getattr(line(OVERLAY, "drawer-1-front"), size) == read(inches)


def test_the_groove_in_a_front_with_an_overlay_meets_that_of_the_sides() -> None:
    # 3/8 above the lower edge of the box, which is 7/16 above that of the front.  The front reaches 13/32 past the box
    # (23 1/4 less 22 7/16, halved), and the side is 1/2 thick; between the sides 22 7/16 - 1 = 21 7/16.
    assert feature(OVERLAY, "drawer-1-front", "bottom") == Groove(
        "bottom", Face.FACE_SIDE, read("13/16"), read("1/4"), read("1/4"), read("29/32"), read("21 7/16")
    )
    assert feature(OVERLAY, "drawer-1-side", "bottom") == Groove(
        "bottom", Face.FACE_SIDE, read("3/8"), read("1/4"), read("1/4")
    )


def test_the_front_stands_before_the_case_with_its_lower_edge_below_the_opening() -> None:
    built = derive(OVERLAY)
    (drawer,) = [each for each in built.assemblies if each.key == "drawer-6"]
    (front,) = line(OVERLAY, "drawer-6-front").parts
    assert front.stands

    # The lowest opening begins on frame 7: foot 7 and 3/4.  The box is 1/32 clear of the leg, 1 3/4 thick.
    assert drawer.stands.at == (read("1 25/32"), -read("3/4"), read("7 3/4"))
    assert front.stands.at == (-read("13/32"), read("3/4"), -read("7/16"))


MIDDLE = replace(SIDE, frame=replace(SIDE.frame, rails=(read("3"), read("2 3/4"), read("3"))))
RAILED = replace(CHOIR_CABINET, left=MIDDLE)


@pytest.mark.parametrize(("rail", "edge", "width"), [
    # A shoulder of 7/8 at the outer edge and a groove of 3/8 at the inner one: 3 - 7/8 - 3/8.
    ("top", "7/8", "1 3/4"),
    # A groove at both edges and no shoulder: 2 3/4 - 2 x 3/8.
    ("middle", "3/8", "2"),
    ("bottom", "3/8", "1 3/4"),
])  # fmt: skip
def test_the_tenon_of_a_rail_stands_between_its_grooves(rail: str, edge: str, width: str) -> None:
    tenon = feature(RAILED, f"left-{rail}-rail", "front")
    assert isinstance(tenon, Tenon)
    assert (tenon.edge_offset, tenon.width) == (read(edge), read(width))


def test_the_mortise_of_a_middle_rail_is_where_the_rail_is() -> None:
    # The sides are 29 1/4 high, less rails of 8 3/4: 20 1/2, so each field is 10 1/4.  The middle rail's upper edge is
    # 13 1/4 down, and its tenon begins a groove of 3/8 lower.
    mortise = feature(RAILED, "leg-front-left", "side-middle")
    assert isinstance(mortise, Mortise)
    assert (mortise.start, mortise.length) == (read("13 5/8"), read("2"))


CASE = Carcase(
    read("30"), read("12"), read("34"), read("3/4"),
    shelves=Shelves(3, read("3/4"), read("1/2"), read("1/4"), read("1/16"), down=read("2"), up=read("3")),
)  # fmt: skip


def test_a_shelf_s_tongue_is_flush_with_its_upper_side_and_its_shoulder_below() -> None:
    # The face side is the underside, so the tongue begins a shoulder of 3/4 - 1/2 above it; the dado is 1/4 deep, 1/16
    # of it free.  Between the sides 28 1/2, and 3/16 into each.
    assert feature(CASE, "shelf", "left") == Tongue("left", Face.DATUM_END, read("3/16"), read("1/4"), read("1/2"))
    assert line(CASE, "shelf").length == read("28 7/8")


@pytest.mark.parametrize(("shelf", "start"), [
    # The upper side of the first shelf is 2 down, and so is its dado; 34 - 2 - 3 - 3 x 3/4 = 26 3/4 in two openings.
    (1, "2"), (2, "16 1/8"), (3, "30 1/4"),
])  # fmt: skip
def test_the_dado_begins_where_the_shelf_s_upper_side_is(shelf: int, start: str) -> None:
    assert feature(CASE, "side", f"shelf-{shelf}") == Dado(
        f"shelf-{shelf}", Face.FACE_SIDE, read(start), read("1/2"), read("1/4")
    )
