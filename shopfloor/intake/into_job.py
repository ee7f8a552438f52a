"""A cut list that was agreed to becomes a job: assemblies, lines and parts with keys that stay."""

from __future__ import annotations

from collections.abc import Mapping

from ..trade.keys import Keys, slug
from ..trade.length import Length
from ..trade.part import Assembly, Hand, Job, Line, Part, Unit
from .preview import CutList, ListedLine, UnreadableCutList

ALL_PARTS = "All parts"
LOOSE_PARTS = "Loose parts"
"""The stack of the rows that name no assembly, where others do."""


def as_job(
    cut_list: CutList,
    name: str,
    *,
    key: str = "",
    species: str = "",
    denominator: int = 16,
    finished: Mapping[str, Length] | None = None,
) -> Job:
    """The job of this list: an assembly for each assembly named, or one stack "All parts"; n parts for a quantity of n.

    Keys come from the names: the part "door-stile.1", or "left-side.stile.1" where assemblies are named, so that the
    same list taken in again gives the same parts.  `finished` gives the finished thickness for rough stock, like
    {"4/4": 19_050_000}.  Raises UnreadableCutList while anything is refused or left to ask.
    """
    _refuse_unready(cut_list, finished or {})
    named = any(line.assembly for line in cut_list.lines)
    keys = Keys()
    assemblies: dict[str, Assembly] = {}
    lines = []
    for listed in cut_list.lines:
        title = (listed.assembly or LOOSE_PARTS) if named else ALL_PARTS
        if title.casefold() not in assemblies:
            assemblies[title.casefold()] = Assembly(keys.new(title, "stack"), len(assemblies) + 1, title)
        assembly = assemblies[title.casefold()]
        start = f"{assembly.key}." if named else ""
        lines.append(_line(listed, assembly, keys.new(listed.name, "part", start), finished or {}))
    species_listed = {line.species for line in cut_list.lines if line.species}
    return Job(
        key=key or slug(name) or "job",
        name=name,
        unit=Unit.MM if cut_list.unit in ("mm", "cm", "m") else Unit.INCH,
        denominator=denominator,
        species=species or (species_listed.pop() if len(species_listed) == 1 else ""),
        assemblies=tuple(assemblies.values()),
        lines=tuple(lines),
    )


def _line(listed: ListedLine, assembly: Assembly, key: str, finished: Mapping[str, Length]) -> Line:
    kept = dict(listed.kept)
    if listed.code:
        kept["code"] = listed.code
    if listed.stock:
        kept["rough stock"] = listed.stock
    return Line(
        key=key,
        assembly=assembly.key,
        name=listed.name,
        thickness=listed.thickness.nm if listed.thickness else finished[listed.stock],
        width=listed.width.nm,
        length=listed.length.nm,
        species=listed.species,
        note=listed.note,
        parts=tuple(_part(key, number, listed.pairs) for number in range(1, listed.pieces + 1)),
        kept=kept,
    )


def _part(line: str, number: int, pairs: int) -> Part:
    """Part n of a line.  Of two pairs, 1 and 2 are left, as drawn; 3 and 4 are right, their mirror images."""
    if not pairs:
        return Part(f"{line}.{number}")
    right = number > pairs
    side = "right" if right else "left"
    nth = f" {number - pairs if right else number}" if pairs > 1 else ""
    return Part(f"{line}.{number}", place=side + nth, hand=Hand.MIRROR if right else Hand.AS_DRAWN)


def _refuse_unready(cut_list: CutList, finished: Mapping[str, Length]) -> None:
    if cut_list.refusal is not None:
        raise UnreadableCutList(cut_list.refusal.what, where=cut_list.refusal.where, do=cut_list.refusal.do)
    if cut_list.faults:
        first = cut_list.faults[0]
        more = f" (and {len(cut_list.faults) - 1} more)" if len(cut_list.faults) > 1 else ""
        raise UnreadableCutList(f"{first.says}{more}", where=first.where, do=first.do)
    for line in cut_list.lines:
        if line.thickness is None and line.stock not in finished:
            raise UnreadableCutList(
                f"{line.stock} is rough stock", where=f"row {line.row}, thickness", do="Give its finished thickness."
            )
