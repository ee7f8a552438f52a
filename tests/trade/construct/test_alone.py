"""A frame, a web frame, a drawer, a top or a shelf for something that is there already; legs and rails of a table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from shopfloor.paper import exploded
from shopfloor.trade import crossing, meeting, walls
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Construction, derive, follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.doors import Doors
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.construct.lone_frame import LoneFrame
from shopfloor.trade.construct.lone_shelves import InDadoes, LoneShelves
from shopfloor.trade.construct.lone_top import LoneTop
from shopfloor.trade.construct.lone_web_frames import LoneWebFrames, SideTongue
from shopfloor.trade.construct.made import Built
from shopfloor.trade.construct.mates import placed
from shopfloor.trade.construct.space import mirrored
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.construct.table import Table
from shopfloor.trade.construct.top import Top
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import Length, read
from shopfloor.trade.part import Box, Hand, Job, Line, Unit
from shopfloor.trade.surface import whole

from .choir_cabinet import CHOIR_CABINET
from .constructions import lone_drawers, lone_frames, lone_shelves, lone_tops, lone_web_frames, tables

ALONE = [Table, LoneFrame, LoneWebFrames, LoneDrawers, LoneTop, LoneShelves]


def first(kind: type, **own: Any) -> Any:
    return starter(kind, Unit.INCH, key="first", **own)


def boxes(built: Built) -> dict[str, Box]:
    return {key: each.stands.box(whole(each.line.stock)) for key, each in placed(built.assemblies, built.lines).items()}


def spans(built: Built, start: str = "") -> list[tuple[Length, Length]]:
    """From where to where all that is made reaches, along each axis; or those parts whose keys begin so."""
    found = [box for key, box in boxes(built).items() if key.startswith(start)]
    return [(min(box[at] for box in found), max(box[at + 1] for box in found)) for at in (0, 2, 4)]


def line(built: Built, key: str) -> Line:
    assert built.faults == ()
    return next(each for each in built.lines if each.key == key)


def inches(*texts: str) -> tuple[Length, ...]:
    return tuple(map(read, texts))


# --- they add up --------------------------------------------------------------------------------------------------


@settings(max_examples=25)
@given(made=tables())
def test_legs_and_rails_fill_the_outside_sizes(made: Table) -> None:
    built = derive(made)
    over = made.top.thickness if made.top else 0
    legs = spans(built, "leg.")

    assert legs == [(0, made.width), (0, made.depth), (0, made.height - over)]
    assert spans(built)[2] == (0, made.height)


@settings(max_examples=25)
@given(made=tables())
def test_the_right_end_of_a_table_is_the_left_one_reflected(made: Table) -> None:
    found = placed(*(lambda built: (built.assemblies, built.lines))(derive(made)))

    for key, each in found.items():
        if key.startswith("left."):
            other = found["right." + key.removeprefix("left.")]
            assert other.stands == mirrored(each.stands, made.width)
            assert other.line.stock == each.line.stock


@settings(max_examples=25)
@given(made=lone_frames())
def test_a_frame_alone_is_as_big_as_was_asked(made: LoneFrame) -> None:
    built = derive(made)
    across, _, up = spans(built, "frame.stile")

    assert across == (0, made.width)
    assert up == (0, made.height)
    assert spans(built) == [across, (0, made.frame.thickness), up]


@settings(max_examples=25)
@given(made=lone_web_frames())
def test_a_web_frame_alone_fills_its_space_and_reaches_into_the_dadoes(made: LoneWebFrames) -> None:
    built = derive(made)
    enters = made.tongue.depth - made.tongue.clear if made.tongue else 0
    found = boxes(built)

    assert spans(built)[:2] == [(-enters, made.width + enters), (0, made.depth)]
    for nth in range(1, made.count + 1):
        left, right = found[f"old-case.{nth}.runner-left"], found[f"old-case.{nth}.runner-right"]
        assert (made.width - right.x1, made.width - right.x0, *right[2:]) == tuple(left)
        hands = [part.hand for each in built.lines for part in each.parts if part.key.startswith(f"old-case.{nth}.run")]
        assert sorted(hands) == sorted([Hand.AS_DRAWN, Hand.MIRROR])


@settings(max_examples=25)
@given(made=lone_drawers())
def test_each_drawer_is_as_much_smaller_than_its_opening_as_was_asked(made: LoneDrawers) -> None:
    built, chosen = derive(made), made.drawers

    for nth, height in enumerate(made.heights, 1):
        sides = [box for key, box in boxes(built).items() if key.startswith(f"drawer-drawer.{nth}.side")]
        wide = max(box.x1 for box in sides) - min(box.x0 for box in sides)
        assert wide == made.width - 2 * chosen.beside
        assert {box.z1 - box.z0 for box in sides} == {height - chosen.above}
        back = max(box.y1 for box in sides)
        assert back == made.depth - chosen.behind


@settings(max_examples=25)
@given(made=lone_tops())
def test_a_top_alone_covers_its_case_and_the_overhangs(made: LoneTop) -> None:
    assert spans(derive(made)) == [
        (-made.left, made.width + made.right), (-made.front, made.depth + made.back), (0, made.thickness),
    ]  # fmt: skip


@settings(max_examples=25)
@given(made=lone_shelves())
def test_a_shelf_alone_fills_its_space_but_for_the_clearance(made: LoneShelves) -> None:
    built = derive(made)
    enters = (made.dadoes.depth if made.dadoes else 0) - made.clear

    assert spans(built)[:2] == [(-enters, made.width + enters), (made.front, made.depth - made.back)]
    assert sum(len(each.parts) for each in built.lines) == made.count


# --- worked by hand -----------------------------------------------------------------------------------------------


def table_rails() -> tuple[Length, ...]:
    """48 - 2 legs of 1 3/4 and two tenons of 7/8; 24 - 2 x 1 3/4 and the same."""
    built = derive(first(Table))
    return line(built, "first-front-top-rail").length, line(built, "first-left-top-rail").length


def frame_and_panel() -> tuple[Length, ...]:
    """16 - 2 stiles of 2 1/2 leave 11; tenons of 1 5/8 (2/3 of a stile); a panel 3/8 less 1/8 into grooves."""
    built = derive(first(LoneFrame))
    return line(built, "first-top-rail").length, line(built, "first-panel").width


def web_frame() -> tuple[Length, ...]:
    """Dadoes 1/4 deep, 1/16 clear: 22 1/2 + 2 x 3/16; between the rails 16 - 4, stubs of 3/8 - 1/16 in the grooves."""
    tongue = SideTongue(*inches("1/4", "1/4", "1/4", "1/16"))
    groove = replace(first(LoneWebFrames).groove, depth=read("3/8"), clear=read("1/16"))
    built = derive(first(LoneWebFrames, tongue=tongue, groove=groove))
    runner = line(built, "first-runner")
    return line(built, "first-front-rail").length, runner.length, runner.width


def two_drawers() -> tuple[Length, ...]:
    """Openings 14 1/2 wide, 5 and 7 1/2 high, 1/8 clear above, 1/4 clear at each side."""
    made = first(LoneDrawers, heights=inches("5", "7 1/2"))
    built = derive(replace(made, drawers=replace(made.drawers, beside=read("1/4"), above=read("1/8"))))
    assert [(each.number, each.name) for each in built.assemblies] == [(1, "First 1"), (2, "First 2")]
    return (
        line(built, "first-drawer-1-front").length, line(built, "first-drawer-1-side").width,
        line(built, "first-drawer-2-side").width,
    )  # fmt: skip


def top_of_boards() -> tuple[Length, ...]:
    """24 + 1/2 + 1/2 long, 16 + 1/2 wide, of three boards."""
    (board,) = derive(first(LoneTop, boards=3)).lines
    return board.length, board.width


def loose_shelf() -> tuple[Length, ...]:
    """30 between the sides, 1/16 clear at each end."""
    (shelf,) = derive(first(LoneShelves)).lines
    return shelf.length, shelf.width


def shelf_in_dadoes() -> tuple[Length, ...]:
    """30 + 2 dadoes of 1/4, 1/16 clear of the bottom of each; 11 deep, 1/2 behind the front edge."""
    (shelf,) = derive(first(LoneShelves, dadoes=InDadoes(*inches("1/4", "1/2")), front=read("1/2"))).lines
    return shelf.length, shelf.width


@pytest.mark.parametrize(("work", "expected"), [
    (table_rails, ("46 1/4", "22 1/4")),
    (frame_and_panel, ("14 1/4", "11 1/2")),
    (web_frame, ("22 7/8", "12 5/8", "2 3/16")),
    (two_drawers, ("14", "4 7/8", "7 3/8")),
    (top_of_boards, ("25", "5 1/2")),
    (loose_shelf, ("29 7/8", "11")),
    (shelf_in_dadoes, ("30 3/8", "10 1/2")),
])  # fmt: skip
def test_sizes_come_out_as_worked_by_hand(work: Callable[[], tuple[Length, ...]], expected: tuple[str, ...]) -> None:
    assert work() == inches(*expected)


def test_a_table_can_carry_a_top_that_is_screwed_to_cleats() -> None:
    made = first(Table, top=starter(Top, Unit.INCH))
    built = derive(made)

    assert built.faults == ()
    assert line(built, "first-leg-front").length == read("28")


# --- they are whole -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ALONE)
def test_each_has_derived_lengths_a_picture_and_a_name(kind: type) -> None:
    made: Construction = starter(kind, Unit.INCH, key="hall-piece", species="ash")
    composed = follow(Job("job", "Job"), [made])
    (built,) = composed.built

    assert built.derived
    assert {
        each.species for each in built.lines if each.name not in ("Drawer side", "Drawer bottom", "Drawer back")
    } == {"ash"}
    for assembly in composed.job.assemblies:
        picture = exploded.draw(composed.job, assembly, {})
        assert picture
        assert picture.startswith("<svg")
    if kind is not Table:
        assert composed.job.assemblies[0].name == "Hall piece"


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("kind", ALONE)
def test_what_is_begun_leaves_nothing_to_look_at(kind: type, unit: Unit) -> None:
    job = follow(Job("job", "Job", unit), [starter(kind, unit, key="first")]).job
    thin = [fault for each in job.lines for fault in walls.faults(each, unit)]

    assert (thin, meeting.faults(job), crossing.faults(job)) == ([], (), ())


@pytest.mark.parametrize("kind", [LoneFrame, LoneWebFrames, LoneDrawers, LoneTop, LoneShelves])
def test_one_without_a_name_of_its_own_is_called_what_it_is(kind: Any) -> None:
    key = kind.kind.replace(" ", "-")
    names = [derive(starter(kind, Unit.INCH, key=each)).assemblies[0].name for each in (key, f"{key}-2")]

    assert names == [names[0], f"{names[0]} 2"]
    assert names[0] in {"Frame", "Web frame", "Drawer", "Top", "Shelf"}


@pytest.mark.parametrize(("kind", "longer"), [
    (Table, "first-front-top-rail"), (LoneFrame, "first-top-rail"), (LoneWebFrames, "first-front-rail"),
    (LoneDrawers, "first-drawer-1-front"), (LoneTop, "first-top"), (LoneShelves, "first"),
])  # fmt: skip
def test_a_change_of_the_width_is_followed_by_what_hangs_on_it(kind: type, longer: str) -> None:
    made = first(kind)
    wider = replace(made, width=made.width + read("3"))

    assert line(derive(wider), longer).length - line(derive(made), longer).length == read("3")


# --- they are refused with what would do --------------------------------------------------------------------------

IMPOSSIBLE: list[tuple[str, Any, Fault]] = [
    ("a frame without stiles", first(LoneFrame, frame=replace(first(LoneFrame).frame, stiles=())),
     Fault("first-stiles", "it has no stiles", "Give it two at least.")),
    ("no web frame", first(LoneWebFrames, count=0), Fault("first-count", "0 frames", "1 to 100 would do.")),
    ("runners that meet", first(LoneWebFrames, runner=read("12")),
     Fault("first-runner", "a runner 12 in is too much for the space between the sides",
           "11 1/4 in or less would do.")),
    ("a drawer for nothing", first(LoneDrawers, heights=()),
     Fault("first-heights", "0 openings", "Give the height of one opening at least, and of 200 at most.")),
    ("a top of no board", first(LoneTop, boards=0),
     Fault("first-top.boards", "a top of 0 boards", "1 to 40 would do.")),
    ("a shelf thinner than its tongue", first(LoneShelves, dadoes=InDadoes(*inches("1/4", "1"))),
     Fault("first-dadoes.tongue", "a tongue 1 in is too much for the shelf", "3/4 in or less would do.")),
    # Both ends are wrong alike, and it is said once.
    ("rails wider than the legs are long",
     first(Table, ends=replace(first(Table).ends, frame=replace(first(Table).ends.frame, rails=inches("10")))),
     Fault("first-ends-rails", "a rail 10 in is too much for 9 in", "9 in or less would do.")),
]  # fmt: skip


@pytest.mark.parametrize(("made", "fault"), [row[1:] for row in IMPOSSIBLE], ids=[row[0] for row in IMPOSSIBLE])
def test_what_cannot_be_made_alone_is_named_with_what_would_do(made: Construction, fault: Fault) -> None:
    assert derive(made).faults == (fault,)


@pytest.mark.parametrize("kind", ALONE)
def test_all_kinds_can_be_named_in_a_document(kind: Any) -> None:
    assert CONSTRUCTIONS[kind.kind] is kind


# --- a length set by hand that makes the piece another size -------------------------------------------------------


@pytest.mark.parametrize(("made", "key", "nm", "says"), [
    # 29 high, the leg 28 instead of 29.
    (first(Table), "leg.length", "28",
     'height: it is 28 in high and not 29 in, since "leg.length" was set by hand. '
     "A height of 28 in would give that; else let that length follow."),
    (first(LoneFrame), "stile.length", "25",
     'height: it is 25 in high and not 24 in, since "stile.length" was set by hand. '
     "A height of 25 in would give that; else let that length follow."),
    # The overhangs are 1/2 left and right.
    (first(LoneTop), "top.length", "26",
     'width: it is 26 in wide and not 25 in, since "top.length" was set by hand. '
     "A width of 25 in would give that; else let that length follow."),
    # The leg stands 36 high under a top of 1, where 37 1/4 was asked.
    (replace(CHOIR_CABINET, height=read("37 1/4")), "leg.length", "36",
     'height: it is 37 in high and not 37 1/4 in, since "leg.length" was set by hand. '
     "A height of 37 in would give that; else let that length follow."),
    # An opening of 24 by 30; the gaps are 1/16 all round.
    (first(Doors), "height", "29",
     'height: it is 29 in high and not 29 7/8 in, since "height" was set by hand. '
     "A height of 29 1/8 in would give that; else let that length follow."),
    (first(Carcase), "side.length", "35",
     'height: it is 35 in high and not 36 in, since "side.length" was set by hand. '
     "A height of 35 in would give that; else let that length follow."),
])  # fmt: skip
def test_a_piece_that_a_length_set_by_hand_makes_another_size_is_told(made: Any, key: str, nm: str, says: str) -> None:
    built = derive(replace(made, overrides=(Override(key, read(nm)),)))

    assert [str(each) for each in built.warnings] == [says]
    assert derive(made).warnings == ()
