"""Minutes and prices worked by hand, and against what makers need at the bench."""

import numpy as np
import pytest

from engine.catalogue.load import load_catalogue
from engine.formulas import cost, labour


def test_fifty_taped_staggered_baffles_take_7_to_12_hours():
    # Common practice, no source: 8 to 15 min a baffle over both shells, so a 50-baffle quilt is 7 to
    # 12 h of baffles alone. Each baffle of 150 mm is taped to two shells.
    tape = load_catalogue().joint("tape-6")
    minutes = labour.joint_minutes(50 * 2 * 0.150, 50 * 2, tape.minutes_per_m, tape.minutes_per_piece)
    assert 7 <= labour.bench_hours(minutes, 1.0) <= 12
    assert 8 <= minutes / 50 <= 15


def test_sewing_goes_at_the_pace_of_the_trade():
    # Common practice, no source: 12 to 28 m of baffle seam and 6 to 14 m of edge seam an hour.
    seam, edge = (load_catalogue().joint(name) for name in ("sewn-seam", "sewn-double"))
    assert 12 <= 60 / seam.minutes_per_m <= 28
    assert 6 <= 60 / edge.minutes_per_m <= 14


def test_marking_and_cutting_a_full_quilt_takes_one_and_a_half_to_four_hours():
    # Common practice, no source: 2.5 h for two shells of 190 x 112 cm.
    assert 1.5 <= labour.mark_and_cut_minutes(2 * 1.90 * 1.12) / 60 <= 4
    assert labour.mark_and_cut_minutes(2 * 1.90 * 1.12) / 60 == pytest.approx(2.5, abs=0.25)


def test_filling_nine_chambers_takes_two_hours():
    # Common practice, no source: half an hour and ten minutes a chamber, so 2 h for nine.
    assert pytest.approx(120, abs=10) == labour.FILL_SETUP_MIN + 9 * labour.FILL_MIN_PER_CHAMBER
    assert 60 <= labour.FILL_STAGGERED_MIN <= 120


def test_a_first_quilt_takes_half_as_long_again():
    # Common practice, no source: 1.3 to 2 times.
    assert labour.bench_hours(600.0, labour.FIRST_QUILT_FACTOR) == pytest.approx(15.0)


@pytest.mark.parametrize("hours, evenings", [(0, 0), (2.5, 1), (2.51, 2), (9.9, 4), (10.0, 4)])
def test_an_evening_once_begun_counts_whole(hours, evenings):
    assert labour.evenings(hours) == evenings


def test_a_square_metre_costs_its_share_of_the_usable_width():
    # By hand: 12 a metre, 1.45 m wide with 25 mm lost at each side: 12/1.40 = 8.571.
    assert cost.price_per_area(12.0, 1.45, 0.025) == pytest.approx(8.5714, abs=1e-4)


def test_what_is_lost_on_the_way_is_paid_for():
    # By hand: 50 m of tape at 0.40 with a tenth lost: 22.
    assert cost.used_cost(50.0, 0.4, cost.TAPE_WASTE) == pytest.approx(22.0)
    # Common practice, no source: tape 5 to 15 %, down 1 to 3 %.
    assert 0.05 <= cost.TAPE_WASTE <= 0.15 and 0.01 <= cost.FILL_LOSS <= 0.03


@pytest.mark.parametrize(
    "amount, step, bought", [(2.01, 0.1, 2.1), (2.0, 0.1, 2.0), (0.3, 0.1, 0.3), (0, 1, 0), (3, 5, 5)]
)
def test_a_shop_sells_whole_steps(amount, step, bought):
    assert cost.rounded_up(amount, step) == pytest.approx(bought, abs=1e-12)


def test_many_at_once_give_what_single_ones_give():
    hours = np.linspace(0, 30, 13)
    np.testing.assert_array_equal(labour.evenings(hours), [labour.evenings(float(h)) for h in hours])
    np.testing.assert_array_equal(
        cost.rounded_up(hours, 0.7), [cost.rounded_up(float(h), 0.7) for h in hours]
    )


@pytest.mark.parametrize(
    "call, message",
    [
        (lambda: labour.joint_minutes(-1.0, 1.0, 3.0, 0.0), "length_m is -1 m"),
        (lambda: labour.joint_minutes(1.0, -1.0, 3.0, 0.0), "pieces is -1 pieces"),
        (lambda: cost.price_per_area(12.0, 0.05, 0.025), "usable width is 0 m"),
        (lambda: cost.used_cost(-1.0, 2.0, 0.1), "amount is -1"),
        (lambda: cost.rounded_up(1.0, 0.0), "step is 0"),
    ],
)
def test_impossible_input_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
