"""Try many as a person uses it: what varies, how many, the sentence, the short list, limits, a wish."""

import re
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.try_figure import alternative, cloud
from dashboard.try_words import Listed, Naming, count_words, difference, listed, rounded_up, told_apart
from engine.catalogue.load import load_catalogue
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Baffles, Design, Outline
from engine.explore.front import Limits, Pick, front_of, short_list
from engine.explore.rows import KEYS
from engine.explore.sweep import sweep
from engine.export.link import decode_link, encode_link
from engine.night import Night
from engine.recipe import Choice, Recipe, Span

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
WIDE = Design(name="Wide <b>one</b>", outline=Outline(width_mm=1250), baffles=Baffles(height_mm=60))
MILD = Night(air_c=5)
HEIGHTS = Choice(path="baffles.height_mm", span=Span(start=40, stop=60, step=10))
SHELLS = Choice(path="shells.outer", values=("nylon-10d-26", "film-17"))
SMALL = Recipe(start="A", choices=(HEIGHTS, SHELLS))


def comparison(*designs: Design, night: Night = MILD, **more: object) -> Comparison:
    candidates = tuple(
        Candidate(letter=letter, design=design) for letter, design in zip(LETTERS, designs, strict=False)
    )
    return Comparison(night=night, candidates=candidates, **more)


def opened(what: Comparison | None = None) -> AppTest:
    at = AppTest.from_file(str(APP), default_timeout=90)
    if what is not None:
        at.query_params["d"] = encode_link(what)
    at.run()
    at.switch_page("views/try_many.py").run()
    return calm(at)


def calm(at: AppTest) -> AppTest:
    assert not at.exception, at.exception
    return at


def press(at: AppTest, key: str) -> AppTest:
    return calm(at.button(key=key).click().run())


def page(at: AppTest) -> str:
    bodies = [element.proto.body for element in at.get("html") if "<style>" not in element.proto.body]
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", body)) for body in bodies)
    return " ".join(text.replace("\u00a0", " ").split())


def now(at: AppTest) -> Comparison:
    token = at.query_params["d"]
    return decode_link(token[0] if isinstance(token, list) else token)


@pytest.fixture(scope="module")
def scored() -> AppTest:
    """Six quilts from one start, scored; each test only looks, or works on a copy of its own."""
    return press(opened(comparison(WIDE, recipe=SMALL)), "tm_score")


def test_a_first_visit_is_told_how_many_quilts_would_be_scored_before_any_is():
    at = opened()
    assert re.search(r"\d+ quilts will be scored\.", page(at))
    assert "Which give nothing away?" not in [h.value for h in at.header]


def test_a_recipe_in_the_link_fills_the_boxes_and_is_counted():
    at = opened(comparison(WIDE, recipe=SMALL))
    assert [box.value for box in at.text_input if box.key.startswith("tm-baffles.height_mm")] == [
        "40",
        "60",
        "10",
    ]
    assert "6 quilts will be scored." in page(at)


def test_the_sentence_the_short_list_and_what_matters_follow(scored):
    text = page(scored)
    assert re.search(r"[1-6] of 6 are on the front and keep to your limits\. The lightest", text)
    assert "Against A it is" in text
    for best in ("warmest", "cheapest", "knee", "the start"):
        assert best in text
    assert re.search(r"What moves “weight” most is: baffle height, \d+ % of all its spread", text)
    assert "estimates, never a promise" in text


def test_names_that_somebody_typed_stay_text(scored):
    assert all("<b>one</b>" not in element.proto.body for element in scored.get("html"))


def test_adding_a_row_puts_its_design_in_the_line_up_and_undo_takes_it_back():
    at = press(opened(comparison(WIDE, recipe=SMALL)), "tm_score")
    at = press(at, "tm_add_a")
    added = now(at).candidates[-1]
    assert added.letter == "B" and added.design.name.endswith(", lightest")
    assert added.design.note.startswith(f"Tried from A: Baffle height {added.design.baffles.height_mm:g}")
    assert "Add to the line-up: Added as B." in page(at)
    at = press(at, "tm_undo")
    assert [candidate.letter for candidate in now(at).candidates] == ["A"]


def test_a_full_line_up_takes_no_more():
    designs = [WIDE.model_copy(update={"name": f"Q {n}"}) for n in range(6)]
    at = press(opened(comparison(*designs, recipe=SMALL)), "tm_score")
    assert at.button(key="tm_add_a").disabled
    # In words on the page, not only where a pointer rests.
    assert "Six is the most that can be compared at once." in page(at)


def test_limits_that_nothing_meets_say_which_shuts_out_most_and_what_would_do():
    at = press(opened(comparison(WIDE, night=Night(air_c=5, weight_budget_g=100), recipe=SMALL)), "tm_score")
    text = page(at)
    told = re.search(
        r"No quilt meets all limits\. The weight limit shuts out most, 6: at (\d+) g there would be (\d)",
        text,
    )
    assert told and int(told[2]) > 0
    at = press(at, "tm_use")
    assert f"{told[2]} of 6" in page(at) or "on the front and keep" in page(at)
    assert [box.value for box in at.text_input if "weight_kg" in box.key] == [told[1]]


def test_a_limit_that_is_no_number_is_refused_and_keeps_what_was_typed():
    at = press(opened(comparison(WIDE, recipe=SMALL)), "tm_score")
    box = next(box for box in at.text_input if "limit-weight_kg" in box.key)
    at = calm(box.set_value("light").run())
    assert "Weight at most is light, which is not a number; allowed: 10 to 20" in page(at)
    assert next(box for box in at.text_input if "limit-weight_kg" in box.key).value == "light"


@pytest.mark.parametrize(
    "part, typed, told",
    [
        ("start", "900", "Baffle height: “from” is 900 mm; allowed: 5 to 300 mm."),
        ("stop", "900", "Baffle height: “to” is 900 mm; allowed: 5 to 300 mm."),
        ("start", "80", "Baffle height: “to” is 60 mm; allowed: 80 mm or more, where the range starts."),
        ("step", "0", "Baffle height: “in steps of” is 0 mm; allowed: more than 0"),
        ("step", "much", "Baffle height: “in steps of” is much, which is not a number"),
        ("step", "0.01", "Baffle height: “in steps of” is too small: it gives 2001 values; allowed: 1001."),
    ],
)
def test_a_range_that_cannot_be_is_refused_before_anything_is_scored(part, typed, told):
    at = opened(comparison(WIDE, recipe=SMALL))
    box = next(box for box in at.text_input if box.key.startswith(f"tm-baffles.height_mm-{part}"))
    at = calm(box.set_value(typed).run())
    assert told in page(at)
    assert at.button(key="tm_score").disabled


def test_nothing_to_vary_is_said():
    at = opened(comparison(WIDE, recipe=SMALL))
    box = next(box for box in at.multiselect if box.label == "Let these vary")
    at = calm(box.set_value([]).run())
    assert "Choose at least one thing to vary." in page(at)


def test_too_many_layouts_are_refused_with_the_reason():
    many = Recipe(
        start="A",
        choices=(
            Choice(path="outline.length_mm", span=Span(start=1200, stop=2200, step=2)),
            Choice(path="outline.width_mm", span=Span(start=1000, stop=1900, step=10)),
        ),
    )
    at = press(opened(comparison(WIDE, recipe=many)), "tm_score")
    assert "allowed: 2000 layouts" in page(at)
    assert "Which give nothing away?" not in [h.value for h in at.header]


def test_inches_are_read_and_shown_where_the_line_up_is_in_trade_units():
    at = opened(comparison(WIDE, recipe=SMALL, units="trade"))
    boxes = [box for box in at.text_input if box.key.startswith("tm-baffles.height_mm")]
    assert [box.value for box in boxes][:2] == ["1⅝", "2⅜"]
    at = calm(boxes[0].set_value("2").run())
    at = press(at, "tm_score")
    assert now(at).recipe.choices[0].span.start == pytest.approx(50.8)


def test_scoring_puts_the_recipe_in_the_link():
    at = opened(comparison(WIDE))
    at = press(at, "tm_score")
    recipe = now(at).recipe
    assert recipe.start == "A"
    assert next(choice.path for choice in recipe.choices) == "baffles.height_mm"


def test_a_changed_start_is_told_beside_the_old_results():
    at = press(opened(comparison(WIDE, recipe=SMALL)), "tm_score")
    assert "has changed since" not in page(at)
    at.session_state.comparison = comparison(WIDE, night=Night(air_c=4), recipe=SMALL)
    assert "A or the night has changed since these were scored." in page(calm(at.run()))


def test_results_of_other_boxes_are_marked_as_from_before_and_may_still_be_added():
    at = press(opened(comparison(WIDE, recipe=SMALL)), "tm_score")
    assert "from before" not in page(at)
    box = next(box for box in at.text_input if box.key.startswith("tm-baffles.height_mm-stop"))
    at = calm(box.set_value("70").run())
    assert "8 quilts will be scored." in page(at)
    told = "These are from before: 6 quilts with baffle height 40 mm to 60 mm and outer shell "
    assert told in page(at) and "Score again" in page(at)
    at = press(at, "tm_add_a")
    assert now(at).candidates[-1].letter == "B"
    at = press(at, "tm_score")
    assert "from before" not in page(at)


def test_a_wish_is_answered_in_the_form_of_the_question():
    at = opened(comparison(WIDE, night=Night(air_c=-9)))
    at = press(at, "tm_wish_find")
    told = re.search(
        r"Change the baffle height from 60 mm to (\d+) mm, and A is comfortable down to −9 °C\.", page(at)
    )
    assert told and int(told[1]) > 60
    at = press(at, "tm_wish_add")
    assert now(at).candidates[-1].design.baffles.height_mm == int(told[1])


def test_a_wish_out_of_reach_says_what_is_nearest():
    at = opened(comparison(WIDE))
    box = next(box for box in at.text_input if box.key.startswith("tm_wish_comfort_c"))
    calm(box.set_value("-55").run())
    at = press(at, "tm_wish_find")
    assert re.search(r"The baffle height alone cannot reach that: .* The nearest is 300 mm", page(at))
    # 300 mm is the most that the box takes: nobody sews that, so it is told and not offered.
    assert "That is as far as this box goes, so it is not offered for the line-up." in page(at)
    assert "tm_wish_add" not in [button.key for button in at.button]


def test_an_empty_line_up_leads_to_the_line_up():
    at = opened(comparison())
    assert not [button for button in at.button if button.key == "tm_score"]


def test_counts_differences_and_offers_in_words():
    assert count_words(4320, 1_000_000, 524_288) == "4320\u00a0quilts will be scored."
    assert count_words(1, 1_000_000, 524_288) == "1\u00a0quilt will be scored."
    assert "up to 524\u202f288, spread evenly" in count_words(3_000_000, 1_000_000, 524_288)
    assert difference("weight_kg", -0.036, "metric", "") == "36\u00a0g\u00a0lighter"
    assert difference("comfort_c", 2.0, "metric", "") == "2\u00a0°C\u00a0less warm"
    assert difference("cost", 0.2, "metric", "EUR") == "the same"
    # At a rounded limit no fewer pass than at the exact one.
    assert rounded_up("weight_kg", 0.5401) == 0.541
    assert rounded_up("comfort_c", -3.2) == -3.0
    assert rounded_up("weight_kg", 0.54) == 0.54


def test_a_quilt_that_is_best_in_two_is_listed_once():
    by = dict.fromkeys(KEYS, 0.0)
    rows = listed([Pick("lightest", 4, by), Pick("warmest", 2, by), Pick("smallest", 4, by)])
    assert rows == (Listed("a", ("lightest", "smallest"), 4, by), Listed("b", ("warmest",), 2, by))


def test_a_score_that_is_the_same_on_the_whole_front_has_no_best():
    """More down in the same shells is neither more work nor more cloth to sew: the hours stay."""
    more = Choice(path="fill.overstuff_percent", span=Span(start=0, stop=40, step=20))
    result = sweep(WIDE, MILD, load_catalogue(), Recipe(choices=(more,)))
    front = front_of(result)
    hours = result.scored.scores[front.rows, KEYS.index("work_h")]
    assert len(front.rows) == 3 and hours.max() - hours.min() < 0.25
    naming = Naming(str, lambda path, value: str(value), "metric", "EUR")
    picks, told = told_apart(result, front, short_list(result, front, dict.fromkeys(KEYS, 0.0)), naming)
    assert "quickest" not in [pick.best_in for pick in picks]
    assert {"lightest", "warmest", "knee"} <= {pick.best_in for pick in picks}
    assert re.search(r"the same: all take \S+ h\.", told.replace("\u00a0", " "))
    # One quilt alone is best in everything, and that is worth saying.
    only = front_of(result, Limits(weight_kg=float(result.scored.scores[:, KEYS.index("weight_kg")].min())))
    alone = short_list(result, only, dict.fromkeys(KEYS, 0.0))
    assert len(only.rows) == 1 and told_apart(result, only, alone, naming) == (alone, "")


@pytest.mark.parametrize("units", ["metric", "trade"])
def test_the_figure_holds_every_quilt_the_front_and_a_letter_for_each_of_the_short_list(units):
    recipe = Recipe(choices=(Choice(path="baffles.height_mm", span=Span(start=40, stop=60, step=1)), SHELLS))
    result = sweep(WIDE, MILD, load_catalogue(), recipe)
    front = front_of(result)
    rows = listed(short_list(result, front, dict.fromkeys(KEYS, 0.0)))
    start = {key: float(result.scored.scores[0, place]) for place, key in enumerate(KEYS)}
    figure = cloud(result, front, rows, ("A", start), ("weight_kg", "comfort_c"), units, "EUR", "dark")
    tried, ink, own = figure.data
    assert (len(tried.x), len(ink.x), len(own.x)) == (42, len(front.rows), 1)
    kg, celsius = result.scored.scores[0, [KEYS.index("weight_kg"), KEYS.index("comfort_c")]]
    # An avoirdupois ounce is 28.349523 g.
    expected = (kg * 1000, celsius) if units == "metric" else (kg * 1000 / 28.349523125, celsius * 9 / 5 + 32)
    assert (tried.x[0], tried.y[0]) == pytest.approx(expected, rel=1e-6)
    letters = [note.text for note in figure.layout.annotations]
    assert letters == ["<b>A</b>", *(f"<b>{row.mark}</b>" for row in rows)]
    assert str(len(front.rows)) in alternative(result, front, rows, ("weight_kg", "comfort_c"))
    with pytest.raises(ValueError, match="as x is"):
        cloud(result, front, rows, ("A", start), ("cost", "cost"), units, "EUR", "dark")


@pytest.mark.parametrize(
    "choice",
    [
        Choice(path="baffles.height_mm", values=("abc", 50)),
        Choice(path="baffles.height_mm", values=(9000,)),
        Choice(path="baffles.height_mm", values=(None, True)),
        Choice(path="shells.inner", values=("silk", "<script>")),
        Choice(path="baffles.layout", span=Span(start=1, stop=3, step=1)),
        Choice(path="end_panels.fitted", values=("maybe",)),
        Choice(path="no.such.thing", values=(1,)),
        Choice(path="suspension", values=("cord-3",)),
    ],
    ids=lambda choice: f"{choice.path} {choice.values}",
)
def test_a_recipe_from_a_stranger_that_no_design_takes_is_left_out(choice):
    at = opened(comparison(WIDE, recipe=Recipe(start="F", choices=(choice, SHELLS))))
    assert "2 quilts will be scored." in page(at)
    at = press(at, "tm_score")
    assert "of 2 are on the front" in page(at) or "of 2 is on the front" in page(at)


def test_a_set_of_numbers_from_a_link_is_kept_and_may_become_a_range():
    some = Choice(path="baffles.height_mm", values=(40.0, 45.0, 60.0))
    at = opened(comparison(WIDE, recipe=Recipe(choices=(some,))))
    assert "Baffle height: 40, 45, 60 mm" in page(at)
    assert "3 quilts will be scored." in page(at)
    at = press(at, "tm-baffles.height_mm-range")
    assert "5 quilts will be scored." in page(at)
