"""The fold in Python and the fold in JavaScript, on journals that nobody thought of."""

from __future__ import annotations

import json
import random
import subprocess
from pathlib import Path
from typing import Any

from shopfloor.journal.fold import progress
from tests.journal.test_fold import plain

ROOT = Path(__file__).parents[2]

ASK = """
import { progress } from './static/journal/fold.js';
let text = '';
process.stdin.setEncoding('utf8');
for await (const piece of process.stdin) text += piece;
const journals = JSON.parse(text);
process.stdout.write(JSON.stringify(journals.map((rows) => Object.fromEntries(progress(rows)))));
"""


def journal(rng: random.Random) -> list[dict[str, Any]]:
    ids = [f"{rng.getrandbits(128):032x}" for _ in range(rng.randint(0, 12))]
    rows = []
    for number, identity in enumerate(ids, start=1):
        clock = [rng.randint(1, 5), rng.randint(0, 2)]
        kind = rng.choice(["step_done", "step_done", "step_undone", "held", "spoiled", "lifted", "noted", "other"])
        body: dict[str, Any] = {"step": rng.choice(["mill", "mortise", "__proto__"])}
        if kind == "lifted":
            body = {"lifts": rng.sample(ids, min(len(ids), 2))}
        entry = {
            "id": identity, "device": rng.choice(["bench", "saw", "\U0001f528", "\uff5e"]), "incarnation": "a",
            "number": number, "hlc": clock, "at": clock[0], "kind": kind, "v": rng.choice([1, 1, 1, 2]),
            "part": rng.choice(["K7Q2MX", "000015", ""]), "base": rng.sample(ids, rng.randint(0, min(3, len(ids)))),
            "body": body,
        }  # fmt: skip
        rows.append({"rev": number, "clock": clock, "entry": entry})
    rng.shuffle(rows)
    return rows


def test_both_languages_fold_random_journals_alike() -> None:
    rng = random.Random(20)
    journals = [journal(rng) for _ in range(1500)]

    done = subprocess.run(
        ["node", "--input-type=module", "-e", ASK],
        input=json.dumps(journals), capture_output=True, text=True, encoding="utf-8", cwd=ROOT, check=True, timeout=60,
    )  # fmt: skip

    for rows, theirs in zip(journals, json.loads(done.stdout), strict=True):
        assert plain(progress(rows)) == theirs, rows
