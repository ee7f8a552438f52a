"""How is rough lumber sized, counted and sold?  Quarters of an inch, surfaced thickness, board feet and tallies.

A board foot is 144 cubic inches of the *nominal* thickness: surfaced stock is still sold at its rough size.
Board feet are exact `Fraction`s; the rule that gave a number is named beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, Status, inch, mm
from .length import INCH, Length, write_inches
from .part import Unit
from .sources import ARITHMETIC, CUSTOM, SURFACED, TALLY

__all__ = ["FACTS", "ROUGH", "WASTE", "BoardFeet", "Half", "NoSuchLumber", "Rough", "Waste", "board_feet",
           "board_feet_of_volume", "charged", "cubic_metres", "quarters_needed", "rough", "stock_for",
           "surface_measure", "tallied", "tally", "to_buy"]  # fmt: skip

FOOT: Length = 12 * INCH
_BOARD_FOOT = 144 * INCH**3


class NoSuchLumber(ShopError):
    """No lumber is sold in this thickness, or these sizes are no board."""

    code = "no-such-lumber"


class Rough(NamedTuple):
    """A thickness in which lumber is sold: its quarters of an inch, what is left after surfacing two sides by the
    grading standard, and what a small shop can count on once it has flattened a board (inches, and round mm)."""

    quarters: int
    surfaced: Length
    finished: Length
    finished_mm: Length
    surfaced_is: Status = CONFIRMED

    @property
    def name(self) -> str:
        return f"{self.quarters}/4"

    @property
    def nominal(self) -> Length:
        return self.quarters * INCH // 4

    def counted_on(self, unit: Unit) -> Length:
        """The finished thickness that a shop thinking in `unit` can count on."""
        return self.finished_mm if unit is Unit.MM else self.finished


ROUGH: tuple[Rough, ...] = (
    Rough(4, inch(13, 16), inch(3, 4), mm("19")),
    Rough(5, inch(17, 16), inch(1), mm("25")),
    Rough(6, inch(21, 16), inch(5, 4), mm("32")),
    Rough(7, inch(3, 2), inch(23, 16), mm("36")),
    Rough(8, inch(7, 4), inch(27, 16), mm("43")),
    Rough(10, inch(9, 4), inch(17, 8), mm("54"), UNCONFIRMED),
    Rough(12, inch(11, 4), inch(21, 8), mm("67")),
    Rough(14, inch(13, 4), inch(25, 8), mm("79")),
    Rough(16, inch(15, 4), inch(29, 8), mm("92")),
)


def rough(name: str) -> Rough:
    """The lumber called "5/4".  Raises NoSuchLumber.

    >>> rough("5/4").nominal == inch(5, 4)
    True
    """
    for each in ROUGH:
        if each.name == name.strip():
            return each
    raise NoSuchLumber(
        f'no lumber is sold as "{name.strip()}"', where="lumber", do=f"Write {', '.join(r.name for r in ROUGH)}."
    )


def quarters_needed(thickness: Length) -> int:
    """The quarters of an inch that a rough thickness takes, whether sold so or not.

    >>> quarters_needed(inch(17, 16))
    5
    """
    return -(-4 * thickness // INCH)


def stock_for(thickness: Length) -> Rough:
    """The thinnest lumber that is at least so thick, rough.  Raises NoSuchLumber above 16/4.

    >>> stock_for(inch(17, 16)).name, stock_for(inch(9, 4) + 1).name
    ('5/4', '10/4')
    """
    for each in ROUGH:
        if each.nominal >= thickness:
            return each
    raise NoSuchLumber(
        f"no lumber is {write_inches(thickness, 64)} in thick",
        where="thickness", do=f"Glue it up from thinner boards; the thickest sold is {ROUGH[-1].name}.",
    )  # fmt: skip


# --- board feet --------------------------------------------------------------------------------------------------


class BoardFeet(NamedTuple):
    """An amount of lumber and the rule by which it was counted, in words to show beside it."""

    amount: Fraction
    rule: str


def _board(*sizes: Length) -> None:
    if any(size <= 0 for size in sizes):
        raise NoSuchLumber("a board has a thickness, a width and a length", where="lumber", do="Give all three.")


def board_feet(thickness: Length, width: Length, length: Length) -> Fraction:
    """The volume of wood in board feet, exact; for lumber give the nominal thickness.  Raises NoSuchLumber.

    >>> board_feet(inch(5, 4), inch(25, 4), 8 * FOOT)
    Fraction(125, 24)
    """
    _board(thickness, width, length)
    return Fraction(thickness * width * length, _BOARD_FOOT)


def charged(nominal: Length, width: Length, length: Length) -> BoardFeet:
    """What a yard that bills exact fractions charges: nothing is rounded, but below 1 in counts as 1 in."""
    if nominal < INCH:
        return BoardFeet(board_feet(INCH, width, length), "exact size, below 1 in counted as 1 in")
    return BoardFeet(board_feet(nominal, width, length), "exact size at the nominal thickness")


def cubic_metres(amount: Fraction | int) -> Fraction:
    """Board feet to cubic metres, exact.

    >>> float(cubic_metres(1))
    0.002359737216
    """
    return Fraction(amount) * _BOARD_FOOT / 10**27


def board_feet_of_volume(metres: Fraction | int) -> Fraction:
    """Cubic metres to board feet, exact."""
    return Fraction(metres) * 10**27 / _BOARD_FOOT


# --- the tally of the hardwood trade -----------------------------------------------------------------------------


class Half(StrEnum):
    """What becomes of an exact half when a whole number is wanted."""

    UP = "up"
    DOWN = "down"
    ALTERNATE = "alternately up and down"


def surface_measure(width: Length, length: Length, half: Half = Half.UP) -> int:
    """Square feet of one board: width in inches × whole feet of length / 12, to the nearest whole.

    The length is always rounded down to whole feet, the width keeps its fraction.  A lone board has nothing to
    alternate with, so ALTERNATE is UP for it.  Raises NoSuchLumber.

    >>> surface_measure(inch(25, 4), 8 * FOOT)
    4
    """
    _board(width, length)
    return _whole(Fraction(width * (length // FOOT), FOOT), half is not Half.DOWN)


def _whole(exact: Fraction, half_up: bool) -> int:
    below, over = divmod(exact, 1)
    return int(below) + (1 if over > Fraction(1, 2) or (over == Fraction(1, 2) and half_up) else 0)


def tallied(nominal: Length, width: Length, length: Length, half: Half = Half.UP) -> BoardFeet:
    """One board by the trade's tally: surface measure × nominal thickness, below 1 in counted as 1 in.

    >>> tallied(inch(5, 4), inch(29, 4), 129 * INCH)[0]  # 10 ft 9 in
    Fraction(15, 2)
    """
    _board(nominal)
    measure = surface_measure(width, length, half)
    return BoardFeet(measure * Fraction(max(nominal, INCH), INCH), _TALLY_RULE)


_TALLY_RULE = "tally: whole feet, whole square feet, times the nominal thickness"


class _Halves:
    """Rounds halves by a rule and remembers which way the last one went."""

    def __init__(self, half: Half) -> None:
        self._rule, self._up = half, half is not Half.DOWN

    def whole(self, exact: Fraction) -> int:
        up = self._up
        if self._rule is Half.ALTERNATE and exact % 1 == Fraction(1, 2):
            self._up = not self._up
        return _whole(exact, up)


def tally(
    nominal: Length, boards: Iterable[Sequence[Length]], half: Half = Half.ALTERNATE, *, export: bool = False
) -> BoardFeet:
    """A bundle of one thickness: the surface measures added, then × thickness, then to the whole board foot.

    `boards` are (width, length).  An `export` tally also rounds widths to whole inches, exact halves alternately up
    and down, the first one up.  Raises NoSuchLumber.
    """
    _board(nominal)
    widths, measures = _Halves(Half.ALTERNATE), _Halves(half)
    total = 0
    for width, length in boards:
        _board(width, length)
        inches = widths.whole(Fraction(width, INCH)) if export else Fraction(width, INCH)
        total += measures.whole(Fraction(inches) * (length // FOOT) / 12)
    amount = measures.whole(total * Fraction(max(nominal, INCH), INCH))
    return BoardFeet(Fraction(amount), f"bundle {_TALLY_RULE}, whole board feet")


# --- how much to buy ---------------------------------------------------------------------------------------------


class Waste(StrEnum):
    """What "30 % waste" is a share of; the screen says which."""

    OF_WHAT_IS_BOUGHT = "of what is bought is lost"
    ADDED = "is added to what is needed"


WASTE = Fact(
    key="waste", subject="lumber", name="Waste", value=Fraction(30, 100), unit=Waste.OF_WHAT_IS_BOUGHT.value,
    range=(Fraction(15, 100), Fraction(50, 100)), status=UNCONFIRMED, source=CUSTOM,
)  # fmt: skip


def to_buy(needed: Fraction | int, waste: Fraction, of: Waste = Waste.OF_WHAT_IS_BOUGHT) -> BoardFeet:
    """Board feet to buy for `needed` board feet of rough parts; `waste` is a share, 0 to less than 1.

    Raises NoSuchLumber for a waste outside that.

    >>> to_buy(84, Fraction("0.3"))
    BoardFeet(amount=Fraction(120, 1), rule='30 % of what is bought is lost')
    """
    if not 0 <= waste < 1:
        raise NoSuchLumber(f"{float(waste):.0%} waste leaves nothing", where="waste", do="Give 0 to 99 %.")
    kept = 1 - Fraction(waste)
    amount = needed / kept if of is Waste.OF_WHAT_IS_BOUGHT else needed * (1 + Fraction(waste))
    return BoardFeet(Fraction(amount), f"{float(100 * waste):g} % {of.value}")


FACTS: tuple[AnyFact, ...] = (
    Fact(key="board-foot", subject="lumber", name="Board foot", value=Fraction(144), unit="cubic inches",
         status=DERIVED, source="definition", changeable=False, note="0.002359737 m³; 1 m³ is 423.776 board feet."),
    Fact(key="quarter", subject="lumber", name="n/4 of lumber", value="n quarters of an inch, rough", unit="",
         status=DERIVED, source="definition", changeable=False),
    Fact(key="tally-length", subject="lumber", name="Length of a board in a tally", unit="",
         value="whole feet, rounded down", status=CONFIRMED, source=TALLY, changeable=False),
    Fact(key="tally-width", subject="lumber", name="Width of a board in an export tally", unit="",
         value="whole inches, exact halves alternately up and down", status=CONFIRMED, source=TALLY, changeable=False),
    Fact(key="tally-measure", subject="lumber", name="Surface measure", unit="",
         value="width in inches × length in feet / 12, to the whole square foot", status=CONFIRMED, source=TALLY,
         changeable=False),
    Fact(key="tally-half", subject="lumber", name="An exact half of surface measure", unit="",
         value=Half.ALTERNATE.value, status=UNCONFIRMED, source=CUSTOM),
    Fact(key="tally-thin", subject="lumber", name="Nominal thickness below 1 in counts as", value=inch(1),
         status=CONFIRMED, source=TALLY, changeable=False),
    Fact(key="yard-exact", subject="lumber", name="A retail yard bills", value="exact fractions", unit="",
         status=UNCONFIRMED, source=CUSTOM),
    *(Fact(key=f"surfaced-{each.quarters}-4", subject="lumber", name=f"{each.name} surfaced on two sides",
           value=each.surfaced, status=each.surfaced_is, source=SURFACED, changeable=False,
           note="There is no one standard for what a yard calls surfaced: measure it.") for each in ROUGH),
    *(Fact(key=f"finished-{each.quarters}-4", subject="lumber", name=f"{each.name} flattened in a small shop",
           value=each.finished, metric=each.finished_mm, status=UNCONFIRMED, source=CUSTOM) for each in ROUGH),
    Fact(key="nominal-thickness", subject="lumber", name="Thickness that board feet count", unit="",
         value="the nominal one, surfaced or not", status=CONFIRMED, source=TALLY, changeable=False),
    WASTE,
    Fact(key="board-foot-metric", subject="lumber", name="Cubic metres in a board foot", unit="m³",
         value=cubic_metres(1), status=DERIVED, source=ARITHMETIC, changeable=False),
)  # fmt: skip
