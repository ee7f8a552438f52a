"""What of a task cannot be, and why?  Asked before the search, so that all the rest is planned.

What contradicts itself is refused (`NoTask`): two parts with one key, a part in two groups, a kerf below zero.  Parts
that no board can give are taken out, each with its reason; boards that give nothing, and a kerf that nobody's saw
has, are noted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from ..trade.length import Length
from .boards import Group, LeftOver, NoTask, Plank, Rule, Saw, Says, Task, Wanted, Why
from .lots import Lot, Shape, lots_of
from .plots import Plot, plot_of

__all__ = ["MANY", "fits", "named", "sensible"]

MANY = 1_000
"""With more parts than this, boards are filled one after the other, and less is proven."""


def named(each: Wanted | Plank | Group) -> str:
    return each.name or each.key


def sensible(task: Task) -> tuple[Task, tuple[LeftOver, ...], tuple[Says, ...]]:
    """The task without what cannot be, what was left out of it, and what is odd.  Raises NoTask."""
    _refuse(task)
    plots = [plot_of(n, plank, task.saw) for n, plank in enumerate(task.planks)]
    parts = {part.key: part for part in task.wanted}
    out: dict[str, LeftOver] = {}
    for lot in lots_of(task.wanted, task.groups, task.saw):
        own = [plot for plot in plots if lot.board in ("", plot.plank.key)]
        if not any(fits(plot, shape, lot, task.saw) for shape in lot.shapes for plot in own):
            for unit in lot.units:
                for key in unit:
                    out[key] = _why(parts[key], [parts[each] for each in unit], lot, own, plots, task)
    wanted = tuple(part for part in task.wanted if part.key not in out)
    groups = tuple(group for group in task.groups if not out.keys() & set(group.parts))
    kept = replace(task, wanted=wanted, groups=groups)
    return kept, tuple(out[part.key] for part in task.wanted if part.key in out), tuple(_notes(task, kept, plots))


def fits(plot: Plot, shape: Shape, lot: Lot, saw: Saw) -> bool:
    """Whether the board has a clear place for it, all alone."""
    if shape.width > plot.width or plot.end - plot.start < max(shape.length, saw.least_strip):
        return False
    for y in _places(plot):
        if y + shape.width <= plot.width:
            for stretch in plot.stretches(plot.meets(y, y + shape.width)):
                start, end = (stretch.show_start, stretch.show_end) if lot.show else (stretch.start, stretch.end)
                if end - start >= shape.length:
                    return True
    return False


def _places(plot: Plot) -> list[Length]:
    return sorted({0, *(spot.far for spot in plot.spots), *(spot.far + plot.clear for spot in plot.spots)})


def _refuse(task: Task) -> None:
    saw = task.saw
    if min(saw.kerf, saw.least_section, saw.least_strip, saw.clear, *saw.offcut) < 0:
        raise NoTask("a size is below zero", where="saw", do="Give the kerf and the least sizes as 0 or more.")
    keys = (
        ("part", [part.key for part in task.wanted]),
        ("board", [plank.key for plank in task.planks]),
        ("group", [group.key for group in task.groups]),
    )
    for what, each in keys:
        twice = [key for key, many in Counter(each).items() if many > 1]
        if twice:
            raise NoTask(f"two {what}s have one key", where=twice[0], do="Give each a key of its own.")
    sized: tuple[Wanted | Plank, ...] = (*task.wanted, *task.planks)
    for one in sized:
        if one.length <= 0 or one.width <= 0:
            raise NoTask("it has no length or no width", where=named(one), do="Give sizes of more than 0.")
    for plank in task.planks:
        if min(plank.trim) < 0 or any(
            each.start < 0 or each.near < 0 or each.end < each.start for each in plank.defects
        ):
            raise NoTask(
                "what is trimmed or cut around ends before it begins",
                where=named(plank),
                do="Measure it from the mark.",
            )
    parts = {part.key: part for part in task.wanted}
    seen: set[str] = set()
    for group in task.groups:
        unknown = [key for key in group.parts if key not in parts]
        if unknown or not group.parts:
            raise NoTask(
                f'it names "{unknown[0]}", which is not wanted' if unknown else "it names no part",
                where=named(group), do="Name parts that are to be cut.",
            )  # fmt: skip
        if len(set(group.parts)) < len(group.parts) or seen & set(group.parts):
            raise NoTask("it names a part that has its place already", where=named(group), do="Name each part once.")
        if len({parts[key].board for key in group.parts} - {""}) > 1:
            raise NoTask("its parts are pinned to different boards", where=named(group), do="Pin them to one.")
        seen |= set(group.parts)


def _why(
    part: Wanted, unit: list[Wanted], lot: Lot, own: list[Plot], plots: list[Plot], task: Task
) -> LeftOver:  # fmt: skip
    """The first reason that holds, in one sentence."""
    name = named(part)
    if not plots:
        return LeftOver(part.key, Why.NO_BOARD, (f"{name}: there is no board to cut it from.",))
    if not own:
        return LeftOver(
            part.key, Why.NOT_ITS_BOARD, (f'{name}: the board "{lot.board}" that it is pinned to is not there.',)
        )
    pinned = "the board that it is pinned to" if lot.board else ""
    longest = max((stretch.end - stretch.start for plot in own for stretch in plot.stretches()), default=0)
    widest = max(plot.width for plot in own)
    if part.length > longest:
        board = pinned or "the longest board"
        says: Says = (f"{name} is ", part.length, f" long, and {board} gives ", longest, " in one piece.")
        return LeftOver(part.key, Why.NOT_ITS_BOARD if pinned else Why.TOO_LONG, says)
    if part.width > widest:
        board = pinned or "the widest board"
        says = (f"{name} is ", part.width, f" wide, and {board} ", widest, ".")
        return LeftOver(part.key, Why.NOT_ITS_BOARD if pinned else Why.TOO_WIDE, says)
    if len(unit) > 1:
        return LeftOver(part.key, Why.ITS_GROUP, _group_says(name, lot, pinned or "any board", task.saw))
    clear = " with a clear face" if part.show else ""
    says = (f"{name}, ", part.length, " by ", part.width, f", has no place{clear} on {pinned or 'any board'}.")
    return LeftOver(part.key, Why.NOT_ITS_BOARD if pinned else Why.NO_BOARD, says)


def _group_says(name: str, lot: Lot, where: str, saw: Saw) -> Says:
    if not lot.shapes:
        return (
            f"{name}: its group would have to be ripped apart, and some of it is shorter than ",
            saw.least_strip,
            ".",
        )
    shape = min(lot.shapes, key=lambda each: each.length)
    return (
        f"{name}: its group needs ",
        shape.length,
        " by ",
        shape.width,
        f" in one piece, which {where} does not give.",
    )


def _notes(task: Task, kept: Task, plots: list[Plot]) -> Iterable[Says]:
    saw, parts = task.saw, task.wanted
    if not saw.kerf:
        yield ("The kerf is 0: every saw takes some wood, so this plan is too tight.",)
    least = min((min(part.length, part.width) for part in parts), default=0)
    if parts and saw.kerf > least:
        yield ("The kerf, ", saw.kerf, ", is wider than the smallest part, ", least, ".")
    if len(parts) > MANY:
        yield (f"With {len(parts)} parts the boards are filled one after the other, and less is proven.",)
    narrowest = min((part.width for part in parts), default=0)
    lots = lots_of(kept.wanted, kept.groups, saw)
    for plot in plots:
        name = f"Board {named(plot.plank)}"
        if any(fits(plot, shape, lot, saw) for lot in lots for shape in lot.shapes):
            continue
        if not parts:
            return
        if plot.width < narrowest:
            yield (f"{name} is ", plot.width, " wide, narrower than any part.")
        elif plot.end - plot.start < saw.least_strip:
            what = "ripped" if saw.rule is Rule.RIP_FIRST else "cut into sections and ripped"
            yield (f"{name} is too short to be {what}: nothing under ", saw.least_strip, " is.")
        elif not plot.stretches():
            yield (f"{name} has no clear wood between what is cut around.",)
        else:
            yield (f"{name} gives none of the parts.",)
