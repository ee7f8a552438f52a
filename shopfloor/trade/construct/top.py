"""How big is a solid top, and of which boards is it glued?

A top is as big as the case and its overhangs.  How it is held so that it can move is in cleats.py and screwed.py.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..length import Length
from ..part import Assembly, Line, Part, Placement
from .cleats import Cleats
from .derived import Impossible, Working, plus
from .made import Gathered
from .screwed import Screwed

__all__ = ["Top", "top"]


@dataclass(frozen=True)
class Top:
    """A solid top.  `boards` says of how many edge-glued boards it is listed; with 1 it is one part."""

    thickness: Length
    front: Length = 0
    back: Length = 0
    left: Length = 0
    right: Length = 0
    boards: int = 1
    cleats: Cleats | None = None
    species: str = ""
    note: str = ""
    screwed: Screwed | None = None


MOST_BOARDS = 40


def top(chosen: Top, width: Length, depth: Length, under: Length, number: int, work: Working,
        prefix: str = "") -> Gathered:  # fmt: skip
    """The top of a case `width` by `depth` over its legs, lying at the height `under`.  Raises Impossible.

    The boards share the width across the grain exactly; the last one takes what is over.
    """
    long = work.length(
        f"{prefix}top.length", "top", plus("width", width), plus("overhang left", chosen.left),
        plus("overhang right", chosen.right),
    )  # fmt: skip
    wide = work.length(
        f"{prefix}top.width", "top", plus("depth", depth), plus("overhang in front", chosen.front),
        plus("overhang behind", chosen.back),
    )  # fmt: skip
    if chosen.thickness <= 0:
        what = f"a top {work.size(chosen.thickness)} thick"
        raise Impossible(what, where=f"{prefix}top.thickness", do="Give it a size.")
    if not 1 <= chosen.boards <= MOST_BOARDS:
        what = f"a top of {chosen.boards} boards"
        raise Impossible(what, where=f"{prefix}top.boards", do=f"1 to {MOST_BOARDS} would do.")
    assembly = Assembly(f"{prefix}top", number, "Top")
    at = (-chosen.left, -chosen.front, under)
    looks = (chosen.species, "left", "underside", "front")
    if chosen.boards == 1:
        line = Line(
            f"{prefix}top", assembly.key, "Top", chosen.thickness, wide, long, *looks, note=chosen.note,
            parts=(Part(f"{prefix}top", stands=Placement(at=at)),),
        )  # fmt: skip
        return Gathered([assembly], [line])
    each = work.length(f"{prefix}top.board", "board", plus("top", wide), over=chosen.boards)
    last = wide - (chosen.boards - 1) * each
    if last <= 0:
        what = f"{chosen.boards} boards of {work.size(each)} are wider than the top"
        raise Impossible(what, where=f"{prefix}top.board", do=f"{work.size(wide // chosen.boards)} would do.")
    parts = [
        Part(f"{prefix}top.board-{nth + 1}", f"{nth + 1} from the front",
             stands=Placement(at=(at[0], at[1] + nth * each, under)))
        for nth in range(chosen.boards)
    ]  # fmt: skip
    alike = [(each, parts)] if last == each else [(each, parts[:-1]), (last, parts[-1:])]
    lines = [
        Line(
            f"{prefix}top-board" + ("-last" if nth else ""), assembly.key, "Top board", chosen.thickness, across, long,
            *looks, note=chosen.note, group=f"{prefix}top", parts=tuple(some),
        )
        for nth, (across, some) in enumerate(alike)
    ]  # fmt: skip
    return Gathered([assembly], lines)
