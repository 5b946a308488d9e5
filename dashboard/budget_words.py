"""How is it said that a candidate passes the weight budget or the purse, by how much, and how surely?

Plain text out; letters stand for candidates.
"""

from collections.abc import Sequence
from html import escape

from dashboard.verdicts import listed
from dashboard.words import SCORE, Units, cost, grade
from engine.budget import Budget, budgets_of
from engine.evaluate import Evaluation

SAFE = "almost surely inside it"
NAMES = {"weight_kg": "Weight budget", "cost": "Purse"}


def budgets_in_words(evaluations: Sequence[Evaluation], units: Units = "metric", currency: str = "") -> str:
    """A sentence a limit over all these candidates, and one for each whose whole packs pass the purse."""
    found = [(each.letter, budget) for each in evaluations for budget in budgets_of(each)]
    sentences = []
    for key, name in NAMES.items():
        rows = [(letter, budget) for letter, budget in found if budget.key == key]
        if rows:
            sentences.append(_sentence(name, rows, units, currency))
            sentences += [
                _to_buy(letter, budget, currency) for letter, budget in rows if budget.only_to_buy_is_over
            ]
    return " ".join(sentences)


def budgets_html(evaluations: Sequence[Evaluation], units: Units, currency: str) -> str:
    """The same as a paragraph; nothing where the night sets no limit."""
    told = budgets_in_words(evaluations, units, currency)
    return f'<p class="lw-budgets">{escape(told)}</p>' if told else ""


def _sentence(name: str, rows: Sequence[tuple[str, Budget]], units: Units, currency: str) -> str:
    """Weight budget 500 g: A is almost surely over it (34 g), the others are almost surely inside it."""
    words = SCORE[rows[0][1].key]
    groups: dict[str, list[tuple[str, str]]] = {}
    for letter, budget in sorted(rows, key=lambda row: -row[1].p_over):
        amount = words.difference(budget.over, units, currency)
        groups.setdefault(_standing(budget), []).append((letter, amount))
    safe = groups.pop(SAFE, []) if len(rows) > 1 else []
    told = [_group(standing, members) for standing, members in groups.items()]
    if len(safe) == len(rows):
        told.append(f"all are {SAFE}")
    elif safe:
        told.append(f"the others are {SAFE}" if len(safe) > 1 else f"{safe[0][0]} is {SAFE}")
    used = ", for what is used" if rows[0][1].key == "cost" else ""
    return f"{name} {words.value(rows[0][1].limit, units, currency)}{used}: {', '.join(told)}."


def _standing(budget: Budget) -> str:
    """The direction with the word for how sure it is, as in the verdict on the night."""
    if SCORE[budget.key].is_small(budget.over, budget.limit):
        return "just over it" if budget.over > 0 else "just inside it"
    if sure := grade(budget.p_over):
        return f"{sure} over it"
    return f"{sure} inside it" if (sure := grade(1 - budget.p_over)) else "an even bet"


def _group(standing: str, members: Sequence[tuple[str, str]]) -> str:
    members = sorted(members)
    verb = "is" if len(members) == 1 else "are"
    amount = "" if standing == "an even bet" else f" ({', '.join(amount for _, amount in members)})"
    return f"{listed([letter for letter, _ in members])} {verb} {standing}{amount}"


def _to_buy(letter: str, budget: Budget, currency: str) -> str:
    assert budget.to_buy is not None
    return (
        f"What goes into {letter}, {cost(budget.value, currency)}, is inside the purse, but whole cuts, "
        f"rolls and bags to buy come to {cost(budget.to_buy, currency, exact=True)}, "
        f"{cost(budget.to_buy - budget.limit, currency, exact=True)} over it."
    )
