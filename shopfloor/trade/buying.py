"""How much wood is to be bought, and what does it cost?  The rough list added up, by species and thickness.

What is needed is the exact volume of the blanks at the nominal thickness of their lumber.  What is bought is more, by
an honest percentage: of 100 board feet that are bought with 30 % waste, 70 become parts.  An order is whole board feet.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from ..errors import ShopError
from .lumber import Waste, board_feet, cubic_metres, to_buy
from .stock import Blank, Lumber

__all__ = ["BadPrice", "Bought", "Buying", "Per", "Price", "Wood", "board_feet_of", "buying", "wood_of"]

DEAREST = 1_000_000


class BadPrice(ShopError):
    """A price that no wood has."""

    code = "bad-price"


class Per(StrEnum):
    """What a price is for."""

    BOARD_FOOT = "board foot"
    CUBIC_METRE = "cubic metre"


class Wood(NamedTuple):
    """What lumber is asked for by: the species as the job names it, and the thickness."""

    species: str
    lumber: Lumber


class Price(NamedTuple):
    """Money for so much wood, in whatever money the shop counts.  See `price` for a checked one."""

    amount: Fraction
    per: Per = Per.BOARD_FOOT

    @property
    def per_board_foot(self) -> Fraction:
        return self.amount * (1 if self.per is Per.BOARD_FOOT else cubic_metres(1))

    def checked(self) -> Price:
        """The same.  Raises BadPrice if it is below zero or past all sense."""
        if not 0 <= self.amount <= DEAREST:
            raise BadPrice(
                f"{float(self.amount):g} is no price", where="price", do=f"Give 0 to {DEAREST:,} for a {self.per}."
            )
        return self


class Bought(NamedTuple):
    """One wood of the buying list: how many blanks, what they need, what is bought, and what it costs (None: no price
    is known).  Board feet are exact; `order` is whole ones."""

    wood: Wood
    blanks: int
    needed: Fraction
    bought: Fraction
    order: int
    metres: Fraction
    price: Price | None
    cost: Fraction | None


class Buying(NamedTuple):
    """The buying list, and what the wood of each assembly costs (those whose prices are all known)."""

    rows: tuple[Bought, ...]
    rule: str
    cost: Fraction | None
    of_assembly: Mapping[str, Fraction]


def wood_of(blank: Blank) -> Wood:
    return Wood(blank.species, blank.lumber)


def board_feet_of(blank: Blank) -> Fraction:
    """What a blank is worth in board feet: its rough width and length, at the nominal thickness of its lumber."""
    return board_feet(blank.lumber.nominal, blank.rough.width, blank.rough.length)


def buying(
    blanks: Iterable[Blank], waste: Fraction, prices: Mapping[Wood, Price] | None = None,
    of: Waste = Waste.OF_WHAT_IS_BOUGHT,
) -> Buying:  # fmt: skip
    """Add blanks up.  `waste` is a share, 0 to less than 1.  Raises NoSuchLumber for another, BadPrice for a price
    below zero.

    The order in which woods come is that of their names and thicknesses.
    """
    priced = {wood: price.checked() for wood, price in (prices or {}).items()}
    by_wood: dict[Wood, list[Blank]] = {}
    for blank in blanks:
        by_wood.setdefault(wood_of(blank), []).append(blank)
    rows = []
    shared: dict[str, Fraction] = {}
    unpriced: set[str] = set()
    rule = to_buy(0, waste, of).rule
    for wood, own in sorted(by_wood.items(), key=lambda item: (item[0].species.casefold(), item[0].lumber.nominal)):
        needed = sum((board_feet_of(blank) for blank in own), Fraction(0))
        bought = to_buy(needed, waste, of).amount
        price = priced.get(wood)
        each = None if price is None else price.per_board_foot
        rows.append(
            Bought(wood, len(own), needed, bought, math.ceil(bought), cubic_metres(bought), price,
                   None if each is None else bought * each)
        )  # fmt: skip
        for blank in own:
            if each is None:
                unpriced.add(blank.assembly)
            else:
                cost = to_buy(board_feet_of(blank), waste, of).amount * each
                shared[blank.assembly] = shared.get(blank.assembly, Fraction(0)) + cost
    costs = [row.cost for row in rows]
    known = [cost for cost in costs if cost is not None]
    return Buying(
        tuple(rows), rule, sum(known, Fraction(0)) if rows and len(known) == len(rows) else None,
        {key: cost for key, cost in shared.items() if key not in unpriced},
    )  # fmt: skip
