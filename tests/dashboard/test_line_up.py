"""The Line-up page as a person uses it: sentence, table, controls, and the states from none to six."""

import re
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.arrival import AS_SENT, KEPT, YOUR_COPY
from dashboard.undo_button import MOST_SIGNS
from dashboard.verdicts import ADD_A_SECOND, EMPTY, FULL
from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Baffles, Design, Shells
from engine.export.link import decode_link, encode_link
from engine.night import Night

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
HEAVY = Design(name="Heavy", shells=Shells(inner="nylon-30d-46", outer="nylon-30d-46"))
LIGHT = Design(name="Light", shells=Shells(inner="nylon-7d-19", outer="nylon-7d-19"))
THIN = Design(name="Thin", baffles=Baffles(height_mm=25, spacing_mm=80))
MILD = Night(air_c=12)
HOSTILE = "<img src=x onerror=alert(1)> ![i](http://example.org/i.png) :red[x]"


def comparison(*designs: Design, night: Night = MILD, **more: object) -> Comparison:
    candidates = tuple(
        Candidate(letter=letter, design=design) for letter, design in zip(LETTERS, designs, strict=False)
    )
    return Comparison(night=night, candidates=candidates, **more)


def opened(what: Comparison | str | None = None) -> AppTest:
    at = AppTest.from_file(str(APP), default_timeout=60)
    if what is not None:
        at.query_params["d"] = what if isinstance(what, str) else encode_link(what)
    at.run()
    return calm(at)


def calm(at: AppTest) -> AppTest:
    assert not at.exception, at.exception
    return at


def now(at: AppTest) -> Comparison:
    """What the address holds: what somebody would get who is sent it."""
    token = at.query_params["d"]
    return decode_link(token[0] if isinstance(token, list) else token)


def bodies(at: AppTest) -> list[str]:
    return [element.proto.body for element in at.get("html") if "<style>" not in element.proto.body]


def read(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split()).replace("\u00a0", " ")


def page(at: AppTest) -> str:
    return " ".join(read(body) for body in bodies(at))


def verdict(at: AppTest) -> str:
    return next(read(body) for body in bodies(at) if "lw-verdict" in body)


def table(at: AppTest) -> str:
    return next(body for body in bodies(at) if "lw-lineup-box" in body)


def rows(at: AppTest) -> list[str]:
    return [read(row) for row in re.findall(r"<tr role=\"row\".*?</tr>", table(at))[1:]]


def cells(at: AppTest, score: str) -> list[str]:
    return [read(cell) for cell in re.findall(rf'<td [^>]*data-score="{score}".*?</td>', table(at))]


def press(at: AppTest, key: str) -> AppTest:
    return calm(at.button(key=key).click().run())


def pick(at: AppTest, key: str, value: str) -> AppTest:
    at.get_by_key(key).set_value(value)
    return calm(at.run())


def test_a_first_visit_shows_four_samples_and_the_first_steps():
    at = opened()
    assert at.title[0].value == "Which quilt shall we make?"
    assert len(rows(at)) == 4
    assert "These are samples. Start from your own night" in page(at)
    assert AS_SENT not in page(at)


def test_the_sentence_changes_when_the_night_changes():
    warm, cold = opened(comparison(HEAVY, LIGHT)), opened(comparison(HEAVY, LIGHT, night=Night(air_c=-20)))
    assert verdict(warm).startswith("A is almost surely comfortable")
    assert verdict(cold).startswith("A is almost surely too cold")
    assert "too cold for the night" in rows(cold)[0] and "too cold for the night" not in rows(warm)[0]


def test_a_candidate_that_fails_the_night_has_no_best_tag():
    at = opened(comparison(HEAVY, LIGHT, THIN, night=Night(air_c=3)))
    assert "too cold for the night" in rows(at)[2]
    assert not re.search(r"\bbest\b", rows(at)[2])
    assert re.search(r"\bbest\b", cells(at, "weight_kg")[1])


def test_the_reference_is_said_in_each_cell_and_can_be_changed():
    at = opened(comparison(HEAVY, LIGHT))
    assert cells(at, "weight_kg")[0].count("reference") == 1 and "lighter" in cells(at, "weight_kg")[1]
    pick(at, "lu_reference", "B")
    assert "heavier" in cells(at, "weight_kg")[0] and "reference" in cells(at, "weight_kg")[1]
    assert verdict(at).startswith("B is") and "Against B: A is" in verdict(at)
    assert now(at).reference == "B"


def test_units_convert_and_the_designs_stay_as_they_were():
    at = opened(comparison(HEAVY))
    grams = float(re.search(r"([\d ]+) g", cells(at, "weight_kg")[0])[1])
    celsius = float(re.search(r"(−?\d+) °C", cells(at, "comfort_c")[0])[1].replace("−", "-"))
    pick(at, "lu_units", "trade")
    ounces = float(re.search(r"([\d.]+) oz", cells(at, "weight_kg")[0])[1])
    fahrenheit = float(re.search(r"(−?\d+) °F", cells(at, "comfort_c")[0])[1].replace("−", "-"))
    assert ounces == pytest.approx(
        grams / 28.349523125, abs=0.07
    )  # the ounce is 28.349523125 g by definition
    assert fahrenheit == pytest.approx(1.8 * celsius + 32, abs=1.5)  # half a degree of each, rounded
    assert now(at).candidates == comparison(HEAVY).candidates and now(at).units == "trade"


def test_rows_can_be_sorted_by_a_score_without_a_step_to_undo():
    at = opened(comparison(HEAVY, LIGHT))
    at.selectbox(key="lu_sort").set_value("weight_kg").run()
    assert [row.split()[1] for row in rows(calm(at))] == ["B", "A"]
    assert at.button(key="lu_undo").disabled


def test_duplicate_makes_a_copy_under_the_next_letter_and_opens_it_in_close_up():
    at = press(opened(comparison(HEAVY, LIGHT)), "lu_duplicate")
    assert [(c.letter, c.design.name) for c in now(at).candidates][-1] == ("C", "Heavy, copy")
    assert now(at).design("C").shells == HEAVY.shells
    assert at.title[0].value.startswith("C")


def test_removing_asks_nothing_and_undo_brings_it_back_under_its_letter():
    at = opened(comparison(HEAVY, LIGHT, THIN, reference="B", chosen="B", reason="light"))
    pick(at, "lu_pick", "B")
    press(at, "lu_remove")
    assert [c.letter for c in now(at).candidates] == ["A", "C"]
    assert now(at).reference is None and now(at).chosen is None and now(at).reason == ""
    assert at.button(key="lu_undo").label.replace("\\", "") == "Undo: remove B"
    assert not at.button(key="lu_undo").help
    press(at, "lu_undo")
    assert [c.letter for c in now(at).candidates] == ["A", "B", "C"] and now(at).reason == "light"


def test_a_name_and_a_note_are_taken_for_the_picked_candidate():
    at = opened(comparison(HEAVY, LIGHT))
    pick(at, "lu_pick", "B")
    calm(at.text_input(key="lu_name").set_value("  Featherweight ").run())
    calm(at.text_area(key="lu_note").set_value("for the lake").run())
    assert (now(at).design("B").name, now(at).design("B").note) == ("Featherweight", "for the lake")
    assert now(at).design("A") == HEAVY
    assert "Featherweight" in rows(at)[1] and "for the lake" in page(at)


def test_an_empty_name_is_refused_with_what_is_allowed_and_the_old_one_stays():
    at = opened(comparison(HEAVY))
    calm(at.text_input(key="lu_name").set_value(" ").run())
    assert "Name (name) is" in page(at) and "1 to 60 characters" in page(at)
    assert "Heavy" in rows(at)[0] and now(at).design("A").name == "Heavy"


def test_one_candidate_at_a_time_is_chosen_and_again_takes_the_choice_away():
    at = press(opened(comparison(HEAVY, LIGHT)), "lu_choose")
    calm(at.text_input(key="lu_reason").set_value("we have the cloth").run())
    assert (now(at).chosen, now(at).reason) == ("A", "we have the cloth")
    assert "chosen" in rows(at)[0]
    pick(at, "lu_pick", "B")
    press(at, "lu_choose")
    assert (now(at).chosen, now(at).reason) == ("B", "")
    assert "chosen" not in rows(at)[0] and "chosen" in rows(at)[1]
    press(at, "lu_choose")
    assert now(at).chosen is None


def test_an_empty_line_up_offers_three_ways_to_begin():
    at = opened(comparison())
    assert verdict(at) == EMPTY
    assert {"Add a sample", "Open a file", "Start from a blank quilt"} <= {b.label for b in at.button}
    press(at, "lu_blank")
    assert [c.letter for c in now(at).candidates] == ["A"]


def test_one_candidate_has_scores_without_differences_and_a_way_to_a_second():
    at = opened(comparison(HEAVY))
    assert verdict(at).endswith(ADD_A_SECOND)
    assert "reference" not in rows(at)[0] and "best" not in rows(at)[0]
    press(at, "lu_duplicate_one")
    assert len(now(at).candidates) == 2


def test_six_candidates_are_the_most_and_adding_is_not_offered():
    at = opened(comparison(HEAVY, LIGHT, THIN, HEAVY, LIGHT, THIN))
    assert len(rows(at)) == 6 and FULL in page(at)
    assert at.button(key="lu_add").disabled and at.button(key="lu_duplicate").disabled


def test_a_line_up_that_was_sent_says_so_until_it_is_worked_on():
    at = opened(comparison(HEAVY, LIGHT))
    assert AS_SENT in page(at)
    press(at, "lu_copy")
    assert AS_SENT not in page(at) and YOUR_COPY in page(at)


def test_the_first_steps_stay_and_are_marked_until_all_three_are_done():
    at = press(opened(), "lu_choose")
    assert "1 Change the night · 2" in page(at)
    press(at, "lu_duplicate")
    assert at.title[0].value.startswith("E")
    at.button(key="close-up-night").click().run()
    at.text_input(key="field-night-air_c").set_value("-2").run()
    calm(at.switch_page("views/line_up.py").run())
    assert "1 Change the night ✓ done · 2 pick the nearest sample, Duplicate ✓ done · 3" in page(at)
    calm(at.switch_page("views/close_up.py").run())
    pick(at, "field-E-baffles-height_mm", "70")
    calm(at.switch_page("views/line_up.py").run())
    assert "These are samples" not in page(at) and KEPT in page(at)


def test_a_file_that_was_opened_is_no_first_step_done():
    at = opened()
    was = at.session_state["comparison"]
    own = Design(name="From a file", baffles=Baffles(height_mm=45))
    added = was.model_copy(update={"candidates": (*was.candidates, Candidate(letter="E", design=own))})
    at.session_state["comparison"] = added
    calm(at.run())
    assert "E From a file" in page(at) and "These are samples" in page(at) and "done" not in page(at)


def test_a_long_edit_is_cut_on_the_undo_button_and_told_whole_in_its_help():
    at = opened()
    at.button(key="lu_night").click().run()
    name = next(each.label for each in at.button if (each.key or "") == "night-preset-2")
    at.button(key="night-preset-2").click().run()
    label, help = (
        text.replace("\\", "") for text in (at.button(key="lu_undo").label, at.button(key="lu_undo").help)
    )
    assert help == f"Undo: the night: {name}" and len(label) <= MOST_SIGNS < len(help)
    assert label.endswith("…") and help.startswith(label.removesuffix("…"))


def test_the_first_steps_can_be_hidden_and_stay_so():
    at = press(opened(), "lu_hint_hide")
    assert "These are samples" not in page(at)
    press(at, "lu_choose")
    assert "These are samples" not in page(at) and KEPT not in page(at)
    assert "lu_hint_hide" not in {button.key for button in at.button}
    assert "lu_hint_hide" not in {button.key for button in opened(comparison(HEAVY)).button}


def test_the_copy_of_a_sample_leaves_its_note_behind_and_that_of_an_own_quilt_takes_it_along():
    at = press(opened(), "lu_duplicate")
    assert now(at).design("A").note and now(at).design("E").note == ""
    own = HEAVY.model_copy(update={"note": "For the ridge."})
    assert now(press(opened(comparison(own)), "lu_duplicate")).design("B").note == "For the ridge."


def test_a_link_that_cannot_be_read_gives_one_plain_sentence_and_the_samples():
    at = opened("9nonsense")
    assert page(at).count("This link could not be read") == 1
    assert len(rows(at)) == 4


def test_a_link_with_a_good_in_a_place_that_it_does_not_serve_is_refused_by_field():
    at = opened(comparison(Design(shells=Shells(inner="mesh-24"))))
    assert "Inner shell (A, shells.inner) is mesh-24; allowed: film-11, " in page(at)
    assert len(rows(at)) == len(rows(opened()))


def test_what_somebody_typed_stays_text_wherever_it_is_shown():
    design = Design(name=HOSTILE[:60], note=HOSTILE)
    at = opened(comparison(design, LIGHT, chosen="A", reason=HOSTILE, currency="<b>€"))
    joined = "".join(bodies(at))
    assert "<img" not in joined and "<b>€" not in joined
    assert "&lt;img src=x" in joined
    for element in [*at.markdown, *at.caption, *at.header, *at.title]:
        assert "example.org" not in element.value
    assert "<b>€" not in at.get("plotly_chart")[0].proto.spec


def test_the_currency_label_stands_behind_each_price():
    at = opened(comparison(HEAVY, LIGHT))
    calm(at.text_input(key="lu_currency").set_value("kr").run())
    assert all(" kr" in cell for cell in cells(at, "cost"))


def test_the_same_score_on_both_axes_makes_them_change_places():
    at = opened(comparison(HEAVY, LIGHT))
    at.selectbox(key="lu_across").set_value("comfort_c").run()
    calm(at)
    assert (at.selectbox(key="lu_across").value, at.selectbox(key="lu_up").value) == (
        "comfort_c",
        "weight_kg",
    )


def test_what_is_the_same_is_folded_and_what_differs_is_listed():
    differs = next(body for body in bodies(opened(comparison(HEAVY, LIGHT))) if "lw-choice-table" in body)
    listed, folded = differs.split("<details")
    assert "Inner shell" in listed and "Outer shell" in listed and "Baffle height" not in listed
    assert "Baffle height: 50 mm" in read("<details" + folded)


def test_warnings_stand_under_their_candidate_with_what_to_do():
    at = opened(
        comparison(HEAVY, Design(name="Leaky", shells=Shells(inner="ripstop-38", outer="ripstop-38")))
    )
    text = page(at)
    assert "B Leaky" in text and "The inner shell lets down through" in text
    assert "Take a calendered ripstop" in text
    assert "Stop" in rows(at)[1] and "Stop" not in rows(at)[0]


def test_parts_of_the_weight_add_up_to_the_weight():
    parts = next(body for body in bodies(opened(comparison(HEAVY))) if "lw-parts" in body)
    weight = next(part for part in parts.split("<details") if "<summary>Weight<" in part)
    numbers = [int(n) for n in re.findall(r'lw-num">(\d+)\u00a0g', weight)]
    assert sum(numbers[:-1]) == pytest.approx(numbers[-1], abs=len(numbers) / 2)  # each is rounded to a gram


@pytest.mark.parametrize(
    "key, module, name",
    [
        ("lu_night", "night_dialog", "open_night"),
        ("lu_share", "share_dialog", "open_share"),
        ("lu_add", "share_dialog", "open_add"),
        ("lu_goods", "goods_editor", "show_goods"),
    ],
)
def test_each_button_opens_its_dialog(monkeypatch, key, module, name):
    opened_dialogs = []
    monkeypatch.setattr(f"dashboard.{module}.{name}", lambda: opened_dialogs.append(name))
    press(opened(comparison(HEAVY, LIGHT)), key)
    assert opened_dialogs == [name]
