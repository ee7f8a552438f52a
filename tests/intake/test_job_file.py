"""A job document that a person hands in is taken whole, or refused with the file and the field."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.intake.job_file import read_job
from shopfloor.trade.document import DocumentFault, to_json, to_toml


@pytest.mark.parametrize("write", [to_json, to_toml], ids=["json", "toml"])
def test_a_job_file_gives_the_job_whatever_its_name(write) -> None:  # type: ignore[no-untyped-def]
    job = demo_job()

    assert read_job(write(job).encode(), "cabinet.txt") == job


def test_a_byte_order_mark_and_blank_lines_do_no_harm() -> None:
    text = "\N{ZERO WIDTH NO-BREAK SPACE}\n \n" + to_json(demo_job())

    assert read_job(text.encode(), "cabinet.json") == demo_job()


def test_what_nobody_sees_is_taken_out_of_its_words() -> None:
    job = demo_job()
    first = job.lines[0]
    parts = (replace(first.parts[0], place="front\u200b left"), *first.parts[1:])
    turned = replace(
        job,
        name="Choir\u202e cabinet\u202c",
        assemblies=(replace(job.assemblies[0], name="\u2066Legs\u2069"), *job.assemblies[1:]),
        lines=(replace(first, name="Le\u00adg", note="wörk\nslowly", parts=parts), *job.lines[1:]),
    )

    read = read_job(to_json(turned).encode(), "cabinet.json")

    line = read.lines[0]
    assert (read.name, read.assemblies[0].name) == ("Choir cabinet", "Legs")
    assert (line.name, line.note, line.parts[0].place) == ("Leg", "wörk\nslowly", "front left")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "a.toml: this file is empty."),
        (b"  \n", "a.toml: this file is empty."),
        (b"key = '\xe9'", "a.toml: this is not text in UTF-8: byte 8 cannot be read."),
        (b"PK\x03\x04", "a.toml: this is not TOML"),
        (b'{"key": "a"}', "a.toml: there is no 'name'."),
        (b" " * 20_000_001, "a.toml: this file is larger than any job."),
    ],
    ids=["empty", "blank", "not UTF-8", "a spreadsheet", "no name", "huge"],
)
def test_what_is_no_job_file_is_refused_in_one_sentence(data: bytes, says: str) -> None:
    with pytest.raises(DocumentFault) as caught:
        read_job(data, "a.toml")

    assert str(caught.value).startswith(says)


def test_what_cannot_be_built_is_refused_with_all_its_faults() -> None:
    job = demo_job()
    broken = replace(job, denominator=12, lines=(replace(job.lines[0], width=0), *job.lines[1:]))

    with pytest.raises(DocumentFault) as caught:
        read_job(to_toml(broken).encode(), "cabinet.toml")

    assert [fault.where for fault in caught.value.faults] == [
        "cabinet.toml, denominator",
        'cabinet.toml, line "leg-front", width',
    ]
