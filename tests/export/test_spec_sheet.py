"""Does the sheet hold the engine's own numbers, the same in both systems of units, and the right cautions?"""

from datetime import date

import pytest

from engine.catalogue.load import load_catalogue
from engine.comparison import Comparison
from engine.design import Design
from engine.evaluate import LineUp, evaluate_all
from engine.export.files import design_from_json, design_to_json
from engine.export.sheet_tables import Table
from engine.export.spec_sheet import Sheet, design_code, spec_sheet
from engine.export.substitutes import substitute
from engine.samples import first_visit, samples
from engine.score import SCORE_KEYS

DAY = date(2026, 11, 3)


def line_up(comparison: Comparison) -> LineUp:
    return evaluate_all(comparison, load_catalogue())


def alone(design: Design) -> Comparison:
    return Comparison.model_validate({"candidates": [{"letter": "A", "design": design}]})


def sheet_of(design: Design) -> Sheet:
    return spec_sheet(line_up(alone(design)), "A", DAY)


def row(table: Table, name: str) -> tuple:
    return next(cells for cells in table.rows if cells[0].text.split("\n")[0] == name)


@pytest.mark.parametrize("letter", ["A", "B", "C", "D"])
def test_the_scores_on_the_sheet_are_the_scores_with_their_bands(letter):
    both = line_up(first_visit())
    sheet = spec_sheet(both, letter, DAY)
    for key in (*SCORE_KEYS, "limit_c"):
        band = both[letter].bands[key]
        assert row(sheet.scores, key)[1].values == (band.value, band.low, band.high)
        assert band.value == pytest.approx(float(getattr(both[letter].score, key)))


def test_the_others_are_compared_with_the_one_on_the_sheet():
    both = line_up(first_visit())
    sheet = spec_sheet(both, "C", DAY)
    for evaluation, cells in zip(both.evaluations, sheet.line_up.rows, strict=True):
        for key, cell in zip(SCORE_KEYS, cells[1:], strict=True):
            assert cell.values[0] == pytest.approx(float(getattr(evaluation.score, key)))
            gap = both.against(evaluation.letter, "C", key)
            assert cell.values[1:3] == (() if evaluation.letter == "C" else (gap.middle, gap.p_less))


@pytest.mark.parametrize("design", [sample.design for sample in samples()])
def test_purchases_parts_and_joints_all_stand_there_and_the_totals_add_up(design):
    one, sheet = line_up(alone(design))["A"], sheet_of(design)
    assert len(sheet.goods.rows) == len(one.purchases)
    for line, cells in zip(one.purchases, sheet.goods.rows, strict=True):
        values = (line.used, line.to_buy, line.price_used, line.price_to_buy)
        assert tuple(cell.values[0] for cell in cells[1:]) == values
    bought = sum(cells[4].values[0] for cells in sheet.goods.rows)
    assert sheet.goods.totals[4].values[0] == pytest.approx(bought)
    for part in one.score.bill.parts:
        if part.count > 0:
            assert row(sheet.parts, part.name)[5].values == (float(part.mass_kg),)
    minutes = sum(cells[5].values[0] for cells in sheet.joints.rows)
    assert minutes == pytest.approx(sum(float(joint.minutes) for joint in one.score.bill.joints))


def test_a_baffle_shows_its_cut_width_beside_its_finished_height():
    design = Design.model_validate({"baffles": {"height_mm": 64}})
    figures = dict(sheet_of(design).figures)
    # 64 mm and 11 mm of allowance at each edge (10 to 13 mm, common practice, no source).
    assert figures["Baffles, cut, finished"].values == pytest.approx((0.086, 0.064))


def test_a_differential_cut_says_how_much_longer_the_outer_is_and_where_that_goes():
    cut = {"kind": "differential", "wrap_across_rad": 2, "wrap_along_rad": 0.8}
    design = Design.model_validate({"baffles": {"height_mm": 50}, "cut": cut, "ends": {"surplus": "pleated"}})
    figures = dict(sheet_of(design).figures)
    # An arc is its angle times its radius (definition): 50 mm further out, 2 rad × 50 mm and 0.8 rad × 50 mm.
    assert figures["Outer longer, along, across"].values == pytest.approx((0.040, 0.100))
    assert figures["Surplus of the outer, across"].text == "pleated"
    assert figures["Surplus of the outer, along"].text == "eased in along the sides"
    only = dict(
        sheet_of(
            design.model_copy(update={"cut": design.cut.model_copy(update={"wrap_along_rad": 0})})
        ).figures
    )
    assert only["Outer longer, across"].values == pytest.approx((0.100,))


@pytest.mark.parametrize(
    "changes",
    [{"cut": {"kind": "flat"}}, {"cut": {"wrap_across_rad": 0}}, {"cut": {"wrap_across_rad": 0.005}}],
)
def test_where_the_ruler_shows_no_surplus_none_is_spoken_of(changes):
    names = dict(sheet_of(Design.model_validate(changes)).figures)
    assert not [name for name in names if "urplus" in name or "longer" in name]


def test_darts_stand_there_with_count_width_and_length_and_only_where_there_are_any():
    ends = {"shape": "darted", "dart_count": 3, "dart_width_mm": 30, "dart_length_mm": 240}
    figures = dict(sheet_of(Design.model_validate({"ends": ends})).figures)
    assert figures["Darts, each end, both shells"].values == (3,)
    assert figures["Dart, width at the edge, length"].values == pytest.approx((0.030, 0.240))
    assert not [name for name, _ in sheet_of(Design()).figures if "dart" in name.lower()]


@pytest.mark.parametrize("design", [sample.design for sample in samples()])
def test_full_less_tare_is_the_fill_and_with_the_pad_the_weight(design):
    one, box = line_up(alone(design))["A"], sheet_of(design).fill
    assert box.full_kg - box.tare_kg == pytest.approx(box.fill_kg)
    assert box.fill_kg == pytest.approx(float(one.score.weight_parts_kg["fill"]))
    pad = float(one.score.weight_parts_kg["beyond the quilt"])
    assert box.full_kg + pad == pytest.approx(float(one.score.weight_kg))


def test_the_content_is_the_same_in_metric_and_trade_units():
    metric = first_visit()
    trade = metric.model_copy(update={"units": "trade"})
    assert spec_sheet(line_up(metric), "B", DAY) == spec_sheet(line_up(trade), "B", DAY)


def test_a_design_saved_and_opened_again_has_the_same_sheet():
    for sample in samples():
        opened = design_from_json(design_to_json(sample.design))
        assert sheet_of(opened) == sheet_of(sample.design)


def test_the_reason_stands_on_the_chosen_ones_sheet_only():
    chosen = first_visit().model_copy(update={"chosen": "B", "reason": "light enough"})
    assert (spec_sheet(line_up(chosen), "B", DAY).reason, spec_sheet(line_up(chosen), "B", DAY).chosen) == (
        "light enough",
        True,
    )
    other = spec_sheet(line_up(chosen), "A", DAY)
    assert (other.reason, other.chosen) == ("", False)


def test_the_code_tells_designs_apart():
    both = line_up(first_visit())
    codes = [design_code(each) for each in both.evaluations]
    assert len(set(codes)) == len(codes)
    assert all(len(code) == 6 and set(code) <= set("0123456789ABCDEF") for code in codes)


def test_stop_level_warnings_are_kept_apart_for_the_banner():
    leaky = Design.model_validate({"shells": {"inner": "mesh-24"}})
    sheet = sheet_of(leaky)
    assert sheet.stops and all(caution.grade == "stop" for caution in sheet.stops)
    assert sheet.cautions[: len(sheet.stops)] == sheet.stops
    assert not sheet_of(first_visit().candidates[0].design).stops


@pytest.mark.parametrize(
    "changes, subjects",
    [
        ({}, {"Cold", "Fire", "Hot knife", "Hanging"}),
        ({"joints": {"raw_edges": None}}, {"Cold", "Fire", "Hanging"}),
        ({"joints": {"edges": "glued-fold", "raw_edges": None}}, {"Cold", "Fire", "Solvent", "Hanging"}),
        ({"shells": {"outer": "film-17"}}, {"Cold", "Fire", "Hot knife", "Film", "Hanging"}),
    ],
)
def test_each_danger_of_the_work_has_its_caution_and_no_other_stands_there(changes, subjects):
    assert {each.subject for each in sheet_of(Design.model_validate(changes)).safety} == subjects


def test_hanging_defers_to_qualified_people_and_warmth_is_an_estimate():
    told = {each.subject: each.text for each in sheet_of(Design()).safety}
    assert "qualified person" in told["Hanging"] and "local rules" in told["Hanging"]
    assert "estimates" in told["Cold"] and "not a promise" in told["Cold"]


def test_a_cloth_of_26_grams_gives_way_to_one_of_24_to_30():
    # Common practice, no source.
    one = line_up(alone(Design()))["A"]
    line = next(line for line in one.purchases if line.id == "nylon-10d-26")
    text, values = substitute(line, load_catalogue())
    assert text == "or any calendered cloth of {range}"
    assert [round(1000 * value) for value in values] == [24, 30]


def test_an_unknown_letter_is_refused():
    with pytest.raises(KeyError):
        spec_sheet(line_up(first_visit()), "F", DAY)
