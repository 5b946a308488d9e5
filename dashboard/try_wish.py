"""Reach a wish: one sentence with two blanks on Try many, and its answer in the same form."""

from html import escape
from math import isclose
from typing import Any

import streamlit as st

from dashboard import session
from dashboard.numbers_in import read_number, show_number, shown_unit
from dashboard.trade_points import AXES
from dashboard.try_draft import PATHS, hints, is_number, offered, own_value, title, value_name
from dashboard.try_limits import _rule
from dashboard.try_words import difference
from dashboard.words import SCORE
from engine.design import Design
from engine.evaluate import Evaluation
from engine.explore.target import in_steps, reach
from engine.explore.trial import Answer, limits_of
from engine.refusals import Refusal
from engine.score import SCORE_KEYS, ScoreKey

ANSWER = "tm_answer"
STEPS = {"mm": 1.0, "%": 1.0, "g": 1.0, "rad": 0.05, "": 1.0}
"""An answer is said in these: what a ruler or scale can follow, in the unit of the field."""
WISHED_FIRST: ScoreKey = "comfort_c"


def show_wish(start: Evaluation) -> Answer | None:
    """The sentence with its blanks, and the answer once it was asked for; the answer is given back."""
    state, now, catalogue = st.session_state, session.comparison(), session.catalogue()
    paths = [path for path in offered(start.design, catalogue, ()) if is_number(path) and path in PATHS]
    with st.container(horizontal=True, gap="small", vertical_alignment="bottom", key="lw-try-wish"):
        path = st.selectbox(
            "Change", paths, format_func=title, key="tm_wish_path", persist_state="session", width=230,
            index=paths.index("baffles.height_mm") if "baffles.height_mm" in paths else 0,
        )  # fmt: skip
        key: ScoreKey = st.selectbox(
            "until", SCORE_KEYS, format_func=lambda each: SCORE[each].title, key="tm_wish_key",
            persist_state="session", width=230, index=SCORE_KEYS.index(WISHED_FIRST),
        )  # fmt: skip
        kind, si = AXES[key]
        unit = (
            "L" if key == "volume_m3" else now.currency if key == "cost" else shown_unit(kind, now.units).name
        )
        first = now.night.air_c if key == "comfort_c" else getattr(start.score, key) / si
        typed = st.text_input(
            f"is, {unit}" if unit else "is",
            value=show_number(float(first), kind, now.units),
            key=f"tm_wish_{key}_{now.units}_{start.letter}",
            width=110,
            autocomplete="off",
        )
        asked = st.button("Find it", key="tm_wish_find")
    question = (start.design, now.night, catalogue, path, key, typed)
    if asked:
        state[ANSWER] = (question, _found(start, str(path), key, str(typed), kind, si))
    if ANSWER not in state or state[ANSWER][0] != question:
        return None
    answer = state[ANSWER][1]
    if isinstance(answer, str):
        st.html(f'<p class="lw-stop" role="alert">{escape(answer)}</p>')
        return None
    st.html(f'<p class="lw-verdict" role="status">{escape(answer_words(start, str(path), key, answer))}</p>')
    return answer if isinstance(answer, Answer) and worth_adding(answer) else None


def worth_adding(answer: Answer) -> bool:
    """It meets the wish, or comes nearest inside the field's range, and the choice does something."""
    return answer.met or not (at_the_end(answer) or answer.least == answer.most)


def at_the_end(answer: Answer) -> bool:
    """Its value is the least or the most that the field takes."""
    ((path, value),) = answer.values.items()
    low, high, _ = limits_of(path)
    return any(isclose(value, end, abs_tol=1e-9) for end in (low, high))


def _found(start: Evaluation, path: str, key: ScoreKey, typed: str, kind: str, si: float) -> Answer | str:
    now, catalogue = session.comparison(), session.catalogue()
    try:
        wished = read_number(typed, kind, now.units, _rule(key, SCORE[key].title)) * si
        with st.spinner("Looking for it"):
            answer = reach(start.design, now.night, catalogue, path, key, wished)
            step = STEPS.get(str(hints(path)["unit"]), 1.0)
            return in_steps(start.design, now.night, catalogue, answer, key, wished, step)
    except Refusal as refusal:
        return " ".join(refusal.messages)


def answer_words(start: Evaluation, path: str, key: ScoreKey, answer: Answer) -> str:
    """The answer in the form of the question, with what it costs in the other scores; or what is nearest."""
    now, catalogue = session.comparison(), session.catalogue()
    words = SCORE[key]

    def value(number: Any) -> str:
        return value_name(path, number, catalogue)

    (to,) = answer.values.values()
    what, own = title(path).lower(), own_value(start.design, path)
    score = words.value(answer.scores[key], now.units, now.currency)
    others = [
        difference(other, answer.scores[other] - float(getattr(start.score, other)), now.units, now.currency)
        for other in SCORE_KEYS
        if other != key
    ]
    others = [text for text in others if text != "the same"]
    price = f" Against {start.letter} it is then {', '.join(others)}." if others else ""
    is_ = "is " if key == "comfort_c" else ""
    if answer.met:
        change = f"Change the {what} from {value(own)} to {value(to)}"
        if value(own) == value(to):
            change = f"Leave the {what} at {value(to)}"
        return f"{change}, and {start.letter} {is_}{_is(key, score)}.{price}"
    low, high = (words.value(each, now.units, now.currency) for each in (answer.least, answer.most))
    if low == high:
        return f"The {what} does not change it: {start.letter} {is_}{_is(key, score)} at any."
    return (
        f"The {what} alone cannot reach that: over its whole range {start.letter} goes from {low} to {high}. "
        f"The nearest is {value(to)}, where it {is_}{_is(key, score)}.{price}"
        + (" That is as far as this box goes, so it is not offered for the line-up." * at_the_end(answer))
    )


def _is(key: ScoreKey, score: str) -> str:
    return {
        "weight_kg": f"weighs {score}",
        "volume_m3": f"packs to {score}",
        "comfort_c": f"comfortable down to {score}",
        "cost": f"costs {score}",
        "work_h": f"takes {score}",
    }[key]


def named(design: Design, path: str, words: str) -> Design:
    """The answer as a candidate of its own, named after what was changed."""
    ending = f", {title(path).lower()} {words}"
    return design.model_copy(update={"name": design.name[: 60 - len(ending)].rstrip() + ending, "note": ""})
