"""Air of whole quilts: times worked by hand, what makers see, and what a push pulls at."""

from dataclasses import replace
from math import inf, isinf

import pytest

from engine.air import GENTLE_HAND_PA, STUFFING_PA, air_of, holds_n_m
from engine.catalogue.load import load_catalogue
from engine.night import Night
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score
from engine.units import HOUR, MINUTE
from tests.engine.made import FILM, FULL_SEWN, SEWN_THROUGH, SHEET, changed

CATALOGUE = load_catalogue()
SEALED = changed(FILM, "end_panels.fitted", False)


def air(design):
    quantities = resolve(design, Night(), CATALOGUE)
    return air_of(design, CATALOGUE, quantities, score(quantities))


def test_a_film_quilt_with_full_uncoated_ends_lofts_as_makers_see_it():
    """To the eye in minutes, to the ruler in 1 to 3 h: common practice, no source.

    What is computed is the air: it must not be what the ruler waits for. Down takes the hours to straighten.
    """
    got = air(FILM)
    assert 0.5 * MINUTE < got.eye_s < 10 * MINUTE
    assert got.eye_s < got.ruler_s < 1 * HOUR
    assert got.to_the_ruler_s == (1 * HOUR, 3 * HOUR)


def test_calendered_ends_are_slower_by_their_permeability():
    slow = air(changed(FILM, "end_panels.fabric", "nylon-10d-26"))
    # 40 against 5 mm/s at 100 Pa.
    assert slow.ruler_s / air(FILM).ruler_s == pytest.approx(8)
    assert slow.squeeze_out_s / air(FILM).squeeze_out_s == pytest.approx(8)


def test_where_the_air_is_slower_than_the_down_the_ruler_waits_for_the_air():
    tight = replace(air(FILM), ruler_s=10 * HOUR)
    assert tight.to_the_ruler_s == (10 * HOUR, 10 * HOUR)
    assert replace(tight, ruler_s=2 * HOUR).to_the_ruler_s == (2 * HOUR, 3 * HOUR)


def test_the_time_to_squeeze_out_is_volume_over_flow():
    got = air(FILM)
    # Definition of air permeability: flow at 100 Pa, ten times that at 1 kPa. Panels 1120 x 64 mm each.
    assert got.panel_area_m2 == pytest.approx(2 * 1.120 * 0.064)
    assert got.panels_m3_s == pytest.approx(got.panel_area_m2 * 0.040)
    assert got.squeeze_out_s == pytest.approx(got.volume_m3 / (got.panels_m3_s * GENTLE_HAND_PA / 100))


def test_an_airtight_shell_without_vents_never_lets_go():
    got = air(SEALED)
    assert got.no_way_out and got.shut_in
    assert (got.squeeze_out_s, got.eye_s, got.ruler_s) == (inf, inf, inf)


def test_one_breathable_shell_is_vent_enough():
    one_side = air(changed(SEALED, "shells.outer", "nylon-10d-26"))
    assert one_side.airtight_sides == ("inner",) and not one_side.shut_in
    assert one_side.squeeze_out_s < 30 and not one_side.limit_matters


def test_a_short_baffle_carries_the_area_that_is_its_own():
    # Worked apart: 49 baffles of 165 mm in 1.98 x 0.99 m carry 242 N on each metre at 1 kPa.
    by_hand_n_m = 1000 * 1.98 * 0.99 / (49 * 0.165)
    assert by_hand_n_m == pytest.approx(242, abs=0.5)
    got = air(FILM)
    quantities = resolve(FILM, Night(), CATALOGUE)
    area, count = float(score(quantities).loft.finished_area_m2), float(quantities.baffle_count)
    assert got.tributary_m == pytest.approx(area / (count * 0.150))
    # Each row stands 140 mm from the next and is open for a gap between pieces: more than a full baffle.
    assert got.tributary_m > 0.140


def test_stuffing_pulls_tape_off_film_but_not_a_sewn_seam():
    """5 kPa of shut-in air exceeds the 200 to 800 N/m that thin tape holds (from memory) on short baffles."""
    got = air(FILM)
    assert got.foot_load_n_m > 800 and not got.passes_stuffing
    assert got.squeeze_limit_pa == pytest.approx(330 / got.tributary_m)
    assert got.limit_matters
    sewn = air(changed(FULL_SEWN, "baffles.spacing_mm", 120))
    # By hand: 5 kPa over 0.12 m is 600 N/m, a sewn seam holds 2500.
    assert sewn.foot_load_n_m == pytest.approx(600, rel=0.2)
    assert sewn.passes_stuffing and not sewn.limit_matters


def test_tape_holds_a_third_on_woven_cloth_and_nothing_on_silicone():
    tape, stitched = CATALOGUE.joint("tape-6"), CATALOGUE.joint("tape-12-stitch")
    film, woven, silicone = (
        CATALOGUE.fabric(id) for id in ("film-17", "nylon-10d-26", "nylon-coated-20d-44")
    )
    assert holds_n_m(tape, [film, film]) == 330
    # 0.3 of what it holds on film: common practice, no source.
    assert holds_n_m(tape, [film, woven]) == pytest.approx(99)
    # Near zero on silicone-treated cloth: from memory, an order of magnitude (40 N/m and less).
    assert holds_n_m(tape, [film, silicone]) <= 40
    assert holds_n_m(stitched, [woven, silicone]) == stitched.peel_n_m


@pytest.mark.parametrize("design", [SHEET], ids=["sheet"])
def test_without_baffles_there_is_no_limit(design):
    got = air(design)
    assert isinf(got.squeeze_limit_pa) and got.passes_stuffing and not got.limit_matters


def test_a_tight_fill_stands_before_its_spring_is_spent():
    loose, tight = (air(changed(FILM, "fill.overstuff_percent", more)) for more in (0, 60))
    # Shells stop it short of its free volume, where the spring would be slowest.
    assert tight.ruler_s < loose.ruler_s


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_times_are_in_order(sample):
    got = air(sample.design)
    assert 0 < got.squeeze_out_s < got.eye_s < got.ruler_s
    assert got.foot_load_n_m == pytest.approx(STUFFING_PA * got.tributary_m)


def test_sewn_through_lines_hold_their_chamber():
    assert air(SEWN_THROUGH).tributary_m == pytest.approx(0.120, rel=0.1)
