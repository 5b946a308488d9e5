"""How is it joined, does that hold, and how is it filled? Sections 6 and 8."""

from collections.abc import Iterator
from math import isfinite

from dashboard.bench_job import Bench
from dashboard.bench_words import capital, mass_unit, patched_places
from dashboard.words import NBSP, Units, number, said
from engine.bench.coupon import coupons
from engine.bench.fill_plan import FillPlan
from engine.bench.joint_loads import LoadCase
from engine.bench.joints import JointRow
from engine.paper.blocks import Block, Box, Column, FillIn, Heading, Paragraph, Section, Table, Together

CAUSES = {
    "lofting": "the fill, pressing the shells apart",
    "stuffing": "air shut in while it is stuffed",
    "hanging": "its own weight on cords and tabs",
}
MARGINS = (
    "Margin is what the joint holds over what pulls at it; below 3 there is little to spare, below 1 it "
    "gives way. Strengths are catalogue numbers: your own coupon decides."
)
BY_COUPON = (
    "The coupon step says how to hang one. Write the weight that opens it here, and put the peel strength in "
    "as your own number."
)
WEIGHED = "Weigh on the same scale, on the same day, in the same room: fill = full − tare."
GRAMS = "Down is weighed in grams, in steps of the scale; ounces would not add up."
TOP_UP = (
    "Keep the last tenth back. After a night’s rest put it where the quilt is thin: the last column says how "
    "much of it each would take."
)


def joints(bench: Bench) -> Section:
    """Each class of joint, what pulls at it, what it takes up, coupons."""
    schedule, units = bench.job.joints, bench.units
    blocks: list[Block] = [
        Table("Joints", _JOINT_COLUMNS, tuple(_joint(row, bench) for row in schedule.rows), key="joints")
    ]
    loads = tuple(_load(row, case, units) for row in schedule.rows for case in row.cases)
    if loads:
        blocks += [
            Heading("What pulls at them"),
            Table("What pulls at the joints", _LOAD_COLUMNS, loads, key="loads"),
        ]
        blocks.append(Paragraph(MARGINS, manner="quiet"))
    for row in schedule.rows:
        if row.remedy:
            blocks.append(Paragraph(row.remedy, f"{capital(row.name)}: {row.verdict}."))
    blocks.append(Paragraph(_totals(bench), "In all, without waste."))
    blocks += _coupons(bench)
    return Section("joints", "6 Joints", tuple(blocks))


_JOINT_COLUMNS = (
    Column("Joint"),
    Column("How"),
    Column("Count", "number"),
    Column("Each", "number"),
    Column("In all", "number"),
    Column("Tape", "number"),
    Column("Done", "tick"),
)
_LOAD_COLUMNS = (
    Column("Joint"),
    Column("What pulls"),
    Column("Way"),
    Column("Pull", "number"),
    Column("Holds", "number"),
    Column("Margin", "number"),
)


def _joint(row: JointRow, bench: Bench) -> tuple[str, ...]:
    units = bench.units
    each = bench.length(row.each_m) if row.count and row.each_m else ""
    if row.count and row.longest_m - row.shortest_m > 0.001:
        each = f"{bench.length(row.shortest_m)} to {bench.length(row.longest_m)}"
    second = f"{bench.length(row.width_m)} wide" if row.width_m and row.tape_m else ""
    how = row.method_name + ("; own number" if row.own else "")
    if row.kind == "patch":
        second = patched_places(row.count)
    return (
        capital(row.name),
        capital(how) + (f"\n{second}" if second else ""),
        number(row.count) if row.count else "",
        each,
        said("length", row.length_m, units) if row.length_m else "",
        said("length", row.tape_m, units) if row.tape_m else "",
        "tick",
    )


def _load(row: JointRow, case: LoadCase, units: Units) -> tuple[str, ...]:
    kind = "pull" if case.unit == "N/m" else "pull at a point"
    margin = "nothing pulls" if not isfinite(case.margin) else margin_text(case.margin)
    return (
        capital(row.name),
        CAUSES[case.cause] + ("\nfor nights and years" if case.lasting else ""),
        case.direction,
        said(kind, case.load, units),
        said(kind, case.capacity, units),
        margin,
    )


def margin_text(margin: float) -> str:
    """How many times over: 0.4, 2.5, 12, over 99."""
    if margin > 99:
        return "over 99"
    return number(margin, 1 if margin < 10 else 0)


def _totals(bench: Bench) -> str:
    totals, units = bench.job.joints.totals, bench.units
    found = [
        f"{name} {said(kind, amount, units)}"
        for name, kind, amount in (
            ("tape", "length", totals.tape_m),
            ("seams", "length", totals.seam_m),
            ("thread", "length", totals.thread_m),
            ("sealant", "liquid", totals.sealant_m3),
            ("cord", "length", totals.cord_m),
        )
        if amount > 0
    ]
    waste, tails = said("percent", 100 * totals.waste_share), said("percent", 100 * totals.thread_waste_share)
    text = f"{capital(', '.join(found))}. Section 2 holds {waste} more of tape and sealant, "
    text += f"{tails} more of thread."
    return text if found else "Nothing is used up in joints."


def _coupons(bench: Bench) -> Iterator[Block]:
    wanted = coupons(bench.design, bench.catalogue, bench.one.score)
    if not wanted:
        return
    rows = tuple(
        (
            capital(each.method_name) + ("; own number" if each.own else ""),
            each.cloth_name,
            bench.length(each.width_m),
            said("pull", each.expected_n_m, bench.units),
            said("mass", each.expected_kg, bench.units),
            said("mass", each.lasting_kg, bench.units),
            "",
        )
        for each in wanted
    )
    columns = (
        Column("Bond"),
        Column("On"),
        Column("Strip", "number"),
        Column("Peel, expected", "number"),
        Column("Just holds", "number"),
        Column("A night", "number"),
        Column("Yours", "blank"),
    )
    table = Table("Peel coupons", columns, rows, key="coupons")
    yield Together((Heading("Peel coupons"), table, Paragraph(BY_COUPON, manner="quiet")))


def fill(bench: Bench) -> Section:
    """Chamber by chamber, bag by bag, and the weights that decide."""
    plan = bench.job.fill
    if plan is None:
        return Section("fill", "8 Fill", (Paragraph(_sheet_text(bench)), fill_box(bench)))
    told = [TOP_UP] if bench.units == "metric" else [TOP_UP, GRAMS]
    if plan.finer_scale:
        told.append(f"{_numbered(plan.light)} under 40{NBSP}g: a scale of 0.1{NBSP}g should weigh that.")
    blocks: tuple[Block, ...] = (
        Paragraph(" ".join(told)),
        _zones(plan),
        _bags(plan),
        fill_box(bench),
    )
    return Section("fill", "8 Fill plan", blocks, new_page=True)


def _numbered(orders: tuple[int, ...]) -> str:
    """Number 3 is, Numbers 1 to 4 and 7 are: as they stand in the table."""
    if len(orders) == 1:
        return f"Number {orders[0]} is"
    runs: list[list[int]] = []
    for order in orders:
        if runs and order == runs[-1][-1] + 1:
            runs[-1].append(order)
        else:
            runs.append([order])
    told = [f"{run[0]} to {run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs]
    return f"Numbers {' and '.join((', '.join(told[:-1]), told[-1])) if told[1:] else told[0]} are"


def _sheet_text(bench: Bench) -> str:
    design, one = bench.design, bench.one
    fill = bench.catalogue.fill(design.fill.good)
    planned = said("mass", one.derived.fill_kg, bench.units)
    return f"{design.fill.layers} × {fill.name}, cut as in section 3: {planned} in all."


def _zones(plan: FillPlan) -> Table:
    rows = tuple(
        (
            f"{number(each.order)}. {capital(each.zone.name)}",
            said("portion", each.first_kg),
            " and ".join(number(bag) for bag, _ in each.bags),
            said("portion", each.together_kg),
            "tick",
            said("portion", each.mass_kg),
            said("portion", each.back_kg),
        )
        for each in plan.fills
    )
    columns = (
        Column("In this order"),
        Column("Put in", "number"),
        Column("Bag"),
        Column("Running total", "number"),
        Column("Done", "tick"),
        Column("In all", "number"),
        Column("Kept back", "number"),
    )
    first, whole, back = (said("portion", kg) for kg in (plan.first_kg, plan.whole_kg, plan.back_kg))
    totals = ("Together", first, "", "", "", whole, back)
    return Table("Fill plan", columns, rows, totals, key="fill")


def _bags(plan: FillPlan) -> Together:
    rows = tuple(
        (
            number(bag.number),
            said("portion", bag.size_kg),
            "",
            "",
            said("portion", bag.left_kg),
            said("portion", bag.end_kg),
        )
        for bag in plan.bags
    )
    columns = (
        Column("Bag"),
        Column("On it", "number"),
        Column("Weighed full", "blank"),
        Column("After the first fill", "blank"),
        Column("Should be left", "number"),
        Column("After topping up", "number"),
    )
    loss = f"{said('percent', 100 * plan.loss_share)} for down that stays in bags and air is counted in."
    table = Table("Bags of down", columns, rows, key="bags")
    return Together((Heading("Bags"), table, Paragraph(capital(loss), manner="quiet")))


def fill_box(bench: Bench) -> Box:
    """Tare, full and fill, with lines for one's own weights."""
    planned, units = bench.sheet.fill, bench.units
    unit = mass_unit(units)
    lines = (
        ("Tare, empty with all its cords:", planned.tare_kg),
        ("Full:", planned.full_kg),
        ("Fill = full − tare:", planned.fill_kg),
    )
    content = tuple(FillIn(name, f"planned {said('mass', kg, units)};", unit, "yours:") for name, kg in lines)
    return Box("Weigh and fill", (*content, Paragraph(WEIGHED)))
