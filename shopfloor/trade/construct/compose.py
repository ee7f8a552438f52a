"""How do constructions become a job?  Each worked out, one after the other, stacks numbered on.

A job keeps what was typed by hand; the constructions add to it.  Which lengths were derived, and how, stays with each.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from string import ascii_uppercase
from types import MappingProxyType

from ..fault import Fault
from ..part import Job, Unit
from . import cabinet, carcase, doors, plain
from .made import Built

__all__ = ["CONSTRUCTIONS", "Composed", "Construction", "compose", "derive", "follow", "named", "own"]

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


def named(construction: Construction) -> str:
    """What a job calls a construction: its key, or its kind while it has none."""
    return construction.key or construction.kind


def own(job: Job) -> Job:
    """What was typed by hand: the job without its constructions and all that follows from them."""
    assemblies = tuple(each for each in job.assemblies if not each.made_by)
    kept = {each.key for each in assemblies}
    lines = tuple(line for line in job.lines if line.assembly in kept)
    parts = {part.key for line in lines for part in line.parts}
    joints = tuple(each for each in job.joints if {each.enters.part, each.takes.part} <= parts)
    return replace(job, assemblies=assemblies, lines=lines, joints=joints, constructions=())


def follow(job: Job, constructions: Sequence[Construction] | None = None) -> Composed:
    """The job worked out anew, with these constructions in place of its own, or with its own.

    What was typed by hand stays.  A stack that is still there keeps its number, and so the letters of its pairs.
    """
    numbers = {each.key: each.number for each in job.assemblies if each.made_by}
    return compose(own(job), job.constructions if constructions is None else constructions, numbers)


def compose(
    job: Job, constructions: Sequence[Construction], numbers: Mapping[str, int] = MappingProxyType({})
) -> Composed:
    """The job with the assemblies, lines and joints of its constructions after its own.

    A construction whose keys are taken already is left out, and said.  `numbers` are those that assemblies had before,
    by their keys; the others get the next ones that nobody has.
    """
    made: list[Built] = []
    faults: list[Fault] = []
    keys = _keys(job)
    used = {each.number for each in job.assemblies} | set(numbers.values())
    names = [named(each) for each in job.constructions]
    for nth, construction in enumerate(constructions, 1):
        number = max(used, default=0) + 1
        built = derive(construction, job.unit, number)
        made_keys = _keys(built)
        taken = keys & made_keys
        where = f'construction {nth}, "{construction.key}"'
        if taken or named(construction) in names:
            kind, key = min(taken) if taken else ("construction", named(construction))
            what = f'there is {"an" if kind == "assembly" else "a"} {kind} "{key}" already'
            faults.append(Fault(where, what, "Give the construction a key of its own."))
            built, made_keys = replace(built, assemblies=(), lines=(), joints=(), meetings=()), set()
        built = _called(_numbered(built, named(construction), numbers), construction)
        names.append(named(construction))
        used |= {each.number for each in built.assemblies}
        keys |= made_keys
        made.append(built)
        faults.extend(built.faults)
        job = replace(
            job,
            assemblies=(*job.assemblies, *built.assemblies),
            lines=(*job.lines, *built.lines),
            joints=(*job.joints, *built.joints),
        )
    return Composed(replace(job, constructions=(*job.constructions, *constructions)), tuple(made), tuple(faults))


def _numbered(built: Built, name: str, numbers: Mapping[str, int]) -> Built:
    """What a construction gives, said to be made by it; a stack that had a number before keeps it."""
    first = min((each.number for each in built.assemblies), default=0)
    new = {each.number: numbers[each.key] for each in built.assemblies if each.key in numbers}
    fresh = (nth for nth in count(first))
    for each in built.assemblies:
        if each.key not in numbers:
            new[each.number] = next(fresh)

    def lettered(letter: str) -> str:
        digits = letter.rstrip(ascii_uppercase)
        return f"{new[int(digits)]}{letter[len(digits) :]}" if digits else letter

    return replace(
        built,
        assemblies=tuple(replace(each, number=new[each.number], made_by=name) for each in built.assemblies),
        joints=tuple(replace(each, letter=lettered(each.letter)) for each in built.joints),
    )


def _called(built: Built, construction: Construction) -> Built:
    """The stacks with the names that were given to them by hand, whatever else follows."""
    by_hand = {each.key: each.name for each in construction.names}
    assemblies = tuple(replace(each, name=by_hand.get(each.key, each.name)) for each in built.assemblies)
    return replace(built, assemblies=assemblies)


def _keys(what: Job | Built) -> set[tuple[str, str]]:
    """Every key, with the kind of thing that it names."""
    return {
        *(("assembly", each.key) for each in what.assemblies),
        *(("line", each.key) for each in what.lines),
        *(("part", part.key) for each in what.lines for part in each.parts),
        *(("joint", each.key) for each in what.joints),
    }
