"""What must hold of loft and warmth over the map, whatever the layout."""

from dataclasses import replace

import numpy as np
import pytest

from engine.fields.loft_map import loft_map
from engine.formulas import body, relief
from engine.formulas.bridges import slanted_path_resistance
from engine.night import Night
from engine.quantities import resolve
from engine.score import covered_share, half_share, quilt_conductance, score
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SEWN_THROUGH, TOP, changed, scored

OUTLINE = [0.0, 1.9], [1.12, 1.12]
DOWN = [design for design in ALL if design.fill.good.startswith("down")]


def loss_w_k(found, heights_m, amplitude_per_m):
    """Heat per kelvin through the whole plan at so high a base and so far a bulge, both faces alike."""
    bins = found.bins
    coefficients = np.array([*heights_m, amplitude_per_m])
    mean = relief.thickness_means(coefficients, bins.means)
    places = relief.two_places(mean, relief.thickness_products(coefficients, bins.covariances))
    slope = np.sqrt(np.maximum(relief.thickness_products(coefficients, bins.slopes), 0)) / 2
    slope = np.concatenate([slope, slope])
    path = slanted_path_resistance(0.1, places, 0.045, 0.1, slope, slope)
    return np.concatenate([bins.area_m2, bins.area_m2]) / 2 @ (1 / path)


@pytest.mark.parametrize("amplitude_per_m", [5.0, 20.0])
def test_another_seam_never_saves_heat_at_the_same_bulge(amplitude_per_m):
    lines = [(0.14 * n, 0.0, 0.14 * n, 1.9) for n in range(1, 8)]
    order = [3, 1, 5, 0, 6, 2, 4]
    losses = [
        loss_w_k(loft_map(*OUTLINE, (), [lines[n] for n in order[:count]]), (0, 0, 0), amplitude_per_m)
        for count in range(2, 8)
    ]
    assert np.all(np.diff(losses) > 0)


def test_a_seam_across_full_baffles_never_saves_heat_either():
    baffles = [(0.14 * n, 0.1, 0.14 * n, 1.8) for n in range(1, 8)]
    between = [(0.07, 0.2, 0.07, 1.7)]
    plain = loss_w_k(loft_map(*OUTLINE, baffles), (0.05, 0, 0), 5.0)
    assert loss_w_k(loft_map(*OUTLINE, baffles, between), (0.05, 0, 0), 5.0) > plain


@pytest.mark.parametrize("design", [FULL_SEWN, FILM, TOP], ids=lambda d: d.name)
def test_higher_baffles_at_the_same_density_are_never_less_warm(design):
    """Slack by a tenth, so that the fill stands at its own loft whatever the height."""
    conductances = []
    for height in np.linspace(20.0, 110.0, 10):
        q = resolve(changed(design, "baffles.height_mm", float(height)), Night(), CATALOGUE)
        loft = score(replace(q, overstuff=0.9)).loft
        assert loft.tightness == pytest.approx(1.0)
        conductances.append(float(quilt_conductance(q, loft, -10.0)))
    assert np.all(np.diff(conductances) < 0)


def test_mirrored_rows_of_baffles_lose_the_same_heat():
    rows = [(0.2, 0.10, 0.2, 0.25), (0.4, 0.20, 0.4, 0.35), (0.75, 0.3, 0.75, 0.9)]
    mirrored = [(1.12 - x0, y0, 1.12 - x1, y1) for x0, y0, x1, y1 in rows]
    one, other = loft_map(*OUTLINE, rows), loft_map(*OUTLINE, mirrored)
    assert loss_w_k(one, (0.05, 0, 0), 5.0) == pytest.approx(loss_w_k(other, (0.05, 0, 0), 5.0), rel=1e-5)


@pytest.mark.parametrize("design", ALL, ids=lambda d: d.name)
def test_the_parts_of_the_heat_through_the_quilt_are_the_whole(design):
    """Fill, seams and edges are named parts of one conductance; none of a real quilt is below nothing."""
    q = resolve(design, Night(), CATALOGUE)
    result = score(q)
    names = ("through the fill", "at baffles and seams", "at the quilt's edges")
    parts = [float(result.heat_parts_w[name]) for name in names]
    assert all(part > -1e-9 * sum(parts) for part in parts)
    through = half_share(q) * covered_share(q, result.loft) * quilt_conductance(q, result.loft, q.air_c)
    skin_c = body.skin_temperature(q.comfort_w_m2, body.NEUTRAL)
    area_m2 = 0.202 * 60**0.425 * 1.60**0.725
    assert sum(parts) == pytest.approx(through * area_m2 * (skin_c - q.air_c), rel=1e-9), "DuBois (1916)"


def test_two_quilts_that_differ_in_one_thing_differ_for_its_reason():
    """Wall pattern, edge, cut and seam: each moves fill, loft or warmth the way that it must."""
    full, short = scored(FULL_SEWN), scored(changed(FULL_SEWN, "baffles.layout", "staggered"))
    assert short.loft.base_volume_m3 < full.loft.base_volume_m3, "open ends sag between short baffles"
    boxed = scored(changed(FULL_SEWN, "edges.kind", "box edge"))
    assert boxed.loft.down_kg > full.loft.down_kg, "a box edge holds more than a pinched one"
    flat = scored(changed(FULL_SEWN, "cut.kind", "flat"))
    assert flat.loft.largest_volume_m3 < full.loft.largest_volume_m3, "a flat cut has less to bulge with"
    through = scored(changed(SEWN_THROUGH, "fill.overstuff_percent", 20.0))
    lost = through.heat_parts_w["at baffles and seams"] / through.heat_parts_w["through the fill"]
    kept = full.heat_parts_w["at baffles and seams"] / full.heat_parts_w["through the fill"]
    assert lost > 3 * kept, "seams are where sewn-through quilts lose"


def test_a_pinched_edge_costs_warmth_only_where_it_comes_near_the_sleeper():
    roomy, tight = (changed(FULL_SEWN, "outline.width_mm", width) for width in (1300.0, 900.0))
    near = [float(scored(design).heat_parts_w["at the quilt's edges"]) for design in (roomy, tight)]
    # A roomy quilt's edges lie beyond the least width; of a tight one a tenth of what lies on her is edge.
    assert abs(near[0]) < 0.01 * 20 and near[1] > 5 * abs(near[0]) and near[1] > 0.01 * 20
