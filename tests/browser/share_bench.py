"""A page for tests, run in place of the app: what is open as plain text, edits as buttons, the dialogs."""

from random import Random

import streamlit as st

from dashboard import goods_editor, session, share_dialog
from dashboard.style import inject
from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.night import Sleeper


def edit(what: str, **changes: object) -> None:
    """One edit of the comparison by a button."""
    session.commit(session.comparison().model_copy(update=changes), what)


def lower(by_mm: int) -> None:
    """Change the baffle height of A."""
    design = session.comparison().design("A")
    old = design.baffles.height_mm
    baffles = design.baffles.model_copy(update={"height_mm": old - by_mm})
    new = session.with_design("A", design.model_copy(update={"baffles": baffles}))
    session.commit(new, f"baffle height {old:g} → {old - by_mm:g} mm")


def write_long_notes() -> None:
    """Give every candidate the longest note there may be, in signs that do not squeeze well."""
    chance = Random(1)

    def scribble() -> str:
        return "".join(chr(chance.randrange(0x4E00, 0x9F00)) for _ in range(500))

    candidates = tuple(
        Candidate(letter=c.letter, design=c.design.model_copy(update={"note": scribble()}))
        for c in session.comparison().candidates
    )
    edit("long notes", candidates=candidates)


def work_on_copy() -> None:
    """What the bar of a sent line-up offers."""
    session.work_on_copy()


st.set_page_config(page_title="Bench", page_icon="🪶", layout="wide")
inject()
session.start()
now: Comparison = session.comparison()
st.title("Bench", anchor=False)
BUTTONS = {
    "Lower A": (lower, (5,), {}),
    "Raise A": (lower, (-5,), {}),
    "Trade units": (edit, ("units",), {"units": "trade"}),
    "Compare with C": (edit, ("reference",), {"reference": "C"}),
    "Choose B": (edit, ("choice",), {"chosen": "B", "reason": "light & <b>quick</b>"}),
    "Own price": (edit, ("price",), {"own_goods": (OwnGood(kind="fill", id="down-850", price=31.5),)}),
    "Own body": (
        edit,
        ("sleeper",),
        {
            "night": now.night.model_copy(
                update={"sleeper": Sleeper(kind="own", height_mm=1870, mass_kg=91, girth_mm=1240)}
            )
        },
    ),
    "Long notes": (write_long_notes, (), {}),
    "Work on a copy": (work_on_copy, (), {}),
    "Undo it": (session.undo, (), {}),
}
with st.container(horizontal=True):
    for label, (callback, args, kwargs) in BUTTONS.items():
        st.button(label, on_click=callback, args=args, kwargs=kwargs)
    if st.button("Share"):
        share_dialog.open_share()
    if st.button("Add a candidate"):
        share_dialog.open_add()
    if st.button("Goods"):
        goods_editor.show_goods()
lines = [
    f"{each.letter} {each.design.name} {each.score.weight_kg} {each.score.comfort_c} {each.bands}"
    for each in session.line_up().evaluations
]
with st.container(key="bench-scores"):
    st.text("\n".join(lines) or "empty")
with st.container(key="bench-document"):
    st.text(now.model_dump_json())
# Undo last: when a test sees it change, all above it has changed.
st.text(f"Notice says: {session.notice() or 'nothing'}")
st.text(f"As sent: {session.opened_as_sent()}. Samples: {session.showing_samples()}.")
st.text(f"Link: {session.token() or 'none'}")
st.text(f"Undo says: {session.undo_label() or 'nothing'}")
