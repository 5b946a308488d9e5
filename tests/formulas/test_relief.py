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
    amplitude = np.sqrt(2 * 12 * relief.shared_relief(0.0, excess))
    angle = chamber.half_angle_of_excess(excess)
    assert amplitude / 12 == pytest.approx(chamber.segment_area(1 + excess, angle), rel=area_close)
    high = amplitude / 8 / chamber.arc_height(1 + excess, angle, 0.0) - 1
    assert 0 < high <= peak_high + 0.0005


def test_small_slopes_alone_would_miss_the_arc():
    """Without the finite-slope term the area at 20 % excess is 8.4 % short (exact arc)."""
    arc = chamber.segment_area(1.2, chamber.half_angle_of_excess(0.2))
    assert np.sqrt(2 * 0.2 * 12) / 12 == pytest.approx(0.916 * arc, rel=2e-3)


@pytest.mark.parametrize("surplus", [0.0, 0.03, 0.1])
def test_what_two_faces_draw_in_for_a_relief_is_what_gives_it(surplus):
    excess = np.array([0.0, 0.004, 0.02, 0.05])
    wanted = relief.shared_relief(excess, excess + surplus)
    drawn = 0.0 * wanted
    for _ in range(12):
        drawn = relief.excess_for_relief(wanted, surplus, drawn)
    assert drawn == pytest.approx(excess, abs=1e-9)


def test_a_relief_that_the_surplus_covers_draws_nothing_in():
    assert relief.excess_for_relief(0.02, 0.05, 0.0) == 0.0


def test_two_faces_cut_alike_bulge_twice_as_far_as_one():
    one = np.sqrt(relief.shared_relief(0.0, 0.05))
    assert np.sqrt(relief.shared_relief(0.05, 0.05)) == pytest.approx(2 * one)
    assert relief.outer_share(0.05, 0.05) == 0.5 and relief.outer_share(0.0, 0.05) == 1.0
    assert relief.outer_share(0.0, 0.0) == 0.5


def test_the_base_of_49_baffles_costs_cloth_before_any_bulge():
    """Plane triangles over the graph of the base would cost the same: 1.6 % a face of two, 6.2 % of one."""
    taken = 19.29 * 0.0825**2 / 2
    drawn = 0.0
    for _ in range(12):
        drawn = relief.excess_for_relief(taken, 0.0, drawn)
    assert drawn == pytest.approx(0.0162, abs=2e-4)
    assert relief.shared_relief(0.0, 0.0622) == pytest.approx(taken, rel=5e-3)


def test_more_cut_than_use_is_surplus_and_a_flat_cut_is_taut():
    """990 mm wide, 82.5 mm high, cut for 2 rad: 16.7 % on the bench."""
    assert relief.cut_excess(2.0, 0.0825, 0.0, 0.06, 0.99) == pytest.approx(1 / 6)
    assert relief.cut_excess(0.0, 0.0825, 2.0, 0.06, 0.99) < 0


def test_moments_follow_from_samples():
    rng = np.random.default_rng(0)
    fields, weights = rng.random((4, 500)), np.array([[0.08, 0.05], [0.08, 0.05], [0.03, 0.02], [4.0, 0.0]])
    means, covariances = fields.mean(axis=1)[None], np.cov(fields, bias=True)[None]
    thickness = weights.T @ fields
    assert relief.thickness_means(weights, means)[0] == pytest.approx(thickness.mean(axis=1))
    assert relief.thickness_products(weights, covariances)[0] == pytest.approx(thickness.var(axis=1))
    assert relief.thickness_products(weights[:, 0], covariances)[0] == pytest.approx(thickness[0].var())


def test_two_places_stand_for_a_spread():
    values = np.array([1.0, 1.1, 1.2])
    places = relief.two_places(np.array([1.1]), np.var(values, keepdims=True))
    assert np.mean(1 / places) == pytest.approx(np.mean(1 / values), rel=2e-4)
    assert np.mean(places**2) == pytest.approx(np.mean(values**2))
    assert np.all(relief.two_places(np.array([0.1]), np.array([1.0])) >= 0)


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: relief.shared_relief(-0.1, 0.0), "excess is -0.1"),
        (lambda: relief.excess_for_relief(-0.1, 0.0, 0.0), "relief is -0.1"),
        (lambda: relief.outer_share(0.1, -0.2), "excess is -0.2"),
        (lambda: relief.cut_excess(2.0, 0.05, 2.0, 0.05, 0.0), "width_m is 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    with pytest.raises(ValueError, match=words):
        call()
