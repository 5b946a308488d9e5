"""Which candidates give nothing away: the front of scores that are all better when less."""

import numpy as np
from numpy.typing import NDArray


def on_front(scores: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether each candidate is on the front: no other is as good in all scores and better in one.

    Shapes  (candidates, scores) -> (candidates,), or (candidates, scores, draws) -> (candidates, draws);
            meant for a handful of candidates, time grows with their square
    Raises  ValueError for NaN
    Source  definition of Pareto efficiency
    """
    values = np.asarray(scores, dtype=float)
    if np.isnan(values).any():
        raise ValueError("scores hold NaN; every candidate needs all its scores")
    mine, theirs = values[:, np.newaxis], values[np.newaxis, :]
    as_good = np.all(theirs <= mine, axis=2)
    better = np.any(theirs < mine, axis=2)
    free: NDArray[np.bool_] = ~np.any(as_good & better, axis=1)
    return free
