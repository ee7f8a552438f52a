"""What is not saved yet is kept step by step."""

from __future__ import annotations

from dataclasses import replace

import pytest
from flask import Flask

from shopfloor.intake.demo import demo_job
from shopfloor.store import drafts, jobs
from shopfloor.store.faults import NoSuchJob

KEY = demo_job().key


@pytest.fixture(autouse=True)
def saved(app: Flask) -> None:
    jobs.save(demo_job())


def rename(name: str) -> None:
    draft = drafts.read(KEY)
    drafts.keep(replace(draft.job, name=name), draft.base, f"name {name}")


def test_without_a_step_a_draft_is_what_was_saved_last() -> None:
    draft = drafts.read(KEY)

    assert (draft.job, draft.base, draft.changed) == (demo_job(), 1, False)


def test_steps_are_undone_and_done_again_in_their_order() -> None:
    for name in ("one", "two", "three"):
        rename(name)
    seen = []
    for turn in (drafts.undo, drafts.undo, drafts.redo, drafts.undo, drafts.undo, drafts.undo, drafts.redo):
        turn(KEY)
        draft = drafts.read(KEY)
        seen.append((draft.job.name, draft.undo, draft.redo))

    assert seen == [
        ("two", "name two", "name three"), ("one", "name one", "name two"), ("two", "name two", "name three"),
        ("one", "name one", "name two"), ("Choir cabinet", "", "name one"), ("Choir cabinet", "", "name one"),
        ("one", "name one", "name two"),
    ]  # fmt: skip


def test_a_new_step_ends_what_could_be_done_again() -> None:
    rename("one")
    drafts.undo(KEY)
    rename("other")

    drafts.redo(KEY)

    assert (drafts.read(KEY).job.name, drafts.read(KEY).redo) == ("other", "")


def test_a_draft_keeps_the_revision_it_was_begun_from() -> None:
    rename("one")
    jobs.save(replace(demo_job(), note="meanwhile"))

    assert (drafts.read(KEY).base, drafts.read(KEY).job.note) == (1, demo_job().note)
    drafts.drop(KEY)
    assert (drafts.read(KEY).base, drafts.read(KEY).job.note) == (2, "meanwhile")


def test_old_steps_are_let_go() -> None:
    for number in range(drafts.MOST + 5):
        rename(f"{number}")
    for _ in range(drafts.MOST + 5):
        drafts.undo(KEY)

    assert drafts.read(KEY).changed is False
    for _ in range(drafts.MOST + 5):
        drafts.redo(KEY)
    assert drafts.read(KEY).job.name == f"{drafts.MOST + 4}"


def test_a_job_that_is_not_there_has_no_draft() -> None:
    with pytest.raises(NoSuchJob):
        drafts.read("nope")


def test_what_was_thrown_away_is_a_step_that_can_be_undone() -> None:
    rename("one")
    jobs.save(replace(demo_job(), note="meanwhile"))
    drafts.throw_away(KEY)

    thrown = drafts.read(KEY)
    assert (thrown.job.note, thrown.base, thrown.undo) == ("meanwhile", 2, "all changes thrown away")
    assert not thrown.changed
    drafts.undo(KEY)

    back = drafts.read(KEY)
    assert (back.job.name, back.base, back.changed, back.redo) == ("one", 1, True, "all changes thrown away")


def test_where_nothing_was_changed_nothing_is_thrown_away() -> None:
    drafts.throw_away(KEY)
    assert drafts.read(KEY).undo == ""

    rename("one")
    drafts.throw_away(KEY)
    drafts.throw_away(KEY)
    drafts.undo(KEY)
    assert drafts.read(KEY).job.name == "one"
