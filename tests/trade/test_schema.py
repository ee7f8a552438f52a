"""The published schema says what the document's JSON is: no more, no less."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.trade.document import as_dict, schema, to_json
from shopfloor.trade.part import FEATURES, Assembly, Half, Job, Joint, Line, Part, Placement

KNOWN = {
    "$schema", "$defs", "$ref", "title", "description", "type", "properties", "required", "additionalProperties",
    "items", "prefixItems", "minItems", "oneOf", "enum", "const", "minimum", "maximum",
}  # fmt: skip
"""The words of draft 2020-12 that `faults` understands; the schema may use no other."""


def faults(value: Any, form: dict[str, Any], whole: dict[str, Any], at: str = "") -> Iterator[str]:
    """Where `value` breaks the schema `form`, by the rules of JSON Schema for the words in KNOWN."""
    assert set(form) <= KNOWN, form
    if "$ref" in form:
        yield from faults(value, whole["$defs"][form["$ref"].removeprefix("#/$defs/")], whole, at)
    types = {"object": dict, "array": list, "integer": int, "string": str}
    if "type" in form and (type(value) is bool or not isinstance(value, types[form["type"]])):
        yield f"{at}: not {form['type']}"
        return
    if "const" in form and value != form["const"]:
        yield f"{at}: not {form['const']}"
    if "enum" in form and value not in form["enum"]:
        yield f"{at}: not one of {form['enum']}"
    if "minimum" in form and not form["minimum"] <= value <= form["maximum"]:
        yield f"{at}: out of range"
    if "oneOf" in form and sum(not list(faults(value, each, whole)) for each in form["oneOf"]) != 1:
        yield f"{at}: not exactly one of {len(form['oneOf'])}"
    if isinstance(value, dict):
        yield from (f"{at}: no {name}" for name in form.get("required", []) if name not in value)
        for name, each in value.items():
            if name in form.get("properties", {}):
                yield from faults(each, form["properties"][name], whole, f"{at}/{name}")
            elif form.get("additionalProperties") is False:
                yield f"{at}: unknown {name}"
            elif isinstance(form.get("additionalProperties"), dict):
                yield from faults(each, form["additionalProperties"], whole, f"{at}/{name}")
    if isinstance(value, list):
        first = form.get("prefixItems", [])
        if len(value) < form.get("minItems", 0) or (form.get("items") is False and len(value) > len(first)):
            yield f"{at}: wrong number of items"
        rest = form["items"] if isinstance(form.get("items"), dict) else {}
        for index, each in enumerate(value):
            yield from faults(each, first[index] if index < len(first) else rest, whole, f"{at}/{index}")


def test_the_demonstration_job_obeys_the_schema() -> None:
    assert list(faults(as_dict(demo_job()), schema(), schema())) == []


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("unit", "ell", "/unit: not one of"),
        ("name", 3, "/name: not string"),
        ("colour", "red", ": unknown colour"),
        ("schema", 2, "/schema: not 1"),
        ("lines/0/width", 1.5, "/lines/0/width: not integer"),
        ("lines/0/width", 2**53, "/lines/0/width: out of range"),
        ("lines/0/features/0/kind", "dowel", "/lines/0/features/0: not exactly one"),
        ("lines/0/parts/0/stands/at", [1, 2], "/lines/0/parts/0/stands/at: wrong number"),
        ("lines/0/parts/0/stands/at", [1, 2, 3, 4], "/lines/0/parts/0/stands/at: wrong number"),
        ("lines/0/kept", {"a": 1}, "/lines/0/kept/a: not string"),
        ("joints/0/enters", {"part": "a"}, "/joints/0/enters: no feature"),
    ],
)
def test_what_is_no_document_breaks_the_schema(path: str, value: Any, says: str) -> None:
    data = json.loads(to_json(demo_job()))
    *way, last = [int(step) if step.isdigit() else step for step in path.split("/")]
    inner = data
    for step in way:
        inner = inner[step]
    inner[last] = value

    assert [fault for fault in faults(data, schema(), schema()) if says in fault]


@pytest.mark.parametrize("record", [Job, Assembly, Line, Part, Placement, Joint, Half, *FEATURES.values()])
def test_every_field_is_in_the_schema(record: Any) -> None:
    published = schema() if record is Job else schema()["$defs"][record.__name__]

    own = {field.name for field in fields(record)} | ({"kind"} if record in FEATURES.values() else set())
    assert set(published["properties"]) == own
    assert published["additionalProperties"] is False
    assert published["description"]


def test_the_schema_names_its_draft_and_is_plain_json() -> None:
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(schema())) == schema()
