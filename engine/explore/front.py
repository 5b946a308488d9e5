"""Which of many quilts give nothing away, within limits, and what does the best in each score give up?"""

from collections.abc import Sequence
from dataclasses import dataclass

import moocore
import numpy as np
from numpy.typing import NDArray

from engine.explore.rows import KEYS
from engine.explore.sweep import Sweep, codes_of
from engine.models import Frozen
from engine.score import SCORE_KEYS, ScoreKey

Flags = NDArray[np.bool_]
GOOD_ONES, WORTH_TRYING = 32, 3
"""Quilts with the lowest sums, which all others are compared with first while that drops enough of them."""
BEST_IN: dict[ScoreKey, str] = {
    "weight_kg": "lightest",
    "comfort_c": "warmest",
    "cost": "cheapest",
    "work_h": "quickest",
    "volume_m3": "smallest",
}
KNEE = "knee"
OFFERED = 12
"""How many quilts a loosened limit should let through, where there are so many."""


class Limits(Frozen):
    """What a quilt must keep to: the highest that each score may be, in its own unit, and what is checked."""

    weight_kg: float | None = None
    volume_m3: float | None = None
    comfort_c: float | None = None
    limit_c: float | None = None
    cost: float | None = None
    work_h: float | None = None
    covers: bool = True
    """Wide enough for the sleeper, and long enough or with a pad."""
    unstopped: bool = True
    """No warning that would stop the maker."""
    in_range: bool = True
    """Chambers not so steep that their warmth would need a section solved for each."""
    goods: tuple[str, ...] = ()
    """Of what varies, only goods from this set; empty for any."""


@dataclass(frozen=True)
class Front:
    """The quilts of a sweep that keep to all limits and that no other such quilt beats or equals in all.

    Quilts of equal scores are all on it. `rows` are rows of the sweep, in its order.
    """

    keys: tuple[ScoreKey, ...]
    rows: NDArray[np.int64]
    passing: NDArray[np.int64]
    dropped: int
    """Quilts without a finite score."""


@dataclass(frozen=True)
class Pick:
    """One quilt of the short list: what it is best in, and each score less that of the start."""

    best_in: str
    row: int
    against_start: dict[str, float]


@dataclass(frozen=True)
class Exclusion:
    """One limit that shuts quilts out: how many, and at what value how many would pass that keep to all else.

    `value` is None for what is no number, and where no quilt keeps to all the others.
    """

    limit: str
    excluded: int
    value: float | None
    would_pass: int


def no_other_beats(scores: NDArray[np.float64]) -> Flags:
    """Which rows no other row is as good as in all columns and better than in one; less is better.

    Exact, with equal rows all kept. What the rows of the lowest sums beat is dropped first; the rest goes to
    the divide and conquer of moocore.

    Shapes  (n, d) -> (n,)
    Raises  ValueError for a score that is not finite
    Source  definition of Pareto efficiency
    """
    values = np.ascontiguousarray(scores, dtype=float)
    if not np.isfinite(values).all():
        raise ValueError("scores hold a value that is not finite; leave such rows out first")
    count, columns = values.shape
    if count == 0 or columns == 0:
        return np.ones(count, dtype=bool)
    if columns == 1:
        least: Flags = values[:, 0] == values[:, 0].min()
        return least
    left = _unbeaten_by_good_ones(values)
    free = np.zeros(count, dtype=bool)
    free[left] = moocore.is_nondominated(values[left], keep_weakly=True)
    return free


def _unbeaten_by_good_ones(values: NDArray[np.float64]) -> NDArray[np.int64]:
    """Rows that none of those with the lowest sums beats; a sieve that drops little is put away."""
    spread = np.ptp(values, axis=0)
    sums = (values / np.where(spread > 0, spread, 1.0)).sum(axis=1)
    left = np.arange(len(values))
    if len(values) <= GOOD_ONES:
        return left
    columns = np.ascontiguousarray(values.T)
    for turn, good in enumerate(np.argpartition(sums, GOOD_ONES)[:GOOD_ONES]):
        no_better = np.logical_and.reduce([c >= v for c, v in zip(columns, values[good], strict=True)])
        rows = np.flatnonzero(no_better)
        beaten = rows[np.any(columns[:, rows] > values[good][:, np.newaxis], axis=0)]
        if len(beaten) > len(left) // 50:
            kept = np.ones(len(left), dtype=bool)
            kept[beaten] = False
            left, columns = left[kept], columns[:, kept]
        elif turn >= WORTH_TRYING:
            break
    return left


def failing(result: Sweep, limits: Limits) -> dict[str, Flags]:
    """For each limit that is set, which rows do not keep to it.

    Shapes  (n,) each
    Source  definition
    """
    found: dict[str, Flags] = {}
    for place, key in enumerate(KEYS):
        most = getattr(limits, key)
        if most is not None:
            # NaN keeps to no limit.
            found[key] = ~(result.scored.scores[:, place] <= most)
    if limits.covers:
        found["covers"] = ~result.scored.fits
    if limits.unstopped:
        found["unstopped"] = result.scored.stop
    if limits.in_range:
        found["in_range"] = result.scored.steep
    if limits.goods:
        found["goods"] = _foreign(result, limits.goods)
    return found


def _foreign(result: Sweep, goods: Sequence[str]) -> Flags:
    foreign = np.zeros(len(result.numbers), dtype=bool)
    for axis, code in zip(result.axes, codes_of(result.axes, result.numbers), strict=True):
        if axis.kind == "good":
            outside = np.array([value is not None and value not in goods for value in axis.values])
            foreign |= outside[code]
    return foreign


def front_of(result: Sweep, limits: Limits | None = None, keys: Sequence[ScoreKey] = SCORE_KEYS) -> Front:
    """The front of some of the five scores among the quilts that keep to the limits.

    Raises  ValueError for no score
    Source  definition of Pareto efficiency
    """
    if not keys:
        raise ValueError(f"keys is empty; allowed: at least one of {', '.join(SCORE_KEYS)}")
    whole = np.isfinite(result.scored.scores).all(axis=1)
    kept = whole.copy()
    for fails in failing(result, limits or Limits()).values():
        kept &= ~fails
    passing = np.flatnonzero(kept)
    columns = [KEYS.index(key) for key in keys]
    free = no_other_beats(result.scored.scores[passing][:, columns])
    return Front(tuple(keys), passing[free], passing, int(np.count_nonzero(~whole)))


def short_list(result: Sweep, front: Front, start: dict[str, float]) -> tuple[Pick, ...]:
    """The best in each score of the front, and the knee: nearest to being the best in all of them.

    Among equals in one score, the one that gives up least in the others. Empty when the front is.

    Source  definition; the knee is the least distance to the ideal point, scores counted in shares of their
            range on the front
    """
    if not len(front.rows):
        return ()
    scores = result.scored.scores[front.rows]
    columns = [KEYS.index(key) for key in front.keys]
    chosen = scores[:, columns]
    spread = np.ptp(chosen, axis=0)
    shares = (chosen - chosen.min(axis=0)) / np.where(spread > 0, spread, 1.0)
    sums = shares.sum(axis=1)
    best = [
        (BEST_IN[key], int(np.lexsort((sums, chosen[:, place]))[0])) for place, key in enumerate(front.keys)
    ]
    best.append((KNEE, int(np.lexsort((sums, np.square(shares).sum(axis=1)))[0])))
    return tuple(
        Pick(
            name,
            int(front.rows[place]),
            {key: float(scores[place, KEYS.index(key)] - start[key]) for key in KEYS},
        )
        for name, place in best
    )


def exclusions(result: Sweep, limits: Limits) -> tuple[Exclusion, ...]:
    """Each limit that shuts quilts out, the one that shuts out most first.

    Source  definition
    """
    fails = failing(result, limits)
    counts = sum((fail.astype(np.int64) for fail in fails.values()), np.zeros(len(result.numbers), np.int64))
    found = []
    for name, fail in fails.items():
        if not fail.any():
            continue
        # Quilts that keep to all other limits.
        others = counts - fail == 0
        value, would_pass = None, int(np.count_nonzero(others))
        if name in KEYS:
            scores = np.sort(result.scored.scores[others, KEYS.index(name)])
            scores = scores[np.isfinite(scores)]
            if len(scores):
                value = float(scores[min(OFFERED, len(scores)) - 1])
                would_pass = int(np.searchsorted(scores, value, side="right"))
        found.append(Exclusion(name, int(np.count_nonzero(fail)), value, would_pass))
    return tuple(sorted(found, key=lambda exclusion: -exclusion.excluded))


def passing_at(result: Sweep, limits: Limits, key: str, value: float) -> int:
    """How many quilts keep to the limits once one of them is set to a value.

    Source  definition
    """
    loosened = limits.model_copy(update={key: value})
    kept = np.isfinite(result.scored.scores).all(axis=1)
    for fails in failing(result, loosened).values():
        kept &= ~fails
    return int(np.count_nonzero(kept))
