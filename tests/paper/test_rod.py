"""A rod lies on paper at full size: every line where it should be, across its joints, for both hands, on any paper."""

from __future__ import annotations

from array import array
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, pairwise

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops

from shopfloor.intake.demo import demo_job
from shopfloor.paper.labels import NothingToPrint
from shopfloor.paper.rod import Lane, Rod, Span, Tick, rods_of
from shopfloor.paper.rod_face import EDGE, WORDS, TileFace, strip_width, tile_face
from shopfloor.paper.rod_sheets import Standing, rod_pages, rods_pdf
from shopfloor.paper.rod_tiles import CLEAR, FLAP, PAPERS, UnknownPaper, paper, tiles
from shopfloor.trade.code import codes
from shopfloor.trade.part import (
    Assembly,
    Dado,
    Face,
    Groove,
    Hand,
    Hole,
    HoleRow,
    Job,
    Line,
    Mortise,
    Part,
    Tenon,
    Unit,
)
from shopfloor.trade.sheet import Sheet, sheets, stack_key

from .lines import LEG, lines

MM, INCH = 1_000_000, 25_400_000
DPI = 300


def sheets_of(job: Job) -> list[Sheet]:
    keys = [part.key for line in job.lines for part in line.parts] + [stack_key(one.key) for one in job.assemblies]
    return sheets(job, dict(zip(keys, (six for _, six in codes()), strict=False)))


def job_of(*made: Line) -> Job:
    stacks = dict.fromkeys(line.assembly for line in made)
    return Job("j", "Job", assemblies=tuple(Assembly(key, n, key) for n, key in enumerate(stacks, 1)), lines=made)


BOTH = (Part("left", "left"), Part("right", "right", hand=Hand.MIRROR))


@cache
def demo_rods() -> list[Rod]:
    return rods_of(sheets_of(demo_job()))


def one_rod(line: Line, parts: tuple[Part, ...] = BOTH) -> Rod:
    [rod] = rods_of(sheets_of(job_of(replace(line, parts=parts))))
    return rod


# --- measuring what was printed ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Print:
    """A page as printed: 0 white, 255 black.  A pixel is so many nanometres: the renderer stretches to whole pixels."""

    image: Image.Image
    pixel: float


def printed(pdf: bytes) -> list[Print]:
    """The pages at 300 dots to the inch."""
    pages = pdfium.PdfDocument(pdf)
    made = [(page.render(scale=DPI / 72).to_pil().convert("L"), page.get_height()) for page in pages]
    return [Print(ImageChops.invert(image), high * INCH / 72 / image.height) for image, high in made]


def profile(page: Print, left: float, top: float, right: float, foot: float, *, across: bool = False) -> list[float]:
    """How dark each row of a box is, 0 to 1 (or each column, if `across`); the box is in nanometres."""
    edges = [round(edge / page.pixel) for edge in (left, top, right, foot)]
    box = page.image.crop((edges[0], edges[1], edges[2], edges[3])).convert("F")
    size = (box.width, 1) if across else (1, box.height)
    return [dark / 255 for dark in array("f", box.resize(size, Image.Resampling.BOX).tobytes())]


def middle(ink: list[float]) -> float:
    return sum(dark * (i + 0.5) for i, dark in enumerate(ink)) / sum(ink)


def lines_in(page: Print, band: list[float], start: float) -> list[float]:
    """Where the lines are that cross a band which begins at `start`: the middles of their ink, nanometres."""
    found, run = [], []
    for i, dark in enumerate([*band, 0.0]):
        if dark > 0.04:
            run.append(dark)
        elif run:
            found.append((round(start / page.pixel) + i - len(run) + middle(run)) * page.pixel)
            run = []
    return found


def ring_middle(page: Print, x: int, y: int) -> float:
    """The height of a register mark's middle: of the ink of its ring, without the upright of its cross."""
    reach = 2_800_000
    beside = ((-2_500_000, -500_000), (500_000, 2_500_000))
    sides = [profile(page, x + a, y - reach, x + b, y + reach) for a, b in beside]
    return (round((y - reach) / page.pixel) + middle([a + b for a, b in zip(*sides, strict=True)])) * page.pixel


def measured(rods: list[Rod], on: str, unit: Unit) -> Iterator[tuple[Rod, list[float], list[float]]]:
    """Each rod with its lines as they come out when its tiles are laid together by their register marks, at the left
    edge of the strip and at the right: distances from the line of the datum."""
    sheet = PAPERS[on]
    pages = printed(rods_pdf(rods, sheet, unit=unit, denominator=16, title="Rods"))
    standing = [
        (page, one) for page, row in zip(pages, rod_pages(rods, sheet, unit=unit, denominator=16), strict=True)
        for one in row
    ]  # fmt: skip
    rest = iter(rods)
    origin = end = 0.0  # where the zero of the rod would lie on this page; where the tile before ended
    left: list[float] = []
    right: list[float] = []
    for page, one in standing:
        tile, down = one.face.tile, sheet.height - one.zero

        def joint(at: int, page: Print = page, one: Standing = one, down: int = down) -> float:
            middles = [ring_middle(page, one.x + x, down + y) for x, y in one.face.rings if y == at]
            assert len(middles) == 2
            return sum(middles) / 2

        at_left, at_right = (
            lines_in(page, profile(page, x + 600_000, 0, x + EDGE - 600_000, sheet.height), 0)
            for x in (one.x, one.x + one.face.width - EDGE)
        )
        if tile.first:
            left, right, end = [], [], 0.0
            [origin] = [y for y in at_left if abs(y - down) < 0.4 * MM]
        else:
            origin = joint(tile.start) - end
        start, end = end, float("inf") if tile.last else joint(tile.end) - origin
        for column, band in ((left, at_left), (right, at_right)):
            column += [y - origin for y in band if start + 0.3 * MM < y - origin < end - 0.3 * MM]
        if tile.last:
            yield next(rest), left, right


@pytest.mark.parametrize(("on", "unit"), [("a4", Unit.MM), ("letter", Unit.INCH)])
def test_every_line_of_every_rod_lies_within_a_tenth_of_a_millimetre(on, unit):
    worst, count = 0.0, 0

    for rod, left, right in measured(demo_rods(), on, unit):
        wanted = [tick.at for tick in rod.ticks] + [rod.length]
        for found in (left, right):
            assert len(found) == len(wanted), rod.name
            worst = max(worst, *(abs(a - b) for a, b in zip(found, wanted, strict=True)))
            count += len(found)

    assert count > 140
    assert worst < 0.1 * MM, f"{worst / MM:.3f} mm"


def test_a_rod_of_three_metres_does_not_add_up_errors():
    stick = Line(
        "s", "a", "Stick", 20 * MM, 40 * MM, 2_900 * MM, datum="left",
        features=tuple(Dado(f"d{i}", Face.BACK, (41 + 137 * i) * MM + i * 123_457, 18 * MM, 6 * MM) for i in range(21)),
    )  # fmt: skip

    [(rod, left, _)] = measured([one_rod(stick)], "a4", Unit.MM)

    wanted = [tick.at for tick in rod.ticks] + [rod.length]
    assert len(wanted) == 43
    assert len(left) == len(wanted)
    assert max(abs(a - b) for a, b in zip(left, wanted, strict=True)) < 0.1 * MM


KNOWN = [("a4", Unit.MM, 100 * MM), ("letter", Unit.INCH, 4 * INCH), ("a4", Unit.INCH, 4 * INCH)]


@pytest.mark.parametrize(("on", "unit", "long"), KNOWN, ids=["100 mm", "4 in on Letter", "4 in on A4"])
def test_the_lengths_to_check_the_printer_with_are_as_long_as_they_say(on, unit, long):
    sheet = PAPERS[on]
    page = printed(rods_pdf([one_rod(LEG)], sheet, unit=unit, denominator=16, title="Rods"))[0]

    # The end strokes reach farther than those of the divisions: these bands only they cross.
    right, top = sheet.width - 8 * MM, 8 * MM
    across = profile(page, right - long - 2 * MM, top + 7_300_000, right + 2 * MM, top + 8_400_000, across=True)
    ends = lines_in(page, across, right - long - 2 * MM)
    up = profile(page, right - 6_700_000, top + 20 * MM, right - 5_600_000, top + 30 * MM + long)
    heights = lines_in(page, up, top + 20 * MM)

    assert (len(ends), len(heights)) == (2, 2)
    assert ends[1] - ends[0] == pytest.approx(long, abs=0.05 * MM)
    assert heights[1] - heights[0] == pytest.approx(long, abs=0.05 * MM)


def test_nothing_is_printed_where_a_printer_leaves_the_paper_white():
    for page in printed(rods_pdf(demo_rods(), PAPERS["letter"], unit=Unit.INCH, denominator=16, title="Rods")):
        left, top, right, foot = page.image.getbbox()
        assert min(left, top, page.image.width - right, page.image.height - foot) * page.pixel >= 4.5 * MM


def test_the_paper_is_not_to_be_scaled_has_its_size_and_carries_type_not_pictures():
    pdf = rods_pdf([one_rod(LEG)], PAPERS["letter"], unit=Unit.INCH, denominator=16, title="Leg")
    document = pdfium.PdfDocument(pdf)

    assert b"/PrintScaling /None" in pdf
    assert {page.get_size() for page in document} == {(612, 792)}
    assert {found.type for page in document for found in page.get_objects()} <= {
        pdfium_c.FPDF_PAGEOBJ_TEXT, pdfium_c.FPDF_PAGEOBJ_PATH,
    }  # fmt: skip
    said = " ".join(document[0].get_textpage().get_text_bounded().split())
    assert "top, measure from here" in said
    assert "Measure first: 4 in each way?" in said


def test_the_same_rods_give_the_same_bytes():
    made = [
        rods_pdf(demo_rods()[:3], PAPERS["a4"], unit=Unit.MM, denominator=16, title="Rods") for _ in range(2)
    ]  # fmt: skip

    assert made[0] == made[1]


def test_without_a_mark_there_is_no_rod_and_without_a_rod_no_paper():
    plain = replace(LEG, features=(), parts=BOTH)

    assert rods_of(sheets_of(job_of(plain))) == []
    with pytest.raises(NothingToPrint):
        rods_pdf([], PAPERS["a4"], unit=Unit.MM, denominator=16, title="Rods")


def test_papers_go_by_name():
    assert paper("A4") is PAPERS["a4"]
    with pytest.raises(UnknownPaper, match="a4 or letter"):
        paper("a5")


# --- what stands on a rod ----------------------------------------------------------------------------------------


def test_a_leg_and_its_mirror_image_share_a_rod_and_four_legs_have_two():
    legs = [rod for rod in demo_rods() if rod.name == "Leg"]

    assert [(rod.drawn, rod.mirrored) for rod in legs] == [
        (("front left",), ("front right",)), (("back left",), ("back right",)),
    ]  # fmt: skip
    assert {rod.length for rod in legs} == {920_750_000}


def test_all_parts_with_the_same_marks_share_a_rod_whatever_they_are_called():
    names = {rod.name: rod for rod in demo_rods()}

    assert len(names["Drawer side"].drawn) == len(names["Drawer side"].mirrored) == 6
    # Top and bottom rails differ in where their tenons are across, and in nothing along.
    assert "Top rail, Bottom rail" in names


def test_a_stack_of_mirror_images_only_has_a_rod_of_one_hand():
    [first, *_] = rods_of(one for one in sheets_of(demo_job()) if one.assembly.key == "right-side")

    assert (first.drawn, first.mirrored, first.hands) == ((), ("right side",), 1)


TWO = Line(
    "r", "a", "Rail", 20 * MM, 60 * MM, 400 * MM, datum="left", face_side="inside", face_edge="top",
    features=(
        Mortise("m", Face.FACE_SIDE, 100 * MM, 40 * MM, 20 * MM, 8 * MM, 10 * MM),
        Mortise("n", Face.FACE_EDGE, 140 * MM, 30 * MM, 6 * MM, 8 * MM, 20 * MM),
        Tenon("t", Face.FAR_END, 25 * MM, 6 * MM, 8 * MM, 10 * MM, 40 * MM),
    ),
)  # fmt: skip


def test_each_line_says_what_it_is_for_and_on_which_surface():
    assert one_rod(TWO).ticks == (
        Tick(100 * MM, "mortise starts: inside face"),
        Tick(140 * MM, "mortise ends: inside face; mortise starts: top edge"),
        Tick(170 * MM, "mortise ends: top edge"),
        Tick(375 * MM, "shoulder"),
    )


def test_there_is_a_lane_for_each_surface_and_a_through_mortise_is_marked_from_both():
    through = replace(TWO, features=(Mortise("m", Face.FACE_SIDE, 100 * MM, 40 * MM, 20 * MM, 8 * MM),))
    pocket = Span(100 * MM, 140 * MM, Span.POCKET)

    assert [lane.name for lane in one_rod(TWO).lanes] == ["inside face", "top edge"]
    assert one_rod(through).lanes == (Lane("inside face", (pocket,)), Lane("outside face", (pocket,)))
    assert [tick.says for tick in one_rod(through).ticks] == ["mortise starts", "mortise ends"]


def test_what_runs_from_end_to_end_needs_no_lane_and_a_hole_is_marked_at_its_middle():
    groove = Groove("g", Face.FACE_EDGE, 6 * MM, 6 * MM, 8 * MM)
    hole = Hole("h", Face.BACK, 50 * MM, 30 * MM, 8 * MM, 12 * MM)

    rod = one_rod(replace(TWO, features=(groove, hole)))

    assert [lane.name for lane in rod.lanes] == ["outside face"]
    assert rod.ticks == (Tick(50 * MM, "hole, its middle"),)


def test_the_lanes_of_the_mirror_image_stand_the_other_way_round():
    rod = one_rod(TWO)
    [tile] = tiles(200 * MM, [], 300 * MM)
    face = tile_face(rod, replace(tile, end=200 * MM), unit=Unit.MM, denominator=16)
    side = (face.width - WORDS) // 2 - EDGE
    strokes = {stroke.points for stroke in face.strokes if all(EDGE < x < face.width - EDGE for x, _ in stroke.points)}
    at_left = {points for points in strokes if all(x < side for x, _ in points)}

    assert len(at_left) >= 6  # two pockets: two sides and a diagonal each
    assert all(tuple((face.width - x, y) for x, y in points) in strokes for points in at_left)


# --- tiles -------------------------------------------------------------------------------------------------------

marks = st.lists(st.integers(1, 3_000 * MM), max_size=40, unique=True).map(sorted)


@given(length=st.integers(20 * MM, 3_000 * MM), marks=marks, on=st.sampled_from(["a4", "letter"]))
def test_tiles_follow_one_another_and_fit_the_paper(length, marks, on):
    room = PAPERS[on].room

    made = tiles(length, [mark for mark in marks if mark < length], room)

    assert (made[0].start, made[-1].end) == (0, length)
    assert all(a.end == b.start for a, b in pairwise(made))
    assert all(tile.height <= room and tile.end > tile.start for tile in made)
    assert [tile.nth for tile in made] == [(n, len(made)) for n in range(1, len(made) + 1)]
    assert (len(made) - 2) * (room - FLAP) < length  # none more than is needed, but for the room to move joints


def test_a_joint_moves_away_from_a_mark():
    equal = [tile.end for tile in tiles(900 * MM, [], PAPERS["a4"].room)][:-1]

    moved = [tile.end for tile in tiles(900 * MM, equal, PAPERS["a4"].room)][:-1]

    assert len(moved) == len(equal) == 3
    assert all(min(abs(joint - mark) for mark in equal) >= CLEAR for joint in moved)


def test_a_short_rod_is_one_piece():
    assert [(tile.start, tile.end) for tile in tiles(200 * MM, [], PAPERS["a4"].room)] == [(0, 200 * MM)]


# --- nothing touches ---------------------------------------------------------------------------------------------


def faces(rods: list[Rod], on: str, unit: Unit) -> Iterator[TileFace]:
    for page in rod_pages(rods, PAPERS[on], unit=unit, denominator=16):
        for one in page:
            yield one.face


def inked(face: TileFace) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Everything that is read on a tile, and its register marks: (what, (left, top, right, foot))."""
    out = [
        (text.line.text, (text.x, text.y - text.line.above, text.x + text.line.width, text.y - text.line.below))
        for text in face.texts
    ]
    for along in face.sideways:
        line = along.line
        out.append((line.text, (along.x - line.above, along.y - line.width, along.x - line.below, along.y)))
    out += [("ring", (x - 3_500_000, y - 3_500_000, x + 3_500_000, y + 3_500_000)) for x, y in face.rings]
    return out


def touching(face: TileFace) -> list[tuple[str, str]]:
    return [
        (one, other)
        for (one, a), (other, b) in combinations(inked(face), 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def test_the_name_of_a_surface_has_air_between_the_lines_of_a_channel():
    in_a_channel = 0
    for face in faces(demo_rods(), "a4", Unit.INCH):
        along = [stroke.points for stroke in face.strokes if len({x for x, _ in stroke.points}) == 1]
        for name in face.sideways:
            left, right = name.x - name.line.above, name.x - name.line.below
            beside = [
                min(abs(points[0][0] - left), abs(points[0][0] - right)) for points in along
                if min(y for _, y in points) < name.y and max(y for _, y in points) > name.y - name.line.width
                and abs(points[0][0] - (left + right) // 2) < 3 * MM
            ]  # fmt: skip
            in_a_channel += len(beside) >= 2
            assert all(gap >= 400_000 for gap in beside), name.line.text

    assert in_a_channel > 0


def outside(face: TileFace) -> list[str]:
    top, foot = face.tile.start - face.tile.above, face.tile.end + face.tile.below
    return [
        what for what, (left, above, right, below) in inked(face)
        if left < 0 or right > face.width or above < top or below > foot
    ]  # fmt: skip


@pytest.mark.parametrize(("on", "unit"), [("a4", Unit.MM), ("a4", Unit.INCH), ("letter", Unit.INCH)])
def test_on_the_rods_of_the_demonstration_job_no_words_touch(on, unit):
    for face in faces(demo_rods(), on, unit):
        assert touching(face) == []
        assert outside(face) == []


def test_a_long_distance_off_the_tape_stays_in_its_column():
    """Of a rod without lanes the column begins at the edge, and "32 13/16 shy" would begin before it."""
    row = HoleRow("f0", Face.FACE_SIDE, first=1_125_406, count=6, offset=1, diameter=2, pitch=166_303_669)
    line = Line("line", "any", "Rail", 6_000_000, 10_000_000, 998_947_422, features=(row,), parts=BOTH[:1])
    laid = list(faces(rods_of(sheets_of(job_of(line))), "a4", Unit.INCH))

    assert any("shy" in what for face in laid for what, _ in inked(face))
    assert [outside(face) for face in laid] == [[]] * len(laid)


@settings(max_examples=60)
@given(line=lines(), mirrored=st.booleans(), unit=st.sampled_from(list(Unit)))
def test_on_any_rod_no_words_touch_and_every_mark_reaches_both_edges(line, mirrored, unit):
    rods = rods_of(sheets_of(job_of(replace(line, parts=BOTH if mirrored else BOTH[:1]))))

    seen: set[int] = set()
    for face in faces(rods, "a4", unit):
        assert touching(face) == []
        assert outside(face) == []
        at_left = {stroke.points[0][1] for stroke in face.strokes if stroke.points[0][0] == 0}
        at_right = {stroke.points[1][1] for stroke in face.strokes if stroke.points[1][0] == face.width}
        seen |= at_left & at_right
    assert {tick.at for rod in rods for tick in rod.ticks} <= seen


def test_a_strip_is_as_wide_as_its_lanes_and_never_wider_than_the_paper():
    assert strip_width(one_rod(TWO)) - strip_width(one_rod(TWO, BOTH[:1])) == 12 * MM
    four = tuple(
        Mortise(f"m{i}", face, 100 * MM, 40 * MM, 5 * MM, 6 * MM, 6 * MM)
        for i, face in enumerate((Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE))
    )
    [[standing]] = rod_pages([one_rod(replace(TWO, features=four))][:1], PAPERS["a4"], unit=Unit.MM, denominator=16)[:1]

    assert standing.x + standing.face.width <= 210 * MM - 8 * MM - 11 * MM
