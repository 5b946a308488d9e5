"""The loft map against closed forms, an independent finite-element solution, and its own mesh study.

Torsion of bars: Timoshenko and Goodier, Theory of Elasticity, chapter 10 (Prandtl's stress function phi
solves the same equation, its integral is a quarter of the torsion constant); Roark's Formulas for Stress
and Strain, table of torsion constants. The series is summed here.
"""

from itertools import pairwise

import numpy as np
import pytest

from engine.fields.loft_map import loft_map

CLAIM = 3e-3
"""What the module's docstring claims for the default grid."""
LENGTH_M, WIDTH_M = 1.98, 0.99
OUTLINE = [0.0, LENGTH_M], [WIDTH_M, WIDTH_M]


def staggered(first=1):
    """49 baffles of 165 mm in seven rows; `first` says which rows begin near the head end."""
    rows = []
    for row in range(7):
        x, start = 0.12375 * (row + 1), 0.0825 if row % 2 != first else 0.20625
        rows += [(x, start + 0.2475 * n, x, start + 0.2475 * n + 0.165) for n in range(7)]
    return rows


def rectangle_series(ratio):
    """Mean and peak of phi over the width squared, for a rectangle 1 by `ratio` (Timoshenko and Goodier)."""
    odd = np.arange(1, 400, 2)
    decay = np.where(odd * np.pi * ratio / 2 < 300, np.minimum(odd * np.pi * ratio / 2, 300), 300)
    mean = 1 / 12 - 16 / (np.pi**5 * ratio) * np.sum(np.tanh(decay) / odd**5)
    sign = (-1.0) ** ((odd - 1) // 2)
    peak = 4 / np.pi**3 * np.sum(sign / odd**3 * (1 - 1 / np.cosh(decay)))
    return mean, peak


@pytest.mark.parametrize(
    "ratio, mean, peak",
    [(1, 0.035144, 0.073671), (2, 0.057170, 0.113872), (4, 0.070203, 0.124518), (1e6, 1 / 12, 1 / 8)],
)
def test_the_series_is_the_one_that_handbooks_tabulate(ratio, mean, peak):
    """Timoshenko and Goodier tabulate k1 = 4 mean: 0.1406, 0.229, 0.281, 0.333."""
    assert rectangle_series(ratio) == pytest.approx((mean, peak), rel=2e-5)


@pytest.mark.parametrize("ratio", [1, 2, 4])
def test_a_rectangle_bulges_as_the_torsion_series_says(ratio):
    found = loft_map([0.0, ratio], [1.0, 1.0])
    mean, peak = rectangle_series(ratio)
    assert found.bulge_m4 / ratio == pytest.approx(mean, rel=CLAIM)
    assert np.max(found.bulge_m2) == pytest.approx(peak, rel=CLAIM)


def test_a_channel_between_sewn_lines_bulges_as_a_parabola():
    """Width s, far from the ends: peak s2 / 8 (definition); the mean is that of nine long rectangles."""
    spacing = WIDTH_M / 9
    sewn = [(spacing * n, 0.0, spacing * n, LENGTH_M) for n in range(1, 9)]
    found = loft_map(*OUTLINE, sewn=sewn)
    mean, peak = rectangle_series(LENGTH_M / spacing)
    assert found.bulge_m4 / found.area_m2 == pytest.approx(mean * spacing**2, rel=CLAIM)
    middle = found.bulge_m2[found.y_m.size // 2]
    assert np.max(middle) == pytest.approx(spacing**2 / 8, rel=CLAIM)
    assert peak == pytest.approx(1 / 8, rel=1e-6)


def test_an_equilateral_triangle_bulges_as_its_closed_form():
    """Mean s2 / 80, peak s2 / 36: torsion constant sqrt(3) s4 / 80 (Roark; Timoshenko and Goodier)."""
    found = loft_map([0.0, np.sqrt(3) / 2], [0.0, 1.0])
    assert found.bulge_m4 / found.area_m2 == pytest.approx(1 / 80, rel=CLAIM)
    assert np.max(found.bulge_m2) == pytest.approx(1 / 36, rel=CLAIM)


def test_without_open_ends_the_error_falls_with_the_square_of_the_step():
    """Halving the step quarters the error: ratio 3.5 or more, on a rectangle and on slanted sides."""
    mean = rectangle_series(1)[0]
    rectangle = [abs(loft_map([0, 1], [1, 1], cells=(n, n)).bulge_m4 - mean) for n in (12, 24)]
    assert rectangle[0] > 3.5 * rectangle[1]
    area, height = np.sqrt(3) / 4, np.sqrt(3) / 2
    maps = [loft_map([0, height], [0, 1], cells=(n, n)) for n in (24, 48, 96)]
    triangle = [abs(found.bulge_m4 / area - 1 / 80) for found in maps]
    assert triangle[0] > 3.5 * triangle[1] > 3.5**2 * triangle[2]


def test_a_box_edge_all_round_holds_the_quilt_up_everywhere():
    found = loft_map(*OUTLINE, sides="wall", head="wall", foot="wall")
    assert found.base_m2 == pytest.approx([0, 0, found.area_m2], rel=1e-6)
    assert found.energies == pytest.approx(np.zeros((3, 3)), abs=1e-6)


def test_end_panels_fall_off_as_the_series_for_a_hot_strip():
    """Laplace, 1 on both ends, 0 on both sides (Carslaw and Jaeger, Conduction of Heat in Solids, 5.3); the
    60 mm over which the panel runs out at its corners is in the series too."""
    found = loft_map(*OUTLINE, head="panel", foot="panel")
    n = np.arange(1, 4000)
    wave, run = n * np.pi / WIDTH_M, 0.060
    sine = np.sin(wave * run) / (wave**2 * run) * (1 + (-1.0) ** (n + 1))
    strength = 2 / WIDTH_M * sine
    total = np.sum(strength * (1 - (-1.0) ** n) / wave * 2 * np.tanh(wave * LENGTH_M / 2) / wave)
    energy = np.sum(strength**2 * WIDTH_M * wave * np.tanh(wave * LENGTH_M / 2))
    assert found.base_m2[1] == pytest.approx(total, rel=CLAIM)
    assert found.energies[1, 1] == pytest.approx(energy, rel=1e-2)


def test_the_staggered_layout_has_its_own_converged_values():
    """Own converged values, mesh study in this test; an earlier study of ours gave 0.782, 2106 and 19.3."""
    fine = loft_map(*OUTLINE, staggered(), cells=(180, 360))
    area = fine.area_m2
    assert fine.base_m2[0] / area == pytest.approx(0.7823, abs=2e-4)
    assert fine.bulge_m4 / area == pytest.approx(2104e-6, abs=3e-6)
    assert fine.energies[0, 0] / area == pytest.approx(19.29, abs=0.02)
    for cells in (None, (72, 125), (75, 149), (91, 144), (72, 216), (150, 144)):
        found = loft_map(*OUTLINE, staggered(), cells=cells)
        assert found.base_m2[0] == pytest.approx(fine.base_m2[0], rel=1e-3)
        assert found.bulge_m4 == pytest.approx(fine.bulge_m4, rel=CLAIM)
        assert found.energies[0, 0] == pytest.approx(fine.energies[0, 0], rel=2e-3)


def test_the_trade_rule_overstates_the_unbulged_chamber_by_a_quarter():
    """Area times baffle height, against the volume under faces held up at 49 short baffles."""
    found = loft_map(*OUTLINE, staggered())
    assert found.area_m2 / found.base_m2[0] == pytest.approx(1.28, abs=0.01)


def graded(marks, widest, least=1e-5):
    """Places that crowd at each mark, for the square-root singularities at open ends."""
    places = [np.array(marks)]
    for start, end in pairwise(marks):
        steps = [least]
        while steps[-1] < 0.49 * (end - start):
            steps.append(min(2 * steps[-1], steps[-1] + widest))
        inner = np.array([step for step in steps if step < 0.49 * (end - start)])
        places += [start + inner, end - inner, np.array([(start + end) / 2])]
    return np.unique(np.concatenate(places))


def test_open_ends_agree_with_finite_elements_crowded_at_them():
    """One lengthwise and one crosswise baffle between the nodes; oracle: scikit-fem, biquadratic elements."""
    skfem = pytest.importorskip("skfem")
    from skfem.helpers import dot, grad

    width, length = 0.5, 0.4
    one, other = (0.2137, 0.083, 0.2137, 0.291), (0.28, 0.3301, 0.43, 0.3301)
    across = graded([0, one[0], other[0], other[2], width], 0.03)
    along = graded([0, one[1], one[3], other[1], length], 0.03)
    basis = skfem.Basis(skfem.MeshQuad.init_tensor(across, along), skfem.ElementQuad2())
    stiffness = skfem.BilinearForm(lambda u, v, _: dot(grad(u), grad(v))).assemble(basis)
    load = skfem.LinearForm(lambda v, _: 1.0 * v).assemble(basis)
    x, y = basis.doflocs
    near = 1e-9
    rim = (x < near) | (x > width - near) | (y < near) | (y > length - near)
    standing = (abs(x - one[0]) < near) & (y > one[1] - near) & (y < one[3] + near)
    standing |= (abs(y - other[1]) < near) & (x > other[0] - near) & (x < other[2] + near)
    fixed = np.nonzero(rim | standing)[0]
    base = skfem.solve(*skfem.condense(stiffness, 0 * load, x=1.0 * standing, D=fixed))
    bulge = skfem.solve(*skfem.condense(stiffness, load, D=fixed))
    for cells, close in ((None, CLAIM / 10), ((43, 37), CLAIM)):
        found = loft_map([0, length], [width, width], [one, other], cells=cells)
        assert found.base_m2[0] == pytest.approx(load @ base, rel=close)
        assert found.bulge_m4 == pytest.approx(load @ bulge, rel=close)
        assert found.energies[0, 0] == pytest.approx(base @ stiffness @ base, rel=close)


def test_gradients_of_base_and_bulge_are_orthogonal_and_the_bulge_costs_its_volume():
    """Green's identity: a harmonic base against a bulge that is 0 on every constraint."""
    found = loft_map(*OUTLINE, staggered(), sides="wall", head="panel", foot="panel")
    assert found.orthogonality < 1e-9
    fine = loft_map([0, 1], [1, 1], cells=(200, 200))
    steps = fine.x_m[1], fine.y_m[1]
    slope = np.gradient(fine.bulge_m2, steps[1], steps[0])
    assert np.sum(slope[0] ** 2 + slope[1] ** 2) * steps[0] * steps[1] == pytest.approx(
        fine.bulge_m4, rel=0.02
    )


def test_base_fields_of_all_kinds_sum_to_the_whole():
    """With walls, panels and edges at one height and nothing at 0, the quilt stands at that height."""
    found = loft_map(*OUTLINE, staggered(), sides="wall", head="panel", foot="panel")
    assert np.sum(found.base_m2) == pytest.approx(found.area_m2, rel=1e-6)
    assert found.base_energy(np.ones(3)) == pytest.approx(0, abs=1e-6)
    assert found.base_volume(np.full((3, 2), 0.08)) == pytest.approx(0.08 * found.area_m2, rel=1e-6)
    assert np.max(np.abs(np.sum(found.base, axis=0)[found.inside] - 1)) < 1e-6


def test_mirrored_layouts_are_equal():
    position, width = [0.0, 0.3, 1.7, 2.1], [0.8, 1.1, 1.1, 0.75]
    walls = [(0.21, 0.4, 0.21, 0.8), (0.55, 0.2, 0.55, 0.9), (0.6, 1.3, 0.9, 1.3), (0.3, 1.1, 0.5, 1.4)]
    mirror = [(1.1 - x0, y0, 1.1 - x1, y1) for x0, y0, x1, y1 in walls]
    upside = [(x0, 2.1 - y0, x1, 2.1 - y1) for x0, y0, x1, y1 in walls]
    one = loft_map(position, width, walls, sides="wall", head="panel")
    other = loft_map(position, width, mirror, sides="wall", head="panel")
    turned = loft_map([0, 0.4, 1.8, 2.1], [0.75, 1.1, 1.1, 0.8], upside, sides="wall", foot="panel")
    for found in (other, turned):
        assert found.base_m2 == pytest.approx(one.base_m2, rel=1e-4)
        assert found.bulge_m4 == pytest.approx(one.bulge_m4, rel=1e-4)
        assert found.energies == pytest.approx(one.energies, rel=1e-3, abs=1e-3)
    assert other.bulge_m2[:, ::-1] == pytest.approx(one.bulge_m2, abs=1e-4 * np.max(one.bulge_m2))


def changes(move):
    """Relative changes of base, bulge and energy as baffle 25 is moved in 1 mm steps over three cells."""
    values = []
    for step in range(40):
        walls = staggered()
        walls[24] = tuple(np.array(walls[24]) + step * 1e-3 * np.array(move))
        found = loft_map(*OUTLINE, walls, cells=(72, 144))
        values.append((found.base_m2[0], found.bulge_m4, found.energies[0, 0]))
    return np.diff(np.array(values), axis=0) / np.array(values[0])


@pytest.mark.parametrize("move", [(1, 0, 1, 0), (0, 1, 0, 1), (0, 0, 0, 1)])
def test_moving_or_lengthening_a_baffle_by_a_millimetre_changes_nothing_in_jumps(move):
    """No step changes a value by 0.1 %, nor by 0.02 % more or less than the step before it."""
    step = changes(move)
    assert np.max(np.abs(step)) < 1e-3
    assert np.max(np.abs(np.diff(step, axis=0))) < 2e-4


def test_a_longer_baffle_holds_more_and_bulges_less():
    step = changes((0, 0, 0, 1))
    assert np.all(step[:, 0] > 0) and np.all(step[:, 1] < 0)


def test_one_more_baffle_never_lowers_the_base_nor_raises_the_bulge():
    """Maximum principle, for baffles that end 60 mm or more from a lower edge; any place and direction."""
    rng = np.random.default_rng(3)
    before = loft_map(*OUTLINE, [(0.5, 0.9, 0.5, 1.0)], cells=(72, 144))
    walls = [(0.5, 0.9, 0.5, 1.0)]
    for _ in range(25):
        x, y, length = rng.uniform(0.1, 0.7), rng.uniform(0.1, 1.7), rng.uniform(0.03, 0.19)
        walls.append((x, y, x + length, y) if rng.random() < 0.5 else (x, y, x, y + length))
        found = loft_map(*OUTLINE, walls, cells=(72, 144))
        assert found.base_m2[0] > before.base_m2[0] and found.bulge_m4 < before.bulge_m4
        before = found
