"""Do help texts read in the units shown? By hand: 25.4 mm an inch, 0.45359237 kg a pound (NIST SP 811)."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel

from dashboard.help_units import everyday, in_units
from dashboard.words import NBSP
from engine.design import Design
from engine.night import Night


def descriptions(model: type[BaseModel], path: str = "") -> Iterator[tuple[str, str]]:
    for name, field in model.model_fields.items():
        inner: Any = field.annotation
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            yield from descriptions(inner, f"{path}{name}.")
        elif field.description:
            yield path + name, field.description


HELPS = dict([*descriptions(Design), *descriptions(Night)])


@pytest.mark.parametrize(
    "metric, trade",
    [
        ("Usual 25 to 40 mm.", "Usual 1 to 1⅝ in."),
        ("A foot pad: 60 to 150 g.", "A foot pad: 2.1 to 5.3 oz."),
        ("Usual −15 to 15 °C.", "Usual 5 to 59 °F."),
        ("worth it below about −8 °C.", "worth it below about 18 °F."),
        ("Standard man: 1.73 m, 73 kg.", "Standard man: 68⅛ in, 161 lb."),
        (
            "low tarp 0.3, high tarp 1, open 2.5 m/s (practice)",
            "low tarp 0.7, high tarp 2.2, open 5.6 mph (practice)",
        ),
        (
            "torso 1000 to 1250; top quilt: height + 200 to 250 mm.",
            "torso 39⅜ to 49¼; top quilt: height + 7⅞ to 9⅞ in.",
        ),
        ("Near 5 °C 32 to 38, 0 °C 45 to 50 mm.", "Near 41 °F 1¼ to 1½, 32 °F 1¾ to 2 in."),
        ("Each with a 40 × 40 mm patch. Usual 4 to 8.", "Each with a 1⅝ × 1⅝ in patch. Usual 4 to 8."),
        (
            "Usual 2.2 × the height (1.8 to 2.5); 100 to 140 mm.",
            "Usual 2.2 × the height (1.8 to 2.5); 3⅞ to 5½ in.",
        ),
        (
            "Usual 300 to 600 mm; 0: held at the edges only.",
            "Usual 11¾ to 23⅝ in; 0: held at the edges only.",
        ),
        ("A loose end costs 5 to 10 °C.", "A loose end costs 9 to 18 °F."),
        ("Passes 20 to 100 mm/s at 100 Pa.", "Passes 20 to 100 mm/s at 100 Pa."),
        ("A top quilt for 0 °C: about 0.9 m²K/W.", "A top quilt for 32 °F: about 0.9 m²K/W."),
        ("Usual 50 to 65 %. Film 10, woven 20 %.", "Usual 50 to 65 %. Film 10, woven 20 %."),
    ],
)
def test_numbers_of_a_help_text_are_said_in_trade_units_and_all_else_stays(metric, trade):
    assert in_units(metric, "trade").replace(NBSP, " ") == trade
    assert in_units(metric, "metric") == metric


@pytest.mark.parametrize("path", HELPS)
def test_no_help_of_the_models_keeps_a_metric_length_weight_or_temperature(path):
    told = in_units(HELPS[path], "trade")
    assert re.findall(r"\d (?:mm|g|kg|m|°C|m/s)(?![\w/²])", told) == []


def test_a_resistance_is_said_as_clothes_and_bedding_are_sold_by():
    # 1 clo = 0.155 m²K/W: ISO 9920; 1 tog = 0.1 m²K/W: BS 4745.
    assert everyday(0.62) == f"6.2{NBSP}tog, 4.0{NBSP}clo"
