"""Are the checks that a page shows whole, and could they come out otherwise?"""

from collections import Counter
from dataclasses import replace
from importlib.resources import files

import pytest

from engine.checks.rows import Row, table, told
from engine.checks.topics import TOPICS
from engine.checks.trade import fill_power, rules

ROW = Row("topic", "what", "°C", 10.0, 10.05, 0.1, "source")
TABLES = sorted(file.name for file in (files("engine.checks") / "published").iterdir())
SIZES = {
    # Counted in the standards' own tables and the files' lines, not by the code that reads them.
    "Heat through a corner": 28,
    "Heat through wood, metal and insulation": 10,
    "A closed gap of air": 24,
    "How warm a room is called": 12,
    "Clothing for work in the cold": 8 * 2 * 3,
    "Thickness of insulation for sleep": 5,
    "What a sleeper needs, term by term": 42 * 4,
    "What a sleeper needs, through the whole program": 42,
}


@pytest.mark.parametrize("ours", [10.05, 9.95, 10.0])
def test_a_row_is_inside_as_far_as_is_allowed(ours):
    assert replace(ROW, ours=ours).inside


@pytest.mark.parametrize("ours", [10.11, 9.89, float("nan"), float("inf")])
def test_a_row_beyond_it_or_without_a_number_is_outside(ours):
    assert not replace(ROW, ours=ours).inside


@pytest.mark.parametrize("topic", TOPICS, ids=lambda topic: topic.title)
def test_every_topic_is_inside_and_every_row_says_where_it_is_from(topic):
    outside = [row for row in topic.rows if not row.inside]
    assert topic.rows and not outside
    for row in topic.rows:
        assert row.topic == topic.title and row.what and row.unit and row.source
        assert 0 < row.allowed < float("inf")
    assert topic.shows.endswith(".") and topic.allowed_because.endswith(".")


@pytest.mark.parametrize("topic", TOPICS, ids=lambda topic: topic.title)
def test_no_two_rows_of_a_topic_are_about_the_same(topic):
    named = Counter((row.what, row.unit, row.source) for row in topic.rows)
    assert max(named.values()) == 1, named.most_common(1)


@pytest.mark.parametrize("title, count", SIZES.items())
def test_a_table_is_compared_whole(title, count):
    assert [len(topic.rows) for topic in TOPICS if topic.title == title] == [count]


@pytest.mark.parametrize("topic", TOPICS, ids=lambda topic: topic.title)
def test_no_topic_allows_so_much_that_it_could_not_fail(topic):
    # What is published varies from row to row by more than is allowed in most: a constant would not pass.
    if len(topic.rows) > 2 and len({row.unit for row in topic.rows}) == 1:
        spread = max(row.published for row in topic.rows) - min(row.published for row in topic.rows)
        assert sorted(row.allowed for row in topic.rows)[len(topic.rows) // 2] < spread


@pytest.mark.parametrize("name", TABLES)
def test_every_published_table_opens_with_its_source_and_can_be_read(name):
    rows = table(name)
    assert rows and all(None not in row for row in rows)


def test_what_a_row_is_about_is_told_as_printed_with_true_minus_signs():
    assert told({"a": "-10", "b": "0.40"}, ("a", "°C"), ("b", "m/s")) == "−10 °C, 0.40 m/s"


@pytest.mark.parametrize("row", fill_power(), ids=lambda row: row.what)
def test_the_fill_power_test_presses_as_all_its_variants_do(row):
    # Lids press with 14.6 to 14.8 Pa on their own area and 14.0 to 14.8 Pa on the cylinder's; our one
    # constant may lie anywhere among them. Of the height half of the last of five decimals.
    assert row.inside, row


@pytest.mark.parametrize("row", rules(), ids=lambda row: row.what)
def test_the_short_rules_of_the_trade_come_out_as_makers_say(row):
    # Common practice, no source; plain arithmetic, so it is met exactly.
    assert row.inside, row
