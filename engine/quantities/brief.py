"""The night and its sleeper as numbers."""

from engine.design import Design
from engine.formulas import body, cover, labour, packing
from engine.night import Night, Sleeper
from engine.quantities.model import CURVATURE_RADIUS_M, GAP_M, NO_PAD, WIND_M_S, Fields
from engine.units import GRAM, MM


def sleeper_size(sleeper: Sleeper) -> tuple[float, float]:
    """Height and clothed shoulder girth of a sleeper.

    Units   m, m
    Source  heights of the standard woman and man: EN 13537:2012 and ISO 23537-1:2016, second-hand;
            girths: common practice, no source
    """
    if sleeper.kind == "standard woman":
        return 1.60, 1.10
    if sleeper.kind == "standard man":
        return 1.73, 1.22
    return sleeper.height_mm * MM, sleeper.girth_mm * MM


def on_the_night(design: Design, night: Night) -> Fields:
    height, girth = sleeper_size(night.sleeper)
    under = design.kind == "underquilt"
    needed = cover.least_underquilt_length(height) if under else cover.least_top_quilt_length(height)
    lost = cover.LOST_LENGTH_M if under else 0.0
    return {
        "needed_length_m": needed,
        "needed_width_m": cover.least_underquilt_width(girth)
        if under
        else cover.least_top_quilt_width(girth),
        "lost_length_m": lost,
        "covers_underside": 1.0 if under else 0.0,
        "underside_share": cover.UNDERSIDE_SHARE,
        # The pad lies under the legs: it goes with a short underquilt, and helps no other gap.
        "pad_below_cover": cover.WHOLE if under else NO_PAD,
        "beyond_r_m2k_w": night.beyond.r_m2k_w,
        "beyond_kg": night.beyond.grams * GRAM,
        "beyond_cost": night.beyond.price,
        "other_matched": 1.0 if night.other_half == "matched" else 0.0,
        "other_r_m2k_w": night.other_half_r_m2k_w,
        "air_c": night.air_c,
        "wind_m_s": WIND_M_S.get(night.wind, night.wind_m_s),
        "gap_m": GAP_M[night.fit],
        "half_area_m2": body.body_area(*body.STANDARD_WOMAN_KG_M)
        * (cover.UNDERSIDE_SHARE if under else cover.TOPSIDE_SHARE),
        "humidity_percent": night.humidity_percent,
        "clothing_r_m2k_w": night.clothing_r_m2k_w,
        "head_r_m2k_w": night.head_r_m2k_w,
        "head_share": body.HEAD_SHARE,
        "film_factor": 1.0,
        "curvature_radius_m": CURVATURE_RADIUS_M,
        "section_factor": 1.0,
        "comfort_w_m2": body.STANDARD_WOMAN_W_M2,
        "limit_w_m2": body.STANDARD_MAN_W_M2,
        "hours_factor": labour.FIRST_QUILT_FACTOR if night.first_quilt else 1.0,
        "shell_density_kg_m3": packing.SHELL_DENSITY_KG_M3,
    }
