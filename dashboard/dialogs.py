"""What does every dialog need? The page's colours, a way to close itself, plain words for what it refused."""

from collections.abc import Iterable
from html import escape

import streamlit as st

from dashboard.palette import HAIRLINE

MOST_FAULTS = 5


def begin() -> None:
    """Forget what an earlier dialog said; call it when a dialog opens."""
    st.session_state.lw_faults, st.session_state.lw_done = (), False


def open_body() -> None:
    """First thing in a dialog: close it, and draw the page behind afresh, when its work is done.

    A dialog hangs outside the app's own element, whose colour scheme `light-dark()` would follow.
    """
    if st.session_state.get("lw_done"):
        st.session_state.lw_done = False
        st.rerun()
    scheme = "dark" if st.context.theme.type == "dark" else "light"
    st.html(f'<style>[data-testid="stDialog"]{{color-scheme:{scheme}}}</style>')


def close_after_this_run() -> None:
    """From a callback: the dialog's work is done."""
    st.session_state.lw_faults, st.session_state.lw_done = (), True


def refuse(faults: Iterable[str]) -> None:
    """From a callback: keep the dialog open and say why."""
    st.session_state.lw_faults = tuple(faults)


def say_refusals() -> None:
    """What the last callback refused, if it did."""
    say(st.session_state.lw_faults)


def say(faults: Iterable[str], grade: str = "stop", word: str = "Not taken.") -> None:
    """Plain sentences in one box; nothing when there are none."""
    told = list(faults)
    if not told:
        return
    if len(told) > MOST_FAULTS:
        told = [*told[:MOST_FAULTS], f"{len(told) - MOST_FAULTS} more like these."]
    lines = "".join(f"<div>{escape(fault)}</div>" for fault in told)
    st.html(
        f'<div role="alert" class="lw-warning lw-{grade}" style="overflow-wrap:anywhere">'
        f'<span class="lw-grade">{word}</span>{lines}</div>'
    )


def heading(text: str) -> None:
    """Streamlit's own headings are made small in a dialog."""
    st.html(
        f'<h3 style="margin:0;padding:.6rem 0 .2rem;font-size:1.125rem;border-top:1px solid {HAIRLINE.css}">'
        f"{escape(text)}</h3>"
    )


def lower_heading(text: str, tag: str = "") -> None:
    """A heading below `heading`, with a word in a box behind it if one is given."""
    boxed = f' <span class="lw-tag">{escape(tag)}</span>' if tag else ""
    st.html(f'<h4 style="margin:0;padding:.3rem 0 0;font-size:1rem">{escape(text)}{boxed}</h4>')


def small(text: str, quiet: bool = False) -> None:
    """A short plain text."""
    colour = " lw-quiet" if quiet else ""
    st.html(f'<p class="lw-small{colour}" style="margin:0;max-width:90ch">{escape(text)}</p>')
