"""What does the lay leave over of a roll, and do the two pieces of a trial square fit into it?"""

from math import ceil, floor

import numpy as np

from engine.bench.lay import Lay

CELL_M = 0.01
"""Of the grid that room is looked for in: pieces are rounded up to it, room down."""
SAME = 1e-6


def end_left_m(lay: Lay) -> float:
    """What is left at the end of the roll, beside what lies between the pieces.

    Units   m
    Source  definition
    """
    return max(lay.to_buy_m - lay.length_m, 0.0)


def squares_left(lay: Lay, side_m: float, most: int = 2) -> int:
    """How many squares fit on the bought roll beside its pieces, each piece taken as its box; `most` at most.

    Units   m
    Source  definition
    """
    shape = floor(lay.to_buy_m / CELL_M + SAME), floor(lay.roll.usable_m / CELL_M + SAME)
    taken = np.zeros(shape, dtype=bool)
    for place in lay.placements:
        if place.offcut is None:
            x, y = zip(*place.outline, strict=True)
            taken[_cells(min(x), max(x)), _cells(min(y), max(y))] = True
    cells = ceil(side_m / CELL_M - SAME)
    for found in range(most):
        at = _free(taken, cells)
        if at is None:
            return found
        taken[at[0] : at[0] + cells, at[1] : at[1] + cells] = True
    return most


def _cells(low_m: float, high_m: float) -> slice:
    return slice(floor(low_m / CELL_M + SAME), ceil(high_m / CELL_M - SAME))


def _free(taken: np.ndarray, cells: int) -> tuple[int, int] | None:
    """The first free square, along the roll and then across."""
    if min(taken.shape) < cells:
        return None
    sums = np.pad(np.cumsum(np.cumsum(taken, axis=0), axis=1), ((1, 0), (1, 0)))
    held = sums[cells:, cells:] - sums[:-cells, cells:] - sums[cells:, :-cells] + sums[:-cells, :-cells]
    places = np.argwhere(held == 0)
    return (int(places[0][0]), int(places[0][1])) if len(places) else None
