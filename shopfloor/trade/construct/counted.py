"""How many openings does a case hold?  As many as leave each one something, and a drawer that can be made."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from ..length import Length
from .derived import Impossible, Working

__all__ = ["MOST", "counted"]

MOST = 200
"""More openings than this are a slip of the keyboard; each would need parts, labels and a drawing."""


def counted(
    count: int, total: Length, frame: Length, where: str, work: Working, holds: Callable[[Length], bool] | None = None
) -> None:  # fmt: skip
    """Refuse a number of openings in the height `total` that leaves them nothing beside frames `frame` thick.

    `holds` says of a height whether a drawer can be made for it; the number that would do is one that it can.
    """
    most = max(min(MOST, (total - frame) // max(frame + 1, 1)), 0)
    if 1 <= count <= most:
        return
    what, frames = f"{count} openings in {work.size(total)}", f"frames {work.size(frame)} thick"
    if most and holds:
        # The more openings the lower each one: they hold a drawer up to some number, and none beyond it.
        most = bisect_left(range(1, most + 1), True, key=lambda nth: not holds((total - (nth + 1) * frame) // nth))
        frames += " and these drawers"
    do = f"1 to {most} would do, with {frames}." if most > 1 else f"1 would do, with {frames}."
    raise Impossible(what, where=where, do=do if most else f"There is no room for any, with {frames}.")
