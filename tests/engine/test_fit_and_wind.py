"""What do wind and a loose quilt cost in warmth, against what makers find?

Common practice, no source, from quilts near 0 degC: a loose end costs 3 to 8 K, a sag of 20 to 40 mm 2 to
5 K, open wind on woven shells 3 to 6 K. One factor of each model is set by these; that it holds for quilts of
other make is the check.
"""

import pytest

from engine.night import Night
from tests.engine.made import FILM, FULL_SEWN, PUPIL, SEWN_THROUGH, SHEET, TOP, changed, scored

WARM_ENOUGH = [FULL_SEWN, PUPIL, FILM, SHEET, TOP]
"""A summer quilt loses less: its sleeper stands in milder air."""


def cost(design, **night):
    return float(scored(design, Night(**night)).comfort_c - scored(design, Night()).comfort_c)


@pytest.mark.parametrize("design", WARM_ENOUGH, ids=lambda d: d.name)
def test_daylight_at_the_ends_costs_3_to_8_kelvin(design):
    assert 3 <= cost(design, fit="daylight at the ends") <= 8


@pytest.mark.parametrize("design", WARM_ENOUGH, ids=lambda d: d.name)
def test_a_sag_costs_2_to_5_kelvin(design):
    assert 2 <= cost(design, fit="sags under the back") <= 5


@pytest.mark.parametrize("design", [FULL_SEWN, PUPIL, SHEET, TOP], ids=lambda d: d.name)
def test_open_wind_on_woven_shells_costs_3_to_6_kelvin(design):
    assert 3 <= cost(design, wind="open") <= 6


def test_film_keeps_the_wind_out():
    woven = changed(FILM, "shells.outer", "nylon-10d-26")
    assert cost(FILM, wind="open") < cost(woven, wind="open") - 1


@pytest.mark.parametrize("design", [*WARM_ENOUGH, SEWN_THROUGH], ids=lambda d: d.name)
def test_looser_is_never_warmer_and_wind_makes_it_worse(design):
    order = ["snug all round", "one hand slips in at the ends", "sags under the back", "daylight at the ends"]
    costs = [cost(design, fit=word) for word in order]
    assert costs == sorted(costs) and costs[0] == 0
    assert cost(design, fit=order[-1], wind="open") > costs[-1] + cost(design, wind="open")


def test_looseness_adds_its_own_path_of_heat():
    snug, loose = scored(FULL_SEWN), scored(FULL_SEWN, Night(fit="daylight at the ends"))
    assert snug.heat_parts_w["with air that gets past it"] == pytest.approx(0, abs=1e-6)
    assert loose.heat_parts_w["with air that gets past it"] > 3
