"""How heavy a quilt is: cloth by the area cut, joints by the metre, fill by volume."""

from engine.formulas.refuse import refuse_negative
from engine.units import Number


def cloth_mass(cut_area_m2: Number, areal_mass_kg_m2: Number) -> Number:
    """Mass of cloth, from the area that is cut: allowances stay in the quilt, offcuts do not.

    Units   m2, kg/m2 -> kg
    Raises  ValueError for a negative area or areal mass
    Source  definition
    """
    refuse_negative("cut_area_m2", cut_area_m2, "m2")
    refuse_negative("areal_mass_kg_m2", areal_mass_kg_m2, "kg/m2")
    return cut_area_m2 * areal_mass_kg_m2


def joint_mass(length_m: Number, mass_kg_m: Number) -> Number:
    """Mass of tape, sealant or thread that stays in the joints.

    Units   m, kg/m -> kg
    Raises  ValueError for a negative length
    Source  definition
    """
    refuse_negative("length_m", length_m, "m")
    return length_m * mass_kg_m


def fill_mass(nominal_volume_m3: Number, overstuff: Number, fill_power_m3_kg: Number) -> Number:
    """Down for a nominal chamber volume and an overstuff ratio (1.25: 25 % over).

    Units   m3, dimensionless, m3/kg -> kg
    Raises  ValueError for a negative ratio
    Source  definition of fill power; overstuff: common practice, no source
    """
    refuse_negative("overstuff", overstuff, "")
    return nominal_volume_m3 * overstuff / fill_power_m3_kg
