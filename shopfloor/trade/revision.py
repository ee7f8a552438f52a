"""What is different between two revisions of a job?  Part by part, in the words and numbers of the bench.

Parts are told apart by their keys, which stay.  Parts that change in the same way are told together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any

from .length import Length
from .part import Feature, Half, Job, Line, Part
from .record import hints, is_length
from .route import Said
from .sheet import called, places_in

__all__ = ["Changes", "Shift", "changes"]


@dataclass(frozen=True)
class Shift:
    """What happens to some parts.  `parts` are their keys, `names` what they are called; `says` tells each difference.

    `wood` says whether the wood itself changes: a part that was cut already may have to be made anew.
    """

    parts: tuple[str, ...]
    names: tuple[str, ...]
    says: tuple[Said, ...] = ()
    wood: bool = True


@dataclass(frozen=True)
class Changes:
    """`job` tells what is different about the job as a whole; the parts that are new, gone, and different."""

    job: tuple[Said, ...] = ()
    new: tuple[Shift, ...] = ()
    gone: tuple[Shift, ...] = ()
    different: tuple[Shift, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.job or self.new or self.gone or self.different)

    @property
    def touched(self) -> dict[str, Shift]:
        """Each part whose wood changes, or that is gone, by its key."""
        return {part: shift for shift in (*self.gone, *self.different) if shift.wood for part in shift.parts}


@dataclass(frozen=True)
class _Made:
    """One part with all that it is made to."""

    line: Line
    part: Part
    name: str
    stack: str
    letters: Mapping[str, str]


def changes(before: Job, after: Job) -> Changes:
    """Every difference between two states of one job that somebody who makes it would want to know."""
    old, new = _made(before), _made(after)
    shifts: dict[tuple[tuple[Said, ...], bool, str], list[str]] = {}
    for key, made in new.items():
        if key in old:
            wood = tuple(_wood(old[key], made))
            says = (*wood, *_words(old[key], made))
            if says:
                shifts.setdefault((says, bool(wood), made.line.key), []).append(key)
    return Changes(
        tuple(_head(before, after)),
        _whole((made for key, made in new.items() if key not in old), _size),
        _whole((made for key, made in old.items() if key not in new), _size),
        tuple(
            Shift(tuple(parts), tuple(new[key].name for key in parts), says, wood)
            for (says, wood, _), parts in shifts.items()
        ),
    )


def _made(job: Job) -> dict[str, _Made]:
    letters: dict[str, dict[str, str]] = {}
    for joint in job.joints:
        for half in (joint.enters, joint.takes):
            _letter(letters, half, joint.letter)
    stacks = {each.key: each.name for each in job.assemblies}
    found = {}
    for line in job.lines:
        places = places_in(line)
        for part in line.parts:
            name = called(line.name, places[part.key])
            found[part.key] = _Made(line, part, name, stacks.get(line.assembly, ""), letters.get(part.key, {}))
    return found


def _letter(letters: dict[str, dict[str, str]], half: Half, letter: str) -> None:
    if letter:
        own = letters.setdefault(half.part, {})
        own[half.feature] = " ".join(sorted({*own.get(half.feature, "").split(), letter}))


def _whole(made: Iterable[_Made], says: Callable[[_Made], Said]) -> tuple[Shift, ...]:
    by_line: dict[str, list[_Made]] = {}
    for each in made:
        by_line.setdefault(each.line.key, []).append(each)
    return tuple(
        Shift(tuple(one.part.key for one in each), tuple(one.name for one in each), (says(each[0]),))
        for each in by_line.values()
    )


def _size(made: _Made) -> Said:
    line = made.line
    return (line.thickness, " x ", line.width, " x ", line.length, f", {made.stack}" if made.stack else "")


def _head(before: Job, after: Job) -> Iterator[Said]:
    for field, word in (("name", "name"), ("unit", "unit"), ("denominator", "divisions of an inch"),
                        ("species", "species"), ("note", "note")):  # fmt: skip
        yield from _text(word, str(getattr(before, field)), str(getattr(after, field)))
    old = {each.key: each for each in before.assemblies}
    for stack in after.assemblies:
        if stack.key in old:
            yield from _text(f"stack {stack.number}", old[stack.key].name, stack.name)


def _wood(old: _Made, new: _Made) -> Iterator[Said]:
    """What is different about the wood: sizes, species, cuts and the hand."""
    for field in ("length", "width", "thickness"):
        yield from _length(field, getattr(old.line, field), getattr(new.line, field))
    yield from _text("species", old.line.species, new.line.species)
    if old.part.hand is not new.part.hand:
        yield (f"hand: {old.part.hand}, now {new.part.hand}",)
    yield from _text("datum end", old.line.datum, new.line.datum)
    yield from _text("face side", old.line.face_side, new.line.face_side)
    yield from _text("face edge", old.line.face_edge, new.line.face_edge)
    was = {each.key: each for each in old.line.features}
    now = {each.key: each for each in new.line.features}
    for key, feature in was.items():
        if key not in now:
            yield (f'{feature.kind} "{key}" is gone',)
    for key, feature in now.items():
        if key not in was:
            yield (f'{feature.kind} "{key}" is new',)
        elif was[key] != feature:
            yield from _feature(was[key], feature)


def _feature(old: Feature, new: Feature) -> Iterator[Said]:
    if type(old) is not type(new):
        yield (f'{old.kind} "{old.key}" is a {new.kind} now',)
        return
    kind: type = type(new)
    own: dict[str, Any] = hints(kind)
    for each in fields(kind):
        was, now = getattr(old, each.name), getattr(new, each.name)
        if was != now:
            word = f'{new.kind} "{new.key}", {each.name.replace("_", " ")}'
            yield from _length(word, was, now) if is_length(own[each.name]) else _text(word, f"{was}", f"{now}")


def _words(old: _Made, new: _Made) -> Iterator[Said]:
    """What is different, but not in the wood: names, letters, notes, and where it belongs."""
    yield from _text("name", old.name, new.name)
    if old.line.assembly != new.line.assembly:  # a stack that has another name only is told once, of the job
        yield from _text("stack", old.stack, new.stack)
    for key in {**old.letters, **new.letters}:
        yield from _text(f'pair letter at "{key}"', old.letters.get(key, ""), new.letters.get(key, ""))
    yield from _text("grain group", old.line.group, new.line.group)
    yield from _text("note", old.line.note, new.line.note)


def _length(word: str, was: Length, now: Length) -> Iterator[Said]:
    if was != now:
        yield (f"{word} ", was, ", now ", now)


def _text(word: str, was: str, now: str) -> Iterator[Said]:
    if was != now:
        yield (f"{word}: {was or 'none'}, now {now or 'none'}",)
