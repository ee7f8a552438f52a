"""Which sizes of a construction would be others by what the shop has changed on its page of numbers?

They are offered and never taken by themselves: what is saved keeps its sizes until somebody asks for the new ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, is_dataclass
from typing import Any

from shopfloor.trade.construct.compose import Construction
from shopfloor.trade.construct.habitual import Ways, habitual
from shopfloor.trade.document import length_text
from shopfloor.trade.part import Unit
from shopfloor.trade.record import hints, is_length
from shopfloor.web.design_words import label

__all__ = ["Other", "by_habits", "others"]


@dataclass(frozen=True)
class Other:
    """A size that would be another: what it is called, where in the construction (several places that are alike are
    told together), and from what to what, exact, since a habit may lie off the tape."""

    says: str
    places: tuple[str, ...]
    was: str
    now: str


def by_habits(construction: Construction, ways: Ways) -> Construction:
    """The construction with the sizes of every changed habit begun anew."""
    return habitual(construction, ways, ways.habits.changed.keys())


def others(construction: Construction, ways: Ways) -> tuple[Other, ...]:
    """The sizes that differ, in the order of the form; empty if no habit is changed."""
    if not ways.habits.changed:
        return ()
    alike: dict[tuple[str, str, str], list[str]] = {}
    for way, was, now in _different(construction, by_habits(construction, ways), (), ways.unit):
        place, says = way[:-2], ", ".join(way[-2:])
        alike.setdefault((says[:1].upper() + says[1:], was, now), []).extend(place[:1])
    return tuple(Other(says, tuple(places), was, now) for (says, was, now), places in alike.items())


def _different(old: Any, new: Any, way: tuple[str, ...], unit: Unit) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """Each size that differs: the labels on the way to it, what it was and what it would be."""
    kind: type = type(old)
    for name, hint in hints(kind).items():
        was, now = getattr(old, name), getattr(new, name)
        if was == now:
            continue
        word = label(kind, name)
        on = (*way, f"{word[:1].lower()}{word[1:]}")
        if is_dataclass(was):
            yield from _different(was, now, on, unit)
        else:
            first, then = (length_text(each, unit) if is_length(hint) else str(each) for each in (was, now))
            yield on, first, then
