"""With which sizes does a choice begin, before its maker has said any?  Sound ones for small case work, to be changed.

They are no advice for a piece: a beginning that can be built, in the sizes of the job's unit.  Sizes that go by a habit
of the trade, or of the shop, stand here only for where habitual.py knows too little of the wood around them.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, NamedTuple

from ..dovetail import Pins, Tails
from ..feature import Dado, Groove, Hole, LooseTenon, Mortise, Rabbet, Tenon, Tongue
from ..hole_rows import HoleRow
from ..lap import Bridle, HalfLap, OpenMortise
from ..length import read
from ..part import Face, Unit
from ..shaping import Chamfer, Roundover, Taper
from . import (
    cabinet,
    carcase,
    cleats,
    doors,
    drawer_choices,
    frame_choices,
    housed_frames,
    legs,
    lone_drawers,
    lone_frame,
    lone_shelves,
    lone_top,
    lone_web_frames,
    plain,
    screwed,
    shelf,
    table,
    top,
)
from . import web_frames as web
from .habitual import Ways, habitual

__all__ = ["starter"]


class _Size(NamedTuple):
    inch: str
    mm: str


class _With(NamedTuple):
    """A record of its own kind, with something said besides."""

    kind: type
    said: dict[str, Any]


def _s(inch: str, mm: str) -> _Size:
    return _Size(inch, mm)


_CASE = {"width": _s("24", "600"), "depth": _s("16", "400"), "height": _s("36", "900")}
_THREE_QUARTERS = _s("3/4", "19")
_HALF = _s("1/2", "12")
_QUARTER = _s("1/4", "6")
_THREE_EIGHTHS = _s("3/8", "10")
_SIXTEENTH = _s("1/16", "1.5")
_APRON = _With(legs.Side, {
    "frame": _With(frame_choices.Frame, {"rails": (_s("4", "100"),), "groove": None, "panel": None}),
    "set_back": _s("1/8", "3"),
})  # fmt: skip
"""A rail between two legs, right under the top, so far out that its tenons stay clear of those from the other side."""

_BEGINS: dict[type, dict[str, Any]] = {
    cabinet.Cabinet: {**_CASE, "legs": legs.Legs},
    carcase.Carcase: {**_CASE, "side": _THREE_QUARTERS},
    doors.Doors: {
        "width": _s("24", "600"), "height": _s("30", "750"),
        "frame": _With(frame_choices.Frame, {"stiles": (_s("2 1/2", "65"), _s("2 1/2", "65"))}), "beside": _SIXTEENTH,
        "between": _s("3/32", "2"), "above": _SIXTEENTH, "below": _SIXTEENTH,
    },
    table.Table: {
        "width": _s("48", "1200"), "depth": _s("24", "600"), "height": _s("29", "740"),
        "legs": _With(legs.Legs, {"foot": _s("20", "500")}), "ends": _APRON, "long": _APRON,
    },
    lone_frame.LoneFrame: {
        "width": _s("16", "400"), "height": _s("24", "600"),
        "frame": _With(frame_choices.Frame, {"stiles": (_s("2 1/2", "65"), _s("2 1/2", "65"))}),
    },
    lone_web_frames.LoneWebFrames: {
        "width": _s("22 1/2", "560"), "depth": _s("16", "400"), "thickness": _THREE_QUARTERS, "front": _s("2", "50"),
        "back": _s("2", "50"), "runner": _s("2", "50"), "groove": frame_choices.Groove,
    },
    lone_web_frames.SideTongue: {
        "thickness": _QUARTER, "depth": _QUARTER, "offset": _s("1/4", "6.5"), "clear": _SIXTEENTH,
    },
    lone_drawers.LoneDrawers: {
        "width": _s("14 1/2", "370"), "heights": (_s("5", "125"),), "depth": _s("16", "400"),
        "drawers": drawer_choices.Drawers,
    },
    lone_top.LoneTop: {
        "width": _s("24", "600"), "depth": _s("16", "400"), "thickness": _s("1", "25"), "front": _HALF, "left": _HALF,
        "right": _HALF,
    },
    lone_shelves.LoneShelves: {
        "width": _s("30", "760"), "depth": _s("11", "280"), "thickness": _THREE_QUARTERS, "clear": _SIXTEENTH,
    },
    lone_shelves.InDadoes: {"depth": _QUARTER, "tongue": _HALF},
    plain.Plain: {"name": "Part", "thickness": _THREE_QUARTERS, "width": _s("3", "75"), "length": _s("12", "300")},
    legs.Legs: {"thickness": _s("1 3/4", "45"), "foot": _s("4", "100")},
    legs.Side: {"frame": frame_choices.Frame},
    frame_choices.Frame: {
        "thickness": _THREE_QUARTERS, "rails": (_s("2 1/2", "65"), _s("2 1/2", "65")), "tenon": frame_choices.Tenon,
        "groove": frame_choices.Groove, "panel": frame_choices.Panel,
    },
    frame_choices.Tenon: {
        "thickness": _QUARTER, "length": _s("7/8", "22"), "offset": _s("1/4", "6.5"), "shoulder": _HALF,
        "extra": _SIXTEENTH,
    },
    frame_choices.Groove: {
        "width": _QUARTER, "depth": _THREE_EIGHTHS, "offset": _s("1/4", "6.5"), "clear": _SIXTEENTH,
    },
    frame_choices.Panel: {"thickness": _s("1/2", "13"), "beside": _s("1/8", "3"), "ends": _SIXTEENTH},
    web.WebFrames: {
        "count": 3, "thickness": _THREE_QUARTERS, "front": _s("2", "50"), "back": _s("2", "50"),
        "runner": _s("2", "50"), "front_tenon": web.LegTenon, "back_tenon": web.LegTenon,
        "groove": frame_choices.Groove, "set_back": _s("1/8", "3"),
    },
    web.LegTenon: {
        "shoulder": _QUARTER, "width": _HALF, "thickness": _s("3/8", "10"), "length": _HALF,
        "offset": _s("3/16", "4.5"), "extra": _SIXTEENTH,
    },
    housed_frames.HousedFrames: {
        "count": 3, "thickness": _THREE_QUARTERS, "front": _s("2", "50"), "back": _s("2", "50"),
        "runner": _s("2", "50"), "tongue": _QUARTER, "offset": _s("1/4", "6.5"), "depth": _QUARTER,
        "groove": frame_choices.Groove, "clear": _SIXTEENTH,
    },
    shelf.Shelves: {
        "count": 3, "thickness": _THREE_QUARTERS, "tongue": _HALF, "depth": _QUARTER, "clear": _SIXTEENTH,
    },
    drawer_choices.Drawers: {
        "front": _THREE_QUARTERS, "side": _HALF, "back": _HALF, "corner": drawer_choices.CornerJoint,
        "back_joint": drawer_choices.BackJoint, "bottom": drawer_choices.Bottom, "beside": _s("1/32", "1"),
        "above": _s("1/8", "3"), "behind": _THREE_EIGHTHS,
    },
    drawer_choices.CornerJoint: {
        "kind": drawer_choices.Corner.TONGUE, "depth": _s("3/8", "9"), "tongue": _QUARTER, "clear": _SIXTEENTH,
    },
    drawer_choices.BackJoint: {
        "depth": _QUARTER, "tongue": _QUARTER, "clear": _SIXTEENTH, "ahead": _HALF,
    },
    drawer_choices.Bottom: {
        "thickness": _s("3/8", "9"), "up": _s("3/8", "9"), "width": _QUARTER, "depth": _QUARTER, "clear": _SIXTEENTH,
    },
    drawer_choices.Overlay: {"beside": _s("3/8", "10"), "above": _QUARTER, "below": _QUARTER},
    top.Top: {"thickness": _s("1", "25"), "front": _HALF, "left": _HALF, "right": _HALF},
    cleats.Cleats: {
        "thickness": _THREE_QUARTERS, "width": _s("1 1/2", "38"), "screws": 3, "shank": _s("3/16", "5"),
        "slot": _s("5/8", "16"),
    },
    screwed.Screwed: {"screws": 3, "shank": _s("3/16", "5"), "play": _s("3/16", "5")},
    Mortise: {
        "face": Face.FACE_EDGE, "start": _s("1", "25"), "length": _s("1 1/2", "40"), "offset": _QUARTER,
        "width": _QUARTER, "depth": _s("7/8", "22"),
    },
    Tenon: {
        "face": Face.DATUM_END, "length": _s("7/8", "22"), "offset": _QUARTER, "thickness": _QUARTER,
        "edge_offset": _QUARTER, "width": _s("2", "50"),
    },
    LooseTenon: {
        "face": Face.DATUM_END, "start": _HALF, "length": _s("1 1/2", "40"), "offset": _QUARTER, "width": _QUARTER,
        "depth": _s("1", "25"), "tenon": _s("2", "50"),
    },
    Groove: {"face": Face.FACE_EDGE, "offset": _QUARTER, "width": _QUARTER, "depth": _QUARTER},
    Dado: {"face": Face.FACE_SIDE, "start": _s("2", "50"), "width": _QUARTER, "depth": _QUARTER},
    Rabbet: {"face": Face.BACK, "width": _THREE_EIGHTHS, "depth": _QUARTER, "along": Face.FACE_EDGE},
    Tongue: {"face": Face.FACE_EDGE, "length": _QUARTER, "offset": _QUARTER, "thickness": _QUARTER},
    Hole: {
        "face": Face.FACE_SIDE, "start": _s("1", "25"), "offset": _s("1", "25"), "diameter": _QUARTER, "depth": _HALF,
    },
    HoleRow: {
        "face": Face.FACE_SIDE, "first": _s("2", "64"), "count": 5, "offset": _s("1", "37"), "diameter": _QUARTER,
        "depth": _THREE_EIGHTHS, "pitch": _s("1", "32"),
    },
    HalfLap: {"face": Face.FACE_SIDE, "start": _s("0", "0"), "length": _s("2", "50"), "depth": _s("3/8", "9.5")},
    OpenMortise: {"face": Face.DATUM_END, "depth": _s("2", "50"), "offset": _QUARTER, "width": _QUARTER},
    Bridle: {
        "face": Face.FACE_EDGE, "start": _s("4", "100"), "length": _s("2", "50"), "offset": _QUARTER,
        "thickness": _QUARTER,
    },
    Tails: {
        "face": Face.DATUM_END, "length": _HALF, "count": 3, "pin": _QUARTER, "half_pin": _QUARTER,
    },
    Pins: {
        "face": Face.DATUM_END, "into": Face.FACE_SIDE, "length": _HALF, "count": 3, "pin": _QUARTER,
        "half_pin": _QUARTER,
    },
    Taper: {"face": Face.FACE_SIDE, "start": _s("6", "150"), "depth": _QUARTER},
    Chamfer: {"face": Face.FACE_SIDE, "along": Face.FACE_EDGE, "size": _s("1/8", "3")},
    Roundover: {"face": Face.FACE_SIDE, "along": Face.FACE_EDGE, "size": _s("1/8", "3")},
}  # fmt: skip


def starter(kind: type, unit: Unit, ways: Ways | None = None, around: tuple[Any, ...] = (), **own: Any) -> Any:
    """A record of `kind` with its first sizes, by the shop's ways or those that a shop begins with; `around` is what
    it is put into, from the inside out, and `own` says what is known already, such as its key."""
    return replace(habitual(_begun(kind, unit, own), ways or Ways(unit), around=around), **own)


def _begun(kind: type, unit: Unit, own: dict[str, Any]) -> Any:
    return kind(**{name: _first(value, unit) for name, value in _BEGINS[kind].items()} | own)


def _first(value: Any, unit: Unit) -> Any:
    if isinstance(value, _Size):
        return read(value.mm if unit is Unit.MM else value.inch, unit)
    if isinstance(value, _With):
        return _begun(value.kind, unit, {name: _first(each, unit) for name, each in value.said.items()})
    if isinstance(value, tuple):
        return tuple(_first(each, unit) for each in value)
    return _begun(value, unit, {}) if isinstance(value, type) else value
