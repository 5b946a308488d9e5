"""Which baffle template does the maker want, on how many pages, and what are the measures instead of one?"""

from functools import partial
from html import escape

import streamlit as st

from dashboard.words import NBSP, SCALES, Units, number
from engine.bench.measures import Ruler, measure_cells, running_measures
from engine.bench.pages import template_pdf, template_svg
from engine.bench.piece import Shell
from engine.bench.rows import row_groups
from engine.bench.template import Choice, Extent, PaperName, Template, can_be_halved, template
from engine.catalogue.load import Catalogue
from engine.evaluate import Evaluation
from engine.refusals import Refusal

TITLE = "Baffle template"
SHELLS: dict[Shell, str] = {"inner": "Inner shell", "outer": "Outer shell"}
EXTENTS: dict[Extent, str] = {"repeat": "One repeat", "whole": "Whole shell"}
PAPERS: dict[PaperName, str] = {"A4": "A4", "Letter": "Letter", "A3": "A3", "roll": "One sheet for a plotter"}
NUMBER = ' class="lw-num"'
MEASURES = "Running measures, INNER and OUTER, from one datum edge"
HALF = "Half, to be turned over on the centre line"
HALVES_DIFFER = "The two halves of this shell are not mirror images, so there is no half piece."
TEST_LINES = (
    "Full size. Print at 100\u00a0% and measure both test lines on the first page: a print that was scaled "
    "to fit spoils both shells."
)
CHANGES = (
    "A differential cut moves every baffle on the outer shell: never mark one shell by the other’s template."
)


def show_template(one: Evaluation, catalogue: Catalogue, units: Units, stem: str) -> None:
    """Choices, the number of pages, the files, and the running measures."""
    st.header(TITLE, anchor=False)
    choice = _choice(one, catalogue, units)
    ruler = ruler_of(units)
    try:
        made = template(one, catalogue, choice, ruler)
    except Refusal as refusal:
        st.html(f'<p class="lw-mind" role="alert">{escape(" ".join(refusal.messages))}</p>')
    else:
        _files(made, stem)
    measures = measures_html(one, catalogue, ruler)
    if measures:
        st.html(measures)


def ruler_of(units: Units) -> Ruler:
    """Millimetres, or inches in eighths."""
    scale = SCALES["bench length"][units == "trade"]
    return Ruler(scale.unit, scale.text)


def _choice(one: Evaluation, catalogue: Catalogue, units: Units) -> Choice:
    first: Extent = "repeat" if row_groups(one.design, catalogue) else "whole"
    with st.container(horizontal=True, gap="medium"):
        shell: Shell = st.segmented_control(
            "Shell", list(SHELLS), default="inner", required=True, key="template_shell",
            format_func=SHELLS.get,
        )  # fmt: skip
        extent: Extent = st.segmented_control(
            "How much", list(EXTENTS), default=first, required=True, key="template_extent",
            format_func=EXTENTS.get,
        )  # fmt: skip
        paper: PaperName = st.segmented_control(
            "Paper", list(PAPERS), default="Letter" if units == "trade" else "A4", required=True,
            key="template_paper", format_func=PAPERS.get,
        )  # fmt: skip
    half = False
    if extent == "whole":
        if can_be_halved(one, catalogue, shell):
            half = st.checkbox(HALF, value=True, key="template_half")
        else:
            st.html(f'<p class="lw-small lw-quiet">{HALVES_DIFFER}</p>')
    return Choice(shell, extent, paper, half)


def _files(made: Template, stem: str) -> None:
    """Both files are built when their button is pressed."""
    advice = (
        "lets light through: lay the template under it and trace."
        if made.shows_light
        else "lets no light through: mark it by the running measures."
    )
    cloth = f"{made.cloth[0].upper()}{made.cloth[1:]}, {advice}"
    st.html(f"<p>{escape(pages_in_words(made))} {escape(cloth)}</p>")
    name = f"{stem}-{made.choice.shell}-template"
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            "Template as PDF",
            data=partial(template_pdf, made),
            file_name=f"{name}.pdf",
            mime="application/pdf",
            on_click="ignore",
            key="template_pdf",
        )
        st.download_button(
            "Template as SVG",
            data=partial(template_svg, made),
            file_name=f"{name}.svg",
            mime="image/svg+xml",
            on_click="ignore",
            key="template_svg",
        )
    st.html(f'<p class="lw-small lw-quiet">{TEST_LINES} {CHANGES} The SVG is one piece in millimetres.</p>')


def pages_in_words(made: Template) -> str:
    """How much paper it takes: 7 pages of A4: a map, 2 of running measures, 4 to be joined."""
    if made.tiling is None:
        left, top, right, bottom = (edge / 1000 for edge in made.bounds)
        size = f"{number(right - left, 2)}{NBSP}×{NBSP}{number(bottom - top, 2)}{NBSP}m"
        return f"1 page of {size} and its margins."
    parts = ["a map"]
    if made.measure_pages:
        parts.append(f"{made.measure_pages} of running measures")
    parts.append(f"{made.tile_count} to be joined" if made.tile_count > 1 else "1 of template")
    return f"{number(made.page_count)} pages of {PAPERS[made.choice.paper]}: {', '.join(parts)}."


def measures_html(one: Evaluation, catalogue: Catalogue, ruler: Ruler) -> str:
    """The running measures of both shells in a fold, a table for each way that rows run."""
    tables = []
    for measures in running_measures(one, catalogue):
        heads, lines = measure_cells(measures, ruler)
        across, along = (
            f"INNER {ruler.text(whole.inner_m)}, OUTER {ruler.text(whole.outer_m)}"
            for whole in (measures.across, measures.along)
        )
        unit = "inches" if ruler.unit == "in" else "millimetres"
        title = f"{measures.run.capitalize()} {measures.kind}s, in {unit}"
        top = "".join(
            f'<th scope="col"{NUMBER if place else ""}>{escape(head)}</th>'
            for place, head in enumerate(heads)
        )
        rows = "".join(
            f'<tr><th scope="row">{escape(line[0])}</th>'
            + "".join(f"<td{NUMBER}>{escape(cell)}</td>" for cell in line[1:])
            + "</tr>"
            for line in lines
        )
        tables.append(
            f"<p><strong>{title}.</strong> Across from the LEFT EDGE seam line at the widest place, "
            f"to {across}; along from the HEAD seam line, to {along}. Left as seen from the sleeper’s side, "
            "head up.</p>"
            f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{title}">'
            f'<table class="lw-table"><caption class="lw-hidden">{title}</caption>'
            f"<thead><tr>{top}</tr></thead><tbody>{rows}</tbody></table></div>"
        )
    if not tables:
        return ""
    summary = f"<summary>{MEASURES}</summary>"
    return f'<details class="lw-why" style="max-width:none">{summary}{"".join(tables)}</details>'
