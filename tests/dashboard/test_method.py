"""Does the Method page say what it must, and are its numbers those that the tests hold?"""

import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.close_up_why import why
from dashboard.method_table import counted, decimals, topic_html, verdict
from dashboard.method_text import DISAGREE, MODELS, UNKNOWN
from dashboard.views.method import GROUPS, QUESTION
from engine.checks.rows import Row, Topic
from engine.checks.topics import TOPICS

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
ROW = Row("Sample", "point A", "°C", 7.1, 7.0645, 0.1, "a standard")


def opened() -> AppTest:
    app = AppTest.from_file(str(APP), default_timeout=60).run()
    return app.switch_page("views/method.py").run()


def text(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def sample(*rows: Row) -> Topic:
    return Topic("Sample", "It shows.", "One decimal is printed.", lambda: rows)


def test_the_page_asks_its_question_and_shows_every_table_as_counted():
    app = opened()
    assert not app.exception
    assert [title.value for title in app.title] == [QUESTION]
    page = text("".join(element.proto.body for element in app.get("html")))
    for topic in TOPICS:
        assert f"{topic.title} : {len(topic.rows)} of {len(topic.rows)} inside" in page
    rows = sum(len(topic.rows) for topic in TOPICS)
    assert f"All {rows} numbers in {len(TOPICS)} tables from outside lie inside what is allowed." in page


def test_every_table_stands_under_one_head():
    assert [topic for _, topics in GROUPS for topic in topics] == list(TOPICS)


def test_a_row_says_published_ours_allowed_and_inside_with_units():
    told = text(topic_html(sample(ROW)))
    assert "Sample : 1 of 1 inside" in told
    # 7.0645 to two decimals, as what is allowed has one.
    assert re.search(r"point A +7\.1 °C +7\.06 °C +± 0\.1 °C +inside", told)
    assert "Source: a standard." in told and "One decimal is printed." in told


@pytest.mark.parametrize(
    "ours, said", [(7.3, "7.30 °C"), (float("nan"), "no number"), (float("inf"), "no number")]
)
def test_a_row_outside_is_said_to_be_so_and_counted(ours, said):
    topic = sample(ROW, replace(ROW, ours=ours))
    told = text(topic_html(topic))
    assert "Sample : 1 of 2 inside, 1 outside" in told and f"{said} ± 0.1 °C outside" in told
    assert verdict([topic]).startswith("Of 2 numbers in 1 table from outside 1 lie inside")
    assert counted(topic.rows) == "1 of 2 inside, 1 outside"


@pytest.mark.parametrize(
    "allowed, places", [(5.5, 1), (0.1, 2), (0.02, 3), (1.1e-3, 4), (5e-8, 9), (12.0, 0)]
)
def test_as_many_places_are_shown_as_tell_inside_from_outside(allowed, places):
    # Two digits of what is allowed: 5.5, 0.10, 0.020, 0.0011, 0.000000050, 12.
    assert decimals(allowed) == places


def test_every_why_this_number_ends_with_a_way_to_the_page():
    html = why("weight", "Sum.", [("part", "1 g")], "definition", "nothing")
    assert re.search(r'<a href="method" target="_blank">[^<]*Method', html)


def test_text_from_a_table_cannot_run():
    hostile = replace(ROW, what="<img src=x onerror=a>", unit="<b>", source="<script>a</script>")
    html = topic_html(sample(hostile))
    assert "<img" not in html and "<script" not in html and "<b>°" not in html


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.title)
def test_every_model_says_what_it_says_its_reach_its_source_and_its_limits_in_few_sentences(model):
    parts = (model.says, model.reach, model.source, model.limits)
    assert model.question.endswith("?") and all(part.endswith(".") for part in parts)
    sentences = len(re.findall(r"[.](?: |$)", " ".join(parts)))
    assert 5 <= sentences <= 11
    assert "!" not in " ".join(parts)


def test_the_models_that_the_scores_rest_on_are_all_there():
    assert len(MODELS) == 12
    told = " ".join(model.title for model in MODELS)
    for name in (
        "Loft map",
        "Fill",
        "Drift",
        "section",
        "Films",
        "sleeper",
        "Damp",
        "Packed",
        "Air",
        "Bands",
    ):
        assert name in told


def test_what_is_inconsistent_and_what_is_unknown_is_said():
    told = " ".join(part for note in DISAGREE for part in note)
    # ISO 11079 against insensible perspiration, 400 ml a day over the skin (encyclopaedic).
    assert "some 1 to 2 W/m²" in told and "6.5 W/m²" in told and "never added" in told
    assert "never averaged" in told
    bands = next(model for model in MODELS if model.title == "Bands")
    assert "common draws" in bands.says and "may not match the subtraction" in bands.says
    assert len(UNKNOWN) >= 5
