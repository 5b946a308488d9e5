"""Does each warning come when it should, stay away when it should, and say how to be rid of it?"""

from string import Formatter

import pytest
from hypothesis import given, settings

from engine.cautions.caution import Grade, ValueKind
from engine.design import Joints
from engine.night import Beyond, Night, Sleeper
from engine.quantities import resolve
from tests.engine.made import (
    ALL,
    CATALOGUE,
    FILM,
    FULL_SEWN,
    PUPIL,
    SEWN_THROUGH,
    SHEET,
    TOP,
    cautions,
    changed,
    scored,
    with_grams,
)
from tests.engine.strategies import designs, nights

MILD = Night(air_c=10)
COLD = Night(air_c=-20)


def made(design, **changes):
    """The design with fields changed; a dot in a path is written as two underscores."""
    for path, value in changes.items():
        design = changed(design, path.replace("__", "."), value)
    return design


TAPED = {"baffles": "tape-6", "edges": "tape-12", "ends": "tape-12", "panel_joins": "tape-12"}
TAPED_FILM = made(FILM, joints=Joints(**TAPED, raw_edges=None).model_dump())

# A code, the design and night that bring it, and a sound design of the same sort that does not.
CASES = [
    ("shell not downproof", made(FULL_SEWN, shells__inner="ripstop-38"), MILD, FULL_SEWN),
    ("shell not downproof", made(FULL_SEWN, shells__outer="ripstop-30"), MILD, SHEET),
    (
        "bond on a surface that refuses tape",
        made(TAPED_FILM, shells__outer="nylon-coated-20d-44"),
        MILD,
        TAPED_FILM,
    ),
    ("tape needs a stitch too", made(FULL_SEWN, joints__edges="tape-12"), MILD, FULL_SEWN),
    ("peel-loaded joint without stitch", made(FILM, joints__edges="tape-12"), MILD, FILM),
    ("peel-loaded joint without stitch", made(FILM, joints__ends="tape-12"), MILD, FILM),
    ("too narrow for the sleeper", made(FULL_SEWN, outline__width_mm=900.0), MILD, FULL_SEWN),
    (
        "too narrow for the sleeper",
        made(TOP, outline__width_mm=1050.0),
        MILD,
        TOP,
    ),
    ("too short for the sleeper", PUPIL, MILD, FULL_SEWN),
    ("too short for the sleeper", made(TOP, outline__length_mm=1600.0), MILD, TOP),
    (
        "crosswise baffles alone in an underquilt",
        made(FULL_SEWN, baffles__layout="full, crosswise"),
        MILD,
        FULL_SEWN,
    ),
    ("no baffles", made(FULL_SEWN, baffles__layout="none"), MILD, SHEET),
    ("spacing out of proportion", made(FULL_SEWN, baffles__spacing_mm=140.0), MILD, FULL_SEWN),
    ("spacing out of proportion", made(FULL_SEWN, baffles__spacing_mm=80.0), MILD, FULL_SEWN),
    ("spacing out of proportion", made(FULL_SEWN, baffles__height_mm=300.0), MILD, FULL_SEWN),
    (
        "too much down for sewn-through",
        made(SEWN_THROUGH, fill__overstuff_percent=60.0),
        MILD,
        SEWN_THROUGH,
    ),
    ("understuffed chambers", made(FULL_SEWN, fill__overstuff_percent=-20.0), MILD, FULL_SEWN),
    ("understuffed chambers", with_grams(FULL_SEWN, 120), MILD, with_grams(FULL_SEWN, 230)),
    ("understuffed chambers", with_grams(FULL_SEWN, 0), MILD, with_grams(FULL_SEWN, 230)),
    ("overstuffed chambers", made(FULL_SEWN, fill__overstuff_percent=100.0), MILD, FULL_SEWN),
    (
        "fill density out of the model's range",
        made(
            FULL_SEWN,
            fill__overstuff_percent=150.0,
            baffles__height_mm=10.0,
            fill__rule="grams",
            fill__grams=1500.0,
        ),
        MILD,
        FULL_SEWN,
    ),
    ("airtight shell without a vent", made(FILM, end_panels__fitted=False), MILD, FILM),
    (
        "airtight shell without a vent",
        made(SEWN_THROUGH, shells__inner="film-17", shells__outer="film-17"),
        MILD,
        SEWN_THROUGH,
    ),
    ("stuffing tears the baffles loose", FILM, MILD, made(FILM, joints__baffles="tape-12-stitch")),
    (
        "stuffing tears the baffles loose",
        made(FILM, end_panels__fitted=False),
        MILD,
        made(FILM, shells__outer="nylon-10d-26"),
    ),
    (
        "film face that traps moisture",
        made(FULL_SEWN, shells__outer="film-26"),
        MILD,
        made(FULL_SEWN, shells__inner="film-26"),
    ),
    ("film towards the sleeper", made(FULL_SEWN, shells__inner="film-26"), MILD, FULL_SEWN),
    ("rating above the night's temperature", FULL_SEWN, COLD, None),
    (
        "rated colder than the cover elsewhere",
        FULL_SEWN,
        Night(air_c=10, other_half="own R", other_half_r_m2k_w=0.3),
        None,
    ),
    ("nothing where the quilt does not reach", PUPIL, Night(air_c=10, beyond=Beyond(r_m2k_w=0)), FULL_SEWN),
    ("film needs no searing", made(FILM, joints__raw_edges="seared-edge"), MILD, FILM),
    ("raw edges fray", made(FULL_SEWN, joints__raw_edges=None), MILD, FULL_SEWN),
    ("no suspension", made(FULL_SEWN, suspension=()), MILD, FULL_SEWN),
    ("tabs on film", FILM, MILD, made(FILM, tabs=0)),
]
IDS = [f"{code}, {design.name}, {index}" for index, (code, design, _, _) in enumerate(CASES)]


def codes(design, night=MILD):
    return {caution.code for caution in cautions(design, night)}


@pytest.mark.parametrize("code, bad, night, good", CASES, ids=IDS)
def test_a_warning_comes_with_its_fault_and_stays_away_without(code, bad, night, good):
    assert code in codes(bad, night)
    # What depends on the night alone is absent on a mild night with a matched other half.
    assert code not in codes(good or bad, night if good else MILD)


@pytest.mark.parametrize("code, bad, night, good", CASES, ids=IDS)
def test_the_change_that_a_warning_offers_removes_it(code, bad, night, good):
    for caution in cautions(bad, night):
        if caution.code == code and caution.change:
            mended = bad
            for path, value in caution.change.items():
                mended = changed(mended, path, value)
            left = [c for c in cautions(mended, night) if c.code == code and c.where == caution.where]
            assert not left


def test_every_fault_that_has_one_remedy_offers_it():
    offered = {c.code for code, bad, night, _ in CASES for c in cautions(bad, night) if c.change}
    # These ask for a judgement, lie in the night, or only inform.
    without = {
        "too much down for sewn-through",
        "overstuffed chambers",
        "fill density out of the model's range",
        "film towards the sleeper",
        "rating above the night's temperature",
        "rated colder than the cover elsewhere",
        "nothing where the quilt does not reach",
        "no suspension",
        "tabs on film",
    }
    assert {code for code, *_ in CASES} - without == offered


@settings(max_examples=150)
@given(designs, nights)
def test_every_warning_is_whole_and_every_change_is_allowed(design, night):
    found = cautions(design, night)
    for caution in found:
        assert caution.grade in Grade.__args__
        named = {name for text in (caution.what, caution.remedy) for _, name, _, _ in Formatter().parse(text)}
        assert named - {None} <= set(caution.values), caution.code
        assert all(kind in ValueKind.__args__ for _, kind in caution.values.values())
        for path, value in caution.change.items():
            changed(design, path, value)  # refused, it would raise
    order = ["stop", "mind", "note"]
    assert [c.grade for c in found] == sorted((c.grade for c in found), key=order.index)


@settings(max_examples=100)
@given(designs, nights)
def test_a_change_mends_any_design_that_it_is_offered_for(design, night):
    """Size aside: a quilt may need several turns to grow, as its chambers and draw-in change with it."""
    for caution in cautions(design, night):
        if not caution.change or caution.code.startswith("too "):
            continue
        mended = design
        for path, value in caution.change.items():
            mended = changed(mended, path, value)
        left = [(c.code, c.where) for c in cautions(mended, night)]
        assert (caution.code, caution.where) not in left


@pytest.mark.parametrize("design", [FULL_SEWN, FILM, SHEET, SEWN_THROUGH, TOP], ids=lambda d: d.name)
def test_a_sound_design_has_nothing_to_stop_or_to_mind(design):
    warm = Night(air_c=20)
    # Thin tape on film holds less than stuffing can pull at, and that is to be minded, not mended.
    minded = {c.code for c in cautions(design, warm) if c.grade != "note"}
    assert minded == ({"stuffing tears the baffles loose"} if design is FILM else set())


def test_a_quilt_that_stuffing_can_tear_is_told_how_hard_it_may_be_pressed():
    """Worked apart: tape of 330 N/m (from memory) on short baffles that carry their own area of quilt."""
    (warning,) = [c for c in cautions(FILM) if c.code == "stuffing tears the baffles loose"]
    result = scored(FILM, MILD)
    tributary_m = float(result.loft.finished_area_m2) / (
        float(resolve(FILM, MILD, CATALOGUE).baffle_count) * 0.150
    )
    assert warning.values["limit"][0] == pytest.approx(330 / tributary_m)
    # A forearm on the quilt presses by 1 kPa.
    assert warning.values["times"][0] == pytest.approx(330 / tributary_m / 1000)
    assert warning.change == {"joints.baffles": "tape-12-stitch"}
    assert warning.values["way_out"][0] == "the vents"
    # By hand: 330 N/m over 0.12 m is 2.8 kPa, a sewn seam's 2500 is 21; a push into the sack is 5.
    close = made(FILM, baffles__layout="full, lengthwise", baffles__spacing_mm=120.0, baffles__height_mm=55.0)
    assert "stuffing tears the baffles loose" in codes(close)
    assert "stuffing tears the baffles loose" not in codes(made(close, joints__baffles="sewn-seam"))


@pytest.mark.parametrize(
    "ratio, warned", [(1.75, True), (1.8, False), (2.2, False), (2.5, False), (2.55, True)]
)
def test_chambers_are_in_proportion_from_1_8_to_2_5_times_the_height(ratio, warned):
    # Common practice, no source.
    design = made(FULL_SEWN, baffles__height_mm=60.0, baffles__spacing_mm=60 * ratio)
    assert ("spacing out of proportion" in codes(design)) is warned


def test_low_baffles_are_not_told_to_take_chambers_below_100_mm_or_wider_ones():
    # Common practice, no source: spacing not below 100 mm. 20 mm baffles in chambers of 80 mm are wide
    # for their height, and there is no sound advice to be had in this field.
    assert "spacing out of proportion" not in codes(
        made(FULL_SEWN, baffles__height_mm=20.0, baffles__spacing_mm=80.0)
    )


def test_a_size_that_no_shell_is_cut_to_is_not_offered():
    # High short baffles cost so much cloth that the quilt draws in by a twelfth along: for 2.4 m finished
    # it would be cut longer than the 2.6 m that an outline takes.
    drawn_in = made(TOP, baffles__layout="staggered", baffles__height_mm=300.0, cut__kind="flat")
    drawn_in = made(drawn_in, baffles__gap_mm=40.0, baffles__piece_length_mm=60.0)
    tall = Night(air_c=10, sleeper=Sleeper(kind="own", height_mm=2200, girth_mm=1300))
    (warning,) = [c for c in cautions(drawn_in, tall) if c.code == "too short for the sleeper"]
    assert warning.change == {}


def test_a_cold_night_that_even_the_limit_does_not_reach_is_said_so():
    (warning,) = [c for c in cautions(FULL_SEWN, COLD) if c.code == "rating above the night's temperature"]
    assert "{limit}" in warning.what and "is above it too" in warning.what


@pytest.mark.parametrize("below, told", [(0.4, "just above it: do not"), (1.6, "above it too: do not")])
def test_a_limit_that_may_read_the_same_as_the_night_is_said_to_be_just_above_it(below, told):
    def rating(night):
        (found,) = [c for c in cautions(FULL_SEWN, night) if c.code == "rating above the night's temperature"]
        return found

    near = COLD.model_copy(update={"air_c": rating(COLD).values["limit"][0] - below})
    warning = rating(near)
    assert warning.values["limit"][0] - near.air_c == pytest.approx(below, abs=0.2)
    assert told in warning.what and "night is {air}." in warning.what


def test_the_size_that_is_asked_for_is_enough():
    tall = Night(air_c=10, sleeper=Sleeper(kind="own", height_mm=1950, girth_mm=1300))
    for design in ALL:
        for _ in range(2):
            for caution in cautions(design, tall):
                if caution.code.startswith("too narrow") or caution.code.startswith("too short"):
                    for path, value in caution.change.items():
                        design = changed(design, path, value)
        assert not {c for c in codes(design, tall) if c.startswith(("too narrow", "too short"))}


def test_a_cut_that_does_not_let_the_baffles_stand_is_told_what_it_draws_in():
    flat = made(FILM, baffles__height_mm=160.0, cut__kind="flat")
    (warning,) = [c for c in cautions(flat) if c.code == "cut too small for the baffles"]
    drawn, allowed = warning.values["drawn"][0], warning.values["allowed"][0]
    assert drawn > allowed == pytest.approx(2.0), "staggered 1 to 3 %: common practice, no source"
    assert "cut too small for the baffles" not in codes(FILM)


def test_chambers_that_the_loft_map_cannot_resolve_are_noted_and_still_scored():
    narrow = made(FULL_SEWN, baffles__spacing_mm=40.0, baffles__end_chamber_percent=40.0)
    narrow = made(narrow, outline__width_mm=2000.0, outline__length_mm=2600.0)
    assert "chambers narrower than the loft map resolves" in codes(narrow)
    assert "chambers narrower than the loft map resolves" not in codes(FULL_SEWN)


def test_baffles_round_sheet_insulation_are_told_to_go():
    (warning,) = [
        c
        for c in cautions(made(SHEET, baffles__layout="full, lengthwise"))
        if c.code == "baffles in a quilt of sheet insulation"
    ]
    assert warning.change == {"baffles.layout": "none"}
    assert "baffles in a quilt of sheet insulation" not in codes(SHEET)


def test_cords_left_on_a_top_quilt_are_noted():
    assert "suspension on a top quilt" in codes(made(FULL_SEWN, kind="top quilt"))
    assert "suspension on a top quilt" not in codes(FULL_SEWN)


def test_what_helps_a_quilt_that_is_too_cold_fits_its_make_and_its_night():
    def help_of(design, night=COLD):
        (found,) = [c for c in cautions(design, night) if c.code == "rating above the night's temperature"]
        return found.remedy

    assert "layer" in help_of(SHEET) and "baffles" not in help_of(SHEET)
    loose = COLD.model_copy(update={"fit": "daylight at the ends"})
    assert help_of(FULL_SEWN, loose).startswith("Hang it snug first") and "snug" not in help_of(FULL_SEWN)
