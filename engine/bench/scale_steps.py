"""Which whole steps of the scale does each zone get? They sum to the whole, mirrored zones get the same."""

from collections.abc import Sequence
from math import floor

ALIKE = 1e-3
"""Shares of a scale step's whole within which two mirrored zones are taken as one size."""


def whole_steps(amount: float, step: float) -> int:
    """An amount in steps of the scale, to the nearest.

    Units   any, the same -> count
    Raises  ValueError for a step of zero or less
    Source  definition
    """
    if not step > 0:
        raise ValueError(f"step is {step:g}; it must be above zero")
    return floor(amount / step + 0.5)


def shared_out(total: int, weights: Sequence[float], mirrored: Sequence[int]) -> list[int]:
    """Whole steps for each weight that add up to the total, none more than a step from its exact share.

    `mirrored[n]` is the zone that lies opposite of zone n (n itself in the middle); a pair of one size gets
    the same, unless an odd step has no middle to go to.

    Shapes  (n,), (n,) -> n counts
    Raises  ValueError for a negative total, or weights that are negative or all zero
    Source  largest remainders, pairs at a time; ours
    """
    whole = sum(weights)
    if total < 0 or min(weights, default=0.0) < 0 or not whole > 0:
        raise ValueError("a negative total, or weights that are negative or all zero, cannot be shared out")
    exact = [total * weight / whole for weight in weights]
    groups = _groups(exact, mirrored)
    for group in groups:
        mean = sum(exact[n] for n in group) / len(group)
        for n in group:
            exact[n] = mean
    steps = [floor(share + 1e-9) for share in exact]
    left = total - sum(steps)
    groups.sort(key=lambda group: (steps[group[0]] - exact[group[0]], len(group)))
    given: list[list[int]] = []
    for group in groups:
        if len(group) <= left:
            given.append(group)
            left -= len(group)
    if left:
        _last_one(groups, given)
    for group in given:
        for n in group:
            steps[n] += 1
    return steps


def _groups(exact: list[float], mirrored: Sequence[int]) -> list[list[int]]:
    """Pairs of mirrored zones of one size, and single ones."""
    groups = []
    for n, other in enumerate(mirrored):
        alike = abs(exact[n] - exact[other]) <= ALIKE * max(exact[n], exact[other], 1e-12)
        paired = other != n and mirrored[other] == n and alike
        if not paired:
            groups.append([n])
        elif n < other:
            groups.append([n, other])
    return groups


def _last_one(groups: list[list[int]], given: list[list[int]]) -> None:
    """One step is left and only pairs are without: a single one gives up its own for a pair, or they part."""
    pair = next(group for group in groups if group not in given)
    single = next((group for group in reversed(given) if len(group) == 1), None)
    if single is None:
        given.append(pair[:1])
        return
    given.remove(single)
    given.append(pair)
