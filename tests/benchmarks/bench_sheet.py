"""How long does the bench sheet take? `python -m tests.benchmarks.bench_sheet` prints it for each sample.

Lay, the document from an evaluated line-up, its pages counted, and its PDF, in milliseconds of processor
time; the aim is a PDF within 500 and a lay within 1000.
"""

from collections.abc import Callable
from datetime import date
from statistics import median
from time import process_time

from dashboard.bench_job import Bench, laid_once
from dashboard.bench_sheet import bench_sheet
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.evaluate import evaluate_all
from engine.export.spec_sheet import spec_sheet
from engine.paper.pages import document_pdf, page_count
from engine.samples import samples

DAY = date(2026, 11, 3)


def timed(work: Callable[[], object], rounds: int = 5) -> float:
    """Milliseconds, the middle of some rounds."""
    times = []
    for _ in range(rounds):
        start = process_time()
        work()
        times.append(1000 * (process_time() - start))
    return median(times)


def main() -> None:
    """Print a line a sample."""
    for sample in samples():
        alone = (Candidate(letter="A", design=sample.design),)
        line_up = evaluate_all(Comparison(night=sample.night, candidates=alone), load_catalogue())
        sheet = spec_sheet(line_up, "A", DAY)

        def laid(line_up=line_up, sheet=sheet) -> object:
            laid_once.cache_clear()
            return Bench(line_up, sheet).lays

        lay = timed(laid, rounds=1)
        written = timed(lambda line_up=line_up, sheet=sheet: bench_sheet(Bench(line_up, sheet)))
        document = bench_sheet(Bench(line_up, sheet))
        counted = timed(lambda document=document: page_count(document))
        printed = timed(lambda document=document: document_pdf(document))
        parts = {"lay": lay, "written": written, "paged": counted, "PDF": printed}
        print(f"{sample.id:28}", *(f"{name} {spent:4.0f}" for name, spent in parts.items()), "ms")


if __name__ == "__main__":
    main()
