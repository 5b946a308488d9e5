"""What does Undo take back? One button of one width, so that a long edit moves nothing beside it."""

import streamlit as st

from dashboard import session
from dashboard.safe_text import md_escape

MOST_SIGNS = 24
WIDTH_PX = 208
"""Room for so many signs."""


def show_undo(key: str) -> None:
    """The button, off when there is nothing to take back; the whole edit stands in its help."""
    what = session.undo_label()
    st.button(
        md_escape(shortened(what)) or "Undo",
        key=key,
        disabled=not what,
        on_click=session.undo,
        help=md_escape(what) if shortened(what) != what else None,
        width=WIDTH_PX,
    )


def shortened(what: str) -> str:
    """A long text cut to its beginning, with a mark that something is left out."""
    return what if len(what) <= MOST_SIGNS else what[: MOST_SIGNS - 1].rstrip() + "…"
