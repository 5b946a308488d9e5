"""Which quilt shall we make?"""

from html import escape

import streamlit as st

from dashboard import arrival, session
from dashboard import line_up_actions as act
from dashboard.budget_words import budgets_html
from dashboard.caution_text import cautions_html
from dashboard.chart_words import alternative, points_html
from dashboard.charts import trade_off
from dashboard.choices_table import choices_html
from dashboard.line_up_facts import night_line, verdict
from dashboard.line_up_table import comparison_html, reading_html, shape_html
from dashboard.palette import Scheme
from dashboard.parts_table import parts_html
from dashboard.undo_button import show_undo
from dashboard.verdicts import ADD_A_SECOND, FULL
from dashboard.words import SCORE
from engine.comparison import MOST_CANDIDATES
from engine.evaluate import LineUp
from engine.score import SCORE_KEYS

QUESTION = "Which quilt shall we make?"


def show() -> None:
    """The page, top to bottom."""
    act.prepare()
    _follow()
    line_up = session.line_up()
    with st.container(gap="xsmall", key="lw-top"):
        arrival.show_bar()
        st.title(QUESTION, anchor=False)
        now = line_up.comparison
        st.html(
            f'<p class="lw-verdict" role="status">{escape(verdict(line_up))}</p>'
            f"{budgets_html(line_up.evaluations, now.units, now.currency)}"
        )
        arrival.show_hint()
        _night_and_buttons(line_up)
        if line_up.evaluations:
            _view_controls(line_up)
            with st.container(key="lw-table"):
                st.html(comparison_html(line_up, act.sorted_by()) + reading_html(line_up))
    if not line_up.evaluations:
        _first_steps()
        return
    _candidate_controls(line_up)
    if len(line_up.evaluations) > 1:
        _trade_off(line_up)
        st.header("What differs?", anchor=False)
        st.html(choices_html(line_up))
    _warnings(line_up)
    st.header("How the scores are made up", anchor=False)
    st.html(parts_html(line_up))


def _follow() -> None:
    """Go where a callback sent us; a callback cannot change the page itself."""
    page = st.session_state.pop(act.GO, None)
    if page:
        _go(page)


def _go(page: str) -> None:
    act.ask_for_picked(page)
    st.switch_page(f"views/{page}.py", query_params=session.link_params())


def _night_and_buttons(line_up: LineUp) -> None:
    now = line_up.comparison
    kinds = [each.design.kind for each in line_up.evaluations]
    full = len(now.candidates) >= MOST_CANDIDATES
    with st.container(horizontal=True, vertical_alignment="center", gap="xsmall", key="lw-night"):
        line = night_line(now.night, kinds, now.units, with_measures=True)
        st.html(f'<p class="lw-night-line"><strong>The night:</strong> {escape(line)}</p>', width="stretch")
        with st.container(horizontal=True, gap="xsmall", width="content", key="lw-night-buttons"):
            change = st.button("Change the night", key="lu_night")
            show_undo("lu_undo")
            share = st.button("Share", key="lu_share")
            add = st.button("Add a candidate", key="lu_add", disabled=full)
    if full:
        st.html(f'<p class="lw-small lw-quiet lw-hint">{FULL}</p>')
    _open_dialog(change, share, add)


def _open_dialog(change: bool, share: bool, add: bool) -> None:
    if change:
        from dashboard.night_dialog import open_night

        open_night()
    elif share:
        from dashboard.share_dialog import open_share

        open_share()
    elif add:
        from dashboard.share_dialog import open_add

        open_add()


def _first_steps() -> None:
    """What can be done when the line-up is empty."""
    with st.container(horizontal=True, gap="xsmall"):
        sample = st.button("Add a sample", key="lu_add_sample")
        file = st.button("Open a file", key="lu_open_file")
        st.button("Start from a blank quilt", key="lu_blank", on_click=act.add_blank)
    _open_dialog(False, False, sample or file)


def _view_controls(line_up: LineUp) -> None:
    letters = [each.letter for each in line_up.evaluations]
    with st.container(horizontal=True, vertical_alignment="center", gap="small", key="lw-view"):
        if len(letters) > 1:
            st.segmented_control(
                "Compare with",
                letters,
                key=act.REFERENCE,
                required=True,
                on_change=act.set_reference,
            )
        st.segmented_control(
            "Units", ["metric", "trade"], key=act.UNITS, required=True, on_change=act.set_units
        )
        st.selectbox(
            "Sort by",
            [act.AS_ADDED, *SCORE_KEYS],
            key=act.SORT,
            format_func=lambda key: SCORE[key].title if key in SCORE else "Order added",
            width=240,
            persist_state="session",
        )
        st.text_input(
            "Currency label",
            key=act.CURRENCY,
            max_chars=8,
            width=190,
            on_change=act.set_currency,
            help="Printed after each price. Nothing is converted.",
        )


def _candidate_controls(line_up: LineUp) -> None:
    """One row under the table that acts on the letter picked in it."""
    now, letters = line_up.comparison, [each.letter for each in line_up.evaluations]
    with st.container(horizontal=True, vertical_alignment="bottom", gap="xsmall", key="lw-act"):
        st.segmented_control("Candidate", letters, key=act.PICK, required=True, on_change=act.letter_picked)
        letter = act.picked()
        if st.button("Close-up", key="lu_close_up"):
            _go("close_up")
        chosen = now.chosen == letter
        st.button("Unchoose" if chosen else "Choose this one", key="lu_choose", on_click=act.choose)
        if st.button("Make", key="lu_make"):
            _go("make")
        full = len(letters) >= MOST_CANDIDATES
        st.button("Duplicate", key="lu_duplicate", on_click=act.duplicate, disabled=full)
        with st.popover("More", key=f"lu_more_{session.revision()}"):
            _more(line_up, letter)
        goods = st.button("Prices and weights", key="lu_goods")
        if now.chosen:
            st.text_input(
                f"Why {now.chosen} (optional)",
                key=act.REASON,
                max_chars=200,
                on_change=act.set_reason,
                width=340,
            )
    if goods:
        from dashboard.goods_editor import show_goods

        show_goods()
    if len(letters) == 1:
        with st.container(horizontal=True, vertical_alignment="center", gap="small"):
            st.html(f"<p>{ADD_A_SECOND}</p>", width="content")
            st.button(f"Duplicate {letter} and change it", key="lu_duplicate_one", on_click=act.duplicate)


def _more(line_up: LineUp, letter: str) -> None:
    now = line_up.comparison
    st.text_input(f"Name of {letter}", key=act.NAME, max_chars=60, on_change=act.rename)
    if why := act.refused(act.NAME):
        st.html(f'<p class="lw-small lw-stop" role="alert">{escape(why)}</p>')
    st.text_area(f"Note on {letter}", key=act.NOTE, max_chars=500, height=90, on_change=act.set_note)
    st.button(
        f"Use {letter} as reference",
        key="lu_use",
        on_click=act.use_as_reference,
        disabled=letter == now.reference_letter,
        width="stretch",
    )
    st.button(f"Remove {letter}", key="lu_remove", on_click=act.remove, width="stretch")


def _trade_off(line_up: LineUp) -> None:
    st.header("What do we give up?", anchor=False)
    with st.container(horizontal=True, gap="small"):
        for label, key in (("Across", act.ACROSS), ("Up", act.UP)):
            st.selectbox(
                label,
                SCORE_KEYS,
                key=key,
                format_func=lambda score: SCORE[score].title,
                on_change=act.axes_picked,
                width=210,
            )
    x, y = st.session_state[act.AXES]
    scheme: Scheme = "dark" if st.context.theme.type == "dark" else "light"
    with st.grid(2, min_column_width=340, gap="medium"):
        st.plotly_chart(
            trade_off(line_up, x, y, scheme),
            key="lu_plot",
            theme=None,
            config={"displayModeBar": False, "scrollZoom": False},
            alt=alternative(line_up, x, y),
        )
        st.html(points_html(line_up, x, y))


def _warnings(line_up: LineUp) -> None:
    st.header("Mind these", anchor=False)
    parts = []
    for each in line_up.evaluations:
        if each.cautions:
            name = f"{shape_html(each.letter)} {each.letter} {escape(each.design.name)}"
            parts.append(
                f'<h3 class="lw-candidate-head">{name}</h3>'
                f"{cautions_html(each.cautions, line_up.comparison.units)}"
            )
    st.html("".join(parts) or "<p>No warnings about how they are made.</p>")


if __name__ == "__main__":
    show()
