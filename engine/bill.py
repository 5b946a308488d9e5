"""What a quilt is made of: parts with areas and masses, joints with lengths, minutes and cost."""

from dataclasses import dataclass

import numpy as np

from engine.formulas import cost, cover, geometry, labour, mass
from engine.loft import Loft
from engine.quantities import (
    BAFFLE_ALLOWANCE_M,
    END_ALLOWANCE_M,
    PATCH_AREA_M2,
    PATCH_SIDE_M,
    SIDE_ALLOWANCE_M,
    JointRates,
    Quantities,
)
from engine.units import Number

GROUPS = ("fill", "shells", "baffles", "joints", "suspension", "beyond the quilt")


@dataclass(frozen=True)
class Part:
    """One kind of piece. Sizes are of one piece; area, mass and cost are of all."""

    name: str
    group: str
    count: Number
    cut_length_m: Number
    cut_width_m: Number
    finished_length_m: Number
    finished_width_m: Number
    area_m2: Number
    mass_kg: Number
    cost: Number


@dataclass(frozen=True)
class Joint:
    """One class of joint."""

    name: str
    pieces: Number
    length_m: Number
    mass_kg: Number
    cost: Number
    minutes: Number
    tape_m: Number
    seam_m: Number


@dataclass(frozen=True)
class Bill:
    """All parts and joints; an absent one has the count zero."""

    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]


def draw_up(q: Quantities, loft: Loft) -> Bill:
    """The bill of one quilt, or of many at once.

    Source  definition
    """
    parts = (*_shells(q, loft), *_walls(q, loft), *_fill(q, loft), *_added(q, loft))
    return Bill(parts, _joints(q))


def _shells(q: Quantities, loft: Loft) -> tuple[Part, ...]:
    outline = q.station_position_m, q.station_width_m
    length, widest = outline[0][-1], np.max(outline[1], axis=0)
    parts = []
    for name, across, along, areal, price, lap_m2 in (
        ("inner shell", 1.0, 1.0, q.inner_kg_m2, q.inner_price_m2, q.inner_lap_m2),
        (
            "outer shell",
            loft.outer_stretch_across,
            loft.outer_stretch_along,
            q.outer_kg_m2,
            q.outer_price_m2,
            q.outer_lap_m2,
        ),
    ):
        shell = geometry.stretched(*outline, along, across)
        cut_m2 = geometry.cut_area(*shell, SIDE_ALLOWANCE_M, q.end_allowance_m) + lap_m2
        parts.append(
            Part(
                name,
                "shells",
                1.0,
                length * along + 2 * q.end_allowance_m,
                widest * across + 2 * SIDE_ALLOWANCE_M,
                loft.finished_length_m * along,
                loft.finished_width_m * across,
                cut_m2,
                mass.cloth_mass(cut_m2, areal),
                cut_m2 * price,
            )
        )
    extra = q.extras
    parts.append(
        Part(
            "footbox panel and collar",
            "shells",
            extra.cloth_pieces,
            0.0,
            0.0,
            0.0,
            0.0,
            extra.cloth_area_m2,
            extra.cloth_kg,
            extra.cloth_cost,
        )
    )
    return tuple(parts)


def _walls(q: Quantities, loft: Loft) -> tuple[Part, ...]:
    outline = q.station_position_m, q.station_width_m
    across, along = loft.outer_stretch_across, loft.outer_stretch_along
    count = q.baffle_count * q.baffle_cloth
    # In a differential cut what joins the shells is longer on its outer edge: its mean length counts.
    crosswise = q.baffle_across_m
    metres = (q.baffle_length_m - crosswise) * (1 + along) / 2 + crosswise * (1 + across) / 2
    each = metres / np.maximum(q.baffle_count, 1.0)
    sides = geometry.side_length(*outline) + geometry.side_length(
        *geometry.stretched(*outline, along, across)
    )
    panel = (q.station_width_m[0] + q.station_width_m[-1]) / 2 * (1 + across) / 2
    cut_width = q.baffle_height_m + 2 * BAFFLE_ALLOWANCE_M
    edge_width = q.edge_height_m + 2 * SIDE_ALLOWANCE_M
    panel_width = q.baffle_height_m + 2 * END_ALLOWANCE_M
    edge_count = np.where(q.edge_height_m > 0, 2.0, 0.0) * q.edge_walls
    # Edge walls and end panels run into the corner seams; baffles end free or before the edge.
    rows = (
        ("baffles", count, each, 0.0, cut_width, q.baffle_height_m, q.baffle_kg_m2, q.baffle_price_m2),
        (
            "edge walls",
            edge_count,
            sides / 2,
            2 * END_ALLOWANCE_M,
            edge_width,
            q.edge_height_m,
            q.baffle_kg_m2,
            q.baffle_price_m2,
        ),
        (
            "end panels",
            q.panel_count,
            panel,
            2 * SIDE_ALLOWANCE_M,
            panel_width,
            q.baffle_height_m,
            q.panel_kg_m2,
            q.panel_price_m2,
        ),
    )
    parts = []
    for name, n, length, ends, width, finished, areal, price in rows:
        area = n * (length + ends) * width
        parts.append(
            Part(
                name,
                "baffles",
                n,
                length + ends,
                width,
                length,
                finished,
                area,
                mass.cloth_mass(area, areal),
                area * price,
            )
        )
    return tuple(parts)


def along_cover(q: Quantities, loft: Loft) -> Number:
    """Share of the sleeper's lying length that the finished quilt covers.

    Units   dimensionless
    Source  common practice, no source
    """
    return cover.length_cover(loft.finished_length_m, q.lost_length_m, q.needed_length_m)


def _fill(q: Quantities, loft: Loft) -> tuple[Part, ...]:
    down_cost = cost.used_cost(loft.down_kg, q.fill_price_kg, cost.FILL_LOSS)
    extra_cost = cost.used_cost(q.extras.fill_kg, q.fill_price_kg, cost.FILL_LOSS)
    sheet_m2 = loft.inner_area_m2 * q.sheet_layers
    length, width = q.station_position_m[-1], np.max(q.station_width_m, axis=0)
    has_down, has_extra = np.where(loft.down_kg > 0, 1.0, 0.0), np.where(q.extras.fill_kg > 0, 1.0, 0.0)
    return (
        Part("down in the chambers", "fill", has_down, 0.0, 0.0, 0.0, 0.0, 0.0, loft.down_kg, down_cost),
        Part(
            "down in footbox and collar",
            "fill",
            has_extra,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            q.extras.fill_kg,
            extra_cost,
        ),
        Part(
            "sheet insulation",
            "fill",
            q.sheet_layers,
            length,
            width,
            length,
            width,
            sheet_m2,
            loft.sheet_kg,
            sheet_m2 * q.sheet_price_m2,
        ),
    )


def _added(q: Quantities, loft: Loft) -> tuple[Part, ...]:
    extra = q.extras
    beyond = np.where(along_cover(q, loft) < q.pad_below_cover, 1.0, 0.0)
    return (
        Part(
            "patches",
            "suspension",
            2 * extra.patch_count,
            PATCH_SIDE_M,
            PATCH_SIDE_M,
            PATCH_SIDE_M,
            PATCH_SIDE_M,
            extra.patch_count * PATCH_AREA_M2,
            extra.patch_kg,
            0.0,
        ),
        Part(
            "cords and hardware",
            "suspension",
            np.where(extra.suspension_kg > 0, 1.0, 0.0),
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            extra.suspension_kg,
            extra.suspension_cost,
        ),
        Part(
            "pad where the quilt does not reach",
            "beyond the quilt",
            beyond,
            0.0,
            0.0,
            0.0,
            0.0,
            0.0,
            beyond * q.beyond_kg,
            beyond * q.beyond_cost,
        ),
    )


def _joints(q: Quantities) -> tuple[Joint, ...]:
    joints = [
        _joint("baffles", q.baffle_joints),
        _joint("edges", q.edge_joints),
        _joint("ends", q.end_joints),
        _joint("panel joins", q.panel_joins),
        _joint("raw edges", q.raw_edges),
    ]
    footbox = JointRates(
        pieces=q.extras.seam_pieces,
        length_m=q.extras.seam_m,
        mass_kg_m=q.edge_joints.mass_kg_m,
        price_per_m=q.edge_joints.price_per_m,
        minutes_per_m=q.edge_joints.minutes_per_m,
        minutes_per_piece=q.edge_joints.minutes_per_piece,
        tape_m_per_m=q.edge_joints.tape_m_per_m,
        seam_share=q.edge_joints.seam_share,
        cure_h=q.edge_joints.cure_h,
    )
    joints.append(_joint("footbox and collar", footbox))
    patch = q.extras.patch_count
    joints.append(Joint("patches", patch, 0.0 * patch, 0.0, 0.0, patch * labour.PATCH_MIN, 0.0, 0.0))
    return tuple(joints)


def _joint(name: str, rates: JointRates) -> Joint:
    return Joint(
        name,
        rates.pieces,
        rates.length_m,
        mass.joint_mass(rates.length_m, rates.mass_kg_m),
        cost.used_cost(rates.length_m, rates.price_per_m, cost.TAPE_WASTE),
        labour.joint_minutes(rates.length_m, rates.pieces, rates.minutes_per_m, rates.minutes_per_piece),
        rates.length_m * rates.tape_m_per_m,
        rates.length_m * rates.seam_share,
    )
