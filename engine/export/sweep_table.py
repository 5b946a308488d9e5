"""What did every quilt of a sweep score, line by line, for a spreadsheet?

UTF-8 with a byte-order mark, comma between cells, dot decimals, units in the names of columns: one column a
choice that varies, by its path in a design, then the scores and what was checked.
"""

import csv
import io
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from engine.explore.rows import KEYS
from engine.explore.sweep import Sweep, codes_of
from engine.export.table import plain_text
from engine.recipe import Value
from engine.units import GRAM, LITRE

SCORES = {
    "weight_kg": ("weight_g", GRAM),
    "volume_m3": ("packed_l", LITRE),
    "comfort_c": ("comfortable_down_to_c", 1.0),
    "cost": ("cost_used", 1.0),
    "work_h": ("work_h", 1.0),
    "limit_c": ("limit_c", 1.0),
}
"""Each score's column, and the unit that it holds."""
BLOCK = 20_000
"""Rows turned to text at once, so that a million need no more memory than their text."""
CHECKS = ("fits", "stop", "steep", "on_front")


def sweep_csv(result: Sweep, front: NDArray[np.int64], rows: NDArray[np.int64] | None = None) -> str:
    """All quilts of a sweep, or some rows of it, as CSV text, byte-order mark included.

    Source  RFC 4180 (2005) for the quoting; guard against formulas: common practice, no source
    """
    kept = np.arange(len(result.numbers)) if rows is None else rows
    on_front = np.zeros(len(result.numbers), dtype=bool)
    on_front[front] = True
    sink = io.StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow([*(axis.path for axis in result.axes), *(name for name, _ in SCORES.values()), *CHECKS])
    for begin in range(0, len(kept), BLOCK):
        writer.writerows(_lines(result, kept[begin : begin + BLOCK], on_front))
    return "\ufeff" + sink.getvalue()


def _lines(result: Sweep, rows: NDArray[np.int64], on_front: NDArray[np.bool_]) -> Iterator[tuple[str, ...]]:
    columns: list[list[str]] = []
    for axis, code in zip(result.axes, codes_of(result.axes, result.numbers[rows]), strict=True):
        cells = [_cell(value) for value in axis.values]
        columns.append([cells[place] for place in code.tolist()])
    for key, (_, unit) in SCORES.items():
        shown = result.scored.scores[rows, KEYS.index(key)] / unit
        columns.append([f"{value:.6g}" for value in shown.tolist()])
    scored = result.scored
    for flags in (scored.fits[rows], scored.stop[rows], scored.steep[rows], on_front[rows]):
        columns.append(["yes" if flag else "no" for flag in flags.tolist()])
    return zip(*columns, strict=True)


def _cell(value: Value) -> str:
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else plain_text(value)
