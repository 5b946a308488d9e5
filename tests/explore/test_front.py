"""Is the front just what nothing beats: by comparing all with all, by a library, on fronts known by formula?

ZDT: Zitzler, Deb, Thiele, Evolutionary Computation 8 (2000) 173. DTLZ: Deb, Thiele, Laumanns, Zitzler, CEC
2002, 825. Both families have their front where g = 1 (ZDT) or g = 0 (DTLZ), whatever the place on it.
"""

import moocore
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.testing import assert_array_equal

from engine.explore import front as fronts
from engine.explore.choices import changed
from engine.explore.front import (
    Limits,
    exclusions,
    failing,
    front_of,
    no_other_beats,
    passing_at,
    short_list,
)
from engine.explore.pareto import on_front
from engine.explore.rows import KEYS
from engine.explore.sweep import sweep
from engine.night import Night
from engine.quantities import resolve
from engine.score import SCORE_KEYS, score
from tests.engine.made import CATALOGUE, PUPIL
from tests.explore.recipes import among, any_of, span


def by_hand(scores):
    """Every row against every other."""
    free = []
    for mine in scores:
        beaten = np.all(scores <= mine, axis=1) & np.any(scores < mine, axis=1)
        free.append(not beaten.any())
    return np.array(free, dtype=bool)


def clouds():
    """Sets of points that differ in how much of them is front; the last two have ties and equal rows."""
    rng = np.random.default_rng(7)
    for columns in (1, 2, 3, 5):
        cube = rng.random((900, columns))
        yield f"random in {columns}", cube
        sphere = np.abs(rng.normal(size=(600, columns)))
        yield f"all on a sphere in {columns}", 1 - sphere / np.linalg.norm(sphere, axis=1, keepdims=True)
        line = rng.random((900, columns))
        yield (
            f"giving and taking in {columns}",
            line - line.mean(axis=1, keepdims=True) + rng.normal(0, 0.02, (900, 1)),
        )
        yield f"tied in {columns}", rng.integers(0, 6, (900, columns)).astype(float)
        yield f"doubled in {columns}", np.repeat(cube[:300], 3, axis=0)
        yield f"in grams, litres and euros in {columns}", cube * 10.0 ** rng.integers(-3, 4, columns)


@pytest.mark.parametrize("points", [pytest.param(p, id=name) for name, p in clouds()])
def test_the_front_is_what_nothing_beats(points):
    assert_array_equal(no_other_beats(points), by_hand(points))
    assert_array_equal(no_other_beats(points), moocore.is_nondominated(points, keep_weakly=True))


@settings(max_examples=200, deadline=None)
@given(
    arrays(float, st.tuples(st.integers(0, 60), st.integers(1, 5)), elements=st.integers(-3, 3).map(float)),
    st.integers(0, 40),
)
def test_any_small_set_with_ties_agrees_with_the_front_for_draws(points, good_ones):
    """Whatever the number of quilts that the others are compared with first."""
    before, fronts.GOOD_ONES = fronts.GOOD_ONES, good_ones
    try:
        free = no_other_beats(points)
    finally:
        fronts.GOOD_ONES = before
    assert_array_equal(free, on_front(points) if len(points) else np.zeros(0, dtype=bool))


def test_equal_rows_stand_or_fall_together():
    points = np.array([[1, 2], [2, 1], [1, 2], [2, 2], [2, 2], [2, 1]], dtype=float)
    assert_array_equal(no_other_beats(points), [True, True, True, False, False, True])


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_a_score_that_is_no_number_is_refused(bad):
    with pytest.raises(ValueError, match="not finite"):
        no_other_beats(np.array([[1.0, 2.0], [bad, 1.0]]))


def zdt(number, x1, g):
    h = {1: 1 - np.sqrt(x1 / g), 2: 1 - (x1 / g) ** 2}[number]
    return np.column_stack([x1, g * h])


def dtlz(number, places, g):
    """Any place on the front, and how far behind it: number 1 a plane, number 2 a sphere."""
    columns = places.shape[1] + 1
    first, second = (
        (places, 1 - places) if number == 1 else (np.cos(places * np.pi / 2), np.sin(places * np.pi / 2))
    )
    scores = []
    for column in range(columns):
        kept = np.prod(first[:, : columns - 1 - column], axis=1)
        scores.append(kept * (second[:, columns - 1 - column] if column else 1.0))
    return np.column_stack(scores) * (1 + g)[:, np.newaxis] * (0.5 if number == 1 else 1.0)


@pytest.mark.parametrize("number", [1, 2])
def test_the_front_of_zdt_is_where_g_is_one(number):
    rng = np.random.default_rng(3)
    x1 = rng.uniform(0.01, 1, 500)
    # Each place once on the front and once behind it.
    points = np.concatenate([zdt(number, x1, np.ones(500)), zdt(number, x1, 1 + rng.uniform(0.01, 9, 500))])
    assert_array_equal(no_other_beats(points), np.arange(1000) < 500)


@pytest.mark.parametrize("number, columns", [(1, 3), (1, 5), (2, 3), (2, 5)])
def test_the_front_of_dtlz_is_where_g_is_nothing(number, columns):
    rng = np.random.default_rng(4)
    places = rng.uniform(0.02, 0.98, (400, columns - 1))
    behind = rng.uniform(0.01, 3, 400)
    points = np.concatenate([dtlz(number, places, np.zeros(400)), dtlz(number, places, behind)])
    on_it = points[:400].sum(axis=1) if number == 1 else np.square(points[:400]).sum(axis=1)
    np.testing.assert_allclose(on_it, 0.5 if number == 1 else 1.0)
    assert_array_equal(no_other_beats(points), np.arange(800) < 400)


@pytest.fixture(scope="module")
def tried():
    recipe = among(
        any_of("shells.outer", "nylon-10d-26", "film-17", "ripstop-38"),
        any_of("fill.good", "down-850", "down-800"),
        span("outline.width_mm", 900, 1200, 100),
        span("baffles.height_mm", 30, 80, 5),
        span("fill.overstuff_percent", 0, 80, 20),
    )
    return sweep(PUPIL, Night(), CATALOGUE, recipe)


def test_no_quilt_that_keeps_to_the_limits_beats_one_on_the_front(tried):
    limits = Limits(weight_kg=0.55, comfort_c=2.0)
    found = front_of(tried, limits)
    scores = tried.scored.scores
    assert 0 < len(found.rows) < len(found.passing) < len(scores)
    kept = (
        (scores[:, 0] <= 0.55)
        & (scores[:, 2] <= 2.0)
        & tried.scored.fits
        & ~tried.scored.stop
        & ~tried.scored.steep
    )
    assert_array_equal(found.passing, np.flatnonzero(kept))
    assert_array_equal(found.rows, found.passing[by_hand(scores[found.passing, :5])])


@pytest.mark.parametrize(
    "keys", [("weight_kg",), ("weight_kg", "comfort_c"), ("cost", "work_h", "volume_m3")]
)
def test_a_front_may_be_of_any_of_the_scores(tried, keys):
    found = front_of(tried, Limits(), keys)
    columns = [KEYS.index(key) for key in keys]
    assert_array_equal(found.rows, found.passing[by_hand(tried.scored.scores[found.passing][:, columns])])
    with pytest.raises(ValueError, match="keys is empty"):
        front_of(tried, Limits(), ())


def test_limits_leave_out_what_they_say(tried):
    for row in np.linspace(0, len(tried.numbers) - 1, 20).astype(int):
        values = tried.values(row)
        fails = failing(tried, Limits(goods=("nylon-10d-26", "down-850")))
        assert fails["goods"][row] == (
            values["shells.outer"] != "nylon-10d-26" or values["fill.good"] != "down-850"
        )
        # Uncoated ripstop is a vent; down comes through it.
        assert fails["unstopped"][row] == (values["shells.outer"] == "ripstop-38")
    assert failing(tried, Limits(covers=False, unstopped=False, in_range=False)) == {}


def test_quilts_without_a_finite_score_are_left_out_and_counted(tried):
    scores = tried.scored.scores.copy()
    scores[5, 0], scores[6, 2] = np.nan, np.inf
    broken = type(tried)(
        **(vars(tried) | {"scored": type(tried.scored)(**(vars(tried.scored) | {"scores": scores}))})
    )
    limits = Limits(covers=False, unstopped=False, in_range=False)
    found = front_of(broken, limits)
    assert found.dropped == 2
    assert not {5, 6} & set(found.passing.tolist())
    assert passing_at(broken, limits, "weight_kg", 99.0) == len(scores) - 2


def test_the_short_list_holds_the_best_in_each_score_and_what_it_gives_up(tried):
    single = score(resolve(PUPIL, Night(), CATALOGUE))
    start = {key: float(getattr(single, key)) for key in KEYS}
    found = front_of(tried)
    picks = {pick.best_in: pick for pick in short_list(tried, found, start)}
    assert set(picks) == {"lightest", "warmest", "cheapest", "quickest", "smallest", "knee"}
    scores = tried.scored.scores
    for key, name in zip(
        SCORE_KEYS, ("lightest", "smallest", "warmest", "cheapest", "quickest"), strict=True
    ):
        place = KEYS.index(key)
        assert scores[picks[name].row, place] == scores[found.passing, place].min()
        assert picks[name].row in found.rows
        assert picks[name].against_start[key] == pytest.approx(scores[picks[name].row, place] - start[key])
    assert short_list(tried, front_of(tried, Limits(weight_kg=0.01)), start) == ()


def test_the_knee_of_a_quarter_circle_is_its_middle(tried):
    angle = np.linspace(0, np.pi / 2, 91)
    scores = np.ones((91, 6))
    scores[:, KEYS.index("weight_kg")], scores[:, KEYS.index("cost")] = (
        1 - np.sin(angle),
        200 * (1 - np.cos(angle)),
    )
    arc = type(tried)(
        **(
            vars(tried)
            | {"numbers": tried.numbers[:91], "scored": type(tried.scored)(scores, *np.ones((3, 91), bool))}
        )
    )
    free = Limits(covers=False, unstopped=False, in_range=False)
    picks = short_list(arc, front_of(arc, free, ("weight_kg", "cost")), dict.fromkeys(KEYS, 0.0))
    assert [(pick.best_in, pick.row) for pick in picks] == [("lightest", 90), ("cheapest", 0), ("knee", 45)]


def test_where_nothing_passes_the_limit_that_shuts_out_most_says_what_would_do(tried):
    limits = Limits(weight_kg=0.20, comfort_c=10.0)
    assert not len(front_of(tried, limits).passing)
    first, *others = exclusions(tried, limits)
    assert first.limit == "weight_kg" and first.excluded == len(tried.numbers)
    assert first.would_pass >= 12
    assert passing_at(tried, limits, "weight_kg", first.value) == first.would_pass
    assert passing_at(tried, limits, "weight_kg", first.value * (1 - 1e-9)) < 12
    assert all(other.excluded <= first.excluded for other in others)


def test_where_no_single_limit_is_to_blame_no_value_is_offered(tried):
    told = {e.limit: e for e in exclusions(tried, Limits(weight_kg=0.01, cost=0.01))}
    assert told["weight_kg"].value is None and told["weight_kg"].would_pass == 0
    assert told["cost"].value is None


def test_a_start_is_not_needed_to_be_on_the_front(tried):
    """A design that only repeats itself has a front of one quilt."""
    alone = sweep(changed(PUPIL, [("outline.width_mm", 1200)]), Night(), CATALOGUE, among(any_of("tabs", 6)))
    found = front_of(alone)
    assert found.rows.tolist() == found.passing.tolist() == [0]
