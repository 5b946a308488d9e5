"""Are very steep chambers rated by their solved section, and all others by the paths that suffice?"""

from dataclasses import replace

import numpy as np
import pytest

from engine.evaluate import evaluate
from engine.fields.section import Chamber, Layers, chamber_loss, faces, half_angle_of_rise
from engine.formulas import heat
from engine.loft import settle
from engine.night import Night
from engine.quantities import FABRIC_R, resolve
from engine.score import quilt_conductance
from engine.steep import section_share, with_section
from tests.engine.made import ALL, CATALOGUE, FULL_SEWN, TOP, changed


def stuffed():
    """140 mm baffles 200 mm apart under a very loose outer shell, stuffed: the outer face bulges alone."""
    design = changed(changed(TOP, "baffles.height_mm", 140.0), "baffles.spacing_mm", 200.0)
    return changed(changed(design, "cut.wrap_across_rad", 3.2), "fill.overstuff_percent", 150.0)


def loft_of(outer_share, ratio):
    """A settled quilt with another bulge: `section_share` reads two numbers of it."""
    loft = settle(resolve(FULL_SEWN, Night(), CATALOGUE))
    return replace(loft, bulge_m=ratio * loft.chamber_chord_m, outer_share=outer_share)


@pytest.mark.parametrize("design", ALL, ids=lambda d: d.name)
def test_usual_quilts_need_no_section(design):
    q = resolve(design, Night(), CATALOGUE)
    assert with_section(q, settle(q)) is q
    assert evaluate(design, Night(), CATALOGUE).quantities.section_factor == 1.0


def test_the_section_comes_in_without_a_jump():
    shares = np.array([section_share(loft_of(1.0, ratio)) for ratio in np.linspace(0.3, 0.45, 151)])
    assert shares[0] == 0 and shares[-1] == 1
    assert np.all(np.diff(shares) >= 0) and np.max(np.diff(shares)) < 0.02
    assert section_share(loft_of(0.5, 0.49)) == 0 and section_share(loft_of(0.5, 0.6)) == 1


@pytest.mark.parametrize("outer_share, ratio", [(0.95, 0.42), (0.9, 0.45), (0.5, 0.7)])
def test_beyond_the_corrections_range_the_loss_is_that_of_the_section(outer_share, ratio):
    """One chamber of arcs, flat, all of it on the sleeper, against two-dimensional conduction. 2 % are left
    to the slope's being split between the faces in one proportion everywhere."""
    q = replace(resolve(FULL_SEWN, Night(air_c=-10), CATALOGUE), curvature_radius_m=1e9)
    x = (np.arange(64) + 0.5) / 64
    loft = settle(q)
    chord = float(loft.chamber_chord_m)
    bulge = ratio * chord
    angles = [
        half_angle_of_rise(chord, min(share * bulge, chord / 2)) for share in (1 - outer_share, outer_share)
    ]
    chamber = Chamber(chord, 0.05, *angles)
    inner_y, outer_y = faces(chamber, x * chord)
    steep = replace(
        loft,
        bulge_m=bulge,
        outer_share=outer_share,
        thickness_m=outer_y - inner_y,
        slope=np.abs(np.gradient(outer_y - inner_y, x * chord)),
        on_body=np.full(64, 1 / 64),
        at_edge=np.zeros(64),
    )
    layers = Layers(
        float(heat.fill_conductivity((33 - 10) / 2, loft.density_kg_m3, q.extinction_m2_kg)),
        q.clothing_r_m2k_w + FABRIC_R,
        float(heat.outside_film_resistance(q.wind_m_s, -10.0)) + FABRIC_R,
    )
    section = chamber_loss(chamber, layers, 33.0, -10.0)
    plain = quilt_conductance(q, steep, -10.0) / section.u_w_m2k - 1
    solved = quilt_conductance(with_section(q, steep), steep, -10.0) / section.u_w_m2k - 1
    assert abs(solved) < 0.02
    assert abs(plain) > abs(solved), "the correction alone is further off"


def test_a_steep_quilt_is_evaluated_with_its_section():
    evaluation = evaluate(stuffed(), Night(), CATALOGUE)
    assert section_share(evaluation.score.loft) > 0
    factor = evaluation.quantities.section_factor
    assert factor != 1.0 and 0.8 < factor < 1.4, "what the correction may miss in either direction"
    assert np.all(np.isfinite(evaluation.draws.comfort_c))
