"""What does the app look like among a phone's other apps?  The face mark: the loop that a maker draws on a true face.

Its tail runs to the face edge.  Drawn in crayon on paper with a line of wood below it, from curves, at any size.
`python -m shopfloor.paper.icons static/icons` draws the files that are shipped.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from PIL import Image, ImageDraw

PAPER, CRAYON, INK = "#f6f2e7", "#9a2318", "#24221e"

Point = tuple[float, float]

LOOP: tuple[tuple[Point, Point, Point, Point], ...] = (
    # From the left, low, up and round to the right, over the top, and down through its own beginning to the edge.
    ((20.0, 63.0), (40.0, 66.0), (70.0, 52.0), (71.0, 33.0)),
    ((71.0, 33.0), (72.0, 17.0), (52.0, 14.0), (46.0, 32.0)),
    ((46.0, 32.0), (41.0, 48.0), (46.0, 68.0), (56.0, 80.0)),
)
"""Cubic curves on a square of 100."""

EDGE: tuple[Point, Point] = ((18.0, 82.0), (82.0, 82.0))
"""The face edge that the tail runs to."""


class Icon(NamedTuple):
    """A file of the app: its size in pixels, and how large the mark is drawn in it (1: to the square's own margin)."""

    file: str
    size: int
    scale: float


ICONS = (
    Icon("icon-192.png", 192, 1.1),
    Icon("icon-512.png", 512, 1.1),
    # A maskable icon may be cut to a circle of 80 % of its size.
    Icon("icon-maskable-512.png", 512, 0.8),
    Icon("apple-touch-180.png", 180, 1.05),
)


def draw_icon(size: int, scale: float) -> Image.Image:
    """The mark on its paper, `size` pixels square, opaque: drawn four times as large and brought down smoothly."""
    fine = size * 4
    image = Image.new("RGB", (fine, fine), PAPER)
    pen = ImageDraw.Draw(image)

    def spot(point: Point) -> Point:
        return tuple((50 + (value - 50) * scale) * fine / 100 for value in point)  # type: ignore[return-value]

    _stroke(pen, [spot(point) for point in EDGE], 3.2 * scale * fine / 100, INK)
    _stroke(pen, [spot(point) for point in _along(LOOP)], 7.2 * scale * fine / 100, CRAYON)
    return image.resize((size, size), Image.Resampling.LANCZOS)


def _along(curves: tuple[tuple[Point, Point, Point, Point], ...]) -> Iterator[Point]:
    for a, b, c, d in curves:
        for step in range(65):
            t = step / 64
            u = 1 - t
            yield (
                u**3 * a[0] + 3 * u * u * t * b[0] + 3 * u * t * t * c[0] + t**3 * d[0],
                u**3 * a[1] + 3 * u * u * t * b[1] + 3 * u * t * t * c[1] + t**3 * d[1],
            )


def _stroke(pen: ImageDraw.ImageDraw, points: list[Point], width: float, colour: str) -> None:
    """A line with round ends and joints."""
    radius = width / 2
    pen.line(points, fill=colour, width=round(width), joint="curve")
    for x, y in points:
        pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=colour)


def main(folder: str) -> None:
    for icon in ICONS:
        image = draw_icon(icon.size, icon.scale).quantize(16)
        image.save(Path(folder) / icon.file, optimize=True)


if __name__ == "__main__":
    main(sys.argv[1])
