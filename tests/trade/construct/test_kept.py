"""Constructions are kept in the document: whatever they are, both forms read back as the very same job."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.intake.demo import demo_job
from shopfloor.trade.construct.compose import Construction, follow
from shopfloor.trade.construct.plain import Hands, Plain
from shopfloor.trade.document import (
    DocumentFault,
    as_dict,
    check,
    from_dict,
    from_json,
    from_toml,
    schema,
    to_json,
    to_toml,
)
from shopfloor.trade.length import read
from shopfloor.trade.part import Assembly, Face, Hole, Job, Unit
from tests.trade.test_schema import faults

from .constructions import (
    cabinets,
    carcases,
    doors,
    lone_drawers,
    lone_frames,
    lone_shelves,
    lone_tops,
    lone_web_frames,
    tables,
)

PIN = Hole("pin", Face.FACE_SIDE, read("1"), read("1/2"), read("1/4"), read("3/8"))
BRACKET = Plain("bracket", "Bracket", read("3/4"), read("2"), read("6"), 4, Hands.PAIRS, features=(PIN,))
ALONE = st.one_of(
    tables(), lone_frames(), lone_web_frames(), lone_drawers(), lone_tops(), lone_shelves()
)  # fmt: skip
ALL = st.one_of(cabinets(), carcases(), doors(), ALONE, st.just(BRACKET))


@given(st.lists(ALL, max_size=2), st.sampled_from(Unit))
@settings(max_examples=40)
def test_a_job_with_constructions_reads_back_as_the_very_same_job(made: list[Construction], unit: Unit) -> None:
    job = follow(Job("kept", "Kept", unit), made).job

    assert from_json(to_json(job)) == job
    assert from_toml(to_toml(job)) == job
    assert list(faults(as_dict(job), schema(), schema())) == []


def test_a_large_choice_is_written_one_word_a_line() -> None:
    text = to_toml(demo_job())

    assert '\nleft.frame.tenon.shoulder = "7/8 in"\n' in text
    assert '\nlegs = { thickness = "1 3/4 in", foot = "7 in", note = "From 8/4." }\n' in text
    assert max(len(line) for line in text.splitlines()) < 400


@pytest.mark.parametrize(("changed", "says"), [
    ({"kind": "shed"}, '"shed" is not a kind of construction'),
    ({"kind": "cabinet"}, "there is no 'width'"),
    ({"kind": "plain", "key": "a", "name": "A", "thickness": 1, "width": 1, "length": 1, "hands": "left"},
     '"left" is not known here'),
    ({"key": "a"}, "there is no 'kind'"),
])  # fmt: skip
def test_a_construction_that_cannot_be_read_is_refused_with_its_place(changed: dict[str, object], says: str) -> None:
    data = json.loads(to_json(Job("kept", "Kept"))) | {"constructions": [changed]}

    with pytest.raises(DocumentFault) as refused:
        from_dict(data)

    assert says in [fault.what for fault in refused.value.faults]
    assert all(fault.where.startswith("construction ") for fault in refused.value.faults)


def test_two_constructions_of_one_name_and_a_maker_that_is_not_there_are_faults() -> None:
    job = Job("kept", "Kept", assemblies=(Assembly("a", 1, "A", made_by="shed"),), constructions=(BRACKET, BRACKET))

    assert [str(fault) for fault in check(job)] == [
        'construction "bracket": it is there 2 times. Each must be there once.',
        'assembly "a", made_by: there is no construction "shed". There is: bracket, bracket.',
    ]
    assert check(replace(job, assemblies=(), constructions=(BRACKET,))) == []
