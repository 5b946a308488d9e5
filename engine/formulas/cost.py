"""What a quilt costs in goods: what is used, and what the shop makes you buy."""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import Number

TAPE_WASTE = 0.10
"""Tape, thread and sealant lost in starts and ends: 5 to 15 %, common practice, no source."""
THREAD_WASTE = 0.15
"""Thread bought beyond the rows, for tails, test seams and ripped ones: common practice, no source."""
FILL_LOSS = 0.02
"""Down left in bag and air: 1 to 3 %, common practice, no source."""
CLOTH_YIELD = 0.85
"""Share of the cloth bought that ends up in pieces, where no lay can be found; ours."""
SHOP_CUT_M = 0.1


def price_per_area(price_per_m: Number, roll_width_m: Number, selvedge_m: Number) -> Number:
    """Price of a square metre that can be used.

    Units   price/m, m, m (each side) -> price/m2
    Raises  ValueError when the selvedges leave nothing
    Source  definition
    """
    usable_m = roll_width_m - 2 * selvedge_m
    refuse_unless_positive("usable width", usable_m, "m")
    return price_per_m / usable_m


def used_cost(amount: Number, price: Number, loss_share: Number) -> Number:
    """Cost of what goes into the quilt, with what is unavoidably lost on the way.

    Units   any amount, price per that amount, share -> price
    Raises  ValueError for a negative amount
    Source  definition
    """
    refuse_negative("amount", amount, "")
    return amount * (1 + loss_share) * price


def rounded_up(amount: Number, step: Number) -> Number:
    """The next whole number of steps, as a shop cuts cloth or sells bags.

    Units   any, the same -> the same
    Raises  ValueError for a step of zero
    Source  definition
    """
    refuse_unless_positive("step", step, "")
    return np.ceil(np.asarray(amount) / step - 1e-9) * step
