"""How does a design stand?  The draft worked out anew: what follows, what is wrong, what is different from the floor.

Everything a design page shows is gathered here; office_design.py takes what was typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from shopfloor.journal.fold import progress
from shopfloor.paper import exploded
from shopfloor.paper.drawing import draw
from shopfloor.store import drafts, jobs, shop
from shopfloor.store.drafts import Draft
from shopfloor.trade import crossing, meeting, seasonal, walls
from shopfloor.trade.construct.compose import CONSTRUCTIONS, Composed, Construction, follow, named
from shopfloor.trade.document import check
from shopfloor.trade.fault import Fault
from shopfloor.trade.part import Assembly, Job, Line
from shopfloor.trade.revision import Changes, Shift, changes
from shopfloor.trade.route import route
from shopfloor.trade.sheet import called, letters_at, places_in
from shopfloor.web.design_derived import Follows, followings
from shopfloor.web.design_faults import Missing, Wrong, marks, missing, wrongs
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
    """One construction on the page: its form, the lengths that follow from it, what is wrong, its stacks, what is not
    made by how many stacks stand before it, and the sizes that would be others by the habits that the shop has changed.
    """

    name: str
    called: str
    form: tuple[Entry | Group, ...]
    follows: tuple[Follows, ...]
    wrong: tuple[Wrong, ...]
    stacks: tuple[Stack, ...]
    missing: Mapping[int, Sequence[Missing]]
    others: tuple[Other, ...] = ()

    def sets(self, fields: Iterable[str]) -> bool:
        """Whether one of the fields is that of a length set by hand."""
        return any(each.startswith("by-hand.") for each in fields)

    @property
    def wrong_by_hand(self) -> bool:
        """Whether something is wrong with a length set by hand."""
        return self.sets(each.field for each in self.wrong)


@dataclass(frozen=True)
class Touched:
    """A part that is cut already, and what would be different about it: `done` are the steps that it has behind it.

    `back` is the number of the revision that had it last, if it was gone and comes back with this one; else 0.
    """

    code: str
    name: str
    done: tuple[str, ...]
    shift: Shift
    gone: bool = False
    back: int = 0


@dataclass(frozen=True)
class Design:
    """`newest` is the number of the revision that was saved last; `faults` are those of the job as a whole, which
    cannot be saved with any, nor with anything that a construction cannot make.  `apart` are joints whose halves do not
    meet, and `warnings` what else should be looked at."""

    draft: Draft
    newest: int
    shown: tuple[Shown, ...]
    own: tuple[Stack, ...]
    faults: tuple[Fault, ...]
    apart: tuple[Fault, ...]
    warnings: tuple[Fault, ...]
    changes: Changes
    touched: tuple[Touched, ...]

    @property
    def job(self) -> Job:
        return self.draft.job

    @property
    def shut(self) -> bool:
        """Whether it cannot be saved as it is."""
        return bool(self.faults) or any(one.wrong for one in self.shown)

    @property
    def first_wrong(self) -> str:
        """The first thing that a construction cannot make, in one sentence; empty if there is none."""
        several = len(self.shown) > 1
        wrong = [f"{one.called}: {one.wrong[0]}" if several else str(one.wrong[0]) for one in self.shown if one.wrong]
        return wrong[0] if wrong else ""


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
        tuple(_apart(composed, draft.job)),
        (*_other_sizes(composed, draft.job), *_warnings(draft.job)),
        different,
        touched(job_state(key), different, draft.job),
    )


def touched(state: JobState, different: Changes, after: Job) -> tuple[Touched, ...]:
    """The parts on the floor with a step done already, whose wood would change, that would be gone, or that come back.

    `after` is the job as it would be.
    """
    gone = {part for shift in different.gone for part in shift.parts}
    shifts = different.touched
    found = []
    for part in state.parts:
        key = part.sheet.part.key
        done = tuple(step.done for step in part.sheet.route if part.progress.done(step.key))
        if key in shifts and done:
            found.append(Touched(part.sheet.code, part.sheet.called, done, shifts[key], key in gone))
    return (*found, *_back(state, different, after))


def _back(state: JobState, different: Changes, after: Job) -> Iterator[Touched]:
    """Parts that had left the job with steps done, and are in it again: told against what they were cut to."""
    codes = jobs.codes(state.job.key)
    told = progress(state.rows)
    began = {
        part: told[codes[part]]
        for shift in different.new
        for part in shift.parts
        if part in codes and codes[part] in told and any(each.done for each in told[codes[part]].steps.values())
    }
    if not began:
        return
    routes = {part.key: route(line, joined=True) for line in after.lines for part in line.parts if part.key in began}
    for part, (job, number) in jobs.last_with(state.job.key, began, state.revision).items():
        shift = changes(job, after).touched.get(part, Shift((), ()))
        done = tuple(step.done for step in routes[part] if began[part].done(step.key))
        line = next(line for line in after.lines if any(each.key == part for each in line.parts))
        yield Touched(codes[part], called(line.name, places_in(line)[part]), done, shift, back=number)


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
    if picture:
        return assembly.name, Markup(picture)
    lines = [each for each in job.lines if each.assembly == stack]
    if len(lines) == 1 and line != lines[0].key:  # there is nothing to pull apart
        return pictured(job, "", lines[0].key, codes)
    return assembly.name, None


def _shown(composed: Composed, job: Job, refused: Refused | None) -> Iterator[Shown]:
    ways = shop.ways(job.unit)
    for construction, built in zip(job.constructions, composed.built, strict=True):
        name, said = named(construction), _called(construction)
        prefix = f"{construction.key}-" if construction.key else ""
        its = refused if refused and refused.name == name else Refused(name, {}, {})
        stacks = tuple(_stacks(job, name))
        keys = [each.assembly.key for each in stacks]
        form = form_of(construction, job.unit, HIDDEN, {}, {})
        faults = [fault for fault in composed.faults if fault in built.faults or _names(fault, name)]
        wrong = wrongs(name, said, form, built.derived, faults, prefix, keys)
        yield Shown(
            name,
            said,
            form_of(construction, job.unit, HIDDEN, its.typed, {**marks(wrong), **its.faults}),
            followings(built.derived, form, built.lines, prefix),
            wrong,
            stacks,
            missing(said, form, wrong, prefix, keys),
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


def _apart(composed: Composed, job: Job) -> Iterator[Fault]:
    """Joints that do not meet; of a construction that says itself what is wrong with it, it is not said twice."""
    told = {named(each) for each, built in zip(job.constructions, composed.built, strict=True) if built.faults}
    made = {each.key for each in job.assemblies if each.made_by in told}
    parts = {part.key for line in job.lines if line.assembly in made for part in line.parts}
    its = {f'joint "{each.key}"' for each in job.joints if {each.enters.part, each.takes.part} <= parts}
    yield from (fault for fault in meeting.faults(job) if fault.where not in its)


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
    if not wrong:  # parts that cannot be drawn stand nowhere
        yield from crossing.faults(job)
        yield from seasonal.faults(job, shop.seasons(), habits=habits)
