"""The dialog on the night: every field of it, three to start from, nothing lost on the way."""

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.night_dialog import HOW_ON, WHAT_MEASURES_DO
from dashboard.words import NBSP
from engine.comparison import Comparison
from engine.export.link import encode_link
from engine.samples import first_visit, nights


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
    at.button(key="close-up-night").click().run()
    assert not at.exception
    return at


def reopened(at: AppTest) -> AppTest:
    """After an edit: outside a browser the whole page runs again, and that closes a dialog."""
    at.run()
    at.button(key="close-up-night").click().run()
    return at


def night(at: AppTest):
    return at.session_state["comparison"].night


def keys(at: AppTest) -> set[str]:
    return {
        each.key
        for each in (*at.text_input, *at.selectbox, *at.checkbox)
        if each.key.startswith("field-night")
    }


def test_the_first_line_says_that_the_night_is_shared():
    assert "All candidates are judged on this night." in [each.value for each in opened().markdown]


def test_it_says_once_beside_the_sleeper_what_own_measures_decide_and_what_they_do_not():
    told = " ".join(block.proto.body for block in opened().get("html"))
    assert told.count(WHAT_MEASURES_DO) == 1


def test_three_nights_to_start_from_set_the_air_and_keep_sleeper_and_budgets():
    at = opened()
    before = night(at)
    labels = [
        each.label.replace("\\", "") for each in at.button if (each.key or "").startswith("night-preset")
    ]
    assert labels == list(nights())[:3]
    frost = nights()[labels[2]]
    at.button(key="night-preset-2").click().run()
    assert night(at).air_c == frost.air_c and night(at).clothing_r_m2k_w == frost.clothing_r_m2k_w
    assert night(at).sleeper == before.sleeper
    assert night(at).weight_budget_g == before.weight_budget_g


@pytest.mark.parametrize(
    "key, choice, appears",
    [
        ("field-night-wind", "own", {"field-night-wind_m_s"}),
        (
            "field-night-sleeper-kind",
            "own",
            {"field-night-sleeper-height_mm", "field-night-sleeper-mass_kg", "field-night-sleeper-girth_mm"},
        ),
    ],
)
def test_own_measures_are_asked_for_only_when_they_are_used(key, choice, appears):
    at = opened()
    assert not appears & keys(at)
    at.selectbox(key=key).set_value(choice).run()
    assert appears <= keys(reopened(at))


def test_the_r_of_the_other_half_is_asked_for_only_when_it_is_own():
    at = opened()
    assert "field-night-other_half_r_m2k_w" not in keys(at)
    at.button_group(key="field-night-other_half").set_value("own R").run()
    assert "field-night-other_half_r_m2k_w" in keys(reopened(at))


def test_what_was_refused_in_the_dialog_is_there_when_it_is_opened_again():
    at = opened()
    before = night(at)
    at.text_input(key="field-night-air_c").set_value("-90").run()
    at = reopened(at)
    assert at.text_input(key="field-night-air_c").value == "-90"
    assert night(at) == before


def test_a_first_quilt_takes_longer_for_every_candidate():
    # Half as long again: common practice, no source.
    at = opened(first_visit())
    at.checkbox(key="field-night-first_quilt").set_value(True).run()
    assert night(at).first_quilt
    assert any("× 1.5" in each.proto.body for each in at.get("html"))


def test_an_edit_of_the_night_is_one_step_that_undo_takes_back():
    at = opened()
    before = night(at)
    at.text_input(key="field-night-hours").set_value("7,5").run()
    assert night(at).hours == 7.5
    at.button(key="close-up-undo").click().run()
    assert night(at) == before


def held_open() -> None:
    from dashboard import night_dialog, session

    session.start()
    night_dialog._dialog()


def test_done_stays_open_over_a_field_that_was_refused_and_says_what_is_in_use():
    at = AppTest.from_function(held_open, default_timeout=40).run()
    at.text_input(key="field-night-air_c").set_value("-90").run()
    at.button(key="night-done").click().run()
    told = " ".join(block.proto.body for block in at.get("html")).replace(NBSP, " ")
    assert (
        f"Air temperature -90 was not taken; {first_visit().night.air_c:.0f} °C is still in use." in told
        and HOW_ON in told
    )
    at.text_input(key="field-night-air_c").set_value("-6").run()
    at.button(key="night-done").click().run()
    assert HOW_ON not in " ".join(block.proto.body for block in at.get("html"))
    assert night(at).air_c == -6
