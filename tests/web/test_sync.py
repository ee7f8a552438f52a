"""The contract of /sync, and the cases that once lost or doubled somebody's work."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from shopfloor.journal.clock import AHEAD
from shopfloor.store import journal, phones, shop
from shopfloor.store.moment import now_ms
from shopfloor.store.opening import writing
from tests.entries import entry, identity

GetPhone = Callable[..., FlaskClient]


def generation(app: Flask) -> str:
    with app.app_context():
        return shop.read().generation


def hand_over(client: FlaskClient, *entries: Any, **fields: Any) -> dict[str, Any]:
    """POST /sync; the JSON of a good answer."""
    answer = client.post("/sync", json={"generation": "", "client_now": 0, "app": "0.1.0", "entries": entries} | fields)
    assert answer.status_code == 200, answer.text
    got: dict[str, Any] = answer.get_json()
    return got


def fetch(client: FlaskClient, query: str = "") -> dict[str, Any]:
    answer = client.get(f"/sync{query}")
    assert answer.status_code == 200, answer.text
    got: dict[str, Any] = answer.get_json()
    return got


def test_entries_are_acknowledged_one_by_one_in_order(app: Flask, phone: FlaskClient) -> None:
    before = now_ms()
    got = hand_over(phone, entry(2), entry(1))

    assert got["results"] == [{"id": identity(2), "rev": 1}, {"id": identity(1), "rev": 2}]
    assert got["generation"] == generation(app)
    assert before <= got["server_now"] <= now_ms()
    assert set(got) == {"generation", "server_now", "results"}


def test_what_one_phone_wrote_another_reads(app: Flask, new_phone: GetPhone) -> None:
    written = entry(1, kind="sharpened", v=3, body={"tool": "1/4 chisel", "note": "é\n"}, later=[1.5, None])
    hand_over(new_phone("one"), written)

    got = fetch(new_phone("two"), f"?generation={generation(app)}&after=0&limit=10")

    assert got["entries"] == [{"rev": 1, "clock": written["hlc"], "entry": written}]
    assert (got["next"], got["more"], got["generation"]) == (1, False, generation(app))
    assert set(got) == {"generation", "server_now", "entries", "next", "more"}


def test_the_cursor_goes_on_where_the_last_page_ended(app: Flask, phone: FlaskClient) -> None:
    hand_over(phone, *(entry(number) for number in range(1, 6)))

    first = fetch(phone, "?after=0&limit=3")
    second = fetch(phone, f"?after={first['next']}&limit=3")
    third = fetch(phone, f"?after={second['next']}&limit=3")

    assert [row["rev"] for row in first["entries"]] == [1, 2, 3] and first["more"] is True
    assert [row["rev"] for row in second["entries"]] == [4, 5] and second["more"] is False
    assert third["entries"] == [] and third["next"] == 5 and third["more"] is False


def test_an_empty_batch_is_a_sign_of_life(app: Flask, phone: FlaskClient) -> None:
    assert hand_over(phone, waiting=3)["results"] == []

    with app.app_context():
        assert phones.all()[0].waiting == 3


@pytest.mark.parametrize("said", [None, -1, 1.5, "3", True, 2**60, []], ids=repr)
def test_nonsense_about_what_is_waiting_is_passed_over(app: Flask, phone: FlaskClient, said: Any) -> None:
    hand_over(phone, waiting=7)
    hand_over(phone, entry(1), waiting=said)

    with app.app_context():
        assert phones.all()[0].waiting == 7


def test_the_office_shows_what_is_left_to_send_after_each_lot(phone: FlaskClient, office: FlaskClient) -> None:
    shown = []
    for left in (250, 50, 0):
        hand_over(phone, entry(left + 1), waiting=left)
        shown.append({*re.findall(r"\d+ to send|all sent", office.get("/phones").text)})
    fetch(phone, "?after=0&waiting=2")
    shown.append({*re.findall(r"\d+ to send|all sent", office.get("/phones").text)})

    assert shown == [{"250 to send"}, {"50 to send"}, {"all sent"}, {"2 to send"}]


def test_a_lost_answer_costs_nothing_however_often_it_is_sent_again(app: Flask, new_phone: GetPhone) -> None:
    batch = [entry(1), entry(2)]
    first = hand_over(new_phone(), *batch)["results"]
    clients = [new_phone(str(number)) for number in range(5)]
    answers: list[Any] = [None] * 5

    def again(at: int) -> None:
        answers[at] = hand_over(clients[at], *batch)["results"]

    crowd = [threading.Thread(target=again, args=(at,)) for at in range(5)]
    for thread in crowd:
        thread.start()
    for thread in crowd:
        thread.join()

    assert answers == [first] * 5
    with app.app_context():
        assert len(journal.rows()) == 2


def test_one_broken_entry_of_ten_sinks_no_other_and_the_next_request_is_fine(app: Flask, phone: FlaskClient) -> None:
    batch: list[Any] = [entry(number) for number in range(1, 11)]
    batch[4] = batch[4] | {"hlc": "never"}

    results = hand_over(phone, *batch)["results"]

    assert [result["id"] for result in results] == [identity(number) for number in range(1, 11)]
    assert [at for at, result in enumerate(results) if "set_aside" in result] == [4]
    assert "hlc" in results[4]["set_aside"]
    assert len(fetch(phone)["entries"]) == 9
    assert hand_over(phone, entry(11))["results"] == [{"id": identity(11), "rev": 11}]


def test_the_same_id_with_other_words_is_set_aside_and_listed(app: Flask, phone: FlaskClient) -> None:
    hand_over(phone, entry(1))

    [result] = hand_over(phone, entry(1, body={"step": "glue"}))["results"]

    assert result == {"id": identity(1), "rev": 2, "set_aside": journal.SAME_ID}
    with app.app_context():
        assert [aside.rev for aside in journal.all_set_aside()] == [2]


@pytest.mark.parametrize("ahead", [3_600_000, -20 * 365 * 24 * 3_600_000], ids=["an hour ahead", "in another century"])
def test_a_wrong_clock_is_held_back_and_never_refused(app: Flask, phone: FlaskClient, ahead: int) -> None:
    said = now_ms() + ahead
    got = hand_over(phone, entry(1, hlc=[said, 0], at=said))

    [row] = fetch(phone)["entries"]
    assert row["entry"]["at"] == said
    assert row["clock"][0] == min(said, got["server_now"] + AHEAD)


def test_a_phone_of_another_life_of_the_database_is_told_and_its_entries_are_taken(
    app: Flask, phone: FlaskClient
) -> None:
    with app.app_context():
        renewed = shop.renew_generation()

    got = hand_over(phone, entry(1), generation="the one before")
    told = fetch(phone, "?generation=the+one+before&after=0")

    assert got["generation"] == renewed and got["results"] == [{"id": identity(1), "rev": 1}]
    assert told["start_over"] is True and told["generation"] == renewed and "entries" not in told


def test_a_cursor_from_a_future_that_was_lost_starts_over(app: Flask, phone: FlaskClient) -> None:
    hand_over(phone, entry(1))

    assert "start_over" not in fetch(phone, "?after=1")
    assert fetch(phone, "?after=2")["start_over"] is True


def put_back(app: Flask, rev: int) -> None:
    """An older copy of the data folder is put back without a word: what came after `rev` is gone."""
    with app.app_context(), writing() as connection:
        connection.exec_driver_sql("DELETE FROM entry WHERE rev > ?", (rev,))


@pytest.mark.parametrize("others", [0, 3], ids=["nobody has written since", "others have written since"])
@pytest.mark.parametrize("way", ["it sends first", "it asks first"])
def test_an_older_copy_that_was_put_back_is_noticed_by_the_phone_that_knows_more(
    app: Flask, new_phone: GetPhone, way: str, others: int
) -> None:
    one, two = new_phone("one"), new_phone("two")
    life = generation(app)
    hand_over(one, *(entry(number) for number in range(1, 6)), generation=life)
    put_back(app, 3)
    hand_over(two, *(entry(number) for number in range(11, 11 + others)), generation=life, seen=f"3:{identity(3)}")
    assert generation(app) == life

    if way == "it sends first":
        told = hand_over(one, entry(6), generation=life, seen=f"5:{identity(5)}")
        assert [result["id"] for result in told["results"]] == [identity(6)]
    else:
        told = fetch(one, f"?generation={life}&after=3&seen=5:{identity(5)}")
        assert told["start_over"] is True

    assert told["generation"] == generation(app) != life
    assert fetch(two, f"?generation={life}&after=3")["start_over"] is True, "all phones hear of it"


def test_a_cursor_behind_the_end_ends_the_life_for_all_phones(app: Flask, new_phone: GetPhone) -> None:
    life = generation(app)
    hand_over(new_phone("one"), entry(1))

    told = fetch(new_phone("two"), f"?generation={life}&after=2")

    assert told["start_over"] is True and told["generation"] == generation(app) != life


@pytest.mark.parametrize(
    ("life", "seen"),
    [
        (None, f"1:{identity(1)}"),
        ("another", "7:gone"),
        (None, None),
        (None, 7),
        (None, "7"),
        (None, "x:y"),
        (None, "9" * 30 + ":y"),
        (None, "²:y"),
        (7, "7:gone"),
    ],
)
def test_a_phone_that_knows_nothing_more_changes_nothing(
    app: Flask, phone: FlaskClient, life: object, seen: object
) -> None:
    now = generation(app)
    hand_over(phone, entry(1), generation=now)

    hand_over(phone, entry(2), generation=life or now, seen=seen)

    assert generation(app) == now


@pytest.mark.parametrize(
    "query", ["after=x", "after=-1", "after=1.5", "after=", "limit=x", "after=" + "9" * 30, "after=²"]
)
def test_a_cursor_that_is_no_number_is_refused(phone: FlaskClient, query: str) -> None:
    answer = phone.get(f"/sync?{query}")

    assert answer.status_code == 400
    assert answer.get_json()["error"]["code"] == "bad-cursor"


@pytest.mark.parametrize(
    ("body", "status", "code"),
    [
        (b"not json", 400, "bad-batch"),
        (b"[]", 400, "bad-batch"),
        (b'{"entries":' + json.dumps([1] * 201).encode() + b"}", 413, "batch-too-large"),
        (b'{"entries":["' + b"x" * 300_000 + b'"]}', 413, "batch-too-large"),
    ],
    ids=["not json", "not an object", "201 entries", "300 kB"],
)
def test_a_batch_that_cannot_be_taken_is_told_in_one_shape(
    phone: FlaskClient, body: bytes, status: int, code: str
) -> None:
    answer = phone.post("/sync", data=body, content_type="application/json")

    assert answer.status_code == status
    error = answer.get_json()["error"]
    assert error["code"] == code
    assert set(error) == {"code", "what", "where", "do", "says"}
    assert fetch(phone)["entries"] == []


def test_what_a_phone_reads_is_never_kept_by_a_browser(phone: FlaskClient) -> None:
    assert phone.get("/sync").headers["Cache-Control"] == "no-store"
