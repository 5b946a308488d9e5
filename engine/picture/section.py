"""What does a cut through one chamber look like on the night: its faces, and how warm it is inside?

Down: the middle of a chamber between two baffles or seams, each face with its share of the bulge. Sheet
insulation: from one quilting line to the next, or from edge to edge. Drawn flat: round a body the outside
is longer.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.fields.conduction import Temperatures
from engine.fields.contours import isolines
from engine.fields.grid import Array
from engine.fields.section import (
    STITCHED_M,
    Chamber,
    Layers,
    SectionLoss,
    chamber_loss,
    half_angle_of_rise,
    profile_field,
)
from engine.formulas import body, heat
from engine.loft import Loft
from engine.quantities import FABRIC_R, Quantities

CLOTH_W_MK, CLOTH_KG_M3 = 0.25, 1140.0
"""Nylon: conductivity and density, textbook values (from memory)."""
FEWEST_K = 0.5
"""Air nearer to the skin than this drives no heat worth a picture."""
COLUMNS, ROWS = 80, 20
FLAT_NODES = 8


@dataclass(frozen=True)
class Section:
    """One chamber in cross-section; x from its left line to the right one, y from the skin outwards."""

    x_m: Array
    inner_y_m: Array
    outer_y_m: Array
    """(m,) the two faces; y is 0 halfway between them at the lines."""
    baffle: bool
    """Whether cloth stands at both ends; else the faces meet there."""
    field: Temperatures
    skin_c: float
    air_c: float
    u_w_m2k: float
    columns_u_w_m2k: float
    layers: Layers

    @property
    def width_m(self) -> float:
        """From line to line."""
        return float(self.x_m[-1])

    @property
    def thickest_m(self) -> float:
        """Distance of the faces where they are farthest apart."""
        return float(np.max(self.outer_y_m - self.inner_y_m))

    @property
    def thinnest_m(self) -> float:
        """Distance of the faces at the lines; nothing where they are stitched together."""
        least = float(np.min(self.outer_y_m - self.inner_y_m))
        return 0.0 if least <= STITCHED_M * (1 + 1e-9) else least

    @property
    def inner_face_c(self) -> tuple[float, float]:
        """Coldest and warmest place of the inner face."""
        face = self.field.temperature_c[:, 0]
        return float(np.min(face)), float(np.max(face))

    @property
    def true_over_columns(self) -> float:
        """How many times more heat goes than straight across, each column for itself."""
        return self.u_w_m2k / self.columns_u_w_m2k


def section_of(q: Quantities, loft: Loft) -> Section | None:
    """The cross-section of one quilt on its night; None where skin and air are equally warm.

    Source  engine.fields.section; layers as in engine.score
    """
    skin = float(body.skin_temperature(q.comfort_w_m2, body.NEUTRAL))
    air = float(q.air_c)
    if abs(skin - air) < FEWEST_K:
        return None
    layers = layers_of(q, loft, skin, air)
    if float(loft.sheet_kg) > 0:
        return _sheet_section(q, loft, layers, skin, air)
    chamber = chamber_of(q, loft)
    loss = chamber_loss(chamber, layers, skin, air, COLUMNS, ROWS)
    return _section(loss, chamber.baffle_height_m > 0, layers, skin, air)


def layers_of(q: Quantities, loft: Loft, skin_c: float, air_c: float) -> Layers:
    """What resists heat on the night: clothing and cloth inside, the fill, cloth and air film outside.

    Units   degC
    Source  engine.formulas.heat
    """
    fill = heat.fill_conductivity((skin_c + air_c) / 2, loft.density_kg_m3, q.extinction_m2_kg)
    film = heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor
    return Layers(float(fill), float(q.clothing_r_m2k_w + FABRIC_R), float(film + FABRIC_R))


def chamber_of(q: Quantities, loft: Loft) -> Chamber:
    """The chamber between two baffles as it stands when filled, each face with its share of the bulge.

    Source  definition
    """
    chord, outer = float(loft.chamber_chord_m), float(loft.outer_share)
    bulges = (float(loft.bulge_m) * (1 - outer), float(loft.bulge_m) * outer)
    inner_rad, outer_rad = (half_angle_of_rise(chord, min(max(rise, 0.0), chord / 2)) for rise in bulges)
    # Slack fill does not hold its baffles up.
    height = float(np.asarray(loft.heights_m)[0])
    cloth = float(q.baffle_kg_m2) / CLOTH_KG_M3 * CLOTH_W_MK if q.baffle_cloth else 0.0
    return Chamber(chord, height, inner_rad, outer_rad, cloth)


def _section(loss: SectionLoss, baffle: bool, layers: Layers, skin_c: float, air_c: float) -> Section:
    field = loss.field
    return Section(
        x_m=field.x_m[:, 0],
        inner_y_m=field.y_m[:, 0],
        outer_y_m=field.y_m[:, -1],
        baffle=baffle,
        field=field,
        skin_c=skin_c,
        air_c=air_c,
        u_w_m2k=loss.u_w_m2k,
        columns_u_w_m2k=loss.columns_u_w_m2k,
        layers=layers,
    )


def _sheet_section(q: Quantities, loft: Loft, layers: Layers, skin_c: float, air_c: float) -> Section:
    """A sheet that falls at 45 degrees to the lines that hold it: over its own thickness."""
    flat = float(np.max(loft.thickness_m))
    spacing = float(q.quilting_spacing_m)
    widest = float(np.max(q.station_width_m))
    width = spacing if 0 < spacing < 10 * widest else widest
    fall = min(flat, width / 2)
    rising = fall * np.linspace(0.0, 1.0, COLUMNS // 2) ** 2
    half = (
        np.concatenate([rising, np.linspace(fall, width / 2, FLAT_NODES)[1:]]) if fall < width / 2 else rising
    )
    x = np.concatenate([half, width - half[-2::-1]])
    thickness = np.maximum(np.minimum(np.minimum(x, width - x), flat), STITCHED_M)
    field = profile_field(x, -thickness / 2, thickness / 2, layers, skin_c, air_c, ROWS)
    fine = np.linspace(0.0, width, 20 * COLUMNS)
    column = np.interp(fine, x, thickness) / layers.fill_w_mk + layers.inner_r_m2k_w + layers.outer_r_m2k_w
    loss = SectionLoss(
        u_w_m2k=field.flow_w_m[0] / (skin_c - air_c) / width,
        columns_u_w_m2k=float(np.mean(1 / column)),
        field=field,
    )
    return _section(loss, False, layers, skin_c, air_c)


def isotherms(section: Section, levels_c: Sequence[float]) -> tuple[tuple[float, tuple[Array, ...]], ...]:
    """Lines of even temperature inside the fill, for each level that lies within it.

    Units   degC -> m
    Source  engine.fields.contours
    """
    field = section.field
    low, high = float(np.min(field.temperature_c)), float(np.max(field.temperature_c))
    return tuple(
        (level, isolines(field.x_m, field.y_m, field.temperature_c, level))
        for level in levels_c
        if low < level < high
    )
