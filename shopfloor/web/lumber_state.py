"""What wood does a job need?  Its rough list by the shop's habits, and what is to be bought for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from shopfloor.store import jobs, lumber, shop
from shopfloor.trade import lumber as trade_of_lumber
from shopfloor.trade.buying import Buying, Price, Wood, buying, wood_of
from shopfloor.trade.part import Job, Stock, Unit
from shopfloor.trade.stock import Blank, Making, RoughList, Sawing, rough_list, sawing_by

__all__ = ["JobLumber", "Lot", "job_lumber", "sawing", "waste"]


@dataclass(frozen=True)
class Lot:
    """Blanks of one line that are alike: how many, and the first of them."""

    count: int
    blank: Blank
    says: str


@dataclass(frozen=True)
class JobLumber:
    """The wood of one job: `lots` by wood, in the order of the cut list."""

    job: Job
    revision: int
    listed: RoughList
    bought: Buying
    making: Mapping[str, Making]
    lots: Mapping[Wood, tuple[Lot, ...]]
    prices: Mapping[Wood, Price]


def sawing(unit: Unit) -> Sawing:
    """How the shop saws parts oversize, in a job of that unit."""
    return sawing_by(shop.habits(), unit)


def waste(unit: Unit) -> Fraction:
    """The share of what is bought that is lost, as the shop reckons it."""
    return shop.habits().of(trade_of_lumber.WASTE, unit)


def job_lumber(key: str) -> JobLumber:
    """The wood of a job as it was saved last.  Raises NoSuchJob."""
    job, revision = jobs.latest(key)
    chosen, prices = lumber.making(key), lumber.prices()
    listed = rough_list(job, sawing(job.unit), chosen)
    return JobLumber(
        job, revision, listed, buying(listed.blanks, waste(job.unit), prices), chosen, _lots(listed), prices
    )  # fmt: skip


def _lots(listed: RoughList) -> dict[Wood, tuple[Lot, ...]]:
    """Blanks that are sawn alike, of one line or of lines with one name, told once with their number."""
    found: dict[Wood, dict[tuple[str, Stock, int], list[Blank]]] = {}
    for blank in listed.blanks:
        own = found.setdefault(wood_of(blank), {})
        own.setdefault((blank.name, blank.rough, blank.nth[1]), []).append(blank)
    return {
        wood: tuple(Lot(len(blanks), blanks[0], _says(blanks)) for blanks in lots.values())
        for wood, lots in found.items()
    }  # fmt: skip


def _says(blanks: list[Blank]) -> str:
    """How they are used, where they are not parts by themselves."""
    first = blanks[0]
    if first.nth[1] > 1:
        what = first.says.partition(" ")[0]
        return f"{first.nth[1]} {what}s a part"
    return first.says
