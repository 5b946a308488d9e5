"""What if many things varied at once: which quilts give nothing away, and which choice matters?"""

from html import escape
from math import prod

import streamlit as st

from dashboard import session, try_draft, try_wish
from dashboard.palette import MARKS
from dashboard.try_results import (
    PAGE_STYLE,
    SAID,
    TRIED,
    Tried,
    add_button,
    forget_front,
    show_results,
    tell_full,
)
from dashboard.try_words import count_words
from dashboard.verdicts import EMPTY
from dashboard.words import number
from engine.evaluate import Evaluation, LineUp
from engine.explore.choices import count_of, shapes_the_layout
from engine.explore.matters import Shares, one_at_a_time, shares_of_sweep, variance_shares
from engine.explore.rows import KEYS
from engine.explore.sweep import MOST_WHOLE, SAMPLED_POWER, Sweep, sweep
from engine.recipe import Recipe
from engine.refusals import Refusal

QUESTION = "What if many things varied at once?"
PICK, LETTER = "tm_pick", "tm_letter"
# Each may need a loft map of its own, 50 ms, when shares are sampled.
MOST_SHAPES = 300


def show() -> None:
    """The page."""
    st.title(QUESTION, anchor=False)
    if session.notice():
        st.html(f'<p class="lw-mind" role="alert">{escape(session.notice())}</p>')
    line_up = session.line_up()
    if not line_up.evaluations:
        st.html(f'<p class="lw-verdict">{escape(EMPTY)}</p>')
        st.page_link("views/line_up.py", label="Go to the Line-up", query_params=session.link_params())
        return
    st.html(PAGE_STYLE)
    start = line_up[_letter(line_up)]
    try_draft.prepare(start.design, session.catalogue())
    try_draft.show_choices(start.design, session.catalogue())
    _score_button(start)
    tried: Tried | None = st.session_state.get(TRIED)
    if tried is not None:
        show_results(tried, start.letter)
    st.header("Reach a wish", anchor=False)
    answer = try_wish.show_wish(start)
    if answer is not None:
        ((path, value),) = answer.values.items()
        words = try_draft.value_name(path, value, session.catalogue())
        with st.container(horizontal=True, gap="small", vertical_alignment="center"):
            add_button("Add it to the line-up", "tm_wish_add", try_wish.named(answer.design, path, words))
        tell_full()
    # What was added by a button that is no longer shown is not told beside another one later.
    st.session_state.pop(SAID, None)


def _letter(line_up: LineUp) -> str:
    state, letters = st.session_state, [each.letter for each in line_up.evaluations]
    now = line_up.comparison
    wanted = state.get(LETTER)
    if wanted not in letters:
        asked = now.recipe.start if now.recipe is not None else None
        wanted = next(
            each for each in (asked, now.chosen, now.reference_letter, letters[0]) if each in letters
        )
    state[PICK] = state[LETTER] = wanted

    def picked() -> None:
        state[LETTER] = state[PICK]

    if len(letters) > 1:
        st.segmented_control(
            "Start from",
            letters,
            required=True,
            key=PICK,
            on_change=picked,
            format_func=lambda letter: f"{MARKS[letter].sign} {letter}",
        )
    st.html(f"<p>Start from <strong>{wanted}</strong> {escape(line_up[str(wanted)].design.name)}.</p>")
    return str(wanted)


def _score_button(start: Evaluation) -> None:
    recipe, faults = try_draft.recipe_of(start.letter)
    if recipe is None:
        st.html(f'<p class="lw-stop" role="alert">{escape(" ".join(faults))}</p>')
        st.button("Score them", key="tm_score", disabled=True)
        return
    told = count_words(count_of(recipe), MOST_WHOLE, 2**SAMPLED_POWER)

    def asked() -> None:
        # In the link, so that Back and a friend find what was tried; the quilts are never in it.
        now = session.comparison()
        session.commit(now.model_copy(update={"recipe": recipe}), "what is tried")

    with st.container(horizontal=True, gap="small", vertical_alignment="center"):
        st.html(f"<p><strong>{escape(told)}</strong></p>", width="content")
        clicked = st.button("Score them", key="tm_score", on_click=asked)
    if clicked:
        _score(start, recipe)


def _score(start: Evaluation, recipe: Recipe) -> None:
    """Score with a bar that moves. Cancel starts the page anew: the next move of the bar ends the work."""
    catalogue, night = session.catalogue(), session.comparison().night
    bar = st.progress(0.0, text="Solving the layouts")
    cancel = st.empty()
    cancel.button("Cancel", key="tm_cancel")

    def moved(done: int, of: int) -> None:
        bar.progress(done / of, text=f"{number(done)} of {number(of)} scored")

    try:
        result = sweep(start.design, night, catalogue, recipe, moved)
    except Refusal as refusal:
        bar.empty()
        cancel.empty()
        st.html(f'<p class="lw-stop" role="alert">{escape(" ".join(refusal.messages))}</p>')
        return
    bar.progress(1.0, text="Looking at what matters")
    shares, why = _shares(start, result)
    reaches = one_at_a_time(start.design, night, catalogue, result.axes)
    scores = {key: float(getattr(start.score, key)) for key in KEYS}
    st.session_state[TRIED] = Tried(start.letter, start.design.name, result, scores, shares, reaches, why)
    forget_front()
    st.rerun()


def _shares(start: Evaluation, result: Sweep) -> tuple[dict[str, Shares] | None, str]:
    """Shares of the variance, exact where every combination was tried, else sampled; or why none."""
    whole = shares_of_sweep(result)
    if whole is not None:
        return whole, ""
    shapes = prod(len(axis.values) for axis in result.axes if shapes_the_layout(axis.path))
    if shapes > MOST_SHAPES:
        return None, f"Shares of the spread are told for up to {MOST_SHAPES} shapes of baffles and outlines."
    try:
        night = session.comparison().night
        return variance_shares(start.design, night, session.catalogue(), result.axes), ""
    except Refusal as refusal:
        return None, " ".join(refusal.messages)


if __name__ == "__main__":
    show()
