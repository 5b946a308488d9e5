"""What do we buy, cut, bond and fill?"""

from datetime import date
from functools import partial
from html import escape

import streamlit as st

from dashboard import measures, session
from dashboard.bench_box import buttons, show_prints, show_sections, table_files
from dashboard.bench_job import Bench
from dashboard.budget_words import budgets_html
from dashboard.caution_text import cautions_html
from dashboard.palette import MARKS
from dashboard.share_dialog import is_this_computer, link_address
from dashboard.sheet import FIX_FIRST, Links
from dashboard.template_box import show_template
from dashboard.words import SCORE, cost, evenings
from engine.comparison import Comparison
from engine.evaluate import LineUp
from engine.export.files import design_to_json, file_stem
from engine.export.link import encode_link
from engine.export.spec_sheet import Sheet, spec_sheet
from engine.export.table import COLUMNS, bill_of_materials
from engine.paper.blocks import Document
from engine.refusals import Refusal

QUESTION = "What do we buy, cut, bond and fill?"
NOTHING = (
    "Here a candidate becomes a shopping list, parts and a sheet to print; there is none in the line-up yet."
)
# The widget, the letter on show, and the letter that another page asks for before it sends us here.
PICK, LETTER, WANTED = "make_pick", "make_letter", "make_wanted"
PICKED_IN_LINE_UP, SEEN_IN_CLOSE_UP = "lu_letter", "close_up_letter"
REOPENS = "Design: the Line-up opens it again with the same scores"
STYLE = """<style>
.lw-second{display:block;font-size:13px;line-height:1.35;color:var(--lw-quiet)}
dl.lw-figures{margin:.5rem 0;padding:0;max-width:34rem}
dl.lw-figures dt{margin:0;padding:0;font-weight:400}
dl.lw-figures>div{display:flex;justify-content:space-between;gap:1rem;padding:.25rem 0;
  border-bottom:1px solid var(--lw-hairline)}
dl.lw-figures dd{margin:0;text-align:right;font-variant-numeric:tabular-nums}
.lw-banner{border:2px solid var(--lw-stop);border-radius:4px;padding:.4rem .9rem;max-width:80ch}
</style>"""


def show() -> None:
    """The page."""
    st.title(QUESTION, anchor=False)
    if session.notice():
        st.html(f'<p class="lw-mind" role="alert">{escape(session.notice())}</p>')
    line_up = session.line_up()
    if not line_up.evaluations:
        st.html(f'<p class="lw-verdict">{NOTHING}</p>')
        label = "Add a candidate in the Line-up"
        st.page_link("views/line_up.py", label=label, query_params=session.link_params())
        return
    letter = _pick(line_up)
    sheet = spec_sheet(line_up, letter, date.today())
    st.html(STYLE + _opening(line_up, sheet))
    stem = file_stem(sheet.name, sheet.day)
    _, document = _downloads(line_up, sheet, stem)
    show_template(line_up[letter], line_up.catalogue, line_up.comparison.units, stem)
    show_sections(document, "dark" if st.context.theme.type == "dark" else "light")


def _first(line_up: LineUp, letters: list[str]) -> str:
    """Whom to show: who was asked for; the chosen one; who was last in Close-up, picked or compared with."""
    now, state = line_up.comparison, st.session_state
    seen = (state.get(SEEN_IN_CLOSE_UP), state.get(PICKED_IN_LINE_UP))
    in_turn = (state.pop(WANTED, None), now.chosen, *seen, now.reference_letter)
    return next(letter for letter in (*in_turn, letters[0]) if letter in letters)


def _picked() -> None:
    st.session_state[LETTER] = st.session_state[PICK]


def _pick(line_up: LineUp) -> str:
    state, letters = st.session_state, [each.letter for each in line_up.evaluations]
    # A widget's key goes when its page does: without it this page was just opened.
    wanted = state.get(LETTER) if PICK in state else None
    if wanted not in letters:
        wanted = _first(line_up, letters)
    state[PICK] = state[LETTER] = wanted
    if len(letters) > 1:
        st.segmented_control(
            "Candidate",
            letters,
            required=True,
            key=PICK,
            on_change=_picked,
            format_func=lambda letter: f"{MARKS[letter].sign} {letter}",
        )
    return str(wanted)


def _opening(line_up: LineUp, sheet: Sheet) -> str:
    chosen = ""
    if sheet.chosen:
        chosen = f"<p><strong>Chosen</strong>{': ' + escape(sheet.reason) if sheet.reason else '.'}</p>"
    elif line_up.comparison.chosen:
        chosen = f"<p>Not the chosen one: that is {line_up.comparison.chosen}.</p>"
    banner = ""
    if sheet.stops:
        warnings = cautions_html(sheet.stops, line_up.comparison.units)
        first = f'<p class="lw-stop"><strong>{FIX_FIRST}</strong></p>'
        banner = f'<div class="lw-banner" role="alert">{first}{warnings}</div>'
    name = f"<strong>{escape(sheet.letter)} {escape(sheet.name)}</strong>"
    now = line_up.comparison
    left_out = measures.left_out_line(now)
    told = budgets_html([line_up[sheet.letter]], now.units, now.currency)
    told += f"<p>{escape(left_out)}</p>" if left_out else ""
    return f'<p class="lw-verdict">{name}. {escape(_answer(line_up, sheet))}</p>{told}{chosen}{banner}'


def _answer(line_up: LineUp, sheet: Sheet) -> str:
    """The question of the page answered in two sentences."""
    one, now = line_up[sheet.letter], line_up.comparison
    used, bought = (cell.values[0] for cell in sheet.goods.totals if cell.kind == "price")
    work, words = one.bands["work_h"], SCORE["work_h"]
    pad = float(one.score.cost_parts["beyond the quilt"])
    whole = f"{cost(pad, now.currency, exact=True)}, it costs {cost(used + pad, now.currency, exact=True)}"
    beside = f"; with the pad you take along, {whole}" if pad else ""
    return (
        f"Buy {len(one.purchases)} goods for {cost(bought, now.currency, exact=True)}; "
        f"{cost(used, now.currency, exact=True)} of it goes into the quilt{beside}. "
        f"Work {words.value(work.value)} ({words.band(work.low, work.high)}), "
        f"about {evenings(int(one.score.evenings))}."
    )


def links_of(comparison: Comparison, letter: str, url: str | None, sent: Comparison | None = None) -> Links:
    """The addresses on a sheet, of all that is open or of what is sent of it; empty where one is too long."""
    sent = sent or comparison
    kept = tuple(each for each in sent.candidates if each.letter == letter)
    alone = sent.model_copy(update={"candidates": kept, "reference": None, "chosen": None, "reason": ""})
    whole = _address(sent, url)
    now, there = comparison.night.sleeper.kind, sent.night.sleeper.kind
    return Links(
        whole,
        _address(alone, url),
        is_this_computer(whole),
        there if there != now else "",
        measures.has_measures(sent),
    )


def reopens(comparison: Comparison) -> str:
    """What a saved design brings back, and what only the link and the line-up's file do."""
    own = "; own prices and weights travel only in the link and the saved line-up"
    return f"{REOPENS}{own if comparison.own_goods else ''}."


def _address(comparison: Comparison, url: str | None) -> str:
    try:
        return link_address(encode_link(comparison), url)
    except Refusal:
        return ""


def _downloads(line_up: LineUp, sheet: Sheet, stem: str) -> tuple[Bench, Document]:
    """Each file is built when its button is pressed, from what the page shows now."""
    one, now = line_up[sheet.letter], line_up.comparison
    st.header("Print first", anchor=False)
    sent = measures.to_send(now, "make-without-measures", "The link on the sheet")
    links = links_of(now, sheet.letter, st.context.url, sent)
    bench, document = show_prints(line_up, sheet, links, stem)
    stands_in = measures.stands_in(now) is not None
    materials = partial(bill_of_materials, one, now.currency, stands_in)
    buttons(
        (
            *table_files(bench),
            ("Materials as CSV", "materials.csv", "text/csv", materials),
        ),
        stem,
        "make_table",
    )
    st.download_button(
        "Design as a file",
        data=partial(design_to_json, one.design),
        file_name=f"{stem}.json",
        mime="application/json",
        on_click="ignore",
        key="make_design",
    )
    local = "The link on the sheets works only on this computer. " if links.local else ""
    columns = "".join(f"<div><dt>{name}</dt><dd>{escape(text)}</dd></div>" for name, text in COLUMNS.items())
    st.html(
        f'<p class="lw-small lw-quiet">{local}{reopens(now)}</p>'
        '<details class="lw-why"><summary>What the columns of the materials mean</summary>'
        f'<dl class="lw-figures">{columns}</dl></details>'
    )
    return bench, document


if __name__ == "__main__":
    show()
