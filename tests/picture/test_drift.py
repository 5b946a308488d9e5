"""The drift index of designs: what is closed, what is free, how near the quick grid comes to the fine one."""

from math import isinf

import pytest

from engine.catalogue.load import load_catalogue
from engine.design import Baffles, Design, Filling
from engine.fields.drift import drift
from engine.layout import plan_baffles, stations
from engine.night import Night
from engine.picture.drift import drift_of
from engine.quantities import resolve
from engine.score import score


def index_of(**changes):
    design = Design(**changes)
    return drift_of(design, score(resolve(design, Night(), load_catalogue())).loft)


def test_a_sheet_does_not_wander():
    assert index_of(baffles=Baffles(layout="none"), fill=Filling(good="sheet-133")) is None


def test_without_baffles_nothing_is_harder():
    index = index_of(baffles=Baffles(layout="none"))
    assert (index.along, index.across) == pytest.approx((1.0, 1.0))


def test_seams_close_the_way_across_and_leave_the_way_along():
    index = index_of(baffles=Baffles(layout="sewn-through", spacing_mm=120))
    assert isinf(index.across) and index.along == pytest.approx(1.0)


def test_crosswise_baffles_close_the_way_along():
    index = index_of(baffles=Baffles(layout="full, crosswise"))
    assert isinf(index.along) and index.across == pytest.approx(1.0, rel=0.01)


def test_the_quick_grid_keeps_to_what_is_said_of_it():
    # Three cells to a passage are within 4 %, six within 0.9 %, of a row of slits' closed form.
    design = Design(baffles=Baffles(layout="staggered", spacing_mm=140, piece_length_mm=150, gap_mm=90))
    lines = [(b.x0_m, b.y0_m, b.x1_m, b.y1_m) for b in plan_baffles(design).lines]
    fine = drift(*stations(design.outline), lines)
    assert index_of(baffles=design.baffles).across == pytest.approx(fine.across, rel=0.05)


def test_equal_layouts_are_solved_once():
    assert index_of(baffles=Baffles(height_mm=60)) is index_of(baffles=Baffles(height_mm=70))
