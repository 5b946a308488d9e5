"""What people type, read into the model's units; factors against published values.

NIST SP 811 (2008), App. B: inch 25.4 mm, foot 304.8 mm, yard 914.4 mm (exact), ounce 28.349523 g,
pound 0.45359237 kg, ounce per square yard 33.9057474749 g/m², t/°C = (t/°F − 32)/1.8; mile per hour
0.44704 m/s from memory. clo 0.155 m²K/W: ISO 9920 convention. tog 0.1 m²K/W: BS 4745, definition.
"""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from dashboard.numbers_in import (
    UNITS,
    allowed_range,
    other_readings,
    read_if_changed,
    read_number,
    read_number_or_none,
    show_number,
    shown_unit,
)
from dashboard.words import NBSP
from engine.catalogue.models import Fabric, OwnGood
from engine.design import Baffles, Cut, Design, Ends, Filling, Outline
from engine.models import Frozen
from engine.night import Beyond, Night, Sleeper
from engine.refusals import Refusal

HEIGHT = Baffles.model_fields["height_mm"]
AIR = Night.model_fields["air_c"]
LENGTH = Outline.model_fields["length_mm"]
GRAMS = Filling.model_fields["grams"]
DARTS = Ends.model_fields["dart_count"]
WIDE = {
    "mm": LENGTH, "g": GRAMS, "kg": Sleeper.model_fields["mass_kg"], "°C": AIR,
    "m/s": Night.model_fields["wind_m_s"], "m²K/W": Night.model_fields["other_half_r_m2k_w"],
    "g/m²": OwnGood.model_fields["areal_mass_g_m2"], "rad": Cut.model_fields["wrap_across_rad"],
    "h": Night.model_fields["hours"], "": Beyond.model_fields["price"],
}  # fmt: skip


def refused(text, kind, units, field):
    with pytest.raises(Refusal) as caught:
        read_number(text, kind, units, field)
    (message,) = caught.value.messages
    return message.replace(NBSP, " ")


@pytest.mark.parametrize(
    "text, kind, published",
    [
        ("40 in", "mm", 1016.0),
        ("4 ft", "mm", 1219.2),
        ("2 yd", "mm", 1828.8),
        ("150 cm", "mm", 1500.0),
        ("1.5 m", "mm", 1500.0),
        ("10 oz", "g", 283.49523),
        ("1 lb", "g", 453.59237),
        ("150 lb", "kg", 68.0388555),
        ("1 oz/yd²", "g/m²", 33.9057474749),
        ("1 oz/yd2", "g/m²", 33.9057474749),
        ("23 °F", "°C", -5.0),
        ("23F", "°C", -5.0),
        ("10 mph", "m/s", 4.4704),
        ("2 clo", "m²K/W", 0.310),
        ("10 tog", "m²K/W", 1.0),
        ("90 min", "h", 1.5),
    ],
)
@pytest.mark.parametrize("units", ["metric", "trade"])
def test_a_typed_unit_always_wins_and_agrees_with_the_published_factor(text, kind, published, units):
    # The published factors have eight digits, hence 1e-7.
    assert read_number(text, kind, units, WIDE[kind]) == pytest.approx(published, rel=1e-7)


@pytest.mark.parametrize(
    "text, units, expected",
    [
        ("64", "metric", 64.0),
        ("64,5", "metric", 64.5),
        ("64.5", "metric", 64.5),
        (" 64 mm ", "trade", 64.0),
        ("2½", "trade", 63.5),
        ("2 ½", "trade", 63.5),
        ("2 1/2", "trade", 63.5),
        ("2-1/2", "trade", 63.5),
        ("2 1/2 in", "metric", 63.5),
        ('2.5"', "metric", 63.5),
        ("5/8", "trade", 15.875),
        ("1,5", "trade", 38.1),
        ("1e2", "metric", 100.0),
        ("1,5e1 mm", "metric", 15.0),
    ],
)
def test_a_bare_number_is_in_the_shown_unit_and_may_be_written_in_many_ways(text, units, expected):
    assert read_number(text, "mm", units, HEIGHT) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("text", ["-5", "−5 °C", " −5 °C", "–5", "-5°", "- 5 C"])
def test_every_kind_of_minus_is_a_minus(text):
    assert read_number(text, "°C", "metric", AIR) == -5


def test_groups_of_three_with_a_space_are_read():
    assert read_number("1 850", "mm", "metric", LENGTH) == 1850
    assert read_number("1\u202f850", "mm", "metric", LENGTH) == 1850


def test_a_comma_that_can_be_read_in_two_ways_is_refused_and_not_guessed():
    assert (
        refused("1,850", "g", "metric", GRAMS) == "Down is 1,850; write 1850 or 1.850; allowed: 0 to 3000 g."
    )
    assert read_number("0,850", "g", "metric", GRAMS) == 0.85
    assert read_number("1,8505", "g", "metric", GRAMS) == 1.8505


@pytest.mark.parametrize(
    "text, units, message",
    [
        ("900", "metric", "Baffle height is 900 mm; allowed: 5 to 300 mm."),
        ("900", "trade", "Baffle height is 900 in; allowed: ¼ to 11¾ in."),
        ("900 mm", "trade", "Baffle height is 900 mm (35⅜ in); allowed: ¼ to 11¾ in."),
        ("12 in", "metric", "Baffle height is 12 in (304.8 mm); allowed: 5 to 300 mm."),
        ("-64", "metric", "Baffle height is −64 mm; allowed: 5 to 300 mm."),
        ("1e9", "metric", "Baffle height is 1e9 mm; allowed: 5 to 300 mm."),
        ("1e999", "metric", "Baffle height is 1e999 mm; allowed: 5 to 300 mm."),
        ("1e999 mm", "trade", "Baffle height is 1e999 mm; allowed: ¼ to 11¾ in."),
        ("10000000000", "metric", "Baffle height is 10000000000 mm; allowed: 5 to 300 mm."),
        ("", "metric", "Baffle height is empty; allowed: 5 to 300 mm."),
        ("  ", "metric", "Baffle height is empty; allowed: 5 to 300 mm."),
        ("abc", "metric", "Baffle height is abc, which is not a number; allowed: 5 to 300 mm."),
        ("nan", "metric", "Baffle height is nan, which is not a number; allowed: 5 to 300 mm."),
        ("inf", "metric", "Baffle height is inf, which is not a number; allowed: 5 to 300 mm."),
        ("٦٤", "metric", "Baffle height is ٦٤, which is not a number; allowed: 5 to 300 mm."),
        ("1/0", "metric", "Baffle height is 1/0 mm; allowed: 5 to 300 mm."),
        (
            "3 kg",
            "metric",
            "Baffle height is 3 kg; units taken here: mm, in, cm, m, ft, yd; allowed: 5 to 300 mm.",
        ),
    ],
)
def test_a_refusal_names_the_field_what_was_typed_and_what_is_allowed(text, units, message):
    assert refused(text, "mm", units, HEIGHT) == message


def test_a_long_text_is_cut_short_in_the_message():
    message = refused("9" * 5000, "mm", "metric", HEIGHT)
    assert "…" in message and len(message) < 120


def test_whole_numbers_stay_whole():
    assert refused("2.5", "", "metric", DARTS) == "Darts each end is 2.5; allowed: 1 to 6, whole numbers."
    assert read_number("2", "", "metric", DARTS) == 2


def test_a_limit_that_is_itself_excluded_is_said_so():
    areal = Fabric.model_fields["areal_mass_g_m2"]
    assert refused("200", "g/m²", "metric", areal).endswith("allowed: more than 5 and less than 200 g/m².")


def test_a_price_may_carry_a_currency_sign_but_no_other_unit():
    price = Beyond.model_fields["price"]
    assert read_number("12,50 €", "", "trade", price) == 12.5
    assert (
        refused("12 kg", "", "metric", price)
        == "Its price is 12 kg; write the number alone; allowed: 0 to 1000."
    )


def test_an_empty_box_is_nothing_where_nothing_is_allowed():
    budget = Night.model_fields["weight_budget_g"]
    assert read_number_or_none(" ", "g", "metric", budget) is None
    assert read_number_or_none("20 oz", "g", "metric", budget) == pytest.approx(566.99046, rel=1e-7)


def test_the_label_and_the_box_follow_the_system_of_units():
    assert (shown_unit("mm", "trade").name, show_number(64, "mm", "trade")) == ("in", "2½")
    assert (shown_unit("°C", "trade").name, show_number(-5, "°C", "trade")) == ("°F", "23")
    assert show_number(-5, "°C", "metric") == "−5"
    assert show_number(63.5, "mm", "metric") == "63.5"


def fields_with_units(model: type[Frozen]):
    for field in model.model_fields.values():
        if isinstance(field.annotation, type) and issubclass(field.annotation, Frozen):
            yield from fields_with_units(field.annotation)
        elif isinstance(field.json_schema_extra, dict) and "unit" in field.json_schema_extra:
            yield str(field.json_schema_extra["unit"]), field


FIELDS = [*fields_with_units(Design), *fields_with_units(Night)]


def limits(field):
    low = next(rule.ge for rule in field.metadata if hasattr(rule, "ge"))
    return low, next(rule.le for rule in field.metadata if hasattr(rule, "le"))


@pytest.mark.parametrize("units", ["metric", "trade"])
@pytest.mark.parametrize("kind, field", FIELDS, ids=[field.title for _, field in FIELDS])
def test_both_ends_of_every_stated_range_are_taken(kind, field, units):
    said = allowed_range(field, kind, units).split(", ")[0]
    low, high = limits(field)
    for end in said.removesuffix(NBSP + shown_unit(kind, units).name).split(" to "):
        assert low <= read_number(end, kind, units, field) <= high


@given(st.data())
def test_an_untouched_box_never_changes_the_stored_value(data):
    kind, field = data.draw(st.sampled_from(FIELDS))
    low, high = limits(field)
    stored = data.draw(st.floats(low, high))
    for units in ("metric", "trade"):
        assert read_if_changed(show_number(stored, kind, units), stored, kind, units, field) == stored


@given(st.data())
def test_what_is_shown_reads_back_within_half_a_shown_step(data):
    kind = data.draw(st.sampled_from(sorted(UNITS)))
    units = data.draw(st.sampled_from(["metric", "trade"]))
    stored = data.draw(st.floats(-2000, 20000))
    unit = shown_unit(kind, units)
    step = unit.factor / (8 if unit.eighths else 10**unit.decimals)
    free = Baffles.model_fields["fabric"]  # no limits
    back = read_number(show_number(stored, kind, units), kind, units, free)
    assert back == pytest.approx(stored, abs=step / 2 + 2e-9)
    assert show_number(back, kind, units) == show_number(stored, kind, units)


@given(st.text(max_size=80))
@example("2½½")
@example("1.2.3")
@example("/")
@example("1 2 3/4")
def test_any_text_gives_a_number_within_limits_or_one_plain_refusal(text):
    for units in ("metric", "trade"):
        try:
            assert 5 <= read_number(text, "mm", units, HEIGHT) <= 300
        except Refusal as refusal:
            assert len(refusal.messages) == 1
            assert refusal.messages[0].startswith("Baffle height is ")


@pytest.mark.parametrize(
    "typed, units, read_as",
    [
        ("1.78", "metric", {"1.78\u00a0m": 1780}),
        ("1,78", "metric", {"1,78\u00a0m": 1780}),
        ("178", "metric", {"178\u00a0cm": 1780}),
        ("70", "metric", {"70\u00a0in": 1778}),
        ("5.9", "metric", {"5.9\u00a0ft": 1798.32}),
        ("178", "trade", {"178\u00a0cm": 1780}),
        ("1780", "trade", {"1780\u00a0mm": 1780}),
        ("1780", "metric", {}),  # it stands as it is
        ("1.78 m", "metric", {}),  # a unit that is typed always wins
        ("178 mm", "metric", {}),
        ("9", "metric", {}),
        ("tall", "metric", {}),
        ("1,780", "metric", {}),  # it could be two numbers
        ("1e400", "metric", {}),
    ],
)
def test_a_refused_height_is_offered_in_the_units_in_which_it_could_be_meant(typed, units, read_as):
    height = Sleeper.model_fields["height_mm"]
    found = {each.text: each.stored for each in other_readings(typed, "mm", units, height)}
    assert found == pytest.approx(read_as)


def test_degrees_that_are_too_many_may_be_fahrenheit():
    (reading,) = other_readings("41", "°C", "metric", AIR)
    assert reading.text == "41\u00a0°F" and reading.stored == pytest.approx(5)
