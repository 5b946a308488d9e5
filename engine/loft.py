"""How the quilt stands when it is filled: areas, finished size, chamber volume, fill, and its loft by place.

The loft map of the layout gives the shape between baffles and edges; here it gets its height, its fill and
its cut. Fill settles in one of three states: slack (it does not even raise the baffles), natural (the
bulge takes it up at its own loft), tight (the cut allows no more bulge, so the fill is denser). Straight
sewn channels bulge as exact arcs. The state is that of use: wrapped round the sleeper.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from engine.formulas import chamber, geometry, mass, relief
from engine.quantities import Quantities
from engine.stand import (
    Stand,
    drawn_by,
    heights_of,
    kept,
    largest_amplitude,
    nominal_volume,
    shape_of,
    shrink,
    stand_of,
)
from engine.units import Number

Array: TypeAlias = NDArray[np.float64]


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
    draw_in_for_baffles: Number
    """What the cut must draw in so that the baffles can stand, before any bulge."""
    bulge_m: Number
    """Height of both bulges over the baffles, in the middle of a chamber."""
    bench_bulge_m: Number
    """The most that it can be on the bench, where all of a differential cut goes into the bulge."""
    chamber_chord_m: Number
    mean_m: Number
    heights_m: Number
    """Shapes (3,) or (3, n): at which baffles, end panels and edge walls stand."""
    amplitude_per_m: Number
    """Of the bulge on the plan as it was cut; 0 for sewn channels, which have arcs."""
    half_angle_rad: Number
    """Of the arcs of sewn channels; 0 for others."""
    outer_share: Number
    """Share of the thickness that the outer face takes."""
    thickness_m: Number
    """Shapes (64,) or (64, n): places that stand for all that lies on the sleeper; see on_body, at_edge."""
    slope: Number
    """Shapes (32,) or (32, n): rise over run of the thickness in each bin; its two places share it."""
    on_body: Number
    """Share of each place in what lies on the sleeper, away from the edges; with at_edge it sums to 1."""
    at_edge: Number


def settle(q: Quantities) -> Loft:
    """The quilt as it stands, from its quantities.

    Shapes  floats or (n,); places along the first axis
    Source  engine.formulas.relief, engine.formulas.chamber
    """
    inner_m2 = geometry.outline_area(q.station_position_m, q.station_width_m)
    length_m, width_m = q.station_position_m[-1], np.max(q.station_width_m, axis=0)
    across = geometry.outer_stretch(width_m, q.wrap_across_rad, q.baffle_height_m)
    along = geometry.outer_stretch(length_m, q.wrap_along_rad, q.baffle_height_m)
    # Fill stands on the mean of both shells: a differential cut spreads it wider.
    between = inner_m2 * (1 + across * along) / 2
    shape = shape_of(q, length_m, width_m)
    nominal_m3 = nominal_volume(q, shape, between)
    down_kg = mass.fill_mass(nominal_m3, q.overstuff, q.fill_power_m3_kg) + q.fill_given_kg
    wanted_m3 = down_kg * q.fill_power_m3_kg
    stand = stand_of(q, shape, between, width_m, wanted_m3)
    draw_in = drawn_by(stand.excess)
    finished_width = width_m * kept(draw_in, q.draws_across) * (1 - q.pucker)
    finished_length = length_m * kept(draw_in, q.draws_along) * (1 - q.pucker)
    finished_m2 = inner_m2 * (finished_width / width_m) * (finished_length / length_m)
    between_m2 = finished_m2 * (1 + across * along) / 2
    down_m3 = np.minimum(wanted_m3, stand.largest_m3)
    heights = np.stack([height * stand.standing for height in heights_of(q)])
    sheet, sheet_mean = _sheet(q, inner_m2)
    places, slope = _places(q, heights, stand)
    density = np.maximum(1 / q.fill_power_m3_kg, down_kg / np.maximum(stand.largest_m3, 1e-9))
    mean = down_m3 / between_m2 + sheet_mean
    arc = chamber.arc_height(q.chamber_span_m, stand.half_angle_rad, 0.0)
    # Bulge field in the middle of a chamber; a quilt without baffles is one chamber, closed all round.
    middle = np.minimum(q.chamber_span_m**2 / 8, q.plan.peak_m2)
    drawn_bulge = stand.amplitude_per_m * middle * shrink(q, draw_in)
    bench = largest_amplitude(q, shape, width_m, 0.0) * middle
    bulge = drawn_bulge + 2 * arc
    return Loft(
        inner_area_m2=inner_m2,
        outer_area_m2=inner_m2 * across * along,
        outer_stretch_across=across,
        outer_stretch_along=along,
        finished_length_m=finished_length,
        finished_width_m=finished_width,
        finished_area_m2=finished_m2,
        nominal_volume_m3=nominal_m3,
        base_volume_m3=stand.base_m3,
        largest_volume_m3=stand.largest_m3,
        volume_m3=mean * between_m2,
        down_kg=down_kg,
        sheet_kg=inner_m2 * q.sheet_kg_m2 * q.sheet_layers,
        density_kg_m3=density,
        fullness=wanted_m3 / np.maximum(nominal_m3, 1e-9),
        tightness=density * q.fill_power_m3_kg,
        draw_in=draw_in,
        draw_in_for_baffles=drawn_by(stand.needed),
        bulge_m=bulge,
        bench_bulge_m=np.where(q.arcs > 0, bulge, bench),
        chamber_chord_m=q.chamber_span_m * kept(draw_in, np.maximum(q.draws_across, q.draws_along)),
        mean_m=mean,
        heights_m=heights,
        amplitude_per_m=stand.amplitude_per_m * shrink(q, draw_in),
        half_angle_rad=stand.half_angle_rad,
        outer_share=relief.outer_share(stand.excess, stand.excess + stand.surplus),
        thickness_m=places + _like(sheet, places),
        slope=slope,
        on_body=_twice(q.plan.on_body),
        at_edge=_twice(q.plan.at_edge),
    )


def _twice(share: Array) -> Array:
    return np.concatenate([share, share]) / 2


def _like(values: Array, many: Array) -> Array:
    """Values per place with as many axes as those of many variants."""
    return values.reshape(values.shape + (1,) * (many.ndim - values.ndim))


def _places(q: Quantities, heights_m: Array, stand: Stand) -> tuple[Array, Array]:
    """Thickness of the 64 places, and slope of their 32 bins."""
    amplitude = stand.amplitude_per_m * shrink(q, drawn_by(stand.excess))
    peak = 2 * chamber.arc_height(q.chamber_span_m, stand.half_angle_rad, 0.0)
    # A sewn channel's field is that of a parabola; here its peak is the arc's.
    amplitude = amplitude + peak * 8 / q.chamber_span_m**2
    coefficients = np.stack(np.broadcast_arrays(*heights_m, amplitude))
    means = relief.thickness_means(coefficients, q.plan.means)
    spread = relief.thickness_products(coefficients, q.plan.covariances)
    slope = np.sqrt(np.maximum(relief.thickness_products(coefficients, q.plan.slopes), 0.0))
    places = relief.two_places(means, spread)
    if np.any(q.arcs > 0):
        place = np.sqrt(np.clip(1 - places / np.maximum(peak, 1e-12), 0.0, 1.0))
        arcs = 2 * chamber.arc_height(q.chamber_span_m, stand.half_angle_rad, place)
        places = np.where(q.arcs > 0, arcs, places)
    return places, slope


def _sheet(q: Quantities, inner_m2: Number) -> tuple[Array, Number]:
    """Thickness of sheet insulation at the 64 places, and its mean over the plan.

    A sheet thins out over its own thickness towards a quilting line and towards its edge; the edge lies
    beside the sleeper, so the places do not have it.
    """
    sides = 2 * geometry.side_length(q.station_position_m, q.station_width_m)
    edge_m = sides + q.station_width_m[0] + q.station_width_m[-1]
    corners = geometry.corner_sum(q.station_position_m, q.station_width_m)
    strip = geometry.strip_area(edge_m, corners, q.sheet_loft_m) / inner_m2
    share = _twice(q.plan.on_body + q.plan.at_edge)
    place = np.cumsum(share, axis=0) - share / 2
    place = place.reshape(*place.shape, *(1,) * (np.ndim(q.sheet_loft_m) + 1 - place.ndim))
    sheet = np.minimum(q.sheet_loft_m, place * q.quilting_spacing_m / 2)
    return sheet, np.einsum("b...,b...->...", share, sheet) * (1 - strip / 2)
