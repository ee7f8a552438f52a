"""How do the names of a job's stacks become a form, and the form names again?  A row a stack, typed or constructed.

A field is named by the number of its row: "3.called".  A row says by its hidden `stack-key` which stack it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shopfloor.trade.construct.compose import derive
from shopfloor.trade.own_lines import renamed
from shopfloor.trade.part import Assembly, Job
from shopfloor.trade.record import CONTROL
from shopfloor.web.line_table import LONGEST, few

__all__ = ["StackRow", "read_stacks", "stacks_of"]


@dataclass(frozen=True)
class StackRow:
    """One stack of the job, the text of its name and what is wrong with it; `follows` is the name that it would have
    by its construction, and differs from its own only where that was given by hand."""

    nth: int
    stack: Assembly
    parts: int
    text: str
    follows: str = ""
    says: str = ""


def stacks_of(job: Job, typed: Mapping[str, str], faults: Mapping[str, str]) -> tuple[StackRow, ...]:
    """The stacks by their numbers; what was typed and refused stands there again."""
    follows = {
        stack.key: stack.name
        for construction in job.constructions if construction.names
        for stack in derive(construction, job.unit).assemblies
    }  # fmt: skip
    counts: dict[str, int] = {}
    for line in job.lines:
        counts[line.assembly] = counts.get(line.assembly, 0) + len(line.parts)
    rows = []
    for nth, each in enumerate(sorted(job.assemblies, key=lambda each: each.number)):
        field = f"{nth}.called"
        own = follows.get(each.key, each.name) if each.made_by else ""
        rows.append(
            StackRow(nth, each, counts.get(each.key, 0), typed.get(field, each.name), own, faults.get(field, ""))
        )
    return tuple(rows)


def read_stacks(job: Job, form: Mapping[str, str]) -> tuple[Job | None, dict[str, str], str]:
    """The job with its stacks called as they were typed, what is wrong by field, and what was changed in a few words;
    None for the job if anything is wrong.  An empty name lets a stack of a construction follow again."""
    rows = {row.stack.key: row for row in stacks_of(job, {}, {})}
    names = {key: row.stack.name for key, row in rows.items()}
    changed: dict[str, str] = {}
    faults: dict[str, str] = {}
    for nth in range(len(rows)):
        row, text = rows.get(form.get(f"{nth}.stack-key", "")), form.get(f"{nth}.called")
        if row is None or text is None or _plain(text) == _plain(row.stack.name):
            continue
        name, key = _plain(text), row.stack.key
        if wrong := _no_name(name, bool(row.stack.made_by)):
            faults[f"{nth}.called"] = wrong
        elif (name or row.follows) != row.stack.name:
            # Called as it would be anyway is no name by hand: it goes on following.
            changed[key] = "" if name == row.follows else name
            names[key] = name or row.follows
    for key in changed:
        same = next((rows[other].stack for other, name in names.items()
                     if other != key and name.casefold() == names[key].casefold()), None)  # fmt: skip
        if same:
            nth = next(nth for nth in range(len(rows)) if form.get(f"{nth}.stack-key") == key)
            faults[f"{nth}.called"] = f'Stack {same.number} is called "{names[key]}". Give this one a name of its own.'
    says = [f"stack {rows[key].stack.number} called {names[key]}" for key in changed]
    return (None if faults else renamed(job, changed)), faults, few(says)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _no_name(name: str, may_follow: bool) -> str:
    """What is wrong with the name of a stack, in a sentence; empty if nothing is."""
    if not name and not may_follow:
        return "The stack has no name. Say what lies in it."
    if CONTROL.search(name):
        return "It holds a character that cannot be printed. Leave it out."
    if len(name) > LONGEST["stack"]:
        return f"It has {len(name)} letters. {LONGEST['stack']} fit."
    return ""
