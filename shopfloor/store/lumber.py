"""What has the shop said about its lumber?  Prices, and how the wood of lines is got.

These are not of the design: a job is the same whether its top is glued of three boards or of four.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from shopfloor.store import sayings
from shopfloor.trade.buying import Per, Price, Wood
from shopfloor.trade.stock import Making, Way, lumber_named


def prices() -> dict[Wood, Price]:
    """What each wood costs, as far as it was said."""
    found = {}
    for species, name, amount, per in sayings.read("prices") or ():
        lumber = lumber_named(name)
        if lumber is not None:
            found[Wood(species, lumber)] = Price(Fraction(amount), Per(per))
    return found


def keep_prices(prices: Mapping[Wood, Price]) -> None:
    """Keep prices, in place of those of before.  Raises BadPrice."""
    rows = [
        [wood.species, wood.lumber.name, str(price.checked().amount), price.per.value]
        for wood, price in sorted(prices.items(), key=lambda item: (item[0].species, item[0].lumber.nominal))
    ]
    sayings.keep("prices", rows or None)


def making(job: str) -> dict[str, Making]:
    """How the wood of a job's lines is got, by their keys, where that was chosen."""
    return {
        line: Making(Way(way) if way else None, boards)
        for line, (way, boards) in (sayings.read(f"making:{job}") or {}).items()
    }  # fmt: skip


def keep_making(job: str, chosen: Mapping[str, Making]) -> None:
    rows = {
        line: [one.way.value if one.way else "", one.boards] for line, one in chosen.items() if one != Making()
    }  # fmt: skip
    sayings.keep(f"making:{job}", rows or None)
