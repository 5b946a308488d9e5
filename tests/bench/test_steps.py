"""Is the order of work complete, in order, and true to how this very quilt is made?"""

import re

import pytest
from hypothesis import HealthCheck, given, settings

from engine.bench.care import care_of, label_of
from engine.bench.construction import construction_of
from engine.bench.job import Job
from engine.bench.steps import SIDE_BY_SIDE, STATIONS, steps_of, waited_for
from engine.design import Design
from engine.evaluate import evaluate
from engine.export import safety
from engine.night import Night
from engine.samples import samples
from tests.engine.made import ALL, CATALOGUE, FILM, FULL_SEWN, SEWN_THROUGH, SHEET, TOP, cautions, changed
from tests.engine.strategies import designs

SEWING = re.compile(r"\b(sew\w*|stitch\w*|seam\w*|needle\w*|thread\w*|bast\w*|bar-tack\w*|darn\w*)\b", re.I)
BONDING = re.compile(
    r"\b(tape[sd]?|taping|sealant\w*|seal|glue\w*|liner\w*|coupon\w*|solvent\w*|cure\w*|alcohol|bond\w*|peel\w*)\b",
    re.I,
)
BONDED = changed(changed(FILM, "joints.ends", "glued-fold"), "tabs", 0)
BONDED_TOP = changed(changed(BONDED, "kind", "top quilt"), "top.collar", True)
BONDED_LINES = changed(BONDED, "baffles.layout", "sewn-through")
BONDED_SHEET = changed(BONDED, "fill", SHEET.fill)
SEWN = (FULL_SEWN, SEWN_THROUGH, SHEET, TOP)
SUBJECTS = {one.subject for one in vars(safety).values() if isinstance(one, safety.Safety)}
ORDER = ["first cut", "second shell", "opening the down", "closing"]
WITH_DOWN, WITH_SHEET = ORDER, [stop for stop in ORDER if stop != "opening the down"]


def job(design: Design, night: Night | None = None, **rest) -> Job:
    return Job(evaluate(design, night or Night(), CATALOGUE), CATALOGUE, **rest)


def lines_in(steps):
    """Each line with its values put in: format fails on a name that has no value."""
    for step in steps:
        yield step.title
        if step.stop:
            yield step.stop.text.format_map({name: value for name, (value, _) in step.stop.values.items()})
        for line in step.lines:
            yield line.text.format_map({name: value for name, (value, _) in line.values.items()})


def words(steps) -> str:
    return "\n".join(lines_in(steps))


def holds(made: Job) -> None:
    """What must be true of the steps of any quilt."""
    steps, one = steps_of(made), made.one
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert len({step.key for step in steps}) == len(steps)
    assert all(step.lines and step.station in STATIONS for step in steps)
    assert [step.stop.id for step in steps if step.stop] == (WITH_DOWN if made.down else WITH_SHEET)
    text = words(steps)
    if made.construction.way == "bonded":
        assert not SEWING.search(text), SEWING.search(text)
    if made.construction.way == "sewn":
        assert not BONDING.search(text), BONDING.search(text)
    assert {subject for step in steps for subject in step.cautions} == {
        each.subject for each in safety.safety_of(one, CATALOGUE)
    }
    for step in steps:
        for point in step.weigh:
            assert point.low_kg <= point.high_kg and point.expected_kg > 0
    care = care_of(made.construction, made.down)
    if made.construction.bonded or made.construction.film_shells:
        assert not care.machine and "Never wash it in a machine" in care.washing[0].text
    else:
        assert care.machine


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_the_steps_of_a_sample_are_whole(sample):
    holds(job(sample.design, sample.night))


@pytest.mark.parametrize(
    "design", [*ALL, BONDED, BONDED_TOP, BONDED_LINES, BONDED_SHEET], ids=lambda design: design.name
)
def test_so_are_those_of_each_way_to_make_a_quilt(design):
    holds(job(design))


@given(designs)
@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow])
def test_so_are_those_of_any_quilt(design):
    holds(job(design))


def bonded_throughout(design: Design) -> Design:
    joints = design.joints.model_copy(
        update={"baffles": "tape-6", "edges": "glued-fold", "ends": "tape-12", "panel_joins": "tape-12"}
    )
    return design.model_copy(update={"joints": joints, "tabs": 0})


@given(designs.map(bonded_throughout))
@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])
def test_so_are_those_of_any_quilt_that_is_bonded_throughout(design):
    made = job(design)
    assert made.construction.way == "bonded"
    holds(made)


def test_the_three_ways_are_told_apart():
    ways = {construction_of(one, CATALOGUE, job(one).score).way for one in (BONDED, BONDED_TOP, BONDED_LINES)}
    assert ways == {"bonded"}
    assert {job(one).construction.way for one in SEWN} == {"sewn"}
    # Its tabs have stitched patches, and its ends are taped and stitched.
    assert job(FILM).construction.way == "mixed"


def test_the_checks_of_words_find_what_they_look_for():
    assert SEWING.search(words(steps_of(job(FULL_SEWN)))) and BONDING.search(words(steps_of(job(BONDED))))


def keys(design):
    return [step.key for step in steps_of(job(design))]


def test_trials_come_before_the_cut_and_the_tare_before_the_down():
    found = keys(FILM)
    wanted = [
        "table",
        "swatch",
        "coupon",
        "trial",
        "mark",
        "cut",
        "strips",
        "ends",
        "cure",
        "tare",
        "bags",
        "fill",
        "rest",
        "close",
        "loft",
        "label",
    ]
    assert [key for key in found if key in wanted] == wanted
    assert found.index("strips on") < found.index("mask") < found.index("second shell")
    assert "coupon" not in keys(FULL_SEWN) and "cure" not in keys(FULL_SEWN) and "mask" not in keys(FULL_SEWN)
    assert not {"tare", "bags", "fill", "rest", "close"} & set(keys(SHEET))


def step(design, key, **rest):
    return next(one for one in steps_of(job(design, **rest)) if one.key == key)


def test_weigh_points_are_the_scores_masses_with_their_bands():
    made = job(FULL_SEWN)
    tare = next(one for one in steps_of(made) if one.key == "tare").weigh[0]
    assert tare.banded and tare.expected_kg == pytest.approx(float(made.score.tare_kg))
    # Woven cloth weighs -3 to +12 % of its label (common practice): the band leans upwards.
    assert tare.low_kg < tare.expected_kg < tare.high_kg
    assert tare.high_kg - tare.expected_kg > tare.expected_kg - tare.low_kg
    closed = step(FULL_SEWN, "close").weigh[0]
    pad = float(made.score.weight_parts_kg["beyond the quilt"])
    assert closed.expected_kg == pytest.approx(float(made.score.weight_kg) - pad)
    first = step(FULL_SEWN, "fill").weigh[0]
    assert tare.expected_kg < first.expected_kg < closed.expected_kg
    cut = step(FULL_SEWN, "cut").weigh
    shells = {part.name: float(part.mass_kg) for part in made.score.bill.parts if part.group == "shells"}
    assert [point.expected_kg for point in cut] == pytest.approx(
        [shells["inner shell"], shells["outer shell"]]
    )


def test_the_fill_step_says_every_portion_and_they_add_up():
    made = job(FULL_SEWN, step_kg=1e-4)
    lines = [line for line in step(FULL_SEWN, "fill", step_kg=1e-4).lines if "zone" in line.values]
    assert len(lines) == len(made.fill.fills)
    assert sum(line.values["mass"][0] for line in lines) == pytest.approx(made.fill.first_kg)
    assert sum(line.values["whole"][0] for line in lines) == pytest.approx(made.fill.whole_kg)


def test_the_filling_port_is_where_the_layout_wants_it_and_opens_again():
    """25 to 30 cm at one end for short baffles, else each chamber's end: common practice, no source."""
    short = next(line for line in step(FILM, "ends").lines if "port" in line.text)
    assert (short.values["low"][0], short.values["high"][0]) == (0.25, 0.30)
    assert "each chamber's end" in words([step(FULL_SEWN, "ends")])
    crosswise = changed(TOP, "baffles.layout", "full, crosswise")
    assert "Each chamber's end on that side" in words([step(crosswise, "long edges")])
    assert "basting" in words([step(FULL_SEWN, "close")])
    assert "press-together closure" in words([step(BONDED, "close")])


def test_a_trial_square_has_a_side_of_30_cm_and_10_g_of_down():
    values = step(FULL_SEWN, "trial").lines[0].values
    assert (values["side"][0], values["down"][0]) == (0.3, 0.010)


def test_baffles_are_cut_wider_than_they_finish_by_two_allowances():
    """64 mm baffles are cut 84 to 90 mm wide: common practice, no source."""
    values = step(FILM, "strips").lines[0].values
    assert values["finished"][0] == pytest.approx(0.064) and 0.084 <= values["cut"][0] <= 0.090


def test_with_a_differential_cut_the_lines_lie_at_other_places_on_the_outer():
    assert "other places" in words([step(FULL_SEWN, "mark")])
    assert "same places" in words([step(changed(FULL_SEWN, "cut.kind", "flat"), "mark")])


def test_squeezing_stops_where_shut_in_air_would_pull_the_baffles_off():
    assert "Stop when it goes hard" in words([step(FILM, "pack")])
    assert "Stop when it goes hard" not in words([step(FULL_SEWN, "pack")])
    # The step and the warning name one limit; a forearm presses by 1 kPa.
    values = next(line.values for line in step(FILM, "pack").lines if "limit" in line.values)
    (warning,) = [c for c in cautions(FILM) if c.code == "stuffing tears the baffles loose"]
    assert values["limit"] == warning.values["limit"]
    assert values["limit"][0] == pytest.approx(1000 * values["times"][0])
    sealed = changed(FILM, "end_panels.fitted", False)
    assert "No air leaves it" in words([step(sealed, "pack")])


def test_a_label_says_what_everyone_wants_to_know_two_years_later():
    made = job(FULL_SEWN)
    label = [line.text.format_map({name: value for name, (value, _) in line.values.items()})
             for line in label_of(made.one, CATALOGUE, code="7F3A", day="2026-11-03")]  # fmt: skip
    for wanted in ("Untitled quilt", "2026-11-03", "ripstop nylon", "850 fill-power", "tare", "port", "7F3A"):
        assert any(wanted in line for line in label), wanted
    assert not any("port" in line.text for line in label_of(job(SHEET).one, CATALOGUE))


def test_subjects_of_cautions_are_those_of_the_sheet():
    assert {"Cold", "Fire", "Hot knife", "Solvent", "Film", "Hanging"} == SUBJECTS


def test_on_a_day_together_two_things_are_waited_for():
    assert set(SIDE_BY_SIDE) <= set(STATIONS)
    assert waited_for(job(FULL_SEWN).construction) == ("the scale", "the sewing machine")
    assert waited_for(job(BONDED).construction) == ("the scale", "the long table")


def test_strips_are_as_long_in_the_step_as_in_the_cut_list_and_trapezoids_by_both_edges():
    """By hand, FILM: end panels 1120 inside, 1120 + 2 × 64 outside, 13 mm on all round.

    The slanting ends carry on for 13 mm beyond each seam line: 13 × 128 / 64 = 26 mm.
    """
    lines = step(FILM, "strips").lines
    panel = next(line for line in lines if line.values.get("piece", ("",))[0] == "end panel")
    assert "trapezoid" in panel.text and panel.values["count"][0] == 2
    assert panel.values["inner"][0] == pytest.approx(1.120 - 0.026 + 2 * 0.013)
    assert panel.values["outer"][0] == pytest.approx(1.248 + 0.026 + 2 * 0.013)
    assert panel.values["cut"][0] == pytest.approx(0.064 + 2 * 0.013)
    flat = changed(changed(FULL_SEWN, "cut.kind", "flat"), "baffles.layout", "full, crosswise")
    baffles = [line for line in step(flat, "strips").lines if "piece" in line.values]
    assert baffles and not any("trapezoid" in line.text for line in baffles)


def test_strips_are_cut_before_raw_edges_are_seared():
    """Common practice, no source: raw edges of strips ravel as those of shells do."""
    seared = next(one for one in (*SEWN, *ALL) if {"sear", "strips"} <= set(keys(one)))
    found = keys(seared)
    assert found.index("cut") < found.index("strips") < found.index("sear")


def test_a_shiny_side_is_spoken_of_only_where_cloth_is_calendered():
    """A calender presses one face of woven cloth shiny; film is no cloth: definition."""
    plain = changed(FULL_SEWN, "shells.inner", "film-17")
    for design in (FULL_SEWN, FILM, changed(plain, "shells.outer", "film-17")):
        shells = (design.shells.inner, design.shells.outer)
        kinds = {CATALOGUE.fabric(id).construction for id in shells}
        told = words([step(design, "mark")])
        assert ("shiny" in told) == ("calendered ripstop" in kinds)
        taped = job(design).construction.taped
        assert ("side that the tape was tried on" in told) == ("laminate film" in kinds and taped)


def test_a_few_seconds_are_not_about_a_few_seconds():
    told = next(line for line in step(FULL_SEWN, "pack").lines if "seconds" in line.values)
    assert "about" not in told.text
