"""Any valid design and night, for tests of what must hold for all of them."""

from typing import Any, Literal, get_args, get_origin

from hypothesis import strategies as st
from pydantic import BaseModel

from engine.catalogue.load import role_ids
from engine.design import Design, Filling, Outline, SuspensionItem
from engine.night import Night
from tests.engine.made import CATALOGUE


def _values(field: Any) -> st.SearchStrategy[Any]:
    """Any value that a field takes: its limits, its words, or the goods of its role."""
    extra = field.json_schema_extra or {}
    if "goods" in extra:
        goods = st.sampled_from(role_ids(CATALOGUE, extra["goods"]))
        return goods | st.none() if type(None) in get_args(field.annotation) else goods
    limits = {name: getattr(r, name) for r in field.metadata for name in ("ge", "le") if hasattr(r, name)}
    kinds = [kind for kind in get_args(field.annotation) if kind is not type(None)]
    kind = kinds[0] if type(None) in get_args(field.annotation) else field.annotation
    if get_origin(kind) is Literal:
        return st.sampled_from(get_args(kind))
    if kind is int:
        return st.integers(limits["ge"], limits["le"])
    if kind is float:
        return st.floats(limits["ge"], limits["le"])
    if kind is bool:
        return st.booleans()
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return any_of(kind)
    return st.just(field.get_default())


def any_of(model: type[BaseModel], **given: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Models with every field drawn."""
    return st.builds(
        model, **{name: given.get(name, _values(field)) for name, field in model.model_fields.items()}
    )


@st.composite
def _outlines(draw: st.DrawFn) -> Outline:
    """Outlines that close; a taper narrows towards the foot, as its name says."""
    length, width = draw(st.floats(600, 2600)), draw(st.floats(500, 2000))
    return Outline(
        shape=draw(st.sampled_from(["rectangle", "taper", "tapered ends"])),
        length_mm=length,
        width_mm=width,
        foot_width_mm=draw(st.floats(300, width)),
        taper_from_mm=draw(st.floats(0, min(length - 1, 2400))),
        end_run_mm=draw(st.floats(50, min(length / 2, 1000))),
        end_inset_mm=draw(st.floats(0, min(0.4 * width, 500))),
    )


outlines = _outlines()
hardware = st.sampled_from(role_ids(CATALOGUE, "hardware:"))
suspensions = st.lists(any_of(SuspensionItem, good=hardware), max_size=3).map(tuple)
fillings = any_of(Filling, quilting_mm=st.just(0.0) | st.floats(50, 1000))
designs = any_of(Design, outline=outlines, suspension=suspensions, fill=fillings)
nights = any_of(Night)
