"""Does the shopping list buy enough, in whole cuts, rolls and bags, and each good once?"""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.catalogue.load import with_own
from engine.catalogue.models import OwnGood
from engine.design import Design
from engine.evaluate import evaluate
from engine.night import Night
from engine.quantities import resolve
from engine.score import score
from engine.shopping import bag_mix, shopping_list
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SHEET, changed, scored, with_grams
from tests.engine.strategies import designs

BAGS = (28.0, 85.0, 100.0, 250.0, 500.0, 1000.0)


def bought(design):
    q = resolve(design, Night(), CATALOGUE)
    return shopping_list(design, q, score(q), CATALOGUE)


def in_bought_units(line):
    """What is used, in the unit that is bought."""
    return line.used / line.pack if line.kind == "joint" else line.used


@settings(max_examples=60)
@given(designs)
def test_what_is_bought_is_enough_and_each_good_stands_once(design):
    lines = bought(design)
    for line in lines:
        assert line.to_buy >= in_bought_units(line) - 1e-6, line.id
        assert line.price_to_buy >= line.price_used - 1e-6, line.id
    assert len({(line.kind, line.id) for line in lines}) == len(lines)


@settings(max_examples=60)
@given(designs)
def test_prices_used_add_up_to_the_cost_of_the_quilt(design):
    result = scored(design)
    used = sum(line.price_used for line in bought(design))
    assert used == pytest.approx(result.cost - result.cost_parts["beyond the quilt"], rel=1e-9)


@pytest.mark.parametrize("grams", [1, 28, 29, 57, 100, 112, 129, 160, 182.05, 197, 300, 333])
def test_the_bags_bought_leave_little_over_in_few_bags(grams):
    # Every mix of up to so many bags of each size, counted out; a bag less is worth 5 g.
    counts = [range(int(grams // size) + 2) for size in BAGS]
    price = lambda mix: sum(n * (size + 5) for n, size in zip(mix, BAGS, strict=True))  # noqa: E731
    holds = lambda mix: sum(n * size for n, size in zip(mix, BAGS, strict=True)) >= grams  # noqa: E731
    least = min(price(mix) for mix in product(*counts) if holds(mix))
    assert sum(n * (size + 5) for size, n in bag_mix(grams, BAGS)) == least


def test_nobody_is_sent_for_twelve_small_bags():
    assert sum(count for _, count in bag_mix(407, BAGS)) <= 4


@given(st.floats(0, 3000), st.sets(st.sampled_from(BAGS), min_size=1))
def test_whole_bags_hold_the_down_and_are_no_worse_than_the_smallest_size_alone(grams, sizes):
    mix = bag_mix(grams, tuple(sizes))
    assert grams <= sum(size * count for size, count in mix) + 1e-6
    smallest = np.ceil(np.ceil(grams - 1e-9) / min(sizes)) * (min(sizes) + 5)
    assert sum((size + 5) * count for size, count in mix) <= smallest
    assert [size for size, _ in mix] == sorted((size for size, _ in mix), reverse=True)


def test_no_down_needs_no_bag():
    assert bag_mix(0.0, BAGS) == ()
    assert [line for line in bought(with_grams(FULL_SEWN, 0)) if line.kind == "fill"] == []


@pytest.mark.parametrize("design", [d for d in ALL if d is not SHEET], ids=lambda d: d.name)
def test_the_bags_told_to_the_maker_are_the_bags_on_the_list(design):
    told = sum(size * count for size, count in evaluate(design, Night(), CATALOGUE).derived.bags)
    assert told == next(line.to_buy for line in bought(design) if line.kind == "fill")


def test_shells_and_baffles_of_one_film_are_one_line():
    film = next(line for line in bought(FILM) if line.id == "film-17")
    assert set(film.purpose.split(", ")) >= {"inner shell", "outer shell", "baffles"}
    # By hand: both shells side by side do not fit on 1.35 m of roll, so two lengths of 1.97 m at least.
    assert film.to_buy >= 2 * 1.97


def test_cloth_is_sold_by_the_tenth_of_a_metre_and_rolls_and_bags_whole():
    for design in ALL:
        for line in bought(design):
            step = 0.1 if line.unit == "m" else 1.0
            assert line.to_buy / step == pytest.approx(np.round(line.to_buy / step), abs=1e-6), line.id


def test_a_shell_wider_than_the_roll_takes_two_lengths():
    # By hand: 1.6 m and allowances on 1.40 m of usable nylon, along: 2 x 1.97; turned: 2 x 1.626 = 3.25 m.
    wide = changed(changed(FULL_SEWN, "outline.width_mm", 1600.0), "cut.kind", "flat")
    wide = changed(changed(wide, "shells.outer", "nylon-20d-38"), "baffles.fabric", "mesh-24")
    inner = next(line for line in bought(wide) if line.purpose == "inner shell")
    assert inner.to_buy >= 3.25


def test_tape_is_bought_with_the_tenth_that_is_lost():
    # By hand from the bill: metres of taped baffle joint and a tenth, in whole rolls of 50 m.
    result = scored(FILM)
    metres = next(joint.length_m for joint in result.bill.joints if joint.name == "baffles")
    tape = next(line for line in bought(FILM) if line.id == "tape-6")
    assert tape.used == pytest.approx(1.1 * metres)
    assert tape.to_buy == np.ceil(1.1 * metres / 50)


def test_sheet_insulation_is_bought_by_the_metre_with_its_layers():
    # By hand: two layers of 1.9 x 1.12 m on 1.5 m of roll: 2.84 m.
    sheet = next(line for line in bought(SHEET) if line.kind == "fill")
    assert sheet.unit == "m" and sheet.used == pytest.approx(2 * 1.9 * 1.12 / 1.5)


def test_seams_that_take_only_thread_share_one_spool():
    """By hand: 40 m of seam, some in two rows, take far less than the 500 m on a spool."""
    lines = [line for line in bought(Design()) if line.kind == "joint"]
    assert [(line.name, line.to_buy) for line in lines] == [("sewing thread", 1.0)]
    assert lines[0].purpose == "baffles, edges, ends, patches"


def test_joints_are_bought_as_tape_sealant_and_thread_and_never_as_joints():
    """By hand from the bill: thread 2.7 m a row and metre and 15 %, a 28 mL tube, 4 mL of sealant a metre."""
    design = changed(changed(FILM, "joints.ends", "taped-cord-channel"), "tabs", 6)
    lengths = {joint.name: float(joint.length_m) for joint in scored(design).bill.joints}
    lines = {line.name: line for line in bought(design) if line.kind == "joint"}
    assert set(lines) == {
        "double-sided tape, 6 mm",
        "double-sided tape, 12 mm",
        "sealant",
        "sewing thread",
    }
    tape, thread, tubes = lines["double-sided tape, 12 mm"], lines["sewing thread"], lines["sealant"]
    assert tape.used == pytest.approx(1.1 * lengths["ends"])
    assert (tape.unit, tape.used_unit, tape.pack) == ("rolls", "m", pytest.approx(33))
    # Six tabs, a square of 40 mm stitched round at each.
    assert thread.used == pytest.approx(1.15 * 2.7 * (lengths["ends"] + 6 * 4 * 0.04))
    assert (thread.unit, thread.purpose) == ("spools", "ends, patches")
    assert thread.pack == pytest.approx(500, abs=1)
    assert tubes.used == pytest.approx(1.1 * 4 * lengths["edges"])
    assert (tubes.unit, tubes.used_unit, tubes.pack) == ("tubes", "mL", pytest.approx(28))
    assert tubes.to_buy == np.ceil(tubes.used / 28)


def test_two_joints_with_tape_of_one_width_share_its_rolls():
    design = changed(changed(FULL_SEWN, "joints.edges", "tape-12"), "joints.ends", "tape-12-stitch")
    tapes = [line for line in bought(design) if "tape" in line.name]
    lengths = {joint.name: float(joint.length_m) for joint in scored(design).bill.joints}
    assert [line.purpose for line in tapes] == ["edges, ends"]
    assert tapes[0].used == pytest.approx(1.1 * (lengths["edges"] + lengths["ends"]))


def test_the_dearest_own_price_counts_for_a_pack():
    """By hand: an own price of 1.00 a metre of tape, in rolls of 33 m."""
    catalogue = with_own(CATALOGUE, (OwnGood(kind="joint", id="tape-12", price=1.0),))
    design = changed(FULL_SEWN, "joints.edges", "tape-12")
    q = resolve(design, Night(), catalogue)
    tape = next(line for line in shopping_list(design, q, score(q), catalogue) if line.id == "tape-12")
    assert tape.own and tape.price_to_buy == pytest.approx(33 * tape.to_buy)
    assert tape.price_used == pytest.approx(tape.used)
