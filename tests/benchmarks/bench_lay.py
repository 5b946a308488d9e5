"""How near to the known best are lays on published instances, how long do they take, and those of quilts?

Run   python -m tests.benchmarks.bench_lay

21 instances cut without waste (source: tests/bench/data/hopper_turton_c.csv), pieces not turned; ratio of the
length to the known best. On two cores of a rented server, busy with little and, in brackets, with much else:

    first answer     mean 1.049, worst 1.117      1 ms on the average,   5 ms at most (6 and 52)
    20,000 trials    mean 1.017, worst 1.050     46 ms on the average, 112 ms at most (144 and 482)
    50 ms            mean 1.013 (1.023), worst 1.033 (1.067)
    2 s              mean 1.010 (1.012), worst 1.033 (1.033)

The first two are the same on every machine; 20,000 trials are what a page asks for.

Quilts leave more slack than puzzles, and their first answer is mostly the one that a search ends with. Pieces
and lays for the shopping list take 0.5 to 3 ms a quilt (0.5 to 8); with 112 short baffles 3 ms.
"""

from statistics import mean, median
from time import perf_counter

from engine import load_catalogue, samples
from engine.bench.lay import TRIALS, lays_of
from engine.bench.pieces import pieces_of
from engine.bench.skyline import packed
from engine.quantities import resolve
from engine.score import score
from engine.shopping import shopping_list
from tests.bench.test_skyline import INSTANCES

CATALOGUE = load_catalogue()
ENDLESS = 10**9


def instances(name: str, trials: int, seconds: float) -> None:
    """One line: ratios and times of all published instances."""
    ratios, times = [], []
    for width, optimum, sizes in INSTANCES.values():
        start = perf_counter()
        found = packed(sizes, [1] * len(sizes), width, trials // len(sizes), seconds)
        times.append(perf_counter() - start)
        ratios.append(found.length / optimum)
    told = f"mean {mean(ratios):.3f}, worst {max(ratios):.3f}"
    print(f"{name:24} {told};  {1000 * mean(times):7.1f} ms, at most {1000 * max(times):7.1f} ms")


def quilts() -> None:
    """A line a sample: pieces, first lay and searched lay, and what the shopping list takes."""
    for sample in samples():
        q = resolve(sample.design, sample.night, CATALOGUE)
        result = score(q)
        pieces = pieces_of(sample.design, CATALOGUE, q, result)
        lists = []
        for _ in range(7):
            start = perf_counter()
            shopping_list(sample.design, q, result, CATALOGUE)
            lists.append(perf_counter() - start)
        first = sum(lay.length_m for lay in lays_of(pieces, CATALOGUE, trials=0))
        start = perf_counter()
        searched = sum(lay.length_m for lay in lays_of(pieces, CATALOGUE))
        search = perf_counter() - start
        print(
            f"{sample.id:28} shopping {1000 * median(lists):5.2f} ms; first {first:6.3f} m, "
            f"searched {searched:6.3f} m in {1000 * search:4.0f} ms"
        )


def main() -> None:
    """Print ratios and times."""
    instances("first answer", 0, 2.0)
    instances(f"{TRIALS} trials", TRIALS, 1e9)
    instances("50 ms", ENDLESS, 0.05)
    instances("2 s", ENDLESS, 2.0)
    quilts()


if __name__ == "__main__":
    main()
