"""Does the conduction solver agree with the standard's own two-dimensional cases? Builds and solves them.

ISO 10211:2017, Annex C: a solver passes case 1 within 0.1 K, case 2 within 0.1 K and 0.1 W/m.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.fields.conduction import Array, Film, Fixed, conduct
from engine.units import MM

TOLERANCE_K = 0.1
TOLERANCE_W_M = 0.1
CASE_2_POINTS_MM = {
    "A": (0.0, 0.0),
    "B": (500.0, 0.0),
    "C": (0.0, 6.0),
    "D": (15.0, 6.0),
    "E": (500.0, 6.0),
    "F": (0.0, 11.0),
    "G": (15.0, 11.0),
    "H": (0.0, 47.5),
    "I": (500.0, 47.5),
}
"""Where case 2 is read: to the right of the left side, down from the top."""


@dataclass(frozen=True)
class CaseTwo:
    """Temperatures by the standard's letters, and the flow through the body."""

    temperature_c: dict[str, float]
    flow_w_m: float


def case_one(cells_across: int = 100) -> Array:
    """Half a square column, its top at 20 degC, left side and bottom at 0 degC.

    Row by row from the top at every quarter of the width, each from the cold side to the middle.

    Shapes  (7, 4)
    Units   degC
    Raises  ValueError unless the cells make whole quarters
    Source  ISO 10211:2017, Annex C, case 1
    """
    if cells_across < 4 or cells_across % 4:
        raise ValueError(f"cells_across is {cells_across}; allowed: multiples of 4")
    x, y = np.meshgrid(
        np.linspace(0.0, 1.0, cells_across + 1), np.linspace(0.0, 2.0, 2 * cells_across + 1), indexing="ij"
    )
    rim = (Fixed("upper", 20.0), Fixed("left", 0.0), Fixed("lower", 0.0))
    quarter = cells_across // 4
    inner: Array = conduct(x, y, 1.0, rim).temperature_c[quarter::quarter, quarter:-1:quarter]
    return inner.T[::-1]


def case_two(fineness: int = 2) -> CaseTwo:
    """A wood strip and a metal stay in insulation, between concrete and a metal sheet.

    Units   degC, W/m
    Raises  ValueError for a fineness below 1
    Source  ISO 10211:2017, Annex C, case 2
    """
    if fineness < 1:
        raise ValueError(f"fineness is {fineness}; allowed: 1 or more")
    right = _crowded((0.0, 1.5, 15.0, 500.0), (6, 14, 40), fineness)
    down = _crowded((0.0, 6.0, 11.0, 12.5, 46.0, 47.5), (8, 8, 6, 20, 6), fineness)
    x_mm, down_mm = np.meshgrid((right[1:] + right[:-1]) / 2, (down[1:] + down[:-1]) / 2, indexing="ij")
    conductivity = np.full(x_mm.shape, 0.029)
    conductivity[down_mm < 6] = 1.15
    conductivity[(x_mm < 15) & (down_mm > 6) & (down_mm < 11)] = 0.12
    conductivity[(x_mm < 15) & (down_mm > 11) & (down_mm < 12.5)] = 230.0
    conductivity[(x_mm < 1.5) & (down_mm > 12.5)] = 230.0
    conductivity[down_mm > 46] = 230.0
    x, y = np.meshgrid(right * MM, -down[::-1] * MM, indexing="ij")
    field = conduct(x, y, conductivity[:, ::-1], (Film("upper", 0.06, 0.0), Film("lower", 0.11, 20.0)))
    read = field.temperature_c[:, ::-1]
    points = {
        letter: float(read[np.searchsorted(right, at_x - 1e-9), np.searchsorted(down, at_y - 1e-9)])
        for letter, (at_x, at_y) in CASE_2_POINTS_MM.items()
    }
    return CaseTwo(points, field.flow_w_m[1])


def _crowded(marks: Sequence[float], cells: Sequence[int], fineness: int) -> Array:
    """Mesh lines through all marks, denser beside each."""
    lines = [np.array(marks[:1])]
    for start, end, count in zip(marks[:-1], marks[1:], cells, strict=True):
        turn = np.linspace(0.0, np.pi, fineness * count + 1)[1:]
        lines.append(start + (end - start) * (1 - np.cos(turn)) / 2)
        lines[-1][-1] = end
    return np.concatenate(lines)
