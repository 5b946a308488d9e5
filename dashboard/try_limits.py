"""What must a quilt keep to on Try many? Boxes for the highest scores, ticks for what is checked."""

from html import escape
from typing import Any

import streamlit as st
from pydantic import Field
from pydantic.fields import FieldInfo

from dashboard import session
from dashboard.numbers_in import read_number_or_none, show_number, shown_unit
from dashboard.trade_points import AXES
from dashboard.words import SCORE
from engine.explore.front import Limits
from engine.night import Night
from engine.refusals import Refusal
from engine.score import SCORE_KEYS, ScoreKey
from engine.units import GRAM

LIMITS, FAULTS = "tm_limits", "tm_limit_faults"
RANGES: dict[ScoreKey, tuple[float, float]] = {
    "weight_kg": (10, 20_000),
    "volume_m3": (0.1, 200),
    "comfort_c": (-60, 40),
    "cost": (1, 100_000),
    "work_h": (0.5, 1000),
}
"""Of each box, in its metric unit."""
TICKS = {
    "covers": "Covers the sleeper",
    "unstopped": "No Stop warning",
    "in_range": "Chambers no steeper than the model serves",
}


def limits() -> Limits:
    """The limits as they stand: those of the night until somebody says otherwise."""
    night: Night = session.comparison().night
    state = st.session_state
    known = (night.weight_budget_g, night.cost_budget, night.air_c)
    if LIMITS not in state or state.get("tm_night") != known:
        state.tm_night = known
        grams, purse, air_c = known
        state[LIMITS] = Limits(weight_kg=None if grams is None else grams * GRAM, cost=purse, comfort_c=air_c)
        state[FAULTS] = {}
        state.tm_limits_round = state.get("tm_limits_round", 0) + 1
    found: Limits = state[LIMITS]
    return found


def use(key: str, value: float) -> None:
    """Loosen one limit, from a button."""
    state = st.session_state
    state[LIMITS] = state[LIMITS].model_copy(update={key: value})
    state[FAULTS].pop(key, None)
    state.tm_limits_round += 1


def drop(key: str) -> None:
    """Do without one demand, from a button."""
    state = st.session_state
    state[LIMITS] = state[LIMITS].model_copy(update={key: () if key == "goods" else False})
    state.tm_limits_round += 1


def show_limits() -> None:
    """One row of boxes, one of ticks."""
    now = limits()
    with st.container(horizontal=True, gap="small", vertical_alignment="bottom", key="lw-try-limits"):
        for key in SCORE_KEYS:
            _box(key, getattr(now, key))
    with st.container(horizontal=True, gap="medium"):
        for name, label in TICKS.items():
            _tick(name, label, getattr(now, name))
    for _, told in st.session_state[FAULTS].values():
        st.html(f'<p class="lw-stop lw-small" role="alert">{escape(told)}</p>')


def _rule(key: ScoreKey, label: str) -> FieldInfo:
    low, high = RANGES[key]
    rule: Any = Field(ge=low, le=high, title=label)
    assert isinstance(rule, FieldInfo)
    return rule


def _box(key: ScoreKey, value: float | None) -> None:
    state, now = st.session_state, session.comparison()
    kind, si = AXES[key]
    unit = "L" if key == "volume_m3" else now.currency if key == "cost" else shown_unit(kind, now.units).name
    title = SCORE[key].title if key == "comfort_c" else f"{SCORE[key].title} at most"
    label = f"{title}, {unit}" if unit else title
    shown = "" if value is None else show_number(value / si, kind, now.units)
    box = f"tm-limit-{key}-{now.units}-{state.tm_limits_round}"

    def change() -> None:
        typed = str(state[box] or "")
        if typed.strip() == shown:
            state[FAULTS].pop(key, None)
            return
        try:
            read = read_number_or_none(typed, kind, now.units, _rule(key, title))
        except Refusal as refusal:
            state[FAULTS][key] = (typed, " ".join(refusal.messages))
            return
        state[FAULTS].pop(key, None)
        state[LIMITS] = state[LIMITS].model_copy(update={key: None if read is None else read * si})

    given = state[FAULTS][key][0] if key in state[FAULTS] else shown
    st.text_input(
        label, value=given, key=box, on_change=change, width=190, placeholder="any", autocomplete="off"
    )


def _tick(name: str, label: str, value: bool) -> None:
    state = st.session_state
    key = f"tm-limit-{name}-{state.tm_limits_round}"

    def change() -> None:
        state[LIMITS] = state[LIMITS].model_copy(update={name: bool(state[key])})

    st.checkbox(label, value=value, key=key, on_change=change)
