"""The section of one quilt against resistances in series, and against what must hold of any section."""

from dataclasses import replace

import numpy as np
import pytest

from engine.catalogue.load import load_catalogue
from engine.design import Baffles, Design, Filling
from engine.formulas import body
from engine.night import Night
from engine.picture.section import isotherms, section_of
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score

FULL = Design(baffles=Baffles(layout="full, lengthwise", height_mm=64, spacing_mm=140))
SEWN = Design(baffles=Baffles(layout="sewn-through", spacing_mm=120))
SHEET = Design(baffles=Baffles(layout="none"), fill=Filling(good="sheet-133", layers=2, quilting_mm=500))


def made(design, night=None):
    q = resolve(design, night or Night(air_c=-5), load_catalogue())
    return q, score(q).loft


def flat():
    """A box: baffles that do not conduct, and no bulge."""
    q, loft = made(FULL)
    return section_of(replace(q, baffle_cloth=0.0), replace(loft, bulge_m=0.0))


def test_a_flat_chamber_is_resistances_in_series():
    # ISO 6946: R = Ri + t / k + Ro, and one temperature drop for each.
    section = flat()
    layers = section.layers
    whole = layers.inner_r_m2k_w + 0.064 / layers.fill_w_mk + layers.outer_r_m2k_w
    assert section.u_w_m2k == pytest.approx(1 / whole, rel=1e-6)
    assert section.true_over_columns == pytest.approx(1.0, rel=1e-6)
    face = section.skin_c - (section.skin_c - section.air_c) * layers.inner_r_m2k_w / whole
    assert section.inner_face_c == pytest.approx((face, face), abs=1e-6)


def test_isotherms_of_a_flat_chamber_lie_where_the_drop_puts_them():
    section = flat()
    layers = section.layers
    whole = layers.inner_r_m2k_w + 0.064 / layers.fill_w_mk + layers.outer_r_m2k_w
    for level, pieces in isotherms(section, (0.0, 10.0, 20.0)):
        before = (section.skin_c - level) / (section.skin_c - section.air_c) * whole
        height = (before - layers.inner_r_m2k_w) * layers.fill_w_mk - 0.032
        (line,) = pieces
        assert line[:, 1] == pytest.approx(np.full(len(line), height), abs=1e-6)
        assert np.ptp(line[:, 0]) == pytest.approx(section.width_m)


def test_levels_outside_the_fill_have_no_line():
    section = flat()
    assert [level for level, _ in isotherms(section, (-40.0, 10.0, 40.0))] == [10.0]


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_true_heat_is_never_less_than_that_of_straight_columns(sample):
    # Columns that exchange no heat are an upper limit of resistance (ISO 6946, combined method).
    q, loft = made(sample.design, sample.night)
    section = section_of(q, loft)
    # The mesh is right within 0.2 %.
    assert section.true_over_columns > 0.998
    assert section.thickest_m >= section.thinnest_m
    assert np.all(
        (section.field.temperature_c < section.skin_c) & (section.field.temperature_c > section.air_c)
    )


def test_the_skin_side_is_coldest_where_the_shells_are_sewn_together():
    section = section_of(*made(SEWN))
    face = section.field.temperature_c[:, 0]
    assert not section.baffle and section.thinnest_m == 0
    assert face.argmin() in (0, len(face) - 1)
    assert abs(int(face.argmax()) - len(face) // 2) <= 1


def test_baffles_hold_the_faces_apart_and_the_bulge_stands_on_them():
    q, loft = made(FULL)
    section = section_of(q, loft)
    assert section.baffle
    assert section.thinnest_m == pytest.approx(0.064)
    assert section.thickest_m == pytest.approx(0.064 + float(loft.bulge_m), rel=1e-6)
    assert section.width_m == pytest.approx(float(loft.chamber_chord_m))


def test_a_face_that_lies_smooth_on_the_body_leaves_the_bulge_to_the_other():
    q, loft = made(FULL)
    section = section_of(q, replace(loft, outer_share=1.0))
    assert np.ptp(section.inner_y_m) == pytest.approx(0.0, abs=1e-12)
    assert np.ptp(section.outer_y_m) == pytest.approx(float(loft.bulge_m))


def test_a_sheet_runs_from_line_to_line_and_is_level_in_between():
    q, loft = made(SHEET)
    section = section_of(q, loft)
    assert section.width_m == pytest.approx(0.5) and section.thinnest_m == 0
    level = (section.x_m > 0.15) & (section.x_m < 0.35)
    assert np.ptp((section.outer_y_m - section.inner_y_m)[level]) == pytest.approx(0.0, abs=1e-12)


def test_a_sheet_without_quilting_runs_from_edge_to_edge():
    q, loft = made(SHEET.model_copy(update={"fill": Filling(good="sheet-133", quilting_mm=0)}))
    assert section_of(q, loft).width_m == pytest.approx(float(np.max(q.station_width_m)))


def test_air_as_warm_as_the_skin_has_no_section():
    q, loft = made(FULL)
    skin = float(body.skin_temperature(q.comfort_w_m2, body.NEUTRAL))
    assert section_of(replace(q, air_c=skin), loft) is None
