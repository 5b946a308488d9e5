"""Is a sweep nothing but many single scores, counted right, and refused where it cannot be made?"""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from engine.cautions import Case, cautions_of
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.explore import rows
from engine.explore import sweep as sweeping
from engine.explore.choices import axes_of, changed, count_of
from engine.explore.rows import KEYS
from engine.explore.sweep import same_scores_once, sweep
from engine.export.link import decode_link, encode_link
from engine.fit import fit_of
from engine.night import Night
from engine.quantities import resolve
from engine.recipe import Choice, Recipe, Span
from engine.refusals import Refusal
from engine.score import score
from engine.steep import section_share
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, PUPIL, SHEET, TOP
from tests.engine.strategies import designs, nights
from tests.explore.recipes import PATHS, among, any_of, recipes, some_values, span

ALIKE = 1e-10
"""Of the score, or of a degree: a sweep takes the same steps, and only sums in another order."""


def is_as_single(result, row):
    """A row's scores and checks against those of its design by itself."""
    design = result.design_of(row)
    quantities = resolve(design, result.night, CATALOGUE)
    single = score(quantities)
    for place, key in enumerate(KEYS):
        ours, alone = result.scored.scores[row, place], float(getattr(single, key))
        assert ours == pytest.approx(alone, rel=ALIKE, abs=ALIKE), (key, result.values(row))
    fit = fit_of(quantities, single)
    assert result.scored.fits[row] == (not (fit.narrow or (fit.short and design.kind == "top quilt")))
    assert result.scored.steep[row] == (section_share(single.loft) > 0)
    warnings = cautions_of(Case(design, result.night, CATALOGUE, quantities, single, fit))
    stops = [caution.code for caution in warnings if caution.grade == "stop"]
    assert result.scored.stop[row] == bool(stops), (stops, result.values(row))


@settings(max_examples=60, deadline=None)
@given(designs, nights, recipes())
def test_every_quilt_of_a_sweep_scores_as_it_does_by_itself(design, night, recipe):
    assume(count_of(recipe) <= 40)
    try:
        result = sweep(design, night, CATALOGUE, recipe)
    except Refusal:
        assume(False)
    for row in range(len(result.numbers)):
        is_as_single(result, row)


@pytest.mark.parametrize("path", sorted(PATHS))
@pytest.mark.parametrize("design", [FILM, SHEET, TOP], ids=lambda d: d.name)
def test_any_field_may_vary_beside_heights_and_stuffing(path, design):
    others = [p for p in ("baffles.height_mm", "fill.overstuff_percent", "fill.layers") if p != path]
    recipe = among(any_of(path, *some_values(path)), *(any_of(p, *some_values(p)[:2]) for p in others))
    result = sweep(design, Night(), CATALOGUE, recipe)
    assert len(result.numbers) + result.refused == count_of(recipe) > 1
    for row in np.linspace(0, len(result.numbers) - 1, 9).astype(int):
        is_as_single(result, row)


def test_a_thousand_of_many_score_as_each_by_itself():
    recipe = among(
        any_of("shells.inner", "nylon-10d-26", "film-17"),
        any_of("shells.outer", "nylon-10d-26", "film-17", "ripstop-30"),
        any_of("fill.good", "down-850", "down-800", "sheet-133"),
        any_of("baffles.layout", "full, lengthwise", "staggered", "sewn-through"),
        any_of("joints.raw_edges", None, "seared-edge"),
        any_of("edges.kind", "pinched", "low edge wall"),
        span("baffles.height_mm", 30, 80, 2.5),
        span("cut.wrap_across_rad", 0, 3, 0.5),
        span("fill.overstuff_percent", -20, 60, 5),
    )
    result = sweep(PUPIL, Night(), CATALOGUE, recipe)
    assert count_of(recipe) == len(result.numbers) == 2 * 3 * 3 * 3 * 2 * 2 * 21 * 7 * 17
    for row in np.random.default_rng(1).choice(len(result.numbers), 1000, replace=False):
        is_as_single(result, row)


def test_the_scores_do_not_depend_on_how_the_rows_are_cut_up(monkeypatch):
    recipe = among(
        span("baffles.spacing_mm", 100, 160, 20), span("baffles.height_mm", 30, 80, 1), any_of("tabs", 2, 4)
    )
    whole = sweep(PUPIL, Night(), CATALOGUE, recipe).scored.scores
    monkeypatch.setattr(rows, "CHUNK", 7)
    monkeypatch.setattr(rows, "WORKERS", 3)
    np.testing.assert_allclose(sweep(PUPIL, Night(), CATALOGUE, recipe).scored.scores, whole, rtol=1e-12)


def test_a_range_has_both_its_ends_and_a_set_each_value_once():
    recipe = among(span("baffles.height_mm", 30, 60, 7.5), any_of("tabs", 4, 6, 4))
    assert [axis.values for axis in axes_of(recipe, CATALOGUE)] == [(30, 37.5, 45, 52.5, 60), (4, 6)]
    assert count_of(recipe) == 10
    assert count_of(among(span("cut.wrap_across_rad", 0, 1, 0.1))) == 11


def test_what_the_model_refuses_is_left_out_and_counted_with_the_first_reason():
    taper = changed(PUPIL, [("outline.shape", "taper"), ("outline.foot_width_mm", 900)])
    recipe = among(any_of("outline.width_mm", 800, 1100), any_of("outline.taper_from_mm", 900, 1500))
    result = sweep(taper, Night(), CATALOGUE, recipe)
    assert [result.values(row) for row in range(len(result.numbers))] == [
        {"outline.width_mm": 1100, "outline.taper_from_mm": 900}
    ]
    assert result.refused == 3
    assert "allowed" in result.first_refusal


def test_only_groups_have_rules_between_fields():
    """A rule of the whole design would go unasked: the sweep checks each group by itself."""
    assert not Design.__pydantic_decorators__.model_validators


@pytest.mark.parametrize(
    "fields, told",
    [
        ({"start": 60, "stop": 30, "step": 1}, "stop is 30"),
        ({"start": 30, "stop": 60, "step": 0}, "step is 0"),
        ({"start": 30, "stop": 60, "step": -5}, "step is -5"),
        ({"start": 0, "stop": 1e9, "step": 1}, "step is 1"),
        ({"start": float("nan"), "stop": 60, "step": 1}, "finite"),
        ({"start": 30, "stop": float("inf"), "step": 1}, "finite"),
    ],
)
def test_a_range_that_runs_nowhere_is_refused(fields, told):
    with pytest.raises(ValidationError, match=told):
        Span(**fields)


def test_a_choice_needs_a_set_or_a_range_but_not_both():
    with pytest.raises(ValidationError, match="neither a set nor a range"):
        Choice(path="tabs")
    with pytest.raises(ValidationError, match="both a set and a range"):
        Choice(path="tabs", values=(1,), span=Span(start=1, stop=2, step=1))
    with pytest.raises(ValidationError, match="tabs varies twice"):
        among(any_of("tabs", 1), any_of("tabs", 2))


@pytest.mark.parametrize(
    "choice, told",
    [
        (any_of("baffles.height_mm", 50, 900), "Baffle height .* is 900; allowed: 5 to 300 mm"),
        (any_of("baffles.height_mm", "high"), "is high; allowed: 5 to 300 mm"),
        (any_of("fill.layers", 1.5), "Layers .* is 1.5; allowed: 1 to 6"),
        (any_of("shells.inner", "silk"), "Inner shell .* is silk; allowed: one of"),
        (any_of("shells.inner", "mesh-24"), "Inner shell .* is mesh-24; allowed: one of"),
        (any_of("baffles.layout", "round"), "is round; allowed: none, sewn-through"),
        (any_of("end_panels.fitted", "perhaps"), "is perhaps; allowed: true or false"),
        (any_of("baffles", "high"), "baffles is no choice that can vary"),
        (any_of("baffles.colour", "red"), "baffles.colour is no choice that can vary"),
        (any_of("tabs.more", 1), "tabs.more is no choice that can vary"),
        (any_of("name", "B"), "name is no choice that can vary"),
        (any_of("suspension", "cord"), "suspension is no choice that can vary"),
    ],
)
def test_a_choice_that_no_design_has_is_refused_with_what_is_allowed(choice, told):
    with pytest.raises(Refusal, match=told):
        sweep(PUPIL, Night(), CATALOGUE, among(choice))


def test_a_recipe_without_choices_and_one_without_quilts_are_refused():
    with pytest.raises(Refusal, match="No choice varies"):
        sweep(PUPIL, Night(), CATALOGUE, Recipe())
    taper = changed(PUPIL, [("outline.shape", "taper")])
    with pytest.raises(Refusal, match=r"None of the 2 combinations is a quilt.*taper_from_mm is 1420"):
        sweep(taper, Night(), CATALOGUE, among(any_of("outline.taper_from_mm", 1420, 2000)))


def test_too_many_layouts_are_refused_before_one_is_solved():
    # A million are refused by the same count, which stops at 5,000.
    recipe = among(span("outline.length_mm", 1000, 1990, 10), span("outline.width_mm", 800, 1790, 10))
    with pytest.raises(Refusal, match="allowed: 2000 layouts"):
        sweep(PUPIL, Night(), CATALOGUE, recipe)
    with pytest.raises(Refusal, match=r"2002 layouts.*allowed: 2000"):
        sweep(
            PUPIL,
            Night(),
            CATALOGUE,
            among(span("outline.length_mm", 1000, 2000, 1), any_of("outline.width_mm", 900, 1000)),
        )


def test_more_than_a_million_are_sampled_evenly_and_alike_for_one_seed(monkeypatch):
    monkeypatch.setattr(sweeping, "MOST_WHOLE", 1000)
    monkeypatch.setattr(sweeping, "SAMPLED_POWER", 9)
    recipe = among(
        span("baffles.height_mm", 30, 69, 1), span("fill.overstuff_percent", 0, 31, 1), any_of("tabs", 2, 4)
    )
    once, again = (sweep(PUPIL, Night(), CATALOGUE, recipe) for _ in range(2))
    other = sweep(PUPIL, Night(), CATALOGUE, recipe.model_copy(update={"seed": 3}))
    assert once.sampled and once.possible == 40 * 32 * 2
    assert 400 <= len(once.numbers) <= 512
    np.testing.assert_array_equal(once.numbers, again.numbers)
    assert not np.array_equal(once.numbers, other.numbers)
    assert len(np.unique(once.numbers)) == len(once.numbers)
    # Sobol's first 512 points hold two in each of 256 equal boxes of any single choice, shifted or not.
    heights = np.bincount(once.numbers // 64, minlength=40)
    assert heights.min() >= 8 and heights.max() <= 16
    is_as_single(once, 17)


def test_progress_is_told_and_what_it_raises_ends_the_work(monkeypatch):
    monkeypatch.setattr(rows, "CHUNK", 50)
    recipe = among(span("baffles.height_mm", 20, 219, 1), any_of("tabs", *range(20)))
    told = []
    sweep(PUPIL, Night(), CATALOGUE, recipe, lambda done, of: told.append((done, of)))
    assert [of for _, of in told] == [4000] * len(told)
    assert told[-1][0] == 4000 and len(told) > 10
    assert all(a < b for (a, _), (b, _) in pairwise(told))

    class Cancelled(Exception):
        pass

    calls = []

    def cancel(done, of):
        calls.append(done)
        raise Cancelled

    with pytest.raises(Cancelled):
        sweep(PUPIL, Night(), CATALOGUE, recipe, cancel)
    assert len(calls) == 1


def test_quilts_that_score_alike_are_shown_once():
    sewn_through = changed(FULL_SEWN, [("baffles.layout", "sewn-through")])
    recipe = among(any_of("tabs", 2, 4), span("baffles.height_mm", 30, 60, 10))
    result = sweep(sewn_through, Night(), CATALOGUE, recipe)
    kept = same_scores_once(result, np.arange(8))
    assert [result.values(row)["tabs"] for row in kept] == [2, 4]


@pytest.mark.parametrize("design", ALL, ids=lambda d: d.name)
def test_a_sweep_over_what_a_design_is_already_gives_its_own_scores(design):
    result = sweep(design, Night(), CATALOGUE, among(any_of("tabs", design.tabs)))
    assert result.design_of(0) == design
    is_as_single(result, 0)


@settings(max_examples=30, deadline=None)
@given(st.floats(0, 100), st.floats(0.1, 50), st.integers(0, 40))
def test_a_range_counts_as_many_values_as_it_has_steps_and_one(start, step, steps):
    choice = Choice(path="tabs", span=Span(start=start, stop=start + steps * step, step=step))
    assert count_of(among(choice)) == steps + 1


def test_a_recipe_travels_in_a_link_and_old_links_read_as_before():
    recipe = among(
        any_of("shells.inner", "nylon-10d-26", "film-17"),
        any_of("end_panels.fitted", True, False),
        any_of("joints.raw_edges", None, "seared-edge"),
        span("baffles.height_mm", 30, 60, 2.5),
    ).model_copy(update={"start": "A"})
    alone = Comparison(candidates=(Candidate(letter="A", design=PUPIL),))
    sent = decode_link(encode_link(alone.model_copy(update={"recipe": recipe})))
    assert sent.recipe == recipe
    assert axes_of(sent.recipe, CATALOGUE) == axes_of(recipe, CATALOGUE)
    assert decode_link(encode_link(alone)).recipe is None
    # Ranges and sets, never points: a recipe of a million quilts costs no more than its words.
    assert len(encode_link(alone.model_copy(update={"recipe": recipe}))) < len(encode_link(alone)) + 400
