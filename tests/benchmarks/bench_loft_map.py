"""What does the loft map cost, and what does it gain, from one grid to the next?

Run   python -m tests.benchmarks.bench_loft_map

Prints the table of engine/fields/loft_map.py: the staggered layout of 49 baffles and a quilt of full
crosswise baffles, each against its own finest grid. Times are processor time of one thread, median of 7.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from statistics import median
from time import perf_counter, process_time

from engine.fields.loft_map import LoftMap, loft_map

OUTLINE = [0.0, 1.98], [0.99, 0.99]
FINEST = (288, 576)
GRIDS = ((36, 72), (54, 108), (72, 144), (75, 149), (108, 216), (144, 288), FINEST)


def staggered() -> list[tuple[float, float, float, float]]:
    """Seven rows of seven baffles, 165 mm long and 82.5 mm apart; every second row set off by half."""
    rows = []
    for row in range(7):
        x, start = 0.12375 * (row + 1), 0.0825 if row % 2 == 0 else 0.20625
        rows += [(x, start + 0.2475 * n, x, start + 0.2475 * n + 0.165) for n in range(7)]
    return rows


def crosswise() -> list[tuple[float, float, float, float]]:
    """Seventeen full baffles from edge to edge."""
    return [(0.0, 0.11 * (n + 1), 0.99, 0.11 * (n + 1)) for n in range(17)]


def timed(layout: list[tuple[float, float, float, float]], cells: tuple[int, int] | None, repeats: int):
    """The map, with the median of its processor and wall times in ms."""
    spent, waited = [], []
    for _ in range(repeats):
        start, wall = process_time(), perf_counter()
        found = loft_map(*OUTLINE, layout, cells=cells)
        spent.append(1000 * (process_time() - start))
        waited.append(1000 * (perf_counter() - wall))
    return found, median(spent), median(waited)


def row(found: LoftMap, finest: LoftMap) -> str:
    """Errors against the finest grid, in percent."""
    pairs = (
        (found.base_m2[0], finest.base_m2[0]),
        (found.bulge_m4, finest.bulge_m4),
        (found.energies[0, 0], finest.energies[0, 0]),
    )
    return " ".join(f"{100 * (value / best - 1):+8.2f}" for value, best in pairs)


def main() -> None:
    """Print the table."""
    for name, layout in (("49 staggered baffles", staggered()), ("17 full crosswise baffles", crosswise())):
        finest = loft_map(*OUTLINE, layout, cells=FINEST)
        print(f"\n{name}\ncells      step mm   base %  bulge % energy %    ms   (wall)")
        for cells in (*GRIDS[:-1], None):
            found, spent, waited = timed(layout, cells, 7)
            step = 1000 * (found.x_m[1] - found.x_m[0])
            label = f"{found.x_m.size - 1} x {found.y_m.size - 1}" + (" default" if cells is None else "")
            print(f"{label:10} {step:7.1f} {row(found, finest)} {spent:6.0f} {waited:6.0f}")
    _, spent, waited = timed(staggered(), None, 15)
    print(f"\ndefault grid, new layout: {spent:.0f} ms of processor, {waited:.0f} ms of wall; target 60 ms")


if __name__ == "__main__":
    main()
