"""Which test answers which story of the trade?  The table, and that nothing of the collections has been left out."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

import pytest

from tests.vectors import load

HERE = Path(__file__).parent

COVERED = {
    # file of vectors: (the test that works its stories out, their numbers)
    "trade_wood": ("test_wood_cases.py", "T01-T07 T11 T15 T17 T22-T26 T31-T33 T35 T37"),
    "trade_joints": ("test_joint_cases.py", "T13 T14 T16 T18 T20 T21 T34 T36 T38"),
    "trade_construct": ("construct/test_trade_cases.py", "T08-T12 T18 T19"),
    "trade_kerf": ("test_kerf.py", "T27-T30"),
}
STORIES = {f"T{number:02}" for number in range(1, 39)}

WORKED_VALUES = {
    "emc": 27, "movement": 10, "boardfeet": 8, "s2s_thickness": 8, "boardfeet_tally": 7, "emc_f": 6,
    "movement_species": 6, "coef_from_shrinkage": 6, "emc_swing": 5, "tenon": 5, "convert": 5, "diagonal": 4,
    "nominal_thickness": 3, "corner_tenon_width": 3, "mortise_depth": 3, "panel_size": 3, "panel_fit": 2,
    "diagonal_difference": 2, "clamp_spread": 2, "datum_error": 2, "datum_marks": 1,
}  # fmt: skip
"""The worked values of wood.json by their kind, 118 in all; test_wood_vectors.py works every one out."""


def numbers(text: str) -> set[str]:
    """ "T01-T03 T07" as the set of its numbers."""
    found: set[str] = set()
    for piece in text.split():
        first, _, last = piece.partition("-")
        found |= {f"T{number:02}" for number in range(int(first[1:]), int((last or first)[1:]) + 1)}
    return found


@pytest.mark.parametrize("name", COVERED)
def test_a_file_of_stories_holds_those_of_the_table_and_its_test_reads_it(name: str) -> None:
    test, listed = COVERED[name]

    assert {case["id"] for case in load(name)["cases"]} == numbers(listed)
    spoken = {
        node.value
        for node in ast.walk(ast.parse((HERE / test).read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert spoken & {name, f"{name}.json"}


def test_every_story_has_its_test() -> None:
    assert {story for _, listed in COVERED.values() for story in numbers(listed)} == STORIES


def test_every_worked_value_is_there() -> None:
    vectors = load("wood")["vectors"]

    assert Counter(vector["kind"] for vector in vectors) == WORKED_VALUES
    assert len({vector["id"] for vector in vectors}) == len(vectors) == 118
