"""Do somebody's own body measures travel in a link, and what is said where they were left out?"""

import streamlit as st

from dashboard.dialogs import small
from engine.comparison import Comparison
from engine.night import Sleeper, SleeperKind
from engine.quantities import sleeper_size

STANDARD: tuple[SleeperKind, ...] = ("standard woman", "standard man")
HOLDS = "{} holds your height, mass and girth."
HOLDS_UNUSED = "{} holds the height, mass and girth that you typed, though no verdict rests on them."
HOLDS_NONE = "{} holds none of your body measures."
LEAVE_OUT = "Leave my measures out (a standard sleeper stands in; fit and verdicts can differ)"
LEAVE_OUT_UNUSED = "Leave my measures out (fit and verdicts stay the same)"


def has_measures(comparison: Comparison) -> bool:
    """Whether somebody's own height, mass or girth is in there, in use or not."""
    sleeper = comparison.night.sleeper
    return sleeper.kind == "own" or sleeper != Sleeper(kind=sleeper.kind)


def to_send(now: Comparison, key: str, what: str = "This link") -> Comparison:
    """Say that the link holds the measures, offer to leave them out, and give what is sent: as it is open."""
    if not has_measures(now):
        return now
    in_use = now.night.sleeper.kind == "own"
    held = HOLDS_NONE if st.session_state.get(key) else HOLDS if in_use else HOLDS_UNUSED
    small(held.format(what))
    left_out = st.checkbox(LEAVE_OUT if in_use else LEAVE_OUT_UNUSED, key=key)
    return without_measures(now) if left_out else now


def nearest_standard(sleeper: Sleeper) -> SleeperKind:
    """The standard sleeper from whom height and girth together differ least."""

    def apart(kind: SleeperKind) -> float:
        pairs = zip(sleeper_size(sleeper), sleeper_size(Sleeper(kind=kind)), strict=True)
        return sum(abs(own - standard) for own, standard in pairs)

    return min(STANDARD, key=apart)


def without_measures(comparison: Comparison) -> Comparison:
    """The comparison without body measures, not even those that are typed but not in use.

    Where they were in use it says of itself that somebody stands in.
    """
    sleeper = comparison.night.sleeper
    in_use = sleeper.kind == "own"
    kind = nearest_standard(sleeper) if in_use else sleeper.kind
    night = comparison.night.model_copy(update={"sleeper": Sleeper(kind=kind)})
    left_out = in_use or comparison.measures_left_out
    return comparison.model_copy(update={"night": night, "measures_left_out": left_out})


def stands_in(comparison: Comparison) -> SleeperKind | None:
    """Who sleeps there in place of own measures that were left out; nobody where none were."""
    kind = comparison.night.sleeper.kind
    return kind if comparison.measures_left_out and kind != "own" else None


def left_out_line(comparison: Comparison) -> str:
    """One sentence for everybody who gets it; empty where no measures were left out."""
    kind = stands_in(comparison)
    if kind is None:
        return ""
    return f"Own measures were left out: a {kind} stands in, so fit and verdicts can differ."
