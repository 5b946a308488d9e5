"""On which night are the candidates judged? Every field of the night, and three to start from."""

from collections.abc import Mapping

import streamlit as st

from dashboard import dialogs, session
from dashboard.field_rules import NIGHT_GROUPS
from dashboard.fields import field, not_taken
from dashboard.safe_text import md_escape
from engine.night import Night
from engine.samples import nights

FIRST_LINE = "All candidates are judged on this night."
WHAT_MEASURES_DO = (
    "Your measures decide what fits and how much of you is covered; the two temperatures are for the "
    "standard woman and man, covered as far as you would be."
)
HOW_ON = "Type it again, or close this with the cross and keep what is in use."
PRESETS = 3
OF_THE_SEASON = (
    "air_c",
    "wind",
    "wind_m_s",
    "humidity_percent",
    "hours",
    "clothing_r_m2k_w",
    "head_r_m2k_w",
)
"""What a night to start from sets; the sleeper, the budgets and the other half stay as they are."""


def open_night() -> None:
    """Open the dialog; call it in the run in which its button was pressed."""
    _dialog()


# The page behind is drawn again when the dialog goes; what was edited is in place by then.
@st.dialog("Change the night", width="medium", on_dismiss="rerun")
def _dialog() -> None:
    dialogs.open_body()
    st.markdown(FIRST_LINE)
    _presets(dict(list(nights().items())[:PRESETS]))
    for group, paths in NIGHT_GROUPS.items():
        st.markdown(f"**{group}**")
        if group == "The sleeper":
            dialogs.small(WHAT_MEASURES_DO)
        with st.grid(3, min_column_width=190):
            for path in paths:
                field(path, target="night")
    said = st.container()  # over the button: below it, it would be out of sight
    if st.button("Done", key="night-done"):
        waiting = [not_taken(path, target="night") for paths in NIGHT_GROUPS.values() for path in paths]
        if not any(waiting):
            st.rerun()
        with said:
            dialogs.say([*filter(None, waiting), HOW_ON])


def _presets(presets: Mapping[str, Night]) -> None:
    with st.container(horizontal=True, gap="small"):
        for place, (name, night) in enumerate(presets.items()):
            st.button(
                md_escape(name),
                key=f"night-preset-{place}",
                on_click=_start_from,
                args=(name, night),
                help="Sets air, wind, damp, hours and clothing; sleeper and budgets stay.",
            )


def _start_from(name: str, preset: Night) -> None:
    now = session.comparison()
    night = now.night.model_copy(update={part: getattr(preset, part) for part in OF_THE_SEASON})
    session.commit(now.model_copy(update={"night": night}), f"the night: {name}")
