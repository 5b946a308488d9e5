"""What does the group take to the shop, as a document for the PDF: the content of the group sheet."""

from dashboard.bench_cover import cautions_content, figure_rows, link_blocks, scores_table
from dashboard.bench_job import Bench
from dashboard.bench_joints import fill_box
from dashboard.bench_words import capital
from dashboard.budget_words import budgets_in_words
from dashboard.line_up_facts import covered
from dashboard.measures import left_out_line
from dashboard.sheet import FIX_FIRST, PRICES, night_of, verdict_of
from dashboard.sheet_words import NUMERIC, allowances_in_words, cell_lines, head
from dashboard.verdicts import estimate_caveat
from dashboard.words import evenings
from engine.export import sheet_tables
from engine.export.plan import plan_drawing
from engine.export.sheet_tables import Cell
from engine.paper.blocks import (
    Block,
    Box,
    Column,
    Columns,
    Document,
    Figures,
    Heading,
    Paragraph,
    Section,
    Table,
    Together,
)

PLAN_WIDTH_MM = 86.0


def group_paper(bench: Bench) -> Document:
    """The short form for the group: name, verdict, scores, line-up, plan, goods, parts, cautions, link."""
    sheet, line_up = bench.sheet, bench.line_up
    day = f"{sheet.day.day} {sheet.day:%B} {sheet.day.year}"
    units = f"{bench.units} units"
    blocks = (*_opening(bench), *_scores(bench), *_figures(bench), *_tables(bench), *_cautions(bench))
    kind = capital(sheet.kind)
    return Document(
        title=f"{sheet.letter} {sheet.name}",
        line=f"{kind} · {day} · design code {sheet.code} · Loftwright {sheet.version} · {units}",
        foot=f"Group sheet · {sheet.letter} {sheet.name} · {sheet.code} · {units}",
        sections=(
            Section("group", f"Group sheet, {len(line_up.evaluations)} in the line-up", blocks, wide=True),
        ),
    )


def paper_table(table: sheet_tables.Table, bench: Bench) -> Table:
    """A table of the sheet's content, said."""
    columns = tuple(
        Column(capital(head(name)), "number" if _numeric(table, place) else "text")
        for place, name in enumerate(table.columns)
    )
    rows = tuple(tuple(_said(cell, bench) for cell in row) for row in table.rows)
    totals = tuple(_said(cell, bench) for cell in table.totals)
    return Table(table.title, columns, rows, totals, table.key)


def _numeric(table: sheet_tables.Table, place: int) -> bool:
    return any(row[place].kind in NUMERIC for row in table.rows)


def _said(cell: Cell, bench: Bench) -> str:
    text, small = cell_lines(cell, bench.units, bench.currency)
    if cell.kind == "text":
        text = head(text)
    return f"{text}\n{small}" if small else text


def _opening(bench: Bench) -> tuple[Block, ...]:
    sheet, line_up = bench.sheet, bench.line_up
    beside = budgets_in_words([bench.one], bench.units, bench.currency), left_out_line(line_up.comparison)
    night = f"{night_of(line_up)}. {' '.join(filter(None, beside))}".strip()
    found: list[Block] = []
    if sheet.stops:
        found.append(Box(FIX_FIRST, cautions_content(sheet.stops, bench.units), heavy=True, wide=True))
    found += [Paragraph(verdict_of(line_up, sheet.letter)), Paragraph(night, "The night.", "quiet")]
    if sheet.chosen:
        found.append(Paragraph(sheet.reason or "By the group.", "Chosen."))
    if sheet.note:
        found.append(Paragraph(sheet.note, "Note.", "quiet"))
    return tuple(found)


def _scores(bench: Bench) -> tuple[Block, ...]:
    night, one = bench.line_up.comparison.night, bench.one
    first = ", first quilt" if night.first_quilt else ""
    note = (
        f"Temperatures: {estimate_caveat(covered(night, [one.design.kind]))}. Limit: below it a standard man "
        f"cools. Work: about {evenings(int(one.score.evenings))} at the bench{first}."
    )
    scores = scores_table(bench)
    found: list[Block] = [Columns(((scores,), (fill_box(bench),))), Paragraph(note, manner="quiet")]
    if len(bench.line_up.evaluations) > 1:
        others = paper_table(bench.sheet.line_up, bench)
        found.append(Together((Heading(bench.sheet.line_up.title), others)))
    return tuple(found)


def _figures(bench: Bench) -> tuple[Block, ...]:
    plan = Figures((plan_drawing(bench.design, bench.length, PLAN_WIDTH_MM),))
    columns = (Column("Figure"), Column("Value", "number"))
    figures = Table("Figures", columns, figure_rows(bench), key="figures")
    return (Columns(((Heading("Plan"), plan), (Heading("Figures"), figures))),)


def _tables(bench: Bench) -> tuple[Block, ...]:
    goods, parts = paper_table(bench.sheet.goods, bench), paper_table(bench.sheet.parts, bench)
    allowed = allowances_in_words(bench.design, bench.units)
    return (
        Together((Heading("Goods to buy"), goods, Paragraph(PRICES, manner="quiet"))),
        Together((Heading("Parts"), parts, Paragraph(allowed, manner="quiet"))),
    )


def _cautions(bench: Bench) -> tuple[Block, ...]:
    sheet, found = bench.sheet, list[Block]()
    if sheet.cautions:
        minded = cautions_content(sheet.cautions, bench.units)
        found.append(Together((Heading("Mind these"), *minded)))
    lines = tuple(Paragraph(each.text, f"{each.subject}.", "quiet") for each in sheet.safety)
    found.append(Box("Take care", lines, wide=True))
    found += link_blocks(bench)
    return tuple(found)
