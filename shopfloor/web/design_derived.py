"""What follows from a construction, told apart: each length under what it belongs to, with its line and which size.

"Left side: top rail, length 15 1/4 = opening 13 1/2 + 2 tenons of 7/8".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shopfloor.trade.construct.derived import Derived
from shopfloor.trade.part import Line
from shopfloor.trade.route import Said
from shopfloor.web.design_faults import section_of
from shopfloor.web.design_form import Entry, Group

__all__ = ["Follows", "Length", "followings"]

WHOLE = "As a whole"
SIZES = ("thickness", "width", "length", "depth", "height")


@dataclass(frozen=True)
class Length:
    """One derived length: `says` with the line's name in it, and `called`, what is set where it is set by hand."""

    derived: Derived
    says: Said
    called: str


@dataclass(frozen=True)
class Follows:
    """The lengths that belong together, under the name of that part of the form."""

    called: str
    lengths: tuple[Length, ...]

    @property
    def count(self) -> int:
        return len(self.lengths)


def followings(
    derived: Iterable[Derived], form: Sequence[Entry | Group], lines: Sequence[Line], prefix: str
) -> tuple[Follows, ...]:
    """The derived lengths of a construction whose keys begin with `prefix`, grouped, in their order."""
    names = {_numberless(line.key.removeprefix(prefix)): line.name for line in lines}
    found: dict[str, list[Length]] = {}
    for each in derived:
        section = section_of(each.key, form)
        called = section.label if section else WHOLE
        head, _, size = each.key.rpartition(".")
        name = names.get(_numberless(head), "") if head else ""
        says = _named(each.said, name, size)
        of = str(says[0]).strip()
        if section and of.partition(",")[0] != called:
            of = f"{called}, {of[:1].lower()}{of[1:]}"
        found.setdefault(called, []).append(Length(each, says, of))
    return tuple(Follows(called, tuple(lengths)) for called, lengths in found.items())


def _named(said: Said, name: str, size: str) -> Said:
    """The sum with the name of its line before it; the size is named where the sum says no more than the line does."""
    first = str(said[0]).strip()
    if not name:
        name, first = f"{first[:1].upper()}{first[1:]}", ""
    if not name.lower().endswith(first.lower()):
        return (f"{name}, {first} ", *said[1:])
    return (f"{name}, {size} " if size in SIZES else f"{name} ", *said[1:])


def _numberless(key: str) -> str:
    return "-".join(word for word in key.replace(".", "-").split("-") if not word.isdecimal())
