"""How does a document look to a person who opens it?  Plain values as TOML, laid out to be read and edited.

A list of tables whose items hold much of their own (the lines, the constructions) becomes [[tables]]; every other list
of tables has one item a line, so that the joints of a job, or the features of a line, read like a table.  A table
within an item of [[tables]] that is more than a few words is written one word a line: left.frame.thickness = "3/4 in".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

LARGE = ("lines", "constructions")
FEW = 3
"""So many words of a table still read well in one line."""

BARE = re.compile(r"[A-Za-z0-9_-]+")

ESCAPED = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}


def toml_text(data: Mapping[str, Any]) -> str:
    """`data` (dictionaries, lists, texts, whole numbers) as a TOML document that reads back as the same."""
    tables = {name for name, value in data.items() if _is_tables(value) and name in LARGE}
    head = [_entry(name, value) for name, value in data.items() if name not in tables]
    rows = ["\n".join(head)] if head else []
    for name in data:
        if name in tables:
            for item in data[name]:
                entries = (line for each in item.items() for line in _entries(*each))
                rows.append("\n".join([f"[[{_key(name)}]]", *entries]))
    return "\n\n".join(rows) + "\n"


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _entries(name: str, value: Any, before: str = "") -> Iterator[str]:
    """A value of a [[table]] on a line of its own, or a table on a line for each of its words."""
    nested = isinstance(value, Mapping) and any(isinstance(each, Mapping) for each in value.values())
    if isinstance(value, Mapping) and (nested or len(value) > FEW) and name != "kept":
        for inner, each in value.items():
            yield from _entries(inner, each, f"{before}{_key(name)}.")
    else:
        yield f"{before}{_entry(name, value)}"


def _entry(name: str, value: Any) -> str:
    if _is_tables(value):
        items = "".join(f"  {_inline(item)},\n" for item in value)
        return f"{_key(name)} = [\n{items}]"
    return f"{_key(name)} = {_inline(value)}"


def _inline(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(name)} = {_inline(each)}" for name, each in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_inline(each) for each in value) + "]"
    if isinstance(value, str):
        return _text(value)
    return str(value)


def _key(name: str) -> str:
    return name if BARE.fullmatch(name) else _text(name)


def _text(text: str) -> str:
    return '"' + "".join(ESCAPED.get(c) or (c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}") for c in text) + '"'
