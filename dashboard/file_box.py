"""What becomes of a file that somebody opens? A line-up takes this one's place, one design is added to it."""

import streamlit as st

from dashboard import dialogs, session
from engine.comparison import Comparison
from engine.design import Design
from engine.export.files import read_any
from engine.refusals import Refusal, shown

MOST_MEGABYTES = 1
FULL = "Six is the most that can be compared at once. Remove one first."


def show_file_box(label: str) -> None:
    """A place to drop a file, and under it why the last one was not taken."""
    number = st.session_state.setdefault("lw_files_opened", 0)
    key = f"lw-file-{number}"
    st.file_uploader(
        label,
        key=key,
        on_change=_open,
        args=(key,),
        max_upload_size=MOST_MEGABYTES,
        help="A line-up or a design that was saved here, up to 1 MB. Undo takes it back.",
    )
    dialogs.say_refusals()


def add_design(design: Design) -> None:
    """Put a design into the line-up, from a callback; when there is no room, the dialog says so."""
    _place(session.with_added(design), f"add {design.name}")


def _open(key: str) -> None:
    file = st.session_state[key]
    if file is None:
        return
    # A box that still holds its file would open it again at the next edit.
    st.session_state.lw_files_opened += 1
    name = shown(file.name)
    try:
        document = read_any(file.getvalue())
    except Refusal as refusal:
        dialogs.refuse([f"{name} was not opened; what was open stays.", *refusal.messages])
        return
    if isinstance(document, Comparison):
        _place(document, f"open {name}")
    else:
        add_design(document)


def _place(new: Comparison | None, what: str) -> None:
    if new is None:
        dialogs.refuse([FULL])
    elif session.commit(new, what):
        dialogs.close_after_this_run()
    else:
        dialogs.refuse([session.notice()])
