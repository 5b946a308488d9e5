"""Which value of a choice makes a score what is wished, and where that cannot be, what comes nearest?

A score need not move one way with a choice, so all of its range is tried first; where the score passes the
wish, the place is narrowed down. Of two choices one is solved for every value of the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.explore.choices import Axis, changed, shapes_the_layout
from engine.explore.rows import KEYS, score_rows
from engine.explore.validity import valid_rows
from engine.night import Night
from engine.recipe import Value
from engine.refusals import Refusal, find_field, shown

Array = NDArray[np.float64]
TRIED, TRIED_LAYOUTS = 129, 25
"""Values over the whole range: a new layout costs as much as a thousand scores."""
PARTS, PARTS_OF_LAYOUTS = 33, 5
ROUNDS, ROUNDS_OF_LAYOUTS = 7, 7
"""Narrowings, each to one of so many parts: to 1e-12 of the range, of a layout to 1e-5."""
OTHER_TRIED, OTHER_LAYOUTS = 33, 13
OTHER_ROUNDS = 4


@dataclass(frozen=True)
class Answer:
    """Values of the choices and the scores that they give; the nearest there are where the wish is not met.

    A score that jumps past the wish (one more chamber) is met on the better side of the jump.
    """

    values: dict[str, float]
    scores: dict[str, float]
    design: Design
    met: bool
    least: float
    most: float
    """Between which the score lies over the whole range of the choice."""


def reach(design: Design, night: Night, catalogue: Catalogue, path: str, key: str, wished: float) -> Answer:
    """Change one choice until a score is what is wished; of several values, the one nearest the design's own.

    Units   the score's
    Raises  Refusal for a path that is no number of a design, or a score or a wish that is none
    Source  engine.score; subdivision of a bracket
    """
    low, high, whole = _limits(path)
    _check(key, wished)
    scorer = _Scorer(design, night, catalogue, key)
    layouts = shapes_the_layout(path)
    values = _spread(low, high, TRIED_LAYOUTS if layouts else TRIED, whole, scorer.own(path))
    values, scores = scorer.along(path, values)
    at = _crossing(values, scores, wished, scorer.own(path))
    if at is None:
        best = int(np.argmin(np.abs(scores - wished)))
        return scorer.answer({path: float(values[best])}, False, scores)
    bracket, ends = values[at : at + 2], scores[at : at + 2]
    for _ in range(0 if whole else ROUNDS_OF_LAYOUTS if layouts else ROUNDS):
        parts = np.linspace(bracket[0], bracket[1], PARTS_OF_LAYOUTS if layouts else PARTS)
        parts, found = scorer.along(path, parts)
        place = _crossing(parts, found, wished, float(bracket[0]))
        if place is None:
            break
        bracket, ends = parts[place : place + 2], found[place : place + 2]
    return scorer.answer({path: float(bracket[_better(ends, wished)])}, True, scores)


def in_steps(
    design: Design, night: Night, catalogue: Catalogue, answer: Answer, key: str, wished: float, step: float
) -> Answer:
    """The answer with its one value on a whole step: the nearer one that still meets the wish.

    As it was where neither does, as at a jump.

    Units   the choice's
    Source  definition
    """
    ((path, value),) = answer.values.items()
    low, high, _ = _limits(path)
    near = np.array([np.floor(value / step) * step, np.ceil(value / step) * step])
    near = np.unique(np.clip(np.round(near, 9), low, high))
    scorer = _Scorer(design, night, catalogue, key)
    valid, scores = scorer.valid_scores([path], [near])
    meets = valid & (scores <= wished)
    if not answer.met or not meets.any():
        return answer
    best = near[meets][np.argmin(np.abs(near[meets] - value))]
    return scorer.answer({path: float(best)}, True, np.array([answer.least, answer.most]))


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
    _check(key, wished)
    _check(least, 0.0)
    (low, high, whole), (other_low, other_high, other_whole) = _limits(solved), _limits(other)
    if whole or shapes_the_layout(solved) or solved == other:
        raise Refusal(
            [f"{solved} cannot be solved beside {other}; allowed: a length or an amount of its own."]
        )
    scorer = _Scorer(design, night, catalogue, key)
    tried = OTHER_LAYOUTS if shapes_the_layout(other) else OTHER_TRIED
    span = (other_low, other_high)
    best: tuple[float, dict[str, float]] | None = None
    seen: list[Array] = []
    for _ in range(1 if shapes_the_layout(other) or other_whole else OTHER_ROUNDS):
        others = _spread(*span, tried, other_whole, scorer.own(other))
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
    scorer: "_Scorer", solved: str, other: str, others: Array, span: tuple[float, float], wished: float
) -> tuple[Array, Array]:
    """Pairs of values that meet the wish, one for each value of the other that can; all scores looked at."""
    grid = np.linspace(*span, TRIED)
    across = np.repeat(others, TRIED)
    valid, scores = scorer.valid_scores([solved, other], [np.tile(grid, len(others)), across])
    table = np.where(valid, scores, np.nan).reshape(len(others), TRIED)
    pairs = []
    for value, row in zip(others, table, strict=True):
        at = _crossing(grid, row, wished, scorer.own(solved))
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
    scorer: "_Scorer",
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


class _Scorer:
    """Scores of a design with some numbers changed."""

    def __init__(self, design: Design, night: Night, catalogue: Catalogue, key: str) -> None:
        self.design, self.night, self.catalogue, self.key = design, night, catalogue, key

    def own(self, path: str) -> float:
        """The design's own value."""
        value: Any = self.design
        for step in path.split("."):
            value = getattr(value, step)
        return float(value)

    def _rows(
        self, paths: Sequence[str], columns: Sequence[Array]
    ) -> tuple[list[Axis], list[NDArray[np.int64]]]:
        axes, codes = [], []
        for path, column in zip(paths, columns, strict=True):
            distinct, code = np.unique(column, return_inverse=True)
            values: tuple[Value, ...] = tuple(_typed(path, float(value)) for value in distinct)
            branches = values if shapes_the_layout(path) else (None,) * len(values)
            axes.append(Axis(path, values, "number", branches))
            codes.append(code)
        return axes, codes

    def scores(self, paths: Sequence[str], columns: Sequence[Array]) -> Array:
        """All scores of rows that are all valid, (n, 6)."""
        axes, codes = self._rows(paths, columns)
        return score_rows(self.design, self.night, self.catalogue, axes, codes).scores

    def valid_scores(self, paths: Sequence[str], columns: Sequence[Array]) -> tuple[NDArray[np.bool_], Array]:
        """The score of every row, NaN where the model refuses it."""
        axes, codes = self._rows(paths, columns)
        valid, reason = valid_rows(self.design, axes, codes)
        if not valid.any():
            raise Refusal([f"No value of {' and '.join(paths)} makes a quilt. {reason}"])
        result = np.full(len(valid), np.nan)
        scored = score_rows(self.design, self.night, self.catalogue, axes, [code[valid] for code in codes])
        result[valid] = scored.scores[:, KEYS.index(self.key)]
        return valid, result

    def along(self, path: str, values: Array) -> tuple[Array, Array]:
        """The values that the model takes, and the score at each."""
        valid, scores = self.valid_scores([path], [values])
        return values[valid], scores[valid]

    def answer(self, values: dict[str, float], met: bool, seen: Array) -> Answer:
        scores = self.scores(list(values), [np.array([value]) for value in values.values()])[0]
        design = changed(self.design, [(path, _typed(path, value)) for path, value in values.items()])
        named = dict(zip(KEYS, (float(score) for score in scores), strict=True))
        own = named[self.key]
        return Answer(values, named, design, met, min(float(seen.min()), own), max(float(seen.max()), own))


def _typed(path: str, value: float) -> float:
    return int(value) if _limits(path)[2] else value


def _limits(path: str) -> tuple[float, float, bool]:
    """Least and most value of a number of a design, and whether it counts."""
    field = find_field(Design, path.split("."))
    ends = (
        {name: getattr(rule, name) for rule in field.metadata for name in ("ge", "le") if hasattr(rule, name)}
        if field
        else {}
    )
    if set(ends) != {"ge", "le"}:
        raise Refusal(
            [f"{shown(path)} is no number of a design; allowed: a length, an angle, an amount or a count."]
        )
    return float(ends["ge"]), float(ends["le"]), field is not None and field.annotation is int


def _check(key: str, wished: float) -> None:
    if key not in KEYS:
        raise Refusal([f"{shown(key)} is no score; allowed: {', '.join(KEYS)}."])
    if not np.isfinite(wished):
        raise Refusal([f"The wish is {wished:g}; allowed: a number."])


def _spread(low: float, high: float, count: int, whole: bool, own: float) -> Array:
    """Values over a range, the design's own among them."""
    if whole:
        return np.arange(np.ceil(low), np.floor(high) + 1)
    inside = [own] if low <= own <= high else []
    values: Array = np.unique(np.concatenate([np.linspace(low, high, count), inside]))
    return values


def _crossing(values: Array, scores: Array, wished: float, own: float) -> int | None:
    """Where the score passes the wish between two neighbours, nearest to the design's own value."""
    gap = scores - wished
    passes = np.flatnonzero(gap[:-1] * gap[1:] <= 0)
    if not len(passes):
        return None
    off = np.abs((values[passes] + values[passes + 1]) / 2 - own)
    return int(passes[np.argmin(off)])


def _better(ends: Array, wished: float) -> int:
    """The end whose score is the wish or less; both are, within round-off, unless the score jumps."""
    return int(np.argmin(np.where(ends <= wished, wished - ends, np.inf))) if np.any(ends <= wished) else 0
