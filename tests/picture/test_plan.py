"""The plan of thickness against closed forms of channels and sheets, and against the fill it must hold."""

from functools import cache

import numpy as np
import pytest

from engine.catalogue.load import load_catalogue
from engine.design import Baffles, Design, Filling, Outline
from engine.night import Night
from engine.picture.plan import ThicknessPlan, thickness_plan
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score

SEWN = Design(
    outline=Outline(length_mm=1900, width_mm=1100),
    baffles=Baffles(layout="sewn-through", spacing_mm=120, end_chamber_percent=100),
)
FULL = Design(baffles=Baffles(layout="full, lengthwise", height_mm=64, spacing_mm=140))
SHEET = Design(baffles=Baffles(layout="none"), fill=Filling(good="sheet-133", layers=2, quilting_mm=500))


@cache
def made(design: Design) -> tuple[ThicknessPlan, float]:
    """The plan of a design, and its mean loft by the scores."""
    loft = score(resolve(design, Night(), load_catalogue())).loft
    return thickness_plan(design, loft), float(loft.mean_m)


def integrated_mean(plan: ThicknessPlan) -> float:
    """Mean over the outline, by trapezia."""
    filled = np.nan_to_num(plan.thickness_m)
    return float(np.trapezoid(np.trapezoid(filled, plan.x_m, axis=1), plan.y_m)) / plan.outline.area_m2


def along_row(plan: ThicknessPlan, x_m, y_m: float):
    return plan.at(np.asarray(x_m, dtype=float), np.full(np.shape(x_m), y_m))


def test_a_sewn_channel_far_from_its_ends_is_a_parabola():
    # A membrane under even pressure between two straight seams: t = peak (1 - (2 x / w)^2).
    plan, _ = made(SEWN)
    seams = sorted(x0 for x0, _, _, _ in plan.sewn)
    left, right = seams[3], seams[4]
    peak = along_row(plan, [(left + right) / 2], 0.95)[0]
    for share in (0.25, 0.5, 0.75):
        place = (left + right) / 2 + share * (right - left) / 2
        # Straight lines between nodes an eighth of a chamber apart miss it by 1/64 of its peak at most.
        assert along_row(plan, [place], 0.95)[0] == pytest.approx(peak * (1 - share**2), abs=peak / 60)


def test_nothing_stands_on_a_seam_and_a_full_baffle_stands_at_its_height():
    plan, _ = made(SEWN)
    for x0, _, _, _ in plan.sewn:
        assert along_row(plan, [x0], 0.95)[0] == pytest.approx(0.0, abs=1e-9)
    plan, _ = made(FULL)
    assert len(plan.baffles) > 3
    for x0, _, _, _ in plan.baffles[1:-1]:
        assert along_row(plan, [x0], 0.95)[0] == pytest.approx(0.064)


def test_the_outermost_edge_of_a_pinched_quilt_is_closed():
    plan, _ = made(FULL)
    middle = plan.outline.length_m / 2
    assert along_row(plan, [0.0, plan.outline.width_m], middle) == pytest.approx([0.0, 0.0])


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_the_plan_holds_the_mean_loft_of_the_scores(sample):
    # Definition of a mean. Trapezia miss 1/64 of a parabola with eight cells to a chamber.
    plan, mean = made(sample.design)
    assert integrated_mean(plan) == pytest.approx(mean, rel=0.02)


def test_a_sheet_falls_over_its_own_thickness_to_a_quilting_line_and_to_the_edge():
    plan, mean = made(SHEET)
    x, line = np.array([plan.outline.width_m / 2]), plan.sewn[0][1]
    top = float(np.nanmax(plan.thickness_m))
    assert plan.at(x, np.array([line]))[0] == pytest.approx(0.0, abs=1e-9)
    # Rise 1 to 1 by its definition; nodes 12 mm apart round the shoulder off.
    for away in (0.010, 0.020):
        assert plan.at(x, np.array([line + away]))[0] == pytest.approx(away, abs=0.002)
        assert plan.at(np.array([away]), np.array([line + 0.2]))[0] == pytest.approx(away, abs=0.002)
    assert plan.at(x, np.array([line + 2 * top]))[0] == pytest.approx(top)
    assert mean < top


def test_outside_a_tapered_outline_there_is_nothing():
    taper = Outline(shape="taper", length_mm=1900, width_mm=1200, foot_width_mm=900, taper_from_mm=900)
    plan, _ = made(FULL.model_copy(update={"outline": taper}))
    assert np.isnan(plan.at(np.array([0.02, 1.18, 0.6]), np.array([1.85, 1.85, 1.95]))).all()
    assert np.isfinite(plan.at(np.array([0.02, 1.18, 0.6]), np.array([0.2, 0.2, 1.85]))).all()


def test_every_line_has_nodes_of_its_own():
    for design in (SEWN, FULL, SHEET):
        plan, _ = made(design)
        for x0, y0, x1, y1 in (*plan.baffles, *plan.sewn):
            nodes, place = (plan.x_m, x0) if x0 == x1 else (plan.y_m, y0)
            assert np.min(np.abs(nodes - place)) < 1e-6 and (x0 == x1 or y0 == y1)
        assert np.all(np.diff(plan.x_m) > 0) and np.all(np.diff(plan.y_m) > 0)
