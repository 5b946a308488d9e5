"""Is there room for the trial square on what the lay leaves over? Rectangles on a roll, by hand."""

import pytest

from engine.bench.lay import Lay, Placement, Roll
from engine.bench.trial_cloth import end_left_m, squares_left
from tests.bench.test_pieces import FULL_SEWN, named

ROLL = Roll("cloth", "cloth", 1.4, 0.0)


def laid(to_buy_m: float, *boxes: tuple[float, float, float, float]) -> Lay:
    """A piece's box moved to each place: x, y, and the length of the roll that is bought."""
    piece = named(FULL_SEWN, "inner shell")
    places = tuple(Placement(piece, False, 0, x, y, None) for x, y, *_ in boxes)
    return Lay(ROLL, (), places, 0.0, to_buy_m, 1.0)


@pytest.mark.parametrize("to_buy_m, fit", [(0.29, 0), (0.3, 2), (1.0, 2)])
def test_an_empty_roll_of_1400_mm_holds_two_squares_side_by_side_in_300_mm(to_buy_m, fit):
    assert squares_left(laid(to_buy_m), 0.3) == fit


def test_beside_a_shell_there_is_room_only_where_the_roll_is_wider_or_longer_by_a_square():
    length, width = named(FULL_SEWN, "inner shell").cut_m
    # 1400 mm less a shell of more than 1100 mm leaves less than a square beside it.
    assert 1.1 < width < 1.4
    assert squares_left(laid(length, (0.0, 0.0, 0, 0)), 0.3) == 0
    assert squares_left(laid(length + 0.29, (0.0, 0.0, 0, 0)), 0.3) == 0
    assert squares_left(laid(length + 0.32, (0.0, 0.0, 0, 0)), 0.3) == 2


def test_what_is_left_at_the_end_is_what_is_bought_less_the_lay():
    assert end_left_m(Lay(ROLL, (), (), 4.33, 4.4, 1.0)) == pytest.approx(0.07)
