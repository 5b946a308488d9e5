"""Is a wish met where a dense grid says that it can be, and refused where it cannot?"""

import numpy as np
import pytest

from engine.explore.choices import changed
from engine.explore.rows import KEYS
from engine.explore.sweep import sweep
from engine.explore.target import in_steps, reach
from engine.explore.target_pair import reach_for_least
from engine.night import Night
from engine.quantities import resolve
from engine.refusals import Refusal
from engine.score import score
from tests.engine.made import CATALOGUE, FILM, PUPIL, SEWN_THROUGH, SHEET
from tests.explore.recipes import among, any_of, span

LONG = changed(PUPIL, [("outline.length_mm", 1900), ("outline.width_mm", 1300)])
WISHES = [
    (PUPIL, "baffles.height_mm", "comfort_c", -1.0, span("baffles.height_mm", 5, 300, 0.5)),
    (LONG, "baffles.height_mm", "comfort_c", -9.0, span("baffles.height_mm", 5, 300, 0.5)),
    (LONG, "fill.overstuff_percent", "weight_kg", 0.60, span("fill.overstuff_percent", -50, 150, 0.25)),
    (FILM, "fill.overstuff_percent", "volume_m3", 0.005, span("fill.overstuff_percent", -50, 150, 0.25)),
    (SEWN_THROUGH, "fill.overstuff_percent", "cost", 85.0, span("fill.overstuff_percent", -50, 150, 0.25)),
    (FILM, "cut.wrap_across_rad", "weight_kg", 0.46, span("cut.wrap_across_rad", 0, 3.2, 0.01)),
]


def dense(design, choice, key):
    result = sweep(design, Night(), CATALOGUE, among(choice))
    return np.array(result.axes[0].values), result.scored.scores[:, KEYS.index(key)]


@pytest.mark.parametrize("design, path, key, wish, grid", WISHES, ids=[f"{w[1]} for {w[2]}" for w in WISHES])
def test_the_answer_lies_where_a_dense_grid_passes_the_wish(design, path, key, wish, grid):
    answer = reach(design, Night(), CATALOGUE, path, key, wish)
    values, scores = dense(design, grid, key)
    passes = np.flatnonzero((scores[:-1] - wish) * (scores[1:] - wish) <= 0)
    assert answer.met and len(passes)
    inside = (values[passes] <= answer.values[path]) & (answer.values[path] <= values[passes + 1])
    assert inside.any(), (answer.values, values[passes])
    # Narrowed to 1e-12 of the range: 1e-9 of a score that changes by less than a hundred over it.
    assert answer.scores[key] == pytest.approx(wish, abs=1e-8)
    assert answer.scores[key] <= wish
    single = score(resolve(answer.design, Night(), CATALOGUE))
    assert float(getattr(single, key)) == pytest.approx(wish, abs=1e-8)


@pytest.mark.parametrize(
    "path, key, wish",
    [("baffles.height_mm", "comfort_c", -40.0), ("fill.overstuff_percent", "weight_kg", 0.2)],
)
def test_where_the_wish_is_out_of_reach_the_nearest_is_told(path, key, wish):
    answer = reach(PUPIL, Night(), CATALOGUE, path, key, wish)
    low, high = {"baffles.height_mm": (5, 300), "fill.overstuff_percent": (-50, 150)}[path]
    _, scores = dense(PUPIL, span(path, low, high, (high - low) / 1000), key)
    assert not answer.met
    assert answer.least == pytest.approx(scores.min(), rel=0.01)
    assert answer.most == pytest.approx(scores.max(), rel=0.01)
    assert abs(answer.scores[key] - wish) <= np.abs(scores - wish).min() + 0.01 * np.ptp(scores)


def test_of_several_values_the_one_nearest_to_the_designs_own_is_taken():
    own = reach(LONG, Night(), CATALOGUE, "baffles.height_mm", "comfort_c", -7.0).values["baffles.height_mm"]
    lower, higher = (
        reach(
            changed(LONG, [("baffles.height_mm", h)]),
            Night(),
            CATALOGUE,
            "baffles.height_mm",
            "comfort_c",
            -7.0,
        )
        for h in (20.0, 200.0)
    )
    values, scores = dense(LONG, span("baffles.height_mm", 5, 300, 0.5), "comfort_c")
    crossings = values[np.flatnonzero((scores[:-1] + 7) * (scores[1:] + 7) <= 0)]
    for answer, start in ((lower, 20.0), (higher, 200.0)):
        nearest = crossings[np.argmin(np.abs(crossings - start))]
        assert answer.values["baffles.height_mm"] == pytest.approx(nearest, abs=1.0)
    assert np.min(np.abs(crossings - own)) < 1


def test_a_count_is_answered_in_whole_numbers_on_the_side_that_meets_the_wish():
    sheet = changed(SHEET, [("outline.width_mm", 1300)])
    weights = [
        float(score(resolve(changed(sheet, [("fill.layers", n)]), Night(), CATALOGUE)).weight_kg)
        for n in range(1, 7)
    ]
    wish = (weights[2] + weights[3]) / 2
    answer = reach(sheet, Night(), CATALOGUE, "fill.layers", "weight_kg", wish)
    assert answer.values == {"fill.layers": 3} and answer.design.fill.layers == 3
    assert answer.scores["weight_kg"] == pytest.approx(weights[2])


def test_a_size_may_be_solved_too_although_each_is_another_layout():
    answer = reach(LONG, Night(), CATALOGUE, "outline.length_mm", "weight_kg", 0.58)
    assert answer.met
    assert answer.scores["weight_kg"] == pytest.approx(0.58, abs=1e-4)
    assert answer.scores["weight_kg"] <= 0.58


def test_a_value_on_a_whole_step_still_meets_the_wish():
    answer = reach(LONG, Night(), CATALOGUE, "baffles.height_mm", "comfort_c", -9.0)
    whole = in_steps(LONG, Night(), CATALOGUE, answer, "comfort_c", -9.0, 1.0)
    value = answer.values["baffles.height_mm"]
    assert whole.values["baffles.height_mm"] in (np.floor(value), np.ceil(value))
    assert whole.scores["comfort_c"] <= -9.0


def test_the_cheapest_of_two_choices_is_that_of_a_dense_grid():
    wish = -7.0
    answer = reach_for_least(
        LONG, Night(), CATALOGUE, "baffles.height_mm", "fill.overstuff_percent", "comfort_c", wish, "cost"
    )
    grid = sweep(
        LONG,
        Night(),
        CATALOGUE,
        among(span("baffles.height_mm", 5, 300, 0.5), span("fill.overstuff_percent", -50, 150, 0.5)),
    ).scored.scores
    warm = grid[:, KEYS.index("comfort_c")] <= wish
    cheapest = grid[warm, KEYS.index("cost")].min()
    assert answer.met and answer.scores["comfort_c"] == pytest.approx(wish, abs=1e-7)
    # The grid can only lie on the dear side: half a millimetre and half a percent of fill are 0.6 % of it.
    assert cheapest * (1 - 0.01) <= answer.scores["cost"] <= cheapest * (1 + 1e-6)


def test_two_choices_that_cannot_meet_the_wish_tell_the_nearest():
    answer = reach_for_least(
        PUPIL, Night(), CATALOGUE, "baffles.height_mm", "fill.overstuff_percent", "weight_kg", 0.1, "cost"
    )
    assert not answer.met
    assert answer.values == {"baffles.height_mm": 5.0, "fill.overstuff_percent": -50.0}


@pytest.mark.parametrize(
    "path, key, wish, told",
    [
        ("baffles.layout", "cost", 100, "baffles.layout is no number"),
        ("baffles.colour", "cost", 100, "baffles.colour is no number"),
        ("baffles.height_mm", "colour", 100, "colour is no score"),
        ("baffles.height_mm", "cost", float("nan"), "The wish is nan"),
    ],
)
def test_what_cannot_be_asked_is_refused(path, key, wish, told):
    with pytest.raises(Refusal, match=told):
        reach(PUPIL, Night(), CATALOGUE, path, key, wish)


def test_a_choice_that_does_not_apply_reaches_nothing():
    answer = reach(SEWN_THROUGH, Night(), CATALOGUE, "baffles.height_mm", "weight_kg", 0.1)
    assert not answer.met and answer.least == pytest.approx(answer.most)
    with pytest.raises(Refusal, match="cannot be solved beside"):
        reach_for_least(PUPIL, Night(), CATALOGUE, "tabs", "baffles.height_mm", "cost", 100, "weight_kg")


def test_a_choice_with_one_value_is_a_grid_of_its_own():
    assert len(dense(PUPIL, any_of("tabs", 4), "cost")[0]) == 1
