"""How many entries a second does POST /sync take, next to sqlite3 alone writing the same rows?

Both write to a fresh database of the same form, with the same pragmas, 200 rows a commit, on the same disk, in turns.
The server is a process of its own and the phone one connection that is kept open.  What is sent is made beforehand:
making it is the phone's work.
"""

from __future__ import annotations

import http.client
import json
import random
import sqlite3
import statistics
import tempfile
import time
from contextlib import closing
from pathlib import Path
from typing import Any

from shopfloor.store.journal import Offered, _sort  # the very rows that the server would write
from shopfloor.web.batch import MOST_ENTRIES
from tests.bench.walk import Measured
from tests.running import Running

ROUNDS = 7
BATCHES = 50
GOAL = 0.33
_INSERT = f"INSERT INTO entry VALUES ({','.join('?' * 11)})"


def sync_against_raw() -> Measured:
    raw, through = [], []
    with tempfile.TemporaryDirectory() as folder, Running(Path(folder) / "served") as running:
        made = _copy_of_form(running.data / "facemark.sqlite", Path(folder) / "raw.sqlite")
        phone = running.join()
        with closing(made) as database, closing(phone.connect()) as connection:
            _send(phone.cookie, connection, [_body(_entries(random.Random(99), 0))])  # the first request warms up
            for number in range(ROUNDS):
                dice = random.Random(number)
                batches = [_entries(dice, 1 + number * BATCHES + at) for at in range(BATCHES)]
                bodies = [_body(batch) for batch in batches]
                through.append(BATCHES * MOST_ENTRIES / _send(phone.cookie, connection, bodies))
                raw.append(BATCHES * MOST_ENTRIES / _write(database, batches))
    ratios = [one / other for one, other in zip(through, raw, strict=True)]
    ratio = statistics.median(ratios)
    return Measured(
        [
            ("entries/s through POST /sync, batches of 200", f"{statistics.median(through):,.0f}", ""),
            ("rows/s written by sqlite3 alone, same rows and durability", f"{statistics.median(raw):,.0f}", ""),
            ("ratio, median of rounds", f"{ratio:.2f} ({min(ratios):.2f}-{max(ratios):.2f})", f"at least {GOAL}"),
        ],
        {
            "sync_entries_per_s": round(statistics.median(through)),
            "raw_rows_per_s": round(statistics.median(raw)),
            "sync_ratio": round(ratio, 3),
            "sync_ratio_goal": GOAL,
        },
    )


def _entries(dice: random.Random, batch: int) -> list[dict[str, Any]]:
    """A batch as phones write it: mostly steps done, about parts of a job of 1,500."""
    return [
        {
            "id": f"{dice.getrandbits(128):032x}",
            "device": "3f9c1a77d2e04b58",
            "incarnation": "a1b2c3d4e5f60718",
            "number": batch * MOST_ENTRIES + at + 1,
            "hlc": [1_790_000_000_000 + batch * 1000 + at, 0],
            "at": 1_790_000_000_000 + batch * 1000 + at,
            "kind": "step_done",
            "v": 1,
            "part": f"K{dice.randrange(1500):05d}",
            "base": [f"{dice.getrandbits(128):032x}"] if at % 4 == 0 else [],
            "body": {"step": dice.choice(("rough", "mill", "length", "mark", "mortise", "groove", "fit", "glue"))},
        }
        for at in range(MOST_ENTRIES)
    ]


def _body(entries: list[dict[str, Any]]) -> bytes:
    return json.dumps({"generation": "", "client_now": 0, "entries": entries}, separators=(",", ":")).encode()


def _send(cookie: str, connection: http.client.HTTPConnection, bodies: list[bytes]) -> float:
    """Seconds for sending each, one after the other, every answer read and looked at."""
    headers = {"Content-Type": "application/json", "Cookie": cookie}
    answers = []
    start = time.perf_counter()
    for body in bodies:
        connection.request("POST", "/sync", body, headers)
        answers.append(connection.getresponse().read())
    took = time.perf_counter() - start
    for answer in answers:
        results = json.loads(answer)["results"]
        assert len(results) == MOST_ENTRIES and not any("set_aside" in result for result in results)
    return took


def _write(database: sqlite3.Connection, batches: list[list[dict[str, Any]]]) -> float:
    """Seconds for writing the same rows with sqlite3 alone, a commit each batch."""
    rev = database.execute("SELECT coalesce(max(rev), 0) FROM entry").fetchone()[0]
    rows = []
    for batch in batches:
        offered = [Offered(json.dumps(entry, separators=(",", ":")), entry) for entry in batch]
        good, _ = _sort(offered, 1_790_000_000_000)
        rows.append([(rev + at, *row) for at, (_, row) in enumerate(good, 1)])
        rev += len(batch)
    start = time.perf_counter()
    for some in rows:
        database.execute("BEGIN IMMEDIATE")
        database.executemany(_INSERT, some)
        database.execute("COMMIT")
    return time.perf_counter() - start


def _copy_of_form(source: Path, target: Path) -> sqlite3.Connection:
    """A database with the entry table and its indexes as the server's own, opened as the server opens its own."""
    with closing(sqlite3.connect(source)) as made:
        form = [
            sql for (sql,) in made.execute("SELECT sql FROM sqlite_master WHERE tbl_name = 'entry' AND sql IS NOT NULL")
        ]
    database = sqlite3.connect(target, isolation_level=None)
    for pragma in ("busy_timeout = 10000", "journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON"):
        database.execute(f"PRAGMA {pragma}")
    for sql in form:
        database.execute(sql)
    return database
