"""What cannot be made is left out and said, with the number that is wrong and the one that would do."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopfloor.trade.construct.cabinet import Cabinet, derive
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.carcase import derive as of_carcase
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.drawer_choices import Corner, CornerJoint, Overlay
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.legs import Flush
from shopfloor.trade.construct.top import Top
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Job, Unit

from .choir_cabinet import BACK, CHOIR_CABINET, DRAWERS, SIDE, WEB_FRAMES


def changed(side: str, **frame: Any) -> Cabinet:
    """The demonstration cabinet with something else about the frame of one side."""
    chosen = BACK if side == "back" else SIDE
    return replace(CHOIR_CABINET, **{side: replace(chosen, frame=replace(chosen.frame, **frame))})


TENON, GROOVE = SIDE.frame.tenon, SIDE.frame.groove
assert GROOVE and SIDE.frame.panel
ALL = {
    "legs", "left-side", "right-side", "back", "web-frames", "drawer-1", "drawer-2", "drawer-3", "drawer-4", "drawer-5",
    "drawer-6", "top",
}  # fmt: skip
OPEN = replace(SIDE.frame, tenon=replace(TENON, shoulder=read("1/4")), groove=None, panel=None)
RAILS = replace(SIDE, flush=Flush.OUTSIDE, frame=replace(OPEN, rails=(read("1 1/2"), read("1 1/2"))))
DRAWN = {name for name in ALL if name.startswith("drawer-")}

IMPOSSIBLE: list[tuple[str, Cabinet, set[str], Fault]] = [
    # 2 x 1 3/4 of legs leave nothing of 3.
    ("a case narrower than its legs", replace(CHOIR_CABINET, width=read("3")), ALL,
     Fault("clear-width", "between the legs would be -1/2 in, with width 3 in", "Width must be more than 3 1/2 in.")),
    ("a case lower than its top", replace(CHOIR_CABINET, height=read("1")), ALL,
     Fault("leg.length", "leg would be 0 in, with height 1 in", "Height must be more than 1 in.")),
    # 29 1/4 - 2 x 15 = -3/4; the rest stays.
    ("rails wider than the case is high", changed("left", rails=(read("15"), read("15"))), {"left-side"},
     Fault("left-field", "between the rails would be -3/4 in, with height 29 1/4 in",
           "Height must be more than 30 in.")),
    ("a tenon thicker than its stock", changed("back", tenon=replace(TENON, thickness=read("5/8"))), {"back"},
     Fault("back-tenon.thickness", "a tenon 5/8 in is too much 1/4 in behind the face side of 3/4 in stock",
           "1/2 in or less would do.")),
    ("a tenon longer than the leg is thick", changed("left", tenon=replace(TENON, length=read("1 3/4"))),
     {"left-side"},
     Fault("left-tenon.length", "a mortise 1 13/16 in is too much for a leg 1 3/4 in thick",
           "Less than 1 3/4 in would do.")),
    ("a groove deeper than the leg", changed("right", groove=replace(GROOVE, depth=read("2"))), {"right-side"},
     Fault("right-groove.depth", "a groove 2 in is too much for a leg 1 3/4 in thick",
           "Less than 1 3/4 in would do.")),
    ("a panel that does not reach its groove",
     changed("left", panel=replace(SIDE.frame.panel, beside=read("3/8"))), {"left-side"},
     Fault("left-panel.beside", "a clearance of 3/8 in is too much in a groove 3/8 in deep",
           "Less than 3/8 in would do.")),
    ("a panel thinner than its tongue", changed("left", panel=replace(SIDE.frame.panel, thickness=read("3/8"))),
     {"left-side"},
     Fault("left-panel.thickness", "a panel 3/8 in is too little for its tongue", "1/2 in or more would do.")),
    # 22 1/2 - 8 x 3 = -1 1/2, over 9 openings.
    ("more muntins than there is room for", changed("back", muntins=(8,)), {"back"},
     Fault("back-opening", "opening would be -0.167 in, with between the uprights 22 1/2 in",
           "Between the uprights must be more than 24 in.")),
    ("a rail that its shoulder and groove eat up", changed("back", rails=(read("1"), read("3"))), {"back"},
     Fault("back-top-rail.tenon-width", "tenon would be -1/4 in, with rail 1 in", "Rail must be more than 1 1/4 in.")),
    ("a frame without rails", changed("left", rails=()), {"left-side"},
     Fault("left-rails", "a frame without rails", "Give it one rail at least.")),
    # Frames 3/4 thick, and 1/8 over a drawer, its groove 3/8 + 1/4 above its lower edge: an opening of 3/4 leaves its
    # back nothing.  29 1/4 - 3/4 = 28 1/2 is 19 times 1 1/2, so 18 openings are more than that, 5/6 each.
    ("ten thousand drawers", replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, count=10_000)),
     {"web-frames", *DRAWN},
     Fault("web-count", "10000 openings in 29 1/4 in",
           "1 to 18 would do, with frames 3/4 in thick and these drawers.")),
    ("no opening", replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, count=0)), {"web-frames", *DRAWN},
     Fault("web-count", "0 openings in 29 1/4 in", "1 to 18 would do, with frames 3/4 in thick and these drawers.")),
    # Without drawers an opening need only be more than nothing: 28 1/2 is 38 times 3/4.
    ("ten thousand openings", replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, count=10_000), drawers=None),
     {"web-frames", *DRAWN},
     Fault("web-count", "10000 openings in 29 1/4 in", "1 to 37 would do, with frames 3/4 in thick.")),
    ("drawers on nothing", replace(CHOIR_CABINET, web_frames=None), {"web-frames", *DRAWN},
     Fault("drawers", "drawers run on web frames, and there are none",
           "Choose web frames too, or leave the drawers out.")),
    # Two rails 1 1/2 wide lie 3/4 deep from the outside of the legs; the frames begin 1/8 behind it.
    ("a front whose rails run through the web frames", replace(CHOIR_CABINET, front=RAILS), {"web-frames", *DRAWN},
     Fault("web-set-back", "front top rail and frame 1 front rail would go through each other",
           "Leave the front open: the front rails of the web frames divide and close it.")),
    # In a leg 1 3/4 thick, 3/4 back and with a shoulder of 1/4, there is 3/4 for a tenon of 3/4.
    ("the same without drawers", replace(CHOIR_CABINET, front=RAILS, drawers=None), {"web-frames", *DRAWN},
     Fault("web-set-back", "front top rail and frame 1 front rail would go through each other",
           "Set the web frames back by 3/4 in or more, or leave the front open: the front rails of the web frames "
           "divide and close it.")),
    # Set back behind the rails: 1 1/2 of rail less 3/4 of frame stands before the uppermost drawer.
    ("a rail before a drawer",
     replace(CHOIR_CABINET, front=RAILS, web_frames=replace(WEB_FRAMES, set_back=read("3/4"))), DRAWN,
     Fault("drawers", "front top rail stands before the opening of drawer 1, 3/4 in high",
           "Leave the front open: the front rails of the web frames divide and close it.")),
    ("a frame thicker than its leg", changed("left", thickness=read("2")), {"left-side"},
     Fault("left-thickness", "stock 2 in is too much for a leg 1 3/4 in thick", "1 3/4 in or less would do.")),
    ("fronts that reach past the case",
     replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, set_back=0),
             drawers=replace(DRAWERS, overlay=Overlay(read("2"), 0, 0))), DRAWN,
     Fault("drawer.overlay.beside", "reaching over by 2 in is too much with 1 3/4 in of the case beside the opening",
           "1 3/4 in or less would do.")),
    # 3/4 of frame between two openings, and 1/2 over it from below and from above.
    ("fronts that reach over each other",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, overlay=Overlay(0, read("1/2"), read("1/2")))), DRAWN,
     Fault("drawer.overlay", "reaching above and below by 1 in is too much for fronts with 3/4 in between their "
           "openings", "3/4 in or less would do.")),
    # 12 + 13 of 24 leave less than nothing for the other four.
    ("openings higher than the case",
     replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, heights=(read("12"), read("13")))),
     {"web-frames", *DRAWN},
     Fault("web-opening", "opening would be -1/4 in, with sides 29 1/4 in", "Sides must be more than 30 1/4 in.")),
    ("a web frame's tenon beside the leg",
     replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, set_back=read("1"))), {"web-frames", *DRAWN},
     # The leg is 1 3/4 thick; set back 1 and with a shoulder of 1/4 there is 1/2 of it.
     Fault("web-front-tenon.width", "a tenon 3/4 in is too much for what the leg covers of the rail",
           "1/2 in or less would do.")),
    ("a runner as wide as half of the case", replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, runner=read("12"))),
     {"web-frames", *DRAWN},
     Fault("web-runner", "a runner 12 in is too much for the space between the legs", "11 1/4 in or less would do.")),
    # Openings of 4 and 5 of clearance.
    ("a drawer without height", replace(CHOIR_CABINET, drawers=replace(DRAWERS, above=read("5"))), DRAWN,
     Fault("drawer.height", "drawer would be -1 in, with opening 4 in", "Opening must be more than 5 in.")),
    ("a drawer wider than its opening is",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, beside=read("11 1/4"))), DRAWN,
     Fault("drawer.width", "drawer would be 0 in, with opening 22 1/2 in", "Opening must be more than 22 1/2 in.")),
    ("a cut through the drawer's front",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, corner=replace(DRAWERS.corner, depth=read("3/4")))), DRAWN,
     Fault("drawer.corner.depth", "a cut 3/4 in is too much for a front 3/4 in thick",
           "Less than 3/4 in would do.")),
    ("an overlay that legs stand before",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, overlay=Overlay(read("3/8"), read("1/4"), read("1/4")))), DRAWN,
     Fault("drawer.overlay.beside", "reaching over the legs by 3/8 in is too much where they stand 1/8 in before the "
           "front", "There is no room for any.")),
    ("a bottom that hangs out below",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, bottom=replace(DRAWERS.bottom, thickness=read("3/4")))), DRAWN,
     Fault("drawer.bottom.thickness", "a bottom 3/4 in is too much to stay above the lower edge of the sides",
           "5/8 in or less would do.")),
    ("a bottom that reaches past the corner joint",
     replace(CHOIR_CABINET, drawers=replace(DRAWERS, corner=replace(DRAWERS.corner, tongue=read("1/8")))), DRAWN,
     Fault("drawer.bottom.held", "a bottom that enters 3/16 in is too much where the sides enter the front",
           "1/8 in or less would do.")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("cabinet", "missing", "fault"), [row[1:] for row in IMPOSSIBLE], ids=[row[0] for row in IMPOSSIBLE]
)
def test_what_cannot_be_made_is_named_with_what_would_do(cabinet: Cabinet, missing: set[str], fault: Fault) -> None:
    built = derive(cabinet)

    assert built.faults == (fault,)
    front = {"front"} if cabinet.front else set()
    assert {assembly.key for assembly in built.assemblies} == (ALL | front) - missing


@pytest.mark.parametrize("cabinet", [row[1] for row in IMPOSSIBLE], ids=[row[0] for row in IMPOSSIBLE])
def test_the_rest_of_the_design_stays_and_is_sound(cabinet: Cabinet) -> None:
    built = derive(cabinet)

    assert check(Job("rest", "Rest", assemblies=built.assemblies, lines=built.lines, joints=built.joints)) == []
    assert [assembly.number for assembly in built.assemblies] == list(range(1, len(built.assemblies) + 1))


@pytest.mark.parametrize("count", [18, 19])
def test_as_many_drawers_as_would_do_can_be_made_and_not_one_more(count: int) -> None:
    built = derive(replace(CHOIR_CABINET, web_frames=replace(WEB_FRAMES, count=count)))

    assert bool(built.faults) is (count > 18)


@pytest.mark.parametrize("drawn", [True, False])
def test_a_carcase_says_how_many_openings_and_that_drawers_need_frames(drawn: bool) -> None:
    # The side is 38 1/4 - 1 = 37 1/4 high, and the lowest frame stays 3/4 above its end: 36 1/2.  35 3/4 is not quite
    # 24 times 1 1/2, and not quite 48 times 3/4.
    frames = HousedFrames(500, read("3/4"), read("2"), read("2"), read("2"), read("1/4"), read("1/4"), read("1/4"),
                          WEB_FRAMES.groove, up=read("3/4"))  # fmt: skip
    case = Carcase(read("24"), read("16"), read("38 1/4"), read("3/4"), frames=frames, top=Top(read("1")),
                   drawers=DRAWERS if drawn else None)  # fmt: skip

    (fault,) = of_carcase(case).faults
    most = 23 if drawn else 47
    own = " and these drawers" if drawn else ""
    assert fault.do == f"1 to {most} would do, with frames 3/4 in thick{own}."
    assert of_carcase(replace(case, frames=replace(frames, count=most))).faults == ()
    assert bool(of_carcase(replace(case, frames=None)).faults) is drawn


def test_rails_before_the_web_frames_alone_let_the_drawers_out() -> None:
    # Seven rails as wide as the seven frames are thick, 3/4, lie before them; the drawers come out between.
    seven = replace(RAILS, frame=replace(RAILS.frame, rails=(read("3/4"),) * 7, tenon=replace(TENON, shoulder=0)))
    case = replace(CHOIR_CABINET, front=seven, web_frames=replace(WEB_FRAMES, set_back=read("3/4")))

    assert derive(case).faults == ()


def test_a_fault_is_written_in_the_unit_of_the_job() -> None:
    (fault,) = derive(replace(CHOIR_CABINET, width=80_000_000), Unit.MM).faults

    assert fault == Fault("clear-width", "between the legs would be -8.9 mm, with width 80 mm",
                          "Width must be more than 88.9 mm.")  # fmt: skip


def by_hand(**lengths: str) -> Cabinet:
    made = tuple(Override(key.replace("__", ".").replace("_", "-"), read(nm)) for key, nm in lengths.items())
    return replace(CHOIR_CABINET, overrides=made)


def test_a_length_set_by_hand_stays_and_is_shown_as_one() -> None:
    built = derive(by_hand(drawer__height="3 3/4"))

    (shown,) = built.by_hand
    assert (shown.key, shown.nm, shown.computed) == ("drawer.height", read("3 3/4"), read("3 7/8"))
    assert shown.said == (
        "drawer ", read("3 3/4"), ", set by hand; else ", read("3 7/8"), " = ", "opening ", read("4"),
        " - clearance above ", read("1/8"),
    )  # fmt: skip


def test_what_comes_after_a_length_set_by_hand_follows_it() -> None:
    built = derive(by_hand(drawer__height="3 3/4"))
    widths = {line.key: line.width for line in built.lines if line.assembly == "drawer-2"}

    assert built.faults == ()
    assert widths["drawer-2-front"] == widths["drawer-2-side"] == read("3 3/4")
    assert widths["drawer-2-back"] == read("3 1/8")


def test_a_length_set_by_hand_outlives_a_change_of_the_outside_size() -> None:
    built = derive(replace(by_hand(drawer__height="3 3/4"), height=read("43 1/4")))

    (shown,) = built.by_hand
    assert (shown.nm, shown.computed) == (read("3 3/4"), read("4 7/8"))


def test_a_length_that_is_set_to_what_it_would_be_is_still_set_by_hand() -> None:
    built = derive(by_hand(drawer__height="3 7/8"))

    assert [each.key for each in built.by_hand] == ["drawer.height"]


def test_a_rail_made_too_long_by_hand_is_built_and_flagged() -> None:
    built = derive(by_hand(back_top_rail__length="24 1/2"))

    # 1/4 too long, shared by both ends: each shoulder would be 1/8 inside its leg, each tenon 1/16 past its mortise.
    said = [fault for fault in built.faults if "leg.back-left" in fault.what]
    assert said == [
        Fault("back-top-rail.length", '"left" of back.top-rail is 1/16 in too long for leg.back-left',
              "24 1/4 in would do."),
        Fault("back-top-rail.length",
              'the shoulder of "left" of back.top-rail would reach 1/8 in too far into leg.back-left',
              "24 1/4 in would do."),
    ]  # fmt: skip
    assert {fault.where for fault in built.faults} == {"back-top-rail.length"}
    assert next(line for line in built.lines if line.key == "back-top-rail").length == read("24 1/2")


def test_a_rail_made_too_short_by_hand_stands_off_its_legs() -> None:
    built = derive(by_hand(back_top_rail__length="24"))

    assert {fault.what for fault in built.faults} == {
        'the shoulder of "left" of back.top-rail stands 1/8 in off leg.back-left',
        'the shoulder of "right" of back.top-rail stands 1/8 in off leg.back-right',
    }


@pytest.mark.parametrize(("nm", "fault"), [
    (read("5"), Fault("web-opening", "6 openings of 5 in, set by hand, do not add up to what there is",
                      "4 in would do.")),
    (0, Fault("web-opening", "opening was set by hand to 0 in", "4 in would do.")),
])  # fmt: skip
def test_openings_set_by_hand_that_do_not_add_up_are_refused(nm: int, fault: Fault) -> None:
    built = derive(replace(CHOIR_CABINET, overrides=(Override("web-opening", nm),)))

    assert built.faults == (fault,)


def test_a_length_set_by_hand_that_replaces_nothing_is_told() -> None:
    built = derive(by_hand(drawer__hight="3 3/4"))

    (fault,) = built.faults
    assert (fault.where, fault.do) == ("drawer.hight", "Remove it, or write drawer.height.")


TAILS = CornerJoint(Corner.DOVETAIL, read("1/2"), count=3, pin=read("1/4"), half_pin=read("1/4"))
"""Three tails on sides 3 7/8 high: (3 7/8 - 2 x 1/4 - 2 x 1/4) / 3 = 23/24 each, 5/6 at the baseline."""

CORNERS = [
    (DRAWERS.corner, ["dado", "dado", "groove"], "tongue"),
    (replace(DRAWERS.corner, kind=Corner.RABBET), ["rabbet", "rabbet", "groove"], "tongue"),
    (TAILS, ["pins", "pins", "groove"], "tails"),
]


@pytest.mark.parametrize(("corner", "front", "side"), CORNERS, ids=[str(row[0].kind) for row in CORNERS])
def test_the_corner_of_a_drawer_is_a_choice(corner: CornerJoint, front: list[str], side: str) -> None:
    built = derive(replace(CHOIR_CABINET, drawers=replace(DRAWERS, corner=corner)))
    found = {line.key: [each.kind for each in line.features] for line in built.lines}

    assert built.faults == ()
    assert found["drawer-1-front"] == front
    assert found["drawer-1-side"] == [side, "dado", "groove"]


@pytest.mark.parametrize(("changed", "what", "do"), [
    # 11 tails: (3 7/8 - 2 x 1/4 - 10 x 1/4) / 11 = 7/88 at the end and nothing at the baseline, 1/8 less.  The lowest
    # has to hold the groove from 3/8 to 5/8, and begins at 5/16 there: 5/16 + 1/8 of wood is too little, 3/8 is enough:
    # (3 3/8 - (n - 1) / 4) / n - 1/8 >= 5/16 gives n <= 5.27.
    ({"count": 40}, "no width is left for the tails", "5 tails would do in a drawer 3 7/8 in high."),
    ({"clear": read("1/16")},
     "a clearance of 1/16 in is too much for dovetails, which fill their sockets", "0 would do."),
    # 2 x (2 + 1/16) of half pins and slope, and 1/4 of groove.
    ({"half_pin": read("2")}, "no width is left for the tails",
     "A drawer more than 4 3/8 in high would hold one tail; or take narrower half pins."),
    # The lowest tail begins 5/8 + 1/2 / 8 from the lower edge at its baseline, the groove 3/8.  It is
    # (3 7/8 - 2 x 5/8 - 2 x 1/4) / 3 = 17/24 wide, so it ends at 5/8 + 17/24 - 1/16 = 1 13/48: 1 17/64 on the tape.
    ({"half_pin": read("5/8")}, "the bottom's groove would come out through a pin",
     "Half pins 5/16 in wide would do; or a groove between 11/16 in and 1 17/64 in from the lower edge would do."),
])  # fmt: skip
def test_dovetails_that_cannot_be_cut_are_said(changed: dict[str, Any], what: str, do: str) -> None:
    built = derive(replace(CHOIR_CABINET, drawers=replace(DRAWERS, corner=replace(TAILS, **changed))))

    where = "drawer.corner.clear" if "clear" in changed else "drawer.corner"
    assert built.faults == (Fault(where, what, do),)
    assert {assembly.key for assembly in built.assemblies} == ALL - DRAWN
