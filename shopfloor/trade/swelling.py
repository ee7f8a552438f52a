"""Does a front still move in its opening in the damp?  Drawers by their height, doors by the stiles they are wide by.

One gap for a low and a high drawer is wrong: what it must take up goes with the height.  A frame keeps its height, and
its panels are loose, so a door swells by the widths of its stiles.
Source: case_joints.drawer_height_clearance; geometry.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from .case_joints import DRAWER_HEIGHT, drawer_height_clearance
from .construct.cabinet import Cabinet
from .construct.carcase import Carcase
from .construct.compose import named
from .construct.doors import Doors, Hinges
from .construct.lone_drawers import LoneDrawers
from .fault import Fault
from .length import Length
from .movement import exact_movement, gap_for
from .part import Box, Line
from .rounding import shop_step
from .surface import whole

if TYPE_CHECKING:
    from .seasonal import Year

__all__ = ["openings"]

Cases = Cabinet | Carcase | LoneDrawers


def openings(year: Year) -> Iterator[Fault]:
    """The drawers and doors of a job that would stick in the damp, each with the gap that would do."""
    for made in year.job.constructions:
        if isinstance(made, Cases) and made.drawers:
            yield from _drawers(year, made)
        elif isinstance(made, Doors):
            yield from _doors(year, made)


def _drawers(year: Year, made: Cases) -> Iterator[Fault]:
    """What stands upright in a drawer and moves: its front, unless it lies before the case, and its sides."""
    prefix = f"{made.key}-" if made.key else ""
    lines = {line.key: line for line in year.job.lines}
    overlay = made.drawers and made.drawers.overlay
    seen: set[tuple[str, Length, Length, str]] = set()
    for nth, height in _heights(year, made, prefix):
        for which in ("side",) if overlay else ("front", "side"):
            line = lines.get(f"{prefix}drawer-{nth}-{which}")
            if line is None or (rate := year.rate(line)) is None:
                continue
            gap = height - line.width
            swells = exact_movement(line.width, rate, 0, year.seasons.gain)
            alike = (which, line.width, gap, line.species)
            if swells <= gap or alike in seen:
                continue
            seen.add(alike)
            margin, step = year.habits.of(DRAWER_HEIGHT, year.job.unit), shop_step(year.job.unit)
            need = drawer_height_clearance(line.width, rate, year.seasons, step, margin)
            what = f"it swells {year.size(swells)} in the damp, and {year.size(gap)} is free over it in its opening"
            do = f"A clearance above of {year.size(need)} would do."
            yield Fault(f'line "{line.key}", width', what, year.with_basis(do, line))


def _heights(year: Year, made: Cases, prefix: str) -> Iterator[tuple[int, Length]]:
    """The number and the height of each opening that a drawer stands in."""
    if isinstance(made, LoneDrawers):
        yield from enumerate(made.heights, 1)
        return
    frames: list[Box] = []
    while (rail := year.placed.get(f"{prefix}web.{len(frames) + 1}.front-rail")) is not None:
        frames.append(rail.stands.box(whole(rail.line.stock)))
    for nth, (above, below) in enumerate(pairwise(frames), 1):
        yield nth, above.z0 - below.z1


def _doors(year: Year, made: Doors) -> Iterator[Fault]:
    """Doors in the width of their opening; the gaps share what is free."""
    own = {each.key for each in year.job.assemblies if each.made_by == named(made)}
    lines = [line for line in year.job.lines if line.assembly in own]
    stiles: Sequence[Line] = [line for line in lines if line.name == "Stile"]
    blocks = [
        year.placed[part.key].stands.box(whole(line.stock))
        for line in lines for part in line.parts if part.key in year.placed
    ]  # fmt: skip
    if not stiles or not blocks or (rate := year.rate(stiles[0])) is None:
        return
    pair = made.hinges is Hinges.BOTH
    wide = max(box.x1 for box in blocks) - min(box.x0 for box in blocks)
    free = made.width - wide + (made.between if pair else 0)
    across = sum(line.width * len(line.parts) for line in stiles)
    swells = exact_movement(across, rate, 0, year.seasons.gain)
    if swells <= free:
        return
    margin, step, gaps = year.habits.of(DRAWER_HEIGHT, year.job.unit), shop_step(year.job.unit), 3 if pair else 2
    need = gap_for((swells + margin) / gaps, step)
    where = "each gap beside and between" if pair else "each gap beside"
    yield Fault(
        f'line "{stiles[0].key}", width',
        f"the stiles of {'the doors' if pair else 'the door'} swell {year.size(swells)} in the damp, and "
        f"{year.size(free)} is free in the opening",
        year.with_basis(f"{year.size(need)} for {where} would do.", stiles[0]),
    )
