"""Are the designs that come with the program sound, different, and what they say they are?"""

import json
import math
from importlib.resources import files

import numpy as np
import pytest

from dashboard.verdicts import night_words
from engine.catalogue.load import load_catalogue
from engine.comparison import Candidate, Comparison
from engine.evaluate import Evaluation, LineUp, evaluate, evaluate_all
from engine.export.files import check_goods, design_from_json, design_to_json
from engine.export.link import LONG, decode_link, encode_link
from engine.refusals import Refusal
from engine.samples import NIGHTS_FILE, Sample, design_from, first_visit, nights, nights_from, samples
from engine.score import SCORE_KEYS

PARTS_OF = {
    "weight_kg": ("weight_parts_kg", 1),
    "volume_m3": ("volume_parts_m3", 1),
    "cost": ("cost_parts", 1),
    "work_h": ("work_parts_min", 60),
}
each_sample = pytest.mark.parametrize("sample", samples(), ids=lambda sample: sample.id)


def judged(sample: Sample) -> Evaluation:
    return evaluate(sample.design, sample.night, load_catalogue())


def text_of(file_name: str) -> str:
    return (files("sample_designs") / file_name).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def line_up() -> LineUp:
    return evaluate_all(first_visit(), load_catalogue())


def test_every_file_in_the_folder_is_offered():
    found = {entry.name for entry in files("sample_designs").iterdir() if entry.name.endswith(".json")}
    assert found == {f"{sample.id}.json" for sample in samples()} | {NIGHTS_FILE}
    assert len(samples()) >= 8


@each_sample
def test_its_file_is_what_saving_it_gives(sample):
    assert text_of(f"{sample.id}.json") == design_to_json(sample.design)
    assert design_from_json(design_to_json(sample.design)) == sample.design


@each_sample
def test_it_comes_back_from_a_link(sample):
    sent = Comparison(night=sample.night, candidates=(Candidate(letter="C", design=sample.design),))
    assert decode_link(encode_link(sent)) == sent


@each_sample
def test_it_uses_goods_of_the_catalogue(sample):
    check_goods(Comparison(candidates=(Candidate(letter="A", design=sample.design),)), load_catalogue())


@each_sample
def test_its_scores_are_finite_and_their_bands_in_order(sample):
    evaluation = judged(sample)
    for key, band in evaluation.bands.items():
        assert math.isfinite(getattr(evaluation.score, key))
        assert np.isfinite(getattr(evaluation.draws, key)).all()
        assert band.low <= band.value <= band.high
        assert band.low < band.high


@each_sample
def test_nothing_in_it_stops_the_maker(sample):
    assert [caution.code for caution in judged(sample).cautions if caution.grade == "stop"] == []


@each_sample
def test_it_warns_only_of_a_night_that_is_too_cold_or_of_packing(sample):
    """A sample shows good practice; what it may be too little for, night or stuffing, is a lesson."""
    minded = {caution.code for caution in judged(sample).cautions if caution.grade == "mind"}
    assert minded <= {"rating above the night's temperature", "stuffing tears the baffles loose"}


@each_sample
@pytest.mark.parametrize("key", PARTS_OF)
def test_its_parts_sum_to_the_whole(sample, key):
    score = judged(sample).score
    parts, per_unit = PARTS_OF[key]
    whole = getattr(score, key)
    assert math.fsum(getattr(score, parts).values()) / per_unit == pytest.approx(whole, rel=1e-12)


@each_sample
def test_its_weight_is_the_tare_the_fill_and_what_lies_beyond(sample):
    evaluation = judged(sample)
    pad_kg = sample.night.beyond.grams / 1000 if evaluation.fit.short and is_underquilt(sample) else 0.0
    whole = evaluation.derived.tare_kg + evaluation.derived.fill_kg + pad_kg
    assert whole == pytest.approx(evaluation.score.weight_kg, rel=1e-12)


@each_sample
def test_its_cost_is_the_shopping_list_and_what_lies_beyond(sample):
    evaluation = judged(sample)
    pad = sample.night.beyond.price if evaluation.fit.short and is_underquilt(sample) else 0.0
    listed = math.fsum(purchase.price_used for purchase in evaluation.purchases)
    assert listed + pad == pytest.approx(evaluation.score.cost, rel=1e-12)
    assert all(purchase.price_to_buy >= purchase.price_used - 1e-9 for purchase in evaluation.purchases)


@each_sample
def test_it_fits_its_sleeper_or_says_that_it_does_not(sample):
    evaluation = judged(sample)
    told = {caution.code for caution in evaluation.cautions} & {
        "too short for the sleeper",
        "too narrow for the sleeper",
    }
    assert bool(told) != evaluation.fit.fits
    assert not evaluation.fit.narrow


@each_sample
def test_its_note_says_that_it_is_invented(sample):
    assert sample.design.note.startswith("Invented")
    assert "invented" in json.loads(text_of(NIGHTS_FILE))["note"]


def is_underquilt(sample: Sample) -> bool:
    return sample.design.kind == "underquilt"


@each_sample
def test_its_suspension_weighs_what_makers_find(sample):
    """35 to 70 g under a sleeper, 6 to 40 g of closures on a top quilt: common practice, no source."""
    grams = 1000 * judged(sample).score.weight_parts_kg["suspension"]
    low, high = (35, 70) if is_underquilt(sample) else (6, 40)
    assert low <= grams <= high


@each_sample
def test_its_chambers_are_proportioned_and_stuffed_as_makers_do(sample):
    """Spacing 1.8 to 2.5 heights and never under 100 mm; overstuff 20 to 30 % between full baffles, 10 to
    20 % in film; at most 60 g/m² between quilting lines: common practice, no source."""
    design, baffles, overstuff = sample.design, sample.design.baffles, sample.design.fill.overstuff_percent
    film = load_catalogue().fabric(design.shells.outer).airtight
    if baffles.layout.startswith("full"):
        assert 1.8 <= baffles.spacing_mm / baffles.height_mm <= 2.5
        assert baffles.spacing_mm >= 100
        assert 20 <= overstuff <= 30
    elif baffles.layout == "staggered":
        assert (10 if film else 25) <= overstuff <= (20 if film else 40)
        assert 30 <= judged(sample).derived.baffle_count <= 60
    elif baffles.layout == "sewn-through":
        assert judged(sample).derived.fill_per_area_kg_m2 <= 0.060


def test_they_span_what_a_maker_may_choose():
    goods = load_catalogue()
    designs = [sample.design for sample in samples()]
    outer = {goods.fabric(design.shells.outer).construction for design in designs}
    assert {"laminate film", "calendered ripstop"} <= outer
    assert {"tape", "sewn"} <= {goods.joint(design.joints.baffles).kind for design in designs}
    assert {"none", "sewn-through", "full, lengthwise", "staggered"} <= {d.baffles.layout for d in designs}
    assert {"down", "sheet"} == {goods.fill(design.fill.good).form for design in designs}
    assert {"underquilt", "top quilt"} == {design.kind for design in designs}
    long = {d.outline.length_mm >= 1850 for d in designs if d.kind == "underquilt"}
    short = {1300 <= d.outline.length_mm <= 1550 for d in designs if d.kind == "underquilt"}
    assert long == short == {True, False}


def test_a_summer_underquilt_is_among_them():
    assert any(is_underquilt(sample) and sample.night.air_c > 10 for sample in samples())


def test_no_name_or_id_stands_twice():
    assert len({sample.id for sample in samples()}) == len({sample.design.name for sample in samples()})
    assert len({sample.id for sample in samples()}) == len(samples())


def test_there_are_three_nights_and_each_has_samples():
    assert len(nights()) == 3
    assert {sample.night_name for sample in samples()} == set(nights())
    assert all(sample.night == nights()[sample.night_name] for sample in samples())


def test_a_first_visit_shows_four_for_the_one_late_autumn_night():
    shown, (name, night) = first_visit(), next(iter(nights().items()))
    assert "autumn" in name.lower()
    assert [candidate.letter for candidate in shown.candidates] == ["A", "B", "C", "D"]
    meant = [sample.design for sample in samples() if sample.night_name == name]
    assert [candidate.design for candidate in shown.candidates] == meant
    assert (shown.night, shown.reference, shown.chosen, shown.units) == (night, None, None, "metric")
    assert len(encode_link(shown)) < LONG


def test_the_first_shown_is_sewn_with_full_baffles():
    design = first_visit().design("A")
    methods = (design.joints.baffles, design.joints.edges, design.joints.panel_joins)
    assert design.baffles.layout.startswith("full")
    assert {load_catalogue().joint(method).kind for method in methods} == {"sewn"}


def test_the_first_four_show_every_kind_of_chance(line_up):
    said = {night_words(evaluation.p_comfort) for evaluation in line_up.evaluations}
    assert said == {"probably comfortable", "an even bet", "probably too cold"}


def test_each_of_the_first_four_wins_a_score_and_none_wins_all(line_up):
    """A win: lower than each of the others in at least 0.8 of the common draws, the least for 'probably'."""
    letters = [evaluation.letter for evaluation in line_up.evaluations]
    won: dict[str, set[str]] = {letter: set() for letter in letters}
    for key in SCORE_KEYS:
        for letter in letters:
            others = [other for other in letters if other != letter]
            if all(line_up.against(letter, other, key).p_less >= 0.8 for other in others):
                won[letter].add(key)
    assert all(won.values()), won
    assert all(keys != set(SCORE_KEYS) for keys in won.values())


def test_a_broken_design_is_refused_by_the_name_of_its_file():
    broken = json.loads(text_of(f"{samples()[0].id}.json"))
    broken["design"]["baffles"]["height_mm"] = 900
    with pytest.raises(Refusal, match=r"^birch\.json: .*height_mm.* is 900; allowed: 5 to 300 mm"):
        design_from("birch.json", json.dumps(broken))


@pytest.mark.parametrize(
    "change, told",
    [
        ({"samples": {"birch": "No such night"}}, r"samples\.birch is No such night; allowed: Late autumn"),
        ({"nights": {"Too cold": {"air_c": -90}}}, r"Too cold: .*air_c.* is -90; allowed: -45 to 25 °C"),
        ({"nights": []}, r"nights is \[\]; allowed: an object"),
        ({"extra": 1}, "The file holds note, nights, samples, extra; allowed: note, nights, samples"),
    ],
)
def test_broken_nights_are_refused_by_the_name_of_their_file(change, told):
    document = json.loads(text_of(NIGHTS_FILE)) | change
    with pytest.raises(Refusal, match=rf"^nights\.json: {told}"):
        nights_from(json.dumps(document))
