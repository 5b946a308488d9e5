"""How far do fill and cut let the quilt rise: the state in which the shells of a layout come to rest.

Slack fill does not even raise the baffles; natural fill is taken up by the bulge at its own loft; tight
fill has used up the cut, so it is denser. Bulging draws the quilt in. Sewn channels bulge as exact arcs.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.formulas import chamber, relief
from engine.quantities import Quantities
from engine.units import Number

ROUNDS = 12
"""Rounds in which bulge and draw-in settle to one another; each leaves a tenth of the error or less."""
HALVINGS = 36


@dataclass(frozen=True)
class Shape:
    """How a layout takes up cloth and fill, per plan area, at the heights and size of one quilt."""

    base_m: Number
    cloth: Number
    bulge_m2: Number


@dataclass(frozen=True)
class Stand:
    """A settled state: how high the base stands, how far it bulges, what it draws in, what it holds."""

    standing: Number
    amplitude_per_m: Number
    half_angle_rad: Number
    excess: Number
    surplus: Number
    base_m3: Number
    largest_m3: Number
    needed: Number


def drawn_by(excess: Number) -> Number:
    """Draw-in, as a share of the cut size, of cloth that is so much longer than what it spans.

    Source  definition
    """
    return excess / (1 + excess)


def kept(draw_in: Number, share: Number) -> Number:
    """What draw-in leaves of a length, if so large a share of it goes that way.

    Source  definition
    """
    return 1 - draw_in * share


def shrink(q: Quantities, draw_in: Number) -> Number:
    """What draw-in leaves of the bulge field, which grows with the square of a chamber's width.

    Source  definition
    """
    across, along = kept(draw_in, q.draws_across), kept(draw_in, q.draws_along)
    return across ** (2 * q.draws_across) * along ** (2 * q.draws_along)


def heights_of(q: Quantities) -> NDArray[np.float64]:
    """Heights of baffles, end panels and edge walls; a panel is as high as a baffle.

    Shapes  (3,) or (3, n)
    Units   m
    Source  definition
    """
    return np.stack(np.broadcast_arrays(q.baffle_height_m, q.baffle_height_m, q.edge_height_m))


def shape_of(q: Quantities, length_m: Number, width_m: Number) -> Shape:
    """The loft map's integrals at the heights and the size of a quilt, or of many.

    Units   m, m
    Source  engine.fields.loft_map
    """
    wider = (width_m / q.plan.width_m) ** (2 * q.draws_across)
    longer = (length_m / q.plan.length_m) ** (2 * q.draws_along)
    heights = heights_of(q)
    base = np.einsum("i...,i...->...", q.plan.base, heights)
    half = np.einsum("ij...,j...->i...", q.plan.cloth, heights)
    # Where all edges stand as high as the baffles the base is level, and round-off may put it below nothing.
    cloth = np.maximum(np.einsum("i...,i...->...", half, heights) / 2, 0.0)
    return Shape(base, cloth, q.plan.bulge_m2 * wider * longer)


def nominal_volume(q: Quantities, shape: Shape, between_m2: Number) -> Number:
    """Chamber volume that overstuff is counted from: the base, or the bulge at the usual draw-in.

    Units   m2 (mean of both shells, flat) -> m3
    Source  definition; usual draw-in: common practice, no source
    """
    if np.all(q.arcs > 0):
        return _arc_volume(q, shape, between_m2, q.nominal_half_angle_rad)
    excess = q.nominal_draw_in / (1 - q.nominal_draw_in)
    bulge = np.sqrt(relief.shared_relief(excess, excess) * 2 / shape.bulge_m2) * shape.bulge_m2
    standing = between_m2 * (shape.base_m + bulge)
    if np.all(q.arcs == 0):
        return standing
    return np.where(q.arcs > 0, _arc_volume(q, shape, between_m2, q.nominal_half_angle_rad), standing)


def stand_of(q: Quantities, shape: Shape, between_m2: Number, width_m: Number, wanted_m3: Number) -> Stand:
    """The state in which shells come to rest round so much fill.

    Units   m2 (mean of both shells, flat), m, m3 (mass times fill power)
    Source  engine.formulas.relief; sewn channels engine.formulas.chamber
    """
    if np.all(q.arcs > 0):
        return _sewn(q, shape, between_m2, width_m, wanted_m3)
    standing = _standing(q, shape, between_m2, width_m, wanted_m3)
    if np.all(q.arcs == 0):
        return standing
    sewn = _sewn(q, shape, between_m2, width_m, wanted_m3)
    return Stand(*(np.where(q.arcs > 0, vars(sewn)[name], vars(standing)[name]) for name in vars(sewn)))


def _standing(q: Quantities, shape: Shape, between_m2: Number, width_m: Number, wanted_m3: Number) -> Stand:
    """Shells held apart by baffles: bulge and draw-in settle to one another."""
    largest = largest_amplitude(q, shape, width_m, q.wrap_in_use_rad)
    allowed = q.draw_in_allowed / (1 - q.draw_in_allowed)
    state = _excess_of(q, shape, width_m, 1.0, 0.0)
    needed = state[0]
    room = np.maximum(allowed, needed)
    per_area = _plan_left(q, room) * between_m2
    largest_m3 = per_area * (shape.base_m + largest * shrink(q, drawn_by(room)) * shape.bulge_m2)
    excess: Number = 0.0 * wanted_m3
    surplus: Number = excess
    standing, amplitude = excess, excess
    for _ in range(ROUNDS):
        mean = wanted_m3 / (_plan_left(q, excess) * between_m2)
        field = shape.bulge_m2 * shrink(q, drawn_by(excess))
        standing = np.where(shape.base_m > 0, np.minimum(mean / np.maximum(shape.base_m, 1e-9), 1.0), 1.0)
        amplitude = np.clip((mean - shape.base_m) / field, 0.0, largest)
        surplus = _surplus(q, width_m, standing * shape.base_m + amplitude * field, q.wrap_in_use_rad)
        taken = standing**2 * shape.cloth + amplitude**2 * field / 2
        excess = relief.excess_for_relief(taken, surplus, excess)
    base_m3 = _plan_left(q, needed) * between_m2 * shape.base_m
    return Stand(standing, amplitude, 0.0 * excess, excess, surplus, base_m3, largest_m3, needed)


def _excess_of(
    q: Quantities, shape: Shape, width_m: Number, standing: Number, amplitude: Number
) -> tuple[Number, Number]:
    """Draw-in, as excess, and the outer's surplus of a quilt that stands so high and bulges so far."""
    mean = standing * shape.base_m + amplitude * shape.bulge_m2
    surplus = _surplus(q, width_m, mean, q.wrap_in_use_rad)
    taken = standing**2 * shape.cloth + amplitude**2 * shape.bulge_m2 / 2
    excess: Number = 0.0 * mean
    for _ in range(ROUNDS):
        excess = relief.excess_for_relief(taken, surplus, excess)
    return excess, surplus


def _surplus(q: Quantities, width_m: Number, mean_m: Number, use_rad: Number) -> Number:
    """What the outer shell has left over for its bulge once it is wrapped; a taut one has nothing."""
    left = relief.cut_excess(q.wrap_across_rad, q.baffle_height_m, use_rad, mean_m, width_m)
    return np.maximum(left, 0.0)


def _plan_left(q: Quantities, excess: Number) -> Number:
    """Finished over cut plan area."""
    drawn = drawn_by(excess)
    return kept(drawn, q.draws_across) * kept(drawn, q.draws_along) * (1 - q.pucker) ** 2


def largest_amplitude(q: Quantities, shape: Shape, width_m: Number, use_rad: Number) -> Number:
    """Amplitude, on the finished plan, at which the cut with all the draw-in that makers allow is used up.

    Units   m, rad (wrapped so far; 0 on the bench) -> 1/m
    Source  engine.formulas.relief, by fixed halvings
    """
    allowed = q.draw_in_allowed / (1 - q.draw_in_allowed)
    field = shape.bulge_m2 * shrink(q, q.draw_in_allowed)

    def left(amplitude: Number) -> Number:
        surplus = _surplus(q, width_m, shape.base_m + amplitude * field, use_rad)
        return relief.shared_relief(allowed, allowed + surplus) - shape.cloth - amplitude**2 * field / 2

    most = relief.shared_relief(allowed, allowed + _surplus(q, width_m, shape.base_m, use_rad))
    low = 0.0 * most
    high = np.sqrt(2 * most / field)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        room = left(middle) > 0
        low, high = np.where(room, middle, low), np.where(room, high, middle)
    return np.where(left(low) > 0, (low + high) / 2, 0.0)


def _arc_volume(q: Quantities, shape: Shape, between_m2: Number, angle_rad: Number) -> Number:
    return chamber.chamber_volume(between_m2, q.chamber_span_m, 0.0, 1.0, _filled(q, shape), angle_rad)


def _filled(q: Quantities, shape: Shape) -> Number:
    """Bulge of the plan over that of endless channels: closed ends and narrower chambers hold less."""
    return shape.bulge_m2 * 12 / q.chamber_span_m**2


def _sewn(q: Quantities, shape: Shape, between_m2: Number, width_m: Number, wanted_m3: Number) -> Stand:
    """Sewn channels, by exact arcs."""
    surplus = _surplus(q, width_m, 0.0, 0.0)
    allowed = q.draw_in_allowed / (1 - q.draw_in_allowed)
    filled = _filled(q, shape)
    widest = chamber.half_angle_of_excess(allowed + surplus / 2)
    largest_rad = np.minimum(widest, chamber.fullest_half_angle(q.chamber_span_m, 0.0, 1.0, filled))
    largest_m3 = _arc_volume(q, shape, between_m2, largest_rad)
    angle = chamber.settled_half_angle(wanted_m3, largest_rad, between_m2, q.chamber_span_m, 0.0, 1.0, filled)
    excess = 1 / chamber.chord_share(angle) - 1
    none = 0.0 * excess
    return Stand(none + 1.0, none, angle, excess, none, none, largest_m3, none)
