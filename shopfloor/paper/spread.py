"""Where do things go when they do not all fit where they belong?  Spreading labels, stretching what is small."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from ..trade.length import Length


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Places for labels that want to be at `wanted` (rising), at least `gap` apart, all between `low` and `high`.

    The order is kept and the sum of the squared shifts is the least possible.  If the room is too small for all, the
    gap wins and the last ones pass `high`.
    Source: with z[i] = y[i] - i * gap the problem is isotonic regression, which pooling adjacent violators solves
    exactly; bounds on an isotonic fit are met by clamping it.

    >>> spread([10, 12, 50], 10, 0, 100)
    [6.0, 16.0, 50.0]
    """
    pools: list[tuple[float, int]] = []
    for i, place in enumerate(wanted):
        total, count = place - i * gap, 1
        while pools and pools[-1][0] / pools[-1][1] >= total / count:
            more, many = pools.pop()
            total, count = total + more, count + many
        pools.append((total, count))
    top = high - (len(wanted) - 1) * gap
    level = [max(low, min(total / count, top)) for total, count in pools for _ in range(count)]
    return [level[i] + i * gap for i in range(len(wanted))]


def share(sizes: Sequence[float], least: Sequence[float], most: Sequence[float], total: float) -> list[float]:
    """Divide `total` in proportion to `sizes`, but no share below its `least` or above its `most`.

    The least must fit into the total.  If even all the mosts do not fill it, the mosts are returned.
    """
    most = [min(limit, total) for limit in most]
    if sum(most) <= total:
        return most
    plain = total / sum(sizes)
    if all(a <= size * plain <= z for size, a, z in zip(sizes, least, most, strict=True)):
        return [size * plain for size in sizes]
    low, high = 0.0, max(limit / size for size, limit in zip(sizes, most, strict=True) if size)
    parts = list(least)
    for _ in range(40):  # halving: after 40 the error is far below a hundredth of a user unit
        scale = (low + high) / 2
        tried = [max(a, min(size * scale, z)) for size, a, z in zip(sizes, least, most, strict=True)]
        if sum(tried) > total:
            high = scale
        else:
            low, parts = scale, tried
    return parts


class Scale:
    """From a place along a part to a place on the drawing: straight between its knots, and always rising."""

    def __init__(self, knots: Sequence[Length], steps: Sequence[float], start: float = 0.0) -> None:
        """`knots` rise, in nanometres; `steps` are the drawn distances between them."""
        self.knots = list(knots)
        self.drawn = [start]
        for step in steps:
            self.drawn.append(self.drawn[-1] + step)

    def __call__(self, place: Length) -> float:
        i = min(max(bisect_right(self.knots, place), 1), len(self.knots) - 1)
        a, z = self.knots[i - 1], self.knots[i]
        return self.drawn[i - 1] + (self.drawn[i] - self.drawn[i - 1]) * (place - a) / (z - a)
