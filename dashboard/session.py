"""What this visitor has open: every session_state key, the link in the address, undo, cached engine calls.

The comparison is a frozen document. A page never changes it in place: it calls `commit` with a new one,
from a widget's callback, and the address, the undo list and the next run follow.

Each comparison that was open is a Visit. The browser's own list of addresses cannot be read, so Back and
Forward are told from a new link by the token: a known one goes to its Visit and keeps its undo steps.
A dialog or fragment that commits must rerun the whole page when it ends (`on_dismiss="rerun"`): page links
drawn before the edit carry the older token, and following one would be taken for Back.
"""

from dataclasses import dataclass

import streamlit as st

from engine.catalogue.load import Catalogue, load_catalogue, with_own
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design
from engine.evaluate import LineUp, evaluate_all
from engine.export.files import check_goods
from engine.export.link import MOST_SHOWN, decode_link, encode_link
from engine.refusals import Refusal
from engine.samples import first_visit

MOST_VISITS = 51
INSTEAD = "You see the samples; what you had open before is one Back away."


@dataclass(frozen=True)
class Visit:
    """A comparison that was open: under which address (None: too long), by which edit, after which visit."""

    number: int
    token: str | None
    comparison: Comparison
    what: str = ""
    before: int | None = None
    notice: str = ""
    samples: bool = False


def start() -> None:
    """Read the address, once at the top of every run; a link that cannot be read changes nothing."""
    state = st.session_state
    token = st.query_params.get("d", "")
    if "visits" not in state:
        state.visits, state.revision = (), 0
        visit = _opened(token)
        state.as_sent = bool(token) and not visit.notice
    elif token == state.seen:
        return
    else:
        known = [visit for visit in state.visits if visit.token == token]
        visit = min(known, key=_steps_away) if known else _opened(token)
    state.seen = token
    _go(visit)


def _steps_away(visit: Visit) -> int:
    return abs(visit.number - _here().number)


def _opened(token: str) -> Visit:
    """What an address that is new to this visitor holds; the samples if it holds nothing to show."""
    number = _next_number()
    if not token:
        return Visit(number, token, first_visit(), samples=True)
    try:
        opened = decode_link(token)
        _scored(opened)
    except ValueError as refusal:
        notice = f"{_link_fault(refusal)} {INSTEAD}"
        return Visit(number, token, first_visit(), notice=notice, samples=True)
    return Visit(number, token, opened)


def _link_fault(refusal: ValueError) -> str:
    told = _first_message(refusal)
    begins = "This link could not be read: "
    if told.startswith(begins):
        return told
    # A stranger may have written what is repeated here.
    short = told if len(told) <= MOST_SHOWN else told[:MOST_SHOWN] + "…"
    return f"{begins}it holds something that is not allowed: {short.rstrip('.')}."


def _first_message(refusal: ValueError) -> str:
    return refusal.messages[0] if isinstance(refusal, Refusal) else str(refusal)


def _scored(wanted: Comparison) -> LineUp:
    """Whatever is put in place can be shown: unknown goods and impossible numbers are refused before.

    Raises ValueError (or Refusal) in words for the visitor; the pages' own call finds the scores remembered.
    """
    check_goods(wanted, load_catalogue())
    return evaluate_all(wanted, load_catalogue())


def _next_number() -> int:
    visits = st.session_state.visits
    return visits[-1].number + 1 if visits else 0


def _here() -> Visit:
    state = st.session_state
    here: Visit = next(visit for visit in state.visits if visit.number == state.here)
    return here


def _find(number: int | None) -> Visit | None:
    return next((visit for visit in st.session_state.visits if visit.number == number), None)


def _go(visit: Visit) -> None:
    """Make a visit the one that is open; a new one is remembered, the oldest are forgotten."""
    state = st.session_state
    if visit not in state.visits:
        state.visits = (*state.visits, visit)[-MOST_VISITS:]
    state.here, state.comparison = visit.number, visit.comparison
    state.notice = visit.notice
    state.revision += 1


def comparison() -> Comparison:
    """The comparison that is open."""
    current: Comparison = st.session_state.comparison
    return current


def catalogue() -> Catalogue:
    """The goods, with the maker's own numbers laid over them."""
    own = comparison().own_goods
    return with_own(load_catalogue(), own) if own else load_catalogue()


def line_up() -> LineUp:
    """The candidates with their scores; the engine remembers those that did not change."""
    return evaluate_all(comparison(), load_catalogue())


def commit(new: Comparison, what: str) -> bool:
    """Put a new comparison in place, from a callback: one undo step, one history entry.

    One that cannot be scored is not taken: the notice says why, what is open stays, and False is given.
    One that is too large for a link is taken all the same; the notice says to save it as a file.
    """
    state = st.session_state
    if new == state.comparison:
        return True
    try:
        _scored(new)
    except ValueError as refusal:
        state.notice = _first_message(refusal)
        return False
    token: str | None = None
    notice = ""
    try:
        token = encode_link(new)
    except Refusal as refusal:
        notice = refusal.messages[0]
    state.as_sent = False
    _go(Visit(_next_number(), token, new, what, state.here, notice))
    _write(token)
    return True


def undo() -> None:
    """Take back the last edit, from a callback; the address follows."""
    before = _find(_here().before)
    if before is not None:
        _go(before)
        _write(before.token)


def undo_label() -> str:
    """What Undo would take back, or an empty text when there is nothing."""
    here = _here()
    return f"Undo: {here.what}" if _find(here.before) is not None else ""


def _write(token: str | None) -> None:
    """Put a token in the address: one entry in the browser's history, none if it stands there already."""
    if token is None:
        return
    st.session_state.seen = token
    if token:
        st.query_params["d"] = token
    elif "d" in st.query_params:
        del st.query_params["d"]


def token() -> str:
    """The link token of what is open, as it stands in the address; empty on a first visit."""
    return str(st.session_state.get("seen", ""))


def link_params() -> dict[str, str] | None:
    """For `query_params=` of every page link and switch of page: without it the address loses the link."""
    return {"d": token()} if token() else None


def share_token() -> str:
    """A token for exactly what is open, even on a first visit.

    Raises  Refusal when it is too long for a link
    """
    return encode_link(comparison())


def notice() -> str:
    """One plain sentence about a link or an edit that was not taken, or an empty text; not yet escaped."""
    return str(st.session_state.notice)


def opened_as_sent() -> bool:
    """Whether what is open came by a link and nobody has worked on it yet."""
    return bool(st.session_state.as_sent)


def work_on_copy() -> None:
    """The visitor has seen that it was sent, and goes on with it."""
    st.session_state.as_sent = False


def showing_samples() -> bool:
    """Whether the samples of a first visit are still untouched."""
    return _here().samples


def revision() -> int:
    """Grows by one whenever the comparison changes: a key for widgets that must start afresh."""
    return int(st.session_state.revision)


def with_design(letter: str, design: Design) -> Comparison:
    """The comparison with one candidate's design replaced."""
    now = comparison()
    candidates = tuple(
        Candidate(letter=letter, design=design) if c.letter == letter else c for c in now.candidates
    )
    return now.model_copy(update={"candidates": candidates})


def with_added(design: Design) -> Comparison | None:
    """The comparison with a design added under the first free letter, or None when it is full."""
    now = comparison()
    used = {c.letter for c in now.candidates}
    free = [letter for letter in LETTERS if letter not in used]
    if not free:
        return None
    added = (*now.candidates, Candidate(letter=free[0], design=design))
    return now.model_copy(update={"candidates": added})


def without(letter: str) -> Comparison:
    """The comparison with one candidate removed; its letter becomes free."""
    now = comparison()
    kept = tuple(c for c in now.candidates if c.letter != letter)
    cleared = {name: None for name in ("reference", "chosen") if getattr(now, name) == letter}
    if "chosen" in cleared:
        cleared["reason"] = ""
    return now.model_copy(update={"candidates": kept, **cleared})
