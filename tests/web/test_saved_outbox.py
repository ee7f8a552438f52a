"""A phone that can reach the office no more: its outbox comes as a file, and counts as if it had been sent."""

from __future__ import annotations

import io
import json
from typing import Any

from flask import Flask

from shopfloor.store import journal, shop
from tests.journal.test_entry import entry


def hand_in(app: Flask, content: bytes) -> Any:
    sent = {"outbox": (io.BytesIO(content), "facemark-outbox.json")}
    return app.test_client().post("/phones/outbox", data=sent, headers={"Origin": "http://localhost"})


def outbox(*entries: object, **more: object) -> bytes:
    form = {
        "form": "facemark outbox",
        "v": 1,
        "id": "0" * 32,
        "device": "bench",
        "name": "Bench phone",
        "shop": "Our shop",
    }
    return json.dumps(form | {"entries": entries} | more, indent=1).encode()


def entries(count: int) -> list[dict[str, Any]]:
    return [entry(id=f"{number:032x}", number=number) for number in range(1, count + 1)]


def test_a_saved_outbox_is_taken_in_once_however_often_it_comes(app: Flask) -> None:
    first = hand_in(app, outbox(*entries(450)))
    again = hand_in(app, outbox(*entries(450)))

    assert "450 new entries" in first.text
    assert "0 new entries, 450 known already" in again.text
    with app.app_context():
        assert len(journal.rows(limit=1000)) == 450


def test_what_cannot_be_read_is_set_aside_and_its_neighbours_are_taken(app: Flask) -> None:
    answer = hand_in(app, outbox(entries(1)[0], {"id": "what"}))

    assert "1 new entry" in answer.text
    assert "1 <a" in answer.text
    assert answer.status_code == 200


def test_an_outbox_of_another_shop_is_refused_and_our_own_is_taken(app: Flask) -> None:
    with app.app_context():
        ours = shop.read().id

    other = hand_in(app, outbox(*entries(1), shop_id="another"))
    own = hand_in(app, outbox(*entries(2), shop_id=ours))

    assert other.status_code == 400 and "was written in another shop" in other.text
    assert "2 new entries" in own.text


def test_another_file_is_refused_with_a_sentence(app: Flask) -> None:
    for content in (b"", b"Part,Qty\n", b'{"entries": []}', b"\xff\xfe", outbox()[:-3]):
        answer = hand_in(app, content)

        assert answer.status_code == 400
        assert 'role="alert"' in answer.text
