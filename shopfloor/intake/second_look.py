"""Which rows should a person look at twice?  Nothing is refused here, nothing is changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from .headings import Column
from .preview import ListedLine, Remark

LONGEST_ON_A_LABEL = 60
"""Letters of a name.  A label of 57 mm holds about two lines of 30; the list and the sheet show the name whole."""

VENEER = 500_000
"""Half a millimetre: what is thinner is no part but a slip of the decimal point."""

# On these the grain may well run the short way; a rail that is wider than long is a slip.
BROAD = (
    "panel",
    "top",
    "bottom",
    "back",
    "shelf",
    "side",
    "lid",
    "tray",
    "door",
    "füllung",
    "platte",
    "boden",
    "panneau",
)


def second_look(lines: Sequence[ListedLine], names: Mapping[Column, str]) -> Iterator[Remark]:
    """Names that come twice, sizes that may be swapped or slipped, names too long for a label."""
    by_name: dict[tuple[str, str], list[ListedLine]] = {}
    exact: dict[tuple[object, ...], ListedLine] = {}
    for line in lines:
        name = (line.assembly.casefold(), line.name.casefold())
        twin = exact.setdefault((*name, *_likeness(line)), line)
        others = by_name.setdefault(name, [])
        if twin is not line:
            yield Remark(line.row, names[Column.NAME], f"same as row {twin.row}: twice on purpose?", typed=line.name)
        elif others:
            other = others[0]
            unlike = " and ".join(
                what for what, own in _likeness_named(line) if own != dict(_likeness_named(other))[what]
            )
            yield Remark(line.row, names[Column.NAME], f"same name as row {other.row}, other {unlike}", typed=line.name)
        if not others:
            others.append(line)
        if line.width.nm > line.length.nm:
            broad = any(word in line.name.casefold() for word in BROAD)
            says = "wider than long: grain the short way?" if broad else "wider than long: swapped?"
            yield Remark(line.row, names[Column.WIDTH], says, "Length runs with the grain.")
        if line.thickness is not None and line.thickness.nm > line.width.nm:
            yield Remark(line.row, names[Column.THICKNESS], "thicker than wide: swapped?")
        for column, size in (
            (Column.THICKNESS, line.thickness),
            (Column.WIDTH, line.width),
            (Column.LENGTH, line.length),
        ):
            if size is not None and size.nm < VENEER:
                yield Remark(line.row, names[column], "thinner than a veneer: is that its size?")
        if line.pairs:
            says = f"{line.pairs} left and {line.pairs} right: is that meant?"
            yield Remark(line.row, names[Column.QUANTITY], says)
        if len(line.name) > LONGEST_ON_A_LABEL:
            says = "too long for a label: shortened there, whole in the list"
            yield Remark(line.row, names[Column.NAME], says, typed=line.name)


def _likeness_named(line: ListedLine) -> tuple[tuple[str, object], ...]:
    return (
        ("thickness", line.stock or (line.thickness.nm if line.thickness else None)),
        ("width", line.width.nm),
        ("length", line.length.nm),
        ("species", line.species.casefold()),
    )


def _likeness(line: ListedLine) -> tuple[object, ...]:
    return tuple(value for _, value in _likeness_named(line))
