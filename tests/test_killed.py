"""The server is killed, or crowded, in the worst moment, and nobody's work is lost or doubled."""

from __future__ import annotations

import http.client
import json
import signal
import threading
from pathlib import Path
from typing import Any

import pytest

from tests.entries import entry, identity
from tests.running import ROOT, JoinedPhone, Running


def numbers(phone: JoinedPhone) -> list[int]:
    """The number of every entry that the shop holds, in the order of revs."""
    found: list[int] = []
    after, more = 0, True
    while more:
        status, page = phone.ask("GET", f"/sync?after={after}&limit=500")
        assert status == 200
        found += [row["entry"]["number"] for row in page["entries"]]
        after, more = page["next"], page["more"]
    return found


def test_killed_between_commit_and_answer_each_entry_is_there_once(tmp_path: Path) -> None:
    data = tmp_path / "data"
    batch = {"generation": "", "entries": [entry(number) for number in range(1, 51)]}
    with Running(data, program=ROOT / "tests" / "dying.py") as running:
        phone = running.join()
        with pytest.raises((http.client.HTTPException, ConnectionError)):
            phone.ask("POST", "/sync?die", batch)
        assert running.process.wait(10) == 137

    with Running(data) as running:
        phone.port = running.port
        before = numbers(phone)
        status, got = phone.ask("POST", "/sync", batch)
        after = numbers(phone)

    assert before == after == list(range(1, 51))
    assert status == 200
    assert got["results"] == [{"id": identity(number), "rev": number} for number in range(1, 51)]


def test_what_was_acknowledged_before_a_kill_is_there_after_it(tmp_path: Path) -> None:
    data = tmp_path / "data"
    acknowledged: list[str] = []

    def write(phone: JoinedPhone, first: int) -> None:
        try:
            for number in range(first, first + 10_000, 5):
                status, got = phone.ask("POST", "/sync", {"entries": [entry(number + one) for one in range(5)]})
                assert status == 200
                acknowledged.extend(result["id"] for result in got["results"])
        except (http.client.HTTPException, ConnectionError):
            return

    with Running(data) as running:
        phones = [running.join(f"phone {at}") for at in range(3)]
        crowd = [threading.Thread(target=write, args=(phone, 1 + at * 100_000)) for at, phone in enumerate(phones)]
        for thread in crowd:
            thread.start()
        while len(acknowledged) < 200:
            threading.Event().wait(0.01)
        running.process.kill()
        for thread in crowd:
            thread.join()

    with Running(data) as running:
        phones[0].port = running.port
        kept = [identity(number) for number in numbers(phones[0])]

    assert len(acknowledged) >= 200
    assert set(acknowledged) <= set(kept)
    assert len(set(kept)) == len(kept)


def test_twenty_phones_at_once_and_a_pdf_in_between_are_all_served(tmp_path: Path) -> None:
    answers: list[tuple[int, Any]] = []
    printed: list[int] = []
    with Running(tmp_path / "data", "--demo") as running:
        phone = running.join()

        def write(first: int) -> None:
            for number in range(first, first + 50, 10):
                body = {"entries": [entry(number + one) for one in range(10)]}
                answers.append(phone.ask("POST", "/sync", body))

        def print_labels() -> None:
            connection = http.client.HTTPConnection("127.0.0.1", running.port, timeout=60)
            connection.request("GET", "/jobs/choir-cabinet/labels.pdf")
            response = connection.getresponse()
            printed.append(response.status if response.read().startswith(b"%PDF") else 0)
            connection.close()

        crowd = [threading.Thread(target=write, args=(1 + at * 50,)) for at in range(20)]
        crowd.append(threading.Thread(target=print_labels))
        for thread in crowd:
            thread.start()
        for thread in crowd:
            thread.join()
        there = numbers(phone)

    assert [status for status, _ in answers] == [200] * 100
    assert printed == [200]
    assert sorted(there) == list(range(1, 1001))
    revs = sorted(result["rev"] for _, got in answers for result in got["results"])
    assert revs == list(range(1, 1001))


@pytest.mark.parametrize("by", ["SIGINT", "SIGTERM"])
def test_the_shop_stops_when_told_even_with_a_phone_on_the_line(tmp_path: Path, by: str) -> None:
    with Running(tmp_path / "data") as running:
        connection = http.client.HTTPConnection("127.0.0.1", running.port, timeout=10)
        connection.request("GET", "/health")
        assert json.loads(connection.getresponse().read())["database"]["state"] == "ok"

        running.process.send_signal(getattr(signal, by))

        assert running.process.wait(8) == 0
        connection.close()
    assert running.said[-1] == "Stopped.\n"
    assert "Traceback" not in "".join(running.said)
