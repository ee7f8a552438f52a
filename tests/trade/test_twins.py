"""Lengths, counts and codes in Python and in JavaScript, on texts and numbers that nobody thought of."""

from __future__ import annotations

import json
import random
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

from shopfloor.errors import ShopError
from shopfloor.trade import code, length
from shopfloor.trade.length import UnreadableLength
from tests.vectors import load

ROOT = Path(__file__).parents[2]

ASK = """
import * as codes from './static/trade/code.js';
import * as lengths from './static/trade/length.js';

const calls = {
  read: (...given) => [lengths.read(...given)],
  read_size: (...given) => Object.values(lengths.readSize(...given)),
  read_count: (text) => Object.values(lengths.readCount(text)),
  read_code: (text) => [codes.readCode(text)],
  written: (nm, denominator) => [
    ...Object.values(lengths.partsOfInches(nm, denominator)), lengths.writeInches(nm, denominator),
    lengths.writeFeetInches(nm, denominator), lengths.writeDecimalInches(nm), lengths.writeMm(nm),
    lengths.writeExact(nm), lengths.writeExact(nm, 'mm'), lengths.write(nm, 'in', denominator), lengths.write(nm, 'mm'),
    lengths.spoken(nm, 'in', denominator), lengths.spoken(nm, 'mm'),
  ],
  coded: (serial) => [codes.code(serial), codes.spellsNothing(codes.code(serial))],
};
let text = '';
process.stdin.setEncoding('utf8');
for await (const piece of process.stdin) text += piece;
const answers = JSON.parse(text).map(([call, ...given]) => {
  try {
    return calls[call](...given);
  } catch (refused) {
    if (!refused.code) throw refused;
    return { code: refused.code, says: refused.says, suggests: refused.suggests ?? [] };
  }
});
process.stdout.write(JSON.stringify(answers));
"""


def sized(*given: str) -> list[Any]:
    reading = length.read_size(*given)
    return [reading.nm, str(reading.exact), list(reading.warnings), reading.note, reading.means, reading.stock]


def counted(text: str) -> list[Any]:
    count = length.read_count(text)
    return [count.pieces, count.hands]


def written(nm: int, denominator: int) -> list[Any]:
    return [
        *length.parts_of_inches(nm, denominator), length.write_inches(nm, denominator),
        length.write_feet_inches(nm, denominator), length.write_decimal_inches(nm), length.write_mm(nm),
        length.write_exact(nm), length.write_exact(nm, "mm"), length.write(nm, "in", denominator),
        length.write(nm, "mm"), length.spoken(nm, "in", denominator), length.spoken(nm, "mm"),
    ]  # fmt: skip


OURS: dict[str, Callable[..., list[Any]]] = {
    "read": lambda *given: [length.read(*given)],
    "read_size": sized,
    "read_count": counted,
    "read_code": lambda text: [code.read_code(text)],
    "written": written,
    "coded": lambda serial: [code.code(serial), code.spells_nothing(code.code(serial))],
}


def ours(call: str, *given: Any) -> Any:
    try:
        return OURS[call](*given)
    except ShopError as refused:
        suggests = list(refused.suggests) if isinstance(refused, UnreadableLength) else []
        return {"code": refused.code, "says": str(refused), "suggests": suggests}


def theirs(rows: list[list[Any]]) -> list[Any]:
    done = subprocess.run(
        ["node", "--input-type=module", "-e", ASK],
        input=json.dumps(rows), capture_output=True, text=True, encoding="utf-8", cwd=ROOT, timeout=60,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


PIECES = [
    "1", "3", "12", "205", "0", "00", "3/4", "1 3/4", "5/4", "13/4", " ", "-", " - ", "/", ".", ",", "'", '"',
    "''", "in", "in.", "ft", "mm", "cm", "m", "full", "shy", "finished", "(", ")", "+", "x", "~", "?", "=",
    "@", "Mar", "4-Apr", "Juin", "März", "2024-03-04", "/24", "0.125", "1,205", "1.205,5", "pr", "pcs",
    "about ", "±", "\u00be", "\u215f", "\u00b2", "\u2084", "\u2044", "\u2032", "\u201d", "\u2013", "\u2212",
    "\u00a0", "\u200b", "\ufeff", "\uff11", "\u0661", "K7Q", "2MX", "l", "O", "HTTPS://SHOP.LOCAL", "/P/",
    ":", "\x1f", "\u2028", "\u202e", "\u00df", "\u0130", "\U0001fab5", "\ud800", "e5", "999999999999",
    "19.999999999999996", "x" * 70,
]  # fmt: skip


def typed(rng: random.Random) -> str:
    return "".join(rng.choice(PIECES) for _ in range(rng.randint(0, 5)))


def mangled(rng: random.Random, text: str) -> str:
    """A text of the collection with one sign lost, doubled, swapped or strange."""
    at = rng.randint(0, len(text))
    return text[:at] + rng.choice(["", " ", rng.choice(PIECES), text[at : at + 1] * 2]) + text[at + rng.randint(0, 1) :]


def test_both_languages_read_any_text_alike() -> None:
    rng = random.Random(64)
    known = [case["raw"] for case in load("lengths")["cases"]] + [row[0] for row in load("lengths")["rows"]]
    texts = [typed(rng) for _ in range(2500)] + [mangled(rng, rng.choice(known)) for _ in range(2500)]
    rows = [
        ["read_size", text, rng.choice(["in", "mm"]), rng.choice(["Thickness", "Length"]), "row 7"] for text in texts
    ]
    rows += [["read", text, rng.choice(["in", "mm"])] for text in texts]
    rows += [[call, text] for text in texts for call in ("read_count", "read_code")]
    rows += [["read_count", text] for text in ("2000", "2001", "1000 pr", "1001 pr")]
    rows += [["read_code", mangled(rng, "K7Q-2MX")] for _ in range(500)]

    answers = [ours(*row) for row in rows]

    assert sum(isinstance(answer, list) for answer in answers) > 1500  # enough of both kinds to mean something
    for row, mine, other in zip(rows, answers, theirs(rows), strict=True):
        assert mine == other, row


def test_both_languages_write_any_length_alike() -> None:
    rng = random.Random(16)
    near = [n * step + off for n in range(0, 300, 7) for step in (396_875, 198_437, 50_000) for off in (-1, 0, 1)]
    far = [rng.randint(-(10 ** rng.randint(3, 15)), 10 ** rng.randint(3, 15)) for _ in range(2000)] + [2**53 - 1]
    rows = [["written", nm, rng.choice([16, 32, 64])] for nm in near + far]

    for row, other in zip(rows, theirs(rows), strict=True):
        assert ours(*row) == other, row


def test_both_languages_make_the_same_codes() -> None:
    rng = random.Random(32)
    rows = [["coded", rng.randrange(code.SERIALS)] for _ in range(5000)]

    for row, other in zip(rows, theirs(rows), strict=True):
        assert ours(*row) == other, row
