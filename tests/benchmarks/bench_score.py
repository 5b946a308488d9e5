"""What does one edit cost: a score, a new layout, the bands of six candidates, beside the naive ways?

Run   python -m tests.benchmarks.bench_score

Medians of wall time, and ratios to a baseline of the same run: bands draw by draw through the same formulas
(a tenth of the draws, scaled up), and a new layout on a grid twice as fine. On two cores of a rented server,
busy with other work: score 1.6 ms, new layout 54 ms (4 times faster), bands of six 73 ms (150 times faster).
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from statistics import median
from time import perf_counter
from typing import Any

import numpy as np

from engine import load_catalogue, samples
from engine.bands import DRAWS, draw_scores, drawn
from engine.fields.loft_map import loft_map
from engine.quantities import resolve
from engine.quantities.on_sleeper import _plan
from engine.quantities.plan_map import layout_of, solved
from engine.score import score

CATALOGUE = load_catalogue()
TENTH = DRAWS // 10


def milliseconds(job: Callable[[], Any], repeats: int) -> float:
    """Median wall time."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        job()
        times.append(1000 * (perf_counter() - start))
    return median(times)


def one_draw(quantities: Any, index: int) -> Any:
    """The quantities of one draw out of many, as floats."""
    if is_dataclass(quantities) and not isinstance(quantities, type):
        changed = {f.name: one_draw(getattr(quantities, f.name), index) for f in fields(quantities)}
        return replace(quantities, **changed)
    values = np.asarray(quantities)
    drawn_here = values.ndim > 0 and values.shape[-1] == DRAWS
    return values[..., index] if drawn_here else quantities


def main() -> None:
    """Print times and ratios."""
    chosen = samples()[:6]
    resolved = [resolve(sample.design, sample.night, CATALOGUE) for sample in chosen]
    singles = [score(q) for q in resolved]
    rows = list(zip(resolved, singles, chosen, "ABCDEF", strict=True))

    def fresh() -> None:
        _plan.cache_clear()
        solved.cache_clear()
        score(resolve(chosen[0].design, chosen[0].night, CATALOGUE))

    def finer() -> None:
        layout = layout_of(chosen[0].design)
        cells = 2 * 96, 2 * 138
        loft_map(np.array(layout.position_m), np.array(layout.width_m), layout.baffles, cells=cells)

    def bands() -> None:
        for q, single, sample, letter in rows:
            draw_scores(q, single, sample.design, CATALOGUE, letter)

    def draw_by_draw() -> None:
        for q, single, sample, letter in rows:
            many = drawn(q, single, sample.design, CATALOGUE, letter)
            for index in range(TENTH):
                score(one_draw(many, index))

    one = milliseconds(lambda: [score(q) for q in resolved], 20) / len(resolved)
    new, twice = milliseconds(fresh, 7), milliseconds(finer, 3)
    six, naive = milliseconds(bands, 7), 10 * milliseconds(draw_by_draw, 1)
    print(f"score, layout known        {one:8.2f} ms")
    print(f"score, new layout          {new:8.1f} ms   {twice / new:5.1f} times faster than twice the grid")
    print(f"bands of six, {DRAWS} draws {six:8.1f} ms   {naive / six:5.0f} times faster than draw by draw")


if __name__ == "__main__":
    main()
