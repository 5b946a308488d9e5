"""Will this one work, where is it weak, and what if I change it?"""

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

import streamlit as st
from pydantic import ValidationError

from dashboard import close_up_drawings as drawings
from dashboard import session
from dashboard.arrival import CHANGED
from dashboard.budget_words import budgets_html
from dashboard.caution_text import caution_html, counts_html
from dashboard.close_up_damp import air_html, moisture_html
from dashboard.close_up_parts import (
    STYLE,
    fit_html,
    made_up_html,
    plan_html,
    sizes_html,
)
from dashboard.close_up_short import shortfall_html
from dashboard.field_editors import fill_form, suspension_editor
from dashboard.field_edits import Spot, document, lower_first, placed, said_plainly, stored, with_document
from dashboard.field_rules import GROUPS
from dashboard.fields import field, in_words
from dashboard.line_up_facts import covered, facts_of, night_line
from dashboard.live_strip import LIVE_STYLE, live_html
from dashboard.night_dialog import open_night
from dashboard.palette import MARKS, Scheme
from dashboard.safe_text import md_escape
from dashboard.verdicts import ADD_A_SECOND, EMPTY, estimate_caveat, verdict_sentence
from engine.cautions import Caution
from engine.evaluate import Evaluation
from engine.refusals import explain

OPEN_GROUPS = ("Fabrics", "Fill")
PICK = "close-up-pick"
# Another page puts a letter here before it switches to this one.
LETTER = "close_up_letter"


def show() -> None:
    """The page."""
    line_up = session.line_up()
    if not line_up.evaluations:
        st.title("Will this one work?", anchor=False)
        st.html(f'<p class="lw-verdict">{escape(EMPTY)}</p>')
        st.page_link("views/line_up.py", label="Go to the Line-up", query_params=session.link_params())
        return
    letters = [each.letter for each in line_up.evaluations]
    e = line_up[_letter(letters)]
    st.html(STYLE + drawings.STYLE)
    st.title(f"{e.letter}: {md_escape(e.design.name)}", anchor=False)
    if session.notice():
        st.html(f'<p class="lw-mind" role="alert">{escape(session.notice())}</p>')
    _verdict(e)
    _controls(letters, e)
    # Before the drawings, which take their time: the strip is what an edit is watched by.
    _live_strip(e)
    left, right = st.columns([5, 7], gap="medium")
    with left:
        _change_it(e)
    with right:
        _what_comes_of_it(e)


def _letter(letters: list[str]) -> str:
    """The candidate to show; opening the page, or another letter, begins a new edit to compare with."""
    state = st.session_state
    # A widget's key goes when its page does: without it, this page was just opened.
    opened = PICK not in state
    wanted = state.get(LETTER)
    if wanted not in letters:
        now = session.comparison()
        wanted = now.chosen or now.reference_letter or letters[0]
    state[PICK] = state[LETTER] = wanted
    baseline = state.get("close_up_baseline")
    if opened or baseline is None or baseline[0] != wanted:
        one = session.line_up()[wanted]
        state.close_up_baseline, state.close_up_design = (wanted, one.score), one.design
    elif session.comparison().design(wanted) != state.get("close_up_design"):
        state[CHANGED] = True
    return str(wanted)


def _verdict(e: Evaluation) -> None:
    now = session.comparison()
    facts = verdict_sentence([facts_of(e, now.units)], {}, e.letter, now.units, now.currency)
    sentence = facts.removesuffix(ADD_A_SECOND).strip()
    caveat = estimate_caveat(covered(now.night, [e.design.kind]))
    count = counts_html(e.cautions) or "No warnings about how it is made."
    st.html(
        f'<p class="lw-verdict">{escape(sentence)}</p>'
        f"{budgets_html([e], now.units, now.currency)}"
        f'<p class="lw-quiet lw-small">{escape(caveat[:1].upper() + caveat[1:])}. '
        f"The night: {escape(night_line(now.night, [e.design.kind], now.units, with_measures=True))}.</p>"
        f'<p class="lw-small">{count}</p>'
    )


def _pick() -> None:
    st.session_state[LETTER] = st.session_state[PICK]


def _controls(letters: list[str], e: Evaluation) -> None:
    with st.container(horizontal=True, gap="small", vertical_alignment="bottom"):
        st.segmented_control(
            "Candidate",
            letters,
            required=True,
            key=PICK,
            on_change=_pick,
            format_func=lambda letter: f"{MARKS[letter].sign} {letter}",
        )
        drawings.compare_control(letters, e.letter)
        if st.button("Change the night", key="close-up-night"):
            open_night()


def _change_it(e: Evaluation) -> None:
    st.header("Change it", anchor=False)
    for group, paths in GROUPS.items():
        with st.expander(group, expanded=group in OPEN_GROUPS, key=f"close-up-{group}"):
            _group(paths, e.letter)
    with st.expander("Name and note", key="close-up-name"):
        field("name", letter=e.letter)
        field("note", letter=e.letter)


def _group(paths: Sequence[str], letter: str) -> None:
    with st.grid(2, min_column_width=190):
        for path in paths:
            if path == "fill.good":
                fill_form(letter)
            elif path != "suspension":
                field(path, letter=letter)
    if "suspension" in paths:
        suspension_editor(letter)


def _what_comes_of_it(e: Evaluation) -> None:
    now = session.comparison()
    if e.cautions:
        st.header("Mind these", anchor=False)
        for place, caution in enumerate(e.cautions):
            _caution(caution, e.letter, place)
    line_up = session.line_up()
    shown = drawings.shown_of(line_up, e.letter)
    drawings.show_loft(shown, now.units)
    drawings.show_section(shown, now.units)
    drawings.show_heat(shown, now.units)
    # Beside another, what is shown of this one alone says whose it is.
    of = f" of {e.letter}" if len(shown) > 1 else ""
    drawings.beside(shown, lambda each: st.html(shortfall_html(each, now.units)))
    st.header("Night moisture", anchor=False)
    drawings.beside(shown, lambda each: st.html(moisture_html(each, now.units)))
    st.header("Air", anchor=False)
    drawings.beside(shown, lambda each: st.html(air_html(each, now.units)))
    drawings.show_drift(shown, now.units)
    drawings.show_sureness(line_up, shown, now.units)
    st.header(f"Sizes{of}", anchor=False)
    scheme: Scheme = "dark" if st.context.theme.type == "dark" else "light"
    st.html(plan_html(e, now.units, scheme) + sizes_html(e, now.units))
    st.header(f"Fit{of}", anchor=False)
    st.html(fit_html(e, now.units))
    st.header(f"How {e.letter if of else 'it'} is made up", anchor=False)
    st.html(made_up_html(e, now.units, now.currency))


def _caution(caution: Caution, letter: str, place: int) -> None:
    st.html(caution_html(caution, session.comparison().units))
    if not caution.change:
        return
    st.button(
        f"Do that: {md_escape(_in_words(caution.change, letter))}",
        key=f"close-up-do-{letter}-{place}",
        on_click=_do_that,
        args=(caution.change, letter),
    )


def _spot(path: str, letter: str) -> Spot:
    return (
        Spot(path.removeprefix("night."), "night") if path.startswith("night.") else Spot(path, letter=letter)
    )


def _in_words(change: Mapping[str, Any], letter: str) -> str:
    """What a remedy does: length 1500 → 1630 mm."""
    told = []
    for path, value in change.items():
        spot = _spot(path, letter)
        if stored(spot) != value:
            told.append(f"{lower_first(spot.info.title or path)} {in_words(spot)} → {in_words(spot, value)}")
    return ", ".join(told)


def _do_that(change: Mapping[str, Any], letter: str) -> None:
    spot = _spot(next(iter(change)), letter)
    try:
        new = placed(document(spot), {path.removeprefix("night."): value for path, value in change.items()})
    except ValidationError as error:
        st.session_state.notice = said_plainly(explain(error, spot.model), spot)
        return
    session.commit(with_document(spot, new), _in_words(change, letter))


def _live_strip(e: Evaluation) -> None:
    now, undo = session.comparison(), session.undo_label()
    before = st.session_state.close_up_baseline[1]
    with st.bottom, st.container(horizontal=True, wrap=False, vertical_alignment="center", key="lw-live-row"):
        edit = undo.removeprefix("Undo: ")
        st.html(LIVE_STYLE + live_html(e.letter, e.score, before, now.units, now.currency, edit))
        st.button(
            "Undo",
            key="close-up-undo",
            on_click=session.undo,
            disabled=not undo,
            help=md_escape(undo) or "Nothing to undo",
        )


if __name__ == "__main__":
    show()
