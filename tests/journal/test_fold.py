"""What the journal says of a part, whatever way it arrived."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.journal.fold import PartProgress, Row, heads, progress
from tests.vectors import load

VECTORS = load("fold")


def plain(result: dict[str, PartProgress]) -> dict[str, Any]:
    """Progress as the vectors write it."""
    made = {part: asdict(one) for part, one in result.items()}
    for one in made.values():
        for state in one["steps"].values():
            state["heads"] = list(state["heads"])
    return made


@pytest.mark.parametrize("row", VECTORS, ids=lambda row: row["name"])
def test_fold_vector(row: dict[str, Any]) -> None:
    assert plain(progress(row["rows"])) == row["progress"]


IDS = [f"{number:032x}" for number in range(1, 9)]


@st.composite
def rows(draw: st.DrawFn) -> list[Row]:
    """Rows as phones that know more or less of each other write them."""
    made = []
    for number, identity in enumerate(IDS[: draw(st.integers(0, 8))]):
        clock = [draw(st.integers(1, 4)), draw(st.integers(0, 2))]
        kind = draw(st.sampled_from(["step_done", "step_undone", "held", "lifted", "noted", "unheard_of"]))
        body: dict[str, Any] = {"step": draw(st.sampled_from(["mill", "mortise"]))}
        if kind == "lifted":
            body = {"lifts": draw(st.lists(st.sampled_from(IDS), max_size=2))}
        entry = {
            "id": identity,
            "device": draw(st.sampled_from(["bench", "saw"])),
            "incarnation": "a1",
            "number": number + 1,
            "hlc": clock,
            "at": clock[0],
            "kind": kind,
            "v": 1,
            "part": draw(st.sampled_from(["K7Q2MX", "000015"])),
            "base": draw(st.lists(st.sampled_from(IDS), max_size=3, unique=True)),
            "body": body,
        }
        made.append({"rev": number + 1, "clock": clock, "entry": entry})
    return made


@settings(max_examples=300)
@given(given_rows=rows(), data=st.data())
def test_order_and_repeats_of_entries_change_nothing(given_rows: list[Row], data: st.DataObject) -> None:
    again = data.draw(st.lists(st.sampled_from(given_rows), max_size=8)) if given_rows else []
    shuffled = data.draw(st.permutations(given_rows + again))

    assert progress(shuffled) == progress(given_rows)


@settings(max_examples=200)
@given(given_rows=rows())
def test_an_entry_that_names_all_heads_settles_its_step(given_rows: list[Row]) -> None:
    own = [row for row in given_rows if row["entry"]["part"] == "K7Q2MX"]
    entry = {
        "id": "f" * 32, "device": "office", "incarnation": "b2", "number": 1, "hlc": [0, 0], "at": 0, "v": 1,
        "kind": "step_done", "part": "K7Q2MX", "base": list(heads(own, "mortise")), "body": {"step": "mortise"},
    }  # fmt: skip

    settled = progress([*own, {"clock": [0, 0], "entry": entry}])["K7Q2MX"].steps["mortise"]

    assert settled.done
    assert not settled.disagreement
    assert settled.heads == ("f" * 32,)
