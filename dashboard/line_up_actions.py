"""What happens when something on the Line-up is pressed? Callbacks; each edit is one new comparison."""

from typing import Any

import streamlit as st
from pydantic import BaseModel, ValidationError

from dashboard import session
from dashboard.add_dialog import BLANKS
from dashboard.arrival import COPIED
from dashboard.words import ScoreKey
from engine.comparison import Comparison
from engine.design import Design
from engine.refusals import explain
from engine.samples import samples
from engine.score import SCORE_KEYS

PICK, REFERENCE, UNITS, CURRENCY = "lu_pick", "lu_reference", "lu_units", "lu_currency"
NAME, NOTE, REASON, SORT, ACROSS, UP = "lu_name", "lu_note", "lu_reason", "lu_sort", "lu_across", "lu_up"
LETTER, WANTED = "lu_letter", {"close_up": "close_up_letter", "make": "make_wanted"}
"""Who is picked here (a widget's own key goes when its page does), and where the other pages look for it."""
GO, REFUSED, AXES = "lu_go", "lu_refused", "lu_axes"
DEFAULT_AXES: tuple[ScoreKey, ScoreKey] = ("weight_kg", "comfort_c")
COPY, MOST_NAME = ", copy", 60
AS_ADDED = "as added"


def prepare() -> None:
    """Set every box to what the comparison holds, before the boxes are made."""
    state, now = st.session_state, session.comparison()
    letters = [candidate.letter for candidate in now.candidates]
    state[UNITS], state[CURRENCY] = now.units, now.currency
    state.setdefault(SORT, AS_ADDED)
    state.setdefault(AXES, DEFAULT_AXES)
    state[ACROSS], state[UP] = state[AXES]
    state.setdefault(REFUSED, {})
    if not letters:
        return
    state[REFERENCE] = now.reference_letter
    if state.get(LETTER) not in letters:
        state[LETTER] = now.chosen or now.reference_letter
    state[PICK] = state[LETTER]
    design = now.design(state[LETTER])
    # What was refused stays in its box until it is mended or another candidate is picked.
    state[NAME] = state[REFUSED].get(NAME, design.name)
    state[NOTE] = state[REFUSED].get(NOTE, design.note)
    state[REASON] = now.reason


def picked() -> str:
    """The letter that the controls act on."""
    return str(st.session_state[LETTER])


def sorted_by() -> ScoreKey | None:
    """The score that orders the rows; None for the order added."""
    key = st.session_state[SORT]
    return None if key == AS_ADDED else key


def letter_picked() -> None:
    """Another candidate: what was refused for the last one goes."""
    st.session_state[LETTER] = st.session_state[PICK]
    st.session_state[REFUSED] = {}


def _changed(what: str, **fields: Any) -> None:
    session.commit(session.comparison().model_copy(update=fields), what)


def set_reference() -> None:
    """From the control over the table."""
    letter = st.session_state[REFERENCE]
    _changed(f"compare with {letter}", reference=letter)


def use_as_reference() -> None:
    """From the menu of the picked candidate."""
    _changed(f"compare with {picked()}", reference=picked())


def set_units() -> None:
    """The same stored values, shown in the other system."""
    units = st.session_state[UNITS]
    _changed(f"units {session.comparison().units} → {units}", units=units)


def set_currency() -> None:
    """The label behind every price; nothing is converted."""
    _set_text(CURRENCY, Comparison, "currency", "currency label")


def set_reason() -> None:
    """Why the chosen one was chosen."""
    _set_text(REASON, Comparison, "reason", "the reason for the choice")


def _set_text(key: str, model: type[BaseModel], field: str, what: str) -> None:
    now = session.comparison()
    text = st.session_state[key].strip()
    try:
        new = Comparison.model_validate(now.model_dump() | {field: text})
    except ValidationError as error:
        st.session_state[REFUSED] = {key: text, f"{key} why": explain(error, model)[0]}
        return
    session.commit(new, what)


def rename() -> None:
    """The picked candidate's name."""
    _set_design_text(NAME, "name", f"rename {picked()}")


def set_note() -> None:
    """The picked candidate's note."""
    _set_design_text(NOTE, "note", f"note of {picked()}")


def _set_design_text(key: str, field: str, what: str) -> None:
    state, letter = st.session_state, picked()
    text = state[key].strip()
    design = session.comparison().design(letter)
    try:
        new = Design.model_validate(design.model_dump() | {field: text})
    except ValidationError as error:
        state[REFUSED] = {key: state[key], f"{key} why": explain(error, Design)[0]}
        return
    state[REFUSED] = {}
    session.commit(session.with_design(letter, new), what)


def refused(key: str) -> str:
    """Why the text in a box was not taken, or an empty text."""
    return str(st.session_state[REFUSED].get(f"{key} why", ""))


def choose() -> None:
    """Mark the picked candidate as the one to make; again takes the mark away."""
    now = session.comparison()
    if now.chosen == picked():
        _changed(f"no longer choose {picked()}", chosen=None, reason="")
    else:
        _changed(f"choose {picked()}", chosen=picked(), reason="")


def duplicate() -> None:
    """A copy under the first free letter, opened in Close-up where it will be changed.

    A sample's note tells of the sample and stays with it; a note of one's own goes along.
    """
    letter = picked()
    design = session.comparison().design(letter)
    name = design.name[: MOST_NAME - len(COPY)].rstrip() + COPY
    note = "" if design.note in {sample.design.note for sample in samples()} else design.note
    new = session.with_added(design.model_copy(update={"name": name, "note": note}))
    if new is not None and session.commit(new, f"duplicate {letter}"):
        st.session_state[LETTER] = new.candidates[-1].letter
        st.session_state[COPIED] = True
        st.session_state[GO] = "close_up"


def ask_for_picked(page: str) -> None:
    """Another page is about to open, for the picked candidate."""
    st.session_state[WANTED[page]] = picked()


def add_blank() -> None:
    """A quilt of all defaults, to start from."""
    new = session.with_added(BLANKS["Add a blank underquilt"])
    if new is not None:
        session.commit(new, "add a blank quilt")


def remove() -> None:
    """Asks nothing; Undo brings it back under its letter."""
    session.commit(session.without(picked()), f"remove {picked()}")


def axes_picked() -> None:
    """One score picked for both axes changes places with the other."""
    state = st.session_state
    was = state[AXES]
    now = (state[ACROSS], state[UP])
    if now[0] == now[1]:
        now = (was[1], was[0])
    if set(now) <= set(SCORE_KEYS):
        state[AXES] = now
