"""How are the scores made up, what is taken for granted, and what may go wrong? Section 9."""

from dashboard.bench_cover import cautions_content, figure_rows
from dashboard.bench_job import Bench
from dashboard.bench_words import capital
from dashboard.parts_table import MAKES, SMALL, Make
from dashboard.sheet import PRICES
from dashboard.words import SCORE, evenings, number, said
from engine.bench.labour_plan import labour_plan
from engine.paper.blocks import (
    Block,
    Column,
    Columns,
    Heading,
    Item,
    Items,
    Paragraph,
    Plain,
    Section,
    Table,
    Together,
)

ASSUMED = (
    "Warmth is heat flow through each place of the quilt on the sleeper, one-dimensional, corrected for "
    "slanted faces; wind and a loose fit have one factor each, set by what makers find.",
    "Comfort is that of a standard woman neither warm nor cool, limit that of a standard man cool but in "
    "balance; people differ by more than the band.",
    "Fill power is that of the label; the band holds what labels are known to flatter.",
    "Allowances, draw-in, tape widths, paces and losses: common practice, no source.",
    "Woven cloth weighs up to a tenth more than its label, film a twentieth either way; the bands hold that.",
    "Minutes are those of a practised hand, times the first-quilt factor where the night asks for it.",
    PRICES,
)
SOURCES = (
    "The Method page names the source, reach and limits of every model, with published tables beside ours."
)
LAST_DIGITS = "Parts and sums are rounded on their own, so last digits may not add up."


def why(bench: Bench) -> Section:
    """Parts of each score, figures, assumptions, warnings."""
    content: list[Block] = []
    if bench.sheet.cautions:
        content.append(Heading("Mind these"))
        content += cautions_content(bench.sheet.cautions, bench.units)
    made = {make.title: _made(bench, make) for make in MAKES}
    weight, volume, heat, cost, work = made.values()
    content.append(Columns((_figures(bench), (*weight, *volume))))
    content.append(Columns((work, cost)))
    content.append(Columns((_hours(bench), heat)))
    content.append(Paragraph(LAST_DIGITS, manner="quiet"))
    content.append(
        Together(
            (
                Heading("What is taken for granted"),
                Items(tuple(Item(text, tick=False) for text in ASSUMED)),
                Paragraph(SOURCES, manner="quiet"),
            )
        )
    )
    return Section("why", "9 How the scores are made up", tuple(content))


def _figures(bench: Bench) -> tuple[Plain, ...]:
    columns = (Column("Figure"), Column("Value", "number"))
    return Heading("Figures"), Table("Figures", columns, figure_rows(bench), key="figures")


def _made(bench: Bench, make: Make) -> tuple[Plain, ...]:
    units, currency = bench.units, bench.currency
    rows = tuple(
        (capital(name), make.said(float(value), units, currency))
        for name, value in make.parts(bench.one).items()
        if abs(float(value)) >= SMALL
    )
    if not rows:
        return ()
    totals: tuple[str, ...] = ()
    if make.sum_of is not None:
        totals = ("Sum", SCORE[make.sum_of].value(bench.one.bands[make.sum_of].value, units, currency))
    note = (Paragraph(make.note, manner="quiet"),) if make.note else ()
    columns = (Column("Part"), Column("Value", "number"))
    table = Table(f"{make.title}, by part", columns, rows, totals, "made")
    return Heading(make.title), table, *note


def _hours(bench: Bench) -> tuple[Plain, ...]:
    one = bench.one
    plan = labour_plan(one.design, bench.catalogue, one.quantities, one.score)
    rows = tuple(
        (capital(work.operation), said("minutes", work.minutes), said("percent", 100 * work.share))
        for work in plan.works
    )
    columns = (Column("Work"), Column("Minutes", "number"), Column("Share", "number"))
    totals = ("Together", said("work", plan.hours), "")
    told = f"{capital(plan.longest.operation)} takes the most. About {evenings(plan.evenings)} at the bench"
    if plan.first_quilt_factor > 1:
        told += f"; a first quilt, {number(plan.first_quilt_factor, 1)} times a practised hand"
    told += f"; done after about {number(plan.elapsed_days)} days, waiting included."
    if plan.before_hard_stuffing_h:
        told += f" Not stuffed hard for {said('work', plan.before_hard_stuffing_h)} after the last joint."
    table = Table("Hours", columns, rows, totals, key="hours")
    return Heading("Hours, by what the hands do"), table, Paragraph(told, manner="quiet")
