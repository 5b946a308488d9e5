"""What must hold for every design on every night, whatever the numbers."""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from engine.catalogue.load import with_own
from engine.catalogue.models import OwnGood
from engine.evaluate import evaluate
from engine.night import Night
from engine.quantities import resolve
from engine.score import SCORE_KEYS, quilt_conductance, score
from tests.engine.made import ALL, CATALOGUE, FULL_SEWN, PUPIL, changed, numbers, scored, stack
from tests.engine.strategies import designs, nights

PARTS = {
    "weight_kg": "weight_parts_kg",
    "volume_m3": "volume_parts_m3",
    "cost": "cost_parts",
}
TINY = 1e-9


@settings(max_examples=150)
@given(designs, nights)
def test_no_number_is_ever_missing_or_infinite(design, night):
    evaluation = evaluate(design, night, CATALOGUE)
    for part in ("score", "draws", "bands", "fit", "derived", "purchases", "plan"):
        for path, value in numbers(getattr(evaluation, part), part):
            assert np.all(np.isfinite(value)), path
    for key in ("weight_kg", "volume_m3", "cost", "work_h"):
        assert getattr(evaluation.score, key) > 0, key
    assert evaluation.score.limit_c <= evaluation.score.comfort_c


@settings(max_examples=60)
@given(designs, nights)
def test_the_parts_add_up_to_the_whole(design, night):
    result = scored(design, night)
    for whole, parts in PARTS.items():
        assert sum(getattr(result, parts).values()) == pytest.approx(getattr(result, whole), rel=1e-12)
        assert all(part >= 0 for part in getattr(result, parts).values())
    factor = 1.5 if night.first_quilt else 1.0
    assert sum(result.work_parts_min.values()) / 60 * factor == pytest.approx(result.work_h, rel=1e-12)


@settings(max_examples=60)
@given(designs, nights)
def test_the_bill_adds_up_to_the_weight_and_the_cost(design, night):
    """A part without a group of its own, or in two of them, would show here."""
    result = scored(design, night)
    for key, name in (("weight_kg", "mass_kg"), ("cost", "cost")):
        billed = sum(getattr(row, name) for row in (*result.bill.parts, *result.bill.joints))
        assert billed == pytest.approx(getattr(result, key), rel=1e-12)


@pytest.mark.parametrize("design", ALL, ids=lambda d: d.name)
def test_doubling_a_cloths_areal_mass_doubles_its_pieces(design):
    # Whatever else is made of the same cloth doubles with it, and nothing else moves.
    cloth = design.shells.outer
    heavy = OwnGood(kind="fabric", id=cloth, areal_mass_g_m2=2 * CATALOGUE.fabric(cloth).areal_mass_g_m2)
    before = score(resolve(design, Night(), CATALOGUE)).bill.parts
    after = score(resolve(design, Night(), with_own(CATALOGUE, [heavy]))).bill.parts
    cloth_of = {
        "inner shell": design.shells.inner,
        "outer shell": design.shells.outer,
        "footbox panel and collar": design.shells.outer,
        "baffles": design.baffles.fabric,
        "edge walls": design.baffles.fabric,
        "end panels": design.end_panels.fabric,
    }
    for old, new in zip(before, after, strict=True):
        factor = 2 if cloth_of.get(old.name) == cloth else 1
        assert new.mass_kg == pytest.approx(factor * old.mass_kg, rel=1e-12), old.name
        assert new.cost == pytest.approx(old.cost, rel=1e-12), old.name


@settings(max_examples=80)
@given(designs, nights, st.floats(0, 1500), st.floats(0, 400))
def test_more_down_never_lets_more_heat_through(design, night, grams, more):
    """Per area that is covered, from 1.5 to 10 kg/m3, the range of the conduction model.

    Below, the radiation of so thin a fill is beyond the model; above, fibres conduct. In a chamber that
    bulges higher than it is wide, down that rounds the tube further also draws in the seams: asked only
    where the bulge is below half the chamber, as the seam correction is.
    """
    assume(CATALOGUE.fill(design.fill.good).form == "down")
    less, fuller = (
        replace(resolve(design, night, CATALOGUE), overstuff=0.0, fill_given_kg=kg / 1000)
        for kg in (grams, grams + more)
    )
    before, after = score(less), score(fuller)
    assume(before.loft.density_kg_m3 >= 1.5 and after.loft.density_kg_m3 <= 10)
    assume(after.loft.bulge_m <= 0.5 * after.loft.chamber_chord_m)
    cooler = quilt_conductance(fuller, after.loft, -10.0)
    # Two places stand for the spread of a bin, to the third order: 1e-4 of the heat.
    assert cooler <= quilt_conductance(less, before.loft, -10.0) * (1 + 2e-4)


def test_higher_baffles_are_never_less_warm_in_a_gale():
    """What wind carries through the shell must not grow with the fill that it passes."""
    gale = Night(wind="own", wind_m_s=15.0)
    heights = (20.0, 30.0, 50.0, 70.0, 100.0, 140.0)
    comforts = [float(scored(changed(FULL_SEWN, "baffles.height_mm", h), gale).comfort_c) for h in heights]
    assert np.all(np.diff(comforts) < 0)


@pytest.mark.parametrize("design", [d for d in ALL if d.fill.good.startswith("down")], ids=lambda d: d.name)
def test_more_down_is_never_colder_in_a_quilt_that_is_wide_enough(design):
    """Up to 65 % overstuff, above which makers stop; a quilt at its least width loses cover by draw-in."""
    wide = changed(design, "outline.width_mm", 1400.0)
    results = [scored(changed(wide, "fill.overstuff_percent", float(p))) for p in range(-50, 70, 5)]
    assert all(r.fullness <= 1.7 for r in (s.loft for s in results))
    assert np.all(np.diff([float(r.comfort_c) for r in results]) <= TINY)
    assert np.all(np.diff([float(r.weight_kg) for r in results]) > 0)


@settings(max_examples=60)
@given(designs, nights, st.floats(0, 1), st.floats(0, 0.5))
def test_thicker_clothing_is_never_colder(design, night, clothing, more):
    results = [scored(design, night, clothing_r_m2k_w=r) for r in (clothing, clothing + more)]
    assert results[1].comfort_c <= results[0].comfort_c + 1e-6
    assert results[1].limit_c <= results[0].limit_c + 1e-6


@settings(max_examples=60)
@given(designs, st.floats(0, 600))
def test_a_longer_quilt_is_never_lighter(design, more_mm):
    """Without the pad that it may make needless; crosswise rows may close with wider chambers instead."""
    assume(design.baffles.layout != "full, crosswise")
    assume(design.outline.length_mm + more_mm <= 2600)
    assume(design.fill.rule == "overstuff")
    longer = changed(design, "outline.length_mm", design.outline.length_mm + more_mm)
    # A taper that starts as far from the foot as before, so that no part of the quilt gets narrower.
    if design.outline.shape == "taper":
        start = design.outline.taper_from_mm + more_mm
        assume(start <= 2400)
        longer = changed(longer, "outline.taper_from_mm", start)
    own = [r.weight_kg - r.weight_parts_kg["beyond the quilt"] for r in map(scored, (design, longer))]
    assert own[1] >= own[0] * (1 - TINY)


@pytest.mark.parametrize(
    "layout", ["none", "sewn-through", "full, lengthwise", "full, crosswise", "staggered", "alternating"]
)
def test_a_wider_quilt_of_as_many_chambers_is_never_lighter(layout):
    """Chambers widen with the shell: one more of them would be a narrower, shallower row."""
    weights = []
    for factor in np.linspace(0.8, 1.5, 15):
        design = changed(FULL_SEWN, "baffles.layout", layout)
        design = changed(design, "outline.width_mm", 1120 * factor)
        across = layout not in ("full, crosswise", "none")
        design = changed(design, "baffles.spacing_mm", 122 * factor if across else 122)
        weights.append(float(scored(design).weight_kg))
    assert np.all(np.diff(weights) > 0)


@settings(max_examples=40)
@given(designs, nights)
def test_a_stack_of_one_scores_as_the_single_quilt(design, night):
    single = resolve(design, night, CATALOGUE)
    agree(score(stack([single])), score(single))


@settings(max_examples=25)
@given(st.lists(st.tuples(designs, nights), min_size=2, max_size=4))
def test_a_stack_of_quilts_of_any_kind_scores_as_each_by_itself(pairs):
    rows = [resolve(design, night, CATALOGUE) for design, night in pairs]
    together = score(stack(rows))
    for index, row in enumerate(rows):
        agree(together, score(row), index)


def test_a_row_of_overstuffs_scores_as_each_by_itself():
    overstuffs = np.linspace(0.5, 2.5, 21)
    quantities = resolve(FULL_SEWN, Night(), CATALOGUE)
    together = score(replace(quantities, overstuff=overstuffs))
    for key in (*SCORE_KEYS, "limit_c"):
        singles = [getattr(score(replace(quantities, overstuff=float(o))), key) for o in overstuffs]
        np.testing.assert_allclose(getattr(together, key) + np.zeros(21), singles, rtol=1e-12, atol=1e-12)


def agree(stacked, single, index=0):
    """Each number of a stack is that of the single quilt, to 1e-12 of it; temperatures to 1e-9 K.

    Newton's last step leaves 1e-13 of some 300 K, and a kink of the conductance may double it.
    """
    for field in fields(single):
        if field.name in ("loft", "bill"):
            continue
        ours, theirs = getattr(stacked, field.name), getattr(single, field.name)
        pairs = [(ours, theirs)] if not isinstance(theirs, dict) else [(ours[k], theirs[k]) for k in theirs]
        for many, one in pairs:
            value = np.broadcast_to(many, np.shape(many) or (1 + index,))[..., index]
            close = 1e-9 if field.name.endswith("_c") else 1e-12
            np.testing.assert_allclose(value, one, rtol=1e-12, atol=close, err_msg=field.name)


@pytest.mark.parametrize(
    "layout", ["none", "sewn-through", "full, lengthwise", "full, crosswise", "staggered", "alternating"]
)
@pytest.mark.parametrize("edges", ["pinched", "low edge wall", "box edge"])
@pytest.mark.parametrize("fill", ["down-850", "sheet-100"])
@pytest.mark.parametrize("kind", ["underquilt", "top quilt"])
def test_every_combination_of_kinds_is_scored(layout, edges, fill, kind):
    design = changed(FULL_SEWN, "baffles.layout", layout)
    for path, value in (("edges.kind", edges), ("fill.good", fill), ("kind", kind)):
        design = changed(design, path, value)
    assert all(np.all(np.isfinite(value)) for _, value in numbers(scored(design)))


@pytest.mark.parametrize("quilting_mm", [0.0, 50.0, 1000.0])
def test_quilting_lines_of_any_spacing_are_counted(quilting_mm):
    design = changed(changed(FULL_SEWN, "fill.good", "sheet-100"), "fill.quilting_mm", quilting_mm)
    assert all(np.all(np.isfinite(value)) for _, value in numbers(scored(design)))


def test_a_sheet_quilt_has_no_loose_down_in_its_footbox_or_collar():
    design = changed(changed(FULL_SEWN, "kind", "top quilt"), "top.collar", True)
    down, sheet = scored(design), scored(changed(design, "fill.good", "sheet-100"))
    loose = {part.name: part.mass_kg for part in down.bill.parts}["down in footbox and collar"]
    assert loose == pytest.approx(0.040)
    assert {part.name: part.mass_kg for part in sheet.bill.parts}["down in footbox and collar"] == 0


def test_the_tare_is_all_but_the_fill_and_the_pad():
    result = scored(PUPIL)
    kept = sum(v for k, v in result.weight_parts_kg.items() if k not in ("fill", "beyond the quilt"))
    assert result.tare_kg == pytest.approx(kept, rel=1e-12)
