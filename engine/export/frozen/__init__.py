"""What do links of version 1 leave out, and what stands for it?

A link stores only what differs from the defaults, so the defaults of its version are data here and
not read from the models: a default that changes later would otherwise change every old link. Both
files may grow, never change: a new field needs the value that keeps old designs as they were, and new
words go before the old ones, since a link counts its way back from the end.
"""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any


def _text(name: str) -> str:
    return files("engine.export").joinpath("frozen", name).read_text(encoding="utf-8")


@cache
def defaults() -> dict[str, Any]:
    """Version 1 of the defaults under 'comparison', 'design' and 'own_good'; do not write into it.

    Source  definition
    """
    loaded: dict[str, Any] = json.loads(_text("v1_defaults.json"))
    return loaded


@cache
def words() -> bytes:
    """The preset dictionary of version 1, likeliest last; line ends are not part of it.

    Source  definition, RFC 1950 section 2.2 (1996) for what a preset dictionary is
    """
    return "".join(_text("v1_words.txt").splitlines()).encode()


def difference(given: Mapping[str, Any], base: Mapping[str, Any]) -> dict[str, Any]:
    """What of `given` is not as in `base`, key by key and inwards.

    Source  definition
    """
    changed: dict[str, Any] = {}
    for key, value in given.items():
        if key in base and value == base[key]:
            continue
        inner = base.get(key)
        both = isinstance(value, Mapping) and isinstance(inner, Mapping)
        changed[key] = difference(value, inner) if both and inner is not None else value
    return changed


def completed(given: Any, base: Mapping[str, Any]) -> Any:
    """`given` with all that it leaves out taken from `base`; what is not a mapping stays as it is.

    Source  definition
    """
    if not isinstance(given, Mapping):
        return given
    whole = dict(base)
    for key, value in given.items():
        inner = base.get(key)
        whole[key] = completed(value, inner) if isinstance(inner, Mapping) else value
    return whole
