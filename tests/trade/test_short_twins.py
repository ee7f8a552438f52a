"""What becomes of an end, and what is asked about, as in JavaScript: short.json binds the two."""

from __future__ import annotations

from typing import Any

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.part import Unit
from shopfloor.trade.reading import doubt
from shopfloor.trade.short import End, GoesWith, ends, landed
from tests.vectors import load

VECTORS = load("short")


@pytest.mark.parametrize("row", VECTORS["ends"], ids=lambda row: row["name"])
def test_an_end_comes_out_as_the_vectors_say(row: dict[str, Any]) -> None:
    found = End("", mates=(GoesWith("2A", "mate"),), **row["end"]).after(row["short"])

    if row["says"] is None:
        assert found is None
    else:
        assert found and (list(found.says), found.spoiled) == (row["says"], row["spoiled"])
        assert found.mates == (("2A", "mate"),)


@pytest.mark.parametrize("row", VECTORS["doubts"], ids=lambda row: row["name"])
def test_a_reading_is_asked_about_as_the_vectors_say(row: dict[str, Any]) -> None:
    found = doubt(row["wanted"], row["reading"], Unit(row["unit"]))

    assert (list(found.says) if found else None) == row["says"]


def test_the_ends_of_a_part_give_what_the_job_gives() -> None:
    job = demo_job()
    every = ends(job)

    for line in job.lines:
        for part in line.parts:
            for short in (1, line.length // 100, line.length // 4):
                found = landed(job, part.key, line.length - short)
                assert found.touched == tuple(one for end in every[part.key] if (one := end.after(short)))
    assert {end.within for found in every.values() for end in found} >= {"holds", "groove", ""}
