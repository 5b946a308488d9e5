"""What came of trying many: the front within the limits, short list, plot, what matters, and the files."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from html import escape

import pandas as pd
import streamlit as st

from dashboard import session, try_draft, try_limits
from dashboard.close_up_parts import STYLE
from dashboard.palette import Scheme
from dashboard.safe_text import md_escape
from dashboard.try_figure import alternative, cloud
from dashboard.try_words import (
    Listed,
    Naming,
    before_words,
    left_out,
    listed,
    matters_html,
    matters_sentence,
    nothing_passes,
    opening,
    rounded_up,
    short_list_html,
    told_apart,
)
from dashboard.undo_button import show_undo
from dashboard.verdicts import FULL
from dashboard.words import SCORE
from engine.comparison import MOST_CANDIDATES
from engine.design import Design
from engine.explore.front import Front, Limits, exclusions, front_of, passing_at, short_list
from engine.explore.matters import Reach, Shares
from engine.explore.rows import KEYS
from engine.explore.sweep import Sweep, same_scores_once
from engine.export.sweep_table import sweep_csv
from engine.score import SCORE_KEYS, ScoreKey

TRIED, FRONT, AXES, MATTERS, SAID = "tm_tried", "tm_front", "tm_axes", "tm_matters", "tm_said"
MOST_ROWS = 2000
"""Of the front's table; its file holds all."""
DEFAULT_AXES: tuple[ScoreKey, ScoreKey] = ("weight_kg", "comfort_c")
OLD = "{letter} or the night has changed since these were scored."
OTHER_BOXES, OTHER_START = "What varies has changed since.", "They started from {letter}."
PAGE_STYLE = (
    STYLE
    + """<style>
.lw-second{display:block;font-size:13px;line-height:1.35;color:var(--lw-quiet)}
table.lw-try th[scope=row]{font-weight:400;min-width:11rem;max-width:24rem}
table.lw-try thead th{vertical-align:bottom}
.lw-try-mark{font-weight:700}
/* Streamlit writes white on the accent, which is too pale in the dark. */
[data-testid="stMultiSelectTagsContainer"] [data-tag]{background:var(--lw-panel);color:var(--lw-text)}
[data-testid="stMultiSelectTagsContainer"] [data-tag] *{color:inherit}
table.lw-try td.lw-heat-cell{min-width:5rem}
table.lw-try td:not([class]){min-width:13rem}
</style>"""
)


@dataclass(frozen=True)
class Tried:
    """What was scored last, from which candidate, and what matters in it."""

    letter: str
    name: str
    sweep: Sweep
    start: dict[str, float]
    shares: dict[str, Shares] | None
    reaches: tuple[Reach, ...]
    no_shares: str = ""


def show_results(tried: Tried, start: str) -> None:
    """Limits, the sentence, the short list, the plot, what matters, the front and its files.

    `start` is the candidate that the page starts from now.
    """
    now = session.comparison()
    naming = Naming(
        try_draft.title,
        lambda path, value: try_draft.value_name(path, value, session.catalogue()),
        now.units,
        now.currency,
    )
    st.header("Which give nothing away?", anchor=False)
    why = _why_old(tried, start)
    if why:
        st.html(f'<p class="lw-mind" role="status">{escape(before_words(tried.sweep, why, naming))}</p>')
    try_limits.show_limits()
    limits = try_limits.limits()
    front = _front(tried.sweep, limits)
    picks, alike = told_apart(tried.sweep, front, short_list(tried.sweep, front, tried.start), naming)
    rows = listed(picks)
    _tell(tried, front, rows, limits, naming)
    if rows:
        st.html(short_list_html(tried.sweep, rows, f"{tried.letter} {tried.name}", tried.start, naming))
        if alike:
            st.html(f'<p class="lw-small lw-quiet">{escape(alike)}</p>')
        _add_buttons(tried, rows, naming)
    _plot(tried, front, rows, naming)
    _matters(tried, naming)
    _table(tried, front, naming)


def forget_front() -> None:
    """Another sweep has come."""
    st.session_state.pop(FRONT, None)


def _front(result: Sweep, limits: Limits) -> Front:
    """The front, remembered until the sweep or a limit changes: a million quilts take a second or two."""
    known = st.session_state.get(FRONT)
    if known is None or known[0] is not result or known[1] != limits:
        known = (result, limits, front_of(result, limits))
        st.session_state[FRONT] = known
    front: Front = known[2]
    return front


def _tell(tried: Tried, front: Front, rows: Sequence[Listed], limits: Limits, naming: Naming) -> None:
    result = tried.sweep
    if not len(front.rows):
        _tell_nothing(result, limits, naming)
    else:
        told = opening(result, front, rows, tried.letter, naming)
        st.html(f'<p class="lw-verdict" role="status">{escape(told)}</p>')
    told = left_out(result, front)
    if told:
        st.html(f'<p class="lw-small lw-quiet">{escape(told)}</p>')


def _why_old(tried: Tried, start: str) -> str:
    """What has changed since these were scored; empty where they are those that the page asks for."""
    result, now = tried.sweep, session.comparison()
    letters = [candidate.letter for candidate in now.candidates]
    if tried.letter not in letters or now.design(tried.letter) != result.design or now.night != result.night:
        return OLD.format(letter=tried.letter)
    if start != tried.letter:
        return OTHER_START.format(letter=tried.letter)
    asked, _ = try_draft.recipe_of(start)
    return OTHER_BOXES if asked is None or asked.choices != result.recipe.choices else ""


def _tell_nothing(result: Sweep, limits: Limits, naming: Naming) -> None:
    told = exclusions(result, limits)
    value, would_pass = None, told[0].would_pass if told else 0
    if told and told[0].value is not None:
        value = rounded_up(told[0].limit, told[0].value)
        would_pass = passing_at(result, limits, told[0].limit, value)
    text = nothing_passes(told, value, would_pass, naming.units, naming.currency)
    with st.container(horizontal=True, gap="small", vertical_alignment="center"):
        st.html(f'<p class="lw-verdict" role="status">{escape(text)}</p>')
        if value is not None:
            shown = SCORE[told[0].limit].value(value, naming.units, naming.currency)  # type: ignore[index]
            st.button(
                f"Use {md_escape(shown)}", key="tm_use", on_click=try_limits.use, args=(told[0].limit, value)
            )
        elif told and told[0].would_pass:
            st.button("Do without it", key="tm_drop", on_click=try_limits.drop, args=(told[0].limit,))


def _candidate(tried: Tried, row: int, ending: str, naming: Naming) -> Design:
    """A quilt of the sweep as a candidate: named after its start, with what it is in its note."""
    design = tried.sweep.design_of(row)
    name = design.name[: 60 - len(ending) - 2].rstrip() + f", {ending}"
    note = f"Tried from {tried.letter}: {naming.made(tried.sweep.values(row))}"
    return design.model_copy(update={"name": name, "note": note[:500]})


def add_button(label: str, key: str, design: Design) -> None:
    """A button that puts a design into the line-up, while there is room; beside it, once, that it did."""
    full = len(session.comparison().candidates) >= MOST_CANDIDATES

    def add() -> None:
        new = session.with_added(design)
        if new is not None and session.commit(new, f"add {design.name}"):
            st.session_state[SAID] = (key, f"Added as {new.candidates[-1].letter}.")

    st.button(label, key=key, on_click=add, disabled=full)
    if st.session_state.get(SAID, ("", ""))[0] == key:
        st.html(f'<p role="status">{escape(st.session_state.pop(SAID)[1])}</p>', width="content")
        show_undo("tm_undo")


def tell_full() -> None:
    """Under buttons that are off: that the line-up takes no more."""
    if len(session.comparison().candidates) >= MOST_CANDIDATES:
        st.html(f'<p class="lw-small lw-quiet">{escape(FULL)}</p>')


def _add_buttons(tried: Tried, rows: Sequence[Listed], naming: Naming) -> None:
    with st.container(horizontal=True, gap="xsmall", vertical_alignment="center", key="lw-try-add"):
        st.html("<p>Add to the line-up:</p>", width="content")
        for row in rows:
            design = _candidate(tried, row.row, row.best_in[0], naming)
            add_button(f"{row.mark}, {row.best_in[0]}", f"tm_add_{row.mark}", design)
    tell_full()


def _plot(tried: Tried, front: Front, rows: Sequence[Listed], naming: Naming) -> None:
    state = st.session_state
    state.setdefault(AXES, DEFAULT_AXES)

    def changed() -> None:
        now = (state.tm_across, state.tm_up)
        was = state[AXES]
        state[AXES] = now if now[0] != now[1] else (was[1], was[0])

    state.tm_across, state.tm_up = state[AXES]
    with st.container(horizontal=True, gap="small"):
        for label, key in (("Across", "tm_across"), ("Up", "tm_up")):
            st.selectbox(
                label,
                SCORE_KEYS,
                key=key,
                format_func=lambda score: SCORE[score].title,
                on_change=changed,
                width=210,
            )
    scheme: Scheme = "dark" if st.context.theme.type == "dark" else "light"
    axes = state[AXES]
    start = (tried.letter, tried.start)
    st.plotly_chart(
        cloud(tried.sweep, front, rows, start, axes, naming.units, naming.currency, scheme),
        key="tm_plot",
        theme=None,
        config={"displayModeBar": False, "scrollZoom": False},
        alt=alternative(tried.sweep, front, rows, axes),
    )
    st.html(
        '<p class="lw-small lw-quiet">Grey: all that were tried. Ink: the front of all five scores within '
        "your limits. Less is better on both axes.</p>"
    )


def _matters(tried: Tried, naming: Naming) -> None:
    st.header("What matters", anchor=False)
    key: ScoreKey = st.selectbox(
        "For",
        SCORE_KEYS,
        key=MATTERS,
        format_func=lambda each: SCORE[each].title,
        width=230,
        persist_state="session",
    )
    shares = None if tried.shares is None else tried.shares[key]
    paths = [axis.path for axis in tried.sweep.axes]
    st.html(
        f"<p>{escape(matters_sentence(key, shares, paths, naming.titled))}</p>"
        + matters_html(key, shares, tried.reaches, paths, tried.letter, naming)
        + (f'<p class="lw-small lw-quiet">{escape(tried.no_shares)}</p>' if tried.no_shares else "")
        + '<p class="lw-small lw-quiet">Shares of the variance over all combinations; together they come to '
        "more than 100 % where choices act through each other.</p>"
    )


def _table(tried: Tried, front: Front, naming: Naming) -> None:
    st.header("The front", anchor=False)
    result = tried.sweep
    rows = same_scores_once(result, front.rows)
    if len(rows):
        shown = rows[:MOST_ROWS]
        picked = st.dataframe(
            _frame(result, shown, naming),
            key="tm_table",
            on_select="rerun",
            selection_mode="single-row",
            hide_index=True,
            height=320,
        )
        chosen = picked["selection"]["rows"]
        with st.container(horizontal=True, gap="small", vertical_alignment="center"):
            if chosen and chosen[0] < len(shown):
                row = int(shown[chosen[0]])
                add_button(
                    "Add the picked row to the line-up", "tm_add_row", _candidate(tried, row, "tried", naming)
                )
            alike = len(front.rows) - len(rows)
            told = f"{len(front.rows)} on the front"
            told += f", {alike} of them score as another and stand with it" if alike else ""
            told += f"; the first {MOST_ROWS} are shown" if len(rows) > MOST_ROWS else ""
            st.html(f'<p class="lw-small lw-quiet">{escape(told)}. Pick a row to add it.</p>')
        if chosen:
            tell_full()
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            "Front as CSV", data=partial(sweep_csv, result, front.rows, front.rows), file_name="front.csv",
            mime="text/csv", on_click="ignore", key="tm_csv_front", disabled=not len(front.rows),
        )  # fmt: skip
        st.download_button(
            "All as CSV", data=partial(sweep_csv, result, front.rows), file_name="tried.csv",
            mime="text/csv", on_click="ignore", key="tm_csv_all",
        )  # fmt: skip


def _frame(result: Sweep, rows: Sequence[int], naming: Naming) -> pd.DataFrame:
    table: dict[str, list[str]] = {}
    values = [result.values(int(row)) for row in rows]
    for axis in result.axes:
        table[naming.titled(axis.path)] = [naming.valued(axis.path, each[axis.path]) for each in values]
    for words in SCORE.values():
        place = KEYS.index(words.key)
        scores = result.scored.scores[list(rows), place].tolist()
        table[words.title] = [words.value(value, naming.units, naming.currency) for value in scores]
    return pd.DataFrame(table)
