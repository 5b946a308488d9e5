"""Which pieces are cut, how do they lie on their rolls, and where are the baffles marked? Three sections."""

from collections.abc import Iterator

from dashboard.bench_job import Bench
from dashboard.bench_words import capital, patched_places
from dashboard.sheet_words import allowances_in_words, size
from dashboard.template_box import SHELLS, pages_in_words, ruler_of
from dashboard.words import number, said
from engine.bench.lay import Lay
from engine.bench.measures import measure_cells, running_measures
from engine.bench.pieces import Piece
from engine.bench.rows import row_groups
from engine.bench.template import Choice, Extent, PaperName, template
from engine.export.lay_drawing import lay_drawings
from engine.export.piece_drawing import piece_drawing
from engine.export.plan import plan_drawing
from engine.paper.blocks import (
    Block,
    Column,
    Figures,
    Heading,
    Item,
    Items,
    Paragraph,
    Section,
    Table,
    Together,
)
from engine.refusals import Refusal

AS_DRAWN = (
    "Shells are drawn inside up, head left: the RIGHT SIDE, which is seen when the quilt is used, lies down "
    "on the table. LEFT and RIGHT are those of the sleeper. The thick line is cut, the dashed one is "
    "the seam line."
)
SCRAP = "scraps of strong woven cloth"
"""As the cut list for a spreadsheet calls them."""
GRAINS = {"along": "along", "across": "across", "either": "either way"}
MEASURED = (
    "Measured from one datum edge, so that errors do not add up. INNER and OUTER have columns of their own: "
    "never take one for the other."
)
NO_LINES = "Nothing is marked on the shells: there are no baffles and no sewn lines."
TEST = (
    "Print it at 100 % and measure both test lines, 100 mm and 4 in, on its first page before anything is "
    "marked by it."
)
SIDE_DRAWING_MM = 84.0
UNIT_NAMES = {"mm": "mm", "in": "inches"}


def cut_list(bench: Bench) -> Section:
    """Every piece with its sizes, and a drawing of each."""
    rows = tuple(_piece_row(bench, piece) for piece in bench.pieces)
    columns = (
        Column("Piece"),
        Column("Count", "number"),
        Column("Cut, each"),
        Column("Finishes at"),
        Column("Of"),
        Column("Grain"),
        Column("Cut", "tick"),
    )
    drawings = tuple(piece_drawing(piece, bench.length, SIDE_DRAWING_MM) for piece in bench.pieces)
    blocks: list[Block] = [
        Table("Pieces to cut", columns, rows, key="cut"),
        Paragraph(allowances_in_words(bench.design, bench.units), manner="quiet"),
        Together((Heading("Drawn to scale"), Paragraph(AS_DRAWN, manner="quiet"), Figures(drawings[:2]))),
        *((Figures(drawings[2:]),) if drawings[2:] else ()),
    ]
    notes = tuple(_notes(bench))
    if notes:
        blocks.append(Together((Heading("Mind at each piece"), *notes)))
    return Section("cut", "3 Cut list", tuple(blocks), new_page=True)


def _piece_row(bench: Bench, piece: Piece) -> tuple[str, ...]:
    mirrored = f"\n{piece.mirrored} turned over" if piece.mirrored else ""
    flat = size(piece.seam_m, bench.units)
    finished = size(piece.finished_m, bench.units)
    same = piece.seam == piece.cut
    second = "" if same or flat == finished else f"\nseam to seam {flat}"
    places = f"\n{patched_places(bench.design.tabs)}" if piece.part == "patches" else ""
    edge = min(piece.long_edges_m)
    short = f"\ntrapezoid, short edge {bench.length(edge)}" if piece.is_trapezoid else ""
    return (
        capital(piece.name) + places,
        number(piece.count) + mirrored,
        size(piece.cut_m, bench.units) + short,
        finished + second,
        _cloth(bench, piece),
        GRAINS[piece.grain],
        "tick",
    )


def _allowances(bench: Bench, piece: Piece) -> str:
    """Edges of one allowance together: edges 13 mm, head and foot 35 mm."""
    by_width: dict[str, list[str]] = {}
    for each in piece.allowances:
        if each.width_m > 0:
            by_width.setdefault(bench.length(each.width_m), []).append(each.edge)
    return "; ".join(f"{', '.join(edges)} {width}" for width, edges in by_width.items())


def _cloth(bench: Bench, piece: Piece) -> str:
    if piece.goods is None:
        return f"{SCRAP}, counted as {said('areal mass', piece.areal_kg_m2, bench.units)}"
    catalogue = bench.catalogue
    if piece.goods in catalogue.fills:
        return catalogue.fill(piece.goods).name
    return catalogue.fabric(piece.goods).name


def _notes(bench: Bench) -> Iterator[Paragraph]:
    """What is said of several pieces once; what is said of the same pieces in one paragraph."""
    said_of: dict[str, list[str]] = {}
    for piece in bench.pieces:
        allowed = _allowances(bench, piece)
        texts = [f"Allowances: {allowed}."] if allowed else []
        for text in (*texts, *(note.said(bench.length) for note in piece.notes)):
            said_of.setdefault(text, []).append(piece.name)
    told: dict[tuple[str, ...], list[str]] = {}
    for text, names in said_of.items():
        told.setdefault(tuple(dict.fromkeys(names)), []).append(text)
    for names_of, texts in told.items():
        yield Paragraph(" ".join(texts), f"{capital(_listed(names_of))}.")


def _listed(names: tuple[str, ...]) -> str:
    """Baffle A, B, C where the first word is the same, otherwise in full."""
    first = names[0].rpartition(" ")[0]
    if first and all(
        name.rpartition(" ")[0] == first and len(name.rpartition(" ")[2]) == 1 for name in names
    ):
        return f"{first} {', '.join(name.rpartition(' ')[2] for name in names)}"
    return ", ".join(names)


def lays(bench: Bench) -> Section:
    """How the pieces lie on each cloth, how much of it to buy, how much of it is used."""
    if bench.lay_fault:
        return Section("lay", "4 Lay on the roll", (Paragraph(bench.lay_fault, "No lay."),))
    return Section("lay", "4 Lay on the roll", tuple(_lay(bench, lay) for lay in bench.lays))


def _lay(bench: Bench, lay: Lay) -> Together:
    units, roll = bench.units, lay.roll
    told = f"Roll {bench.length(roll.usable_m)} wide between its selvedges. "
    if lay.length_m > 0:
        told += (
            f"The pieces take {bench.length(lay.length_m)} of it, {said('percent', 100 * lay.yield_share)} "
            f"of which is cloth in the quilt. Buy {said('length to buy', lay.to_buy_m, units)}."
        )
    else:
        told += "All pieces come out of offcuts at hand: buy none."
    left_out = tuple(
        Paragraph(f"Take {number(count)} × {name} from offcut {where + 1}.")
        for where, name, count in lay.went()
        if where is not None
    )
    return Together(
        (
            Heading(capital(roll.name)),
            Paragraph(told),
            *left_out,
            Figures(lay_drawings(lay, bench.length)),
        )
    )


def positions(bench: Bench, paper: PaperName) -> Section:
    """Where baffles and sewn lines stand on both shells, and how many pages a template of them takes."""
    plan = plan_drawing(bench.design, bench.length)
    blocks: list[Block] = [Together((Paragraph("The inner shell, inside up, head left."), Figures((plan,))))]
    tables = tuple(_measures(bench))
    if tables:
        blocks += [Paragraph(MEASURED), *tables]
    else:
        blocks.append(Paragraph(NO_LINES))
    blocks.append(Together(tuple(_template(bench, paper))))
    return Section("positions", "5 Positions of baffles and sewn lines", tuple(blocks))


def _measures(bench: Bench) -> Iterator[Block]:
    ruler = ruler_of(bench.units)
    for measures in running_measures(bench.one, bench.catalogue):
        heads, lines = measure_cells(measures, ruler)
        across, along = (
            f"INNER {ruler.text(whole.inner_m)}, OUTER {ruler.text(whole.outer_m)}"
            for whole in (measures.across, measures.along)
        )
        title = f"{measures.run.capitalize()} {measures.kind}s, in {UNIT_NAMES[ruler.unit]}"
        columns = (Column(capital(heads[0])), *(Column(head, "number") for head in heads[1:]))
        yield Heading(title)
        yield Paragraph(
            "Across from the LEFT EDGE seam line at the widest place, "
            f"to {across}; along from the HEAD seam line, to {along}.",
            manner="quiet",
        )
        yield Table(title, columns, _carried(lines), key="measures")


def _carried(lines: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], ...]:
    """The place of a row beside each of its pieces, so that a page may be turned between them."""
    found, place = list[tuple[str, ...]](), ("", "")
    for name, inner, outer, *rest in lines:
        place = (inner, outer) if inner else place
        found.append((name, *place, *rest))
    return tuple(found)


def _template(bench: Bench, paper: PaperName) -> Iterator[Heading | Paragraph | Items]:
    yield Heading("Template at full size")
    yield Paragraph(TEST)
    extents: tuple[tuple[Extent, str], ...] = (("repeat", "one repeat"), ("whole", "the whole shell"))
    if not row_groups(bench.design, bench.catalogue):
        extents = (("whole", "the whole shell"),)
    items = []
    for shell, name in SHELLS.items():
        for extent, what in extents:
            try:
                made = template(
                    bench.one, bench.catalogue, Choice(shell, extent, paper), ruler_of(bench.units)
                )
            except Refusal as refusal:
                items.append(Item(f"{name}, {what}: {' '.join(refusal.messages)}", tick=False))
            else:
                items.append(Item(f"{name}, {what}: {pages_in_words(made)}", tick=False))
    yield Items(tuple(items))
    yield Paragraph("It is a file of its own, with a map of its pages, from the Make page.", manner="quiet")
