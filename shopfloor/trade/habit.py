"""What if a shop does it another way?  Its own numbers in place of the printed ones, where those are habits.

What is proposed and warned about goes by these; a document that is saved holds its sizes, and none of them changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from ..errors import ShopError
from .fact import AnyFact, Fact
from .length import Length, UnreadableLength, read, write_exact
from .part import Unit

__all__ = ["PRINTED", "BadHabit", "Habits", "read_habit", "written"]

Value = TypeVar("Value", int, Fraction)

TIMES = 8
"""So many times the printed number, or the most that the trade uses, is no habit but a slip of the keyboard."""


class BadHabit(ShopError):
    """A number that cannot be meant, or one that is none."""

    code = "bad-habit"


@dataclass(frozen=True)
class Habits:
    """The numbers that the shop has changed, by the keys of their facts: nanometres or shares."""

    changed: Mapping[str, int | Fraction] = field(default_factory=dict)

    def of(self, fact: Fact[Value], unit: Unit) -> Value:
        """What counts: the shop's own number, or the one that a shop thinking in `unit` begins with.

        >>> from .proportions import MORTISE_EXTRA
        >>> Habits({"mortise-extra-depth": 5}).of(MORTISE_EXTRA, Unit.MM), PRINTED.of(MORTISE_EXTRA, Unit.MM)
        (5, 1500000)
        """
        own = self.changed.get(fact.key)
        if own is None or not fact.changeable:
            return fact.used(unit)
        return round(own) if fact.unit == "nm" else own  # type: ignore[return-value]


PRINTED = Habits()
"""Nothing is changed."""


def read_habit(fact: AnyFact, text: str, unit: Unit) -> int | Fraction:
    """The number that was typed for a fact: a length, or a share like 2/5, 0.4 or 40 %.  Raises BadHabit."""
    text = text.strip()
    if not fact.changeable or isinstance(fact.value, str):
        raise BadHabit(f"{fact.name} is no habit of a shop", where=fact.key, do="It stays as it is.")
    value = _length(fact, text, unit) if fact.unit == "nm" else _share(fact, text)
    most = _most(fact)
    nothing = fact.range is not None and fact.range[0] <= 0
    if not (value >= 0 if nothing else value > 0) or not value <= most:
        do = f"It can be {'from nothing' if nothing else 'more than nothing,'} up to {written(fact, most, unit)}."
        raise BadHabit(f'"{text[:20]}" cannot be meant', where=fact.key, do=do)
    return value


def _most(fact: AnyFact) -> int | Fraction:
    """The largest that is no slip of the keyboard."""
    assert not isinstance(fact.value, str)
    if fact.unit != "nm":
        return Fraction(9, 10) if fact.value < 1 else 2 * Fraction(fact.value)
    used = fact.range[1] if fact.range else None
    return TIMES * (used if isinstance(used, int) else round(fact.value))


def written(fact: AnyFact, value: int | Fraction, unit: Unit) -> str:
    """A number of that fact as people read it, with its unit."""
    if fact.unit == "nm":
        return write_exact(round(value), unit.value)
    return f"{Fraction(value)} {fact.unit}"


def _length(fact: AnyFact, text: str, unit: Unit) -> Length:
    try:
        return read(text, unit)
    except UnreadableLength as err:
        raise BadHabit(err.what, where=fact.key, do=err.do) from err


def _share(fact: AnyFact, text: str) -> Fraction:
    number = text.removesuffix("%").strip().replace(",", ".")
    try:
        value = Fraction(number) if len(number) <= 12 else None
    except (ValueError, ZeroDivisionError):
        value = None
    if value is None or not text.isascii():
        raise BadHabit(f'"{text[:20]}" is no share', where=fact.key, do="Write it like 2/5, 0.4 or 40 %.")
    return value / 100 if text.endswith("%") else value
