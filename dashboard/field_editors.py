"""Which fill is in the quilt, and what hangs it? The two parts of a design that one widget cannot hold."""

from typing import Any

import streamlit as st

from dashboard import session
from dashboard.field_edits import Memory, Spot, document, memories, placed, stored, take, with_document
from dashboard.fields import edit_in_words, good_box, good_name, message, number_box
from engine.catalogue.load import role_ids
from engine.design import Design

MOST_ROWS = 12
FORMS = ("down", "sheet")


def fill_form(letter: str) -> None:
    """Loose down or sheet: each brings back the fill that was last chosen of its form."""
    catalogue, spot = session.catalogue(), Spot("fill.good", letter=letter)
    key, chosen = f"field-{letter}-fill-form", st.session_state.setdefault("last_fills", {})
    now = stored(spot)
    form = catalogue.fill(now).form
    chosen[letter, form] = now
    st.session_state[key] = form

    def change() -> None:
        wanted = st.session_state[key]
        last = chosen.get((letter, wanted))
        good = last if last in catalogue.fills else role_ids(catalogue, f"fill:{wanted}")[0]
        take(spot, good, good, edit_in_words("Fill", catalogue.fill(now).name, catalogue.fill(good).name))

    with st.container(gap="xxsmall"):
        st.segmented_control("Filled with", FORMS, required=True, key=key, on_change=change)
        good_box(spot, role_ids(catalogue, f"fill:{form}"))
        message(spot)


def suspension_editor(letter: str) -> None:
    """The rows, and a button for one more."""
    whole = Spot("suspension", letter=letter)
    design = document(whole)
    assert isinstance(design, Design)
    ids = role_ids(session.catalogue(), "hardware:")
    st.markdown(f"**{whole.info.title}**")
    if not design.suspension:
        st.html('<p class="lw-quiet lw-small">Nothing yet: no cords, hooks or locks are counted.</p>')
    for place, item in enumerate(design.suspension):
        good, amount = (Spot(f"suspension.{place}.{name}", letter=letter) for name in ("good", "amount"))
        sold_by = session.catalogue().hardware_item(item.good).sold_by
        kind = "m" if sold_by == "m" else ""
        unit = "pieces" if kind == "" else ("yd" if session.comparison().units == "trade" else "m")
        with st.container(horizontal=True, vertical_alignment="bottom", gap="xsmall"):
            with st.container(width=168):
                good_box(good, ids, f"Part {place + 1}")
            with st.container(width=142):
                number_box(
                    amount, kind, f"Amount {place + 1}, {unit}", good_name(session.catalogue(), item.good)
                )
            st.button(
                "Remove",
                key=f"field-{letter}-suspension-remove-{place}",
                help=f"Remove part {place + 1}",
                on_click=_remove,
                args=(whole, place),
            )
        message(amount)
    st.button(
        "Add a part",
        key=f"field-{letter}-suspension-add",
        on_click=_add,
        args=(whole,),
        disabled=len(design.suspension) >= MOST_ROWS,
        help=f"Up to {MOST_ROWS}.",
    )


def _rows(whole: Spot) -> list[dict[str, Any]]:
    design = document(whole)
    assert isinstance(design, Design)
    return [item.model_dump() for item in design.suspension]


def _commit(whole: Spot, rows: list[dict[str, Any]], what: str) -> None:
    session.commit(with_document(whole, placed(document(whole), {"suspension": rows})), what)


def _add(whole: Spot) -> None:
    first = role_ids(session.catalogue(), "hardware:suspension")[0]
    _commit(
        whole,
        [*_rows(whole), {"good": first, "amount": 1.0}],
        f"added {good_name(session.catalogue(), first)}",
    )


def _remove(whole: Spot, place: int) -> None:
    """Take a row out; what was typed and refused in the rows below moves up with them."""
    rows = _rows(whole)
    kept: list[Memory | None] = []
    for row in range(len(rows)):
        key = Spot(f"suspension.{row}.amount", letter=whole.letter).key
        kept.append(memories().pop(key, None))
        st.session_state.pop(key, None)
    for row, memory in enumerate(kept[:place] + kept[place + 1 :]):
        if memory is not None:
            memories()[Spot(f"suspension.{row}.amount", letter=whole.letter).key] = memory
    _commit(
        whole,
        rows[:place] + rows[place + 1 :],
        f"removed {good_name(session.catalogue(), rows[place]['good'])}",
    )
