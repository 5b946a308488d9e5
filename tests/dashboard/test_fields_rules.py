"""Every field of the models has its place, and one that is hidden has no effect on any score."""

from functools import cache

import pytest
from pydantic import BaseModel

from dashboard.field_edits import placed
from dashboard.field_rules import (
    GROUPS,
    NIGHT_GROUPS,
    NIGHT_RULES,
    RULES,
    Choices,
    applies,
    applies_at_night,
)
from engine.catalogue.load import load_catalogue, role_ids
from engine.design import Design
from engine.evaluate import SHOWN_KEYS, evaluate
from engine.night import Night
from engine.refusals import find_field
from engine.samples import samples

FAULTLESS = pytest.approx(0, abs=1e-12)


def leaves(model: type[BaseModel], above: str = "") -> list[str]:
    """Paths of all fields that hold a value and not a group of fields."""
    found = []
    for name, field in model.model_fields.items():
        if isinstance(field.annotation, type) and issubclass(field.annotation, BaseModel):
            found += leaves(field.annotation, f"{above}{name}.")
        else:
            found.append(above + name)
    return found


def choices(design: Design) -> Choices:
    return Choices(design, load_catalogue().fill(design.fill.good).form)


@cache
def designs() -> dict[str, Design]:
    """The samples, and one design for each choice that they leave out."""
    plain = Design(name="plain")
    more = {
        "taper": {"outline.shape": "taper"},
        "tapered ends": {"outline.shape": "tapered ends", "ends.shape": "darted"},
        "walls": {"edges.kind": "low edge wall", "fill.rule": "grams", "baffles.layout": "staggered"},
        "flat": {"cut.kind": "flat", "baffles.layout": "sewn-through"},
        "bag": {"kind": "top quilt", "top.collar": True, "end_panels.fitted": True},
        "blanket": {"kind": "top quilt", "top.footbox": "none"},
    }
    made = {name: placed(plain, change) for name, change in more.items()}
    return {sample.id: sample.design for sample in samples()} | made


def other_value(model: type[BaseModel], path: str, now: object) -> object:
    """A different value that the field takes."""
    field = find_field(model, path.split("."))
    assert field is not None
    if field.annotation is bool:
        return not now
    extra = field.json_schema_extra
    if isinstance(extra, dict) and extra.get("goods"):
        return next(id for id in role_ids(load_catalogue(), str(extra["goods"])) if id != now)
    limits = [rule.ge for rule in field.metadata if hasattr(rule, "ge")]
    if limits:
        high = next(rule.le for rule in field.metadata if hasattr(rule, "le"))
        # Quilting lines stand 50 mm apart or not at all.
        step = 50 if field.title == "Quilting lines every" else 1
        return type(limits[0])(now + (step if now + step <= high else -step))
    return next(word for word in field.annotation.__args__ if word != now)


def test_every_field_of_a_design_stands_once_in_a_group():
    shown = [path for paths in GROUPS.values() for path in paths]
    assert sorted([*shown, "name", "note"]) == sorted(leaves(Design))


def test_every_field_of_the_night_stands_once_in_a_group():
    shown = [path for paths in NIGHT_GROUPS.values() for path in paths]
    assert sorted(shown) == sorted(leaves(Night))


def test_every_rule_is_about_a_field_that_exists():
    assert set(RULES) <= set(leaves(Design))
    assert set(NIGHT_RULES) <= set(leaves(Night))


@pytest.mark.parametrize("name", sorted(designs()))
def test_a_hidden_field_changes_no_score(name):
    design, night, goods = designs()[name], Night(), load_catalogue()
    before = evaluate(design, night, goods).score
    hidden = [path for path in leaves(Design) if path not in ("name", "note", "suspension")]
    hidden = [path for path in hidden if not applies(path, choices(design))]
    assert hidden
    for path in hidden:
        value: object = design
        for step in path.split("."):
            value = getattr(value, step)
        changed = placed(design, {path: other_value(Design, path, value)})
        after = evaluate(changed, night, goods).score
        for key in SHOWN_KEYS:
            assert getattr(after, key) - getattr(before, key) == FAULTLESS, (path, key)


@pytest.mark.parametrize("path", sorted(NIGHT_RULES))
def test_a_hidden_field_of_the_night_changes_no_score_and_no_fit(path):
    night, design, goods = Night(), Design(), load_catalogue()
    assert not applies_at_night(path, night)
    value: object = night
    for step in path.split("."):
        value = getattr(value, step)
    before = evaluate(design, night, goods)
    after = evaluate(design, placed(night, {path: other_value(Night, path, value)}), goods)
    assert after.fit == before.fit
    assert [getattr(after.score, key) for key in SHOWN_KEYS] == [
        getattr(before.score, key) for key in SHOWN_KEYS
    ]


def test_every_field_is_shown_in_some_design():
    shown = {
        path for design in designs().values() for path in leaves(Design) if applies(path, choices(design))
    }
    assert shown == set(leaves(Design))
