"""Impossible input stops here, with the argument, its value and what is allowed."""

import numpy as np

from engine.units import Number


def refuse_negative(name: str, value: Number, unit: str) -> None:
    """Raise ValueError when any value is below zero.

    Source  definition
    """
    worst = value if isinstance(value, float) else float(np.min(value))
    if not worst >= 0:
        raise ValueError(f"{name} is {worst:g} {unit}; it cannot be negative")


def refuse_unless_positive(name: str, value: Number, unit: str) -> None:
    """Raise ValueError when any value is zero or below.

    Source  definition
    """
    worst = value if isinstance(value, float) else float(np.min(value))
    if not worst > 0:
        raise ValueError(f"{name} is {worst:g} {unit}; it must be above zero")


def refuse_outside(name: str, value: Number, low: float, high: float, unit: str) -> None:
    """Refuse a value that is outside low to high, or not a number.

    Units   those of the value
    Raises  ValueError naming the argument, the worst value and what is allowed
    Source  definition
    """
    if isinstance(value, float) and low <= value <= high:
        return
    values = np.atleast_1d(value)
    wrong = values[~((values >= low) & (values <= high))]
    if wrong.size:
        raise ValueError(f"{name} is {wrong[0]:g} {unit}; allowed: {low:g} to {high:g} {unit}")
