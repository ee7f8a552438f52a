"""How is a job kept, sent and read back?  As one document, in two forms that say the same: JSON and TOML.

JSON is for programs: lengths are whole nanometres.  TOML is for people: lengths are texts such as "1 3/4 in", and
any length that the shop can read is taken.  What is written reads back as the very same job.

`from_...` refuse what has not the form of a document; `check` finds what cannot be built (see soundness.py), and
`schema` publishes the form of the JSON.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Mapping
from typing import Any

from . import length
from .amount import LONGEST
from .fault import DocumentFault, Fault
from .part import Job, Unit
from .record import Reader, plain
from .schema import schema
from .soundness import check
from .toml import toml_text

__all__ = [
    "FORM", "DocumentFault", "Fault", "as_dict", "as_file", "check", "from_dict", "from_json", "from_pieces",
    "from_toml", "length_reader", "length_text", "schema", "to_json", "to_toml",
]  # fmt: skip

FORM = 1
"""The version of the document's form that is written, and the newest that is read."""

LEAST_BARE = 10_000
"""In TOML a bare whole number is nanometres.  One below 0.01 mm was surely meant to have a unit."""


def as_dict(job: Job) -> dict[str, Any]:
    """The document as plain values: dictionaries, lists, texts and whole numbers; lengths in nanometres."""
    written: dict[str, Any] = plain(job, lambda nm: nm)
    return written


def from_dict(data: Any, where: str = "") -> Job:
    """The job that `as_dict` wrote.  `where` names the source in faults.  Raises DocumentFault with every fault."""
    return _job({where: data}, _whole)


def to_json(job: Job, indent: int | None = None) -> str:
    """The document as JSON text: the same job gives the same text."""
    return json.dumps(as_dict(job), ensure_ascii=False, indent=indent)


def from_json(text: str | bytes, where: str = "") -> Job:
    """The job of a JSON text.  Raises DocumentFault with every fault, or with the one that makes it no JSON."""
    try:
        data = json.loads(text, object_pairs_hook=_once, parse_constant=_no_number)
    except json.JSONDecodeError as err:
        place = f"line {err.lineno}, column {err.colno}"
        raise _unreadable(where, f"this is not JSON: {err.msg} at {place}") from err
    except (ValueError, RecursionError) as err:
        raise _unreadable(where, f"this is not JSON that can be read: {err}") from err
    return from_dict(data, where)


def to_toml(job: Job) -> str:
    """The document as TOML text for people, lengths in the job's unit, each exact."""
    return toml_text(plain(job, lambda nm: length_text(nm, job.unit)))


def from_toml(text: str, where: str = "") -> Job:
    """The job of a TOML text; lengths may be any readable text in the job's unit, or whole nanometres."""
    return from_pieces({where: text})


def as_file(job: Job, form: str) -> bytes:
    """The document as a file for people, `form` "toml" or "json": the same bytes wherever it is written."""
    return (to_toml(job) if form == "toml" else to_json(job, indent=2)).encode()


def from_pieces(texts: Mapping[str, str]) -> Job:
    """One job out of several TOML texts, by the name that faults call them: lists are joined in the order given, and
    each single field stands in one of them only.  Raises DocumentFault with every fault of every piece."""
    pieces = {}
    faults = []
    for where, text in texts.items():
        try:
            pieces[where] = tomllib.loads(text)
        except (ValueError, RecursionError) as err:
            faults.append(Fault(where, f"this is not TOML: {err}"))
    if faults:
        raise DocumentFault(faults)
    units = [piece["unit"] for piece in pieces.values() if piece.get("unit") in list(Unit)]
    unit = Unit(units[0]) if units else Unit.INCH
    return _job(pieces, lambda value: _from_text(value, unit))


def _job(pieces: Mapping[str, Any], read_length: Any) -> Job:
    reader = Reader(read_length)
    together: dict[str, Any] = {}
    for where, piece in pieces.items():
        if not isinstance(piece, Mapping):
            raise _unreadable(where, "this is not a job document", "A document starts with its key and its name.")
        form = piece.get("schema", FORM)
        if isinstance(form, int) and form > FORM:
            raise _unreadable(where, f"this document has form {form}, newer than this app", "Update the app.")
        for name, value in reader.read_fields(Job, piece, where).items():
            if name not in together:
                together[name] = value
            elif isinstance(value, tuple) and isinstance(together[name], tuple):
                together[name] += value
            else:
                reader.faults.append(Fault(where, f"{name!r} stands in two places", "Keep one of them."))
    job = reader.made(Job, together, ", ".join(pieces))
    if reader.faults:
        raise DocumentFault(reader.faults)
    assert isinstance(job, Job)
    return job


def _whole(value: Any) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    raise ValueError(f"{value!r:.60} is not a length\nWrite whole nanometres: 25400000 is 1 in.")


def _from_text(value: Any, unit: Unit) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        if 0 < abs(value) < LEAST_BARE:
            raise ValueError(f'{value} is nanometres here\nWrite it with its unit, in quotes: "{value} {unit}".')
        return value
    if not isinstance(value, str):
        raise ValueError(f'{value!r:.60} is not a length\nWrite it with its unit, in quotes: "1 3/4 in".')
    text = value.strip()
    try:
        # A shift can go to the left, down or to the front; a size cannot, and `check` says so.
        return -length.read(text[1:], unit) if text[:1] in ("-", "\N{MINUS SIGN}") else length.read(text, unit)
    except length.UnreadableLength as err:
        raise ValueError(f"{err.what}\n{err.do}") from err


def length_reader(unit: Unit) -> Callable[[Any], int]:
    """What reads a size as a person typed it, in the unit of the job if none is said; none is less than nothing."""

    def read(value: Any) -> int:
        nm = _from_text(value, unit)
        if nm < 0:
            raise ValueError(f'"{value}" is less than nothing\nWrite it like {length_text(-nm, unit)}.')
        return nm

    return read


def length_text(nm: int, unit: Unit) -> str:
    """A length as the TOML has it, exact and with its unit; below nothing with a minus before it.

    What is longer than any board has more digits than decimals of an inch are read with: it is in millimetres.
    """
    if abs(nm) > LONGEST and nm % (length.INCH // 64):
        unit = Unit.MM
    return f"-{length.write_exact(-nm, unit)}" if nm < 0 else length.write_exact(nm, unit)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"{twice!r:.60} stands twice in one place")
    return found


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is not a number")


def _unreadable(where: str, what: str, do: str = "") -> DocumentFault:
    return DocumentFault([Fault(where, what, do)])
