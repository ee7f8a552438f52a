"""Sections show how deep a cut is and what wood is left, the way it lies; a step's drawing only that step."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from shopfloor.paper.drawing import draw, draw_step, drawn_steps
from shopfloor.paper.sections import MOST, Section, sections
from shopfloor.trade.part import (
    ENDS,
    Dado,
    Face,
    Feature,
    Groove,
    HalfLap,
    Hand,
    Hole,
    Line,
    Mortise,
    Part,
    Pins,
    Rabbet,
    Taper,
    Tenon,
    Tongue,
    Unit,
)
from shopfloor.trade.turn import faces_up

from .drawn import SVG, texts
from .lines import LEG, MM, lines

HANDS = [Part("left"), Part("right", hand=Hand.MIRROR)]
BOARD = Line(
    key="board", assembly="any", name="Board", thickness=20 * MM, width=60 * MM, length=400 * MM, datum="top"
)  # fmt: skip
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")


def with_(*features: Feature, line: Line = BOARD) -> Line:
    return replace(line, features=features)


def measured(line: Line) -> list[list[tuple[float, str]]]:
    """What each section measures, in millimetres."""
    return [[((m.foot - m.top) / MM, m.word) for m in one.measures] for one in sections(line, line.features)]


POCKET = Mortise("f", Face.FACE_SIDE, 100 * MM, 40 * MM, 10 * MM, 8 * MM, 12 * MM)


@pytest.mark.parametrize(
    "features, said",
    [
        pytest.param([POCKET], [(12, "deep"), (8, "left")], id="a mortise"),
        pytest.param([Groove("f", Face.FACE_EDGE, 6 * MM, 6 * MM, 9 * MM)], [(9, "deep"), (51, "left")], id="a groove"),
        pytest.param([Dado("f", Face.BACK, 50 * MM, 18 * MM, 7 * MM)], [(7, "deep"), (13, "left")], id="a dado"),
        pytest.param(
            [Rabbet("f", Face.BACK, Face.FAR_EDGE, 10 * MM, 6 * MM)], [(6, "deep"), (14, "left")], id="a rabbet"
        ),
        pytest.param(
            [Rabbet("f", Face.FACE_SIDE, Face.FAR_END, 10 * MM, 4 * MM)],
            [(4, "deep"), (16, "left")],
            id="a rabbet at an end",
        ),
        pytest.param([HalfLap("f", Face.BACK, 0, 60 * MM, 9 * MM)], [(9, "deep"), (11, "left")], id="a half lap"),
        pytest.param(
            [Hole("f", Face.FACE_SIDE, 90 * MM, 30 * MM, 8 * MM, 15 * MM)], [(15, "deep"), (5, "left")], id="a hole"
        ),
        pytest.param(
            [Pins("f", Face.DATUM_END, Face.FACE_SIDE, 9 * MM, 2, 10 * MM, 6 * MM, 14 * MM, 7)],
            [(14, "deep"), (6, "left")],
            id="half-blind sockets",
        ),
        pytest.param(
            [Tongue("f", Face.FAR_EDGE, 8 * MM, 5 * MM, 6 * MM)],
            [(5, "off"), (6, "thick"), (9, "off")],
            id="a tongue",
        ),
        pytest.param(
            [Tongue("a", Face.DATUM_END, 8 * MM, 0, 6 * MM), Tongue("b", Face.FAR_EDGE, 8 * MM, 0, 6 * MM)],
            [(6, "thick"), (14, "off")],
            id="tongues at an end and an edge",
        ),
        pytest.param(
            [POCKET, Groove("g", Face.BACK, 0, 30 * MM, 3 * MM)],
            [(12, "deep"), (5, "left")],
            id="a mortise over a groove",
        ),
        pytest.param(
            [POCKET, Groove("g", Face.BACK, 0, 14 * MM, 8 * MM)], [(12, "deep")], id="a mortise that meets a groove"
        ),
        pytest.param(
            [POCKET, replace(POCKET, key="g", start=300 * MM), Dado("d", Face.BACK, 310 * MM, 20 * MM, 2 * MM)],
            [(12, "deep"), (6, "left")],
            id="of two mortises the one with less wood left",
        ),
        pytest.param(
            # 6 off over the last 200: in the middle of the mortise, 120 of them are gone by, so 3.6
            [replace(POCKET, start=300 * MM), Taper("t", Face.BACK, 200 * MM, 6 * MM, Face.FAR_END)],
            [(12, "deep"), (4.4, "left")],
            id="a mortise where a taper leaves less",
        ),
    ],
)
def test_a_section_measures_the_depth_and_the_wood_beneath(features: list[Feature], said: list[tuple[float, str]]):
    assert measured(with_(*features))[0] == said


@pytest.mark.parametrize(
    "feature",
    [
        pytest.param(replace(POCKET, depth=0), id="a mortise right through"),
        pytest.param(Hole("f", Face.BACK, 90 * MM, 30 * MM, 8 * MM), id="a hole right through"),
        pytest.param(Tenon("f", Face.FAR_END, 30 * MM, 6 * MM, 8 * MM, 5 * MM, 50 * MM), id="a tenon"),
    ],
)
def test_what_the_views_show_has_no_section(feature: Feature):
    assert sections(with_(feature), [feature]) == []


def test_cuts_that_share_their_sizes_share_a_section_and_there_are_few():
    mortises = [replace(POCKET, key=f"m{n}", start=n * 50 * MM, length=20 * MM) for n in range(7)]
    others = [Groove("g", Face.FACE_EDGE, 6 * MM, 6 * MM, 9 * MM), Hole("h", Face.BACK, 9 * MM, 30 * MM, 8 * MM, MM)]

    found = sections(with_(*others, *mortises), [*others, *mortises])

    assert len(found) == MOST == 2
    assert [len(one.features) for one in found] == [7, 1]
    assert found[1].cut is others[0]


def test_a_section_says_its_sizes_in_words_and_which_face_is_up():
    said = [box.says for box in texts(draw(LEG, HANDS[0], unit=Unit.INCH, denominator=16, letters={"groove": "1B"}))]

    assert "section at 2 mortises" in said
    assert {"1 1/16 deep", "11/16 left", "inside face up"} <= set(said)  # of 1 3/4
    assert "section at groove 1B" in said
    assert {"3/8 deep", "1 3/8 left"} <= set(said)


def wood_of(svg: str, key: str) -> list[tuple[float, float]]:
    group = next(one for one in ET.fromstring(svg).iter(f"{SVG}g") if one.get("data-section") == key)
    path = next(one for one in group if one.get("class") == "wood through")
    numbers = [float(number) for number in NUMBER.findall(path.get("d", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def middle_of_cut(svg: str, key: str) -> float:
    """How far from the left the mortise is in the view that looks into it, as a share of the view."""
    drawn = ET.fromstring(svg)
    cut = next(node for node in drawn.iter(f"{SVG}rect") if node.get("class") == "open")
    middle = float(cut.get("x", "")) + float(cut.get("width", "")) / 2
    views = [node.get("d", "") for node in drawn.iter(f"{SVG}path") if node.get("class") == "wood"]
    for view in views:
        xs = [float(number) for number in NUMBER.findall(view)][::2]
        if min(xs) <= middle <= max(xs):
            return (middle - min(xs)) / (max(xs) - min(xs))
    raise AssertionError("the mortise is in no view")


@pytest.mark.parametrize("part", HANDS, ids=["as drawn", "mirror"])
@pytest.mark.parametrize("face", [Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE], ids=str)
def test_left_in_a_section_is_left_in_the_view_of_that_surface(face: Face, part: Part):
    cut = Mortise("f", face, 100 * MM, 40 * MM, 2 * MM, 4 * MM, 9 * MM)
    svg = draw(with_(cut), part, unit=Unit.MM, denominator=16)
    wood = wood_of(svg, "f")

    surface_y = min(y for _, y in wood)
    left, right = min(x for x, _ in wood), max(x for x, _ in wood)
    mouth = [x for x, y in wood if y == surface_y and left < x < right]

    assert len(mouth) == 2
    assert (sum(mouth) / 2 < (left + right) / 2) == (middle_of_cut(svg, "f") < 0.5)


def test_a_lengthwise_section_has_the_datum_end_to_the_left_for_either_hand():
    line = with_(Rabbet("f", Face.FACE_SIDE, Face.DATUM_END, 10 * MM, 4 * MM))
    for part in HANDS:
        wood = wood_of(draw(line, part, unit=Unit.MM, denominator=16), "f")
        top = min(y for _, y in wood)

        assert min(x for x, y in wood if y == top) > min(x for x, _ in wood)  # the corner at the datum end is gone


@settings(max_examples=200, deadline=None)
@given(line=lines())
def test_what_a_section_measures_is_there_in_its_wood(line: Line):
    for one in sections(line, line.features):
        assert (
            one.down[0] == 0
            and all(a < z for a, z in pairwise(one.down))
            and all(a < z for a, z in pairwise(one.across))
        )
        assert all(0 <= m.top < m.foot <= one.down[-1] for m in one.measures)
        for measure in one.measures:
            if measure.word in ("deep", "left"):
                _is_there(one, measure.top, measure.foot, wood=measure.word == "left")


def _is_there(one: Section, top: int, foot: int, *, wood: bool) -> None:
    """Right through the cut's width, all is wood from `top` to `foot`, or none is."""
    rows = range(one.down.index(top), one.down.index(foot))
    columns = range(one.across.index(one.span[0]), one.across.index(one.span[1]))
    assert all(one.wood[i][j] is wood for i in rows for j in columns)


# --- what one step cuts ---------------------------------------------------------------------------------------------


def step_drawing(line: Line, step: str, part: Part = HANDS[0], **more: object) -> str:
    return draw_step(line, part, step, unit=Unit.MM, denominator=16, **more)  # type: ignore[arg-type]


RAIL = with_(
    Tenon("t", Face.FAR_END, 30 * MM, 6 * MM, 8 * MM, 5 * MM, 50 * MM),
    Groove("g", Face.FACE_EDGE, 6 * MM, 6 * MM, 9 * MM, 50 * MM, 200 * MM),
    Mortise("m", Face.FACE_SIDE, 100 * MM, 40 * MM, 10 * MM, 8 * MM, 12 * MM),
)


def shown(svg: str) -> dict[str, bool]:
    """The features that are drawn, and whether fainter."""
    groups = [group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("data-feature")]
    return {group.get("data-feature", ""): group.get("opacity") is not None for group in groups}


@pytest.mark.parametrize(
    "step, there, column",
    [
        ("mortise", {"m": False}, ["100", "140", "400"]),
        ("groove", {"m": True, "g": False}, ["50", "250", "400"]),
        ("tenon", {"m": True, "g": True, "t": False}, ["370", "400"]),
    ],
)
def test_a_step_measures_only_what_it_cuts_and_what_was_cut_before_is_fainter(
    step: str, there: dict[str, bool], column: list[str]
):
    svg = step_drawing(RAIL, step, letters={"m": "1A", "g": "1B", "t": "1C"})

    assert shown(svg) == there
    assert [box.says for box in texts(svg) if box.size == 23] == column
    letter = next(key for key, before in there.items() if not before)
    assert [box.says for box in texts(svg) if box.size == 18] == [{"m": "1A", "g": "1B", "t": "1C"}[letter]]


@pytest.mark.parametrize(
    "step, says",
    [
        ("mortise", "Lay it face side up."),
        ("groove", "Lay it face edge up."),
        ("tenon", None),
    ],
)
def test_a_step_says_which_surface_lies_up(step: str, says: str | None):
    said = [box.says for box in texts(step_drawing(RAIL, step)) if box.says.startswith("Lay it")]

    assert said == ([says] if says else [])


def test_a_part_that_is_turned_within_a_step_says_so():
    line = with_(POCKET, replace(POCKET, key="b", face=Face.FACE_EDGE, offset=2 * MM), RAIL.features[0])

    assert faces_up(line, "mortise") == (Face.FACE_SIDE, Face.FACE_EDGE)
    assert "Lay it face side up, then face edge up." in [box.says for box in texts(step_drawing(line, "mortise"))]


def test_a_step_that_cuts_all_there_is_has_no_drawing_of_its_own():
    assert drawn_steps(RAIL) == ("mortise", "groove", "tenon")
    assert drawn_steps(with_(POCKET)) == ()
    assert drawn_steps(BOARD) == ()
    for step in ("mortise", "glue"):
        with pytest.raises(ValueError, match="no drawing of its own"):
            step_drawing(with_(POCKET), step)


@pytest.mark.parametrize(
    "feature, up",
    [
        (Pins("f", Face.DATUM_END, Face.BACK, 9 * MM, 2, 10 * MM, 6 * MM, 14 * MM, 7), (Face.BACK,)),
        (Tongue("f", Face.FAR_EDGE, 8 * MM, 5 * MM, 6 * MM), (Face.FACE_SIDE,)),
        (Tongue("f", Face.FAR_END, 8 * MM, 5 * MM, 6 * MM), ()),
        (Rabbet("f", Face.BACK, Face.FAR_END, 10 * MM, 6 * MM), (Face.BACK,)),
    ],
    ids=["sockets", "a tongue along an edge", "a tongue at an end", "a rabbet at an end"],
)
def test_what_lies_up_is_what_is_cut_into(feature: Feature, up: tuple[Face, ...]):
    assert faces_up(with_(feature), feature.kind) == up
    assert up == () or up[0] not in ENDS


SAWN = re.compile(r"M(-?[0-9.]+) ([0-9.]+)h([0-9.]+)")


def sawn_touches(svg: str) -> list[str]:
    """Texts with less than 2 px between them and a stroke that says where a section was taken."""
    (path,) = [one for one in ET.fromstring(svg).iter(f"{SVG}path") if one.get("class") == "sawn"]
    strokes = [tuple(map(float, found)) for found in SAWN.findall(path.attrib["d"])]
    return [
        text.says for text in texts(svg) for x, y, long in strokes
        if x - 2 < text.right and text.left < x + long + 2 and text.top - 2 < y < text.foot + 2
    ]  # fmt: skip


def test_where_a_section_was_taken_no_stroke_stands_before_a_pair_letter() -> None:
    line = with_(POCKET, Mortise("g", Face.FACE_EDGE, 200 * MM, 40 * MM, 6 * MM, 8 * MM, 12 * MM))

    for part in HANDS:
        svg = draw(line, part, unit=Unit.MM, denominator=16, letters={"f": "2A", "g": "5B"})
        assert {"2A", "5B"} <= {text.says for text in texts(svg)}
        assert sawn_touches(svg) == []
