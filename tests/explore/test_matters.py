"""Are the shares of variance those of the closed form, and those of all combinations taken together?

Ishigami and Homma (1990): sin x1 + a sin2 x2 + b x3^4 sin x1, each x even from -pi to pi; its shares follow
from its integrals. For a design, the same shares by definition, from every combination.
"""

import numpy as np
import pytest

from engine.explore.choices import axes_of, changed
from engine.explore.matters import (
    one_at_a_time,
    shares_of,
    shares_of_sweep,
    shares_of_table,
    variance_shares,
)
from engine.explore.rows import KEYS
from engine.explore.sweep import sweep
from engine.night import Night
from engine.quantities import resolve
from engine.refusals import Refusal
from engine.score import score
from tests.engine.made import CATALOGUE, PUPIL
from tests.explore.recipes import among, any_of, span

A, B = 7.0, 0.1


def ishigami(points):
    x1, x2, x3 = (points - 0.5) * 2 * np.pi
    return (np.sin(x1) + A * np.sin(x2) ** 2 + B * x3**4 * np.sin(x1))[np.newaxis]


def closed_form():
    whole = A**2 / 8 + B * np.pi**4 / 5 + B**2 * np.pi**8 / 18 + 1 / 2
    one, two = (1 + B * np.pi**4 / 5) ** 2 / 2, A**2 / 8
    both = B**2 * np.pi**8 * (1 / 18 - 1 / 50)
    return np.array([one, two, 0]) / whole, np.array([one + both, two, both]) / whole


def test_the_shares_of_ishigamis_function_are_those_of_its_integrals():
    found = shares_of(ishigami, 3, power=13)
    first, total = closed_form()
    # Saltelli's estimates stray by about the root of 1 / 8192, 0.011; by less with Sobol's points.
    np.testing.assert_allclose(found.first[0], first, atol=0.02)
    np.testing.assert_allclose(found.total[0], total, atol=0.02)


def test_a_table_of_all_combinations_has_the_shares_of_the_integrals():
    middles = (np.arange(64) + 0.5) / 64
    points = np.stack(np.meshgrid(middles, middles, middles, indexing="ij")).reshape(3, -1)
    found = shares_of_table(ishigami(points)[0].reshape(64, 64, 64))
    first, total = closed_form()
    # The midpoint rule over 64 steps of x^8 strays by (8 / 64)^2 / 24 or less.
    np.testing.assert_allclose(found.first, first, atol=1e-3)
    np.testing.assert_allclose(found.total, total, atol=1e-3)


def test_a_table_that_never_varies_has_no_shares():
    found = shares_of_table(np.full((3, 4), 8.5))
    assert np.all(found.first == 0) and np.all(found.total == 0)


def test_only_a_whole_sweep_has_exact_shares():
    assert shares_of_sweep(sweep(PUPIL, Night(), CATALOGUE, RECIPE)) is not None
    taper = changed(PUPIL, [("outline.shape", "taper")])
    some = among(any_of("outline.taper_from_mm", 800, 1500), any_of("tabs", 2, 4))
    assert shares_of_sweep(sweep(taper, Night(), CATALOGUE, some)) is None


def test_a_function_that_never_varies_has_no_shares():
    found = shares_of(lambda points: np.ones((1, points.shape[1])), 2, power=4)
    assert np.all(found.first == 0) and np.all(found.total == 0)


RECIPE = among(
    any_of("shells.outer", "nylon-10d-26", "film-17", "ripstop-30"),
    span("baffles.height_mm", 30, 80, 10),
    span("fill.overstuff_percent", 0, 60, 15),
)


@pytest.mark.parametrize("key", KEYS)
def test_the_shares_of_a_design_are_those_of_all_its_combinations(key):
    axes = axes_of(RECIPE, CATALOGUE)
    result = sweep(PUPIL, Night(), CATALOGUE, RECIPE)
    exact = shares_of_sweep(result)[key]
    found = variance_shares(PUPIL, Night(), CATALOGUE, axes, power=11)[key]
    # 2048 rows: about 0.022 astray.
    np.testing.assert_allclose(found.first, exact.first, atol=0.04)
    np.testing.assert_allclose(found.total, exact.total, atol=0.04)


def test_one_at_a_time_is_what_single_quilts_score():
    for reach in one_at_a_time(PUPIL, Night(), CATALOGUE, axes_of(RECIPE, CATALOGUE)):
        values = next(axis.values for axis in axes_of(RECIPE, CATALOGUE) if axis.path == reach.path)
        singles = [score(resolve(changed(PUPIL, [(reach.path, v)]), Night(), CATALOGUE)) for v in values]
        for key in KEYS:
            scores = [float(getattr(single, key)) for single in singles]
            assert reach.least[key] == pytest.approx(min(scores), rel=1e-10, abs=1e-10)
            assert reach.most[key] == pytest.approx(max(scores), rel=1e-10, abs=1e-10)
            assert scores[values.index(reach.at_least[key])] == pytest.approx(min(scores), rel=1e-9, abs=1e-9)


def test_what_a_design_cannot_take_by_itself_is_left_out():
    taper = changed(PUPIL, [("outline.shape", "taper")])
    axes = axes_of(
        among(any_of("outline.taper_from_mm", 800, 1500), any_of("outline.foot_width_mm", 1900)), CATALOGUE
    )
    (only,) = one_at_a_time(taper, Night(), CATALOGUE, axes)
    assert only.path == "outline.taper_from_mm" and only.at_most["weight_kg"] == 800


def test_choices_that_forbid_each_other_have_no_shares():
    taper = changed(PUPIL, [("outline.shape", "taper")])
    axes = axes_of(among(any_of("outline.taper_from_mm", 800, 1500), any_of("tabs", 2, 4)), CATALOGUE)
    with pytest.raises(Refusal, match=r"no shares can be told.*taper_from_mm is 1500"):
        variance_shares(taper, Night(), CATALOGUE, axes, power=4)
