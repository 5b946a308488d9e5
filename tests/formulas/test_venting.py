"""Air through vents and pull on baffle feet, by hand from the definitions of ISO 9237:1995."""

import math

import pytest

from engine.formulas.venting import baffle_foot_load, reloft_seconds, squeeze_limit_pa, squeeze_out_seconds


def test_a_volume_leaves_in_the_time_worked_by_hand():
    # 80 L through 0.02 m2 that passes 5 mm/s at 100 Pa: at 1 kPa 50 mm/s, 1 L/s, 80 s.
    assert squeeze_out_seconds(0.080, 0.02, 0.005, 1000.0) == pytest.approx(80.0)


def test_relofting_is_the_closed_integral_of_a_spring_that_is_spent():
    # For n = 2 the integral of v2 / (1 - v2) from 0 to s is atanh(s) - s.
    volume, area, permeability, pressure = 0.080, 0.02, 0.005, 14.5
    for share in (0.5, 0.95, 0.99):
        closed = volume * 100 / (permeability * area * pressure) * (math.atanh(share) - share)
        assert reloft_seconds(volume, area, permeability, pressure, 2.0, share) == pytest.approx(
            closed, rel=1e-5
        )


def test_a_film_quilt_with_full_uncoated_ends_lofts_to_the_eye_in_minutes():
    """Within 5 minutes to the eye (taken as 95 %): common practice, no source. Two ends of 0.075 m2."""
    assert 60 < reloft_seconds(0.13, 2 * 0.075, 0.040, 14.5, 2.0) < 300


def test_feet_carry_the_width_that_they_hold():
    # 115 mm chambers at 1 kPa: 115 N on each metre of foot.
    assert baffle_foot_load(1000.0, 0.115) == pytest.approx(115.0)
    assert squeeze_limit_pa(115.0, 0.115) == pytest.approx(1000.0)


def test_no_vent_is_refused():
    with pytest.raises(ValueError, match="vent_area_m2 is 0 m2; it must be above zero"):
        squeeze_out_seconds(0.08, 0.0, 0.005, 1000.0)
