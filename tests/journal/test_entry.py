"""What counts as an entry, and what is set aside."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.journal.clock import AHEAD, Stamp, clamp, observe, tick
from shopfloor.journal.entry import BadEntry, is_sound, parse


def entry(**changes: Any) -> dict[str, Any]:
    return {
        "id": "0123456789abcdef0123456789abcdef",
        "device": "bench",
        "incarnation": "a1",
        "number": 1,
        "hlc": [1000, 0],
        "at": 1000,
        "kind": "step_done",
        "v": 1,
        "part": "K7Q2MX",
        "base": [],
        "body": {"step": "mortise"},
        **changes,
    }


def test_an_entry_is_kept_verbatim_with_the_fields_we_do_not_know() -> None:
    raw = entry(mood="cheerful", kind="sung_to", v=7)

    assert parse(raw).raw is raw
    assert parse(raw).kind == "sung_to"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", "0123"),
        ("id", "0123456789ABCDEF0123456789ABCDEF"),
        ("id", 12),
        ("device", None),
        ("device", "x" * 201),
        ("kind", ""),
        ("number", 0),
        ("number", True),
        ("number", 1.0),
        ("at", "now"),
        ("v", 0),
        ("hlc", [1]),
        ("hlc", [-1, 0]),
        ("hlc", [2**53, 0]),
        ("hlc", "1000"),
        ("base", None),
        ("base", ["xyz"]),
        ("body", []),
        ("part", 7),
    ],
)
def test_a_broken_field_is_named(field: str, value: Any) -> None:
    with pytest.raises(BadEntry) as caught:
        parse(entry(**{field: value}))

    assert field in str(caught.value)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from([*entry(), "x"]), inner, max_size=5),
    max_leaves=8,
)


@given(raw=JSON)
def test_nothing_but_bad_entry_is_ever_raised(raw: Any) -> None:
    try:
        parse(raw)
    except BadEntry as error:
        assert str(error)


EDGES = st.sampled_from(
    [0, 1, -1, 2**53 - 1, 2**53, -(2**53), True, 1.0, "", "x" * 200, "x" * 201, "0" * 32, "0" * 32 + "\n", None, [], {}]
) | st.lists(st.sampled_from([0, -1, 2**53 - 1, 2**53, True, 1.5, "0" * 32, "0" * 31, None]), max_size=3)


@given(
    changes=st.dictionaries(st.sampled_from([*entry(), "x"]), EDGES | JSON, max_size=2),
    gone=st.sampled_from([*entry(), "x"]),
)
def test_the_fast_look_and_the_thorough_one_agree(changes: dict[str, Any], gone: str) -> None:
    whole = entry(**changes)
    for raw in (whole, {name: value for name, value in whole.items() if name != gone}, changes, list(changes.items())):
        try:
            parse(raw)
            taken = True
        except BadEntry:
            taken = False

        assert is_sound(raw) is taken


STAMPS = st.builds(Stamp, st.integers(0, 2**50), st.integers(0, 1000))


@given(last=STAMPS, now=st.integers(0, 2**50))
def test_the_clock_never_runs_backwards(last: Stamp, now: int) -> None:
    assert tick(last, now) > last


@given(last=STAMPS, seen=STAMPS, now=st.integers(0, 2**50))
def test_what_is_written_comes_after_what_was_seen(last: Stamp, seen: Stamp, now: int) -> None:
    assert tick(observe(last, seen), now) > seen


@given(hlc=STAMPS, now=st.integers(0, 2**50))
def test_a_clamped_clock_is_never_more_than_five_minutes_ahead(hlc: Stamp, now: int) -> None:
    assert clamp(hlc, now).ms <= now + AHEAD
    assert clamp(hlc, now) <= hlc
