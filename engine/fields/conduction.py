"""How warm is every point of a cross-section through which heat flows steadily, and how much flows?

Node-centred finite volumes on a mesh of four-sided cells, m by n nodes. A cell joins its four corners
by conductances, found from the exact gradient at each corner; the heat that reaches a node leaves it.
On a rectangular mesh, however graded, this is the five-point scheme with each material ending on a mesh
line; on a mesh bent to fit a curved face it adds the two diagonals of each cell, may be slanted, and
stays symmetric and second order. Nodes lie on surfaces, so a surface temperature is read, not guessed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solveh_banded

from engine.formulas.refuse import refuse_unless_positive

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Place: TypeAlias = Any
"""An index expression."""
Side: TypeAlias = Literal["left", "right", "lower", "upper"]

LARGEST_STORE = 24_000_000
"""Numbers in the band of the matrix (192 MB): a square mesh of 288 by 288 nodes, a strip far more."""


@dataclass(frozen=True)
class Film:
    """A side of the mesh, or its nodes `first` to `last`, with air behind a surface resistance."""

    side: Side
    resistance_m2k_w: float
    air_c: float
    first: int = 0
    last: int | None = None


@dataclass(frozen=True)
class Fixed:
    """A side of the mesh, or its nodes `first` to `last`, held at a temperature.

    A node held at two temperatures, where two sides meet, takes their mean.
    """

    side: Side
    temperature_c: float
    first: int = 0
    last: int | None = None


@dataclass(frozen=True)
class Sheet:
    """A thin sheet across the mesh, along the nodes of one column, that conducts along itself."""

    column: int
    conductance_w_k: float
    """Conductivity times thickness, W/K per metre of run."""


@dataclass(frozen=True)
class Temperatures:
    """A steady temperature field; `flow_w_m[b]` enters through boundary b, per metre of run."""

    x_m: Array
    y_m: Array
    temperature_c: Array
    flow_w_m: tuple[float, ...]


@dataclass(frozen=True)
class _Network:
    """Conductances from each node to the next column, the next row, and along both diagonals."""

    along_x: Array
    along_y: Array
    rising: Array
    falling: Array

    def turned(self) -> "_Network":
        """The same network with columns and rows exchanged."""
        return _Network(self.along_y.T, self.along_x.T, self.rising.T, self.falling.T)

    def links(self) -> tuple[tuple[Array, Place, Place], ...]:
        """Each family of conductances with the nodes at its two ends."""
        return (
            (self.along_x, np.s_[:-1, :], np.s_[1:, :]),
            (self.along_y, np.s_[:, :-1], np.s_[:, 1:]),
            (self.rising, np.s_[:-1, :-1], np.s_[1:, 1:]),
            (self.falling, np.s_[:-1, 1:], np.s_[1:, :-1]),
        )

    def sum_at_nodes(self) -> Array:
        """The sum of the conductances that meet in each node."""
        total = np.zeros((self.along_y.shape[0], self.along_x.shape[1]))
        for conductance, one, other in self.links():
            total[one] += conductance
            total[other] += conductance
        return total

    def leaving(self, temperature: Array) -> Array:
        """Heat that leaves each node for its neighbours."""
        total = np.zeros_like(temperature)
        for conductance, one, other in self.links():
            flow = conductance * (temperature[one] - temperature[other])
            total[one] += flow
            total[other] -= flow
        return total


def conduct(
    x_m: Array,
    y_m: Array,
    conductivity_w_mk: Array | float,
    boundaries: Sequence[Film | Fixed],
    sheets: Sequence[Sheet] = (),
) -> Temperatures:
    """Steady temperatures; where no boundary lies, no heat passes the rim.

    Index [i, j] counts columns from left to right, then nodes from the lower side to the upper one.

    Shapes  (m, n) nodes; conductivity one number or (m - 1, n - 1) cells
    Units   m, m, W/(m K), degC -> degC, W per metre of run
    Range   any; LARGEST_STORE bounds memory and time (a few seconds)
    Raises  ValueError for a mesh that folds over or is too large, a conductivity or resistance of 0 or
            less, a stretch without length, or when nothing says how warm it is
    Source  energy balance of each node (definition); checked by ISO 10211:2017 Annex C, cases 1 and 2
    """
    _refuse_mesh(x_m, y_m)
    refuse_unless_positive("conductivity_w_mk", conductivity_w_mk, "W/(m K)")
    if not boundaries:
        raise ValueError("boundaries is empty; a film or a fixed temperature is needed")
    network = _network(x_m, y_m, conductivity_w_mk, sheets)
    terms = [_terms(x_m, y_m, boundary) for boundary in boundaries]
    film = sum((term.film_w_k for term in terms), np.zeros(x_m.shape))
    supply = sum((term.film_w_k * term.warmth_c for term in terms), np.zeros(x_m.shape))
    claims = sum((term.held for term in terms), np.zeros(x_m.shape))
    held: Mask = claims > 0
    start = sum((term.held * term.warmth_c for term in terms), np.zeros(x_m.shape)) / np.maximum(claims, 1)
    demand = np.where(held, 0.0, supply - film * start - network.leaving(start))
    temperature = start + _rise(network, film, demand, held)
    # What a held node hands on beyond what its own films bring is what the boundary supplies.
    leaving = network.leaving(temperature) + film * temperature - supply
    shares = leaving / np.maximum(claims, 1)
    flows = (
        float(np.sum(term.film_w_k * (term.warmth_c - temperature) + term.held * shares)) for term in terms
    )
    return Temperatures(x_m, y_m, temperature, tuple(flows))


def _refuse_mesh(x_m: Array, y_m: Array) -> None:
    if x_m.ndim != 2 or x_m.shape != y_m.shape or min(x_m.shape) < 2:
        raise ValueError(f"x_m, y_m have shapes {x_m.shape}, {y_m.shape}; allowed: one shape, 2 by 2 or more")
    if not (np.all(np.isfinite(x_m)) and np.all(np.isfinite(y_m))):
        raise ValueError("x_m, y_m hold a value that is not a number; only finite metres are allowed")
    store = x_m.size * (min(x_m.shape) + 2)
    if store > LARGEST_STORE:
        raise ValueError(
            f"the mesh of {x_m.shape[0]} by {x_m.shape[1]} nodes needs {store} numbers; "
            f"allowed: {LARGEST_STORE} or fewer"
        )


def _network(x_m: Array, y_m: Array, conductivity: Array | float, sheets: Sequence[Sheet]) -> _Network:
    """Quarter of each cell goes to each corner, with the gradient there."""
    m, n = x_m.shape
    at = np.stack([x_m, y_m], axis=-1)
    a, b, c, d = at[:-1, :-1], at[1:, :-1], at[1:, 1:], at[:-1, 1:]
    along_x, along_y = np.zeros((m - 1, n)), np.zeros((m, n - 1))
    rising, falling = np.zeros((m - 1, n - 1)), np.zeros((m - 1, n - 1))
    corners: tuple[tuple[Array, Array, Array, Place, Place, Array], ...] = (
        (a, b, d, np.s_[:, :-1], np.s_[:-1, :], falling),
        (b, a, c, np.s_[:, :-1], np.s_[1:, :], rising),
        (c, d, b, np.s_[:, 1:], np.s_[1:, :], falling),
        (d, c, a, np.s_[:, 1:], np.s_[:-1, :], rising),
    )
    for corner, beside, above, row, column, diagonal in corners:
        to_x, to_y = beside - corner, above - corner
        twisted = to_x[..., 0] * to_y[..., 1] - to_x[..., 1] * to_y[..., 0]
        if corner is b or corner is d:
            twisted = -twisted
        if not np.all(twisted > 0):
            raise ValueError("the mesh folds over: a cell has a corner of 180 degrees or more")
        weight = conductivity / (4 * twisted)
        slant = weight * np.sum(to_x * to_y, axis=-1)
        along_x[row] += weight * np.sum(to_y**2, axis=-1) - slant
        along_y[column] += weight * np.sum(to_x**2, axis=-1) - slant
        diagonal += slant
    for sheet in sheets:
        run = np.hypot(np.diff(x_m[sheet.column]), np.diff(y_m[sheet.column]))
        along_y[sheet.column] += sheet.conductance_w_k / run
    return _Network(along_x, along_y, rising, falling)


@dataclass(frozen=True)
class _Terms:
    film_w_k: Array
    held: Array
    warmth_c: float


def _terms(x_m: Array, y_m: Array, boundary: Film | Fixed) -> _Terms:
    """What a boundary does to each node: a conductance to its air, or 1 where it holds the node."""
    line = {"left": np.s_[0, :], "right": np.s_[-1, :], "lower": np.s_[:, 0], "upper": np.s_[:, -1]}
    side: Place = line[boundary.side]
    length = np.hypot(np.diff(x_m[side]), np.diff(y_m[side]))
    last = length.size if boundary.last is None else boundary.last
    if not 0 <= boundary.first < last <= length.size:
        raise ValueError(
            f"a boundary on the {boundary.side} side runs from node {boundary.first} to {last}; "
            f"allowed: forwards, within 0 to {length.size}"
        )
    film, held = np.zeros(x_m.shape), np.zeros(x_m.shape)
    if isinstance(boundary, Fixed):
        held[side][boundary.first : last + 1] = 1.0
        return _Terms(film, held, boundary.temperature_c)
    refuse_unless_positive("resistance_m2k_w", boundary.resistance_m2k_w, "m2K/W")
    share = np.zeros(length.size + 1)
    share[boundary.first : last] += length[boundary.first : last] / 2
    share[boundary.first + 1 : last + 1] += length[boundary.first : last] / 2
    film[side] = share / boundary.resistance_m2k_w
    return _Terms(film, held, boundary.air_c)


def _rise(network: _Network, film: Array, demand: Array, held: Mask) -> Array:
    """Solve for the nodes that are free; a held node does not rise."""
    m, n = film.shape
    if n > m:
        return _rise(network.turned(), film.T, demand.T, held.T).T
    band = np.zeros((n + 2, m, n))
    band[0] = np.where(held, 1.0, network.sum_at_nodes() + film)
    # Columns are numbered one after the other, so a link's two nodes lie this far apart.
    distances = (n, 1, n + 1, n - 1)
    for distance, (conductance, one, other) in zip(distances, network.links(), strict=True):
        band[distance][one] -= np.where(held[one] | held[other], 0.0, conductance)
    rise: Array = solveh_banded(
        band.reshape(n + 2, m * n), demand.ravel(), overwrite_ab=True, lower=True, check_finite=False
    )
    return rise.reshape(m, n)
