"""Which sheets are printed, on how many pages, and what stands on them, part by part, on the screen?"""

import base64
from functools import partial
from html import escape

import streamlit as st

from dashboard.bench_job import Bench, Choices
from dashboard.bench_sheet import bench_sheet
from dashboard.group_paper import group_paper
from dashboard.offcuts_box import offcuts_box
from dashboard.palette import GROUND, QUIET, TEXT, Scheme
from dashboard.sheet import Links, group_sheet
from dashboard.words import NBSP, number
from engine.bench.lay import roll_of
from engine.bench.pieces import WideWay, pieces_of
from engine.draw.shapes import Drawing
from engine.draw.svg import to_svg
from engine.evaluate import LineUp
from engine.export.bench_tables import fill_table_csv, joint_table_csv
from engine.export.cut_list import cut_list
from engine.export.goods_table import goods_csv
from engine.export.spec_sheet import Sheet
from engine.paper.blocks import Document
from engine.paper.html import document_html, section_html
from engine.paper.pages import Paper, document_pdf, page_count
from engine.refusals import Refusal
from engine.units import GRAM

WAYS: dict[WideWay, str] = {"least roll": "Whichever takes less", "spliced": "Joined", "turned": "Turned"}
PAPERS: tuple[Paper, ...] = ("A4", "Letter")
STEPS_G = (1.0, 0.5, 0.1)
OTHER_WAY = (
    "Joined or turned otherwise than takes less roll, it has other laps than the score counts: a few grams."
)
TICKS = "Boxes can be ticked here while you work, but they are not stored."
PIXELS_A_MM = 4.3
"""Labels of 8 points come out at 12 pixels and more; a drawing wider than its place scrolls in its box."""
STYLE = """<style>
.lw-paper h3{font-size:1.0625rem;margin:1.1rem 0 .3rem}
.lw-paper p{margin:.35rem 0;max-width:75ch}
.lw-paper .lw-scroll{margin:.5rem 0}
.lw-strong{font-size:1.0625rem}
.lw-step{border-top:1px solid var(--lw-hairline);padding:.6rem 0 .3rem}
.lw-step h3{margin:.1rem 0 .4rem}
.lw-step-number{font-size:1.35rem;margin-right:.5rem}
.lw-items{padding-left:1.2rem;margin:.3rem 0;max-width:75ch}
.lw-items .lw-to-tick{list-style:none;margin-left:-1.2rem}
.lw-to-tick label{display:flex;gap:.6rem;align-items:flex-start;padding:.15rem 0;min-height:24px}
.lw-paper input[type=checkbox]{width:24px;height:24px;margin:0;flex:none;accent-color:var(--lw-accent)}
.lw-ask{white-space:nowrap}
.lw-write{display:inline-block;width:6rem;border-bottom:1px solid var(--lw-border)}
.lw-frame,.lw-halt{border:1px solid var(--lw-border);border-radius:4px;padding:.3rem .9rem;margin:.6rem 0;
  max-width:75ch}
.lw-heavy,.lw-halt{border:2px solid var(--lw-stop)}
.lw-figs,.lw-stacks,.lw-beside{display:flex;flex-wrap:wrap;gap:.8rem 2rem;align-items:flex-start}
.lw-stacks>div,.lw-beside>div:first-child{flex:1 1 18rem;min-width:0;max-width:100%}
.lw-figs>*{max-width:100%}
.lw-paper .lw-scroll img{max-width:none;display:block}
.lw-paper p.lw-small{overflow-wrap:anywhere}
.lw-paper tbody th{font-weight:400;min-width:7rem;max-width:22rem}
.lw-paper td:not(.lw-num,.lw-to-tick){min-width:6.5rem}
.lw-paper .lw-second{display:block;font-size:13px;line-height:1.35;color:var(--lw-quiet)}
</style>"""


def choices_of(line_up: LineUp, sheet: Sheet) -> tuple[Paper, Choices]:
    """Paper, scale and cloth as the maker chooses them; of cloth only where there is a choice."""
    one, catalogue, units = line_up[sheet.letter], line_up.catalogue, line_up.comparison.units
    cut = {
        each: pieces_of(one.design, catalogue, one.quantities, one.score, each)
        for each in ("spliced", "turned")
    }
    way: WideWay = "least roll"
    with st.container(horizontal=True, gap="medium"):
        paper: Paper = st.segmented_control(
            "Paper", PAPERS, default="Letter" if units == "trade" else "A4", required=True, key="make_paper"
        )
        step = st.segmented_control(
            "Step of your scale", STEPS_G, default=STEPS_G[0], required=True, key="make_scale",
            format_func=lambda grams: f"{number(grams, 1, trim=True)}{NBSP}g",
        )  # fmt: skip
        if cut["spliced"] != cut["turned"]:
            way = st.segmented_control(
                "Cloth wider than its roll", list(WAYS), default=way, required=True, key="make_way",
                format_func=WAYS.get,
            )  # fmt: skip
    if way != "least roll":
        st.html(f'<p class="lw-small lw-quiet">{OTHER_WAY}</p>')
    goods = dict.fromkeys(piece.goods for piece in cut["spliced"] if piece.goods)
    rolls = [roll_of(each, catalogue) for each in goods]
    return paper, Choices(way, step * GRAM, offcuts_box(rolls, units))


def show_prints(line_up: LineUp, sheet: Sheet, links: Links, stem: str) -> tuple[Bench, Document]:
    """Choices, how many pages each paper takes, and its files; each is built when its button is pressed."""
    paper, choices = choices_of(line_up, sheet)
    bench = Bench(line_up, sheet, links, choices)
    document, group = bench_sheet(bench, paper), group_paper(bench)
    try:
        counts = page_count(document, paper), page_count(group, paper)
    except Refusal as refusal:
        st.html(f'<p class="lw-mind" role="alert">{escape(" ".join(refusal.messages))}</p>')
        return bench, document
    st.html(
        f"<p>Bench sheet: {_pages(counts[0])} of {paper}, everything in the order of use. Group sheet: "
        f"{_pages(counts[1])} as a PDF, 2 or 3 from a browser. The baffle template says its pages below.</p>"
    )
    short = partial(group_sheet, line_up, sheet, links)
    files = (
        ("Bench sheet as PDF", "bench-sheet.pdf", "application/pdf", partial(document_pdf, document, paper)),
        ("Bench sheet as web page", "bench-sheet.html", "text/html", partial(document_html, document)),
        ("Group sheet as PDF", "group-sheet.pdf", "application/pdf", partial(document_pdf, group, paper)),
        ("Group sheet to print", "group-sheet.html", "text/html", short),
    )
    buttons(files, stem, "make_print")
    return bench, document


def table_files(bench: Bench) -> tuple[tuple[str, str, str, object], ...]:
    """Label, end of the file name, kind and builder of each table."""
    one, job = bench.one, bench.job
    goods = partial(goods_csv, one, bench.currency, bench.lays_m)
    files: list[tuple[str, str, str, object]] = [
        ("Goods as CSV", "goods.csv", "text/csv", goods),
        ("Cut list as CSV", "cut-list.csv", "text/csv", partial(cut_list, one, bench.catalogue)),
        ("Joints as CSV", "joints.csv", "text/csv", partial(joint_table_csv, job.joints)),
    ]
    if job.fill is not None:
        files.append(("Fill plan as CSV", "fill-plan.csv", "text/csv", partial(fill_table_csv, job.fill)))
    return tuple(files)


def buttons(files: tuple[tuple[str, str, str, object], ...], stem: str, key: str) -> None:
    """A row of download buttons."""
    with st.container(horizontal=True, gap="small"):
        for place, (label, name, mime, build) in enumerate(files):
            st.download_button(
                label,
                data=build,  # type: ignore[arg-type]
                file_name=f"{stem}-{name}",
                mime=mime,
                on_click="ignore",
                key=f"{key}_{place}",
            )


def show_sections(document: Document, scheme: Scheme) -> None:
    """The parts of the sheet, each in a fold; what is bought stands open."""
    st.header("On the bench", anchor=False)
    st.html(f'{STYLE}<p class="lw-small lw-quiet">{TICKS}</p>')
    for section in document.sections:
        with st.expander(section.title, expanded=section.key == "buy"):
            st.html(f'<div class="lw-paper">{section_html(section, partial(picture, scheme=scheme))}</div>')


def picture(drawing: Drawing, scheme: Scheme) -> str:
    """A drawing as an image in the colours of the page, in a box that scrolls where it is too wide."""
    ink, quiet, ground = (tone.on(scheme) for tone in (TEXT, QUIET, GROUND))
    code = base64.b64encode(to_svg(drawing, ink, quiet, ground).encode()).decode()
    title = escape(drawing.title)
    width = round(drawing.width_mm * PIXELS_A_MM)
    return (
        f'<div class="lw-scroll" tabindex="0" role="region" aria-label="{title}">'
        f'<img src="data:image/svg+xml;base64,{code}" alt="{escape(drawing.description)}" '
        f'style="width:{width}px;background:{ground}"></div>'
    )


def _pages(count: int) -> str:
    return f"{number(count)}{NBSP}{'page' if count == 1 else 'pages'}"
