"""One field in a box: what is taken, what is refused and kept, and what an edit is called."""

from functools import cache
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.field_edits import Spot, placed
from dashboard.field_rules import GROUPS, NIGHT_GROUPS, Choices, applies
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.design import Design
from engine.night import Night

NUMBERS = [
    (target, path)
    for target, groups in (("design", GROUPS), ("night", NIGHT_GROUPS))
    for paths in groups.values()
    for path in paths
    if "unit" in (Spot(path, target).info.json_schema_extra or {})
]
OPTIONAL = {"weight_budget_g", "cost_budget"}
SHOWS: list[dict[str, Any]] = [
    {},
    {"outline.shape": "taper"},
    {"outline.shape": "tapered ends"},
    {"ends.shape": "darted"},
    {"baffles.layout": "staggered"},
    {"edges.kind": "low edge wall"},
    {"fill.rule": "grams"},
    {"fill.good": "sheet-100"},
    {"kind": "top quilt", "top.collar": True},
]
"""Choices that together bring every field into view."""


def page() -> None:
    import streamlit as st

    from dashboard import session
    from dashboard.fields import field

    session.start()
    for path in st.session_state["paths"]:
        target = st.session_state["target"]
        field(path, target=target, letter="A" if target == "design" else "")


def opened(target: str, *paths: str, comparison: Comparison | None = None) -> AppTest:
    """A page with these fields of candidate A or of the night, and nothing else."""
    from engine.export.link import encode_link

    at = AppTest.from_function(page, default_timeout=30)
    at.session_state["paths"], at.session_state["target"] = paths, target
    at.query_params["d"] = encode_link(comparison or with_everything(target, paths[0]))
    at.run()
    assert not at.exception
    return at


@cache
def with_everything(target: str, path: str) -> Comparison:
    """A comparison in which this field applies."""
    night = placed(Night(), {"wind": "own", "other_half": "own R", "sleeper.kind": "own"})
    for change in SHOWS:
        design = placed(Design(name="One"), change)
        form = load_catalogue().fill(design.fill.good).form
        if target == "night" or applies(path, Choices(design, form)):
            return Comparison(night=night, candidates=(Candidate(letter="A", design=design),))
    raise AssertionError(f"no design shows {path}")


def box(at: AppTest, target: str, path: str):
    return at.text_input(key=Spot(path, target, "A" if target == "design" else "").key)


def value(at: AppTest, target: str, path: str) -> Any:
    now: Comparison = at.session_state["comparison"]
    found: Any = now.design("A") if target == "design" else now.night
    for step in path.split("."):
        found = getattr(found, step)
    return found


def messages(at: AppTest) -> str:
    return " ".join(element.proto.body for element in at.get("html"))


def limits(target: str, path: str) -> tuple[float, float]:
    rules = Spot(path, target).info.metadata
    low = next(rule.ge for rule in rules if getattr(rule, "ge", None) is not None)
    high = next(rule.le for rule in rules if getattr(rule, "le", None) is not None)
    return low, high


@pytest.mark.parametrize("target, path", NUMBERS)
def test_a_number_that_cannot_stand_is_refused_by_name_and_kept_in_its_box(target, path):
    low, high = limits(target, path)
    at = opened(target, path)
    before, stored = at.session_state["comparison"], value(at, target, path)
    label = Spot(path, target).info.title
    bad = [f"{low - 1:g}", f"{high + 1:g}", "thick", "NaN", "inf", "1e9", "1000000000", "7 stones", "(50)"]
    if path not in OPTIONAL:
        bad += ["", "   "]
    for typed in bad:
        box(at, target, path).set_value(typed).run()
        told = messages(at)
        assert f"{label} is " in told, (typed, told)
        assert typed.strip() == "" or typed.split()[0].replace("-", "−").lstrip("−") in told, (typed, told)
        assert "allowed: " in told and "is still in use" in told, (typed, told)
        assert box(at, target, path).value == typed
        assert at.session_state["comparison"] == before
        assert value(at, target, path) == stored


@pytest.mark.parametrize("target, path", NUMBERS)
def test_a_decimal_comma_is_read_as_a_decimal_point(target, path):
    low, high = limits(target, path)
    at = opened(target, path)
    whole = Spot(path, target).info.annotation is int
    step = 0.25 if high - low <= 5 else 0.5
    # Two fields have limits that depend on others, or a gap in them.
    wanted = {"outline.taper_from_mm": 1000.5, "fill.quilting_mm": 450.5}.get(path, low + step)
    box(at, target, path).set_value(f"{wanted:g}".replace(".", ",")).run()
    if whole:
        assert "whole numbers" in messages(at)
        return
    assert "is still in use" not in messages(at)
    assert value(at, target, path) == pytest.approx(wanted)


@pytest.mark.parametrize("path", sorted(OPTIONAL))
def test_an_empty_budget_is_no_budget(path):
    at = opened("night", path)
    box(at, "night", path).set_value("300").run()
    assert value(at, "night", path) == 300
    box(at, "night", path).set_value("").run()
    assert value(at, "night", path) is None
    assert "is still in use" not in messages(at)


def test_inches_are_taken_where_millimetres_are_shown():
    # 1 in = 25.4 mm: international yard and pound agreement (1959).
    at = opened("design", "baffles.height_mm")
    box(at, "design", "baffles.height_mm").set_value("2½ in").run()
    assert value(at, "design", "baffles.height_mm") == pytest.approx(63.5)
    assert box(at, "design", "baffles.height_mm").value == "63.5"


def test_an_edit_is_named_in_words_with_its_unit():
    at = opened("design", "baffles.height_mm")
    box(at, "design", "baffles.height_mm").set_value("45").run()
    assert at.session_state["visits"][-1].what == "baffle height 50 → 45\u00a0mm"


def test_the_message_names_the_last_good_value():
    at = opened("design", "baffles.height_mm")
    box(at, "design", "baffles.height_mm").set_value("64").run()
    box(at, "design", "baffles.height_mm").set_value("900").run()
    assert (
        "Baffle height is 900\u00a0mm; allowed: 5 to 300\u00a0mm. "
        "The last good value, 64\u00a0mm, is still in use."
    ) in messages(at)


def test_what_was_refused_stays_while_another_field_is_changed():
    at = opened("design", "baffles.height_mm", "baffles.spacing_mm")
    box(at, "design", "baffles.height_mm").set_value("900").run()
    box(at, "design", "baffles.spacing_mm").set_value("130").run()
    assert value(at, "design", "baffles.spacing_mm") == 130
    assert box(at, "design", "baffles.height_mm").value == "900"
    assert "Baffle height is 900" in messages(at)


def test_a_box_follows_a_change_from_elsewhere():
    at = opened("design", "baffles.height_mm")
    box(at, "design", "baffles.height_mm").set_value("900").run()
    now = at.session_state["comparison"]
    design = placed(now.design("A"), {"baffles.height_mm": 77})
    at.session_state["comparison"] = now.model_copy(
        update={"candidates": (Candidate(letter="A", design=design),)}
    )
    at.run()
    assert box(at, "design", "baffles.height_mm").value == "77"
    assert "is still in use" not in messages(at)


def test_a_switch_of_units_converts_the_box_and_not_the_design():
    at = opened("design", "baffles.height_mm")
    box(at, "design", "baffles.height_mm").set_value("63.7").run()
    at.session_state["comparison"] = at.session_state["comparison"].model_copy(update={"units": "trade"})
    at.run()
    assert box(at, "design", "baffles.height_mm").label == "Baffle height, in"
    assert box(at, "design", "baffles.height_mm").value == "2½"
    assert value(at, "design", "baffles.height_mm") == 63.7


def test_fields_that_do_not_close_together_are_refused_in_their_labels_and_tried_again():
    at = opened("design", "outline.taper_from_mm", "outline.length_mm")
    box(at, "design", "outline.length_mm").set_value("850").run()
    assert value(at, "design", "outline.length_mm") == 1900
    assert "Taper starts from head is 900\u00a0mm; allowed: less than the length, 850\u00a0mm" in messages(at)
    assert box(at, "design", "outline.length_mm").value == "850"
    box(at, "design", "outline.taper_from_mm").set_value("600").run()
    assert value(at, "design", "outline.taper_from_mm") == 600
    assert value(at, "design", "outline.length_mm") == 850
    assert "is still in use" not in messages(at)


def test_a_choice_that_does_not_close_yet_shows_the_fields_that_mend_it():
    short = placed(Design(name="Short"), {"outline.length_mm": 800})
    comparison = Comparison(candidates=(Candidate(letter="A", design=short),))
    at = opened("design", "outline.shape", "outline.taper_from_mm", comparison=comparison)
    at.selectbox(key="field-A-outline-shape").set_value("taper").run()
    assert value(at, "design", "outline.shape") == "rectangle"
    assert at.selectbox(key="field-A-outline-shape").value == "taper"
    box(at, "design", "outline.taper_from_mm").set_value("500").run()
    assert value(at, "design", "outline.shape") == "taper"
    assert value(at, "design", "outline.taper_from_mm") == 500


def test_an_empty_name_is_refused_and_a_good_one_taken():
    at = opened("design", "name")
    at.text_input(key="field-A-name").set_value("  ").run()
    assert "Name is empty; allowed: 1 to 60 characters" in messages(at)
    at.text_input(key="field-A-name").set_value("<b>Owl & moth</b>").run()
    assert value(at, "design", "name") == "<b>Owl & moth</b>"


def test_a_box_of_goods_offers_names_of_the_right_role_and_marks_own_ones():
    from engine.catalogue.models import OwnGood

    own = OwnGood(kind="fabric", id="mesh-24", price=3.0)
    comparison = Comparison(candidates=(Candidate(letter="A", design=Design(name="One")),), own_goods=(own,))
    at = opened("design", "baffles.fabric", comparison=comparison)
    options = at.selectbox(key="field-A-baffles-fabric").options
    catalogue = load_catalogue()
    # What it weighs comes first: a narrow box would cut it off.
    assert catalogue.fabric("mesh-24").name == "baffle mesh, 24\u00a0g/m²"
    assert "24\u00a0g/m², baffle mesh (own)" in options
    assert len(options) == sum("baffle" in fabric.roles for fabric in catalogue.fabrics.values())
    assert not set(options) & set(catalogue.fabrics)


def test_help_and_limits_are_those_of_the_model():
    at = opened("design", "baffles.height_mm")
    told = box(at, "design", "baffles.height_mm").help.replace("\\", "")
    assert Spot("baffles.height_mm").info.description in told
    assert "Allowed: 5 to 300\u00a0mm." in told


def test_a_height_in_metres_is_refused_with_the_reading_offered_and_taken_at_a_click():
    own = Night.model_validate({"sleeper": {"kind": "own"}})
    at = opened("night", "sleeper.height_mm", comparison=Comparison(night=own))
    box(at, "night", "sleeper.height_mm").set_value("1.78").run()
    assert "Height is 1.78\u00a0mm; allowed: 1200 to 2200\u00a0mm." in messages(at)
    assert box(at, "night", "sleeper.height_mm").value == "1.78"
    assert value(at, "night", "sleeper.height_mm") == 1700
    (offer,) = at.button
    assert offer.label == "Did you mean 1.78\u00a0m? Use 1780\u00a0mm"
    offer.click().run()
    assert value(at, "night", "sleeper.height_mm") == 1780
    assert box(at, "night", "sleeper.height_mm").value == "1780"
    assert not at.button and messages(at) == ""


def test_a_reading_that_is_what_stands_there_already_clears_the_box_of_what_was_refused():
    own = Night.model_validate({"sleeper": {"kind": "own"}})
    at = opened("night", "sleeper.height_mm", comparison=Comparison(night=own))
    box(at, "night", "sleeper.height_mm").set_value("1.7").run()
    at.button[0].click().run()
    assert value(at, "night", "sleeper.height_mm") == 1700
    assert box(at, "night", "sleeper.height_mm").value == "1700" and messages(at) == ""


def test_help_speaks_in_the_units_shown_and_resistance_in_everyday_ones_too():
    night = Night(clothing_r_m2k_w=0.31)
    at = opened("night", "air_c", "clothing_r_m2k_w", comparison=Comparison(night=night, units="trade"))
    told = box(at, "night", "air_c").help.replace("\\", "").replace("\u00a0", " ")
    assert "Usual 5 to 59 °F." in told  # −15 and 15 °C
    # 1 clo = 0.155 m²K/W: ISO 9920; 1 tog = 0.1 m²K/W: BS 4745.
    assert "Now 3.1\u00a0tog, 2.0\u00a0clo; both may be typed." in box(at, "night", "clothing_r_m2k_w").help
