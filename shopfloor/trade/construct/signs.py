"""Is a size nothing, or less?  Every length among the choices of a construction, but for the few that go either way.

A clearance below nothing would put one part into the other, and a thickness of nothing is no wood at all; both are a
slip of the keyboard, and are told as one before anything is worked out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_origin, get_type_hints

from ..fault import Fault
from ..length import Length
from ..part import Feature, Unit
from .carcase import Carcase
from .clearances import Clearances
from .cleats import Cleats
from .derived import Working
from .drawer_choices import BackJoint, Bottom, Drawers, Overlay
from .frame_choices import Frame, Groove, Panel, Tenon
from .housed_frames import HousedFrames
from .legs import Legs
from .lone_shelves import InDadoes, LoneShelves
from .lone_top import LoneTop
from .lone_web_frames import LoneWebFrames, SideTongue
from .screwed import Screwed
from .shelf import Shelves
from .top import Top
from .web_frames import LegTenon, WebFrames

__all__ = ["EITHER_WAY", "SIZES", "choices", "is_length", "too_little", "with_what_can_be"]

Construction = TypeVar("Construction")

EITHER_WAY: frozenset[tuple[type, str]] = frozenset({
    (Overlay, "beside"),  # a front between legs that stand before it stays clear of them
    *((kind, side) for kind in (Top, LoneTop) for side in ("front", "back", "left", "right")),  # a top may stay behind
})  # fmt: skip
"""The lengths that may be less than nothing."""

SIZES: dict[type, frozenset[str]] = {
    kind: frozenset(names.split())
    for kind, names in {
        BackJoint: "depth tongue",
        Bottom: "thickness width depth",
        Carcase: "depth side",
        Cleats: "thickness width shank slot",
        Drawers: "front side back",
        Frame: "thickness rails stiles",
        Groove: "width depth",
        HousedFrames: "thickness front back runner tongue depth",
        InDadoes: "depth tongue",
        Legs: "thickness",
        LegTenon: "width thickness length",
        LoneShelves: "thickness",
        LoneTop: "width depth thickness",
        LoneWebFrames: "width thickness front back runner",
        Panel: "thickness",
        Screwed: "shank play",
        Shelves: "thickness tongue depth",
        SideTongue: "thickness depth",
        Tenon: "thickness",
        Top: "thickness",
        WebFrames: "thickness front back runner",
    }.items()
}
"""The lengths that must be more than nothing."""

OUTSIDE = frozenset({"width", "depth", "height", "heights", "length"})
"""Of a construction's own outside sizes, what is derived from them tells more: how much would do."""


def too_little(of: Any, path: str = "") -> Iterator[tuple[str, Length, bool]]:
    """The lengths among the choices of a record that are nothing or less and may not: the path there, the length, and
    whether nothing would do.

    Cuts that are typed one by one are checked against their part by soundness.py; lengths set by hand, and the fit of
    all joints, by derived.py.
    """
    kind: type = type(of)
    for name, hint in choices(kind):
        value, here = getattr(of, name), f"{path}.{name}" if path else name
        if is_dataclass(value) and not isinstance(value, Feature | Clearances):
            yield from too_little(value, here)
        elif is_length(hint) and (kind, name) not in EITHER_WAY:
            size = name in SIZES.get(kind, ())
            if not path and name in OUTSIDE and not size:
                continue
            for nm in value if isinstance(value, tuple) else (value,):
                if nm < 0 or (size and nm == 0):
                    yield here, nm, not size


def with_what_can_be(made: Construction, prefix: str, unit: Unit) -> tuple[Construction | None, list[Fault]]:
    """The construction without the choices that have a length that is too little, and a fault for each of those.

    What rests on one that is left out goes with it.  None is left if what cannot be left out has one.
    """
    work, faults, left = Working(unit), [], made
    optional = {each.name for each in fields(made) if each.default is None}  # type: ignore[arg-type]
    whole = True
    for path, nm, may_be_nothing in too_little(made):
        first, last = path.split(".")[0], path.split(".")[-1].replace("_", " ")
        what = f"{work.size(nm)} for {last} is {'less than ' if nm < 0 else ''}nothing"
        do = f"{work.size(0)} or more would do." if may_be_nothing else f"More than {work.size(0)} would do."
        faults.append(Fault(prefix + path.replace("_", "-"), what, do))
        if first in optional:
            gone = [first, *(["drawers"] if first in ("web_frames", "frames") else [])]
            left = replace(left, **dict.fromkeys(gone, None))  # type: ignore[type-var]
        else:
            whole = False
    return left if whole else None, faults


@cache
def choices(record: type) -> tuple[tuple[str, Any], ...]:
    """The fields of a record with their annotations."""
    hints = get_type_hints(record, include_extras=True)
    return tuple((each.name, hints[each.name]) for each in fields(record))


def is_length(hint: Any) -> bool:
    """Whether an annotation stands for a length, or for several."""
    if get_origin(hint) is tuple:
        return is_length(get_args(hint)[0])
    return get_origin(hint) is Annotated and get_args(hint)[1] == "nm"
