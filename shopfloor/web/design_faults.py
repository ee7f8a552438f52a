"""Which field does a fault of a construction mean, and what cannot be made because of it?

A fault says where it is in the words of the construction: "left-tenon.thickness", and the field is called
"left.frame.tenon.thickness".  Whatever names no field is told all the same, with the part of the form that it is about.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopfloor.trade.construct.derived import Derived
from shopfloor.trade.fault import Fault
from shopfloor.web.design_form import Entry, Group

__all__ = ["Missing", "Place", "Wrong", "marks", "missing", "places", "section_of", "wrongs"]

BARELY = re.compile(r"(.+?) must be more than ")
"""How a derived length says which size is too small."""


@dataclass(frozen=True)
class Place:
    """A field or a group of a form: its name and the labels on the way to it."""

    name: str
    labels: tuple[str, ...]
    group: bool

    @property
    def words(self) -> tuple[str, ...]:
        return _words(self.name)


@dataclass(frozen=True)
class Wrong:
    """One fault as the page tells it.

    `about` is what it is about ("Left side"), `made` whether that is made nevertheless.  `field` is the field or group
    that it names and `path` the labels on the way there; `at` is the element to go to.  Each may be empty.
    """

    about: str
    made: bool
    says: str
    field: str = ""
    path: str = ""
    at: str = ""

    def __str__(self) -> str:
        return f"{self.about}{'' if self.made else ' cannot be made'}: {self.says}"


@dataclass(frozen=True)
class Missing:
    """What was chosen and is not made: its name in the form, what it is called, and why, if that is known."""

    section: str
    called: str
    wrong: Wrong | None


def places(form: Iterable[Entry | Group], labels: tuple[str, ...] = ()) -> Iterator[Place]:
    """Every field and group of a form, each group before what it holds."""
    for item in form:
        yield Place(item.name, (*labels, item.label), isinstance(item, Group))
        if isinstance(item, Group):
            yield from places(item.items, (*labels, item.label))


def section_of(key: str, form: Iterable[Entry | Group]) -> Group | None:
    """The group of the form that a key of the construction (without its prefix) is about.

    >>> form = (Group("web_frames", "Web frames", ()), Group("left", "Left side", ()))
    >>> section_of("web-1.front-rail", form).label, section_of("clear-width", form)
    ('Web frames', None)
    """
    first = _words(key)[:1]
    return next((item for item in form if isinstance(item, Group) and _words(item.name)[:1] == first), None)


def wrongs(
    name: str, called: str, form: Sequence[Entry | Group], derived: Sequence[Derived], faults: Iterable[Fault],
    prefix: str, stacks: Iterable[str],
) -> tuple[Wrong, ...]:  # fmt: skip
    """The faults of the construction `name`, whose keys begin with `prefix`; `stacks` are the keys of those made."""
    made = {_words(_own(key, prefix))[:1] for key in stacks}
    known = {each.key: each for each in derived}
    found: list[Wrong] = []
    for fault in faults:
        key = _own(fault.where, prefix)
        section = section_of(key, form)
        about, stands = called, bool(made)
        if made and section:
            about, stands = section.label, _words(section.name)[:1] in made
        says = _sentence(fault)
        if key in known and known[key].by_hand:
            by_hand = Wrong(about, stands, says, f"by-hand.{key}", "", f"{name}-by-hand.{key}")
            if all(each.field != by_hand.field for each in found):  # at both ends it is one length
                found.append(by_hand)
            continue
        place = _named(key, form, section, fault, derived=key in known)
        field = place.name if place else ""
        if place is None and section and section.there is not False:
            place = Place(section.name, (section.label,), group=True)
        at = f"{name}-{'of-' if place.group else ''}{place.name}" if place else ""
        found.append(Wrong(about, stands, says, field, ", ".join(place.labels) if place else "", at))
    return tuple(found)


def missing(
    called: str, form: Iterable[Entry | Group], told: Sequence[Wrong], prefix: str, stacks: Sequence[str]
) -> dict[int, list[Missing]]:
    """What was chosen and is not made, by how many of the made stacks stand before it; nothing unless something is
    wrong.  Of a construction that gives no stack at all, itself."""
    if not told:
        return {}
    if not stacks:
        return {0: [Missing("", called, told[0])]}
    groups = [item for item in form if isinstance(item, Group)]
    nth = {_words(item.name)[:1]: place for place, item in enumerate(groups)}
    standing: list[int] = []
    for key in stacks:
        standing.append(nth.get(_words(_own(key, prefix))[:1], max(standing, default=-1)))
    found: dict[int, list[Missing]] = {}
    for place, item in enumerate(groups):
        why = next((each for each in told if not each.made and each.about == item.label), None)
        if place in standing or item.there is False or (why is None and not item.there):
            continue
        before = sum(1 for each in standing if each < place)
        found.setdefault(before, []).append(Missing(item.name, item.label, why))
    return found


def marks(told: Iterable[Wrong]) -> Mapping[str, str]:
    """The sentence for each field that a fault names; of several the first."""
    found: dict[str, str] = {}
    for each in told:
        if each.field:
            found.setdefault(each.field, each.says)
    return found


def _named(
    key: str, form: Sequence[Entry | Group], section: Group | None, fault: Fault, *, derived: bool
) -> Place | None:
    """The field that a fault names, if it names one: all words of its place, in their order, down to the last."""
    words = _words(key)
    every = list(places(form))
    if not derived:
        first = _words(section.name)[:1] if section else ()
        fitting = [each for each in every if _within(words, each.words) and each.words[:1] == (first or each.words[:1])]
        if fitting:
            return min(fitting, key=lambda each: len(each.words))
    small = BARELY.match(fault.do)
    wanted = _words(small[1].lower().replace(" ", "-")) if small else words[-1:]
    top = [each for each in every if len(each.labels) == 1 and not each.group and each.words == wanted]
    inside = [each for each in every if section and small and each.name.startswith(f"{section.name}.")
              and not each.group and each.words[-len(wanted):] == wanted]  # fmt: skip
    # "Height must be more" of a frame is not that of the piece; that of the legs, which are always there, is.
    return next(iter(inside or (() if section and section.there else top)), None) if section is None or small else None


def _within(words: tuple[str, ...], others: tuple[str, ...]) -> bool:
    """Whether all words occur among others in their order, the last one at the end."""
    if words[-1:] != others[-1:]:
        return False
    left = iter(others)
    return all(word in left for word in words)


def _own(key: str, prefix: str) -> str:
    own = key.removeprefix(prefix)
    return own.removeprefix(prefix.removesuffix("-")).lstrip(".-") if own == key and prefix else own


def _words(name: str) -> tuple[str, ...]:
    """The words of a name without its numbers, each in the singular."""
    return tuple(word.removesuffix("s") for word in re.split(r"[-._ ]", name) if word and not word.isdecimal())


def _sentence(fault: Fault) -> str:
    says = f"{fault.what}. {fault.do}".strip() if fault.do else f"{fault.what}."
    return says[:1].upper() + says[1:]
