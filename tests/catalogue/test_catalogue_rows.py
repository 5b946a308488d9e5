"""Whether the goods are in the range that makers use, checked by hand and against published magnitudes.

What is marked "common practice" below has no source: it is what the trade reckons with.
"""

import csv
import math
from importlib.resources import files

import pytest

from engine.catalogue.load import FILES, load_catalogue
from engine.catalogue.models import Fabric
from engine.units import CUBIC_INCH_PER_OUNCE, MM

GOODS = load_catalogue()
EVERYTHING = [
    good for shelf in (GOODS.fabrics, GOODS.fills, GOODS.joints, GOODS.hardware) for good in shelf.values()
]


def of_construction(construction: str) -> list[Fabric]:
    return [good for good in GOODS.fabrics.values() if good.construction == construction]


@pytest.mark.parametrize("good", EVERYTHING, ids=lambda good: good.id)
def test_every_good_says_where_its_numbers_come_from(good):
    marks = ("common practice, no source", "from memory", "patent")
    assert good.source.startswith(marks)
    assert not good.own


@pytest.mark.parametrize("file_name", FILES)
def test_every_file_says_first_that_its_prices_are_invented(file_name):
    first = (files("engine.catalogue") / file_name).read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("#")
    assert "invented" in first and "generic" in first


@pytest.mark.parametrize("file_name, model", FILES.items())
def test_the_columns_are_the_fields_of_the_model(file_name, model):
    lines = (files("engine.catalogue") / file_name).read_text(encoding="utf-8").splitlines()
    header = next(csv.reader([next(line for line in lines if not line.startswith("#"))]))
    assert sorted(header) == sorted(set(model.model_fields) - {"own", "own_numbers"})


@pytest.mark.parametrize(
    "construction, at_least, lightest, heaviest",
    [
        ("laminate film", 4, 11, 34),
        ("calendered ripstop", 6, 18, 48),
        ("uncoated ripstop", 2, 28, 42),
        ("coated ripstop", 1, 38, 52),
        ("mesh", 3, 20, 34),
    ],
)
def test_fabrics_span_the_range_that_makers_use(construction, at_least, lightest, heaviest):
    """Common practice, no source."""
    masses = [good.areal_mass_g_m2 for good in of_construction(construction)]
    assert len(masses) >= at_least
    assert all(lightest <= mass <= heaviest for mass in masses)


def test_there_is_enough_to_choose_from():
    downs = [good for good in GOODS.fills.values() if good.form == "down"]
    sheets = [good for good in GOODS.fills.values() if good.form == "sheet"]
    assert len(GOODS.fabrics) >= 12
    assert {650, 950} <= {good.fill_power_in3_oz for good in downs}
    assert any(good.water_repellent for good in downs)
    assert len(downs) >= 6 and len(sheets) >= 2
    assert {good.kind for good in GOODS.joints.values()} == {
        "tape", "tape and stitch", "glued fold", "sewn", "seared edge", "cord channel",
    }  # fmt: skip
    assert {good.use for good in GOODS.hardware.values()} == {"suspension", "closure"}


@pytest.mark.parametrize("fabric", GOODS.fabrics.values(), ids=lambda good: good.id)
def test_a_fabric_id_ends_with_the_mass_that_its_name_and_its_column_give(fabric):
    grams = fabric.id.rsplit("-", 1)[1]
    assert float(grams) == fabric.areal_mass_g_m2
    assert f"{grams}\u00a0g/m²" in fabric.name


@pytest.mark.parametrize(
    "denier, lightest, heaviest", [(7, 18, 22), (10, 23, 30), (15, 28, 34), (20, 35, 42), (30, 38, 48)]
)
def test_calendered_cloth_weighs_what_its_yarn_class_weighs(denier, lightest, heaviest):
    """Common practice, no source."""
    found = [good for good in of_construction("calendered ripstop") if f"-{denier}d-" in good.id]
    assert found
    assert all(lightest <= good.areal_mass_g_m2 <= heaviest for good in found)


@pytest.mark.parametrize(
    "construction, least_mm_s, most_mm_s",
    [("laminate film", 0, 0), ("calendered ripstop", 2, 8), ("uncoated ripstop", 20, 100)],
)
def test_air_passes_each_construction_as_makers_find(construction, least_mm_s, most_mm_s):
    """At 100 Pa, as ISO 9237 has it for clothing; the figures are common practice, no source."""
    assert all(
        least_mm_s <= good.air_permeability_mm_s <= most_mm_s for good in of_construction(construction)
    )


@pytest.mark.parametrize("fabric", GOODS.fabrics.values(), ids=lambda good: good.id)
def test_downproofness_follows_from_the_air_that_passes(fabric):
    """Below 8 mm/s any down, to 15 good down, above 25 slow leaks: common practice, no source."""
    if fabric.air_permeability_mm_s < 8:
        assert fabric.downproof == "any down"
    elif fabric.air_permeability_mm_s > 25:
        assert fabric.downproof in ("small vents only", "no")
    else:
        assert fabric.downproof == "good down"


def test_only_film_stops_vapour_and_only_silicone_treated_cloth_refuses_tape():
    """s_d 3.4 m for film, 0.003 to 0.05 m for cloth: from memory."""
    for fabric in GOODS.fabrics.values():
        assert (fabric.vapour_sd_m > 1) == (fabric.construction == "laminate film")
        assert (fabric.tape == "refuses") == (fabric.construction == "coated ripstop")
        assert (fabric.tape == "holds") == (fabric.construction == "laminate film")
        assert fabric.heat_cuts == (fabric.construction != "laminate film")
    assert all(good.airtight for good in of_construction("laminate film"))


@pytest.mark.parametrize(
    "id, least, most",
    [("film-17", 25, 40), ("nylon-10d-26", 8, 18), ("ripstop-38", 4, 8), ("mesh-24", 3, 7)],
)
def test_cloth_costs_a_square_metre_what_makers_pay(id, least, most):
    """Prices a metre, common practice, no source, over the full width of 1.35 to 1.55 m."""
    fabric = GOODS.fabric(id)
    per_m2 = fabric.price_per_m / (fabric.roll_width_mm * MM)
    assert least / 1.55 <= per_m2 <= most / 1.35


def test_eight_hundred_fill_power_is_2_1625_kg_per_cubic_metre():
    """One ounce, 28.349523125 g, in 800 × 16.387064 cm³: exact definitions, NIST SP 811 App. B."""
    by_hand_kg_m3 = 0.028349523125 / (800 * 16.387064e-6)
    assert by_hand_kg_m3 == pytest.approx(2.1625, rel=1e-4)
    fill_power = GOODS.fill("down-800").fill_power_in3_oz
    assert 1 / (fill_power * CUBIC_INCH_PER_OUNCE) == pytest.approx(by_hand_kg_m3, rel=1e-12)


@pytest.mark.parametrize("fill", GOODS.fills.values(), ids=lambda good: good.id)
def test_fills_stop_radiation_as_published_bounds_allow(fill):
    """US patent 4588635 (1986): in k = k0 + C/ρ a down-like batt has C < 0.075 (Btu in/(h ft² °F))(lb/ft³).

    C = 16 σ T³ / (3 e) gives e > 45.7 m²/kg at 297 K for what is as good as down; sheets are less good.
    """
    c_bound = 0.075 * 2.310309478
    e_bound = 16 * 5.670374e-8 * 297**3 / (3 * c_bound)
    assert e_bound == pytest.approx(45.7, rel=0.01)
    if fill.form == "down":
        assert fill.extinction_low_m2_kg > e_bound
    else:
        assert fill.extinction_m2_kg < min(
            good.extinction_m2_kg for good in GOODS.fills.values() if good.form == "down"
        )


@pytest.mark.parametrize("fill", GOODS.fills.values(), ids=lambda good: good.id)
def test_the_extinction_median_is_the_geometric_mean_of_its_band(fill):
    """A lognormal is symmetric in the logarithm (definition); the median is printed to a whole number."""
    middle = math.sqrt(fill.extinction_low_m2_kg * fill.extinction_high_m2_kg)
    assert abs(fill.extinction_m2_kg - middle) < 1


@pytest.mark.parametrize("id", ["sheet-67", "sheet-100", "sheet-133"])
def test_sheet_insulation_packs_to_what_sheet_quilts_pack_to(id):
    """55 to 85 kg/m³ stuffed firmly: common practice, no source. Power law through 14.5 Pa and 35 kPa."""
    sheet = GOODS.fill(id)
    free_kg_m3 = sheet.areal_mass_g_m2 / sheet.loft_mm
    exponent = math.log(35_000 / 14.5) / math.log(sheet.pivot_density_kg_m3 / free_kg_m3)
    stuffed_kg_m3 = free_kg_m3 * (15_000 / 14.5) ** (1 / exponent)
    assert 55 <= stuffed_kg_m3 <= 85


def test_down_gets_dearer_with_fill_power_and_costs_what_makers_pay():
    """Per 100 g of 700, of 800 to 850, of 900 to 950 fill power: common practice, no source."""
    plain = [good for good in GOODS.fills.values() if good.form == "down" and not good.water_repellent]
    prices = {good.fill_power_in3_oz: good.price_per_100_g for good in plain}
    ordered = [prices[fill_power] for fill_power in sorted(prices)]
    assert ordered == sorted(ordered)
    assert 9 <= prices[700] <= 18
    assert 20 <= prices[800] <= prices[850] <= 35
    assert 33 <= prices[900] <= prices[950] <= 55
