"""The Close-up page: what it says of a quilt, what an edit does to it, and what stands beside each number."""

import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.close_up_parts import (
    cut_to_finish,
    fit_html,
    heat_html,
    made_up_html,
    plan_html,
    sizes_html,
)
from dashboard.field_edits import placed
from dashboard.field_rules import GROUPS
from dashboard.live_strip import live_html
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.evaluate import Evaluation, evaluate
from engine.export.link import encode_link
from engine.night import Night
from engine.samples import first_visit, samples
from engine.units import INCH, MM

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"


def page() -> None:
    from dashboard import session
    from dashboard.views import close_up

    session.start()
    close_up.show()


def opened(comparison: Comparison | None = None) -> AppTest:
    at = AppTest.from_function(page, default_timeout=40)
    if comparison is not None:
        at.query_params["d"] = encode_link(comparison)
    at.run()
    assert not at.exception
    return at


def bodies(at: AppTest) -> list[str]:
    return [element.proto.body for element in at.get("html")]


def text(html: str) -> str:
    """What a person reads of it."""
    html = re.sub(r"<style>.*?</style>", "", html, flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def strip(at: AppTest) -> str:
    return next(body for body in bodies(at) if 'role="status"' in body)


def of(changes: dict[str, object], night: Night | None = None) -> Evaluation:
    design = placed(Design(name="One"), changes)
    assert isinstance(design, Design)
    return evaluate(design, night or Night(), load_catalogue())


def only(design: Design) -> Comparison:
    return Comparison(candidates=(Candidate(letter="A", design=design),))


def test_the_heading_is_letter_and_name_and_the_verdict_comes_first():
    at = opened()
    first = first_visit().candidates[0].design
    assert at.title[0].value.replace("\\", "") == f"A: {first.name}"
    verdict = next(body for body in bodies(at) if "lw-verdict" in body)
    assert "comfortable down to" in verdict
    assert "people differ by more than the band" in verdict
    assert "Add a second candidate" not in verdict


def test_there_are_five_groups_and_those_compared_most_stand_open():
    at = opened()
    told = {expander.label: expander.proto.expanded for expander in at.expander}
    assert list(told)[:5] == list(GROUPS)
    assert [label for label, is_open in told.items() if is_open] == ["Fabrics", "Fill"]


def test_edits_move_all_five_scores_of_the_strip_and_undo_takes_them_back():
    at = opened()
    before = strip(at)
    assert not re.search(r"heavier|lighter|larger|smaller|warm|dearer|cheaper|slower|quicker", text(before))
    at.text_input(key="field-A-baffles-height_mm").set_value("110").run()
    for word in ("heavier", "larger", "warmer", "dearer"):
        assert word in text(strip(at)), text(strip(at))
    # Higher baffles take hardly longer; more of them do.
    at.text_input(key="field-A-baffles-spacing_mm").set_value("100").run()
    assert "slower" in text(strip(at)), text(strip(at))
    at.button(key="close-up-undo").click().run()
    at.button(key="close-up-undo").click().run()
    assert text(strip(at)) == text(before)


def test_another_candidate_is_opened_by_its_letter_and_starts_its_own_differences():
    at = opened()
    at.text_input(key="field-A-baffles-height_mm").set_value("90").run()
    at.button_group(key="close-up-pick").set_value("B").run()
    assert at.title[0].value.startswith("B: ")
    assert "heavier" not in strip(at)


def test_sheet_insulation_and_back_brings_the_same_down_back():
    at = opened()
    at.selectbox(key="field-A-fill-good").set_value("down-900").run()
    at.button_group(key="field-A-fill-form").set_value("sheet").run()
    assert at.session_state["comparison"].design("A").fill.good.startswith("sheet")
    keys = {box.key for box in at.text_input}
    assert "field-A-fill-layers" in keys
    assert "field-A-fill-overstuff_percent" not in keys
    at.selectbox(key="field-A-fill-good").set_value("sheet-133").run()
    at.button_group(key="field-A-fill-form").set_value("down").run()
    assert at.session_state["comparison"].design("A").fill.good == "down-900"
    at.button_group(key="field-A-fill-form").set_value("sheet").run()
    assert at.session_state["comparison"].design("A").fill.good == "sheet-133"


def test_a_remedy_does_what_its_button_says():
    narrow = placed(Design(name="Narrow"), {"outline.width_mm": 700})
    at = opened(only(narrow))
    button = next(each for each in at.button if each.label.startswith("Do that: width"))
    wanted = float(re.search(r"→ (\d+)", button.label)[1])
    button.click().run()
    assert at.session_state["comparison"].design("A").outline.width_mm == wanted
    assert not any(each.label.startswith("Do that: width") for each in at.button)


def test_the_suspension_can_be_added_to_changed_and_taken_from():
    at = opened(only(Design(name="One")))
    at.button(key="field-A-suspension-add").click().run()
    at.button(key="field-A-suspension-add").click().run()
    at.selectbox(key="field-A-suspension-1-good").set_value("hook").run()
    at.text_input(key="field-A-suspension-1-amount").set_value("4").run()
    items = at.session_state["comparison"].design("A").suspension
    assert (items[1].good, items[1].amount) == ("hook", 4)
    at.text_input(key="field-A-suspension-1-amount").set_value("400").run()
    assert any("Amount is 400; allowed: 0 to 50" in body for body in bodies(at))
    assert at.session_state["comparison"].design("A").suspension == items
    at.button(key="field-A-suspension-remove-0").click().run()
    assert [item.good for item in at.session_state["comparison"].design("A").suspension] == ["hook"]
    assert at.text_input(key="field-A-suspension-0-amount").value == "400"


def test_an_empty_line_up_says_what_to_do():
    at = AppTest.from_file(str(APP), default_timeout=40)
    at.query_params["d"] = encode_link(Comparison())
    at.run()
    at.switch_page("views/close_up.py").run()
    assert any("Nothing in the line-up" in body for body in bodies(at))


def test_a_typed_name_is_never_markup():
    name = "![x](https://example.org/a.png)<img src=x>"
    at = opened(only(placed(Design(), {"name": name, "note": name})))
    assert "\\!\\[x\\]\\(" in at.title[0].value
    assert not any("<img src=x>" in body for body in bodies(at))


def test_trade_units_reach_every_number():
    trade = first_visit().model_copy(update={"units": "trade"})
    at = opened(trade)
    shown = " ".join(text(body) for body in bodies(at))
    assert " oz" in shown and " in " in shown and "°F" in shown
    # Fibres, air films, pressures and densities are spoken of in SI by the trade as well.
    assert not re.search(r"\d\u00a0(mm|g|g/m²|°C)\b", shown.replace("mm/s", ""))


def test_differential_cut_agrees_with_the_rule_of_the_trade():
    # 44 in wide, 2½ in baffles, 2 rad of wrap: outer shell 49 in (common practice, no source).
    e = of({"outline.width_mm": 44 * INCH / MM, "baffles.height_mm": 2.5 * INCH / MM})
    inner, outer = e.derived.inner_cut_m[1], e.derived.outer_cut_m[1]
    assert (outer - inner) / INCH == pytest.approx(5.0)
    # 49 in and an allowance of 13 mm at each side.
    assert "Outer shell, width cut 50 → finish at " in text(sizes_html(e, "trade"))
    assert cut_to_finish(49 * INCH, 44 * INCH, "trade") == "cut 49 → finish at 44\u00a0in"


def test_the_short_rule_of_the_trade_is_printed_beside_our_fill():
    # 60 × 44 × 2 in at 800 in³/oz: 6.6 oz (common practice, no source).
    e = of(
        {
            "outline.length_mm": 60 * INCH / MM,
            "outline.width_mm": 44 * INCH / MM,
            "baffles.height_mm": 2 * INCH / MM,
            "fill.good": "down-800",
        }
    )
    assert "Fill by the trade's short rule 6.6 oz" in text(sizes_html(e, "trade")).replace("\u00a0", " ")


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_every_figure_has_its_why_with_source_and_what_it_leaves_out(sample):
    e = evaluate(sample.design, sample.night, load_catalogue())
    for html, count in (
        (sizes_html(e, "metric"), 1),
        (heat_html(e, "metric"), 1),
        (made_up_html(e, "metric", ""), 4),
    ):
        whys = re.findall(r"<details.*?</details>", html, flags=re.S)
        assert len(whys) == count
        for why in whys:
            assert "Why this number?" in why and "Source: " in why and "Left out: " in why and "<li>" in why


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_heat_paths_run_from_the_largest_down_and_sum_to_the_whole(sample):
    told = text(heat_html(evaluate(sample.design, sample.night, load_catalogue()), "metric"))
    shares = [int(share) for share in re.findall(r"W (\d+) %", told.replace("\u00a0", " "))]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(100, abs=len(shares) / 2)


def test_parts_that_are_absent_are_not_listed():
    told = text(made_up_html(of({"baffles.layout": "sewn-through"}), "metric", ""))
    assert "Beyond the quilt" not in told
    assert "Baffles" not in told.split("Packed volume")[0]


def test_a_cost_carries_the_label_that_the_maker_gave():
    assert "\u00a0shells" in made_up_html(of({}), "metric", "shells")


def test_a_quilt_too_small_is_said_to_be_so_with_least_sizes():
    told = text(fit_html(of({"outline.width_mm": 700}), "metric"))
    assert told.startswith("It is too small for this sleeper")
    assert "at least 990" in told


def test_the_strip_names_its_five_scores_and_the_limit_shortly_and_in_full_for_who_hears_it():
    e = of({})
    html = live_html("A", e.score, e.score, "metric", "", "")
    seen = re.findall(r'<span class="lw-strip-long">(\w+)</span>', html)
    assert seen == ["now", "weight", "volume", "comfort", "limit", "cost", "work"]
    heard = re.findall(r'class="lw-hidden">([^<]+): <', html)
    assert heard == ["Weight", "Packed volume", "Comfortable down to", "Limit", "Cost, used", "Work"]


def test_a_page_opened_with_a_chosen_candidate_and_none_picked_shows_the_chosen_one():
    chosen = first_visit().model_copy(update={"chosen": "C", "reference": "B"})
    assert opened(chosen).title[0].value.startswith("C")
    assert opened(first_visit().model_copy(update={"reference": "B"})).title[0].value.startswith("B")


def test_a_resistance_stands_beside_what_clothes_and_bedding_are_sold_by():
    night = Night(clothing_r_m2k_w=0.31)
    one = evaluate(Design(name="One"), night, load_catalogue())
    # 1 clo = 0.155 m²K/W: ISO 9920; 1 tog = 0.1 m²K/W: BS 4745.
    told = heat_html(one, "metric").replace("\u00a0", " ")
    assert "R of sleep clothing: 0.31 m²K/W (3.1 tog, 2.0 clo)" in told


def test_the_strip_says_nothing_of_what_did_not_move():
    e = of({})
    assert "(" not in live_html("A", e.score, e.score, "metric", "", "")


def test_the_plan_has_a_text_for_those_who_cannot_see_it_and_no_raw_markup():
    e = of({"name": '"><script>alert(1)</script>'})
    html = plan_html(e, "metric", "dark")
    assert "<script" not in html
    assert html.count("alt=") == 2 and "baffles" in html


def test_a_quilt_that_a_warning_stops_is_nowhere_praised():
    bare = of({"baffles.layout": "none"}).design
    night = Night(air_c=15)
    at = opened(Comparison(night=night, candidates=(Candidate(letter="A", design=bare),)))
    told = text(" ".join(bodies(at)))
    assert "A is stopped: loose down without baffles slides to the lowest place. Mend that first" in told
    assert "comfortable for" not in told and "surely comfortable" not in told


@pytest.mark.parametrize(
    "share, told", [(1.01, ""), (0.985, "within the 2 % that makers do not feel, ours"), (0.97, "too small")]
)
def test_a_width_under_the_least_is_within_the_tolerance_or_too_small(share, told):
    fit = of({}).fit
    e = replace(of({}), fit=replace(fit, width_m=share * fit.least_width_m, narrow=share < 0.98))
    row = text(fit_html(e, "metric")).replace("\u00a0", " ").partition("Finished width")[2]
    row = row.partition("Covered")[0]
    assert told in row and ("makers" in row, "too small" in row) == ("makers" in told, "small" in told)
