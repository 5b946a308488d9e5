"""Why should I believe these numbers?"""

from html import escape

import streamlit as st

from dashboard import session
from dashboard.method_table import STYLE, list_html, model_html, notes_html, topic_html, verdict
from dashboard.method_text import DISAGREE, MODELS, UNKNOWN
from engine.checks.topics import DAMP, HEAT, SLEEPER, TOPICS, TRADE

QUESTION = "Why should I believe these numbers?"
ANSWER = (
    "Believe them as far as their band: each comes from a model whose source and limits stand here, whose "
    "parts are held against what others have published."
)
ESTIMATE = (
    "A temperature is an estimate and never a promise: people differ by more than the band. Try a new quilt "
    "where you can go indoors."
)
HEADED = (
    "Computed as you open this page, by the functions that the program's own tests use. Open a table to see "
    "each number beside ours."
)
GROUPS = (("Heat", HEAT), ("The sleeper", SLEEPER), ("Damp", DAMP), ("The trade", TRADE))


def show() -> None:
    """The page: what is written stands at once, the tables follow as they are computed."""
    st.title(QUESTION, anchor=False)
    if session.notice():
        st.html(f'<p class="lw-mind" role="alert">{escape(session.notice())}</p>')
    st.html(f'{STYLE}<p class="lw-verdict">{ANSWER}</p><p class="lw-small lw-quiet">{ESTIMATE}</p>')
    st.header("What is computed, and how", anchor=False)
    st.html("".join(model_html(model) for model in MODELS))
    st.header("Where sources disagree", anchor=False)
    st.html(notes_html(DISAGREE))
    st.header("Held against the outside", anchor=False)
    whole = st.empty()
    whole.html(f'<div class="lw-method"><p>{HEADED}</p></div>')
    for name, topics in GROUPS:
        st.subheader(name, anchor=False)
        st.html("".join(topic_html(topic) for topic in topics))
    told = f"<strong>{escape(verdict(TOPICS))}</strong> {HEADED}"
    whole.html(f'<div class="lw-method"><p>{told}</p></div>')
    st.header("What we do not know", anchor=False)
    st.html(list_html(UNKNOWN))


if __name__ == "__main__":
    show()
