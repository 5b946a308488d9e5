"""What do my own goods cost and weigh? The numbers of the catalogue, edited in place for the goods in use."""

from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from typing import get_args

import streamlit as st
from pydantic import ValidationError
from pydantic.fields import FieldInfo

from dashboard import dialogs, session
from dashboard.numbers_in import UNITS, Unit, allowed_range, read_number, show_number, shown_unit
from dashboard.words import NBSP, Units
from engine.catalogue.load import OWN_FIELDS, Catalogue, load_catalogue, own_fields
from engine.catalogue.models import Good, GoodKind, Hardware, OwnGood
from engine.comparison import Comparison
from engine.evaluate import Evaluation
from engine.refusals import Refusal, explain
from engine.units import GRAM, NEWTON_PER_25_MM, OUNCE, POUND_FORCE_PER_INCH, YARD

PREFIX = "lw-goods-"
GROUPS: dict[GoodKind, str] = {
    "fabric": "Fabrics", "fill": "Fill", "joint": "Joints", "hardware": "Cords and hardware"}  # fmt: skip

# A price is per length or weight: it goes the other way when the unit of the goods changes.
UNITS.update(
    {
        "price a metre": (
            Unit("a metre", 1.0, 3, also=("/m",)),
            Unit("a yard", 1 / YARD, 3, also=("/yd",)),
        ),
        "price per 100 g": (
            Unit("per 100 g", 1.0, 2, also=("/100 g",)),
            Unit("an ounce", 100 * GRAM / OUNCE, 2, also=("/oz",)),
        ),
        "N/m": (
            Unit("N/m", 1.0, 0),
            Unit("lbf/in", POUND_FORCE_PER_INCH, 2),
            Unit("N/25 mm", NEWTON_PER_25_MM, 2),
        ),
        "min/m": (Unit("min/m", 1.0, 2), Unit("min/yd", 1 / YARD, 2)),
        "min": (Unit("min", 1.0, 2),) * 2,
    }
)
KINDS = {
    "price_per_m": "price a metre",
    "price_per_100_g": "price per 100 g",
    "roll_width_mm": "mm",
    "areal_mass_g_m2": "g/m²",
    "fill_power_in3_oz": "in³/oz",
    "peel_n_m": "N/m",
    "minutes_per_m": "min/m",
    "minutes_per_piece": "min",
}
NAMES = {
    "price": "Price",
    "roll_width_mm": "Roll width",
    "areal_mass_g_m2": "Areal mass",
    "fill_power_in3_oz": "Fill power",
    "peel_n_m": "Peel strength",
    "minutes_per_m": "Time along it",
    "minutes_per_piece": "Time a piece",
}


@dataclass(frozen=True)
class Place:
    """One number of one good: what the catalogue says, and what is in use."""

    kind: GoodKind
    good: Good
    own_name: str
    name: str
    catalogued: float

    @property
    def key(self) -> str:
        """Of its box."""
        return f"{PREFIX}{self.kind}-{self.good.id}-{self.own_name}"

    @property
    def value(self) -> float:
        """The number in use."""
        return float(getattr(self.good, self.name))

    @property
    def unit_kind(self) -> str:
        """As `UNITS` has it; a piece has a price and no unit."""
        if isinstance(self.good, Hardware):
            return "price a metre" if self.good.sold_by == "m" else ""
        return KINDS[self.name]

    @property
    def field(self) -> FieldInfo:
        """Its limits, with a title that names the good."""
        field = copy(type(self.good).model_fields[self.name])
        field.title = f"{NAMES[self.own_name]} of {self.good.name}"
        return field

    def label(self, units: Units) -> str:
        """Over the box: Price a yard, Roll width, in."""
        unit = shown_unit(self.unit_kind, units).name
        if self.own_name == "price":
            return f"Price {unit or 'each'}"
        return f"{NAMES[self.own_name]}, {unit}"


def show_goods() -> None:
    """Show the dialog; call it once, in the run after the click."""
    for key in [key for key in st.session_state if str(key).startswith(PREFIX)]:
        del st.session_state[key]
    dialogs.begin()
    st.session_state.lw_goods_faults, st.session_state.lw_goods_changed = {}, set()
    st.session_state[f"{PREFIX}currency"] = session.comparison().currency
    _goods()


@st.dialog("Prices and weights of these goods", width="medium", on_dismiss="rerun")
def _goods() -> None:
    dialogs.open_body()
    now = session.comparison()
    dialogs.small(
        "The catalogue’s prices are invented demo prices in one currency without a name. Put in what your "
        "goods cost and weigh, and what your joints hold and take: every quilt in the line-up is scored with "
        "it at once, and your numbers travel in the link and in the file."
    )
    st.text_input("Currency label, printed after each price", key=f"{PREFIX}currency", max_chars=8,
                  on_change=_take_currency, width=300, autocomplete="off")  # fmt: skip
    used = used_goods()
    if not used:
        dialogs.small("No quilt in the line-up, so no goods are in use. Add a quilt first.")
    for kind, title in GROUPS.items():
        goods = [good for found, good in used if found == kind]
        if goods:
            dialogs.heading(title)
        for good in goods:
            _show_good(kind, good, now.units)


def used_goods() -> list[tuple[GoodKind, Good]]:
    """What the candidates are made of, with the numbers in use, in catalogue order."""
    used = {place for each in session.line_up().evaluations for place in _used_by(each)}
    return [(kind, good) for kind, good in _all_goods(session.catalogue()) if (kind, good.id) in used]


def _used_by(evaluation: Evaluation) -> Iterator[tuple[GoodKind, str]]:
    """Joint methods from the bill: the shopping list has one spool for all that take only thread."""
    for line in evaluation.purchases:
        if line.kind != "joint":
            yield line.kind, line.id
    joints = evaluation.design.joints
    for joint in evaluation.score.bill.joints:
        # Nothing is bought to sear an edge; what a footbox or collar adds is joined as the edges are.
        if float(joint.length_m) > 0 and joint.name != "raw edges":
            yield "joint", getattr(joints, joint.name.replace(" ", "_"), joints.edges)


def _all_goods(catalogue: Catalogue) -> Iterator[tuple[GoodKind, Good]]:
    shelves = (catalogue.fabrics, catalogue.fills, catalogue.joints, catalogue.hardware)
    for kind, shelf in zip(get_args(GoodKind), shelves, strict=True):
        for good in shelf.values():
            yield kind, good


def places_of(kind: GoodKind, good: Good) -> list[Place]:
    """The numbers of a good that may be the maker's own."""
    plain = next(each for found, each in _all_goods(load_catalogue()) if (found, each.id) == (kind, good.id))
    fields = own_fields(good).items()
    return [Place(kind, good, own, name, float(getattr(plain, name))) for own, name in fields]


def _show_good(kind: GoodKind, good: Good, units: Units) -> None:
    places = places_of(kind, good)
    with st.container(gap="xxsmall"):
        dialogs.lower_heading(good.name[:1].upper() + good.name[1:], "own" if good.own else "")
        with st.grid(4, min_column_width=140, vertical_alignment="bottom"):
            for place in places:
                _box(place, units)
            # The button stays once it was there: with it would go the keyboard's place in the dialog.
            changed = st.session_state.lw_goods_changed
            if good.own:
                changed.add((kind, good.id))
            if (kind, good.id) in changed:
                st.button("Back to catalogue", key=f"{PREFIX}back-{kind}-{good.id}", on_click=_forget,
                          args=(kind, good.id, good.name))  # fmt: skip
        if good.own:
            dialogs.small(_catalogued(places, units), quiet=True)
        faults = st.session_state.lw_goods_faults
        dialogs.say([faults[place.key] for place in places if place.key in faults])


def _catalogued(places: list[Place], units: Units) -> str:
    changed = [
        f"{place.label(units)} {show_number(place.catalogued, place.unit_kind, units)}"
        for place in places
        if place.value != place.catalogued
    ]
    return f"In the catalogue: {'; '.join(changed)}."


def _box(place: Place, units: Units) -> None:
    # Typed text must outlive a refusal, so the box is filled only when it is new.
    if place.key not in st.session_state:
        st.session_state[place.key] = show_number(place.value, place.unit_kind, units)
    st.text_input(
        place.label(units),
        key=place.key,
        on_change=_take,
        args=(place.kind, place.good.id, place.own_name),
        help=f"Allowed: {allowed_range(place.field, place.unit_kind, units)}.",
        autocomplete="off",
    )


def _take(good_kind: GoodKind, id: str, own_name: str) -> None:
    """Read a box; the catalogue's own number, as it is shown, is no number of the maker's.

    The place is looked up now: a quick typist is ahead of the run that would have drawn the last value.
    """
    good = next(
        good for found, good in _all_goods(session.catalogue()) if (found, good.id) == (good_kind, id)
    )
    place = next(place for place in places_of(good_kind, good) if place.own_name == own_name)
    units, kind = session.comparison().units, place.unit_kind
    typed = str(st.session_state[place.key] or "")
    faults = st.session_state.lw_goods_faults
    before = show_number(place.value, kind, units)
    try:
        if typed.strip() == show_number(place.catalogued, kind, units):
            value = place.catalogued
        elif typed.strip() == before:
            value = place.value
        else:
            value = read_number(typed, kind, units, place.field)
    except Refusal as refusal:
        unit = shown_unit(kind, units).name
        last = f"{before}{NBSP}{unit}" if unit else before
        faults[place.key] = f"{refusal.messages[0]} The last good value, {last}, is still in use."
        return
    after = show_number(value, kind, units)
    try:
        new = with_own_number(session.comparison(), place, None if value == place.catalogued else value)
    except ValidationError as error:
        faults[place.key] = explain(error, Comparison)[0]
        return
    what = f"{NAMES[place.own_name].lower()} of {place.good.name} {before} → {after}"
    # Setting a box that shows it already could run over what is being typed there next.
    if _commit(new, what, place.key) and typed != after:
        st.session_state[place.key] = after


def with_own_number(comparison: Comparison, place: Place, value: float | None) -> Comparison:
    """The comparison with one number of a good put in (or, None, taken out); an empty entry goes.

    Raises  pydantic's ValidationError for more own goods than a comparison holds
    """
    goods = {(good.kind, good.id): good for good in comparison.own_goods}
    key = (place.kind, place.good.id)
    old = goods.get(key, OwnGood(kind=place.kind, id=place.good.id))
    goods[key] = OwnGood.model_validate(old.model_dump() | {place.own_name: value})
    if all(getattr(goods[key], name) is None for name in OWN_FIELDS):
        del goods[key]
    return Comparison.model_validate(comparison.model_dump() | {"own_goods": tuple(goods.values())})


def _forget(kind: GoodKind, id: str, name: str) -> None:
    now = session.comparison()
    kept = tuple(good for good in now.own_goods if (good.kind, good.id) != (kind, id))
    for key in (f"{PREFIX}{kind}-{id}-{name}" for name in OWN_FIELDS):
        st.session_state.pop(key, None)
        st.session_state.lw_goods_faults.pop(key, None)
    session.commit(now.model_copy(update={"own_goods": kept}), f"{name} back to catalogue")


def _take_currency() -> None:
    label = str(st.session_state[f"{PREFIX}currency"] or "").strip()
    now = session.comparison()
    if _commit(now.model_copy(update={"currency": label}), f"currency label {label or 'none'}", "currency"):
        st.session_state[f"{PREFIX}currency"] = label


def _commit(new: Comparison, what: str, key: str) -> bool:
    faults = st.session_state.lw_goods_faults
    if not session.commit(new, what):
        faults[key] = session.notice()
        return False
    faults.pop(key, None)
    return True
