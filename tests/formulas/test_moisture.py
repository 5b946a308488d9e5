"""Glaser's method against three stacks worked twice by other means.

Source: own worked examples by ISO 13788:2012, clause 6, found by obstacle relaxation and confirmed by the
lower convex hull; no published numeric example could be had. Printed to 1e-4 g/(m2 h) and 1e-3 Pa.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.checks.damp import nights
from engine.formulas.moisture import interface_temperatures, night_damp
from engine.formulas.vapour import saturation_pressure


@pytest.mark.parametrize("row", nights(), ids=lambda row: row.what)
def test_agrees_with_the_worked_stacks(row):
    assert row.inside, row


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
