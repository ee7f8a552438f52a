"""How long is each rail, how wide each panel?  A frame of rails, stiles and muntins, with or without panels.

It stands between legs, or has stiles of its own; either way what its rails enter is asked for the mortises.
"""

from __future__ import annotations

from .. import part as trade
from ..length import Length
from ..part import Box, Face, Placement, Stock
from .derived import Working, minus, plus
from .frame_choices import Frame, Groove
from .frame_layout import MIRROR, UPRIGHT, Column, Layout, Setting
from .frame_panels import panels
from .made import Gathered

__all__ = ["build"]


def build(frame: Frame, width: Length, height: Length, setting: Setting, work: Working) -> Gathered:
    """The lines, cuts and joints of a frame.

    `width` is the clear width between legs, or the outside width over stiles; `height` is over the rails.
    Raises Impossible.
    """
    lay = Layout(frame, width, height, setting, work)
    for nth, name in enumerate(lay.rail_names()):
        rail(lay, nth, name)
    for row, count in enumerate(frame.muntins):
        if count:
            muntins(lay, row, count)
    if frame.panel:
        panels(lay, frame.panel)
    if frame.stiles:
        stiles(lay)
    if lay.groove:
        grooves(lay, lay.groove)
    return lay.out


def rail(lay: Layout, nth: int, name: str) -> None:
    """One rail, or one for each space between stiles: tenons at its ends, grooves at the edges that have a panel."""
    frame, tenon, work = lay.frame, lay.frame.tenon, lay.work
    wide, key, (low, high) = frame.rails[nth], f"{lay.key}{name}-rail", lay.setting.ends
    grooved = lay.groove.depth if lay.groove else 0
    above = grooved if nth else 0
    below = grooved if nth < len(frame.rails) - 1 else 0
    shoulders = 0 if lay.stub else (not above) + (not below)
    length = work.length(
        f"{key}.length", "rail", plus("opening", lay.column), plus("tenon", lay.tenon, 2)
    )  # fmt: skip
    across = work.length(
        f"{key}.tenon-width", "tenon", plus("rail", wide), minus("groove", grooved, bool(above) + bool(below)),
        minus("shoulder", tenon.shoulder, shoulders),
    )  # fmt: skip
    edge = above or (0 if lay.stub else tenon.shoulder)
    size = (lay.tenon, *lay.tenon_lies, edge, across)
    features: list[trade.Feature] = [
        trade.Tenon(low, Face.DATUM_END, *size),
        trade.Tenon(high, Face.FAR_END, *size),
    ]
    grooves = [face for face, has in ((Face.FACE_EDGE, above), (Face.FAR_EDGE, below)) if has]
    for face in grooves if lay.groove else ():
        assert lay.groove
        called = "panel" if len(grooves) == 1 else {Face.FACE_EDGE: "panel-above"}.get(face, "panel-below")
        features.append(trade.Groove(called, face, lay.groove.offset, lay.groove.width, lay.groove.depth))
    parts = []
    for count, column in enumerate(lay.columns, 1):
        at = (column.low + (column.high - column.low - length) // 2, lay.tops[nth], 0)
        own = f"{lay.setting.part}{name}-rail" + (f"-{count}" if len(lay.columns) > 1 else "")
        parts.append(lay.part(own, lay.of(lay.columns, count), Placement(at=at)))
        joint = f"{lay.key}{name}" + (f"-{count}" if len(lay.columns) > 1 else "")
        grown = min(work.fit.edge, edge), min(work.fit.edge, max(wide - edge - across, 0))
        top = lay.tops[nth] + edge - grown[0]
        enter_rail(lay, own, joint, column, name, top, across + sum(grown))
    title = "Rail" if len(frame.rails) == 1 else f"{name.split('-')[0].capitalize()} rail"
    lay.line(key, title, Stock(frame.thickness, wide, length), low, "top", features, parts)


def enter_rail(lay: Layout, own: str, joint: str, column: Column, name: str, top: Length, across: Length) -> None:
    """The two joints of a rail with its uprights; stub tenons sit in the groove that the panel has.

    A mortise begins at `top` and is `across` long.
    """
    tenon = lay.frame.tenon
    deep = lay.tenon + tenon.extra
    spans = ((column.low - deep, column.low, "-X"), (column.high, column.high + deep, "+X"))
    for side, (near, far, way) in enumerate(spans):
        taken = lay.pocket(column, side, "panel" if lay.stub else name)
        end = lay.setting.ends[side]
        lay.out.meet(f"{joint}-{end}", f"{own}/{end}", f"{column.mates[side]}/{taken}", tenon.extra)
        if not lay.stub:
            box = Box(near, far, top, top + across, tenon.offset, tenon.offset + tenon.thickness)
            lay.cut(column.mates[side], taken, trade.Mortise, box, way)


def muntins(lay: Layout, row: int, count: int) -> None:
    """The muntins of one field: stub tenons in the grooves of the rails, grooves at both edges."""
    frame, work, groove = lay.frame, lay.work, lay.groove
    assert groove
    rows = sum(map(bool, frame.muntins)) > 1
    key = f"{lay.key}muntin" + (f"-{row + 1}" if rows else "")
    stub = work.length(f"{key}.stub", "stub tenon", plus("groove", groove.depth), minus("clearance", groove.clear))
    length = work.length(
        f"{key}.length", "muntin", plus("between the rails", lay.fields[row]), plus("tenon", stub, 2)
    )  # fmt: skip
    across = work.length(f"{key}.tenon-width", "tenon", plus("muntin", frame.muntin),
                         minus("groove", groove.depth, 2))  # fmt: skip
    lies = work.eased(f"{key}.tenon-thickness", "stub tenon", "groove", groove.offset, groove.width, frame.thickness)
    size = (stub, *lies, groove.depth, across)
    low, high = lay.setting.ends
    channel = (groove.offset, groove.width, groove.depth)
    features: list[trade.Feature] = [
        trade.Tenon("top", Face.DATUM_END, *size),
        trade.Tenon("bottom", Face.FAR_END, *size),
        trade.Groove(high, Face.FACE_EDGE, *channel),
        trade.Groove(low, Face.FAR_EDGE, *channel),
    ]
    parts = []
    top = lay.tops[row] + frame.rails[row] + (lay.fields[row] - length) // 2
    for column, nth, own in lay.each_muntin(row, count):
        at = lay.openings(column, count)[nth][1] + frame.muntin
        parts.append(lay.part(lay.setting.part + own, middle(lay, own, count), Placement(UPRIGHT, (at, top, 0))))
        lay.meet_rails(own, row, column, groove.clear, lettered=True)
    lay.line(key, "Muntin", Stock(frame.thickness, frame.muntin, length), "top", high, features, parts)


def middle(lay: Layout, own: str, count: int) -> str:
    numbers = own.removeprefix("muntin").lstrip("-")
    return f"{lay.setting.place}, " + (f"muntin {numbers}" if numbers else "middle")


def stiles(lay: Layout) -> None:
    """The stiles of its own: the two outer ones are a pair, mirror images of each other, if they are as wide."""
    frame, names = lay.frame, lay.stile_names()
    low, high = lay.setting.ends
    starts = [0, *(column.high for column in lay.columns)]
    made = []
    for nth, (name, wide, start) in enumerate(zip(names, frame.stiles, starts, strict=True)):
        last = nth == len(names) - 1
        stands = Placement(MIRROR, (start, 0, 0)) if last else Placement(UPRIGHT, (start + wide, 0, 0))
        where = name.removeprefix("stile-")
        where = f"{where} side" if where in (low, high) else where if where == "middle" else f"stile {where}"
        made.append(lay.part(lay.setting.part + name, f"{lay.setting.place}, {where}", stands))
    length = lay.work.length(f"{lay.key}stile.length", "stile", plus("height", lay.height))
    outer = [([made[0], made[-1]], "stile")]
    if frame.stiles[0] != frame.stiles[-1]:
        outer = [([made[0]], f"stile-{low}"), ([made[-1]], f"stile-{high}")]
    for parts, key in outer:
        wide = frame.stiles[0 if parts[0] is made[0] else -1]
        lay.line(lay.key + key, "Stile", Stock(frame.thickness, wide, length), "top", "inside", [], parts)
    for part, name, wide in list(zip(made, names, frame.stiles, strict=True))[1:-1]:
        stock = Stock(frame.thickness, wide, length)
        lay.line(lay.key + name, "Stile", stock, "top", high, [], [part])


def grooves(lay: Layout, groove: Groove) -> None:
    """The grooves in the uprights: from the bottom of the upper rail's groove to that of the lower one's."""
    top = 0 if lay.stub else lay.tops[0] + lay.frame.rails[0] - groove.depth
    bottom = lay.height if lay.stub else lay.tops[-1] + groove.depth
    across = (groove.offset, groove.offset + groove.width)
    for column in lay.columns:
        spans = ((column.low - groove.depth, column.low, "-X"), (column.high, column.high + groove.depth, "+X"))
        for side, (start, end, way) in enumerate(spans):
            box = Box(start, end, top, bottom, *across)
            lay.cut(column.mates[side], lay.pocket(column, side, "panel"), trade.Groove, box, way)
