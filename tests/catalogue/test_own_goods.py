"""Whether the maker's own numbers replace the catalogued ones, and only those that a good has."""

import pytest

from engine.catalogue.load import load_catalogue, own_fields, with_own
from engine.catalogue.models import OwnGood
from engine.refusals import Refusal

CATALOGUE = load_catalogue()


def test_no_own_goods_leave_the_catalogue_as_it_was():
    assert with_own(CATALOGUE, []) == CATALOGUE
    assert with_own(CATALOGUE, [OwnGood(kind="fabric", id="film-17")]) == CATALOGUE


def test_own_numbers_of_a_fabric_replace_price_width_and_mass_and_nothing_else():
    own = OwnGood(kind="fabric", id="film-17", price=21.5, roll_width_mm=1400, areal_mass_g_m2=17.6)
    mine, catalogued = with_own(CATALOGUE, [own]).fabric("film-17"), CATALOGUE.fabric("film-17")
    assert (mine.price_per_m, mine.roll_width_mm, mine.areal_mass_g_m2) == (21.5, 1400, 17.6)
    assert mine.own
    replaced = {"price_per_m", "roll_width_mm", "areal_mass_g_m2", "own", "own_numbers"}
    assert mine.model_dump(exclude=replaced) == catalogued.model_dump(exclude=replaced)
    assert not catalogued.own and catalogued.price_per_m != 21.5


@pytest.mark.parametrize(
    "kind, id, field",
    [
        ("fabric", "nylon-10d-26", "price_per_m"),
        ("fill", "down-850", "price_per_100_g"),
        ("fill", "sheet-100", "price_per_m"),
        ("joint", "tape-6", "price_per_m"),
        ("hardware", "cord-3", "price"),
    ],
)
def test_a_price_goes_where_that_good_is_priced(kind, id, field):
    mine = with_own(CATALOGUE, [OwnGood(kind=kind, id=id, price=0.123)])
    good = getattr(mine, {"hardware": "hardware_item"}.get(kind, kind))(id)
    assert getattr(good, field) == 0.123
    assert good.own


def test_a_price_of_zero_counts_as_a_price():
    mine = with_own(CATALOGUE, [OwnGood(kind="fill", id="down-850", price=0)])
    assert mine.fill("down-850").price_per_100_g == 0


def test_own_fill_power_replaces_the_label():
    mine = with_own(CATALOGUE, [OwnGood(kind="fill", id="down-850", fill_power_in3_oz=810)])
    assert mine.fill("down-850").fill_power_in3_oz == 810


def test_an_own_peel_strength_and_pace_of_a_joint_replace_the_catalogued_ones():
    own = OwnGood(kind="joint", id="tape-6", peel_n_m=412, minutes_per_m=8, minutes_per_piece=3)
    mine = with_own(CATALOGUE, [own]).joint("tape-6")
    assert (mine.peel_n_m, mine.minutes_per_m, mine.minutes_per_piece) == (412, 8, 3)
    assert mine.own_numbers == ("peel_n_m", "minutes_per_m", "minutes_per_piece")
    assert mine.price_per_m == CATALOGUE.joint("tape-6").price_per_m


def test_only_goods_named_are_changed_and_order_is_kept():
    mine = with_own(CATALOGUE, [OwnGood(kind="fabric", id="mesh-24", price=1)])
    assert list(mine.fabrics) == list(CATALOGUE.fabrics)
    assert [id for id, good in mine.fabrics.items() if good.own] == ["mesh-24"]
    assert mine.fills == CATALOGUE.fills


@pytest.mark.parametrize(
    "own, named",
    [
        (OwnGood(kind="fill", id="sheet-100", fill_power_in3_oz=800), "fill_power_in3_oz of sheet-100 is"),
        (OwnGood(kind="fill", id="down-850", roll_width_mm=1500), "roll_width_mm of down-850 is 1500"),
        (OwnGood(kind="fill", id="down-850", areal_mass_g_m2=100), "areal_mass_g_m2 of down-850 is 100"),
        (OwnGood(kind="fabric", id="film-17", fill_power_in3_oz=800), "fill_power_in3_oz of film-17 is 800"),
        (OwnGood(kind="hardware", id="hook", areal_mass_g_m2=30), "areal_mass_g_m2 of hook is 30"),
        (OwnGood(kind="fabric", id="film-17", peel_n_m=300), "peel_n_m of film-17 is 300"),
        (OwnGood(kind="joint", id="seared-edge", peel_n_m=300), "peel_n_m of seared-edge is 300"),
    ],
)
def test_a_number_that_the_good_does_not_have_is_refused(own, named):
    with pytest.raises(Refusal) as caught:
        with_own(CATALOGUE, [own])
    (message,) = caught.value.messages
    assert named in message and "allowed: price" in message


def test_the_limits_of_the_good_itself_hold_for_own_numbers():
    """An own areal mass may be 300 for a sheet, not for a cloth."""
    assert with_own(CATALOGUE, [OwnGood(kind="fill", id="sheet-133", areal_mass_g_m2=300)])
    told = r"film-17: Areal mass \(areal_mass_g_m2\) is 300; allowed: above 5 and below 200"
    with pytest.raises(Refusal, match=told):
        with_own(CATALOGUE, [OwnGood(kind="fabric", id="film-17", areal_mass_g_m2=300)])


def test_unknown_ids_are_all_told_at_once():
    goods = [OwnGood(kind="fabric", id="sailcloth", price=1), OwnGood(kind="joint", id="rivet", price=1)]
    with pytest.raises(Refusal) as caught:
        with_own(CATALOGUE, goods)
    assert ["'sailcloth'" in m or "'rivet'" in m for m in caught.value.messages] == [True, True]


def test_every_number_offered_for_editing_is_one_that_the_good_takes():
    for shelf, kind in ((CATALOGUE.fabrics, "fabric"), (CATALOGUE.fills, "fill"),
                        (CATALOGUE.joints, "joint"), (CATALOGUE.hardware, "hardware")):  # fmt: skip
        for id, good in shelf.items():
            numbers = {name: getattr(good, target) for name, target in own_fields(good).items()}
            mine = with_own(CATALOGUE, [OwnGood(kind=kind, id=id, **numbers)])
            assert mine != CATALOGUE  # same numbers, marked own
            own = getattr(mine, {"hardware": "hardware_item"}.get(kind, kind))(id)
            assert set(own.own_numbers) == set(numbers)
            assert own == good.model_copy(update={"own": True, "own_numbers": own.own_numbers})
