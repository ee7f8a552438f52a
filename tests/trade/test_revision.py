"""Two revisions of a job, told apart part by part."""

from __future__ import annotations

from dataclasses import replace

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.length import read
from shopfloor.trade.part import Job
from shopfloor.trade.revision import Changes, Shift, changes

DEMO = demo_job()
(CABINET,) = DEMO.constructions
assert isinstance(CABINET, Cabinet)


def made(**chosen: object) -> Job:
    return follow(DEMO, [replace(CABINET, **chosen)]).job  # type: ignore[type-var]


def by_part(found: Changes) -> dict[str, Shift]:
    return {part: shift for shift in found.different for part in shift.parts}


def test_nothing_is_different_between_a_job_and_itself() -> None:
    found = changes(DEMO, DEMO)

    assert not found
    assert found == Changes()


def test_a_wider_cabinet_changes_what_runs_across_it_and_says_by_how_much() -> None:
    found = changes(DEMO, made(width=read("27")))

    assert found.new == found.gone == found.job == ()
    different = by_part(found)
    assert different["back.top-rail"] == Shift(
        ("back.top-rail",), ("Back top rail",), (("length ", read("24 1/4"), ", now ", read("25 1/4")),)
    )
    assert set(different) == set(found.touched)
    assert {key for key in different if key.startswith(("leg.", "left.", "right."))} == set()
    assert {key for key in different if key.startswith("back.panel")} == {"back.panel-left", "back.panel-right"}


def test_parts_that_change_alike_are_told_together() -> None:
    found = changes(DEMO, made(height=read("38 1/4")))

    legs = by_part(found)["leg.front-left"]
    assert set(legs.parts) == {"leg.front-left", "leg.front-right"}
    assert ("length ", read("36 1/4"), ", now ", read("37 1/4")) in legs.says


def test_drawers_left_out_are_gone_and_no_other_part_is_touched() -> None:
    found = changes(DEMO, made(drawers=None))

    assert {part.split(".")[0] for shift in found.gone for part in shift.parts} == {"drawer"}
    assert sum(len(shift.parts) for shift in found.gone) == 30
    assert found.different == found.new == ()
    back = changes(made(drawers=None), DEMO)
    assert back.new == found.gone


def test_a_note_is_told_but_the_wood_is_left_alone() -> None:
    lines = tuple(replace(line, note="Sand by hand.") if line.key == "top" else line for line in DEMO.lines)

    found = changes(DEMO, replace(DEMO, lines=lines, name="Choir cabinet 2"))

    assert found.touched == {}
    assert [shift.wood for shift in found.different] == [False]
    assert found.different[0].says == ((f"note: {DEMO.lines[-1].note}, now Sand by hand.",),)
    assert found.job == (("name: Choir cabinet, now Choir cabinet 2",),)


def test_a_cut_that_moves_comes_or_goes_is_named() -> None:
    rail = next(line for line in DEMO.lines if line.key == "back-top-rail")
    moved = replace(
        rail,
        features=(replace(rail.features[0], length=read("1")), *rail.features[2:]),
    )
    lines = tuple(moved if line is rail else line for line in DEMO.lines)

    found = changes(DEMO, replace(DEMO, lines=lines))

    assert by_part(found)["back.top-rail"].says == (
        ('tenon "right" is gone',),
        ('tenon "left", length ', read("7/8"), ", now ", read("1")),
    )


def test_a_length_set_by_hand_is_a_difference_like_any_other() -> None:
    found = changes(DEMO, made(overrides=(Override("top.width", read("19")),)))

    assert by_part(found)["top"].says == (("width ", read("18 1/4"), ", now ", read("19")),)
