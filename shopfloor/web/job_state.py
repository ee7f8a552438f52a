"""How does a job stand?  The document and the journal together: stacks, parts, rods, and what needs somebody."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from shopfloor.journal.fold import PartProgress, Row, progress
from shopfloor.store import jobs, journal
from shopfloor.trade.part import Assembly, Job
from shopfloor.trade.sheet import Sheet, sheets, stack_key
from shopfloor.web.office_words import entry_says, reason, who
from shopfloor.web.rods import Rod, rod


@dataclass(frozen=True)
class PartState:
    """One part: its sheet, and what the journal says about it."""

    sheet: Sheet
    progress: PartProgress
    rod: Rod


@dataclass(frozen=True)
class StackState:
    """The parts of one assembly, in the order of the cut list."""

    assembly: Assembly
    code: str
    parts: tuple[PartState, ...]
    rod: Rod


@dataclass(frozen=True)
class Side:
    """What one phone says."""

    who: str
    says: str
    at: int


@dataclass(frozen=True)
class Disagreement:
    """A step about which the floor says different things; `counts_as` is what it is taken for until it is settled."""

    sheet: Sheet
    step: str
    step_name: str
    done_says: str
    sides: tuple[Side, ...]
    counts_as: str


@dataclass(frozen=True)
class Holding:
    """A part that is held or spoiled, and why."""

    sheet: Sheet
    says: str
    who: str
    at: int


@dataclass(frozen=True)
class JobState:
    """One job as it stands: `rows` are the entries of the journal about it."""

    job: Job
    revision: int
    stacks: tuple[StackState, ...]
    rows: Sequence[Row]

    @property
    def parts(self) -> list[PartState]:
        """Every part, stack by stack."""
        return [part for stack in self.stacks for part in stack.parts]

    @cached_property
    def rod(self) -> Rod:
        """The rod of the whole job."""
        return rod((part.sheet.route, part.progress) for part in self.parts)

    @property
    def to_settle(self) -> int:
        """How many steps the floor says different things about."""
        return sum(len(part.progress.disagreements) for part in self.parts)

    @property
    def unread(self) -> int:
        """How many entries about its parts need a newer version."""
        return sum(part.progress.unread for part in self.parts)


def job_state(key: str) -> JobState:
    """A job as it stands now.  Raises NoSuchJob."""
    job, revision = jobs.latest(key)
    return state_of(job, revision, jobs.codes(key), journal.rows_of_job(key))


def state_of(job: Job, revision: int, codes: Mapping[str, str], rows: Sequence[Row]) -> JobState:
    """The same from a document, its codes and its rows."""
    told = progress(rows)
    by_assembly: dict[str, list[PartState]] = {}
    for sheet in sheets(job, codes):
        own = told.get(sheet.code) or PartProgress()
        by_assembly.setdefault(sheet.assembly.key, []).append(PartState(sheet, own, rod([(sheet.route, own)])))
    stacks = []
    for assembly in sorted(job.assemblies, key=lambda one: one.number):
        parts = tuple(by_assembly.get(assembly.key, ()))
        whole = rod((part.sheet.route, part.progress) for part in parts)
        stacks.append(StackState(assembly, codes[stack_key(assembly.key)], parts, whole))
    return JobState(job, revision, tuple(stacks), rows)


def disagreements(job: JobState, parts: Iterable[PartState], names: Mapping[str, str]) -> list[Disagreement]:
    """What is to be settled about some parts of a job, each with all sides of it, the earliest first."""
    entries = {row["entry"]["id"]: row["entry"] for row in job.rows}
    found = []
    for part in parts:
        steps = {step.key: step for step in part.sheet.route}
        for key in part.progress.disagreements:
            state = part.progress.steps[key]
            said = sorted((entries[head] for head in state.heads), key=lambda entry: (entry["at"], entry["id"]))
            step = steps.get(key)
            done = step.done if step else f"{key}: done"
            found.append(
                Disagreement(
                    sheet=part.sheet,
                    step=key,
                    step_name=step.name if step else key,
                    done_says=done,
                    sides=tuple(
                        Side(who(entry["device"], names), entry_says(entry, part.sheet.route, job.job), entry["at"])
                        for entry in said
                    ),
                    counts_as=done if state.done else f"{step.name if step else key}: not done",
                )
            )
    return found


def holdings(parts: Iterable[PartState], names: Mapping[str, str]) -> list[Holding]:
    """The parts that are held or spoiled, each with the reason and who said so."""
    found = []
    for part in parts:
        for word, remarks in (("spoiled", part.progress.spoiled), ("held", part.progress.held)):
            for remark in remarks:
                found.append(Holding(part.sheet, f"{word}{reason(remark.body)}", who(remark.by, names), remark.at))
    return found
