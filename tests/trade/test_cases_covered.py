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
LATER = "comes with "
"""How an entry begins that no test answers yet: with what part of the tool it will be shown."""

MUSTS: dict[str, tuple[tuple[str, ...], ...]] = {
    # story: for each thing that must be so besides the numbers, the tests that show it, "file::test"
    "T03": (
        (
            "trade/test_wood_cases.py::test_the_same_panel_needs_no_room_to_grow_when_it_is_made_in_the_damp",
            "web/test_office_shop_page.py::test_seasons_are_a_house_or_own_numbers",
        ),
    ),
    "T04": (
        (
            "trade/test_wood_cases.py::test_the_answer_to_the_story_is_right",
            "paper/test_drawing.py::test_the_grain_is_said_and_its_arrow_runs_along_the_part",
        ),
    ),
    "T12": (("trade/construct/test_trade_cases.py::test_a_construction_gives_the_trades_answer",),),
    "T13": (
        (
            "trade/test_joint_cases.py::test_over_an_inch_the_warning_names_both_joints_and_offers_shorter_or_mitred_tenons",
            "web/test_cases_shown.py::"
            "test_the_design_of_a_leg_in_which_two_mortises_meet_names_both_and_offers_shorter_or_mitred_tenons",
        ),
    ),
    "T14": (
        (
            "trade/test_joint_cases.py::test_only_the_part_of_the_right_thickness_fits",
            "comes with setups: thickness is measured before the batch is cut",
        ),
    ),
    "T18": (
        (
            "paper/test_drawing.py::test_the_leg_reads_from_the_top_and_its_length_is_only_a_check",
            "paper/test_drawing.py::test_without_a_word_for_the_datum_end_there_is_still_a_zero",
            "web/test_cases_shown.py::test_a_side_laid_out_from_its_top_is_known_by_where_its_lines_lie",
            "comes with setups: the mark on the part is asked for",
        ),
    ),
    "T19": (("trade/construct/test_trade_cases.py::test_a_construction_gives_the_trades_answer",),),
    "T20": (
        (
            "trade/test_joint_cases.py::test_a_reading_that_looks_like_a_slip_is_asked_about",
            "web/test_part_short.py::test_a_length_far_off_is_asked_about_before_it_is_taken",
        ),
    ),
    "T21": (
        (
            "trade/test_joint_cases.py::test_a_reading_that_looks_like_a_slip_is_asked_about",
            "phone/test_sheets.py::test_a_part_that_came_out_short_says_where_the_error_lands_with_no_signal",
            "paper/test_letters.py::test_a_6_upside_down_is_no_9",
        ),
    ),
    "T22": (
        (
            "trade/test_wood_cases.py::test_the_longer_diagonal_is_named_and_pulled_by_half_of_the_difference",
            "comes with glue-up: the diagonals are typed at the clamps",
        ),
    ),
    "T24": (("trade/test_wood_cases.py::test_the_rule_stands_beside_the_board_feet",),),
    "T25": (
        (
            "trade/test_wood_cases.py::test_it_is_said_what_the_waste_is_a_share_of",
            "trade/test_stock.py::test_what_is_lost_is_a_share_of_what_is_bought",
        ),
    ),
    "T27": (("trade/test_kerf.py::test_two_parts_of_42_do_not_come_out_of_84_with_its_ends_trimmed",),),
    "T29": (("paper/test_sawing_chart.py::test_what_is_thrown_away_is_shaded_and_what_is_kept_says_so",),),
    "T30": (("plan/test_boards.py::test_drawer_fronts_lie_in_their_order_and_legs_side_by_side",),),
    "T31": (("comes with setups: parts too short for a machine are ganged and cut apart after it",),),
    "T35": (("comes with setups: they are shared by what is measured from, not by the tenon alone",),),
    "T36": (
        ("comes with setups: a part is made again under its pair letter, with a label of its own",),
        ("comes with setups: that a part belongs to a set matched by its grain",),
        ("comes with setups: what a setup was set to is kept",),
    ),
    "T37": (("comes with glue-up: sub-assemblies in the open time of the shop's own glue",),),
    "T38": (
        ("trade/test_joint_cases.py::test_a_panel_is_raised_at_its_ends_before_its_edges",),
        (
            "trade/test_joint_cases.py::"
            "test_thickness_before_joints_across_before_along_mortise_before_tenon_joints_before_tapers",
        ),
        (
            "trade/test_turn.py::test_no_route_comes_to_a_step_that_an_earlier_one_bars",
            "web/test_barred_steps.py::test_the_part_in_the_office_says_why_a_step_is_not_next",
            "phone/test_sheets.py::"
            "test_a_step_whose_reference_was_cut_away_is_refused_on_the_sheet_and_named_among_the_steps",
        ),
    ),
}
"""What must be so besides the numbers, and where it is shown."""

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


@pytest.mark.parametrize("name", COVERED)
def test_what_must_be_so_besides_the_numbers_is_bound_to_tests_one_by_one(name: str) -> None:
    for case in load(name)["cases"]:
        assert len(MUSTS.get(case["id"], ())) == len(case["must"]), case["must"]


@pytest.mark.parametrize("story", MUSTS)
def test_the_tests_that_show_what_must_be_so_are_there(story: str) -> None:
    for shown in MUSTS[story]:
        assert shown
        for one in shown:
            if one.startswith(LATER):
                continue
            file, _, test = one.partition("::")
            tree = ast.parse((HERE.parent / file).read_text(encoding="utf-8"))
            assert test in {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}, one


def test_what_comes_later_comes_with_parts_of_the_tool_that_are_not_there_yet() -> None:
    later = {one.removeprefix(LATER).split(":")[0] for shown in MUSTS.values() for each in shown for one in each
             if one.startswith(LATER)}  # fmt: skip

    assert later <= {"setups", "glue-up"}
