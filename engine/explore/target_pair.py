"""Which two choices together make one score what is wished and another as low as it can then be?

One of them is solved for every value of the other; round the best of those it is tried again, finer.
"""

import numpy as np

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import shapes_the_layout
from engine.explore.rows import KEYS
from engine.explore.target import PARTS, ROUNDS
from engine.explore.trial import TRIED, Answer, Array, Trial, check_wish, crossing, limits_of, spread
from engine.night import Night
from engine.refusals import Refusal

OTHER_TRIED, OTHER_LAYOUTS, OTHER_ROUNDS = 33, 13, 4


def reach_for_least(
    design: Design,
    night: Night,
    catalogue: Catalogue,
    solved: str,
    other: str,
    key: str,
    wished: float,
    least: str,
) -> Answer:
    """Change two choices until one score is what is wished and another as low as it can then be.

    Units   the score's
    Raises  Refusal as `reach`, and for a solved choice that shapes the layout
    Source  engine.score; subdivision of a bracket for each value of the other choice
    """
    check_wish(key, wished)
    check_wish(least, 0.0)
    (low, high, whole), (other_low, other_high, other_whole) = limits_of(solved), limits_of(other)
    if whole or shapes_the_layout(solved) or solved == other:
        raise Refusal(
            [f"{solved} cannot be solved beside {other}; allowed: a length or an amount of its own."]
        )
    scorer = Trial(design, night, catalogue, key)
    tried = OTHER_LAYOUTS if shapes_the_layout(other) else OTHER_TRIED
    span = (other_low, other_high)
    best: tuple[float, dict[str, float]] | None = None
    seen: list[Array] = []
    for _ in range(1 if shapes_the_layout(other) or other_whole else OTHER_ROUNDS):
        others = spread(*span, tried, other_whole, scorer.own(other))
        pairs, scores = _solutions(scorer, solved, other, others, (low, high), wished)
        seen.append(scores)
        if len(pairs) == 0:
            break
        costs = scorer.scores([solved, other], list(pairs.T))[:, KEYS.index(least)]
        place = int(np.argmin(costs))
        if best is None or costs[place] < best[0]:
            best = float(costs[place]), {solved: float(pairs[place, 0]), other: float(pairs[place, 1])}
        # Again, finer, between the neighbours of the best.
        step = (span[1] - span[0]) / (tried - 1)
        middle = best[1][other]
        span = (max(other_low, middle - step), min(other_high, middle + step))
    scores = np.concatenate(seen)
    if best is not None:
        return scorer.answer(best[1], True, scores)
    return _nearest_pair(scorer, (solved, other), others, (low, high), wished, scores)


def _solutions(
    scorer: Trial, solved: str, other: str, others: Array, span: tuple[float, float], wished: float
) -> tuple[Array, Array]:
    """Pairs of values that meet the wish, one for each value of the other that can; all scores looked at."""
    grid = np.linspace(*span, TRIED)
    across = np.repeat(others, TRIED)
    valid, scores = scorer.valid_scores([solved, other], [np.tile(grid, len(others)), across])
    table = np.where(valid, scores, np.nan).reshape(len(others), TRIED)
    pairs = []
    for value, row in zip(others, table, strict=True):
        at = crossing(grid, row, wished, scorer.own(solved))
        if at is not None:
            pairs.append((value, grid[at], grid[at + 1]))
    if not pairs:
        return np.empty((0, 2)), scores[valid]
    kept, low, high = (np.array(column) for column in zip(*pairs, strict=True))
    share = np.linspace(0, 1, PARTS)
    ends = np.zeros((len(kept), 2))
    for _ in range(ROUNDS):
        parts = low[:, np.newaxis] + (high - low)[:, np.newaxis] * share
        found = scorer.scores([solved, other], [parts.ravel(), np.repeat(kept, PARTS)])
        found = found[:, KEYS.index(scorer.key)].reshape(parts.shape)
        # The first part at whose ends the wish lies between the scores.
        passes = (found[:, :-1] - wished) * (found[:, 1:] - wished) <= 0
        place = np.argmax(passes, axis=1)
        rows = np.arange(len(kept))
        low, high = parts[rows, place], parts[rows, place + 1]
        ends = np.stack([found[rows, place], found[rows, place + 1]], axis=1)
    values = np.where(ends[:, 0] <= ends[:, 1], low, high)
    return np.stack([values, kept], axis=1), scores[valid]


def _nearest_pair(
    scorer: Trial,
    paths: tuple[str, str],
    others: Array,
    span: tuple[float, float],
    wished: float,
    scores: Array,
) -> Answer:
    grid = np.linspace(*span, TRIED)
    columns = [np.tile(grid, len(others)), np.repeat(others, TRIED)]
    valid, found = scorer.valid_scores(list(paths), columns)
    best = int(np.argmin(np.where(valid, np.abs(found - wished), np.inf)))
    return scorer.answer(
        {path: float(c[best]) for path, c in zip(paths, columns, strict=True)}, False, scores
    )
