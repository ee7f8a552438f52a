"""The rack, as it is kept: boards of the journal, each with a code of its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.store import desk, jobs, journal, rack
from shopfloor.trade.board import Board, NoBoard
from shopfloor.trade.fact import inch
from shopfloor.trade.stock import Lumber

pytestmark = pytest.mark.usefixtures("app")

BOARD = Board("", "1", "cherry", Lumber("4/4", inch(1)), inch(97), (inch(7), inch(13, 2)))


def test_an_empty_shop_has_an_empty_rack() -> None:
    assert rack.read().boards == {}
    assert rack.latest_rev() == 0


def test_a_board_that_was_measured_is_in_the_rack_with_a_code_that_stays() -> None:
    identity = rack.measure(BOARD)

    (racked,) = rack.read().there
    assert racked.board == replace(BOARD, id=identity)
    assert rack.read().boards[identity].code == racked.code
    assert rack.find(racked.code) == identity
    assert rack.find("000015") is None


def test_measured_again_it_is_the_same_board_with_other_sizes() -> None:
    identity = rack.measure(BOARD)
    seen = rack.read().boards[identity]
    rack.measure(replace(seen.board, length=inch(90)), seen.state)

    (racked,) = rack.read().there
    assert (racked.board.length, racked.code, racked.state.disagreement) == (inch(90), seen.code, False)


def test_a_board_is_put_away_and_back() -> None:
    identity = rack.measure(BOARD)

    rack.put_away([identity], "sold")
    assert rack.read().there == []
    assert rack.read().boards[identity].state.gone == "sold"
    rack.put_back([identity])
    assert len(rack.read().there) == 1


def test_no_board_has_the_code_of_a_part() -> None:
    jobs.save(demo_job())
    for _ in range(3):
        rack.measure(BOARD)
    before = {one.code for one in rack.read().there}
    jobs.save(replace(demo_job(), key="again"))

    codes = [*jobs.codes(demo_job().key).values(), *jobs.codes("again").values(), *before]
    assert len(set(codes)) == len(codes)


def test_what_is_no_board_is_not_written_down() -> None:
    with pytest.raises(NoBoard):
        rack.measure(replace(BOARD, length=0))
    assert journal.latest_rev() == 0


def test_what_a_phone_wrote_that_cannot_be_a_board_is_named_and_the_rest_is_there() -> None:
    rack.measure(BOARD)
    desk.write([desk.Said("board_measured", "c" * 32, {"mark": "2", "length": -5})])

    found = rack.read()
    assert len(found.there) == 1
    assert [str(one.fault) for one in found.faults] == ["nominal: no nominal is given. Measure it."]


def test_a_board_that_nobody_measured_cannot_be_put_away() -> None:
    with pytest.raises(rack.NoSuchBoard):
        rack.put_away(["d" * 32], "sold")
