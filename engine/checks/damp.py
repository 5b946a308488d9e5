"""Do vapour and condensation agree with the handbook and with stacks that were worked by other means?"""

import numpy as np

from engine.checks.rows import Row, table, told, value
from engine.formulas.moisture import interface_temperatures, night_damp
from engine.formulas.vapour import saturation_pressure, saturation_pressure_over_water

VAPOUR = "Vapour that air can hold"
NIGHTS = "Where damp condenses"
CLIMATES = {"A": (20.0, 0.5, -5.0, 0.8), "B": (30.0, 0.5, -10.0, 0.8), "C": (30.0, 0.4, 5.0, 0.7)}
"""Warm air in degC and its humidity, cold air and its humidity, of each worked stack."""
G_PER_M2H = 3.6e6
"""Of one kg/(m2 s)."""


def vapour() -> tuple[Row, ...]:
    """Saturation pressure: by the handbook's equations, over water, and by the standard's formulas.

    Units   Pa
    Source  psychrolib 2.5.0; CoolProp 8.0.0; ISO 13788:2012, Annex E
    """
    found = []
    for row in table("saturation_pressure.csv"):
        air, handbook, standard = value(row, "T_C", "psychrolib_Pa", "iso13788_Pa")
        ours, what = float(saturation_pressure(air)), told(row, ("T_C", "°C"))
        share = 0.002 if air >= 0 else 0.006 if air >= -20 else 0.02
        source = "handbook equations, by library"
        found.append(Row(VAPOUR, what, "Pa", handbook, ours, share * handbook, source))
        source = "ISO 13788, Annex E"
        found.append(Row(VAPOUR, f"{what}, by the standard", "Pa", standard, ours, 0.00051, source))
        if row["coolprop_water_Pa"]:
            water, ours = float(row["coolprop_water_Pa"]), float(saturation_pressure_over_water(air))
            what, source = f"{what}, for breath and skin", "reference equations of water, by library"
            found.append(Row(VAPOUR, what, "Pa", water, ours, 0.003 * water, source))
    return tuple(found)


def nights() -> tuple[Row, ...]:
    """Temperature, vapour pressure and condensation in three stacks of layers.

    Units   degC, Pa, g/(m2 h)
    Source  ISO 13788:2012, clause 6, worked twice apart from this project; no published example was found
    """
    found: list[Row] = []
    for case in CLIMATES:
        found += _stack(case, [row for row in table("glaser_examples.csv") if row["case"] == case])
    return tuple(found)


def _stack(case: str, rows: list[dict[str, str]]) -> list[Row]:
    warm, warm_share, cold, cold_share = CLIMATES[case]
    resistance, air_layer = (
        np.diff([float(row[name]) for row in rows]) for name in ("R_cum_m2K_W", "sd_cum_m")
    )
    temperature = interface_temperatures(warm, cold, resistance)
    damp = night_damp(
        temperature,
        air_layer,
        warm_share * float(saturation_pressure(warm)),
        cold_share * float(saturation_pressure(cold)),
    )
    source, found = "ISO 13788, worked apart", []
    for place, row in enumerate(rows):
        at = f"stack {case}, {row['interface']}"
        for what, unit, column, ours, allowed in (
            ("temperature", "°C", "T_C", temperature[place], 1e-4),
            ("vapour", "Pa", "p_Pa", damp.pressure_pa[place], 1e-3),
            ("stays", "g/(m²·h)", "condensation_g_m2h", damp.condensing_kg_m2s[place] * G_PER_M2H, 1e-4),
        ):
            if row[column] and (what != "stays" or float(row[column]) or place == 0):
                found.append(
                    Row(NIGHTS, f"{at}: {what}", unit, float(row[column]), float(ours), allowed, source)
                )
    flows = [float(row["g_next_g_m2h"]) for row in rows if row["g_next_g_m2h"]]
    for what, published, flux in (
        ("goes in", flows[0], damp.flux_in_kg_m2s),
        ("comes out", flows[-1], damp.flux_out_kg_m2s),
    ):
        ours = flux * G_PER_M2H
        found.append(Row(NIGHTS, f"stack {case}: {what}", "g/(m²·h)", published, ours, 1e-4, source))
    kept = sum(float(row["condensation_g_m2h"]) for row in rows)
    ours = float(np.sum(damp.condensing_kg_m2s)) * G_PER_M2H
    return [*found, Row(NIGHTS, f"stack {case}: stays in all", "g/(m²·h)", kept, ours, 2e-4, source)]
