"""What a quilt is worth: the five scores of its quantities, each with its parts.

All five are "less is better": weight, packed volume, the air temperature down to which it is
comfortable, cost and hours.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from engine.bill import GROUPS, Bill, along_cover, draw_up
from engine.formulas import body, bridges, cover, heat, labour, packing
from engine.loft import Loft, settle
from engine.quantities import FABRIC_R, JointRates, Quantities
from engine.units import Number

SKIN_C = 33.0
"""Skin at which the fill's mean temperature is taken; its effect on conductivity is small."""
RESISTANCE_AIR_C = -10.0
"""Air at which a quilt's resistance is stated."""

ScoreKey = Literal["weight_kg", "volume_m3", "comfort_c", "cost", "work_h"]
SCORE_KEYS: tuple[ScoreKey, ...] = ("weight_kg", "volume_m3", "comfort_c", "cost", "work_h")


@dataclass(frozen=True)
class Score:
    """The scores and the limit, each a float or one value per variant; parts sum to the whole."""

    weight_kg: Number
    volume_m3: Number
    comfort_c: Number
    limit_c: Number
    cost: Number
    work_h: Number
    weight_parts_kg: dict[str, Number]
    volume_parts_m3: dict[str, Number]
    cost_parts: dict[str, Number]
    work_parts_min: dict[str, Number]
    heat_parts_w: dict[str, Number]
    joint_count: Number
    tape_m: Number
    seam_m: Number
    evenings: Number
    cure_h: Number
    body_cover: Number
    resistance_m2k_w: Number
    tare_kg: Number
    loft: Loft
    bill: Bill


def score(q: Quantities) -> Score:
    """All scores of one quilt, or of many at once.

    Shapes  every field a float, or (n,) for quantities that hold arrays
    Source  the formulas it calls
    """
    loft = settle(q)
    bill = draw_up(q, loft)
    weight_parts = _sum_by_group([(part.group, part.mass_kg) for part in bill.parts], bill, "mass_kg")
    cost_parts = _sum_by_group([(part.group, part.cost) for part in bill.parts], bill, "cost")
    volume_parts = _packed(q, loft, weight_parts)
    work_parts = _minutes(q, bill)
    work_h = labour.bench_hours(total(work_parts), q.hours_factor)
    conductances = {air: _conductances(q, loft, air) for air in body.RATING_POINTS_C}
    body_w_m2k = [total(parts) for parts in conductances.values()]
    comfort_c = body.lowest_air_temperature(q.comfort_w_m2, body.NEUTRAL, q.humidity_percent, body_w_m2k)
    limit_c = body.lowest_air_temperature(q.limit_w_m2, body.MINIMAL, q.humidity_percent, body_w_m2k)
    weight = total(weight_parts)
    return Score(
        weight_kg=weight,
        volume_m3=total(volume_parts),
        comfort_c=comfort_c,
        limit_c=limit_c,
        cost=total(cost_parts),
        work_h=work_h,
        weight_parts_kg=weight_parts,
        volume_parts_m3=volume_parts,
        cost_parts=cost_parts,
        work_parts_min=work_parts,
        heat_parts_w=heat_paths(q, loft),
        joint_count=_total([joint.pieces for joint in bill.joints]),
        tape_m=_total([joint.tape_m for joint in bill.joints]),
        seam_m=_total([joint.seam_m for joint in bill.joints]),
        evenings=labour.evenings(work_h),
        cure_h=_longest_cure([q.baffle_joints, q.edge_joints, q.end_joints, q.panel_joins]),
        body_cover=covered_share(q, loft),
        resistance_m2k_w=1 / quilt_conductance(q, loft, RESISTANCE_AIR_C),
        tare_kg=weight - weight_parts["fill"] - weight_parts["beyond the quilt"],
        loft=loft,
        bill=bill,
    )


def total(parts: dict[str, Number]) -> Number:
    """Sum of the parts of a score.

    Source  definition
    """
    return _total(list(parts.values()))


def _total(values: list[Number]) -> Number:
    result: Number = 0.0
    for value in values:
        result = result + value
    return result


def _longest_cure(classes: list[JointRates]) -> Number:
    result: Number = 0.0
    for rates in classes:
        result = np.maximum(result, np.where(rates.length_m > 0, rates.cure_h, 0.0))
    return result


def _sum_by_group(parts: list[tuple[str, Number]], bill: Bill, joint_field: str) -> dict[str, Number]:
    sums: dict[str, Number] = dict.fromkeys(GROUPS, 0.0)
    for group, value in parts:
        sums[group] = sums[group] + value
    sums["joints"] = sums["joints"] + _total([getattr(joint, joint_field) for joint in bill.joints])
    return sums


def _packed(q: Quantities, loft: Loft, weight_parts: dict[str, Number]) -> dict[str, Number]:
    density = packing.packed_density(
        1 / q.fill_power_m3_kg, q.pivot_density_kg_m3, packing.STUFFED_BY_HAND_PA
    )
    shell_kg = total(weight_parts) - weight_parts["fill"] - weight_parts["beyond the quilt"]
    return {
        "fill": packing.packed_volume(weight_parts["fill"], density),
        "shells and the rest": packing.packed_volume(shell_kg, q.shell_density_kg_m3),
    }


def _minutes(q: Quantities, bill: Bill) -> dict[str, Number]:
    cloth_m2 = _total([part.area_m2 for part in bill.parts if part.group == "shells"])
    minutes: dict[str, Number] = {"mark and cut": labour.mark_and_cut_minutes(cloth_m2)}
    minutes |= {f"join {joint.name}": joint.minutes for joint in bill.joints}
    minutes["fill"] = q.fill_minutes
    minutes["close and weigh"] = labour.CLOSE_AND_WEIGH_MIN
    return minutes


def quilt_conductance(q: Quantities, loft: Loft, air_c: Number) -> Number:
    """Heat through this quilt per area of body that it covers and per kelvin.

    Units   degC -> W/m2K
    Range   air -45 to 25 degC
    Source  engine.formulas.heat
    """
    return total(_quilt_paths(q, loft, air_c))


def _quilt_paths(q: Quantities, loft: Loft, air_c: Number) -> dict[str, Number]:
    """Conductance of this quilt in W/m2K: as if it were level, and what thin places add to that."""
    level = _through(q, air_c, loft, *_level(loft))
    places = _through(q, air_c, loft, loft.thickness_m, loft.slope) * q.section_factor
    near_edge = np.sum(loft.at_edge, axis=0)
    return {
        "through the fill": level,
        "at baffles and seams": _mean(loft.on_body, places) - level * (1 - near_edge),
        "at the quilt's edges": _mean(loft.at_edge, places) - level * near_edge,
    }


def _level(loft: Loft) -> tuple[Number, Number]:
    """Thickness, without slope, of the fill on the sleeper if it were spread evenly away from the edges."""
    share = np.sum(loft.on_body, axis=0)
    thickness = _mean(loft.on_body, loft.thickness_m) / np.where(share > 0, share, 1.0)
    return thickness, 0.0 * thickness


def _mean(share: Number, values: Number) -> Number:
    mean: Number = np.einsum("b...,b...->...", share, values)
    return mean


def _through(q: Quantities, air_c: Number, loft: Loft, thickness_m: Number, slope: Number) -> Number:
    """Conductance in W/m2K at each place of so much thickness whose faces slope."""
    mean_c = (SKIN_C + air_c) / 2
    conductivity = heat.fill_conductivity(mean_c, loft.density_kg_m3, q.extinction_m2_kg)
    inside = q.clothing_r_m2k_w + FABRIC_R
    outside = heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor + FABRIC_R
    inner, outer = slope * (1 - loft.outer_share), slope * loft.outer_share
    # Wind that gets in by one side of the shell and out by the other takes heat along beside the fill.
    blown = heat.blown_through_conductance(q.outer_permeability_m_s, q.wind_m_s)
    path = heat.curved_path_resistance(
        inside * bridges.film_share(inner),
        thickness_m,
        conductivity / bridges.wedge_share(inner, outer) + blown * thickness_m,
        outside * bridges.film_share(outer),
        q.curvature_radius_m,
    )
    return 1 / path


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


def _conductances(q: Quantities, loft: Loft, air_c: Number) -> dict[str, Number]:
    """Conductance of each path, per area of the whole body, in W/m2K."""
    paths = _quilt_paths(q, loft, air_c)
    quilt = total(paths)
    bare = q.clothing_r_m2k_w + heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor
    half, covered, along = half_share(q), covered_share(q, loft), along_cover(q, loft)
    # The pad mends what is missing in length under the legs; what is missing in width stays bare.
    padded = np.where(along < q.pad_below_cover, 1 - along, 0.0)
    open_share = 1 - covered - padded
    other = q.other_matched * quilt + (1 - q.other_matched) / (bare + q.other_r_m2k_w)
    past = 1 / (q.clothing_r_m2k_w + 1 / np.maximum(_leak(q), 1e-12))
    return {
        **{name: half * covered * path for name, path in paths.items()},
        "past the quilt's ends": half * covered * past,
        "where it does not reach": half * (padded / (bare + q.beyond_r_m2k_w) + open_share / bare),
        "through the other half": (1 - q.head_share - half) * other,
        "from the head": q.head_share / q.head_r_m2k_w,
    }


def _leak(q: Quantities) -> Number:
    """Conductance by air that passes where the quilt stands off, per area that the quilt covers."""
    return heat.leak_conductance(q.gap_m * q.gap_width_m, q.wind_m_s, q.half_area_m2)


def heat_paths(q: Quantities, loft: Loft) -> dict[str, Number]:
    """Heat lost on each path by the standard woman, neither warm nor cool, in the air of the night, in W.

    Source  engine.formulas.body (ISO 11079:2007)
    """
    area = body.body_area(*body.STANDARD_WOMAN_KG_M)
    skin = body.skin_temperature(q.comfort_w_m2, body.NEUTRAL)
    paths = _conductances(q, loft, q.air_c)
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
