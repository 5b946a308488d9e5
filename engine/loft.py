"""How the quilt stands when it is filled: areas, finished size, chamber volume, fill, and its loft by place.

Chambers are prisms with tapered edges under circular arcs. Thickness is carried as a few places across a
chamber, so that the thin places along a seam count as what they are; the falling edges lower all places
alike, because the edges of a quilt lie beside the sleeper and not under the back.
"""

from dataclasses import dataclass

import numpy as np

from engine.formulas import chamber, geometry, mass
from engine.quantities import EDGE_TAPER_M, Quantities
from engine.units import Number

_PLACES, _WEIGHTS = np.polynomial.legendre.leggauss(6)
ACROSS = (_PLACES + 1) / 2
"""Places from the middle of a chamber (0) to its baffle (1), and their weights (Gauss-Legendre)."""
ACROSS_WEIGHT = _WEIGHTS / 2


@dataclass(frozen=True)
class Loft:
    """The filled quilt. Areas in m2, sizes in m, volumes in m3, masses in kg."""

    inner_area_m2: Number
    outer_area_m2: Number
    outer_stretch_across: Number
    outer_stretch_along: Number
    finished_length_m: Number
    finished_width_m: Number
    finished_area_m2: Number
    nominal_volume_m3: Number
    base_volume_m3: Number
    largest_volume_m3: Number
    volume_m3: Number
    down_kg: Number
    sheet_kg: Number
    density_kg_m3: Number
    fullness: Number
    """Volume that the fill wants, over the nominal chamber volume."""
    tightness: Number
    """Density over that at fill power: 1 when the fill stands at its own loft."""
    draw_in: Number
    bulge_m: Number
    """Height of both bulges over the baffles, in the middle of a chamber."""
    chamber_chord_m: Number
    mean_m: Number
    thickness_m: Number
    """Shapes (6,) or (6, n): from the middle of a chamber to its baffle, weighted by ACROSS_WEIGHT."""


def settle(q: Quantities) -> Loft:
    """The quilt as it stands, from its quantities.

    Shapes  floats or (n,); places along the first axis
    Source  engine.formulas.chamber
    """
    inner_m2 = geometry.outline_area(q.station_position_m, q.station_width_m)
    length_m, width_m = q.station_position_m[-1], np.max(q.station_width_m, axis=0)
    across = geometry.outer_stretch(width_m, q.wrap_across_rad, q.baffle_height_m)
    along = geometry.outer_stretch(length_m, q.wrap_along_rad, q.baffle_height_m)
    outer_m2 = inner_m2 * across * along
    base_share, bulge_share = _shares(q, inner_m2, length_m)
    shape = ((inner_m2 + outer_m2) / 2, q.chamber_span_m, q.baffle_height_m, base_share, bulge_share)
    relief = np.maximum(q.wrap_across_rad - q.wrap_in_use_rad, 0.0) * q.baffle_height_m / width_m
    # The relief is cloth of the outer shell alone; both faces are given half of it.
    largest_rad = np.minimum(
        chamber.half_angle_of_excess(1 / (1 - q.draw_in_allowed) - 1 + relief / 2),
        chamber.fullest_half_angle(*shape[1:]),
    )
    nominal_m3 = chamber.chamber_volume(*shape, q.nominal_half_angle_rad)
    base_m3 = chamber.chamber_volume(*shape, 0.0)
    largest_m3 = np.maximum(base_m3, chamber.chamber_volume(*shape, largest_rad))
    down_kg = mass.fill_mass(nominal_m3, q.overstuff, q.fill_power_m3_kg) + q.fill_given_kg
    wanted_m3 = down_kg * q.fill_power_m3_kg
    angle = chamber.settled_half_angle(wanted_m3, largest_rad, *shape)
    draw_in = 1 - chamber.chord_share(angle)
    finished_width = width_m * (1 - draw_in * q.draws_across) * (1 - q.pucker)
    finished_length = length_m * (1 - draw_in * q.draws_along) * (1 - q.pucker)
    finished_m2 = inner_m2 * (finished_width / width_m) * (finished_length / length_m)
    down_m3 = np.minimum(wanted_m3, largest_m3)
    # Thickness stands on the mean of both shells: a differential cut spreads the fill wider.
    between_m2 = finished_m2 * (1 + across * along) / 2
    thickness, mean = _places(q, inner_m2, angle, down_m3, between_m2)
    density = np.maximum(1 / q.fill_power_m3_kg, down_kg / largest_m3)
    return Loft(
        inner_area_m2=inner_m2,
        outer_area_m2=outer_m2,
        outer_stretch_across=across,
        outer_stretch_along=along,
        finished_length_m=finished_length,
        finished_width_m=finished_width,
        finished_area_m2=finished_m2,
        nominal_volume_m3=nominal_m3,
        base_volume_m3=base_m3,
        largest_volume_m3=largest_m3,
        volume_m3=mean * between_m2,
        down_kg=down_kg,
        sheet_kg=inner_m2 * q.sheet_kg_m2 * q.sheet_layers,
        density_kg_m3=density,
        fullness=wanted_m3 / np.maximum(nominal_m3, 1e-9),
        tightness=density * q.fill_power_m3_kg,
        draw_in=draw_in,
        bulge_m=2 * chamber.arc_height(q.chamber_span_m, angle, 0.0),
        chamber_chord_m=q.chamber_span_m * chamber.chord_share(angle),
        mean_m=mean,
        thickness_m=thickness,
    )


def _pinch(q: Quantities) -> Number:
    """How far the edge falls, as a share of the height: 1 pinched, 0 box edge."""
    return 1 - np.where(q.baffle_height_m > 0, q.edge_height_m / np.maximum(q.baffle_height_m, 1e-9), 0.0)


def _edge_length(q: Quantities) -> tuple[Number, Number]:
    """Edge that falls, and its corners: all round, or the ends alone where the long edges are chambers."""
    sides = 2 * geometry.side_length(q.station_position_m, q.station_width_m)
    ends = q.station_width_m[0] + q.station_width_m[-1]
    all_round = (q.baffle_height_m > 0) | (q.sheet_loft_m > 0)
    corners = geometry.corner_sum(q.station_position_m, q.station_width_m)
    return np.where(all_round, sides + ends, ends), np.where(all_round, corners, 0.0)


def _shares(q: Quantities, inner_m2: Number, length_m: Number) -> tuple[Number, Number]:
    edge_m, corners = _edge_length(q)
    lost = geometry.edge_taper_volume(edge_m, corners, EDGE_TAPER_M, _pinch(q)) / inner_m2
    return q.support_share * (1 - lost), 1 - _pinch(q) * EDGE_TAPER_M / length_m


def _places(
    q: Quantities, inner_m2: Number, angle: Number, down_m3: Number, between_m2: Number
) -> tuple[Number, Number]:
    """Thickness of each place and the mean, which holds exactly the volume of the fill."""
    trailing = np.broadcast(angle, between_m2, down_m3, q.sheet_loft_m).shape
    place = ACROSS.reshape(-1, *(1,) * len(trailing))
    weight = ACROSS_WEIGHT.reshape(place.shape)
    shape = (len(ACROSS), *trailing)
    arcs = q.baffle_height_m * q.support_share + 2 * chamber.arc_height(q.chamber_span_m, angle, place)
    down = np.broadcast_to(arcs, shape)
    down = down * (down_m3 / between_m2 / np.maximum(np.sum(down * weight, axis=0), 1e-9))
    edge_m, corners = _edge_length(q)
    # A sheet thins out over its own thickness, towards its edge and towards a quilting line.
    strip = geometry.strip_area(edge_m, corners, np.where(q.sheet_loft_m > 0, q.sheet_loft_m, 0.0)) / inner_m2
    to_line = (1 - place) * q.quilting_spacing_m / 2
    sheet = np.broadcast_to(np.minimum(q.sheet_loft_m, to_line) * (1 - strip / 2), shape)
    thickness = down + sheet
    return thickness, np.sum(thickness * weight, axis=0)
