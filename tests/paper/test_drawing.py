"""A part's drawing shows every cut from the datum end, mirrors an opposite hand, and can be put anywhere."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import chain, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings

from shopfloor.paper.drawing import draw
from shopfloor.trade.length import write
from shopfloor.trade.part import (
    ENDS,
    Dado,
    Face,
    Feature,
    Hand,
    Line,
    LooseTenon,
    Mortise,
    Part,
    Tenon,
    Tongue,
    Unit,
)  # fmt: skip
from tests.trade.one_of_each import ONE_OF_EACH

from .drawn import SVG, texts
from .lines import LEG, MM, STICK, lines

DRAWN, MIRRORED = Part("left"), Part("right", hand=Hand.MIRROR)
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")


def inches(line: Line, part: Part = DRAWN, **more: object) -> str:
    return draw(line, part, unit=Unit.INCH, denominator=16, **more)  # type: ignore[arg-type]


def shapes(svg: str, feature: str) -> list[ET.Element]:
    """What is drawn of a feature, in both views."""
    groups = [group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("data-feature") == feature]
    return [shape for group in groups for shape in group]


def column(svg: str) -> list[str]:
    """The numbers of the column: the texts that end where its first one ends."""
    return [box.says for box in texts(svg) if box.size == 23]


def test_the_leg_reads_from_the_top_and_its_length_is_only_a_check():
    boxes = texts(inches(LEG))

    assert [box.says for box in boxes if box.size == 23] == ["2 7/8", "30 7/8", "33 3/8", "36 1/4"]
    assert [box.says for box in boxes if box.size == 16.1] == ["3/8"]
    assert [box.classes for box in boxes if "36" in box.says] == ["faint"]
    assert boxes[0].says == "0 top, measure from here"
    assert boxes[0].classes == "crayon"


@pytest.mark.parametrize("part", [DRAWN, Part("m", hand=Hand.MIRROR)], ids=["as drawn", "mirror"])
def test_the_grain_is_said_and_its_arrow_runs_along_the_part(part: Part):
    svg = draw(LEG, part, unit=Unit.INCH, denominator=16)

    assert [box.says for box in texts(svg) if box.says == "grain"] == ["grain"]
    (arrow,) = [path.attrib["d"] for path in ET.fromstring(svg).iter(f"{SVG}path") if path.get("class") == "along"]
    _, top, foot = re.match(r"M([0-9.]+) ([0-9.]+)V([0-9.]+)", arrow).groups()  # type: ignore[union-attr]
    assert float(foot) > float(top)  # upright, as the part stands on the sheet


def test_the_legend_says_what_the_picture_cannot():
    said = " ".join(box.says for box in texts(inches(LEG, letters={"upper": "1A", "lower": "1B"})))

    assert "2 mortises 1A 1B inside face: 3/8 wide, 1 1/16 deep, 7/16 from front face" in said
    assert "groove inside face: 1/4 wide, 3/8 deep, 1/2 from front face" in said


def test_millimetres_are_written_to_a_tenth():
    assert column(draw(LEG, DRAWN, unit=Unit.MM, denominator=16)) == ["9.5", "73", "784.2", "847.7", "920.8"]


def test_a_mortise_of_6_mm_in_a_stick_of_2_m_is_drawn_large_enough_to_see():
    opening = next(shape for shape in shapes(inches(STICK), "small") if shape.get("class") == "open")

    assert float(opening.get("height", "0")) >= 10
    assert float(opening.get("width", "0")) >= 10


def test_a_long_stretch_is_broken_and_a_short_part_is_not():
    assert 'class="gap"' in inches(STICK)
    assert 'class="gap"' not in inches(replace(STICK, length=100 * MM, features=()))


def test_without_a_word_for_the_datum_end_there_is_still_a_zero():
    assert texts(inches(replace(LEG, datum="")))[0].says == "0 measure from here"


def test_twenty_mortises_make_the_drawing_taller_instead_of_tighter():
    many = tuple(
        Mortise(f"m{i}", Face.FACE_EDGE, (20 + 45 * i) * MM, 25 * MM, 5 * MM, 6 * MM, 9 * MM) for i in range(20)
    )

    boxes = [
        box for box in texts(draw(replace(LEG, features=many), DRAWN, unit=Unit.MM, denominator=16)) if box.size == 23
    ]

    assert len(boxes) == 41
    assert all(upper.foot <= lower.top for upper, lower in pairwise(boxes))


SIZE = {"thickness": 20 * MM, "width": 90 * MM, "length": 400 * MM}


@pytest.mark.parametrize("feature", ONE_OF_EACH.values(), ids=ONE_OF_EACH.keys())
@pytest.mark.parametrize("part", [DRAWN, MIRRORED], ids=["as drawn", "mirror"])
def test_every_kind_of_feature_is_seen(feature: Feature, part: Part):
    svg = inches(Line("l", "a", "Rail", **SIZE, features=(feature,)), part)

    drawn = [shape.get("class") for shape in shapes(svg, "f")]

    inside = isinstance(feature, LooseTenon) and feature.face in ENDS  # in end grain it is seen from no side
    assert "seen" in drawn or "open" in drawn or (inside and drawn == ["hidden", "hidden"])
    assert any(box.says.startswith(feature.kind) for box in texts(svg))


@settings(deadline=None)
@given(line=lines(most=1))
def test_a_feature_is_drawn_wherever_on_a_part_it_is(line: Line):
    (feature,) = line.features
    box = feature.box(line.stock)
    nothing_cut = isinstance(feature, Tenon | Tongue) and (
        (box.y0, box.y1, box.z0, box.z1) == (0, line.width, 0, line.thickness)
    )

    svg = inches(line)

    # A cut as wide as its surface has no line of its own, but leaves the surface lower.
    assert shapes(svg, feature.key) or outlines(svg)["lower"] or nothing_cut


def test_a_cut_on_the_surface_behind_is_dashed():
    front = Mortise("m", Face.FACE_SIDE, 50 * MM, 40 * MM, 20 * MM, 6 * MM, 9 * MM)
    behind = Dado("d", Face.BACK, 200 * MM, 18 * MM, 6 * MM)
    line = Line("l", "a", "Rail", **SIZE, features=(front, replace(front, key="n", start=120 * MM), behind))

    drawn = [shape.get("class") for shape in shapes(inches(line), "d")]

    assert drawn == ["hidden", "seen"]  # dashed on the face side; on the edge the notch is seen from its end


def test_an_opposite_hand_is_reflected_and_keeps_its_numbers():
    as_drawn, mirror = inches(LEG), inches(LEG, MIRRORED)

    assert column(as_drawn) == column(mirror)
    assert [box.says for box in texts(as_drawn) if box.size != 16] == [
        box.says for box in texts(mirror) if box.size != 16
    ]
    assert as_drawn != mirror


RIGHT_AS_DRAWN = {
    # up x towards the viewer, with up = -x, in the part's right-handed axes: which way "right" is on each surface
    Face.FACE_SIDE: "-y",
    Face.FACE_EDGE: "+z",
    Face.BACK: "+y",
    Face.FAR_EDGE: "-z",
}


@pytest.mark.parametrize("part", [DRAWN, MIRRORED], ids=["as drawn", "mirror"])
@pytest.mark.parametrize("face", RIGHT_AS_DRAWN)
def test_a_surface_is_seen_from_outside(face: Face, part: Part):
    """A mortise near the reference surface lies on that side of the view that one sees it on."""
    cut = Mortise("near", face, 100 * MM, 60 * MM, 2 * MM, 6 * MM, 5 * MM)
    square = Line(
        "l", "a", "Post", 40 * MM, 40 * MM, 300 * MM, features=(cut, replace(cut, key="more", start=200 * MM))
    )
    svg = inches(square, part)

    opening = points(next(shape for shape in shapes(svg, "near") if shape.get("class") == "open"))[0][0]
    views = [[x for x, _ in shape] for shape in outlines(svg)["wood"]]
    left, right = next((min(xs), max(xs)) for xs in views if min(xs) < opening < max(xs))

    near_left = (RIGHT_AS_DRAWN[face][0] == "+") != (part is MIRRORED)
    assert (opening < (left + right) / 2) == near_left


def test_the_tail_of_the_face_mark_runs_to_the_face_edge_and_meets_its_caret():
    path = re.search(r'class="face-mark"[^>]*d="([^"]+)"', inches(Line("l", "a", "Rail", **SIZE)))
    assert path
    loop, caret = path[1].split("M")[1:]
    tail = [float(number) for number in NUMBER.findall(loop)][-2:]
    tip = [float(number) for number in NUMBER.findall(caret)][2:4]
    face_side, face_edge = ([x for x, _ in shape] for shape in outlines(inches(Line("l", "a", "Rail", **SIZE)))["wood"])

    assert max(face_side) - 2 < tail[0] <= max(face_side)
    assert min(face_edge) <= tip[0] < min(face_edge) + 2
    assert tail[1] == tip[1]


def points(shape: ET.Element) -> list[tuple[float, float]]:
    """The points that a shape is drawn through; of a rectangle or a circle its middle."""
    if shape.tag == f"{SVG}circle":
        return [(float(shape.get("cx", "0")), float(shape.get("cy", "0")))]
    if shape.tag == f"{SVG}rect":
        x, y, wide, high = (float(shape.get(name, "0")) for name in ("x", "y", "width", "height"))
        return [(x + wide / 2, y + high / 2)]
    numbers = [float(number) for number in NUMBER.findall(shape.get("d", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def outlines(svg: str, *, mirrored: bool = False) -> dict[str, list[list[tuple[float, float]]]]:
    """All shapes of the wood and of each feature; of a mirror image those of the right view first."""
    drawn = ET.fromstring(svg)
    found: dict[str, list[list[ET.Element]]] = {"wood": [], "lower": []}
    for node in drawn.iter():
        if node.tag == f"{SVG}path" and node.get("class") in ("wood", "lower"):
            found[node.get("class", "")].append([node])
        elif node.get("data-feature"):
            found.setdefault(node.get("data-feature", ""), []).append(
                [one for one in node if one.get("class") != "leader"]
            )
    return {
        name: [points(shape) for view in (reversed(views) if mirrored else views) for shape in view]
        for name, views in found.items()
    }


@settings(deadline=None)
@given(line=lines())
def test_the_mirror_image_is_the_drawing_seen_in_a_mirror(line: Line):
    as_drawn, mirror = outlines(inches(line)), outlines(inches(line, MIRRORED), mirrored=True)

    # The mirror stands where the leftmost wood of one comes to lie on the rightmost of the other.
    axis = min(x for shape in as_drawn["wood"] for x, _ in shape) + max(x for shape in mirror["wood"] for x, _ in shape)

    assert as_drawn.keys() == mirror.keys()
    for name in as_drawn:
        ours, theirs = as_drawn[name], mirror[name]
        assert [len(shape) for shape in ours] == [len(shape) for shape in theirs]
        for (x, y), (there_x, there_y) in zip(chain(*ours), chain(*theirs), strict=True):
            assert abs(axis - x - there_x) <= 0.31  # each was rounded to a tenth, the axis twice
            assert abs(y - there_y) <= 0.01


@settings(deadline=None)
@given(line=lines())
def test_the_numbers_rise_from_the_datum_end(line: Line):
    svg = draw(line, DRAWN, unit=Unit.MM, denominator=16)

    boxes = [box for box in texts(svg) if box.size == 23]
    numbers = [float(box.says) for box in boxes]

    assert numbers == sorted(set(numbers))
    assert [box.top for box in boxes] == sorted(box.top for box in boxes)
    assert boxes[-1].says == write(line.length, "mm")


def test_the_same_part_gives_the_same_bytes():
    assert inches(LEG, letters={"upper": "1A"}) == inches(LEG, letters={"upper": "1A"})
    assert inches(LEG, Part("front left", "front left")) == inches(LEG, Part("back right", "back right"))


def test_markup_in_names_stays_text():
    hostile = '<script>alert("x")</script>&'
    line = replace(
        LEG, name=hostile, datum=hostile, face_side=hostile, features=(replace(LEG.features[0], key=hostile),)
    )

    svg = inches(line, letters={hostile: "<b>&"})
    drawn = ET.fromstring(svg)

    assert drawn.findtext(f"{SVG}title") == f"{hostile}, as drawn"
    assert shapes(svg, hostile)
    assert {node.tag.removeprefix(SVG) for node in drawn.iter()} <= {
        "svg", "title", "g", "path", "rect", "circle", "text", "tspan",
    }  # fmt: skip


@settings(deadline=None)
@given(line=lines())
def test_a_drawing_asks_nothing_of_the_page_it_is_put_in(line: Line):
    drawn = ET.fromstring(inches(line))

    for node in drawn.iter():
        assert not [name for name in node.attrib if name in ("style", "href", "id") or name.startswith("on")]
        assert "url(" not in "".join(node.attrib.values())


def test_the_style_sheet_knows_every_class():
    css = (Path(__file__).parents[2] / "static" / "drawing.css").read_text(encoding="utf-8")
    svg = "".join(
        inches(replace(LEG, **SIZE, features=(feature,)), letters={"f": "1A"}) for feature in ONE_OF_EACH.values()
    )

    classes = {name for word in re.findall(r'class="([^"]*)"', svg) for name in word.split()}
    kinds = {feature.kind.replace(" ", "-") for feature in ONE_OF_EACH.values()}
    drawn = classes - kinds - {"cut"}  # these say what a group is

    assert {name for name in drawn if f".{name} " not in css and f".{name}," not in css} == set()


def test_it_is_shown_as_wide_as_asked_and_always_measured_in_360():
    drawn = ET.fromstring(inches(LEG, width=720))
    height = float(drawn.get("viewBox", "").split()[3])

    assert drawn.get("viewBox", "").split()[:3] == ["0", "0", "360"]
    assert (drawn.get("width"), float(drawn.get("height", "0"))) == ("720", 2 * height)
