"""How did this come to be open: as samples, by a link, or not at all? The bar and the line that say so."""

from html import escape

import streamlit as st

from dashboard import session
from dashboard.measures import left_out_line
from engine.comparison import Comparison
from engine.design import Design
from engine.samples import first_visit, samples

BAR_SEEN, HINT = "lu_bar_seen", "lu_hint"
COPIED, CHANGED = "lu_step_copied", "lu_step_changed"
"""Set where a copy was made, and where Close-up saw a design change: an opened file is neither."""
AS_SENT = "You see a line-up as it was sent to you."
YOUR_COPY = "You work on your own copy now."
KEPT = "Every change is in the address: Back takes it back, Share sends it."
STEPS = (
    "<em>Change the night</em>",
    "pick the nearest sample, <em>Duplicate</em>",
    "change it in <em>Close-up</em>",
)


def show_bar() -> None:
    """Over everything: how this came here. Once shown it keeps its height, so that nothing jumps."""
    sent, notice = session.opened_as_sent(), session.notice()
    left_out = left_out_line(session.comparison())
    if not (sent or notice or left_out or st.session_state.get(BAR_SEEN)):
        return
    st.session_state[BAR_SEEN] = True
    text = notice or f"{AS_SENT if sent else YOUR_COPY} {left_out}".rstrip()
    with st.container(horizontal=True, wrap=False, vertical_alignment="center", key="lw-bar"):
        st.html(f'<p class="lw-bar-text" role="status">{escape(text)}</p>', width="stretch")
        if sent and not notice:
            st.button("Work on a copy", key="lu_copy", on_click=session.work_on_copy)


def show_hint() -> None:
    """The first steps of a first visit, until they are done or hidden; then where every change goes."""
    state = st.session_state
    if session.showing_samples() and not session.notice():
        state.setdefault(HINT, True)
    if not state.get(HINT):
        return
    night, copied, changed = steps_done(session.comparison())
    done = night, copied and bool(state.get(COPIED)), changed and bool(state.get(CHANGED))
    with st.container(horizontal=True, vertical_alignment="center", gap="xsmall", key="lw-hint"):
        st.html(f'<p class="lw-small lw-quiet lw-hint">{hint(done)}</p>', width="content")
        st.button("Hide", key="lu_hint_hide", on_click=_hide, help="Hide these first steps")


def _hide() -> None:
    st.session_state[HINT] = False


def steps_done(now: Comparison) -> tuple[bool, bool, bool]:
    """Which of the first steps may have been taken from the samples: a night, a copy, a change in it.

    Undo takes a step back; whether a copy came by the button and a change in Close-up, only its flag tells.
    """
    first, bodies = first_visit(), {_body(sample.design) for sample in samples()}
    known = {sample.design for sample in samples()}
    designs = [candidate.design for candidate in now.candidates]
    return (
        now.night != first.night,
        any(design not in known for design in designs),
        any(_body(design) not in bodies for design in designs),
    )


def _body(design: Design) -> Design:
    """A design without what it is called."""
    return design.model_copy(update={"name": "any", "note": ""})


def hint(done: tuple[bool, bool, bool]) -> str:
    """The steps with those marked that are done; when all are, what keeps the work."""
    if all(done):
        return KEPT
    steps = " · ".join(
        f"{place} {step}{' ✓ done' if there else ''}"
        for place, (step, there) in enumerate(zip(STEPS, done, strict=True), 1)
    )
    return f"These are samples. Start from your own night: {steps}."
