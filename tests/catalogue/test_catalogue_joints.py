"""Whether joints and hardware weigh, take and hold what the trade reckons with, and serve a design.

What is marked "common practice" below has no source.
"""

import pytest

from engine.catalogue.load import load_catalogue, role_ids
from engine.design import Design, Joints

GOODS = load_catalogue()


@pytest.mark.parametrize("id, width_m", [("tape-6", 0.006), ("tape-12", 0.012)])
def test_tape_weighs_what_its_adhesive_weighs(id, width_m):
    """Adhesive of 50 to 150 g/m² (0.05 mm transfer to 0.13 mm double-coated), common practice, no source."""
    assert 50 * width_m <= GOODS.joint(id).mass_g_m <= 150 * width_m


@pytest.mark.parametrize("joint", GOODS.joints.values(), ids=lambda good: good.id)
def test_a_joint_weighs_what_its_tape_thread_and_sealant_weigh(joint):
    """Tape 0.6 or 1.3 g/m, thread 0.03 g/m, sealant 0.55 g dry in a mL: common practice, no source."""
    tape_g_m = {6: 0.6, 12: 1.3, 16: 1.3}.get(joint.width_mm, 0)
    by_hand = joint.tape_m_per_m * tape_g_m + joint.thread_m_per_m * 0.03 + joint.sealant_ml_per_m * 0.55
    assert joint.mass_g_m == pytest.approx(by_hand, abs=0.005)


def test_a_taped_staggered_baffle_takes_eleven_minutes_over_both_shells():
    """A piece of 150 mm takes 11 min, 8 to 15; common practice, no source."""
    tape = GOODS.joint("tape-6")
    assert 2 * (tape.minutes_per_piece + 0.150 * tape.minutes_per_m) == pytest.approx(11)


def test_seams_are_sewn_at_the_rates_of_the_bench():
    """Baffles 20 and edges 10 m an hour, edge tape 15, sealed fold 12 min/m: common practice, no source."""
    assert GOODS.joint("sewn-seam").minutes_per_m == 60 / 20
    assert GOODS.joint("sewn-double").minutes_per_m == 60 / 10
    assert GOODS.joint("tape-12").minutes_per_m == 15
    assert GOODS.joint("glued-fold").minutes_per_m == 12


def test_joints_hold_what_was_measured_on_such_joints():
    """Shear of a taped lap 2,200 and 3,950 N/m: CCMC technical guide 07 25 20, a sheathing tape.

    Peel of thin double-sided tape 200 to 800 N/m, a sewn baffle 1,500 to 4,000 N/m: memory.
    """
    assert 2200 <= GOODS.joint("tape-12").shear_n_m <= 3950
    assert 200 <= GOODS.joint("tape-6").peel_n_m <= 800
    assert 1500 <= GOODS.joint("sewn-seam").peel_n_m <= 4000


def test_a_tube_of_sealant_reaches_six_to_nine_metres():
    """Common practice, no source."""
    glue = GOODS.joint("glued-fold")
    assert 6 <= glue.pack_m <= 9
    assert glue.pack_m * glue.sealant_ml_per_m in (28, 30)
    assert glue.solvent


def test_only_the_seared_edge_is_hot():
    assert [joint.id for joint in GOODS.joints.values() if joint.hot] == ["seared-edge"]


def test_suspension_and_neck_closure_weigh_what_makers_weigh():
    """Underquilt suspension 35 to 70 g in all, neck closure 6 to 10 g: common practice, no source."""
    grams = {id: good.mass_g for id, good in GOODS.hardware.items()}
    underquilt = (
        5 * grams["cord-3"]
        + 2 * 1.2 * grams["cord-2.5"]
        + 4 * grams["hook"]
        + 4 * grams["cord-lock"]
        + 6 * grams["side-tab"]
    )
    assert 35 <= underquilt <= 70
    assert 6 <= 1.2 * grams["cord-2"] + grams["cord-lock"] + grams["snap"] <= 10
    assert 20 <= grams["strap-set"] <= 35


def chosen_goods():
    """Every field of a design that names a good, with its default and its hint."""
    design = Design()
    for part in (design.shells, design.baffles, design.end_panels, design.joints, design.fill):
        for name, field in type(part).model_fields.items():
            extra = field.json_schema_extra
            if isinstance(extra, dict) and extra.get("goods"):
                yield name, getattr(part, name), extra["goods"]


def test_every_good_that_a_new_design_names_is_in_its_list():
    found = list(chosen_goods())
    assert len(found) == 10
    for name, id, hint in found:
        assert id in role_ids(GOODS, hint), name


def test_the_outer_shell_of_a_new_quilt_comes_off_one_width_of_film():
    """1,120 mm inner, 2 rad, 50 mm baffles: outer 1,220 mm by hand; differential cut, common practice."""
    design, film = Design(), GOODS.fabric("film-17")
    outer_mm = design.outline.width_mm + design.cut.wrap_across_rad * design.baffles.height_mm
    assert outer_mm == 1220
    assert outer_mm < film.roll_width_mm - 2 * film.selvedge_mm


def test_each_joint_class_of_a_design_can_be_joined_on_film_and_on_cloth():
    for name in Joints.model_fields:
        methods = [GOODS.joint(id) for id in role_ids(GOODS, f"joint:{name.replace('_', ' ')}")]
        if name == "raw_edges":
            assert [method.id for method in methods] == ["seared-edge"]
        else:
            assert any(method.tape_m_per_m > 0 for method in methods)
            assert any(method.kind in ("sewn", "cord channel") for method in methods)
