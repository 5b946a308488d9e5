"""A design, a night and a catalogue resolved into SI quantities."""

import numpy as np

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.layout import plan_baffles, stations
from engine.night import Night
from engine.quantities.brief import on_the_night, sleeper_size
from engine.quantities.contents import contents_of, extras_of, price_m2
from engine.quantities.joining import joints_of
from engine.quantities.model import Quantities
from engine.quantities.on_sleeper import plan_of, window_of
from engine.quantities.shape import cut_and_baffles, outer_stretch_of
from engine.units import GSM, MM


def resolve(design: Design, night: Night, catalogue: Catalogue) -> Quantities:
    """One design on one night, as numbers.

    Raises  Refusal for a good that the catalogue does not have
    Source  definition
    """
    plan = plan_baffles(design)
    position, width = stations(design.outline)
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    wall, panel = catalogue.fabric(design.baffles.fabric), catalogue.fabric(design.end_panels.fabric)
    fill = catalogue.fill(design.fill.good)
    stretch = outer_stretch_of(design, design.cut.wrap_across_rad, float(np.max(width)))
    stretch_along = outer_stretch_of(design, design.cut.wrap_along_rad, float(position[-1]))
    brief, (_, girth) = on_the_night(design, night), sleeper_size(night.sleeper)
    return Quantities(
        station_position_m=position,
        station_width_m=width,
        plan=plan_of(design, window_of(girth, brief["needed_width_m"], brief["lost_length_m"])),
        inner_kg_m2=inner.areal_mass_g_m2 * GSM,
        outer_kg_m2=outer.areal_mass_g_m2 * GSM,
        baffle_kg_m2=wall.areal_mass_g_m2 * GSM,
        panel_kg_m2=panel.areal_mass_g_m2 * GSM,
        outer_permeability_m_s=outer.air_permeability_mm_s * MM,
        gap_width_m=float(np.mean([width[0], width[-1]])),
        inner_price_m2=price_m2(inner),
        outer_price_m2=price_m2(outer),
        baffle_price_m2=price_m2(wall),
        panel_price_m2=price_m2(panel),
        **cut_and_baffles(design, plan, width),
        **contents_of(design, fill, plan),
        **joints_of(design, catalogue, plan, (inner, outer), (stretch, stretch_along)),
        extras=extras_of(design, catalogue),
        **brief,
    )
