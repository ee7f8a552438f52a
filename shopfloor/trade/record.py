"""How does a dataclass become plain values and come back?  One rule for every record, read from its annotations.

Plain values are dictionaries, lists, texts and whole numbers.  Fields that stand at their default are left out, but
for the few in `ALWAYS`.  A feature says its `kind` first.  How a length is written is the caller's: JSON holds whole
nanometres, TOML holds texts.
"""

from __future__ import annotations

import difflib
import re
import types
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from .construct.compose import CONSTRUCTIONS, Construction
from .fault import Fault
from .part import FEATURES, Feature, Job, Placement

MOST = 2**53 - 1
"""The largest whole number that JavaScript holds exactly; as a length it is 9 007 km."""

ALWAYS = {(Job, "schema"), (Job, "unit"), (Job, "denominator")}
"""Written even at their default, so that a document says how it is to be read."""

KINDED: dict[type, str] = {made: kind for kind, made in (FEATURES | CONSTRUCTIONS).items()}
"""The records of which there are several kinds in one place; each says its kind first."""

ONE = {
    "assemblies": "assembly", "lines": "line", "parts": "part", "features": "feature", "joints": "joint",
    "constructions": "construction", "overrides": "override", "names": "name",
}  # fmt: skip
"""What one item of a list is called where a fault names its place."""

CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")
"""What no name or note may hold: it cannot be printed, and half of it no file can keep."""

_BAD: Any = object()
"""Stands where a value could not be read, until the faults are raised."""


@cache
def hints(record: type) -> dict[str, Any]:
    """The annotations of a dataclass by field name, in their order."""
    # part.py cannot name the constructions, which are made of its own words.
    found = get_type_hints(record, localns={"Construction": Construction}, include_extras=True)
    return {each.name: found[each.name] for each in fields(record)}


@cache
def own_fields(record: type) -> dict[str, Field[Any]]:
    """The fields of a dataclass by name, in their order."""
    return {each.name: each for each in fields(record)}


def default(each: Field[Any]) -> Any:
    """What a field holds when nothing is said; MISSING if something must be."""
    return each.default if each.default_factory is MISSING else each.default_factory()


def is_length(hint: Any) -> bool:
    return get_origin(hint) is Annotated and get_args(hint)[1] == "nm"


def kinds(hint: Any) -> dict[str, type]:
    """The records of a hint that stands for several kinds, each by its kind; empty for any other hint."""
    if get_origin(hint) in (Union, types.UnionType):
        for several, by_kind in ((Feature, FEATURES), (Construction, CONSTRUCTIONS)):
            if set(get_args(hint)) == set(get_args(several)):
                return dict(by_kind)
    return {}


def optional(hint: Any) -> Any:
    """What `X | None` holds when it holds something, or None if the hint is not of that form."""
    if get_origin(hint) in (Union, types.UnionType):
        rest = [each for each in get_args(hint) if each is not types.NoneType]
        if len(rest) == 1 and len(get_args(hint)) == 2:
            return rest[0]
    return None


# --- out ---------------------------------------------------------------------------------------------------------


def plain(value: Any, length: Callable[[int], Any], hint: Any = None) -> Any:
    """`value` as plain values; `length` writes each length."""
    if is_length(hint):
        return length(value)
    if is_dataclass(value) and not isinstance(value, type):
        kind = type(value)
        written: dict[str, Any] = {"kind": KINDED[kind]} if kind in KINDED else {}
        for name, each in own_fields(kind).items():
            held = getattr(value, name)
            if held != default(each) or (kind, name) in ALWAYS:
                written[name] = plain(held, length, hints(kind)[name])
        return written
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, tuple):
        inner = get_args(hint)
        each_hint = [inner[0]] * len(value) if inner[-1] is Ellipsis else inner
        return [plain(item, length, own) for item, own in zip(value, each_hint, strict=True)]
    return dict(value) if isinstance(value, Mapping) else value


# --- in ----------------------------------------------------------------------------------------------------------


class Reader:
    """Reads records out of plain values and keeps every fault it meets; `length` reads each length.

    `length` is given the plain value and returns nanometres, or raises ValueError with what is wrong and what would
    be accepted.
    """

    def __init__(self, length: Callable[[Any], int]) -> None:
        self.length = length
        self.faults: list[Fault] = []

    def record(self, kind: type, data: Any, where: str) -> Any:
        """One `kind` out of a dictionary; something unusable, and faults, if it cannot be read."""
        if not isinstance(data, Mapping):
            return self._bad(where, f"{_shown(data)} is not a table of fields", "")
        return self.made(kind, self.read_fields(kind, data, where), where)

    def read_fields(self, kind: type, data: Mapping[str, Any], where: str) -> dict[str, Any]:
        """The fields of a `kind` that `data` gives, each read; a field that it must not hold is a fault."""
        known = hints(kind)
        found = {}
        for name, value in data.items():
            if name == "kind" and kind in KINDED:
                continue
            if name not in known:
                near = difflib.get_close_matches(str(name), known, 1)
                do = f"Did you mean {near[0]!r}?" if near else f"It may hold: {', '.join(known)}."
                self._bad(where, f"there is no field {_shown(name)} in a {kind.__name__.lower()}", do)
            else:
                found[name] = self.value(known[name], value, _in(where, name), name)
        return found

    def made(self, kind: type, found: dict[str, Any], where: str) -> Any:
        missing = [n for n, each in own_fields(kind).items() if default(each) is MISSING and n not in found]
        for name in missing:
            self._bad(where, f"there is no {name!r}", f"A {kind.__name__.lower()} needs one.")
        if missing or any(value is _BAD for value in found.values()):
            return _BAD
        made = kind(**found)
        if isinstance(made, Placement):
            try:
                made.directions()
            except ValueError as err:
                return self._bad(_in(where, "axes"), str(err), "")
        return made

    def value(self, hint: Any, value: Any, where: str, name: str = "") -> Any:
        if is_length(hint):
            return self._length(value, where)
        if several := kinds(hint):
            return self._of_kind(several, value, where)
        inner = optional(hint)
        if inner is not None:
            return self.value(inner, value, where, name)
        if get_origin(hint) is tuple:
            return self._many(get_args(hint), value, where, name)
        if get_origin(hint) is dict:
            return self._texts(value, where)
        if is_dataclass(hint):
            assert isinstance(hint, type)
            return self.record(hint, value, where)
        if isinstance(hint, type) and issubclass(hint, StrEnum):
            allowed = [each.value for each in hint]
            if value in allowed and isinstance(value, str):
                return hint(value)
            return self._bad(where, f"{_shown(value)} is not known here", f"It can be: {', '.join(allowed)}.")
        if hint is int:
            if isinstance(value, int) and not isinstance(value, bool) and abs(value) <= MOST:
                return value
            return self._bad(where, f"{_shown(value)} is not a whole number", "Write it like 12.")
        assert hint is str, f"no rule for {hint}"
        return self._text(value, where)

    def _length(self, value: Any, where: str) -> Any:
        try:
            nm = self.length(value)
        except ValueError as err:
            what, _, do = str(err).partition("\n")
            return self._bad(where, what, do)
        if abs(nm) > MOST:
            return self._bad(where, f"{_shown(value)} is longer than any board", "Check the number and its unit.")
        return nm

    def _text(self, value: Any, where: str) -> Any:
        if not isinstance(value, str):
            return self._bad(where, f"{_shown(value)} is not a text", "Write it in quotes.")
        if CONTROL.search(value):
            return self._bad(where, f"{_shown(value)} holds a character that cannot be printed", "Leave it out.")
        return value

    def _of_kind(self, several: Mapping[str, type], value: Any, where: str) -> Any:
        if not isinstance(value, Mapping):
            return self._bad(where, f"{_shown(value)} is not a table of fields", "")
        kind = value.get("kind")
        if not isinstance(kind, str) or kind not in several:
            one = "feature" if several.keys() == FEATURES.keys() else "construction"
            what = f"{_shown(kind)} is not a kind of {one}" if "kind" in value else "there is no 'kind'"
            return self._bad(where, what, f"It can be: {', '.join(several)}.")
        return self.record(several[kind], value, where)

    def _many(self, inner: tuple[Any, ...], value: Any, where: str, name: str) -> Any:
        if not isinstance(value, Sequence) or isinstance(value, str):
            return self._bad(where, f"{_shown(value)} is not a list", "Write it in square brackets.")
        if inner[-1] is not Ellipsis and len(value) != len(inner):
            return self._bad(where, f"{len(value)} values stand here", f"There must be {len(inner)}.")
        each_hint = [inner[0]] * len(value) if inner[-1] is Ellipsis else list(inner)
        outer = where.removesuffix(name).removesuffix(", ")
        read = [
            self.value(own, item, _in(outer, _named(ONE.get(name, name), item, index)))
            for index, (own, item) in enumerate(zip(each_hint, value, strict=True))
        ]
        return _BAD if any(item is _BAD for item in read) else tuple(read)

    def _texts(self, value: Any, where: str) -> Any:
        if not isinstance(value, Mapping):
            return self._bad(where, f"{_shown(value)} is not a table of texts", "")
        read = {self._text(key, where): self._text(text, _in(where, str(key))) for key, text in value.items()}
        return _BAD if _BAD in read or _BAD in read.values() else read

    def _bad(self, where: str, what: str, do: str) -> Any:
        self.faults.append(Fault(where, what, do))
        return _BAD


def _in(where: str, name: str) -> str:
    return f"{where}, {name}" if where else name


def _named(one: str, item: Any, index: int) -> str:
    """The place of one item of a list, by its key if it has one, else by its number from 1."""
    key = item.get("key") if isinstance(item, Mapping) else None
    return f'{one} "{_cut(key)}"' if isinstance(key, str) and key else f"{one} {index + 1}"


def _shown(value: Any) -> str:
    """A value as a fault shows it: never longer than a line."""
    if isinstance(value, str):
        return f'"{_cut(value)}"'
    huge = isinstance(value, int) and abs(value) > MOST
    return type(value).__name__ if huge or isinstance(value, Mapping | list | tuple) else _cut(repr(value))


def _cut(text: str) -> str:
    clean = CONTROL.sub("\N{REPLACEMENT CHARACTER}", text)
    return clean if len(clean) <= 60 else clean[:57] + "..."
