"""How thick is the filled quilt at each place of its plan, whatever its layout?

Solved on the plan, once for an outline and its layout; heights, fill and cut come later, as formulas
(engine.formulas.relief) on the integrals and bins that a map keeps. Straight sewn channels have exact
arcs (engine.formulas.chamber). What a grid costs and gains on 1.98 x 0.99 m, errors in percent against
288 x 576 cells for the volumes of base and bulge and for the base's energy (own mesh study, repeated by
tests/benchmarks/bench_loft_map.py; processor time of one thread, with all bins):

    cells      step     49 staggered baffles       17 full crosswise baffles      time
                        base   bulge  energy       base   bulge  energy
    36 x 72    27 mm    0.00   +0.09    0.00      +0.13   -0.28   +0.91          15 ms
    54 x 108   18 mm   -0.02   +0.22   -0.02      +0.02   -0.15   -0.04          24 ms
    72 x 144   14 mm   -0.02   +0.28   -0.02       0.00   -0.09   -0.22          37 ms   default
    75 x 149   13 mm   -0.01   +0.11    0.00      -0.05   -0.08   -1.07          40 ms
    108 x 216   9 mm    0.00   -0.01    0.00       0.00   -0.04   -0.14          80 ms
    144 x 288   7 mm    0.00   +0.05    0.00       0.00   -0.02   +0.04         170 ms

Integrals would allow 54 x 108; the default has 8 cells in a chamber so that conductances, which run steep
beside a seam, are within 0.4 % too (up to 10 % excess; 1 % beyond what a cut can give). The energy is last
to settle where full baffles run out to a lower edge: within 1.2 %.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, TypeAlias

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import splu

from engine.fields.constraints import EDGE_VALUES, KINDS, Edges, Lines
from engine.fields.grid import Array, Grid, Mask, Outline, default_cells, grid_of, outline_of
from engine.fields.lines import Segment, checked_lines, narrowest_chamber
from engine.fields.links import Links, links_of
from engine.fields.loft_bins import FIELDS, Bins, Samples, bins_of, samples_of

SideEdge: TypeAlias = Literal["closed", "wall"]
EndEdge: TypeAlias = Literal["closed", "wall", "panel"]

RUN_OUT_M = 0.060
"""Length over which a baffle runs out to a lower edge: the outer 60 to 100 mm of a pinched edge is about
half loft (common practice, no source). Without it the base would cost cloth without limit where a full
baffle meets a pinched edge."""


@dataclass(frozen=True)
class LoftMap:
    """Unit fields over a plan: thickness = height of each kind times its base field, plus a times bulge.

    Base fields are 1 on their own constraints and 0 on all others, harmonic in between, in the order
    baffles, end panels, edge walls. The bulge solves -laplacian = 1 and is 0 on every constraint.
    """

    x_m: Array
    """(nx,) across, from the left edge at the widest place."""
    y_m: Array
    """(ny,) along, from the head end."""
    inside: Mask
    """(ny, nx): inside the outline or on it."""
    base: Array
    """(3, ny, nx) base fields, dimensionless; 0 outside."""
    bulge_m2: Array
    """(ny, nx) bulge per amplitude; 0 outside."""
    area_m2: float
    """Plan area."""
    base_m2: Array
    """(3,) integral of each base field: volume per height."""
    bulge_m4: float
    """Integral of the bulge: volume per amplitude, and as large the integral of its gradient squared."""
    energies: Array
    """(3, 3) integrals of grad b_i . grad b_j: what the base itself costs of cloth, per height squared."""
    orthogonality: float
    """Largest integral of grad b . grad bulge over the root of both energies: 0 but for rounding."""
    outline: Outline
    samples: Samples
    """The fields between the nodes, with their areas, slopes and places."""
    coarse: bool = False
    """Some chamber has fewer cells than the accuracies above are stated for."""

    @cached_property
    def bins(self) -> Bins:
        """Joint distribution of the four fields; areas sum to the plan, means to the integrals above."""
        return bins_of(self.samples)[0]

    def base_volume(self, heights_m: Array) -> Array:
        """Volume in m3 of the unbulged quilt at heights (3,) or (3, n), in m."""
        volume: Array = np.tensordot(self.base_m2, heights_m, axes=1)
        return volume

    def base_energy(self, heights_m: Array) -> Array:
        """Integral in m2 of the base's gradient squared at heights (3,) or (3, n), in m."""
        energy: Array = np.einsum("i...,ij,j...->...", heights_m, self.energies, heights_m)
        return energy


def loft_map(
    position_m: Array,
    width_m: Array,
    baffles: Sequence[Segment] = (),
    sewn: Sequence[Segment] = (),
    *,
    sides: SideEdge = "closed",
    head: EndEdge = "closed",
    foot: EndEdge = "closed",
    cells: tuple[int, int] | None = None,
) -> LoftMap:
    """The loft map of an outline with its baffles, sewn lines and edges.

    `closed` edges are stitched together (0), a `wall` is a low edge wall or box edge, a `panel` an end
    panel. A baffle within 60 mm of an edge runs out to that edge's height, an end to its corners'.

    Shapes  stations (n,), (n,); segments (x0, y0, x1, y1)
    Units   m
    Range   lines along or across: see the table above; slanted lines with open ends within 4 % (bulge);
            short pieces 20 mm apart end to end within 1 %
    Raises  ValueError naming the station, the line or the chamber that is wrong, and what is allowed
    Source  Laplace and Poisson equations, five-point differences with cut links (Shortley and Weller 1938,
            symmetric form); open ends as in engine.fields.constraints
    """
    outline = outline_of(position_m, width_m)
    _refuse_unknown(sides=sides, head=head, foot=foot)
    lines = checked_lines(outline, baffles, sewn)
    if cells is None:
        across_m, along_m = (narrowest_chamber(outline, lines, along) for along in (False, True))
        cells = default_cells(outline, across_m, along_m)
    edges = Edges(sides, head, foot, min(RUN_OUT_M, outline.width_m / 4, outline.length_m / 4))
    return _mapped(grid_of(outline, *cells), lines, edges)


def _refuse_unknown(**edges: str) -> None:
    for name, kind in edges.items():
        allowed = ("closed", "wall") if name == "sides" else ("closed", "wall", "panel")
        if kind not in allowed:
            raise ValueError(f"{name} is {kind!r}; allowed: {', '.join(allowed)}")


def _mapped(grid: Grid, lines: Lines, edges: Edges) -> LoftMap:
    """The map on a given grid."""
    across, along = (links_of(grid, lines, edges, turned) for turned in (False, True))
    fields = _solved(grid, across, along)
    turned = fields.swapaxes(1, 2)
    energies = _energies(grid.inside, across, fields) + _energies(grid.inside.T, along, turned)
    energies[:KINDS, :KINDS] += edges.end_energy(grid)
    samples = _samples(grid, across, along, fields)
    integrals = samples.fields @ samples.area_m2
    root = np.sqrt(np.maximum(np.diag(energies), 1e-300))
    crossed = np.max(np.abs(energies[-1, :-1]) / (root[-1] * np.maximum(root[:-1], 1e-9)))
    inside, base = _with_rim(grid, edges, fields[:KINDS])
    return LoftMap(
        x_m=grid.x_m,
        y_m=grid.y_m,
        inside=inside,
        base=base,
        bulge_m2=fields[-1],
        area_m2=grid.outline.area_m2,
        base_m2=integrals[:KINDS],
        bulge_m4=float(integrals[-1]),
        energies=energies[:KINDS, :KINDS],
        orthogonality=float(crossed),
        outline=grid.outline,
        samples=samples,
    )


def _solved(grid: Grid, across: Links, along: Links) -> Array:
    """The four fields (4, ny, nx), one factorisation."""
    inside = grid.inside[1:-1, 1:-1]
    back, forth = np.s_[..., 1:-1, :-1], np.s_[..., 1:-1, 1:]
    tie = across.tie_b[back] + across.tie_a[forth] + (along.tie_b[back] + along.tie_a[forth]).T
    push_along = (along.push_b[back] + along.push_a[forth]).swapaxes(1, 2)
    push = across.push_b[back] + across.push_a[forth] + push_along
    load = (across.share_b[back] + across.share_a[forth]) * (along.share_b[back] + along.share_a[forth]).T
    right = np.concatenate([push, load[None] * grid.step_x_m * grid.step_y_m])[:, inside]
    number = np.full(inside.shape, -1)
    number[inside] = np.arange(right.shape[1])
    both_x, both_y = inside[:, 1:] & inside[:, :-1], inside[1:] & inside[:-1]
    one = np.concatenate([number[:, :-1][both_x], number[:-1][both_y]])
    other = np.concatenate([number[:, 1:][both_x], number[1:][both_y]])
    link = np.concatenate([across.through[1:-1, 1:-1][both_x], along.through[1:-1, 1:-1].T[both_y]])
    size = right.shape[1]
    own = tie[inside] + np.bincount(one, link, size) + np.bincount(other, link, size)
    node = np.arange(size)
    matrix = sparse.csc_array(
        (
            np.concatenate([own, -link, -link]),
            (np.concatenate([node, one, other]), np.concatenate([node, other, one])),
        ),
        shape=(size, size),
    )
    factors = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    live = np.any(right != 0, axis=1)
    fields = np.zeros((FIELDS, *grid.inside.shape))
    for kind, solution in zip(np.nonzero(live)[0], factors.solve(right[live].T).T, strict=True):
        fields[kind, 1:-1, 1:-1][inside] = solution
    return fields


def _energies(inside: Mask, links: Links, fields: Array) -> Array:
    """(4, 4) sums of conductance times both drops over the links of one direction and their ties."""
    both = inside[:, :-1] & inside[:, 1:]
    drop = np.where(both, np.diff(fields, axis=2), 0.0).reshape(FIELDS, -1)
    total: Array = drop * links.through.ravel() @ drop.T
    for tie, push, start in ((links.tie_a, links.push_a, 0), (links.tie_b, links.push_b, 1)):
        end = start + tie.shape[1]
        tied = inside[:, start:end] & (tie > 0)
        drop = fields[:, :, start:end][:, tied]
        drop[:KINDS] -= push[:, tied] / tie[tied]
        total += drop * tie[tied] @ drop.T
    return total


def _samples(grid: Grid, across: Links, along: Links, fields: Array) -> Samples:
    """Samples whose areas sum to the plan.

    Quarters beside slanted edges fit them only on average; what they miss belongs to them.
    """
    samples = samples_of(grid, across, along, fields)
    missed = grid.outline.area_m2 - float(np.sum(samples.area_m2))
    missed /= float(np.sum(samples.area_m2[samples.beside]))
    area = np.where(samples.beside, samples.area_m2 * (1 + missed), samples.area_m2)
    return replace(samples, area_m2=area)


def _with_rim(grid: Grid, edges: Edges, base: Array) -> tuple[Mask, Array]:
    """The plan and its base fields with the nodes that lie on the edge."""
    x, y = np.meshgrid(grid.x_m, grid.y_m)
    rim = (grid.outline.depth(x, y) >= -1e-9) & ~grid.inside
    at_end = rim & (np.minimum(y, grid.outline.length_m - y) < 1e-9)
    whole = base.copy()
    whole[:, rim] = EDGE_VALUES[edges.sides][:, None]
    whole[:, at_end] = edges.end_values(grid, x[at_end], y[at_end]).T
    return grid.inside | rim, whole
