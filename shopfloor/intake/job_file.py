"""What job does this file hold?  A job document that a person hands in, as TOML or as JSON."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from ..trade.document import DocumentFault, Fault, check, from_json, from_toml
from ..trade.part import Assembly, Job, Joint, Line, Part
from .headings import unseen

Worded = TypeVar("Worded", Job, Assembly, Line, Part, Joint)

MOST_BYTES = 20_000_000
"""A job of 1,500 parts is about 1 MB; what is far larger is something else."""


def read_job(data: bytes, name: str) -> Job:
    """The job in a file called `name`, sound enough to be saved.

    JSON and TOML are told apart by how the contents begin, since a name can be wrong.  Raises DocumentFault with
    every fault, each with the file's name and the field.
    """
    if len(data) > MOST_BYTES:
        raise DocumentFault([Fault(name, "this file is larger than any job", "Choose a job document.")])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as err:
        what = f"this is not text in UTF-8: byte {err.start + 1} cannot be read"
        raise DocumentFault([Fault(name, what, "Save it again as a .toml or .json file in UTF-8.")]) from err
    if not text.strip():
        raise DocumentFault([Fault(name, "this file is empty", "Choose a job document.")])
    job = from_json(text, name) if text.lstrip().startswith("{") else from_toml(text, name)
    faults = [Fault(f"{name}, {fault.where}", fault.what, fault.do) for fault in check(job)]
    if faults:
        raise DocumentFault(faults)
    return _in_plain_sight(job)


def _in_plain_sight(job: Job) -> Job:
    """The job without characters that nobody sees in its words, as in a cut list."""
    return replace(
        _words(job, "name", "species", "note"),
        assemblies=tuple(_words(one, "name", "note") for one in job.assemblies),
        lines=tuple(
            replace(
                _words(line, "name", "species", "datum", "face_side", "face_edge", "note"),
                parts=tuple(_words(part, "place") for part in line.parts),
            )
            for line in job.lines
        ),
        joints=tuple(_words(one, "letter", "note") for one in job.joints),
    )


def _words(one: Worded, *names: str) -> Worded:
    texts = {name: getattr(one, name) for name in names}
    plain: dict[str, Any] = {
        name: "".join(c for c in text if not unseen(c)) for name, text in texts.items() if not text.isascii()
    }
    return replace(one, **plain) if plain else one
