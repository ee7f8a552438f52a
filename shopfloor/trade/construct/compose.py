"""How do constructions become a job?  Each worked out, one after the other, stacks numbered on.

A job keeps what was typed by hand; the constructions add to it.  Which lengths were derived, and how, stays with each.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import count, product
from string import ascii_uppercase
from types import MappingProxyType
from typing import get_args

from ..fault import Fault
from ..part import Job, Joint, Unit
from . import (
    cabinet,
    carcase,
    doors,
    lone_drawers,
    lone_frame,
    lone_shelves,
    lone_top,
    lone_web_frames,
    plain,
    table,
)
from .made import Built
from .signs import with_what_can_be

__all__ = [
    "CONSTRUCTIONS",
    "NOTHING",
    "Composed",
    "Construction",
    "Known",
    "compose",
    "derive",
    "follow",
    "known",
    "named",
    "own",
]

Construction = (
    cabinet.Cabinet
    | carcase.Carcase
    | table.Table
    | lone_frame.LoneFrame
    | doors.Doors
    | lone_web_frames.LoneWebFrames
    | lone_drawers.LoneDrawers
    | lone_top.LoneTop
    | lone_shelves.LoneShelves
    | plain.Plain
)

CONSTRUCTIONS: dict[str, type[Construction]] = {made.kind: made for made in get_args(Construction)}
"""The constructions by their kind, as a document names them."""


@dataclass(frozen=True)
class Composed:
    """A job with everything its constructions give; `built` are those one by one, `faults` all that is wrong."""

    job: Job
    built: tuple[Built, ...]
    faults: tuple[Fault, ...]


def derive(construction: Construction, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from one construction; its first assembly gets `number`.

    A choice with a length that is nothing, or less, and may not be is left out and said.
    """
    prefix = f"{construction.key}-" if construction.key else ""
    left, wrong = with_what_can_be(construction, prefix, unit)
    built = _derive(left, unit, number) if left else Built((), (), (), (), (), ())
    return replace(built, faults=(*wrong, *built.faults)) if wrong else built


def _derive(construction: Construction, unit: Unit, number: int) -> Built:
    match construction:
        case cabinet.Cabinet():
            return cabinet.derive(construction, unit, number)
        case carcase.Carcase():
            return carcase.derive(construction, unit, number)
        case table.Table():
            return table.derive(construction, unit, number)
        case lone_frame.LoneFrame():
            return lone_frame.derive(construction, unit, number)
        case doors.Doors():
            return doors.derive(construction, unit, number)
        case lone_web_frames.LoneWebFrames():
            return lone_web_frames.derive(construction, unit, number)
        case lone_drawers.LoneDrawers():
            return lone_drawers.derive(construction, unit, number)
        case lone_top.LoneTop():
            return lone_top.derive(construction, unit, number)
        case lone_shelves.LoneShelves():
            return lone_shelves.derive(construction, unit, number)
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


@dataclass(frozen=True)
class Known:
    """What stands on wood and labels already: the numbers of stacks, and the pair letters of joints, by their keys.

    They stay when what they name comes back after having been gone, and nothing else is given them meanwhile.
    """

    numbers: Mapping[str, int]
    letters: Mapping[str, str]


NOTHING = Known(MappingProxyType({}), MappingProxyType({}))


def known(job: Job) -> Known:
    """What a state of a job says of what follows from its constructions."""
    made = {each.key: each.number for each in job.assemblies if each.made_by}
    return Known(made, {each.key: each.letter for each in job.joints if each.letter})


def follow(job: Job, constructions: Sequence[Construction] | None = None, before: Known = NOTHING) -> Composed:
    """The job worked out anew, with these constructions in place of its own, or with its own.

    What was typed by hand stays.  A stack that is still there, or comes back after `before`, keeps its number, and
    the letters of its pairs.
    """
    now = known(job)
    kept = Known({**before.numbers, **now.numbers}, {**before.letters, **now.letters})
    return compose(own(job), job.constructions if constructions is None else constructions, kept)


def compose(job: Job, constructions: Sequence[Construction], before: Known = NOTHING) -> Composed:
    """The job with the assemblies, lines and joints of its constructions after its own.

    A construction whose keys are taken already is left out, and said.  `before` are the numbers and letters that are
    kept; the others get the first ones that nobody has.
    """
    made: list[Built] = []
    faults: list[Fault] = []
    keys = _keys(job)
    used = {each.number for each in job.assemblies}
    spent = {each.letter for each in job.joints}
    names = [named(each) for each in job.constructions]
    for nth, construction in enumerate(constructions, 1):
        number = max(used | set(before.numbers.values()), default=0) + 1
        built = derive(construction, job.unit, number)
        made_keys = _keys(built)
        taken = keys & made_keys
        where = f'construction {nth}, "{construction.key}"'
        if taken or named(construction) in names:
            kind, key = min(taken) if taken else ("construction", named(construction))
            what = f'there is {"an" if kind == "assembly" else "a"} {kind} "{key}" already'
            faults.append(Fault(where, what, "Give the construction a key of its own."))
            built, made_keys = replace(built, assemblies=(), lines=(), joints=(), meetings=()), set()
        built = _called(_numbered(built, named(construction), before, used, spent), construction)
        names.append(named(construction))
        used |= {each.number for each in built.assemblies}
        spent |= {each.letter for each in built.joints}
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


def _numbered(built: Built, name: str, before: Known, used: Set[int], spent: Set[str]) -> Built:
    """What a construction gives, said to be made by it; what had a number or a letter before keeps it."""
    new: dict[int, int] = {}
    for each in built.assemblies:
        kept = before.numbers.get(each.key)
        if kept is not None and kept not in used and kept not in new.values():
            new[each.number] = kept
    spoken_for = {*used, *new.values(), *before.numbers.values()}
    fresh = (nth for nth in count(1) if nth not in spoken_for)
    for each in built.assemblies:
        if each.number not in new:
            new[each.number] = next(fresh)
    letters = _lettered(built.joints, new, before.letters, spent)
    return replace(
        built,
        assemblies=tuple(replace(each, number=new[each.number], made_by=name) for each in built.assemblies),
        joints=tuple(replace(each, letter=letters.get(each.letter, "")) for each in built.joints),
    )


def _lettered(
    joints: Sequence[Joint], new: Mapping[int, int], before: Mapping[str, str], spent: Set[str]
) -> dict[str, str]:
    """The letter that counts for each that was worked out: the one that its joint had before, if its stack still has
    that number, else the one worked out, or the next that is free there."""
    wanted = {joint.letter: _renumbered(joint.letter, new) for joint in reversed(joints) if joint.letter}
    found: dict[str, str] = {}
    for joint in joints:
        kept = before.get(joint.key, "")
        if not kept or not joint.letter or joint.letter in found or kept in spent or kept in found.values():
            continue
        if _number(kept) == _number(wanted[joint.letter]):
            found[joint.letter] = kept
    # A letter that another joint had may be on wood somewhere: the first that nobody ever had here is taken.
    reserved = {*spent, *found.values(), *before.values()}
    for letter in dict.fromkeys(joint.letter for joint in joints if joint.letter):
        if letter in found:
            continue
        own = wanted[letter]
        if own in reserved:
            own = next(each for each in _letters(_number(own)) if each not in reserved)
        found[letter] = own
        reserved.add(own)
    return found


def _renumbered(letter: str, new: Mapping[int, int]) -> str:
    digits = letter.rstrip(ascii_uppercase)
    return f"{new[int(digits)]}{letter[len(digits) :]}" if digits else letter


def _number(letter: str) -> str:
    return letter.rstrip(ascii_uppercase)


def _letters(number: str) -> Iterator[str]:
    """Every pair letter of a stack: 2A to 2Z, then 2AA."""
    for size in count(1):
        for letters in product(ascii_uppercase, repeat=size):
            yield number + "".join(letters)


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
