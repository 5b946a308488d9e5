"""Is a short underquilt ever compared without what must lie under the legs?"""

from itertools import pairwise

import pytest

from engine.evaluate import evaluate
from engine.night import Beyond, Night, Sleeper
from tests.engine.made import CATALOGUE, FULL_SEWN, PUPIL, TOP, changed, scored

PAD = Night(beyond=Beyond(r_m2k_w=0.25, grams=120, price=15))
NO_PAD = Night(beyond=Beyond(r_m2k_w=0, grams=0, price=0))


def test_a_short_underquilt_carries_the_pads_grams_and_price():
    with_pad, without = scored(PUPIL, PAD), scored(PUPIL, NO_PAD)
    assert with_pad.weight_parts_kg["beyond the quilt"] == pytest.approx(0.120)
    assert with_pad.weight_kg - without.weight_kg == pytest.approx(0.120)
    assert with_pad.cost - without.cost == pytest.approx(15)
    assert with_pad.tare_kg == pytest.approx(without.tare_kg), "the pad is no part of the quilt"


@pytest.mark.parametrize("design", [FULL_SEWN, TOP], ids=["full underquilt", "top quilt"])
def test_a_quilt_that_reaches_carries_no_pad(design):
    result = scored(design, PAD)
    assert result.weight_parts_kg["beyond the quilt"] == 0
    assert result.cost_parts["beyond the quilt"] == 0


def test_a_pad_makes_a_short_quilt_warmer_and_does_nothing_for_a_full_one():
    bare = PAD.model_copy(update={"beyond": Beyond(r_m2k_w=0, grams=120, price=15)})
    assert scored(PUPIL, PAD).comfort_c < scored(PUPIL, bare).comfort_c
    assert scored(FULL_SEWN, PAD).comfort_c == scored(FULL_SEWN, bare).comfort_c


@pytest.mark.parametrize("millimetres", range(1560, 1640, 5))
def test_the_pad_is_carried_exactly_where_the_quilt_is_called_short(millimetres):
    result = evaluate(changed(FULL_SEWN, "outline.length_mm", float(millimetres)), PAD, CATALOGUE)
    carried = result.score.weight_parts_kg["beyond the quilt"]
    assert carried == pytest.approx(0.120 if result.fit.short else 0.0)
    assert any(c.code == "too short for the sleeper" for c in result.cautions) == result.fit.short
    # Slips of the shears do not make the pad come and go from draw to draw.
    assert float(result.draws.weight_parts_kg["beyond the quilt"].max()) == pytest.approx(carried)
    assert float(result.draws.weight_parts_kg["beyond the quilt"].min()) == pytest.approx(carried)


def test_a_pad_under_the_legs_mends_no_quilt_that_is_too_narrow():
    narrow = changed(FULL_SEWN, "outline.width_mm", 700.0)
    warm_pad = Night(beyond=Beyond(r_m2k_w=2, grams=120, price=15))
    assert scored(narrow, warm_pad).comfort_c == scored(narrow, NO_PAD).comfort_c


def test_a_pad_mends_no_short_top_quilt():
    short = changed(TOP, "outline.length_mm", 1300.0)
    assert scored(short, PAD).comfort_c == scored(short, NO_PAD).comfort_c
    assert scored(short, PAD).weight_parts_kg["beyond the quilt"] == 0


def test_a_shorter_underquilt_is_never_warmer_than_a_longer_one():
    comforts = [
        float(scored(changed(FULL_SEWN, "outline.length_mm", float(mm)), PAD).comfort_c)
        for mm in range(1000, 2100, 100)
    ]
    assert all(long <= short + 0.05 for short, long in pairwise(comforts))


def test_the_share_covered_falls_with_a_taller_sleeper():
    shares = [
        evaluate(FULL_SEWN, Night(sleeper=Sleeper(kind="own", height_mm=mm)), CATALOGUE).fit.half_cover
        for mm in (1600.0, 1900.0, 2100.0, 2200.0)
    ]
    assert shares == sorted(shares, reverse=True) and shares[0] == 1.0 and shares[-1] < 1.0


def test_a_full_quilt_fits_and_a_three_quarter_one_is_called_short():
    assert evaluate(FULL_SEWN, Night(), CATALOGUE).fit.fits
    fit = evaluate(PUPIL, Night(), CATALOGUE).fit
    assert fit.short and not fit.narrow
    # By hand: 142 cm less 1 % pucker, of 1.60 x 0.82 + 0.30 m, 0.30 m lost: 1.106 of 1.312 m.
    assert fit.half_cover == pytest.approx((1.42 * 0.99 - 0.30) / (1.60 * 0.82), rel=1e-9)
    assert fit.body_cover == pytest.approx(0.44 * fit.half_cover)
