"""How far is each part moved in an exploded picture?  Pulled apart along the axes that the joints go together by.

Parts that lie one behind the other along an axis are kept a gap apart; nothing moves that need not.  So what is far
from everything stays where it really is, and a part follows the parts that it is joined to.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from ..trade.length import Length
from ..trade.part import Box

SWEEPS = 12  # parts settle beside their mates after a few; the loop ends as soon as none moves

Shift = tuple[Length, Length, Length]


class Meeting(NamedTuple):
    """Two parts that are joined, by their keys, and the axis (0 X, 1 Y, 2 Z) along which they go together."""

    one: str
    other: str
    axis: int


class Behind(NamedTuple):
    """`high` lies farther along the axis than `low`, and must move at least `least` farther than that does; below 0:
    it may move so much less."""

    low: str
    high: str
    least: Length


def shifts(boxes: Mapping[str, Box], meetings: Sequence[Meeting], gap: Length, between: Length) -> dict[str, Shift]:
    """How far each part moves along X, Y and Z; never less than 0.

    Parts that are joined or touch come to be at least `gap` apart, parts that stand apart already at least `between`.
    `boxes` are the parts' blocks, tenons included, in the assembly.  Lengths are nanometres.
    """
    behind = _behind(boxes, meetings, gap, between)
    neighbours: dict[str, list[str]] = {key: [] for key in boxes}
    for one, other in sorted({(min(a, b), max(a, b)) for way in behind for a, b, least in way if least > 0}):
        neighbours[one].append(other)
        neighbours[other].append(one)
    along = [_along(axis, boxes, behind[axis], neighbours) for axis in range(3)]
    return {key: (along[0][key], along[1][key], along[2][key]) for key in boxes}


def _behind(
    boxes: Mapping[str, Box], meetings: Sequence[Meeting], gap: Length, between: Length
) -> tuple[list[Behind], ...]:
    """For each axis, who lies behind whom: every two parts along one axis at least, so that none runs into another.

    Two parts are kept apart along the axis on which they are farthest apart, or share least (a tenon in its mortise);
    two that are joined along the axis of their joint.
    """
    joined: dict[tuple[str, str], set[int]] = {}
    for one, other, axis in meetings:
        joined.setdefault((min(one, other), max(one, other)), set()).add(axis)
    found: tuple[list[Behind], ...] = ([], [], [])
    keys = sorted(boxes)
    for i, one in enumerate(keys):
        for other in keys[i + 1 :]:
            a, b = boxes[one], boxes[other]
            shared = [min(a[2 * k + 1], b[2 * k + 1]) - max(a[2 * k], b[2 * k]) for k in range(3)]
            axes = joined.get((one, other))
            if axes is None:
                axes = {min(range(3), key=lambda k: (shared[k], k))}
            for axis in sorted(axes):
                low, high = sorted((one, other), key=lambda key: _order(boxes, axis, key))
                if sum(room <= 0 for room in shared) > 1:  # they pass each other by: enough if they still do
                    found[axis].append(Behind(low, high, shared[axis]))
                    continue
                clear = gap if (one, other) in joined or shared[axis] >= 0 else between
                found[axis].append(Behind(low, high, max(0, clear + shared[axis])))
    return found


def _order(boxes: Mapping[str, Box], axis: int, key: str) -> tuple[Length, str]:
    """Sorts parts along an axis by their middles: whatever is `Behind` is later, so there are no rings."""
    return boxes[key][2 * axis] + boxes[key][2 * axis + 1], key


def _along(
    axis: int, boxes: Mapping[str, Box], behind: Sequence[Behind], neighbours: Mapping[str, Sequence[str]]
) -> dict[str, Length]:
    """The shifts along one axis: first as small as can be, then each part beside the middle one of its neighbours."""
    order = sorted(boxes, key=lambda key: _order(boxes, axis, key))
    before: dict[str, list[tuple[str, Length]]] = {key: [] for key in boxes}
    after: dict[str, list[tuple[str, Length]]] = {key: [] for key in boxes}
    for low, high, least in behind:
        before[high].append((low, least))
        after[low].append((high, least))
    shift: dict[str, Length] = {}
    for key in order:
        shift[key] = max((shift[other] + by for other, by in before[key]), default=0)
        shift[key] = max(shift[key], 0)
    last = max(shift.values(), default=0)
    for _ in range(SWEEPS):
        moved = False
        for key in order:
            if not neighbours[key]:
                continue
            around = sorted(shift[other] for other in neighbours[key])
            least = max((shift[other] + by for other, by in before[key]), default=0)
            most = min((shift[other] - by for other, by in after[key]), default=last)
            wanted = min(max(around[(len(around) - 1) // 2], least), most)
            moved |= wanted != shift[key]
            shift[key] = wanted
        if not moved:
            break
    return shift
