"""How far shells bulge and how the fill settles, against exact arcs and worked numbers."""

import numpy as np
import pytest

from engine.formulas import chamber, relief


@pytest.mark.parametrize(
    "excess, area_close, peak_high",
    [
        (0.01, 0.002, 0.003),
        (0.05, 0.002, 0.015),
        (0.10, 0.002, 0.029),
        (0.20, 0.006, 0.056),
        (0.30, 0.012, 0.08),
    ],
)
def test_a_channel_bulges_as_the_circular_arc_of_its_cut(excess, area_close, peak_high):
    """Parabola of unit span (integral 1/12, peak 1/8) against the arc; bounds of the docstring."""
    amplitude = relief.largest_amplitude(excess, 0.0, 1 / 12, 1.0, 1.0)
    angle = chamber.half_angle_of_excess(excess)
    assert amplitude / 12 == pytest.approx(chamber.segment_area(1 + excess, angle), rel=area_close)
    high = amplitude / 8 / chamber.arc_height(1 + excess, angle, 0.0) - 1
    assert 0 < high <= peak_high + 0.0005


def test_small_slopes_alone_would_miss_the_arc():
    """Without the finite-slope term the area at 20 % excess is 8.4 % short (exact arc)."""
    arc = chamber.segment_area(1.2, chamber.half_angle_of_excess(0.2))
    assert np.sqrt(2 * 0.2 * 12) / 12 == pytest.approx(0.916 * arc, rel=2e-3)


@pytest.mark.parametrize("share", [0.5, 1.0])
def test_what_the_largest_amplitude_needs_is_what_the_cut_gives(share):
    excess = np.array([0.08, 0.12, 0.3])
    amplitude = relief.largest_amplitude(excess, 0.25, 0.004, 2.0, share)
    assert relief.excess_needed(0.25, 0.004, amplitude, 2.0, share) == pytest.approx(excess)


def test_two_free_faces_bulge_twice_as_far_as_one():
    one = relief.largest_amplitude(0.05, 0.0, 0.004, 2.0, 1.0)
    assert relief.largest_amplitude(0.05, 0.0, 0.004, 2.0, 0.5) == pytest.approx(2 * one)


def test_a_cut_too_small_for_the_base_leaves_no_bulge():
    assert relief.largest_amplitude(0.01, 0.25, 0.004, 2.0, 1.0) == 0


def test_the_base_of_49_baffles_costs_cloth_before_any_bulge():
    """Plane triangles over the graph of the base would cost the same; 1.6 % a face of two, 6.2 % of one."""
    energy = 19.29 * 0.0825**2
    assert relief.excess_needed(energy, 0.002, 0.0, 1.0, 0.5) == pytest.approx(0.0162, abs=2e-4)
    assert relief.excess_needed(energy, 0.002, 0.0, 1.0, 1.0) == pytest.approx(0.0622, abs=2e-4)


def test_the_fill_settles_in_three_states_without_a_jump():
    fill = np.array([0.0, 0.05, 0.099999, 0.1, 0.11, 0.129999, 0.130001, 0.2])
    base, bulge, largest = 0.1, 0.003, 10.0
    amplitude = relief.settled_amplitude(fill, base, bulge, largest)
    held = relief.standing_share(fill, base) * base + amplitude * bulge
    assert held == pytest.approx(relief.held_volume(fill, base, bulge, largest))
    assert list(relief.fill_state(fill, base, bulge, largest)) == [0, 0, 0, 1, 1, 1, 2, 2]
    assert relief.FILL_STATES[2] == "tight"
    assert held[-1] == pytest.approx(0.13)


def test_sewn_through_has_no_base_and_all_its_volume_from_the_bulge():
    assert relief.standing_share(0.02, 0.0) == 1
    assert relief.settled_amplitude(0.02, 0.0, 0.004, 10.0) == pytest.approx(5.0)


def test_more_cut_than_use_is_surplus_and_a_flat_cut_is_taut():
    """990 mm wide, 82.5 mm high, cut for 2 rad: 16.7 % on the bench."""
    assert relief.cut_excess(2.0, 0.0825, 0.0, 0.06, 0.99) == pytest.approx(1 / 6)
    assert relief.cut_excess(0.0, 0.0825, 2.0, 0.06, 0.99) < 0


def test_a_wrapped_layer_holds_what_an_annulus_holds():
    inner, thick, wrap = 0.495, 0.08, 2.0
    annulus = wrap / 2 * ((inner + thick) ** 2 - inner**2)
    factor = relief.wrapped_volume_factor(thick, wrap, wrap * inner)
    assert wrap * inner * thick * factor == pytest.approx(annulus)


def test_shells_under_pull_curve_as_young_and_laplace_say():
    """15 Pa against 10 N/m: each face a = p / T; a channel's face rises p s2 / (8 T)."""
    amplitude = relief.tension_amplitude(15.0, 10.0)
    assert amplitude * 0.1**2 / 8 / 2 == pytest.approx(15.0 * 0.1**2 / (8 * 10.0))


def test_moments_follow_from_samples():
    rng = np.random.default_rng(0)
    fields, weights = rng.random((4, 500)), np.array([[0.08, 0.05], [0.08, 0.05], [0.03, 0.02], [4.0, 0.0]])
    means, covariances = fields.mean(axis=1)[None], np.cov(fields, bias=True)[None]
    thickness = weights.T @ fields
    assert relief.thickness_means(weights, means)[0] == pytest.approx(thickness.mean(axis=1))
    assert relief.thickness_variances(weights, covariances)[0] == pytest.approx(thickness.var(axis=1))
    assert relief.thickness_variances(weights[:, 0], covariances)[0] == pytest.approx(thickness[0].var())


def test_spread_lifts_the_mean_of_a_convex_function():
    values = np.array([1.0, 1.1, 1.2])
    by_bins = relief.mean_with_spread(
        np.array([1 / 1.1]), 2 / np.array([1.1**3]), np.var(values, keepdims=True), [1]
    )
    assert by_bins == pytest.approx(np.mean(1 / values), rel=2e-4)
    assert by_bins > 1 / 1.1


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: relief.largest_amplitude(-0.1, 0.0, 1.0, 1.0, 1.0), "excess is -0.1"),
        (lambda: relief.largest_amplitude(0.1, 0.0, 0.0, 1.0, 1.0), "bulge_m4 is 0"),
        (lambda: relief.largest_amplitude(0.1, 0.0, 1.0, 1.0, 0.0), "face_share is 0"),
        (lambda: relief.excess_needed(0.1, 0.0, 1.0, 1.0, 1.5), "face_share is 1.5"),
        (lambda: relief.standing_share(-1.0, 1.0), "fill_m3 is -1"),
        (lambda: relief.tension_amplitude(15.0, 0.0), "tension_n_m is 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    with pytest.raises(ValueError, match=words):
        call()
