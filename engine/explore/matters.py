"""Which choices matter: how far does each move a score by itself, and what share of all its spread is its?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import Axis
from engine.explore.rows import KEYS, score_rows
from engine.explore.sweep import Sweep
from engine.explore.validity import valid_rows
from engine.night import Night
from engine.recipe import Value
from engine.refusals import Refusal

Array = NDArray[np.float64]
POWER = 10
"""Of 2: sampled rows for each matrix of the estimate, so 1024 (choices + 2) scores."""


@dataclass(frozen=True)
class Reach:
    """Between what each score moves when one choice takes all its values and all else stays."""

    path: str
    least: dict[str, float]
    most: dict[str, float]
    at_least: dict[str, Value]
    at_most: dict[str, Value]


@dataclass(frozen=True)
class Shares:
    """Shares of a score's variance: of each choice by itself, and with all that it does together with others.

    Estimates by sampling; they may stray some hundredths below 0 or above 1.
    """

    first: Array
    total: Array


def one_at_a_time(
    design: Design, night: Night, catalogue: Catalogue, axes: Sequence[Axis]
) -> tuple[Reach, ...]:
    """How far each choice moves each score around a design, by itself.

    Values that the design cannot take with its others are left out.

    Source  engine.score
    """
    found = []
    for axis in axes:
        codes = np.arange(len(axis.values))
        codes = codes[valid_rows(design, [axis], [codes])[0]]
        if not len(codes):
            continue
        scores = score_rows(design, night, catalogue, [axis], [codes]).scores
        low, high = np.argmin(scores, axis=0), np.argmax(scores, axis=0)
        places = range(len(KEYS))
        found.append(
            Reach(
                axis.path,
                {KEYS[p]: float(scores[low[p], p]) for p in places},
                {KEYS[p]: float(scores[high[p], p]) for p in places},
                {KEYS[p]: axis.values[codes[low[p]]] for p in places},
                {KEYS[p]: axis.values[codes[high[p]]] for p in places},
            )
        )
    return tuple(found)


def variance_shares(
    design: Design,
    night: Night,
    catalogue: Catalogue,
    axes: Sequence[Axis],
    seed: int = 20,
    power: int = POWER,
) -> dict[str, Shares]:
    """For each score, the shares of its variance over all combinations, each as likely as the others.

    Raises  Refusal where the model refuses some of the combinations: shares need choices free of each other
    Source  Saltelli et al., Computer Physics Communications 181 (2010) 259, by scipy.stats.sobol_indices
    """

    def scores(points: Array) -> Array:
        codes = [
            np.minimum((points[place] * len(axis.values)).astype(np.int64), len(axis.values) - 1)
            for place, axis in enumerate(axes)
        ]
        valid, reason = valid_rows(design, axes, codes)
        if not valid.all():
            raise Refusal([f"Some combinations are no quilts, so no shares can be told. {reason}"])
        return score_rows(design, night, catalogue, axes, codes).scores.T

    shares = shares_of(scores, len(axes), seed, power)
    return {key: Shares(shares.first[place], shares.total[place]) for place, key in enumerate(KEYS)}


def shares_of_sweep(result: Sweep) -> dict[str, Shares] | None:
    """The same shares exactly, from a sweep that has tried every combination; None where some are missing.

    Source  definition (analysis of variance of a full factorial design)
    """
    if result.sampled or result.refused:
        return None
    sizes = [len(axis.values) for axis in result.axes]
    found = {}
    for place, key in enumerate(KEYS):
        found[key] = shares_of_table(result.scored.scores[:, place].reshape(sizes))
    return found


def shares_of_table(table: Array) -> Shares:
    """First and total shares of the variance in a table of all combinations, one axis a choice.

    Shapes  any number of axes -> (axes,) each
    Source  definition (analysis of variance of a full factorial design)
    """
    whole = float(table.var())
    axes = range(table.ndim)
    # Round-off of a score that never varies is no variance.
    if whole <= (1e-12 * float(np.abs(table).max())) ** 2:
        return Shares(np.zeros(table.ndim), np.zeros(table.ndim))
    first = [table.mean(axis=tuple(other for other in axes if other != axis)).var() / whole for axis in axes]
    total = [1 - table.mean(axis=axis).var() / whole for axis in axes]
    return Shares(np.array(first), np.array(total))


def shares_of(function: Callable[[Array], Array], choices: int, seed: int = 20, power: int = POWER) -> Shares:
    """First and total shares of the variance of some functions of choices spread evenly from 0 to 1.

    A function that never varies has shares of 0.

    Shapes  function (choices, n) -> (functions, n); shares (functions, choices)
    Source  Saltelli et al., Computer Physics Communications 181 (2010) 259, by scipy.stats.sobol_indices
    """
    # Slow to import, and only asked for here.
    from scipy.stats import sobol_indices, uniform

    generator = np.random.default_rng(seed)
    with np.errstate(invalid="ignore", divide="ignore"):
        found: Any = sobol_indices(func=function, n=2**power, dists=[uniform()] * choices, rng=generator)
    first, total = (
        np.atleast_2d(np.asarray(shares, dtype=float)) for shares in (found.first_order, found.total_order)
    )
    return Shares(np.nan_to_num(first), np.nan_to_num(total))
