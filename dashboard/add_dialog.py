"""Which quilt shall come into the line-up next: a sample, a blank one, or one from a file?"""

from itertools import groupby

import streamlit as st

from dashboard import dialogs, file_box, session
from dashboard.safe_text import md_escape
from dashboard.words import NBSP, SCORE, Units
from engine.catalogue.load import load_catalogue
from engine.comparison import LETTERS, MOST_CANDIDATES, Candidate, Comparison
from engine.design import Cut, Design, Ends, Joints, Outline, SuspensionItem
from engine.evaluate import Evaluation, evaluate_all
from engine.samples import Sample, samples

BLANKS = {
    "Add a blank underquilt": Design(
        name="New underquilt",
        suspension=(
            SuspensionItem(good="cord-3", amount=5),
            SuspensionItem(good="cord-2.5", amount=2.4),
            SuspensionItem(good="hook", amount=4),
            SuspensionItem(good="cord-lock", amount=4),
        ),
    ),
    "Add a blank top quilt": Design(
        kind="top quilt",
        name="New top quilt",
        outline=Outline(shape="taper", length_mm=1850, width_mm=1300, foot_width_mm=970, taper_from_mm=900),
        ends=Ends(shape="plain"),
        cut=Cut(wrap_across_rad=0.8),
        joints=Joints(ends="sewn-double"),
        tabs=0,
    ),
}
"""Usual sizes (common practice, no source); all else is as in any new design."""


def open_add() -> None:
    """Show the dialog that adds a candidate; call it once, in the run after the click."""
    dialogs.begin()
    _add()


@st.dialog("Add a candidate", width="medium", on_dismiss="rerun")
def _add() -> None:
    dialogs.open_body()
    now = session.comparison()
    full = len(now.candidates) >= MOST_CANDIDATES
    if full:
        dialogs.say([file_box.FULL], "note", "The line-up is full.")
    dialogs.heading("Blank, or from a file")
    with st.container(horizontal=True):
        for label, design in BLANKS.items():
            _button(label, f"lw-add-blank-{design.kind.replace(' ', '-')}", design, full)
    file_box.show_file_box("Open a file: a design is added, a line-up takes the place of this one")
    dialogs.heading("Samples")
    dialogs.small("Figures are for the night that is open now.")
    for night_name, group in groupby(scored_samples(now), key=lambda pair: pair[0].night_name):
        dialogs.lower_heading(night_name)
        for sample, evaluation in group:
            there = [c.letter for c in now.candidates if c.design == sample.design]
            _offer(sample, full, sample_line(evaluation, now.units, there))


def _offer(sample: Sample, full: bool, line: str) -> None:
    with st.container(gap="xxsmall"):
        _button(f"Add {md_escape(sample.design.name)}", f"lw-add-{sample.id}", sample.design, full)
        dialogs.small(line)


def _button(label: str, key: str, design: Design, full: bool) -> None:
    st.button(label, key=key, on_click=file_box.add_design, args=(design,), disabled=full)


def scored_samples(now: Comparison) -> list[tuple[Sample, Evaluation]]:
    """Every sample with its scores on the night that is open, with the maker's own goods."""
    found: list[tuple[Sample, Evaluation]] = []
    every = samples()
    for first in range(0, len(every), MOST_CANDIDATES):
        some = every[first : first + MOST_CANDIDATES]
        pairs = zip(LETTERS, some, strict=False)
        candidates = tuple(Candidate(letter=letter, design=sample.design) for letter, sample in pairs)
        offered = Comparison(night=now.night, candidates=candidates, own_goods=now.own_goods)
        found += zip(some, evaluate_all(offered, load_catalogue()).evaluations, strict=True)
    return found


def sample_line(evaluation: Evaluation, units: Units, there: list[str]) -> str:
    """Kind, weight and comfort of a sample, each estimate with its band."""
    told = []
    for key, text in (("weight_kg", "{}"), ("comfort_c", "comfortable down to {}")):
        words, band = SCORE[key], evaluation.bands[key]
        value = words.value(float(getattr(evaluation.score, key)), units)
        told.append(f"{text.format(value)} (9{NBSP}in{NBSP}10: {words.band(band.low, band.high, units)})")
    line = f"{evaluation.design.kind.capitalize()}, {', '.join(told)}."
    return f"{line} In the line-up already, as {' and '.join(there)}." if there else line
