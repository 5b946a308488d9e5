"""The conduction solver against the standard's cases and against exact solutions."""

from itertools import pairwise

import numpy as np
import pytest

from engine.checks.heat import corner, strips
from engine.checks.rows import table
from engine.fields.conduction import Film, Fixed, Sheet, conduct
from engine.fields.iso10211 import case_one

CASE_ONE = table("iso10211_case1.csv")
# The solver's own gate: a hundredth of what the standard allows.
OWN_TOLERANCE_K = 1e-3


@pytest.mark.parametrize("row", corner(), ids=lambda row: row.what)
def test_case_1_of_iso_10211_agrees_at_every_point(row):
    # 0.1 K is what the standard allows.
    assert row.inside, row


def test_case_1_agrees_with_its_exact_series_at_every_point():
    series = [float(point["T_series_C"]) for point in CASE_ONE]
    np.testing.assert_allclose([row.ours for row in corner()], series, rtol=0, atol=OWN_TOLERANCE_K)


def test_all_28_points_of_case_1_are_compared():
    assert len(corner()) == 28


def test_case_1_converges_at_second_order():
    """Published series at the 28 points; the temperature jumps at one corner, and still halving a cell
    quarters the error."""
    series = np.array([float(p["T_series_C"]) for p in CASE_ONE]).reshape(7, 4)
    errors = [np.max(np.abs(case_one(cells) - series)) for cells in (20, 40, 80)]
    for coarse, fine in pairwise(errors):
        assert np.log2(coarse / fine) == pytest.approx(2, abs=0.15)


@pytest.mark.parametrize("row", strips(), ids=lambda row: row.what)
def test_case_2_of_iso_10211_agrees_at_every_point_and_in_its_heat_flow(row):
    # 0.1 K and 0.1 W/m are what the standard allows.
    assert row.inside, row


def test_nine_points_and_the_flow_of_case_2_are_compared():
    assert len(strips()) == 10


def ring(cells, twist=0.0):
    """A quarter ring from radius 1 to 3; `twist` shears the mesh so that no cell is square."""
    way, turn = np.meshgrid(np.linspace(0, 1, 2 * cells + 1), np.linspace(0, 1, cells + 1), indexing="ij")
    radius = 1 + 2 * way
    angle = np.pi / 2 * (1 - turn - twist * np.sin(np.pi * turn) * np.sin(np.pi * way))
    return radius * np.cos(angle), radius * np.sin(angle), radius


@pytest.mark.parametrize("twist", [0.0, 0.2])
def test_a_ring_in_a_bent_mesh_converges_to_the_exact_flow_at_second_order(twist):
    """Radial conduction with a film on both faces, textbook: 1 / (R1/r1 + ln(r2/r1)/k + R2/r2) per radian."""
    exact = np.pi / 2 / (0.3 / 1 + np.log(3) / 0.5 + 0.2 / 3) * 10
    errors = []
    for cells in (12, 24, 48):
        x, y, _ = ring(cells, twist)
        field = conduct(x, -y, 0.5, (Film("left", 0.3, 10.0), Film("right", 0.2, 0.0)))
        errors.append(abs(field.flow_w_m[0] - exact))
    assert errors[-1] < 2e-3 * exact
    for coarse, fine in pairwise(errors):
        assert np.log2(coarse / fine) == pytest.approx(2, abs=0.15)


def crooked_mesh():
    x, y = np.meshgrid(np.linspace(0, 3, 13), np.linspace(0, 1, 7), indexing="ij")
    inside = np.sin(np.pi * x / 3) * np.sin(np.pi * y)
    return x + 0.12 * inside * np.sin(5 * y), y + 0.08 * inside * np.cos(7 * x)


def test_an_even_gradient_comes_out_exactly_on_a_crooked_mesh():
    x, y = crooked_mesh()
    field = conduct(x, y, 0.04, (Fixed("lower", 20.0), Fixed("upper", 5.0)))
    np.testing.assert_allclose(field.temperature_c, 20 - 15 * y, atol=1e-12)
    assert field.flow_w_m == pytest.approx((0.04 * 15 * 3, -0.04 * 15 * 3))


def test_what_enters_leaves_with_films_and_fixed_stretches_on_every_side():
    x, y = crooked_mesh()
    rng = np.random.default_rng(3)
    rim = (
        Film("lower", 0.1, 30.0, 2, 9),
        Film("upper", 0.05, -5.0),
        Fixed("left", 12.0, 0, 3),
        Fixed("right", 3.0),
    )
    field = conduct(x, y, rng.uniform(0.02, 200, (12, 6)), rim, (Sheet(5, 0.3),))
    assert sum(field.flow_w_m) == pytest.approx(0, abs=1e-9 * sum(map(abs, field.flow_w_m)))
    assert np.min(field.temperature_c) >= -5 and np.max(field.temperature_c) <= 30


def test_a_lying_mesh_gives_what_a_standing_one_gives():
    x, y = crooked_mesh()
    lying = conduct(x, y, 1.0, (Film("lower", 0.1, 1.0), Fixed("right", 0.0)))
    # A quarter turn to the left: what was below is now on the right, what was right is on top.
    turned_x, turned_y = -y[:, ::-1].T, x[:, ::-1].T
    standing = conduct(turned_x, turned_y, 1.0, (Film("right", 0.1, 1.0), Fixed("upper", 0.0)))
    np.testing.assert_allclose(standing.temperature_c[::-1].T, lying.temperature_c, atol=1e-12)
    assert standing.flow_w_m == pytest.approx(lying.flow_w_m)


def test_a_sheet_carries_heat_beside_the_fill():
    """Two paths in parallel: k b / L of the fill and the sheet's own conductance over the same length."""
    x, y = np.meshgrid(np.linspace(0, 2, 9), np.linspace(0, 0.5, 6), indexing="ij")
    field = conduct(x, y, 0.04, (Fixed("lower", 1.0), Fixed("upper", 0.0)), (Sheet(0, 0.01), Sheet(8, 0.03)))
    assert field.flow_w_m[0] == pytest.approx((0.04 * 2 + 0.01 + 0.03) / 0.5)


@pytest.mark.parametrize(
    "change, message",
    [
        ({"boundaries": ()}, "boundaries is empty"),
        ({"boundaries": (Film("lower", 0.0, 1.0),)}, "resistance_m2k_w is 0 m2K/W"),
        ({"boundaries": (Fixed("lower", 0.0, 4, 4),)}, "from node 4 to 4"),
        ({"boundaries": (Fixed("upper", 0.0, 0, 13),)}, "within 0 to 12"),
        ({"conductivity_w_mk": 0.0}, "conductivity_w_mk is 0"),
        ({"conductivity_w_mk": float("nan")}, "conductivity_w_mk is nan"),
        ({"x_m": np.full((13, 7), np.nan)}, "not a number"),
        ({"x_m": np.zeros((13, 7))}, "folds over"),
        ({"x_m": np.zeros((3, 7))}, "shapes"),
        ({"x_m": np.zeros((400, 400)), "y_m": np.zeros((400, 400))}, "400 by 400 nodes"),
    ],
)
def test_what_cannot_be_is_refused_in_words(change, message):
    x, y = crooked_mesh()
    given = {"x_m": x, "y_m": y, "conductivity_w_mk": 1.0, "boundaries": (Fixed("lower", 0.0),)}
    with pytest.raises(ValueError, match=message):
        conduct(**(given | change))


@pytest.mark.parametrize("cells", [0, 10])
def test_case_1_needs_whole_quarters(cells):
    with pytest.raises(ValueError, match="multiples of 4"):
        case_one(cells)
