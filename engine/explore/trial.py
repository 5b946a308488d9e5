"""What does a design score with some of its numbers changed, and where does a score pass a wish?"""

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
TRIED = 129
"""Values tried over the whole range of a choice."""


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


class Trial:
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
    return int(value) if limits_of(path)[2] else value


def limits_of(path: str) -> tuple[float, float, bool]:
    """Least and most value of a number of a design, and whether it counts.

    Raises  Refusal for a path that is no number of a design
    Source  engine.design
    """
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


def check_wish(key: str, wished: float) -> None:
    """Refuse a score that there is not, and a wish that is no number.

    Raises  Refusal
    Source  definition
    """
    if key not in KEYS:
        raise Refusal([f"{shown(key)} is no score; allowed: {', '.join(KEYS)}."])
    if not np.isfinite(wished):
        raise Refusal([f"The wish is {wished:g}; allowed: a number."])


def spread(low: float, high: float, count: int, whole: bool, own: float) -> Array:
    """Values over a range, the design's own among them.

    Shapes  (count,) or one more
    Source  definition
    """
    if whole:
        return np.arange(np.ceil(low), np.floor(high) + 1)
    inside = [own] if low <= own <= high else []
    values: Array = np.unique(np.concatenate([np.linspace(low, high, count), inside]))
    return values


def crossing(values: Array, scores: Array, wished: float, own: float) -> int | None:
    """Where the score passes the wish between two neighbours, nearest to the design's own value.

    Shapes  (n,), (n,) -> a place, or None where it never does
    Source  definition
    """
    gap = scores - wished
    passes = np.flatnonzero(gap[:-1] * gap[1:] <= 0)
    if not len(passes):
        return None
    off = np.abs((values[passes] + values[passes + 1]) / 2 - own)
    return int(passes[np.argmin(off)])
