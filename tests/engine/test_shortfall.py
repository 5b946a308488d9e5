"""Watts short on a night: the same balance as the temperatures, and the debt of ISO 11079:2007."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from engine.catalogue.load import load_catalogue
from engine.formulas import body
from engine.night import Night, Sleeper
from engine.quantities import resolve
from engine.samples import samples
from engine.score import heat_paths, score
from engine.shortfall import conductance, shortfall_of, sleeper_rate
from tests.engine.made import FULL_SEWN

CATALOGUE = load_catalogue()


def at_air(design, air_c, night=None, **changes):
    """Shortfall with the air set beyond the night's own limits where a test needs it."""
    night = night or Night(**changes)
    quantities = replace(resolve(design, night, CATALOGUE), air_c=air_c)
    result = score(quantities)
    return shortfall_of(night, quantities, result), result, quantities


PARABOLA_W_M2 = 0.05
"""The rating runs a parabola through three conductances, which is worth 0.003 K and so 0.004 W/m2 at 1.3
W/m2K; ten times that covers air far from the three."""


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_at_its_own_rating_a_quilt_leaves_nobody_short(sample):
    result = score(resolve(sample.design, sample.night, CATALOGUE))
    for key, who in (("comfort_c", "woman"), ("limit_c", "man")):
        got, _, _ = at_air(sample.design, float(getattr(result, key)), sample.night)
        assert getattr(got, who).short_w_m2 == pytest.approx(0, abs=PARABOLA_W_M2)


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_the_womans_balance_is_all_paths_less_her_rate(sample):
    quantities = resolve(sample.design, sample.night, CATALOGUE)
    result = score(quantities)
    got = shortfall_of(sample.night, quantities, result).woman
    paths = sum(float(watts) for watts in heat_paths(quantities, result.loft).values())
    assert got.short_w == pytest.approx(paths - body.STANDARD_WOMAN_W_M2 * got.area_m2, abs=0.01)


def test_colder_air_leaves_everybody_shorter():
    nights = [at_air(FULL_SEWN, air)[0] for air in (15.0, 5.0, -5.0, -15.0, -25.0)]
    for milder, colder in pairwise(nights):
        for who in ("woman", "man", "sleeper", "sleeper_cool"):
            assert getattr(colder, who).short_w > getattr(milder, who).short_w


def test_a_body_bare_of_any_quilt_conducts_as_its_films_and_clothes_do():
    """Nothing but head, clothes and film: a quilt that covers nothing, the other half left as bare.

    By hand, standard woman at 0 degC and 0.3 m/s: head share 0.076 over R 0.30, the rest over clothing 0.08
    and the film of ISO 6946 and Churchill and Bernstein (3.07 + 3.94 W/m2K: 0.143 m2K/W) makes 4.40 W/m2K.
    """
    night = Night(air_c=0, other_half="own R", other_half_r_m2k_w=0)
    quantities = replace(
        resolve(FULL_SEWN, night, CATALOGUE), needed_width_m=1e6, pad_below_cover=-1.0, beyond_r_m2k_w=0.0
    )
    by_hand = 0.076 / 0.30 + 0.924 / (0.08 + 1 / (3.07 + 3.94))
    assert conductance(quantities, score(quantities)) == pytest.approx(by_hand, rel=0.02)


def test_the_minimal_state_needs_less_heat_than_the_neutral_one():
    got, _, _ = at_air(FULL_SEWN, -15.0)
    assert got.sleeper_cool.short_w < got.sleeper.short_w
    assert got.sleeper_cool.lasts_h > got.sleeper.lasts_h


def test_the_debt_falls_due_by_the_standards_limit():
    got, _, _ = at_air(FULL_SEWN, -15.0, hours=8)
    short = got.sleeper.short_w_m2
    assert short > 0
    # ISO 11079:2007: 144 kJ/m2; a loss of so many watts on a square metre, in seconds, in hours.
    assert got.sleeper.lasts_h == pytest.approx(144e3 / short / 3600)
    assert got.sleeper.debt_wh_m2 == pytest.approx(8 * short)
    assert got.sleeper.lasts(8) == (8 * short * 3600 <= 144e3)


def test_a_warm_night_has_heat_to_spare_and_owes_nothing():
    got, _, _ = at_air(FULL_SEWN, 10.0)
    assert got.woman.short_w < 0 and got.woman.debt_wh_m2 == 0 and math.isinf(got.woman.lasts_h)
    assert got.woman.lasts(16)


def test_the_nights_own_sleeper_is_the_size_typed_and_makes_the_mean_of_both_rates():
    # DuBois by hand: 0.202 x 70^0.425 x 1.73^0.725 = 1.8285 m2 (pythermalcomfort 4.8.1: the same).
    own = Sleeper(kind="own", height_mm=1730, mass_kg=70)
    got, _, _ = at_air(FULL_SEWN, -5.0, sleeper=own)
    assert got.sleeper.area_m2 == pytest.approx(1.8285, abs=2e-4)
    # Harris and Benedict by hand: 42.13 and 45.97 W/m2.
    assert got.sleeper.rate_w_m2 == pytest.approx((42.13 + 45.97) / 2, abs=0.01)
    assert sleeper_rate(Sleeper(kind="standard man")) == pytest.approx(45.97, abs=0.01)


def test_a_standard_woman_as_sleeper_is_the_woman_of_the_rating():
    got, _, _ = at_air(FULL_SEWN, -5.0)
    assert got.sleeper == got.woman
