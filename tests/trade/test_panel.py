"""Panels: both clearances stay above zero or the panel is refused, and what is proposed holds."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import INCH, MM
from shopfloor.trade.panel import (
    CLEARANCE,
    ENGAGEMENT,
    MARGIN,
    PanelRefused,
    panel_fit,
    panel_size,
    propose_panel,
)
from shopfloor.trade.part import Unit
from shopfloor.trade.rounding import SIXTY_FOURTH, TENTH_MM
from shopfloor.trade.seasons import Seasons

openings = st.integers(1, 48 * INCH)
grooves = st.integers(1, INCH)
coefficients = st.integers(71, 431).map(lambda hundred_thousandths: Fraction(hundred_thousandths, 100_000))
tenths = st.integers(40, 160).map(lambda number: Fraction(number, 10))
seasons = st.tuples(tenths, tenths, tenths).map(
    lambda three: Seasons(min(three[0], three[2]), three[1], max(three[::2]))
)
CHERRY = Fraction("0.00248")
YEAR = Seasons(dry=6, build=8, damp=11)


@given(openings, grooves, st.integers(0, INCH), coefficients, seasons)
def test_a_panel_is_refused_or_keeps_both_its_clearance_and_its_engagement(
    opening: int, groove: int, clearance: int, c: Fraction, year: Seasons
) -> None:
    try:
        fit = panel_fit(opening, groove, clearance, c, year)
    except PanelRefused as refused:
        if refused.fit is None:
            assert groove <= clearance
        else:
            assert refused.fit.clearance_damp <= 0 or refused.fit.engagement_dry <= 0
    else:
        assert fit.clearance_damp > 0
        assert fit.engagement_dry > 0


@given(openings, grooves, st.integers(0, INCH), coefficients, seasons)
def test_what_is_refused_really_binds_or_falls_out(
    opening: int, groove: int, clearance: int, c: Fraction, year: Seasons
) -> None:
    # Straight from the formulas, with the widths that the panel has in its dampest and its driest state.
    if groove <= clearance:
        return
    width = opening + 2 * (groove - clearance)
    wettest, driest = max(year.damp, year.build), min(year.dry, year.build)
    room = (opening + 2 * groove - width * (1 + c * (wettest - year.build))) / 2
    held = (width * (1 - c * (year.build - driest)) - opening) / 2

    # A nanometre is the least that counts: less than that is rounded down to nothing.
    if room >= 1 and held >= 1:
        assert panel_fit(opening, groove, clearance, c, year).width == width
    else:
        with pytest.raises(PanelRefused):
            panel_fit(opening, groove, clearance, c, year)


@given(openings, grooves, coefficients, seasons, st.sampled_from([SIXTY_FOURTH, TENTH_MM, 1]))
def test_the_panel_that_is_proposed_holds_all_year(
    opening: int, groove: int, c: Fraction, year: Seasons, step: int
) -> None:
    fit = propose_panel(opening, groove, c, year, step)

    assert fit.clearance_damp >= MARGIN.value
    assert fit.clearance >= CLEARANCE.value
    assert fit.engagement_dry >= ENGAGEMENT.value
    assert fit.groove >= groove
    assert fit.clearance % step == 0
    assert fit.width == opening + 2 * (fit.groove - fit.clearance)


@given(openings, grooves, coefficients, seasons, st.sampled_from([SIXTY_FOURTH, 1]), st.sampled_from([0, inch(1, 8)]))
def test_no_smaller_clearance_and_no_shallower_groove_would_do(
    opening: int, groove: int, c: Fraction, year: Seasons, step: int, least: int
) -> None:
    fit = propose_panel(opening, groove, c, year, step, clearance=least)

    tighter = opening + 2 * (fit.groove - fit.clearance + step)
    left = fit.clearance - step - tighter * c * year.gain / 2
    assert fit.clearance - step < least or left < MARGIN.value
    if fit.groove > groove + step:
        # Both the tongue and the clearance were rounded up, each by less than a step: two steps less is too little.
        width = panel_size(opening, fit.groove - 2 * step, fit.clearance)
        assert fit.groove - 2 * step - fit.clearance - width * c * year.loss / 2 < ENGAGEMENT.value


def test_a_groove_whose_clearance_is_rounded_up_too_far_is_cut_a_step_deeper() -> None:
    # Beech, 26 in, 8 % between 6 and 14 %, in sixteenths.  A groove of 43/64 asks for 0.3751 clearance, so 7/16; left
    # are 15/64 less 26.47 x 0.00431 = 0.114, that is 0.120 and not 1/8.
    beech = Fraction("0.00431")

    fit = propose_panel(inch(26), inch(43, 64), beech, Seasons(dry=6, build=8, damp=14), inch(1, 16))

    assert (fit.groove, fit.clearance) == (inch(47, 64), inch(7, 16))


def test_what_is_left_is_rounded_down() -> None:
    # 1 000 007 x 0.00248 x 3 / 2 = 3720.026 a side; x 2 / 2 = 2480.017.
    fit = panel_fit(980_001, 20_003, 10_000, CHERRY, YEAR)

    assert (fit.width, fit.clearance_damp, fit.engagement_dry) == (1_000_007, 6_279, 7_522)


@pytest.mark.parametrize(
    ("opening", "groove", "clearance", "code"),
    [
        # Width 1 000 000: grows 3720 and shrinks 2480 a side.
        pytest.param(990_000, 8_720, 3_720, "panel-binds", id="clearance used up"),
        pytest.param(995_040, 12_480, 10_000, "panel-falls-out", id="engagement used up"),
    ],
)
def test_what_is_used_up_to_the_last_nanometre_is_refused(opening: int, groove: int, clearance: int, code: str) -> None:
    with pytest.raises(PanelRefused) as refused:
        panel_fit(opening, groove, clearance, CHERRY, YEAR)

    assert refused.value.code == code


def test_a_nanometre_left_is_enough() -> None:
    # As above, a nanometre more room each: width 1 000 000 again.
    assert panel_fit(990_000, 8_721, 3_721, CHERRY, YEAR).clearance_damp == 1
    assert panel_fit(995_038, 12_481, 10_000, CHERRY, YEAR).engagement_dry == 1


def test_a_cherry_panel_is_proposed_with_the_numbers_of_the_bench() -> None:
    # Opening 12 in, groove 3/8.  At 1/8 clearance the panel is 12 1/2 wide; it grows 12.5 x 0.00248 x 3 / 2 = 0.0465 a
    # side, and with 1/32 that is 0.078, less than 1/8.  It shrinks 12.5 x 0.00248 x 2 / 2 = 0.031 from 1/4: 0.219.
    fit = propose_panel(inch(12), inch(3, 8), CHERRY, YEAR)

    assert (fit.groove, fit.clearance, fit.width) == (inch(3, 8), inch(1, 8), inch(25, 2))
    assert fit.clearance_damp == inch(1, 8) - 1_181_100  # 0.0465 in
    assert fit.engagement_dry == inch(1, 4) - 787_400  # 0.031 in


def test_a_wide_panel_gets_more_than_an_eighth() -> None:
    # 24 in of beech from 6 to 12 %: grows 24.5 x 0.00431 x 6 / 2 = 0.317 a side.
    fit = propose_panel(inch(24), inch(1, 2), Fraction("0.00431"), Seasons(dry=6, build=6, damp=12))

    assert fit.clearance > inch(5, 16)
    assert fit.clearance_damp >= inch(1, 32)


def test_a_panel_that_binds_says_by_how_much_and_what_would_do() -> None:
    with pytest.raises(PanelRefused) as refused:
        panel_fit(mm("600"), mm("10"), mm("2"), Fraction("0.00431"), Seasons(dry=6, build=6, damp=12), Unit.MM)

    # 616 x 0.00431 x 6 / 2 = 7.96 a side.
    assert refused.value.code == "panel-binds"
    assert "it grows 8 mm at each side and has 2 mm to grow into" in str(refused.value)
    assert "would hold a panel" in refused.value.do
    assert refused.value.fit is not None
    assert refused.value.fit.clearance_damp == -5_964_880


def test_a_panel_that_falls_out_says_by_how_much_and_what_would_do() -> None:
    with pytest.raises(PanelRefused) as refused:
        panel_fit(inch(24), inch(1, 4), inch(1, 8), Fraction("0.00431"), Seasons(dry=6, build=12, damp=12))

    # 24.25 x 0.00431 x 6 / 2 = 0.3136 a side, nearest to 20/64.
    assert refused.value.code == "panel-falls-out"
    assert "it shrinks 5/16 in at each side and reaches 1/8 in into its grooves" in str(refused.value)


@given(openings, grooves, st.integers(0, INCH), coefficients, seasons)
def test_the_sizes_that_a_refusal_names_would_do(
    opening: int, groove: int, clearance: int, c: Fraction, year: Seasons
) -> None:
    try:
        panel_fit(opening, groove, clearance, c, year)
    except PanelRefused as refused:
        if refused.fit is not None:
            would = propose_panel(opening, groove, c, year)
            assert panel_fit(opening, would.groove, would.clearance, c, year) == would


@pytest.mark.parametrize(
    ("opening", "groove", "clearance"),
    [
        pytest.param(0, mm("10"), mm("3"), id="no opening"),
        pytest.param(-MM, mm("10"), mm("3"), id="negative opening"),
        pytest.param(mm("300"), mm("3"), mm("3"), id="clearance takes all of the groove"),
        pytest.param(mm("300"), mm("10"), -1, id="negative clearance"),
    ],
)
def test_sizes_that_are_no_panel_are_refused(opening: int, groove: int, clearance: int) -> None:
    with pytest.raises(PanelRefused) as refused:
        panel_size(opening, groove, clearance)

    assert refused.value.code == "no-panel"
    assert refused.value.fit is None


def test_a_panel_beyond_6_to_14_percent_comes_with_its_warning() -> None:
    fit = panel_fit(mm("300"), mm("10"), mm("3"), CHERRY, Seasons(dry=Fraction("5.4"), build=8, damp=10))

    assert len(fit.warnings) == 1
    assert "5.4 %" in fit.warnings[0]


def test_a_panel_built_damper_than_its_house_only_shrinks() -> None:
    # 314 x 0.00248 x 7 / 2 = 2.72552 a side out of 7; the clearance is never less than on the day.
    fit = panel_fit(mm("300"), mm("10"), mm("3"), CHERRY, Seasons(dry=6, build=13, damp=11))

    assert (fit.clearance_damp, fit.engagement_dry) == (3_000_000, 4_274_480)


def test_a_size_off_the_grid_is_named_with_its_unit_before_the_word() -> None:
    with pytest.raises(PanelRefused, match="has 1/16 in full to grow into"):
        panel_fit(inch(30), inch(1, 2), inch(1, 16) + 1_000, CHERRY, YEAR)
