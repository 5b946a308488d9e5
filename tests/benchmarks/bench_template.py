"""What does a full-size template cost: the whole of it beside one repeat, for a usual and a very busy quilt?

Run   python -m tests.benchmarks.bench_template

Processor time of one thread, median of 5, and the ratio of a page of the whole to a page of one repeat.
"""

from statistics import median
from time import process_time

from engine.bench.pages import template_pdf
from engine.bench.template import Choice, Template, template
from engine.catalogue.load import load_catalogue
from engine.design import Design
from engine.evaluate import evaluate
from engine.night import Night

USUAL = Design()
BUSY = Design.model_validate(
    {
        "outline": {"length_mm": 2600, "width_mm": 2000},
        "baffles": {"layout": "staggered", "spacing_mm": 66, "piece_length_mm": 100, "gap_mm": 100},
    }
)


def timed(one: Template) -> float:
    """Milliseconds for the PDF."""
    times = []
    for _ in range(5):
        start = process_time()
        template_pdf(one)
        times.append(1000 * (process_time() - start))
    return median(times)


def main() -> None:
    """Print times and ratios."""
    catalogue = load_catalogue()
    for name, design in (("usual, full baffles", USUAL), ("370 short baffles", BUSY)):
        quilt = evaluate(design, Night(), catalogue)
        spent = {}
        for extent in ("repeat", "whole"):
            one = template(quilt, catalogue, Choice(shell="outer", extent=extent, paper="A4"))
            spent[extent] = timed(one) / max(one.tile_count, 1)
            print(f"{name:22} {extent:7} {one.tile_count:4} tiles {spent[extent] * one.tile_count:8.0f} ms")
        print(f"{'':22} a tile of the whole over one of a repeat: {spent['whole'] / spent['repeat']:.2f}")


if __name__ == "__main__":
    main()
