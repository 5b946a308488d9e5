"""What the dialog that adds a candidate offers, and what becomes of a file."""

import re

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.add_dialog import BLANKS, sample_line, scored_samples
from engine.catalogue.load import load_catalogue
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design, Shells
from engine.evaluate import evaluate
from engine.export.files import comparison_to_json, design_to_json
from engine.export.link import encode_link
from engine.night import Night
from engine.samples import first_visit, samples


def opened(comparison: Comparison | None = None) -> AppTest:
    """The dialog over this comparison, or over the samples of a first visit."""

    def page() -> None:
        import streamlit as st

        from dashboard import add_dialog, session

        session.start()
        if st.button("Open"):
            add_dialog.open_add()
            st.session_state.opened = True
        elif "opened" in st.session_state:  # a browser runs the open dialog alone, this test the whole page
            add_dialog._add()

    at = AppTest.from_function(page, default_timeout=30)
    if comparison is not None:
        at.query_params["d"] = encode_link(comparison)
    at.run()
    at.button[0].click().run()
    assert not at.exception
    return at


def full() -> Comparison:
    return Comparison(candidates=tuple(Candidate(letter=letter, design=Design()) for letter in LETTERS))


def words(at: AppTest) -> str:
    return " ".join(re.sub("<[^>]*>", " ", block.value) for block in at.get("html"))


def open_now(at: AppTest) -> Comparison:
    return at.session_state["comparison"]


def upload(at: AppTest, content: bytes, name: str = "quilt.json") -> AppTest:
    at.get("file_uploader")[0].upload(name, content, "application/json").run()
    assert not at.exception
    return at


def test_every_sample_is_offered_under_the_night_it_is_meant_for():
    told = words(opened())
    at = -1
    for night in dict.fromkeys(sample.night_name for sample in samples()):
        after = told.index(night)
        assert after > at
        at = after
    offered = [button.key for button in opened().button if button.key]
    assert [key for key in offered if not key.startswith("lw-add-blank")] == [
        f"lw-add-{s.id}" for s in samples()
    ]


def test_a_sample_is_added_under_the_first_free_letter():
    without_b = Comparison(candidates=tuple(c for c in first_visit().candidates if c.letter != "B"))
    at = opened(without_b)
    sample = samples()[-1]
    at.button(key=f"lw-add-{sample.id}").click().run()
    assert open_now(at).candidates[-1] == Candidate(letter="B", design=sample.design)
    assert open_now(at).candidates[:-1] == without_b.candidates


def test_one_that_is_there_already_is_marked_and_may_be_added_again():
    told = words(opened())
    assert told.count("In the line-up already, as ") == len(first_visit().candidates)
    at = opened()
    at.button(key=f"lw-add-{samples()[0].id}").click().run()
    assert open_now(at).candidates[-1] == Candidate(letter="E", design=samples()[0].design)


def test_samples_are_scored_on_the_night_that_is_open():
    warm = Comparison(night=Night(air_c=10, wind="open"))
    for sample, evaluation in scored_samples(warm):
        assert (evaluation.design, evaluation.night) == (sample.design, warm.night)
    assert [sample for sample, _ in scored_samples(warm)] == list(samples())


def test_the_line_of_a_sample_has_kind_weight_and_comfort_each_with_its_band():
    _, evaluation = scored_samples(first_visit())[0]
    line = sample_line(evaluation, "metric", ["A"]).replace("\u00a0", " ")
    assert re.fullmatch(
        r"Underquilt, \d+ g \(9 in 10: \d+ to \d+ g\), comfortable down to −?\d+ °C "
        r"\(9 in 10: −?\d+ to −?\d+ °C\)\. In the line-up already, as A\.",
        line,
    )


@pytest.mark.parametrize("label", BLANKS)
def test_a_blank_quilt_carries_no_stop_and_fits_the_standard_woman(label):
    evaluation = evaluate(BLANKS[label], Night(), load_catalogue())
    assert [c for c in evaluation.cautions if c.grade == "stop"] == []
    assert evaluation.fit.fits
    assert evaluation.design.kind in label


def test_six_are_the_most_and_every_button_is_off_then():
    at = opened(full())
    assert "Six is the most that can be compared at once." in words(at)
    assert all(button.disabled for button in at.button if (button.key or "").startswith("lw-add"))


def test_a_design_from_a_file_is_added():
    at = upload(opened(), design_to_json(Design(name="From afar")).encode())
    assert open_now(at).candidates[-1] == Candidate(letter="E", design=Design(name="From afar"))


def test_a_line_up_from_a_file_takes_the_place_of_this_one():
    at = upload(opened(), comparison_to_json(full()).encode())
    assert open_now(at) == full()


def test_a_design_is_refused_in_words_when_there_is_no_room():
    at = upload(opened(full()), design_to_json(Design()).encode())
    assert "Not taken." in words(at)
    assert words(at).count("Six is the most that can be compared at once.") == 2
    assert open_now(at) == full()


@pytest.mark.parametrize(
    "content, told",
    [
        (b"", "quilt.json was not opened; what was open stays."),
        (b"not json", "quilt.json was not opened; what was open stays."),
        (b"\xff\xfe\x00", "The file is not text in UTF-8"),
        (b" " * 1_000_001, "The file is 1.0 MB; allowed: up to 1 MB."),
        (b'{"loftwright": "design", "version": 2, "design": {}}', "made by a newer version"),
        (
            design_to_json(Design()).replace('"height_mm": 50.0', '"height_mm": 900').encode(),
            "Baffle height (baffles.height_mm) is 900; allowed: 5 to 300 mm.",
        ),
        (
            design_to_json(Design()).replace('"height_mm": 50.0', '"height_mm": "<b>high</b>"').encode(),
            "&lt;b&gt;high&lt;/b&gt;",
        ),
        (design_to_json(Design(shells=Shells(inner="silk"))).encode(), "Inner shell"),
        (
            design_to_json(Design(shells=Shells(inner="mesh-24"))).encode(),
            "shells.inner) is mesh-24; allowed: film-11",
        ),
        (
            design_to_json(Design()).replace('"height_mm": 50.0,', "").encode(),
            "baffles.height_mm is missing; it is needed: 5 to 300 mm.",
        ),
    ],
)
def test_a_file_that_cannot_be_taken_is_refused_in_words_and_nothing_is_lost(content, told):
    at = upload(opened(), content)
    assert told in words(at)
    assert open_now(at) == first_visit()
    assert "Traceback" not in words(at)
