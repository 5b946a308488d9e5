"""Glaser's method against three stacks worked twice by other means.

Source: own worked examples by ISO 13788:2012, clause 6, found by obstacle relaxation and confirmed by the
lower convex hull; no published numeric example could be had. Printed to 1e-4 g/(m2 h) and 1e-3 Pa.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.formulas.moisture import interface_temperatures, night_damp
from engine.formulas.vapour import saturation_pressure

PER_HOUR = 3.6e6
"""kg/(m2 s) to g/(m2 h)."""


def stack(layers):
    resistances, sd = np.array(layers).T
    return resistances, sd


CASES = {
    # name: (warm C, warm RH, cold C, cold RH, layers of (R, s_d) from the film inside to the film outside)
    "A": (20, 0.5, -5, 0.8, [(0.13, 0), (0.05, 0.05), *[(0.25, 0.012)] * 10, (0, 1.0), (0.04, 0)]),
    "B": (30, 0.5, -10, 0.8, [(0.005, 0.003), *[(0.2, 0.01)] * 6, (0.005, 0.02), (0.1, 0.007)]),
    "C": (30, 0.4, 5, 0.7, [(0.005, 0.003), *[(0.1, 0.005)] * 6, (0.005, 0.02), (0.1, 0.007)]),
}
WORKED = {"A": (3.1955, 0.0670, 3.1285), "B": (20.9674, 3.6333, 17.3340), "C": (13.0308, 13.0308, 0.0)}


@pytest.mark.parametrize("name", CASES)
def test_agrees_with_the_worked_stacks(name):
    warm, warm_rh, cold, cold_rh, layers = CASES[name]
    resistances, sd = stack(layers)
    temperature = interface_temperatures(warm, cold, resistances)
    damp = night_damp(
        temperature,
        sd,
        warm_rh * saturation_pressure(float(warm)),
        cold_rh * saturation_pressure(float(cold)),
    )
    into, out, kept = WORKED[name]
    assert damp.flux_in_kg_m2s * PER_HOUR == pytest.approx(into, abs=1e-4)
    assert damp.flux_out_kg_m2s * PER_HOUR == pytest.approx(out, abs=1e-4)
    assert damp.condensing_kg_m2s.sum() * PER_HOUR == pytest.approx(kept, abs=2e-4)


def test_condensation_stands_where_the_worked_stack_has_it():
    warm, warm_rh, cold, cold_rh, layers = CASES["B"]
    resistances, sd = stack(layers)
    temperature = interface_temperatures(warm, cold, resistances)
    damp = night_damp(
        temperature, sd, warm_rh * saturation_pressure(30.0), cold_rh * saturation_pressure(-10.0)
    )
    assert damp.condensing_kg_m2s[6] * PER_HOUR == pytest.approx(4.1841, abs=1e-4)
    assert damp.condensing_kg_m2s[7] * PER_HOUR == pytest.approx(13.1499, abs=1e-4)
    assert temperature[6] == pytest.approx(-0.687, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(
    cold=st.floats(-30, 10),
    sds=st.lists(st.floats(0.001, 5), min_size=2, max_size=8),
    humidity=st.floats(0.3, 0.95),
)
def test_nothing_is_above_saturation_and_nothing_is_lost(cold, sds, humidity):
    resistances = np.full(len(sds), 0.2)
    temperature = interface_temperatures(33.0, cold, resistances)
    cold_pa = humidity * float(saturation_pressure(cold))
    damp = night_damp(temperature, np.array(sds), 0.6 * saturation_pressure(33.0), cold_pa)
    assert np.all(damp.pressure_pa <= damp.saturation_pa * (1 + 1e-9))
    assert np.all(damp.condensing_kg_m2s >= -1e-18)
    balance = damp.flux_in_kg_m2s - damp.flux_out_kg_m2s
    assert damp.condensing_kg_m2s.sum() == pytest.approx(balance, rel=1e-9, abs=1e-18)


def test_an_impossible_layer_is_refused():
    with pytest.raises(ValueError, match="layer_sd_m is -1 m; it cannot be negative"):
        night_damp(np.array([30.0, 0.0]), np.array([-1.0]), 2000.0, 500.0)
