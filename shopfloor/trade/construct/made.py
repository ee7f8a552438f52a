"""What does a construction give?  Assemblies, lines, joints, derived lengths and faults, gathered as they are made.

A construction lays out the part that enters and asks for the cut in the part that takes; here the cuts are turned into
features, parts that came out alike stay one line, and each joint gets its pair letter.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import count

from ..fault import Fault
from ..length import Length
from ..part import Assembly, Dado, Feature, Groove, Half, Hand, Joint, Line, Mortise, Part, Placement, Stock
from .derived import Derived
from .space import Cut, feature_of

__all__ = ["Built", "Gathered", "Meeting", "letters", "part_of"]

_ORDER: dict[type[Feature], int] = {Mortise: 0, Dado: 1, Groove: 2}
"""Cuts are listed as they are made: mortises first, and what crosses the grain before what runs along it."""


@dataclass(frozen=True)
class Meeting:
    """A joint and the clearances that it was laid out with: beyond the tip of what enters, and at its shoulder.

    `lettered` says whether its halves could be taken for another's, so that they need a pair letter.
    """

    key: str
    enters: Half
    takes: Half
    tip: Length
    shoulder: Length = 0
    lettered: bool = True


@dataclass(frozen=True)
class Built:
    """A construction worked out.  `joints` and `meetings` run side by side; `faults` says what was left out or does not
    meet and why, `warnings` what can be made as it is and may not be meant."""

    assemblies: tuple[Assembly, ...]
    lines: tuple[Line, ...]
    joints: tuple[Joint, ...]
    meetings: tuple[Meeting, ...]
    derived: tuple[Derived, ...]
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...] = ()

    @property
    def by_hand(self) -> tuple[Derived, ...]:
        """The lengths that were set by hand."""
        return tuple(each for each in self.derived if each.by_hand)


@dataclass
class Gathered:
    """What one assembly after the other adds.  Cuts and meetings are in the piece's own space."""

    assemblies: list[Assembly] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    meetings: list[Meeting] = field(default_factory=list)

    def add(self, other: Gathered) -> None:
        self.assemblies.extend(other.assemblies)
        self.lines.extend(other.lines)
        self.cuts.extend(other.cuts)
        self.meetings.extend(other.meetings)

    def meet(self, key: str, enters: str, takes: str, tip: Length, shoulder: Length = 0, lettered: bool = True) -> None:
        """A joint between two halves, each written "part/feature"."""
        self.meetings.append(Meeting(key, _half(enters), _half(takes), tip, shoulder, lettered))

    def built(self, derived: Iterable[Derived], faults: Iterable[Fault]) -> Built:
        """Everything together, cuts made and joints lettered."""
        cuts = defaultdict(list)
        for cut in self.cuts:
            cuts[cut.part].append(cut)
        stands = {assembly.key: assembly.stands for assembly in self.assemblies}
        lines = tuple(made for line in self.lines for made in _cut_in(line, cuts, stands[line.assembly]))
        return Built(
            tuple(self.assemblies), lines, tuple(self._joints()), tuple(self.meetings), tuple(derived), tuple(faults)
        )

    def _joints(self) -> Iterator[Joint]:
        number = {assembly.key: assembly.number for assembly in self.assemblies}
        stack = {part.key: number[line.assembly] for line in self.lines for part in line.parts}
        free = {each: letters() for each in number.values()}
        for each in self.meetings:
            of = stack[each.enters.part]
            letter = f"{of}{next(free[of])}" if each.lettered else ""
            yield Joint(each.key, each.enters, each.takes, letter)


def letters() -> Iterator[str]:
    """A, B, ... Z, AA, AB, ...; I and O are left out, since they read as 1 and 0.

    >>> found = letters(); "".join(next(found) for _ in range(24)), next(found)
    ('ABCDEFGHJKLMNPQRSTUVWXYZ', 'AA')
    """
    alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    for nth in count():
        text, rest = "", nth
        while rest >= 0:
            text, rest = alphabet[rest % len(alphabet)] + text, rest // len(alphabet) - 1
        yield text


def part_of(key: str, place: str, stands: Placement, outer: Placement | None = None) -> Part:
    """A part that stands in its assembly, or in a frame that itself stands by `outer`; its hand follows from it."""
    final = stands.within(outer) if outer else stands
    return Part(key, place, Hand(final.hand), final)


def _half(text: str) -> Half:
    part, _, feature = text.partition("/")
    return Half(part, feature)


def _cut_in(line: Line, cuts: dict[str, list[Cut]], outer: Placement) -> Iterator[Line]:
    """The line with the cuts that its parts must take; several lines if the parts differ now."""
    alike: dict[tuple[Feature, ...], list[Part]] = {}
    for part in line.parts:
        made = [_made(cut, part, outer, line.stock) for cut in cuts.get(part.key, ())]
        alike.setdefault(tuple(sorted(made, key=lambda each: _ORDER[type(each)])), []).append(part)
    for taken, parts in alike.items():
        key = line.key if len(alike) == 1 else parts[0].key.replace(".", "-")
        yield replace(line, key=key, features=(*line.features, *taken), parts=tuple(parts))


def _made(cut: Cut, part: Part, outer: Placement, stock: Stock) -> Feature:
    assert part.stands is not None, f"{part.key} stands nowhere and cannot take a cut"
    return feature_of(cut, part.stands.within(outer), stock)
