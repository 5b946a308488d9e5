"""The parts of the Line-up's tables and warnings, each against what was agreed (definition, no source)."""

import re

import pytest

from dashboard.caution_text import caution_html, caution_markdown, counts_html, told
from dashboard.choices_table import NO_MATTER, choices
from dashboard.line_up_facts import covered, difference_text, in_order, night_line, summary
from dashboard.line_up_table import StripScale, comparison_html, strip_scale
from dashboard.words import NBSP
from engine.catalogue.load import load_catalogue
from engine.cautions import Caution
from engine.comparison import Candidate, Comparison
from engine.design import Baffles, Design, Filling, Shells
from engine.evaluate import LineUp, evaluate_all
from engine.night import Night, Sleeper

DOWN = Design(name="Down")
SHEET = Design(
    name="Sheet", baffles=Baffles(layout="none"), fill=Filling(good="sheet-100", layers=2), shells=Shells()
)
WARNING = Caution(
    "invented",
    "mind",
    "fill.grams",
    "Chambers of {width} at {ratio} times {cloth} hold {areal}; air {air}, share {share} %, {cold}.",
    "Add {more}.",
    {
        "width": (0.0635, "bench_length"),
        "ratio": (2.66, "number"),
        "share": (91.7, "number"),
        "cloth": ("<b>mesh</b>", "word"),
        "areal": (0.0339, "areal_mass"),
        "air": (40.0, "air_permeability"),
        "cold": (-5.0, "temperature"),
        "more": (0.028349523125, "mass"),
    },
)


def line_up(*designs: Design, **more: object) -> LineUp:
    pairs = zip(("A", "B", "C"), designs, strict=False)
    candidates = tuple(Candidate(letter=letter, design=design) for letter, design in pairs)
    return evaluate_all(Comparison(candidates=candidates, **more), load_catalogue())


def test_a_warning_is_told_in_the_units_that_are_shown():
    what, remedy = (text.replace(NBSP, " ") for text in told(WARNING))
    assert what == "Chambers of 64 mm at 2.7 times <b>mesh</b> hold 34 g/m²; air 40 mm/s, share 92 %, −5 °C."
    assert remedy == "Add 28 g."
    what, remedy = (text.replace(NBSP, " ") for text in told(WARNING, "trade"))
    # 63.5 mm is 2½ in, −5 °C is 23 °F, one ounce is 28.349523125 g: definitions.
    assert "2½ in" in what and "1.00 oz/yd²" in what and "23 °F" in what
    assert remedy == "Add 1.0 oz."


def test_a_pressure_is_told_in_kilopascals():
    pressed = Caution(
        "invented", "mind", "joints.baffles", "They hold {limit}.", "", {"limit": (1240.0, "pressure")}
    )
    assert told(pressed)[0].replace(NBSP, " ") == "They hold 1.2 kPa."
    assert told(pressed, "trade")[0].replace(NBSP, " ") == "They hold 1.2 kPa."


def test_a_warning_has_sign_and_word_and_its_words_stay_text():
    assert "Mind." in caution_html(WARNING) and "lw-mind" in caution_html(WARNING)
    assert "<b>" not in caution_html(WARNING) and "&lt;b&gt;" in caution_html(WARNING)
    assert r"\<b\>mesh" in caution_markdown(WARNING)


def test_warnings_are_counted_by_grade_gravest_first():
    stop = Caution("x", "stop", "", "", "")
    counted = re.sub(r"<[^>]+>", "", counts_html([WARNING, stop, WARNING])).replace(NBSP, " ")
    assert re.findall(r"\d \w+", counted) == ["1 Stop", "2 Mind"]
    assert counts_html([]) == ""


def test_every_real_warning_can_be_told_in_both_units():
    odd = Design(
        shells=Shells(inner="ripstop-38", outer="film-17"),
        baffles=Baffles(layout="full, crosswise", height_mm=20, spacing_mm=300),
        fill=Filling(rule="grams", grams=20),
    )
    cautions = evaluate_all(
        Comparison(night=Night(air_c=-30), candidates=(Candidate(letter="A", design=odd),)), load_catalogue()
    )["A"].cautions
    assert len(cautions) >= 4
    for caution in cautions:
        for units in ("metric", "trade"):
            assert "{" not in "".join(told(caution, units))


def test_a_strip_runs_from_the_least_to_the_most_and_less_is_left():
    scale = StripScale(0.0, 10.0)
    assert 0 < scale.percent(0.0) < scale.percent(5.0) < scale.percent(10.0) < 100
    assert scale.percent(5.0) == pytest.approx(50)
    assert StripScale(3.0, 3.0).percent(3.0) == pytest.approx(50)


def test_a_limit_far_from_every_band_does_not_squeeze_them():
    every = line_up(DOWN, SHEET).evaluations
    low = min(each.bands["weight_kg"].low for each in every)
    assert strip_scale(every, "weight_kg", low + 0.001).tick == low + 0.001
    assert strip_scale(every, "weight_kg", 5.0).tick is None
    assert strip_scale(every, "weight_kg", 5.0) == strip_scale(every, "weight_kg", None)


def test_marks_and_bars_of_every_strip_lie_inside_it():
    places = re.findall(r"left:([\d.]+)%(?:;width:([\d.]+)%)?", comparison_html(line_up(DOWN, SHEET)))
    assert len(places) >= 24
    for left, width in places:
        assert float(left) >= 0 and float(left) + float(width or 0) <= 100


def test_the_cells_have_rows_of_their_own_on_the_phone():
    html = comparison_html(line_up(DOWN, SHEET, DOWN))
    numbers = [int(n) for n in re.findall(r"--r:(\d+)", html)]
    assert sorted(numbers) == list(range(1, 3 + 6 * 4 + 1))  # a legend of three, six heads of three cells


def test_an_empty_line_up_has_no_table():
    assert comparison_html(line_up()) == ""


def test_rows_come_as_added_or_from_the_least_of_a_score():
    both = line_up(SHEET, DOWN)
    assert [each.letter for each in in_order(both, None)] == ["A", "B"]
    assert [each.letter for each in in_order(both, "weight_kg")] == ["B", "A"]


def test_a_choice_that_does_not_apply_is_no_difference_where_the_others_agree():
    rows = {row.label: row for row in choices(line_up(DOWN, SHEET, DOWN))}
    assert NO_MATTER in rows["Overstuff"].told and not rows["Overstuff"].differs
    assert rows["Layers"].differs  # only the sheet quilt has layers
    assert rows["Fill"].differs
    assert not any(row.label == "Gap between baffles" for row in rows.values())


def test_a_candidate_in_a_few_words_names_kind_cloth_fill_and_baffles():
    goods = load_catalogue()
    plain = summary(DOWN, goods).replace(NBSP, " ")
    assert plain == "underquilt, ripstop 26 g/m², 850 fill, full baffles 50 mm"
    mixed = Design(shells=Shells(inner="film-17"), baffles=Baffles(layout="sewn-through"))
    assert "film 17 g/m² in, ripstop 26 g/m² out" in summary(mixed, goods).replace(NBSP, " ")
    assert summary(mixed, goods).endswith("sewn-through")
    assert "2 × sheet 100 g/m²" in summary(SHEET, goods).replace(NBSP, " ")


def test_the_night_is_one_line_with_its_units():
    line = night_line(Night(), ["underquilt"]).replace(NBSP, " ")
    assert line == "−5 °C, under a low tarp, 80 % damp, 8 h · standard woman · top side matched"
    own = Night(sleeper=Sleeper(kind="own", height_mm=1780, girth_mm=1210))
    # Paper goes to others: measures are named on the screen only.
    assert " · own sleeper · " in night_line(own, ["underquilt"])
    named = night_line(own, ["underquilt"], with_measures=True).replace(NBSP, " ")
    assert " · own sleeper, 1780 mm, 1210 mm girth · " in named
    windy = night_line(Night(wind="own", wind_m_s=2), ["top quilt"], "trade").replace(NBSP, " ")
    assert windy.startswith("23 °F, wind 4.5 mph") and windy.endswith("underside matched")


def test_an_estimate_that_a_warning_stops_is_not_compared_in_the_table():
    bare = DOWN.model_copy(update={"baffles": Baffles(layout="none")})
    candidates = (Candidate(letter="A", design=DOWN), Candidate(letter="B", design=bare))
    line_up = evaluate_all(Comparison(candidates=candidates), load_catalogue())
    assert difference_text(line_up, "B", "comfort_c") == difference_text(line_up, "B", "limit_c")
    assert difference_text(line_up, "B", "comfort_c") == "does not count yet"
    assert "stopped: mend that first" in comparison_html(line_up, None)


def test_with_both_kinds_the_other_half_is_called_so():
    assert covered(Night(), ["underquilt", "top quilt"]) == "the other half matched"
