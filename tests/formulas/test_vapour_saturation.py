"""Saturation pressure against the ASHRAE Handbook's and IAPWS's equations, by psychrolib and CoolProp.

ISO 13788 is a fit of two constants a branch. Its known distance to the reference equations: within 0.2 %
above freezing, growing in frost to 0.6 % at -20 degC and 2 % at -40 degC. The body's curve is over water.
"""

from collections import Counter

import numpy as np
import pytest

from engine.checks.damp import vapour
from engine.formulas.vapour import saturation_pressure, saturation_pressure_over_water


@pytest.mark.parametrize("row", vapour(), ids=lambda row: f"{row.what}, {row.source}")
def test_both_curves_agree_with_the_handbook_the_standard_and_water(row):
    # To the standard's own formulas three decimals are printed. The body's curve is a three-constant fit
    # meant for 5 to 40 degC, held to water there: 0.3 % at the cold end.
    assert row.inside, row


def test_every_temperature_is_compared_with_all_that_is_printed_for_it():
    # 21 temperatures from -40 to 40 degC; water by the library from 5 degC on.
    kinds = Counter(row.source for row in vapour())
    assert sorted(kinds.values()) == [12, 21, 21]


def test_the_body_curve_overshoots_ice_and_so_must_not_serve_condensation():
    # Supercooled water over ice: +21 % at -20 degC, +47 % at -40 degC (Smithsonian tables, from memory);
    # both fits run 2 to 4 % low that far out.
    frost = np.array([-20.0, -40.0])
    excess = saturation_pressure_over_water(frost) / saturation_pressure(frost) - 1
    np.testing.assert_allclose(excess, [0.21, 0.47], atol=0.05)


@pytest.mark.parametrize("curve", [saturation_pressure, saturation_pressure_over_water])
def test_a_sweep_gives_what_single_calls_give(curve):
    temperatures_c = np.linspace(-60, 60, 49)
    np.testing.assert_allclose(curve(temperatures_c), [curve(float(t)) for t in temperatures_c], rtol=1e-12)
    assert isinstance(curve(-5.0), float)


@pytest.mark.parametrize("curve", [saturation_pressure, saturation_pressure_over_water])
def test_warmer_air_always_holds_more(curve):
    assert np.all(np.diff(curve(np.linspace(-80, 60, 1401))) > 0)


@pytest.mark.parametrize("curve", [saturation_pressure, saturation_pressure_over_water])
@pytest.mark.parametrize("temperature_c", [-250.0, 300.0, float("nan")])
def test_an_impossible_temperature_is_refused_by_name(curve, temperature_c):
    with pytest.raises(ValueError, match=r"temperature_c is .*allowed: -200 to 100 degC"):
        curve(temperature_c)
