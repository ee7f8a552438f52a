"""Which rough pieces does a job need?  The rough list: each part's blanks, their lumber, and how they are joined.

Most parts are one blank, sawn oversize.  A wide part is glued from several boards (widening.py), a thick one is sawn
from thick lumber or laminated from layers, and two parts that are to mirror each other's figure can be resawn from one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from ..errors import ShopError
from .fact import UNCONFIRMED, AnyFact, Fact, inch, mm
from .habit import Habits
from .length import INCH, MM, Length, write_exact
from .lumber import ROUGH
from .oversize import Oversize, allowances_by
from .part import Job, Line, Stock, Unit
from .sheet import called, places_in
from .sources import CUSTOM
from .widening import CLEAR, WIDEST, CannotWiden, barred, shares

__all__ = [
    "ALL_QUARTERS",
    "FACTS",
    "METRIC",
    "QUARTERS",
    "Blank",
    "Lumber",
    "Making",
    "NoLumber",
    "RoughList",
    "Sawing",
    "Way",
    "lumber_named",
    "rough_list",
    "sawing_by",
    "sold_by",
]  # fmt: skip

RESAW_KERF = Fact(
    key="resaw-kerf", subject="milling", name="Kerf of the saw that resaws", value=inch(1, 16), metric=mm("1.5"),
    range=(inch(1, 32), inch(1, 8)), metric_range=(mm("0.8"), mm("3.2")), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip
THICKEST = Fact(
    key="thickest-solid", subject="lumber", name="Thickest lumber to count on, rough", value=inch(3), metric=mm("80"),
    range=(inch(2), inch(4)), metric_range=(mm("50"), mm("100")), status=UNCONFIRMED, source=CUSTOM,
    note="Thicker parts are laminated.",
)  # fmt: skip

METRIC_SIZES = ("20", "26", "32", "38", "45", "52", "60", "65", "80", "100")

FACTS: tuple[AnyFact, ...] = (
    RESAW_KERF, THICKEST,
    Fact(key="metric-lumber", subject="lumber", name="Thicknesses of lumber sold by the millimetre", unit="",
         value=f"{', '.join(METRIC_SIZES)} mm, rough", status=UNCONFIRMED, source=CUSTOM),
)  # fmt: skip


class Lumber(NamedTuple):
    """A thickness in which lumber is bought: what it is called, and how thick it is, rough."""

    name: str
    nominal: Length


ALL_QUARTERS: tuple[Lumber, ...] = tuple(Lumber(each.name, each.nominal) for each in ROUGH)
QUARTERS: tuple[Lumber, ...] = tuple(each for each in ALL_QUARTERS if each.name not in ("7/4", "14/4"))
"""The thicknesses that most yards stock."""
METRIC: tuple[Lumber, ...] = tuple(Lumber(f"{size} mm", mm(size)) for size in METRIC_SIZES)


def lumber_named(name: str) -> Lumber | None:
    """The lumber called "5/4" or "32 mm"."""
    return next((each for each in (*ALL_QUARTERS, *METRIC) if each.name == name), None)


class Way(StrEnum):
    """How the wood of a part is got."""

    SOLID = "solid"
    LAMINATED = "laminated"
    RESAWN = "resawn in pairs"


@dataclass(frozen=True)
class Making:
    """What the shop has chosen for the parts of one line; nothing chosen: whatever its size asks for.

    `boards` is how many boards a panel is glued of, or in how many layers a thick part; 0 leaves it to the size.
    """

    way: Way | None = None
    boards: int = 0


@dataclass(frozen=True)
class Sawing:
    """The habits that a rough list follows: allowances, the lumber that is bought, and what its boards yield."""

    oversize: Oversize
    unit: Unit = Unit.INCH
    lumber: tuple[Lumber, ...] = QUARTERS
    widest: Length = WIDEST.value
    thickest: Length = THICKEST.value
    resaw_kerf: Length = RESAW_KERF.value
    clear: Length = CLEAR.value


def sold_by(unit: Unit) -> tuple[Lumber, ...]:
    """The thicknesses that lumber is sold in, to a shop that thinks in `unit`."""
    return METRIC if unit is Unit.MM else QUARTERS


def sawing_by(habits: Habits, unit: Unit) -> Sawing:
    """How a shop with these habits saws parts oversize in a job of that unit."""
    return Sawing(
        allowances_by(habits, unit),
        unit,
        sold_by(unit),
        habits.of(WIDEST, unit),
        habits.of(THICKEST, unit),
        habits.of(RESAW_KERF, unit),
        habits.of(CLEAR, unit),
    )


@dataclass(frozen=True)
class Blank:
    """One piece to saw out of a board: its rough size, and the parts that come of it (two, if it is resawn).

    `name` is that of its line, `called` that of its part.  `nth` is which of how many blanks of its part it is, `says`
    how it is used ("board 2 of 3", "layer 1 of 2").
    `key` is stable: labels and plans hang on it.
    """

    key: str
    parts: tuple[str, ...]
    line: str
    assembly: str
    name: str
    called: str
    species: str
    lumber: Lumber
    rough: Stock
    finished: Stock
    nth: tuple[int, int] = (1, 1)
    says: str = ""
    group: str = ""


@dataclass(frozen=True)
class RoughList:
    """The blanks of a job in the order of its cut list, and what could not be worked out, a sentence each."""

    blanks: tuple[Blank, ...] = ()
    faults: tuple[ShopError, ...] = field(default=())


class NoLumber(ShopError):
    """No lumber makes a part of that size."""

    code = "no-lumber"


def rough_list(
    job: Job, sawing: Sawing, making: Mapping[str, Making] | None = None, *, only: Iterable[str] | None = None
) -> RoughList:
    """The rough list of a job: `making` says what was chosen by the key of a line, `only` keeps to those parts.

    A line that no lumber makes is named among the faults; the rest is worked out.
    """
    wanted = None if only is None else set(only)
    blanks: list[Blank] = []
    faults: list[ShopError] = []
    for line in job.lines:
        parts = [part.key for part in line.parts if wanted is None or part.key in wanted]
        if not parts:
            continue
        try:
            blanks += _of_line(line, parts, job.species, sawing, (making or {}).get(line.key, Making()))
        except (NoLumber, CannotWiden) as fault:
            faults.append(type(fault)(fault.what, where=line.name, do=fault.do))
    return RoughList(tuple(blanks), tuple(faults))


def _of_line(line: Line, parts: Sequence[str], species: str, sawing: Sawing, making: Making) -> list[Blank]:
    places = places_in(line)

    def blank(key: str, of: tuple[str, ...], finished: Stock, rough: Stock, nth: tuple[int, int], says: str) -> Blank:
        return Blank(
            key, of, line.key, line.assembly, line.name, called(line.name, places[of[0]]), line.species or species,
            _lumber_for(rough.thickness, sawing), rough, finished, nth, says, line.group,
        )  # fmt: skip

    widths = _widths(line, sawing, making)
    layers = 1 if len(widths) > 1 else _layers(line.stock, sawing, making)
    pieces = len(widths) * layers
    found: list[Blank] = []
    if making.way is Way.RESAWN and pieces == 1:
        for first, *twin in (parts[i : i + 2] for i in range(0, len(parts), 2)):
            rough = sawing.oversize.rough(line.stock)
            if twin:
                rough = rough._replace(thickness=2 * rough.thickness + sawing.resaw_kerf)
            says = "resawn into two, opened like a book" if twin else ""
            found.append(blank(first, (first, *twin), line.stock, rough, (1, 1), says))
        return found
    depths = _even(line.thickness, layers, sawing.unit)
    for key in parts:
        number = 0
        for width in widths:
            for depth in depths:
                number += 1
                finished = Stock(depth, width, line.length)
                named = key if number == 1 else f"{key}/{number}"
                what = "board" if len(widths) > 1 else "layer"
                says = f"{what} {number} of {pieces}" if pieces > 1 else ""
                rough = sawing.oversize.rough(finished)
                found.append(blank(named, (key,), finished, rough, (number, pieces), says))
    return found


def _widths(line: Line, sawing: Sawing, making: Making) -> tuple[Length, ...]:
    """The finished widths of the boards that a part is glued from; one if it is sawn whole."""
    stock = line.stock
    allowance = sawing.oversize.of_width(stock)
    if sawing.widest <= allowance:
        raise CannotWiden("boards are no wider than what is cut off them", do="Allow wider boards.")
    fewest = making.boards if making.way is not Way.LAMINATED else 1
    zones = barred(line.features, stock, sawing.clear)
    return shares(stock.width, sawing.widest - allowance, zones, sawing.unit, fewest=fewest)


def _layers(stock: Stock, sawing: Sawing, making: Making) -> int:
    """In how many layers a part is glued up through its thickness."""
    allowance = sawing.oversize.of_thickness(stock)
    thickest = max((each.nominal for each in sawing.lumber), default=0)
    solid = thickest if making.way is Way.SOLID else min(sawing.thickest, thickest)
    if solid <= allowance:
        raise NoLumber("no lumber is thicker than what flattening takes off it", do="List the lumber that you buy.")
    fewest = -(-stock.thickness // (solid - allowance))
    if making.way is Way.SOLID and fewest > 1:
        raise NoLumber(
            f"no lumber gives {write_exact(stock.thickness, sawing.unit.value)} in one piece",
            do=f"Laminate it, in {fewest} layers; the thickest that is bought is {_name_of(thickest, sawing)}.",
        )  # fmt: skip
    if making.way is Way.LAMINATED:
        return max(fewest, making.boards, 2)
    return fewest


def _even(whole: Length, count: int, unit: Unit) -> tuple[Length, ...]:
    """A thickness in equal layers on the tape; the last one takes what is left over, and they add up exactly.

    >>> [layer * 16 // INCH for layer in _even(2 * INCH, 3, Unit.INCH)]  # sixteenths
    [11, 11, 10]
    """
    step = MM if unit is Unit.MM else INCH // 16
    each = min(-(-whole // (count * step)) * step, whole // count if count == 1 else whole)
    if count > 1 and whole - each * (count - 1) <= 0:
        each = whole // count
    return (*([each] * (count - 1)), whole - each * (count - 1))


def _lumber_for(thickness: Length, sawing: Sawing) -> Lumber:
    for each in sorted(sawing.lumber, key=lambda one: one.nominal):
        if each.nominal >= thickness:
            return each
    raise NoLumber(
        f"no lumber that is bought is {write_exact(thickness, sawing.unit.value)} thick, rough",
        do="Laminate it, or list thicker lumber.",
    )  # fmt: skip


def _name_of(nominal: Length, sawing: Sawing) -> str:
    return next(each.name for each in sawing.lumber if each.nominal == nominal)
