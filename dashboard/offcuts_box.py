"""Which rests of cloth are at hand? One line of text a cloth; kept while the app is open, not in the link."""

import re
from collections.abc import Sequence
from html import escape

import streamlit as st
from pydantic import Field
from pydantic.fields import FieldInfo

from dashboard.bench_job import Offcuts
from dashboard.numbers_in import read_number
from dashboard.words import SCALES, Units
from engine.bench.lay import Offcut, Roll
from engine.refusals import Refusal, shown
from engine.units import MM

KEPT = "make_offcuts"
TITLE = "Offcuts at hand"
ABOUT = (
    "Width across the grain × length along it, without selvedge, a semicolon between two pieces. They are "
    "cut up first, the largest first. Kept while the app is open; a link does not hold them."
)
MOST = 12
"""Of one cloth; more is a heap to be sorted, not a lay to be read."""
WIDTH: FieldInfo = Field(gt=0, le=5000, title="Width")
LENGTH: FieldInfo = Field(gt=0, le=50000, title="Length")


def offcuts_box(rolls: Sequence[Roll], units: Units) -> Offcuts:
    """A line for each cloth; what cannot be read is said under it and left as it was typed."""
    kept: dict[str, str] = st.session_state.setdefault(KEPT, {})
    found = []
    with st.expander(TITLE):
        unit = SCALES["bench length"][units == "trade"].unit
        example = "400 × 1200; 300 × 900" if units == "metric" else "16 × 48; 12 × 36"
        st.html(f'<p class="lw-small lw-quiet">{escape(ABOUT)} In {unit}: {example}.</p>')
        for roll in rolls:
            text = st.text_input(roll.name, value=kept.get(roll.goods, ""), key=f"make_offcut_{roll.goods}")
            kept[roll.goods] = text
            try:
                pieces = read_offcuts(text, units)
            except Refusal as refusal:
                st.html(f'<p class="lw-mind" role="alert">{escape(" ".join(refusal.messages))}</p>')
            else:
                if pieces:
                    found.append((roll.goods, pieces))
    return tuple(found)


def read_offcuts(text: str, units: Units) -> tuple[Offcut, ...]:
    """The pieces in a line such as 400 × 1200; 300 × 900.

    Raises Refusal naming the piece, what was typed and what is allowed.
    """
    parts = [part.strip() for part in text.split(";") if part.strip()]
    if len(parts) > MOST:
        raise Refusal([f"These are {len(parts)} offcuts; allowed: {MOST} of one cloth."])
    return tuple(_offcut(part, units) for part in parts)


def _offcut(text: str, units: Units) -> Offcut:
    sides = re.split(r"\s*[x×*]\s*", text, flags=re.IGNORECASE)
    if len(sides) != 2:
        raise Refusal([f"An offcut is {shown(text)}; write its width × its length, as 400 × 1200."])
    width = read_number(sides[0], "mm", units, WIDTH)
    length = read_number(sides[1], "mm", units, LENGTH)
    return Offcut(width * MM, length * MM)
