"""What a phone hands over is read like JSON, and each entry's own text is kept to the letter."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.store.journal import Offered
from shopfloor.web import batch

values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**60), 2**60)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)
spacings = st.sampled_from([(",", ":"), (", ", ": "), (" ,\n", "\t:\r\n ")])


@given(
    fields=st.dictionaries(st.text().filter(lambda name: name != "entries"), values, max_size=4),
    entries=st.lists(values, max_size=5),
    place=st.integers(0, 4),
    spacing=spacings,
    ascii_only=st.booleans(),
    indent=st.sampled_from([None, 1]),
)
def test_a_batch_is_read_as_json_is(
    fields: dict[str, Any],
    entries: list[Any],
    place: int,
    spacing: tuple[str, str],
    ascii_only: bool,
    indent: int | None,
) -> None:
    items = list(fields.items())
    items.insert(place, ("entries", entries))
    text = json.dumps(dict(items), separators=spacing, ensure_ascii=ascii_only, indent=indent)
    sent = text.encode("utf-8", "surrogatepass")

    read = batch.read(sent)

    assert read.fields == fields
    assert [one.raw for one in read.entries] == entries
    assert [json.loads(one.text) for one in read.entries] == entries
    at = 0
    for one in read.entries:
        at = text.index(one.text, at) + len(one.text)


def test_the_text_of_an_entry_is_what_was_sent() -> None:
    sent = b'{ "entries" : [ {"b" : 1.50 ,"a":"\\u00e9"} , 7,[ ] ] , "waiting":3 }'

    assert batch.read(sent) == batch.Batch(
        {"waiting": 3},
        [Offered('{"b" : 1.50 ,"a":"\\u00e9"}', {"b": 1.5, "a": "é"}), Offered("7", 7), Offered("[ ]", [])],
    )


@pytest.mark.parametrize(
    "sent",
    [
        b"",
        b" ",
        b"[]",
        b"7",
        b"null",
        b"{",
        b'{"entries":[}',
        b'{"entries":[1,]}',
        b'{"entries":[1 2]}',
        b'{"entries":[1],}',
        b'{"entries":[1]} x',
        b'{"entries":[1]}{}',
        b'{"entries":[1',
        b'{"entries":[{"a":1},',
        b'{"entries" [1]}',
        b"{entries:[1]}",
        b'{"entries":[NaN]}',
        b'{"entries":[{"a":Infinity}]}',
        b'{"a":-Infinity,"entries":[]}',
        b'{"entries":["\xff"]}',
        b'{"entries":[' + b"[" * 5000 + b"]" * 5000 + b"]}",
        b'{"entries":[' + b"9" * 5000 + b"]}",
        b'{"generation":"x"}',
        b'{"entries":{}}',
        b'{"entries":"[]"}',
        b'{"entries":null}',
    ],
    ids=lambda sent: sent[:24].decode("latin-1"),
)
def test_what_is_no_batch_is_refused_whole(sent: bytes) -> None:
    with pytest.raises(batch.BadBatch):
        batch.read(sent)


@given(st.binary(max_size=60) | st.text(alphabet='{}[]",:entris 19\\u', max_size=60).map(str.encode))
def test_any_bytes_are_read_or_refused(sent: bytes) -> None:
    try:
        read = batch.read(sent)
    except batch.BadBatch:
        return
    assert json.loads(sent)["entries"] == [one.raw for one in read.entries]


@pytest.mark.parametrize(
    "sent",
    [
        b'{"entries":[' + b",".join([b"1"] * 201) + b"]}",
        b'{"entries":["' + b"x" * (256 * 1024) + b'"]}',
    ],
    ids=["201 entries", "more than 256 KiB"],
)
def test_too_much_is_told_to_be_split(sent: bytes) -> None:
    with pytest.raises(batch.BatchTooLarge, match="Split it"):
        batch.read(sent)


def test_as_much_as_is_allowed_is_read() -> None:
    frame = len(b'{"entries":[""]}')
    assert len(batch.read(b'{"entries":[' + b",".join([b"1"] * 200) + b"]}").entries) == 200
    assert len(batch.read(b'{"entries":["' + b"x" * (256 * 1024 - frame) + b'"]}').entries) == 1
