"""Does a quilt keep to the weight and the purse that were set for the night, and how sure is that?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.evaluate import Evaluation
from engine.units import GRAM

BudgetKey = Literal["weight_kg", "cost"]


@dataclass(frozen=True)
class Budget:
    """A limit on one score, in the score's unit: the limit, the score, and how often the score is over.

    `to_buy` is what must be paid for whole cuts, bags and packs; only the purse has it.
    """

    key: BudgetKey
    limit: float
    value: float
    p_over: float
    to_buy: float | None = None

    @property
    def over(self) -> float:
        """By how much the score is over the limit; negative inside it."""
        return self.value - self.limit

    @property
    def only_to_buy_is_over(self) -> bool:
        """What goes into the quilt is inside the purse, but what must be bought for it is not."""
        return self.to_buy is not None and self.value <= self.limit < self.to_buy


def budgets_of(one: Evaluation) -> tuple[Budget, ...]:
    """The limits that the night sets, each with where this quilt stands; none when it sets none.

    Units   kg; cost in the catalogue's prices; p_over a share of the common draws
    Source  definition
    """
    found = []
    if one.night.weight_budget_g is not None:
        found.append(_budget(one, "weight_kg", one.night.weight_budget_g * GRAM))
    if one.night.cost_budget is not None:
        to_buy = sum(line.price_to_buy for line in one.purchases)
        found.append(_budget(one, "cost", one.night.cost_budget, to_buy))
    return tuple(found)


def _budget(one: Evaluation, key: BudgetKey, limit: float, to_buy: float | None = None) -> Budget:
    draws = np.asarray(getattr(one.draws, key))
    return Budget(key, limit, one.bands[key].value, float(np.mean(draws > limit)), to_buy)
