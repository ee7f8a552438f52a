"""The demonstration cabinet adds up: worked out here once more, by the maker's arithmetic and by boxes in space."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.document import check, from_json, from_toml, to_json, to_toml
from shopfloor.trade.part import (
    Box,
    Dado,
    Face,
    Feature,
    Groove,
    Half,
    Hand,
    Joint,
    Line,
    Mortise,
    Placement,
    Stock,
    Tenon,
    Tongue,
)

JOB = demo_job()
LINES = {line.key: line for line in JOB.lines}
LINE_OF = {part.key: line for line in JOB.lines for part in line.parts}
DRAWERS = range(1, 7)
FRAMES = range(1, 8)


def inch(text: str) -> int:
    """ "1 3/4" in nanometres; exact."""
    nm = sum(Fraction(part) for part in text.split()) * 25_400_000
    assert nm.denominator == 1
    return int(nm)


def _stands() -> dict[str, Placement]:
    """How each part stands in the piece: its placement in its assembly, and the assembly's in the piece."""
    outer = {assembly.key: assembly.stands for assembly in JOB.assemblies}
    return {
        part.key: part.stands.within(outer[line.assembly]) for line in JOB.lines for part in line.parts if part.stands
    }


STANDS = _stands()


def block(part: str) -> Box:
    """The whole stock of a part, in the piece."""
    stock = LINE_OF[part].stock
    return STANDS[part].box(Box(0, stock.length, 0, stock.width, 0, stock.thickness))


def feature(half: Half) -> Feature:
    return next(each for each in LINE_OF[half.part].features if each.key == half.feature)


def placed(part: str, each: Feature) -> Box:
    return STANDS[part].box(each.box(LINE_OF[part].stock))


def body(line: Line) -> Box:
    """A part without its tenons and tongues, in its own axes: what lies between the shoulders."""
    x0, x1, y0, y1 = 0, line.length, 0, line.width
    for each in line.features:
        if isinstance(each, Tenon | Tongue):
            match each.face:
                case Face.DATUM_END:
                    x0 = each.length
                case Face.FAR_END:
                    x1 = line.length - each.length
                case Face.FACE_EDGE:
                    y0 = each.length
                case Face.FAR_EDGE:
                    y1 = line.width - each.length
    return Box(x0, x1, y0, y1, 0, line.thickness)


def between_shoulders(line: Line) -> int:
    inner = body(line)
    return inner.x1 - inner.x0


# --- counts --------------------------------------------------------------------------------------------------------


def test_the_cabinet_has_its_stacks_and_parts() -> None:
    numbers = {assembly.key: assembly.number for assembly in JOB.assemblies}

    counts = Counter(numbers[line.assembly] for line in JOB.lines for _ in line.parts)

    # Legs; two sides and a back; 7 frames of 4; 6 drawers of 5; the top.
    assert counts == {1: 4, 2: 3, 3: 3, 4: 5, 5: 28, 6: 5, 7: 5, 8: 5, 9: 5, 10: 5, 11: 5, 12: 1}
    assert counts.total() == 74


def test_the_document_is_sound_and_reads_back() -> None:
    assert check(JOB) == []
    assert from_toml(to_toml(JOB)) == JOB
    assert from_json(to_json(JOB)) == JOB


def test_every_part_stands_somewhere_and_its_hand_is_that_of_its_place() -> None:
    parts = {part.key: part for line in JOB.lines for part in line.parts}

    assert set(STANDS) == set(parts)
    assert {key for key, part in parts.items() if STANDS[key].hand is not part.hand} == set()


def test_there_are_as_many_lefts_as_rights_and_each_is_the_other_mirrored() -> None:
    pairs = [
        ("leg.front-left", "leg.front-right"), ("leg.back-left", "leg.back-right"),
        *((f"left.{name}", f"right.{name}") for name in ("top-rail", "bottom-rail", "panel")),
        *((f"web.{n}.runner-left", f"web.{n}.runner-right") for n in FRAMES),
        *((f"drawer.{n}.side-left", f"drawer.{n}.side-right") for n in DRAWERS),
    ]  # fmt: skip
    hands = {part.key: part.hand for line in JOB.lines for part in line.parts}

    # 2 pairs of legs, 3 in the sides, 7 of runners, 6 of drawer sides; everything else stands as drawn.
    assert len(pairs) == 18
    assert sum(hand is Hand.MIRROR for hand in hands.values()) == 18
    for left, right in pairs:
        assert {hands[left], hands[right]} == {Hand.AS_DRAWN, Hand.MIRROR}
        assert LINE_OF[left].features == LINE_OF[right].features
        x0, x1, *rest = block(left)
        assert block(right) == (inch("26") - x1, inch("26") - x0, *rest)


def test_every_line_names_its_references_and_its_wood() -> None:
    for line in JOB.lines:
        assert all((line.species, line.datum, line.face_side, line.face_edge, line.parts)), line.key


def test_the_six_fronts_are_one_group_from_one_board() -> None:
    assert [line.key for line in JOB.lines if line.group == "drawer fronts"] == [f"drawer-{n}-front" for n in DRAWERS]
    assert {LINES[f"drawer-{n}-front"].species for n in DRAWERS} == {"cherry"}


def test_all_six_drawers_are_alike() -> None:
    for name in ("front", "side", "back", "bottom"):
        assert len({(LINES[f"drawer-{n}-{name}"].stock, LINES[f"drawer-{n}-{name}"].features) for n in DRAWERS}) == 1


# --- the maker's arithmetic ----------------------------------------------------------------------------------------

LEG = inch("1 3/4")


def test_the_cabinet_is_as_large_as_it_says() -> None:
    legs = [block(part.key) for line in (LINES["leg-front"], LINES["leg-back"]) for part in line.parts]

    assert (min(b.x0 for b in legs), max(b.x1 for b in legs)) == (0, inch("26"))
    assert (min(b.y0 for b in legs), max(b.y1 for b in legs)) == (0, inch("17"))
    assert (min(b.z0 for b in legs), max(b.z1 for b in legs)) == (0, inch("36 1/4"))
    # The top: 3/4 over at front and sides, 1/2 at the back, 1 thick.
    assert block("top") == (
        -inch("3/4"), inch("26 3/4"), -inch("3/4"), inch("17 1/2"), inch("36 1/4"), inch("37 1/4"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("line", "outside"),
    [
        ("back-top-rail", "26"), ("back-bottom-rail", "26"), ("web-front-rail", "26"), ("web-back-rail", "26"),
        ("left-top-rail", "17"), ("left-bottom-rail", "17"), ("right-top-rail", "17"), ("right-bottom-rail", "17"),
    ],
)  # fmt: skip
def test_two_legs_and_a_rail_between_its_shoulders_make_the_outside(line: str, outside: str) -> None:
    assert LEG + between_shoulders(LINES[line]) + LEG == inch(outside)


def test_two_rails_and_the_opening_make_the_height_of_a_frame() -> None:
    # Seven frames of 3/4 and six openings of 4: 29 1/4 from the top to the lower edge of the bottom rails.
    height = 7 * inch("3/4") + 6 * inch("4")
    rail, muntin = LINES["back-top-rail"].width, between_shoulders(LINES["back-muntin"])

    assert height == inch("29 1/4") == rail + muntin + rail
    assert block("left.bottom-rail").z0 == block("web.7.front-rail").z0 == inch("36 1/4") - height


@pytest.mark.parametrize("frame", ["left", "right", "back"])
def test_the_rails_of_a_frame_are_3_wide_and_flush_inside_with_its_panels(frame: str) -> None:
    top, bottom = block(f"{frame}.top-rail"), block(f"{frame}.bottom-rail")
    panels = ["back.panel-left", "back.panel-right", "back.muntin"] if frame == "back" else [f"{frame}.panel"]
    inside = {"left": 1, "right": 0, "back": 2}[frame]

    assert (top.z1, top.z0) == (inch("36 1/4"), inch("33 1/4"))
    assert (bottom.z1, bottom.z0) == (inch("10"), inch("7"))
    assert {block(part)[inside] for part in panels} == {top[inside]} == {bottom[inside]}


@pytest.mark.parametrize("panel", ["left-panel", "right-panel", "back-panel"])
def test_a_tongue_is_left_by_one_rabbet_on_the_inside(panel: str) -> None:
    for each in LINES[panel].features:
        assert isinstance(each, Tongue)
        assert each.offset + each.thickness == LINES[panel].thickness == inch("1/2")


def test_the_grooves_in_a_leg_run_from_mortise_to_mortise() -> None:
    for leg in (LINES["leg-front"], LINES["leg-back"]):
        made = {each.key: each for each in leg.features}
        for name in ("side", "back"):
            groove = made.get(f"{name}-panel")
            if isinstance(groove, Groove):
                top, bottom = made[f"{name}-top"].box(leg.stock), made[f"{name}-bottom"].box(leg.stock)
                assert (groove.start, groove.start + groove.length) == (top.x1, bottom.x0)


def test_the_grooves_in_rails_and_muntin_run_right_through() -> None:
    for line in JOB.lines:
        for each in line.features:
            if isinstance(each, Groove) and line.assembly in ("left-side", "right-side", "back", "web-frames"):
                assert (each.start, each.length) == (0, 0), (line.key, each.key)


def test_stub_tenons_are_as_wide_as_the_grooves_beside_them_leave() -> None:
    for each in LINES["back-muntin"].features:
        if isinstance(each, Tenon):
            assert (each.edge_offset, each.width) == (inch("3/8"), inch("3") - 2 * inch("3/8"))
    for each in LINES["web-runner"].features:
        assert isinstance(each, Tenon)
        assert (each.edge_offset, each.width) == (0, LINES["web-runner"].width)


# Groove depth and clearance on each side: 3/8 - 1/8 across the grain, 3/8 - 1/16 along it.
ACROSS, ALONG = inch("1/4"), inch("5/16")


@pytest.mark.parametrize(
    ("panel", "opening_wide", "opening_high"),
    [("left-panel", "13 1/2", "23 1/4"), ("right-panel", "13 1/2", "23 1/4"), ("back-panel", "9 3/4", "23 1/4")],
)
def test_a_panel_is_its_opening_and_what_enters_the_grooves(panel: str, opening_wide: str, opening_high: str) -> None:
    line = LINES[panel]

    assert line.width == inch(opening_wide) + 2 * ACROSS
    assert line.length == inch(opening_high) + 2 * ALONG


def test_the_openings_of_the_panels_are_what_rails_legs_and_muntin_leave() -> None:
    side, back = between_shoulders(LINES["left-top-rail"]), between_shoulders(LINES["back-top-rail"])

    assert side == inch("17") - 2 * LEG == inch("13 1/2")
    assert Fraction(back - LINES["back-muntin"].width, 2) == inch("9 3/4")
    assert inch("29 1/4") - 2 * LINES["left-top-rail"].width == inch("23 1/4")


# Black cherry, flatsawn: 0.00248 of the width per point of moisture.  Source: Wood Handbook (US Forest Products
# Laboratory, FPL-GTR-190, 2010), table 13-5.  Built at 8 %; 6 % and 12 % are the driest and the dampest house.
CHERRY = Fraction(248, 100_000)
SWELLS, SHRINKS = 12 - 8, 8 - 6


@pytest.mark.parametrize("panel", ["left-panel", "right-panel", "back-panel"])
def test_a_panel_can_swell_and_does_not_fall_out_when_it_shrinks(panel: str) -> None:
    half = LINES[panel].width * CHERRY / 2

    assert inch("1/8") - half * SWELLS > 0
    assert ACROSS - half * SHRINKS >= inch("1/8")


def test_a_drawer_front_can_swell_and_does_not_jam() -> None:
    # Rule: the swelling of the front, and 1/32 more, is left free above it.
    front = LINES["drawer-1-front"].width

    assert inch("4") - front == inch("1/8")
    assert inch("1/8") >= front * CHERRY * SWELLS + inch("1/32")


@pytest.mark.parametrize("n", DRAWERS)
def test_a_drawer_fits_its_opening(n: int) -> None:
    parts = [
        block(part.key) for name in ("front", "side", "back", "bottom") for part in LINES[f"drawer-{n}-{name}"].parts
    ]
    over, under = block(f"web.{n}.front-rail"), block(f"web.{n + 1}.front-rail")

    assert (min(b.x0 for b in parts), max(b.x1 for b in parts)) == (LEG + inch("1/32"), inch("24 1/4") - inch("1/32"))
    assert min(b.z0 for b in parts) == under.z1
    assert max(b.z1 for b in parts) == over.z0 - inch("1/8")
    # Flush with the rails in front; behind, 3/8 short of the frame of the back.
    assert min(b.y0 for b in parts) == over.y0 == inch("1/8")
    assert max(b.y1 for b in parts) == block("back.top-rail").y0 - inch("3/8")


def test_the_inside_of_a_drawer_holds_two_piles_of_sheets() -> None:
    left, right = block("drawer.1.side-left"), block("drawer.1.side-right")
    front, back, bottom = block("drawer.1.front"), block("drawer.1.back"), block("drawer.1.bottom")

    assert right.x0 - left.x1 == inch("21 7/16") > 2 * inch("10")
    assert back.y0 - front.y1 == inch("14") > inch("13")
    assert left.z1 - bottom.z1 == inch("3 1/4") >= inch("3")


def test_a_drawer_is_made_of_its_stock_with_grooves_all_round() -> None:
    thick = {name: LINES[f"drawer-1-{name}"].thickness for name in ("front", "side", "back", "bottom")}
    left, right, front = LINES["drawer-1-front"].features
    _, dado, side = LINES["drawer-1-side"].features

    assert thick == {"front": inch("3/4"), "side": inch("1/2"), "back": inch("1/2"), "bottom": inch("3/8")}
    # In front the groove stops in the dadoes, so that it does not show; at the sides it runs out, for the bottom to
    # be slid in from behind.
    assert isinstance(front, Groove) and isinstance(left, Dado) and isinstance(right, Dado)
    assert (front.start, front.start + front.length) == (left.start + left.width, right.start)
    assert isinstance(side, Groove) and isinstance(dado, Dado)
    assert (side.start, side.length, dado.offset, dado.across) == (0, 0, 0, 0)


def test_a_drawer_bottom_has_room_to_grow_backwards() -> None:
    # Yellow-poplar, flatsawn: 0.00289 a point, from the same table.  Fixed in front, it may come to the sides' ends.
    growth = LINES["drawer-1-bottom"].width * Fraction(289, 100_000) * SWELLS

    assert block("drawer.1.side-left").y1 - block("drawer.1.bottom").y1 == inch("1/2") > growth


@pytest.mark.parametrize("n", FRAMES)
def test_a_web_frame_is_rectangular_and_level(n: int) -> None:
    parts = [block(f"web.{n}.{name}") for name in ("front-rail", "back-rail", "runner-left", "runner-right")]
    top = inch("36 1/4") - (n - 1) * inch("4 3/4")

    assert {(b.z0, b.z1) for b in parts} == {(top - inch("3/4"), top)}
    # Rails of 2 and a runner of 12 1/8 between its shoulders: from 1/8 behind the front to the frame of the back.
    assert between_shoulders(LINES["web-runner"]) == inch("12 1/8")
    assert (parts[0].y0, parts[1].y1) == (inch("1/8"), inch("1/8") + inch("16 1/8"))
    assert parts[1].y1 == block("back.top-rail").y0
    assert (parts[2].x0, parts[3].x1) == (LEG, inch("24 1/4"))


def test_proportions_of_the_joints_are_the_trades() -> None:
    for line in JOB.lines:
        for each in line.features:
            if isinstance(each, Tenon):
                assert Fraction(1, 3) <= Fraction(each.thickness, line.thickness) <= Fraction(1, 2)
            if isinstance(each, Groove | Dado) and each.face in (Face.FACE_SIDE, Face.BACK):
                assert each.depth <= line.thickness / 2


# --- joints in space -----------------------------------------------------------------------------------------------


def overlap(a: Box, b: Box) -> Box | None:
    """The space that two boxes share, or None if they only touch or are apart."""
    x0, x1, y0, y1, z0, z1 = (
        (max if index % 2 == 0 else min)(pair) for index, pair in enumerate(zip(a, b, strict=True))
    )
    shared = Box(x0, x1, y0, y1, z0, z1)
    return shared if x0 < x1 and y0 < y1 and z0 < z1 else None


def less(box: Box, cut: Box) -> list[Box]:
    """What is left of `box` when `cut` is taken out of it: at most six boxes."""
    shared = overlap(box, cut)
    if shared is None:
        return [box]
    left, rest = [], list(box)
    for low, high in ((0, 1), (2, 3), (4, 5)):
        if rest[low] < shared[low]:
            left.append(Box(*rest[:high], shared[low], *rest[high + 1 :]))
        if shared[high] < rest[high]:
            left.append(Box(*rest[:low], shared[high], *rest[high:]))
        rest[low], rest[high] = shared[low], shared[high]
    return left


def test_a_box_less_a_box_is_what_is_left() -> None:
    whole = Box(0, 10, 0, 10, 0, 10)

    assert less(whole, Box(20, 30, 0, 10, 0, 10)) == [whole]
    assert less(whole, whole) == []
    assert less(whole, Box(0, 4, 0, 10, 0, 10)) == [Box(4, 10, 0, 10, 0, 10)]
    inner = less(whole, Box(2, 4, 3, 5, 6, 9))
    assert sum((b.x1 - b.x0) * (b.y1 - b.y0) * (b.z1 - b.z0) for b in inner) == 1000 - 2 * 2 * 3


# Clearances by what enters and what takes: (at the bottom, between shoulder and mate).
SQUARE = (inch("1/16"), 0)
FREE_ALONG, FREE_ACROSS, DRAWER_BOTTOM = (inch("1/16"),) * 2, (inch("1/8"),) * 2, (inch("1/16"),) * 2


def expected_clearance(joint: Joint) -> tuple[int, int]:
    line, enters = LINE_OF[joint.enters.part], feature(joint.enters)
    if line.name == "Panel":
        return FREE_ALONG if enters.face in (Face.DATUM_END, Face.FAR_END) else FREE_ACROSS
    return DRAWER_BOTTOM if line.name == "Drawer bottom" else SQUARE


def way_in(joint: Joint) -> tuple[int, int]:
    """The axis (0, 1, 2) and the sign along which a joint is put together: outwards from the entering part."""
    x, y, _ = STANDS[joint.enters.part].directions()
    own, sign = {
        Face.DATUM_END: (x, -1), Face.FAR_END: (x, 1), Face.FACE_EDGE: (y, -1), Face.FAR_EDGE: (y, 1),
    }[feature(joint.enters).face]  # fmt: skip
    axis = next(index for index in range(3) if own[index])
    return axis, sign * own[axis]


@pytest.mark.parametrize("joint", JOB.joints, ids=[joint.key for joint in JOB.joints])
def test_both_halves_of_a_joint_come_to_lie_in_one_place(joint: Joint) -> None:
    axis, sign = way_in(joint)
    low, high = 2 * axis, 2 * axis + 1
    mate = block(joint.takes.part)
    enters, takes = placed(joint.enters.part, feature(joint.enters)), placed(joint.takes.part, feature(joint.takes))
    tip, bottom = (enters[high], takes[high]) if sign > 0 else (enters[low], takes[low])
    shoulder, surface = (enters[low], mate[low]) if sign > 0 else (enters[high], mate[high])

    assert ((bottom - tip) * sign, (surface - shoulder) * sign) == expected_clearance(joint)
    # What is within the mate fills the cut exactly in thickness, and a mortise in width; the fit is made at the bench.
    within = overlap(enters, mate)
    assert within is not None
    thick = next(index for index, way in enumerate(STANDS[joint.enters.part].directions()[2]) if way)
    wide = 3 - axis - thick
    assert within[2 * thick : 2 * thick + 2] == takes[2 * thick : 2 * thick + 2]
    if isinstance(feature(joint.takes), Mortise):
        assert within[2 * wide : 2 * wide + 2] == takes[2 * wide : 2 * wide + 2]


@pytest.mark.parametrize("joint", JOB.joints, ids=[joint.key for joint in JOB.joints])
def test_what_enters_a_mate_finds_no_wood_there(joint: Joint) -> None:
    within = overlap(placed(joint.enters.part, feature(joint.enters)), block(joint.takes.part))

    assert within is not None
    assert left_over(within, joint.takes.part) == []


def cuts(part: str) -> list[Box]:
    return [placed(part, each) for each in LINE_OF[part].features if not isinstance(each, Tenon | Tongue)]


def left_over(space: Box, part: str) -> list[Box]:
    """What of a space the cuts of a part leave."""
    left = [space]
    for cut in cuts(part):
        left = [rest for box in left for rest in less(box, cut)]
    return left


def solids(part: str) -> list[Box]:
    """The wood of a part before its cuts: its body, and what stands out at its shoulders."""
    line = LINE_OF[part]
    standing = [placed(part, each) for each in line.features if isinstance(each, Tenon | Tongue)]
    return [STANDS[part].box(body(line)), *standing]


def clashes() -> Iterator[tuple[str, str]]:
    for one, other in combinations(STANDS, 2):
        if overlap(block(one), block(other)) is None:
            continue
        for a in solids(one):
            for b in solids(other):
                shared = overlap(a, b)
                left = left_over(shared, one) if shared else []
                if any(left_over(rest, other) for rest in left):
                    yield one, other


def test_no_two_parts_are_in_the_same_place() -> None:
    assert list(clashes()) == []


def test_parts_meet_nowhere_but_in_their_joints() -> None:
    joined = {frozenset((joint.enters.part, joint.takes.part)) for joint in JOB.joints}
    meeting = {
        frozenset((one, other))
        for one, other in combinations(STANDS, 2)
        if any(overlap(a, b) for a in solids(one) for b in solids(other))
    }

    assert meeting == joined


def test_every_tenon_tongue_and_cut_belongs_to_a_joint() -> None:
    used = {half for joint in JOB.joints for half in (joint.enters, joint.takes)}
    made = {Half(part.key, each.key) for line in JOB.lines for part in line.parts for each in line.features}

    assert made == used


@pytest.mark.parametrize("leg", ["leg-front", "leg-back"])
def test_mortises_in_a_leg_do_not_meet(leg: str) -> None:
    line = LINES[leg]
    stock: Stock = line.stock

    for one, other in combinations(line.features, 2):
        a, b = one.box(stock), other.box(stock)
        wood = max(max(a[low] - b[low + 1], b[low] - a[low + 1]) for low in (0, 2, 4))
        # A groove runs into the mortises of its own face; between faces at least 1/8 of wood is left.
        assert wood >= (0 if one.face is other.face and isinstance(other, Groove) else inch("1/8")), (
            one.key,
            other.key,
        )


def test_letters_carry_the_number_of_the_stack_that_enters() -> None:
    numbers = {assembly.key: assembly.number for assembly in JOB.assemblies}
    lettered = [joint for joint in JOB.joints if joint.letter]

    for joint in lettered:
        assert joint.letter.rstrip("ABCDEFGHJKLMNPQRSTUVWXYZ") == str(numbers[LINE_OF[joint.enters.part].assembly])
    # 4 in each side, 6 in the back, 4 in each of 7 frames, 4 in each of 6 drawers.
    assert len(lettered) == 4 + 4 + 6 + 28 + 24
    assert {type(feature(joint.takes)) for joint in JOB.joints if not joint.letter} == {Groove}
