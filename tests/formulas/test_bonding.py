"""Peel, pressure and pull against the standards' definition of peel strength, unit tables and statics."""

import csv
from math import atan, inf, sin
from pathlib import Path

import numpy as np
import pytest

import engine.checks
from engine.catalogue.load import load_catalogue
from engine.formulas import bonding, packing
from engine.formulas.venting import baffle_foot_load
from engine.quantities import fill_free_volume

UNITS = Path(engine.checks.__file__).parent / "published" / "unit_conversions.csv"


def factor(given: str) -> float:
    """To N/m, from the printed table (exact, NIST SP 811)."""
    rows = csv.DictReader(line for line in UNITS.read_text("utf-8").splitlines() if line[0] != "#")
    return next(float(row["factor"]) for row in rows if (row["from"], row["to"]) == (given, "N/m"))


def test_a_hung_weight_over_the_width_is_the_peel_strength_in_every_unit_of_the_trade():
    # ASTM D1876 and D3330 state force over width; the table has gram-force, pound-force and newtons.
    assert bonding.peel_from_coupon(0.025, 1.0) == pytest.approx(1000 * factor("gf/25 mm"), rel=1e-9)
    assert bonding.peel_from_coupon(0.0254, 0.45359237) == pytest.approx(factor("lbf/in"), rel=1e-9)
    assert bonding.peel_from_coupon(0.025, 1 / 9.80665) == pytest.approx(factor("N/25 mm"), rel=1e-9)


def test_a_wider_strip_holds_more_weight_at_the_same_strength():
    assert bonding.peel_from_coupon(0.050, 2.0) == pytest.approx(bonding.peel_from_coupon(0.025, 1.0))


def test_the_weight_to_have_on_the_table_is_the_reading_the_other_way_round():
    widths, masses = np.array([0.010, 0.025, 0.050]), np.array([0.1, 0.7, 3.0])
    peel = bonding.peel_from_coupon(widths, masses)
    np.testing.assert_allclose(bonding.coupon_mass(peel, widths), masses, rtol=1e-12)


def test_short_baffles_and_full_ones_carry_what_was_worked_apart():
    """49 baffles of 165 mm in 1.98 x 0.99 m: 242 N on each metre per kPa; full ones at 115 mm: 115."""
    short = bonding.short_baffle_width(1.98 * 0.99, 49 * 0.165)
    assert baffle_foot_load(1000.0, float(short)) == pytest.approx(242, abs=0.5)
    assert baffle_foot_load(1000.0, 0.115) == pytest.approx(115)


@pytest.mark.parametrize("id", ["down-650", "down-800", "down-950"])
def test_a_fill_presses_as_the_packing_law_says_the_other_way_round(id):
    fill = load_catalogue().fill(id)
    free = 1 / fill_free_volume(fill)
    exponent = packing.spring_exponent(free, fill.pivot_density_kg_m3)
    assert bonding.lofting_pressure(1.0, exponent) == pytest.approx(packing.TEST_PRESSURE_PA)
    pressures = np.array([20.0, 1000.0, 35_000.0])
    tightness = packing.packed_density(free, fill.pivot_density_kg_m3, pressures) / free
    np.testing.assert_allclose(bonding.lofting_pressure(tightness, exponent), pressures, rtol=1e-9)


def test_an_edge_opens_with_half_of_the_chamber_beside_it():
    # A half circle hangs straight down on both sides: each holds half of pressure times chord.
    pull = bonding.edge_pull(1000.0, 0.12)
    assert pull == pytest.approx(60)
    assert bonding.shell_tension(1000.0, 0.12, 0.06) == pytest.approx(pull)


@pytest.mark.parametrize("rise_m", [0.002, 0.01, 0.03, 0.06])
def test_the_pull_along_an_arc_holds_up_what_presses_on_its_chord(rise_m):
    chord_m, pressure_pa = 0.12, 5000.0
    half_angle = 2 * atan(2 * rise_m / chord_m)  # tangent at the end of the arc, from chord and rise
    tension = bonding.shell_tension(pressure_pa, chord_m, rise_m)
    assert 2 * tension * sin(half_angle) == pytest.approx(pressure_pa * chord_m, rel=1e-12)


def test_a_margin_is_capacity_over_load_and_infinite_where_nothing_pulls():
    assert bonding.margin(330.0, 110.0) == pytest.approx(3)
    assert bonding.margin(0.0, 5.0) == 0
    assert bonding.margin(330.0, 0.0) == inf
    np.testing.assert_allclose(bonding.margin(10.0, np.array([0.0, 5.0])), [inf, 2.0])


@pytest.mark.parametrize(
    "call, named",
    [
        (lambda: bonding.peel_from_coupon(0.0, 1.0), "width_m is 0 m"),
        (lambda: bonding.peel_from_coupon(0.025, -1.0), "mass_kg is -1 kg"),
        (lambda: bonding.coupon_mass(-1.0, 0.025), "peel_n_m is -1 N/m"),
        (lambda: bonding.lofting_pressure(-0.1, 2.0), "tightness is -0.1"),
        (lambda: bonding.short_baffle_width(2.0, 0.0), "baffles_m is 0 m"),
        (lambda: bonding.edge_pull(-1.0, 0.1), "pressure_pa is -1 Pa"),
        (lambda: bonding.edge_pull(1.0, -0.1), "chamber_m is -0.1 m"),
        (lambda: bonding.shell_tension(1.0, 0.1, 0.0), "rise_m is 0 m"),
        (lambda: bonding.margin(-1.0, 1.0), "capacity is -1"),
        (lambda: bonding.margin(1.0, -1.0), "load is -1"),
    ],
)
def test_impossible_input_is_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
