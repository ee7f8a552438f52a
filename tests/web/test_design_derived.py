"""Derived lengths are told apart: by what they belong to, by their line, and by which size it is."""

from __future__ import annotations

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.derived import Derived
from shopfloor.trade.length import read
from shopfloor.trade.part import Line, Part, Unit
from shopfloor.web.design_derived import followings
from shopfloor.web.design_form import Group, form_of
from shopfloor.web.design_state import HIDDEN
from shopfloor.web.line_names import line_names


def test_no_two_derived_lengths_of_the_demo_are_called_alike() -> None:
    job = demo_job()
    (built,) = follow(job).built
    form = form_of(job.constructions[0], Unit.INCH, HIDDEN, {}, {})

    found = followings(built.derived, form, built.lines, "")

    called = [each.called for part in found for each in part.lengths]
    assert len(called) == len(set(called)) == len(built.derived)
    assert {"Left side, top rail, length", "Right side, bottom rail, tenon", "Drawers, drawer side, length"} <= set(
        called
    )
    assert [part.called for part in found] == [
        "Legs", "As a whole", "Left side", "Right side", "Back", "Web frames", "Drawers", "Top",
    ]  # fmt: skip


@pytest.mark.parametrize(("key", "first", "says", "called"), [
    ("left-top-rail.length", "rail", "Top rail, length ", "Left side, top rail, length"),
    ("left-top-rail.length", "top rail", "Top rail, length ", "Left side, top rail, length"),
    ("left-top-rail.tenon-width", "tenon", "Top rail, tenon ", "Left side, top rail, tenon"),
    ("left-field", "between the rails", "Between the rails ", "Left side, between the rails"),
    ("clear-width", "between the legs", "Between the legs ", "Between the legs"),
    ("door.width", "door", "Door, width ", "Door, width"),
])  # fmt: skip
def test_a_sum_says_its_line_and_its_size(key: str, first: str, says: str, called: str) -> None:
    line = Line("x-left-top-rail", "x-left-side", "Top rail", 1, 1, 1)
    derived = Derived(key, read("15"), read("15"), (f"{first} ", read("15"), " = width ", read("15")))

    ((part),) = followings([derived], (Group("left", "Left side", ()),), [line], "x-")

    assert (part.lengths[0].says, part.lengths[0].called) == (
        (says, read("15"), " = width ", read("15")), called,
    )  # fmt: skip


def line(key: str, name: str, *places: str, stack: str = "legs") -> Line:
    return Line(key, stack, name, 1, 1, 1, parts=tuple(Part(f"{key}.{nth}", each) for nth, each in enumerate(places)))


def test_lines_of_one_name_are_told_apart_by_their_places() -> None:
    names = line_names([
        line("a", "Leg", "front left", "front right"), line("b", "Leg", "back left", "back right"),
        line("c", "Rail", "left side"), line("d", "Leg", "front left", stack="other"),
        line("e", "Slat", "first", "last"), line("f", "Slat"), line("g", "Slat", "middle"),
    ])  # fmt: skip

    assert dict(names) == {
        "a": "Leg, front", "b": "Leg, back", "c": "Rail", "d": "Leg", "e": "Slat, first and last", "f": "Slat",
        "g": "Slat, middle",
    }  # fmt: skip
