"""Dovetails, haunches, bridles, tapers and softened arrises are drawn as they are cut."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from shopfloor.paper.drawing import draw
from shopfloor.paper.relief import Relief
from shopfloor.paper.views import View
from shopfloor.trade.part import (
    Bridle,
    Chamfer,
    Face,
    Feature,
    HalfLap,
    Hand,
    HoleRow,
    Line,
    OpenMortise,
    Part,
    Pins,
    Stock,
    Tails,
    Taper,
    Tenon,
    Unit,
)

from .drawn import SVG, texts

MM = 1_000_000
STOCK = Stock(thickness=20, width=60, length=200)
SIDE, EDGE = Face.FACE_SIDE, Face.FACE_EDGE


def relief(face: Face, *features: Feature) -> Relief:
    return Relief(View(face, STOCK), features)


def svg(*features: Feature, hand: Hand = Hand.AS_DRAWN, length: int = 400) -> str:
    line = Line("l", "a", "Part", 20 * MM, 90 * MM, length * MM, datum="top", features=features)
    return draw(line, Part("p", hand=hand), unit=Unit.MM, denominator=16)


def paths(text: str, name: str) -> list[list[tuple[float, float]]]:
    """The points of every path of a class."""
    found = []
    for node in ET.fromstring(text).iter(f"{SVG}path"):
        if node.get("class") == name:
            for loop in (node.get("d") or "").split("M")[1:]:
                numbers = [float(number) for number in re.findall(r"-?[0-9.]+", loop)]
                found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


def said(text: str) -> str:
    return " ".join(box.says for box in texts(text))


def test_tails_run_in_towards_their_baseline() -> None:
    # 60 wide, 2 tails, pins of 8, half pins of 4: 22 each, 16 / 8 = 2 in at the baseline.
    seen = relief(SIDE, Tails("t", Face.DATUM_END, 16, 2, 8, 4))

    assert seen.xs == [0, 16, 200]
    assert seen.across == [0, 4, 26, 34, 56, 60]
    assert seen.depth == [[20, 0, 20, 0, 20], [0, 0, 0, 0, 0]]
    assert [seen.corner(0, j) for j in (1, 2, 3, 4)] == [(0, 4), (0, 26), (0, 34), (0, 56)]
    assert [seen.corner(1, j) for j in (1, 2, 3, 4)] == [(16, 6), (16, 24), (16, 36), (16, 54)]
    assert seen.corner(2, 1) == (200, 4)


def test_tails_at_the_far_end_run_in_the_other_way() -> None:
    seen = relief(SIDE, Tails("t", Face.FAR_END, 16, 2, 8, 4))

    assert [seen.corner(2, j)[1] for j in (1, 2)] == [4, 26]
    assert [seen.corner(1, j)[1] for j in (1, 2)] == [6, 24]


def test_pins_are_seen_as_sockets_between_which_they_stand() -> None:
    seen = relief(SIDE, Pins("p", Face.DATUM_END, SIDE, 16, 2, 8, 4, 16))

    # Narrow where the tails enter: from 6 to 24 and from 36 to 54; 16 deep of 20.
    assert seen.across == [0, 6, 24, 36, 54, 60]
    assert seen.depth == [[0, 16, 0, 16, 0], [0, 0, 0, 0, 0]]


def test_where_sockets_are_wide_is_dashed_from_the_side_they_open_to() -> None:
    drawn = svg(Pins("p", Face.DATUM_END, SIDE, 16 * MM, 3, 6 * MM, 4 * MM, 14 * MM))

    assert len(paths(drawn, "hidden")) >= 6


def test_a_haunch_is_a_step_beside_its_tenon() -> None:
    seen = relief(SIDE, Tenon("t", Face.FAR_END, 30, 5, 8, 20, 40, 8, 20))

    assert (seen.xs, seen.across) == ([0, 170, 178, 200], [0, 20, 60])
    assert seen.depth == [[0, 0], [5, 5], [20, 5]]


def test_a_bridle_leaves_a_tongue_between_two_cheeks() -> None:
    bridle = Bridle("b", SIDE, 50, 60, 7, 6)

    assert relief(SIDE, bridle).depth == [[0], [7], [0]]
    assert relief(EDGE, bridle).depth == [[0, 0, 0], [60, 0, 60], [0, 0, 0]]


def test_an_open_mortise_is_a_slot_seen_through_from_the_edge() -> None:
    assert relief(EDGE, OpenMortise("o", Face.DATUM_END, 40, 7, 6)).depth == [[0, 60, 0], [0, 0, 0]]


def test_a_lap_at_an_end_takes_a_corner_off_the_outline() -> None:
    lap = relief(EDGE, HalfLap("h", SIDE, 150, 50, 10))

    assert lap.wood() == [[(0, 0), (0, 2), (2, 2), (2, 1), (1, 1), (1, 0)]]


@pytest.mark.parametrize(
    ("taper", "corners"),
    [
        (Taper("t", EDGE, 100, 30), [(100, 0), (200, 30)]),
        (Taper("t", Face.FAR_EDGE, 100, 30), [(100, 60), (200, 30)]),
        (Taper("t", EDGE, 100, 30, Face.DATUM_END), [(0, 30), (100, 0)]),
    ],
)
def test_a_taper_leans_from_the_whole_part_to_its_depth(taper: Taper, corners: list[tuple[int, int]]) -> None:
    seen = relief(SIDE, taper)

    leaning = sorted(seen.corner(i, j) for i, j in seen.leans)
    assert leaning == corners


def test_a_break_in_a_taper_keeps_to_the_wood() -> None:
    drawn = svg(Taper("t", EDGE, 100 * MM, 60 * MM), length=2000)

    wood = [x for x, _ in paths(drawn, "wood")[0]]
    zigzags = [points for points in paths(drawn, "outline") if len(points) == 5]
    assert 0 < max(points[-1][0] - points[0][0] for points in zigzags) < max(wood) - min(wood) - 5


def test_a_chamfer_is_a_thin_line_beside_its_arris_in_both_views_of_it() -> None:
    drawn = svg(Chamfer("c", SIDE, EDGE, 3 * MM))

    (face, edge) = [points for points in paths(drawn, "seen") if len(points) == 2]
    wood = [[x for x, _ in loop] for loop in paths(drawn, "wood")]
    # On the face side the face edge is at the right, on the face edge the face side is at the left.
    assert face[0][0] == face[1][0] == pytest.approx(max(wood[0]) - 4, abs=0.11)
    assert edge[0][0] == edge[1][0] == pytest.approx(min(wood[1]) + 4, abs=0.11)


def test_a_row_of_holes_shows_each_hole_with_its_number() -> None:
    drawn = svg(HoleRow("r", SIDE, 50 * MM, 5, 30 * MM, 8 * MM, 12 * MM, last=350 * MM))

    assert len(list(ET.fromstring(drawn).iter(f"{SVG}circle"))) == 5
    assert [box.says for box in texts(drawn) if box.size == 23] == ["50", "125", "200", "275", "350", "400"]
    assert "hole row face side: 5 holes, 8 bore, 12 deep, middle 30 from face edge" in said(drawn)


LEGEND: dict[str, tuple[Feature, str]] = {
    "tails": (
        Tails("t", Face.DATUM_END, 16 * MM, 2, 10 * MM, 5 * MM),
        "tails top end: 2 tails, 1 in 8, 16 long, from face edge at the end: 5, 40, 50, 85; at the baseline: 7, 38, "
        "52, 83",
    ),
    "pins": (
        Pins("p", Face.DATUM_END, SIDE, 16 * MM, 2, 10 * MM, 5 * MM, 16 * MM),
        "pins top end, from face side: 2 sockets, 1 in 8, 16 long, 16 deep, from face edge at the bottom: 5, 40, 50, "
        "85; at the surface: 7, 38, 52, 83",
    ),
    "haunch": (
        Tenon("t", Face.FAR_END, 30 * MM, 6 * MM, 8 * MM, 30 * MM, 60 * MM, 8 * MM, 20 * MM),
        "haunch 8 long, 20 wide at face edge",
    ),
    "taper": (Taper("t", EDGE, 100 * MM, 30 * MM), "taper face edge: from 100 on, 30 off at bottom end"),
    "chamfer": (Chamfer("c", SIDE, EDGE, 3 * MM), "chamfer face side at face edge: 3 wide"),
    "bridle": (Bridle("b", SIDE, 50 * MM, 60 * MM, 7 * MM, 6 * MM), "6 thick, 7 from face side, 60 long"),
}


@pytest.mark.parametrize(("feature", "says"), LEGEND.values(), ids=LEGEND)
def test_the_legend_says_what_the_picture_cannot(feature: Feature, says: str) -> None:
    assert says in said(svg(feature))
