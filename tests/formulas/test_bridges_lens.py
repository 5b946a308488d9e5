"""Paths corrected for slanted faces, over a bulging channel, against a solution made here by finite elements.

No published table was found; the solution below shares no line with the engine. Its mesh error is below
0.2 % (found by doubling it); the correction claims to be up to 5 % too high, never too low, up to a ratio
of 0.5.
"""

from itertools import pairwise

import numpy as np
import pytest

from engine.formulas.bridges import slanted_path_resistance

SEAM_M = 0.0006


def lens_thickness(x_m, pitch_m, peak_m):
    """Two parabolic faces that meet at seams at 0 and at the pitch, with the stitched thickness left."""
    return SEAM_M + (peak_m - SEAM_M) * 4 * x_m * (pitch_m - x_m) / pitch_m**2


def section_conductance(pitch_m, peak_m, conductivity, inner_r, outer_r, columns=60, rows=8):
    """Heat per kelvin and plan area through half a symmetric lens, linear triangles, film on both faces."""
    x = np.linspace(0, pitch_m / 2, columns + 1)
    y = np.linspace(-0.5, 0.5, rows + 1)[:, None] * lens_thickness(x, pitch_m, peak_m)
    points = np.column_stack([np.broadcast_to(x, y.shape).ravel(), y.ravel()])
    number = np.arange(points.shape[0]).reshape(rows + 1, columns + 1)
    a, b, c, d = number[:-1, :-1], number[:-1, 1:], number[1:, 1:], number[1:, :-1]
    triangles = np.concatenate([np.stack(t, -1).reshape(-1, 3) for t in ((a, b, c), (a, c, d))])
    corners = points[triangles]
    edges = corners[:, [2, 0, 1]] - corners[:, [1, 2, 0]]
    doubled = edges[:, 2, 0] * edges[:, 0, 1] - edges[:, 2, 1] * edges[:, 0, 0]
    stiffness = conductivity * np.einsum("eik,ejk->eij", edges, edges) / (2 * doubled)[:, None, None]
    matrix, load = np.zeros((points.shape[0],) * 2), np.zeros(points.shape[0])
    np.add.at(matrix, (triangles[:, :, None], triangles[:, None, :]), stiffness)
    flow = np.zeros_like(load)
    for face, resistance, temperature in ((number[0], inner_r, 1.0), (number[-1], outer_r, 0.0)):
        for pair in pairwise(face):
            length = np.linalg.norm(points[pair[1]] - points[pair[0]])
            film = length / resistance * np.array([[2, 1], [1, 2]]) / 6
            matrix[np.ix_(pair, pair)] += film
            load[list(pair)] += film.sum(1) * temperature
            flow[list(pair)] += film.sum(1) * (1.0 if temperature == 0 else 0.0)
    return flow @ np.linalg.solve(matrix, load) / (pitch_m / 2)


def columns_conductance(pitch_m, peak_m, conductivity, inner_r, outer_r):
    x = (np.arange(20000) + 0.5) / 20000 * pitch_m
    return np.mean(1 / (inner_r + lens_thickness(x, pitch_m, peak_m) / conductivity + outer_r))


def corrected_conductance(pitch_m, peak_m, conductivity, inner_r, outer_r):
    x = (np.arange(20000) + 0.5) / 20000 * pitch_m
    slope = np.abs((peak_m - SEAM_M) * 4 * (pitch_m - 2 * x) / pitch_m**2) / 2
    thickness = lens_thickness(x, pitch_m, peak_m)
    return np.mean(1 / slanted_path_resistance(inner_r, thickness, conductivity, outer_r, slope, slope))


@pytest.mark.parametrize("inner_r", [0.05, 0.10, 0.20])
@pytest.mark.parametrize("ratio", [0.167, 0.25, 0.33, 0.40, 0.50])
def test_paths_with_slanted_faces_agree_with_the_section(ratio, inner_r):
    section = (0.1, ratio * 0.1, 0.045, inner_r, 0.1)
    miss = corrected_conductance(*section) / section_conductance(*section) - 1
    assert -0.002 <= miss <= 0.05, "mesh error below, the claim above"


def test_uncorrected_columns_miss_the_heat_that_runs_slantwise():
    section = (0.1, 0.05, 0.045, 0.1, 0.1)
    assert columns_conductance(*section) < 0.9 * section_conductance(*section)
