"""Do mates meet when the piece is put together?  Every joint measured in space, and every two parts held together.

What a construction lays out meets by construction; a length set by hand, or a document written by hand, may not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import combinations
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
    """Two parts that would fill the same space."""

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


def misfits(built: Built, size: Callable[[Length], str]) -> Iterator[Fault]:
    """Joints that do not meet as they were laid out, because a length was set by hand; `size` writes a length."""
    parts = placed(built.assemblies, built.lines)
    for each in built.meetings:
        found = fit(each.enters, each.takes, parts)
        who = f'"{each.enters.feature}" of {each.enters.part}'
        where = f'joint "{each.key}"'
        away = found.shoulder - each.shoulder
        if found.tip < 0:
            yield Fault(where, f"{who} is {size(-found.tip)} too long for {each.takes.part}", "Make it shorter.")
        if away > SLACK:
            what = f"the shoulder of {who} stands {size(away)} off {each.takes.part}"
            yield Fault(where, what, f"Make {each.enters.part} longer.")
        elif away < -SLACK:
            what = f"the shoulder of {who} would reach {size(-away)} too far into {each.takes.part}"
            yield Fault(where, what, f"Make {each.enters.part} shorter.")
        elif found.tip > each.tip + SLACK:
            what = f"{who} stays {size(found.tip)} clear in {each.takes.part}, not {size(each.tip)}"
            yield Fault(where, what, "Make it longer, or what takes it shallower.")


def clashes(parts: dict[str, Placed], among: Sequence[str] = ()) -> list[Clash]:
    """Every two parts whose wood fills the same space, all cuts made; `among` keeps to some of them."""
    names = list(among or parts)
    blocks = {name: parts[name].stands.box(whole(parts[name].line.stock)) for name in names}
    solid: dict[str, list[Box]] = {}

    def of(name: str) -> list[Box]:
        if name not in solid:
            line, stands = parts[name]
            solid[name] = [stands.box(each) for each in wood(line)]
        return solid[name]

    found = []
    for one, other in combinations(names, 2):
        if overlap(blocks[one], blocks[other]) is None:
            continue
        shared = next((both for a in of(one) for b in of(other) if (both := overlap(a, b))), None)
        if shared:
            found.append(Clash(one, other, shared))
    return found
