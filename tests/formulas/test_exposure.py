"""How long cold can be borne, against the table of ISO 11079:2007."""

import math

import numpy as np
import pytest

from engine.formulas.body import NEUTRAL, heat_deficit
from engine.formulas.clothing import air_layer_resistance, clothing_area_factor, required_basic_insulation
from engine.formulas.exposure import ALLOWED_DEBT_WH_M2, heat_debt, limited_exposure_hours
from engine.units import CLO, HOUR

TABLE_F1 = [
    # air C, wind m/s, rate W/m2, clothing worn clo, hours (neutral); humidity 85 %, 8 L/(m2 s)
    (0, 2, 90, 2.5, 2.3),
    (0, 2, 145, 2.5, math.inf),
    (-10, 2, 90, 2.5, 0.7),
    (-20, 2, 115, 4.2, math.inf),
    (-20, 7, 115, 4.2, 1.1),
    (-30, 2, 115, 4.2, 2.2),
    (-30, 5, 175, 4.2, math.inf),
]
"""Source: ISO 11079:2007, Annex F, Table F.1, as seen in a public copy; above 8 h is printed as "> 8"."""
WORN_CLO, PRINTED_H = 0.13, 0.05
"""Clothes are printed to 0.1 clo (0.05) and the printed program differs from the printed equations by up to
0.08 clo; hours are printed to a tenth."""


def worn_resistance(worn_clo, wind_m_s, walk_m_s):
    """Skin to air in wind, from clothing as measured: the standard's own correction, turned round."""
    low, high = 0.01, 3.0
    for _ in range(60):
        middle = (low + high) / 2
        above = required_basic_insulation(middle, wind_m_s, walk_m_s, 8.0) > worn_clo * CLO
        low, high = (low, middle) if above else (middle, high)
    return low + air_layer_resistance(wind_m_s, walk_m_s) / clothing_area_factor(low)


@pytest.mark.parametrize("air, wind, rate, worn, hours", TABLE_F1)
def test_hours_agree_with_the_published_table(air, wind, rate, worn, hours):
    walk = max(0.5, 0.0052 * (rate - 58))

    def lasts(clo):
        resistance = worn_resistance(clo, float(wind), walk)
        deficit = heat_deficit(float(air), float(rate), NEUTRAL, 85.0, 1 / resistance)
        return float(limited_exposure_hours(deficit))

    if math.isinf(hours):
        assert lasts(worn) > 8
    else:
        assert lasts(worn - WORN_CLO) - PRINTED_H <= hours <= lasts(worn + WORN_CLO) + PRINTED_H
        assert lasts(worn) < 8


def test_the_allowed_debt_is_the_standards():
    # 144 kJ/m2: ISO 11079:2007.
    assert pytest.approx(144e3) == ALLOWED_DEBT_WH_M2 * HOUR


def test_debt_and_hours_are_two_readings_of_one_loss():
    for deficit in (0.5, 5.0, 40.0):
        assert heat_debt(deficit, float(limited_exposure_hours(deficit))) == pytest.approx(ALLOWED_DEBT_WH_M2)


def test_heat_to_spare_owes_nothing_and_lasts():
    assert heat_debt(-3.0, 8.0) == 0
    assert math.isinf(float(limited_exposure_hours(-3.0))) and math.isinf(float(limited_exposure_hours(0.0)))


def test_a_sweep_gives_what_single_calls_give():
    deficits = np.linspace(-10, 30, 21)
    np.testing.assert_array_equal(
        limited_exposure_hours(deficits), [float(limited_exposure_hours(float(d))) for d in deficits]
    )
    np.testing.assert_array_equal(
        heat_debt(deficits, 8.0), [float(heat_debt(float(d), 8.0)) for d in deficits]
    )


def test_hours_below_nought_are_refused():
    with pytest.raises(ValueError, match="hours is -1 h; it cannot be negative"):
        heat_debt(5.0, -1.0)
