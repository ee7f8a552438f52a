"""How do blocks in space look from the front, the right and above?  Isometric projection and the painter's order.

A block is a `Box` in an assembly's axes: X to the right, Y to the back, Z up.  Of every block one sees the top
(z = z1), the front (y = y0) and the right side (x = x1).  What is nearer is painted later.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from math import sqrt

from ..trade.part import Box

COS, SIN = sqrt(3) / 2, 0.5  # of 30 degrees: in an isometric picture X and Y run 30 degrees off the horizontal

Point = tuple[float, float]
Side = tuple[str, tuple[tuple[int, int, int], ...]]
"""Which side of a block, and its corners in space, in order round it."""


def project(x: float, y: float, z: float) -> Point:
    """Where a point of space lies in the picture: rightwards and downwards, in the unit of the point.

    All three axes are foreshortened alike, and drawn at their full length as is usual.
    """
    return (x + y) * COS, (x - y) * SIN - z


def sides(box: Box) -> tuple[Side, Side, Side]:
    """The three sides of a block that are seen: its top, its front and its right."""
    x0, x1, y0, y1, z0, z1 = box
    return (
        ("top", ((x0, y0, z1), (x1, y0, z1), (x1, y1, z1), (x0, y1, z1))),
        ("front", ((x0, y0, z0), (x1, y0, z0), (x1, y0, z1), (x0, y0, z1))),
        ("right", ((x1, y0, z0), (x1, y1, z0), (x1, y1, z1), (x1, y0, z1))),
    )


def nearer(a: Box, b: Box) -> int:
    """1 if `a` must be painted after `b`, -1 if before it, 0 if neither hides any of the other.

    Derivation: the line of sight runs along (1, -1, 1).  Some point of `b` hides some point of `a` if going a way t > 0
    from `a` along it can end in `b`.  Each axis allows an open span of t; where the three spans meet says it all.
    Blocks that share space have a span on both sides of 0: then the larger half decides.
    """
    low = max(b.x0 - a.x1, a.y0 - b.y1, b.z0 - a.z1)
    high = min(b.x1 - a.x0, a.y1 - b.y0, b.z1 - a.z0)
    if low >= high:
        return 0
    return -1 if low + high > 0 else 1


def painted(boxes: Sequence[Box]) -> list[int]:
    """The numbers of the blocks in the order to paint them, what is farthest first.

    Where blocks hide each other in a ring, which only happens to blocks that interlock, the one whose middle lies
    farthest breaks it.
    """
    over: list[list[int]] = [[] for _ in boxes]
    under = [0] * len(boxes)
    for i, a in enumerate(boxes):
        for j in range(i):
            way = nearer(a, boxes[j])
            if way:
                first, then = (j, i) if way > 0 else (i, j)
                over[first].append(then)
                under[then] += 1
    depth = [box.x0 + box.x1 - box.y0 - box.y1 + box.z0 + box.z1 for box in boxes]
    order: list[int] = []
    done = [False] * len(boxes)
    free: list[tuple[int, int]] = []
    for i, count in enumerate(under):
        if not count:
            heappush(free, (depth[i], i))
    while len(order) < len(boxes):
        if not free:
            heappush(free, min((depth[i], i) for i in range(len(boxes)) if not done[i]))
        _, i = heappop(free)
        if done[i]:
            continue
        done[i] = True
        order.append(i)
        for then in over[i]:
            under[then] -= 1
            if not under[then] and not done[then]:
                heappush(free, (depth[then], then))
    return order
