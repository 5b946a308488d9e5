"""Fill, suspension and what only a top quilt has, as numbers."""

import numpy as np

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, Fill
from engine.design import SHORT_BAFFLES, Design
from engine.formulas import cost, geometry, labour
from engine.layout import BafflePlan, stations
from engine.quantities.model import SIDE_ALLOWANCE_M, Extras, Fields
from engine.units import CUBIC_INCH_PER_OUNCE, GRAM, GSM, MM, Number

NECK_CORD_M, FOOTBOX_ZIP_M = 1.2, 0.6
"""Neck cord 1.0 to 1.3 m, zip 50 to 70 cm (common practice, no source)."""
PATCH_SIDE_M = 0.040
PATCH_AREA_M2 = 2 * PATCH_SIDE_M**2
PATCH_KG_M2 = 0.045
"""A 40 x 40 mm cloth patch inside and out at each tab (common practice, no source)."""


def price_m2(fabric: Fabric) -> Number:
    return cost.price_per_area(fabric.price_per_m, fabric.roll_width_mm * MM, fabric.selvedge_mm * MM)


def contents_of(design: Design, fill: Fill, plan: BafflePlan) -> Fields:
    filling = design.fill
    common: Fields = {
        "extinction_m2_kg": fill.extinction_m2_kg,
        "pivot_density_kg_m3": fill.pivot_density_kg_m3,
    }
    if fill.form == "sheet":
        areal, width, price = (
            _given(fill.areal_mass_g_m2),
            _given(fill.roll_width_mm),
            _given(fill.price_per_m),
        )
        lines = filling.quilting_mm * MM
        return common | {
            "fill_power_m3_kg": fill_free_volume(fill),
            "overstuff": 0.0,
            "fill_given_kg": 0.0,
            "fill_price_kg": 0.0,
            "sheet_kg_m2": areal * GSM,
            "sheet_loft_m": filling.layers * _given(fill.loft_mm) * MM,
            "sheet_price_m2": price / (width * MM),
            "sheet_layers": 1.0 * filling.layers,
            "quilting_spacing_m": np.where(lines > 0, lines, 1e6)[()],
            "fill_minutes": labour.SHEET_MIN_PER_LAYER * filling.layers,
        }
    by_grams = filling.rule == "grams"
    staggered = design.baffles.layout in SHORT_BAFFLES
    by_chamber = labour.FILL_SETUP_MIN + labour.FILL_MIN_PER_CHAMBER * plan.chamber_count
    return common | {
        "fill_power_m3_kg": fill_free_volume(fill),
        "overstuff": 0.0 if by_grams else 1 + filling.overstuff_percent / 100,
        "fill_given_kg": filling.grams * GRAM if by_grams else 0.0,
        "fill_price_kg": _given(fill.price_per_100_g) * 10.0,
        "sheet_kg_m2": 0.0,
        "sheet_loft_m": 0.0,
        "sheet_price_m2": 0.0,
        "sheet_layers": 0.0,
        "quilting_spacing_m": 1e6,
        "fill_minutes": labour.FILL_STAGGERED_MIN if staggered else by_chamber,
    }


def _given(number: float | None) -> float:
    """A number that the form of a fill needs; the catalogue refuses a fill without it."""
    assert number is not None
    return number


def fill_free_volume(fill: Fill) -> Number:
    """Volume of a kilogram of fill at rest: fill power of down, loft over areal mass of a sheet.

    Units   m3/kg
    Source  definition
    """
    if fill.form == "down":
        return _given(fill.fill_power_in3_oz) * CUBIC_INCH_PER_OUNCE
    return _given(fill.loft_mm) * MM / (_given(fill.areal_mass_g_m2) * GSM)


def extras_of(design: Design, catalogue: Catalogue) -> Extras:
    """Suspension and patches of any quilt; footbox, collar and closures of a top quilt."""
    outer = catalogue.fabric(design.shells.outer)
    top = design.top
    is_top = design.kind == "top quilt"
    panel = is_top and top.footbox == "sewn with end panel"
    seam = is_top and top.footbox != "none"
    collar = is_top and top.collar
    size_m = top.panel_width_mm * MM, top.panel_height_mm * MM
    round_m = geometry.ellipse_perimeter(*size_m) if panel else 0.0
    width = float(stations(design.outline)[1][0])
    allowances = 2 * SIDE_ALLOWANCE_M
    # The panel has two layers; the collar is one strip folded to a tube along the head end.
    ovals = 2 * geometry.ellipse_area(size_m[0] + allowances, size_m[1] + allowances)
    strip = (2 * top.collar_flat_mm * MM + allowances) * (width + allowances)
    area = (ovals if panel else 0.0) + (strip if collar else 0.0)
    items = [(catalogue.hardware_item(good), amount) for good, amount in hardware_amounts(design).items()]
    patches = 1.0 * design.tabs
    # A quilt of sheet insulation has no loose down, in its footbox and collar neither.
    down = catalogue.fill(design.fill.good).form == "down"
    loose_g = (top.panel_fill_g if panel and down else 0.0) + (top.collar_fill_g if collar and down else 0.0)
    return Extras(
        cloth_pieces=2.0 * panel + 1.0 * collar,
        cloth_area_m2=area,
        cloth_kg=area * outer.areal_mass_g_m2 * GSM,
        cloth_cost=area * price_m2(outer),
        fill_kg=loose_g * GRAM,
        seam_m=round_m + (top.footbox_length_mm * MM if seam else 0.0) + (2 * width if collar else 0.0),
        seam_pieces=float(panel) + float(seam) + float(collar),
        suspension_kg=sum(good.mass_g * amount for good, amount in items) * GRAM,
        suspension_cost=sum(good.price * amount for good, amount in items),
        patch_count=patches,
        patch_kg=patches * PATCH_AREA_M2 * PATCH_KG_M2,
    )


def hardware_amounts(design: Design) -> dict[str, float]:
    """Metres or pieces of each cord, lock and closure: the suspension, and what a top quilt closes with.

    Source  common practice, no source
    """
    items = [(item.good, item.amount) for item in design.suspension]
    if design.kind == "top quilt":
        top = design.top
        if top.neck_closure:
            items += [("cord-2", NECK_CORD_M), ("cord-lock", 1.0), ("snap", 1.0)]
        if top.straps:
            items.append(("strap-set", 1.0))
        if top.footbox == "drawn and zipped":
            items.append(("zip", FOOTBOX_ZIP_M))
        if top.footbox in ("drawn and zipped", "gathered"):
            items.append(("cord-2", NECK_CORD_M))
    amounts: dict[str, float] = {}
    for good, amount in items:
        amounts[good] = amounts.get(good, 0.0) + amount
    return amounts
