"""The drawings of Close-up: what is drawn, at which scale, in which words; and two beside each other."""

import re
from functools import cache
from html import unescape
from itertools import pairwise
from math import inf
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.close_up_figures import plan_figure, plan_scale
from dashboard.close_up_parts import heat_html
from dashboard.palette import GROUND, LOFT_STEPS, TEXT
from dashboard.picture_why import why_drift, why_plan, why_section, why_sure
from dashboard.picture_words import (
    drift_sentence,
    fullness_sentence,
    key_html,
    loft_sentence,
    plan_alternative,
    section_alternative,
    section_sentence,
    spot_words,
    spots_html,
)
from dashboard.section_figures import section_figure, section_scale
from dashboard.sureness import sure_html, sure_sentence
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.design import Baffles, Design, Filling, Outline
from engine.evaluate import Evaluation, evaluate, evaluate_all
from engine.export.link import encode_link
from engine.fields.drift import Drift
from engine.night import Night
from engine.picture.cold_spots import ColdSpot, cold_spots
from engine.picture.drift import drift_of
from engine.picture.plan import thickness_plan
from engine.picture.section import section_of
from engine.samples import samples

APP = Path(__file__).resolve().parents[2] / "dashboard" / "app.py"
FULL = Design(baffles=Baffles(layout="full, lengthwise", height_mm=64, spacing_mm=140))
SEWN = Design(
    outline=Outline(length_mm=1500, width_mm=1000), baffles=Baffles(layout="sewn-through", spacing_mm=120)
)
TOP = Design(kind="top quilt")
SHEET = Design(baffles=Baffles(layout="none"), fill=Filling(good="sheet-133", quilting_mm=500))


@cache
def evaluated(design: Design) -> Evaluation:
    return evaluate(design, Night(air_c=-5), load_catalogue())


@cache
def pictures(design: Design):
    e = evaluated(design)
    plan = thickness_plan(design, e.score.loft)
    return plan, cold_spots(plan), section_of(e.quantities, e.score.loft)


def plan_of(design, *others, units="metric", scheme="light"):
    plan, spots, _ = pictures(design)
    return plan_figure(
        plan, spots, plan_scale([plan, *(pictures(o)[0] for o in others)], units), units, scheme
    )


def section_drawn(design, *others, units="metric", scheme="light", body_above=True):
    section = pictures(design)[2]
    scale = section_scale([section, *(pictures(o)[2] for o in others)], units)
    return section_figure(section, scale, units, body_above, scheme)


def trace(figure, name):
    return next(each for each in figure.data if each.name == name)


def notes(figure):
    return [note.text for note in figure.layout.annotations]


def spread(axis):
    return abs(axis.range[1] - axis.range[0])


def text(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).replace("\u00a0", " ").split())


@pytest.mark.parametrize("design", [FULL, SEWN, SHEET], ids=["full", "sewn", "sheet"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_drawing_catches_a_finger_and_all_stand_on_the_ground_of_the_page(design, scheme):
    for figure in (plan_of(design, scheme=scheme), section_drawn(design, scheme=scheme)):
        assert figure.layout.dragmode is False and figure.layout.hovermode is False
        assert figure.layout.xaxis.fixedrange and figure.layout.yaxis.fixedrange
        assert figure.layout.paper_bgcolor == figure.layout.plot_bgcolor == GROUND.on(scheme)
        assert figure.layout.font.color == TEXT.on(scheme)
        assert all(each.font.size >= 12 for each in figure.layout.annotations)


@pytest.mark.parametrize("design", [FULL, SEWN, TOP, SHEET], ids=["full", "sewn", "top", "sheet"])
def test_a_millimetre_is_as_long_across_as_along(design):
    for figure in (plan_of(design), section_drawn(design)):
        layout = figure.layout
        across, along = layout.width / spread(layout.xaxis), layout.height / spread(layout.yaxis)
        assert across == pytest.approx(along)
        assert layout.margin.l == layout.margin.r == layout.margin.t == layout.margin.b == 0


def test_the_head_is_on_top():
    axis = plan_of(FULL).layout.yaxis
    assert axis.range[0] > axis.range[1]  # along grows downwards
    head = next(note for note in plan_of(FULL).layout.annotations if "HEAD" in note.text)
    foot = next(note for note in plan_of(FULL).layout.annotations if "FOOT" in note.text)
    assert head.y < 0 < pictures(FULL)[0].outline.length_m < foot.y


def test_two_beside_each_other_share_scale_and_colours():
    one, other = plan_of(FULL, SEWN), plan_of(SEWN, FULL)
    for each in (one, other):
        # As many metres to the same pixels, and no part of either is cut off.
        assert (each.layout.width, each.layout.height) == (one.layout.width, one.layout.height)
        assert spread(each.layout.xaxis) == pytest.approx(spread(one.layout.xaxis))
        assert spread(each.layout.yaxis) > 1.9 and spread(each.layout.xaxis) > 1.0
    assert trace(one, "thickness").contours == trace(other, "thickness").contours
    assert trace(one, "thickness").colorscale == trace(other, "thickness").colorscale
    one, other = section_drawn(FULL, SEWN), section_drawn(SEWN, FULL)
    assert spread(one.layout.xaxis) == pytest.approx(spread(other.layout.xaxis))
    assert spread(one.layout.yaxis) == pytest.approx(spread(other.layout.yaxis))


def test_colours_run_in_even_steps_over_what_lies_under_the_sleeper():
    for design in (FULL, SEWN, SHEET):
        plan, spots, _ = pictures(design)
        scale = plan_scale([plan], "metric")
        gaps = [high - low for low, high in pairwise(scale.levels_m)]
        assert gaps == pytest.approx([scale.step_m] * (len(LOFT_STEPS) - 2))
        # The thinnest place has one of the two palest colours, and none is beyond the darkest.
        assert spots[0].thickness_m < scale.levels_m[1]
        assert (
            plan.thickness_m[plan.thickness_m == plan.thickness_m].max() <= scale.levels_m[-1] + scale.step_m
        )
        contours = trace(plan_of(design), "thickness").contours
        drawn = [contours.start + n * contours.size for n in range(len(LOFT_STEPS) - 1)]
        assert drawn == pytest.approx(list(scale.levels_m)) and contours.end < drawn[-1] + contours.size


def test_contour_lines_carry_numbers_in_the_units_of_the_page():
    assert any(re.fullmatch(r"\d+\u00a0mm", note) for note in notes(plan_of(FULL)))
    trade = notes(plan_of(FULL, units="trade"))
    assert any(note.endswith("\u00a0in") for note in trade)
    assert not any(note.endswith("mm") for note in trade)
    isotherms = [note for note in notes(section_drawn(FULL)) if re.fullmatch(r"\u2212?\d+\u00a0°C", note)]
    assert len(isotherms) >= 4
    trade = notes(section_drawn(FULL, units="trade"))
    assert any(re.fullmatch(r"\d+\u00a0°F", note) for note in trade)
    assert not any("°C" in note for note in trade)


def test_every_baffle_is_a_line_seams_are_dashed_and_spots_are_numbered():
    plan, spots, _ = pictures(FULL)
    figure = plan_of(FULL)
    drawn = [x for x in trace(figure, "baffles").x if x is not None]
    assert drawn == [x for x0, _, x1, _ in plan.baffles for x in (x0, x1)]
    assert trace(plan_of(SEWN), "sewn lines").line.dash == "dash"
    assert not [x for x in trace(plan_of(SEWN), "baffles").x or () if x is not None]
    for number, spot in enumerate(spots, start=1):
        mark = trace(figure, f"cold spot {number}")
        assert list(zip(mark.x, mark.y, strict=True)) == list(spot.places_m)
        assert set(mark.text) == {f"<b>{number}</b>"}


def test_the_body_lies_above_an_underquilt_and_below_a_top_quilt():
    above, below = section_drawn(FULL, body_above=True), section_drawn(TOP, body_above=False)
    assert above.layout.yaxis.range[0] > above.layout.yaxis.range[1]
    assert below.layout.yaxis.range[0] < below.layout.yaxis.range[1]
    for figure, first in ((above, "skin"), (below, "air")):
        top = next(note for note in figure.layout.annotations if note.yref == "paper" and note.y == 1)
        assert top.text.startswith(first)


def test_baffles_are_drawn_from_face_to_face_and_seams_as_crosses():
    assert trace(section_drawn(FULL), "baffles").mode == "lines"
    assert trace(section_drawn(SEWN), "seams").mode == "markers"


def spot(**changes) -> ColdSpot:
    plain = {
        "kind": "at a baffle's open end", "places_m": ((0.3, 0.43),), "off_middle_m": -0.25,
        "from_head_m": 0.43, "both_sides": False, "both_ends": False, "all_along": False,
        "crosswise": False, "thickness_m": 0.048, "share_of_mean": 0.75,
    }  # fmt: skip
    return ColdSpot(**(plain | changes))


@pytest.mark.parametrize(
    "changes, words",
    [
        ({}, "250 mm left of the middle, 430 mm from the head, at a baffle's open end"),
        ({"off_middle_m": 0.25}, "250 mm right of the middle, 430 mm from the head, at a baffle's open end"),
        (
            {"both_sides": True, "off_middle_m": 0.25, "both_ends": True, "kind": "between baffles"},
            "250 mm left and right of the middle, 430 mm from the head and from the foot, between baffles",
        ),
        ({"kind": "along the seam", "all_along": True, "off_middle_m": 0.0}, "along the seam, in the middle"),
        (
            {"kind": "along a baffle", "all_along": True, "crosswise": True},
            "along a baffle, 430 mm from the head",
        ),
    ],
)
def test_a_cold_spot_is_named_by_its_place(changes, words):
    assert spot_words(spot(**changes), "metric").replace("\u00a0", " ") == words


def test_the_sentence_of_the_loft_holds_the_answer():
    plan, spots, _ = pictures(FULL)
    told = loft_sentence("B", plan, spots, "metric").replace("\u00a0", " ")
    mean, share = round(1000 * plan.mean_m), round(100 * 0.064 / plan.mean_m)
    assert told.startswith(f"B stands {mean} mm high on average")
    assert told.endswith(f"it is thinnest along the baffles: 64 mm, {share} % of the mean.")
    assert "closed to nothing along the seams" in loft_sentence("B", *pictures(SEWN)[:2], "metric")
    assert "no place is thinner" in loft_sentence("B", plan, (), "metric")


def test_what_is_drawn_is_also_told():
    plan, spots, section = pictures(FULL)
    told = plan_alternative("A", plan, spots, "metric").replace("\u00a0", " ")
    assert f"{len(plan.baffles)} baffles" in told and told.count("; ") == len(spots) - 1
    rows = text(spots_html("A", spots, "metric"))
    assert all(text(spot_words(each, "metric")) in rows for each in spots)
    levels = section_scale([section], "metric").levels_c
    assert "10 °C" in section_alternative("A", section, levels, "metric").replace("\u00a0", " ")
    key = text(key_html(plan_scale([plan], "metric"), "metric"))
    assert key.startswith("under ") and " over " in key


def test_the_sentence_of_the_section_says_thick_thin_and_how_warm():
    told = section_sentence("A", pictures(SEWN)[2], "metric").replace("\u00a0", " ")
    assert "in air of \u22125 °C" in told and "0 mm where the faces meet" in told
    assert re.search(r"\d+ % more heat goes than straight across", told)


@pytest.mark.parametrize(
    "index, words",
    [
        (None, "sheet insulation: it does not wander"),
        (Drift(1.0, 2.4, 0.01), "moves 2.4 times harder across than along"),
        (Drift(3.0, 1.0, 0.01), "moves 3 times harder along than across"),
        (Drift(1.0, 10.2, 0.01), "across 10 times harder than without baffles"),
        (Drift(1.0, inf, 0.01), "cannot move across; along it moves as freely as without baffles"),
        (Drift(inf, 1.0, 0.01), "cannot move along"),
        (Drift(inf, inf, 0.01), "cannot leave its chamber"),
        (Drift(1.0, 1.0, 0.01), "moves as hard across as along"),
    ],
)
def test_drift_words(index, words):
    assert words in drift_sentence("A", index).replace("\u00a0", " ")


def test_loose_fill_is_said_to_wander():
    assert "loose fill wanders" in fullness_sentence(-10.0)
    assert "90" in fullness_sentence(-10.0)
    assert "overstuffed" in fullness_sentence(25.0) and fullness_sentence(None) == ""


@pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)
def test_every_drawing_has_its_why_with_source_and_what_it_leaves_out(sample):
    e = evaluate(sample.design, sample.night, load_catalogue())
    plan = thickness_plan(e.design, e.score.loft)
    section, index = section_of(e.quantities, e.score.loft), drift_of(e.design, e.score.loft)
    for html in (
        why_plan(e, plan, "metric"),
        why_section(e, section, "metric"),
        why_drift(e, index, "metric"),
        why_sure(e, "metric"),
    ):
        assert "Why this number?" in html and "Source: " in html and "Left out: " in html and "<li>" in html


def test_bars_of_two_candidates_have_one_scale():
    widths = re.findall(r'lw-heat" style="width:([\d.]+)%', heat_html(evaluated(FULL), "metric", 1000.0))
    heat = sorted((float(w) for w in evaluated(FULL).score.heat_parts_w.values()), reverse=True)
    # A full bar is 1000 W: tenths of a percent are watts.
    assert [10 * float(width) for width in widths] == pytest.approx(heat[: len(widths)], abs=0.51)


def two() -> Comparison:
    return Comparison(
        night=Night(air_c=-5),
        candidates=(Candidate(letter="A", design=FULL), Candidate(letter="B", design=SEWN)),
    )


def test_the_bands_stand_on_one_strip_with_the_night():
    line_up = evaluate_all(two(), load_catalogue())
    html = sure_html(line_up, line_up.evaluations)
    assert html.count("lw-strip-cell") == 12  # six columns of the line-up, two candidates
    assert "your night, \u22125" in html and "lw-tick" in html
    told = sure_sentence(line_up["A"], "metric")
    band = line_up["A"].bands["weight_kg"]
    assert f"{1000 * band.low:.0f} to {1000 * band.high:.0f}" in told


def page() -> None:
    from dashboard import session
    from dashboard.views import close_up

    session.start()
    close_up.show()


def opened() -> AppTest:
    at = AppTest.from_function(page, default_timeout=40)
    at.query_params["d"] = encode_link(two())
    at.run()
    assert not at.exception
    return at


def headings(at: AppTest) -> list[str]:
    return [each.value for each in at.header]


def test_each_part_is_drawn_in_its_order():
    parts = headings(opened())
    wanted = ["Loft", "Section", "Where the heat goes", "Will the fill wander?", "How sure is this?", "Sizes"]
    assert [part for part in parts if part in wanted] == wanted


def test_comparing_doubles_every_drawing_and_makes_no_history():
    at = opened()
    assert len(at.get("plotly_chart")) == 2
    address, visits = dict(at.query_params), len(at.session_state["visits"])
    at.button_group(key="close_up_against").set_value("B").run()
    assert not at.exception
    assert len(at.get("plotly_chart")) == 4
    # What is told of one of the two alone says of which.
    alone = ["Sizes of A", "Fit of A", "How A is made up"]
    assert [part for part in headings(at) if part in alone] == alone
    # The night's damp, the air and the watts short are told of both.
    shown = [block.proto.body for block in at.get("html")]
    assert sum("On the outer shell" in body for body in shown) == 2
    assert sum("At that air" in body for body in shown) == 2
    assert dict(at.query_params) == address and len(at.session_state["visits"]) == visits
    # The one beside it becomes the one shown: nothing stands beside itself.
    at.button_group(key="close-up-pick").set_value("B").run()
    assert not at.exception
    assert at.session_state["close_up_against"] == "none" and len(at.get("plotly_chart")) == 2
