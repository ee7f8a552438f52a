"""What form has the JSON of a job?  The published schema, made from the document's own dataclasses.

JSON Schema, draft 2020-12 (https://json-schema.org/draft/2020-12/schema).
"""

from __future__ import annotations

import inspect
from dataclasses import MISSING, is_dataclass
from enum import StrEnum
from typing import Any, get_args, get_origin

from .part import FEATURES, Job
from .record import ALWAYS, KINDED, MOST, default, hints, is_length, kinds, optional, own_fields

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """The JSON Schema of `as_dict(job)`: every record a definition, nothing allowed that is not named."""
    definitions: dict[str, Any] = {
        "Length": {
            "description": "Whole nanometres. 1 in is 25400000, 1 mm is 1000000.",
            "type": "integer", "minimum": -MOST, "maximum": MOST,
        },
    }  # fmt: skip
    _record(Job, definitions)
    job = definitions.pop("Job")
    return {"$schema": DRAFT, "title": "A job document, form 1", **job, "$defs": definitions}


def _record(record: type, definitions: dict[str, Any]) -> dict[str, str]:
    """A reference to the definition of a dataclass, which is made if it is not there."""
    name = _name(record)
    if name not in definitions:
        definitions[name] = {}  # stands here while its own fields are looked at
        properties: dict[str, Any] = {}
        required = []
        if record in KINDED:
            properties["kind"] = {"const": KINDED[record]}
            required.append("kind")
        for field, each in own_fields(record).items():
            properties[field] = _value(hints(record)[field], definitions)
            if default(each) is MISSING:
                required.append(field)
            elif (record, field) in ALWAYS and field == "schema":
                properties[field] = {"const": default(each)}
        definitions[name] = {
            "description": _first_paragraph(record),
            "type": "object",
            "properties": properties,
            "required": required,
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{name}"}


def _name(record: type) -> str:
    """A frame's groove is not the groove of a part: what is chosen for a construction is called by both words."""
    parts = {kind.__name__ for kind in FEATURES.values()}
    own = record.__name__
    return f"Frame{own}" if own in parts and record not in FEATURES.values() else own


def _value(hint: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    if is_length(hint):
        return {"$ref": "#/$defs/Length"}
    if several := kinds(hint):
        return {"oneOf": [_record(kind, definitions) for kind in several.values()]}
    if (inner := optional(hint)) is not None:
        return _value(inner, definitions)
    if get_origin(hint) is tuple:
        inner = get_args(hint)
        if inner[-1] is Ellipsis:
            return {"type": "array", "items": _value(inner[0], definitions)}
        every = [_value(each, definitions) for each in inner]
        return {"type": "array", "prefixItems": every, "items": False, "minItems": len(every)}
    if get_origin(hint) is dict:
        return {"type": "object", "additionalProperties": {"type": "string"}}
    if is_dataclass(hint):
        assert isinstance(hint, type)
        return dict(_record(hint, definitions))
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return {"enum": [each.value for each in hint]}
    return {"type": {int: "integer", str: "string"}[hint]}


def _first_paragraph(record: type) -> str:
    return " ".join(inspect.cleandoc(record.__doc__ or "").split("\n\n")[0].split())
