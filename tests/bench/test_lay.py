"""Do all pieces lie on their cloth, in their grain, none on another; and is what is bought enough?"""

from collections import Counter
from itertools import pairwise
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.bench.lay import Offcut, Roll, lay, lays_of, roll_of
from engine.bench.lay_items import may_pair
from engine.bench.pieces import Piece, pieces_of
from engine.bench.polygons import area_of, reach
from engine.night import Night
from engine.quantities import resolve
from engine.refusals import Refusal
from engine.samples import samples
from engine.score import score
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, TOP, changed
from tests.engine.strategies import designs

TOUCH_M = 2e-6
"""Lays are in tenths of a millimetre and sums of floats: less than this is touching, not lapping."""
ROLL = Roll("cloth", "test cloth", 1.4, 0.025)


def cut(design, way="least roll"):
    q = resolve(design, Night(), CATALOGUE)
    return pieces_of(design, CATALOGUE, q, score(q), way)


def strip(length, width, count=1, grain="along", name="strip", skew=0.0):
    """A rectangle, or a trapezoid that is shorter by `skew` on one side."""
    outline = ((0.0, 0.0), (length, 0.0), (length - skew, width), (0.0, width))
    return Piece(
        name, name, "shells", count, 0, "cloth", 0.026, outline, outline, (length, width), grain, "down", ()
    )


def box(outline):
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), min(ys), max(xs), max(ys)


def lap(one, other):
    """The most that two outlines reach over each other, square to the roll."""
    (x0, y0, x1, y1), (u0, v0, u1, v1) = box(one), box(other)
    low, high = max(x0, u0), min(x1, u1)
    if high - low <= TOUCH_M or min(y1, v1) - max(y0, v0) <= TOUCH_M:
        return 0.0
    places = sorted({low, high, *(x for x, _ in (*one, *other) if low < x < high)})
    worst = 0.0
    for start, end in pairwise(places):
        # Between corners borders are straight: the ends and the middle of each stretch tell.
        for place in (start + 1e-9, (start + end) / 2, end - 1e-9):
            if end - start > TOUCH_M:
                (a, b), (c, d) = reach(one, 0, place), reach(other, 0, place)
                worst = max(worst, min(b, d) - max(a, c))
    return worst


def test_the_check_sees_pieces_that_lap():
    wedge = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    apart = ((1.0, 1.0), (0.0, 1.0), (1.0, 0.0))
    assert lap(wedge, apart) == pytest.approx(0, abs=1e-9)
    assert lap(wedge, tuple((x - 0.1, y) for x, y in apart)) == pytest.approx(0.1, abs=1e-6)


def lies_right(found, pieces, usable_m):
    placed = Counter((place.piece.name, place.mirrored) for place in found.placements)
    for piece in pieces:
        assert placed[piece.name, False] + placed[piece.name, True] == piece.count, piece.name
        assert placed[piece.name, True] == piece.mirrored, piece.name
    for place in found.placements:
        width, length = usable_m, found.length_m
        if place.offcut is not None:
            width, length = found.offcuts[place.offcut].width_m, found.offcuts[place.offcut].length_m
        x0, y0, x1, y1 = box(place.outline)
        assert x0 >= -TOUCH_M and y0 >= -TOUCH_M and x1 <= length + TOUCH_M and y1 <= width + TOUCH_M
        assert area_of(place.outline) == pytest.approx(area_of(place.piece.cut))
        turned_to_fit = place.piece.cut_m[1] > width
        if place.piece.grain == "along" and not turned_to_fit:
            assert place.degrees in (0, 180)
        if place.piece.grain == "across":
            assert place.degrees in (90, 270)
    where = {}
    for place in found.placements:
        outline = place.outline
        for other in where.setdefault(place.offcut, []):
            assert lap(outline, other) <= TOUCH_M
        where[place.offcut].append(outline)


@settings(max_examples=40)
@given(designs, st.sampled_from(["least roll", "spliced", "turned"]), st.sampled_from([0, 300]))
def test_whatever_the_design_its_pieces_lie_on_the_roll_in_their_grain_and_none_laps(design, way, trials):
    pieces = cut(design, way)
    for found in lays_of(pieces, CATALOGUE, trials=trials):
        mine = [piece for piece in pieces if piece.goods == found.roll.goods]
        lies_right(found, mine, found.roll.usable_m)
        assert found.to_buy_m >= found.length_m - 1e-9
        assert found.to_buy_m - found.length_m < 0.1 + 1e-9
        assert 0 < found.yield_share <= 1 + 1e-9


@pytest.mark.parametrize("design", [*ALL, *(sample.design for sample in samples())], ids=lambda d: d.name)
def test_the_designs_that_are_shown_lie_right(design):
    pieces = cut(design)
    for found in lays_of(pieces, CATALOGUE):
        mine = [piece for piece in pieces if piece.goods == found.roll.goods]
        lies_right(found, mine, found.roll.usable_m)


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(st.floats(0.05, 2.0), st.floats(0.05, 1.3), st.integers(1, 5)), min_size=1, max_size=5
    ),
    st.lists(st.tuples(st.floats(0.05, 1.5), st.floats(0.05, 2.5)), max_size=3),
    st.floats(0, 0.9),
)
def test_offcuts_are_filled_and_the_rest_lies_on_the_roll(sizes, rests, share):
    pieces = [
        strip(length, width, count, name=f"piece {number}", skew=share * length)
        for number, (length, width, count) in enumerate(sizes)
    ]
    offcuts = tuple(Offcut(width, length) for width, length in rests)
    lies_right(lay(pieces, ROLL, offcuts, trials=300), pieces, ROLL.usable_m)


def test_by_hand_two_shells_and_their_baffles_lie_one_behind_the_other():
    # 1.97 x 1.146 m twice on 1.4 m of roll, three strips of 1.846 x 0.072 m beside each: 0.216 of 0.254 m.
    pieces = [strip(1.970, 1.146, 2, name="shell"), strip(1.846, 0.072, 6, name="baffle")]
    found = lay(pieces, ROLL)
    assert found.length_m == pytest.approx(2 * 1.970)
    assert found.to_buy_m == pytest.approx(4.0)
    area = 2 * 1.970 * 1.146 + 6 * 1.846 * 0.072
    assert found.yield_share == pytest.approx(area / (1.4 * 3.94))
    assert set(found.went()) == {(None, "shell", 2), (None, "baffle", 6)}


def test_two_tapered_halves_lie_head_to_foot():
    # By hand: 0.80 m at the head, 0.50 at the foot, together 1.30 of 1.40 m; side by side as boxes 1.60.
    half = Piece(
        "half", "shell", "shells", 2, 0, "cloth", 0.026,
        ((0.0, 0.0), (2.0, 0.0), (2.0, 0.5), (0.0, 0.8)),
        ((0.0, 0.0), (2.0, 0.0), (2.0, 0.5), (0.0, 0.8)),
        (2.0, 0.8), "along", "down", (),
    )  # fmt: skip
    assert may_pair(half)
    assert lay([half], ROLL).length_m == pytest.approx(2.0)


def test_an_offcut_at_hand_is_used_before_the_roll():
    pieces = [strip(1.970, 1.146, 2, name="shell"), strip(1.846, 0.072, 3, name="baffle")]
    found = lay(pieces, ROLL, (Offcut(0.3, 0.5), Offcut(1.2, 2.0)))
    assert set(found.went()) == {(1, "shell", 1), (None, "shell", 1), (None, "baffle", 3)}
    assert found.length_m == pytest.approx(1.970)
    every = lay(pieces, ROLL, (Offcut(1.4, 4.0),))
    assert every.length_m == every.to_buy_m == 0.0 and every.yield_share == 1.0


def test_strips_of_cloth_that_stretches_neither_way_may_be_cut_from_selvedge_to_selvedge():
    # By hand: two end panels of 1.274 x 0.09 m take 0.18 m of roll across it, along it 1.274 m.
    assert lay([strip(1.274, 0.09, 2, "either")], ROLL).length_m == pytest.approx(0.18)
    assert lay([strip(1.274, 0.09, 2, "along")], ROLL).length_m == pytest.approx(1.274)


def test_mesh_stretches_one_way_so_its_strips_run_along_the_selvedge():
    assert {piece.grain for piece in cut(FULL_SEWN) if piece.part == "baffles"} == {"along"}
    assert {piece.grain for piece in cut(FILM) if piece.part == "baffles"} == {"either"}


def test_a_wide_shell_takes_the_less_roll_unless_the_maker_wants_it_otherwise():
    # By hand, 1.6 m and allowances on 1.40 m: turned 2 x 1.626, spliced 2 x 1.970 m, for each shell.
    wide = changed(changed(FULL_SEWN, "outline.width_mm", 1600.0), "cut.kind", "flat")
    wide = changed(wide, "baffles.fabric", "mesh-24")
    lengths = {
        way: lays_of(cut(wide, way), CATALOGUE)[0].length_m for way in ("least roll", "turned", "spliced")
    }
    assert lengths["turned"] == lengths["least roll"] == pytest.approx(2 * 2 * 1.626)
    assert lengths["spliced"] == pytest.approx(2 * 2 * 1.970)


def test_three_hundred_baffles_are_laid_within_a_second():
    """Ten times as long as it takes on two shared cores is still within the second."""
    short = changed(changed(FILM, "baffles.spacing_mm", 60.0), "baffles.piece_length_mm", 70.0)
    short = changed(short, "baffles.gap_mm", 45.0)
    pieces = cut(short)
    assert sum(piece.count for piece in pieces if piece.part == "baffles") >= 250
    start = perf_counter()
    found = lays_of(pieces, CATALOGUE)
    assert perf_counter() - start < 1.0
    assert sum(len(one.placements) for one in found) == sum(p.count for p in pieces if p.goods)


def test_the_same_pieces_are_laid_the_same_again():
    pieces = cut(TOP)
    assert lays_of(pieces, CATALOGUE) == lays_of(pieces, CATALOGUE)


@pytest.mark.parametrize(
    "offcut, message",
    [
        (Offcut(0.0, 1.0), "offcut 1: width is 0 mm; allowed: above 0 mm."),
        (Offcut(1.0, -0.2), "offcut 1: length is -200 mm; allowed: above 0 mm."),
        (Offcut(float("nan"), 1.0), "offcut 1: width is nan mm; allowed: above 0 mm."),
    ],
)
def test_an_offcut_without_size_is_refused_by_name(offcut, message):
    with pytest.raises(Refusal) as told:
        lay([strip(1.0, 0.1)], ROLL, (offcut,))
    assert told.value.messages == (message,)


def test_a_piece_that_fits_no_way_is_refused_with_its_size_and_what_would_do():
    with pytest.raises(Refusal) as told:
        lay([strip(1.8, 0.322, name="baffle")], Roll("narrow", "narrow mesh", 0.25, 0.02))
    (message,) = told.value.messages
    assert "baffle is cut 1800 x 322 mm" in message and "narrow mesh holds 250 mm" in message
    assert "allowed: a wider roll" in message


def test_a_strip_too_wide_for_its_roll_is_turned_if_it_is_short():
    found = lay([strip(0.2, 0.322)], Roll("narrow", "narrow mesh", 0.25, 0.02))
    assert found.placements[0].degrees == 90 and found.length_m == pytest.approx(0.322)


def test_sheet_insulation_has_a_roll_of_its_own():
    assert roll_of("sheet-133", CATALOGUE).usable_m == pytest.approx(1.5)
    # By hand: 1450 less twice 25 mm.
    assert roll_of("nylon-10d-26", CATALOGUE).usable_m == pytest.approx(1.4)
