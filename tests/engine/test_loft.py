"""Does the filled quilt stand as geometry says it must?"""

from dataclasses import replace

import numpy as np
import pytest

from engine.fields.section import Chamber, Layers, chamber_loss, half_angle_of_rise
from engine.formulas import heat
from engine.layout import plan_baffles
from engine.night import Night
from engine.quantities import FABRIC_R, resolve
from engine.quantities.on_sleeper import Window, plan_of
from engine.score import quilt_conductance, score
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SEWN_THROUGH, changed, scored, with_grams


@pytest.mark.parametrize("wrap_rad", [0.5, 1.0, 2.0])
def test_a_differential_cut_takes_more_fill(wrap_rad):
    """By hand: volume grows with the mean of both shells."""
    flat = scored(changed(FULL_SEWN, "cut.kind", "flat")).loft
    cut = scored(changed(FULL_SEWN, "cut.wrap_across_rad", wrap_rad)).loft
    mean_of_shells = 1 + wrap_rad * 0.050 / 1.120 / 2
    assert cut.down_kg / flat.down_kg == pytest.approx(mean_of_shells, rel=1e-9)


@pytest.mark.parametrize("design", ALL, ids=lambda d: d.name)
def test_the_places_hold_the_fill(design):
    """Taken over the whole plan they average to the mean loft; over the sleeper's part shares sum to 1."""
    q = resolve(design, Night(), CATALOGUE)
    assert np.sum(q.plan.on_body) + np.sum(q.plan.at_edge) == pytest.approx(1.0)
    whole = score(replace(q, plan=plan_of(design, Window(5.0, 6.0, 0.0)))).loft
    share = whole.on_body + whole.at_edge
    if whole.down_kg > 0:
        # Sewn channels: the narrow ones at the sides and the closed ends are not quite arcs of their own.
        allowed = 0.02 if design is SEWN_THROUGH else 1e-7
        assert np.sum(whole.thickness_m * share) == pytest.approx(whole.mean_m, rel=allowed)


def test_loft_times_area_between_the_shells_is_the_volume_of_the_fill():
    loft = scored(FULL_SEWN).loft
    between = loft.finished_area_m2 * (1 + loft.outer_stretch_across * loft.outer_stretch_along) / 2
    assert loft.mean_m * between == pytest.approx(loft.down_kg / loft.density_kg_m3, rel=1e-9)


def test_the_fill_settles_in_three_states():
    """Slack below what the baffles hold, then bulging at its own loft, then denser: no jump in between."""
    lofts = [scored(with_grams(FULL_SEWN, grams)).loft for grams in range(60, 500, 4)]
    standing = np.array([float(loft.heights_m[0]) for loft in lofts]) / 0.050
    bulge = np.array([float(loft.bulge_m) for loft in lofts])
    tight = np.array([float(loft.tightness) for loft in lofts])
    assert standing[0] < 0.5 and bulge[0] == 0 and tight[0] == pytest.approx(1.0)
    assert standing[-1] == pytest.approx(1.0) and tight[-1] > 1.3
    middle = (standing > 0.999) & (tight < 1.001)
    assert np.any(middle) and np.all(np.diff(bulge[middle]) > 0)
    mean = np.array([float(loft.mean_m) for loft in lofts])
    assert np.max(np.diff(mean)) < 0.0015 and np.min(np.diff(mean)) > -1e-9


def test_sewn_channels_are_exact_arcs():
    """Cut 100 mm holding 2000 mm2 has a chord of 93.03 and a peak of 31.53 mm (closed form of the arc)."""
    design = changed(changed(SEWN_THROUGH, "baffles.spacing_mm", 100.0), "outline.width_mm", 1200.0)
    design = changed(changed(design, "baffles.end_chamber_percent", 100.0), "cut.kind", "flat")
    q = resolve(with_grams(design, 100), Night(), CATALOGUE)
    endless = replace(q, plan=replace(q.plan, bulge_m2=0.1**2 / 12), pucker=0.0, draw_in_allowed=0.2)
    per_channel = 2000e-6 / 0.1 * 1.2 * 1.9
    loft = score(replace(endless, fill_given_kg=per_channel / q.fill_power_m3_kg)).loft
    assert 1000 * loft.chamber_chord_m == pytest.approx(93.03, abs=0.01)
    assert 1000 * loft.bulge_m == pytest.approx(31.53, abs=0.01)


def test_on_the_bench_a_differential_cut_bulges_further_than_in_use():
    loft = scored(with_grams(FULL_SEWN, 2000)).loft
    assert loft.bench_bulge_m > 1.3 * loft.bulge_m


def test_the_outer_face_takes_more_of_the_bulge_where_it_is_cut_larger():
    flat = scored(changed(with_grams(FULL_SEWN, 400), "cut.kind", "flat")).loft
    cut = scored(changed(with_grams(FULL_SEWN, 400), "cut.wrap_across_rad", 3.0)).loft
    assert flat.outer_share == pytest.approx(0.5)
    assert cut.outer_share > 0.55


def test_a_cut_that_lets_the_baffles_not_stand_draws_in_further():
    """Short baffles, far apart and high, cost more cloth than makers let a quilt draw in."""
    design = changed(changed(FILM, "baffles.height_mm", 160.0), "cut.kind", "flat")
    loft = scored(design).loft
    assert loft.draw_in_for_baffles > 0.02 and loft.bulge_m == 0


def test_the_result_moves_smoothly_as_a_baffle_is_lengthened():
    """No snapping to the grid: 1 mm at a time, each step of the comfort like the one before.

    From 155 to 163 mm the same number of baffles fits; one more or less is a step of its own.
    """
    designs = [changed(FILM, "baffles.piece_length_mm", 155.0 + step) for step in range(9)]
    assert len({len(plan_baffles(design).lines) for design in designs}) == 1
    comfort = np.array([float(scored(design).comfort_c) for design in designs])
    assert np.max(np.abs(np.diff(comfort, 2))) < 0.02


@pytest.mark.parametrize("design", [FULL_SEWN, SEWN_THROUGH], ids=lambda d: d.name)
@pytest.mark.parametrize("overstuff", [-40.0, 0.0, 60.0])
def test_the_loss_is_that_of_the_solved_section(design, overstuff):
    """Straight chambers, flat: bins with slanted faces against two-dimensional conduction. Up to 5 % too much
    is what the correction for slanted faces claims; half a percent is left to bins and grid below.
    """
    q = resolve(changed(design, "fill.overstuff_percent", overstuff), Night(air_c=-10), CATALOGUE)
    q = replace(q, curvature_radius_m=1e9)
    loft = score(q).loft
    layers = Layers(
        float(heat.fill_conductivity((33 - 10) / 2, loft.density_kg_m3, q.extinction_m2_kg)),
        q.clothing_r_m2k_w + FABRIC_R,
        float(heat.outside_film_resistance(q.wind_m_s, -10.0)) + FABRIC_R,
    )
    chord = float(loft.chamber_chord_m)
    angle = half_angle_of_rise(chord, float(loft.bulge_m) / 2)
    section = chamber_loss(Chamber(chord, float(loft.heights_m[0]), angle, angle), layers, 33.0, -10.0)
    miss = float(quilt_conductance(q, loft, -10.0)) / section.u_w_m2k - 1
    assert -0.005 <= miss <= 0.05
