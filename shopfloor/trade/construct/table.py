"""Legs and rails that carry no case: a table, a bench, a stand.  The ends are alike, and so are front and back.

It is a cabinet whose sides are rails; the arithmetic is all in cabinet.py.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..fault import Fault
from ..length import Length
from ..part import Unit
from .cabinet import Cabinet
from .cabinet import derive as of_cabinet
from .clearances import NOMINAL, Clearances
from .derived import Override, StackName
from .legs import Legs, Side
from .made import Built
from .top import Top

__all__ = ["Table", "derive"]


@dataclass(frozen=True)
class Table:
    """Four legs with rails between them: `ends` at the left and the right, `long` at the front and the back."""

    kind: ClassVar[str] = "table"
    width: Length
    depth: Length
    height: Length
    legs: Legs
    ends: Side
    long: Side
    key: str = ""
    species: str = ""
    top: Top | None = None
    fit: Clearances = NOMINAL
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(table: Table, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """Everything that follows from the outside sizes and the choices."""
    built = of_cabinet(
        Cabinet(table.width, table.depth, table.height, table.legs, table.key, table.species, table.ends, table.ends,
                table.long, table.long, top=table.top, fit=table.fit, overrides=table.overrides), unit, number,
    )  # fmt: skip
    prefix = f"{table.key}-" if table.key else ""
    faults = dict.fromkeys(_of_table(fault, prefix) for fault in built.faults)
    return replace(built, faults=tuple(faults))


def _of_table(fault: Fault, prefix: str) -> Fault:
    """What is wrong with two sides that are alike is said once, of the choice that both have."""
    for which, choice in (("left", "ends"), ("right", "ends"), ("front", "long"), ("back", "long")):
        if fault.where.startswith(f"{prefix}{which}-"):
            return replace(fault, where=f"{prefix}{choice}-{fault.where.removeprefix(f'{prefix}{which}-')}")
    return fault
