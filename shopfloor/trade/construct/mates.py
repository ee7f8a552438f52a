"""Do mates meet when the piece is put together?  Every joint measured in space, and every two parts held together.

What a construction lays out meets by construction; a length set by hand, or a document written by hand, may not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from ..fault import Fault
from ..length import Length
from ..part import AXES, Assembly, Box, Feature, Half, Line, Placement, Tails, Tenon, Tongue
from ..surface import overlap, whole
from .made import Built
from .space import outward
from .wood import wood

__all__ = ["Clash", "Fit", "Placed", "clashes", "fit", "misfits", "placed"]


class Placed(NamedTuple):
    """A part where it stands in the piece."""

    line: Line
    stands: Placement

    def feature(self, key: str) -> Feature:
        return next(each for each in self.line.features if each.key == key)

    def box(self, key: str) -> Box:
        return self.stands.box(self.feature(key).box(self.line.stock))


class Fit(NamedTuple):
    """How a joint meets, measured in space; below zero there is too much wood.

    `tip` is free beyond the end of what enters, `shoulder` between its shoulder and the mate; `across` are the gaps
    at the four sides, in the order of the axes, and 0 where a groove is open and what enters goes on beyond it.
    """

    tip: Length
    shoulder: Length
    across: tuple[Length, Length, Length, Length]


class Clash(NamedTuple):
    """Two parts that would fill the same space, and the block round all of it."""

    one: str
    other: str
    box: Box


def placed(assemblies: Iterable[Assembly], lines: Iterable[Line]) -> dict[str, Placed]:
    """Every part that stands somewhere, by its key, in the axes of the piece."""
    known = {assembly.key: assembly for assembly in assemblies}
    found = {}
    for line in lines:
        for part in line.parts:
            if part.stands is None:
                continue
            stands, around = part.stands, known.get(line.assembly)
            while around is not None:
                stands = stands.within(around.stands)
                around = known.get(around.within)
            found[part.key] = Placed(line, stands)
    return found


def fit(enters: Half, takes: Half, parts: dict[str, Placed]) -> Fit:
    """How two halves meet."""
    one, other = parts[enters.part], parts[takes.part]
    feature = one.feature(enters.feature)
    assert isinstance(feature, Tenon | Tongue | Tails), f"a {feature.kind} enters nothing here"
    way = AXES[outward(one.stands, feature.face)]
    inner, outer = one.box(enters.feature), other.box(takes.feature)
    axis = next(i for i in range(3) if way[i])
    gaps = [(inner[2 * i] - outer[2 * i], outer[2 * i + 1] - inner[2 * i + 1]) for i in range(3)]
    low, high = gaps[axis]
    tip, root = (high, low) if way[axis] > 0 else (low, high)
    bounds = other.stands.box(whole(other.line.stock))
    across = [
        max(gap, 0) if outer[2 * i + end] == bounds[2 * i + end] else gap
        for i in range(3) if i != axis for end, gap in enumerate(gaps[i])
    ]  # fmt: skip
    return Fit(tip, -root, (across[0], across[1], across[2], across[3]))


SLACK: Length = 2
"""Places are rounded once to a nanometre, so two of them may differ by that much."""


def misfits(built: Built, size: Callable[[Length], str], prefix: str = "") -> Iterator[Fault]:
    """Joints that do not meet as they were laid out, because a length was set by hand; `size` writes a length.

    Where the length of one of its two lines was set by hand, that is where the fault lies, and what would do is the
    length that follows; keys of derived lengths go without the `prefix` of the construction.
    """
    parts = placed(built.assemblies, built.lines)
    lengths = {f"{prefix}{each.key}": each for each in built.derived if each.by_hand}
    for each in built.meetings:
        found = fit(each.enters, each.takes, parts)
        who = f'"{each.enters.feature}" of {each.enters.part}'
        where, do = f'joint "{each.key}"', ""
        for part in (each.takes.part, each.enters.part):
            key = f"{parts[part].line.key}.length"
            if key in lengths and lengths[key].nm != lengths[key].computed:
                where, do = key, f"{size(lengths[key].computed)} would do."
        away = found.shoulder - each.shoulder
        if found.tip < 0:
            yield Fault(where, f"{who} is {size(-found.tip)} too long for {each.takes.part}", do or "Make it shorter.")
        if away > SLACK:
            what = f"the shoulder of {who} stands {size(away)} off {each.takes.part}"
            yield Fault(where, what, do or f"Make {each.enters.part} longer.")
        elif away < -SLACK:
            what = f"the shoulder of {who} would reach {size(-away)} too far into {each.takes.part}"
            yield Fault(where, what, do or f"Make {each.enters.part} shorter.")
        elif found.tip > each.tip + SLACK:
            what = f"{who} stays {size(found.tip)} clear in {each.takes.part}, not {size(each.tip)}"
            yield Fault(where, what, do or "Make it longer, or what takes it shallower.")


def clashes(parts: dict[str, Placed], among: Sequence[str] = ()) -> list[Clash]:
    """Every two parts whose wood fills the same space, all cuts made, with the block round all of that space.

    `among` keeps to some of them.  The parts are gone through along the axis that they are spread out on most, so that
    each is held against its neighbours only.
    """
    names = list(among or parts)
    blocks = {name: parts[name].stands.box(whole(parts[name].line.stock)) for name in names}
    own: dict[int, list[Box]] = {}

    def within(name: str, room: Box) -> list[Box]:
        """The blocks of wood of a part that reach into a space."""
        line, stands = parts[name]
        if id(line) not in own:
            own[id(line)] = wood(line)
        seen = stands.own(room)
        return [stands.box(each) for each in own[id(line)] if overlap(each, seen)]

    found = []
    for one, other in _neighbours(names, blocks):
        room = overlap(blocks[one], blocks[other])
        here = within(one, room) if room else []
        there = within(other, room) if room and here else []
        shared = [both for a in here for b in there if (both := overlap(a, b))]
        if shared:
            found.append(Clash(one, other, _round(shared)))
    return found


def _neighbours(names: Sequence[str], blocks: dict[str, Box]) -> list[tuple[str, str]]:
    """The pairs whose blocks overlap, in the order of the names."""
    if not names:
        return []

    def lengths(axis: int) -> Fraction:
        spread = max(blocks[name][axis + 1] for name in names) - min(blocks[name][axis] for name in names)
        return Fraction(sum(blocks[name][axis + 1] - blocks[name][axis] for name in names), max(spread, 1))

    axis = min((0, 2, 4), key=lengths)
    nth = {name: place for place, name in enumerate(names)}
    found: list[tuple[int, int]] = []
    open_: list[str] = []
    for name in sorted(names, key=lambda name: blocks[name][axis]):
        low = blocks[name][axis]
        open_ = [other for other in open_ if blocks[other][axis + 1] > low]
        found.extend(
            (min(nth[name], nth[other]), max(nth[name], nth[other]))
            for other in open_ if overlap(blocks[name], blocks[other])
        )  # fmt: skip
        open_.append(name)
    return [(names[one], names[other]) for one, other in sorted(found)]


def _round(boxes: Sequence[Box]) -> Box:
    """The block round several."""
    low = [min(box[axis] for box in boxes) for axis in (0, 2, 4)]
    high = [max(box[axis] for box in boxes) for axis in (1, 3, 5)]
    return Box(low[0], high[0], low[1], high[1], low[2], high[2])
