"""Every worked value of the collection on wood, lumber, proportions and squareness comes out of the trade's modules.

A vector's numbers carry the unit that it names; one without a unit is taken in millimetres.  The tolerance is the
vector's own, and no result may differ by more than it plus half a nanometre for the one rounding.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from shopfloor.trade import lumber, proportions
from shopfloor.trade.clamping import clamp_spread
from shopfloor.trade.length import INCH, MM, Length, read
from shopfloor.trade.moisture import celsius, emc, emc_fahrenheit, swing
from shopfloor.trade.movement import Cut, coefficient, coefficient_from_shrinkage, movement
from shopfloor.trade.panel import panel_fit, panel_size
from shopfloor.trade.seasons import Seasons
from shopfloor.trade.spacing import divide, worst_error
from shopfloor.trade.species import find_species
from shopfloor.trade.square import diagonal, diagonal_difference
from tests.vectors import load

VECTORS = load("wood")["vectors"]
UNITS = {"mm": MM, "in": INCH}

Given = dict[str, Any]


def exact(number: Any) -> Fraction:
    """The decimal as it is written in the file, and not the float it became."""
    return Fraction(str(number))


def length(given: Given, name: str, unit: str = "mm") -> Length:
    nm = exact(given[name]) * UNITS[given.get("unit", unit)]
    return round(nm)


def shown(nm: Length, given: Given, unit: str = "mm") -> Fraction:
    return Fraction(nm, UNITS[given.get("unit", unit)])


def _movement(given: Given) -> Fraction:
    if "species" in given:
        change = coefficient(find_species(given["species"]), Cut(given["sawn"]))
    else:
        change = exact(given["coefficient"])
    start, end = exact(given["mc_initial_pct"]), exact(given["mc_final_pct"])
    return shown(movement(length(given, "dimension"), change, start, end), given)


def _board(given: Given) -> tuple[Length, Length]:
    long = given["length_ft"] * 12 if "length_ft" in given else given["length_in"]
    return round(exact(given["width_in"]) * INCH), round(exact(long) * INCH)


def _tally(given: Given) -> Given:
    width, long = _board(given)
    counted = lumber.tallied(round(exact(given["nominal_thickness_in"]) * INCH), width, long)
    return {"surface_measure_ft2": lumber.surface_measure(width, long), "board_feet": counted.amount}


def _panel_fit(given: Given) -> Given:
    low, build, high = (exact(given[f"mc_{name}_pct"]) for name in ("low", "build", "high"))
    fit = panel_fit(
        length(given, "opening"), length(given, "groove_depth"), length(given, "clearance_per_side"),
        exact(given["coefficient"]), Seasons(low, build, high),
    )  # fmt: skip
    return {
        "panel_width": shown(fit.width, given),
        "min_clearance_per_side": shown(fit.clearance_damp, given),
        "min_engagement_per_side": shown(fit.engagement_dry, given),
    }


def _convert(given: Given) -> Fraction:
    match given["from"], given["to"]:
        case "in", "mm":
            return Fraction(read(str(given["value"]), "in"), MM)
        case "board_foot", "m3":
            return lumber.cubic_metres(given["value"])
        case "m3", "board_foot":
            return lumber.board_feet_of_volume(given["value"])
        case "degF", "degC":
            return celsius(given["value"])
    raise AssertionError(f"no way from {given['from']} to {given['to']}")


def _of_lengths(work: Callable[..., Length], *names: str) -> Callable[[Given], Fraction]:
    return lambda given: shown(work(*(length(given, name) for name in names)), given)


KINDS: dict[str, Callable[[Given], Any]] = {
    "emc": lambda given: emc(given["temp_c"], given["rh_pct"]),
    "emc_f": lambda given: emc_fahrenheit(given["temp_f"], given["rh_pct"]),
    "emc_swing": lambda given: swing(given["temp_c"], given["rh_low_pct"], given["rh_high_pct"]),
    "movement": _movement,
    "movement_species": _movement,
    "coef_from_shrinkage": lambda given: coefficient_from_shrinkage(
        exact(given["shrink_pct"]), given["zero_shrink_mc_pct"], given["reference_mc_pct"]
    ),
    "boardfeet": lambda given: lumber.board_feet(round(exact(given["thickness_in"]) * INCH), *_board(given)),
    "boardfeet_tally": _tally,
    "s2s_thickness": lambda given: Fraction(lumber.rough(given["quarters"]).surfaced, INCH),
    "nominal_thickness": lambda given: Fraction(lumber.rough(given["quarters"]).nominal, INCH),
    "tenon": lambda given: shown(
        proportions.tenon_thickness(length(given, "stock_thickness"), Fraction(given["fraction"])), given
    ),
    "corner_tenon_width": _of_lengths(proportions.corner_tenon_width, "rail_width", "groove_depth"),
    "mortise_depth": _of_lengths(proportions.mortise_depth, "tenon_length", "extra_depth"),
    "panel_size": _of_lengths(panel_size, "opening", "groove_depth", "clearance_per_side"),
    "panel_fit": _panel_fit,
    "diagonal": _of_lengths(diagonal, "width", "height"),
    "diagonal_difference": _of_lengths(diagonal_difference, "width", "height", "sideways_skew"),
    "clamp_spread": lambda given: shown(
        clamp_spread(length(given, "distance_to_glue_line"), length(given, "pad_width"), given["half_angle_deg"]), given
    ),
    "datum_marks": lambda given: [shown(mark, given) for mark in divide(length(given, "length"), given["parts"])],
    "datum_error": lambda given: shown(
        worst_error(given["gaps"], length(given, "step_error"), chained=given["method"] == "chained"), given
    ),
    "convert": _convert,
}


def numbers(value: Any) -> dict[str, Any]:
    """A number, a list or an object as named numbers, so that nothing is compared by position alone."""
    if isinstance(value, dict):
        return value
    if isinstance(value, list):
        return {str(place): item for place, item in enumerate(value)}
    return {"": value}


HALF_NM = Fraction(1, 2 * MM)


@pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["id"])
def test_every_worked_value_of_the_collection_comes_out(vector: dict[str, Any]) -> None:
    found = numbers(KINDS[vector["kind"]](vector["input"]))
    wanted = numbers(vector["expected"])

    assert found.keys() == wanted.keys()
    for name, value in wanted.items():
        assert abs(Fraction(found[name]) - exact(value)) <= exact(vector["tolerance"]) + HALF_NM, name


def test_the_collection_is_whole_and_every_kind_of_it_is_worked_out() -> None:
    assert len(VECTORS) == len({vector["id"] for vector in VECTORS}) == 118
    assert {vector["kind"] for vector in VECTORS} == set(KINDS)
