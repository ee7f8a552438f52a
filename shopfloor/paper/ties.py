"""Along which way do two parts go together?  The joints inside an assembly, in its own axes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..trade.part import Box, Face, Feature, Joint, Line, Part
from .blocks import STANDS, moved
from .pulled_apart import Shift

POINTS = {Face.DATUM_END: (0, -1), Face.FAR_END: (0, 1), Face.FACE_EDGE: (1, -1), Face.FAR_EDGE: (1, 1)}
"""Where a tenon or tongue on that face points, in the part's own axes: along which (0 x, 1 y), and which way."""


@dataclass(frozen=True)
class Tie:
    """A joint inside the assembly: what enters what, along which axis (0 X, 1 Y, 2 Z), which way (1 or -1), and the two
    features' spaces where they stand."""

    enters: str
    takes: str
    axis: int
    way: int
    tip: Box
    mouth: Box

    def line(self, shift: Mapping[str, Shift]) -> Box | None:
        """The line from the tenon's tip to where it goes in, if both still face each other: a box without width."""
        a, b = shift[self.enters], shift[self.takes]
        if any(a[k] != b[k] for k in range(3) if k != self.axis):
            return None
        tip, mouth = moved(self.tip, a), moved(self.mouth, b)
        k = 2 * self.axis
        start, end = (tip[k + 1], mouth[k]) if self.way > 0 else (mouth[k + 1], tip[k])
        if start >= end:
            return None
        middle = [(tip[2 * i] + tip[2 * i + 1]) // 2 for i in range(3)]
        ends = [(start, end) if i == self.axis else (middle[i], middle[i]) for i in range(3)]
        return Box(*ends[0], *ends[1], *ends[2])


def ties_of(joints: Iterable[Joint], here: Mapping[str, tuple[Line, Part]]) -> list[Tie]:
    """The ties among the parts that are `here`: each by its key, with its line.  They all have a place in space."""
    found = []
    for joint in joints:
        if joint.enters.part not in here or joint.takes.part not in here:
            continue
        line, part = here[joint.enters.part]
        other, mate = here[joint.takes.part]
        feature, takes = _feature(line, joint.enters.feature), _feature(other, joint.takes.feature)
        if feature is None or feature.kind not in STANDS or takes is None or part.stands is None or mate.stands is None:
            continue
        own, sign = POINTS[feature.face]
        direction = part.stands.directions()[own]
        axis = next(k for k in range(3) if direction[k])
        tip, mouth = part.stands.box(feature.box(line.stock)), mate.stands.box(takes.box(other.stock))
        found.append(Tie(joint.enters.part, joint.takes.part, axis, sign * direction[axis], tip, mouth))
    return found


def _feature(line: Line, key: str) -> Feature | None:
    return next((feature for feature in line.features if feature.key == key), None)
