"""Which row holds the headings, and what do they say about their columns?"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from .cells import Table, any_text
from .headings import SIZES, Column, Heading, plain, recognised, tidy
from .preview import CutList, Remark, UnreadableCutList

LOOKED_AT = 40
"""Rows in which the headings are looked for: a title and a few lines about the job may stand above them."""

_ROUGH = re.compile(r"\b(?:rough|gross|roh|brut)", re.IGNORECASE)


def find_headings(table: Table, chosen: Mapping[int, Column | None]) -> tuple[int, int, tuple[Heading, ...]]:
    """The first and the last row of the headings (two where they are merged), and every heading, left to right."""
    best: tuple[int, int, int, list[str], tuple[Heading, ...]] = (0, 1, 1, [], ())
    texts = [[cell.text for cell in row] for row in table.rows[: LOOKED_AT + 1]]
    for index, row in enumerate(texts[:LOOKED_AT]):
        known = recognised(row)
        if len(known) > best[0]:
            best = len(known), index + 1, index + 1, row, known
        under = texts[index + 1] if index + 1 < len(texts) else []
        if known and recognised(under):
            both = _merged(row, under)
            known = recognised(both)
            if len(known) > best[0]:
                best = len(known), index + 1, index + 2, both, known
    count, first, last, row, known = best
    if count < 2:
        at = next((number for number, cells in enumerate(table.rows, start=1) if any_text(cells)), 1)
        raise UnreadableCutList(
            "no headings that name the columns",
            where=f"row {at}",
            do="Begin with a row such as: Part, Qty, Thickness, Width, Length, Species.",
        )
    taken = {heading.index: heading for heading in known}
    width = max(len(row), max((len(cells) for cells in table.rows), default=0))
    headings = [taken.get(i, Heading(i, tidy(row[i]) if i < len(row) else "")) for i in range(width)]
    for index, column in chosen.items():
        if not 0 <= index < width:
            continue
        headings = [replace(one, column=None) if column and one.column is column else one for one in headings]
        named_unit = plain(headings[index].text)[1] if column in SIZES else ""
        headings[index] = replace(headings[index], column=column, unit=named_unit, guessed=False)
    return first, last, tuple(headings)


def _merged(over: Sequence[str], under: Sequence[str]) -> list[str]:
    """Headings on two rows as one.  "Finished size (mm)" over T, W, L belongs to all three."""
    both = []
    group = ""
    for index in range(max(len(over), len(under))):
        top = over[index] if index < len(over) else ""
        bottom = under[index] if index < len(under) else ""
        if top.strip():
            group = top
        if not bottom.strip():
            both.append(top)
            continue
        unit = plain(bottom)[1] or plain(group)[1]
        alone = f"{bottom} ({unit})" if unit and not plain(bottom)[1] else bottom
        # "Rough size" over T, W, L is not the size that the part gets.
        whole = f"{plain(group)[0]} {alone}"
        both.append(alone if recognised([whole]) or not _ROUGH.search(group) else whole)
    return both


def names(headings: Sequence[Heading]) -> dict[Column, str]:
    """What each column that we know is called in the file."""
    return {heading.column: heading.text or heading.column.title() for heading in headings if heading.column}


def about_columns(seen: CutList, asked: str) -> list[Remark]:
    """What is said about whole columns, in the row of the headings."""
    remarks = []
    with_unit = next((one for one in seen.columns if one.unit), None)
    several = len({one.unit for one in seen.columns if one.unit}) > 1
    for heading in seen.columns:
        says = ""
        if heading.guessed:
            says = f"taken as the {heading.column}: is it?"
        elif heading.column is Column.NOTES:
            says = "kept as a note with the parts, not understood"
        elif heading.column is None and heading.text:
            says = "kept as it is, not understood"
        elif heading.column in SIZES and not heading.unit and with_unit and (several or seen.unit != asked):
            says = f"names no unit: read as {seen.unit}" + (f", like {with_unit.text}" if not several else "")
        if says:
            remarks.append(Remark(seen.heading_row, heading.text, says))
    return remarks
