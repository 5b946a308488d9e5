"""Cold spots: where they must be by geometry, whatever a quilt's numbers are."""

from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from engine.catalogue.load import load_catalogue
from engine.design import Baffles, Design, Filling, Outline
from engine.fields.grid import outline_of
from engine.night import Night
from engine.picture.cold_spots import CLEAR_OF_END_M, CLEAR_OF_SIDE_M, MOST, cold_spots
from engine.picture.plan import ThicknessPlan, thickness_plan
from engine.quantities import resolve
from engine.samples import samples
from engine.score import score

SEWN = Design(
    outline=Outline(length_mm=1900, width_mm=1100),
    baffles=Baffles(layout="sewn-through", spacing_mm=120, end_chamber_percent=100),
)
FULL = Design(baffles=Baffles(layout="full, lengthwise", height_mm=64, spacing_mm=140))
STAGGERED = Design(baffles=Baffles(layout="staggered", height_mm=64, spacing_mm=140))
SHEET = Design(baffles=Baffles(layout="none"), fill=Filling(good="sheet-133", layers=2, quilting_mm=500))
BARE = Design(baffles=Baffles(layout="none"))
WIDTH, LENGTH = 1.2, 1.9


@cache
def made(design: Design) -> ThicknessPlan:
    return thickness_plan(design, score(resolve(design, Night(), load_catalogue())).loft)


def by_hand(thickness, baffles) -> ThicknessPlan:
    """A plan whose thickness is a function of x and y, with nodes 10 mm apart."""
    x, y = np.linspace(0, WIDTH, 121), np.linspace(0, LENGTH, 191)
    outline = outline_of(np.array([0.0, LENGTH]), np.array([WIDTH, WIDTH]))
    at_x, at_y = np.meshgrid(x, y)
    return ThicknessPlan(x, y, thickness(at_x, at_y), tuple(baffles), (), outline, 0.080, False)


def mirrored(plan: ThicknessPlan) -> ThicknessPlan:
    """Left for right."""
    width = plan.outline.width_m

    def turned(lines):
        return tuple((width - x0, y0, width - x1, y1) for x0, y0, x1, y1 in lines)

    return replace(
        plan,
        x_m=width - plan.x_m[::-1],
        thickness_m=plan.thickness_m[:, ::-1],
        baffles=turned(plan.baffles),
        sewn=turned(plan.sewn),
    )


def test_the_cold_lines_of_a_sewn_through_quilt_are_its_seams():
    plan = made(SEWN)
    spots = cold_spots(plan)
    seams = [x0 for x0, _, _, _ in plan.sewn]
    assert {spot.kind for spot in spots} == {"along the seam"}
    assert all(spot.thickness_m == 0 and spot.share_of_mean == 0 and spot.all_along for spot in spots)
    for spot in spots:
        for x, _ in spot.places_m:
            assert min(abs(x - seam) for seam in seams) < 1e-6
    # The seams nearest to the middle come first: those lie most surely under the sleeper.
    off = [abs(spot.off_middle_m) for spot in spots]
    assert off == sorted(off)


def test_a_full_baffle_is_as_thin_as_it_is_high():
    plan = made(FULL)
    for spot in cold_spots(plan):
        assert spot.kind == "along a baffle" and spot.all_along and not spot.crosswise
        assert spot.thickness_m == pytest.approx(0.064)
        assert spot.share_of_mean == pytest.approx(0.064 / plan.mean_m)


def test_crosswise_baffles_are_told_from_the_head():
    crosswise = FULL.model_copy(update={"baffles": Baffles(layout="full, crosswise", height_mm=64)})
    spots = cold_spots(made(crosswise))
    assert spots and all(spot.crosswise and abs(spot.off_middle_m) < 1e-6 for spot in spots)


def test_the_lines_that_hold_a_sheet_are_its_cold_spots():
    plan = made(SHEET)
    spots = cold_spots(plan)
    assert {spot.kind for spot in spots} == {"along a quilting line"}
    told = {round(y, 6) for spot in spots for _, y in spot.places_m}
    assert told == {round(y0, 6) for _, y0, _, _ in plan.sewn}


def test_without_lines_there_is_no_cold_spot():
    assert cold_spots(made(BARE)) == ()


@pytest.mark.parametrize("design", [SEWN, FULL, STAGGERED, SHEET], ids=["sewn", "full", "staggered", "sheet"])
def test_a_mirrored_quilt_has_the_same_spots_on_the_other_side(design):
    plan = made(design)
    width = plan.outline.width_m
    ours, theirs = cold_spots(plan), cold_spots(mirrored(plan))
    assert len(ours) == len(theirs)

    def places(spots, turn):
        return sorted(
            (round(width - x if turn else x, 4), round(y, 4), spot.kind, round(spot.thickness_m, 5))
            for spot in spots
            for x, y in spot.places_m
        )

    assert places(ours, turn=False) == places(theirs, turn=True)


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_spots_are_few_under_the_sleeper_ordered_and_no_image_is_told_twice(sample):
    plan = made(sample.design)
    spots = cold_spots(plan)
    assert spots == cold_spots(plan)
    assert len(spots) <= MOST
    thin = [spot.thickness_m for spot in spots]
    # Places within half a millimetre of one another count as equal.
    assert all(one <= other + 0.0005 for one, other in pairwise(thin))
    outline = plan.outline
    seen = []
    for spot in spots:
        for x, y in spot.places_m:
            half = np.interp(y, outline.position_m, outline.half_m)
            assert half - abs(x - outline.width_m / 2) >= CLEAR_OF_SIDE_M - 1e-6
            assert min(y, outline.length_m - y) >= CLEAR_OF_END_M - 1e-6
            seen.append((round(x, 2), round(y, 2)))
        assert spot.both_sides == (len({round(x, 3) for x, _ in spot.places_m}) > 1)
    assert len(seen) == len(set(seen))


def test_a_symmetric_plan_lists_mirror_images_once():
    spots = cold_spots(made(FULL))
    assert all(spot.both_sides and len(spot.places_m) == 2 for spot in spots)


def test_a_hollow_between_two_pieces_of_a_row_is_found():
    pieces = [(0.4, 0.5, 0.4, 0.8), (0.4, 1.0, 0.4, 1.3)]

    def thickness(x, y):
        hollow = np.exp(-(((x - 0.4) / 0.08) ** 2) - ((y - 0.9) / 0.05) ** 2)
        return 0.075 - 0.030 * hollow

    first = cold_spots(by_hand(thickness, pieces))[0]
    assert first.kind == "between baffles"
    assert first.places_m[0] == pytest.approx((0.4, 0.9))
    assert first.off_middle_m == pytest.approx(-0.2) and not first.both_sides
    assert first.thickness_m == pytest.approx(0.045)


def test_a_piece_that_is_thinnest_at_its_tip_is_told_at_its_open_end():
    def thickness(x, y):
        return 0.070 - 0.030 * np.exp(-(((x - 0.7) / 0.08) ** 2) - ((y - 1.0) / 0.06) ** 2)

    first = cold_spots(by_hand(thickness, [(0.7, 0.7, 0.7, 1.0)]))[0]
    assert first.kind == "at a baffle's open end"
    x, y = first.places_m[0]
    # The tip, or within a palm's reach of it: that is where a palm feels least.
    assert x == pytest.approx(0.7) and y == pytest.approx(1.0, abs=0.025)


def test_what_is_as_thick_as_the_mean_is_no_cold_spot():
    assert cold_spots(by_hand(lambda x, y: np.full_like(x, 0.080), [(0.7, 0.7, 0.7, 1.0)])) == ()


@pytest.mark.parametrize("share, count", [(0.96, 0), (0.95, 0), (0.94, 1)])
def test_a_place_of_95_percent_of_the_mean_or_more_is_no_cold_spot(share, count):
    def thickness(x, y):
        return np.where((x > 0.6) & (x < 0.8), share * 0.080, 0.080)

    assert len(cold_spots(by_hand(thickness, [(0.7, 0.3, 0.7, 1.6)]))) == count


def test_a_thin_line_beside_the_sleeper_is_not_told():
    beside = by_hand(lambda x, y: np.full_like(x, 0.030), [(0.06, 0.5, 0.06, 1.2), (0.4, 0.1, 0.8, 0.1)])
    assert cold_spots(beside) == ()
