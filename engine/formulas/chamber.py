"""How a chamber fills: shells that are held at baffles and bulge as circular arcs between them.

A face between two baffles is an arc of cut length c and half angle a: flat at 0, a half circle at
pi / 2. The chord shortens as the bulge grows, which is the draw-in that makers allow for.
"""

import numpy as np

from engine.formulas.refuse import refuse_negative, refuse_unless_positive
from engine.units import Number

HALF_CIRCLE = np.pi / 2
HALVINGS = 50


def chord_share(half_angle_rad: Number) -> Number:
    """Chord of an arc as a share of its length: sin a / a.

    Units   rad -> dimensionless
    Source  definition
    """
    return np.sinc(np.asarray(half_angle_rad) / np.pi)


def segment_area(cut_m: Number, half_angle_rad: Number) -> Number:
    """Area between one arc and its chord; a sewn chamber of two arcs holds twice this.

    Units   m, rad -> m2
    Range   half angle 0 to pi/2
    Source  definition: c2 (a - sin a cos a) / (4 a2), a series below 0.05 rad
    """
    angle = np.maximum(half_angle_rad, 1e-9)
    safe = np.maximum(angle, 0.05)
    exact = (safe - np.sin(safe) * np.cos(safe)) / safe**2
    series = 2 / 3 * angle - 2 / 15 * angle**3 + 4 / 315 * angle**5
    return cut_m**2 / 4 * np.where(angle < 0.05, series, exact)


def arc_height(cut_m: Number, half_angle_rad: Number, place: Number) -> Number:
    """Height of an arc over its chord at `place`, 0 in the middle and 1 at the end of the chord.

    Units   m, rad, dimensionless -> m
    Range   half angle 0 to pi/2
    Source  definition
    """
    sine, cosine = np.sin(half_angle_rad), np.cos(half_angle_rad)
    root = np.sqrt(np.maximum(1 - (place * sine) ** 2, 0.0))
    rise = sine * (1 - place**2) / (root + cosine + 1e-300)
    height: Number = cut_m / 2 * chord_share(half_angle_rad) * rise
    return height


def half_angle_of_excess(excess: Number) -> Number:
    """Half angle at which an arc is longer than its chord by the share `excess`.

    Units   dimensionless (0.05: 5 % longer) -> rad, at most pi/2
    Raises  ValueError for a negative excess
    Source  definition, by fixed halvings
    """
    refuse_negative("excess", excess, "")
    low = np.zeros_like(np.asarray(excess, dtype=float))
    high = np.full_like(low, HALF_CIRCLE)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        short = 1 / chord_share(middle) - 1 < excess
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    half_angle: Number = (low + high) / 2
    return half_angle


def chamber_volume(
    cut_area_m2: Number,
    span_m: Number,
    height_m: Number,
    base_share: Number,
    bulge_share: Number,
    half_angle_rad: Number,
) -> Number:
    """Volume between the shells when every chamber bulges to one half angle.

    The base is a prism of the baffle height over the drawn-in area, less its edge taper
    (`base_share`); the bulge is two arcs per chamber, less what closed ends take (`bulge_share`).

    Units   m2 (mean of both shells, flat), m (cut length between baffles), m, shares, rad -> m3
    Source  definition
    """
    base = height_m * chord_share(half_angle_rad) * base_share
    bulge = 2 * segment_area(span_m, half_angle_rad) / span_m * bulge_share
    return cut_area_m2 * (base + bulge)


def fullest_half_angle(span_m: Number, height_m: Number, base_share: Number, bulge_share: Number) -> Number:
    """Half angle at which a chamber holds most: beyond it the draw-in takes more than the bulge gives.

    A half circle for sewn-through chambers, nearly flat for those much higher than wide.

    Units   m, m, shares -> rad, at most pi/2
    Raises  ValueError for a span of zero
    Source  definition: the volume's slope is nil where cos a / a = height base / (span bulge)
    """
    refuse_unless_positive("span_m", span_m, "m")
    ratio = height_m * base_share / (span_m * bulge_share)
    low = np.zeros(np.shape(ratio))
    high = low + HALF_CIRCLE
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        gains = np.cos(middle) > middle * ratio
        low, high = np.where(gains, middle, low), np.where(gains, high, middle)
    return (low + high) / 2


def settled_half_angle(
    fill_volume_m3: Number,
    largest_rad: Number,
    cut_area_m2: Number,
    span_m: Number,
    height_m: Number,
    base_share: Number,
    bulge_share: Number,
) -> Number:
    """Half angle at which the chambers hold just the volume that the fill wants.

    0 when the fill does not even fill the base, `largest_rad` when the cut allows no more bulge.

    Units   m3, rad, then as chamber_volume -> rad
    Range   largest_rad up to fullest_half_angle, where volume grows with the angle
    Raises  ValueError for a negative fill or a span of zero
    Source  definition, by fixed halvings
    """
    refuse_negative("fill_volume_m3", fill_volume_m3, "m3")
    refuse_unless_positive("span_m", span_m, "m")
    low = np.zeros(np.broadcast(fill_volume_m3, largest_rad, cut_area_m2, span_m, height_m).shape)
    high = low + largest_rad
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        volume = chamber_volume(cut_area_m2, span_m, height_m, base_share, bulge_share, middle)
        short = volume < fill_volume_m3
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return (low + high) / 2


def fill_by_rule(area_m2: Number, height_m: Number, fill_power_m3_kg: Number) -> Number:
    """Fill by the trade's short rule: area times baffle height over fill power.

    60 x 44 x 2 in at 800 in3/oz: 6.6 oz. It overlooks that edges taper and that chambers bulge.

    Units   m2, m, m3/kg -> kg
    Raises  ValueError for a fill power of zero
    Source  common practice, no source
    """
    refuse_unless_positive("fill_power_m3_kg", fill_power_m3_kg, "m3/kg")
    return area_m2 * height_m / fill_power_m3_kg
