"""Numbers as they are said: factors against NIST SP 811, steps and words against what was agreed.

Ounce 28.349523 g and ounce per square yard 33.905747 g/m²: NIST SP 811 (2008), App. B.8; inch 25.4 mm and
yard 0.9144 m: the same, exact. Degree Fahrenheit: t/°C = (t/°F − 32)/1.8, the same, B.9.
Mile per hour 0.44704 m/s: the same, from memory.
"""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.words import (
    MINUS,
    NBSP,
    SCORE,
    SCORES,
    chance,
    cost,
    cost_span,
    difference_words,
    duration,
    evenings,
    fraction,
    grade,
    graded,
    number,
    said,
    span,
)

NIST_SP_811 = [  # kind, SI value of so many units, printed in trade units
    ("mass", 18.1 * 0.028349523, "18.1 oz"),
    ("areal mass", 0.50 * 0.0339057474749, "0.50 oz/yd²"),
    ("bench length", 2.5 * 0.0254, "2½ in"),
    ("length", 3.74 * 0.9144, "3.74 yd"),
    ("speed", 10 * 0.44704, "10.0 mph"),
    ("temperature", -40.0, "−40 °F"),
    ("temperature", 0.0, "32 °F"),
    ("temperature", 100.0, "212 °F"),
]


def plain(text: str) -> str:
    return text.replace(NBSP, " ")


@pytest.mark.parametrize("kind, si, expected", NIST_SP_811)
def test_trade_units_agree_with_published_factors(kind, si, expected):
    assert plain(said(kind, si, "trade")) == expected


@pytest.mark.parametrize(
    "kind, value, metric, trade",
    [
        ("mass", 0.512, "512 g", "18.1 oz"),
        ("areal mass", 0.017, "17 g/m²", "0.50 oz/yd²"),
        ("areal mass", 0.0095, "9.5 g/m²", "0.28 oz/yd²"),
        ("temperature", -5.0, "−5 °C", "23 °F"),
        ("temperature difference", 1.0, "1 °C", "2 °F"),
        ("fine temperature difference", 0.7, "0.5 °C", "1 °F"),
        ("fine temperature difference", 1.0, "1 °C", "2 °F"),
        ("bench length", 0.064, "64 mm", "2½ in"),
        ("sheet length", 0.0555625, "56 mm", "2 3/16 in"),
        ("length", 3.42, "3.42 m", "3.74 yd"),
        ("length to buy", 3.42, "3.5 m", "3¾ yd"),
        ("volume", 0.0046, "4.6 L", "4.6 L"),
        ("fill power", 803.0, "800 in³/oz", "800 in³/oz"),
        ("work", 14.4, "14½ h", "14½ h"),
        ("work", 0.4, "½ h", "½ h"),
        ("minutes", 33.0, "35 min", "35 min"),
    ],
)
def test_each_quantity_is_shown_in_its_step(kind, value, metric, trade):
    assert plain(said(kind, value)) == metric
    assert plain(said(kind, value, "trade")) == trade


def test_a_length_on_the_step_does_not_cost_the_next_step():
    assert plain(said("length to buy", 0.1 + 0.2)) == "0.3 m"
    assert plain(said("length to buy", 0.301)) == "0.4 m"
    assert plain(said("length to buy", 3.75 * 0.9144, "trade")) == "3¾ yd"


def test_minus_zero_is_zero_and_minus_is_a_true_minus():
    assert number(-0.3) == "0"
    assert fraction(-0.01) == "0"
    assert number(-5.4) == f"{MINUS}5"
    assert "-" not in said("temperature", -5)


def test_groups_are_marked_from_ten_thousand_up_and_never_below():
    assert number(9999.4) == "9999"
    assert number(9999.5) == "10\u202f000"
    assert number(1234567.8, 1) == "1\u202f234\u202f567.8"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_never_said(bad):
    with pytest.raises(ValueError, match="finite"):
        number(bad)


@given(st.floats(-9e5, 9e5), st.integers(0, 3))
def test_a_number_is_said_within_half_a_step(value, decimals):
    back = Decimal(number(value, decimals).replace(MINUS, "-").replace("\u202f", ""))
    assert abs(back - Decimal(repr(value))) <= Decimal(1).scaleb(-decimals) / 2


@given(st.floats(0, 50))
def test_a_bought_length_is_never_short_and_less_than_a_step_over(length_m):
    bought = Decimal(plain(said("length to buy", length_m)).split()[0].replace("\u202f", ""))
    assert Decimal("-1e-9") <= bought - Decimal(repr(length_m)) < Decimal("0.1000001")


def test_a_range_says_to_and_its_unit_once():
    assert plain(span("mass", 0.488, 0.536)) == "488 to 536 g"
    assert plain(span("temperature", -8, -3)) == "−8 to −3 °C"
    assert plain(span("work", 12.6, 18)) == "12½ to 18 h"
    assert plain(span("mass", 0.4999, 0.5001)) == "500 g"


def test_cost_carries_the_label_only_if_there_is_one():
    assert cost(212.4) == "212"
    assert plain(cost(212.4, "€")) == "212 €"
    assert plain(cost(4.2, "kr", exact=True)) == "4.20 kr"
    assert plain(cost_span(190, 240, "€")) == "190 to 240 €"


def test_evenings_are_counted_in_words():
    assert [plain(evenings(n)) for n in (1, 6)] == ["1 evening", "6 evenings"]


@pytest.mark.parametrize(
    "p, words",
    [
        (0.0, "fewer than 1 in 100"),
        (0.009, "fewer than 1 in 100"),
        (0.01, "1 in 100"),
        (0.05, "5 in 100"),
        (0.12, "1 in 10"),
        (0.5, "5 in 10"),
        (0.9, "9 in 10"),
        (0.949, "9 in 10"),
        (0.97, "97 in 100"),
        (0.99, "99 in 100"),
        (0.995, "more than 99 in 100"),
        (1.0, "more than 99 in 100"),
    ],
)
def test_a_chance_is_never_nought_and_never_certain(p, words):
    assert plain(chance(p)) == words


@pytest.mark.parametrize("p", [-0.1, 1.1, math.nan])
def test_a_chance_outside_nought_to_one_is_refused(p):
    with pytest.raises(ValueError, match="allowed: 0 to 1"):
        chance(p)
    with pytest.raises(ValueError, match="allowed: 0 to 1"):
        grade(p)


@pytest.mark.parametrize(
    "p, word",
    [
        (0.95, "almost surely"),
        (0.949, "probably"),
        (0.8, "probably"),
        (0.6, "perhaps"),
        (0.599, ""),
        (0.2, ""),
    ],
)
def test_each_grade_of_sureness_begins_at_its_threshold(p, word):
    assert grade(p) == word


@pytest.mark.parametrize(
    "key, difference, p, of, expected",
    [
        ("weight_kg", 0.136, 0.99, None, "almost surely heavier (136 g)"),
        ("weight_kg", -0.081, 0.85, None, "probably lighter (81 g)"),
        ("weight_kg", 0.004, 0.99, None, "about the same weight (4 g)"),
        ("weight_kg", 0.030, 0.55, None, "can't tell which is lighter"),
        ("comfort_c", -1.0, 0.70, None, "perhaps warmer (1 °C)"),
        ("comfort_c", 2.0, 0.96, None, "almost surely less warm (2 °C)"),
        ("limit_c", 2.0, 0.96, None, "almost surely less warm at the limit (2 °C)"),
        ("volume_m3", 0.0005, 0.96, None, "almost surely packs larger (0.5 L)"),
        ("volume_m3", 0.0005, 0.50, None, "can't tell which packs smaller"),
        ("cost", -44.0, 1.0, 256.0, "almost surely cheaper (44)"),
        ("cost", -4.0, 1.0, 256.0, "about the same cost (4)"),
        ("cost", 0.0, 0.5, 0.0, "about the same cost (0)"),
        ("work_h", 2.5, 0.9, None, "probably slower (2½ h)"),
    ],
)
def test_the_word_grades_the_direction_and_the_number_gives_the_amount(key, difference, p, of, expected):
    assert plain(graded(key, difference, p, of=of)) == expected


def test_a_cell_says_the_amount_first_only_where_the_direction_is_probable():
    assert plain(difference_words("weight_kg", 0.136, 0.99)) == "136 g heavier"
    assert plain(difference_words("volume_m3", -0.0005, 0.8)) == "0.5 L smaller"
    assert plain(difference_words("limit_c", 1.2, 0.8)) == "1 °C less warm"
    assert plain(difference_words("comfort_c", -1.2, 0.7)) == "perhaps warmer (1 °C)"
    assert plain(difference_words("comfort_c", -1.6, 0.9, fine=True)) == "1.5 °C warmer"
    assert plain(difference_words("cost", -44, 1.0, currency="€", of=256)) == "44 € cheaper"


def test_a_relative_threshold_asks_for_the_score_of_the_reference():
    with pytest.raises(ValueError, match="cost needs"):
        graded("cost", 5, 0.9)


def test_thresholds_of_what_matters_are_those_agreed():
    matters = {words.key: words.matters for words in SCORES}
    assert matters == pytest.approx(
        {"weight_kg": 0.010, "volume_m3": 0.0002, "comfort_c": 1, "limit_c": 1, "cost": 0.02, "work_h": 0.5}
    )
    assert [words.key for words in SCORES if words.relative] == ["cost"]


def test_a_score_says_its_value_and_band_in_both_systems():
    assert plain(SCORE["weight_kg"].value(0.512, "trade")) == "18.1 oz"
    assert plain(SCORE["comfort_c"].band(-8, -3)) == "−8 to −3 °C"
    assert plain(SCORE["cost"].band(190, 240, "metric", "€")) == "190 to 240 €"


@given(
    st.sampled_from([words.key for words in SCORES]),
    st.floats(-50, 50),
    st.floats(0, 1),
    st.sampled_from(["metric", "trade"]),
)
def test_a_quilt_is_never_called_colder_or_certain(key, difference, p, units):
    for text in (
        graded(key, difference, p, units, of=100.0),
        difference_words(key, difference, p, units, of=100.0),
    ):
        assert "cold" not in text and "%" not in text and "-" not in text


@pytest.mark.parametrize(
    "seconds, told",
    [
        (0.4, "a few seconds"),
        (9.9, "a few seconds"),
        (44, "40 s"),
        (89, "90 s"),
        (91, "2 min"),
        (9.4 * 60, "9 min"),
        (43 * 60, "45 min"),
        (74 * 60, "75 min"),
        (76 * 60, "1½ h"),
        (2.6 * 3600, "2½ h"),
        (25 * 3600, "more than a day"),
    ],
)
def test_times_are_said_as_they_are_waited_for(seconds, told):
    assert plain(duration(seconds)) == told


def test_a_time_without_end_must_be_said_in_words():
    with pytest.raises(ValueError, match="only a finite time can be said"):
        duration(math.inf)
