"""What does a phone need of one job, to work with no connection?  The pack, in the form that DEVELOPERS.md gives."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from shopfloor.paper import exploded
from shopfloor.paper.drawing import Drawings
from shopfloor.store.jobs import Gone
from shopfloor.trade.part import Assembly, Job, Unit
from shopfloor.trade.sheet import Sheet, sheets, stack_key
from shopfloor.trade.short import ends
from shopfloor.trade.turn import refusals

FORM = 1
"""Version of the pack's form; phones take a pack of a newer form as far as they understand it."""

MANY_STEPS, MANY_MARKS = 3, 6
"""A part with fewer steps that cut, and fewer marks, is read at a glance: drawings of its steps would only double the
pack."""


def build(job: Job, revision: int, codes: Mapping[str, str], gone: Sequence[Gone], etag: str) -> dict[str, Any]:
    """The pack of one revision of a job.  `gone` are the labels that this revision has left without a part or stack."""
    drawings: dict[str, dict[str, str]] = {}
    parts: list[dict[str, Any]] = []
    stacks: dict[str, dict[str, Any]] = {
        assembly.key: {
            "code": codes[stack_key(assembly.key)],
            "key": assembly.key,
            "number": assembly.number,
            "name": assembly.name,
            "parts": [],
            "drawing": _apart(job, assembly, codes, drawings),
        }
        for assembly in sorted(job.assemblies, key=lambda one: one.number)
    }
    ends_of = ends(job)
    drawn: dict[Any, Drawn] = {}
    for sheet in sheets(job, codes):
        # Twins are drawn once: what a drawing shows depends on the line, the hand and the letters, not on the part.
        same = (sheet.line.key, sheet.part.hand, tuple(sorted(sheet.letter_of.items())))
        if same not in drawn:
            drawn[same] = _draw(job, sheet, drawings)
        stacks[sheet.assembly.key]["parts"].append(sheet.code)
        parts.append(_part(sheet, drawn[same]))
        parts[-1]["ends"] = [
            {**end._asdict(), "mates": [[mate.letter, codes.get(mate.part, "")] for mate in end.mates]}
            for end in ends_of[sheet.part.key]
        ]  # fmt: skip
    return {
        "form": FORM,
        "etag": etag,
        "job": {
            "key": job.key,
            "name": job.name,
            "unit": job.unit.value,
            "denominator": job.denominator,
            "revision": revision,
            "species": job.species,
        },
        "stacks": list(stacks.values()),
        "parts": parts,
        "drawings": drawings,
        "gone": [one._asdict() for one in gone],
    }


def _apart(job: Job, assembly: Assembly, codes: Mapping[str, str], drawings: dict[str, dict[str, str]]) -> str:
    """Draw a stack pulled apart, put it into `drawings`, and give its name; "" if no part has a place in space."""
    svg = exploded.draw(job, assembly, codes)
    if svg is None:
        return ""
    name = hashlib.sha256(svg.encode()).hexdigest()[:16]
    drawings[name] = {unit.value: svg for unit in Unit}  # it has no lengths on it
    return name


class Drawn(NamedTuple):
    """The names of a part's drawings: of the whole, and of the steps that have one of their own, by their keys."""

    whole: str
    steps: Mapping[str, str]


def _draw(job: Job, sheet: Sheet, drawings: dict[str, dict[str, str]]) -> Drawn:
    """Draw a sheet's part in both units, put what is drawn into `drawings`, and give the names."""
    made = Drawings(sheet.line, sheet.part, denominator=job.denominator, letters=dict(sheet.letter_of))

    def keep(both: dict[str, str]) -> str:
        name = hashlib.sha256("".join(both.values()).encode()).hexdigest()[:16]
        drawings[name] = both
        return name

    whole = keep({unit.value: made.whole(unit) for unit in Unit})
    if len(made.steps) < MANY_STEPS and len({mark.at for mark in sheet.marks}) < MANY_MARKS:
        return Drawn(whole, {})
    return Drawn(whole, {step: keep({unit.value: made.step(step, unit) for unit in Unit}) for step in made.steps})


def _part(sheet: Sheet, drawn: Drawn) -> dict[str, Any]:
    line, part = sheet.line, sheet.part
    barred = refusals(line)
    return {
        "code": sheet.code,
        "key": part.key,
        "line": line.key,
        "name": line.name,
        "place": sheet.place,
        "hand": part.hand.value,
        "mirrors": sheet.mirrors,
        "stack": sheet.stack_code,
        "nth": list(sheet.nth),
        "thickness": line.thickness,
        "width": line.width,
        "length": line.length,
        "species": sheet.species,
        "datum": line.datum,
        "note": line.note,
        "marks": [mark._asdict() for mark in sheet.marks],
        "check": line.length,
        "letters": list(sheet.letters),
        "mates": [
            {"letter": mate.letter, "code": mate.code, "name": mate.name, "place": mate.place, "says": mate.says}
            for mate in sheet.mates
        ],
        "route": [
            {"key": step.key, "name": step.name, "done": step.done, "detail": list(step.detail)}
            | ({"drawing": drawn.steps[step.key]} if step.key in drawn.steps else {})
            | ({"not_after": barred[step.key]} if step.key in barred else {})
            for step in sheet.route
        ],
        "drawing": drawn.whole,
    }
