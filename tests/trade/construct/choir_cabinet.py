"""The demonstration cabinet as its maker thinks of it: outside sizes and choices, everything else follows."""

from __future__ import annotations

from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.drawer_choices import BackJoint, Bottom, Corner, CornerJoint, Drawers
from shopfloor.trade.construct.frame_choices import Frame, Groove, Panel, Tenon
from shopfloor.trade.construct.legs import Flush, Legs, Side
from shopfloor.trade.construct.top import Top
from shopfloor.trade.construct.web_frames import LegTenon, WebFrames
from shopfloor.trade.length import read

TENON = Tenon(
    thickness=read("1/4"), length=read("7/8"), offset=read("1/4"), shoulder=read("7/8"), extra=read("1/16")
)  # fmt: skip
GROOVE = Groove(width=read("1/4"), depth=read("3/8"), offset=read("1/4"), clear=read("1/16"))


def panel(group: str) -> Panel:
    return Panel(thickness=read("1/2"), beside=read("1/8"), ends=read("1/16"), group=group)


SIDE = Side(
    Frame(read("3/4"), (read("3"), read("3")), TENON, GROOVE, panel("side panels")), flush=Flush.INSIDE
)  # fmt: skip
BACK = Side(
    Frame(
        read("3/4"), (read("3"), read("3")), TENON, GROOVE, panel("back panels"), muntins=(1,), muntin=read("3")
    ),
    flush=Flush.OUTSIDE,
)  # fmt: skip

WEB_FRAMES = WebFrames(
    count=6, thickness=read("3/4"), front=read("2"), back=read("2"), runner=read("2"),
    front_tenon=LegTenon(
        shoulder=read("1/4"), width=read("3/4"), thickness=read("3/8"), length=read("1/2"), offset=read("3/16"),
        extra=read("1/16"),
    ),
    back_tenon=LegTenon(
        shoulder=0, width=read("1/2"), thickness=read("3/8"), length=read("1/2"), offset=read("3/16"),
        extra=read("1/16"),
    ),
    groove=GROOVE, set_back=read("1/8"), front_species="cherry", back_species="poplar", runner_species="maple",
)  # fmt: skip

DRAWERS = Drawers(
    front=read("3/4"), side=read("1/2"), back=read("1/2"),
    corner=CornerJoint(Corner.TONGUE, depth=read("3/8"), tongue=read("1/4"), clear=read("1/16")),
    back_joint=BackJoint(depth=read("1/4"), tongue=read("1/4"), clear=read("1/16"), ahead=read("1/2")),
    bottom=Bottom(
        thickness=read("3/8"), up=read("3/8"), width=read("1/4"), depth=read("1/4"), clear=read("1/16")
    ),
    beside=read("1/32"), above=read("1/8"), behind=read("3/8"), side_species="maple", bottom_species="poplar",
)  # fmt: skip

CHOIR_CABINET = Cabinet(
    width=read("26"), depth=read("17"), height=read("37 1/4"), species="cherry",
    legs=Legs(read("1 3/4"), foot=read("7"), note="From 8/4."),
    left=SIDE, right=SIDE, back=BACK, web_frames=WEB_FRAMES, drawers=DRAWERS,
    top=Top(
        read("1"), front=read("3/4"), left=read("3/4"), right=read("3/4"), back=read("1/2"),
        note="Glued up from 5/4 in one run of grain. Held by buttons, so that it can move.",
    ),
)  # fmt: skip
