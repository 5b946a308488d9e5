"""Designs that the tests of the engine are made with, and what turns many quantities into arrays."""

from dataclasses import fields, is_dataclass, replace

import numpy as np

from engine.catalogue.load import load_catalogue
from engine.cautions import Case, cautions_of
from engine.design import Baffles, Cut, Design, Edges, EndPanels, Filling, Joints, Outline, Shells, TopQuilt
from engine.design import SuspensionItem as Item
from engine.fit import fit_of
from engine.night import Night
from engine.quantities import resolve
from engine.score import score

CATALOGUE = load_catalogue()
MAN_W_M2 = 46.0
"""An average sleeper's rate: that of the standard man, at which loft rules of the trade are read."""
SUSPENSION = (Item(good="cord-3", amount=5), Item(good="cord-lock", amount=4), Item(good="hook", amount=2))
"""By hand 5 x 6.5 + 4 x 2.5 + 2 x 2.5 = 47.5 g: about 50 g, as usual."""

FULL_SEWN = Design(suspension=SUSPENSION)
PUPIL = Design(
    name="Three-quarter, nine chambers of 122 and 133 mm",
    outline=Outline(length_mm=1420, width_mm=1100),
    baffles=Baffles(height_mm=50, spacing_mm=122, end_chamber_percent=100),
    fill=Filling(good="down-850", overstuff_percent=25),
    suspension=SUSPENSION,
)
FILM = Design(
    name="Film, taped, staggered",
    shells=Shells(inner="film-17", outer="film-17"),
    baffles=Baffles(layout="staggered", height_mm=64, spacing_mm=140, fabric="film-17"),
    end_panels=EndPanels(fitted=True),
    joints=Joints(
        baffles="tape-6",
        edges="glued-fold",
        ends="tape-12-stitch",
        panel_joins="tape-12",
        raw_edges=None,
    ),
    fill=Filling(good="down-900", overstuff_percent=15),
    suspension=SUSPENSION,
)
SHEET = Design(
    name="Sheet insulation",
    shells=Shells(inner="ripstop-30", outer="nylon-10d-26"),
    baffles=Baffles(layout="none"),
    fill=Filling(good="sheet-133", layers=2, quilting_mm=500),
    suspension=SUSPENSION,
)
SEWN_THROUGH = Design(
    name="Summer, sewn through",
    baffles=Baffles(layout="sewn-through", spacing_mm=120),
    fill=Filling(good="down-800", overstuff_percent=0),
    suspension=SUSPENSION,
)
TOP = Design(
    kind="top quilt",
    name="Top quilt",
    outline=Outline(shape="taper", length_mm=1980, width_mm=1300, foot_width_mm=970, taper_from_mm=900),
    cut=Cut(wrap_across_rad=0.75),
    edges=Edges(kind="low edge wall"),
    top=TopQuilt(collar=True, straps=True),
)
ALL = (FULL_SEWN, PUPIL, FILM, SHEET, SEWN_THROUGH, TOP)


def scored(design, night=None, **quantities):
    """A design's score, with some of its quantities replaced."""
    return score(replace(resolve(design, night or Night(), CATALOGUE), **quantities))


def changed(model, path, value):
    """The model with the field at a dotted path set, checked like any input."""
    head, _, rest = path.partition(".")
    value = changed(getattr(model, head), rest, value) if rest else value
    return type(model).model_validate(model.model_dump() | {head: value})


def with_grams(design, grams):
    return changed(changed(design, "fill.rule", "grams"), "fill.grams", grams)


def grams_per_m2(result):
    """Down per finished area, as makers count it."""
    return 1000 * float(result.loft.down_kg / result.loft.finished_area_m2)


def cautions(design, night=None):
    night = night or Night()
    quantities = resolve(design, night, CATALOGUE)
    result = score(quantities)
    return cautions_of(Case(design, night, CATALOGUE, quantities, result, fit_of(quantities, result)))


def stack(rows):
    """Quantities of many quilts as one set of arrays, the quilts along the last axis."""
    first = rows[0]
    if is_dataclass(first):
        return replace(
            first, **{f.name: stack([getattr(row, f.name) for row in rows]) for f in fields(first)}
        )
    return np.stack([np.asarray(row, dtype=float) for row in rows], axis=-1)


def numbers(result, prefix=""):
    """Every number in a result, by its path: what must be finite and must agree."""
    if is_dataclass(result):
        for f in fields(result):
            yield from numbers(getattr(result, f.name), f"{prefix}.{f.name}")
    elif isinstance(result, dict):
        for key, value in result.items():
            yield from numbers(value, f"{prefix}.{key}")
    elif isinstance(result, tuple):
        for index, value in enumerate(result):
            yield from numbers(value, f"{prefix}.{index}")
    elif not isinstance(result, str) and result is not None:
        yield prefix, np.asarray(result, dtype=float)
