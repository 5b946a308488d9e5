"""Do whole quilts come out as warm as makers say of baffle heights and of down per area?"""

from dataclasses import replace

from engine.catalogue.load import load_catalogue
from engine.checks.rows import Row, table, value
from engine.design import Baffles, Design, Filling
from engine.formulas import body
from engine.night import Night
from engine.quantities import resolve
from engine.score import Score, score
from engine.units import GSM

HEIGHTS = "Warmth by baffle height"
AREAL = "Warmth by down per area"
ROUNDED_TO_K = 3.0
"""Makers round to 5 degF, 2.8 K."""
OVERSTUFF_PERCENT = 25.0
LEAST_SPACING_MM, SPACING_OVER_HEIGHT = 100.0, 2.2
SOURCE = "common practice, no source"


def heights() -> tuple[Row, ...]:
    """Comfort at the middle of each range of baffle heights, 25 % overstuff, full baffles.

    Units   degC
    Source  common practice, no source
    """
    return tuple(
        Row(
            HEIGHTS,
            f"{low:.0f} to {high:.0f} mm",
            "°C",
            said,
            comfort((low + high) / 2),
            ROUNDED_TO_K,
            SOURCE,
        )
        for low, high, said in _ranges("baffle height mm")
    )


def areal() -> tuple[Row, ...]:
    """Comfort of quilts that hold the middle of each range of down per finished area, at 25 % overstuff.

    Units   degC
    Source  common practice, no source; partly the rule of heights in other units
    """
    return tuple(
        Row(
            AREAL,
            f"{low:.0f} to {high:.0f} g/m²",
            "°C",
            said,
            _by_areal((low + high) / 2),
            ROUNDED_TO_K,
            SOURCE,
        )
        for low, high, said in _ranges("down g/m2")
    )


def _ranges(rule: str) -> list[tuple[float, float, float]]:
    rows = [row for row in table("warmth_by_makers.csv") if row["rule"] == rule]
    return [(low, high, said) for low, high, said in (value(row, "low", "high", "comfort_C") for row in rows)]


def quilt(height_mm: float) -> Score:
    """A full-length underquilt of 850 fill with full baffles so high, for an average sleeper.

    Units   mm
    Source  definition; spacing by height: common practice, no source
    """
    spacing = max(SPACING_OVER_HEIGHT * height_mm, LEAST_SPACING_MM)
    design = Design(
        baffles=Baffles(height_mm=height_mm, spacing_mm=spacing),
        fill=Filling(good="down-850", overstuff_percent=OVERSTUFF_PERCENT),
    )
    q = resolve(design, Night(clothing_r_m2k_w=0.08), load_catalogue())
    return score(replace(q, comfort_w_m2=body.STANDARD_MAN_W_M2))


def comfort(height_mm: float) -> float:
    """Comfort of that quilt.

    Units   mm -> degC
    Source  engine.score
    """
    return float(quilt(height_mm).comfort_c)


def _by_areal(wanted_g_m2: float) -> float:
    """Comfort at the height, found by halving, at which the quilt holds so much down on its area."""
    low, high = 20.0, 150.0
    for _ in range(24):
        middle = (low + high) / 2
        loft = quilt(middle).loft
        fuller = float(loft.down_kg / loft.finished_area_m2) > wanted_g_m2 * GSM
        low, high = (low, middle) if fuller else (middle, high)
    return comfort(low)
