"""By which ways does heat leave a sleeper: through each place of the quilt, past it, from the head?"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.bill import along_cover
from engine.formulas import body, bridges, cover, heat
from engine.loft import Loft
from engine.quantities import FABRIC_R, Quantities
from engine.units import Number

SKIN_C = 33.0
"""Skin at which the fill's mean temperature is taken; its effect on conductivity is small."""
RESISTANCE_AIR_C = -10.0
"""Air at which a quilt's resistance is stated."""


@dataclass(frozen=True)
class Ways:
    """What the resistance of each place owes to its shape: the same at any temperature of the air."""

    inside_m2k_w: Number
    fill_m: Number
    """Thickness of a level, unbent layer that would hold heat as well."""
    opening: Number
    """Heat that crosses fill between slanted faces over that between level ones."""
    blown_w_mk: Number
    """Conductivity that wind adds which gets in by one side of the shell and out by the other."""
    outside: Number
    """Resistance of the outer film on a slanted face, bent round a body, over that on its plan."""


def ways_of(q: Quantities, loft: Loft, thickness_m: Number, slope: Number) -> Ways:
    """The shape of ways through so much thickness whose faces slope.

    Shapes  (..., places) or (..., places, n): slopes may leave out the first axis
    Units   m, rise over run (1)
    Source  engine.formulas.heat, engine.formulas.bridges
    """
    inner, outer = slope * (1 - loft.outer_share), slope * loft.outer_share
    narrowing, widening = heat.bent_shares(thickness_m, q.curvature_radius_m)
    blown = heat.blown_through_conductance(q.outer_permeability_m_s, q.wind_m_s)
    return Ways(
        # Clothes lie on the sleeper, the shell on its own slanted face.
        q.clothing_r_m2k_w + FABRIC_R * bridges.film_share(inner),
        thickness_m * narrowing,
        1 / bridges.wedge_share(inner, outer),
        blown * thickness_m * narrowing,
        widening * bridges.film_share(outer),
    )


def through(q: Quantities, air_c: Number, loft: Loft, ways: Ways) -> Number:
    """Conductance of each way at a temperature of the air.

    Units   degC -> W/m2K
    Source  engine.formulas.heat
    """
    conductivity = heat.fill_conductivity((SKIN_C + air_c) / 2, loft.density_kg_m3, q.extinction_m2_kg)
    outside = heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor + FABRIC_R
    path = np.asarray(conductivity * ways.opening + ways.blown_w_mk)
    # In place: a sweep spends most of its time here, and half of that on new memory.
    np.divide(ways.fill_m, path, out=path)
    path += ways.inside_m2k_w
    path += outside * ways.outside
    conductance: Number = np.divide(1.0, path, out=path)[()]
    return conductance


def places_of(q: Quantities, loft: Loft) -> Ways:
    """The ways through all places of a quilt.

    Shapes  (2, 32) or (2, 32, n): the two places of each bin share its slope
    Source  engine.loft
    """
    places = np.asarray(loft.thickness_m)
    by_bin = places.reshape(-1, np.shape(loft.slope)[0], *places.shape[1:])
    return ways_of(q, loft, by_bin, loft.slope)


def quilt_conductance(q: Quantities, loft: Loft, air_c: Number) -> Number:
    """Heat through this quilt per area of body that it covers and per kelvin.

    Units   degC -> W/m2K
    Range   air -45 to 25 degC
    Source  engine.formulas.heat
    """
    return conductances_at([air_c], q, loft, places_of(q, loft))[0]


def conductances_at(airs_c: Iterable[Number], q: Quantities, loft: Loft, places: Ways) -> list[Number]:
    """`quilt_conductance` at several temperatures of the air, through places that are known.

    Units   degC -> W/m2K
    Source  engine.formulas.heat
    """
    share = loft.on_body + loft.at_edge
    return [_mean(share, _each(q, loft, air_c, places)) for air_c in airs_c]


def _quilt_paths(q: Quantities, loft: Loft, air_c: Number, places: Ways) -> dict[str, Number]:
    """Conductance of this quilt in W/m2K: as if it were level, and what thin places add to that."""
    level = through(q, air_c, loft, ways_of(q, loft, *_level(loft)))
    each = _each(q, loft, air_c, places)
    near_edge = np.sum(loft.at_edge, axis=0)
    return {
        "through the fill": level,
        "at baffles and seams": _mean(loft.on_body, each) - level * (1 - near_edge),
        "at the quilt's edges": _mean(loft.at_edge, each) - level * near_edge,
    }


def _level(loft: Loft) -> tuple[Number, Number]:
    """Thickness, without slope, of the fill on the sleeper if it were spread evenly away from the edges."""
    share = np.sum(loft.on_body, axis=0)
    thickness = _mean(loft.on_body, loft.thickness_m) / np.where(share > 0, share, 1.0)
    return thickness, 0.0 * thickness


def _each(q: Quantities, loft: Loft, air_c: Number, places: Ways) -> NDArray[np.float64]:
    """Conductance of each place, shapes (64,) or (64, n)."""
    two_of_each_bin = np.asarray(through(q, air_c, loft, places))
    return two_of_each_bin.reshape(-1, *two_of_each_bin.shape[2:]) * q.section_factor


def _mean(share: Number, values: Number) -> Number:
    """Sum over the places, by their shares of (64,) or (64, n)."""
    if np.ndim(share) == 1:
        return share @ np.asarray(values)
    mean: Number = np.einsum("bn,bn->n", share, values)
    return mean


def half_share(q: Quantities) -> Number:
    """Share of the body's surface on the side that this quilt lies on; head and both sides make up 1.

    Units   dimensionless
    Source  common practice, no source
    """
    topside = 1 - q.head_share - q.underside_share
    return q.covers_underside * q.underside_share + (1 - q.covers_underside) * topside


def covered_share(q: Quantities, loft: Loft) -> Number:
    """Share of its half of the body that the quilt covers.

    Units   dimensionless
    Source  common practice, no source
    """
    return along_cover(q, loft) * cover.width_cover(loft.finished_width_m, q.needed_width_m)


def body_paths(q: Quantities, loft: Loft, air_c: Number, quilt: dict[str, Number]) -> dict[str, Number]:
    """Conductance of each path, per area of the whole body, from those through the quilt per area it covers.

    Units   degC, W/m2K -> W/m2K
    Source  engine.formulas.heat; shares of the body: engine.formulas.cover
    """
    bare = q.clothing_r_m2k_w + heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor
    half, covered, along = half_share(q), covered_share(q, loft), along_cover(q, loft)
    # The pad mends what is missing in length under the legs; what is missing in width stays bare.
    padded = np.where(along < q.pad_below_cover, 1 - along, 0.0)
    open_share = 1 - covered - padded
    other = q.other_matched * total(quilt) + (1 - q.other_matched) / (bare + q.other_r_m2k_w)
    past = 1 / (q.clothing_r_m2k_w + 1 / np.maximum(_leak(q), 1e-12))
    return {
        **{name: half * covered * path for name, path in quilt.items()},
        "with air that gets past it": half * past,
        "where it does not reach": half * (padded / (bare + q.beyond_r_m2k_w) + open_share / bare),
        "through the other half": (1 - q.head_share - half) * other,
        "from the head": q.head_share / q.head_r_m2k_w,
    }


def _leak(q: Quantities) -> Number:
    """Conductance by air that passes where the quilt stands off, per area of its half of the body: the
    opening is at the ends, so a short quilt lets as much past as a long one."""
    return heat.leak_conductance(q.gap_m * q.gap_width_m, q.wind_m_s, q.half_area_m2)


def heat_paths(q: Quantities, loft: Loft, places: Ways | None = None) -> dict[str, Number]:
    """Heat lost on each path by the standard woman, neither warm nor cool, in the air of the night, in W.

    Source  engine.formulas.body (ISO 11079:2007)
    """
    area = body.body_area(*body.STANDARD_WOMAN_KG_M)
    skin = body.skin_temperature(q.comfort_w_m2, body.NEUTRAL)
    quilt = _quilt_paths(q, loft, q.air_c, places or places_of(q, loft))
    paths = body_paths(q, loft, q.air_c, quilt)
    heat_w: dict[str, Number] = {name: area * part * (skin - q.air_c) for name, part in paths.items()}
    damp = body.evaporative_loss(
        body.skin_wettedness(q.comfort_w_m2, body.NEUTRAL),
        skin,
        q.air_c,
        q.humidity_percent,
        body.evaporative_resistance(1 / total(paths)),
    )
    heat_w["by breathing"] = area * body.respiratory_loss(q.comfort_w_m2, q.air_c, q.humidity_percent)
    heat_w["by damp skin"] = area * damp
    return heat_w


def total(parts: dict[str, Number]) -> Number:
    """Sum of the parts of a whole.

    Source  definition
    """
    whole: Number = 0.0
    for part in parts.values():
        whole = whole + part
    return whole
