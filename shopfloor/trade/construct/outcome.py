"""What happens when one assembly of a construction cannot be made?  It is left out and said; the others are made."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from ..fault import Fault
from ..part import Unit
from .clearances import Clearances
from .derived import Impossible, Override, Working
from .made import Built, Gathered
from .mates import misfits
from .outside import Asked, other_sizes

__all__ = ["Outcome", "called"]

Made = TypeVar("Made")


class Outcome:
    """A construction on its way: `work` derives the lengths, `prefix` begins all keys, stacks count from `number`."""

    def __init__(
        self, key: str, unit: Unit, number: int, overrides: Iterable[Override], fit: Clearances | None = None
    ) -> None:  # fmt: skip
        self.prefix = f"{key}-" if key else ""
        self.work = Working(unit, overrides, self.prefix)
        self.number = number
        self.out = Gathered()
        if fit and self.tried(lambda: self._sound(fit)):
            self.work.fit = fit

    def add(self, make: Callable[[int], Gathered], stacks: int = 1) -> bool:
        """Make an assembly with the next number, or say why it cannot be made."""
        made = self.tried(lambda: make(self.number))
        if made is None:
            return False
        self.number += stacks
        self.out.add(made)
        return True

    def tried(self, make: Callable[[], Made]) -> Made | None:
        """What is made, or None and a fault."""
        try:
            return make()
        except Impossible as err:
            where = err.where if err.where.startswith(self.prefix) else f"{self.prefix}{err.where}"
            self.work.faults.append(Fault(where, err.what, err.do))
            return None

    def built(self, *asked: Asked) -> Built:
        """Everything together, with what does not meet because a length was set by hand, and which of the outside sizes
        that were `asked` came out another."""
        found = self.out.built(self.work.derived, [*self.work.faults, *self._unused()])
        warnings = () if found.faults else tuple(other_sizes(found, asked, self.prefix, self.work.size))
        return replace(found, faults=(*found.faults, *misfits(found, self.work.size, self.prefix)), warnings=warnings)

    def _sound(self, fit: Clearances) -> bool:
        for name, each in vars(fit).items():
            self.work.at_least(f"{self.prefix}fit.{name}", "a clearance of", each, 0, "to go together")
        return True

    def _unused(self) -> Iterator[Fault]:
        """Lengths set by hand that replace nothing; what was left out may have been meant."""
        known = {each.key for each in self.work.derived}
        for key in self.work.by_hand:
            if key not in known and not self.work.faults:
                near = difflib.get_close_matches(key, known, 1)
                do = f"Remove it, or write {near[0]}." if near else "Remove it."
                yield Fault(key, "nothing is derived by this name, so the length set by hand does nothing", do)


def called(key: str, otherwise: str, kind: str = "") -> str:
    """What a stack is called: by the key that its maker gave, or, where that only says its kind, `otherwise`.

    >>> called("hall-shelf", "Shelf", "shelf"), called("shelf-2", "Shelf", "shelf"), called("", "Top")
    ('Hall shelf', 'Shelf 2', 'Top')
    """
    kind = (kind or otherwise).replace(" ", "-").lower()
    named, _, nth = key.rpartition("-")
    if key in ("", kind):
        return otherwise
    if named == kind and nth.isdecimal():
        return f"{otherwise} {nth}"
    words = key.replace("-", " ")
    return words[:1].upper() + words[1:]
