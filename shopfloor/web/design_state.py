"""How does a design stand?  The draft worked out anew: what follows, what is wrong, what is different from the floor.

Everything a design page shows is gathered here; office_design.py takes what was typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from shopfloor.paper import exploded
from shopfloor.paper.drawing import draw
from shopfloor.store import drafts, jobs, shop
from shopfloor.store.drafts import Draft
from shopfloor.trade import crossing, meeting, seasonal, walls
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Composed, Construction, follow, named
from shopfloor.trade.construct.derived import Derived
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.part import Assembly, Job, Line
from shopfloor.trade.revision import Changes, Shift, changes
from shopfloor.trade.sheet import letters_at
from shopfloor.web.design_form import Entry, Group, form_of
from shopfloor.web.design_habits import Other, others
from shopfloor.web.design_words import CHOICES, legend
from shopfloor.web.job_state import JobState, job_state

__all__ = ["HIDDEN", "Design", "Refused", "Shown", "Stack", "design", "drawn", "pictured", "touched"]

HIDDEN = frozenset({"key"})
"""A construction keeps its key: all the names of its parts begin with it, and their labels hang on these."""


@dataclass(frozen=True)
class Refused:
    """What was typed into the form of a construction and could not be read, and why, by field name."""

    name: str
    typed: Mapping[str, str]
    faults: Mapping[str, str]


@dataclass(frozen=True)
class Stack:
    """An assembly as the design lists it, with the lines of its parts."""

    assembly: Assembly
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Shown:
    """One construction on the page: its form, the lengths that follow from it, what is wrong, its stacks, and the sizes
    that would be others by the habits that the shop has changed."""

    name: str
    called: str
    form: tuple[Entry | Group, ...]
    derived: tuple[Derived, ...]
    faults: tuple[Fault, ...]
    stacks: tuple[Stack, ...]
    others: tuple[Other, ...] = ()


@dataclass(frozen=True)
class Touched:
    """A part that is cut already, and what would be different about it: `done` are the steps that it has behind it."""

    code: str
    name: str
    done: tuple[str, ...]
    shift: Shift
    gone: bool


@dataclass(frozen=True)
class Design:
    """`newest` is the number of the revision that was saved last; `faults` are those of the job as a whole, which
    cannot be saved with any, and `warnings` what should be looked at."""

    draft: Draft
    newest: int
    shown: tuple[Shown, ...]
    own: tuple[Stack, ...]
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...]
    changes: Changes
    touched: tuple[Touched, ...]

    @property
    def job(self) -> Job:
        return self.draft.job


def design(key: str, refused: Refused | None = None) -> Design:
    """The design of a job with what is not saved yet.  Raises NoSuchJob."""
    draft = drafts.read(key)
    composed = follow(draft.job)
    saved, newest = jobs.latest(key)
    different = changes(saved, draft.job)
    return Design(
        draft,
        newest,
        tuple(_shown(composed, draft.job, refused)),
        tuple(_stacks(draft.job, "")),
        tuple(check(draft.job)),
        (*_other_sizes(composed, draft.job), *_warnings(draft.job)),
        different,
        touched(job_state(key), different),
    )


def touched(state: JobState, different: Changes) -> tuple[Touched, ...]:
    """The parts on the floor with a step done already, whose wood would change or that would be gone."""
    gone = {part for shift in different.gone for part in shift.parts}
    shifts = different.touched
    found = []
    for part in state.parts:
        key = part.sheet.part.key
        done = tuple(step.done for step in part.sheet.route if part.progress.done(step.key))
        if key in shifts and done:
            found.append(Touched(part.sheet.code, part.sheet.called, done, shifts[key], key in gone))
    return tuple(found)


def drawn(job: Job, line: Line) -> Markup:
    """The first part of a line, with the letters of its pairs."""
    part = line.parts[0]
    letters = letters_at(job).get(part.key, {})
    # Our own drawing code has escaped everything that a person typed.
    return Markup(draw(line, part, unit=job.unit, denominator=job.denominator, letters=letters))


def pictured(job: Job, stack: str, line: str, codes: Mapping[str, str]) -> tuple[str, Markup | None]:
    """What the page draws: a line's part, or an assembly pulled apart; its title, and None if it cannot be drawn."""
    found = next((each for each in job.lines if each.key == line), None)
    if found is not None and not any(fault.where.startswith(f'line "{line}"') for fault in check(job)):
        return found.name, drawn(job, found)
    assembly = next((each for each in job.assemblies if each.key == stack), None)
    if assembly is None:
        return "", None
    picture = exploded.draw(job, assembly, codes)
    return assembly.name, Markup(picture) if picture else None


def _shown(composed: Composed, job: Job, refused: Refused | None) -> Iterator[Shown]:
    ways = shop.ways(job.unit)
    for construction, built in zip(job.constructions, composed.built, strict=True):
        name = named(construction)
        its = refused if refused and refused.name == name else Refused(name, {}, {})
        yield Shown(
            name,
            _called(construction),
            form_of(construction, job.unit, HIDDEN, its.typed, its.faults),
            built.derived,
            tuple(fault for fault in composed.faults if fault in built.faults or _names(fault, name)),
            tuple(_stacks(job, name)),
            others(construction, ways),
        )


def _names(fault: Fault, name: str) -> bool:
    return fault.where.startswith("construction ") and fault.where.endswith(f'"{name}"')


def _called(construction: Construction) -> str:
    kind = next(kind for kind, made in CONSTRUCTIONS.items() if isinstance(construction, made))
    own = getattr(construction, "name", "") or construction.key.replace("-", " ")
    if own == kind:
        return CHOICES[kind]
    return f"{legend(type(construction)) if own else CHOICES[kind]}{': ' if own else ''}{own}"


def _stacks(job: Job, made_by: str) -> Iterator[Stack]:
    for assembly in job.assemblies:
        if assembly.made_by == made_by:
            yield Stack(assembly, tuple(line for line in job.lines if line.assembly == assembly.key))


def _other_sizes(composed: Composed, job: Job) -> Iterator[Fault]:
    """Constructions that a length set by hand makes another size than was asked."""
    for construction, built in zip(job.constructions, composed.built, strict=True):
        for fault in built.warnings:
            yield replace(fault, where=f"{_called(construction)}, {fault.where}")


def _warnings(job: Job) -> Iterator[Fault]:
    wrong = {fault.where for fault in check(job)}
    habits = shop.habits()
    least = habits.of(walls.LEAST_WALL, job.unit)
    for line in job.lines:
        yield from (fault for fault in walls.faults(line, job.unit, least) if fault.where not in wrong)
    yield from meeting.faults(job)
    if not wrong:  # parts that cannot be drawn stand nowhere
        yield from crossing.faults(job)
        yield from seasonal.faults(job, shop.seasons(), habits=habits)
