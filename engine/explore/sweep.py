"""What do all the quilts score that a recipe of choices makes, and how many are there?

Up to a million combinations are tried whole, above that an even sample of them. Only scores, checks and the
number of each combination are kept; a design is made from its number when it is asked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import Axis, axes_of, changed, count_of
from engine.explore.rows import Progress, Scored, score_rows
from engine.explore.validity import valid_rows
from engine.night import Night
from engine.recipe import Recipe, Value
from engine.refusals import Refusal

MOST_WHOLE = 1_000_000
SAMPLED_POWER = 19
"""Of 2: 524,288 combinations are drawn where there are more than can be tried whole."""


@dataclass(frozen=True)
class Sweep:
    """All quilts that were tried. `scores` and checks are in the order of `numbers`."""

    design: Design
    night: Night
    recipe: Recipe
    axes: tuple[Axis, ...]
    possible: int
    numbers: NDArray[np.int64]
    """Each combination's place in the order of all possible ones; the last choice runs fastest."""
    scored: Scored
    refused: int
    """Combinations left out because the model refuses them."""
    first_refusal: str

    @property
    def sampled(self) -> bool:
        """Not every possible combination was tried."""
        return self.possible > MOST_WHOLE

    def values(self, row: int) -> dict[str, Value]:
        """What each choice is in a row."""
        codes = codes_of(self.axes, self.numbers[row : row + 1])
        return {axis.path: axis.values[int(code[0])] for axis, code in zip(self.axes, codes, strict=True)}

    def design_of(self, row: int) -> Design:
        """The whole design of a row."""
        return changed(self.design, self.values(row).items())


def codes_of(axes: Sequence[Axis], numbers: NDArray[np.int64]) -> list[NDArray[np.int64]]:
    """For each axis, which of its values each combination takes.

    Shapes  (n,) -> (n,) for each axis
    Source  definition
    """
    codes: list[NDArray[np.int64]] = []
    rest = numbers
    for axis in reversed(axes):
        rest, code = np.divmod(rest, len(axis.values))
        codes.append(code)
    return codes[::-1]


def sweep(
    design: Design, night: Night, catalogue: Catalogue, recipe: Recipe, progress: Progress | None = None
) -> Sweep:
    """Score what a recipe makes of a design on a night.

    Raises  Refusal for a recipe that no design takes, one that makes no valid quilt, too many layouts;
            whatever `progress` raises
    Source  engine.score
    """
    axes = axes_of(recipe, catalogue)
    possible = count_of(recipe)
    numbers = np.arange(possible) if possible <= MOST_WHOLE else _drawn(axes, recipe.seed)
    codes = codes_of(axes, numbers)
    valid, reason = valid_rows(design, axes, codes)
    if not valid.any():
        raise Refusal([f"None of the {possible} combinations is a quilt. {reason}"])
    kept = [code[valid] for code in codes]
    scored = score_rows(design, night, catalogue, axes, kept, progress)
    refused = int(len(valid) - np.count_nonzero(valid))
    return Sweep(design, night, recipe, axes, possible, numbers[valid], scored, refused, reason)


def _drawn(axes: Sequence[Axis], seed: int) -> NDArray[np.int64]:
    """Numbers of combinations that lie evenly among all: Sobol's points, shifted by the seed."""
    # Slow to import, and few sweeps need it.
    from scipy.stats import qmc

    shift = np.random.default_rng(seed).random(len(axes))
    points = (qmc.Sobol(len(axes), scramble=False).random_base2(SAMPLED_POWER) + shift) % 1.0
    numbers = np.zeros(len(points), dtype=np.int64)
    for place, axis in enumerate(axes):
        numbers = numbers * len(axis.values) + np.floor(points[:, place] * len(axis.values)).astype(np.int64)
    return np.unique(numbers)


def same_scores_once(result: Sweep, rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """Rows without those that score as an earlier one: a choice that does not apply makes many alike.

    Shapes  (n,) -> (m,), in order
    Source  definition
    """
    _, first = np.unique(result.scored.scores[rows], axis=0, return_index=True)
    kept: NDArray[np.int64] = rows[np.sort(first)]
    return kept
