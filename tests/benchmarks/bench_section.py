"""How long do sections and drift indices take, beside a general sparse solver on as many unknowns?

Run it as a program: PYTHONPATH=. python tests/benchmarks/bench_section.py. Baseline: scipy's `spsolve` with
its own defaults on the five-point Laplace matrix of a square grid; below 1 is quicker than that.
"""

import time
from collections.abc import Callable

import numpy as np
from scipy.sparse import diags_array, kronsum
from scipy.sparse.linalg import spsolve

from engine.fields.drift import drift
from engine.fields.iso10211 import case_one, case_two
from engine.fields.section import Chamber, Layers, chamber_loss

REPEATS = 5


def best_ms(job: Callable[[], object]) -> float:
    """The quickest of some runs: what the machine's other work adds is left out."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        job()
        times.append(1000 * (time.perf_counter() - start))
    return min(times)


def baseline_ms(unknowns: int) -> float:
    """The general solver on a square grid of so many unknowns."""
    side = round(np.sqrt(unknowns))
    line = diags_array([-1.0, 2.001, -1.0], offsets=[-1, 0, 1], shape=(side, side))
    matrix = kronsum(line, line).tocsc()
    return best_ms(lambda: spsolve(matrix, np.ones(side * side)))


def staggered() -> list[tuple[float, float, float, float]]:
    """Seven rows lengthwise of seven baffles."""
    return [
        (0.12375 * (row + 1), start, 0.12375 * (row + 1), start + 0.165)
        for row in range(7)
        for start in (0.2475 * np.arange(7) + (0.0825 if row % 2 == 0 else 0.20625)).tolist()
    ]


def main() -> None:
    """One line a job: time, baseline, ratio."""
    chamber, layers = Chamber(0.1, 0.0, 0.93, 0.93), Layers(0.045, 0.1, 0.1)
    length, width = np.array([0.0, 1.98]), np.full(2, 0.99)
    jobs: list[tuple[str, int, Callable[[], object]]] = [
        ("chamber in section, 120 x 24", 121 * 25, lambda: chamber_loss(chamber, layers)),
        ("ISO 10211 case 1, 100 x 200", 101 * 201, case_one),
        ("ISO 10211 case 2, 120 x 96", 121 * 97, case_two),
        ("drift index, two solves of 12,000 cells", 2 * 12_000, lambda: drift(length, width, staggered())),
    ]
    print(f"{'job':42}{'ms':>9}{'spsolve ms':>12}{'ratio':>8}")
    for name, unknowns, job in jobs:
        job()
        ours, general = best_ms(job), baseline_ms(unknowns)
        print(f"{name:42}{ours:9.1f}{general:12.1f}{ours / general:8.2f}")


if __name__ == "__main__":
    main()
