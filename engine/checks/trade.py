"""Do units, the fill-power test and the trade's short rules come out as printed?"""

from math import pi

from engine import units
from engine.checks.rows import Row, table, value
from engine.formulas.chamber import fill_by_rule
from engine.formulas.geometry import outer_stretch
from engine.formulas.packing import TEST_PRESSURE_PA
from engine.units import CUBIC_INCH_PER_OUNCE, GRAM, INCH, MM, OUNCE

FACTORS = "Units of the trade"
FILL_POWER = "The fill-power test"
RULES = "Short rules of the trade"
# Ours lead to SI; the table's targets are not always SI, so what is left over stands beside each.
OURS = {
    ("clo", "m2 K/W"): units.CLO,
    ("tog", "m2 K/W"): units.TOG,
    ("clo", "tog"): units.CLO / units.TOG,
    ("in3/oz", "cm3/g"): CUBIC_INCH_PER_OUNCE / 1e-3,
    ("oz/yd2", "g/m2"): units.OUNCE_PER_SQUARE_YARD / units.GSM,
    ("g/m2", "oz/yd2"): units.GSM / units.OUNCE_PER_SQUARE_YARD,
    ("1/(clo/inch) i.e. k at 1 clo/in", "W/(m K)"): INCH / units.CLO,
    ("clo per oz/yd2", "m2 K/W per g/m2"): units.CLO / (units.OUNCE_PER_SQUARE_YARD / units.GSM),
    ("ft3/min/ft2 (cfm)", "m/s = m3/(m2 s)"): units.CUBIC_FOOT_PER_MINUTE_PER_SQUARE_FOOT,
    ("N/25 mm", "N/m"): units.NEWTON_PER_25_MM,
    ("lbf/in", "N/m"): units.POUND_FORCE_PER_INCH,
}
SIGNS = {"m2": "m²", "in3": "in³", "cm3": "cm³", "yd2": "yd²", "ft3": "ft³", "ft2": "ft²", "m3": "m³"}


def factors() -> tuple[Row, ...]:
    """Factors between units.

    Units   as each row says
    Source  NIST SP 811, Appendix B; ISO 9920; BS 4745
    """
    found = []
    for row in table("unit_conversions.csv"):
        pair = (row["from"], row["to"])
        if pair in OURS:
            published = float(row["factor"])
            what, unit = (_signed(name) for name in pair)
            what = what if what.startswith("1/") else f"1 {what}"
            source = "definitions, NIST SP 811 and ISO 9920"
            found.append(Row(FACTORS, what, unit, published, OURS[pair], 5e-8 * published, source))
    return tuple(found)


def _signed(text: str) -> str:
    for plain, sign in SIGNS.items():
        text = text.replace(plain, sign)
    return text.partition(" i.e. ")[0].partition(" = ")[0]


def fill_power() -> tuple[Row, ...]:
    """The lid's pressure, and what a millimetre of height is worth, of five variants of the test.

    Units   Pa, in3/oz per mm
    Source  EN 12130 and its relatives: geometry as published, worked apart from this project
    """
    found = []
    for row in table("fill_power_geometry.csv"):
        wide_mm, sample_g, pressure, worth = value(
            row, "cylinder_mm", "sample_g", "lid_pressure_Pa", "in3_per_oz_per_mm"
        )
        what, source = row["method"], "EN 12130 and its relatives"
        found.append(Row(FILL_POWER, f"lid, {what}", "Pa", pressure, TEST_PRESSURE_PA, 0.5, source))
        ours = pi / 4 * (wide_mm * MM) ** 2 * MM / (sample_g * GRAM) / CUBIC_INCH_PER_OUNCE
        found.append(Row(FILL_POWER, f"height, {what}", "in³/oz per mm", worth, ours, 5.1e-6, source))
    return tuple(found)


def rules() -> tuple[Row, ...]:
    """Fill by volume, and how much wider the outer shell of a differential cut is.

    Units   oz, in
    Source  common practice, no source
    """
    fill, cut = table("rules_of_the_trade.csv")
    length, width, height, power = value(fill, "length_in", "width_in", "height_in", "fill_power_in3_oz")
    mass = fill_by_rule(length * width * INCH**2, height * INCH, power * CUBIC_INCH_PER_OUNCE) / OUNCE
    inner, baffle, wrap = value(cut, "width_in", "height_in", "wrap_rad")
    outer = inner * outer_stretch(inner * INCH, wrap, baffle * INCH)
    sizes = f"{fill['length_in']} × {fill['width_in']} × {fill['height_in']} in"
    source = "common practice, no source"
    return (
        Row(
            RULES,
            f"fill of {sizes} at {fill['fill_power_in3_oz']} in³/oz",
            "oz",
            float(fill["answer"]),
            float(mass),
            1e-6,
            source,
        ),
        Row(
            RULES,
            f"outer over {cut['width_in']} in, baffles {cut['height_in']} in, wrap {cut['wrap_rad']} rad",
            "in",
            float(cut["answer"]),
            float(outer),
            1e-6,
            source,
        ),
    )
