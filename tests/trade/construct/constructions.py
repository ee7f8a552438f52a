"""Random constructions that can be made, down to the nanometre."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from shopfloor.trade.construct.cabinet import Cabinet, derive
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.cleats import Cleats, HeldAt
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.doors import Doors, Hinges
from shopfloor.trade.construct.drawer_choices import BackJoint, Bottom, Corner, CornerJoint, Drawers, Overlay
from shopfloor.trade.construct.frame_choices import Frame, Groove, Panel, Tenon
from shopfloor.trade.construct.housed_frames import HousedFrames
from shopfloor.trade.construct.legs import Flush, Legs, Side
from shopfloor.trade.construct.lone_drawers import LoneDrawers
from shopfloor.trade.construct.lone_frame import LoneFrame
from shopfloor.trade.construct.lone_shelves import InDadoes, LoneShelves
from shopfloor.trade.construct.lone_top import LoneTop
from shopfloor.trade.construct.lone_web_frames import LoneWebFrames, SideTongue
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.construct.table import Table
from shopfloor.trade.construct.top import Top
from shopfloor.trade.construct.web_frames import LegTenon, WebFrames
from shopfloor.trade.length import MM, Length

Draw = st.DrawFn


def mm(low: float, high: float) -> st.SearchStrategy[Length]:
    """Lengths in whole nanometres, from and to so many millimetres."""
    return st.integers(round(low * MM), round(max(low, high) * MM))


def up_to(most: Length, least: Length = 0) -> st.SearchStrategy[Length]:
    return st.integers(least, max(least, most))


@st.composite
def frames(draw: Draw, leg: Length, thickness: Length, most_rails: int = 4, stiles: tuple[Length, ...] = ()) -> Frame:
    """A frame whose tenons stay within a third of what they enter."""
    third = thickness // 3
    width = draw(up_to(third, third // 2))
    offset = draw(up_to(thickness - width - third // 2, third // 2))
    panelled = draw(st.booleans())
    rails = tuple(draw(st.lists(mm(45, 110), min_size=2, max_size=most_rails)))
    extra = draw(mm(0, 2))
    if not panelled:
        length = draw(up_to(leg // 3 - extra, 2 * MM))
        tenon = Tenon(width, length, offset, draw(up_to(min(rails) // 3)), extra)
        return Frame(thickness, rails, tenon, stiles=stiles, species="ash")
    depth = draw(mm(4, 10))
    groove = Groove(width, depth, offset, draw(up_to(depth // 2)))
    stub = draw(st.booleans())
    length = 0 if stub else draw(up_to(leg // 3 - extra, depth))
    tenon = Tenon(width, length, offset, draw(up_to(min(rails) // 3)), draw(up_to(depth // 2)) if stub else extra)
    set_back = draw(up_to(offset))
    least = offset - set_back + width
    panel = Panel(draw(up_to(thickness - set_back, least)), draw(up_to(depth - 1)), draw(up_to(depth - 1)), set_back)
    muntins = tuple(draw(st.lists(st.integers(0, 2), min_size=len(rails) - 1, max_size=len(rails) - 1)))
    return Frame(thickness, rails, tenon, groove, panel, stiles, (), muntins, draw(mm(30, 50)), "ash")


@st.composite
def drawers(draw: Draw, set_back: Length) -> Drawers:
    side, back, front = draw(mm(10, 15)), draw(mm(9, 14)), draw(mm(15, 25))
    kind = draw(st.sampled_from(Corner))
    cut, dado, groove = draw(mm(5, 12)), draw(mm(3, 6)), draw(mm(3, 5))
    width, up = draw(mm(4, 8)), draw(mm(3, 10))
    overlay = None
    slope = draw(st.integers(5, 9))
    clear, tails = (0, draw(st.integers(0, 2))) if kind is Corner.DOVETAIL else (draw(up_to(cut // 2)), 0)
    if tails > 1:
        width = draw(mm(4, 5))
    # The lowest tail holds the groove of the bottom at its narrowest.
    half_pin = max(up - cut // slope - 1, 0)
    if kind is Corner.TONGUE and draw(st.booleans()):
        overlay = Overlay(0 if set_back else draw(mm(0, 9)), draw(mm(0, 7)), draw(mm(0, 7)))
    return Drawers(
        front, side, back,
        CornerJoint(kind, cut, draw(up_to(side, groove)), clear, tails, draw(mm(1, 6)), half_pin, slope),
        BackJoint(dado, draw(up_to(back, back // 3)), draw(up_to(dado // 2)), draw(mm(0, 20)), draw(mm(0, 4))),
        Bottom(draw(up_to(width + up, width)), up, width, groove, draw(up_to(groove // 2))),
        draw(mm(0, 14)), draw(mm(0, 4)), draw(mm(0, 20)), overlay=overlay,
    )  # fmt: skip


def some_of(total: Length, count: int) -> st.SearchStrategy[tuple[Length, ...]]:
    """The heights that are given of `count` openings in `total`: none, or one of them, more or less than its share."""
    if count < 2:
        return st.just(())
    share = total // count
    sizes = up_to(share * 12 // 10, share * 8 // 10)
    return st.just(()) | st.builds(lambda nth, nm: (0,) * nth + (nm,), st.integers(0, count - 1), sizes)


def cleats() -> st.SearchStrategy[Cleats]:
    return st.builds(Cleats, mm(15, 25), mm(20, 40), st.sampled_from([3, 5]), mm(4, 6), mm(7, 20),
                     st.sampled_from(HeldAt))  # fmt: skip


@st.composite
def cabinets(draw: Draw) -> Cabinet:
    """A cabinet that can be made: its tenons do not run into each other inside the legs."""
    leg = draw(mm(36, 80))
    thick = draw(up_to(leg // 2, leg // 3))
    height, foot = draw(mm(900, 2000)), draw(mm(0, 100))
    top = draw(st.none() | st.builds(Top, *[mm(15, 40), *[mm(0, 30)] * 4], st.integers(1, 6)))
    clear = height - foot - (top.thickness if top else 0)

    @st.composite
    def sides(draw: Draw, flush: Flush) -> Side:
        frame, down = draw(frames(leg, thick)), draw(st.just(0) | mm(0, 30))
        wanted = draw(some_of(clear - down - sum(frame.rails), len(frame.rails) - 1))
        return Side(replace(frame, fields=wanted), flush, draw(st.just(0) | up_to(leg // 12)), down)

    left = draw(st.none() | sides(Flush.INSIDE))
    right = draw(st.just(left) | st.none() | sides(Flush.INSIDE))
    back = draw(st.none() | sides(Flush.OUTSIDE))
    if draw(st.sampled_from([False, False, False, True])):
        front = draw(st.none() | sides(Flush.OUTSIDE))
        if top and left and left == right:
            top = replace(top, cleats=draw(st.none() | cleats()))
        return Cabinet(draw(mm(500, 1500)), draw(mm(500, 900)), height, Legs(leg, foot), "", "ash",
                       left, right, back, front, None, None, top)  # fmt: skip
    set_back = draw(st.just(0) | up_to(leg // 8))
    frame = draw(mm(15, 25))
    third = frame // 3
    depth = draw(mm(4, 9))
    behind = thick + back.set_back if back else 0
    room = 2 * leg // 3 - behind
    held = draw(up_to(room, room // 2))
    tenon = draw(up_to(leg // 3))
    heads = (third, max(tenon, MM), third, draw(mm(0, 2)))
    count = draw(st.integers(1, 7))
    web = WebFrames(
        count, frame, draw(mm(45, 80)), draw(mm(leg / MM, 80)), draw(mm(40, 80)),
        LegTenon(draw(up_to(leg // 8)), leg // 4, *heads), LegTenon(0, held, *heads),
        Groove(third, depth, third, draw(up_to(depth // 2))), set_back,
        draw(some_of(clear - (count + 1) * frame, count)),
        dust_panel=draw(st.none() | st.builds(Panel, up_to(third * 2, third), up_to(depth - 1), up_to(depth - 1),
                                              st.just(third))),
    )  # fmt: skip
    made = Cabinet(draw(mm(500, 1500)), draw(mm(500, 900)), height, Legs(leg, foot), "", "ash",
                   left, right, back, None, web, draw(st.none() | drawers(set_back)), top)  # fmt: skip
    return draw(st.just(made) | by_hand(made)) if made.drawers else made


@st.composite
def by_hand(draw: Draw, made: Cabinet) -> Cabinet:
    """The same with a drawer's width or height, or both, set by hand a little smaller than they would be."""
    sizes = {each.key: each.nm for each in derive(made).derived}
    keys = draw(
        st.sets(st.sampled_from([key for key in ("drawer.width", "drawer.height") if key in sizes]), min_size=1)
    )
    return replace(made, overrides=tuple(Override(key, sizes[key] - draw(up_to(MM))) for key in sorted(keys)))


@st.composite
def doors(draw: Draw) -> Doors:
    """A door or a pair; a frame of two or three stiles."""
    stiles = tuple(draw(st.lists(mm(45, 80), min_size=2, max_size=3)))
    frame = draw(frames(min(stiles), draw(mm(16, 28)), stiles=stiles))
    gaps = [draw(mm(0, 4)) for _ in range(4)]
    return Doors(draw(mm(1000, 1400)), draw(mm(700, 2000)), frame, "door", draw(st.sampled_from(Hinges)), *gaps)


@st.composite
def carcases(draw: Draw) -> Carcase:
    """A case of solid boards with shelves, or with web frames and drawers."""
    side, thick = draw(mm(16, 30)), draw(mm(15, 25))
    depth = draw(up_to(side // 2, 5 * MM))
    clear = draw(up_to(depth // 2))
    edges = [draw(mm(0, 20)), draw(mm(0, 20))]
    height = draw(mm(800, 2000))
    top = draw(st.none() | st.builds(Top, mm(15, 40), mm(0, 30), mm(0, 30), mm(0, 30), mm(0, 30)))
    long = height - (top.thickness if top else 0)
    shelves, web, drawn = None, None, None
    if draw(st.booleans()):
        count, down, up = draw(st.integers(2, 7)), draw(mm(0, 40)), draw(mm(0, 40))
        shelves = Shelves(
            count, thick, draw(up_to(thick, thick // 3)), depth, clear, draw(mm(0, 20)), *edges, down, up,
            draw(some_of(long - down - up - count * thick, count - 1)),
        )  # fmt: skip
    else:
        third, deep = thick // 3, draw(mm(4, 9))
        count, up = draw(st.integers(1, 7)), draw(mm(0, 60))
        web = HousedFrames(
            count, thick, draw(mm(40, 80)), draw(mm(40, 80)), draw(mm(40, 80)), third,
            draw(up_to(thick - third)), depth, Groove(third, deep, third, draw(up_to(deep // 2))), clear, *edges,
            up, draw(some_of(long - up - (count + 1) * thick, count)),
        )  # fmt: skip
        drawn = draw(st.none() | drawers(edges[0]))
    return Carcase(draw(mm(400, 1200)), draw(mm(300, 600)), height, side, "", "ash", shelves, web, drawn, top)


@st.composite
def tables(draw: Draw) -> Table:
    """Legs and rails: the ends flush inside, front and back outside, so that no two tenons meet in a leg."""
    leg = draw(mm(40, 90))
    thick = draw(up_to(leg // 2, leg // 3))
    ends, long = draw(frames(leg, thick)), draw(frames(leg, thick))
    top = draw(st.none() | st.builds(Top, mm(15, 40), mm(0, 30), mm(0, 30), mm(0, 30), mm(0, 30)))
    return Table(
        draw(mm(500, 2000)), draw(mm(500, 1000)), draw(mm(900, 1300)), Legs(leg, draw(mm(0, 100))),
        Side(ends, Flush.INSIDE, draw(st.just(0) | up_to(leg // 12))), Side(long, Flush.OUTSIDE), "", "ash", top,
    )  # fmt: skip


@st.composite
def lone_frames(draw: Draw) -> LoneFrame:
    """A frame of two to four stiles."""
    stiles = tuple(draw(st.lists(mm(45, 80), min_size=2, max_size=4)))
    frame = draw(frames(min(stiles), draw(mm(16, 28)), stiles=stiles))
    return LoneFrame(draw(mm(900, 1400)), draw(mm(700, 2000)), frame)


@st.composite
def lone_web_frames(draw: Draw) -> LoneWebFrames:
    """One frame or several, with or without dust panels and tongues."""
    thick, deep, dado = draw(mm(15, 25)), draw(mm(4, 9)), draw(mm(3, 8))
    third = thick // 3
    tongue = st.builds(SideTongue, up_to(third, third // 2), st.just(dado), up_to(thick - third), up_to(dado // 2))
    panel = st.builds(Panel, up_to(2 * third, third), up_to(deep - 1), up_to(deep - 1), st.just(third))
    return LoneWebFrames(
        draw(mm(300, 900)), draw(mm(250, 600)), thick, draw(mm(40, 80)), draw(mm(40, 80)), draw(mm(40, 80)),
        Groove(third, deep, third, draw(up_to(deep // 2))), draw(st.integers(1, 4)), "old-case", "ash",
        draw(st.none() | tongue), draw(st.none() | panel),
    )  # fmt: skip


@st.composite
def lone_drawers(draw: Draw) -> LoneDrawers:
    """Drawers for openings of several heights."""
    heights = tuple(draw(st.lists(mm(60, 300), min_size=1, max_size=5)))
    return LoneDrawers(draw(mm(200, 900)), heights, draw(mm(200, 600)), draw(drawers(0)))


def lone_tops() -> st.SearchStrategy[LoneTop]:
    over = mm(0, 30)
    return st.builds(LoneTop, mm(200, 2000), mm(200, 900), mm(15, 40), over, over, over, over, st.integers(1, 8))


@st.composite
def lone_shelves(draw: Draw) -> LoneShelves:
    """Shelves, loose or in dadoes."""
    thick, deep = draw(mm(12, 30)), draw(mm(4, 10))
    dadoes = st.builds(InDadoes, st.just(deep), up_to(thick, thick // 3), mm(0, 20))
    return LoneShelves(
        draw(mm(300, 1200)), draw(mm(150, 500)), thick, draw(st.integers(1, 5)), draw(up_to(deep // 2)),
        draw(mm(0, 20)), draw(mm(0, 20)), draw(st.none() | dadoes),
    )  # fmt: skip
