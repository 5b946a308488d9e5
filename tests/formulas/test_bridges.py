"""The slope correction against the wedge it is made of and against sections solved in two dimensions."""

import numpy as np
import pytest

from engine.fields.conduction import Fixed, conduct
from engine.fields.section import Chamber, Layers, chamber_loss, columns_loss, faces, half_angle_of_rise
from engine.formulas.bridges import slanted_path_resistance, wedge_share

STATIONS = 4000


def sewn(ratio, one_sided):
    if one_sided:
        return Chamber(0.1, 0.0, 0.0, half_angle_of_rise(0.1, 0.1 * ratio))
    angle = half_angle_of_rise(0.1, 0.05 * ratio)
    return Chamber(0.1, 0.0, angle, angle)


def arc_slope(angle, place):
    """Slope of an arc at `place`, 0 in the middle of its chord and 1 at its end (definition)."""
    sine = np.sin(angle) * place
    return sine / np.sqrt(1 - sine**2)


def corrected_loss(chamber, layers):
    step = (np.arange(STATIONS) + 0.5) / STATIONS
    inner, outer = faces(chamber, chamber.chord_m / 2 * step)
    resistance = slanted_path_resistance(
        layers.inner_r_m2k_w,
        outer - inner,
        layers.fill_w_mk,
        layers.outer_r_m2k_w,
        arc_slope(chamber.inner_half_angle_rad, 1 - step),
        arc_slope(chamber.outer_half_angle_rad, 1 - step),
    )
    return np.mean(1 / resistance)


FILMS = [Layers(k, inner, 0.1) for k in (0.036, 0.045, 0.055) for inner in (0.03, 0.1, 0.2)]


@pytest.mark.parametrize("layers", FILMS)
@pytest.mark.parametrize("ratio", [0.167, 0.25, 0.33, 0.4, 0.5])
def test_the_correction_is_a_little_high_where_both_faces_bulge(ratio, layers):
    """As the docstring claims: 0.3 to 5 % too high."""
    chamber = sewn(ratio, one_sided=False)
    error = corrected_loss(chamber, layers) / chamber_loss(chamber, layers).u_w_m2k - 1
    assert 0.002 < error < 0.05


@pytest.mark.parametrize("layers", FILMS)
@pytest.mark.parametrize("ratio", [0.167, 0.25, 0.33])
def test_the_correction_is_within_4_percent_where_one_face_bulges(ratio, layers):
    chamber = sewn(ratio, one_sided=True)
    assert corrected_loss(chamber, layers) == pytest.approx(chamber_loss(chamber, layers).u_w_m2k, rel=0.04)


@pytest.mark.parametrize("layers", FILMS)
@pytest.mark.parametrize("one_sided", [False, True])
def test_the_correction_is_nearer_than_straight_columns(one_sided, layers):
    chamber = sewn(0.33, one_sided)
    true = chamber_loss(chamber, layers).u_w_m2k
    assert abs(corrected_loss(chamber, layers) - true) < abs(columns_loss(chamber, layers) - true)


def test_a_wedge_conducts_over_its_angle():
    """Heat between two inclined planes, on a mesh: k dr / r / angle; per plan width it is the share."""
    low, high = np.arctan(0.3), np.arctan(0.9)
    radius, angle = np.meshgrid(np.linspace(1, 1.2, 9), np.linspace(-low, high, 41), indexing="ij")
    field = conduct(
        radius * np.cos(angle), radius * np.sin(angle), 0.04, (Fixed("lower", 1.0), Fixed("upper", 0.0))
    )
    thickness_over_x = 0.3 + 0.9
    expected = 0.04 * np.log(1.2) / (thickness_over_x * wedge_share(0.3, 0.9))
    assert field.flow_w_m[0] == pytest.approx(expected, rel=1e-3)


def test_level_faces_need_no_correction():
    assert wedge_share(0.0, 0.0) == 1.0
    assert slanted_path_resistance(0.1, 0.05, 0.05, 0.2, 0.0, 0.0) == pytest.approx(1.3)


def test_the_correction_fades_in_without_a_jump():
    slopes = np.logspace(-9, -2, 200)
    np.testing.assert_allclose(wedge_share(slopes, slopes), 1 - slopes**2 / 3, atol=1e-8)


def test_a_map_gives_what_single_places_give():
    slopes, thickness = np.linspace(0, 2, 17), np.linspace(0.001, 0.08, 17)
    singles = [
        slanted_path_resistance(0.1, float(t), 0.04, 0.1, 0.0, float(m))
        for t, m in zip(thickness, slopes, strict=True)
    ]
    together = slanted_path_resistance(0.1, thickness, 0.04, 0.1, 0.0, slopes)
    np.testing.assert_allclose(together, singles, rtol=1e-14)


@pytest.mark.parametrize(
    "given, message",
    [
        ((0.1, 0.05, 0.04, 0.1, -0.1, 0.0), "inner_slope is -0.1"),
        ((0.1, 0.05, 0.0, 0.1, 0.1, 0.0), "conductivity_w_mk is 0"),
        ((0.1, -0.05, 0.04, 0.1, 0.1, 0.0), "thickness_m is -0.05"),
    ],
)
def test_what_cannot_be_is_refused_in_words(given, message):
    with pytest.raises(ValueError, match=message):
        slanted_path_resistance(*given)
