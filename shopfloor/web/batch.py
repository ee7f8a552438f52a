"""What does a phone hand over?  Reads the JSON of POST /sync, and keeps the text of each entry as it was sent.

The whole is read once, front to back, with the standard library's own scanner; only the two outermost levels are
walked here, so that we know where each entry begins and ends.
"""

from __future__ import annotations

import json
import re
from json.decoder import JSONDecodeError
from json.decoder import scanstring as _read_string  # type: ignore[attr-defined]
from typing import Any, NamedTuple

from shopfloor.errors import ShopError
from shopfloor.store import shop
from shopfloor.store.journal import Offered

MOST_ENTRIES = 200
MOST_BYTES = 256 * 1024


class BatchTooLarge(ShopError):
    """More than fits into one request."""

    code = "batch-too-large"


class BadBatch(ShopError):
    """This is no batch of entries at all; nothing of it was taken."""

    code = "bad-batch"


class Batch(NamedTuple):
    """The fields of the request but for the entries, and the entries, each with its text."""

    fields: dict[str, Any]
    entries: list[Offered]


def too_large() -> BatchTooLarge:
    return BatchTooLarge(
        f"a batch holds at most {MOST_ENTRIES} entries and {MOST_BYTES // 1024} KiB", do="Split it and send the halves."
    )


def read(sent: bytes) -> Batch:
    """Read what was sent.  Raises BadBatch if it is no object with a list of entries, BatchTooLarge if too much."""
    if len(sent) > MOST_BYTES:
        raise too_large()
    return _understood(sent, MOST_ENTRIES)


def read_saved(sent: bytes) -> Batch:
    """Read an outbox that a phone saved as a file: the same, of any length.

    Raises BadBatch if it is none, or was written in another shop: its labels are no labels of ours.
    """
    try:
        saved = _understood(sent, None)
    except BadBatch as error:
        raise BadBatch("this is no saved outbox", do="Choose the file that the phone's Outbox screen saved.") from error
    if saved.fields.get("form") != "facemark outbox":
        raise BadBatch("this is no saved outbox", do="Choose the file that the phone's Outbox screen saved.")
    if saved.fields.get("shop_id") not in (None, "", shop.read().id):
        raise BadBatch("this outbox was written in another shop", do="Read it in on the computer that serves that one.")
    return saved


def _understood(sent: bytes, most: int | None) -> Batch:
    try:
        return _read(sent.decode("utf-8"), most)
    except (UnicodeDecodeError, JSONDecodeError, StopIteration, IndexError) as error:
        raise BadBatch("this is not JSON", do='Send {"generation": ..., "entries": [...]}.') from error
    except (RecursionError, ValueError) as error:
        raise BadBatch("this JSON cannot be read: too deep, or a number too long", do="Send it simpler.") from error


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is no number in JSON")


_SCAN = json.JSONDecoder(parse_constant=_no_number).scan_once  # type: ignore[attr-defined]
_SPACE = re.compile(r"[ \t\n\r]*")


def _read(text: str, most: int | None) -> Batch:
    fields: dict[str, Any] = {}
    entries: list[Offered] | None = None
    at = _skip(text, 0)
    _expect(text, at, "{")
    at = _skip(text, at + 1)
    while text[at] != "}":
        _expect(text, at, '"')
        name, at = _read_string(text, at + 1)
        at = _skip(text, at)
        _expect(text, at, ":")
        at = _skip(text, at + 1)
        if name == "entries" and text[at] == "[":
            entries, at = _read_entries(text, at + 1, most)
        else:
            fields[name], at = _SCAN(text, at)
        at = _next(text, at, "}")
    if _skip(text, at + 1) != len(text):
        raise JSONDecodeError("more after the end", text, at)
    if entries is None:
        raise BadBatch("a batch has a list of entries", do='Send {"generation": ..., "entries": [...]}.')
    return Batch(fields, entries)


def _read_entries(text: str, at: int, most: int | None) -> tuple[list[Offered], int]:
    entries: list[Offered] = []
    at = _skip(text, at)
    while text[at] != "]":
        if len(entries) == most:
            raise too_large()
        raw, end = _SCAN(text, at)
        entries.append(Offered(text[at:end], raw))
        # A list written without spaces, as phones do, needs no search for the next entry.
        at = end + 1 if text[end : end + 2] == ",{" else _next(text, end, "]")
    return entries, at + 1


def _next(text: str, at: int, closing: str) -> int:
    """Go past a comma to the next item, or stay at the closing bracket."""
    at = _skip(text, at)
    if text[at] == ",":
        at = _skip(text, at + 1)
        if text[at] != closing:
            return at
    elif text[at] == closing:
        return at
    raise JSONDecodeError("no comma, and no end", text, at)


def _skip(text: str, at: int) -> int:
    match = _SPACE.match(text, at)
    return match.end() if match else at


def _expect(text: str, at: int, mark: str) -> None:
    if text[at] != mark:
        raise JSONDecodeError(f"no {mark}", text, at)
