"""The exploded picture shows every part of an assembly in its place, nothing over what is nearer, and says its code."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from math import isclose
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.paper import exploded
from shopfloor.paper.blocks import blocks, common, openings
from shopfloor.paper.callouts import callouts, cross, spots
from shopfloor.paper.isometric import nearer, painted, project, sides
from shopfloor.paper.pulled_apart import Meeting, shifts
from shopfloor.trade.code import codes, show
from shopfloor.trade.part import (
    Assembly,
    Box,
    Dado,
    Face,
    Half,
    Job,
    Joint,
    Line,
    Mortise,
    Part,
    Placement,
    Tenon,
    Tongue,
)  # fmt: skip

from .drawn import SVG, texts

MM = 1_000_000
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
DEMO = demo_job()
CODES = dict(zip((part.key for line in DEMO.lines for part in line.parts), (six for _, six in codes()), strict=False))
ASSEMBLIES = {assembly.key: assembly for assembly in DEMO.assemblies}
Point = tuple[float, float]


def drawn(key: str) -> str:
    svg = exploded.draw(DEMO, ASSEMBLIES[key], CODES)
    assert svg is not None
    return svg


def own_codes(key: str) -> list[str]:
    return [CODES[part.key] for line in DEMO.lines if line.assembly == key for part in line.parts]


def painted_wood(svg: str) -> list[tuple[str, str, list[Point]]]:
    """(code, side, corners) of every side of wood, in the order of painting."""
    return [
        (group.get("data-part", ""), path.get("class", "").removeprefix("wood "), corners(path.get("d", "")))
        for group in ET.fromstring(svg)
        if group.get("data-part")
        for path in group
        if path.get("class", "").startswith("wood")
    ]


def corners(path: str) -> list[Point]:
    numbers = [float(number) for number in NUMBER.findall(path)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def inside(point: Point, polygon: Sequence[Point], by: float = 0.0) -> bool:
    """Whether a point lies in a convex polygon, at least `by` from its sides."""
    found = []
    for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        if long:
            found.append(((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / long)
    return all(side > by for side in found) or all(side < -by for side in found)


def ahead(box: Box, point: Point) -> float | None:
    """How near the eye the block is on the line of sight through a point of the picture, or None if it misses it.

    Worked out apart from the code under test: the line is p + t (1, -1, 1), from the p with z = 0, and each pair of
    parallel sides leaves a span of t.
    """
    u, v = point
    plus, minus = u / (3**0.5 / 2), v / 0.5
    start = ((plus + minus) / 2, (plus - minus) / 2, 0.0)
    spans = []
    for k, way in enumerate((1, -1, 1)):
        spans.append(sorted(((box[2 * k] - start[k]) * way, (box[2 * k + 1] - start[k]) * way)))
    low, high = max(span[0] for span in spans), min(span[1] for span in spans)
    return high if high - low > 1e-9 * (abs(high) + abs(low) + 1) else None


# --- the projection ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("axis", "place"),
    [((1, 0, 0), (0.866, 0.5)), ((0, 1, 0), (0.866, -0.5)), ((0, 0, 1), (0.0, -1.0)), ((1, -1, 1), (0.0, 0.0))],
    ids=["right", "back", "up", "towards the eye"],
)
def test_right_runs_down_back_runs_up_and_the_line_of_sight_is_a_point(axis, place):
    assert project(*axis) == pytest.approx(place, abs=0.001)


BASE = Box(0, 10, 0, 10, 0, 10)
BESIDE = {
    "in front": (Box(0, 10, -10, 0, 0, 10), -1),
    "behind": (Box(0, 10, 10, 20, 0, 10), 1),
    "right": (Box(10, 20, 0, 10, 0, 10), -1),
    "left": (Box(-10, 0, 0, 10, 0, 10), 1),
    "on top": (Box(0, 10, 0, 10, 10, 20), -1),
    "beneath": (Box(0, 10, 0, 10, -10, 0), 1),
    "above and behind": (Box(0, 10, 10, 20, 10, 20), 0),
    "far to the right": (Box(100, 110, 0, 10, 0, 10), 0),
}


@pytest.mark.parametrize(("other", "way"), BESIDE.values(), ids=BESIDE.keys())
def test_what_lies_towards_the_eye_is_painted_later(other, way):
    assert nearer(BASE, other) == way
    assert nearer(other, BASE) == -way


@st.composite
def sawn(draw: st.DrawFn) -> list[Box]:
    """Blocks that a block was sawn into, straight through each time: these never hide each other in a ring."""
    pieces = [Box(0, 240, 0, 240, 0, 240)]
    for _ in range(draw(st.integers(1, 9))):
        box = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        axis = draw(st.integers(0, 2))
        low, high = box[2 * axis], box[2 * axis + 1]
        if high - low < 12:
            pieces.append(box)
            continue
        at, kerf = draw(st.integers(low + 4, high - 6)), draw(st.integers(0, 2))
        values = list(box)
        values[2 * axis + 1] = at
        rest = list(box)
        rest[2 * axis] = at + kerf
        pieces += [Box(*values), Box(*rest)]
    return draw(st.permutations(pieces))


@given(
    boxes=sawn(), looks=st.lists(st.tuples(st.integers(0, 4160), st.integers(-3600, 1200)), min_size=30, max_size=30)
)
def test_of_all_blocks_on_a_line_of_sight_the_nearest_is_painted_last(boxes, looks):
    rank = {i: place for place, i in enumerate(painted(boxes))}

    assert sorted(rank) == list(range(len(boxes)))
    for u, v in looks:
        point = (u / 10 + 0.037, v / 10 + 0.053)
        met = {i: near for i, box in enumerate(boxes) if (near := ahead(box, point)) is not None}
        order = sorted(met, key=lambda i: met[i])
        assert [rank[i] for i in order] == sorted(rank[i] for i in order)


def test_blocks_in_a_ring_are_all_painted_once():
    # Three sticks, each over the next: no order is right, but none may be lost.
    ring = [Box(0, 30, 0, 5, 0, 5), Box(25, 30, -30, 12, 5, 10), Box(10, 15, -25, 30, -5, 20)]

    assert sorted(painted(ring)) == [0, 1, 2]


# --- pulling apart -----------------------------------------------------------------------------------------------


def test_a_rail_is_pulled_off_its_panel_by_the_tongue_and_the_gap():
    panel, rail = Box(0, 100, 0, 10, 0, 200), Box(0, 100, 0, 10, 190, 240)  # the tongue enters by 10

    moved = shifts({"panel": panel, "rail": rail}, [Meeting("panel", "rail", 2)], 30, 0)

    assert moved == {"panel": (0, 0, 0), "rail": (0, 0, 40)}


def test_what_stands_apart_already_stays_where_it_is():
    assert set(shifts({"left": BASE, "right": Box(50, 60, 0, 10, 0, 10)}, [], 30, 0).values()) == {(0, 0, 0)}


def test_what_passes_another_by_is_not_pulled_into_it():
    # A block is pulled off one at its left and off one beneath it, and so towards the one that it passes by.
    parts = {
        "pulled": BASE,
        "left": Box(-10, 1, 0, 10, 0, 10),
        "beneath": Box(0, 10, 0, 10, -10, 1),
        "passed": Box(12, 22, 0, 10, 12, 22),
    }

    by = shifts(parts, [], 20, 0)

    x, _, z = by["pulled"]
    assert x >= 21
    assert z >= 21
    assert by["passed"][0] >= x - 2 or by["passed"][2] >= z - 2


def test_a_joint_says_the_axis_even_where_less_is_shared_along_another():
    stile, rail = Box(0, 10, 0, 3, 0, 100), Box(2, 50, 0, 3, 40, 60)  # 8 shared along X, 3 along Y

    assert shifts({"stile": stile, "rail": rail}, [Meeting("rail", "stile", 0)], 20, 0)["rail"] == (28, 0, 0)
    assert shifts({"stile": stile, "rail": rail}, [], 20, 0)["rail"][0] == 0


blocks_anywhere = st.builds(
    lambda x, y, z, a, b, c: Box(x, x + a, y, y + b, z, z + c),
    *[st.integers(-200, 200)] * 3,
    *[st.integers(1, 120)] * 3,
)


@given(boxes=st.lists(blocks_anywhere, min_size=2, max_size=9), gap=st.integers(1, 60), between=st.integers(0, 60))
def test_pulled_apart_no_two_parts_share_space(boxes, gap, between):
    parts = {f"p{i}": box for i, box in enumerate(boxes)}

    by = shifts(parts, [Meeting("p0", "p1", 1)], gap, between)

    apart = [Box(*(box[i] + by[key][i // 2] for i in range(6))) for key, box in parts.items()]
    assert all(common(a, b) is None for a, b in combinations(apart, 2))
    assert all(least >= 0 for shift in by.values() for least in shift)


# --- blocks ------------------------------------------------------------------------------------------------------

RAIL = Line(
    "rail", "a", "Rail", 20 * MM, 60 * MM, 400 * MM,
    features=(
        Tenon("left", Face.DATUM_END, 30 * MM, 6 * MM, 8 * MM, 10 * MM, 40 * MM),
        Tongue("top", Face.FACE_EDGE, 5 * MM, 6 * MM, 8 * MM),
        Dado("across", Face.BACK, 100 * MM, 18 * MM, 4 * MM),
    ),
)  # fmt: skip


def test_a_part_is_its_body_and_what_stands_out_of_it():
    body, tenon, tongue = blocks(RAIL, Placement())

    assert body.box == Box(30 * MM, 400 * MM, 5 * MM, 60 * MM, 0, 20 * MM)
    assert tenon.box == Box(0, 30 * MM, 10 * MM, 50 * MM, 6 * MM, 14 * MM)
    assert tongue.box == Box(30 * MM, 400 * MM, 0, 5 * MM, 6 * MM, 14 * MM)  # not over the tenon's length again
    assert body.cuts == (Box(100 * MM, 118 * MM, 5 * MM, 60 * MM, 16 * MM, 20 * MM),)


def test_a_cut_is_shown_where_it_opens_on_a_side_that_is_seen():
    lying, turned = blocks(RAIL, Placement())[0], blocks(RAIL, Placement("+X -Y -Z"))[0]

    # The back is on top, and the dado comes out at the front, where the tongue's shoulder is.
    assert [side for side, _ in openings(lying)] == ["top", "front"]
    assert [side for side, _ in openings(turned)] == ["front"]  # turned over, it opens beneath and at the far edge


def test_the_grain_runs_along_the_part_however_it_stands():
    assert [blocks(RAIL, Placement(axes))[0].grain for axes in ("+X +Y +Z", "-Y +X +Z", "-Z +X +Y")] == [0, 1, 2]


def test_a_dot_stands_where_its_line_to_the_codes_passes_over_nothing():
    tall = [(0.0, 0.0), (40.0, 0.0), (40.0, 200.0), (0.0, 200.0)]
    before_it = [(60.0, 60.0), (100.0, 60.0), (100.0, 200.0), (60.0, 200.0)]

    found = spots([("tall", tall), ("low", before_it)], (100.0, 200.0), ["tall", "low"], one_sided=True)

    assert 0 < found["tall"].at[1] < 60
    assert 0 < found["tall"].at[0] < 40
    assert (found["tall"].seen, found["low"].seen) == (1, 1)


def test_of_a_part_half_covered_half_is_seen_and_the_dot_is_on_that():
    under, over = (
        [(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (0.0, 40.0)],
        [(40.0, 0.0), (80.0, 0.0), (80.0, 40.0), (40.0, 40.0)],
    )

    found = spots([("under", under), ("over", over)], (80.0, 40.0), ["under"], one_sided=False)

    assert found["under"].seen == pytest.approx(0.5, abs=0.06)
    assert found["under"].at[0] < 40


def test_a_part_that_is_hidden_altogether_has_a_spot_all_the_same():
    square = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]

    found = spots([("under", square), ("over", square)], (40.0, 40.0), ["under"], one_sided=True)

    assert found["under"] == ((20.0, 20.0), 0.0, 0.0)


# --- labels ------------------------------------------------------------------------------------------------------


@given(
    st.dictionaries(
        st.text("abcdefgh", min_size=1, max_size=3),
        st.tuples(st.floats(0, 200), st.floats(0, 300)),
        min_size=1,
        max_size=14,
    ),
    st.booleans(),
)
def test_labels_keep_their_distance_and_their_lines_do_not_cross(spots, one_sided):
    placed = callouts(spots, (-20.0, 220.0), 22, 330, one_sided=one_sided)

    assert sorted(callout.key for callout in placed) == sorted(spots)
    for left in (True, False):
        side = [callout for callout in placed if callout.left is left]
        ys = sorted(callout.y for callout in side)
        assert all(b - a >= 22 - 1e-6 for a, b in pairwise(ys))
        assert all(11 - 1e-6 <= y <= 319 + 1e-6 for y in ys)
        start = -20.0 if left else 220.0
        lines = [((start, callout.y), callout.spot) for callout in side]
        assert not any(cross(*a, *b) for a, b in combinations(lines, 2))


# --- the demonstration job ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_every_part_has_its_code_beside_the_picture(key):
    boxes = texts(drawn(key))

    assert sorted(box.says for box in boxes) == sorted(show(code) for code in own_codes(key))
    assert {box.size for box in boxes} == {16}


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_no_code_overlaps_another_or_the_wood_or_leaves_the_frame(key):
    svg = drawn(key)
    height = float(ET.fromstring(svg).get("viewBox", "").split()[3])
    boxes = texts(svg)
    wood = [point for _, _, polygon in painted_wood(svg) for point in polygon]
    left, right = min(x for x, _ in wood), max(x for x, _ in wood)

    assert not [(a.says, b.says) for a, b in combinations(boxes, 2) if a.touches(b)]
    assert all(box.left >= 0 and box.right <= 360 and box.top >= 0 and box.foot <= height for box in boxes)
    assert all(box.right < left or box.left > right for box in boxes)
    assert all(0 <= x <= 360 and 0 <= y <= height for x, y in wood)


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_each_line_ends_on_the_part_whose_code_it_starts_at(key):
    svg = drawn(key)
    wood = painted_wood(svg)
    leader = next(node for node in ET.fromstring(svg).iter(f"{SVG}path") if node.get("class") == "leader")
    points = corners(leader.get("d", ""))
    boxes = texts(svg)

    for start, end in zip(points[::2], points[1::2], strict=True):
        label = min(boxes, key=lambda box: abs((box.top + box.foot) / 2 - start[1]) + min(
            abs(box.left - start[0]), abs(box.right - start[0])))  # fmt: skip
        owner = [code for code, _, polygon in wood if inside(end, polygon)][-1]
        assert show(owner) == label.says
        assert abs((label.top + label.foot) / 2 - start[1]) < 2


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_no_two_lines_to_the_codes_cross(key):
    leader = next(node for node in ET.fromstring(drawn(key)).iter(f"{SVG}path") if node.get("class") == "leader")
    points = corners(leader.get("d", ""))
    lines = list(zip(points[::2], points[1::2], strict=True))

    assert not [pair for pair in combinations(lines, 2) if cross(*pair[0], *pair[1])]


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_on_every_line_of_sight_the_wood_nearest_the_eye_is_on_top(key):
    assembly = ASSEMBLIES[key]
    picture = exploded.pull_apart(DEMO, assembly, 80)
    wood = [piece for piece in picture.pieces if piece.block]
    width, height = picture.extent
    looks = 0

    for row in range(1, 40):
        for column in range(1, 40):
            x, y = width * column / 40 + 0.0137, height * row / 40 + 0.0271
            point = (x / picture.scale + picture.origin[0], y / picture.scale + picture.origin[1])
            met = [(near, piece) for piece in wood if (near := ahead(piece.box, point)) is not None]
            if not met:
                continue
            looks += 1
            on_top = [
                piece for piece in wood
                if any(inside((x, y), [picture.at(*corner) for corner in polygon]) for _, polygon in sides(piece.box))
            ]  # fmt: skip
            nearest = max(met, key=lambda pair: pair[0])
            assert on_top[-1] is nearest[1] or isclose(
                next(near for near, piece in met if piece is on_top[-1]), nearest[0], rel_tol=1e-9
            )
    assert looks > 100


@pytest.mark.parametrize("key", ASSEMBLIES)
def test_pulled_apart_every_part_is_seen_and_none_is_in_another(key):
    picture = exploded.pull_apart(DEMO, ASSEMBLIES[key], 80)
    wood = [piece for piece in picture.pieces if piece.block]

    assert not [(a.key, b.key) for a, b in combinations(wood, 2) if a.key != b.key and common(a.box, b.box) is not None]
    assert {name: round(spot.seen, 2) for name, spot in picture.spots.items() if spot.seen < 0.7} == {}


def test_the_side_comes_apart_upwards_and_downwards_and_in_the_order_it_stands():
    lows = {}
    for code, _, polygon in painted_wood(drawn("left-side")):
        lows.setdefault(code, []).extend(y for _, y in polygon)
    middle = {code: (min(ys) + max(ys)) / 2 for code, ys in lows.items()}
    picture = exploded.pull_apart(DEMO, ASSEMBLIES["left-side"], 80)
    own = {part.key: (line, part) for line in DEMO.lines for part in line.parts}

    assert middle[CODES["left.top-rail"]] < middle[CODES["left.panel"]] < middle[CODES["left.bottom-rail"]]
    for piece in picture.pieces:
        if piece.block and piece.box.x1 - piece.box.x0 > 0:
            line, part = own[piece.key]
            assert part.stands is not None
            stood = {(box.box.x0, box.box.y0) for box in blocks(line, part.stands)}
            assert (piece.box.x0, piece.box.y0) in stood  # nothing moved sideways


def test_a_dashed_line_leads_from_a_tenon_to_its_mortise():
    svg = drawn("back")

    assert svg.count('class="pull"') >= 4  # muntin and panels, to the rails and to each other


def test_the_same_assembly_gives_the_same_bytes():
    assert drawn("drawer-1") == drawn("drawer-1")


def test_a_picture_asks_nothing_of_the_page_it_is_put_in_and_keeps_markup_as_text():
    hostile = '<script>alert("x")</script>&'
    svg = exploded.draw(DEMO, replace(ASSEMBLIES["top"], name=hostile), {"top": "2BXG3C"})
    assert svg is not None
    root = ET.fromstring(svg)

    assert root.findtext(f"{SVG}title") == f"{hostile}, pulled apart"
    for node in root.iter():
        assert not [name for name in node.attrib if name in ("style", "href", "id") or name.startswith("on")]
        assert "url(" not in "".join(node.attrib.values())


def test_the_style_sheet_knows_every_class():
    css = (Path(exploded.__file__).parents[2] / "static" / "drawing.css").read_text(encoding="utf-8")
    svg = drawn("back") + drawn("legs")

    classes = {name for word in re.findall(r'class="([^"]*)"', svg) for name in word.split()} - {"front"}

    assert {name for name in classes if f".{name} " not in css and f".{name}," not in css} == set()


def test_an_assembly_whose_parts_have_no_place_in_space_has_no_picture():
    line = Line("l", "a", "Rail", 20 * MM, 60 * MM, 400 * MM, parts=(Part("p"),))
    job = Job("j", "Job", assemblies=(Assembly("a", 1, "A"),), lines=(line,))

    assert exploded.draw(job, job.assemblies[0], {"p": "2BXG3C"}) is None
    with pytest.raises(ValueError, match="no part"):
        exploded.pull_apart(job, job.assemblies[0], 80)


def test_a_joint_of_an_assembly_with_one_of_another_is_left_alone():
    """A leg's mortise takes a rail of another assembly: there is nothing to pull."""
    leg = Line("leg", "a", "Leg", 40 * MM, 40 * MM, 500 * MM, parts=(Part("leg", stands=Placement()),),
               features=(Mortise("m", Face.FACE_SIDE, 9 * MM, 40 * MM, 15 * MM, 8 * MM, 30 * MM),))  # fmt: skip
    rail = replace(RAIL, assembly="b", parts=(Part("rail", stands=Placement()),))
    joint = Joint("j", enters=Half("rail", "left"), takes=Half("leg", "m"))
    job = Job("j", "Job", assemblies=(Assembly("a", 1, "A"),), lines=(leg, rail), joints=(joint,))

    svg = exploded.draw(job, job.assemblies[0], {"leg": "2BXG3C"})

    assert svg is not None
    assert [box.says for box in texts(svg)] == ["2BX-G3C"]
