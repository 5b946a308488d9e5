"""Where do baffles and chambers stand: do the rows close, stay inside, and follow the outline?"""

import time
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from engine.design import Baffles, Design, Outline
from engine.evaluate import evaluate
from engine.layout import divide, plan_baffles, stations
from engine.night import Night
from engine.refusals import explain
from tests.engine.made import CATALOGUE, FILM, PUPIL, changed
from tests.engine.strategies import outlines

LAYOUTS = ("none", "sewn-through", "full, lengthwise", "full, crosswise", "staggered", "alternating")
CLOSED_EDGE_M = 0.070
"""Common practice, no source: no staggered baffle nearer than 60 to 75 mm to a closed edge."""


def planned(layout, outline=None, **baffles):
    return plan_baffles(Design(outline=outline or Outline(), baffles=Baffles(layout=layout, **baffles)))


def half_width(outline, along):
    position, width = stations(outline)
    return np.interp(along, position, width) / 2


def test_tapered_ends_may_meet_in_the_middle():
    outline = Outline(shape="tapered ends", length_mm=1000, width_mm=1000, end_run_mm=500, end_inset_mm=100)
    position, width = stations(outline)
    assert np.all(np.diff(position) > 0)
    # Two trapezoids of 0.8 and 1.0 m over 0.5 m each: 0.9 m2, but for the sliver.
    assert np.trapezoid(width, position) == pytest.approx(0.9, abs=2e-4)


def test_nine_chambers_of_122_mm_close_a_shell_of_1100_mm():
    # Common practice, no source: a first quilt has nine chambers of 122 mm inside, 133 mm outside.
    plan = plan_baffles(PUPIL)
    assert plan.chamber_count == 9
    assert 1000 * plan.chamber_width_m == pytest.approx(122, abs=0.5)
    assert [round(1000 * line.x0_m) for line in plan.lines] == [122, 244, 367, 489, 611, 733, 856, 978]
    assert 1000 * evaluate(PUPIL, Night(), CATALOGUE).derived.chamber_outer_m == pytest.approx(133, abs=0.5)


@given(st.floats(0.3, 2.6), st.floats(0.04, 0.6), st.floats(0.4, 1.0))
def test_the_chambers_of_a_row_add_up_to_its_size(size, pitch, end_share):
    count, width = divide(size, pitch, end_share)
    ends = 1 if count == 1 else 2
    whole = width * count if count <= 2 else width * (count - ends + ends * end_share)
    assert whole == pytest.approx(size, rel=1e-12)
    # Rounding to whole chambers moves a row of three or more by at most half a chamber.
    if count > 2:
        assert abs(width - pitch) * (count - 2 + 2 * end_share) <= pitch / 2 + 1e-9


# Alternating baffles change places with the crosswise ones of an even row, as in any chequer.
@given(outlines, st.floats(40, 600), st.floats(40, 100), st.sampled_from(LAYOUTS[:-1]))
def test_baffle_lines_stand_as_a_mirror_would_show_them(outline, spacing, end, layout):
    plan = planned(layout, outline, spacing_mm=spacing, end_chamber_percent=end)
    across = layout == "full, crosswise"
    size = (outline.length_mm if across else np.max(stations(outline)[1]) * 1000) / 1000
    rows = sorted({line.y0_m if across else line.x0_m for line in plan.lines})
    np.testing.assert_allclose(rows, [size - row for row in rows[::-1]], atol=1e-9)


@given(outlines, st.floats(40, 600), st.floats(40, 600), st.floats(20, 400), st.sampled_from(LAYOUTS))
def test_no_baffle_leaves_the_shell(outline, spacing, piece, gap, layout):
    plan = planned(layout, outline, spacing_mm=spacing, piece_length_mm=piece, gap_mm=gap)
    widest = np.max(stations(outline)[1])
    for line in plan.lines:
        for x, y in ((line.x0_m, line.y0_m), (line.x1_m, line.y1_m)):
            assert 0 <= y <= outline.length_mm / 1000 + 1e-9
            # Along slanting sides the place is found on a grid of a two-thousandth of the length.
            assert abs(x - widest / 2) <= half_width(outline, y) + 1e-6


@given(outlines, st.floats(40, 600), st.floats(20, 400))
def test_staggered_baffles_keep_clear_of_the_closed_ends_and_of_each_other(outline, piece, gap):
    plan = planned("staggered", outline, piece_length_mm=piece, gap_mm=gap)
    columns = {}
    for line in plan.lines:
        assert line.y0_m >= CLOSED_EDGE_M
        assert line.y1_m <= outline.length_mm / 1000 - CLOSED_EDGE_M + 1e-9
        assert line.length_m == pytest.approx(piece / 1000)
        columns.setdefault(line.x0_m, []).append(line)
    for column in columns.values():
        for first, second in pairwise(column):
            assert second.y0_m - first.y1_m == pytest.approx(gap / 1000)


def test_staggered_rows_are_shifted_by_half_a_repeat():
    plan = planned("staggered", piece_length_mm=150, gap_mm=90)
    starts = {}
    for line in plan.lines:
        starts.setdefault(line.x0_m, line.y0_m)
    offsets = [starts[x] for x in sorted(starts)]
    np.testing.assert_allclose(np.abs(np.diff(offsets)), 0.120)


def test_a_usual_staggered_quilt_has_30_to_60_pieces():
    # Common practice, no source: 150 mm pieces, 90 mm gaps, in an underquilt of 190 x 112 cm.
    assert 30 <= len(planned("staggered", spacing_mm=140).lines) <= 60


def test_crosswise_baffles_follow_the_taper():
    outline = Outline(shape="taper", length_mm=2000, width_mm=1300, foot_width_mm=900, taper_from_mm=1000)
    lines = planned("full, crosswise", outline, spacing_mm=200, end_chamber_percent=100).lines
    lengths = {round(1000 * line.y0_m): 1000 * line.length_m for line in lines}
    # By hand: full width to 1000 mm, then 400 mm less over a metre.
    assert lengths[800] == pytest.approx(1300)
    assert lengths[1200] == pytest.approx(1220)
    assert lengths[1800] == pytest.approx(980)


def test_lengthwise_baffles_stop_50_to_75_mm_short_of_the_ends():
    # Common practice, no source: the filling end stays open to the hand.
    for line in planned("full, lengthwise").lines:
        assert 0.050 <= line.y0_m <= 0.075
        assert 0.050 <= 1.9 - line.y1_m <= 0.075


def test_sewn_lines_run_from_end_to_end():
    for line in planned("sewn-through").lines:
        assert (line.y0_m, line.y1_m) == pytest.approx((0.0, 1.9))


def test_a_quilt_without_baffles_is_one_chamber():
    plan = planned("none")
    assert plan.lines == () and plan.chamber_count == 1 and plan.chamber_width_m == pytest.approx(1.12)


def test_the_busiest_valid_design_does_not_hang():
    # 1.99 m / 40 mm rows of 2.44 m / 60 mm pieces: by hand 50 x 41, so about 2000.
    busiest = Design(
        outline=Outline(length_mm=2600, width_mm=2000),
        baffles=Baffles(layout="staggered", spacing_mm=40, piece_length_mm=40, gap_mm=20),
    )
    assert len(plan_baffles(busiest).lines) <= 2200
    start = time.process_time()
    evaluate(busiest, Night(), CATALOGUE)
    assert time.process_time() - start < 60, "no hang; what it costs is a benchmark's matter"


@pytest.mark.parametrize(
    "fields, told",
    [
        (
            {"outline": {"shape": "taper", "width_mm": 1000, "foot_width_mm": 1010}},
            "foot_width_mm is 1010 mm; allowed: up to the width, 1000 mm.",
        ),
        ({"fill": {"quilting_mm": 1}}, "quilting_mm is 1 mm; allowed: 0, or 50 to 1000 mm."),
    ],
)
def test_a_slip_of_the_pen_is_refused_by_name_value_and_what_is_allowed(fields, told):
    with pytest.raises(ValidationError) as refused:
        Design.model_validate(fields)
    assert explain(refused.value, Design) == (told,)


ALTERNATING = changed(FILM, "baffles.layout", "alternating")


def test_alternating_baffles_stand_lengthwise_and_crosswise_in_turn():
    lines = plan_baffles(ALTERNATING).lines
    lengthwise = [line for line in lines if line.x0_m == line.x1_m]
    crosswise = [line for line in lines if line.y0_m == line.y1_m]
    assert len(lengthwise) + len(crosswise) == len(lines) and lengthwise and crosswise
    assert abs(len(lengthwise) - len(crosswise)) <= len(lines) / 4
    for one in lengthwise:
        x, y = one.x0_m, (one.y0_m + one.y1_m) / 2
        assert not any(abs((o.x0_m + o.x1_m) / 2 - x) < 1e-9 and abs(o.y0_m - y) < 1e-9 for o in crosswise)


@pytest.mark.parametrize("shape", ["rectangle", "taper", "tapered ends"])
def test_alternating_baffles_keep_off_the_edges(shape):
    # 60 to 75 mm at least, or the corners cannot be filled: common practice, no source.
    design = changed(ALTERNATING, "outline.shape", shape)
    position, width = stations(design.outline)
    for line in plan_baffles(design).lines:
        for x, y in ((line.x0_m, line.y0_m), (line.x1_m, line.y1_m)):
            half = np.interp(y, position, width) / 2
            if line.y0_m == line.y1_m:
                assert half - abs(x - np.max(width) / 2) >= 0.060
            else:
                assert min(y, position[-1] - y) >= 0.060
