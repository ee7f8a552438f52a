"""Can this job be built as it is written?  What is wrong with a document that has the right form.

Keys that stand twice, joints that name no feature, a mortise deeper than its stock, a mirror image that is called as
drawn.  Whether mates coincide in space is another question.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from .breakouts import a_kind, feature_faults, listed
from .construct.compose import named
from .fault import Fault
from .part import (
    Assembly,
    Bridle,
    Dado,
    Feature,
    Groove,
    Half,
    HalfLap,
    Job,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Part,
    Pins,
    Placement,
    Rabbet,
    Tails,
    Tenon,
    Tongue,
)
from .rounding import told

DENOMINATORS = (16, 32, 64)

ENTERS = (Tenon, Tongue, LooseTenon, HalfLap, Bridle, Tails)
TAKES = (Mortise, Groove, Dado, Rabbet, LooseTenon, HalfLap, OpenMortise, Pins)

ONLY_WITH: dict[type[Feature], tuple[type[Feature], ...]] = {
    LooseTenon: (LooseTenon,),
    HalfLap: (HalfLap,),
    Bridle: (OpenMortise,),
    Tails: (Pins,),
}
"""What some kinds that enter can be taken by; the others go into any opening that is cut square."""


def check(job: Job) -> list[Fault]:
    """Everything that keeps a document from being built, in its order; an empty list if there is nothing."""

    def size(nm: int) -> str:
        return told(abs(nm), job.unit)

    return [
        *_head(job),
        *_constructions(job),
        *_assemblies(job),
        *(fault for line in job.lines for fault in _line(line, size)),
        *_lines(job),
        *_joints(job),
    ]


def _head(job: Job) -> Iterator[Fault]:
    if not job.key:
        yield Fault("key", "the job has no key", "Give it a short one, such as choir-cabinet.")
    if job.denominator not in DENOMINATORS:
        yield Fault("denominator", f"an inch is not divided by {job.denominator} here", "It can be 16, 32 or 64.")


def _constructions(job: Job) -> Iterator[Fault]:
    names = [named(each) for each in job.constructions]
    yield from _twice("construction", names)
    for assembly in job.assemblies:
        if assembly.made_by and assembly.made_by not in names:
            what = f'there is no construction "{assembly.made_by}"'
            yield Fault(f'assembly "{assembly.key}", made_by', what, _one_of(names))


def _assemblies(job: Job) -> Iterator[Fault]:
    yield from _twice("assembly", (assembly.key for assembly in job.assemblies))
    yield from _twice("assembly number", (str(assembly.number) for assembly in job.assemblies))
    known = {assembly.key: assembly for assembly in job.assemblies}
    for assembly in job.assemblies:
        where = f'assembly "{assembly.key}"'
        if assembly.number < 1:
            yield Fault(f"{where}, number", f"{assembly.number} cannot stand on a stack", "Number from 1.")
        if assembly.within and assembly.within not in known:
            yield Fault(f"{where}, within", f'there is no assembly "{assembly.within}"', _one_of(known))
        elif _around(assembly, known) is None:
            yield Fault(f"{where}, within", "it stands within itself", "Leave one of them out.")


def _around(assembly: Assembly, known: Mapping[str, Assembly]) -> list[Assembly] | None:
    """An assembly and those it stands within, outwards; None if they go round in a ring."""
    way = [assembly]
    while way[-1].within in known:
        outer = known[way[-1].within]
        if outer in way:
            return None
        way.append(outer)
    return way


def _line(line: Line, size: Callable[[int], str]) -> Iterator[Fault]:
    where = f'line "{line.key}"'
    for name in ("thickness", "width", "length"):
        if getattr(line, name) <= 0:
            yield Fault(f"{where}, {name}", "a size must be more than nothing", f'Write it like "{size(19_050_000)}".')
    if not line.parts:
        yield Fault(f"{where}, parts", "no part is made to it", "A line of quantity 4 has four parts.")
    yield from _twice(f"{where}, feature", (feature.key for feature in line.features))
    if min(line.stock) > 0:
        for feature in line.features:
            yield from feature_faults(feature, line.stock, f'{where}, feature "{feature.key}"', size)


def _lines(job: Job) -> Iterator[Fault]:
    yield from _twice("line", (line.key for line in job.lines))
    yield from _twice("part", (part.key for line in job.lines for part in line.parts))
    known = {assembly.key: assembly for assembly in job.assemblies}
    for line in job.lines:
        if line.assembly not in known:
            yield Fault(f'line "{line.key}", assembly', f'there is no assembly "{line.assembly}"', _one_of(known))
            continue
        for part in line.parts:
            yield from _hand(line, part, _around(known[line.assembly], known) or [])


def _hand(line: Line, part: Part, around: list[Assembly]) -> Iterator[Fault]:
    if part.stands is None:
        return
    stands: Placement = part.stands
    for assembly in around:
        stands = stands.within(assembly.stands)
    if stands.hand is not part.hand:
        what = f"it is called {part.hand}, but stands as {_article(stands.hand)}"
        yield Fault(f'line "{line.key}", part "{part.key}", hand', what, "Change its hand or how it stands.")


def _joints(job: Job) -> Iterator[Fault]:
    yield from _twice("joint", (joint.key for joint in job.joints))
    yield from _twice("pair letter", (joint.letter for joint in job.joints if joint.letter))
    found = {(p.key, f.key): f for line in job.lines for p in line.parts for f in line.features}
    parts = {part.key for line in job.lines for part in line.parts}
    entered: set[Half] = set()
    for joint in job.joints:
        where = f'joint "{joint.key}"'
        for name, half, kinds in (("enters", joint.enters, ENTERS), ("takes", joint.takes, TAKES)):
            if half.part not in parts:
                yield Fault(f"{where}, {name}", f'there is no part "{half.part}"', "Name a part of this job.")
            elif (half.part, half.feature) not in found:
                its = [feature for part, feature in found if part == half.part]
                yield Fault(f"{where}, {name}", f'"{half.part}" has no feature "{half.feature}"', _one_of(its))
            elif not isinstance(found[half.part, half.feature], kinds):
                what = f"a {found[half.part, half.feature].kind} {name} nothing"
                yield Fault(f"{where}, {name}", what, f"It can be: {listed(kind.kind for kind in kinds)}.")
        enters = found.get((joint.enters.part, joint.enters.feature))
        takes = found.get((joint.takes.part, joint.takes.feature))
        if isinstance(enters, ENTERS) and isinstance(takes, TAKES):
            fitting = _fitting(enters)
            if not isinstance(takes, fitting):
                what = f"{a_kind(enters)} cannot go into {a_kind(takes)}"
                yield Fault(f"{where}, takes", what, f"It can be: {listed(kind.kind for kind in fitting)}.")
        if joint.enters.part == joint.takes.part:
            yield Fault(where, f'"{joint.enters.part}" cannot be joined to itself', "Name its mate.")
        if joint.enters in entered:
            what = f'"{joint.enters.feature}" of "{joint.enters.part}" enters another joint already'
            yield Fault(f"{where}, enters", what, "A tenon or a tongue enters one mate.")
        entered.add(joint.enters)


def _fitting(enters: Feature) -> tuple[type[Feature], ...]:
    """The kinds that can take it."""
    own = {kind for kinds in ONLY_WITH.values() for kind in kinds}
    return ONLY_WITH.get(type(enters), tuple(kind for kind in TAKES if kind not in own or kind is OpenMortise))


def _twice(what: str, keys: Iterable[str]) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    for key in keys:
        seen[key] = seen.get(key, 0) + 1
    for key, count in seen.items():
        if not key:
            yield Fault(what, "one has no key", "Give each a key of its own.")
        elif count > 1:
            yield Fault(f'{what} "{key}"', f"it is there {count} times", "Each must be there once.")


def _article(hand: str) -> str:
    return "a mirror image" if hand == "mirror" else "drawn"


def _one_of(keys: Iterable[str]) -> str:
    every = list(keys)
    more = f" and {len(every) - 8} more" if len(every) > 8 else ""
    return f"There is: {listed(every[:8])}{more}." if every else "There is none yet."
