"""Does the page say who passes the weight budget or the purse, by how much, and how surely?"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from dashboard.budget_words import budgets_in_words
from engine.budget import budgets_of
from engine.catalogue.load import load_catalogue
from engine.evaluate import Evaluation, evaluate_all
from engine.export.link import encode_link
from engine.samples import first_visit

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"


def with_limits(**limits: float | None):
    now = first_visit()
    return now.model_copy(update={"night": now.night.model_copy(update=limits), "currency": "EUR"})


def standing(letter: str, weight_g: float, shares_over: float, budget_g: float = 500) -> Evaluation:
    """A sample that weighs this much, in this share of a hundred draws more than its budget."""
    now = with_limits(weight_budget_g=budget_g, cost_budget=None)
    one = evaluate_all(now, load_catalogue()).evaluations[0]
    draws = np.where(np.arange(100) < 100 * shares_over, budget_g + 50, budget_g - 50) / 1000
    bands = one.bands | {"weight_kg": replace(one.bands["weight_kg"], value=weight_g / 1000)}
    return replace(one, letter=letter, draws=replace(one.draws, weight_kg=draws), bands=bands)


@pytest.mark.parametrize(
    "weight_g, share, told",
    [
        (544, 0.97, "A is almost surely over it (44\u00a0g)"),
        (530, 0.85, "A is probably over it (30\u00a0g)"),
        (515, 0.65, "A is perhaps over it (15\u00a0g)"),
        (512, 0.50, "A is an even bet"),
        (485, 0.35, "A is perhaps inside it (15\u00a0g)"),
        (456, 0.02, "A is almost surely inside it (44\u00a0g)"),
        # 10 g is what matters of a weight.
        (504, 0.55, "A is just over it (4\u00a0g)"),
        (496, 0.45, "A is just inside it (4\u00a0g)"),
    ],
)
def test_the_share_of_draws_over_the_budget_grades_the_direction_and_the_number_is_the_amount(
    weight_g, share, told
):
    assert budgets_in_words([standing("A", weight_g, share)]) == f"Weight budget 500\u00a0g: {told}."


def test_those_that_stand_alike_are_said_together_and_the_safe_ones_last_and_briefly():
    over = [standing("A", 544, 1), standing("C", 560, 1), standing("D", 500.1, 0.5)]
    safe = [standing("B", 440, 0), standing("E", 430, 0)]
    told = "Weight budget 500\u00a0g: A and C are almost surely over it (44\u00a0g, 60\u00a0g), "
    told += "D is just over it (0\u00a0g), "
    assert budgets_in_words([*over, safe[0]]) == told + "B is almost surely inside it."
    assert budgets_in_words([*safe, *over]) == told + "the others are almost surely inside it."
    assert budgets_in_words(safe) == "Weight budget 500\u00a0g: all are almost surely inside it."


def test_the_share_over_is_counted_on_the_draws_and_the_purse_knows_what_must_be_bought():
    one = evaluate_all(with_limits(weight_budget_g=600, cost_budget=155), load_catalogue())["A"]
    weight, purse = budgets_of(one)
    assert weight.p_over == sum(kg > 0.6 for kg in np.asarray(one.draws.weight_kg)) / one.draws.weight_kg.size
    assert weight.limit == pytest.approx(0.6) and weight.to_buy is None
    assert purse.to_buy == pytest.approx(sum(line.price_to_buy for line in one.purchases))


def test_a_purse_that_holds_what_is_used_but_not_what_must_be_bought_says_so():
    plain = evaluate_all(with_limits(), load_catalogue())["A"]
    used, to_buy = plain.bands["cost"].value, sum(line.price_to_buy for line in plain.purchases)
    between = round((used + to_buy) / 2)
    assert used < between < to_buy
    now = with_limits(cost_budget=between)
    told = budgets_in_words(evaluate_all(now, load_catalogue()).evaluations[:1], "metric", "EUR")
    assert f"What goes into A, {used:.0f}\u00a0EUR, is inside the purse" in told
    assert f"come to {to_buy:.2f}\u00a0EUR, {to_buy - between:.2f}\u00a0EUR over it." in told
    for enough in (used - 20, to_buy + 1):  # over it as used already; or inside it either way
        one = evaluate_all(
            with_limits(weight_budget_g=None, cost_budget=enough), load_catalogue()
        ).evaluations[:1]
        assert "to buy" not in budgets_in_words(one)


def test_a_night_without_limits_says_nothing_of_them():
    none = with_limits(weight_budget_g=None, cost_budget=None)
    assert budgets_in_words(evaluate_all(none, load_catalogue()).evaluations) == ""


@pytest.mark.parametrize("view", ["line_up", "close_up", "make"])
def test_each_page_says_it_in_the_units_shown(view):
    now = with_limits(weight_budget_g=453.59237).model_copy(update={"units": "trade"})  # a pound
    at = AppTest.from_file(str(APP), default_timeout=60)
    at.query_params["d"] = encode_link(now)
    at.run()
    if view != "line_up":
        at.switch_page(f"views/{view}.py").run()
    assert not at.exception
    assert "Weight budget 16.0\u00a0oz: " in " ".join(block.proto.body for block in at.get("html"))
