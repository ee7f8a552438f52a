"""The job document: what is written reads back as the very same job; what is no document is refused in sentences."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade import document, part
from shopfloor.trade.document import (
    DocumentFault,
    as_dict,
    from_dict,
    from_json,
    from_pieces,
    from_toml,
    to_json,
    to_toml,
)
from shopfloor.trade.part import Assembly, Face, Half, Hand, Job, Joint, Line, Mortise, Part, Placement, Tenon, Unit
from shopfloor.trade.record import MOST

INCH = 25_400_000

# --- random jobs ---------------------------------------------------------------------------------------------------

texts = st.text(st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from('\n\t"\\#=[]{}'), max_size=12)
lengths = st.integers(-MOST, MOST)
faces = st.sampled_from(list(Face))
axes = st.sampled_from(["+X +Y +Z", "-Z +X +Y", "+Y -X +Z", "-X -Y -Z"])
placements = st.builds(Placement, axes, st.tuples(lengths, lengths, lengths))
by_type: dict[str, st.SearchStrategy[Any]] = {
    "str": texts, "Length": lengths, "Face": faces, "int": st.integers(-MOST, MOST),
}  # fmt: skip
features = st.one_of(
    *(
        st.builds(kind, **{each.name: by_type[str(each.type)] for each in fields(kind)})
        for kind in part.FEATURES.values()
    )
)
parts = st.builds(Part, texts, texts, st.sampled_from(list(Hand)), st.none() | placements)
lines = st.builds(
    Line,
    *[texts] * 3,
    *[lengths] * 3,
    *[texts] * 6,
    st.lists(features, max_size=3).map(tuple),
    st.lists(parts, max_size=3).map(tuple),
    st.dictionaries(texts, texts, max_size=2),
)
assemblies = st.builds(Assembly, texts, st.integers(-MOST, MOST), texts, texts, placements, texts)
halves = st.builds(Half, texts, texts)
joints = st.builds(Joint, texts, halves, halves, texts, texts)
jobs = st.builds(
    Job,
    texts,
    texts,
    st.sampled_from(list(Unit)),
    st.sampled_from([16, 32, 64]),
    texts,
    texts,
    st.just(document.FORM),
    st.lists(assemblies, max_size=3).map(tuple),
    st.lists(lines, max_size=3).map(tuple),
    st.lists(joints, max_size=3).map(tuple),
)


@given(jobs)
@settings(max_examples=150)
def test_json_reads_back_as_the_very_same_job(job: Job) -> None:
    assert from_json(to_json(job)) == job
    assert from_json(to_json(job, indent=2).encode()) == job


@given(jobs)
@settings(max_examples=100)
def test_toml_reads_back_as_the_very_same_job(job: Job) -> None:
    assert from_toml(to_toml(job)) == job


@pytest.mark.parametrize("nm", [465_755_721_041_008, 9_007_199_254_740_991, 15_240_000_001, 4_233_333, 25_400])
def test_any_length_in_a_toml_reads_back_as_itself(nm: int) -> None:
    """Decimals of an inch would need more digits than are read, where a length is longer than any board."""
    for unit in Unit:
        assert document.length_reader(unit)(document.length_text(nm, unit)) == nm


# --- a job worked out by hand --------------------------------------------------------------------------------------

LEG = Line(
    key="leg", assembly="stand", name="Leg", thickness=INCH, width=INCH, length=10 * INCH, datum="top",
    features=(Mortise("m", Face.FACE_EDGE, INCH, 2 * INCH, 9_525_000, 6_350_000, 12_700_000),),
    parts=(Part("leg.left", "left", stands=Placement("-Z -X +Y", (INCH, 0, 10 * INCH))),),
)  # fmt: skip
RAIL = Line(
    key="rail", assembly="stand", name="Rail", thickness=INCH, width=2 * INCH, length=5 * INCH,
    features=(Tenon("t", Face.DATUM_END, 12_700_000, 9_525_000, 6_350_000, 0, 2 * INCH),), parts=(Part("rail.1"),),
    kept={"Supplier": "yard"},
)  # fmt: skip
STAND = Job(
    "stand", "Stand", assemblies=(Assembly("stand", 1, "Stand"),), lines=(LEG, RAIL),
    joints=(Joint("j", Half("rail.1", "t"), Half("leg.left", "m"), "1A"),),
)  # fmt: skip


def test_the_plain_values_say_only_what_differs_from_the_default() -> None:
    assert as_dict(STAND) == {
        "key": "stand", "name": "Stand", "unit": "in", "denominator": 16, "schema": 1,
        "assemblies": [{"key": "stand", "number": 1, "name": "Stand"}],
        "lines": [
            {
                "key": "leg", "assembly": "stand", "name": "Leg", "thickness": INCH, "width": INCH,
                "length": 254_000_000, "datum": "top",
                "features": [
                    {"kind": "mortise", "key": "m", "face": "face edge", "start": INCH, "length": 50_800_000,
                     "offset": 9_525_000, "width": 6_350_000, "depth": 12_700_000},
                ],
                "parts": [
                    {"key": "leg.left", "place": "left", "stands": {"axes": "-Z -X +Y", "at": [INCH, 0, 254_000_000]}},
                ],
            },
            {
                "key": "rail", "assembly": "stand", "name": "Rail", "thickness": INCH, "width": 50_800_000,
                "length": 127_000_000,
                "features": [
                    {"kind": "tenon", "key": "t", "face": "datum end", "length": 12_700_000, "offset": 9_525_000,
                     "thickness": 6_350_000, "edge_offset": 0, "width": 50_800_000},
                ],
                "parts": [{"key": "rail.1"}],
                "kept": {"Supplier": "yard"},
            },
        ],
        "joints": [{"key": "j", "enters": {"part": "rail.1", "feature": "t"},
                    "takes": {"part": "leg.left", "feature": "m"}, "letter": "1A"}],
    }  # fmt: skip


def test_the_same_job_gives_the_same_bytes() -> None:
    assert to_json(from_json(to_json(STAND))) == to_json(STAND)


def changed(path: str, value: Any) -> dict[str, Any]:
    """The stand's plain values with the one at `path` ("lines/0/width") set, or taken out if `value` is ...."""
    data = json.loads(to_json(STAND))
    *way, last = [int(step) if step.isdigit() else step for step in path.split("/")]
    inner = data
    for step in way:
        inner = inner[step]
    if value is ...:
        del inner[last]
    else:
        inner[last] = value
    return data


REFUSED = [
    ("lines/0/wdith", 1, 'line "leg"', "Did you mean 'width'?"),
    ("lines/0/width", ..., 'line "leg"', "there is no 'width'"),
    ("lines/0/width", 25.4, 'line "leg", width', "25.4 is not a length"),
    ("lines/0/width", True, 'line "leg", width', "True is not a length"),
    ("lines/0/width", "1 in", 'line "leg", width', "Write whole nanometres"),
    ("lines/0/width", 2**53, 'line "leg", width', "longer than any board"),
    ("lines/0/name", 7, 'line "leg", name', "7 is not a text"),
    ("lines/0/name", "a\x00b", 'line "leg", name', "cannot be printed"),
    ("lines/0/features/0/kind", "dowel", 'line "leg", feature "m"', "mortise, groove, dado, rabbet, tenon"),
    ("lines/0/features/0/kind", ..., 'line "leg", feature "m"', "there is no 'kind'"),
    ("lines/0/features/0/face", "top", 'line "leg", feature "m", face', "face side, back, face edge"),
    ("lines/0/features/0/face", [], 'line "leg", feature "m", face', "list is not known here"),
    ("lines/0/features", "none", 'line "leg", features', "not a list"),
    ("lines/0/parts/0/stands/axes", "up", 'line "leg", part "leg.left", stands, axes', "does not turn a part"),
    ("lines/0/parts/0/stands/at", [0, 0], 'line "leg", part "leg.left", stands, at', "There must be 3"),
    ("lines/0/parts/0/stands/at/1", None, 'line "leg", part "leg.left", stands, at 2', "None is not a length"),
    ("lines/1", [], "line 2", "not a table of fields"),
    ("lines/1/kept/Supplier", 3, 'line "rail", kept, Supplier', "3 is not a text"),
    ("unit", "ell", "unit", "It can be: in, mm"),
    ("assemblies/0/number", 1.5, 'assembly "stand", number', "not a whole number"),
    ("joints/0/enters", {"part": "rail.1"}, 'joint "j", enters', "there is no 'feature'"),
    ("schema", 2, "", "Update the app"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "value", "where", "says"), REFUSED, ids=[f"{row[0]}={row[1]}" for row in REFUSED])
def test_what_has_not_the_form_is_refused_with_its_place(path: str, value: Any, where: str, says: str) -> None:
    with pytest.raises(DocumentFault) as caught:
        from_dict(changed(path, value), where="stand.json")

    assert [fault.where for fault in caught.value.faults] == [f"stand.json, {where}" if where else "stand.json"]
    assert says in str(caught.value)
    assert caught.value.code == "document-fault"


def test_all_faults_are_listed_at_once() -> None:
    data = changed("lines/0/width", "wide")
    data["lines"][1]["colour"] = "red"
    del data["key"]

    with pytest.raises(DocumentFault) as caught:
        from_dict(data)

    assert [fault.where for fault in caught.value.faults] == ['line "leg", width', 'line "rail"', ""]
    assert str(caught.value).startswith('3 faults. line "leg", width: ')


NO_JSON = {
    "empty": "",
    "cut off": "{",
    "a list": "[]",
    "a number": "7",
    "not a number": '{"key": NaN}',
    "a field twice": '{"key": "a", "key": "b"}',
    "deep": "[" * 100_000,
    "a huge number": '{"key": 1' + "0" * 5000 + "}",
    "no text": b"\xff",
}


@pytest.mark.parametrize("text", NO_JSON.values(), ids=NO_JSON)
def test_what_is_no_json_document_is_one_sentence(text: str | bytes) -> None:
    with pytest.raises(DocumentFault) as caught:
        from_json(text, where="job.json")

    assert len(caught.value.faults) == 1
    assert str(caught.value).startswith("job.json: ")
    assert len(str(caught.value)) < 200


# --- TOML ----------------------------------------------------------------------------------------------------------

STAND_TOML = """\
key = "stand"
name = "Stand"
unit = "in"
denominator = 16
schema = 1
assemblies = [
  { key = "stand", number = 1, name = "Stand" },
]
joints = [
  { key = "j", enters = { part = "rail.1", feature = "t" }, takes = { part = "leg.left", feature = "m" }, \
letter = "1A" },
]

[[lines]]
key = "leg"
assembly = "stand"
name = "Leg"
thickness = "1 in"
width = "1 in"
length = "10 in"
datum = "top"
features = [
  { kind = "mortise", key = "m", face = "face edge", start = "1 in", length = "2 in", offset = "3/8 in", \
width = "1/4 in", depth = "1/2 in" },
]
parts = [
  { key = "leg.left", place = "left", stands = { axes = "-Z -X +Y", at = ["1 in", "0 in", "10 in"] } },
]

[[lines]]
key = "rail"
assembly = "stand"
name = "Rail"
thickness = "1 in"
width = "2 in"
length = "5 in"
features = [
  { kind = "tenon", key = "t", face = "datum end", length = "1/2 in", offset = "3/8 in", thickness = "1/4 in", \
edge_offset = "0 in", width = "2 in" },
]
parts = [
  { key = "rail.1" },
]
kept = { Supplier = "yard" }
"""


def test_toml_is_laid_out_for_people() -> None:
    assert to_toml(STAND) == STAND_TOML


@pytest.mark.parametrize(
    ("typed", "nm"),
    [
        ('"2"', 2 * INCH),
        ('"1-1/2"', 38_100_000),
        ('"30 mm"', 30_000_000),
        ("30000000", 30_000_000),
        ('"2,5 cm"', 25_000_000),
        ('"-1/4 in"', -6_350_000),
    ],
)
def test_toml_takes_any_length_that_the_shop_can_read(typed: str, nm: int) -> None:
    job = from_toml(STAND_TOML.replace('offset = "3/8 in", width', f"offset = {typed}, width"))

    assert job.lines[0].features[0].offset == nm  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("2", '2 is nanometres here. Write it with its unit, in quotes: "2 in".'),
        ("1.5", "1.5 is not a length"),
        ('"wide"', "wide"),
        ("[1]", "[1] is not a length"),
    ],
)
def test_a_length_that_cannot_be_meant_is_refused_with_its_place(typed: str, says: str) -> None:
    with pytest.raises(DocumentFault) as caught:
        from_toml(STAND_TOML.replace('offset = "3/8 in", width', f"offset = {typed}, width"), "stand.toml")

    assert [fault.where for fault in caught.value.faults] == ['stand.toml, line "leg", feature "m", offset']
    assert says in str(caught.value)


def test_a_bare_number_means_the_unit_of_the_job() -> None:
    head, line = 'key = "a"\nname = "A"\nunit = "mm"\n', '[[lines]]\nkey = "l"\nassembly = "x"\nname = "L"\n'

    job = from_toml(f'{head}{line}thickness = "19"\nwidth = "60"\nlength = "1 in"')

    assert job.lines[0].stock == (19_000_000, 60_000_000, INCH)


def test_pieces_are_one_document() -> None:
    head, leg, rail = STAND_TOML.split("[[lines]]")

    job = from_pieces({"head": head, "leg": "[[lines]]" + leg, "rail": "[[lines]]" + rail})

    assert job == STAND


def test_the_faults_of_all_pieces_are_listed_with_their_names() -> None:
    with pytest.raises(DocumentFault) as caught:
        from_pieces({"a.toml": 'key = "a"\nname = 1', "b.toml": 'key = "b"\nnumber = 2', "c.toml": "unit = 'in'"})

    assert [(fault.where, fault.what) for fault in caught.value.faults] == [
        ("a.toml, name", "1 is not a text"),
        ("b.toml", 'there is no field "number" in a job'),
        ("b.toml", "'key' stands in two places"),
    ]


def test_what_is_no_toml_is_one_sentence() -> None:
    with pytest.raises(DocumentFault, match=r"^job\.toml: this is not TOML: .*line 1"):
        from_toml('key = "\n"', "job.toml")
