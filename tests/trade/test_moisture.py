"""Moisture: the curve's table, its laws, its limits, and the seasons."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.moisture import AirOutOfRange, air_warnings, emc, emc_fahrenheit, settled
from shopfloor.trade.rounding import percent_for_show
from shopfloor.trade.seasons import PRESETS, MoistureOutOfRange, Seasons, moisture_warnings

temperatures = st.floats(0, 45)


@given(temperatures, st.floats(5, 94), st.floats(0.01, 1))
def test_damper_air_makes_damper_wood(temp_c: float, rh: float, more: float) -> None:
    assert emc(temp_c, rh + more) > emc(temp_c, rh)


@given(st.floats(0, 40), st.floats(0.1, 5), st.floats(5, 95))
def test_warmer_air_of_the_same_humidity_never_makes_wood_damper_by_a_tenth(
    temp_c: float, more: float, rh: float
) -> None:
    # Below about 10 °C the curve is flat and rises by a few hundredths.
    assert emc(temp_c + more, rh) < emc(temp_c, rh) + 0.1


@given(temperatures, st.floats(5, 95))
def test_celsius_and_fahrenheit_agree_within_the_rounding_of_the_table(temp_c: float, rh: float) -> None:
    assert abs(emc(temp_c, rh) - emc_fahrenheit(temp_c * 9 / 5 + 32, rh)) < 0.05


def test_bone_dry_air_leaves_bone_dry_wood() -> None:
    assert emc(21, 0) == 0


@pytest.mark.parametrize(
    ("temp_c", "rh", "where"),
    [
        pytest.param(21, 100, "humidity", id="fog"),
        pytest.param(21, -1, "humidity", id="below nothing"),
        pytest.param(21, float("nan"), "humidity", id="no number"),
        pytest.param(-2, 40, "temperature", id="frost"),
        pytest.param(55, 40, "temperature", id="a kiln"),
        pytest.param(float("nan"), 40, "temperature", id="no temperature"),
    ],
)
def test_air_outside_the_table_is_refused(temp_c: float, rh: float, where: str) -> None:
    with pytest.raises(AirOutOfRange) as refused:
        emc(temp_c, rh)

    assert refused.value.where == where
    assert refused.value.do


@pytest.mark.parametrize(("temp_f", "taken"), [(30, True), (130, True), (29, False), (131, False)])
def test_the_ends_of_the_fahrenheit_table_are_taken(temp_f: float, taken: bool) -> None:
    if taken:
        assert 7 > emc_fahrenheit(temp_f, 30) > 5
    else:
        with pytest.raises(AirOutOfRange):
            emc_fahrenheit(temp_f, 30)


@pytest.mark.parametrize(
    ("temp_c", "rh", "count"), [(21, 40, 0), (0, 5, 0), (45, 95, 0), (-1, 40, 1), (50, 40, 1), (21, 97, 1), (50, 2, 2)]
)
def test_air_at_the_ends_of_the_range_is_told(temp_c: float, rh: float, count: int) -> None:
    assert len(air_warnings(temp_c, rh)) == count


# Worked out by hand from the table: 70 °F is 21.1 °C.
@pytest.mark.parametrize(
    ("rh", "percent"), [(20, "4.5"), (40, "7.7"), (65, "12.0"), (80, "16.0")], ids=lambda value: str(value)
)
def test_what_goes_on_to_the_lengths_is_an_exact_tenth(rh: int, percent: str) -> None:
    assert settled(21.1, rh) == Fraction(percent)


@pytest.mark.parametrize(
    ("name", "dry", "damp"),
    [
        ("controlled interior", "6.9", "9.2"),
        ("cold-winter heated house", "5.4", "10.1"),
        ("mild maritime house", "8.5", "12.0"),
        ("dry region", "4.5", "7.7"),
        ("humid region, cooled house", "8.5", "11.0"),
        ("unheated or open building", "7.7", "16.0"),
    ],
)
def test_the_presets_have_the_moistures_that_they_are_listed_with(name: str, dry: str, damp: str) -> None:
    house = next(preset for preset in PRESETS if preset.name == name)

    seasons = house.seasons(8)

    assert (seasons.dry, seasons.damp) == (Fraction(dry), Fraction(damp))


@pytest.mark.parametrize("name", ["cold-winter heated house", "dry region", "unheated or open building"])
def test_presets_beyond_6_to_14_percent_warn(name: str) -> None:
    house = next(preset for preset in PRESETS if preset.name == name)

    assert "is an estimate" in house.seasons(8).warnings[0]


def test_moisture_inside_the_range_needs_no_words() -> None:
    assert moisture_warnings(6, Fraction("9.5"), 14) == ()


def test_all_moistures_outside_are_named_in_one_sentence() -> None:
    told = moisture_warnings(16, 5, 8, Fraction("4.5"))

    assert told == ("The coefficients hold from 6 to 14 % moisture; at 4.5, 5.0 and 16.0 % the result is an estimate.",)


@pytest.mark.parametrize("content", [-1, 31])
def test_moisture_that_no_stock_has_is_refused(content: int) -> None:
    with pytest.raises(MoistureOutOfRange, match="moisture content to work with"):
        moisture_warnings(8, content)


def test_seasons_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(MoistureOutOfRange, match=r"dry season has 11\.0 % and the damp season 6\.0 %"):
        Seasons(dry=11, build=8, damp=6)


@pytest.mark.parametrize(
    ("build", "gain", "loss"),
    [(8, 3, 2), (5, 6, 0), (13, 0, 7)],
    ids=["between", "drier than both", "damper than both"],
)
def test_a_piece_moves_from_where_it_was_built(build: int, gain: int, loss: int) -> None:
    seasons = Seasons(dry=6, build=build, damp=11)

    assert (seasons.gain, seasons.loss) == (gain, loss)


@pytest.mark.parametrize(("value", "text"), [(7.6972, "7.7"), (Fraction(25, 4), "6.2"), (12, "12.0"), (-0.34, "-0.3")])
def test_moisture_is_shown_to_a_tenth(value: float, text: str) -> None:
    assert percent_for_show(value) == text
