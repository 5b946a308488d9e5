"""What differs between the candidates? Choices as rows, candidates as columns, only rows that differ."""

from dataclasses import dataclass
from html import escape
from typing import Any

from dashboard.field_rules import GROUPS, Choices, applies
from dashboard.line_up_table import shape_html
from dashboard.numbers_in import show_number, shown_unit
from dashboard.words import NBSP, Kind, Units, number, said, span
from engine.bands import band_of
from engine.catalogue.load import Catalogue
from engine.design import Design, SuspensionItem
from engine.evaluate import Evaluation, LineUp
from engine.refusals import find_field

NO_MATTER = "does not apply"
WEIGHED_OUT = "Fill, weighed out"


@dataclass(frozen=True)
class Choice:
    """One row: a field's label and what each candidate has there, in the order of the line-up."""

    group: str
    label: str
    told: tuple[str, ...]

    @property
    def differs(self) -> bool:
        """Whether any two differ, or only one has it; that some lack it follows from another row."""
        there = [told for told in self.told if told != NO_MATTER]
        return len(set(there)) > 1 or (len(there) == 1 < len(self.told))

    @property
    def common(self) -> str:
        """What all have that have it at all."""
        return next(told for told in self.told if told != NO_MATTER)


def choices(line_up: LineUp) -> tuple[Choice, ...]:
    """Every choice that applies to at least one candidate, in the order in which a maker decides."""
    catalogue, units = line_up.catalogue, line_up.comparison.units
    rows = []
    for group, paths in GROUPS.items():
        for path in paths:
            told = tuple(_told(each.design, path, catalogue, units) for each in line_up.evaluations)
            if set(told) != {NO_MATTER}:
                rows.append(Choice(group, _label(path), told))
    return tuple(rows)


def _label(path: str) -> str:
    field = find_field(Design, path.split("."))
    return (field.title if field else None) or path


def _told(design: Design, path: str, catalogue: Catalogue, units: Units) -> str:
    form = catalogue.fill(design.fill.good).form
    if not applies(path, Choices(design, form)):
        return NO_MATTER
    value: Any = design
    for step in path.split("."):
        value = getattr(value, step)
    if path == "suspension":
        return "; ".join(_item(item, catalogue) for item in value) or "none"
    field = find_field(Design, path.split("."))
    extra = field.json_schema_extra if field and isinstance(field.json_schema_extra, dict) else {}
    if isinstance(value, bool) or value is None:
        return "yes" if value else "none" if value is None else "no"
    if isinstance(value, str):
        goods = str(extra.get("goods", "")).split(":")[0]
        return _good_name(value, goods, catalogue) if goods else value
    kind = str(extra.get("unit", ""))
    unit = shown_unit(kind, units).name
    return show_number(value, kind, units) + (f"{NBSP}{unit}" if unit else "")


def _good_name(id: str, goods: str, catalogue: Catalogue) -> str:
    shelf = {"fabric": catalogue.fabric, "fill": catalogue.fill, "joint": catalogue.joint}[goods]
    return shelf(id).name


def _item(item: SuspensionItem, catalogue: Catalogue) -> str:
    good = catalogue.hardware_item(item.good)
    times = f"{number(item.amount, 2, trim=True)}{NBSP}{'m' if good.sold_by == 'm' else '×'}"
    return f"{times} {good.name}"


def _follows(line_up: LineUp) -> list[Choice]:
    """What the choices come to; estimates with their bands."""
    units, group = line_up.comparison.units, "What follows"
    each = line_up.evaluations
    notes = tuple(one.design.note or "–" for one in each)
    noted = [Choice(group, "Note", notes)] if any(one.design.note for one in each) else []
    return [
        Choice(group, WEIGHED_OUT, tuple(said("mass", one.derived.fill_kg, units) for one in each)),
        Choice(group, "Loft, mean", tuple(_loft(one, "bench length", units) for one in each)),
        *noted,
    ]


def _loft(one: Evaluation, kind: Kind, units: Units) -> str:
    band = band_of(one.score.loft.mean_m, one.draws.loft.mean_m)
    return f"{said(kind, band.value, units)} ({span(kind, band.low, band.high, units)})"


def choices_html(line_up: LineUp) -> str:
    """The table in its own scroll box, and under it, folded, what is the same."""
    rows = choices(line_up)
    differing = [row for row in rows if row.differs]
    if not differing:
        return "<p>All choices are the same.</p>" + _same_html(rows)
    heads = "".join(
        f'<th role="columnheader" scope="col">{shape_html(each.letter)} {each.letter}'
        f'<span class="lw-hidden"> {escape(each.design.name)}</span></th>'
        for each in line_up.evaluations
    )
    body = "".join(_row_html(row) for row in [*differing, *_follows(line_up)])
    return (
        '<div class="lw-scroll" tabindex="0" role="region" aria-label="What differs, scrolls sideways">'
        '<table class="lw-table lw-choice-table"><caption class="lw-hidden">Choices that differ</caption>'
        f'<thead><tr><th scope="col">Choice</th>{heads}</tr></thead><tbody>{body}</tbody></table></div>'
        + _same_html(rows)
    )


def _row_html(row: Choice) -> str:
    hidden = f'<span class="lw-hidden">{NO_MATTER}</span>'
    cells = "".join(
        f'<td class="lw-quiet"><span aria-hidden="true">–</span>{hidden}</td>'
        if told == NO_MATTER
        else f"<td>{escape(told)}</td>"
        for told in row.told
    )
    return f'<tr><th scope="row">{escape(row.label)}</th>{cells}</tr>'


def _same_html(rows: tuple[Choice, ...]) -> str:
    same = [row for row in rows if not row.differs]
    if not same:
        return ""
    items = "".join(f"<li>{escape(row.label)}: {escape(row.common)}</li>" for row in same)
    return (
        f'<details class="lw-why"><summary>Also the same, where it applies: {len(same)} choices</summary>'
        f'<ul class="lw-same">{items}</ul></details>'
    )
