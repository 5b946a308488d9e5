"""How a shell wider than its roll is put together from panels: how many, how long the joins, what laps."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.formulas.refuse import refuse_outside
from engine.units import Number

WideWay = Literal["least roll", "spliced", "turned"]
"""What is done with a shell wider than its roll: joined lengthwise, turned across the roll (and joined if it
is longer than the roll is wide), or whichever of the two takes less roll."""


@dataclass(frozen=True)
class Panels:
    """One shell in panels of equal size. Floats, or one value per variant."""

    count: Number
    turned: Number
    """1 where the shell lies across the roll and its joins run crosswise."""
    step_m: Number
    """From one join to the next."""
    join_m: Number
    """Length of all joins."""
    lap_m2: Number
    """Cloth that lies double in them."""
    roll_m: Number
    """Length of roll that the panels take one after another."""


def panels_of(
    position_m: Number, width_m: Number, usable_m: Number, lap_m: Number, way: WideWay = "least roll"
) -> Panels:
    """A shell on its roll; only one that is wider than the roll is joined or turned.

    Shapes  stations of the cut outline (k,) or (k, n), floats or (n,) -> floats or (n,)
    Units   m, m -> counts, m, m2
    Raises  ValueError for a roll no wider than two laps
    Source  definition
    """
    refuse_outside("usable roll width", usable_m, 2 * float(np.max(lap_m)) + 1e-3, np.inf, "m")
    length, width = position_m[-1] - position_m[0], np.max(width_m, axis=0)  # type: ignore[index]
    along, across = _count(width, usable_m, lap_m), _count(length, usable_m, lap_m)
    straight_roll, turned_roll = along * length, across * width
    less = turned_roll < straight_roll - 1e-9
    chosen = {"least roll": less, "spliced": np.False_, "turned": np.True_}[way]
    turned = chosen & (along > 1)
    count = np.where(turned, across, along)
    size = np.where(turned, length, width)
    step = (size - lap_m) / count
    join, lap = np.zeros(np.shape(count)), np.zeros(np.shape(count))
    for number in range(1, int(np.max(count))):
        inside = number < count
        begin = number * step
        join = join + inside * np.where(
            turned,
            width_at(position_m, width_m, begin + lap_m / 2),
            extent_at(position_m, width_m, begin + lap_m / 2 - width / 2),
        )
        double = [
            np.where(
                turned,
                area_before(position_m, width_m, end),
                area_beside(position_m, width_m, end - width / 2),
            )
            for end in (begin, begin + lap_m)
        ]
        lap = lap + inside * (double[1] - double[0])
    roll = np.where(turned, turned_roll, straight_roll)
    return Panels(count[()], np.where(turned, 1.0, 0.0)[()], step[()], join[()], lap[()], roll[()])


def _count(size_m: Number, usable_m: Number, lap_m: Number) -> Number:
    """Panels that hold a size: each but the first gives up a lap."""
    return np.maximum(np.ceil((size_m - lap_m) / (usable_m - lap_m) - 1e-9), 1.0)


def width_at(position_m: Number, width_m: Number, place_m: Number) -> Number:
    """Width of an outline so far from its first station.

    Shapes  (k,) or (k, n), broadcast with place
    Units   m
    Source  definition
    """
    far = place_m + position_m[0]  # type: ignore[index]
    found: Number = np.zeros(np.shape(far))
    for x0, x1, w0, w1 in _sides(position_m, width_m):
        share = np.clip((far - x0) / np.maximum(x1 - x0, 1e-12), 0.0, 1.0)
        here = (far >= x0) & (far <= x1)
        found = np.where(here, w0 + share * (w1 - w0), found)
    return found


def area_before(position_m: Number, width_m: Number, place_m: Number) -> Number:
    """Area of an outline up to so far from its first station.

    Shapes  (k,) or (k, n), broadcast with place
    Units   m -> m2
    Source  definition
    """
    far = place_m + position_m[0]  # type: ignore[index]
    area: Number = 0.0
    for x0, x1, w0, w1 in _sides(position_m, width_m):
        run = np.clip(far, x0, x1) - x0
        slope = (w1 - w0) / np.maximum(x1 - x0, 1e-12)
        area = area + run * (w0 + slope * run / 2)
    return area


def extent_at(position_m: Number, width_m: Number, offset_m: Number) -> Number:
    """How long an outline is, measured lengthwise so far beside its middle line.

    Shapes  (k,) or (k, n), broadcast with offset
    Units   m
    Source  definition
    """
    off = np.abs(offset_m)
    length: Number = 0.0
    for x0, x1, w0, w1 in _sides(position_m, width_m):
        low, high = np.minimum(w0, w1) / 2, np.maximum(w0, w1) / 2
        share = np.where(
            high - low > 1e-12, (high - off) / np.maximum(high - low, 1e-12), np.where(off <= high, 1.0, 0.0)
        )
        length = length + (x1 - x0) * np.clip(share, 0.0, 1.0)
    return length


def area_beside(position_m: Number, width_m: Number, offset_m: Number) -> Number:
    """Area of an outline from its middle line to so far beside it; negative to the other side.

    Shapes  (k,) or (k, n), broadcast with offset
    Units   m -> m2
    Source  definition (integral of extent_at)
    """
    off = np.abs(offset_m)
    area: Number = 0.0
    for x0, x1, w0, w1 in _sides(position_m, width_m):
        low, high = np.minimum(w0, w1) / 2, np.maximum(w0, w1) / 2
        fall = high - low
        rest = high - np.clip(off, low, high)
        slanting = (fall**2 - rest**2) / (2 * np.maximum(fall, 1e-12))
        area = area + (x1 - x0) * (np.minimum(off, low) + slanting)
    return np.sign(offset_m) * area


def _sides(position_m: Number, width_m: Number) -> list[tuple[Number, Number, Number, Number]]:
    position, width = np.asarray(position_m), np.asarray(width_m)
    return [
        (position[side], position[side + 1], width[side], width[side + 1])
        for side in range(len(position) - 1)
    ]
