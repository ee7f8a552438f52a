"""A board as the floor wrote it down: read, written again, or refused with the field that is wrong."""

from __future__ import annotations

from typing import Any

import pytest

from shopfloor.trade.board import Board, Defect, NoBoard, Sawn, Usable, read_board, write_board
from shopfloor.trade.fact import inch
from shopfloor.trade.stock import Lumber

ID = "b" * 32
SAID: dict[str, Any] = {
    "mark": "3", "species": "cherry", "lumber": "4/4", "nominal": inch(1), "length": inch(97),
    "widths": [inch(7), inch(13, 2)], "sapwood": [0, inch(3, 4)], "sawn": "flat", "moisture": "8,5 %",
    "defects": [{"from": inch(40), "to": inch(43), "what": "knot"}, {"from": 0, "to": inch(2)}],
}  # fmt: skip


def test_a_board_is_read_from_what_the_floor_wrote() -> None:
    assert read_board(ID, SAID) == Board(
        ID, "3", "cherry", Lumber("4/4", inch(1)), inch(97), (inch(7), inch(13, 2)), (0, inch(3, 4)),
        (Defect(0, inch(2)), Defect(inch(40), inch(43), what="knot")), Sawn.FLAT, "8.5",
    )  # fmt: skip


def test_what_is_written_is_read_back() -> None:
    board = read_board(ID, SAID)

    assert read_board(ID, write_board(board)) == board


def test_parts_come_from_the_narrower_end_without_its_sapwood() -> None:
    # 6 1/2 at the far end, less 3/4 of sapwood along the far edge.
    assert read_board(ID, SAID).usable == Usable(inch(97), inch(23, 4), 0)


def test_a_defect_past_the_end_stops_at_the_end() -> None:
    said = SAID | {"defects": [{"from": inch(90), "to": inch(120)}]}

    assert read_board(ID, said).defects == (Defect(inch(90), inch(97)),)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"length": 0}, "length: 0 in is no length of a board. Give more than 0 to 50 ft."),
        ({"length": "97"}, "length: no length is given. Measure it."),
        ({"length": True}, "length: no length is given. Measure it."),
        ({"length": 10**30}, "length: the length is no size of a board. Give more than 0 to 50 ft."),
        ({"widths": [inch(7)]}, "widths: widths are not given for both sides. Measure both."),
        ({"widths": [inch(7), inch(70)]}, "width: no board is 70 in wide. Measure it again."),
        ({"sapwood": [inch(4), inch(3)]}, "sapwood: the sapwood is 7 in in all, and the board 6 1/2 in wide."),
        ({"lumber": "5/4"}, "lumber: 5/4 lumber is not 1 in thick."),
        ({"moisture": "wet"}, 'moisture: "wet" is no moisture of wood. Give percent, 0 to 200.'),
        ({"sawn": "round"}, 'sawn: "round" is no way to saw a log. Say flat, rift or quarter.'),
        (
            {"defects": [{"from": inch(43), "to": inch(40)}]},
            "place 1 to cut around: it begins 43 in and ends 40 in from the marked end, of 97 in. "
            "Give where it begins, then where it ends.",
        ),
        ({"mark": "x" * 61}, "mark: mark is longer than 60 characters. Say it shorter."),
    ],
)
def test_what_is_no_board_is_refused_with_one_sentence(wrong: dict[str, Any], says: str) -> None:
    with pytest.raises(NoBoard) as refused:
        read_board(ID, SAID | wrong)
    assert str(refused.value) == says
