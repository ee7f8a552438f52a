"""How do typed lines become one form, and the form lines again?  A row a line, and an empty one that adds a line.

A field is named by the number of its row: "3.width".  A row says by its hidden `key` which line it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from shopfloor.trade.count import MOST
from shopfloor.trade.document import length_reader, length_text
from shopfloor.trade.keys import Keys
from shopfloor.trade.own_lines import counted, lines_of, with_lines
from shopfloor.trade.part import Assembly, Job, Line, Unit
from shopfloor.trade.record import CONTROL

__all__ = ["COLUMNS", "LONGEST", "Row", "few", "read_table", "rows_of"]

COLUMNS = {
    "name": "Name", "count": "How many", "thickness": "Thickness", "width": "Width", "length": "Length",
    "species": "Species", "stack": "Stack", "note": "Note",
}  # fmt: skip
SIZES = ("thickness", "width", "length")
LONGEST = {"name": 120, "species": 60, "stack": 60, "note": 400}
FIRST_STACK = "Parts"


@dataclass(frozen=True)
class Row:
    """A row of the table: its number, the line's key ("" for the empty one), texts and faults by column; `taken` are
    the texts of what the job has, where something else was typed."""

    nth: int
    key: str
    texts: Mapping[str, str]
    faults: Mapping[str, str]
    taken: Mapping[str, str]


def rows_of(job: Job, typed: Mapping[str, str], faults: Mapping[str, str]) -> tuple[Row, ...]:
    """The rows of the typed lines, and one that is empty; what was typed and refused stands there again."""
    lines = lines_of(job)
    called = {each.key: each.name for each in job.assemblies}
    found = []
    for nth, line in enumerate((*lines, None)):
        taken = _texts(line, called, job.unit) if line else dict.fromkeys(COLUMNS, "")
        texts = taken | {name: typed[f"{nth}.{name}"] for name in COLUMNS if f"{nth}.{name}" in typed}
        wrong = {name: faults[f"{nth}.{name}"] for name in COLUMNS if f"{nth}.{name}" in faults}
        other = {name: text for name, text in taken.items() if text != texts[name]}
        found.append(Row(nth, line.key if line else "", texts, wrong, other))
    return tuple(found)


def _texts(line: Line, called: Mapping[str, str], unit: Unit) -> dict[str, str]:
    sizes = {name: length_text(getattr(line, name), unit).removesuffix(f" {unit}") for name in SIZES}
    return {
        "name": line.name, "count": str(len(line.parts)), **sizes, "species": line.species,
        "stack": called[line.assembly], "note": line.note,
    }  # fmt: skip


def read_table(job: Job, form: Mapping[str, str]) -> tuple[Job | None, dict[str, str], str]:
    """The job with what was typed, what is wrong by field, and what was changed in a few words; None for the job if
    anything is wrong.  A row that the form does not hold stays as it is."""
    table = _Table(job, form)
    table.read()
    if table.faults:
        return None, table.faults, ""
    made = with_lines(job, tuple(table.stacks.values()), tuple(table.lines))
    return (made if table.says else job), {}, few(table.says)


class _Table:
    def __init__(self, job: Job, form: Mapping[str, str]) -> None:
        self.job, self.form = job, form
        self.stacks = {each.key: each for each in job.assemblies if not each.made_by}
        self.made = {each.name.casefold(): each.made_by for each in job.assemblies if each.made_by}
        self.number = max((each.number for each in job.assemblies), default=0)
        self.taken = {part.key for line in job.lines for part in line.parts}
        self.keys = Keys({line.key for line in job.lines} | {each.key for each in job.assemblies} | self.taken)
        self.lines: list[Line] = []
        self.faults: dict[str, str] = {}
        self.says: list[str] = []

    def read(self) -> None:
        lines = lines_of(self.job)
        rows = {self.form.get(f"{nth}.key", ""): nth for nth in range(len(lines) + 1)}
        for line in lines:
            nth = rows.get(line.key)
            if nth is None:
                self.lines.append(line)
            elif f"{nth}.remove" in self.form:
                self.says.append(f"{line.name} taken out")
            else:
                self._row(nth, line)
        last = len(lines)
        own = [self.form.get(f"{last}.{name}", "").strip() for name in COLUMNS if name != "stack"]
        if f"{last}.key" in self.form and not self.form[f"{last}.key"] and any(own):
            self._row(last, None)

    def _row(self, nth: int, before: Line | None) -> None:
        said: dict[str, Any] = {name: self._text(nth, name, before) for name in LONGEST}
        sizes: dict[str, Any] = {name: self._size(nth, name, before) for name in SIZES}
        count = self._count(nth, before)
        if not said["name"]:
            self.faults[f"{nth}.name"] = "The line has no name. Say what the part is."
        stack = self._stack(nth, said.pop("stack"), before)
        if any(field.startswith(f"{nth}.") for field in self.faults):
            if before:
                self.lines.append(before)
            return
        assert stack is not None, "a stack without a fault"
        if before is None:
            key = self.keys.new(said["name"], "part")
            made = counted(Line(key, stack.key, **said, **sizes), count, self.taken)
            self.says.append(f"{made.name} added")
        else:
            made = counted(replace(before, assembly=stack.key, **said, **sizes), count, self.taken)
            if made != before:
                self.says.append(f"{before.name}: {_different(before, made)}")
        self.taken |= {part.key for part in made.parts}
        self.lines.append(made)

    def _text(self, nth: int, name: str, before: Line | None) -> str:
        field = f"{nth}.{name}"
        if field not in self.form:
            return str(getattr(before, name, ""))
        text = " ".join(self.form[field].split())
        if before:
            was = self.stacks[before.assembly].name if name == "stack" else str(getattr(before, name))
            if text == " ".join(was.split()):
                return was  # a list may have brought more than is typed here; what nobody touched is not refused
        if CONTROL.search(text):
            self.faults[field] = "It holds a character that cannot be printed. Leave it out."
        elif len(text) > LONGEST[name]:
            self.faults[field] = f"It has {len(text)} letters. {LONGEST[name]} fit."
        return text

    def _size(self, nth: int, name: str, before: Line | None) -> int:
        field = f"{nth}.{name}"
        was: int = getattr(before, name, 0)
        if field not in self.form and before:
            return was
        text = self.form.get(field, "").strip()
        try:
            nm = length_reader(self.job.unit)(text)
            if nm <= 0:
                raise ValueError("A size must be more than nothing\nLook at it again.")
        except ValueError as err:
            what, _, do = str(err).partition("\n")
            self.faults[field] = f"There is no {name}. Write it like 3/4 or 19 mm." if not text else f"{what}. {do}"
            return was
        return nm

    def _count(self, nth: int, before: Line | None) -> int:
        field = f"{nth}.count"
        was = len(before.parts) if before else 1
        text = self.form.get(field, "").strip() or str(was)
        if not (text.isascii() and text.isdecimal() and 1 <= int(text[:9]) <= MOST and len(text) < 9):
            self.faults[field] = f'"{text[:12]}" is no number of parts. Write 1 to {MOST:,}.'
            return was
        return int(text)

    def _stack(self, nth: int, name: str, before: Line | None) -> Assembly | None:
        """The own stack of that name; a new one if there is none."""
        was = self.stacks.get(before.assembly) if before else None
        if not name:
            name = was.name if was else self.stacks[self.lines[-1].assembly].name if self.lines else FIRST_STACK
        if was and was.name == name:
            return was
        found = next((each for each in self.stacks.values() if each.name.casefold() == name.casefold()), None)
        if found is None and name.casefold() in self.made:
            by = self.made[name.casefold()]
            self.faults[f"{nth}.stack"] = f'"{name}" follows from {by}. Give this stack a name of its own.'
            return None
        if found is None and f"{nth}.stack" not in self.faults:
            self.number += 1
            found = Assembly(self.keys.new(name, "stack"), self.number, name)
            self.stacks[found.key] = found
        return found


def _different(old: Line, new: Line) -> str:
    named = {"assembly": "stack", "parts": f"{len(new.parts)} of {len(old.parts)} parts"}
    if len(new.parts) > len(old.parts):
        named["parts"] = f"{len(new.parts)} parts"
    fields: list[Any] = [name for name in Line.__dataclass_fields__ if getattr(old, name) != getattr(new, name)]
    return ", ".join(named.get(name, name) for name in fields)


def few(says: list[str]) -> str:
    """What was changed, for the button that undoes it."""
    return says[0] + (f" and {len(says) - 1} more" if len(says) > 1 else "") if says else ""
