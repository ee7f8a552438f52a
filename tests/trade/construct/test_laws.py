"""What holds for everything that can be made: it adds up, it goes together, and its two hands are reflections."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade import meeting
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import Construction, derive
from shopfloor.trade.construct.doors import Doors, Hinges
from shopfloor.trade.construct.made import Built
from shopfloor.trade.construct.mates import clashes, fit, placed
from shopfloor.trade.construct.space import mirrored
from shopfloor.trade.document import check, from_json, to_json
from shopfloor.trade.length import Length
from shopfloor.trade.part import Box, Job
from shopfloor.trade.surface import whole

from .constructions import (
    cabinets,
    carcases,
    doors,
    lone_drawers,
    lone_frames,
    lone_shelves,
    lone_tops,
    lone_web_frames,
    tables,
)


def boxes(built: Built) -> dict[str, Box]:
    """Every part's block in the piece."""
    return {key: each.stands.box(whole(each.line.stock)) for key, each in placed(built.assemblies, built.lines).items()}


def derived(built: Built) -> dict[str, Length]:
    return {each.key: each.nm for each in built.derived}


ALONE = st.one_of(
    tables(), lone_frames(), lone_web_frames(), lone_drawers(), lone_tops(), lone_shelves()
)  # fmt: skip
ANYTHING = st.one_of(cabinets(), doors(), carcases(), ALONE)


@settings(max_examples=50)
@given(made=ANYTHING)
def test_what_can_be_made_is_sound_and_reads_back(made: Construction) -> None:
    built = derive(made)
    job = Job("any", "Any", assemblies=built.assemblies, lines=built.lines, joints=built.joints)

    assert built.faults == ()
    assert check(job) == []
    assert from_json(to_json(job)) == job


@settings(max_examples=50)
@given(made=ANYTHING)
def test_every_joint_meets_with_the_clearances_that_were_stated(made: Construction) -> None:
    built = derive(made)
    parts = placed(built.assemblies, built.lines)

    for each in built.meetings:
        found = fit(each.enters, each.takes, parts)
        assert abs(found.tip - each.tip) <= 1, each  # 1 nm: places are rounded once
        assert abs(found.shoulder - each.shoulder) <= 1, each
        # A drawer's bottom goes on into the grooves of the sides, beyond the one in the front.
        if not each.key.endswith("-bottom-front"):
            assert min(found.across) >= 0, each


@settings(max_examples=25)
@given(made=ANYTHING)
def test_the_job_holds_against_the_document_s_own_check_of_its_mates(made: Construction) -> None:
    """Measured a second time, by other code: what enters lies in space that was cut in its mate."""
    built = derive(made)
    job = Job("any", "Any", assemblies=built.assemblies, lines=built.lines, joints=built.joints)

    assert meeting.faults(job) == ()


@settings(max_examples=25)
@given(made=ANYTHING)
def test_no_two_parts_want_the_same_space(made: Construction) -> None:
    built = derive(made)

    assert clashes(placed(built.assemblies, built.lines)) == []


@settings(max_examples=25)
@given(cabinet=cabinets())
def test_what_is_derived_adds_up_to_the_outside_sizes(cabinet: Cabinet) -> None:
    built = derive(cabinet)
    found, size = boxes(built), derived(built)
    body = [box for key, box in found.items() if not key.startswith(("top", "drawer"))]

    assert (min(box.x0 for box in body), max(box.x1 for box in body)) == (0, cabinet.width)
    assert (min(box.y0 for box in body), max(box.y1 for box in body)) == (0, cabinet.depth)
    assert max(box.z1 for box in found.values()) == cabinet.height
    assert size["clear-width"] + 2 * cabinet.legs.thickness == cabinet.width
    assert size["clear-depth"] + 2 * cabinet.legs.thickness == cabinet.depth
    if cabinet.top:
        boards = [box for key, box in found.items() if key == "top" or key.startswith("top.board")]
        edges = [-cabinet.top.front, *(box.y1 for box in boards)]
        assert [box.y0 for box in boards] == edges[:-1]
        assert edges[-1] == cabinet.depth + cabinet.top.back


def assert_shared(bars: list[Box], given: tuple[Length, ...], share: Length) -> None:
    """The openings between bars are those that were given, and the others have an even share of what is left."""
    openings = [above.z0 - below.z1 for above, below in pairwise(bars)]
    for nth, opening in enumerate(openings):
        wanted = given[nth] if nth < len(given) and given[nth] else share
        assert opening - wanted in (0, 1)  # each place is rounded down once


@settings(max_examples=25)
@given(cabinet=cabinets())
def test_frames_and_openings_fill_the_height_of_the_sides_exactly(cabinet: Cabinet) -> None:
    built = derive(cabinet)
    found, size = boxes(built), derived(built)
    if web := cabinet.web_frames:
        rails = [found[f"web.{nth}.front-rail"] for nth in range(1, web.count + 2)]
        assert rails[0].z1 == size["leg.length"]
        assert rails[-1].z0 == cabinet.legs.foot
        assert_shared(rails, web.heights, size["web-opening"])
    for which in ("left", "right", "back", "front"):
        side = getattr(cabinet, which)
        if side:
            bars = [box for key, box in found.items() if key.startswith(f"{which}.") and key.endswith("-rail")]
            assert bars[0].z1 - bars[-1].z0 == size["side-height"] - side.down
            assert sum(bar.z1 - bar.z0 for bar in bars) == sum(side.frame.rails)
            assert_shared(bars, side.frame.fields, size[f"{which}-field"])


@settings(max_examples=30)
@given(made=doors())
def test_doors_and_gaps_add_up_to_the_opening(made: Doors) -> None:
    found = boxes(derive(made))
    low, high = min(box.x0 for box in found.values()), max(box.x1 for box in found.values())

    assert (low, high) == (made.beside, made.width - made.beside)
    assert min(box.z0 for box in found.values()) == made.below
    assert max(box.z1 for box in found.values()) == made.height - made.above
    if made.hinges is Hinges.BOTH:
        left = max(box.x1 for key, box in found.items() if key.startswith("door-left."))
        right = min(box.x0 for key, box in found.items() if key.startswith("door-right."))
        assert right - left - made.between in (0, 1)  # two doors are as wide; a nanometre may be over


@settings(max_examples=30)
@given(made=carcases())
def test_what_runs_between_solid_sides_fills_their_height_exactly(made: Carcase) -> None:
    built = derive(made)
    found, size = boxes(built), derived(built)
    bars = [box for key, box in found.items() if key.startswith("shelf.") or key.endswith("front-rail")]
    name, above, below = "web-opening", 0, made.frames.up if made.frames else 0
    if made.shelves:
        name, above, below = "shelf.opening", made.shelves.down, made.shelves.up
    chosen = made.shelves or made.frames
    assert chosen

    assert max(box.z1 for box in found.values()) == made.height
    assert max(box.x1 for box in found.values() if box.z0 < size["side.length"]) == made.width
    assert bars[0].z1 == size["side.length"] - above
    assert bars[-1].z0 == below
    assert_shared(bars, chosen.heights, size[name])


@settings(max_examples=25)
@given(cabinet=cabinets())
def test_reflecting_a_part_twice_is_the_identity(cabinet: Cabinet) -> None:
    for line in derive(cabinet).lines:
        for part in line.parts:
            assert part.stands
            once = mirrored(part.stands, cabinet.width)
            assert mirrored(once, cabinet.width) == part.stands
            assert once.hand is not part.stands.hand


@settings(max_examples=20)
@given(cabinet=cabinets())
def test_the_right_side_stands_where_the_left_one_is_reflected_to(cabinet: Cabinet) -> None:
    if cabinet.left is None or cabinet.left != cabinet.right:
        return
    found = boxes(derive(cabinet))

    for key, box in found.items():
        if key.startswith("left."):
            other = found["right." + key.removeprefix("left.")]
            assert (cabinet.width - other.x1, cabinet.width - other.x0, *other[2:]) == tuple(box)
