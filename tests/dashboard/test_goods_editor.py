"""Own prices and weights: which goods are offered, what typing does, and what travels.

Yard 0.9144 m and ounce 28.349523125 g (exact), ounce per square yard 33.9057474749 g/m²: NIST SP 811
(2008), App. B.
"""

import re

import pytest
from streamlit.testing.v1 import AppTest

from engine.catalogue.load import load_catalogue
from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.design import Design, Filling, Joints, Shells, SuspensionItem
from engine.export.link import decode_link, encode_link
from engine.samples import first_visit

DOWN = "lw-goods-fill-down-850-"
NYLON = "lw-goods-fabric-nylon-10d-26-"


def alone(design: Design, **rest) -> Comparison:
    return Comparison(candidates=(Candidate(letter="A", design=design),), **rest)


def opened(comparison: Comparison) -> AppTest:
    """The dialog over this comparison."""

    def page() -> None:
        import streamlit as st

        from dashboard import goods_editor, session

        session.start()
        st.text(session.undo_label())
        if st.button("Open"):
            goods_editor.show_goods()
            st.session_state.opened = True
        elif "opened" in st.session_state:  # a browser runs the open dialog alone, this test the whole page
            goods_editor._goods()

    at = AppTest.from_function(page, default_timeout=30)
    at.query_params["d"] = encode_link(comparison)
    at.run()
    at.button[0].click().run()
    assert not at.exception
    return at


def type_in(at: AppTest, key: str, text: str) -> AppTest:
    """Type into a box and leave it."""
    at.text_input(key=key).input(text).run()
    assert not at.exception
    return at


def own(at: AppTest) -> tuple[OwnGood, ...]:
    return at.session_state["comparison"].own_goods


def words(at: AppTest) -> str:
    return " ".join(re.sub("<[^>]*>", " ", block.value) for block in at.get("html")).replace("\u00a0", " ")


def boxes(at: AppTest) -> list[str]:
    return [box.key for box in at.text_input if box.key != "lw-goods-currency"]


def test_only_goods_that_a_quilt_in_the_line_up_uses_are_offered():
    at = opened(alone(Design()))
    offered = {key.rsplit("-", 1)[0] for key in boxes(at)}
    assert offered == {
        "lw-goods-fabric-nylon-10d-26", "lw-goods-fabric-mesh-24", "lw-goods-fill-down-850",
        "lw-goods-joint-sewn-seam", "lw-goods-joint-sewn-double", "lw-goods-joint-cord-channel",
    }  # fmt: skip
    assert "lw-goods-fabric-film-17-price" in boxes(opened(alone(Design(shells=Shells(outer="film-17")))))


def test_a_batting_has_no_fill_power_and_down_has_no_roll():
    sheet = boxes(opened(alone(Design(fill=Filling(good="sheet-133")))))
    assert {key.removeprefix("lw-goods-fill-sheet-133-") for key in sheet if "-fill-" in key} == {
        "price", "roll_width_mm", "areal_mass_g_m2"}  # fmt: skip
    down = boxes(opened(alone(Design())))
    assert {key.removeprefix(DOWN) for key in down if "-fill-" in key} == {"price", "fill_power_in3_oz"}


def test_of_a_joint_its_peel_strength_and_its_pace_are_offered_too():
    design = Design(joints=Joints(edges="tape-12", ends="tape-12-stitch"))
    at = opened(alone(design))
    tape = "lw-goods-joint-tape-12-"
    offered = {"price", "peel_n_m", "minutes_per_m", "minutes_per_piece"}
    assert {tape + name for name in offered} <= set(boxes(at))
    type_in(at, f"{tape}peel_n_m", "12 N/25 mm")
    type_in(at, f"{tape}minutes_per_m", "9")
    # 12 N on a strip of 25 mm are 480 N on a metre.
    assert own(at) == (OwnGood(kind="joint", id="tape-12", peel_n_m=480, minutes_per_m=9),)
    type_in(at, f"{tape}peel_n_m", "-3")
    told = "Peel strength of double-sided tape, 12 mm is −3 N/m; allowed: 0 to 20\u202f000 N/m."
    assert told in words(at)


def test_in_trade_units_a_peel_strength_is_in_pounds_force_an_inch():
    at = opened(alone(Design(joints=Joints(edges="tape-12")), units="trade"))
    key = "lw-goods-joint-tape-12-peel_n_m"
    # 1 lbf/in is 175.1268 N/m: NIST SP 811 (2008), App. B.
    assert float(at.text_input(key=key).value) == pytest.approx(330 / 175.1268, abs=5e-3)
    type_in(at, key, "2")
    assert own(at)[0].peel_n_m == pytest.approx(350.2536, rel=1e-6)


def test_it_says_that_the_prices_are_invented():
    assert "invented demo prices" in words(opened(alone(Design())))


def test_an_empty_line_up_says_what_to_do():
    at = opened(Comparison())
    assert "No quilt in the line-up" in words(at)
    assert boxes(at) == []


@pytest.mark.parametrize("typed, price", [("31.5", 31.5), ("31,5", 31.5), (" 40 ", 40), ("0", 0)])
def test_a_price_is_taken_marked_own_and_travels_in_the_link(typed, price):
    at = type_in(opened(alone(Design())), f"{DOWN}price", typed)
    assert own(at) == (OwnGood(kind="fill", id="down-850", price=price),)
    assert " own" in words(at)
    (token,) = [at.query_params["d"]] if isinstance(at.query_params["d"], str) else at.query_params["d"]
    assert decode_link(token).own_goods == own(at)


def test_each_of_several_edits_is_kept():
    at = opened(alone(Design()))
    for key, text in ((f"{DOWN}price", "30"), (f"{DOWN}fill_power_in3_oz", "820"), (f"{NYLON}price", "9"),
                      (f"{NYLON}roll_width_mm", "1400"), (f"{NYLON}areal_mass_g_m2", "27.5")):  # fmt: skip
        type_in(at, key, text)
    assert set(own(at)) == {
        OwnGood(kind="fill", id="down-850", price=30, fill_power_in3_oz=820),
        OwnGood(kind="fabric", id="nylon-10d-26", price=9, roll_width_mm=1400, areal_mass_g_m2=27.5),
    }


def test_the_catalogues_own_number_is_no_number_of_the_makers():
    at = opened(alone(Design()))
    catalogued = at.text_input(key=f"{DOWN}price").value
    type_in(at, f"{DOWN}price", "55")
    type_in(at, f"{DOWN}price", catalogued)
    assert own(at) == ()


@pytest.mark.parametrize(
    "key, typed, told",
    [
        (f"{DOWN}price", "-1", "Price of 850 fill-power down is −1 per 100 g; allowed: 0 to 1000 per 100 g."),
        (f"{DOWN}price", "dear", "Price of 850 fill-power down is dear, which is not a number"),
        (f"{DOWN}price", "", "Price of 850 fill-power down is empty"),
        (f"{DOWN}price", "NaN", "NaN, which is not a number"),
        (f"{DOWN}price", "1000000000", "allowed: 0 to 1000"),
        (f"{DOWN}fill_power_in3_oz", "80", "is 80 in³/oz; allowed: 400 to 1050 in³/oz."),
        (f"{NYLON}areal_mass_g_m2", "<b>9</b>", "&lt;b&gt;9&lt;/b&gt;"),
        (f"{NYLON}roll_width_mm", "9 m", "is 9 m (9000 mm); allowed: 300 to 3500 mm."),
    ],
)
def test_a_refused_value_is_named_with_what_is_allowed_and_nothing_changes(key, typed, told):
    at = opened(alone(Design()))
    type_in(at, key, typed)
    assert told in words(at)
    assert "is still in use." in words(at)
    assert own(at) == ()
    assert at.text_input(key=key).value == typed
    good = "30" if key.endswith("price") else "700" if key.endswith("oz") else "310"
    type_in(at, key, good if "areal" not in key else "31")
    assert "Not taken." not in words(at)
    assert len(own(at)) == 1


def test_back_to_catalogue_takes_out_the_whole_entry_and_no_other():
    start = alone(
        Design(joints=Joints(edges="tape-12", ends="tape-12-stitch")),
        own_goods=(
            OwnGood(kind="joint", id="tape-12", price=0.9),
            OwnGood(kind="joint", id="tape-12-stitch", price=1.1),
        ),
    )
    at = opened(start)
    at.button(key="lw-goods-back-joint-tape-12").click().run()
    assert own(at) == (OwnGood(kind="joint", id="tape-12-stitch", price=1.1),)


def test_own_numbers_of_goods_not_in_use_are_left_alone():
    kept = OwnGood(kind="fabric", id="film-17", price=20)
    at = type_in(opened(alone(Design(), own_goods=(kept,))), f"{DOWN}price", "30")
    assert own(at) == (kept, OwnGood(kind="fill", id="down-850", price=30))


def test_trade_units_are_converted_and_never_reinterpreted():
    at = opened(alone(Design(suspension=(SuspensionItem(good="cord-3", amount=4),)), units="trade"))
    goods = load_catalogue()
    shown = {key: float(at.text_input(key=key).value) for key in (f"{NYLON}price", f"{NYLON}areal_mass_g_m2")}
    assert shown[f"{NYLON}price"] == pytest.approx(
        goods.fabric("nylon-10d-26").price_per_m * 0.9144, abs=5e-4
    )
    assert shown[f"{NYLON}areal_mass_g_m2"] == pytest.approx(26 / 33.9057474749, abs=5e-3)
    labels = {box.key: box.label for box in at.text_input}
    assert labels[f"{NYLON}price"] == "Price a yard"
    assert labels[f"{DOWN}price"] == "Price an ounce"
    assert labels["lw-goods-hardware-cord-3-price"] == "Price a yard"
    type_in(at, f"{NYLON}price", "9.144")
    type_in(at, f"{DOWN}price", "10")
    numbers = {good.id: good.price for good in own(at)}
    assert numbers["nylon-10d-26"] == pytest.approx(10.0, rel=1e-9)
    # 10 an ounce, an ounce is 28.349523125 g: 35.274 per 100 g.
    assert numbers["down-850"] == pytest.approx(35.273962, rel=1e-6)


def test_a_typed_unit_wins_over_the_one_shown():
    at = type_in(opened(alone(Design())), f"{NYLON}price", "9.144 a yard")
    assert own(at)[0].price == pytest.approx(10.0, rel=1e-9)


def test_in_trade_units_the_shown_number_typed_again_changes_nothing():
    at = opened(alone(Design(), units="trade"))
    for key in boxes(at):
        type_in(at, key, at.text_input(key=key).value + " ")
    assert own(at) == ()


def test_the_currency_label_is_kept_as_text():
    at = type_in(opened(first_visit()), "lw-goods-currency", " <i>kr ")
    assert at.session_state["comparison"].currency == "<i>kr"


def test_undo_names_the_number_that_would_be_taken_back():
    at = type_in(opened(alone(Design())), f"{DOWN}price", "31.5")
    assert re.fullmatch(r"Undo: price of 850 fill-power down [\d.]+ → 31\.5", at.text[0].value)
