"""What does the maker print to build from: one document, in the order of use, for screen, HTML and PDF."""

from dashboard.bench_cloth import cut_list, lays, positions
from dashboard.bench_cover import cover, to_buy
from dashboard.bench_job import Bench
from dashboard.bench_joints import fill, joints
from dashboard.bench_steps import label, steps
from dashboard.bench_why import why
from engine.bench.template import PaperName
from engine.paper.blocks import Document


def bench_sheet(bench: Bench, paper: PaperName = "A4") -> Document:
    """The whole sheet; `paper` is what the templates are counted on."""
    sheet = bench.sheet
    day = f"{sheet.day.day} {sheet.day:%B} {sheet.day.year}"
    units = f"{bench.units} units"
    return Document(
        title=f"{sheet.letter} {sheet.name}",
        line=f"Bench sheet · {day} · design code {sheet.code} · Loftwright {sheet.version} · {units}",
        foot=f"{sheet.letter} {sheet.name} · {sheet.code} · {units}",
        sections=(
            cover(bench),
            to_buy(bench),
            cut_list(bench),
            lays(bench),
            positions(bench, paper),
            joints(bench),
            steps(bench),
            fill(bench),
            why(bench),
            label(bench),
        ),
    )
