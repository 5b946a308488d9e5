"""Does every comparison and design come back exactly, from a link and from a file?"""

import string
from typing import Any, Literal, get_args, get_origin

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from engine.catalogue.models import OwnGood
from engine.comparison import LETTERS, Candidate, Comparison, Letter
from engine.design import Design, SuspensionItem
from engine.export import files
from engine.export.link import decode_link, encode_link
from engine.night import Night
from engine.recipe import Choice, Recipe, Span

ids = st.text(string.ascii_lowercase + string.digits, min_size=1, max_size=12)
letters_of_any_script = st.characters(codec="utf-8")


def field_values(field: Any) -> st.SearchStrategy[Any]:
    """Any value that a field of the models takes, from its own limits."""
    options = [kind for kind in get_args(field.annotation) if isinstance(kind, type)]
    annotation = options[0] if type(None) in options else field.annotation
    values = _plain_values(annotation, field)
    return st.none() | values if type(None) in options else values


def _plain_values(annotation: Any, field: Any) -> st.SearchStrategy[Any]:
    rules: dict[str, Any] = {}
    for rule in field.metadata:
        for name in ("ge", "gt", "le", "lt", "min_length", "max_length", "pattern"):
            if getattr(rule, name, None) is not None:
                rules[name] = getattr(rule, name)
    if get_origin(annotation) is Literal:
        return st.sampled_from(get_args(annotation))
    if annotation is bool:
        return st.booleans()
    if annotation is int:
        return st.integers(rules["ge"], rules["le"])
    if annotation is float:
        low, high = rules.get("ge", rules.get("gt")), rules.get("le", rules.get("lt"))
        return st.floats(low, high, exclude_min="gt" in rules, exclude_max="lt" in rules)
    if annotation is str and "pattern" in rules:
        return ids
    if annotation is str:
        longest = min(rules.get("max_length", 40), 60)
        return st.text(letters_of_any_script, min_size=rules.get("min_length", 0), max_size=longest)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return models(annotation)
    raise TypeError(f"no values for {annotation}")


def models(model: type[BaseModel], **given_values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Valid models with any of their fields set and the others left at the default."""
    needed: dict[str, Any] = {}
    free: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        values = given_values[name] if name in given_values else field_values(field)
        (needed if field.is_required() or name in given_values else free)[name] = values
    drawn = st.fixed_dictionaries(needed, optional=free)
    return drawn.map(lambda fields: _built(model, fields)).filter(lambda built: built is not None)


def _built(model: type[BaseModel], fields: dict[str, Any]) -> BaseModel | None:
    try:
        return model(**fields)
    except ValidationError:  # lengths that do not close
        return None


suspensions = st.lists(models(SuspensionItem), max_size=3).map(tuple)
spans = st.builds(
    lambda start, more, step: Span(start=start, stop=start + more, step=step),
    st.floats(-100, 3000),
    st.floats(0, 900),
    st.floats(1, 900),
)
one_value = st.floats(-1e6, 1e6) | st.text(letters_of_any_script, max_size=40) | st.booleans() | st.none()
sets = st.lists(one_value, min_size=1, max_size=4).map(tuple)
paths = st.lists(st.sampled_from(["tabs", "baffles.height_mm", "joints.raw_edges"]), unique=True)
recipes = st.builds(
    lambda names, found, start: Recipe(
        start=start,
        choices=tuple(
            Choice(path=name, **{"span" if isinstance(what, Span) else "values": what})
            for name, what in zip(names, found, strict=False)
        ),
    ),
    paths,
    st.lists(spans | sets, min_size=3, max_size=3),
    st.none() | st.sampled_from(LETTERS),
)
designs = models(Design, suspension=suspensions)


@st.composite
def comparisons(draw: st.DrawFn) -> Comparison:
    letters = draw(st.lists(st.sampled_from(LETTERS), unique=True, min_size=1, max_size=3))
    one_of_them = st.none() | st.sampled_from(letters)
    goods = st.lists(models(OwnGood), max_size=3, unique_by=lambda good: (good.kind, good.id)).map(tuple)
    candidates = st.just(tuple(Candidate(letter=letter, design=draw(designs)) for letter in letters))
    model = models(
        Comparison,
        candidates=candidates,
        own_goods=goods,
        reference=one_of_them,
        chosen=one_of_them,
        recipe=st.none() | recipes,
    )
    built: Comparison = draw(model)
    return built


@settings(max_examples=250, deadline=None, suppress_health_check=list(HealthCheck))
@given(comparisons())
def test_any_comparison_comes_back_exactly_from_a_link_and_from_a_file(comparison: Comparison) -> None:
    assert decode_link(encode_link(comparison)) == comparison
    assert files.comparison_from_json(files.comparison_to_json(comparison)) == comparison


@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
@given(designs)
def test_any_design_comes_back_exactly_from_a_file(design: Design) -> None:
    assert files.design_from_json(files.design_to_json(design)) == design


def test_a_comparison_without_candidates_comes_back() -> None:
    assert decode_link(encode_link(Comparison())) == Comparison()
    assert files.comparison_from_json(files.comparison_to_json(Comparison())) == Comparison()


def test_an_empty_budget_and_no_raw_edge_method_are_not_taken_for_the_default() -> None:
    design = Design.model_validate({"joints": {"raw_edges": None}})
    night = Night(weight_budget_g=500.0)
    sent = Comparison(night=night, candidates=(Candidate(letter="D", design=design),))
    assert decode_link(encode_link(sent)) == sent
    assert decode_link(encode_link(sent)).candidates[0].design.joints.raw_edges is None


def test_candidates_keep_their_order_whatever_their_letters() -> None:
    letters: tuple[Letter, ...] = ("F", "A", "C")
    sent = Comparison(candidates=tuple(Candidate(letter=letter, design=Design()) for letter in letters))
    assert [entry.letter for entry in decode_link(encode_link(sent)).candidates] == ["F", "A", "C"]
