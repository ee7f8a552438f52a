"""What becomes of a job when its lines are changed by hand?  Parts come and go, and what hung on them goes with them.

Keys stay: labels hang on them.  A part that is new gets a key that no part has.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import count

from .construct.compose import follow, named
from .construct.derived import StackName
from .part import Assembly, Half, Job, Line, Part

__all__ = ["counted", "lines_of", "renamed", "settled", "taken_apart", "with_lines"]


def lines_of(job: Job) -> tuple[Line, ...]:
    """The lines that were typed or came from a list, in their order."""
    own = {each.key for each in job.assemblies if not each.made_by}
    return tuple(line for line in job.lines if line.assembly in own)


def counted(line: Line, wanted: int, taken: Iterable[str]) -> Line:
    """The line with so many parts: new ones get keys that are not `taken`, and those at the end go first.

    >>> line = Line("rail", "door", "Rail", 1, 1, 1, parts=(Part("rail.1"), Part("rail.2")))
    >>> [part.key for part in counted(line, 4, {"rail.3"}).parts], [part.key for part in counted(line, 1, ()).parts]
    (['rail.1', 'rail.2', 'rail.4', 'rail.5'], ['rail.1'])
    """
    parts = list(line.parts[:wanted])
    used = {*taken, *(part.key for part in line.parts)}
    fresh = (key for nth in count(1) if (key := f"{line.key}.{nth}") not in used)
    parts.extend(Part(next(fresh)) for _ in range(wanted - len(parts)))
    return replace(line, parts=tuple(parts))


def with_lines(job: Job, assemblies: tuple[Assembly, ...], lines: tuple[Line, ...]) -> Job:
    """The job with these typed lines in place of its own, and these typed stacks; nothing is left hanging."""
    made = {each.key for each in job.assemblies if each.made_by}
    had = {line.assembly for line in job.lines}
    full = {line.assembly for line in lines}
    around = {each.within for each in (*assemblies, *job.assemblies)}
    # A stack goes when its last line goes; one that never had any, or holds others, stays.
    kept = tuple(each for each in assemblies if each.key in full or each.key in around or each.key not in had)
    return settled(
        replace(
            job,
            assemblies=(*kept, *(each for each in job.assemblies if each.made_by)),
            lines=(*lines, *(line for line in job.lines if line.assembly in made)),
        )
    )


def settled(job: Job) -> Job:
    """The job without joints of which a half is gone, constructions worked out anew."""
    there = {Half(part.key, each.key) for line in job.lines for part in line.parts for each in line.features}
    job = replace(job, joints=tuple(each for each in job.joints if {each.enters, each.takes} <= there))
    return follow(job).job


def taken_apart(job: Job, name: str) -> Job:
    """The job with what follows from a construction kept as if it had been typed; the construction itself is gone."""
    return settled(
        replace(
            job,
            assemblies=tuple(replace(each, made_by="") if each.made_by == name else each for each in job.assemblies),
            constructions=tuple(each for each in job.constructions if named(each) != name),
        )
    )


def renamed(job: Job, names: Mapping[str, str]) -> Job:
    """The job with these stacks called so, by their keys; numbers, keys and pair letters stay.

    A stack that follows from a construction keeps the name when that is worked out anew, and an empty one lets it
    follow again.
    """
    made_by = {each.key: each.made_by for each in job.assemblies}

    def kept(own: tuple[StackName, ...], by: str) -> tuple[StackName, ...]:
        its = {key: name for key, name in names.items() if made_by.get(key) == by}
        given = {each.key: each.name for each in own} | its
        return tuple(StackName(key, name) for key, name in given.items() if name)

    return settled(
        replace(
            job,
            assemblies=tuple(
                replace(each, name=names[each.key]) if each.key in names and not each.made_by else each
                for each in job.assemblies
            ),
            constructions=tuple(replace(each, names=kept(each.names, named(each))) for each in job.constructions),
        )
    )
