"""How is a cell of the sheet said, and how is a table of it written? The same on the screen and on paper."""

from html import escape

from dashboard.line_up_facts import gap_in_words
from dashboard.words import (
    NBSP,
    SCALES,
    SCORE,
    Kind,
    ScoreKey,
    Units,
    cost,
    number,
    said,
    span,
)
from engine.design import Design
from engine.export.sheet_tables import Cell, Table
from engine.quantities import SIDE_ALLOWANCE_M, end_allowance
from engine.units import MILLILITRE

NUMERIC = {
    "count",
    "mass",
    "areal mass",
    "cut length",
    "length",
    "percent",
    "minutes",
    "price",
    "used",
    "to buy",
}
SAID_AS: dict[str, Kind] = {
    "mass": "mass",
    "areal mass": "areal mass",
    "cut length": "sheet length",
    "length": "length",
    "percent": "percent",
    "minutes": "minutes",
    "work": "work",
}
HEADS = {
    "score": "Score",
    "candidate": "Candidate",
    "value and band": "Value, and 9 in 10",
    "weight, all": "Weight",
}


def cell_lines(cell: Cell, units: Units = "metric", currency: str = "") -> tuple[str, str]:
    """A cell in plain text: what it says, and a smaller second line, which may be empty."""
    match cell.kind:
        case "text":
            return cell.text, ""
        case "count":
            return number(cell.values[0]), ""
        case "price":
            return cost(cell.values[0], currency, exact=True), ""
        case "bench size":
            return size(cell.values, units), ""
        case "used" | "to buy":
            return _amount(cell, units), ""
        case "score":
            words = SCORE[_key(cell.text)]
            value, low, high = cell.values
            return words.value(value, units, currency), words.band(low, high, units, currency)
        case "versus":
            return _versus(cell, units, currency)
        case "substitute":
            name, _, line = cell.text.partition("\n")
            return name, line.format(range=span("areal mass", *cell.values, units)) if cell.values else line
        case _:
            return ", ".join(said(SAID_AS[cell.kind], value, units) for value in cell.values), ""


def size(sides_m: tuple[float, ...], units: Units) -> str:
    """Length × width, the unit once, as finely as the sheet's ruler."""
    scale = SCALES["sheet length"][units == "trade"]
    return f"{NBSP}×{NBSP}".join(scale.text(side) for side in sides_m) + NBSP + scale.unit


def _key(text: str) -> ScoreKey:
    return next(key for key in SCORE if key == text)


def _amount(cell: Cell, units: Units) -> str:
    amount, buying = cell.values[0], cell.kind == "to buy"
    match cell.text:
        case "m":
            return said("length to buy" if buying else "length", amount, units)
        case "g":
            return said("mass", amount / 1000, units)
        case "rolls" | "spools" | "tubes":
            pack = cell.values[1]
            each = said("liquid", pack * MILLILITRE) if cell.text == "tubes" else said("roll", pack, units)
            word = cell.text.removesuffix("s") if amount == 1 else cell.text
            return f"{number(amount)}{NBSP}{word} of {each}"
        case "mL":
            return said("liquid", amount * MILLILITRE)
        case _:
            return number(amount, 1, trim=True)


def _versus(cell: Cell, units: Units, currency: str) -> tuple[str, str]:
    key = _key(cell.text)
    value, *gap = cell.values
    shown = SCORE[key].value(value, units, currency)
    if not gap:
        return shown, ""
    middle, p_less, of, spread = gap
    return shown, gap_in_words(key, (middle, p_less, of, spread), units, currency)


def head(text: str) -> str:
    """The head of a column or row: a score by its title, our own words as they are."""
    if text in SCORE:
        return SCORE[_key(text)].title
    return HEADS.get(text, text)


def table_html(table: Table, units: Units = "metric", currency: str = "") -> str:
    """A table for a page of any kind; every text in it is escaped."""
    heads = "".join(
        f'<th scope="col"{_class(cell)}>{escape(head(column).capitalize())}</th>'
        for column, cell in zip(table.columns, _first(table), strict=True)
    )
    rows = [_row(row, units, currency) for row in table.rows]
    if table.totals:
        rows.append(_row(table.totals, units, currency, ' class="lw-sum"'))
    return (
        f'<table class="lw-table lw-{table.key}"><caption class="lw-hidden">{escape(table.title)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
    )


def scroll_html(table: Table, units: Units = "metric", currency: str = "") -> str:
    """The table in a box of its own that a keyboard can scroll, so that a page never moves sideways."""
    box = f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{escape(table.title)}">'
    return f"{box}{table_html(table, units, currency)}</div>"


def _first(table: Table) -> tuple[Cell, ...]:
    """For each column a cell that says whether it holds numbers."""
    if not table.rows:
        return tuple(Cell("text") for _ in table.columns)
    columns = zip(*table.rows, strict=True)
    return tuple(next((cell for cell in column if cell.kind in NUMERIC), column[0]) for column in columns)


def _class(cell: Cell) -> str:
    return ' class="lw-num"' if cell.kind in NUMERIC else ""


def _row(row: tuple[Cell, ...], units: Units, currency: str, marks: str = "") -> str:
    first, *rest = row
    cells = [f'<th scope="row">{_told(first, units, currency)}</th>']
    cells += [f"<td{_class(cell)}>{_told(cell, units, currency)}</td>" for cell in rest]
    return f"<tr{marks}>{''.join(cells)}</tr>"


def _told(cell: Cell, units: Units, currency: str) -> str:
    text, small = cell_lines(cell, units, currency)
    if cell.kind == "text":
        text = head(text)
    second = f'<span class="lw-second">{escape(small)}</span>' if small else ""
    return escape(text) + second


def allowances_in_words(design: Design, units: Units) -> str:
    """Where the measures of the drawing run, and how far beyond them the cloth is cut."""
    side, end = (said("bench length", m, units) for m in (SIDE_ALLOWANCE_M, end_allowance(design)))
    return (
        f"Cut sizes hold the allowances. The drawing's measures run between seam lines, from one datum edge; "
        f"the cloth is cut {side} beyond them at the sides and {end} at the ends."
    )
