"""Does a link that someone holds open as it was sent, whatever has changed since?"""

import csv
import hashlib
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from engine.catalogue.models import OwnGood
from engine.comparison import Candidate, Comparison
from engine.design import Baffles, Design
from engine.export import frozen
from engine.export.link import decode_link, encode_link
from engine.export.qr import LONGEST
from engine.samples import first_visit

GOLDEN = Path(__file__).parent / "golden_links.csv"
NEW = Design()


def golden() -> list[dict[str, str]]:
    lines = [line for line in GOLDEN.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def leaves(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Each value with its path; suspension and own goods count as one value."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, f"{path}.{key}" if path else key)
    elif path == "candidates":
        for place, inner in enumerate(value):
            yield from leaves(inner, f"{path}.{place}")
    else:
        yield path, value


def with_none(good: dict[str, Any], later: dict[str, Any]) -> dict[str, Any]:
    return dict.fromkeys(later) | good


@pytest.mark.parametrize("row", golden(), ids=lambda row: row["what"])
def test_a_link_that_someone_holds_opens_as_it_was_sent(row: dict[str, str]) -> None:
    as_version_1 = json.loads(golden()[0]["fields"])
    told = json.loads(row["fields"])
    opened = decode_link(row["token"]).model_dump(mode="json")
    assert [entry["letter"] for entry in opened["candidates"]] == list(row["letters"])
    for path, value in leaves(opened):
        in_the_first = re.sub(r"^candidates\.\d+", "candidates.0", path)
        if path == "own_goods" and path in told:
            # What a later release lets a good have of its own, nobody had then.
            assert value == [with_none(good, value[place]) for place, good in enumerate(told[path])]
        elif path in told:
            assert value == told[path], path
        elif in_the_first in as_version_1:  # a field of a later release is not
            assert value == as_version_1[in_the_first], path
    assert set(told) <= {path for path, _ in leaves(opened)}


@pytest.fixture
def other_defaults() -> Iterator[None]:
    """The models with other defaults, as a later release might have them."""
    changes: list[tuple[Any, str, Any]] = [
        (Baffles, "height_mm", 99.0),
        (Design, "tabs", 9),
        (Comparison, "units", "trade"),
    ]
    before = [(model, name, model.model_fields[name].default) for model, name, _ in changes]
    baffles_before = Design.model_fields["baffles"].default
    rebuilt = (Baffles, Design, Candidate, Comparison)

    def put(values: list[tuple[Any, str, Any]]) -> None:
        for model, name, value in values:
            model.model_fields[name].default = value
        for model in rebuilt:
            model.model_rebuild(force=True)
        frozen.defaults.cache_clear()  # so that reading them again would show where they come from

    put(changes)
    put([(Design, "baffles", Baffles())])
    yield
    put([*before, (Design, "baffles", baffles_before)])


def test_an_old_link_opens_the_same_after_a_default_has_changed(other_defaults: None) -> None:
    assert (Design().baffles.height_mm, Design().tabs, Comparison().units) == (99.0, 9, "trade")
    row = golden()[0]
    opened = decode_link(row["token"])
    design = opened.candidates[0].design
    assert (design.baffles.height_mm, design.tabs, opened.units) == (50, 6, "metric")
    new = Comparison(candidates=(Candidate(letter="A", design=Design()),))
    assert decode_link(encode_link(new)) == new


def test_the_models_are_back_as_they_were() -> None:
    assert Design() == NEW


@pytest.mark.parametrize(
    "model, kept", [(Comparison, "comparison"), (Design, "design")], ids=["comparison", "design"]
)
def test_every_field_of_the_models_has_a_frozen_default(model: Any, kept: str) -> None:
    base = dict(leaves(frozen.defaults()[kept]))
    assert set(dict(leaves(model().model_dump(mode="json")))) <= set(base) | {"candidates"}


def test_the_words_of_version_1_stand_where_they_stood_counted_from_the_end() -> None:
    # A link points back by distance; what was added later may only stand before them.
    first = frozen.words()[-2634:]
    assert hashlib.sha256(first).hexdigest().startswith("792dab9e0e396182")


def test_the_samples_travel_exactly_in_a_link_that_leaves_room_for_an_address_in_a_code() -> None:
    sent = first_visit()
    assert decode_link(encode_link(sent)) == sent
    assert len(encode_link(sent)) < LONGEST / 2


def test_a_field_of_a_later_release_is_sent_even_when_it_is_empty() -> None:
    assert frozen.difference({"old": 1, "later": None}, {"old": 1}) == {"later": None}


def test_an_opened_link_leaves_no_field_to_the_models() -> None:
    def look(model: BaseModel) -> None:
        assert model.model_fields_set == set(type(model).model_fields)
        for name in type(model).model_fields:
            value = getattr(model, name)
            for inner in value if isinstance(value, tuple) else (value,):
                if isinstance(inner, BaseModel):
                    look(inner)

    good = OwnGood(kind="fill", id="down-850", price=9.0)
    sent = Comparison(candidates=(Candidate(letter="A", design=Design()),), own_goods=(good,))
    look(decode_link(encode_link(sent)))
