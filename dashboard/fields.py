"""Which widget does a field of a design or of the night get? Limits, labels, units and help are the model's.

A box shows the value in use until something is typed in it. What was refused stays in the box, with the
reason under it. A box is filled afresh when its value changes elsewhere (Back, Undo, a remedy).
"""

from collections.abc import Callable, Sequence
from functools import partial
from html import escape
from typing import Any, Literal, get_args, get_origin

import streamlit as st

from dashboard import session
from dashboard.field_edits import (
    NOTHING,
    Memory,
    Spot,
    Target,
    lower_first,
    memories,
    refuse,
    stored,
    take,
    with_waiting,
)
from dashboard.field_rules import Choices, applies, applies_at_night
from dashboard.help_units import everyday, in_units
from dashboard.numbers_in import (
    allowed_range,
    other_readings,
    read_if_changed,
    read_number_or_none,
    show_number,
    shown_unit,
)
from dashboard.safe_text import md_escape
from dashboard.words import NBSP
from engine.catalogue.load import Catalogue, role_ids
from engine.catalogue.models import Good
from engine.design import Design
from engine.night import Night
from engine.refusals import Refusal

FEW_CHOICES = 2
SHORT = 20
"""Up to so many choices, with so many signs in all, stand side by side as buttons: they fit one column."""


def field(path: str, *, target: Target = "design", letter: str = "") -> None:
    """One field of the design with this letter or of the night, if it applies there."""
    spot = Spot(path, target, letter)
    if not is_shown(spot):
        return
    extra = spot.info.json_schema_extra
    hints = extra if isinstance(extra, dict) else {}
    with st.container(gap="xxsmall"):
        if "unit" in hints:
            beyond = f"beyond the quilt: {lower_first(spot.info.title or '')}"
            number_box(spot, str(hints["unit"]), subject=beyond if path.startswith("beyond.") else "")
        elif "goods" in hints:
            good_box(spot, role_ids(session.catalogue(), str(hints["goods"])))
        elif spot.info.annotation is bool:
            _tick(spot)
        elif _choices(spot):
            _choice(spot, _choices(spot))
        else:
            _text(spot)
        message(spot)


def is_shown(spot: Spot) -> bool:
    """Whether the field applies, given the other choices and those that still wait to be taken."""
    current = with_waiting(spot)
    if isinstance(current, Night):
        return applies_at_night(spot.path, current)
    assert isinstance(current, Design)
    form = session.catalogue().fill(current.fill.good).form
    return applies(spot.path, Choices(current, form))


def number_box(spot: Spot, kind: str, label: str = "", subject: str = "") -> None:
    """A number of one kind of unit; `label` and `subject` (for the undo list) stand in for the model's."""
    units, title = session.comparison().units, spot.info.title or spot.path
    unit = shown_unit(kind, units).name
    value = stored(spot)
    shown = "" if value is None else show_number(value, kind, units)
    _fill_box(spot, shown)

    def change() -> None:
        typed = str(st.session_state[spot.key] or "")
        try:
            if type(None) in get_args(spot.info.annotation):
                new = read_number_or_none(typed, kind, units, spot.info) if typed.strip() != shown else value
            else:
                new = read_if_changed(typed, value, kind, units, spot.info)
        except Refusal as refusal:
            refuse(spot, typed, " ".join(refusal.messages))
            return
        after = "none" if new is None else show_number(new, kind, units)
        take(spot, new, typed, edit_in_words(subject or title, shown or "none", after, unit))

    also = f" Now {everyday(value)}; both may be typed." if kind == "m²K/W" and value is not None else ""
    limits = allowed_range(spot.info, kind, units)
    st.text_input(
        label or (f"{title}, {unit}" if unit else title),
        key=spot.key,
        on_change=change,
        help=f"{_help(spot)} Allowed: {limits}.{also}",
        autocomplete="off",
    )


def good_box(spot: Spot, ids: Sequence[str], label: str = "") -> None:
    """A choice among goods by their names."""
    now = stored(spot)
    options: list[str | None] = [*ids]
    if type(None) in get_args(spot.info.annotation):
        options.append(None)
    # A good that is known but meant for another place can come by link: it stays, and a warning speaks.
    if now not in options:
        options.append(now)
    _pick(spot, options, partial(good_name, session.catalogue()), label)


def good_name(catalogue: Catalogue, id: str | None) -> str:
    """The name of any good of the catalogue, marked if the maker has put in numbers of their own."""
    if id is None:
        return "none"
    for shelf in (catalogue.fabrics, catalogue.fills, catalogue.joints, catalogue.hardware):
        if id in shelf:
            good: Good = shelf[id]
            name = _heaviness_first(good.name) if shelf is catalogue.fabrics else good.name
            return f"{name} (own)" if good.own else name
    return id


def _heaviness_first(name: str) -> str:
    """A cloth's areal mass before its kind: a narrow box cuts off what stands last."""
    kind, _, heaviness = name.rpartition(", ")
    return f"{heaviness}, {kind}" if kind else heaviness


def _help(spot: Spot) -> str:
    return md_escape(in_units(spot.info.description or "", session.comparison().units))


def _choices(spot: Spot) -> list[Any]:
    annotation = spot.info.annotation
    return list(get_args(annotation)) if get_origin(annotation) is Literal else []


def _choice(spot: Spot, options: list[Any]) -> None:
    few = len(options) <= FEW_CHOICES and sum(len(str(option)) for option in options) <= SHORT
    _pick(spot, options, str, spot.info.title or spot.path, side_by_side=few)


def _pick(
    spot: Spot, options: list[Any], named: Callable[[Any], str], label: str, side_by_side: bool = False
) -> None:
    now, label = stored(spot), label or spot.info.title or spot.path
    _fill_box(spot, now)

    def change() -> None:
        new = st.session_state[spot.key]
        take(spot, new, new, edit_in_words(label, named(now), named(new)))

    text = _help(spot)
    if side_by_side:
        st.segmented_control(
            label,
            options,
            required=True,
            format_func=named,
            key=spot.key,
            on_change=change,
            help=text or None,
        )
    else:
        st.selectbox(label, options, format_func=named, key=spot.key, on_change=change, help=text or None)


def _tick(spot: Spot) -> None:
    now, label = stored(spot), spot.info.title or spot.path
    _fill_box(spot, now)

    def change() -> None:
        new = st.session_state[spot.key]
        take(spot, new, new, edit_in_words(label, "yes" if now else "no", "yes" if new else "no"))

    st.checkbox(label, key=spot.key, on_change=change, help=_help(spot) or None)


def _text(spot: Spot) -> None:
    now = stored(spot)
    _fill_box(spot, now)
    label = spot.info.title or spot.path
    longest = next(rule.max_length for rule in spot.info.metadata if hasattr(rule, "max_length"))

    def change() -> None:
        typed = str(st.session_state[spot.key] or "")
        take(spot, typed.strip(), typed, f"{lower_first(label)} changed")

    box = st.text_input if longest <= 100 else st.text_area
    box(label, key=spot.key, on_change=change, max_chars=longest)


def edit_in_words(subject: str, before: str, after: str, unit: str = "") -> str:
    """An edit in words: baffle height 64 → 45 mm."""
    tail = f"{NBSP}{unit}" if unit and after != "none" else ""
    return f"{lower_first(subject)} {before} → {after}{tail}"


def _fill_box(spot: Spot, shown: Any) -> None:
    """Put the value in use in the box, unless it stands there already or something refused does."""
    units, memory, now = session.comparison().units, memories().get(spot.key), stored(spot)
    if memory is not None and memory.fault and memory.stored == now:
        if spot.key not in st.session_state:
            st.session_state[spot.key] = memory.typed
        return
    if memory is None or memory.stored != now or memory.units != units or spot.key not in st.session_state:
        st.session_state[spot.key] = shown
        memories()[spot.key] = Memory(now, units)


def message(spot: Spot) -> None:
    """Why the value in a box is not in use, under the box."""
    memory = memories().get(spot.key)
    if memory is None or not memory.fault:
        return
    st.html(
        f'<p class="lw-stop lw-small" role="alert">{escape(memory.fault)} '
        f"The last good value, {escape(in_words(spot))}, is still in use.</p>"
    )
    _offer_readings(spot, str(memory.typed))


def not_taken(path: str, *, target: Target = "design", letter: str = "") -> str:
    """What was typed into a shown field and is not in use, with what is; empty where nothing waits."""
    spot = Spot(path, target, letter)
    memory = memories().get(spot.key)
    if memory is None or not memory.fault or memory.stored != stored(spot) or not is_shown(spot):
        return ""
    title = spot.info.title or path
    return f"{title} {memory.typed or 'left empty'} was not taken; {in_words(spot)} is still in use."


def _offer_readings(spot: Spot, typed: str) -> None:
    """What a refused number would be in other units, as buttons: it is never read so unasked."""
    extra = spot.info.json_schema_extra
    kind = str(extra["unit"]) if isinstance(extra, dict) and "unit" in extra else ""
    if not kind:
        return
    title, before = spot.info.title or spot.path, in_words(spot)
    for place, reading in enumerate(other_readings(typed, kind, session.comparison().units, spot.info)):
        meant = in_words(spot, reading.stored)
        st.button(
            f"Did you mean {reading.text}? Use {meant}",
            key=f"{spot.key}-use-{place}",
            on_click=take,
            args=(spot, reading.stored, typed, edit_in_words(title, before, meant)),
        )


def in_words(spot: Spot, value: Any = NOTHING) -> str:
    """A value of this field with its unit, in words; without a value, the one in use."""
    value = stored(spot) if value is NOTHING else value
    extra = spot.info.json_schema_extra
    hints = extra if isinstance(extra, dict) else {}
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if "unit" in hints:
        units, kind = session.comparison().units, str(hints["unit"])
        unit = shown_unit(kind, units).name
        return show_number(value, kind, units) + (f"{NBSP}{unit}" if unit else "")
    return good_name(session.catalogue(), value) if "goods" in hints else str(value)
