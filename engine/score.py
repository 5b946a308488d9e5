"""What a quilt is worth: the five scores of its quantities, each with its parts.

All five are "less is better": weight, packed volume, the air temperature down to which it is
comfortable, cost and hours.
"""

from dataclasses import dataclass, fields
from typing import Literal

import numpy as np

from engine.bill import GROUPS, Bill, draw_up
from engine.formulas import body, labour, packing
from engine.loft import Loft, settle
from engine.quantities import JointRates, Quantities
from engine.units import Number
from engine.warmth import (
    RESISTANCE_AIR_C,
    SKIN_C,
    Ways,
    body_paths,
    conductances_at,
    covered_share,
    half_share,
    heat_paths,
    places_of,
    quilt_conductance,
    total,
)

ScoreKey = Literal["weight_kg", "volume_m3", "comfort_c", "cost", "work_h"]
SCORE_KEYS: tuple[ScoreKey, ...] = ("weight_kg", "volume_m3", "comfort_c", "cost", "work_h")


@dataclass(frozen=True)
class _Scores:
    """The five scores and the limit, each a float or one value per variant; parts sum to the whole."""

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
    loft: Loft
    bill: Bill


@dataclass(frozen=True)
class FiveScores(_Scores):
    """The scores of one quilt or of many, and what warmth was found from: all that a sweep needs."""

    places: Ways
    conductances_w_m2k: dict[float, Number]
    """Of the quilt, by the air at which each is taken."""


@dataclass(frozen=True)
class Score(_Scores):
    """The scores with where the heat goes, and what else a maker asks of one quilt."""

    heat_parts_w: dict[str, Number]
    joint_count: Number
    tape_m: Number
    seam_m: Number
    evenings: Number
    cure_h: Number
    body_cover: Number
    resistance_m2k_w: Number
    tare_kg: Number


def five_scores(q: Quantities) -> FiveScores:
    """The scores of one quilt, or of many at once, without where its heat goes: all that a sweep keeps.

    Shapes  every field a float, or (n,) for quantities that hold arrays
    Source  the formulas it calls
    """
    loft = settle(q)
    bill = draw_up(q, loft)
    weight_parts = _sum_by_group([(part.group, part.mass_kg) for part in bill.parts], bill, "mass_kg")
    cost_parts = _sum_by_group([(part.group, part.cost) for part in bill.parts], bill, "cost")
    volume_parts = _packed(q, loft, weight_parts)
    work_parts = _minutes(q, bill)
    places = places_of(q, loft)
    airs_c = body.RATING_POINTS_C
    quilt = dict(zip(airs_c, conductances_at(airs_c, q, loft, places), strict=True))
    whole = [total(body_paths(q, loft, air_c, {"quilt": through})) for air_c, through in quilt.items()]
    return FiveScores(
        weight_kg=total(weight_parts),
        volume_m3=total(volume_parts),
        comfort_c=body.lowest_air_temperature(q.comfort_w_m2, body.NEUTRAL, q.humidity_percent, whole),
        limit_c=body.lowest_air_temperature(q.limit_w_m2, body.MINIMAL, q.humidity_percent, whole),
        cost=total(cost_parts),
        work_h=labour.bench_hours(total(work_parts), q.hours_factor),
        weight_parts_kg=weight_parts,
        volume_parts_m3=volume_parts,
        cost_parts=cost_parts,
        work_parts_min=work_parts,
        loft=loft,
        bill=bill,
        places=places,
        conductances_w_m2k=quilt,
    )


def score(q: Quantities) -> Score:
    """All scores of one quilt, or of many at once.

    Shapes  every field a float, or (n,) for quantities that hold arrays
    Source  the formulas it calls
    """
    five = five_scores(q)
    loft, bill, weight_parts = five.loft, five.bill, five.weight_parts_kg
    return Score(
        **{each.name: getattr(five, each.name) for each in fields(_Scores)},
        heat_parts_w=heat_paths(q, loft, five.places),
        joint_count=_total([joint.pieces for joint in bill.joints]),
        tape_m=_total([joint.tape_m for joint in bill.joints]),
        seam_m=_total([joint.seam_m for joint in bill.joints]),
        evenings=labour.evenings(five.work_h),
        cure_h=_longest_cure([q.baffle_joints, q.edge_joints, q.end_joints, q.panel_joins]),
        body_cover=covered_share(q, loft),
        resistance_m2k_w=1 / five.conductances_w_m2k[RESISTANCE_AIR_C],
        tare_kg=five.weight_kg - weight_parts["fill"] - weight_parts["beyond the quilt"],
    )


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


__all__ = [
    "RESISTANCE_AIR_C",
    "SCORE_KEYS",
    "SKIN_C",
    "FiveScores",
    "Score",
    "ScoreKey",
    "covered_share",
    "five_scores",
    "half_share",
    "heat_paths",
    "quilt_conductance",
    "score",
    "total",
]
