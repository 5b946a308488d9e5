"""What is this quilt, what is bought for it, and what must be known before the first cut? Two sections."""

from collections.abc import Iterator

from dashboard.bench_job import Bench
from dashboard.bench_words import capital
from dashboard.caution_text import told
from dashboard.close_up_parts import asked_and_made
from dashboard.line_up_facts import covered, night_line
from dashboard.sheet import FIX_FIRST, MEASURES, ONLY_HERE, STAND_IN
from dashboard.sheet_words import cell_lines, head, size
from dashboard.verdicts import GRADE, estimate_caveat
from dashboard.words import Units, evenings, said
from engine.bench.steps_before import TRIAL_DOWN_KG, TRIAL_M
from engine.bench.trial_cloth import end_left_m, squares_left
from engine.cautions import Caution
from engine.export.qr import LONGEST, qr_drawing
from engine.paper.blocks import Beside, Block, Box, Column, Columns, Paragraph, Section, Table

AS_YOU_GO = "Made from assumptions: weigh as you go."
AS_YOU_GO_WHY = (
    "Every number here is an estimate from catalogue goods and common practice. Steps 2 and up say what the "
    "scale should show; where it shows something else, believe the scale and put it in as your own number."
)
SPARE = (
    "Lengths of cloth to buy are those of the lay, section 4, in whole cuts of the shop; what that leaves "
    "for the trial square is said below."
)
RUN_OUT = "Where the shop is out of it: "


def cover(bench: Bench) -> Section:
    """What it is, how large, its scores, the link, cautions."""
    blocks = [
        *_banner(bench.sheet.stops, bench.units),
        Paragraph(what_it_is(bench), manner="strong"),
        *_reason(bench),
        Columns(((scores_table(bench),), (_facts(bench),))),
        _night(bench),
        Paragraph(AS_YOU_GO_WHY, AS_YOU_GO),
        _safety(bench),
        *link_blocks(bench),
    ]
    return Section("cover", "1 What it is", tuple(blocks), wide=True)


def to_buy(bench: Bench) -> Section:
    """What, what for, how much of it goes in, how much to buy, what is there, a box to tick."""
    bought = {line.id: line for line in bench.one.purchases if line.unit == "m"}
    rows = []
    for line, cells in zip(bench.one.purchases, bench.sheet.goods.rows, strict=True):
        name, instead = cell_lines(cells[0], bench.units)
        used, buy = (cell_lines(cell, bench.units)[0] for cell in cells[1:3])
        if line.id in bench.lays_m and line.id in bought:
            used_m, buy_m = bench.lays_m[line.id]
            # What goes in, as in every table of goods, and what the pieces take of the roll.
            used += f"\nlay {said('length', used_m, bench.units)}"
            buy = said("length to buy", buy_m, bench.units)
        second = f"\n{RUN_OUT}{instead}" if instead else ""
        rows.append((capital(name) + second, line.purpose, used, buy, "", "tick"))
    columns = (
        Column("What"),
        Column("For"),
        Column("Use", "number"),
        Column("Buy", "number"),
        Column("Have", "blank"),
        Column("Got", "tick"),
    )
    note = bench.lay_fault or SPARE
    goods = Table("Goods to buy", columns, tuple(rows), key="buy")
    spare = tuple(Paragraph(text, manner="quiet") for text in (note, *_left_over(bench)))
    return Section("buy", "2 To buy", (goods, *spare), True, wide=True)


def _left_over(bench: Bench) -> Iterator[str]:
    """What there is for the trial square: of the cloth of each shell, and of down."""
    side, shells = bench.length(TRIAL_M), (bench.design.shells.inner, bench.design.shells.outer)
    for lay in bench.lays:
        if lay.roll.goods not in shells:
            continue
        told = f"{capital(lay.roll.name)}: {bench.length(end_left_m(lay))} is left at the end of the roll; "
        if squares_left(lay, TRIAL_M) == 2:
            yield told + f"with the gaps of the lay two squares of {side} fit in what is left."
        else:
            more = said("length to buy", TRIAL_M, bench.units)
            yield told + (f"not enough is left for the trial square: buy {more} more, or practise on scraps.")
    plan = bench.job.fill
    if plan is not None:
        spare_kg = max(sum(bag.size_kg for bag in plan.bags) - plan.whole_kg, 0.0)
        yield (
            f"Down: the bags hold {said('portion', spare_kg)} more than goes in, for loss and the trial; it "
            f"takes {said('portion', TRIAL_DOWN_KG)}: put that back into its bag afterwards."
        )


def what_it_is(bench: Bench) -> str:
    """The quilt in a sentence: kind, size, cloths, baffles, fill."""
    design, derived, catalogue, units = bench.design, bench.one.derived, bench.catalogue, bench.units
    inner, outer = (catalogue.fabric(id).name for id in (design.shells.inner, design.shells.outer))
    shells = f"both shells of {inner}" if inner == outer else f"inner shell of {inner}, outer of {outer}"
    fill = catalogue.fill(design.fill.good)
    if fill.form == "down":
        filled = f"{said('mass', derived.fill_kg, units)} of {fill.name}"
    else:
        filled = f"{design.fill.layers} × {fill.name}"
    kind = capital(design.kind)
    return f"{kind}, {size(derived.inner_finished_m, units)} when filled; {shells}; {filled}."


def cautions_content(cautions: tuple[Caution, ...], units: Units) -> tuple[Paragraph, ...]:
    """Warnings with their remedies, the grade in a word."""
    found = []
    for caution in cautions:
        what, remedy = told(caution, units)
        found.append(Paragraph(f"{what} {remedy}", f"{GRADE[caution.grade].word}."))
    return tuple(found)


def _banner(stops: tuple[Caution, ...], units: Units) -> Iterator[Block]:
    if stops:
        yield Box(FIX_FIRST, cautions_content(stops, units), heavy=True, wide=True)


def _reason(bench: Bench) -> Iterator[Block]:
    sheet = bench.sheet
    if sheet.chosen:
        yield Paragraph(sheet.reason or "By the group.", "Chosen.")
    if sheet.note:
        yield Paragraph(sheet.note, "Note.")


def _facts(bench: Bench) -> Table:
    derived, units, design = bench.one.derived, bench.units, bench.design
    layout = design.baffles.layout
    baffles = "none" if layout == "none" else layout
    if derived.baffle_count:
        baffles = f"{derived.baffle_count}, {layout}"
    rows = [
        ("Finished, inner shell", size(derived.inner_finished_m, units)),
        ("Finished, outer shell", size(derived.outer_finished_m, units)),
        ("Cut, inner shell", size(derived.inner_cut_m, units)),
        ("Cut, outer shell", size(derived.outer_cut_m, units)),
        ("Baffles", baffles),
        *([("Chamber width", asked_and_made(bench.one, units))] if derived.chamber_count > 1 else []),
        ("Loft, mean; mid-chamber", f"{bench.length(derived.loft_m)}; {bench.length(derived.loft_middle_m)}"),
        ("Tare; fill; full", "; ".join(said("mass", kg, units) for kg in _weights(bench))),
    ]
    return Table("The quilt in figures", (Column("Figure"), Column("")), tuple(rows), key="facts")


def _weights(bench: Bench) -> tuple[float, float, float]:
    fill = bench.sheet.fill
    return fill.tare_kg, fill.fill_kg, fill.full_kg


def scores_table(bench: Bench) -> Table:
    """The scores and the limit, each with its band."""
    rows = []
    for name, cell in bench.sheet.scores.rows:
        value, band = cell_lines(cell, bench.units, bench.currency)
        rows.append((head(name.text), value, band))
    columns = (Column("Score"), Column("Value", "number"), Column("9 in 10", "number"))
    return Table("Scores", columns, tuple(rows), key="scores")


def _night(bench: Bench) -> Paragraph:
    night, one = bench.line_up.comparison.night, bench.one
    first = ", first quilt" if night.first_quilt else ""
    return Paragraph(
        f"{night_line(night, [one.design.kind], bench.units)}. Temperatures: "
        f"{estimate_caveat(covered(night, [one.design.kind]))}. Limit: below it a standard man cools. "
        f"Work: about {evenings(int(one.score.evenings))} at the bench{first}.",
        "The night.",
        "quiet",
    )


def _safety(bench: Bench) -> Box:
    lines = tuple(Paragraph(each.text, f"{each.subject}.") for each in bench.sheet.safety)
    return Box("Take care", lines, wide=True)


def link_blocks(bench: Bench) -> Iterator[Block]:
    """The address as text, with a code beside it where it is short enough for one."""
    links = bench.links
    if not links.whole:
        yield Paragraph("This line-up is too long for a link: send its file.", "Link.")
        return
    told = [Paragraph(ONLY_HERE, "Link.")] if links.local else []
    told += [Paragraph(MEASURES)] if links.measures else []
    told += [Paragraph(STAND_IN.format(links.stand_in))] if links.stand_in else []
    if links.local:
        yield from told
        yield Paragraph(links.whole, manner="small")
        return
    for address, what in (
        (links.whole, "the whole line-up"),
        (links.alone, "this quilt alone, on this night"),
    ):
        if 0 < len(address) <= LONGEST:
            text = (Paragraph(f"The code opens {what}.", "Link."), *told, Paragraph(address, manner="small"))
            yield Beside(text, qr_drawing(address, f"QR code of the link to {what}"))
            return
    yield Paragraph("Too long for a code; type or send it.", "Link.")
    yield from told
    yield Paragraph(links.whole, manner="small")


def figure_rows(bench: Bench) -> tuple[tuple[str, str], ...]:
    """The derived numbers, name and text."""
    return tuple((name, cell_lines(cell, bench.units)[0]) for name, cell in bench.sheet.figures)
