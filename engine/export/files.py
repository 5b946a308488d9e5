"""How are a design and a whole comparison kept in a file, and what does a file have to hold to be taken?

    {"loftwright": "design", "version": 1, "design": {...}}
    {"loftwright": "comparison", "version": 1, "comparison": {...}}

A file holds every field; one that leaves any out is refused by their names, so that no quilt opens
with a number that nobody gave. A field that a later program adds therefore needs a new version here,
unless its default changes no number: those stand in LATER, and a file from before them opens with what is
there.
"""

import json
import re
import unicodedata
from collections.abc import Iterator
from datetime import date
from typing import Any

from pydantic import BaseModel

from engine.catalogue.load import Catalogue, role_ids
from engine.comparison import Comparison
from engine.design import Design
from engine.export.strict_json import checked, few, parsed
from engine.refusals import GROUP, Refusal, shown

VERSION = 1
LATER: dict[str, dict[str, Any]] = {
    "comparison": {"measures_left_out": False, "night": {"fit": "snug all round"}},
    "own_good": {"peel_n_m": None, "minutes_per_m": None, "minutes_per_piece": None},
}
"""Fields that files of this version may lack, and what stands for them: what was meant before they were.
Those of an own good go into each entry of the list of them."""
MOST_BYTES = 1_000_000

Document = Design | Comparison


def design_to_json(design: Design) -> str:
    """One design as the text of a file, every field written out.

    Source  definition
    """
    return _written("design", design)


def comparison_to_json(comparison: Comparison) -> str:
    """The whole comparison as the text of a file, every field written out.

    Source  definition
    """
    return _written("comparison", comparison)


def design_from_json(given: str | bytes) -> Design:
    """The design in a file.

    Raises  Refusal, a sentence per fault, naming field, value and what is allowed
    Source  definition
    """
    document = _read(given, ("design",))
    assert isinstance(document, Design)
    return document


def comparison_from_json(given: str | bytes) -> Comparison:
    """The comparison in a file.

    Raises  Refusal, a sentence per fault, naming field, value and what is allowed
    Source  definition
    """
    document = _read(given, ("comparison",))
    assert isinstance(document, Comparison)
    return document


def read_any(given: bytes) -> Document:
    """Whatever a file of ours holds, a design or a comparison.

    Raises  Refusal, a sentence per fault, naming field, value and what is allowed
    Source  definition
    """
    return _read(given, ("design", "comparison"))


def file_stem(name: str, day: date) -> str:
    """A file name without ending that every system takes: 'autumn-quilt-2026-11-03'.

    Source  definition
    """
    ascii_name = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    slug = re.sub(r"[^a-z0-9]+", "-", ascii_name.lower())[:40].strip("-")
    return f"{slug or 'quilt'}-{day.isoformat()}"


def check_goods(comparison: Comparison, catalogue: Catalogue) -> None:
    """Refuse a comparison that names goods, used or own, which the catalogue does not have for that place.

    Raises  Refusal, a sentence per good, naming field, value and the ids that belong there
    Source  definition
    """
    faults = [
        f"{field} is {shown(good_id)}; allowed: {', '.join(role_ids(catalogue, hint))}."
        for field, hint, good_id in _named_goods(comparison)
        if good_id not in role_ids(catalogue, hint)
    ]
    if faults:
        raise Refusal(few(tuple(faults)))


def _named_goods(comparison: Comparison) -> Iterator[tuple[str, str, str]]:
    for candidate in comparison.candidates:
        yield from _goods_in(candidate.design, f"{candidate.letter}, ")
        for place, item in enumerate(candidate.design.suspension):
            yield f"{candidate.letter}, suspension.{place}.good", "hardware:", item.good
    for place, good in enumerate(comparison.own_goods):
        yield f"own_goods.{place}.id", f"{good.kind}:", good.id


def _goods_in(model: BaseModel, path: str) -> Iterator[tuple[str, str, str]]:
    for name, field in type(model).model_fields.items():
        value = getattr(model, name)
        extra = field.json_schema_extra
        if isinstance(value, BaseModel):
            yield from _goods_in(value, f"{path}{name}.")
        elif isinstance(extra, dict) and extra.get("goods") and value is not None:
            yield f"{field.title} ({path}{name})", str(extra["goods"]), value


def _written(what: str, model: BaseModel) -> str:
    document = {"loftwright": what, "version": VERSION, what: model.model_dump(mode="json")}
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _read(given: str | bytes, wanted: tuple[str, ...]) -> Document:
    document = parsed(_text(given))
    what = _envelope(document, wanted)
    fields = document[what]
    if not isinstance(fields, dict):
        raise Refusal([f"{what} is {_given(fields)}; allowed: {GROUP}, those of a {what}."])
    fields = _with_later(fields, LATER.get(what, {}))
    goods = fields.get("own_goods")
    if what == "comparison" and isinstance(goods, list):
        later = LATER["own_good"]
        fields["own_goods"] = [_with_later(good, later) if isinstance(good, dict) else good for good in goods]
    if what == "design":
        return checked(Design, fields, whole=True)
    return checked(Comparison, fields, whole=True)


def _with_later(fields: dict[str, Any], later: dict[str, Any]) -> dict[str, Any]:
    """The fields with those added since; a group that is missing stays missing."""
    whole = dict(fields)
    for name, value in later.items():
        if not isinstance(value, dict):
            whole.setdefault(name, value)
        elif isinstance(whole.get(name), dict):
            whole[name] = _with_later(whole[name], value)
    return whole


def _text(given: str | bytes) -> str:
    size = len(given if isinstance(given, bytes) else given.encode("utf-8", "surrogatepass"))
    if size > MOST_BYTES:
        raise Refusal([f"The file is {size / 1e6:.1f} MB; allowed: up to {MOST_BYTES / 1e6:.0f} MB."])
    try:
        return given.decode("utf-8-sig") if isinstance(given, bytes) else given.removeprefix("\ufeff")
    except UnicodeDecodeError:
        raise Refusal(["The file is not text in UTF-8; allowed: a JSON file saved by Loftwright."]) from None


def _envelope(document: Any, wanted: tuple[str, ...]) -> str:
    if not isinstance(document, dict) or "loftwright" not in document:
        raise Refusal(["loftwright is missing; it is needed: a file of ours begins with it."])
    what = document["loftwright"]
    if not isinstance(what, str) or what not in wanted:
        raise Refusal([f"loftwright is {shown(what)}; allowed here: {' or '.join(wanted)}."])
    missing = [name for name in ("version", what) if name not in document]
    if missing:
        raise Refusal([f"{name} is missing; it is needed." for name in missing])
    version = document["version"]
    if type(version) is int and version > VERSION:
        raise Refusal([f"The file was made by a newer version: version is {version}; allowed: {VERSION}."])
    if type(version) is not int or version != VERSION:
        raise Refusal([f"version is {_given(version)}; allowed: {VERSION}, as a number."])
    unknown = [name for name in document if name not in ("loftwright", "version", what)]
    if unknown:
        raise Refusal(few(tuple(_unknown(name) for name in unknown)))
    return what


def _unknown(name: str) -> str:
    return f"{shown(name)} is not known here; remove it or check its spelling."


def _given(value: object) -> str:
    """A value of the wrong sort; a text in quotes, or it could not be told from a number."""
    return f'"{shown(value)}"' if isinstance(value, str) else shown(value)
