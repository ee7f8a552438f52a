"""A job is kept revision by revision; a code is given once and stays."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

import pytest
from flask import Flask
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import select, update

from shopfloor.store import jobs
from shopfloor.store.faults import NoSuchJob
from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import shop
from shopfloor.trade.code import SERIALS, is_code
from shopfloor.trade.code import codes as codes_from
from shopfloor.trade.part import Assembly, Job, Line, Part

INCH = 25_400_000


def stand(*parts: str, key: str = "music-stand", name: str = "Music stand") -> Job:
    """A job of one stack, with parts of these keys."""
    line = Line("leg", "legs", "Leg", INCH, 2 * INCH, 30 * INCH, parts=tuple(Part(part) for part in parts))
    return Job(key, name, assemblies=(Assembly("legs", 1, "Legs"),), lines=(line,) if parts else ())


def test_what_was_saved_is_read_back(app: Flask) -> None:
    job = stand("leg.left", "leg.right")

    number = jobs.save(job, "first", at_ms=1000)

    assert number == 1
    assert jobs.latest("music-stand") == (job, 1)
    assert jobs.all_jobs() == [jobs.JobRow("music-stand", "Music stand", 1, 1000, 1000)]
    assert jobs.revisions("music-stand") == [jobs.RevisionRow(1, "first", 1000)]


def test_a_revision_keeps_the_one_before(app: Flask) -> None:
    jobs.save(stand("leg.left"), at_ms=1000)

    number = jobs.save(stand("leg.left", "leg.right", name="Tall music stand"), "a second leg", at_ms=2000)

    assert number == jobs.latest_number("music-stand") == 2
    assert jobs.at_revision("music-stand", 1) == stand("leg.left")
    assert [row.number for row in jobs.revisions("music-stand")] == [2, 1]
    assert jobs.all_jobs() == [jobs.JobRow("music-stand", "Tall music stand", 2, 1000, 2000)]


def test_saving_the_same_again_makes_no_revision(app: Flask) -> None:
    jobs.save(stand("leg.left"))

    assert jobs.save(stand("leg.left"), "nothing new") == 1
    assert len(jobs.revisions("music-stand")) == 1


def test_going_back_to_an_older_form_is_a_new_revision(app: Flask) -> None:
    jobs.save(stand("leg.left"))
    jobs.save(stand("leg.right"))

    assert jobs.save(stand("leg.left")) == 3


def test_each_part_and_each_stack_has_a_code_that_checks(app: Flask) -> None:
    jobs.save(stand("leg.left", "leg.right"))

    codes = jobs.codes("music-stand")

    assert set(codes) == {"leg.left", "leg.right", "stack:legs"}
    assert len(set(codes.values())) == 3
    assert all(is_code(code) for code in codes.values())


def test_a_code_finds_its_part_or_stack(app: Flask) -> None:
    jobs.save(stand("leg.left"))
    codes = jobs.codes("music-stand")

    assert jobs.find(codes["leg.left"]) == ("music-stand", "part", "leg.left")
    assert jobs.find(codes["stack:legs"]) == ("music-stand", "stack", "legs")
    assert jobs.find("000000") is None


def test_a_part_that_leaves_and_comes_back_has_its_old_code(app: Flask) -> None:
    jobs.save(stand("leg.left", "leg.right"))
    before = jobs.codes("music-stand")
    jobs.save(stand("leg.left"))
    assert jobs.codes("music-stand") == before

    jobs.save(stand("leg.left", "leg.middle", "leg.right"))

    after = jobs.codes("music-stand")
    assert {key: after[key] for key in before} == before
    assert after["leg.middle"] not in before.values()


def test_jobs_do_not_share_codes_though_their_keys_are_the_same(app: Flask) -> None:
    jobs.save(stand("leg.left"))
    jobs.save(stand("leg.left", key="second-stand"))

    codes = [*jobs.codes("music-stand").values(), *jobs.codes("second-stand").values()]

    assert len(set(codes)) == 4


@settings(max_examples=30, deadline=None)
@given(st.lists(st.sets(st.sampled_from("abcdefgh"), min_size=1), min_size=1, max_size=6))
def test_no_history_of_revisions_changes_a_code_or_gives_one_twice(revisions: list[set[str]]) -> None:
    import tempfile
    from pathlib import Path

    from shopfloor.settings import Settings
    from shopfloor.store.tables import db
    from shopfloor.web import create_app

    with tempfile.TemporaryDirectory() as folder, create_app(Settings(Path(folder), first_serial=0)).app_context():
        given_out: dict[str, str] = {}
        for parts in revisions:
            jobs.save(stand(*sorted(parts)))
            codes = jobs.codes("music-stand")
            assert given_out.items() <= codes.items()
            assert len(set(codes.values())) == len(codes)
            given_out = codes
        db.engine.dispose()


def test_behind_the_last_serial_codes_go_on_with_the_first(app: Flask) -> None:
    *_, (last, last_code) = codes_from(SERIALS - 1000)
    (first, first_code), (second, second_code) = islice(codes_from(0), 2)
    with writing() as connection:
        connection.execute(update(shop).values(next_serial=last))

    jobs.save(stand("leg.left"))
    jobs.save(stand("leg.left", "leg.right"))

    assert jobs.codes("music-stand") == {"stack:legs": last_code, "leg.left": first_code, "leg.right": second_code}
    with reading() as connection:
        assert connection.scalar(select(shop.c.next_serial)) == second + 1 > first


def test_the_job_saved_last_comes_first(app: Flask) -> None:
    jobs.save(stand("a", key="one"), at_ms=1000)
    jobs.save(stand("a", key="two"), at_ms=2000)
    jobs.save(stand("a", "b", key="one"), at_ms=3000)

    assert [row.key for row in jobs.all_jobs()] == ["one", "two"]


def test_a_job_that_cannot_be_saved_leaves_no_trace(app: Flask) -> None:
    twice = replace(stand("leg.left"), lines=stand("leg.left").lines * 2)
    with pytest.raises(Exception, match="UNIQUE"):
        jobs.save(twice)

    assert jobs.all_jobs() == []
    assert jobs.codes("music-stand") == {}


@pytest.mark.parametrize(
    "ask",
    [jobs.latest, jobs.latest_number, lambda key: jobs.at_revision(key, 1)],
    ids=["latest", "latest_number", "at_revision"],
)
def test_a_job_that_is_not_there_is_told(app: Flask, ask: object) -> None:
    assert callable(ask)
    with pytest.raises(NoSuchJob, match="there is no job 'no-such'"):
        ask("no-such")
