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
from engine.export import frozen
from engine.export.files import (
    LATER,
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
    """A whole design file with these fields put in, into its groups too."""
    fields: dict[str, Any] = Design(name="X").model_dump(mode="json")
    for name, value in changes.items():
        inner = fields.get(name)
        both = isinstance(inner, dict) and isinstance(value, dict)
        fields[name] = {**inner, **value} if both else value
    return json.dumps(framed(fields))


def without(*paths: str) -> str:
    """A whole design file with these fields taken out."""
    fields = Design(name="X").model_dump(mode="json")
    for path in paths:
        *groups, name = path.split(".")
        inner = fields
        for group in groups:
            inner = inner[group]
        del inner[name]
    return json.dumps(framed(fields))


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


@pytest.mark.parametrize(
    "path, told",
    [
        ("outline.length_mm", "outline.length_mm is missing; it is needed: 600 to 2600 mm."),
        ("outline", "outline is missing; it is needed: a group of fields in braces."),
        ("kind", "kind is missing; it is needed: underquilt, top quilt."),
        ("name", "name is missing; it is needed: 1 to 60 characters."),
        ("suspension", "suspension is missing; it is needed: 0 to 12 entries."),
        ("top.collar", "top.collar is missing; it is needed: true or false."),
        ("shells.inner", "shells.inner is missing; it is needed: a good's id of small letters"),
    ],
)
def test_a_field_that_is_left_out_is_named_with_what_it_takes(path: str, told: str) -> None:
    message = refusal(without(path))
    assert message.startswith(told)
    assert len(message.splitlines()) == 1


def test_each_field_that_is_left_out_gets_a_sentence_up_to_a_dozen() -> None:
    two = refusal(without("cut.kind", "tabs"))
    assert two.startswith("cut.kind is missing") and "\ntabs is missing" in two
    many = refusal(json.dumps(framed({})))
    assert len(many.splitlines()) == 13
    assert many.endswith(f"And {len(Design.model_fields) - 12} more faults.")


def test_a_misspelt_field_is_named_beside_the_one_it_left_out() -> None:
    fields = json.loads(without("outline.length_mm"))
    fields["design"]["outline"] |= {"lenght_mm": 800, "shape": "taper"}
    missing, unknown = refusal(json.dumps(fields)).splitlines()
    assert missing.startswith("outline.length_mm is missing")
    assert unknown.startswith("outline.lenght_mm is not known here")


def test_a_comparison_names_what_it_leaves_out_wherever_it_stands() -> None:
    document = json.loads(comparison_to_json(LINE_UP))
    del document["comparison"]["night"]["sleeper"]["girth_mm"]
    del document["comparison"]["candidates"][1]["design"]["fill"]["grams"]
    del document["comparison"]["own_goods"][0]["price"]
    with pytest.raises(Refusal) as refused:
        comparison_from_json(json.dumps(document))
    assert refused.value.messages == (
        "night.sleeper.girth_mm is missing; it is needed: 700 to 1900 mm.",
        "candidates.1.design.fill.grams is missing; it is needed: 0 to 3000 g.",
        "own_goods.0.price is missing; it is needed: 0 to 1000.",
    )


def test_a_file_from_before_measures_could_be_left_out_opens_with_none_left_out() -> None:
    document = json.loads(comparison_to_json(LINE_UP))
    del document["comparison"]["measures_left_out"]
    assert comparison_from_json(json.dumps(document)) == LINE_UP
    sent = LINE_UP.model_copy(update={"measures_left_out": True})
    assert comparison_from_json(comparison_to_json(sent)) == sent


def test_a_file_from_before_a_joint_could_have_an_own_peel_strength_opens_without_one() -> None:
    document = json.loads(comparison_to_json(LINE_UP))
    assert document["comparison"]["own_goods"]
    for good in document["comparison"]["own_goods"]:
        for name in LATER["own_good"]:
            del good[name]
    assert comparison_from_json(json.dumps(document)) == LINE_UP


def test_what_stands_for_a_field_of_a_later_program_is_the_same_in_files_and_in_links() -> None:
    for what, fields in LATER.items():
        base = frozen.defaults()[what]
        assert frozen.completed(fields, base) == base


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
        ({"baffles": {"height_mm": "50"}}, '(baffles.height_mm) is "50"; allowed: 5 to 300 mm, as a number.'),
        (
            {"baffles": {"height_mm": "1,5"}},
            '(baffles.height_mm) is "1,5"; allowed: 5 to 300 mm, as a number.',
        ),
        ({"baffles": {"height_mm": ""}}, '(baffles.height_mm) is ""; allowed: 5 to 300 mm, as a number.'),
        ({"baffles": {"height_mm": None}}, "(baffles.height_mm) is null; allowed: 5 to 300 mm"),
        ({"baffles": {"height_mm": True}}, "(baffles.height_mm) is true; allowed: 5 to 300 mm"),
        ({"baffles": {"height_mm": float("nan")}}, "(baffles.height_mm) is nan; allowed: 5 to 300 mm."),
        ({"baffles": {"height_mm": 10**40}}, "(baffles.height_mm) is 1e+40; allowed: 5 to 300 mm."),
        ({"baffles": [50]}, "baffles is [50]; allowed: a group of fields in braces."),
        ({"baffles": {"hight_mm": 50}}, "baffles.hight_mm is not known here; remove it"),
        ({"rating_c": -5}, "rating_c is not known here; remove it or check its spelling."),
        ({"kind": "blanket"}, "Kind (kind) is blanket; allowed: underquilt, top quilt."),
        ({"name": ""}, "Name (name) is empty; allowed: 1 to 60 characters."),
        ({"name": 7}, "Name (name) is 7; allowed: 1 to 60 characters, as text."),
        ({"tabs": 6.5}, "Side tabs (tabs) is 6.5; allowed: 0 to 20, as a whole number."),
        (
            {"end_panels": {"fitted": "yes"}},
            'End panels (end_panels.fitted) is "yes"; allowed: true or false.',
        ),
        (
            {"suspension": [{"good": "Cord 2", "amount": 1}]},
            "suspension.0.good is Cord 2; allowed: a good's id of small",
        ),
        ({"suspension": [{"good": "cord-2", "amount": 1}] * 13}, "allowed: 0 to 12 entries."),
        ({"suspension": 3}, "Suspension (suspension) is 3; allowed: 0 to 12 entries."),
        ({"suspension": [3]}, "(suspension.0) is 3; allowed: a group of fields in braces."),
        ({"outline": "x"}, "outline is x; allowed: a group of fields in braces."),
        ({"suspension": [{"good": "cord-2"}]}, "suspension.0.amount is missing; it is needed: 0 to 50."),
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
        ({"loftwright": ["design"]}, 'loftwright is ["design"]; allowed here: design.'),
        (framed({}, loftwright="comparison"), "loftwright is comparison; allowed here: design."),
        ({"loftwright": "design"}, "version is missing; it is needed.\ndesign is missing; it is needed."),
        (framed({}, version=2), "made by a newer version: version is 2; allowed: 1."),
        (framed({}, version=0), "version is 0; allowed: 1, as a number."),
        (framed({}, version="1"), 'version is "1"; allowed: 1, as a number.'),
        (framed({}, version=True), "version is true; allowed: 1, as a number."),
        (framed([]), "design is []; allowed: a group of fields in braces, those of a design."),
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


def entry(letter: str) -> dict[str, Any]:
    return {"letter": letter, "design": Design().model_dump(mode="json")}


@pytest.mark.parametrize(
    "candidates, told",
    [
        ("A", "candidates is A; allowed: 0 to 6 entries."),
        ([7], "candidates.0 is 7; allowed: a group of fields in braces."),
        ([{"letter": "A"}], "candidates.0.design is missing; it is needed: a group of fields"),
        ([entry("Z")], "0.letter is Z; allowed: A, B"),
        ([entry("A")] * 2, "each may stand once"),
        ([entry("A")] * 7, "allowed: 0 to 6 entries."),
    ],
)
def test_wrong_candidates_are_refused(candidates: Any, told: str) -> None:
    fields = Comparison().model_dump(mode="json") | {"candidates": candidates}
    document = {"loftwright": "comparison", "version": 1, "comparison": fields}
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


@pytest.mark.parametrize(
    "group, name, good, told",
    [
        ("shells", "inner", "mesh-24", "Inner shell (A, shells.inner) is mesh-24; allowed: film-11, "),
        (
            "joints",
            "baffles",
            "seared-edge",
            "Baffles to shells (A, joints.baffles) is seared-edge; allowed: ",
        ),
        ("joints", "raw_edges", "sewn-seam", "(A, joints.raw_edges) is sewn-seam; allowed: seared-edge."),
        ("end_panels", "fabric", "film-11", "(A, end_panels.fabric) is film-11; allowed: nylon-7d-19, "),
    ],
)
def test_a_known_good_in_a_place_that_it_does_not_serve_is_refused(
    group: str, name: str, good: str, told: str
) -> None:
    quilt = Design.model_validate({group: {name: good}})
    with pytest.raises(Refusal) as refused:
        check_goods(Comparison(candidates=(Candidate(letter="A", design=quilt),)), load_catalogue())
    (message,) = refused.value.messages
    assert told in message
    assert good not in message.partition("allowed: ")[2]


def test_what_the_warnings_themselves_put_in_place_passes() -> None:
    changes: list[dict[str, Any]] = [
        {"end_panels": {"fitted": True, "fabric": "ripstop-38"}},
        {"shells": {"outer": "ripstop-38"}},
        {"joints": {"raw_edges": "seared-edge"}},
        {"joints": {"raw_edges": None}},
    ]
    for change in changes:
        quilt = Design.model_validate(change)
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
