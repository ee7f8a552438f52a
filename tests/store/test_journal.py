"""Everything handed over is kept, once, in the order of commits; what cannot be an entry is set aside."""

from __future__ import annotations

import json
import threading
from typing import Any

import pytest
from flask import Flask
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.journal.clock import AHEAD
from shopfloor.store import jobs, journal
from shopfloor.store.journal import Kept, Offered
from tests.entries import NOON, entry, identity, offered
from tests.store.test_jobs import stand


def test_entries_are_kept_as_they_came_with_revs_in_order(app: Flask) -> None:
    first, second = entry(1), entry(2, later={"field": [1, 2.50, "é"]}, kind="sharpened", v=7)

    kept = journal.keep(offered(first, second), at_ms=NOON)

    assert kept == [Kept(identity(1), 1), Kept(identity(2), 2)]
    assert journal.rows() == [
        {"rev": 1, "clock": [NOON + 1, 0], "entry": first},
        {"rev": 2, "clock": [NOON + 2, 0], "entry": second},
    ]
    assert journal.latest_rev() == 2


def test_the_text_of_an_entry_is_passed_on_letter_by_letter(app: Flask) -> None:
    text = json.dumps(entry(1, share=0.50), indent=1).replace('"mill"', '"m\\u0069ll"').replace("0.5", "0.50")
    journal.keep([Offered(text, json.loads(text))], at_ms=NOON)

    assert journal.page(0).texts == [f'{{"rev":1,"clock":[{NOON + 1},0],"entry":{text}}}']


def test_handing_over_again_is_answered_like_the_first_time(app: Flask) -> None:
    first = journal.keep(offered(entry(1), entry(2)))

    again = journal.keep(offered(entry(2), entry(1), entry(3)))

    assert again == [first[1], first[0], Kept(identity(3), 3)]
    assert [row["rev"] for row in journal.rows()] == [1, 2, 3]


def test_the_same_entry_twice_in_one_batch_is_there_once(app: Flask) -> None:
    assert journal.keep(offered(entry(1), entry(1))) == [Kept(identity(1), 1)] * 2
    assert len(journal.rows()) == 1


def test_the_order_of_fields_and_the_spelling_of_numbers_say_nothing(app: Flask) -> None:
    journal.keep(offered(entry(1, body={"nm": 2.0, "what": "width"})))
    other = dict(reversed(entry(1, body={"what": "width", "nm": 2}).items()))

    assert journal.keep(offered(other)) == [Kept(identity(1), 1)]


@pytest.mark.parametrize(
    "changed",
    [{"body": {"step": "glue"}}, {"at": NOON}, {"part": ""}, {"extra": None}, {"body": {"step": "mill", "sure": True}}],
    ids=["body", "at", "part", "new field", "new field in the body"],
)
def test_the_same_id_saying_something_else_is_kept_beside_it(app: Flask, changed: dict[str, Any]) -> None:
    journal.keep(offered(entry(1)))
    other = entry(1) | changed

    kept = journal.keep(offered(other, entry(2)), phone="3f", at_ms=NOON)

    assert kept == [Kept(identity(1), 3, journal.SAME_ID), Kept(identity(2), 2)]
    assert [row["entry"] for row in journal.rows()] == [entry(1), entry(2)]
    assert journal.all_set_aside() == [journal.SetAside(3, identity(1), journal.SAME_ID, "3f", NOON, json.dumps(other))]


def test_true_and_one_are_not_the_same(app: Flask) -> None:
    journal.keep(offered(entry(1, body={"sure": True})))

    assert journal.keep(offered(entry(1, body={"sure": 1})))[0].set_aside == journal.SAME_ID


BAD: dict[str, Any] = {
    "a number": 7,
    "nothing": None,
    "a list": [entry(9)],
    "no id": {key: value for key, value in entry(9).items() if key != "id"},
    "an id that is a number": entry(9, id=9),
    "an id in capitals": entry(9, id="A" * 32),
    "no number": entry(9) | {"number": "9"},
    "a number of no machine": entry(9) | {"number": 2**80},
    "a clock of words": entry(9, hlc=["now", 0]),
    "a body of text": entry(9, body="mill"),
    "half a character for a kind": entry(9, kind="\ud800"),
    "half a character for a device": entry(9, device="x\udfff"),
    "half a character for an id": entry(9, id="\ud800"),
    "too deep": entry(9, body={"deep": json.loads("[" * 200 + "]" * 200)}),
    "too long": entry(9, body={"text": "x" * journal.LONGEST_ENTRY}),
}


@pytest.mark.parametrize("bad", BAD.values(), ids=BAD.keys())
def test_what_is_no_entry_is_set_aside_and_its_neighbours_are_taken(app: Flask, bad: Any) -> None:
    kept = journal.keep(offered(entry(1), bad, entry(2)))

    assert kept[0] == Kept(identity(1), 1)
    assert kept[2] == Kept(identity(2), 2)
    assert kept[1].rev == 3 and kept[1].set_aside
    assert [row["entry"]["number"] for row in journal.rows()] == [1, 2]
    [aside] = journal.all_set_aside()
    assert (aside.rev, aside.reason) == (3, kept[1].set_aside)
    assert json.loads(aside.text) == bad


@pytest.mark.parametrize("bad", BAD.values(), ids=BAD.keys())
def test_what_is_set_aside_twice_stands_there_once(app: Flask, bad: Any) -> None:
    first = journal.keep(offered(bad))

    assert journal.keep(offered(bad)) == first
    assert len(journal.all_set_aside()) == 1


def test_half_a_character_in_a_note_is_kept_and_passed_on(app: Flask) -> None:
    note = entry(1, kind="noted", body={"text": "\ud83d"})

    kept = journal.keep(offered(note))

    assert not kept[0].set_aside
    assert json.loads(journal.page(0).texts[0])["entry"] == note


@pytest.mark.parametrize(
    ("hlc", "clock"),
    [
        ([NOON, 3], [NOON, 3]),
        ([NOON + AHEAD, 3], [NOON + AHEAD, 3]),
        ([NOON + AHEAD + 1, 3], [NOON + AHEAD, 0]),
        ([NOON + 365 * 24 * 3_600_000, 3], [NOON + AHEAD, 0]),
        ([0, 3], [0, 3]),
    ],
    ids=["on time", "five minutes ahead", "a little more", "a year ahead", "in 1970"],
)
def test_a_clock_is_held_back_and_never_refused(app: Flask, hlc: list[int], clock: list[int]) -> None:
    journal.keep(offered(entry(1, hlc=hlc)), at_ms=NOON)

    [row] = journal.rows()
    assert row["clock"] == clock
    assert row["entry"]["hlc"] == hlc


def test_a_page_goes_on_where_the_last_one_ended(app: Flask) -> None:
    journal.keep(offered(*(entry(number) for number in range(1, 8))))

    pages, after, more = [], 0, True
    while more:
        texts, after, more, _ = journal.page(after, 3)
        pages.append([json.loads(text)["rev"] for text in texts])

    assert pages == [[1, 2, 3], [4, 5, 6], [7]]
    assert journal.page(7) == ([], 7, False, 7)


def test_a_thousand_entries_of_one_millisecond_are_all_read(app: Flask) -> None:
    for start in range(0, 1000, 200):
        journal.keep(offered(*(entry(start + one, hlc=[NOON, 0], at=NOON) for one in range(1, 201))), at_ms=NOON)

    seen, after, more = [], 0, True
    while more:
        texts, after, more, _ = journal.page(after, 100)
        seen += [json.loads(text)["entry"]["number"] for text in texts]

    assert seen == list(range(1, 1001))


def test_a_page_of_long_entries_is_cut_short(app: Flask) -> None:
    long = "x" * (journal.LONGEST_ENTRY - 1000)
    for start in range(1, 61, 3):
        journal.keep(offered(*(entry(start + one, body={"text": long}) for one in range(3))))

    texts, after, more, latest = journal.page(0)

    assert (after, more, latest) == (len(texts), True, 60)
    assert sum(map(len, texts)) < journal.MOST_TEXT + 2 * journal.LONGEST_ENTRY


def test_what_was_set_aside_takes_a_rev_but_is_not_passed_on(app: Flask) -> None:
    journal.keep(offered(7))
    journal.keep(offered(entry(1)))

    assert journal.latest_rev() == 2
    assert [row["rev"] for row in journal.rows()] == [2]


def test_rows_of_a_job_are_those_of_its_parts_and_stacks(app: Flask) -> None:
    jobs.save(stand("leg.left"))
    jobs.save(stand("leg.left", key="other"))
    codes, others = jobs.codes("music-stand"), jobs.codes("other")
    journal.keep(
        offered(
            entry(1, part=codes["leg.left"]),
            entry(2, part=others["leg.left"]),
            entry(3, part=""),
            entry(4, part=codes["stack:legs"]),
        )
    )

    assert [row["entry"]["number"] for row in journal.rows_of_job("music-stand")] == [1, 4]
    assert journal.latest_rev_of_job("music-stand") == 4
    assert [row["rev"] for row in journal.rows_of_part(codes["leg.left"])] == [1]
    assert journal.latest_rev_of_job("no-such") == 0


def test_a_reader_that_follows_the_revs_misses_nothing_that_eight_writers_write(app: Flask) -> None:
    writers, each = 8, 25
    seen: list[int] = []
    done = threading.Event()

    def write(writer: int) -> None:
        with app.app_context():
            for at in range(each):
                first = 1 + writer * 1000 + at * 3
                journal.keep(offered(*(entry(first + one) for one in range(3))))

    def read() -> None:
        with app.app_context():
            after = 0
            while True:
                last_look = done.is_set()
                texts, after, more, _ = journal.page(after, 50)
                seen.extend(json.loads(text)["rev"] for text in texts)
                if last_look and not more:
                    return

    reader = threading.Thread(target=read)
    crowd = [threading.Thread(target=write, args=(writer,)) for writer in range(writers)]
    for thread in (reader, *crowd):
        thread.start()
    for thread in crowd:
        thread.join()
    done.set()
    reader.join()

    assert seen == list(range(1, writers * each * 3 + 1))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.integers(1, 12), max_size=6), max_size=8))
def test_however_a_journal_is_cut_and_repeated_it_is_kept_once(batches: list[list[int]]) -> None:
    import tempfile
    from pathlib import Path

    from shopfloor.settings import Settings
    from shopfloor.store.tables import db
    from shopfloor.web import create_app

    with tempfile.TemporaryDirectory() as folder, create_app(Settings(data=Path(folder))).app_context():
        revs: dict[str, int] = {}
        for batch in batches:
            kept = journal.keep(offered(*(entry(number) for number in batch)))
            assert [one.id for one in kept] == [identity(number) for number in batch]
            for one in kept:
                assert revs.setdefault(one.id, one.rev) == one.rev

        order = list(dict.fromkeys(number for batch in batches for number in batch))
        assert [row["entry"]["number"] for row in journal.rows()] == order
        assert list(revs.values()) == list(range(1, len(order) + 1))
        db.engine.dispose()
