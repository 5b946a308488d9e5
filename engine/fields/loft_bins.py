"""How is the thickness of a quilt distributed, for any baffle height and bulge?

The fields of a loft map are sampled between the nodes, each sample with its area, and gathered into 32
bins. A bin keeps its area, means and covariances, so the area integral of a smooth f(thickness) costs
32 evaluations: f(mean) + f''(mean) var / 2.

Equal steps of one conductance-like key leave 0.1 to 2 % in a conductance once edges have a height of
their own or the ends are wide open, and 10 % with much fill. Splitting the bin that spreads most, over six
keys that stand for low and high edges, little and much bulge, leaves 0.05 % (baffles 20 to 120 mm, edges
at 0.3 to 1 of it, fill up to 1.6 of the base volume) and 0.1 % up to 2.5 of it (own study, 7 layouts).
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from engine.fields.constraints import LEFT, RIGHT
from engine.fields.grid import Array, Grid, Mask
from engine.fields.links import Links

FIELDS = 4
"""Baffles, end panels, edge walls, bulge."""
BINS = 32
THIN = 0.35
"""Base plus bulge over its peak, below which conductances run so steep that a quarter needs more samples."""
SHORTEST_ARM = 0.1
"""Steps; an arm shorter than this is taken as long as this when a slope is wanted."""
_GAUSS = 0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3)
_KEYS = tuple(product((1.0, 0.35), (0.1, 0.5, 3.0)))
"""Height of edge walls and peak of the bulge, both in baffle heights."""
_FINE = 32
"""Steps a key in the first sorting, which the bins are made of."""


@dataclass(frozen=True)
class Samples:
    """Area (n,), fields (4, n) between the nodes, their slopes (2, 4, n) across and along per m, places
    (2, n), and which samples (n,) lie beside a long edge."""

    area_m2: Array
    fields: Array
    slopes: Array
    place_m: Array
    beside: Mask


@dataclass(frozen=True)
class Bins:
    """Shapes (32,), (32, 4), (32, 4, 4), (32, 4, 4): area, means and covariances of the four fields in each
    bin, and the means of the products of their slopes (1/m2).

    A bin without area carries the means of the plan.
    """

    area_m2: Array
    means: Array
    covariances: Array
    slopes: Array


@dataclass(frozen=True)
class _Arm:
    """From each node one way: reach in steps, fields at its end, whether it is cut and by what."""

    reach: Array
    end: Array
    cut: Mask
    owner: NDArray[np.intp]

    def turned(self) -> "_Arm":
        return _Arm(self.reach.T, self.end.swapaxes(1, 2), self.cut.T, self.owner.T)


def _arms(fields: Array, links: Links) -> tuple[_Arm, _Arm]:
    """Arms back and forth along the last axis, for the nodes that have a neighbour every way."""
    here, back, forth = fields[:, 1:-1, 1:-1], fields[:, 1:-1, :-2], fields[:, 1:-1, 2:]
    behind = links.own_b[1:-1, :-1] * here + links.other[1, 1:-1, :-1] * back
    ahead = links.own_a[1:-1, 1:] * here + links.other[0, 1:-1, 1:] * forth
    behind[:-1] += links.held_b[:, 1:-1, :-1]
    ahead[:-1] += links.held_a[:, 1:-1, 1:]
    cut, b, a = links.cut, np.s_[1:-1, :-1], np.s_[1:-1, 1:]
    return (
        _Arm(links.reach_b[b], behind, cut[b], links.owner_b[b]),
        _Arm(links.reach_a[a], ahead, cut[a], links.owner_a[a]),
    )


def _curvature(here: Array, arms: tuple[_Arm, ...]) -> Array:
    """Second derivative per step squared, from the slopes of both arms; an open arm is half a chord."""
    back, forth = arms
    slopes = (back.end - here) / back.reach + (forth.end - here) / forth.reach
    span = np.where(back.cut, back.reach, 1.0) + np.where(forth.cut, forth.reach, 1.0)
    curvature: Array = 2 * slopes / span
    return curvature


def samples_of(grid: Grid, across: Links, along: Links, fields: Array) -> Samples:
    """Each node's four quarters: one sample where open and thick, else three or four."""
    arms_x = _arms(fields, across)
    arms_y = tuple(arm.turned() for arm in _arms(fields.swapaxes(1, 2), along))
    inside, here = grid.inside[1:-1, 1:-1], fields[:, 1:-1, 1:-1]
    # Between two points a curve lies off its chord: by curvature / 12 on average, nothing at the points.
    bend_x, bend_y = _curvature(here, arms_x), _curvature(here, arms_y)
    off = (bend_x + bend_y) / 12
    thin = np.sum(here[:-1], axis=0) + here[-1] / np.max(here[-1]) < THIN
    rows, columns = inside.shape
    cell = grid.step_x_m * grid.step_y_m
    step = np.array([grid.step_x_m, grid.step_y_m])[:, None, None]
    node = np.stack(np.meshgrid(grid.x_m[1:-1], grid.y_m[1:-1]))
    areas, values, slopes, places, beside = [], [], [], [], []
    for (way_x, x), (way_y, y) in product(zip((0, 2), arms_x, strict=True), zip((0, 2), arms_y, strict=True)):
        diagonal = fields[:, way_y : way_y + rows, way_x : way_x + columns]
        way = np.array([way_x - 1, way_y - 1])[:, None]
        whole = inside & ~x.cut & ~y.cut & ~thin
        areas.append(np.full(int(np.sum(whole)), cell / 4))
        beside.append(np.zeros(areas[-1].size, dtype=bool))
        values.append(((3 * here + 6 * (x.end + y.end) + diagonal) / 16 - off)[:, whole])
        chords = np.stack([(x.end - here) / x.reach, (y.end - here) / y.reach])[:, :, whole]
        slopes.append(chords / step)
        places.append(node[:, whole] + way * step[:, 0] / 4)
        rest = inside & ~whole
        # Along a line its value holds, so the far corner of a cut quarter has it too.
        same = (x.cut & y.cut & (x.owner == y.owner))[rest]
        edge = (np.isin(x.owner, (LEFT, RIGHT)) | np.isin(y.owner, (LEFT, RIGHT)))[rest]
        quarter = _Quarter(
            here=here[:, rest],
            end_x=x.end[:, rest],
            end_y=y.end[:, rest],
            bend_x=bend_x[:, rest],
            bend_y=bend_y[:, rest],
            reach_x=x.reach[rest],
            reach_y=y.reach[rest],
            cut_x=x.cut[rest],
            cut_y=y.cut[rest],
        )
        for part, place_x, place_y, share in _places(same):
            areas.append((cell * x.reach * y.reach)[rest][part] * share)
            values.append(quarter.at(place_x, place_y)[:, part])
            slopes.append(quarter.slopes_at(place_x, place_y)[:, :, part] / step)
            reach = np.stack([place_x * quarter.reach_x, place_y * quarter.reach_y])
            places.append((node[:, rest] + way * step[:, 0] * reach)[:, part])
            beside.append(edge[part])
    return Samples(
        np.concatenate(areas),
        np.concatenate(values, axis=1),
        np.concatenate(slopes, axis=2),
        np.concatenate(places, axis=1),
        np.concatenate(beside),
    )


@dataclass(frozen=True)
class _Quarter:
    """Quarters of nodes: fields at the node and at the ends of both arms, bends, reaches, cuts."""

    here: Array
    end_x: Array
    end_y: Array
    bend_x: Array
    bend_y: Array
    reach_x: Array
    reach_y: Array
    cut_x: Mask
    cut_y: Mask

    def corner(self) -> Array:
        """Fields at the far corner."""
        # Along a line its value holds, so the far corner of a cut quarter has it too.
        one_cut = np.where(self.cut_x, self.end_x, self.end_y)
        both = np.where(self.cut_x, (self.end_x + self.end_y) / 2, self.end_x + self.end_y - self.here)
        far: Array = np.where(self.cut_x == self.cut_y, both, one_cut)
        return far

    def slopes_at(self, p: float, q: float) -> Array:
        """Slopes (2, 4, n) of the fields per step, outward along both arms."""
        corner = self.corner()
        rise_x = (1 - q) * (self.end_x - self.here) + q * (corner - self.end_y)
        rise_y = (1 - p) * (self.end_y - self.here) + p * (corner - self.end_x)
        # Close to a line that holds a node only in part, a drop over next to nothing would be no slope.
        steep_x = rise_x / np.maximum(self.reach_x, SHORTEST_ARM) - self.bend_x * _off_slope(
            p, self.reach_x, self.cut_x
        )
        steep_y = rise_y / np.maximum(self.reach_y, SHORTEST_ARM) - self.bend_y * _off_slope(
            q, self.reach_y, self.cut_y
        )
        slopes: Array = np.stack([steep_x, steep_y])
        return slopes

    def at(self, p: float, q: float) -> Array:
        """Fields at the shares p and q of both arms."""
        corner = self.corner()
        flat = (1 - p) * ((1 - q) * self.here + q * self.end_y) + p * ((1 - q) * self.end_x + q * corner)
        off = self.bend_x * _off_chord(p, self.reach_x, self.cut_x)
        off += self.bend_y * _off_chord(q, self.reach_y, self.cut_y)
        value: Array = flat - off
        return value


def _off_chord(share: float, reach: Array, cut: Mask) -> Array:
    """How far a curve of unit bend lies off its chord at a share of an arm; an open arm is half a chord."""
    place, whole = share * reach, np.where(cut, reach, 1.0)
    off: Array = place * (whole - place) / 2
    return off


def _off_slope(share: float, reach: Array, cut: Mask) -> Array:
    """Slope of _off_chord per step."""
    slope: Array = (np.where(cut, reach, 1.0) - 2 * share * reach) / 2
    return slope


def _places(same: Mask) -> list[tuple[Mask, float, float, float]]:
    """Sample points of cut quarters: which quarters, shares of both arms, share of the area.

    Four Gauss points in a rectangle; three in a triangle, where one line cuts both arms.
    """
    square = [(~same, p, q, 1 / 4) for p, q in product(_GAUSS, _GAUSS)]
    return square + [(same, p, q, 1 / 6) for p, q in ((1 / 6, 1 / 6), (2 / 3, 1 / 6), (1 / 6, 2 / 3))]


def bins_of(samples: Samples) -> tuple[Bins, NDArray[np.intp]]:
    """Samples in 32 bins, split where conductances spread most, and the bin (n,) of each sample."""
    area, fields = samples.area_m2, samples.fields
    peak = float(np.max(fields[-1]))
    keys = _keys(fields, peak)
    # First into small boxes of three keys, so that the splitting handles hundreds and not ten thousands.
    box = np.zeros(area.size, dtype=np.intp)
    for key in (keys[0], keys[2], keys[4]):
        low, high = float(np.min(key)), float(np.max(key))
        step = np.minimum(_FINE * (key - low) / max(high - low, 1e-12), _FINE - 1)
        box = box * _FINE + step.astype(np.intp)
    _, box = np.unique(box, return_inverse=True)
    weight, means, seconds = _moments(area, fields, box, int(np.max(box)) + 1)
    bin_of_box = _split(_keys(means.T, peak), weight)
    number = bin_of_box[box]
    return _gathered(weight, means, seconds, bin_of_box, _slope_products(samples, number)), number


def _slope_products(samples: Samples, number: NDArray[np.intp]) -> Array:
    """Sums (32, 4, 4) of area times the products of slopes."""
    sums = np.empty((BINS, FIELDS, FIELDS))
    across, along = samples.slopes
    for k, m in product(range(FIELDS), range(FIELDS)):
        if m >= k:
            steep = across[k] * across[m] + along[k] * along[m]
            sums[:, k, m] = sums[:, m, k] = np.bincount(number, samples.area_m2 * steep, BINS)
    return sums


def _keys(fields: Array, peak: float) -> Array:
    """Conductance-like keys (6, n), which change most where the quilt is thin."""
    base, bulge = fields[0] + fields[1], fields[3] / peak
    return np.stack([1 / (0.12 + base + edge * fields[2] + share * bulge) for edge, share in _KEYS])


def _moments(area: Array, fields: Array, box: NDArray[np.intp], boxes: int) -> tuple[Array, Array, Array]:
    """Area, means (n, 4) and second moments about the mean (n, 4, 4) of each box."""
    weight: Array = np.bincount(box, area, boxes).astype(float)
    means = np.stack([np.bincount(box, area * field, boxes) / weight for field in fields], axis=1)
    off = fields - means.T[:, box]
    seconds = np.empty((boxes, FIELDS, FIELDS))
    for k, m in product(range(FIELDS), range(FIELDS)):
        if m >= k:
            seconds[:, k, m] = seconds[:, m, k] = np.bincount(box, area * off[k] * off[m], boxes)
    return weight, means, seconds


def _split(keys: Array, weight: Array) -> NDArray[np.intp]:
    """Bin of each box: time and again the bin that spreads most is cut at its mean, where it spreads most."""

    def spread(which: NDArray[np.intp]) -> tuple[float, int, float]:
        own, total = keys[:, which], float(np.sum(weight[which]))
        mean = own @ weight[which] / total
        variance = (own - mean[:, None]) ** 2 @ weight[which] / total
        key = int(np.argmax(variance))
        return total * float(variance[key]), key, float(mean[key])

    groups = [np.arange(weight.size)]
    spreads = [spread(groups[0])]
    while len(groups) < BINS:
        worst = max(range(len(groups)), key=lambda n: spreads[n][0])
        _, key, mean = spreads[worst]
        above = keys[key, groups[worst]] > mean
        if np.all(above) or not np.any(above):
            break
        parts = groups[worst][above], groups[worst][~above]
        groups[worst], spreads[worst] = parts[0], spread(parts[0])
        groups.append(parts[1])
        spreads.append(spread(parts[1]))
    number = np.empty(weight.size, dtype=np.intp)
    for n, group in enumerate(groups):
        number[group] = n
    return number


def _gathered(weight: Array, means: Array, seconds: Array, number: NDArray[np.intp], steep: Array) -> Bins:
    """Boxes gathered into bins: areas add, second moments add with what lies between the means."""
    area: Array = np.bincount(number, weight, BINS).astype(float)
    filled = np.where(area > 0, area, 1.0)
    plan = weight @ means / np.sum(weight)
    own = np.stack([np.bincount(number, weight * mean, BINS) for mean in means.T], axis=1) / filled[:, None]
    own = np.where(area[:, None] > 0, own, plan)
    off = means - own[number]
    spread = seconds + weight[:, None, None] * off[:, :, None] * off[:, None, :]
    covariances = np.zeros((BINS, FIELDS, FIELDS))
    np.add.at(covariances, number, spread)
    inverse = 1 / filled[:, None, None]
    return Bins(area, own, covariances * inverse, steep * inverse)
