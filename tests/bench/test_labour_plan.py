"""Does the work by operation add up to the work score, and does the calendar count as a maker would?"""

import pytest
from hypothesis import given, settings

from engine.bench.labour_plan import cure_days, fixed_paces, labour_plan
from engine.catalogue.load import with_own
from engine.catalogue.models import OwnGood
from engine.night import Night
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SHEET, changed
from tests.engine.strategies import designs


def planned(design, night=None, catalogue=CATALOGUE):
    quantities = resolve(design, night or Night(), catalogue)
    result = score(quantities)
    return labour_plan(design, catalogue, quantities, result), result


def adds_up(design, night=None):
    plan, result = planned(design, night)
    assert sum(work.minutes for work in plan.works) == pytest.approx(60 * float(result.work_h))
    assert sum(work.share for work in plan.works) == pytest.approx(1)
    assert plan.hours == pytest.approx(float(result.work_h))
    assert plan.evenings == int(result.evenings)
    assert plan.elapsed_days >= plan.evenings >= plan.hours / 2.5 - 1e-6
    assert plan.longest.minutes == max(work.minutes for work in plan.works)


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_the_operations_of_a_sample_are_its_work(sample):
    adds_up(sample.design, sample.night)


@given(designs)
@settings(max_examples=40)
def test_so_are_those_of_any_design(design):
    adds_up(design)


@pytest.mark.parametrize("design", ALL, ids=lambda design: design.name)
def test_a_first_quilt_takes_half_as_long_again(design):
    """1.5 (1.3 to 2): common practice, no source."""
    slow, _ = planned(design, Night(first_quilt=True))
    quick, _ = planned(design)
    assert 1.3 <= slow.first_quilt_factor <= 2 and quick.first_quilt_factor == 1
    assert slow.hours == pytest.approx(slow.first_quilt_factor * quick.hours)
    assert slow.practised_hours == pytest.approx(quick.hours)


def test_taping_dominates_a_film_quilt_of_staggered_baffles():
    """A baffle takes 8 to 15 min over both shells: common practice, no source."""
    plan, result = planned(FILM)
    assert plan.longest.operation == "tape"
    baffles = result.bill.joints[0]
    assert 8 <= float(baffles.minutes) / (float(baffles.pieces) / 2) <= 15
    assert plan.longest.minutes > float(baffles.minutes)  # the ends are taped, too
    assert planned(FULL_SEWN)[0].longest.operation == "stitch"


def test_what_is_not_done_is_not_listed():
    operations = {work.operation for work in planned(FULL_SEWN)[0].works}
    assert operations == {"mark", "cut", "sear", "stitch", "fill", "close and weigh"}
    assert "lay in the sheet" in {work.operation for work in planned(SHEET)[0].works}
    assert {"tape", "fold and seal"} <= {work.operation for work in planned(FILM)[0].works}


@pytest.mark.parametrize("cure_h, days", [(0, 0), (12, 0), (21.5, 0), (24, 1), (45.5, 1), (72, 3)])
def test_a_cure_costs_the_evenings_that_it_outlasts(cure_h, days):
    # From the end of one evening of 2.5 h to the start of the next are 21.5 h.
    assert cure_days(cure_h) == days


def test_the_calendar_waits_for_tape_and_for_down_to_rest():
    film, sewn, sheet = (planned(design)[0] for design in (FILM, FULL_SEWN, SHEET))
    assert (film.waiting_days, sewn.waiting_days, sheet.waiting_days) == (2, 1, 0)
    assert film.elapsed_days == film.evenings + 2
    # 72 h before the first hard stuffing of what is taped: common practice, no source.
    assert (film.before_hard_stuffing_h, sewn.before_hard_stuffing_h) == (72, 0)


def test_an_own_pace_of_a_method_moves_its_operation_and_no_other():
    own = OwnGood(kind="joint", id="sewn-seam", minutes_per_m=6.0)
    mine, _ = planned(FULL_SEWN, catalogue=with_own(CATALOGUE, [own]))
    plain, _ = planned(FULL_SEWN)
    before, after = ({work.operation: work.minutes for work in plan.works} for plan in (plain, mine))
    # The catalogue has 3 min/m for a sewn seam; baffles are all that it joins here.
    baffles_m = float(planned(FULL_SEWN)[1].bill.joints[0].length_m)
    assert after.pop("stitch") - before.pop("stitch") == pytest.approx(3.0 * baffles_m)
    assert before == after
    assert [pace.method for pace in mine.paces if pace.own] == ["sewn-seam"]


def test_marking_and_filling_say_that_their_pace_is_fixed():
    assert {"mark", "cut", "fill"} <= set(fixed_paces())
    assert "tape" not in fixed_paces() and "stitch" not in fixed_paces()


def test_taped_and_stitched_is_counted_as_both():
    both = changed(FULL_SEWN, "joints.baffles", "tape-12-stitch")
    operations = {work.operation for work in planned(both)[0].works}
    assert {"tape", "stitch"} <= operations
