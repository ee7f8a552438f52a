"""Do two parts want the same space?  Everything that stands in the piece held against everything else, all cuts made.

A length set by hand, an overlay, a clearance or a rail in the way of a web frame may leave every joint sound and still
put one part through another.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence

from . import meeting
from .construct.mates import SLACK, Clash, Placed, clashes, placed
from .fault import Fault
from .length import Length
from .part import Job
from .rounding import told
from .sheet import called, places_in

__all__ = ["crossings", "faults"]

ALONG = ("from left to right", "from front to back", "from top to bottom")
"""The axes of a piece, seen from the front."""


def crossings(job: Job) -> Iterator[tuple[Clash, dict[str, Placed]]]:
    """Every two parts of one piece that fill the same space, with all parts of that piece.

    What one construction makes is one piece, and so is what was typed; each is laid out in a space of its own.
    """
    pieces = defaultdict(list)
    made_by = {assembly.key: assembly.made_by for assembly in job.assemblies}
    for line in job.lines:
        if min(line.stock) > 0:
            pieces[made_by.get(line.assembly, "")].append(line)
    for lines in pieces.values():
        parts = placed(job.assemblies, lines)
        yield from ((each, parts) for each in clashes(parts))


def faults(job: Job) -> tuple[Fault, ...]:
    """The parts of a job that fill the same space, by how much and along what; what is the same for several pairs of
    the same lines is said once.

    The two parts of a joint that does not meet are left out: meeting.py says by how much.
    """
    found = [each for each in crossings(job) if min(_sizes(each[0])) > SLACK]
    told = {fault.where for fault in meeting.faults(job)} if found else set()
    apart = {frozenset((joint.enters.part, joint.takes.part)) for joint in job.joints if f'joint "{joint.key}"' in told}
    alike: dict[tuple[str, str, int, Length], list[tuple[Clash, Sequence[Length]]]] = defaultdict(list)
    for clash, parts in found:
        if frozenset((clash.one, clash.other)) not in apart:
            sizes = _sizes(clash)
            one, other = (_numberless(parts[name].line.key) for name in (clash.one, clash.other))
            alike[one, other, sizes.index(min(sizes)), min(sizes)].append((clash, sizes))
    names = {part: called(line.name, place) for line in job.lines for part, place in places_in(line).items()}
    return tuple(
        _said(job, names[several[0][0].one], names[several[0][0].other], several[0][1], axis, len(several) - 1)
        for (_, _, axis, _), several in alike.items()
    )


def _sizes(clash: Clash) -> tuple[Length, Length, Length]:
    x0, x1, y0, y1, z0, z1 = clash.box
    return x1 - x0, y1 - y0, z1 - z0


def _said(job: Job, one: str, other: str, sizes: Sequence[Length], axis: int, more: int) -> Fault:
    size = [f"{told(nm, job.unit)} {along}" for nm, along in zip(sizes, ALONG, strict=True)]
    rest = " and ".join(size[:axis] + size[axis + 1 :])
    again = f", and so do {more} more pairs like them" if more > 1 else ", and so does another pair" if more else ""
    return Fault(
        f"{one} and {other[:1].lower()}{other[1:]}",
        f"they fill the same space, {size[axis]}, over {rest}{again}",
        f"One of them must be {told(sizes[axis], job.unit)} smaller there, or stand elsewhere.",
    )


def _numberless(key: str) -> str:
    """The key of a line without its numbers, so that the fronts of six drawers are told together."""
    return "-".join(word for word in re.split("[-.]", key) if not word.isdecimal())
