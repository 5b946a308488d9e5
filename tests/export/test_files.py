"""Does a file bring back what was saved, and is every other refused by field, value and what is allowed?"""

import json
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.catalogue.load import load_catalogue
from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.design import Design, SuspensionItem
from engine.export.files import (
    check_goods,
    comparison_from_json,
    comparison_to_json,
    design_from_json,
    design_to_json,
    file_stem,
    read_any,
)
from engine.night import Night
from engine.refusals import Refusal

QUILT = Design.model_validate(
    {
        "kind": "top quilt",
        "name": "Зимний сон",
        "note": 'A "quote",\na second line',
        "baffles": {"height_mm": 57.5},
        "joints": {"raw_edges": None},
        "suspension": [{"good": "cord-2", "amount": 3.25}],
    }
)
LINE_UP = Comparison(
    night=Night(air_c=-7.5, cost_budget=150.0),
    candidates=(Candidate(letter="B", design=QUILT), Candidate(letter="A", design=Design())),
    own_goods=(OwnGood(kind="fill", id="down-850", price=9.95),),
    chosen="B",
    reason="Warm enough",
)


def framed(fields: Any, **frame: Any) -> dict[str, Any]:
    return {"loftwright": "design", "version": 1, "design": fields} | frame


def saved(**changes: Any) -> str:
    """A design file as written by hand, with these fields of the design put in."""
    return json.dumps(framed({"kind": "underquilt", "name": "X"} | changes))


def refusal(given_text: str | bytes) -> str:
    with pytest.raises(Refusal) as refused:
        design_from_json(given_text)
    return str(refused.value)


def test_a_saved_design_opens_as_it_was() -> None:
    assert design_from_json(design_to_json(QUILT)) == QUILT
    assert design_from_json(design_to_json(QUILT).encode()) == QUILT
    assert read_any(design_to_json(QUILT).encode()) == QUILT


def test_a_saved_comparison_opens_as_it_was() -> None:
    assert comparison_from_json(comparison_to_json(LINE_UP)) == LINE_UP
    assert read_any(comparison_to_json(LINE_UP).encode()) == LINE_UP


def test_a_saved_file_holds_every_field_and_can_be_read_by_a_person() -> None:
    text = design_to_json(QUILT)
    document = json.loads(text)
    assert list(document) == ["loftwright", "version", "design"]
    assert set(document["design"]) == set(Design.model_fields)
    assert set(document["design"]["outline"]) == set(type(QUILT.outline).model_fields)
    assert "Зимний сон" in text
    assert len(text.splitlines()) > 80


def test_a_file_written_by_hand_may_leave_out_all_but_kind_and_name() -> None:
    assert design_from_json(saved()).name == "X"
    assert design_from_json(saved()).tabs == 6
    quilt = design_from_json(saved(baffles={"height_mm": 64}))
    assert (quilt.baffles.height_mm, quilt.baffles.spacing_mm) == (64, 122)


def test_a_mark_before_the_text_and_windows_line_ends_do_no_harm() -> None:
    text = design_to_json(QUILT).replace("\n", "\r\n")
    assert design_from_json(b"\xef\xbb\xbf" + text.encode()) == QUILT


def test_whole_numbers_may_be_written_with_a_decimal_point() -> None:
    assert design_from_json(saved(tabs=8.0, fill={"layers": 2.0})).tabs == 8


@pytest.mark.parametrize(
    "changes, told",
    [
        ({"baffles": {"height_mm": 5000}}, "Baffle height (baffles.height_mm) is 5000; allowed: 5 to 300 mm"),
        ({"baffles": {"height_mm": 1e9}}, "(baffles.height_mm) is 1000000000; allowed: 5 to 300 mm."),
        ({"baffles": {"height_mm": "50"}}, "(baffles.height_mm) is 50; allowed: 5 to 300 mm, as a number."),
        ({"baffles": {"height_mm": "1,5"}}, "(baffles.height_mm) is 1,5; allowed: 5 to 300 mm, as a number."),
        ({"baffles": {"height_mm": ""}}, "(baffles.height_mm) is ; allowed: 5 to 300 mm, as a number."),
        ({"baffles": {"height_mm": None}}, "(baffles.height_mm) is None; allowed: 5 to 300 mm"),
        ({"baffles": {"height_mm": True}}, "(baffles.height_mm) is True; allowed: 5 to 300 mm"),
        ({"baffles": {"height_mm": float("nan")}}, "(baffles.height_mm) is nan; allowed: 5 to 300 mm."),
        ({"baffles": {"height_mm": 10**40}}, "(baffles.height_mm) is 1e+40; allowed: 5 to 300 mm."),
        ({"baffles": [50]}, "baffles is [50]"),
        ({"baffles": {"hight_mm": 50}}, "baffles.hight_mm is not known here; remove it"),
        ({"rating_c": -5}, "rating_c is not known here; remove it or check its spelling."),
        ({"kind": "blanket"}, "Kind (kind) is blanket; allowed: underquilt, top quilt."),
        ({"name": ""}, "Name (name) is ; allowed: 1 to 60 characters."),
        ({"name": 7}, "Name (name) is 7; allowed: 1 to 60 characters, as text."),
        ({"tabs": 6.5}, "Side tabs (tabs) is 6.5; allowed: 0 to 20, as a whole number."),
        ({"end_panels": {"fitted": "yes"}}, "End panels (end_panels.fitted) is yes; allowed: true or false."),
        ({"suspension": [{"good": "Cord 2", "amount": 1}]}, "suspension.0.good is Cord 2"),
        ({"suspension": [{"good": "cord-2"}]}, "suspension.0.amount is missing; it is needed."),
        ({"outline": {"shape": "taper", "taper_from_mm": 2100}}, "taper_from_mm is 2100 mm; allowed: less"),
    ],
)
def test_a_wrong_field_is_named_with_value_and_what_is_allowed(changes: dict[str, Any], told: str) -> None:
    assert told in refusal(saved(**changes))


def test_each_fault_gets_a_sentence_up_to_a_dozen() -> None:
    two = refusal(saved(tabs=99, baffles={"height_mm": 1}))
    assert "Side tabs (tabs) is 99" in two and "(baffles.height_mm) is 1" in two
    many = refusal(saved(**{f"field_{number}": 0 for number in range(500)}))
    assert many.endswith("And 488 more faults.")


@pytest.mark.parametrize(
    "document, told",
    [
        ([], "loftwright is missing; it is needed"),
        ("design", "loftwright is missing; it is needed"),
        ({"design": {}}, "loftwright is missing; it is needed"),
        ({"loftwright": "tent"}, "loftwright is tent; allowed here: design."),
        ({"loftwright": ["design"]}, "loftwright is ['design']; allowed here: design."),
        (framed({}, loftwright="comparison"), "loftwright is comparison; allowed here: design."),
        ({"loftwright": "design"}, "version is missing; it is needed.\ndesign is missing; it is needed."),
        (framed({}, version=2), "made by a newer version: version is 2; allowed: 1."),
        (framed({}, version=0), "version is 0; allowed: 1, as a number."),
        (framed({}, version="1"), "version is 1; allowed: 1, as a number."),
        (framed({}, version=True), "version is True; allowed: 1, as a number."),
        (framed([]), "design is []; allowed: an object with the fields"),
        (framed({"name": "X"}), "kind is missing; it is needed: underquilt or top quilt."),
        (framed({"kind": "top quilt"}), "name is missing; it is needed: 1 to 60 characters."),
        (framed({}, by=1), "by is not known here"),
    ],
)
def test_a_file_without_its_frame_is_refused_by_what_is_missing(document: Any, told: str) -> None:
    assert told in refusal(json.dumps(document))


@pytest.mark.parametrize(
    "given_text, told",
    [
        ("", "The text is not JSON (line 1, column 1"),
        ("height 50 mm", "The text is not JSON (line 1, column 1"),
        ('{"loftwright": "design",\n "version": 1,', "The text is not JSON (line 2"),
        (b"\xff\xfe\x00", "The file is not text in UTF-8"),
        ("[" * 200_000, "The text is nested too deeply; allowed: 12 levels."),
        ('{"version": 1, "version": 2}', "version stands twice in one place; allowed: once."),
        ('{"loftwright": "\\udfff"}', "loftwright holds \\udfff; allowed: whole characters."),
        ('{"loftwright": "design", "version": ' + "1" * 9000 + ', "design": {}}', "version is inf"),
    ],
    ids=["empty", "prose", "cut short", "bytes", "deep", "twice", "half a character", "a long number"],
)
def test_what_is_no_sound_json_is_refused(given_text: str | bytes, told: str) -> None:
    assert told in refusal(given_text)


def test_a_file_of_five_megabytes_is_refused_by_its_size() -> None:
    told = "The file is 5.0 MB; allowed: up to 1 MB."
    assert refusal(saved(note="x" * 5_000_000)) == told
    assert refusal(b"\x00" * 5_000_000) == told


def test_the_candidates_of_a_comparison_need_their_kind_and_name_too() -> None:
    fields = {"candidates": [{"letter": "A", "design": {"kind": "underquilt"}}]}
    with pytest.raises(Refusal, match=r"candidates\.0\.design\.name is missing"):
        comparison_from_json(json.dumps({"loftwright": "comparison", "version": 1, "comparison": fields}))


@pytest.mark.parametrize(
    "candidates, told",
    [
        ("A", "candidates is A"),
        ([7], "candidates.0 is 7"),
        ([{"letter": "A"}], "candidates.0.design is missing; it is needed."),
        ([{"letter": "Z", "design": {"kind": "underquilt", "name": "X"}}], "0.letter is Z; allowed: A, B"),
        ([{"letter": "A", "design": {"kind": "underquilt", "name": "X"}}] * 2, "each may stand once"),
        ([{"letter": "A", "design": {"kind": "underquilt", "name": "X"}}] * 7, "candidates"),
    ],
)
def test_wrong_candidates_are_refused(candidates: Any, told: str) -> None:
    document = {"loftwright": "comparison", "version": 1, "comparison": {"candidates": candidates}}
    with pytest.raises(Refusal) as refused:
        comparison_from_json(json.dumps(document))
    assert told in str(refused.value)


any_json = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["kind", "name", "night", "candidates", "letter", "design"]), inner)
    ),
    max_leaves=12,
)


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(["design", "comparison"]), any_json)
def test_any_json_opens_or_is_refused_and_nothing_else(what: str, value: Any) -> None:
    try:
        read_any(json.dumps({"loftwright": what, "version": 1, what: value}).encode())
    except Refusal as refused:
        assert refused.messages


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_are_refused_and_nothing_else(given_bytes: bytes) -> None:
    with pytest.raises(Refusal):
        read_any(given_bytes)


def test_goods_that_the_catalogue_has_pass() -> None:
    check_goods(LINE_UP, load_catalogue())


def test_each_unknown_good_is_named_with_its_field_and_what_belongs_there() -> None:
    quilt = Design.model_validate(
        {
            "shells": {"inner": "silk-99"},
            "joints": {"edges": "staple"},
            "fill": {"good": "straw"},
            "suspension": [SuspensionItem(good="cord-2", amount=1), SuspensionItem(good="rope-9", amount=1)],
        }
    )
    line_up = Comparison(
        candidates=(Candidate(letter="C", design=quilt),), own_goods=(OwnGood(kind="fabric", id="down-850"),)
    )
    with pytest.raises(Refusal) as refused:
        check_goods(line_up, load_catalogue())
    shell, joint, fill, cord, own = refused.value.messages
    assert shell.startswith("Inner shell (C, shells.inner) is silk-99; allowed: ")
    assert "nylon-10d-26" in shell and "mesh-24" not in shell
    assert joint.startswith("Edges (C, joints.edges) is staple; allowed: ") and "sewn-seam" in joint
    assert fill.startswith("Fill (C, fill.good) is straw; allowed: ") and "down-850" in fill
    assert cord.startswith("C, suspension.1.good is rope-9; allowed: ") and "cord-2" in cord
    assert own.startswith("own_goods.0.id is down-850; allowed: ") and "mesh-24" in own


def test_a_known_good_in_another_place_is_left_to_the_warnings() -> None:
    quilt = Design.model_validate({"shells": {"inner": "mesh-24"}})
    check_goods(Comparison(candidates=(Candidate(letter="A", design=quilt),)), load_catalogue())


@pytest.mark.parametrize(
    "name, stem",
    [
        ("River, sewn", "river-sewn-2026-11-03"),
        ("Été à −5 °C", "ete-a-5-c-2026-11-03"),
        ("雪", "quilt-2026-11-03"),
        ("../../etc", "etc-2026-11-03"),
        ("x" * 60, "x" * 40 + "-2026-11-03"),
    ],
)
def test_a_file_name_is_plain_letters_and_the_day(name: str, stem: str) -> None:
    assert file_stem(name, date(2026, 11, 3)) == stem
