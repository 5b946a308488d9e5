"""Does the joint schedule add up to the scores, and do its loads and strengths hold against rules by hand?"""

import csv
import io
from math import isinf

import pytest
from hypothesis import given, settings

from dashboard.bench_words import line_text
from engine.air import STUFFING_PA
from engine.bench.coupon import coupons, how_to
from engine.bench.joints import cautions_of_row, joint_schedule
from engine.catalogue.load import with_own
from engine.catalogue.models import OwnGood
from engine.export.bench_tables import JOINT_COLUMNS, joint_table_csv
from engine.formulas.bonding import peel_from_coupon
from engine.night import Night
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score
from engine.shopping import goods_beside_cloth
from tests.engine.made import CATALOGUE, FILM, FULL_SEWN, PUPIL, SHEET, TOP, cautions, changed
from tests.engine.strategies import designs

WOVEN_TAPED = changed(changed(changed(PUPIL, "joints.baffles", "tape-6"), "joints.edges", "tape-12"),
                      "shells.inner", "nylon-10d-26")  # fmt: skip


def scheduled(design, catalogue=CATALOGUE):
    quantities = resolve(design, Night(), catalogue)
    result = score(quantities)
    return joint_schedule(design, catalogue, quantities, result), result


def load(design, name, cause, catalogue=CATALOGUE):
    row = scheduled(design, catalogue)[0].row(name)
    return next(case for case in row.cases if case.cause == cause)


def adds_up(design):
    schedule, result = scheduled(design)
    totals = schedule.totals
    assert totals.count == pytest.approx(float(result.joint_count))
    assert totals.tape_m == pytest.approx(float(result.tape_m))
    assert totals.seam_m == pytest.approx(float(result.seam_m))
    joined = sum(float(part) for name, part in result.work_parts_min.items() if name.startswith("join "))
    assert totals.minutes == pytest.approx(joined)
    for row in schedule.rows:
        assert row.count * row.each_m == pytest.approx(row.length_m if row.count else 0)
        assert all(case.load > 0 and case.capacity >= 0 for case in row.cases)
    packs = [line for line in goods_beside_cloth(design, result, CATALOGUE) if line.kind == "joint"]
    assert list(totals.packs) == packs
    assert all(pack.to_buy == int(pack.to_buy) for pack in packs)


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_all_joints_together_are_those_of_the_score(sample):
    adds_up(sample.design)


@given(designs)
@settings(max_examples=40)
def test_so_are_those_of_any_design(design):
    adds_up(design)


def test_thread_and_sealant_are_what_makers_use_on_a_metre():
    """Thread 2.4 to 3.0 m a row and metre, sealant 3 to 5 mL a metre of 12 mm fold: common practice."""
    baffles, edges = (scheduled(FULL_SEWN)[0].row(name) for name in ("baffles", "edges"))
    assert 2.4 <= baffles.thread_m / baffles.length_m <= 3.0
    assert 4.8 <= edges.thread_m / edges.length_m <= 6.0
    glued = scheduled(FILM)[0].row("edges")
    assert 3e-6 <= glued.sealant_m3 / glued.length_m <= 5e-6
    assert scheduled(FULL_SEWN)[0].totals.sealant_m3 == 0 and scheduled(FULL_SEWN)[0].totals.tape_m == 0


def test_cord_is_what_the_suspension_lists():
    assert scheduled(FULL_SEWN)[0].totals.cord_m == 5
    # A top quilt's neck closure: 1.0 to 1.3 m of cord, common practice.
    assert 1.0 <= scheduled(TOP)[0].totals.cord_m <= 1.3


def test_stuffing_pulls_at_a_short_baffle_with_the_area_that_is_its_own():
    case = load(FILM, "baffles", "stuffing")
    quantities = resolve(FILM, Night(), CATALOGUE)
    area, count = float(score(quantities).loft.finished_area_m2), float(quantities.baffle_count)
    # By hand: 5 kPa on the quilt's area, held by so many pieces of 150 mm.
    assert case.load == pytest.approx(5000 * area / (count * 0.150))
    assert (case.direction, case.lasting, case.capacity) == ("peel", False, 330)
    assert case.margin == pytest.approx(case.capacity / case.load) and case.margin < 1


def test_full_baffles_at_115_mm_carry_115_newtons_a_metre_and_kilopascal():
    full = changed(changed(changed(FILM, "baffles.layout", "full, lengthwise"), "baffles.spacing_mm", 115),
                   "outline.width_mm", 115 * 9.4)  # fmt: skip
    per_kpa = load(full, "baffles", "stuffing").load / (STUFFING_PA / 1000)
    # Less what the shells draw in: 2 to 4 % (common practice).
    assert 0.96 * 115 <= per_kpa <= 115


def test_only_air_that_is_shut_in_presses():
    causes = {case.cause for row in scheduled(FULL_SEWN)[0].rows for case in row.cases}
    assert causes == {"lofting", "hanging"} and scheduled(FULL_SEWN)[0].stuffing_pa == 0
    one_film = changed(FULL_SEWN, "shells.inner", "film-17")
    assert scheduled(one_film)[0].stuffing_pa == 0
    assert scheduled(FILM)[0].stuffing_pa == STUFFING_PA


def test_lofting_is_harmless_to_tape_on_film():
    """At about 20 Pa 2 to 5 N on a metre of baffle: worked apart."""
    tight = changed(FILM, "fill.overstuff_percent", 30)
    case = load(tight, "baffles", "lofting")
    assert 2 <= case.load <= 5 and case.margin > 1
    assert 14 <= scheduled(tight)[0].lofting_pa <= 40


def test_tape_on_woven_cloth_holds_three_tenths_and_a_tenth_of_that_for_years():
    """0.3 of film, creep-safe share 10 %, none on silicone-treated cloth: common practice, no source."""
    case = load(WOVEN_TAPED, "baffles", "lofting")
    assert case.lasting and case.capacity == pytest.approx(330 * 0.3 * 0.1)
    refused = scheduled(changed(WOVEN_TAPED, "shells.outer", "nylon-coated-20d-44"))[0].row("baffles")
    assert all(case.capacity == 0 for case in refused.cases)
    assert refused.verdict == "gives way" and "Sew it" in refused.remedy


def test_sealant_does_not_cure_on_silicone_but_holds_on_woven_cloth():
    """Common practice, no source."""
    glued = changed(FULL_SEWN, "joints.edges", "glued-fold")
    assert load(glued, "edges", "lofting").capacity == pytest.approx(1000 * 0.1)
    assert load(changed(glued, "shells.outer", "nylon-coated-20d-44"), "edges", "lofting").capacity == 0


def test_stitches_do_not_creep():
    stitched = load(changed(FILM, "joints.baffles", "tape-12-stitch"), "baffles", "lofting")
    assert stitched.capacity == CATALOGUE.joint("tape-12-stitch").peel_n_m


def test_a_pinched_edge_is_peeled_and_an_edge_wall_lies_along_the_shell():
    assert load(FULL_SEWN, "edges", "lofting").direction == "peel"
    assert load(TOP, "edges", "lofting").direction == "shear"


def test_a_sheet_of_insulation_presses_at_nothing():
    schedule, _ = scheduled(SHEET)
    assert schedule.lofting_pa == 0
    assert schedule.row("edges").verdict == "nothing pulls at it"


def test_hanging_states_its_share_and_a_tab_is_a_point_load():
    schedule, result = scheduled(FULL_SEWN)
    (case,) = schedule.row("patches").cases
    weight_n = 9.80665 * float(result.weight_kg - result.weight_parts_kg["beyond the quilt"])
    assert case.unit == "N" and case.load == pytest.approx(20 + schedule.hanging_share * weight_n)
    # 2.5 N on a millimetre of sewn seam (1.5 to 4), 40 mm of patch face the pull: common practice.
    assert 1.5 * 40 <= case.capacity <= 4 * 40
    with pytest.raises(KeyError):
        scheduled(changed(FULL_SEWN, "tabs", 0))[0].row("patches")


def test_an_own_peel_strength_from_a_coupon_takes_the_place_of_the_catalogues():
    mine = float(peel_from_coupon(0.025, 0.5))  # half a kilogram on an inch: 196 N/m
    catalogue = with_own(CATALOGUE, [OwnGood(kind="joint", id="tape-6", peel_n_m=mine)])
    assert load(FILM, "baffles", "stuffing", catalogue).capacity == pytest.approx(196.133)
    row = scheduled(FILM, catalogue)[0].row("baffles")
    assert row.own and row.verdict == "gives way"
    assert scheduled(FILM, catalogue)[0].squeeze_limit_pa < scheduled(FILM)[0].squeeze_limit_pa


def test_a_coupon_on_woven_cloth_is_not_reduced_for_woven_cloth_again():
    catalogue = with_own(CATALOGUE, [OwnGood(kind="joint", id="tape-6", peel_n_m=120)])
    assert load(WOVEN_TAPED, "baffles", "lofting", catalogue).capacity == pytest.approx(0.1 * 120)


@given(designs)
@settings(max_examples=40)
def test_a_face_joint_that_is_peeled_has_a_stitch_a_fold_or_a_warning_with_the_remedy(design):
    warned = cautions(design)
    for row in scheduled(design)[0].rows:
        peeled = any(case.direction == "peel" for case in row.cases)
        if row.name not in ("edges", "ends") or not peeled or row.kind != "tape":
            continue
        found = [one for one in cautions_of_row(row, warned) if "peel-loaded" in one.code]
        assert found and "stitches" in found[0].remedy


def test_what_gives_way_has_a_remedy_and_what_holds_has_none():
    for sample in samples():
        for row in scheduled(sample.design)[0].rows:
            assert bool(row.remedy) == (row.verdict in ("gives way", "holds with little to spare"))
    assert isinf(scheduled(SHEET)[0].squeeze_limit_pa)


def test_the_wait_between_weights_is_said_in_words_that_fit_any_number():
    """One minute is 60 s: definition."""
    told = next(line_text(line, "metric") for line in how_to() if "into the bag" in line.text)
    assert "every 60\u00a0s, until" in told and "1 minutes" not in told


def test_every_bond_without_stitches_has_a_coupon_on_every_cloth_that_it_meets():
    quantities = resolve(FILM, Night(), CATALOGUE)
    found = coupons(FILM, CATALOGUE, score(quantities))
    assert {(one.method, one.cloth) for one in found} == {("tape-6", "film-17"), ("glued-fold", "film-17")}
    for one in found:
        assert peel_from_coupon(one.width_m, one.expected_kg) == pytest.approx(one.expected_n_m)
        assert one.lasting_kg == pytest.approx(0.1 * one.expected_kg)
    assert coupons(FULL_SEWN, CATALOGUE, score(resolve(FULL_SEWN, Night(), CATALOGUE))) == ()
    assert any("T" in line.text and "180°" in line.text for line in how_to())


def test_re_read_the_table_adds_up_and_every_column_is_told():
    schedule, _ = scheduled(FILM)
    text = joint_table_csv(schedule)
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    assert text.startswith("\ufeff") and list(rows[0]) == list(JOINT_COLUMNS)
    for column, whole in (("tape_m", schedule.totals.tape_m), ("minutes", schedule.totals.minutes),
                          ("sealant_ml", 1e6 * schedule.totals.sealant_m3)):  # fmt: skip
        # Six decimals a cell.
        assert sum(float(row[column] or 0) for row in rows) == pytest.approx(whole, abs=1e-5)
    assert {row["verdict"] for row in rows if row["joint"] == "baffles"} == {"gives way"}
