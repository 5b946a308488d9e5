"""The drawings of Close-up, for one candidate or for two beside each other at one scale.

Pictures and figures are kept by the evaluation that they show: an edit draws anew only what it changed.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from typing import Any

import plotly.graph_objects as go
import streamlit as st

from dashboard.close_up_figures import PLAN_PX, PlanScale, plan_figure, plan_scale
from dashboard.close_up_parts import heat_html, largest_path
from dashboard.figure_frame import WIDTH_PX
from dashboard.palette import MARKS, Scheme
from dashboard.picture_why import why_drift, why_plan, why_section, why_sure
from dashboard.picture_words import (
    drift_sentence,
    fullness_sentence,
    key_html,
    loft_sentence,
    plan_alternative,
    section_alternative,
    section_sentence,
    spots_html,
)
from dashboard.section_figures import SECTION_PX, SectionScale, section_figure, section_scale
from dashboard.sureness import sure_html, sure_sentence
from dashboard.words import Units
from engine.evaluate import Evaluation, LineUp
from engine.picture.cold_spots import ColdSpot, cold_spots
from engine.picture.drift import drift_of
from engine.picture.plan import ThicknessPlan, thickness_plan
from engine.picture.section import Section, section_of

AGAINST = "close_up_against"
NOBODY = "none"
KEPT = 48
COLUMN_PX = WIDTH_PX + 2
STILL = {"displayModeBar": False, "scrollZoom": False, "staticPlot": True}
# Room is kept for a drawing before it is there: what is being edited must not jump.
STYLE = (
    f"""<style>
[class*="st-key-close-up-plan-"]{{min-height:{PLAN_PX}px}}
[class*="st-key-close-up-section-"]{{min-height:{SECTION_PX}px}}
</style>"""
    + """<style>
ul.lw-key-list{list-style:none;margin:.2rem 0;padding:0;display:flex;flex-wrap:wrap;gap:.1rem .9rem}
ul.lw-key-list li{margin:0;white-space:nowrap;font-size:13px}
.lw-swatch{display:inline-block;width:14px;height:14px;margin-right:.35em;vertical-align:-2px;
border:1px solid var(--lw-border)}
table.lw-spots{font-size:14px} table.lw-spots :is(th,td){padding:.2rem .5rem .2rem 0}
table.lw-sure{width:100%} table.lw-sure .lw-strip{width:100%;min-width:90px}
table.lw-sure .lw-strip-cell{width:34%}
@media (max-width:640px){table.lw-sure{font-size:14px} table.lw-sure .lw-strip{min-width:60px}
table.lw-sure :is(th,td){padding:.3rem .35rem .3rem 0}}
</style>"""
)


class _Kept:
    """An evaluation as a key: the engine remembers it, so the same object is the same quilt."""

    def __init__(self, e: Evaluation) -> None:
        self.e = e

    def __hash__(self) -> int:
        return id(self.e)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and other.e is self.e


@dataclass(frozen=True)
class Pictures:
    """What is drawn of one quilt."""

    plan: ThicknessPlan
    spots: tuple[ColdSpot, ...]
    section: Section | None


@lru_cache(maxsize=KEPT)
def _pictures(kept: _Kept) -> Pictures:
    e = kept.e
    plan = thickness_plan(e.design, e.score.loft)
    return Pictures(plan, cold_spots(plan), section_of(e.quantities, e.score.loft))


@lru_cache(maxsize=KEPT)
def _plan_figure(kept: _Kept, scale: PlanScale, units: Units, scheme: Scheme) -> go.Figure:
    pictures = _pictures(kept)
    return plan_figure(pictures.plan, pictures.spots, scale, units, scheme)


@lru_cache(maxsize=KEPT)
def _section_figure(kept: _Kept, scale: SectionScale, units: Units, scheme: Scheme) -> go.Figure:
    section, above = _pictures(kept).section, kept.e.design.kind == "underquilt"
    if section is None:
        raise ValueError("section is None; a figure needs one")
    return section_figure(section, scale, units, above, scheme)


def compare_control(letters: Sequence[str], letter: str) -> None:
    """Pick what stands beside the candidate: a view, so it makes no step in the history."""
    options = [NOBODY, *(each for each in letters if each != letter)]
    if len(options) == 1:
        return
    if st.session_state.get(AGAINST) not in options:
        st.session_state[AGAINST] = NOBODY
    st.segmented_control(
        "Compare with",
        options,
        required=True,
        key=AGAINST,
        persist_state="session",
        format_func=lambda each: each if each == NOBODY else f"{MARKS[each].sign} {each}",
    )


def shown_of(line_up: LineUp, letter: str) -> list[Evaluation]:
    """The candidate, and the one beside it if there is one."""
    other = st.session_state.get(AGAINST, NOBODY)
    found = [e for e in line_up.evaluations if e.letter == other and e.letter != letter]
    return [line_up[letter], *found]


def _scheme() -> Scheme:
    return "dark" if st.context.theme.type == "dark" else "light"


def _sentences(texts: Sequence[str]) -> None:
    st.html("".join(f"<p>{escape(text)}</p>" for text in texts))


def beside(shown: Sequence[Evaluation], draw: Callable[[Evaluation], None]) -> None:
    """One drawing as wide as there is room, two beside each other; on a phone below each other."""
    if len(shown) == 1:
        draw(shown[0])
        return
    with st.grid(2, min_column_width=COLUMN_PX, gap="small"):
        for e in shown:
            with st.container():
                st.html(f'<h3 class="lw-candidate-head">{MARKS[e.letter].sign} {e.letter}</h3>')
                draw(e)


def _chart(figure: go.Figure, key: str, alt: str) -> None:
    config: dict[str, Any] = dict(STILL)
    st.plotly_chart(figure, key=key, theme=None, width="content", config=config, alt=alt)


def show_loft(shown: Sequence[Evaluation], units: Units) -> None:
    """The loft map of each with its cold spots."""
    st.header("Loft", anchor=False)
    pictures = {e.letter: _pictures(_Kept(e)) for e in shown}
    scale = plan_scale([each.plan for each in pictures.values()], units)
    _sentences([loft_sentence(e.letter, p.plan, p.spots, units) for e, p in _pairs(shown, pictures)])

    def draw(e: Evaluation) -> None:
        p = pictures[e.letter]
        alone = len(shown) == 1
        with st.grid(2, min_column_width=COLUMN_PX, gap="small") if alone else st.container():
            alt = plan_alternative(e.letter, p.plan, p.spots, units)
            _chart(_plan_figure(_Kept(e), scale, units, _scheme()), f"close-up-plan-{e.letter}", alt)
            key = key_html(scale, units) if alone else ""
            st.html(spots_html(e.letter, p.spots, units) + key)
        st.html(why_plan(e, p.plan, units))

    if len(shown) > 1:
        st.html(key_html(scale, units))
    beside(shown, draw)


def _pairs(shown: Sequence[Evaluation], pictures: dict[str, Pictures]) -> list[tuple[Evaluation, Pictures]]:
    return [(e, pictures[e.letter]) for e in shown]


def show_section(shown: Sequence[Evaluation], units: Units) -> None:
    """One chamber of each cut across, with lines of even temperature."""
    st.header("Section", anchor=False)
    cut = {e.letter: section for e in shown if (section := _pictures(_Kept(e)).section) is not None}
    if not cut:
        _sentences(["The air is as warm as the skin: no heat crosses, so there is nothing to draw."])
        return
    scale = section_scale(list(cut.values()), units)
    _sentences([section_sentence(letter, section, units) for letter, section in cut.items()])

    def draw(e: Evaluation) -> None:
        section = cut[e.letter]
        alt = section_alternative(e.letter, section, scale.levels_c, units)
        _chart(_section_figure(_Kept(e), scale, units, _scheme()), f"close-up-section-{e.letter}", alt)
        st.html(why_section(e, section, units))

    beside([e for e in shown if e.letter in cut], draw)


def show_heat(shown: Sequence[Evaluation], units: Units) -> None:
    """Where the heat of each goes, bars on one scale."""
    st.header("Where the heat goes", anchor=False)
    most = max(largest_path(e) for e in shown)
    beside(shown, lambda e: st.html(heat_html(e, units, most)))


def show_drift(shown: Sequence[Evaluation], units: Units) -> None:
    """How hard it is for the fill of each to wander."""
    st.header("Will the fill wander?", anchor=False)
    for e in shown:
        index = drift_of(e.design, e.score.loft)
        told = f"{drift_sentence(e.letter, index)} {fullness_sentence(e.derived.overstuff_percent)}"
        st.html(f"<p>{escape(told.strip())}</p>{why_drift(e, index, units)}")


def show_sureness(line_up: LineUp, shown: Sequence[Evaluation], units: Units) -> None:
    """The bands of all scores."""
    st.header("How sure is this?", anchor=False)
    _sentences([sure_sentence(e, units) for e in shown])
    st.html(
        '<div class="lw-scroll" tabindex="0" role="region" aria-label="Scores with their bands">'
        f"{sure_html(line_up, shown)}</div>{why_sure(shown[0], units)}"
    )
