"""Where does each candidate stand in two scores, in the units of the axes, and how are the axes called?"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dashboard.line_up_table import limit_of
from dashboard.numbers_in import shown_unit
from dashboard.words import SCORE, Units
from engine.evaluate import Evaluation, LineUp
from engine.explore.pareto import on_front
from engine.score import ScoreKey
from engine.units import GRAM, LITRE

# The unit of a model's field that a score is shown in, and that unit in SI.
AXES: dict[ScoreKey, tuple[str, float]] = {
    "weight_kg": ("g", GRAM),
    "volume_m3": ("", LITRE),
    "comfort_c": ("°C", 1.0),
    "cost": ("", 1.0),
    "work_h": ("h", 1.0),
}


@dataclass(frozen=True)
class Point:
    """One candidate in shown units: its two scores with bands, and how often it is on their front."""

    letter: str
    x: float
    y: float
    x_band: tuple[float, float]
    y_band: tuple[float, float]
    share: float
    label: str


def shown(key: ScoreKey, value: float, units: Units) -> float:
    """A score in the unit of its axis."""
    kind, si = AXES[key]
    return shown_unit(kind, units).typed(value / si)


def third_score(x: ScoreKey, y: ScoreKey) -> ScoreKey:
    """The score that stands as text beside the letters: cost, or the next that is on no axis."""
    wanted: tuple[ScoreKey, ...] = ("cost", "weight_kg", "comfort_c")
    return next(key for key in wanted if key not in (x, y))


def points_of(line_up: LineUp, x: ScoreKey, y: ScoreKey) -> tuple[Point, ...]:
    """Every candidate's place, in the order of the line-up."""
    now, third = line_up.comparison, third_score(x, y)
    shares = line_up.front_share((x, y))
    return tuple(
        Point(
            each.letter,
            shown(x, each.bands[x].value, now.units),
            shown(y, each.bands[y].value, now.units),
            _shown_band(each, x, now.units),
            _shown_band(each, y, now.units),
            shares[each.letter],
            f"{each.letter} {SCORE[third].value(each.bands[third].value, now.units, now.currency)}",
        )
        for each in line_up.evaluations
    )


def _shown_band(each: Evaluation, key: ScoreKey, units: Units) -> tuple[float, float]:
    band = each.bands[key]
    return shown(key, band.low, units), shown(key, band.high, units)


def front_of(points: Sequence[Point]) -> tuple[list[float], list[float]]:
    """The corners of the front, from its left end: those that no other beats in both scores."""
    table = np.array([[point.x, point.y] for point in points])
    front = sorted((point.x, point.y) for point, there in zip(points, on_front(table), strict=True) if there)
    return [x for x, _ in front], [y for _, y in front]


def limit_label(line_up: LineUp, key: ScoreKey) -> str:
    """What a line of the brief is called: your night, weight budget, purse, with its number."""
    now = line_up.comparison
    name = {"comfort_c": "your night", "weight_kg": "weight budget", "cost": "purse"}[key]
    limit = limit_of(now.night, key)
    return name if limit is None else f"{name}, {SCORE[key].value(limit, now.units, now.currency)}"


def axis_title(line_up: LineUp, key: ScoreKey) -> str:
    """Score and unit, as 'Weight, g'; the currency label, if there is one, is the unit of cost."""
    now = line_up.comparison
    if key == "cost":
        unit = now.currency
    else:
        unit = "L" if key == "volume_m3" else shown_unit(AXES[key][0], now.units).name
    return f"{SCORE[key].title}, {unit}" if unit else SCORE[key].title
