"""Damp, air and watts short on the Close-up: what is said, when, and in whose units."""

import re
from html import unescape

import pytest

from dashboard.close_up_damp import air_html, moisture_html
from dashboard.close_up_short import shortfall_html
from dashboard.field_edits import placed
from engine.catalogue.load import load_catalogue
from engine.design import Design
from engine.evaluate import Evaluation, evaluate
from engine.night import Night, Sleeper
from engine.samples import samples

FILM_BOTH = {"shells.inner": "film-17", "shells.outer": "film-17"}
STAGGERED = {
    **FILM_BOTH,
    "baffles.layout": "staggered",
    "baffles.fabric": "film-17",
    "joints.baffles": "tape-6",
    "end_panels.fitted": True,
}
BLOCKS = (shortfall_html, moisture_html, air_html)


def of(changes: dict[str, object], **night: object) -> Evaluation:
    design = placed(Design(name="One"), changes)
    assert isinstance(design, Design)
    return evaluate(design, Night.model_validate(night), load_catalogue())


def text(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).replace("\u00a0", " ").split())


def sentence(html: str) -> str:
    """What is said first, before any table."""
    assert html.startswith("<p>")
    return text(html.split("</p>")[0])


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
@pytest.mark.parametrize("block", BLOCKS)
def test_each_block_opens_with_a_sentence_and_says_why(sample, block):
    html = block(evaluate(sample.design, sample.night, load_catalogue()), "metric")
    assert sentence(html).endswith(".")
    why = re.findall(r"<details.*?</details>", html, flags=re.S)
    assert len(why) == 1
    assert "Source: " in why[0] and "Left out: " in why[0] and "<li>" in why[0]
    assert "nan" not in text(html) and "inf" not in text(html).replace("information", "")


@pytest.mark.parametrize("block", BLOCKS)
def test_trade_units_reach_every_number(block):
    told = block(of(FILM_BOTH, air_c=-10), "trade").replace("mm/s", "")
    assert not re.search(r"\d\u00a0(mm|g|g/m²|°C|m²)(?![\wK])", unescape(told))


def test_the_damp_is_said_with_its_band_its_place_and_what_is_not_known():
    e = of({"shells.outer": "film-17"}, air_c=-20)
    told = text(moisture_html(e, "metric"))
    assert f"about {1000 * e.damp.kept_kg:.0f} g of it stays" in told
    assert f"({1000 * e.damp.kept_low_kg:.0f} to {1000 * e.damp.kept_high_kg:.0f} g, by the skin)" in told
    assert "some of it as frost" in told and "% of the fill's weight" in told
    assert "upper estimate" in told and "What damp does to the loft is not known" in told


def test_the_places_and_what_leaves_make_the_whole():
    e = of({"shells.outer": "nylon-coated-20d-44"}, air_c=-5)
    shares = [
        int(share) for share in re.findall(r"(\d+) %</td>", moisture_html(e, "metric").replace("\u00a0", " "))
    ]
    assert len(shares) == 4 and sum(shares) == pytest.approx(100, abs=2)


def test_film_inside_is_said_to_be_clammy_and_a_warm_night_to_leave_nothing():
    assert "clammy" in text(moisture_html(of({"shells.inner": "film-17"}), "metric"))
    warm = sentence(moisture_html(of({}, air_c=15, humidity_percent=60), "metric"))
    assert "next to none of it stays" in warm and "clammy" not in warm


def test_the_warning_of_a_film_face_says_the_same_grams_as_the_block():
    e = of({"shells.outer": "film-17"}, air_c=-5)
    warning = next(c for c in e.cautions if c.code == "film face that traps moisture")
    assert warning.values["kept"] == (e.damp.kept_kg, "mass")
    assert warning.values["into"] == (e.damp.into_kg, "mass")
    inside = of({"shells.inner": "film-17"}, air_c=-5)
    note = next(c for c in inside.cautions if c.code == "film towards the sleeper")
    assert note.values["past"] == (inside.damp.past_the_inner_kg, "mass")


def test_air_is_one_sentence_where_both_shells_breathe():
    html = air_html(of({}), "metric")
    assert "<table" not in html and sentence(html).startswith("Both shells let air through")


def test_air_that_cannot_leave_is_said_in_words():
    told = text(air_html(of(FILM_BOTH), "metric"))
    assert "can neither leave to pack the quilt nor come back" in told
    assert told.count("never") >= 3
    sealed = text(air_html(of(STAGGERED | {"end_panels.fitted": False}), "metric"))
    assert "it pulls the baffles off" in sealed and "Let the air out" not in sealed


def test_tape_on_short_baffles_is_warned_of_before_stuffing():
    e = of(STAGGERED)
    told = text(air_html(e, "metric"))
    assert "Air goes through the end panels" in told and "Let the air out before you stuff it" in told
    assert f"Squeeze limit {e.air.squeeze_limit_pa / 1000:.1f} kPa" in told
    assert "1 to 3 h to straighten" in told


def test_one_airtight_shell_has_its_table_but_no_squeeze_limit():
    told = text(air_html(of({"shells.inner": "film-17"}), "metric"))
    assert "Air goes through the outer shell" in told
    assert "Squeeze limit " not in told.split("Why this number?")[0]


def test_watts_to_spare_are_warm_enough_for_the_night():
    told = sentence(shortfall_html(of({}, air_c=10), "metric"))
    assert "to spare at 10 °C: warm enough for the 8 h" in told


def test_cool_after_some_hours_of_the_night():
    e = of({"baffles.height_mm": 25, "baffles.spacing_mm": 100}, air_c=-8)
    assert 0 < e.shortfall.sleeper.lasts_h < 8
    told = sentence(shortfall_html(e, "metric"))
    assert re.search(r"is [\d.]+ W short at −8 °C: cool after about [\d½]+ (h|min) of 8 h", told)


def test_a_night_far_too_cold_is_not_to_be_counted_on():
    told = sentence(shortfall_html(of({"baffles.layout": "sewn-through"}, air_c=-25), "metric"))
    assert "do not count on this quilt for this night" in told


def test_a_short_night_is_over_before_it_is_felt():
    e = of({"baffles.height_mm": 25, "baffles.spacing_mm": 100}, air_c=-8, hours=1)
    assert e.shortfall.sleeper.short_w > 0
    assert "before it feels cool" in sentence(shortfall_html(e, "metric"))
    # ISO 11079:2007: a body may lose 40 W·h/m² (144 kJ/m²).
    assert "the body’s store, 40 W·h/m² by ISO 11079, covers it" in text(shortfall_html(e, "metric"))
    spare = text(shortfall_html(of({}, air_c=15), "metric"))
    assert "store" not in spare and "The verdict over this page is for a standard woman" in spare


def test_your_own_sleeper_stands_beside_the_two_of_the_temperatures():
    html = shortfall_html(of({}, sleeper=Sleeper(kind="own", mass_kg=90)), "metric")
    told = text(html)
    assert sentence(html).startswith("Your sleeper")
    for who in (
        "A standard woman (neither warm nor cool)",
        "A standard man (cool, in balance)",
        "Your sleeper (",
    ):
        assert who in told


def test_a_name_is_never_markup():
    e = of({"name": "<b>x</b>"})
    assert all("<b>" not in block(e, "metric") for block in BLOCKS)
