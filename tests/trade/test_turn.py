"""Which steps bar which?  What is measured from a surface comes before the step that takes that surface away."""

from __future__ import annotations

from hypothesis import given

from shopfloor.trade.part import Face, Line, Mortise, Taper, Tenon
from shopfloor.trade.route import route
from shopfloor.trade.turn import refusal, refusals
from tests.paper.lines import lines

MM = 1_000_000
MORTISE = Mortise("m", Face.FACE_SIDE, 50 * MM, 40 * MM, 15 * MM, 10 * MM, 20 * MM)
TENON = Tenon("t", Face.DATUM_END, 20 * MM, 10 * MM, 20 * MM, 5 * MM, 30 * MM)


def leg(taper: Taper) -> Line:
    return Line("leg", "legs", "Leg", 40 * MM, 40 * MM, 400 * MM, features=(taper, MORTISE, TENON))


def test_a_taper_bars_each_step_that_is_measured_from_what_it_takes_away() -> None:
    tapered = leg(Taper("p", Face.FACE_EDGE, 200 * MM, 5 * MM))

    assert refusals(tapered) == {
        "mortise": {"taper": "the mortise is measured from the face edge, and the taper has taken that away"},
        "tenon": {"taper": "the tenon is measured from the face edge, and the taper has taken that away"},
    }


def test_a_taper_where_nothing_is_measured_from_bars_nothing() -> None:
    assert refusals(leg(Taper("p", Face.BACK, 200 * MM, 5 * MM))) == {}


@given(lines())
def test_no_route_comes_to_a_step_that_an_earlier_one_bars(line: Line) -> None:
    done: set[str] = set()
    for step in route(line, joined=True):
        assert refusal(line, step.key, done) == ""
        done.add(step.key)


@given(lines())
def test_what_bars_a_step_is_what_it_is_refused_for(line: Line) -> None:
    barred = refusals(line)
    for step in route(line, joined=True):
        for other in route(line, joined=True):
            assert refusal(line, step.key, {other.key}) == barred.get(step.key, {}).get(other.key, "")
