"""How does a record become a form, and a form a record again?  Read from the record's own annotations.

A field of the form is named by its way through the record: "left.frame.tenon.length", "features.0.depth".  What was
typed and cannot be read stays in its field, with what is wrong beside it; nothing else is lost.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, is_dataclass, replace
from enum import StrEnum
from typing import Any, get_args, get_origin

from shopfloor.trade.construct.derived import Override, StackName
from shopfloor.trade.construct.habitual import Ways
from shopfloor.trade.construct.rechosen import rechosen
from shopfloor.trade.construct.starters import starter
from shopfloor.trade.document import length_reader, length_text
from shopfloor.trade.fault import Fault
from shopfloor.trade.keys import Keys
from shopfloor.trade.length import Length
from shopfloor.trade.part import Unit
from shopfloor.trade.record import KINDED, Reader, default, hints, is_length, kinds, optional, own_fields
from shopfloor.web.design_words import label, legend

__all__ = ["Entry", "Group", "form_of", "read_form"]

APART = ";"
"""Parts the lengths of a list: a comma may stand in a number."""


@dataclass(frozen=True)
class Entry:
    """One thing to type or to choose: `options` for a choice, `says` is what is wrong with it.  `taken` is what the
    record has, which differs from `value` if what was typed could not be read."""

    name: str
    label: str
    value: str
    kind: str = "text"
    options: tuple[str, ...] = ()
    says: str = ""
    taken: str = ""


@dataclass(frozen=True)
class Group:
    """What belongs together.  `there` is None unless it may be left out; `add` are the kinds that can be put into a
    list, and `listed` says that this is one item of a list, which can be taken out.  `says` is what is wrong with it as
    a whole."""

    name: str
    label: str
    items: tuple[Entry | Group, ...]
    there: bool | None = None
    add: tuple[str, ...] = ()
    listed: bool = False
    says: str = ""

    @property
    def wrong(self) -> bool:
        """Whether something is wrong with it or in it."""
        return bool(self.says) or any(item.wrong if isinstance(item, Group) else bool(item.says) for item in self.items)


# --- out ---------------------------------------------------------------------------------------------------------


def form_of(
    record: Any, unit: Unit, hidden: frozenset[str], typed: Mapping[str, str], faults: Mapping[str, str]
) -> tuple[Entry | Group, ...]:
    """The form of a record, without the fields in `hidden`.  `typed` and `faults` are those of a reading that failed,
    by field name; what was typed stands there again."""
    writer = _Writer(unit, typed, faults)
    return tuple(writer.items(record, "", hidden))


class _Writer:
    def __init__(self, unit: Unit, typed: Mapping[str, str], faults: Mapping[str, str]) -> None:
        self.unit, self.typed, self.faults = unit, typed, faults

    def items(self, record: Any, at: str, hidden: frozenset[str] = frozenset()) -> Iterator[Entry | Group]:
        kind: type = type(record)
        for name, hint in hints(kind).items():
            if name not in hidden and not _set_elsewhere(hint):
                yield self.item(hint, getattr(record, name), f"{at}{name}", label(kind, name))

    def item(self, hint: Any, value: Any, name: str, says: str) -> Entry | Group:
        inner = optional(hint)
        if inner is not None and is_dataclass(inner):
            items = tuple(self.items(value, f"{name}.")) if value is not None else ()
            return Group(name, says, items, there=value is not None, says=self.faults.get(name, ""))
        if is_dataclass(hint):
            return Group(name, says, tuple(self.items(value, f"{name}.")), says=self.faults.get(name, ""))
        if get_origin(hint) is tuple and (several := kinds(get_args(hint)[0])):
            listed = (
                Group(f"{name}.{nth}", f"{legend(type(each))} {each.key}".strip(),
                      tuple(self.items(each, f"{name}.{nth}.")), listed=True)
                for nth, each in enumerate(value)
            )  # fmt: skip
            return Group(name, says, tuple(listed), add=tuple(several), says=self.faults.get(name, ""))
        return self.entry(hint, value, name, says)

    def entry(self, hint: Any, value: Any, name: str, says: str) -> Entry:
        kind, text = "text", str(value)
        options: tuple[str, ...] = ()
        if is_length(hint):
            kind, text = "length", length_text(value, self.unit)
        elif hint is int:
            kind = "number"
        elif get_origin(hint) is tuple:
            inner = get_args(hint)[0]
            kind = "lengths" if is_length(inner) else "numbers"
            write: Callable[[Any], str] = (lambda nm: length_text(nm, self.unit)) if kind == "lengths" else str
            text = f"{APART} ".join(write(each) for each in value)
        elif isinstance(hint, type) and issubclass(hint, StrEnum):
            kind, text, options = "choice", value.value, tuple(each.value for each in hint)
        if kind in ("length", "lengths"):
            text = text.replace(f" {self.unit}", "")
        return Entry(name, says, self.typed.get(name, text), kind, options, self.faults.get(name, ""), text)


# --- in ----------------------------------------------------------------------------------------------------------


def read_form(
    record: Any, form: Mapping[str, str], unit: Unit, hidden: frozenset[str], ways: Ways | None = None
) -> tuple[Any, dict[str, str]]:
    """The record with what was typed, and what is wrong by field name; the record is None if anything is.

    What stands in `hidden`, or in no field of the form, stays as it is; what is added begins by the shop's `ways`.
    """
    reader = _Reader(form, unit, ways)
    made = reader.record(type(record), record, "", hidden)
    faults = {fault.where: _sentence(fault) for fault in reader.faults.faults}
    return (None if faults else made), faults


class _Reader:
    def __init__(self, form: Mapping[str, str], unit: Unit, ways: Ways | None) -> None:
        self.form, self.unit, self.ways = form, unit, ways
        self.around: tuple[Any, ...] = ()
        self.faults = Reader(length_reader(unit))

    def record(self, kind: type, before: Any, at: str, hidden: frozenset[str] = frozenset()) -> Any:
        found = {}
        outside, self.around = self.around, (before, *self.around)
        for name, hint in hints(kind).items():
            was = getattr(before, name, MISSING)
            first = default(own_fields(kind)[name])
            left_empty = first is not MISSING and is_length(hint) and self.form.get(f"{at}{name}", "0").strip() == ""
            if left_empty:
                value = first
            else:
                value = was if name in hidden or _set_elsewhere(hint) else self.value(hint, was, f"{at}{name}")
            if value is MISSING:
                value = first
            if value is not MISSING:
                found[name] = value
        self.around = outside
        made = self.faults.made(kind, found, at.removesuffix("."))
        return rechosen(before, made, self.ways or Ways(self.unit), outside)

    def value(self, hint: Any, was: Any, name: str) -> Any:
        inner = optional(hint)
        if inner is not None and is_dataclass(inner):
            if f"{name}.there" not in self.form:
                return was if f"{name}.asked" not in self.form else None
            if was is None or was is MISSING:
                assert isinstance(inner, type)
                return starter(inner, self.unit, self.ways, self.around)
            return self.record(type(was), was, f"{name}.")
        if is_dataclass(hint):
            assert isinstance(hint, type)
            return self.record(hint, was, f"{name}.")
        if get_origin(hint) is tuple and (several := kinds(get_args(hint)[0])):
            return self.listed(several, was, name)
        if name not in self.form:
            return was
        return self.typed(hint, self.form[name].strip(), name)

    def listed(self, several: Mapping[str, type], was: Any, name: str) -> tuple[Any, ...]:
        kept = [
            self.record(type(each), each, f"{name}.{nth}.")
            for nth, each in enumerate(() if was is MISSING else was)
            if f"{name}.{nth}.remove" not in self.form
        ]
        added = several.get(self.form.get(f"{name}.add", ""))
        if added:
            keys = {str(getattr(each, "key", "")) for each in kept}
            kept.append(starter(added, self.unit, self.ways, self.around, key=Keys(keys).new(KINDED[added], "cut")))
        return tuple(kept)

    def typed(self, hint: Any, text: str, name: str) -> Any:
        if is_length(hint) or hint is int:
            return self.faults.value(hint, text if is_length(hint) else _number(text), name)
        if get_origin(hint) is tuple:
            inner = get_args(hint)[0]
            parts = [each.strip() for each in text.split(APART)] if text else []
            read = [self.faults.value(inner, each if is_length(inner) else _number(each), name) for each in parts]
            return tuple(read)
        return self.faults.value(hint, text, name)


def _number(text: str) -> Any:
    return int(text) if text.lstrip("-").isdecimal() and len(text) < 17 else text


def _set_elsewhere(hint: Any) -> bool:
    """What is set by hand where it is shown: a derived length, and the name of a stack."""
    return get_origin(hint) is tuple and get_args(hint)[0] in (Override, StackName)


def _sentence(fault: Fault) -> str:
    return str(replace(fault, where=""))


def lengths_set(overrides: tuple[Override, ...], key: str, nm: Length | None) -> tuple[Override, ...]:
    """The lengths set by hand with one more, or one other, or (if it is None) without it."""
    kept = tuple(each for each in overrides if each.key != key)
    return kept if nm is None else (*kept, Override(key, nm))
