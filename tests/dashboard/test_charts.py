"""The trade-off figure: what is drawn, in which order, where its letters stand (definition of a front)."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.chart_words import alternative, points_html
from dashboard.charts import trade_off
from dashboard.letter_places import LETTER_PX, LINE_PX, MARK_PX, NARROW_PX, places
from dashboard.palette import MARKS
from dashboard.trade_points import front_of, points_of, third_score
from engine.catalogue.load import load_catalogue
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Baffles, Design, Shells
from engine.evaluate import LineUp, evaluate_all
from engine.night import Night
from engine.score import SCORE_KEYS

DESIGNS = (
    Design(),
    Design(shells=Shells(inner="nylon-30d-46", outer="nylon-30d-46")),
    Design(baffles=Baffles(height_mm=64, spacing_mm=140)),
)
PAIRS = list(itertools.permutations(SCORE_KEYS, 2))


def line_up(night: Night | None = None, **more: object) -> LineUp:
    candidates = tuple(
        Candidate(letter=letter, design=d) for letter, d in zip(LETTERS, DESIGNS, strict=False)
    )
    now = Comparison(night=night or Night(air_c=0), candidates=candidates, **more)
    return evaluate_all(now, load_catalogue())


def marks(figure):
    return [trace for trace in figure.data if trace.mode == "markers"]


def notes(figure):
    return [note.text for note in figure.layout.annotations]


@pytest.mark.parametrize("x, y", PAIRS)
def test_every_pair_of_scores_can_be_drawn_and_told(x, y):
    figure = trade_off(line_up(), x, y)
    assert [mark.name for mark in marks(figure)] == ["A", "B", "C"]
    assert third_score(x, y) not in (x, y)
    assert "less is better" in alternative(line_up(), x, y)


def test_one_score_on_both_axes_is_refused_with_what_is_allowed():
    with pytest.raises(ValueError, match=r"y is cost, as x is; allowed: weight_kg"):
        trade_off(line_up(), "cost", "cost")


def test_crosses_come_first_then_the_front_then_the_marks():
    kinds = [trace.name or "cross" for trace in trade_off(line_up(), "weight_kg", "comfort_c").data]
    assert kinds == ["cross"] * 6 + ["front", "A", "B", "C"]


def test_a_candidate_has_its_shape_and_its_colour_on_either_ground():
    for scheme in ("light", "dark"):
        for mark in marks(trade_off(line_up(), "weight_kg", "comfort_c", scheme)):
            assert mark.marker.symbol == MARKS[mark.name].symbol
            assert mark.marker.line.color == MARKS[mark.name].tone.on(scheme)


def test_filled_ring_and_outline_follow_the_share_of_draws_on_the_front():
    figure = trade_off(line_up(), "weight_kg", "comfort_c")
    shares = line_up().front_share(("weight_kg", "comfort_c"))
    for mark in marks(figure):
        filled = mark.marker.color == mark.marker.line.color
        assert filled == (shares[mark.name] >= 0.9)
        assert (mark.marker.line.width < 2) == (shares[mark.name] < 0.1)
    # The heavy one differs from A by its cloth alone: it is heavier in every draw.
    assert shares["B"] < 0.1 <= shares["A"]


def test_two_alike_but_for_the_scissors_are_rings_where_only_weight_and_cost_count():
    twins = tuple(Candidate(letter=letter, design=Design()) for letter in ("A", "B"))
    both = evaluate_all(Comparison(candidates=twins), load_catalogue())
    shares = both.front_share(("weight_kg", "cost"))
    assert all(0.1 < share < 0.9 for share in shares.values())  # each is the smaller one in about half
    for mark in marks(trade_off(both, "weight_kg", "cost")):
        assert mark.marker.color != mark.marker.line.color and mark.marker.line.width > 2


def test_the_night_and_the_budgets_are_drawn_only_if_given():
    plain = trade_off(line_up(), "weight_kg", "cost")
    assert len(plain.layout.shapes) == 0
    given_both = trade_off(line_up(Night(weight_budget_g=500, cost_budget=150)), "weight_kg", "cost")
    assert len(given_both.layout.shapes) == 2
    assert any("weight budget, 500" in text for text in notes(given_both))
    assert any("purse, 150" in text for text in notes(given_both))
    assert any("your night, 0" in text for text in notes(trade_off(line_up(), "weight_kg", "comfort_c")))


def test_the_better_corner_is_lower_left_on_axes_that_run_upwards():
    figure = trade_off(line_up(), "weight_kg", "comfort_c")
    assert "↙ lighter and warmer" in notes(figure)
    for axis in (figure.layout.xaxis, figure.layout.yaxis):
        assert axis.range[0] < axis.range[1]


def test_a_finger_that_scrolls_is_not_caught():
    figure = trade_off(line_up(), "weight_kg", "comfort_c")
    assert figure.layout.dragmode is False
    assert figure.layout.xaxis.fixedrange and figure.layout.yaxis.fixedrange


def test_trade_units_change_the_axes_by_the_factors_of_their_definition():
    metric = points_of(line_up(), "weight_kg", "comfort_c")
    trade = points_of(line_up(units="trade"), "weight_kg", "comfort_c")
    for ours, theirs in zip(metric, trade, strict=True):
        assert theirs.x == pytest.approx(ours.x / 28.349523125)
        assert theirs.y == pytest.approx(1.8 * ours.y + 32)


def test_nobody_on_the_front_is_beaten_and_its_steps_go_down():
    xs, ys = front_of(points_of(line_up(), "weight_kg", "comfort_c"))
    assert xs == sorted(xs) and ys == sorted(ys, reverse=True)


def test_what_is_typed_as_a_currency_is_not_read_as_tags():
    figure = trade_off(line_up(currency="<a>"), "cost", "comfort_c")
    assert "<a>" not in figure.to_json()
    assert "<a>" not in points_html(line_up(currency="<a>"), "cost", "comfort_c")


spots = st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.integers(2, 9)), min_size=1, max_size=6)


@given(spots)
def test_each_text_stands_beside_its_own_mark_and_never_on_it(points):
    for (_, _, signs), (dx, dy) in zip(points, places(points, (0, 1), (0, 1)), strict=True):
        clear_across = abs(dx) >= LETTER_PX * signs / 2 + MARK_PX / 2
        clear_up = abs(dy) >= LINE_PX / 2 + MARK_PX / 2
        assert clear_across or clear_up


def test_three_in_a_heap_get_three_texts_that_do_not_meet():
    heap = [(0.5, 0.5, 5), (0.52, 0.5, 5), (0.5, 0.53, 5)]
    boxes = []
    for (x, y, signs), (dx, dy) in zip(heap, places(heap, (0, 1), (0, 1)), strict=True):
        boxes.append((x * NARROW_PX[0] + dx, y * NARROW_PX[1] + dy, LETTER_PX * signs))
    for one, other in itertools.combinations(boxes, 2):
        apart = abs(one[0] - other[0]) >= (one[2] + other[2]) / 2 or abs(one[1] - other[1]) >= LINE_PX
        assert apart
