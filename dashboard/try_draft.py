"""Which choices vary on Try many, and over what: the boxes as they were filled in, and the recipe they make.

What is typed is kept here in the model's units, because a widget's own memory goes when its page does.
"""

from collections.abc import Iterable
from copy import copy
from html import escape
from typing import Any, Literal, get_args, get_origin

import streamlit as st
from pydantic import Field, ValidationError
from pydantic.fields import FieldInfo

from dashboard import session
from dashboard.field_edits import Spot
from dashboard.field_rules import GROUPS, Choices, applies
from dashboard.fields import good_name
from dashboard.numbers_in import allowed_range, read_number, show_number, shown_unit
from dashboard.words import number
from engine.catalogue.load import Catalogue, role_ids
from engine.design import Design
from engine.explore.choices import axes_of, changed
from engine.recipe import MOST_CHOICES, MOST_VALUES, Choice, Recipe, Span, Value
from engine.refusals import Refusal, explain

PATHS = tuple(path for paths in GROUPS.values() for path in paths if path != "suspension")
FIRST = ("baffles.height_mm", "fill.overstuff_percent", "fill.layers", "shells.outer")
"""What varies until somebody chooses otherwise, as far as it applies."""
DRAFT, FAULTS, ROUND, CHOSEN = "tm_draft", "tm_faults", "tm_round", "tm_paths"
PARTS = {"start": "from", "stop": "to", "step": "in steps of"}
STEPS = {"mm": (5.0, 10.0, 50.0), "%": (5.0, 10.0, 10.0), "rad": (0.25, 0.25, 0.25), "g": (10.0, 25.0, 50.0)}
"""Of a number below 100, below 400 and above, by its unit."""

Parts = dict[str, Any]


def hints(path: str) -> dict[str, Any]:
    """What the model says of a field beside its limits: unit or kind of good."""
    extra = Spot(path).info.json_schema_extra
    return dict(extra) if isinstance(extra, dict) else {}


def title(path: str) -> str:
    """A field's label."""
    return Spot(path).info.title or path


def is_number(path: str) -> bool:
    """Whether a field holds a number or a count."""
    return "unit" in hints(path)


def own_value(design: Design, path: str) -> Any:
    """What a design has at a path."""
    value: Any = design
    for step in path.split("."):
        value = getattr(value, step)
    return value


def all_values(path: str, catalogue: Catalogue) -> list[Value]:
    """Every word or good that a field takes."""
    info, goods = Spot(path).info, hints(path).get("goods")
    if goods:
        none: list[Value] = [None] if type(None) in get_args(info.annotation) else []
        return [*role_ids(catalogue, str(goods)), *none]
    if info.annotation is bool:
        return [False, True]
    return list(get_args(info.annotation)) if get_origin(info.annotation) is Literal else []


def offered(design: Design, catalogue: Catalogue, chosen: Iterable[str]) -> list[str]:
    """The choices that have an effect on a design, or on one that differs in a chosen word."""
    designs = [design]
    for path in chosen:
        if not is_number(path):
            for value in all_values(path, catalogue):
                try:
                    designs.append(changed(design, [(path, value)]))
                except ValidationError:
                    continue
    forms = [Choices(each, catalogue.fill(each.fill.good).form) for each in designs]
    return [path for path in PATHS if any(applies(path, each) for each in forms)]


def beginning(path: str, design: Design, catalogue: Catalogue) -> Parts:
    """What a choice takes until somebody says otherwise: near its own number, or all its words."""
    own = own_value(design, path)
    if not is_number(path):
        values = all_values(path, catalogue)
        if path == "fill.good":
            form = catalogue.fill(own).form
            values = [value for value in values if catalogue.fill(str(value)).form == form]
        return {"values": values}
    low, high = _limits(Spot(path).info)
    sizes = STEPS.get(hints(path)["unit"], (1.0, 1.0, 1.0))
    step = sizes[0] if abs(own) < 100 else sizes[1] if abs(own) < 400 else sizes[2]
    inside = [own + step * turn for turn in (-2, -1, 0, 1, 2) if low <= own + step * turn <= high]
    return {"start": min(inside), "stop": max(inside), "step": step}


def _limits(info: FieldInfo) -> tuple[float, float]:
    low = next(rule.ge for rule in info.metadata if hasattr(rule, "ge"))
    return float(low), float(next(rule.le for rule in info.metadata if hasattr(rule, "le")))


def prepare(design: Design, catalogue: Catalogue) -> None:
    """A draft, if there is none: what the link brought, or near the design that is started from."""
    state = st.session_state
    recipe = session.comparison().recipe
    if DRAFT in state and state.get("tm_recipe") == recipe:
        return
    state.tm_recipe = recipe
    if DRAFT in state and (recipe is None or recipe_of(recipe.start)[0] == recipe):
        return
    state[FAULTS], state[ROUND] = {}, state.get(ROUND, 0) + 1
    if recipe is not None:
        # A stranger may have written it: what no design takes is left out.
        taken = [choice for choice in recipe.choices if choice.path in PATHS and _is_taken(choice, catalogue)]
        state[DRAFT] = {choice.path: _parts(choice) for choice in taken}
        return
    wanted = offered(design, catalogue, ())
    state[DRAFT] = {path: beginning(path, design, catalogue) for path in FIRST if path in wanted}


def _is_taken(choice: Choice, catalogue: Catalogue) -> bool:
    try:
        axes_of(Recipe(choices=(choice,)), catalogue)
    except Refusal:
        return False
    return True


def _parts(choice: Choice) -> Parts:
    if choice.span is not None:
        return choice.span.model_dump()
    if is_number(choice.path):
        return {"numbers": list(choice.values)}
    return {"values": list(choice.values)}


def choose_paths(design: Design, catalogue: Catalogue) -> None:
    """From the control: choices that came in begin near the design, those that went out are forgotten."""
    state, wanted = st.session_state, st.session_state[f"{CHOSEN}-{st.session_state[ROUND]}"]
    draft = state[DRAFT]
    state[DRAFT] = {
        path: draft[path] if path in draft else beginning(path, design, catalogue) for path in wanted
    }
    state[FAULTS] = {key: told for key, told in state[FAULTS].items() if key.split("|")[0] in wanted}


def recipe_of(start: str | None) -> tuple[Recipe | None, list[str]]:
    """The recipe of the draft, or why there is none."""
    draft: dict[str, Parts] = st.session_state[DRAFT]
    faults = [told for _, told in st.session_state[FAULTS].values()]
    choices = []
    for path, parts in draft.items():
        try:
            choices.append(_choice(path, parts))
        except ValidationError as error:
            faults += _range_faults(path, parts) or [
                f"{title(path)}: {told}" for told in explain(error, Span)
            ]
        except Refusal as refusal:
            faults += refusal.messages
    if not choices and not faults:
        faults.append("Choose at least one thing to vary.")
    if len(choices) > MOST_CHOICES:
        faults.append(f"{len(choices)} things vary; allowed: up to {MOST_CHOICES}.")
    if faults:
        return None, faults
    return Recipe(start=start, choices=tuple(choices)), []  # type: ignore[arg-type]


def _range_faults(path: str, parts: Parts) -> list[str]:
    """What is wrong with a range, by the words and in the units of its boxes."""
    start, stop, step = (parts.get(part) for part in PARTS)
    if start is None or stop is None or step is None:
        return []

    def said(value: float) -> str:
        return value_name(path, value, session.catalogue())

    if stop < start:
        told = f"is {said(stop)}; allowed: {said(start)} or more, where the range starts."
        return [f"{box_name(path, 'stop')} {told}"]
    if step > 0:
        count = number(int((stop - start) / step + 1e-9) + 1)
        told = f"is too small: it gives {count} values; allowed: {MOST_VALUES}."
        return [f"{box_name(path, 'step')} {told}"]
    return []


def box_name(path: str, part: str) -> str:
    """A box of a range as an error names it: the field, and the word that stands over the box."""
    return f"{title(path)}: “{PARTS[part]}”"


def _choice(path: str, parts: Parts) -> Choice:
    if "start" in parts:
        return Choice(path=path, span=Span(**parts))
    values = tuple(parts.get("values", parts.get("numbers", ())))
    if not values:
        raise Refusal([f"{title(path)} has nothing to take; pick at least one."])
    return Choice(path=path, values=values)


def show_choices(design: Design, catalogue: Catalogue) -> None:
    """The control that says what varies, and under it the boxes of each choice."""
    state = st.session_state
    draft: dict[str, Parts] = state[DRAFT]
    known = [*offered(design, catalogue, draft)]
    known += [path for path in draft if path not in known]
    st.multiselect(
        "Let these vary",
        known,
        default=list(draft),
        format_func=title,
        key=f"{CHOSEN}-{state[ROUND]}",
        on_change=choose_paths,
        args=(design, catalogue),
        max_selections=MOST_CHOICES,
        placeholder="Pick a choice",
    )
    for path, parts in draft.items():
        with st.container(gap="xxsmall", key=f"lw-try-{path.replace('.', '-')}"):
            if "start" in parts:
                _range_boxes(path, parts)
            elif "numbers" in parts:
                _set_of_numbers(path, parts)
            else:
                _set_of_words(path, parts, catalogue)
            _tell_faults(path)


def _tell_faults(path: str) -> None:
    for key, (_, told) in st.session_state[FAULTS].items():
        if key.split("|")[0] == path:
            st.html(f'<p class="lw-stop lw-small" role="alert">{escape(told)}</p>')


def _range_boxes(path: str, parts: Parts) -> None:
    units = session.comparison().units
    kind = str(hints(path)["unit"])
    unit = shown_unit(kind, units).name
    with st.container(horizontal=True, gap="xsmall", vertical_alignment="bottom"):
        for part, word in PARTS.items():
            label = f"{title(path)}{', ' + unit if unit else ''}: {word}" if part == "start" else word
            _number_box(path, part, label, parts[part], _rule(path, part))


def _rule(path: str, part: str) -> FieldInfo:
    info = Spot(path).info
    if part != "step":
        named = copy(info)
        named.title = box_name(path, part)
        return named
    low, high = _limits(info)
    return Field(gt=0, lt=high - low, title=box_name(path, part))  # type: ignore[no-any-return]


def _number_box(path: str, part: str, label: str, value: float, rule: FieldInfo) -> None:
    state, units, kind = st.session_state, session.comparison().units, str(hints(path)["unit"])
    fault_key = f"{path}|{part}"
    key = f"tm-{path}-{part}-{units}-{state[ROUND]}"
    typed = state[FAULTS][fault_key][0] if fault_key in state[FAULTS] else show_number(value, kind, units)

    def change() -> None:
        text = str(state[key] or "")
        try:
            state[DRAFT][path][part] = read_number(text, kind, units, rule)
            state[FAULTS].pop(fault_key, None)
        except Refusal as refusal:
            state[FAULTS][fault_key] = (text, " ".join(refusal.messages))

    limits = allowed_range(rule, kind, units)
    st.text_input(
        label, value=typed, key=key, on_change=change, width=230 if part == "start" else 110,
        help=f"Allowed: {limits}." if part == "start" else None, autocomplete="off",
    )  # fmt: skip


def _set_of_numbers(path: str, parts: Parts) -> None:
    """A set that came by a link: it is kept, and may be turned into a range."""
    units, kind = session.comparison().units, str(hints(path)["unit"])
    unit = shown_unit(kind, units).name
    said = ", ".join(show_number(float(value), kind, units) for value in parts["numbers"])

    def as_range() -> None:
        low, high = float(min(parts["numbers"])), float(max(parts["numbers"]))
        st.session_state[DRAFT][path] = {"start": low, "stop": high, "step": max((high - low) / 4, 1.0)}

    with st.container(horizontal=True, gap="small", vertical_alignment="center"):
        st.html(f"<p>{escape(title(path))}: {escape(said)} {escape(unit)}</p>", width="content")
        st.button("Make it a range", key=f"tm-{path}-range", on_click=as_range)


def _set_of_words(path: str, parts: Parts, catalogue: Catalogue) -> None:
    state = st.session_state
    key = f"tm-{path}-values-{state[ROUND]}"
    options = all_values(path, catalogue)
    options += [value for value in parts["values"] if value not in options]
    places = [options.index(value) for value in parts["values"]]

    def change() -> None:
        state[DRAFT][path]["values"] = [options[place] for place in state[key]]

    st.multiselect(
        title(path),
        list(range(len(options))),
        default=places,
        format_func=lambda place: value_name(path, options[place], catalogue),
        key=key,
        on_change=change,
    )


def value_name(path: str, value: Value, catalogue: Catalogue) -> str:
    """A value of a choice in words, with its unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or "goods" in hints(path):
        return good_name(catalogue, None if value is None else str(value))
    if not is_number(path):
        return str(value)
    units, kind = session.comparison().units, str(hints(path)["unit"])
    unit = shown_unit(kind, units).name
    return show_number(float(value), kind, units) + (f"\u00a0{unit}" if unit else "")
