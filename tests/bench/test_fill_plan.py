"""Does every chamber get its share, to the step of the scale, and the whole what the score says?"""

import csv
import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.bench.fill_plan import SCALE_STEPS_KG, fill_plan, fill_weighed
from engine.bench.scale_steps import shared_out, whole_steps
from engine.bench.zones import thickness_of, zones_of
from engine.export.bench_tables import FILL_COLUMNS, fill_table_csv
from engine.layout import plan_baffles
from engine.night import Night
from engine.quantities import resolve
from engine.quantities.plan_map import plan_map
from engine.refusals import Refusal
from engine.samples import samples
from engine.score import score
from tests.engine.made import (
    ALL,
    CATALOGUE,
    FILM,
    FULL_SEWN,
    PUPIL,
    SEWN_THROUGH,
    SHEET,
    TOP,
    changed,
    with_grams,
)
from tests.engine.strategies import designs

DOWN = [sample for sample in samples() if CATALOGUE.fill(sample.design.fill.good).form == "down"]
CROSS = changed(TOP, "baffles.layout", "full, crosswise")


def planned(design, **given):
    quantities = resolve(design, Night(), CATALOGUE)
    result = score(quantities)
    return fill_plan(design, CATALOGUE, quantities, result, **given), result


def zones(design, **given):
    quantities = resolve(design, Night(), CATALOGUE)
    return zones_of(design, quantities, score(quantities).loft, **given)


def is_whole(design, step_kg):
    plan, result = planned(design, step_kg=step_kg)
    exact_kg = float(result.weight_parts_kg["fill"])
    steps = [one.mass_kg / step_kg for one in plan.fills]
    np.testing.assert_allclose(steps, np.round(steps), atol=1e-6)
    assert sum(round(step) for step in steps) == round(plan.whole_kg / step_kg)
    # To the step: half a step off at most.
    assert abs(plan.whole_kg - exact_kg) <= step_kg / 2 + 1e-12
    assert plan.first_kg + plan.back_kg == pytest.approx(plan.whole_kg, abs=1e-12)
    assert all(0 <= one.first_kg <= one.mass_kg + 1e-12 for one in plan.fills)
    # 10 % kept back (common practice), to the step.
    assert plan.back_kg == pytest.approx(0.1 * plan.whole_kg, abs=step_kg)
    assert [one.order for one in plan.fills] == list(range(1, len(plan.fills) + 1))
    # What is poured first is the first fill, 2 % of loss with it; topping up takes the rest.
    assert sum(mass for one in plan.fills for _, mass in one.bags) == pytest.approx(1.02 * plan.first_kg)
    sizes = sum(bag.size_kg for bag in plan.bags)
    for kg, left in (
        (plan.first_kg, sum(bag.left_kg for bag in plan.bags)),
        (plan.whole_kg, sum(bag.end_kg for bag in plan.bags)),
    ):
        assert sizes - left == pytest.approx(1.02 * kg, abs=0.51 * step_kg)
    assert all(bag.taken_kg + bag.left_kg == pytest.approx(bag.size_kg, abs=0.51 * step_kg)
               for bag in plan.bags)  # fmt: skip
    assert plan.loss_share == 0.02


@pytest.mark.parametrize("step_kg", SCALE_STEPS_KG)
@pytest.mark.parametrize("sample", DOWN, ids=lambda sample: sample.id)
def test_the_zones_of_a_sample_add_up_to_its_fill_to_the_step(sample, step_kg):
    is_whole(sample.design, step_kg)


@given(designs.filter(lambda design: CATALOGUE.fill(design.fill.good).form == "down"),
       st.sampled_from(SCALE_STEPS_KG))  # fmt: skip
@settings(max_examples=25)
def test_so_do_those_of_any_quilt_of_down(design, step_kg):
    is_whole(design, step_kg)


@pytest.mark.parametrize("design", [FULL_SEWN, PUPIL, SEWN_THROUGH], ids=lambda design: design.name)
@pytest.mark.parametrize("step_kg", SCALE_STEPS_KG)
def test_a_symmetric_quilt_is_filled_symmetrically(design, step_kg):
    plan, _ = planned(design, step_kg=step_kg)
    grams = [round(1e4 * one.mass_kg) for one in plan.fills]
    if len(grams) % 2:
        assert grams == grams[::-1]
    else:  # an odd step has no middle chamber to go to
        unequal = [abs(a - b) for a, b in zip(grams, grams[::-1], strict=True) if a != b]
        assert len(unequal) in (0, 2) and all(gap == round(1e4 * step_kg) for gap in unequal)


@pytest.mark.parametrize("design", [FULL_SEWN, FILM, CROSS], ids=["lengthwise", "staggered", "crosswise"])
def test_the_map_that_is_shared_out_stands_as_high_on_average_as_the_score_says(design):
    """The score goes by the map's integrals, the zones by its samples: both are one volume."""
    quantities = resolve(design, Night(), CATALOGUE)
    loft, samples_ = score(quantities).loft, plan_map(design).samples
    thickness = thickness_of(samples_, quantities, loft)
    mean = float(np.sum(samples_.area_m2 * thickness) / np.sum(samples_.area_m2))
    assert mean == pytest.approx(float(loft.mean_m), rel=1e-6)


def test_a_level_quilt_is_shared_out_by_the_width_of_its_chambers():
    """Box edges and end panels as high as the baffles, and too little down to bulge: a slab, cut in strips.

    By hand: of nine chambers the first and last are 0.7 wide, so one of the others has 1 / 8.4 of the slab.
    Grid cells are shared out by their middles: within half a cell (8 mm) of a chamber's 133 mm on each side.
    """
    slab = changed(changed(FULL_SEWN, "edges.kind", "box edge"), "end_panels.fitted", True)
    slab = with_grams(slab, 60)
    found = zones(slab)
    shares = [zone.volume_m3 / sum(zone.volume_m3 for zone in found) for zone in found]
    count = len(shares)
    assert count == plan_baffles(slab).chamber_count
    full = 1 / (count - 2 + 1.4)
    assert shares[1:-1] == pytest.approx([full] * (count - 2), rel=0.06)
    assert [shares[0], shares[-1]] == pytest.approx([0.7 * full] * 2, rel=0.06)


def test_a_narrow_sewn_channel_holds_the_cube_of_its_width():
    """Flat arcs of one radius: height goes with the square of the width, area with its cube: 0.7^3 = 0.34.

    Closed ends take more from wide channels than from narrow ones, so the ratio lies a little above.
    """
    long = changed(SEWN_THROUGH, "outline.length_mm", 2600)
    found = zones(changed(long, "fill.overstuff_percent", -40))
    assert found[0].volume_m3 / found[4].volume_m3 == pytest.approx(0.343, rel=0.06)


def test_zones_are_chambers_strips_in_thirds_or_the_whole():
    assert {zone.kind for zone in zones(FULL_SEWN)} == {"chamber"}
    assert len(zones(FULL_SEWN)) == plan_baffles(FULL_SEWN).chamber_count
    short = zones(FILM)
    assert {zone.kind for zone in short} == {"zone"}
    assert len(short) == 3 * plan_baffles(FILM).chamber_count
    assert [zone.kind for zone in zones(changed(FULL_SEWN, "baffles.layout", "none"))] == ["quilt"]
    assert all(zone.x0_m == 0 and zone.x1_m == pytest.approx(1.3) for zone in zones(CROSS))


def test_zones_tile_the_plan():
    for design in (FULL_SEWN, FILM, CROSS):
        found = zones(design)
        area = sum((zone.x1_m - zone.x0_m) * (zone.y1_m - zone.y0_m) for zone in found)
        assert area == pytest.approx(design.outline.width_mm * design.outline.length_mm * 1e-6)


def test_full_baffles_are_filled_from_one_long_edge_and_short_ones_from_the_far_end():
    rows = [one.zone.row for one in planned(FULL_SEWN)[0].fills]
    assert rows == sorted(rows)
    thirds = [one.zone.third for one in planned(FILM)[0].fills]
    assert thirds == sorted(thirds, reverse=True)
    assert planned(FULL_SEWN)[0].port == "each chamber's end"
    assert planned(CROSS)[0].port == "each chamber's side end"
    assert planned(FILM)[0].port == "one port at one end"


def test_pockets_of_a_top_quilt_get_what_was_given_and_come_last():
    plan, _ = planned(TOP)
    assert [one.zone.kind for one in plan.fills[-2:]] == ["footbox panel", "collar"]
    assert [one.mass_kg for one in plan.fills[-2:]] == pytest.approx([0.020, 0.020])


def test_further_overstuff_moves_down_and_adds_none():
    plain, more = (planned(FULL_SEWN, edge_percent=extra, step_kg=1e-4)[0] for extra in (0, 10))
    assert more.whole_kg == plain.whole_kg
    edge = more.fills[0].mass_kg / more.fills[4].mass_kg, plain.fills[0].mass_kg / plain.fills[4].mass_kg
    # 10 % more beside the same chamber; a tenth of a gram of 14 g is 0.7 %.
    assert edge[0] / edge[1] == pytest.approx(1.10, rel=0.012)
    foot = planned(CROSS, foot_percent=20)[0]
    chambers = [one.mass_kg for one in foot.fills if one.zone.kind == "chamber"]
    before = [one.mass_kg for one in planned(CROSS)[0].fills if one.zone.kind == "chamber"]
    assert chambers[-2] > before[-2] and chambers[1] < before[1]
    assert sum(chambers) == pytest.approx(sum(before))


def test_the_foot_of_an_underquilt_gets_no_more():
    assert planned(FULL_SEWN, foot_percent=20)[0].fills == planned(FULL_SEWN)[0].fills


def test_bags_are_emptied_one_after_another_the_largest_first():
    plan, _ = planned(FULL_SEWN)
    sizes = [bag.size_kg for bag in plan.bags]
    assert sizes == sorted(sizes, reverse=True)
    assert all(bag.end_kg == pytest.approx(0, abs=1e-9) for bag in plan.bags[:-1])
    # Opened and not empty is one bag at most.
    begun = [bag for bag in plan.bags if 1e-9 < bag.left_kg < bag.size_kg - 1e-9]
    assert len(begun) <= 1
    numbers = [number for one in plan.fills for number, _ in one.bags]
    assert numbers == sorted(numbers)
    assert set(numbers) == {bag.number for bag in plan.bags if bag.taken_kg > 1e-9}


def test_a_chamber_below_40_g_asks_for_a_finer_scale():
    """1 g for shells, 0.1 g for chambers below 40 g: common practice, no source."""
    plan = planned(SEWN_THROUGH)[0]
    assert plan.finer_scale
    assert plan.light == tuple(one.order for one in plan.fills if 0 < one.mass_kg < 0.0399)
    assert not planned(SEWN_THROUGH, step_kg=1e-4)[0].finer_scale


def test_sheet_insulation_has_no_fill_plan():
    assert planned(SHEET)[0] is None


def test_fill_is_full_less_tare():
    assert fill_weighed(0.512, 0.190) == pytest.approx(0.322)
    with pytest.raises(ValueError, match=r"full_kg is 0\.1 kg; allowed: the tare, 0\.2 kg, or more"):
        fill_weighed(0.1, 0.2)


@pytest.mark.parametrize(
    "wrong, told",
    [
        ({"step_kg": 0.002}, "The step of the scale is 2 g; allowed: 0.1, 0.5 or 1 g."),
        ({"edge_percent": 51}, "Further overstuff of edge chambers is 51 %; allowed: 0 to 50 %."),
        ({"foot_percent": -1}, "Further overstuff of the foot is -1 %; allowed: 0 to 50 %."),
    ],
)
def test_what_no_scale_has_and_nobody_stuffs_is_refused(wrong, told):
    with pytest.raises(Refusal) as refused:
        planned(FULL_SEWN, **wrong)
    assert told in refused.value.messages


def test_no_down_at_all_is_a_plan_of_nothing():
    plan, _ = planned(with_grams(FULL_SEWN, 0))
    assert plan.whole_kg == 0 and all(one.mass_kg == 0 for one in plan.fills) and plan.bags == ()


@given(st.integers(0, 400), st.lists(st.integers(1, 50), min_size=1, max_size=12), st.booleans())
def test_steps_add_up_and_none_is_more_than_a_step_off(total, half, middle):
    weights = [*half, *([7] if middle else []), *half[::-1]]
    mirrored = list(range(len(weights)))[::-1]
    steps = shared_out(total, [float(weight) for weight in weights], mirrored)
    assert sum(steps) == total
    exact = [total * weight / sum(weights) for weight in weights]
    assert all(abs(step - share) <= 1 + 1e-9 for step, share in zip(steps, exact, strict=True))
    unequal = sum(a != b for a, b in zip(steps, steps[::-1], strict=True))
    # Without a middle an odd step has nowhere to go but to one of a pair.
    assert unequal == 0 if middle or total % 2 == 0 else unequal == 2


def test_an_amount_goes_to_the_nearest_step():
    assert [whole_steps(value, 0.5) for value in (0.0, 0.24, 0.25, 0.74, 10.1)] == [0, 0, 1, 1, 20]
    for wrong in (lambda: whole_steps(1.0, 0.0), lambda: shared_out(-1, [1.0], [0]),
                  lambda: shared_out(1, [0.0], [0])):  # fmt: skip
        with pytest.raises(ValueError):
            wrong()


@pytest.mark.parametrize("design", [one for one in ALL if one is not SHEET], ids=lambda design: design.name)
def test_re_read_the_table_adds_up_and_leaves_room_for_the_pen(design):
    plan, _ = planned(design)
    text = fill_table_csv(plan)
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    assert list(rows[0]) == list(FILL_COLUMNS)
    for column, whole in (
        ("mass_g", plan.whole_kg),
        ("first_g", plan.first_kg),
        ("kept_back_g", plan.back_kg),
    ):
        assert sum(float(row[column] or 0) for row in rows) == pytest.approx(1000 * whole, abs=1e-4)
    assert all(row["bag_before_g"] == row["bag_after_g"] == "" for row in rows)
    assert sum(float(row["bag_label_g"] or 0) for row in rows) >= 1000 * plan.whole_kg
