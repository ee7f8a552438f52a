"""The page of numbers: every fact has a source, a status and a value in its own range, and is there once."""

from __future__ import annotations

import ast
import re
from fractions import Fraction
from pathlib import Path

import pytest

from shopfloor.trade import facts as gathered
from shopfloor.trade.fact import CONFIRMED, AnyFact, Fact, inch, mm
from shopfloor.trade.facts import facts
from shopfloor.trade.length import MM
from shopfloor.trade.milling import LENGTH_ALLOWANCE
from shopfloor.trade.panel import ENGAGEMENT
from shopfloor.trade.part import Unit

FACTS = facts()
TRADE = Path(gathered.__file__).parent


def test_every_key_is_there_once() -> None:
    assert len({fact.key for fact in FACTS}) == len(FACTS) > 150


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact.key)
def test_a_fact_can_be_read_and_traced(fact: AnyFact) -> None:
    assert fact.source and fact.name and fact.subject
    assert fact.value != ""
    assert isinstance(fact.value, str) == (fact.unit == "")
    assert fact.customary(fact.value)
    if fact.metric is not None:
        assert fact.customary(fact.metric)


@pytest.mark.parametrize("fact", [fact for fact in FACTS if fact.metric is not None], ids=lambda fact: fact.key)
def test_the_round_millimetres_are_the_same_habit_as_the_inches(fact: Fact[int]) -> None:
    # 6 mm for 1/4 in and 600 mm for 24 in are the widest rounding that the trade does.
    assert fact.unit == "nm"
    assert abs(fact.metric - fact.value) <= max(Fraction(fact.value, 15), MM * Fraction(3, 10))


def test_no_module_keeps_its_facts_from_the_page() -> None:
    having = {
        path.stem
        for path in TRADE.glob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.target.id == "FACTS"
    }
    tree = ast.parse(Path(gathered.__file__).read_text(encoding="utf-8"))
    named = {name.name for node in tree.body if isinstance(node, ast.ImportFrom) for name in node.names}

    assert having <= named
    assert len(having) >= 12


def test_every_fact_that_a_module_defines_is_on_the_page() -> None:
    defined = {
        word.value.value
        for path in TRADE.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Fact"
        for word in node.keywords
        if word.arg == "key" and isinstance(word.value, ast.Constant)
    }

    assert len(defined) > 60
    assert defined <= {fact.key for fact in FACTS}


def test_a_shop_in_millimetres_starts_with_round_ones() -> None:
    assert LENGTH_ALLOWANCE.used(Unit.INCH) == inch(1)
    assert LENGTH_ALLOWANCE.used(Unit.MM) == mm("25")


@pytest.mark.parametrize(
    ("value", "customary"),
    [(inch(1, 2), True), (inch(2), True), (inch(3), False), (mm("13"), True), (mm("12.6"), False), (0, False)],
)
def test_a_changed_value_is_held_against_the_range_of_the_trade(value: int, customary: bool) -> None:
    assert LENGTH_ALLOWANCE.customary(value) is customary


def test_an_open_range_has_no_most() -> None:
    assert ENGAGEMENT.customary(inch(40))
    assert not ENGAGEMENT.customary(inch(1, 16))


def test_laws_of_nature_cannot_be_changed_and_habits_can() -> None:
    told = {fact.key: fact for fact in FACTS}

    assert not told["movement-equation"].changeable
    assert not told["species-black-cherry-tangential"].changeable
    assert not told["surfaced-4-4"].changeable
    assert told["kerf"].changeable
    assert told["kerf"].status is not CONFIRMED


@pytest.mark.parametrize("number", [(1, 3), (7, 24)])
def test_an_inch_that_is_no_whole_nanometre_is_a_mistake_of_ours(number: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="no whole number of nanometres"):
        inch(*number)


@pytest.mark.parametrize(
    ("key", "unit", "shows"),
    [
        ("allowance-length", Unit.INCH, "1 in"),
        ("allowance-length", Unit.MM, "25 mm"),
        ("surfaced-5-4", Unit.INCH, "1 1/16 in"),
        ("surfaced-5-4", Unit.MM, "26.9875 mm"),
        ("fit-thickness", Unit.INCH, "0.002 in"),
        ("fit-thickness", Unit.MM, "0.05 mm"),
        ("tenon-share", Unit.MM, "1/3 of the stock"),
        ("waste", Unit.INCH, "0.3 of what is bought is lost"),
        ("species-black-cherry-tangential", Unit.INCH, "0.00248 of the width per point of moisture"),
        ("board-foot-metric", Unit.MM, "0.002359737216 m³"),
        ("haunch", Unit.INCH, "fills the groove: as long as it is deep, as thick as the tenon"),
        ("glue-open-time", Unit.INCH, "600 seconds"),
    ],
)
def test_a_fact_is_listed_as_the_trade_says_it(key: str, unit: Unit, shows: str) -> None:
    assert next(fact for fact in FACTS if fact.key == key).shows(unit) == shows


@pytest.mark.parametrize("unit", Unit)
def test_no_length_is_listed_as_full_or_shy_or_with_endless_digits(unit: Unit) -> None:
    shown = [fact.shows(unit) for fact in FACTS if not isinstance(fact.value, str)]

    assert all(re.fullmatch(r"[\d./ ]{1,14} \D.*", text) for text in shown)
    assert not [text for text in shown if "full" in text or "shy" in text]
