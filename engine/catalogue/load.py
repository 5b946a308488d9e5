"""Which goods there are, with the maker's own numbers laid over them."""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import NoReturn, TypeVar, get_origin

from pydantic import ValidationError

from engine.catalogue.models import Fabric, Fill, Good, Hardware, JointMethod, OwnGood
from engine.refusals import Refusal, explain, shown

AnyGood = TypeVar("AnyGood", bound=Good)

FILES: dict[str, type[Good]] = {
    "fabrics.csv": Fabric,
    "fills.csv": Fill,
    "joint_methods.csv": JointMethod,
    "hardware.csv": Hardware,
}
SUGGESTED = 4
"""How many ids a refusal offers in place of an unknown one."""


@dataclass(frozen=True)
class Catalogue:
    """All goods by id, in the order of their files."""

    fabrics: Mapping[str, Fabric]
    fills: Mapping[str, Fill]
    joints: Mapping[str, JointMethod]
    hardware: Mapping[str, Hardware]

    def __hash__(self) -> int:
        shelves = (self.fabrics, self.fills, self.joints, self.hardware)
        return hash(tuple(tuple(shelf.values()) for shelf in shelves))

    def fabric(self, id: str) -> Fabric:
        """The fabric with this id.

        Raises  Refusal when there is none
        Source  definition
        """
        return _look_up(self.fabrics, "fabric", id)

    def fill(self, id: str) -> Fill:
        """The fill with this id.

        Raises  Refusal when there is none
        Source  definition
        """
        return _look_up(self.fills, "fill", id)

    def joint(self, id: str) -> JointMethod:
        """The joint method with this id.

        Raises  Refusal when there is none
        Source  definition
        """
        return _look_up(self.joints, "joint", id)

    def hardware_item(self, id: str) -> Hardware:
        """The cord, lock, hook or closure with this id.

        Raises  Refusal when there is none
        Source  definition
        """
        return _look_up(self.hardware, "hardware", id)


def _look_up(shelf: Mapping[str, AnyGood], kind: str, id: str) -> AnyGood:
    if id in shelf:
        return shelf[id]
    _refuse_unknown(shelf, kind, id)


def _refuse_unknown(known: Iterable[str], kind: str, given: str) -> NoReturn:
    ids = list(known)
    offered = (get_close_matches(given, ids, SUGGESTED) or ids)[:SUGGESTED]
    more = ", …" if len(ids) > len(offered) else "."
    raise Refusal([f"{kind} is '{shown(given)}'; allowed: one of {', '.join(offered)}{more}"])


@cache
def load_catalogue() -> Catalogue:
    """The catalogue that comes with the program, read once.

    Raises  Refusal with one sentence per fault, naming file, line, field, value and what is allowed
    Source  definition
    """
    folder = files("engine.catalogue")
    return catalogue_from({name: (folder / name).read_text(encoding="utf-8") for name in FILES})


def catalogue_from(texts: Mapping[str, str]) -> Catalogue:
    """A catalogue out of the text of its four files, keyed by file name.

    Raises  Refusal with one sentence per fault in any of the files
    Source  definition
    """
    faults: list[str] = []
    shelves = Catalogue(
        fabrics=_read(texts, "fabrics.csv", Fabric, faults),
        fills=_read(texts, "fills.csv", Fill, faults),
        joints=_read(texts, "joint_methods.csv", JointMethod, faults),
        hardware=_read(texts, "hardware.csv", Hardware, faults),
    )
    if faults:
        raise Refusal(faults)
    return shelves


def _read(
    texts: Mapping[str, str], file_name: str, model: type[AnyGood], faults: list[str]
) -> dict[str, AnyGood]:
    shelf: dict[str, AnyGood] = {}
    header: list[str] = []
    for number, line in enumerate(texts[file_name].splitlines(), start=1):
        if not line.strip() or line.startswith("#"):
            continue
        cells = next(csv.reader([line]))
        if not header:
            header = cells
            continue
        place = f"{file_name}, line {number}: "
        if len(cells) != len(header):
            faults.append(f"{place}the row has {len(cells)} cells; allowed: {len(header)}.")
            continue
        try:
            good = model.model_validate(_typed(dict(zip(header, cells, strict=True)), model))
        except ValidationError as error:
            faults.extend(place + sentence for sentence in explain(error, model))
            continue
        if good.id in shelf:
            faults.append(f"{place}id is {good.id}, which stands above already; allowed: each id once.")
        shelf[good.id] = good
    return shelf


def _typed(row: dict[str, str], model: type[Good]) -> dict[str, str | list[str]]:
    """Empty cells left out, 'a|b' split where the model wants several; pydantic does the rest."""
    typed: dict[str, str | list[str]] = {}
    for name, cell in row.items():
        text = cell.strip()
        if not text:
            continue
        field = model.model_fields.get(name)
        several = field is not None and get_origin(field.annotation) is tuple
        typed[name] = text.split("|") if several else text
    return typed


OWN_FIELDS = (
    "price",
    "roll_width_mm",
    "areal_mass_g_m2",
    "fill_power_in3_oz",
    "peel_n_m",
    "minutes_per_m",
    "minutes_per_piece",
)


def with_own(catalogue: Catalogue, own_goods: Iterable[OwnGood]) -> Catalogue:
    """The catalogue with the maker's own numbers in place of the catalogued ones.

    A price goes where that good is priced: a metre, 100 g or each.

    Raises  Refusal for an unknown id, a number that the good does not have, or one beyond its limits
    Source  definition
    """
    fabrics, fills = dict(catalogue.fabrics), dict(catalogue.fills)
    joints, hardware = dict(catalogue.joints), dict(catalogue.hardware)
    faults: list[str] = []
    for own in own_goods:
        try:
            match own.kind:
                case "fabric":
                    fabrics[own.id] = _overlaid(_look_up(fabrics, own.kind, own.id), own)
                case "fill":
                    fills[own.id] = _overlaid(_look_up(fills, own.kind, own.id), own)
                case "joint":
                    joints[own.id] = _overlaid(_look_up(joints, own.kind, own.id), own)
                case "hardware":
                    hardware[own.id] = _overlaid(_look_up(hardware, own.kind, own.id), own)
        except Refusal as refusal:
            faults.extend(f"own goods: {message}" for message in refusal.messages)
    if faults:
        raise Refusal(faults)
    return Catalogue(fabrics, fills, joints, hardware)


def own_fields(good: Good) -> dict[str, str]:
    """Which numbers of a good the maker may replace: name in OwnGood -> name in the good.

    Source  definition
    """
    match good:
        case Fabric() | Fill(form="sheet"):
            same = ("roll_width_mm", "areal_mass_g_m2")
            return {"price": "price_per_m"} | {name: name for name in same}
        case Fill():
            return {"price": "price_per_100_g", "fill_power_in3_oz": "fill_power_in3_oz"}
        case JointMethod():
            same = ("minutes_per_m", "minutes_per_piece")
            # Searing joins nothing, so nothing of it peels.
            held = () if good.kind == "seared edge" else ("peel_n_m",)
            return {"price": "price_per_m"} | {name: name for name in (*held, *same)}
        case _:
            return {"price": "price"}


def _overlaid(good: AnyGood, own: OwnGood) -> AnyGood:
    takes = own_fields(good)
    given = {name: getattr(own, name) for name in OWN_FIELDS if getattr(own, name) is not None}
    faults = [
        f"{name} of {good.id} is {shown(value)}, but {good.name} has none; allowed: {', '.join(takes)}."
        for name, value in given.items()
        if name not in takes
    ]
    if faults:
        raise Refusal(faults)
    if not given:
        return good
    numbers: dict[str, object] = {takes[name]: value for name, value in given.items()}
    numbers |= {"own": True, "own_numbers": tuple(given)}
    try:
        return type(good).model_validate(good.model_dump() | numbers)
    except ValidationError as error:
        raise Refusal(f"{good.id}: {sentence}" for sentence in explain(error, type(good))) from None


def role_ids(catalogue: Catalogue, goods: str) -> tuple[str, ...]:
    """The ids that a design field may hold, in catalogue order.

    `goods` is the field's hint: 'fabric:shell', 'joint:panel joins'; nothing after the colon takes all.

    Raises  Refusal for a hint with an unknown kind, or a role that no good has
    Source  definition
    """
    kind, _, role = goods.partition(":")
    roles: dict[str, dict[str, tuple[str, ...]]] = {
        "fabric": {good.id: good.roles for good in catalogue.fabrics.values()},
        "fill": {good.id: (good.form,) for good in catalogue.fills.values()},
        "joint": {good.id: good.classes for good in catalogue.joints.values()},
        "hardware": {good.id: (good.use,) for good in catalogue.hardware.values()},
    }
    if kind not in roles:
        raise Refusal([f"goods is '{shown(goods)}'; allowed: {', '.join(roles)}, each with ':' and a role."])
    ids = tuple(id for id, served in roles[kind].items() if not role or role in served)
    if not ids:
        known = dict.fromkeys(name for served in roles[kind].values() for name in served)
        raise Refusal([f"goods is '{shown(goods)}'; allowed after {kind}: one of {', '.join(known)}."])
    return ids
