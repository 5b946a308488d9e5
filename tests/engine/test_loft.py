"""Does the filled quilt stand as geometry says it must?"""

import numpy as np
import pytest

from engine.loft import ACROSS_WEIGHT
from tests.engine.made import FULL_SEWN, changed, scored


@pytest.mark.parametrize("wrap_rad", [0.5, 1.0, 2.0])
def test_a_differential_cut_holds_more_fill_and_is_no_thicker(wrap_rad):
    """By hand: volume grows with the mean of both shells, thickness is volume over that mean."""
    flat = scored(changed(FULL_SEWN, "cut.kind", "flat")).loft
    cut = scored(changed(FULL_SEWN, "cut.wrap_across_rad", wrap_rad)).loft
    mean_of_shells = 1 + wrap_rad * 0.050 / 1.120 / 2
    assert cut.down_kg / flat.down_kg == pytest.approx(mean_of_shells, rel=1e-9)
    assert cut.mean_m == pytest.approx(flat.mean_m, rel=1e-6)


def test_places_across_a_chamber_average_to_the_mean_loft():
    loft = scored(FULL_SEWN).loft
    assert np.sum(loft.thickness_m * ACROSS_WEIGHT) == pytest.approx(loft.mean_m, rel=1e-12)


def test_loft_times_area_between_the_shells_is_the_volume_of_the_fill():
    loft = scored(FULL_SEWN).loft
    between = loft.finished_area_m2 * (1 + loft.outer_stretch_across * loft.outer_stretch_along) / 2
    assert loft.mean_m * between == pytest.approx(loft.down_kg / loft.density_kg_m3, rel=1e-9)
