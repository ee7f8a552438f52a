"""The rack, as the journal tells it: the same in both languages, whatever way the rows came."""

from __future__ import annotations

import json
import random
import subprocess
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest

from shopfloor.journal.rack import BoardState, rack
from tests.vectors import load

ROOT = Path(__file__).parents[2]
VECTORS = load("rack")


def plain(boards: dict[str, BoardState]) -> dict[str, Any]:
    """Boards as the vectors write them."""
    made = {board: asdict(state) for board, state in boards.items()}
    for one in made.values():
        one["heads"] = {name: list(heads) for name, heads in one["heads"].items()}
    return made


@pytest.mark.parametrize("row", VECTORS, ids=lambda row: row["name"])
def test_rack_vector(row: dict[str, Any]) -> None:
    assert plain(rack(row["rows"])) == row["rack"]


def journal(rng: random.Random) -> list[dict[str, Any]]:
    ids = [f"{rng.getrandbits(128):032x}" for _ in range(rng.randint(0, 12))]
    rows = []
    for number, identity in enumerate(ids, start=1):
        clock = [rng.randint(1, 5), rng.randint(0, 2)]
        kind = rng.choice(["board_measured", "board_gone", "board_back", "board_cut", "board_uncut", "noted"])
        body = rng.choice(
            [{"mark": "1"}, {"mark": "1", "length": 1.0}, {"length": 1, "mark": "1"}, {"reason": "sold"}, {"reason": 1},
             {"plan": "p", "cut": 0}, {"plan": "p", "cut": 1}, {"plan": "__proto__", "cut": 0}, {"mark": True}]
        )  # fmt: skip
        entry = {
            "id": identity, "device": rng.choice(["bench", "saw"]), "incarnation": "a", "number": number, "hlc": clock,
            "at": clock[0], "kind": kind, "v": rng.choice([1, 1, 1, 2]), "part": rng.choice(["a" * 32, "b" * 32, ""]),
            "base": rng.sample(ids, rng.randint(0, min(2, len(ids)))), "body": body,
        }  # fmt: skip
        rows.append({"rev": number, "clock": clock, "entry": entry})
    rng.shuffle(rows)
    return rows


ASK = """
import { rack } from './static/journal/rack.js';
let text = '';
process.stdin.setEncoding('utf8');
for await (const piece of process.stdin) text += piece;
process.stdout.write(JSON.stringify(JSON.parse(text).map((rows) => Object.fromEntries(rack(rows)))));
"""


def test_both_languages_fold_random_racks_alike() -> None:
    rng = random.Random(4)
    journals = [row["rows"] for row in VECTORS] + [journal(rng) for _ in range(1500)]

    done = subprocess.run(
        ["node", "--input-type=module", "-e", ASK],
        input=json.dumps(journals), capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=True, timeout=60,
    )  # fmt: skip

    for rows, theirs in zip(journals, json.loads(done.stdout), strict=True):
        assert plain(rack(rows)) == theirs, rows


def test_order_and_repeats_change_nothing() -> None:
    rng = random.Random(5)
    for _ in range(300):
        rows = journal(rng)
        again = [*rows, *rng.sample(rows, len(rows) // 2)]
        rng.shuffle(again)
        assert rack(again) == rack(rows)


def test_a_board_that_was_measured_is_there_until_it_is_gone() -> None:
    told = {row["name"]: rack(row["rows"]) for row in VECTORS}

    (there,) = told["a board is measured"].values()
    (gone,) = told["a board is gone, with the reason, and comes back"].values()
    (only_cut,) = told["cuts are made, and one is taken back"].values()
    assert (there.there, gone.there, only_cut.there) == (True, False, False)
