"""A fault is seen where its number was typed, and what is not made for it is said in its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import read
from shopfloor.trade.part import Unit
from shopfloor.web.design_faults import Wrong, marks, missing, section_of, wrongs
from shopfloor.web.design_form import Entry, Group, form_of, lengths_set, read_form
from shopfloor.web.design_state import HIDDEN

(CABINET,) = demo_job().constructions
assert isinstance(CABINET, Cabinet)
FORM = form_of(CABINET, Unit.INCH, HIDDEN, {}, {})
STACKS = ("legs", "left-side", "right-side", "back", "web-frames", *(f"drawer-{n}" for n in range(1, 7)), "top")


def entries(form: Sequence[Entry | Group]) -> Iterator[tuple[str, str]]:
    for item in form:
        if isinstance(item, Group):
            if item.there:
                yield f"{item.name}.there", "yes"
            yield from entries(item.items)
        else:
            yield item.name, item.value


def told(made: Cabinet) -> tuple[tuple[Wrong, ...], list[str]]:
    """What is wrong with it, and the stacks that are made."""
    (built,) = follow(demo_job(), (made,)).built
    stacks = [each.key for each in built.assemblies]
    return wrongs("cabinet", "Cabinet on legs", FORM, built.derived, built.faults, "", stacks), stacks


def typed(**fields: str) -> Cabinet:
    made, faults = read_form(CABINET, dict(entries(FORM)) | fields, Unit.INCH, HIDDEN)
    assert faults == {}
    assert isinstance(made, Cabinet)
    return made


@pytest.mark.parametrize(("field", "text", "about"), [
    ("left.frame.tenon.thickness", "3/4", "Left side"),
    ("left.frame.rails", "3", "Left side"),
    ("back.frame.muntins", "1; 1", "Back"),
    ("right.set_back", "3", "Right side"),
    ("web_frames.count", "0", "Web frames"),
    ("web_frames.front_tenon.width", "40", "Web frames"),
    ("drawers.back_joint.depth", "3/4", "Drawers"),
    ("drawers.bottom.thickness", "3", "Drawers"),
    ("top.boards", "0", "Top"),
    ("legs.thickness", "0", "Cabinet on legs"),
    ("width", "3", "Cabinet on legs"),
    ("depth", "3", "Cabinet on legs"),
    ("height", "1/2", "Cabinet on legs"),
])  # fmt: skip
def test_a_fault_names_the_field_that_it_was_typed_in(field: str, text: str, about: str) -> None:
    wrong, _ = told(typed(**{field: text}))

    assert (wrong[0].field, wrong[0].about, wrong[0].made) == (field, about, False)
    assert wrong[0].at == f"cabinet-{field}"
    assert marks(wrong)[field] == wrong[0].says


def test_every_field_that_is_marked_is_one_of_the_form_whatever_is_typed() -> None:
    names = {name for name, _ in entries(FORM)}
    marked = set()
    for name in sorted(names):
        for text in ("0", "40", "20; 20"):
            made, faults = read_form(CABINET, dict(entries(FORM)) | {name: text}, Unit.INCH, HIDDEN)
            if not faults:
                marked |= set(marks(told(made)[0]))

    assert marked <= names
    assert len(marked) > 40


@pytest.mark.parametrize(("field", "text", "about", "at"), [
    ("drawers.beside", "40", "Drawers", "cabinet-of-drawers"),
    ("left.frame.rails", "20; 20", "Left side", "cabinet-of-left"),
])  # fmt: skip
def test_what_comes_of_several_sizes_is_told_at_what_it_belongs_to(field: str, text: str, about: str, at: str) -> None:
    ((wrong, *_), _) = told(typed(**{field: text}))

    assert (wrong.about, wrong.field, wrong.at) == (about, "", at)
    assert str(wrong).startswith(f"{about} cannot be made: ")
    assert " would be -" in wrong.says


@pytest.mark.parametrize(("fields", "expected"), [
    ({}, {}),
    ({"left.frame.rails": "20; 20"}, {1: [("Left side", True)]}),
    ({"left.frame.rails": "20; 20", "right.frame.rails": "20; 20"}, {1: [("Left side", True), ("Right side", True)]}),
    ({"web_frames.count": "0"}, {4: [("Web frames", True), ("Drawers", False)]}),
    ({"top.boards": "0"}, {11: [("Top", True)]}),
    ({"width": "3"}, {0: [("Cabinet on legs", True)]}),
])  # fmt: skip
def test_what_is_not_made_stands_where_its_stack_would(
    fields: dict[str, str], expected: dict[int, list[tuple[str, bool]]]
) -> None:
    wrong, stacks = told(typed(**fields))
    found = missing("Cabinet on legs", FORM, wrong, "", stacks)

    assert {
        place: [(each.called, each.wrong is not None) for each in here] for place, here in found.items()
    } == expected


def test_a_length_set_by_hand_is_gone_to_where_it_was_set() -> None:
    made = Cabinet(**vars(CABINET) | {"overrides": lengths_set((), "left-top-rail.length", read("0"))})
    wrong, _ = told(made)

    assert made.overrides == (Override("left-top-rail.length", 0),)
    assert (wrong[0].field, wrong[0].at) == (
        "by-hand.left-top-rail.length", "cabinet-by-hand.left-top-rail.length",
    )  # fmt: skip


@pytest.mark.parametrize(("prefix", "where", "field"), [
    ("shelf-", "shelf-left-tenon.thickness", "left.frame.tenon.thickness"),
    ("shelf-", "shelf.width", "width"),
    ("left-", "left-right-rails", "right.frame.rails"),
    ("", 'construction 2, "cabinet"', ""),
])  # fmt: skip
def test_the_key_of_a_construction_is_no_part_of_its_fields(prefix: str, where: str, field: str) -> None:
    (wrong,) = wrongs("x", "Shelf", FORM, (), (Fault(where, "no", "Do."),), prefix, ())

    assert (wrong.field, wrong.says) == (field, "No. Do.")


def test_a_key_belongs_to_the_group_that_it_begins_with() -> None:
    labels = {key: section.label if (section := section_of(key, FORM)) else "" for key in STACKS}

    assert labels["web-frames"] == "Web frames"
    assert labels["drawer-6"] == "Drawers"
    assert "" not in labels.values()


def test_a_length_by_hand_that_meets_nowhere_is_told_once_with_what_would_do() -> None:
    made = Cabinet(**vars(CABINET) | {"overrides": lengths_set((), "left-top-rail.length", read("16"))})
    (wrong,), _ = told(made)

    assert (wrong.about, wrong.made, wrong.at) == ("Left side", True, "cabinet-by-hand.left-top-rail.length")
    assert wrong.says.endswith("15 1/4 in would do.")
