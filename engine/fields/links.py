"""What do two neighbouring nodes see of the lines that cut the link between them?

A link with cut points is a chain of conductances with ties to fixed values; eliminating the cut points
leaves a conductance between the nodes and a tie from each to the values, exactly.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.fields.constraints import KINDS, NEAREST, Edges, Index, Lines, edge_crossings, line_crossings
from engine.fields.grid import Array, Grid


@dataclass(frozen=True)
class Links:
    """The links of one direction, along the last axis: shape (rows, cells), or (3, rows, cells) for values.

    Suffix _a is seen from the node before the link, _b from the node behind it. A cut link has a point
    where it is first cut; its value is own * node + other * far node + held.
    """

    through: Array
    tie_a: Array
    tie_b: Array
    push_a: Array
    push_b: Array
    cut: NDArray[np.bool_]
    reach_a: Array
    reach_b: Array
    own_a: Array
    own_b: Array
    other: Array
    """Of the far node, (2, rows, cells) seen from a and from b."""
    held_a: Array
    held_b: Array
    share_a: Array
    share_b: Array
    """Length of the link, in steps, that a node stands for."""
    owner_a: Index
    owner_b: Index


def links_of(grid: Grid, lines: Lines, edges: Edges, turned: bool) -> Links:
    """The links across, shape (ny, nx - 1), or turned those along, shape (nx, ny - 1)."""
    rows, cells = (grid.x_m.size, grid.y_m.size) if turned else (grid.y_m.size, grid.x_m.size)
    cells -= 1
    conductance = grid.step_x_m / grid.step_y_m if turned else grid.step_y_m / grid.step_x_m
    found = [line_crossings(grid, lines, edges, turned), edge_crossings(grid, edges, turned)]
    link = np.concatenate([c.row * cells + c.cell for c in found])
    place, grip = (np.concatenate([getattr(c, name) for c in found]) for name in ("place", "grip"))
    values, owner = np.concatenate([c.values for c in found]), np.concatenate([c.owner for c in found])
    order = np.lexsort((place, link))
    chain = _Chain(conductance, link[order], place[order], grip[order], values[order], owner[order])
    return chain.reduced(rows, cells)


@dataclass(frozen=True)
class _Chain:
    """All cut points, sorted by link and by place on it."""

    conductance: float
    link: Index
    place: Array
    grip: Array
    values: Array
    owner: Index

    def reduced(self, rows: int, cells: int) -> Links:
        """Every chain of cut points between two nodes, reduced to what the nodes see of it."""
        used, first, count = np.unique(self.link, return_index=True, return_counts=True)
        last = first + count - 1
        to_last = self.conductance / self.place[first]
        tie_a, tie_w = np.zeros(used.size), self.grip[first].copy()
        push_a, push_w = np.zeros((used.size, KINDS)), self.grip[first, None] * self.values[first]
        for rank in range(1, int(np.max(count, initial=1)) + 1):
            at = np.nonzero(count >= rank)[0]
            behind = np.minimum(first[at] + rank, last[at])
            ends = count[at] == rank
            gap = np.where(ends, 1.0, self.place[behind]) - self.place[first[at] + rank - 1]
            onward = self.conductance / np.maximum(gap, NEAREST)
            total = to_last[at] + onward + tie_w[at]
            tie_a[at] += to_last[at] * tie_w[at] / total
            push_a[at] += (to_last[at] / total)[:, None] * push_w[at]
            tie_w[at] = onward * tie_w[at] / total + np.where(ends, 0.0, self.grip[behind])
            held = np.where(ends, 0.0, self.grip[behind])[:, None] * self.values[behind]
            push_w[at] = (onward / total)[:, None] * push_w[at] + held
            to_last[at] = to_last[at] * onward / total
        return self._spread(rows, cells, used, (first, last), (to_last, tie_a, tie_w, push_a, push_w))

    def _seen(self, own: Index, next_one: Index, many: NDArray[np.bool_], mirror: bool) -> tuple[Array, ...]:
        """From one node: reach to its first cut, and that point's value by own node, far node, held."""
        place = np.where(mirror, 1 - self.place, self.place)
        reach = np.maximum(place[own], NEAREST)
        span = np.where(many, place[next_one], 1.0)
        near, far = 1 / reach, 1 / np.maximum(span - reach, NEAREST)
        grip = self.grip[own] / self.conductance
        total = near + far + grip
        held = grip[:, None] * self.values[own] + np.where(many, far, 0.0)[:, None] * self.values[next_one]
        share = reach / 2 + span / 2 * near / total
        return reach, near / total, np.where(many, 0.0, far / total), held / total[:, None], share

    def _spread(
        self, rows: int, cells: int, used: Index, ends: tuple[Index, Index], seen: tuple[Array, ...]
    ) -> Links:
        (first, last), many = ends, ends[1] > ends[0]
        through, tie_a, tie_b, push_a, push_b = seen

        def plain(value: Array | Index, empty: float) -> Array:
            full = np.full(rows * cells, empty)
            full[used] = value
            return full.reshape(rows, cells)

        def kinds(value: Array) -> Array:
            return np.stack([plain(one, 0.0) for one in value.T])

        a = self._seen(first, np.minimum(first + 1, last), many, False)
        b = self._seen(last, np.maximum(last - 1, first), many, True)
        return Links(
            through=plain(through, self.conductance),
            tie_a=plain(tie_a, 0.0),
            tie_b=plain(tie_b, 0.0),
            push_a=kinds(push_a),
            push_b=kinds(push_b),
            cut=plain(np.ones(used.size), 0.0) > 0,
            reach_a=plain(a[0], 0.5),
            reach_b=plain(b[0], 0.5),
            own_a=plain(a[1], 0.5),
            own_b=plain(b[1], 0.5),
            other=np.stack([plain(a[2], 0.5), plain(b[2], 0.5)]),
            held_a=kinds(a[3]),
            held_b=kinds(b[3]),
            share_a=plain(a[4], 0.5),
            share_b=plain(b[4], 0.5),
            owner_a=plain(self.owner[first], 0.0).astype(np.intp),
            owner_b=plain(self.owner[last], 0.0).astype(np.intp),
        )
