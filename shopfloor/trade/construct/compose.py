"""How do constructions become a job?  Each worked out, one after the other, stacks numbered on.

A job keeps what was typed by hand; the constructions add to it.  Which lengths were derived, and how, stays with each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..fault import Fault
from ..part import Job, Unit
from . import cabinet, carcase, doors, plain
from .made import Built

__all__ = ["CONSTRUCTIONS", "Composed", "Construction", "compose", "derive"]

Construction = cabinet.Cabinet | carcase.Carcase | doors.Doors | plain.Plain

CONSTRUCTIONS: dict[str, type[Construction]] = {
    made.kind: made for made in (cabinet.Cabinet, carcase.Carcase, doors.Doors, plain.Plain)
}
"""The constructions by their kind, as a document names them."""


@dataclass(frozen=True)
class Composed:
    """A job with everything its constructions give; `built` are those one by one, `faults` all that is wrong."""

    job: Job
    built: tuple[Built, ...]
    faults: tuple[Fault, ...]


def derive(construction: Construction, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from one construction; its first assembly gets `number`."""
    match construction:
        case cabinet.Cabinet():
            return cabinet.derive(construction, unit, number)
        case carcase.Carcase():
            return carcase.derive(construction, unit, number)
        case doors.Doors():
            return doors.derive(construction, unit, number)
        case plain.Plain():
            return plain.derive(construction, unit, number)


def compose(job: Job, constructions: Sequence[Construction]) -> Composed:
    """The job with the assemblies, lines and joints of its constructions after its own.

    A construction whose keys are taken already is left out, and said.
    """
    made: list[Built] = []
    faults: list[Fault] = []
    keys = _keys(job)
    for nth, construction in enumerate(constructions, 1):
        number = max((assembly.number for assembly in job.assemblies), default=0) + 1
        built = derive(construction, job.unit, number)
        own = _keys(built)
        taken = keys & own
        if taken:
            where = f'construction {nth}, "{construction.key}"'
            kind, key = min(taken)
            what = f'there is {"an" if kind == "assembly" else "a"} {kind} "{key}" already'
            faults.append(Fault(where, what, "Give the construction a key of its own."))
            built, own = replace(built, assemblies=(), lines=(), joints=(), meetings=()), set()
        keys |= own
        made.append(built)
        faults.extend(built.faults)
        job = replace(
            job,
            assemblies=(*job.assemblies, *built.assemblies),
            lines=(*job.lines, *built.lines),
            joints=(*job.joints, *built.joints),
        )
    return Composed(job, tuple(made), tuple(faults))


def _keys(what: Job | Built) -> set[tuple[str, str]]:
    """Every key, with the kind of thing that it names."""
    return {
        *(("assembly", each.key) for each in what.assemblies),
        *(("line", each.key) for each in what.lines),
        *(("part", part.key) for each in what.lines for part in each.parts),
        *(("joint", each.key) for each in what.joints),
    }
