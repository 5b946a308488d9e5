"""Somebody's shop is always out of it: what else will do in place of a good?

All rules here are common practice, no source.
"""

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric
from engine.shopping import Purchase
from engine.units import GSM

LIGHTER, HEAVIER = 0.92, 1.15
"""A cloth of 26 g/m2 gives way to one of 24 to 30; more than that and the weight score no longer holds."""


def substitute(line: Purchase, catalogue: Catalogue) -> tuple[str, tuple[float, ...]]:
    """What may stand in for a good, with a range of areal masses that goes in at {range}, if there is one.

    Units   kg/m2
    Raises  Refusal for an unknown good
    Source  common practice, no source
    """
    match line.kind:
        case "fabric":
            return _cloth(catalogue.fabric(line.id))
        case "fill":
            fill = catalogue.fill(line.id)
            if fill.form == "down":
                return f"or any clean down of {fill.fill_power_in3_oz:g} fill power or more", ()
            return "or any sheet insulation of {range}, as thick", _around(fill.areal_mass_g_m2 or 0.0)
        case "joint":
            return _supply(line, catalogue), ()
        case _:
            return "", ()


def _cloth(fabric: Fabric) -> tuple[str, tuple[float, ...]]:
    name = {
        "laminate film": "laminate film",
        "calendered ripstop": "calendered cloth",
        "uncoated ripstop": "uncoated ripstop",
        "coated ripstop": "coated ripstop",
        "mesh": "mesh",
    }[fabric.construction]
    return f"or any {name} of {{range}}", _around(fabric.areal_mass_g_m2)


def _around(areal_mass_g_m2: float) -> tuple[float, float]:
    return LIGHTER * areal_mass_g_m2 * GSM, HEAVIER * areal_mass_g_m2 * GSM


def _supply(line: Purchase, catalogue: Catalogue) -> str:
    match line.unit:
        case "rolls":
            width = f"{catalogue.joint(line.id).width_mm:g}\u00a0mm"
            return f"or any of {width} that passes a peel trial on your cloth"
        case "tubes":
            return "or any glue that passes a peel trial on your cloth"
        case "spools":
            return "any fine polyester thread"
        case _:
            return ""
