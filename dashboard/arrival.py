"""How did this come to be open: as samples, by a link, or not at all? The bar and the line that say so."""

from html import escape

import streamlit as st

from dashboard import session
from dashboard.measures import left_out_line

BAR_SEEN, HINT_SEEN = "lu_bar_seen", "lu_hint_seen"
AS_SENT = "You see a line-up as it was sent to you."
YOUR_COPY = "You work on your own copy now."
KEPT = "Every change is in the address: Back takes it back, Share sends it."
FIRST_STEPS = (
    "These are samples. Start from your own night: 1 <em>Change the night</em> · 2 pick the nearest sample, "
    "<em>Duplicate</em> · 3 change it in <em>Close-up</em>."
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
    """The first steps of a first visit; after the first change the line says where the change went."""
    if session.showing_samples() and not session.notice():
        st.session_state[HINT_SEEN] = True
        st.html(f'<p class="lw-small lw-quiet lw-hint">{FIRST_STEPS}</p>')
    elif st.session_state.get(HINT_SEEN):
        st.html(f'<p class="lw-small lw-quiet lw-hint">{KEPT}</p>')
