"""What did every quilt of a sweep score, line by line, for a spreadsheet?

UTF-8 with a byte-order mark, comma between cells, dot decimals, units in the names of columns: one column a
choice that varies, by its path in a design, then the scores and what was checked.
"""

import csv
import io
from collections.abc import Sequence

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
CHECKS = ("fits", "stop", "steep", "on_front")


def sweep_csv(result: Sweep, front: NDArray[np.int64], rows: NDArray[np.int64] | None = None) -> str:
    """All quilts of a sweep, or some rows of it, as CSV text, byte-order mark included.

    Source  RFC 4180 (2005) for the quoting; guard against formulas: common practice, no source
    """
    kept = np.arange(len(result.numbers)) if rows is None else rows
    on_front = np.zeros(len(result.numbers), dtype=bool)
    on_front[front] = True
    columns: list[Sequence[str]] = []
    for axis, code in zip(result.axes, codes_of(result.axes, result.numbers[kept]), strict=True):
        cells = [_cell(value) for value in axis.values]
        columns.append([cells[place] for place in code.tolist()])
    for key in SCORES:
        shown = result.scored.scores[kept, KEYS.index(key)] / SCORES[key][1]
        columns.append([f"{value:.6g}" for value in shown.tolist()])
    scored = result.scored
    for flags in (scored.fits[kept], scored.stop[kept], scored.steep[kept], on_front[kept]):
        columns.append(["yes" if flag else "no" for flag in flags.tolist()])
    sink = io.StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow([*(axis.path for axis in result.axes), *(name for name, _ in SCORES.values()), *CHECKS])
    writer.writerows(zip(*columns, strict=True))
    return "\ufeff" + sink.getvalue()


def _cell(value: Value) -> str:
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else plain_text(value)
