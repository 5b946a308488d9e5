"""How fast is a sweep beside one quilt after another, where does its time go, and how does it grow?

Run   python -m tests.benchmarks.bench_sweep

Baseline, of the same run: each design validated, resolved and scored by itself (300 of them, scaled up).
Layouts are solved before, so both have them; what they cost is told apart. On two cores of a rented server,
busy with other work: 988,200 quilts in 3.3 s, 730 times faster, 92 % of it scoring; growing with the power
0.73 from 10,000 on, because a chunk has a cost of its own; 520 MB at the most.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import resource
from math import log
from time import perf_counter, process_time

import numpy as np

from engine import load_catalogue
from engine.explore import rows
from engine.explore.choices import axes_of, count_of
from engine.explore.sweep import codes_of, sweep
from engine.night import Night
from engine.quantities import resolve
from engine.quantities.on_sleeper import _plan
from engine.quantities.plan_map import solved
from engine.recipe import Choice, Recipe, Span
from engine.samples import first_visit
from engine.score import score

CATALOGUE = load_catalogue()
DESIGN = first_visit().candidates[0].design
SINGLES = 300


def recipe(heights: int, stuffings: int) -> Recipe:
    """180 times as many quilts, of 10 layouts."""
    shells = ("nylon-10d-26", "film-17", "ripstop-30")
    return Recipe(
        choices=(
            Choice(path="shells.inner", values=shells[:2]),
            Choice(path="shells.outer", values=shells),
            Choice(path="fill.good", values=("down-800", "down-850", "down-900")),
            Choice(path="baffles.layout", values=("full, lengthwise", "staggered")),
            Choice(path="baffles.spacing_mm", span=Span(start=110, stop=150, step=10)),
            Choice(path="baffles.height_mm", span=Span(start=20, stop=19 + heights, step=1)),
            Choice(path="fill.overstuff_percent", span=Span(start=0, stop=stuffings - 1, step=1)),
        )
    )


def timed(job):
    """Result, wall time and processor time."""
    wall, cpu = perf_counter(), process_time()
    result = job()
    return result, perf_counter() - wall, process_time() - cpu


def main() -> None:
    """Print times, ratios, shares and exponents."""
    sizes = [recipe(8, 7), recipe(28, 20), recipe(90, 61)]
    _plan.cache_clear()
    solved.cache_clear()
    _, first, _ = timed(lambda: sweep(DESIGN, Night(), CATALOGUE, sizes[0]))
    results = [timed(lambda r=r: sweep(DESIGN, Night(), CATALOGUE, r)) for r in sizes]
    whole, wall, cpu = results[-1]
    count = len(whole.numbers)
    picked = np.random.default_rng(1).choice(count, SINGLES, replace=False)
    _, one, _ = timed(
        lambda: [score(resolve(whole.design_of(int(row)), Night(), CATALOGUE)) for row in picked]
    )
    print(f"10 layouts to solve {first - results[0][1]:13.2f} s")
    for part, each, _ in results:
        print(f"{len(part.numbers):9,d} quilts {each:18.2f} s")
    growth = log(results[2][1] / results[0][1]) / log(count / len(results[0][0].numbers))
    print(f"grows with the power {growth:12.2f}")
    alone = one / SINGLES * count
    print(f"one after another {alone:15.0f} s   {alone / wall:6.0f} times as long")
    print(f"processor time {cpu:18.2f} s   {cpu / wall:6.2f} processors busy")
    print(f"largest memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:15.0f} MB")
    shares(sizes[-1], cpu)


def shares(largest: Recipe, cpu: float) -> None:
    """Where the processor's time goes, by asking for the parts again one by one."""
    axes = axes_of(largest, CATALOGUE)
    numbers = np.arange(count_of(largest))
    codes, _, numbering = timed(lambda: codes_of(axes, numbers))
    chunks, _, grouping = timed(lambda: list(rows._chunks(rows._groups(DESIGN, axes, codes))))
    _, _, resolving = timed(
        lambda: [
            rows.resolve_column(DESIGN, Night(), CATALOGUE, axes, [code[group] for code in codes])
            for chunk in chunks
            for group in chunk.groups
        ]
    )
    rest = cpu - numbering - grouping - resolving
    for name, part in (
        ("numbering", numbering),
        ("sorting by layout", grouping),
        ("resolving", resolving),
        ("scoring and checking", rest),
    ):
        print(f"  {name:20s} {part:10.2f} s   {100 * part / cpu:5.0f} % of the processor's time")


if __name__ == "__main__":
    main()
