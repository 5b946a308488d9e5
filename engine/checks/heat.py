"""Do conduction, air, films and gaps agree with the tables of building physics?"""

from engine.checks.rows import Row, table, told, value
from engine.fields.iso10211 import TOLERANCE_K, TOLERANCE_W_M, case_one, case_two
from engine.formulas import heat
from engine.units import MM

CORNER = "Heat through a corner"
STRIPS = "Heat through wood, metal and insulation"
STILL_AIR = "Still air"
GAPS = "A closed gap of air"
FILMS = "The film of air at a surface in wind"
ACROSS = "Wind across a round body"


def corner() -> tuple[Row, ...]:
    """ISO 10211, case 1: a square column, 28 temperatures.

    Units   degC
    Source  ISO 10211:2017, Annex C, which also sets what is allowed
    """
    ours = case_one()
    return tuple(
        Row(
            CORNER,
            f"row {point['row']}, column {point['col']}",
            "°C",
            float(point["T_published_C"]),
            float(ours[int(point["row"]) - 1, int(point["col"]) - 1]),
            TOLERANCE_K,
            "ISO 10211, case 1",
        )
        for point in table("iso10211_case1.csv")
    )


def strips() -> tuple[Row, ...]:
    """ISO 10211, case 2: nine temperatures and the flow of heat.

    Units   degC, W/m
    Source  ISO 10211:2017, Annex C, which also sets what is allowed
    """
    ours, points, source = case_two(), table("iso10211_case2.csv"), "ISO 10211, case 2"
    found = [
        Row(
            STRIPS,
            f"point {point['point']}",
            "°C",
            float(point["T_published_C"]),
            ours.temperature_c[point["point"]],
            TOLERANCE_K,
            source,
        )
        for point in points[:-1]
    ]
    flow = float(points[-1]["T_published_C"])
    return (*found, Row(STRIPS, "heat in all", "W/m", flow, ours.flow_w_m, TOLERANCE_W_M, source))


def still_air() -> tuple[Row, ...]:
    """Conductivity of dry air.

    Units   W/(m K)
    Source  reference equations by CoolProp 8.0.0
    """
    found = []
    for row in table("air_conductivity.csv"):
        published = float(row["k_W_mK"])
        ours = float(heat.air_conductivity(float(row["T_C"])))
        what, source = told(row, ("T_C", "°C")), "reference equations of air, by library"
        found.append(Row(STILL_AIR, what, "W/(m·K)", published, ours, 1e-4 * published, source))
    return tuple(found)


def gaps() -> tuple[Row, ...]:
    """Closed layers of air between cloth-like surfaces, heat going up, level or down.

    Units   m2 K/W
    Source  ISO 6946, table of unventilated air layers (from memory)
    """
    ways = {"up": heat.RISING_W_M2K, "horizontal": heat.LEVEL_W_M2K}
    found = []
    for row in table("iso6946_air_layers.csv"):
        thickness_m = float(row["thickness_mm"]) * MM
        convection = ways.get(row["heat_flow"]) or heat.sinking_convection(thickness_m)
        ours = float(heat.air_gap_resistance(thickness_m, 10.0, convection))
        what = f"{row['thickness_mm']} mm, heat going {row['heat_flow'].replace('horizontal', 'sideways')}"
        found.append(
            Row(GAPS, what, "m²K/W", float(row["R_table_m2K_W"]), ours, 0.005, "ISO 6946, from memory")
        )
    return tuple(found)


def films() -> tuple[Row, ...]:
    """Films of air in wind: a building's, printed and by formula, and a clothed person's.

    Units   m2 K/W
    Source  ISO 6946, Annex; ISO 11079:2007
    """
    found = []
    for row in table("surface_resistance_wind.csv"):
        wind, formula, layer = value(row, "v_m_s", "Rse_formula", "Iar_iso11079_m2K_W")
        at = told(row, ("v_m_s", "m/s"))

        if row["Rse_iso6946_table"]:
            printed, ours = float(row["Rse_iso6946_table"]), float(heat.surface_resistance(wind, 0.0))
            what, source = f"a wall, {at}", "ISO 6946, table, from memory"
            found.append(Row(FILMS, what, "m²K/W", printed, ours, 0.005, source))
        ours, allowed = float(heat.surface_resistance(wind, 10.0)), max(0.005 * formula, 5e-5)
        what, source = f"a wall by formula, {at}", "ISO 6946, formula"
        found.append(Row(FILMS, what, "m²K/W", formula, ours, allowed, source))
        ours = float(heat.air_layer_resistance(wind))
        found.append(Row(FILMS, f"a clothed person, {at}", "m²K/W", layer, ours, 5.1e-5, "ISO 11079"))
    return tuple(found)


def across() -> tuple[Row, ...]:
    """Convection from a cylinder of 0.4 m that lies across the wind.

    Units   W/(m2 K)
    Source  ht 1.2.0 with air of CoolProp 8.0.0
    """
    return tuple(
        Row(
            ACROSS,
            told(row, ("v_m_s", "m/s")),
            "W/(m²·K)",
            float(row["h_W_m2K"]),
            float(heat.crossflow_coefficient(float(row["v_m_s"]), 0.4)),
            0.0051,
            "Churchill and Bernstein (1977), by library",
        )
        for row in table("crossflow_cylinder.csv")
    )
